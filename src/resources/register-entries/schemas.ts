import { z } from "zod";
import { NextStep } from "../../decision/wire.js";
import { AlsoFrom, AlsoIn, Cut, Piece, Voided } from "../../http/journal.js";
import { pageOf, pageQuery } from "../../http/pagination.js";
import { Id, Length, Name, strict, Text, Unit } from "../../http/types.js";

const words = {
  batch_id: "The batch that is being cut",
  from_piece: "The first piece cut with it",
  from_cut: "2 and more: from this cut of that piece on",
  value: "What the control shows in the register now: the whole value, not the change",
  unit: "The machine's unit, in which all values here are",
};

export const EntryCreate = strict({
  batch_id: Id.describe(words.batch_id),
  from_piece: Piece.optional().describe(`${words.from_piece}; absent: the next one`),
  from_cut: Cut.default(1).describe(`${words.from_cut}; 1 if absent`),
  value: Length.describe(words.value),
  reason: Text.nullish().describe("Why it was changed"),
  by: Name.nullish().describe("Who changed it"),
  also_from: AlsoFrom,
  confirmed: z
    .literal(true)
    .optional()
    .describe("The control really shows it, though it is further from the old value than the machine allows"),
}).meta({
  id: "RegisterEntryCreate",
  description: "A value that somebody has keyed into a register, not by way of a correction",
  examples: [
    {
      batch_id: "3",
      from_piece: 14,
      from_cut: 1,
      value: -0.02,
      reason: "tongue ran large",
      by: "shift A",
    },
  ],
});
export type EntryCreate = z.infer<typeof EntryCreate>;

const ExpectedSize = z.strictObject({
  feature_id: z.string().describe("A feature that the register moves"),
  characteristic: z.string().describe("Its balloon number"),
  size: z
    .number()
    .nullable()
    .describe(
      "Size that the next piece cut with this value is expected to have, by all readings; null: none yet",
    ),
  unit: Unit.describe("The part's unit, in which its sizes are"),
  place: z.string().nullable().describe("The place of it that this is about; null: it has none"),
  from_latest_reading: z
    .number()
    .nullable()
    .describe(
      "Size that its latest reading would have had with this value, exactly; null: not measured since the edge is in use",
    ),
});

export const EntryAnswer = z
  .strictObject({
    entry_id: z.string().describe("Identity of the entry"),
    register_id: z.string().describe("The register"),
    register_label: z.string().describe("What the control or the shop calls it"),
    batch_id: z.string().describe(words.batch_id),
    from_piece: z.number().int().describe(words.from_piece),
    from_cut: z.number().int().describe(words.from_cut),
    value_before: z.number().describe("What it held there before"),
    change: z.number().describe("`value` less `value_before`"),
    value: z.number().describe("What it holds from there on"),
    unit: Unit.describe(words.unit),
    expected: z.array(ExpectedSize).describe("What the features that it moves come out at with this value"),
    warnings: z.array(z.string()).describe("What to look at before the next piece is cut"),
    also_in: AlsoIn,
    next: NextStep.describe("The one thing to do next"),
  })
  .meta({
    id: "RegisterEntryAnswer",
    description: "An entry of a register, and what follows from it",
    examples: [
      {
        entry_id: "9",
        register_id: "21",
        register_label: "D7 wear",
        batch_id: "3",
        from_piece: 14,
        from_cut: 1,
        value_before: 0,
        change: -0.02,
        value: -0.02,
        unit: "mm",
        expected: [
          {
            feature_id: "31",
            characteristic: "12",
            size: 5.9997,
            unit: "mm",
            place: null,
            from_latest_reading: 6,
          },
        ],
        warnings: [],
        also_in: [],
        next: {
          action: "measure",
          piece: 14,
          why: "Measure 12 Tongue width on piece 14: first piece after a change of its register: was it keyed, with the right sign, into the right register?",
        },
      },
    ],
  });
export type EntryAnswer = z.infer<typeof EntryAnswer>;

const entryMembers = {
  entry_id: z.string().describe("Identity of the entry"),
  register_id: z.string().describe("The register"),
  batch_id: z.string().describe("The batch that it counts in"),
  from_piece: z.number().int().describe(words.from_piece),
  from_cut: z.number().int().describe(words.from_cut),
  value: z.number().describe("What the register holds from there on"),
  unit: Unit.describe(words.unit),
  origin: z
    .enum(["person", "correction", "edge", "found", "log"])
    .describe(
      "Where it comes from: `person` entered by somebody, `correction` applied as advised, `edge` keyed with a fresh edge, `found` at the control when a correction was applied, `log` printed beside a reading",
    ),
  reason: z.string().nullable().describe("Why it was changed"),
  correction_id: z.string().nullable().describe("The correction that was applied; null: none"),
  edge_id: z.string().nullable().describe("The edge that it came with; null: none"),
  follows_entry_id: z
    .string()
    .nullable()
    .describe("The entry in another batch of the machine that was made at the same time; null: this is it"),
  by: z.string().nullable().describe("Who changed it"),
  created_at: z.iso.datetime().describe("When it was entered"),
  voided: Voided,
};
const entryExample = {
  entry_id: "9",
  register_id: "21",
  batch_id: "3",
  from_piece: 14,
  from_cut: 1,
  value: -0.02,
  unit: "mm" as const,
  origin: "person" as const,
  reason: "tongue ran large",
  correction_id: null,
  edge_id: null,
  follows_entry_id: null,
  by: "shift A",
  created_at: "2026-03-02T07:44:00.000Z",
  voided: null,
};

export const Entry = z.strictObject(entryMembers).meta({
  id: "RegisterEntry",
  description: "A value that a register holds from a piece of a batch on",
  examples: [entryExample],
});
export type Entry = z.infer<typeof Entry>;

export const EntryVoided = z
  .strictObject({
    ...entryMembers,
    value_now: z.number().describe("What the register holds from there on without it"),
    also_in: AlsoIn,
    next: NextStep.describe("The one thing to do next"),
  })
  .meta({
    id: "RegisterEntryVoided",
    description: "A voided entry, and what follows from voiding it",
    examples: [
      {
        ...entryExample,
        voided: { at: "2026-03-02T07:50:00.000Z", reason: "keyed into another register", by: "shift A" },
        value_now: 0,
        also_in: [],
        next: {
          action: "set_offset",
          piece: 14,
          why: "Change D7 wear of tool 7 by -0.020 mm: it should then read -0.020 mm.",
        },
      },
    ],
  });
export type EntryVoided = z.infer<typeof EntryVoided>;

export const RegisterPath = strict({ register_id: Id.describe("Identity of the register") });
export const EntryPath = strict({
  register_id: Id.describe("Identity of the register"),
  entry_id: Id.describe("Identity of the entry"),
});
export const EntryQuery = strict(pageQuery);
export const EntryList = pageOf("RegisterEntryList", Entry);
