import { z } from "zod";
import {
  generalClasses,
  generalToleranceMarks,
  geometricClasses,
  readGeneralTolerance,
} from "../../core/tolerance/general-tolerance.js";
import { largestEffect } from "../../core/wear-offset/derive-effect.js";
import { expansionCreate, expansionShown, refuseLoneUncertainty } from "../../http/expansion.js";
import { pageOf, pageQuery } from "../../http/pagination.js";
import { Id, Length, Measure, Name, PositiveLength, strict, Text, Unit } from "../../http/types.js";
import { aimsByItself, checkKind, Kind, kindCreate, kindShown, takesDefaults } from "./kinds.js";
import { OperationLimits, OperationLimitsList } from "./operation-limits-schemas.js";

const FeatureUnit = z.enum(["mm", "inch", "deg", "µm", "µin"]);
const DecisionRule = z.enum(["simple", "guarded_acceptance", "guarded_rejection", "iso_14253"]);
const GuardBandFactor = z.number().gt(0, "must be above 0: without a guard band the rule is simple").max(10);
const Risk = z.number().gt(0, "must be above 0: no plan is without risk").lt(0.5, "must be below 0.5");
const LargestInterval = z.number().int().min(1).max(1000);
const Importance = z.enum(["ordinary", "key", "critical"]);
const PlusMakes = z.enum(["bigger", "smaller"]);
const Walls = z.literal([1, 2]);
const GeneralTolerance = z.enum(generalToleranceMarks);
const ClassThatCounts = z.enum([...generalClasses, ...geometricClasses]);
const Axis = z.enum(["x", "y", "z", "-x", "-y", "-z"]);
const LimitsFrom = z.enum(["deviations", "limits", "fit", "general_tolerance", "title_block"]);
export type LimitsFrom = z.infer<typeof LimitsFrom>;

const words = {
  register_id:
    "The register that moves the feature, a tool's or a work offset; null where the tool cuts it and no register does",
  tool_id: "The tool that cuts it; alone where no register moves the feature, as with a reamer",
  walls:
    "How many walls of the feature this tool cuts: 2 for a slot or a boss cut on both sides, 1 for a single wall",
  plus_makes:
    "What adding to the register does to the size, seen at the machine; needed where the set-up does not say it, as for every work offset",
  effect: "Change of the size per +1 in the register, both in the same unit",
  characteristic: "Its balloon number on the drawing; each only once in a part",
  kind: "What is measured: the size of an outside or inside feature, a depth, height or length from a face; a position, an angle, a form (a single number that is 0 at best), a roughness, a count; or what a limit gauge or the eye says. Of all but the sizes only the verdict counts: a register named in `cut_by` is not steered by them",
  nominal: "Nominal size or angle as it stands on the drawing, with its places",
  unit: "Unit of its sizes: the part's; of an angle deg; of a roughness um in a part in mm, uin in one in inch",
  step: "Of a go_no_go: how much of the register may be tried at a time where the gauge refuses, in the machine's unit. It is advised as a step to try, never worked out",
  fit: 'Tolerance class of ISO 286, such as "H7" of an internal or "g6" of an external feature',
  general_tolerance:
    "Class of ISO 2768-1 for a size or angle: f fine, m medium, c coarse, v very coarse; of ISO 2768-2 for a form: H, K or L",
  broken_edge:
    "It is an external radius or the height of a chamfer, for which ISO 2768-1 has a table of its own",
  part_general_tolerance:
    'What the drawing writes behind "ISO 2768-", for every feature that says nothing about its limits: a class of part 1 for sizes and angles (f, m, c, v), of part 2 for forms (H, K, L), or both, such as "mK"',
  title_block:
    "The drawing's table of general tolerances by decimal places, for every feature that says nothing about its limits",
  places: "Decimal places with which the nominal size is written",
  feature_places:
    'Where it is measured, each with its own reading and verdict; the worst decides. In the order in which they lie along the feature ("top", "bottom"), as angles across it ("0°", "90°"), or numbered where one balloon stands for several like features ("1" to "10" of a 10X). Null: one reading speaks for it',
  plus_minus: "Limits lie this much below and above the nominal size",
  lower_limit: "Lower limit of size; a size on it conforms",
  upper_limit: "Upper limit of size; a size on it conforms",
  target: "The size to aim at",
  importance: "How the drawing marks it",
  gauge_id: "The gauge it is measured with",
  reference_gauge_id:
    "The gauge that proves its size, where the one it is measured with only steers, such as a probe in the machine",
  risk: "The probability of being out of limits up to which a piece may go unmeasured",
  largest_interval: "The most pieces from one check to the next, however well the run goes",
  zone: 'Where on the drawing it stands: sheet and zone, such as "sheet 2, B4"',
  operation_limits:
    "Limits in operations before the last, such as before plating or grinding: a batch with that operation goes by them. The feature's own limits stay those of the drawing",
  pattern: "Its place among like features that one tool makes one after the other",
  at: "Where on the part it is, from the part's zero: a hole's axis, or the middle of what is cut",
  axis: 'Direction along which it is measured, as its size grows when the cut moves: "x", or "-x" where a cut further along x makes it smaller. Of a depth it counts as "-z" and of a height as "z" if absent',
  depth: "How deep along the tool it is cut: a cutter bends more the deeper it cuts",
  decision_rule:
    "How a verdict takes the uncertainty of the reading into account. `simple`: by the limits. `guarded_acceptance`: conforming inside the limits drawn in by the guard band, nonconforming beyond the limits. `guarded_rejection`: conforming inside the limits, nonconforming beyond them by more than the guard band. `iso_14253`: both guarded. In between uncertain",
  guard_band_factor: "Guard band in expanded uncertainties of the reading; without meaning under `simple`",
  material:
    "What it is made of: a name that GET /v1/materials lists gives its coefficient of expansion, any other is kept as it is",
};

