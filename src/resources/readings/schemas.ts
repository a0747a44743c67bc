import { z } from "zod";
import { Correction } from "../../decision/correction-wire.js";
import { PointsFit, Reading } from "../../decision/reading-wire.js";
import { CheckPlan, exampleOf, NextStep } from "../../decision/wire.js";
import { Cut, Piece } from "../../http/journal.js";
import { pageOf, pageQuery } from "../../http/pagination.js";
import { formatQuery } from "../../http/table.js";
import {
  decimalBetween,
  Id,
  Instant,
  Length,
  Name,
  PositiveLength,
  ReadingId,
  ReadingValue,
  strict,
} from "../../http/types.js";

const mostReadings = 5_000;

const unitMissing =
  'must be "mm", "inch", "um", "nm" or "uin", of an angle "deg", "arcmin", "arcsec" or "rad", beside every value';
const ReadingUnit = z.enum(
  [
    ...["mm", "inch", "in", "um", "\u00b5m", "\u03bcm", "nm", "uin", "\u00b5in", "\u03bcin"],
    ...["deg", "arcmin", "arcsec", "rad"],
  ] as const,
  unitMissing,
);

/** Of a part or gauge that somebody handles. */
const Temperature = decimalBetween(-40, 200, "°C", 21.5);

const CutWith = strict({
  register_id: Id.optional().describe("The register"),
  register_number: z.number().int().optional().describe("Or its number at the control"),
  value: Length.describe("What it held when this piece was cut, in the machine's unit"),
}).refine(
  ({ register_id, register_number }) => (register_id === undefined) !== (register_number === undefined),
  'names its register either by "register_id" or by "register_number"',
);

const mostPoints = 500;
const mostPointsAtOnce = 20_000;
const Point = z
  .array(Length)
  .min(2, "needs x and y, of a face or a cylinder z too")
  .max(3, "has more than x, y and z");
const Points = z
  .array(Point)
  .min(1, "are missing")
  .max(mostPoints, `are more than ${mostPoints}: thin them out`)
  .superRefine((points, context) => {
    const odd = points.findIndex((point) => point.length !== points[0]?.length);
    if (odd < 0) return;
    const message = `has ${points[odd]!.length} coordinates, and the first point ${points[0]!.length}: send as many of each`;
    context.addIssue({ code: "custom", path: [odd], message });
  });

const contents = ["value", "rocked", "points", "dx", "result", "count", "state"] as const;
const companions = ["unit", "ball_diameter", "true_position", "dy", "dz", "size", "turns"] as const;
/** What may stand beside each; a value and offsets have to have a unit. */
const goesWith: Record<(typeof contents)[number], readonly (typeof companions)[number][]> = {
  value: ["unit", "size"],
  rocked: ["unit"],
  points: ["unit", "ball_diameter", "true_position"],
  dx: ["unit", "dy", "dz", "size"],
  result: ["turns"],
  count: [],
  state: [],
};

/** A reading says one thing: a value, points, the offsets of a position, a result, a count or a state. */
function checkContent(
  reading: Partial<Record<(typeof contents)[number] | (typeof companions)[number], unknown>>,
  refuse: (field: string, message: string) => void,
): void {
  const isGiven = (name: keyof typeof reading) => reading[name] !== undefined;
  const [first, second] = contents.filter(isGiven);
  if (first === undefined) {
    if (isGiven("dy") || isGiven("dz")) refuse("dx", 'is missing: a position comes as "dx" and "dy"');
    else refuse("value", `is missing: ${whatToSend}`);
    return;
  }
  if (second) refuse(second, `says what "${first}" says already: send one of them`);
  if (first === "dx" && !isGiven("dy")) {
    refuse("dy", "is missing: a position has two offsets, one of which may be 0");
  }
  if (goesWith[first].includes("unit") && !isGiven("unit")) refuse("unit", unitMissing);
  for (const name of companions) {
    if (isGiven(name) && !goesWith[first].includes(name)) {
      refuse(name, `does not go with "${first}": leave it out`);
    }
  }
}

const whatToSend =
  'send what the gauge showed, or the "points" it touched; of a position "dx" and "dy", of what passes or fails "result", of what is counted "count", and "state" where there is nothing';

