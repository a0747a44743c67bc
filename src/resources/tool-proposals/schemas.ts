import { z } from "zod";
import { RegisterCreate } from "../../decision/tool-wire.js";
import { NextStep } from "../../decision/wire.js";
import { Cut, Piece } from "../../http/journal.js";
import { pageOf, pageQuery } from "../../http/pagination.js";
import { Id, Length, Name, strict, Text, Unit } from "../../http/types.js";

const text = (description: string) => z.string().nullable().describe(description);

const Field = z.enum(["tool", "nominal_diameter", "life_pieces", "edge", "value_found"]);
export type Field = z.infer<typeof Field>;
const fieldWords =
  "`tool`: set up a tool that is not known here; `nominal_diameter` and `life_pieces` of the tool; `edge`: a fresh edge is in it; `value_found`: the register holds another value than the ledger says";

const Change = z
  .strictObject({
    field: Field.describe(fieldWords),
    from: z.union([z.number(), z.string()]).nullable().describe("As it stands here; null: not at all"),
    to: z.union([z.number(), z.string()]).describe("As it would be"),
    unit: Unit.nullable().describe("The machine's unit, of a size; null: it is none"),
    why: z.string().describe("Where that comes from"),
  })
  .meta({ id: "ToolProposalChange", description: "One thing that would be created or changed" });
export type Change = z.infer<typeof Change>;

const Life = z.strictObject({
  type: z.enum(["MINUTES", "PART_COUNT", "WEAR"]).describe("What is counted: minutes, parts, or wear in mm"),
  counts: z.enum(["up", "down"]).describe("Up to its limit, or down from its beginning"),
  value: text("What the machine counts now; null: unavailable"),
  initial: text("What a fresh edge begins with"),
  limit: text("What it may come to"),
  warning: text("From here on it should be changed soon"),
});
const Measured = z.strictObject({
  name: z.string().describe("What is measured, as the standard names it"),
  code: text("Its code by ISO 13399"),
  value: text("As measured; null: unavailable"),
  nominal: text("Nominal"),
  minimum: text("Lower limit"),
  maximum: text("Upper limit"),
  unit: z.enum(["mm", "inch", "deg"]).nullable().describe("Unit; null: the document does not say"),
  within: z
    .boolean()
    .nullable()
    .describe("Whether the value is inside the limits, on one of them being so; null: nothing to tell it by"),
});
const Asset = z
  .strictObject({
    asset_id: z.string().describe("Its identity at the machine"),
    tool_id: text("The tool's identity there; not ours"),
    serial: text("Serial number"),
    program_number: z.number().int().nullable().describe("Number by which programs call it"),
    description: text("Description"),
    timestamp: text("When it was published, as the document has it"),
    removed: z.boolean().describe("It is no longer at the machine"),
    statuses: z.array(z.string()).describe("Its states: NEW, USED, BROKEN ..."),
    location: text("Where it is kept"),
    lives: z.array(Life).describe("Its life"),
    measurements: z.array(Measured).describe("Its sizes"),
    edge_count: z.number().int().nullable().describe("How many cutting edges or inserts it is said to have"),
    edges: z
      .array(
        z.strictObject({
          indices: z.string().describe("Which of them"),
          item_id: text("Kind of insert"),
          grade: text("Grade"),
          locus: text("Where on the tool"),
          statuses: z.array(z.string()).describe("Its states"),
          lives: z.array(Life).describe("Its life"),
          measurements: z.array(Measured).describe("Its sizes"),
        }),
      )
      .describe("Its cutting edges or inserts"),
  })
  .meta({ id: "ToolAssetSaid", description: "What the document says of a tool; decimals as printed" });

const itemExample = {
  item: 1,
  about: "register",
  line: 4,
  tool_id: "12",
  tool_number: 7,
  tool_name: "10 mm finishing end mill",
  matched_by: "tool_in_use",
  register_id: "21",
  register_label: "D7 wear",
  says: "The control reads -0.012 mm in D7 wear, the ledger says -0.010 mm.",
  changes: [
    {
      field: "value_found",
      from: -0.01,
      to: -0.012,
      unit: "mm",
      why: "ToolOffset RADIAL with tool 7 in use, 2026-03-11T05:59:58Z",
    },
  ],
  cautions: [],
  asset: null,
} as const;
const Item = z
  .strictObject({
    item: z.number().int().describe("Its number in the proposal, from 1"),
    about: z.enum(["tool", "register"]).describe("What it is about"),
    line: z.number().int().describe("Line of the document"),
    tool_id: text("Our tool; null: none is known"),
    tool_number: z.number().int().nullable().describe("Its number; null: nothing says one"),
    tool_name: text("Its name here, or the one proposed"),
    matched_by: z
      .enum(["asset", "program_number", "tool_id", "tool_in_use", "offset_number"])
      .nullable()
      .describe(
        "How the tool or register was found: an asset accepted before, the number that programs call it by, a number for the document's tool id, the tool in use when it was reported, the number of the offset; null: not at all",
      ),
    register_id: text("The register; null: it is about a tool, or no register fits"),
    register_label: text("Its label"),
    says: z.string().describe("What the document says, in a sentence"),
    changes: z.array(Change).describe("What would be created or changed; empty: nothing"),
    cautions: z.array(z.string()).describe("What to look at first"),
    asset: Asset.nullable().describe("All that it says of the tool; null: it is about a register"),
  })
  .meta({
    id: "ToolProposalItem",
    description: "A tool or a register of a machine's document, beside ours",
    examples: [itemExample],
  });
export type Item = z.infer<typeof Item>;