const CutCreate = strict({
  register_id: Id.nullish().describe(words.register_id),
  tool_id: Id.nullish().describe(words.tool_id),
  walls: Walls.nullish().describe(words.walls),
  plus_makes: PlusMakes.nullish().describe(words.plus_makes),
  step: PositiveLength.nullish().describe(words.step),
  effect: z
    .number()
    .min(-largestEffect)
    .max(largestEffect)
    .refine((effect) => effect !== 0, "must not be 0: leave a register out that does not move the feature")
    .nullish()
    .describe(`${words.effect}; absent: derived from the set-up`),
}).superRefine((cut, context) => {
  const refuse = (field: string, message: string) =>
    context.addIssue({ code: "custom", path: [field], message });
  if (cut.register_id) return;
  if (!cut.tool_id) {
    refuse("register_id", "is missing: send it, or tool_id alone where no register moves the feature");
  }
  for (const field of ["walls", "plus_makes", "effect", "step"] as const) {
    if (isGiven(cut[field]))
      refuse(field, "says something about a register: send its register_id as well, or leave it out");
  }
});
export type CutCreate = z.infer<typeof CutCreate>;

const CutBy = z
  .array(CutCreate)
  .max(120)
  .superRefine((cuts, context) => {
    for (const index of repeated(cuts.map(({ register_id }) => register_id ?? undefined))) {
      context.addIssue({
        code: "custom",
        path: [index, "register_id"],
        message: "stands here twice: leave one out",
      });
    }
  });

const mostPlaces = 32;
const Places = z
  .array(Name)
  .min(2)
  .max(mostPlaces)
  .superRefine((places, context) => {
    for (const index of repeated(places)) {
      context.addIssue({
        code: "custom",
        path: [index],
        message: `"${places[index]}" stands here twice: give each place its own name`,
      });
    }
  });

const PatternCreate = strict({
  name: Name.describe("What the like features are called together"),
  order: z.number().int().min(1).max(10_000).describe("The how-manieth of them the tool makes"),
  of: z.number().int().min(1).max(10_000).describe("How many of them there are"),
}).superRefine(({ order, of }, context) => {
  if (order <= of) return;
  context.addIssue({
    code: "custom",
    path: ["order"],
    message: `${order} is above "of", ${of}: send at most that`,
  });
});

