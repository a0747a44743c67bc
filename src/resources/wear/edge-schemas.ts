import { z } from "zod";
import { Id, strict } from "../../http/types.js";

export const EdgeOffsetsPath = strict({
  tool_id: Id.describe("The tool"),
  edge_id: Id.describe("Identity of the edge"),
});

const change = {
  batch_id: z.string().describe("In which batch"),
  from_piece: z.number().int().describe("It counts from this piece"),
  from_cut: z.number().int().describe("and this cut of it on"),
  pieces_cut: z.number().int().describe("Pieces that the edge had cut before that one, in all batches"),
  value: z.number().describe("What the register held from there on"),
  reason: z.string().nullable().describe("Why; null: brought into the batch, or not said"),
  correction_id: z.string().nullable().describe("The correction applied; null: there was none"),
  by: z.string().nullable().describe("Who entered it; null: brought into the batch, or not said"),
  at: z.iso.datetime().nullable().describe("When it was entered; null: brought into the batch"),
};

const Ahead = z.strictObject({
  piece: z.number().int().describe("The piece to come, in the batch of the forecast"),
  pieces_cut: z.number().int().describe("Pieces that the edge will have cut before it"),
  aimed: z.number().describe("Value that would put the worst of its features nearest its aim there"),
  low: z.number().describe("That less two standard deviations of what is known of the wear"),
  high: z.number().describe("And more two of them"),
  limit_low: z
    .number()
    .nullable()
    .describe("Below this value a feature is expected outside its limits there; null: no limit on that side"),
  limit_high: z.number().nullable().describe("Above this value likewise"),
});

export const EdgeOffsets = z
  .strictObject({
    tool_id: z.string().describe("The tool"),
    edge_id: z.string().describe("The edge"),
    number: z.number().int().describe("Its number, counted from 1"),
    reason: z.string().describe("Why it came in; `start`: the first one"),
    in_use: z.boolean().describe("True: it is the one in use"),
    pieces_cut: z.number().int().describe("Pieces it has cut, in all batches"),
    planned_life: z.number().int().nullable().describe("Pieces that an edge is planned for; null: not said"),
    unit: z.enum(["mm", "inch"]).describe("The machine's unit, in which the values are"),
    batches: z
      .array(
        z.strictObject({
          batch_id: z.string().describe("A batch in which it cut"),
          batch: z.string().describe("What the shop calls it"),
          from_piece: z.number().int().describe("First piece that it cut there"),
          to_piece: z.number().int().describe("Last one"),
          pieces_cut: z
            .number()
            .int()
            .describe("Pieces that it had cut before, in the batches that stand before"),
        }),
      )
      .describe("Where it cut, in the order in which the batches were opened"),
    registers: z
      .array(
        z.strictObject({
          register_id: z.string().describe("The register"),
          number: z.number().int().describe("Its number at the control"),
          label: z.string().describe("Its label at the control"),
          values: z
            .array(z.strictObject(change))
            .describe("What it held, from the edge's first piece in each batch and from every entry on"),
          forecast: z
            .strictObject({
              batch_id: z.string().describe("The batch that it goes by"),
              value_now: z.number().describe("What the register is believed to hold"),
              rate_per_piece: z
                .number()
                .describe("What wear asks of the register per piece, as it would be keyed"),
              ahead: z.array(Ahead).describe("From the next piece to the end of the planned life"),
            })
            .nullable()
            .describe(
              "What wear will ask of it; null: not the edge in use, or nothing was measured with it yet",
            ),
        }),
      )
      .describe("Its registers"),
  })
  .meta({
    id: "EdgeOffsets",
    description: "What a tool's offsets held over the pieces of one edge, and what wear will ask of them",
    examples: [
      {
        tool_id: "2",
        edge_id: "7",
        number: 2,
        reason: "worn",
        in_use: true,
        pieces_cut: 41,
        planned_life: 120,
        unit: "mm",
        batches: [{ batch_id: "3", batch: "B-118", from_piece: 10, to_piece: 50, pieces_cut: 0 }],
        registers: [
          {
            register_id: "4",
            number: 7,
            label: "D7 wear",
            values: [
              {
                batch_id: "3",
                from_piece: 10,
                from_cut: 1,
                pieces_cut: 0,
                value: 0,
                reason: "worn",
                correction_id: null,
                by: "shift A",
                at: "2026-03-02T07:40:00.000Z",
              },
              {
                batch_id: "3",
                from_piece: 13,
                from_cut: 1,
                pieces_cut: 3,
                value: -0.02,
                reason: null,
                correction_id: "3-1",
                by: "shift A",
                at: "2026-03-02T07:45:00.000Z",
              },
            ],
            forecast: {
              batch_id: "3",
              value_now: -0.02,
              rate_per_piece: -0.0002,
              ahead: [
                {
                  piece: 51,
                  pieces_cut: 41,
                  aimed: -0.0231,
                  low: -0.0247,
                  high: -0.0215,
                  limit_low: -0.0381,
                  limit_high: -0.0081,
                },
              ],
            },
          },
        ],
      },
    ],
  });
