import { z } from "zod";
import { expansionCreate, expansionShown, refuseLoneUncertainty } from "../../http/expansion.js";
import { pageOf, pageQuery } from "../../http/pagination.js";
import {
  Day,
  Id,
  MeasureFromZero,
  Name,
  PositiveMeasure,
  refuseDms,
  strict,
  Text,
} from "../../http/types.js";

const Kind = z.enum([
  "calliper",
  "micrometer",
  "bore_gauge",
  "height_gauge",
  "plug_gauge",
  "ring_gauge",
  "snap_gauge",
  "thread_gauge",
  "protractor",
  "roughness_tester",
  "form_tester",
  "machine_probe",
  "coordinate_machine",
  "other",
]);
const GaugeUnit = z.enum(["mm", "inch", "deg"]);
/** Kinds that pass or refuse, and may show no number. */
const limitGauges = ["plug_gauge", "ring_gauge", "snap_gauge", "thread_gauge", "other"];
const sizes = ["resolution", "repeatability", "expanded_uncertainty", "master_size"] as const;
const Reads = z.enum(["size", "deviation"]);
const Sense = z.enum(["normal", "reversed"]);
const Minutes = z.number().positive().max(1440);
const CoverageFactor = z.number().min(1).max(10);

const words = {
  unit: "Its unit, `deg` for one that measures angles; every size of the gauge is in it. What measures lengths and angles is entered once for each",
  resolution:
    "The smallest step it shows. A limit gauge, which passes or refuses, has none and then measures nothing else",
  repeatability: "Standard deviation of readings of the same piece, taken one after the other",
  expanded_uncertainty: "Expanded uncertainty U of a reading",
  coverage_factor: "Coverage factor k that goes with the expanded uncertainty",
  calibration_due: "The last day on which its calibration holds",
  reference:
    "Whether it may prove a size. A probe in the machine that cut the piece may not, since it shares the machine's errors",
  reads: "What it shows: the size itself, or the deviation from the master it was set to",
  master_size: "Size of the master that it is set to; only for one that shows a deviation, and needed there",
  sense: "`reversed` where a larger piece makes it show less; only for one that shows a deviation",
  minutes_per_reading:
    "How many minutes a reading with it takes, fetching and setting it included; for planning ahead. Nothing is assumed where it is not said",
  material:
    "What its scale or frame, or its master, is made of: a name that GET /v1/materials lists gives its coefficient of expansion. Nothing is assumed where it is not said",
};

export const GaugeCreate = strict({
  name: Name.describe("What the shop calls it; no other gauge may have this name"),
  kind: Kind.describe("Sort of gauge"),
  unit: GaugeUnit.describe(words.unit),
  resolution: PositiveMeasure.nullish().describe(words.resolution),
  repeatability: MeasureFromZero.nullish().describe(words.repeatability),
  expanded_uncertainty: MeasureFromZero.nullish().describe(words.expanded_uncertainty),
  coverage_factor: CoverageFactor.default(2).describe(words.coverage_factor),
  calibration_due: Day.nullish().describe(words.calibration_due),
  reference: z.boolean().optional().describe(`${words.reference}. Absent: true, for a machine_probe false`),
  reads: Reads.default("size").describe(words.reads),
  master_size: PositiveMeasure.nullish().describe(words.master_size),
  sense: Sense.nullish().describe(`${words.sense}; absent: \`normal\``),
  material: Text.nullish().describe(words.material),
  minutes_per_reading: Minutes.nullish().describe(words.minutes_per_reading),
  ...expansionCreate,
})
  .superRefine(refuseLoneUncertainty)
  .superRefine((gauge, context) => {
    const { reads, master_size, sense } = gauge;
    const hasMaster = master_size !== null && master_size !== undefined;
    const refuse = (field: string, message: string) =>
      context.addIssue({ code: "custom", path: [field], message });
    if (gauge.unit !== "deg") refuseDms(gauge, sizes, refuse);
    if ((gauge.resolution ?? null) === null && !limitGauges.includes(gauge.kind)) {
      refuse("resolution", "is missing: send the smallest step it shows");
    }
    if (reads === "deviation" && !hasMaster) {
      refuse("master_size", "is missing: send the size of the master that the gauge is set to");
    }
    if (reads === "size" && hasMaster) {
      refuse(
        "master_size",
        'belongs only to a gauge that shows a deviation: leave it out or send "reads": "deviation"',
      );
    }
    if (reads === "size" && sense) {
      refuse(
        "sense",
        'belongs only to a gauge that shows a deviation: leave it out or send "reads": "deviation"',
      );
    }
  })
  .meta({
    id: "GaugeCreate",
    description: "A gauge to be set up",
    examples: [
      {
        name: "micrometer 0-25 no. 3",
        kind: "micrometer",
        unit: "mm",
        resolution: 0.001,
        repeatability: 0.0012,
        expanded_uncertainty: 0.003,
        coverage_factor: 2,
        calibration_due: "2027-03-01",
        reference: true,
        material: "steel",
      },
    ],
  });