const At = strict({
  x: Length.default(0).describe("Along x; 0 if absent"),
  y: Length.default(0).describe("Along y; 0 if absent"),
  z: Length.default(0).describe("Along z; 0 if absent"),
});

const waysOfLimits = [
  "lower_deviation",
  "upper_deviation",
  "lower_limit",
  "upper_limit",
  "fit",
  "general_tolerance",
] as const;

const FeatureCreate = strict({
  characteristic: Name.describe(words.characteristic),
  name: Name.nullish().describe("What it is, in words"),
  kind: Kind.describe(words.kind),
  operation: Name.nullish().describe("The operation that makes it"),
  nominal: Measure.nullish().describe(
    `${words.nominal}. An angle is a decimal of degrees, or degrees, minutes and seconds such as "44°30'0"" or "44 30 0"; sizes and angles need it, other kinds have none. A size: as a string, such as "0.500", it keeps its places; as a number it has those of its shortest decimal form, so 0.500 is 0.5 and has one`,
  ),
  lower_deviation: Measure.nullish().describe("Lower limit less nominal; comes with upper_deviation"),
  upper_deviation: Measure.nullish().describe("Upper limit less nominal; comes with lower_deviation"),
  lower_limit: Measure.nullish().describe(
    "Lower limit of size, instead of deviations; alone it is one-sided",
  ),
  upper_limit: Measure.nullish().describe(
    "Upper limit of size, instead of deviations; alone it is one-sided. Of a position the diameter of the tolerance zone, of a form its tolerance, of a roughness the largest value in um or uin",
  ),
  fit: Name.nullish().describe(`${words.fit}, instead of deviations`),
  general_tolerance: GeneralTolerance.nullish().describe(
    `${words.general_tolerance}; "mK" gives it the one that is for its kind. Instead of deviations. Absent, with no limits given another way: what the part says`,
  ),
  broken_edge: z.boolean().default(false).describe(words.broken_edge),
  target: Measure.nullish().describe(
    `${words.target}; needed where a size or angle has one limit only, otherwise the middle if absent. Of a position, form and roughness 0 if absent`,
  ),
  importance: Importance.default("ordinary").describe(words.importance),
  decision_rule: DecisionRule.nullish().describe(`${words.decision_rule}. Absent: the part's`),
  guard_band_factor: GuardBandFactor.nullish().describe(`${words.guard_band_factor}. Absent: the part's`),
  cut_by: CutBy.default([]).describe("Which registers move it and which tools cut it"),
  gauge_id: Id.nullish().describe(words.gauge_id),
  places: Places.nullish().describe(words.feature_places),
  drawing_zone: Name.nullish().describe(words.zone),
  reference_gauge_id: Id.nullish().describe(`${words.reference_gauge_id}; it has to be a reference`),
  pattern: PatternCreate.nullish().describe(words.pattern),
  at: At.nullish().describe(words.at),
  axis: Axis.nullish().describe(words.axis),
  depth: PositiveLength.nullish().describe(words.depth),
  operation_limits: OperationLimitsList.nullish().describe(words.operation_limits),
  ...kindCreate,
})
  .superRefine((feature, context) => {
    const refuse = (field: string, message: string) =>
      context.addIssue({ code: "custom", path: [field], message });
    if (checkKind(feature, refuse)) return undefined;
    const hasLower = isGiven(feature.lower_limit);
    const hasUpper = isGiven(feature.upper_limit);
    const deviations = (["lower_deviation", "upper_deviation"] as const).filter((field) =>
      isGiven(feature[field]),
    );
    if (deviations.length > 0 && (hasLower || hasUpper)) {
      return refuse(
        hasLower ? "lower_limit" : "upper_limit",
        "gives the limits a second way: send deviations or limits, not both",
      );
    }
    const named = (["fit", "general_tolerance"] as const).filter((field) => isGiven(feature[field]));
    const last = named.at(-1);
    if (last && (named.length > 1 || deviations.length > 0 || hasLower || hasUpper)) {
      return refuse(last, "gives the limits a second way: send it alone, or leave it out");
    }
    if (isGiven(feature.fit) && feature.broken_edge) {
      return refuse("broken_edge", "has no fit: leave out one of the two");
    }
    if (deviations.length === 1) {
      const missing = deviations[0] === "lower_deviation" ? "upper_deviation" : "lower_deviation";
      return refuse(
        missing,
        "is missing: deviations come as a pair; where only one side is limited send lower_limit or upper_limit",
      );
    }
    if (hasLower !== hasUpper && !isGiven(feature.target) && !aimsByItself(feature.kind, hasUpper)) {
      refuse("target", "is missing: a single limit has no middle, so send the size to aim at");
    }
  })
  .meta({ id: "FeatureCreate", description: "A toleranced feature of the drawing, in the part's unit" });
