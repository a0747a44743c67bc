import { z } from "zod";

/** Shapes that several resources answer with. */

/** The example of a schema, for the example of a larger one. */
export function exampleOf(schema: z.ZodType): unknown {
  const { examples } = schema.meta() as { examples: unknown[] };
  return examples[0];
}

export const ShopUnit = z.enum(["mm", "inch"]);

export const FeatureUnit = z.enum(["mm", "inch", "deg", "µm", "µin"]);

export const NextStep = z
  .strictObject({
    action: z
      .enum(["run_on", "measure", "set_offset", "stop"])
      .describe("The one thing to do; all else is detail"),
    piece: z.number().int().describe("The piece it is about"),
    cut: z
      .number()
      .int()
      .optional()
      .describe("Where that piece is to be cut again: measure it as this cut, such as 2"),
    why: z.string().describe("What to do and why, in plain words"),
  })
  .meta({
    id: "NextStep",
    description: "The one thing to do next",
    examples: [
      {
        action: "set_offset",
        piece: 13,
        why: "Change D7 wear of tool 7 by -0.020 mm: it should then read -0.020 mm.",
      },
    ],
  });

export const CheckPlan = z
  .strictObject({
    batch_id: z.string().describe("The batch"),
    piece: z.number().int().describe("The piece to be measured"),
    seat: z
      .string()
      .nullable()
      .describe("Seat in the fixture that follows from the piece's number; null: the batch names no seats"),
    state: z
      .enum(["every_piece", "relaxed", "cause_open"])
      .describe("`relaxed`: every block of features has earned an interval above one piece"),
    features: z
      .array(
        z.strictObject({
          feature_id: z.string().describe("Feature to measure"),
          characteristic: z.string().describe("Its balloon number"),
          places: z
            .array(z.string())
            .nullable()
            .describe("Where it has still to be measured on this piece; null: one reading speaks for it"),
          gauge_id: z.string().nullable().describe("Gauge to measure it with; null: none is named"),
          sure_piece: z
            .boolean()
            .describe("True: take this very piece at the machine, not one out of the chute"),
          rule: z.string().describe("Rule that asks for it"),
          why: z.string().describe("The same in words"),
        }),
      )
      .describe("What to measure on this piece, in the part's order"),
    left_out: z
      .array(
        z.strictObject({
          feature_id: z.string().describe("Feature"),
          why: z.string().describe("Why not on this piece"),
        }),
      )
      .describe("What need not be measured on it"),
    next_pieces: z
      .array(z.number().int())
      .describe("Pieces after it on which something is due if all goes well"),
    wait_for_result: z.boolean().describe("True: cut nothing more until this piece's readings are in"),
  })
  .meta({
    id: "CheckPlan",
    description: "What to measure on one piece, and why",
    examples: [
      {
        batch_id: "3",
        piece: 13,
        seat: null,
        state: "every_piece",
        features: [
          {
            feature_id: "12",
            characteristic: "12",
            places: null,
            gauge_id: "5",
            sure_piece: true,
            rule: "after_change",
            why: "first piece after a change of its register: was it keyed, with the right sign, into the right register?",
          },
        ],
        left_out: [],
        next_pieces: [14, 15, 16],
        wait_for_result: true,
      },
    ],
  });
