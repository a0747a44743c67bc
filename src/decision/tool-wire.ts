import { z } from "zod";
import { Id, Length, Name, PositiveLength, strict } from "../http/types.js";

export const Controls = z.enum(["radial", "axial", "x", "z"]);
export const Holds = z.enum(["radius", "diameter"]);
export const Sign = z.enum(["normal", "reversed"]);
const ControlNumber = z.number().int().min(0).max(99_999_999);

export const controlsWords =
  "What it shifts: `radial` the cutter's radius or diameter, `axial` the tool's length, `x` and `z` the axes of a lathe";
export const holdsWords =
  "Whether the control keeps a radius or a diameter in it; only for `radial` and `x`, and needed there";
export const signWords =
  "`reversed` where a plus entry does the opposite of what is usual for such a register";

export const RegisterCreate = strict({
  number: ControlNumber.describe("The control's own number of it, whatever the tool number"),
  label: Name.describe(
    "What the control or the shop calls it; no other register of the machine may have this label",
  ),
  controls: Controls.describe(controlsWords),
  holds: Holds.nullish().describe(holdsWords),
  sign: Sign.default("normal").describe(signWords),
  value: Length.describe("What the control holds in it now"),
  largest_total: PositiveLength.nullish().describe("The most that all corrections of one edge may add up to"),
})
  .superRefine(({ controls, holds }, context) => {
    const isNeeded = controls === "radial" || controls === "x";
    if (isNeeded === (holds !== null && holds !== undefined)) return;
    context.addIssue({
      code: "custom",
      path: ["holds"],
      message: isNeeded
        ? `is missing: send "radius" or "diameter", whichever the control keeps in a register that controls ${controls}`
        : `belongs only to a register that controls radial or x: leave it out for ${controls}`,
    });
  })
  .meta({ id: "RegisterCreate", description: "A wear-offset register of the control" });

export const ToolCreate = strict({
  machine_id: Id.describe("The machine it sits in"),
  number: ControlNumber.describe("Its tool number; each only once on a machine"),
  name: Name.describe("What it is, in the shop's words"),
  kind: Name.describe("Sort of tool, such as end_mill, drill, reamer, tap, turning, boring"),
  nominal_diameter: PositiveLength.nullish().describe("Its diameter, in the machine's unit"),
  life_pieces: z
    .number()
    .int()
    .min(1)
    .max(10_000_000)
    .nullish()
    .describe("How many pieces an edge is meant to cut"),
  registers: z
    .array(RegisterCreate)
    .max(100)
    .default([])
    .describe("Its wear-offset registers; none for a sized tool whose size no register moves"),
}).meta({
  id: "ToolCreate",
  description: "A tool to be set up, with its registers; its first edge begins with it",
  examples: [
    {
      machine_id: "3",
      number: 7,
      name: "10 mm finishing end mill",
      kind: "end_mill",
      nominal_diameter: 10,
      life_pieces: 400,
      registers: [
        {
          number: 7,
          label: "D7 wear",
          controls: "radial",
          holds: "radius",
          sign: "normal",
          value: 0,
          largest_total: 0.15,
        },
        { number: 57, label: "H57 wear", controls: "axial", value: 0 },
      ],
    },
  ],
});
export type ToolCreate = z.infer<typeof ToolCreate>;
