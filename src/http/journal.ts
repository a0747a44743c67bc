import { z } from "zod";
import { Id, Name, strict, Text } from "./types.js";

/** Shapes that everything shares that a person enters into a batch's journal: entries, edges, interruptions. */

/** A piece of a batch, numbered in cutting order. */
export const Piece = z.number().int().min(1).max(10_000_000);
/** 2 and more: the same piece cut again. */
export const Cut = z.number().int().min(1).max(99);

/** Where a change of a register counts in the machine's other open batches. */
export const AlsoFrom = z
  .array(
    strict({
      batch_id: Id.describe("Another open batch of the machine"),
      from_piece: Piece.describe("The first of its pieces cut with the change"),
    }),
  )
  .max(50)
  .superRefine((named, context) => {
    named.forEach(({ batch_id }, index) => {
      if (named.findIndex((other) => other.batch_id === batch_id) === index) return;
      context.addIssue({
        code: "custom",
        path: [index, "batch_id"],
        message: "stands here twice: leave one out",
      });
    });
  })
  .optional()
  .describe(
    "Where it counts in other open batches of the machine; absent: from the piece after the last one known to be cut",
  );

export const AlsoIn = z
  .array(
    z.strictObject({
      batch_id: z.string().describe("Another open batch of the machine"),
      from_piece: z.number().int().describe("The first of its pieces that counts as cut with the change"),
    }),
  )
  .describe("Where else it counts: the machine's other open batches");

export const VoidCreate = strict({
  reason: Text.describe("Why it does not count"),
  by: Name.nullish().describe("Who says so"),
}).meta({
  id: "Void",
  description: "Takes something that was entered out of all that is decided; it is kept, and counts no more",
  examples: [{ reason: "keyed for another batch", by: "shift A" }],
});

export const Voided = z
  .strictObject({
    at: z.iso.datetime().describe("When"),
    reason: z.string().describe("Why"),
    by: z.string().nullable().describe("Who said so; null: not said"),
  })
  .nullable()
  .describe("Set where somebody has voided it: it is kept, and counts no more");

export function showVoided(row: {
  voided_at: string | null;
  void_reason: string | null;
  voided_by: string | null;
}): z.infer<typeof Voided> {
  const { voided_at, void_reason, voided_by } = row;
  return voided_at === null ? null : { at: voided_at, reason: void_reason ?? "", by: voided_by };
}