export const ReadingCreate = strict({
  feature_id: Id.optional().describe("Feature measured"),
  part_number: Name.optional().describe("Or by names: part number"),
  revision: Name.optional().describe("Its revision"),
  characteristic: Name.optional().describe("Balloon number of the feature on the drawing"),
  batch_id: Id.optional().describe("Batch of the piece"),
  batch: Name.optional().describe("Or its name"),
  piece: Piece.describe("Piece, numbered in cutting order from 1"),
  cut: Cut.optional().describe("2 and more: the same piece cut again. Absent: 1"),
  place: Name.optional().describe(
    "Where on the feature it was measured: needed where the feature has places, one of them",
  ),
  spring_pass: z
    .boolean()
    .optional()
    .describe(
      "True with cut 2 or more: the pass was repeated at the same register values. What it measures is then the size that the tool makes, and corrections go by it. Only where the programme keeps that pass",
    ),
  value: ReadingValue.optional().describe(
    'What the gauge showed: a decimal, or an angle as degrees, minutes and seconds, such as "44°59\'30"" or "44 59 30"',
  ),
  rocked: z
    .array(ReadingValue)
    .min(2)
    .max(50)
    .optional()
    .describe(
      "Instead of `value`: all that the gauge showed while it was rocked or turned. In an internal feature the smallest size counts, where it stands square to the axis, over an external one the largest",
    ),
  unit: ReadingUnit.optional().describe(
    "Unit of `value`, of `points` and `ball_diameter`, or of `dx`, `dy`, `dz` and `size`, which need it: mm, um, nm, inch or uin, of an angle deg, arcmin, arcsec or rad",
  ),
  points: Points.optional().describe(
    "Instead of `value`: points that a probe or a coordinate machine touched, of a round internal or external feature (its diameter by the least-squares circle), of its position (the centre of that circle) or of a form (flatness, straightness, roundness by the minimum zone, cylindricity by least squares). The gauge's uncertainty is taken to be that of one point",
  ),
  ball_diameter: PositiveLength.optional().describe(
    "Where the points are centres of the probe's ball: its diameter, which is added inside and taken off outside. Absent: points of the surface",
  ),
  true_position: Point.optional().describe(
    "With points of a position: where its centre should be, in the coordinates of the points and with as many of them; absent: the feature's `at`, where the points count from the part's zero too. `dx`, `dy` and at maximum or least material the size follow from the fitted circle",
  ),
  dx: ReadingValue.optional().describe(
    "Of a position, instead of `value`: how far it lies from the true position along x; with `dy`, and `dz` where the zone is a sphere",
  ),
  dy: ReadingValue.optional().describe("Likewise along y"),
  dz: ReadingValue.optional().describe("Likewise along z"),
  size: ReadingValue.optional().describe(
    "Of a position at maximum or least material: size of the feature on this piece, from which the bonus follows. Absent: the latest reading of that feature on the same piece and cut",
  ),
  result: z
    .enum(["pass", "fail", "go_refuses", "no_go_enters"])
    .optional()
    .describe(
      "Instead of `value`, of what passes or fails: for go_no_go pass, go_refuses or no_go_enters; for visual pass or fail",
    ),
  turns: decimalBetween(0, 100, "turns", 2.5)
    .optional()
    .describe(
      "How far the NO-GO side of a thread gauge went in until it stopped or dragged definitely: whether that is allowed follows from the standard of the thread",
    ),
  count: z
    .number()
    .int("must be a whole number: things are counted")
    .min(0)
    .max(1_000_000)
    .optional()
    .describe("Instead of `value`, of what is counted: how many there are"),
  state: z
    .enum(["not_measured", "error", "over_range"])
    .optional()
    .describe(
      "Instead of all of these, where the gauge gave nothing: kept as told, without a verdict, and the piece is to be measured again",
    ),
  gauge_id: Id.optional().describe("Gauge that took it; absent: the one that the feature names"),
  gauge: Name.optional().describe("Or its name"),
  measured_at: Instant.optional().describe("When it was taken"),
  taken_by: Name.optional().describe("Who took it"),
  serial: Name.optional().describe("Serial number of the piece"),
  source_id: Name.optional().describe(
    "The sender's own identity of this reading: sent again it is a duplicate",
  ),
  piece_within: z
    .number()
    .int()
    .min(1)
    .max(1000)
    .optional()
    .describe(
      "The piece is one of the last so many up to `piece`; where a change lies in between it gets a verdict only",
    ),
  seat: Name.optional().describe(
    "Where in the fixture the piece sat, one of the batch's seats. Absent: as the other readings of this cut or of the first one have it, else piece k sits in seat (k − 1) mod n of the batch's n seats",
  ),
  temperature_c: Temperature.optional().describe(
    "How warm the part was, °C: the size is then brought to 20 °C. It comes with gauge_temperature_c and needs the part's coefficient of expansion. Absent: the size counts as read",
  ),
  gauge_temperature_c: Temperature.optional().describe(
    "How warm the gauge was, or the master when it was set on one: the same as temperature_c where it lay beside the part, 20 where it was kept at 20 °C. Other than 20 it needs the gauge's coefficient of expansion",
  ),
  cut_with: z
    .array(CutWith)
    .max(20)
    .optional()
    .describe("Offsets in force as a log prints them: they beat the history and are entered in it"),
})
  .superRefine((reading, context) => {
    const refuse = (field: string, message: string) =>
      context.addIssue({ code: "custom", path: [field], message });
    if (reading.feature_id !== undefined && reading.characteristic !== undefined) {
      refuse("characteristic", 'names the feature a second time: send it or "feature_id"');
    }
    if (reading.batch_id !== undefined && reading.batch !== undefined) {
      refuse("batch", 'names the batch a second time: send it or "batch_id"');
    }
    if (reading.gauge_id !== undefined && reading.gauge !== undefined) {
      refuse("gauge", 'names the gauge a second time: send it or "gauge_id"');
    }
    checkContent(reading, refuse);
  })
  .meta({
    id: "ReadingCreate",
    description: "One measured value of one feature of one piece, by ids or by names",
    examples: [
      {
        part_number: "HB-2041",
        revision: "B",
        characteristic: "12",
        batch: "B-118",
        piece: 12,
        value: "6.04",
        unit: "mm",
        gauge: "micrometer 0-25 no. 3",
      },
    ],
  });

