import { z } from "zod";
import { causeKinds } from "../core/diagnosis/causes.js";
import { Voided } from "../http/journal.js";

/** Shapes that several resources answer with. */

/** The example of a schema, for the example of a larger one. */
export function exampleOf(schema: z.ZodType): unknown {
  const { examples } = schema.meta() as { examples: unknown[] };
  return examples[0];
}

const ShopUnit = z.enum(["mm", "inch"]);
const FeatureUnit = z.enum(["mm", "inch", "deg", "µm", "µin"]);

export const NextStep = z
  .strictObject({
    action: z
      .enum(["run_on", "measure", "set_offset", "stop"])
      .describe("The one thing to do; all else is detail"),
    piece: z.number().int().describe("The piece it is about"),
    cut: z
      .number()
      .int()
      .optional()
      .describe("Where that piece is to be cut again: measure it as this cut, such as 2"),
    why: z.string().describe("What to do and why, in plain words"),
  })
  .meta({
    id: "NextStep",
    description: "The one thing to do next",
    examples: [
      {
        action: "set_offset",
        piece: 13,
        why: "Change D7 wear of tool 7 by -0.020 mm: it should then read -0.020 mm.",
      },
    ],
  });

export const CheckPlan = z
  .strictObject({
    batch_id: z.string().describe("The batch"),
    piece: z.number().int().describe("The piece to be measured"),
    seat: z
      .string()
      .nullable()
      .describe("Seat in the fixture that follows from the piece's number; null: the batch names no seats"),
    state: z
      .enum(["every_piece", "relaxed", "cause_open"])
      .describe("`relaxed`: every block of features has earned an interval above one piece"),
    features: z
      .array(
        z.strictObject({
          feature_id: z.string().describe("Feature to measure"),
          characteristic: z.string().describe("Its balloon number"),
          places: z
            .array(z.string())
            .nullable()
            .describe("Where it has still to be measured on this piece; null: one reading speaks for it"),
          gauge_id: z.string().nullable().describe("Gauge to measure it with; null: none is named"),
          sure_piece: z
            .boolean()
            .describe("True: take this very piece at the machine, not one out of the chute"),
          rule: z.string().describe("Rule that asks for it"),
          why: z.string().describe("The same in words"),
        }),
      )
      .describe("What to measure on this piece, in the part's order"),
    left_out: z
      .array(
        z.strictObject({
          feature_id: z.string().describe("Feature"),
          why: z.string().describe("Why not on this piece"),
        }),
      )
      .describe("What need not be measured on it"),
    next_pieces: z
      .array(z.number().int())
      .describe("Pieces after it on which something is due if all goes well"),
    wait_for_result: z.boolean().describe("True: cut nothing more until this piece's readings are in"),
  })
  .meta({
    id: "CheckPlan",
    description: "What to measure on one piece, and why",
    examples: [
      {
        batch_id: "3",
        piece: 13,
        seat: null,
        state: "every_piece",
        features: [
          {
            feature_id: "12",
            characteristic: "12",
            places: null,
            gauge_id: "5",
            sure_piece: true,
            rule: "after_change",
            why: "first piece after a change of its register: was it keyed, with the right sign, into the right register?",
          },
        ],
        left_out: [],
        next_pieces: [14, 15, 16],
        wait_for_result: true,
      },
    ],
  });

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

export const PointsFit = z
  .strictObject({
    points: z.number().int().describe("How many there are"),
    redundancy: z.number().int().describe("How many more than determine the element: 0 shows no error"),
    ball_diameter: z
      .number()
      .nullable()
      .describe("Diameter of the ball whose centres they are; null: points of the surface"),
    diameter: z
      .number()
      .nullable()
      .describe(
        "Of the surface, by the least-squares circle; null: no circle was asked for, or nobody said on which side the ball was",
      ),
    centre: z
      .array(z.number())
      .nullable()
      .describe("Centre of that circle, in the coordinates of the points; null: likewise"),
    arc_deg: z.number().nullable().describe("How far round they reach, in degrees; null: likewise"),
    form_least_squares: z
      .number()
      .describe("Largest less smallest deviation from the least-squares circle, line, plane or cylinder"),
    form_minimum_zone: z
      .number()
      .nullable()
      .describe(
        "Width of the narrowest zone that holds them all; null: not given for a cylinder, nor for an arc of less than 180°",
      ),
    uncertainty_factor: z
      .number()
      .describe(
        "How many times less well the size is known than one point; at least 1, large on a short arc",
      ),
  })
  .meta({
    id: "PointsFit",
    description: "What the points of a reading came to, in its size_unit",
    examples: [
      {
        points: 4,
        redundancy: 1,
        ball_diameter: 6,
        diameter: 30.003,
        centre: [40.001, 24.998],
        arc_deg: 270,
        form_least_squares: 0.0045,
        form_minimum_zone: 0.0045,
        uncertainty_factor: 1,
      },
    ],
  });

