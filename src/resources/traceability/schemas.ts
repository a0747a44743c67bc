import { z } from "zod";
import { pageOf, pageQuery } from "../../http/pagination.js";
import { formatQuery } from "../../http/table.js";
import { Id, Instant, Length, strict, Unit } from "../../http/types.js";

const inBatch = {
  batch_id: z.string().describe("The batch"),
  batch: z.string().describe("Its name"),
  part_number: z.string().describe("Drawing number of its part"),
  revision: z.string().describe("Revision of the drawing"),
};
const batchExample = { batch_id: "3", batch: "B-118", part_number: "HB-2041", revision: "B" };

export const EdgePath = strict({
  tool_id: Id.describe("The tool"),
  edge_id: Id.describe("Identity of the edge"),
});
export const RangeQuery = strict({ ...formatQuery, ...pageQuery });

const EdgePieces = z
  .strictObject({
    ...inBatch,
    from_piece: z.number().int().describe("First piece that it cut"),
    to_piece: z.number().int().describe("Last piece that it cut, as far as is known"),
  })
  .meta({
    id: "EdgePieces",
    description: "Pieces of a batch that an edge has cut",
    examples: [{ ...batchExample, from_piece: 1, to_piece: 120 }],
  });
export const EdgePiecesList = pageOf("EdgePiecesList", EdgePieces, "by batch");

export const RegisterPath = strict({ register_id: Id.describe("The register") });
export const RegisterQuery = strict({
  value: Length.optional().describe("Only where it held this value, in the machine's unit"),
  batch_id: Id.optional().describe("Only in this batch"),
  ...formatQuery,
  ...pageQuery,
});

const ValuePieces = z
  .strictObject({
    ...inBatch,
    value: z.number().describe("What the register held"),
    unit: Unit.describe("The machine's unit"),
    from_piece: z.number().int().describe("First piece cut with it"),
    from_cut: z.number().int().describe("and from this cut of that piece on"),
    to_piece: z.number().int().describe("Last piece cut with it, as far as is known"),
    to_cut: z.number().int().nullable().describe("up to this cut of that piece; null: all of it"),
    entry_id: z.string().nullable().describe("The entry; null: the batch was opened with it"),
    correction_id: z.string().nullable().describe("The correction that set it; null: none did"),
    by: z.string().nullable().describe("Who entered it"),
    entered_at: z.iso.datetime().nullable().describe("When"),
  })
  .meta({
    id: "ValuePieces",
    description: "Pieces of a batch that were cut while a register held a value",
    examples: [
      {
        ...batchExample,
        value: -0.02,
        unit: "mm",
        from_piece: 13,
        from_cut: 1,
        to_piece: 41,
        to_cut: null,
        entry_id: "71",
        correction_id: "3-1",
        by: "shift A",
        entered_at: "2026-03-02T07:45:00.000Z",
      },
    ],
  });
export const ValuePiecesList = pageOf("ValuePiecesList", ValuePieces, "by batch, in cutting order");

export const CorrectionPath = strict({
  correction_id: z
    .string()
    .regex(
      /^[1-9]\d{0,17}-[1-9]\d{0,8}$/,
      'is no id of a correction; send one that this service has given out, such as "3-1"',
    )
    .describe("Identity of the correction"),
});

export const GaugePath = strict({ gauge_id: Id.describe("The gauge") });
export const GaugeQuery = strict({
  from: Instant.optional().describe("Only measured at or after this instant"),
  to: Instant.optional().describe("Only measured before this instant"),
  format: formatQuery.format.describe(
    "`csv`: a table for a spreadsheet, all at once; what goes on from one page to the next stands in one row",
  ),
  cursor: pageQuery.cursor,
});

const GaugePieces = z
  .strictObject({
    ...inBatch,
    feature_id: z.string().describe("Feature measured"),
    characteristic: z.string().describe("Its balloon number"),
    from_piece: z.number().int().describe("First piece on which it was"),
    to_piece: z.number().int().describe("Last piece on which it was"),
    readings: z.number().int().describe("How many readings, voided ones among them"),
    first_at: z.iso.datetime().describe("When the first of them was taken"),
    last_at: z.iso.datetime().describe("When the last of them was"),
  })
  .meta({
    id: "GaugePieces",
    description: "What a gauge has measured of a feature in a batch",
    examples: [
      {
        ...batchExample,
        feature_id: "12",
        characteristic: "12",
        from_piece: 1,
        to_piece: 120,
        readings: 34,
        first_at: "2026-03-02T07:41:00.000Z",
        last_at: "2026-03-02T13:05:00.000Z",
      },
    ],
  });
export const GaugePiecesList = z
  .strictObject({
    items: z.array(GaugePieces).describe("What the readings of this page are of, in the order of time"),
    next_cursor: z
      .string()
      .nullable()
      .describe("Send it as `cursor` for the next 5000 readings; null on the last page"),
  })
  .meta({ id: "GaugePiecesList", description: "One page of a list: what 5000 readings amount to" });