const ManyReadings = z
  .array(ReadingCreate)
  .min(1)
  .max(mostReadings)
  .superRefine((readings, context) => {
    let sum = 0;
    for (const [i, { points }] of readings.entries()) {
      sum += points?.length ?? 0;
      if (sum <= mostPointsAtOnce) continue;
      const message = `make more than ${mostPointsAtOnce} points in one request: send these readings in several`;
      context.addIssue({ code: "custom", path: [i, "points"], message });
      return;
    }
  });

export const ReadingsCreate = z.union([ReadingCreate, ManyReadings]).meta({
  id: "ReadingsCreate",
  description: `One reading, or up to ${mostReadings} taken whole or not at all`,
  examples: [exampleOf(ReadingCreate), [exampleOf(ReadingCreate)]],
});

const Places = z
  .strictObject({
    feature_id: z.string().describe("Feature"),
    characteristic: z.string().describe("Its balloon number"),
    batch_id: z.string().describe("Batch of the piece"),
    piece: z.number().int().describe("Piece"),
    cut: z
      .number()
      .int()
      .describe("The last cut of it that was measured: what was read before counts no more"),
    verdict: z.enum(["conforming", "nonconforming", "uncertain"]).describe("That of the worst place"),
    disposition: z
      .enum(["accept", "rework", "scrap", "remeasure"])
      .nullable()
      .describe("Likewise; null: open until the missing places are measured"),
    worst_place: z.string().describe("The place that decides"),
    missing: z.array(z.string()).describe("Places of which there is no reading of this cut yet"),
    difference: z
      .number()
      .nullable()
      .describe("Largest less smallest size; null: fewer than two places are measured"),
    unit: z
      .enum(["mm", "inch", "deg", "µm", "µin"])
      .nullable()
      .describe("Unit of the feature; null: what is counted, or passes or fails, has none"),
    difference_of_tolerance: z
      .number()
      .nullable()
      .describe("The difference over the width of the tolerance; above 1 no register value suits all places"),
    shape: z
      .enum(["even", "taper", "barrel", "waist", "oval", "uneven"])
      .nullable()
      .describe("What the sizes say of the form, in the order of the places"),
    why: z.string().describe("The same in words"),
  })
  .meta({
    id: "PlacesSummary",
    description: "What the places of a feature amount to on one piece: the worst decides",
    examples: [
      {
        feature_id: "12",
        characteristic: "12",
        batch_id: "3",
        piece: 12,
        cut: 1,
        verdict: "nonconforming",
        disposition: "rework",
        worst_place: "bottom",
        missing: [],
        difference: 0.06,
        unit: "mm",
        difference_of_tolerance: 0.6,
        shape: "taper",
        why: "12 Tongue width: bottom is the worst place and decides: nonconforming. 12 Tongue width reads 25.060 mm at bottom and 25.000 mm at top, a difference of 0.060 mm (taper).",
      },
    ],
  });

