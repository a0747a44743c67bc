import { z } from "zod";
import { CheckPlan, exampleOf, NextStep } from "../../decision/wire.js";
import { Id, strict } from "../../http/types.js";

const QueryPiece = z
  .string()
  .regex(/^[1-9]\d{0,7}$/, "must be a piece number")
  .transform(Number)
  .meta({ type: "integer", minimum: 1 });

export const CheckPath = strict({ batch_id: Id.describe("The batch") });
export const CheckQuery = strict({
  piece: QueryPiece.optional().describe("The piece; absent: the next one to be cut"),
});

export const CheckAnswer = CheckPlan.extend({
  next: NextStep.describe(
    "The one thing to do next on this batch, as a write would answer it; of readings only what is still open",
  ),
}).meta({
  id: "CheckAnswer",
  description: "What to measure on a piece, and what to do next",
  examples: [{ ...(exampleOf(CheckPlan) as object), next: exampleOf(NextStep) }],
});

export const IntervalPath = strict({ feature_id: Id.describe("The feature") });
export const IntervalQuery = strict({ batch_id: Id.describe("The batch") });
export const Interval = z
  .strictObject({
    feature_id: z.string().describe("The feature"),
    every: z.number().int().describe("Pieces from one check to the next, as things stand"),
    next_piece: z.number().int().describe("Next piece on which it is due"),
    rule: z.string().describe("Rule that sets it"),
    risk: z
      .number()
      .nullable()
      .describe("Risk per piece that the interval keeps to; null: no limit on risk is in force"),
    why: z.string().describe("The same in words"),
    pieces_to_limit: z
      .number()
      .int()
      .nullable()
      .describe(
        "Pieces until its expected size leaves its limits without another correction; null: not in this edge's life as far as known",
      ),
    not_before: z
      .number()
      .int()
      .nullable()
      .describe(
        "Pieces until it may have left them: the first with a chance above 10 %; null: not in this edge's life as far as known",
      ),
  })
  .meta({
    id: "Interval",
    description: "How often a feature is measured, and why",
    examples: [
      {
        feature_id: "12",
        every: 8,
        next_piece: 21,
        rule: "earned",
        risk: null,
        why: "5 good checks in a row: every 8 pieces",
        pieces_to_limit: 31,
        not_before: 22,
      },
    ],
  });
