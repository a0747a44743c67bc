import { z } from "zod";
import { Controls, controlsWords, Holds, holdsWords, Sign, signWords } from "../../decision/tool-wire.js";
import { pageOf, pageQuery } from "../../http/pagination.js";
import { Id, strict, Unit } from "../../http/types.js";

const Register = z
  .strictObject({
    register_id: z.string().describe("Identity of the register"),
    number: z.number().int().describe("The control's own number of it"),
    label: z.string().describe("What the control or the shop calls it"),
    controls: Controls.describe(controlsWords),
    holds: Holds.nullable().describe(holdsWords),
    sign: Sign.describe(signWords),
    start_value: z
      .number()
      .describe("What it held when it was set up here; GET /v1/tools/{tool_id}/wear says what it holds now"),
    largest_total: z.number().nullable().describe("The most that all corrections of one edge may add up to"),
  })
  .meta({ id: "Register", description: "A wear-offset register of the control" });

export const Tool = z
  .strictObject({
    tool_id: z.string().describe("Identity of the tool"),
    machine_id: z.string().describe("The machine it sits in"),
    number: z.number().int().describe("Its tool number"),
    name: z.string().describe("What it is, in the shop's words"),
    kind: z.string().describe("Sort of tool"),
    unit: Unit.describe("The machine's unit, in which all sizes here are"),
    nominal_diameter: z.number().nullable().describe("Its diameter"),
    life_pieces: z.number().int().nullable().describe("How many pieces an edge is meant to cut"),
    registers: z.array(Register).describe("Its wear-offset registers"),
    created_at: z.iso.datetime().describe("When it was set up"),
  })
  .meta({
    id: "Tool",
    description: "A tool with its registers",
    examples: [
      {
        tool_id: "12",
        machine_id: "3",
        number: 7,
        name: "10 mm finishing end mill",
        kind: "end_mill",
        unit: "mm",
        nominal_diameter: 10,
        life_pieces: 400,
        registers: [
          {
            register_id: "21",
            number: 7,
            label: "D7 wear",
            controls: "radial",
            holds: "radius",
            sign: "normal",
            start_value: 0,
            largest_total: 0.15,
          },
        ],
        created_at: "2026-03-02T06:15:00.000Z",
      },
    ],
  });
export type Tool = z.infer<typeof Tool>;

export const ToolPath = strict({ tool_id: Id.describe("Identity of the tool") });
export const ToolQuery = strict({
  machine_id: Id.optional().describe("Only the tools of this machine"),
  ...pageQuery,
});
export const ToolList = pageOf("ToolList", Tool);
