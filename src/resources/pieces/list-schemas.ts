import { z } from "zod";
import { pageQuery } from "../../http/pagination.js";
import { Id, strict } from "../../http/types.js";
import { PieceDisposition, Proof, wordsOf } from "./schemas.js";

const mostPieces = 100;

const wholeNumber = (pattern: RegExp, message: string) =>
  z.string().regex(pattern, message).transform(Number);

export const PiecesPath = strict({ batch_id: Id.describe("The batch") });
export const PiecesQuery = strict({
  from_piece: wholeNumber(/^[1-9]\d{0,6}$/, "must be a piece number")
    .optional()
    .meta({ type: "integer", minimum: 1 })
    .describe("The first piece to list; absent: 1. A cursor goes before it"),
  limit: wholeNumber(/^([1-9]\d?|100)$/, `must be a whole number from 1 to ${mostPieces}`)
    .default(50)
    .meta({ type: "integer", minimum: 1, maximum: mostPieces, default: 50 })
    .describe("How many pieces to list at most; 50 if absent"),
  cursor: pageQuery.cursor,
});

const Column = z.strictObject({
  feature_id: z.string().describe("The feature"),
  characteristic: z.string().describe("Its balloon number"),
  name: z.string().nullable().describe("Its name"),
  place: z.string().nullable().describe("Where on the feature; null: it has no places"),
  unit: z.string().nullable().describe("Unit of its sizes; null: it has none"),
  lower_limit: z.number().nullable().describe("Lower limit of size; null: there is none"),
  upper_limit: z.number().nullable().describe("Upper limit of size; null: there is none"),
  target: z.number().nullable().describe("The aim; null: it has no size"),
});

const Cell = z.strictObject({
  proof: Proof.describe(wordsOf.proof),
  disposition: z
    .enum(["accept", "open", "remeasure", "rework", "scrap"])
    .describe("What it makes of the piece before anything was decided about it"),
  readings: z.number().int().describe("How often it was read on this piece, voided readings left out"),
  cut: z.number().int().nullable().describe("Which cut the reading that decides is of; null: not read"),
  verdict: z
    .enum(["conforming", "nonconforming", "uncertain"])
    .nullable()
    .describe("Verdict of the reading that decides; null: not read"),
  result: z
    .string()
    .nullable()
    .describe("What that reading says, as the gauge gave it or in a word; null: not read"),
  size: z.number().nullable().describe("The size it was judged by; null: not read, or it has none"),
  from_target: z.number().nullable().describe("Size less target; null likewise"),
  tolerance_used: z
    .number()
    .nullable()
    .describe("Share of the way from target to the limit on that side; 1 is on the limit; null likewise"),
});

const rowExample = {
  piece: 12,
  seat: null,
  serials: [],
  cuts: 1,
  disposition: "accept" as const,
  on_hold: false,
  why: "Every feature is measured good on it or lies between good pieces as the check plan wanted.",
  cells: [
    {
      proof: "measured" as const,
      disposition: "accept" as const,
      readings: 1,
      cut: 1,
      verdict: "conforming" as const,
      result: "6.04",
      size: 6.04,
      from_target: 0.04,
      tolerance_used: 0.8,
    },
  ],
};

const Row = z
  .strictObject({
    piece: z.number().int().describe("The piece, numbered in cutting order"),
    seat: z.string().nullable().describe("Seat in the fixture; null: the batch names none"),
    serials: z.array(z.string()).describe("Serial numbers that its readings give"),
    cuts: z.number().int().describe("How often it was cut, as far as readings say"),
    disposition: PieceDisposition.describe(wordsOf.disposition),
    on_hold: z.boolean().describe("True: it must not go out as things stand"),
    why: z.string().describe("The same in words"),
    cells: z.array(Cell).describe("One for each column, in their order"),
  })
  .meta({ id: "PieceRow", description: "One piece by feature", examples: [rowExample] });

export const PieceTable = z
  .strictObject({
    batch_id: z.string().describe("The batch"),
    last_piece_cut: z.number().int().describe("Last piece known to be cut; 0: none yet"),
    features: z
      .array(Column)
      .describe("The columns, in the part's order; a feature with places has one for each"),
    items: z.array(Row).describe("This page of pieces, in cutting order"),
    next_cursor: z
      .string()
      .nullable()
      .describe("Send it as `cursor` for the next page; null on the last page"),
  })
  .meta({
    id: "PieceTable",
    description: "Pieces of a batch by feature: what was measured, and how the rest is proved",
    examples: [
      {
        batch_id: "3",
        last_piece_cut: 13,
        features: [
          {
            feature_id: "12",
            characteristic: "12",
            name: "Tongue width",
            place: null,
            unit: "mm",
            lower_limit: 5.95,
            upper_limit: 6.05,
            target: 6,
          },
        ],
        items: [rowExample],
        next_cursor: "MTI",
      },
    ],
  });
export type PieceTable = z.infer<typeof PieceTable>;