export type FeatureCreate = z.infer<typeof FeatureCreate>;

const TitleBlock = z
  .array(
    strict({
      places: z.number().int().min(0).max(9).describe(words.places),
      plus_minus: PositiveLength.describe(`${words.plus_minus}, in the part's unit`),
    }),
  )
  .min(1)
  .max(10)
  .superRefine((lines, context) => {
    for (const index of repeated(lines.map(({ places }) => String(places)))) {
      context.addIssue({
        code: "custom",
        path: [index, "places"],
        message: "stands here twice: leave one line out",
      });
    }
  });

export const PartCreate = strict({
  number: Name.describe("Drawing number"),
  revision: Name.describe("Revision of the drawing; number and revision together only once"),
  name: Name.nullish().describe("What it is called"),
  unit: Unit.describe("Unit of the drawing; every size of the part is in it"),
  material: Text.nullish().describe(words.material),
  ...expansionCreate,
  decision_rule: DecisionRule.default("simple").describe(words.decision_rule),
  general_tolerance: GeneralTolerance.nullish().describe(words.part_general_tolerance),
  title_block: TitleBlock.nullish().describe(`${words.title_block}; instead of general_tolerance`),
  guard_band_factor: GuardBandFactor.default(1).describe(words.guard_band_factor),
  risk: Risk.default(0.005).describe(`${words.risk}; 0.005 if absent`),
  largest_interval: LargestInterval.default(10).describe(`${words.largest_interval}; 10 if absent`),
  features: z
    .array(FeatureCreate)
    .min(1)
    .max(1000)
    .superRefine((features, context) => {
      const refuse = (path: PropertyKey[], message: string) =>
        context.addIssue({ code: "custom", path, message });
      for (const index of repeated(features.map(({ characteristic }) => characteristic))) {
        refuse(
          [index, "characteristic"],
          `"${features[index]?.characteristic}" stands here twice: number each feature differently`,
        );
      }
      for (const index of repeated(
        features.map(({ pattern }) => pattern && `${pattern.order} ${pattern.name}`),
      )) {
        refuse([index, "pattern", "order"], "stands twice in this pattern: give each feature its own place");
      }
    })
    .describe(
      "Its features, in the order of the drawing. Limits and decision rules only change with a new revision",
    ),
})
  .superRefine(({ features, general_tolerance, title_block }, context) => {
    const { size, geometric } = general_tolerance
      ? readGeneralTolerance(general_tolerance)
      : { size: undefined, geometric: undefined };
    features.forEach((feature, index) => {
      if (waysOfLimits.some((field) => isGiven(feature[field]))) return;
      if (feature.kind === "form" && !geometric) {
        context.addIssue({
          code: "custom",
          path: ["features", index, "upper_limit"],
          message:
            "is missing: send the tolerance, or general_tolerance with class H, K or L of ISO 2768-2; or give the part one",
        });
      }
      if (!takesDefaults(feature.kind) || size || isGiven(title_block)) return;
      context.addIssue({
        code: "custom",
        path: ["features", index, "lower_deviation"],
        message:
          "is missing: send lower_deviation and upper_deviation, or lower_limit, upper_limit or both, or fit, or general_tolerance; or give the part a general_tolerance or a title_block",
      });
    });
  })
  .superRefine(refuseLoneUncertainty)
  .superRefine(({ decision_rule, features }, context) => {
    features.forEach((feature, index) => {
      if (!isGiven(feature.guard_band_factor) || (feature.decision_rule ?? decision_rule) !== "simple")
        return;
      context.addIssue({
        code: "custom",
        path: ["features", index, "guard_band_factor"],
        message:
          'says nothing under the rule "simple": leave it out, or send a "decision_rule" that has a guard band',
      });
    });
  })
  .meta({
    id: "PartCreate",
    description: "A drawing at one revision, with its features",
    examples: [
      {
        number: "HB-2041",
        revision: "B",
        name: "Hinge bracket",
        unit: "mm",
        material: "aluminium",
        decision_rule: "simple",
        general_tolerance: "m",
        features: [
          {
            characteristic: "12",
            name: "Tongue width",
            kind: "external",
            operation: "20",
            nominal: "6",
            lower_deviation: -0.05,
            upper_deviation: 0.05,
            target: 6,
            importance: "ordinary",
            decision_rule: "guarded_acceptance",
            guard_band_factor: 1,
            cut_by: [{ register_id: "21", walls: 2 }],
            gauge_id: "5",
            places: ["top", "bottom"],
            drawing_zone: "sheet 2, B4",
            pattern: null,
            at: { x: 40, y: 0, z: -12 },
            axis: "x",
            depth: 12,
          },
          { characteristic: "13", name: "Bore", kind: "internal", nominal: "20", fit: "H7" },
          { characteristic: "14", name: "Overall length", kind: "length", nominal: "80" },
          {
            characteristic: "15",
            name: "Bore to edges",
            kind: "position",
            upper_limit: 0.1,
            material_condition: "maximum",
            size_of: { characteristic: "13" },
          },
          {
            characteristic: "16",
            kind: "angle",
            nominal: "44°30'0\"",
            general_tolerance: "m",
            shorter_leg: 25,
          },
          { characteristic: "17", kind: "roughness", roughness_parameter: "Ra", upper_limit: 0.8 },
          {
            characteristic: "18",
            kind: "go_no_go",
            gauged: "internal_thread",
            thread_standard: "iso_metric",
          },
        ],
      },
    ],
  });