const Done = z.strictObject({
  item: z.number().int().describe("The item"),
  field: Field.describe(fieldWords),
  tool_id: text("The tool that was set up or changed"),
  edge_id: text("The edge that was entered"),
  entry_id: text("The register entry that was made"),
});
export type Done = z.infer<typeof Done>;

export const ToolProposal = z
  .strictObject({
    proposal_id: z.string().describe("Identity of the proposal"),
    machine_id: z.string().describe("The machine whose document it is"),
    status: z.enum(["open", "accepted", "declined"]).describe("Whether a person has decided"),
    document: z.string().describe("Kind of document and its version"),
    source: text("Where it came from, as its sender calls it"),
    unit: Unit.nullable().describe("Unit that its sender declared for sizes without one"),
    others: z.number().int().describe("Elements or lines of other kinds in it, passed over"),
    items: z.array(Item).describe("The tools and registers in it, in their order"),
    done: z.array(Done).describe("What was created or changed when it was accepted"),
    next: z
      .array(
        z.strictObject({
          batch_id: z.string().describe("The batch"),
          next: NextStep.describe("What to do in it"),
        }),
      )
      .describe("What to do next in the batches that it changed"),
    by: text("Who decided"),
    reason: text("Why it was declined"),
    created_at: z.iso.datetime().describe("When it came"),
    decided_at: z.iso.datetime().nullable().describe("When it was decided"),
  })
  .meta({
    id: "ToolProposal",
    description: "What a machine's document would create or change, until a person decides",
    examples: [
      {
        proposal_id: "4",
        machine_id: "3",
        status: "open",
        document: "MTConnectStreams 2.0",
        source: "mill-2",
        unit: null,
        others: 12,
        items: [itemExample],
        done: [],
        next: [],
        by: null,
        reason: null,
        created_at: "2026-03-11T06:00:00.000Z",
        decided_at: null,
      },
    ],
  });
export type ToolProposal = z.infer<typeof ToolProposal>;

const placeWords = {
  batch_id: "The batch that is being cut",
  from_piece: "The first piece cut with it; absent: the next one",
};

const Choice = strict({
  item: z.number().int().min(1).describe("The item"),
  fields: z.array(Field).min(1).max(5).describe(`Which of its changes to make. ${fieldWords}`),
  tool: strict({
    number: z
      .number()
      .int()
      .min(0)
      .max(99_999_999)
      .optional()
      .describe("Tool number; absent: the one proposed"),
    name: Name.optional().describe("What it is, in the shop's words; absent: the one proposed"),
    kind: Name.describe("Sort of tool, such as end_mill, drill, turning"),
    registers: z
      .array(RegisterCreate)
      .max(100)
      .default([])
      .describe("Its wear-offset registers, which no such document tells; none for a sized tool"),
  })
    .optional()
    .describe("With `tool`: what the document does not say of it"),
  edge: strict({
    batch_id: Id.describe(placeWords.batch_id),
    from_piece: Piece.optional().describe(placeWords.from_piece),
    reason: z
      .enum(["worn", "broken", "chipped", "indexed", "new_insert", "other"])
      .describe("Why the edge was changed"),
    registers: z
      .array(
        strict({
          register_id: Id.describe("A register of the tool"),
          value: Length.describe("What it holds now"),
        }),
      )
      .max(100)
      .describe("Every register of the tool, with what the control holds in it now"),
  })
    .optional()
    .describe("With `edge`: where it counts, and what the registers hold with it"),
  value_found: strict({
    batch_id: Id.describe(placeWords.batch_id),
    from_piece: Piece.optional().describe(placeWords.from_piece),
    from_cut: Cut.default(1).describe("2 and more: from this cut of that piece on; 1 if absent"),
    confirmed: z
      .literal(true)
      .optional()
      .describe(
        "The control really shows it, though it is further from the old value than the machine allows",
      ),
  })
    .optional()
    .describe("With `value_found`: from where on the register has held it"),
});
export type Choice = z.infer<typeof Choice>;

export const ToolProposalAccept = strict({
  choices: z.array(Choice).min(1).max(2000).describe("What is accepted; all else is let go"),
  by: Name.describe("Who accepts it"),
}).meta({
  id: "ToolProposalAccept",
  description: "A person's yes to changes of a proposal",
  examples: [
    {
      choices: [
        { item: 1, fields: ["value_found"], value_found: { batch_id: "3", from_piece: 14, from_cut: 1 } },
      ],
      by: "shift A",
    },
  ],
});
export type ToolProposalAccept = z.infer<typeof ToolProposalAccept>;

export const ToolProposalDecline = strict({
  reason: Text.describe("Why nothing of it is taken"),
  by: Name.describe("Who declines it"),
}).meta({
  id: "ToolProposalDecline",
  description: "A person's no to a proposal",
  examples: [{ reason: "an old export", by: "shift A" }],
});

export const ToolDocumentPath = strict({ machine_id: Id.describe("The machine") });
export const ToolDocumentQuery = strict({
  unit: Unit.optional().describe(
    "Unit of sizes that bear none; absent: millimetres, as the standard means them",
  ),
  source: Name.optional().describe("Where it came from, for people"),
});
export const ToolProposalPath = strict({ proposal_id: Id.describe("The proposal") });
export const ToolProposalQuery = strict({
  machine_id: Id.optional().describe("Only those of this machine"),
  status: z.enum(["open", "accepted", "declined"]).optional().describe("Only those that stand so"),
  ...pageQuery,
});
export const ToolProposalList = pageOf("ToolProposalList", ToolProposal, "newest first");
