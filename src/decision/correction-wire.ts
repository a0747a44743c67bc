import { z } from "zod";
import { causeKinds } from "../core/diagnosis/causes.js";
import { ShopUnit } from "./wire.js";

export const LikelyCause = z
  .strictObject({
    cause: z
      .enum(causeKinds)
      .describe(
        "`tool_size`: the tool is not what is entered, or its register; `tool_wear`: it wanders from piece to piece; `deflection`: cutter or part bends; `register_mistaken`: a change came out otherwise than keyed; `work_zero`: work zero or fixture; `part_turned`: opposite at opposite ends; `warmth`: in proportion to length, or fading from a cold start; `gauge`: inside and outside off alike; `single_feature`: no other one is off",
      ),
    tool_id: z.string().nullable().describe("The tool that it is about"),
    register_id: z.string().nullable().describe("The register"),
    gauge_id: z.string().nullable().describe("The gauge"),
    feature_id: z.string().nullable().describe("The feature"),
    place: z.string().nullable().describe("The place on it"),
    seat: z.string().nullable().describe("The seat, where only what sat there is off"),
    weight: z
      .number()
      .describe("Share of belief among all causes looked at and none, each held equally likely before"),
    explains: z.boolean().describe("True: what it leaves over is no more than scatter"),
    why: z.string().describe("The evidence in numbers"),
    next_step: z.string().describe("The next thing to try"),
  })
  .meta({
    id: "LikelyCause",
    description: "A cause that fits what was measured",
    examples: [
      {
        cause: "warmth",
        tool_id: null,
        register_id: null,
        gauge_id: null,
        feature_id: null,
        place: null,
        seat: null,
        weight: 0.98,
        explains: true,
        why: "Sizes are off in proportion to their length, 100.0 µm in each metre: warmth, or a scale. It reaches 3 of 3 features measured and leaves χ² 0.4 of 61.2 with 2 degrees of freedom (99 % point 9.2): no more than scatter.",
        next_step:
          "Let part and gauge reach the same temperature and measure again, or send temperature_c with the reading; no offset.",
      },
    ],
  });

const Window = z.strictObject({
  low: z.number().nullable().describe("Smallest change; null: no limit on that side"),
  high: z.number().nullable().describe("Largest change; null: no limit on that side"),
});

export const Correction = z
  .strictObject({
    correction_id: z
      .string()
      .nullable()
      .describe("Identity; null where a register is only better left alone, which is not kept"),
    status: z.enum(["proposed", "applied", "declined", "superseded", "settled"]).describe("Where it stands"),
    kind: z
      .enum(["change", "leave_alone", "measure_again", "change_tool", "find_cause", "check_gauge"])
      .describe(
        "What is advised; only `change` has a change other than 0. `check_gauge`: a gauge reads otherwise beside the reference gauge than it did; a check of it on a standard closes it, and nothing waits for that",
      ),
    tool_id: z.string().nullable().describe("The tool"),
    register_id: z.string().nullable().describe("The register"),
    register_number: z.number().int().nullable().describe("Its number at the control"),
    register_label: z.string().nullable().describe("Its label at the control"),
    unit: ShopUnit.describe("Unit of the register values: the machine's"),
    value_now: z.number().nullable().describe("What the register is believed to hold"),
    change: z.number().describe("What to add to it"),
    value_after: z.number().nullable().describe("What it should then read"),
    batch_id: z.string().describe("The batch whose readings ask for it"),
    piece: z.number().int().describe("Latest piece that it rests on"),
    gauge_id: z
      .string()
      .nullable()
      .describe("measure_again: the gauge to measure with; null: the one that took the reading"),
    reading_ids: z.array(z.string()).describe("Latest readings that it rests on"),
    features: z
      .array(
        z.strictObject({
          feature_id: z.string().describe("Feature that the register moves"),
          place: z.string().nullable().describe("The place of it that this is about; null: it has none"),
          effect: z.number().describe("Change of its size per +1 in the register"),
          unit: ShopUnit.describe("Unit of its sizes"),
          expected_before: z.number().describe("Size expected of the next piece as things stand"),
          expected_after: z.number().describe("Size expected with the changes advised"),
          window: Window.nullable().describe(
            "Changes that keep it inside its limits, from its latest reading, referred to value_now, exact; null: not measured yet",
          ),
        }),
      )
      .describe("What the change does to each feature"),
    causes: z
      .array(LikelyCause)
      .nullable()
      .describe(
        "Of find_cause: what it most likely is, first what fits best; empty: nothing stands out; null: of any other kind",
      ),
    why: z.string().describe("The reason in plain words"),
    arithmetic: z.array(z.string()).describe("The way from the readings to the new value, line by line"),
    cautions: z.array(z.string()).describe("What to look at before cycle start"),
    line: z
      .string()
      .nullable()
      .describe("The line for the control, from the machine's template; null without one"),
    from_piece: z.number().int().nullable().describe("Applied: from this piece on"),
    from_cut: z.number().int().nullable().describe("Applied: from this cut of it on"),
    value_found: z.number().nullable().describe("Applied: what the control showed before"),
    value_set: z.number().nullable().describe("Applied: what was really set"),
    was_withdrawn: z
      .boolean()
      .describe("True: it had been superseded or declined, and was keyed all the same"),
    found: z.string().nullable().describe("What a person found"),
    reason: z.string().nullable().describe("Why it was declined or voided"),
    by: z.string().nullable().describe("Who applied, declined or answered it"),
  })
  .meta({
    id: "Correction",
    description: "What is advised about a register, with its arithmetic",
    examples: [
      {
        correction_id: "3-1",
        status: "proposed",
        kind: "change",
        tool_id: "2",
        register_id: "4",
        register_number: 7,
        register_label: "D7 wear",
        unit: "mm",
        value_now: 0,
        change: -0.02,
        value_after: -0.02,
        batch_id: "3",
        piece: 12,
        gauge_id: null,
        reading_ids: ["3-1"],
        features: [
          {
            feature_id: "12",
            place: null,
            effect: 2,
            unit: "mm",
            expected_before: 6.0397,
            expected_after: 5.9997,
            window: { low: -0.045, high: 0.005 },
          },
        ],
        causes: null,
        why: "12 Tongue width runs at 6.0397 mm, 79 % of the way from its target to the limit.",
        arithmetic: ["0.000 mm + (-0.020 mm) = -0.020 mm: D7 wear should then read this."],
        cautions: ["Check sign, register and decimal point at the control before cycle start."],
        line: "OFFSET 7 ADD -0.020",
        from_piece: null,
        from_cut: null,
        value_found: null,
        value_set: null,
        was_withdrawn: false,
        found: null,
        reason: null,
        by: null,
      },
    ],
  });
