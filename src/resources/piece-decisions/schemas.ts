import { z } from "zod";
import { DecisionKind, decisionWords, PieceDecision, Range } from "../../decision/hold-wire.js";
import { Piece } from "../../http/journal.js";
import { pageOf, pageQuery } from "../../http/pagination.js";
import { Id, Instant, Name, strict, Text } from "../../http/types.js";

const members = {
  decision: DecisionKind.describe(decisionWords.decision),
  authority: Text.nullish().describe(`${decisionWords.authority}; required for \`use_as_is\` and \`repair\``),
  nonconformance: Name.nullish().describe(decisionWords.nonconformance),
  note: Text.nullish().describe(decisionWords.note),
  measure_again: z
    .array(Id)
    .min(1)
    .max(500)
    .optional()
    .describe(
      `${decisionWords.measure_again}; absent: every feature of the batch, since a piece put back in the fixture has lost its old zero. Whoever names them must name at least what failed`,
    ),
  decided_at: Instant.optional().describe(
    `${decisionWords.decided_at}; absent: now. Of a rework only what is measured after it counts`,
  ),
  by: Name.nullish().describe("Who enters it"),
};

interface Decided {
  decision: z.infer<typeof DecisionKind>;
  authority?: string | null | undefined;
  measure_again?: string[] | undefined;
}

function refuseWrongHands(body: Decided, context: z.RefinementCtx): void {
  const { decision, authority, measure_again } = body;
  if ((decision === "use_as_is" || decision === "repair") && !authority) {
    context.addIssue({
      code: "custom",
      path: ["authority"],
      message: `is missing: "${decision}" does not end at the drawing, so the customer or the design authority has to allow it; name who did, and the reference`,
    });
  }
  if (measure_again && decision !== "rework") {
    context.addIssue({
      code: "custom",
      path: ["measure_again"],
      message: "goes with rework only: leave it out",
    });
  }
}

export const PieceDecisionCreate = strict(members)
  .superRefine(refuseWrongHands)
  .meta({
    id: "PieceDecisionCreate",
    description: "What is to become of one piece",
    examples: [{ decision: "rework", authority: null, nonconformance: "N-7", by: "quality" }],
  });

export const PieceDecisionsCreate = strict({
  pieces: z
    .array(
      strict({
        from_piece: Piece.describe("First piece, in cutting order"),
        to_piece: Piece.describe("Last piece, itself included"),
      }),
    )
    .min(1)
    .max(100)
    .superRefine((ranges, context) => {
      ranges.forEach(({ from_piece, to_piece }, index) => {
        if (from_piece > to_piece) {
          context.addIssue({
            code: "custom",
            path: [index, "to_piece"],
            message: `must not be below from_piece, ${from_piece}`,
          });
        }
        const other = ranges.findIndex(
          (range, before) => before < index && range.from_piece <= to_piece && from_piece <= range.to_piece,
        );
        if (other >= 0) {
          context.addIssue({
            code: "custom",
            path: [index],
            message: `overlaps item ${other}: name each piece once`,
          });
        }
      });
    })
    .describe("Ranges of pieces that it is about"),
  ...members,
})
  .superRefine(refuseWrongHands)
  .meta({
    id: "PieceDecisionsCreate",
    description: "What is to become of ranges of pieces",
    examples: [
      {
        pieces: [{ from_piece: 41, to_piece: 49 }],
        decision: "scrap",
        nonconformance: "N-7",
        by: "quality",
      },
    ],
  });
export type PieceDecisionsCreate = z.infer<typeof PieceDecisionsCreate>;

const decisionExample = (PieceDecision.meta() as unknown as { examples: z.infer<typeof PieceDecision>[] })
  .examples[0]!;

export const DecisionsAnswer = z
  .strictObject({
    decisions: z.array(PieceDecision).describe("The decisions as they are kept: one for each range"),
    pieces_on_hold: z.number().int().describe("How many pieces of the batch are still on hold"),
    on_hold: z.array(Range).describe("Which ones"),
  })
  .meta({
    id: "DecisionsAnswer",
    description: "Decisions about pieces, and what is still on hold in their batch",
    examples: [{ decisions: [decisionExample], pieces_on_hold: 0, on_hold: [] }],
  });

export const BatchPath = strict({ batch_id: Id.describe("The batch") });
export const DecisionPath = strict({
  batch_id: Id.describe("The batch"),
  decision_id: Id.describe("Identity of the decision"),
});
export const DecisionQuery = strict(pageQuery);
export const DecisionList = pageOf("PieceDecisionList", PieceDecision);
