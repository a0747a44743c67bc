import { z } from "zod";
import {
  type FeatureKind,
  featureKinds,
  geometricCharacteristics,
  isAttribute,
  isSize,
  sizeKinds,
} from "../../core/feature-kind.js";
import { gaugedFeatures, isThread, threadStandards } from "../../core/tolerance/go-no-go.js";
import { Length, Name, PositiveLength, refuseDms, strict } from "../../http/types.js";

/** What a drawing asks for beyond sizes: which kinds there are, what each of them says, and what it may not say. */

export const Kind = z.enum(featureKinds);
const Geometric = z.enum(geometricCharacteristics);
const Gauged = z.enum(gaugedFeatures);
const ThreadStandard = z.enum(threadStandards);
const Condition = z.enum(["none", "maximum", "least"]);
const SizeKind = z.enum(["internal", "external"]);
const Rework = z.enum(["above", "below", "either", "neither"]);

const words = {
  geometric_characteristic: "Which geometrical characteristic a `form` is, by its name in ISO 1101",
  roughness_parameter: "Which parameter a `roughness` is, such as Ra or Rz",
  gauged:
    "What a limit gauge of a `go_no_go` is brought to: a plug into a bore or inside thread, a ring or snap gauge onto a shaft or outside thread",
  thread_standard:
    "By which standard NO-GO is judged on a thread: `iso_metric`, it may go in by at most two turns; `unified`, it has to drag definitely on or before the third",
  material_condition:
    "Of a position: whether its tolerance is stated at `maximum` or `least` material and grows with the departure of the size from it",
  size_of: "At maximum or least material: the feature whose size counts",
  shorter_leg: "Of an angle with a general tolerance: length of its shorter leg, in the part's unit",
  toleranced_length:
    "Of a form with a general tolerance: the length that ISO 2768-2 goes by, in the part's unit: of a straight line its own, of a flat face its longer side or diameter, of a right angle its shorter leg, of a symmetry the shorter of the two features. Circular run-out needs none",
  rework:
    "On which side of its limits a piece can be reworked, where the kind does not say it: of an angle, form, roughness, count or visual. A roughness can `above` if nothing is said, the others on neither",
};

const SizeOf = strict({
  characteristic: Name.nullish().describe("Balloon number of an internal or external feature of this part"),
  kind: SizeKind.nullish().describe("Or, where it is none of them: inside or outside"),
  lower_limit: Length.nullish().describe("Its lower limit of size"),
  upper_limit: Length.nullish().describe("Its upper limit of size"),
}).superRefine((size, context) => {
  const refuse = (field: string, message: string) =>
    context.addIssue({ code: "custom", path: [field], message });
  const rest = (["kind", "lower_limit", "upper_limit"] as const).filter((name) => isGiven(size[name]));
  if (isGiven(size.characteristic)) {
    if (rest[0]) refuse(rest[0], "is that of the characteristic named: leave it out");
    return;
  }
  for (const name of ["kind", "lower_limit", "upper_limit"] as const) {
    if (!isGiven(size[name])) {
      refuse(
        name,
        'is missing: send the "characteristic" whose size counts, or its kind with both limits of size',
      );
    }
  }
});

export const kindCreate = {
  geometric_characteristic: Geometric.nullish().describe(words.geometric_characteristic),
  roughness_parameter: Name.nullish().describe(words.roughness_parameter),
  gauged: Gauged.nullish().describe(words.gauged),
  thread_standard: ThreadStandard.nullish().describe(words.thread_standard),
  material_condition: Condition.nullish().describe(words.material_condition),
  size_of: SizeOf.nullish().describe(words.size_of),
  shorter_leg: PositiveLength.nullish().describe(words.shorter_leg),
  toleranced_length: PositiveLength.nullish().describe(words.toleranced_length),
  rework: Rework.nullish().describe(words.rework),
};

export const kindShown = {
  geometric_characteristic: Geometric.nullable().describe(words.geometric_characteristic),
  roughness_parameter: z.string().nullable().describe(words.roughness_parameter),
  gauged: Gauged.nullable().describe(words.gauged),
  thread_standard: ThreadStandard.nullable().describe(words.thread_standard),
  material_condition: Condition.nullable().describe(`${words.material_condition}. Null: it is no position`),
  size_of: z
    .strictObject({
      characteristic: z
        .string()
        .nullable()
        .describe("Its balloon number; null: it is no feature of the part"),
      kind: SizeKind.describe("Inside or outside"),
      lower_limit: z.number().describe("Its lower limit of size"),
      upper_limit: z.number().describe("Its upper limit of size"),
    })
    .nullable()
    .describe(words.size_of),
  shorter_leg: z.number().nullable().describe(words.shorter_leg),
  toleranced_length: z.number().nullable().describe(words.toleranced_length),
  rework: Rework.nullable().describe(words.rework),
};

/** A feature as it was sent, as far as its kind has a say. */
interface Said {
  kind: FeatureKind;
  [member: string]: unknown;
}