export type PartCreate = z.infer<typeof PartCreate>;

export const PartChange = strict({
  material: Text.nullish().describe(words.material),
  ...expansionCreate,
  risk: Risk.optional().describe(words.risk),
  largest_interval: LargestInterval.optional().describe(words.largest_interval),
})
  .superRefine(refuseLoneUncertainty)
  .refine((change) => Object.keys(change).length > 0, "is empty: send at least one member to be changed")
  .meta({
    id: "PartChange",
    description:
      "What becomes known of a part's material, and how closely it is checked; what is absent stays, and null takes a value away",
    examples: [{ expansion_coefficient: 23.4 }],
  });
export type PartChange = z.infer<typeof PartChange>;

export const FeatureChange = strict({
  cut_by: CutBy.optional().describe("Which registers move it and which tools cut it, all of them anew"),
  gauge_id: Id.nullish().describe(words.gauge_id),
  reference_gauge_id: Id.nullish().describe(`${words.reference_gauge_id}; it has to be a reference`),
  target: Measure.optional().describe(words.target),
  importance: Importance.optional().describe(words.importance),
  at: At.nullish().describe(words.at),
  axis: Axis.nullish().describe(words.axis),
  depth: PositiveLength.nullish().describe(words.depth),
  drawing_zone: Name.nullish().describe(words.zone),
  places: Places.nullish().describe(
    `${words.feature_places}. Readings of places that are no longer named keep their verdicts and teach nothing more`,
  ),
})
  .refine((change) => Object.keys(change).length > 0, "is empty: send at least one member to be changed")
  .meta({
    id: "FeatureChange",
    description: "What changes about a feature, in the part's unit; what is absent stays",
    examples: [{ target: 6.01, cut_by: [{ register_id: "21", walls: 2 }] }],
  });
export type FeatureChange = z.infer<typeof FeatureChange>;

const Cut = z
  .strictObject({
    tool_id: z.string().nullable().describe("The tool that cuts it; null: the register is a work offset"),
    register_id: z.string().nullable().describe(words.register_id),
    walls: Walls.nullable().describe(words.walls),
    plus_makes: PlusMakes.nullable().describe(words.plus_makes),
    effect: z.number().nullable().describe(words.effect),
    step: z.number().nullable().describe(words.step),
  })
  .meta({ id: "Cut", description: "What cuts a feature, and how a register moves it" });

