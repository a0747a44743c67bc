import { z } from "zod";
import { pageOf, pageQuery } from "../../http/pagination.js";
import { Id, Length, Name, PositiveLength, strict, Unit } from "../../http/types.js";

const words = {
  number: "The control's own number of it, such as 54",
  label: "What the control or the shop calls it; no other register of the machine may have this label",
  controls:
    "The axis along which it shifts the work: `work_x`, `work_y` or `work_z`. Which way that moves a size only the feature's `cut_by` can say",
  seat: "The seat of the fixture whose pieces it moves, by the name that batches give it",
  largest_total: "The most that all corrections may add up to",
};

export const WorkOffsetCreate = strict({
  number: z.number().int().min(0).max(99_999_999).describe(words.number),
  label: Name.describe(words.label),
  controls: z.enum(["work_x", "work_y", "work_z"]).describe(words.controls),
  seat: Name.nullish().describe(`${words.seat}; absent: every piece`),
  value: Length.default(0).describe("What the control holds in it now; 0 if absent"),
  largest_total: PositiveLength.nullish().describe(words.largest_total),
}).meta({
  id: "WorkOffsetCreate",
  description:
    "A work offset, one axis of it, to be set up as a register of the machine: it wears not and has no edge, and its value is known",
  examples: [{ number: 54, label: "G54 X", controls: "work_x", seat: "B", value: 0 }],
});
export type WorkOffsetCreate = z.infer<typeof WorkOffsetCreate>;

export const MachineRegister = z
  .strictObject({
    register_id: z.string().describe("Identity of the register"),
    machine_id: z.string().describe("The machine"),
    tool_id: z.string().nullable().describe("The tool whose offset it is; null: it is a work offset"),
    number: z.number().int().describe("The control's own number of it"),
    label: z.string().describe("What the control or the shop calls it"),
    controls: z
      .enum(["radial", "axial", "x", "z", "work_x", "work_y", "work_z"])
      .describe("What it shifts: a tool's radius, length or axis, or the work along an axis"),
    holds: z.enum(["radius", "diameter"]).nullable().describe("What a `radial` or `x` register keeps"),
    sign: z
      .enum(["normal", "reversed"])
      .describe("`reversed` where a plus entry does the opposite of what is usual"),
    seat: z.string().nullable().describe(`${words.seat}; null: every piece`),
    unit: Unit.describe("The machine's unit, in which its values are"),
    start_value: z.number().describe("What it held when it was set up here"),
    value_now: z.number().describe("What it holds now, by the entries made since"),
    largest_total: z.number().nullable().describe(words.largest_total),
  })
  .meta({
    id: "MachineRegister",
    description: "A register of a machine's control: a tool's wear offset or a work offset",
    examples: [
      {
        register_id: "40",
        machine_id: "3",
        tool_id: null,
        number: 54,
        label: "G54 X",
        controls: "work_x",
        holds: null,
        sign: "normal",
        seat: "B",
        unit: "mm",
        start_value: 0,
        value_now: -0.017,
        largest_total: null,
      },
    ],
  });
export type MachineRegister = z.infer<typeof MachineRegister>;

export const MachineRegisterPath = strict({ machine_id: Id.describe("Identity of the machine") });
export const MachineRegisterQuery = strict(pageQuery);
export const MachineRegisterList = pageOf("MachineRegisterList", MachineRegister);
