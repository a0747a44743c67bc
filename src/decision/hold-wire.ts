import { z } from "zod";
import type { PieceRange } from "../core/containment/piece-ranges.js";
import { showVoided, Voided } from "../http/journal.js";
import { Id, strict } from "../http/types.js";
import type { DecisionRow } from "./hold-queries.js";

/** Shapes of what is held and decided that several resources answer with. */

export const PiecePath = strict({
  batch_id: Id.describe("The batch"),
  piece: z
    .string()
    .regex(/^[1-9]\d{0,6}$/, "must be a piece number")
    .transform(Number)
    .meta({ type: "integer", minimum: 1, description: "The piece, numbered in cutting order" }),
});

export const Range = z.strictObject({
  from_piece: z.number().int().describe("First piece, in cutting order"),
  to_piece: z.number().int().describe("Last piece, itself included"),
});

export function showRanges(ranges: readonly PieceRange[]): z.infer<typeof Range>[] {
  return ranges.map(({ from, to }) => ({ from_piece: from, to_piece: to }));
}

export const DecisionKind = z.enum(["rework", "scrap", "use_as_is", "repair", "return"]);

export const decisionWords = {
  decision:
    "`rework`: cut again fully to the drawing, and measured again before it counts as good; `scrap`; `use_as_is` and `repair` do not end at the drawing and need an authority; `return`: back to whom it came from",
  authority:
    "Who had the right to decide it, such as the customer or the design authority, with the reference of the permission",
  nonconformance: "Number of the nonconformance report",
  note: "What exactly",
  measure_again: "`rework`: the features that have to be measured again",
  decided_at: "When it was decided",
};

export const PieceDecision = z
  .strictObject({
    decision_id: z.string().describe("Identity of the decision"),
    batch_id: z.string().describe("The batch"),
    ...Range.shape,
    decision: DecisionKind.describe(decisionWords.decision),
    authority: z.string().nullable().describe(decisionWords.authority),
    nonconformance: z.string().nullable().describe(decisionWords.nonconformance),
    note: z.string().nullable().describe(decisionWords.note),
    measure_again: z.array(z.string()).nullable().describe(decisionWords.measure_again),
    decided_at: z.iso.datetime().describe(decisionWords.decided_at),
    by: z.string().nullable().describe("Who entered it"),
    created_at: z.iso.datetime().describe("When it was entered"),
    voided: Voided,
  })
  .meta({
    id: "PieceDecision",
    description: "What is to become of pieces that are in doubt or out of limits, and who decided it",
    examples: [
      {
        decision_id: "2",
        batch_id: "3",
        from_piece: 50,
        to_piece: 50,
        decision: "use_as_is",
        authority: "customer, concession C-114",
        nonconformance: "N-7",
        note: null,
        measure_again: null,
        decided_at: "2026-03-02T09:10:00.000Z",
        by: "quality",
        created_at: "2026-03-02T09:10:00.000Z",
        voided: null,
      },
    ],
  });

export function showDecision(row: DecisionRow): z.infer<typeof PieceDecision> {
  return {
    decision_id: row.decision_id,
    batch_id: row.batch_id,
    from_piece: row.from_piece,
    to_piece: row.to_piece,
    decision: row.decision,
    authority: row.authority,
    nonconformance: row.nonconformance,
    note: row.note,
    measure_again: row.measure_again,
    decided_at: row.decided_at,
    by: row.by_name,
    created_at: row.created_at,
    voided: showVoided(row),
  };
}