export const Feature = z
  .strictObject({
    feature_id: z.string().describe("Identity of the feature"),
    part_id: z.string().describe("The part it belongs to"),
    characteristic: z.string().describe(words.characteristic),
    name: z.string().nullable().describe("What it is, in words"),
    kind: Kind.describe(words.kind),
    operation: z.string().nullable().describe("The operation that makes it"),
    unit: FeatureUnit.nullable().describe(
      `${words.unit}; null: what is counted, or passes or fails, has none`,
    ),
    nominal: z.string().nullable().describe(`${words.nominal}; null: its kind has none`),
    limits_from: LimitsFrom.nullable().describe("Which way the limits came about; null: it passes or fails"),
    fit: z.string().nullable().describe(words.fit),
    general_tolerance: ClassThatCounts.nullable().describe(
      `${words.general_tolerance}; its own or the part's, where the limits come from it`,
    ),
    broken_edge: z.boolean().describe(words.broken_edge),
    lower_deviation: z.number().nullable().describe("Lower limit less nominal"),
    upper_deviation: z.number().nullable().describe("Upper limit less nominal"),
    lower_limit: z.number().nullable().describe(words.lower_limit),
    upper_limit: z.number().nullable().describe(words.upper_limit),
    target: z.number().nullable().describe(`${words.target}; null: it passes or fails`),
    importance: Importance.describe(words.importance),
    decision_rule: DecisionRule.nullable().describe(`${words.decision_rule}. Null: the part's`),
    guard_band_factor: z.number().nullable().describe(`${words.guard_band_factor}. Null: the part's`),
    cut_by: z.array(Cut).describe("Which registers move it and which tools cut it"),
    gauge_id: z.string().nullable().describe(words.gauge_id),
    places: z.array(z.string()).nullable().describe(words.feature_places),
    drawing_zone: z.string().nullable().describe(words.zone),
    reference_gauge_id: z.string().nullable().describe(words.reference_gauge_id),
    pattern: z
      .strictObject({
        name: z.string().describe("What the like features are called together"),
        order: z.number().int().describe("The how-manieth of them the tool makes"),
        of: z.number().int().describe("How many of them there are"),
      })
      .nullable()
      .describe(words.pattern),
    at: z
      .strictObject({
        x: z.number().describe("Along x"),
        y: z.number().describe("Along y"),
        z: z.number().describe("Along z"),
      })
      .nullable()
      .describe(words.at),
    axis: Axis.nullable().describe(words.axis),
    depth: z.number().nullable().describe(words.depth),
    operation_limits: z.array(OperationLimits).describe(words.operation_limits),
    ...kindShown,
  })
  .meta({
    id: "Feature",
    description: "A toleranced feature of a part",
    examples: [
      {
        feature_id: "31",
        part_id: "8",
        characteristic: "12",
        name: "Tongue width",
        kind: "external",
        operation: "20",
        unit: "mm",
        nominal: "6",
        limits_from: "deviations",
        fit: null,
        general_tolerance: null,
        broken_edge: false,
        lower_deviation: -0.05,
        upper_deviation: 0.05,
        lower_limit: 5.95,
        upper_limit: 6.05,
        target: 6,
        importance: "ordinary",
        decision_rule: null,
        guard_band_factor: null,
        cut_by: [{ tool_id: "12", register_id: "21", walls: 2, plus_makes: null, effect: 2, step: null }],
        gauge_id: "5",
        places: ["top", "bottom"],
        drawing_zone: "sheet 2, B4",
        reference_gauge_id: null,
        pattern: null,
        at: { x: 40, y: 0, z: -12 },
        axis: "x",
        depth: 12,
        operation_limits: [],
        geometric_characteristic: null,
        roughness_parameter: null,
        gauged: null,
        thread_standard: null,
        material_condition: null,
        size_of: null,
        shorter_leg: null,
        toleranced_length: null,
        rework: null,
      },
    ],
  });
export type Feature = z.infer<typeof Feature>;

