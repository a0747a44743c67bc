import { z } from "zod";
import { Id, strict } from "../../http/types.js";

export const WearPath = strict({ tool_id: Id.describe("The tool") });
export const WearQuery = strict({
  batch_id: Id.optional().describe(
    "As it stands in this batch; absent: in the latest batch that the tool works in",
  ),
});

const Entry = z.strictObject({
  at: z.iso.datetime().describe("When it was entered"),
  batch_id: z.string().describe("In which batch"),
  from_piece: z.number().int().describe("It counts from this piece"),
  from_cut: z.number().int().describe("and this cut of it on"),
  change: z.number().describe("Change against the value before"),
  value: z.number().describe("What the register held then"),
  reason: z.string().nullable().describe("Why"),
  correction_id: z.string().nullable().describe("The correction applied; null: entered by itself"),
  by: z.string().nullable().describe("Who"),
});

export const Wear = z
  .strictObject({
    tool_id: z.string().describe("The tool"),
    batch_id: z
      .string()
      .nullable()
      .describe("The batch that the figures are of; null: the tool has not worked yet"),
    edge: z
      .strictObject({
        edge_id: z.string().describe("Identity of the edge"),
        number: z.number().int().describe("Its number, counted from 1"),
        reason: z.string().describe("Why it came in; `start`: the first one"),
        pieces_cut: z.number().int().describe("Pieces it has cut, in all batches"),
      })
      .describe("The cutting edge in use"),
    registers: z
      .array(
        z.strictObject({
          register_id: z.string().describe("The register"),
          number: z.number().int().describe("Its number at the control"),
          label: z.string().describe("Its label at the control"),
          unit: z.enum(["mm", "inch"]).describe("Unit of its values"),
          value_now: z.number().describe("What it is believed to hold"),
          cumulative_change: z.number().describe("Value now less the value when the edge began"),
          wear_rate_per_piece: z
            .number()
            .nullable()
            .describe(
              "What wear asks of the register per piece, sign as it would be keyed; null: nothing measured yet",
            ),
          pieces_to_limit: z
            .number()
            .int()
            .nullable()
            .describe(
              "Pieces until a feature leaves its limits without another correction; null: not as far as known",
            ),
          proposed_start: z
            .number()
            .nullable()
            .describe("Value for a fresh edge, aiming at the target; null: no feature is named"),
          safe_start: z
            .number()
            .nullable()
            .describe("Value for a fresh edge that leaves metal on, for who measures and cuts again"),
          entries: z.array(Entry).describe("The latest 100 entries, newest first"),
        }),
      )
      .describe("Its registers"),
  })
  .meta({
    id: "Wear",
    description: "How far a tool has worn, and what its registers hold",
    examples: [
      {
        tool_id: "2",
        batch_id: "3",
        edge: { edge_id: "7", number: 2, reason: "worn", pieces_cut: 41 },
        registers: [
          {
            register_id: "4",
            number: 7,
            label: "D7 wear",
            unit: "mm",
            value_now: -0.02,
            cumulative_change: -0.02,
            wear_rate_per_piece: -0.0002,
            pieces_to_limit: 31,
            proposed_start: -0.012,
            safe_start: 0.05,
            entries: [
              {
                at: "2026-03-02T07:45:00.000Z",
                batch_id: "3",
                from_piece: 13,
                from_cut: 1,
                change: -0.02,
                value: -0.02,
                reason: null,
                correction_id: "3-1",
                by: "shift A",
              },
            ],
          },
        ],
      },
    ],
  });