export const Reading = z
  .strictObject({
    reading_id: z.string().describe("Identity of the reading"),
    feature_id: z.string().describe("Feature measured"),
    characteristic: z.string().describe("Its balloon number"),
    batch_id: z.string().describe("Batch of the piece"),
    piece: z.number().int().describe("Piece, numbered in cutting order"),
    cut: z.number().int().describe("1; 2 and more where the piece was cut again"),
    place: z
      .string()
      .nullable()
      .describe("Where on the feature it was measured; null: the feature has no places"),
    spring_pass: z
      .boolean()
      .describe("True: that further cut was made at the same register values, and counts as the tool's size"),
    repeat: z
      .number()
      .int()
      .describe("1 for the first reading of this feature on this piece and cut, 2 for the second"),
    value: z
      .number()
      .nullable()
      .describe(
        "What the gauge showed, in `unit`; an angle as a decimal, of a position that came as offsets the diameter of the zone that just holds it; null: it passed or failed, or there is nothing",
      ),
    unit: z
      .enum(["mm", "µm", "nm", "inch", "µin", "deg", "arcmin", "arcsec", "rad"])
      .nullable()
      .describe("Unit of `value` and of the offsets; null: there is none"),
    rocked: z
      .array(z.number())
      .nullable()
      .describe("All that the gauge showed while it was rocked, `value` among it; null: it was not"),
    dx: z
      .number()
      .nullable()
      .describe("Of a position: offset along x, as it was sent; null: it came without"),
    dy: z.number().nullable().describe("Likewise along y"),
    dz: z.number().nullable().describe("Likewise along z"),
    result: z
      .enum(["pass", "fail", "go_refuses", "no_go_enters"])
      .nullable()
      .describe("What a limit gauge or the eye said; null: a number was read"),
    turns: z.number().nullable().describe("How far the NO-GO side of a thread gauge went in; null: not said"),
    state: z
      .enum(["not_measured", "error", "over_range"])
      .nullable()
      .describe("Why there is nothing; null: there is. The piece is to be measured again"),
    size: z
      .number()
      .nullable()
      .describe(
        "The size kept, in `size_unit`, which decides: less `gauge_deviation`; at 20 °C where the reading said how warm it was; for a gauge that shows a deviation master and deviation together; a position rounded up to a whole picometre, an angle in radians to a nano-arcsecond. Null: none was read",
      ),
    size_unit: FeatureUnit.nullable().describe(
      "The feature's unit: of this and all sizes that follow; null: they have none",
    ),
    size_as_read: z
      .number()
      .nullable()
      .describe(
        "The size as the gauge showed it, before its error and its deviation from the reference gauge were taken off and it was brought to 20 °C; the same as `size` where none was done",
      ),
    gauge_error: z
      .number()
      .nullable()
      .describe(
        "Error of the gauge by its check on a standard that was taken off `size_as_read`; null: none was",
      ),
    gauge_doubt: z
      .number()
      .nullable()
      .describe(
        "How far a check before or after the reading shows its gauge off (flag `gauge_in_doubt`); null: none does",
      ),
    gauge_deviation: z
      .number()
      .nullable()
      .describe(
        "How much larger than the feature's reference gauge this one was known to read when the reading was judged, learned from pieces that both have read: taken off what was read to give `size`. Null: it is the reference, or none is named",
      ),
    gauge_deviation_uncertainty: z.number().nullable().describe("Standard uncertainty of `gauge_deviation`"),
    temperature_c: z.number().nullable().describe("How warm the part was, °C; null: not said"),
    gauge_temperature_c: z.number().nullable().describe("How warm the gauge was, °C"),
    temperature_correction: z
      .number()
      .nullable()
      .describe("What was added to `size_as_read`: below 0 for a warm part; null: no temperature was given"),
    temperature_correction_uncertainty: z
      .number()
      .nullable()
      .describe(
        "Standard uncertainty of that correction, from both temperatures (each known within 1 °C, side by side within 0.5 °C of each other) and both coefficients",
      ),
    expansion_coefficient: z
      .number()
      .nullable()
      .describe("Coefficient of the part that was used, µm per metre and kelvin"),
    gauge_expansion_coefficient: z
      .number()
      .nullable()
      .describe("That of the gauge; null also where it was at 20 °C and nothing is known of it"),
    feature_size: z
      .number()
      .nullable()
      .describe(
        "Of a position at maximum or least material: size of its feature that counted; null: not known",
      ),
    bonus: z
      .number()
      .nullable()
      .describe(
        "What that size adds to the position tolerance, in `upper_limit` already; null: nothing known",
      ),
    verdict: z.enum(["conforming", "nonconforming", "uncertain"]).describe("By the decision rule"),
    disposition: z
      .enum(["accept", "rework", "scrap", "remeasure"])
      .describe(
        "`rework`: metal is left to remove; `scrap`: too much is gone, or nobody said how it could be reworked",
      ),
    why: z
      .string()
      .nullable()
      .describe(
        "Why the verdict is `uncertain`, and what to do; or what else than the number it follows from; null: nothing to add",
      ),
    arithmetic: z
      .array(z.string())
      .describe(
        "How a size comes about from points, or a position and what is allowed for it, line by line; else empty",
      ),
    fit: PointsFit.nullable().describe("What the points came to; null: it came as a value"),
    advice: z
      .string()
      .nullable()
      .describe("A step of a register that may be tried, where a limit gauge refused; null: none was given"),
    deviation: z.number().nullable().describe("Size less nominal (ISO 286); null: its kind has none"),
    from_target: z.number().nullable().describe("Size less target; null: no size was read"),
    tolerance_used: z
      .number()
      .nullable()
      .describe(
        "Share of the way from target to the limit on that side; 1 is on the limit; null: no limit there",
      ),
    lower_limit: z.number().nullable().describe("Lower limit of size; null: none"),
    upper_limit: z.number().nullable().describe("Upper limit of size; null: none"),
    target: z.number().nullable().describe("The aim on that day; null: it passes or fails"),
    operation_limits: z
      .strictObject({
        operation: z.string().describe("Operation of the batch, which has limits of its own"),
        reason: z.string().nullable().describe("Why they are others than the drawing's"),
        final_lower_limit: z.number().nullable().describe("Lower limit of the drawing; null: none"),
        final_upper_limit: z.number().nullable().describe("Upper limit of the drawing; null: none"),
        size_after_plating: z
          .number()
          .nullable()
          .describe(
            "What the size comes to with the layer in the middle of its tolerance; null: nothing is plated",
          ),
      })
      .nullable()
      .describe(
        "Set where the limits above are those of an operation before the last; null: they are the drawing's",
      ),
    decision_rule: z
      .enum(["simple", "guarded_acceptance", "guarded_rejection", "iso_14253"])
      .nullable()
      .describe("The rule used; null: it passes or fails, which takes none"),
    expanded_uncertainty: z
      .number()
      .nullable()
      .describe(
        "Expanded uncertainty used, with what the temperatures and `gauge_deviation` add; null: not known",
      ),
    guard_band: z
      .number()
      .nullable()
      .describe(
        "Guard band used: factor times expanded uncertainty, 0 under `simple`; null: the uncertainty is not known",
      ),
    lower_acceptance_limit: z
      .number()
      .nullable()
      .describe("A size on it and inside is `conforming`; null: no limit there, or no guard band known"),
    upper_acceptance_limit: z
      .number()
      .nullable()
      .describe("Likewise above; below the lower one where the guard band leaves nothing of the tolerance"),
    lower_rejection_limit: z
      .number()
      .nullable()
      .describe("A size below it is `nonconforming`; null: no limit there, or no guard band known"),
    upper_rejection_limit: z.number().nullable().describe("Likewise above"),
    probability_conforming: z
      .number()
      .nullable()
      .describe(
        "Probability that the true size is inside the limits, by the reading and the `prior`; null: of what is counted or passes or fails nobody knows it",
      ),
    prior: z
      .enum(["flat", "process"])
      .describe(
        "What was held of the size before the reading: `flat`, nothing; `process`, what the pieces before it let expect",
      ),
    risk: z
      .strictObject({
        borne_by: z
          .enum(["consumer", "producer"])
          .describe("`consumer`: accepted although out of limits; `producer`: rejected although inside them"),
        probability: z.number().describe("Probability that it is so"),
      })
      .nullable()
      .describe(
        "Risk that this verdict is wrong for this piece (JCGM 106); null: `uncertain` decides nothing, or no probability is known",
      ),
    flags: z
      .array(z.string())
      .describe(
        "`implausible` (not used until a second reading agrees), `readings_disagree`, `gauge_overdue`, `gauge_too_coarse`, `gauge_in_doubt` (a check on a standard shows the gauge off), `gauge_not_compared` (what the gauge reads beside the reference gauge is not known within a quarter of the room: only what is beyond doubt is decided), `too_alike` (the last of more equal readings than scatter allows), `warm_part` (the correction to 20 °C is above a tenth of the tolerance or the gauge's expanded uncertainty, or too unsure), `late`, `clock_ahead` (measured_at lies ahead of the service's clock: one of the two is wrong; the order of pieces does not depend on it), `piece_unsure`, `earlier_reading_failed`, `no_value` (the gauge gave nothing), `size_not_known` and `size_out` (of the feature that earns a bonus), `duplicate`",
      ),
    slip: z.string().nullable().describe("Slip of hand or eye that would explain an implausible reading"),
    gauge_advice: z
      .string()
      .nullable()
      .describe("Which gauge to take instead, where this one is too coarse; null: it is not"),
    hold: z
      .strictObject({
        from_piece: z.number().int().describe("First piece in doubt"),
        to_piece: z.number().int().describe("Last piece in doubt"),
        provisional: z
          .boolean()
          .describe("True: it may be a misreading, and is settled by measuring the piece again"),
        released_by: z
          .string()
          .nullable()
          .describe("What ends a provisional hold; GET /v1/batches/{batch_id}/holds says it of the others"),
      })
      .nullable()
      .describe(
        "Pieces in doubt since the last good reading by a gauge that may prove it; where a gauge beside the reference raises the doubt, since the last check that it found good; null: none",
      ),
    gauge_id: z.string().nullable().describe("Gauge that took it; null: none was needed"),
    measured_at: z.iso.datetime().nullable().describe("When it was taken; null: not said"),
    taken_by: z.string().nullable().describe("Who took it"),
    serial: z.string().nullable().describe("Serial number of the piece"),
    source_id: z.string().nullable().describe("The sender's own identity of it"),
    piece_within: z.number().int().nullable().describe("The piece is one of the last so many up to `piece`"),
    seat: z
      .string()
      .nullable()
      .describe(
        "Where in the fixture the piece sat; null: the batch names no seats, or the piece is not sure",
      ),
    seat_given: z
      .boolean()
      .describe("True: a reading of this piece said so; false: it follows from the piece's number"),
    voided: Voided,
  })
  .meta({
    id: "Reading",
    description: "One reading with its verdict",
    examples: [
      {
        reading_id: "3-1",
        feature_id: "12",
        characteristic: "12",
        batch_id: "3",
        piece: 12,
        cut: 1,
        place: null,
        spring_pass: false,
        repeat: 1,
        value: 6.04,
        unit: "mm",
        rocked: null,
        dx: null,
        dy: null,
        dz: null,
        result: null,
        turns: null,
        state: null,
        size: 6.04,
        size_unit: "mm",
        size_as_read: 6.04,
        gauge_error: null,
        gauge_doubt: null,
        gauge_deviation: null,
        gauge_deviation_uncertainty: null,
        temperature_c: null,
        gauge_temperature_c: null,
        temperature_correction: null,
        temperature_correction_uncertainty: null,
        expansion_coefficient: null,
        gauge_expansion_coefficient: null,
        feature_size: null,
        bonus: null,
        verdict: "conforming",
        disposition: "accept",
        why: null,
        arithmetic: [],
        fit: null,
        advice: null,
        deviation: 0.04,
        from_target: 0.04,
        tolerance_used: 0.8,
        lower_limit: 5.95,
        upper_limit: 6.05,
        target: 6,
        operation_limits: null,
        decision_rule: "simple",
        expanded_uncertainty: 0.003,
        guard_band: 0,
        lower_acceptance_limit: 5.95,
        upper_acceptance_limit: 6.05,
        lower_rejection_limit: 5.95,
        upper_rejection_limit: 6.05,
        probability_conforming: 1,
        prior: "flat",
        risk: { borne_by: "consumer", probability: 0 },
        flags: [],
        slip: null,
        gauge_advice: null,
        hold: null,
        gauge_id: "5",
        measured_at: "2026-03-02T07:41:00.000Z",
        taken_by: "shift A",
        serial: null,
        source_id: null,
        piece_within: null,
        seat: null,
        seat_given: false,
        voided: null,
      },
    ],
  });