/** What goes with which kinds only; everything else goes with all. */
const belongsTo: Record<string, { kinds: readonly FeatureKind[]; why: string }> = {
  nominal: { kinds: [...sizeKinds, "angle", "position", "form"], why: "has no nominal size" },
  lower_deviation: {
    kinds: [...sizeKinds, "angle"],
    why: 'has no nominal to deviate from: send "upper_limit"',
  },
  upper_deviation: {
    kinds: [...sizeKinds, "angle"],
    why: 'has no nominal to deviate from: send "upper_limit"',
  },
  lower_limit: {
    kinds: [...sizeKinds, "angle", "roughness", "count"],
    why: "is limited on one side at most",
  },
  upper_limit: {
    kinds: [...sizeKinds, "angle", "position", "form", "roughness", "count"],
    why: "passes or fails",
  },
  target: {
    kinds: [...sizeKinds, "angle", "position", "form", "roughness", "count"],
    why: "passes or fails",
  },
  fit: { kinds: [...sizeKinds], why: "has no fit" },
  general_tolerance: { kinds: [...sizeKinds, "angle", "form"], why: "has no general tolerance in ISO 2768" },
  broken_edge: { kinds: [...sizeKinds], why: "is no broken edge" },
  decision_rule: {
    kinds: [...sizeKinds, "angle", "position", "form", "roughness"],
    why: "has no uncertainty that a rule could take into account",
  },
  guard_band_factor: {
    kinds: [...sizeKinds, "angle", "position", "form", "roughness"],
    why: "has no uncertainty that a rule could take into account",
  },
  operation_limits: { kinds: [...sizeKinds], why: "has the drawing's limits in every operation" },
  geometric_characteristic: { kinds: ["form"], why: "is no form" },
  roughness_parameter: { kinds: ["roughness"], why: "is no roughness" },
  gauged: { kinds: ["go_no_go"], why: "is not gauged" },
  thread_standard: { kinds: ["go_no_go"], why: "is not gauged" },
  material_condition: { kinds: ["position"], why: "is no position" },
  size_of: { kinds: ["position"], why: "is no position" },
  shorter_leg: { kinds: ["angle"], why: "has no legs" },
  toleranced_length: { kinds: ["form"], why: "is no form" },
  rework: {
    kinds: ["angle", "form", "roughness", "count", "visual"],
    why: "can be reworked as its kind says",
  },
};

/** Faults of what a feature says for its kind; true where there are some. */
export function checkKind(feature: Said, refuse: (field: string, message: string) => void): boolean {
  const { kind } = feature;
  let faults = 0;
  const report = (field: string, message: string) => {
    faults += 1;
    refuse(field, message);
  };
  for (const [member, { kinds, why }] of Object.entries(belongsTo)) {
    const value = feature[member];
    const said = isGiven(value) && value !== false && !(member === "material_condition" && value === "none");
    if (said && !kinds.includes(kind)) report(member, `does not go with it: a ${kind} ${why}. Leave it out`);
  }
  if (faults > 0) return true;
  const need = (member: string, message: string) => {
    if (!isGiven(feature[member])) report(member, `is missing: ${message}`);
  };
  if (isSize(kind) || kind === "angle") need("nominal", "send it as it stands on the drawing");
  if (kind !== "angle") refuseDms(feature, [...dimensions], report);
  switch (kind) {
    case "position":
      need("upper_limit", "send the diameter of the tolerance zone");
      refuseNominal(feature, report);
      checkCondition(feature, report);
      break;
    case "form":
      need("geometric_characteristic", "say which one it is, such as flatness");
      refuseNominal(feature, report);
      break;
    case "roughness":
      need("roughness_parameter", "say which one it is, such as Ra");
      if (!isGiven(feature.lower_limit)) need("upper_limit", "send the largest value allowed");
      break;
    case "count":
      if (!isGiven(feature.lower_limit))
        need("upper_limit", "send how many there may be at most, or lower_limit");
      break;
    case "go_no_go":
      need("gauged", "say what the gauge is brought to");
      if (isGiven(feature.thread_standard) && isGiven(feature.gauged) && !isThread(feature.gauged as never)) {
        report("thread_standard", "goes with a thread only: leave it out");
      }
      break;
  }
  return faults > 0;
}

const dimensions = ["nominal", "lower_deviation", "upper_deviation", "lower_limit", "upper_limit", "target"];

function refuseNominal({ nominal, kind }: Said, refuse: (field: string, message: string) => void): void {
  if (isGiven(nominal) && Number(nominal) !== 0) refuse("nominal", `of a ${String(kind)} is 0: leave it out`);
}

function checkCondition(feature: Said, refuse: (field: string, message: string) => void): void {
  const condition = feature.material_condition ?? "none";
  if (condition === "none" && isGiven(feature.size_of)) {
    refuse(
      "size_of",
      'is of use at maximum or least material only: send "material_condition", or leave it out',
    );
  }
  if (condition !== "none" && !isGiven(feature.size_of)) {
    refuse(
      "size_of",
      `is missing: at ${String(condition)} material the tolerance depends on the size of a feature`,
    );
  }
}

/** True where a feature of this kind has to get its limits from somewhere, and the part's general tolerance may be it. */
export function takesDefaults(kind: FeatureKind): boolean {
  return isSize(kind) || kind === "angle";
}

/** True where a single limit needs no target beside it: 0 is the aim, or nothing is. */
export function aimsByItself(kind: FeatureKind, hasUpper: boolean): boolean {
  if (isAttribute(kind) || kind === "count") return true;
  return hasUpper && (kind === "position" || kind === "form" || kind === "roughness");
}

function isGiven(value: unknown): boolean {
  return value !== null && value !== undefined;
}