export const GaugeChange = strict({
  resolution: PositiveMeasure.optional().describe(words.resolution),
  repeatability: MeasureFromZero.nullish().describe(words.repeatability),
  expanded_uncertainty: MeasureFromZero.nullish().describe(words.expanded_uncertainty),
  coverage_factor: CoverageFactor.optional().describe(words.coverage_factor),
  calibration_due: Day.nullish().describe(words.calibration_due),
  reference: z.boolean().optional().describe(words.reference),
  material: Text.nullish().describe(words.material),
  minutes_per_reading: Minutes.nullish().describe(words.minutes_per_reading),
  ...expansionCreate,
})
  .superRefine(refuseLoneUncertainty)
  .refine((change) => Object.keys(change).length > 0, "is empty: send at least one member to be changed")
  .meta({
    id: "GaugeChange",
    description:
      "What changes about a gauge, in the gauge's unit; what is absent stays, and null takes a value away",
    examples: [{ calibration_due: "2028-03-01", expanded_uncertainty: 0.0025 }],
  });

export const Gauge = z
  .strictObject({
    gauge_id: z.string().describe("Identity of the gauge"),
    name: z.string().describe("What the shop calls it"),
    kind: Kind.describe("Sort of gauge"),
    unit: GaugeUnit.describe(words.unit),
    resolution: z.number().nullable().describe(words.resolution),
    repeatability: z.number().nullable().describe(words.repeatability),
    expanded_uncertainty: z.number().nullable().describe(words.expanded_uncertainty),
    coverage_factor: z.number().describe(words.coverage_factor),
    calibration_due: z.iso.date().nullable().describe(words.calibration_due),
    reference: z.boolean().describe(words.reference),
    reads: Reads.describe(words.reads),
    master_size: z.number().nullable().describe(words.master_size),
    sense: Sense.nullable().describe(words.sense),
    material: z.string().nullable().describe(words.material),
    minutes_per_reading: z.number().nullable().describe(words.minutes_per_reading),
    ...expansionShown,
    created_at: z.iso.datetime().describe("When it was set up"),
  })
  .meta({
    id: "Gauge",
    description: "A gauge",
    examples: [
      {
        gauge_id: "5",
        name: "micrometer 0-25 no. 3",
        kind: "micrometer",
        unit: "mm",
        resolution: 0.001,
        repeatability: 0.0012,
        expanded_uncertainty: 0.003,
        coverage_factor: 2,
        calibration_due: "2027-03-01",
        reference: true,
        reads: "size",
        master_size: null,
        sense: null,
        material: "steel",
        minutes_per_reading: 0.5,
        expansion_coefficient: 11.5,
        expansion_uncertainty: 0.5508,
        expansion_from: "material",
        created_at: "2026-03-02T06:20:00.000Z",
      },
    ],
  });
export type Gauge = z.infer<typeof Gauge>;

export const GaugePath = strict({ gauge_id: Id.describe("Identity of the gauge") });
export const GaugeQuery = strict(pageQuery);
export const GaugeList = pageOf("GaugeList", Gauge);