export const ReadingsAnswer = z
  .strictObject({
    next: NextStep.describe("The one thing to do next"),
    readings: z.array(Reading).describe("The readings as they were taken in, with their verdicts"),
    places: z
      .array(Places)
      .describe("For features that are measured at several places: what those places amount to, by piece"),
    corrections: z.array(Correction).describe("Advice that they gave rise to, changed or withdrew"),
    next_checks: z.array(CheckPlan).describe("What to measure next"),
  })
  .meta({
    id: "ReadingsAnswer",
    description: "What follows from readings",
    examples: [
      {
        next: exampleOf(NextStep),
        readings: [exampleOf(Reading)],
        places: [exampleOf(Places)],
        corrections: [exampleOf(Correction)],
        next_checks: [exampleOf(CheckPlan)],
      },
    ],
  });

export const ReadingPoints = z
  .strictObject({
    reading_id: z.string().describe("The reading that they were sent for"),
    points: z.array(z.array(z.union([z.number(), z.string()]))).describe("As they were sent, in `unit`"),
    unit: z.string().describe("Their unit"),
    ball_diameter: z.string().nullable().describe("In the same unit; null: points of the surface"),
    true_position: z
      .array(z.union([z.number(), z.string()]))
      .nullable()
      .describe("Where the centre should be; null: of no position"),
    fit: PointsFit.nullable().describe(
      "What they come to when they are evaluated now, in the reading's size_unit; null: nothing",
    ),
  })
  .meta({
    id: "ReadingPoints",
    description: "The points that a reading was worked out from",
    examples: [
      {
        reading_id: "3-17",
        points: [
          [52.002, 25],
          [40, 36.998],
          [28, 25.001],
          [40.001, 13],
        ],
        unit: "mm",
        ball_diameter: "6",
        true_position: null,
        fit: exampleOf(PointsFit),
      },
    ],
  });

export const VoidAnswer = z
  .strictObject({
    reading: Reading.describe("The voided reading"),
    next: NextStep.describe("The one thing to do next"),
    corrections: z.array(Correction).describe("Advice that stands in its batch now"),
  })
  .meta({
    id: "ReadingVoided",
    description: "What follows from voiding a reading",
    examples: [
      { reading: exampleOf(Reading), next: exampleOf(NextStep), corrections: [exampleOf(Correction)] },
    ],
  });

export const ReadingPath = strict({ reading_id: ReadingId.describe("Identity of the reading") });
const QueryPiece = z
  .string()
  .regex(/^[1-9]\d{0,7}$/, "must be a piece number")
  .transform(Number)
  .meta({ type: "integer", minimum: 1 });
export const ReadingQuery = strict({
  batch_id: Id.optional().describe("Only of this batch; needed where no gauge is named"),
  feature_id: Id.optional().describe("Only of this feature"),
  gauge_id: Id.optional().describe(
    "Only by this gauge: alone, whatever the batch, in the order they were taken",
  ),
  piece: QueryPiece.optional().describe("Only of this piece"),
  from: Instant.optional().describe("Only measured at or after this instant"),
  to: Instant.optional().describe("Only measured before this instant"),
  voided: z
    .enum(["true", "false"], 'must be "true" or "false"')
    .optional()
    .describe("`true`: only those that somebody has voided; `false`: only those that count"),
  ...formatQuery,
  ...pageQuery,
}).refine(({ batch_id, gauge_id }) => batch_id !== undefined || gauge_id !== undefined, {
  path: ["batch_id"],
  message: "is missing: send it, or gauge_id for what a gauge has measured in all batches",
});
export const ReadingList = pageOf("ReadingList", Reading);
