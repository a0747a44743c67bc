import { z } from "zod";
import { pageOf, pageQuery } from "../../http/pagination.js";
import { Id, Name, PositiveLength, strict, Text, Unit } from "../../http/types.js";

const Kind = z.enum(["mill", "lathe"]);
const placeholders = ["register", "change", "tool", "value_after"];

const LineTemplate = Text.refine(
  (text) => [...text.matchAll(/\{([^{}]*)\}/g)].every(([, name = ""]) => placeholders.includes(name)),
  `may hold no other placeholders than ${placeholders.map((name) => `{${name}}`).join(", ")}`,
);

export const MachineCreate = strict({
  name: Name.describe("What the shop calls it; no other machine may have this name"),
  kind: Kind.describe("What it does: a lathe turns the part, a mill turns the tool"),
  unit: Unit.describe(
    "Unit in which its control keeps offsets; every size of the machine and its tools is in it",
  ),
  least_increment: PositiveLength.describe("The smallest step that its control takes"),
  largest_change: PositiveLength.describe("The most that one correction may change a register by"),
  largest_change_towards_work: PositiveLength.nullish().describe(
    "The most that one correction may move a tool towards the work; null or absent: `largest_change`",
  ),
  line_template: LineTemplate.nullish().describe(
    "The text this control takes for a correction, with {register}, {tool}, {change} and {value_after} in it",
  ),
}).meta({
  id: "MachineCreate",
  description: "A machine tool to be set up",
  examples: [
    {
      name: "mill-2",
      kind: "mill",
      unit: "mm",
      least_increment: 0.001,
      largest_change: 0.2,
      largest_change_towards_work: 0.1,
      line_template: "OFFSET {register} ADD {change}",
    },
  ],
});
export type MachineCreate = z.infer<typeof MachineCreate>;

export const Machine = z
  .strictObject({
    machine_id: z.string().describe("Identity of the machine"),
    name: z.string().describe("What the shop calls it"),
    kind: Kind.describe("What it does: a lathe turns the part, a mill turns the tool"),
    unit: Unit.describe("Unit of every size of the machine and its tools"),
    least_increment: z.number().describe("The smallest step that its control takes"),
    largest_change: z.number().describe("The most that one correction may change a register by"),
    largest_change_towards_work: z
      .number()
      .nullable()
      .describe("The most that one correction may move a tool towards the work; null: `largest_change`"),
    line_template: z.string().nullable().describe("The text this control takes for a correction"),
    created_at: z.iso.datetime().describe("When it was set up"),
  })
  .meta({
    id: "Machine",
    description: "A machine tool",
    examples: [
      {
        machine_id: "3",
        name: "mill-2",
        kind: "mill",
        unit: "mm",
        least_increment: 0.001,
        largest_change: 0.2,
        largest_change_towards_work: 0.1,
        line_template: "OFFSET {register} ADD {change}",
        created_at: "2026-03-02T06:12:00.000Z",
      },
    ],
  });
export type Machine = z.infer<typeof Machine>;

export const MachinePath = strict({ machine_id: Id.describe("Identity of the machine") });
export const MachineQuery = strict(pageQuery);
export const MachineList = pageOf("MachineList", Machine);