const partMembers = {
  part_id: z.string().describe("Identity of the part"),
  number: z.string().describe("Drawing number"),
  revision: z.string().describe("Revision of the drawing"),
  name: z.string().nullable().describe("What it is called"),
  unit: Unit.describe("Unit of the drawing; every size of the part is in it"),
  material: z.string().nullable().describe(words.material),
  ...expansionShown,
  decision_rule: DecisionRule.describe(words.decision_rule),
  general_tolerance: GeneralTolerance.nullable().describe(words.part_general_tolerance),
  title_block: z
    .array(
      z.strictObject({
        places: z.number().int().describe(words.places),
        plus_minus: z.number().describe(words.plus_minus),
      }),
    )
    .nullable()
    .describe(words.title_block),
  guard_band_factor: z.number().describe(words.guard_band_factor),
  risk: z.number().describe(words.risk),
  largest_interval: z.number().int().describe(words.largest_interval),
  created_at: z.iso.datetime().describe("When it was set up"),
};
const partExample = {
  part_id: "8",
  number: "HB-2041",
  revision: "B",
  name: "Hinge bracket",
  unit: "mm",
  material: "aluminium",
  expansion_coefficient: 23,
  expansion_uncertainty: 0.5,
  expansion_from: "material" as const,
  decision_rule: "simple",
  general_tolerance: "m" as const,
  title_block: null,
  guard_band_factor: 1,
  risk: 0.005,
  largest_interval: 10,
  created_at: "2026-03-02T06:30:00.000Z",
};

export const Part = z
  .strictObject({
    ...partMembers,
    features: z.array(Feature).describe("Its features, in the order of the drawing"),
  })
  .meta({
    id: "Part",
    description: "A drawing at one revision",
    examples: [{ ...partExample, features: [] }],
  });
export type Part = z.infer<typeof Part>;

export const PartSummary = z.strictObject(partMembers).meta({
  id: "PartSummary",
  description: "A drawing at one revision, without its features",
  examples: [partExample],
});
export type PartSummary = z.infer<typeof PartSummary>;

export const PartTrial = z
  .strictObject({
    features: z
      .array(
        z.strictObject({
          characteristic: z.string().describe(words.characteristic),
          unit: FeatureUnit.nullable().describe(`${words.unit}; null: it has none`),
          limits_from: LimitsFrom.nullable().describe(
            "Which way the limits come about; null: it passes or fails",
          ),
          lower_limit: z.number().nullable().describe(words.lower_limit),
          upper_limit: z.number().nullable().describe(words.upper_limit),
          target: z.number().nullable().describe(`${words.target}; null: it passes or fails`),
          cut_by: z
            .array(
              z.strictObject({
                tool_id: z
                  .string()
                  .nullable()
                  .describe("The tool that cuts it; null: the register is a work offset"),
                register_id: z.string().nullable().describe(words.register_id),
                effect: z.number().nullable().describe(words.effect),
              }),
            )
            .describe("How the registers move it"),
        }),
      )
      .describe("The features in the order in which they were sent"),
  })
  .meta({
    id: "PartTrial",
    description: "What a part would be if it were set up so",
    examples: [
      {
        features: [
          {
            characteristic: "12",
            unit: "mm",
            limits_from: "deviations",
            lower_limit: 5.95,
            upper_limit: 6.05,
            target: 6,
            cut_by: [{ tool_id: "12", register_id: "21", effect: 2 }],
          },
        ],
      },
    ],
  });

export const PartPath = strict({ part_id: Id.describe("Identity of the part") });
export const FeaturePath = strict({ feature_id: Id.describe("Identity of the feature") });
export const PartQuery = strict({
  number: Name.optional().describe("Only the revisions of this drawing number"),
  ...pageQuery,
});
export const PartList = pageOf("PartList", PartSummary);

function isGiven(value: unknown): boolean {
  return value !== null && value !== undefined;
}

/** Places of the values that stand further up already. */
function repeated(values: readonly (string | null | undefined)[]): number[] {
  return values.flatMap((value, index) => (isGiven(value) && values.indexOf(value) < index ? [index] : []));
}
