import { z } from "zod";
import { Correction } from "../../decision/correction-wire.js";
import { exampleOf, NextStep } from "../../decision/wire.js";
import { AlsoFrom, Cut, Piece } from "../../http/journal.js";
import { pageOf, pageQuery } from "../../http/pagination.js";
import { formatQuery } from "../../http/table.js";
import { Id, Instant, Length, Name, strict, Text } from "../../http/types.js";

const CorrectionId = z
  .string()
  .regex(
    /^[1-9]\d{0,17}-[1-9]\d{0,8}$/,
    'is no id of a correction; send one that this service has given out, such as "3-1"',
  );
export const CorrectionPath = strict({ correction_id: CorrectionId.describe("Identity of the correction") });

const Status = z.enum(["proposed", "applied", "declined", "superseded", "settled"]);

export const CorrectionQuery = strict({
  status: Status.optional().describe("Only those that stand like this"),
  batch_id: Id.optional().describe("Only of this batch"),
  tool_id: Id.optional().describe("Only of this tool"),
  register_id: Id.optional().describe("Only of this register"),
  by: Name.optional().describe("Only those that this person applied, declined, answered or voided"),
  from: Instant.optional().describe(
    "Only where that was at or after this instant; of an open one counts when it was advised",
  ),
  to: Instant.optional().describe("Only where it was before this instant"),
  ...formatQuery,
  ...pageQuery,
});
const FeatureOutcome = z.strictObject({
  feature_id: z.string().describe("Feature that the register moves"),
  place: z.string().nullable().describe("Place on it; null: it has none"),
  unit: z.enum(["mm", "inch"]).describe("Unit of its sizes"),
  expected_before: z.number().describe("Size that was expected without the change"),
  promised: z.number().describe("Size that the value really set was to bring"),
  first_piece: z
    .number()
    .int()
    .nullable()
    .describe("First piece cut with it that was measured; null: none yet"),
  first_size: z.number().nullable().describe("What that one read"),
  pieces: z.array(z.number().int()).describe("The first pieces measured with it, at most 5"),
  mean_size: z.number().nullable().describe("Their mean"),
  off_promise: z.number().nullable().describe("That mean less what was promised"),
});

export const CorrectionRecord = Correction.extend({
  proposed_at: z.iso.datetime().describe("When it was advised first"),
  ended_at: z.iso.datetime().nullable().describe("When it was applied, declined, answered or withdrawn"),
  applied_at: z.iso
    .datetime()
    .nullable()
    .describe("When it was applied, also where that was voided since; null: never"),
  applied_by: z.string().nullable().describe("Who applied it, likewise; null: not said, or nobody did"),
  outcome: z
    .strictObject({
      from_piece: z.number().int().describe("First piece cut with it"),
      until_piece: z
        .number()
        .int()
        .nullable()
        .describe("Last piece cut with it in this batch; null: the register has not been entered since"),
      features: z.array(FeatureOutcome).describe("What was promised of each feature, and what was found"),
    })
    .nullable()
    .describe("What it did, from the readings as they stand; null: it has not been applied, or was voided"),
}).meta({
  id: "CorrectionRecord",
  description: "A correction, with when it was advised and what it did",
  examples: [
    {
      ...(exampleOf(Correction) as object),
      status: "applied",
      from_piece: 13,
      from_cut: 1,
      value_found: 0,
      value_set: -0.02,
      by: "shift A",
      proposed_at: "2026-03-02T07:41:02.000Z",
      ended_at: "2026-03-02T07:45:00.000Z",
      applied_at: "2026-03-02T07:45:00.000Z",
      applied_by: "shift A",
      outcome: {
        from_piece: 13,
        until_piece: null,
        features: [
          {
            feature_id: "12",
            place: null,
            unit: "mm",
            expected_before: 6.0397,
            promised: 5.9997,
            first_piece: 13,
            first_size: 6.001,
            pieces: [13, 14],
            mean_size: 6.0005,
            off_promise: 0.0008,
          },
        ],
      },
    },
  ],
});
export const CorrectionList = pageOf("CorrectionList", CorrectionRecord);

export const Apply = strict({
  from_piece: Piece.optional().describe(
    "First piece cut with it; absent: the next one, or with a from_cut above 1 the last one",
  ),
  from_cut: Cut.optional().describe("2 and more: from this cut of that piece on. Absent: 1"),
  value_found: Length.optional().describe("What the control showed before, in the machine's unit"),
  value_after: Length.optional().describe("What was really set; absent: as advised"),
  by: Name.optional().describe("Who set it"),
  also_from: AlsoFrom,
  confirmed: z
    .literal(true)
    .optional()
    .describe(
      "The value stands at the control, though it is further from the old one than the machine allows",
    ),
}).meta({
  id: "CorrectionApply",
  description: "What was set at the control",
  examples: [{ from_piece: 13, from_cut: 1, value_found: 0, value_after: -0.02, by: "shift A" }],
});

export const Decline = strict({
  reason: Text.describe("Why not"),
  by: Name.optional().describe("Who says so"),
}).meta({
  id: "CorrectionDecline",
  description: "A correction that is not wanted",
  examples: [{ reason: "tool change first", by: "setter" }],
});

export const Finding = strict({
  found: z
    .enum(["nothing", "setup_put_right", "register_put_right", "edge_changed"])
    .describe("`nothing`: the jump is real and is corrected. An entry or edge is posted first"),
  from_piece: Piece.optional().describe("First piece cut after it was put right; absent: the next one"),
  note: Text.optional().describe("What exactly"),
  by: Name.optional().describe("Who looked"),
}).meta({
  id: "CorrectionFinding",
  description: "What a person found when the advice was to find the cause",
  examples: [{ found: "nothing", from_piece: 42, by: "setter" }],
});

export const CorrectionAnswer = z
  .strictObject({
    correction: Correction.describe("The correction as it stands now"),
    flags: z
      .array(z.string())
      .describe(
        "`was_withdrawn`: it was no longer advised; `value_found_differs`: history was put right first; `found_keyed`: the control showed the value advised already, and it counts as set from the piece named on",
      ),
    next: NextStep.describe("The one thing to do next"),
    corrections: z.array(Correction).describe("Advice that stands in its batch now"),
  })
  .meta({
    id: "CorrectionAnswer",
    description: "What follows",
    examples: [{ correction: exampleOf(Correction), flags: [], next: exampleOf(NextStep), corrections: [] }],
  });
