import { z } from "zod";
import { Correction, exampleOf, NextStep } from "../../decision/wire.js";
import { AlsoFrom, Cut, Piece } from "../../http/journal.js";
import { pageOf, pageQuery } from "../../http/pagination.js";
import { Id, Length, Name, strict, Text } from "../../http/types.js";

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
  ...pageQuery,
});
export const CorrectionList = pageOf("CorrectionList", Correction);

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
