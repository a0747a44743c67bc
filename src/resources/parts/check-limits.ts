import { isAttribute, shownUnitOf } from "../../core/feature-kind.js";
import {
  formatLength,
  formatMeasure,
  type LengthUnit,
  type MeasureUnit,
  toNumeric,
} from "../../core/quantity.js";
import { type FitFault, limitDeviations, nameOf, readToleranceClass } from "../../core/tolerance/fit.js";
import {
  type GeneralClass,
  type GeometricClass,
  generalAngleToleranceArcmin,
  generalEdgeTolerance,
  generalLinearTolerance,
  generalToleranceOf,
  readGeneralTolerance,
} from "../../core/tolerance/general-tolerance.js";
import {
  decideLimits,
  type Limits,
  type LimitsFault,
  limitsFromDeviations,
} from "../../core/tolerance/limits.js";
import { findTitleBlockLine, writtenPlaces } from "../../core/tolerance/title-block.js";
import { lengthPm } from "../../http/lengths.js";
import type { FieldError } from "../../http/problem.js";
import type { Length } from "../../http/types.js";
import type { FeatureCreate, LimitsFrom, PartCreate } from "./schemas.js";

type PartLimits = Pick<PartCreate, "unit" | "general_tolerance" | "title_block">;

/** The limits of a feature, and which way they came about. */
interface GivenLimits {
  lowerPm: number | undefined;
  upperPm: number | undefined;
  limits_from: LimitsFrom;
  fit?: string;
  general_tolerance?: GeneralClass | GeometricClass;
}

/** The limits of a feature as columns, or what cannot be about them. */
export function checkLimits(feature: FeatureCreate, part: PartLimits, pointer: string) {
  const unit = shownUnitOf(feature.kind, part.unit);
  if (isAttribute(feature.kind)) return attributeColumns;
  const nominal = feature.nominal ?? 0;
  const nominalPm = lengthPm(nominal, unit);
  if (nominalPm <= 0 && (feature.kind === "external" || feature.kind === "internal")) {
    return [
      {
        pointer: `${pointer}/nominal`,
        detail: `${formatMeasure(nominalPm, unit)} is no size of an ${feature.kind} feature: send one above 0`,
      },
    ];
  }
  const given = readLimits(feature, nominalPm, part);
  if ("field" in given) return [{ pointer: `${pointer}/${given.field}`, detail: given.detail }];
  const { lowerPm, upperPm, ...origin } = given;
  const targetPm = optionalPm(feature.target, unit);
  const beyond = checkRange(feature, { lowerPm, upperPm });
  if (beyond) return [{ pointer: `${pointer}/${beyond.field}`, detail: beyond.detail }];
  const limits = limitsOfKind(feature.kind, lowerPm, upperPm, targetPm);
  if (typeof limits !== "string") {
    return {
      nominal: nominalText(nominal),
      nominal_mm: toNumeric(nominalPm),
      broken_edge: feature.broken_edge,
      fit: null,
      general_tolerance: null,
      ...origin,
      ...limitColumns(limits),
    };
  }
  const upper = origin.limits_from === "deviations" ? "upper_deviation" : "upper_limit";
  const field = limits === "crossed" ? upper : "target";
  return [
    { pointer: `${pointer}/${field}`, detail: explainLimits(limits, { lowerPm, upperPm, targetPm }, unit) },
  ];
}

/** Of what passes or fails there are no limits; `limits_from` is not shown of it. */
const attributeColumns = {
  nominal: "0",
  nominal_mm: "0",
  broken_edge: false,
  fit: null,
  general_tolerance: null,
  limits_from: "limits" as const,
  lower_limit_mm: null,
  upper_limit_mm: null,
  target_mm: "0",
};

/**
 * Limits and target as the kind has them. Position, form and roughness aim at 0, and 0 may be all that is allowed; a count
 * may be asked for exactly, and aims at the middle or its only limit.
 */
export function limitsOfKind(
  kind: FeatureCreate["kind"],
  lowerPm: number | undefined,
  upperPm: number | undefined,
  targetPm: number | undefined,
): Limits | LimitsFault {
  const counted = kind === "count";
  if (!counted && (lowerPm !== undefined || !["position", "form", "roughness"].includes(kind))) {
    return decideLimits(lowerPm, upperPm, targetPm);
  }
  if (lowerPm !== undefined && upperPm !== undefined && upperPm < lowerPm) return "crossed";
  const middle = Math.floor(((lowerPm ?? 0) + (upperPm ?? 0)) / 2e9) * 1e9;
  const usual = !counted || lowerPm === undefined ? 0 : upperPm === undefined ? lowerPm : middle;
  const aim = targetPm ?? usual;
  if (aim < (lowerPm ?? aim) || aim > (upperPm ?? aim)) return "target_outside";
  return { lowerPm, upperPm, targetPm: aim };
}

/** What no limit of a kind can be. */
function checkRange(
  { kind, material_condition }: FeatureCreate,
  limits: { lowerPm: number | undefined; upperPm: number | undefined },
): LimitsRefusal | undefined {
  for (const [field, pm] of [
    ["lower_limit", limits.lowerPm],
    ["upper_limit", limits.upperPm],
  ] as const) {
    if (pm === undefined) continue;
    if (kind === "angle") {
      if (Math.abs(pm) > 360 * 3600e9) return { field, detail: "lies beyond 360°: check how it is written" };
      continue;
    }
    if (kind === "count") {
      if (pm % 1e9 !== 0 || pm < 0)
        return { field, detail: "must be a whole number from 0: things are counted" };
      if (pm > 1e15) return { field, detail: "is more than anybody counts: send at most 1000000" };
      continue;
    }
    if (kind !== "position" && kind !== "form" && kind !== "roughness") continue;
    if (pm > 0 || (pm === 0 && (material_condition ?? "none") !== "none")) continue;
    const zero = kind === "position" ? "; 0 it may be at maximum or least material only" : "";
    return { field, detail: `must be above 0, which is the ideal${zero}` };
  }
  return undefined;
}

interface LimitsRefusal {
  field: string;
  detail: string;
}

function readLimits(
  feature: FeatureCreate,
  nominalPm: number,
  part: PartLimits,
): GivenLimits | LimitsRefusal {
  const unit = shownUnitOf(feature.kind, part.unit);
  const { lower_deviation, upper_deviation, fit } = feature;
  if (isGiven(lower_deviation) && isGiven(upper_deviation)) {
    const [lower, upper] = [lengthPm(lower_deviation, unit), lengthPm(upper_deviation, unit)];
    return { limits_from: "deviations", ...limitsFromDeviations(nominalPm, lower, upper) };
  }
  const lowerPm = optionalPm(feature.lower_limit, unit);
  const upperPm = optionalPm(feature.upper_limit, unit);
  if (lowerPm !== undefined || upperPm !== undefined) return { limits_from: "limits", lowerPm, upperPm };
  if (isGiven(fit)) return limitsOfFit(fit, feature.kind, nominalPm, part.unit);
  const mark = feature.general_tolerance ?? part.general_tolerance;
  const { size: generalTolerance, geometric } = isGiven(mark) ? readGeneralTolerance(mark) : noClass;
  const wrong = feature.kind === "form" ? !geometric : !generalTolerance;
  if (isGiven(feature.general_tolerance) && wrong) return refuseClass(feature);
  if (feature.kind === "form") return limitsOfForm(geometric!, feature, part.unit);
  if (feature.kind === "angle") return limitsOfAngle(generalTolerance, feature, nominalPm, part.unit);
  if (isGiven(generalTolerance)) {
    return limitsOfGeneralTolerance(generalTolerance, feature, nominalPm, part.unit);
  }
  return limitsOfTitleBlock(nominalText(feature.nominal ?? 0), nominalPm, part);
}

const noClass = { size: undefined, geometric: undefined };

function refuseClass({ kind, general_tolerance }: FeatureCreate): LimitsRefusal {
  const detail =
    kind === "form"
      ? `"${general_tolerance}" is a class of ISO 2768-1, for sizes and angles: a form takes H, K or L of ISO 2768-2`
      : `"${general_tolerance}" is a class of ISO 2768-2, for form and place: a size or angle takes f, m, c or v of ISO 2768-1`;
  return { field: "general_tolerance", detail };
}

function limitsOfForm(
  geometricClass: GeometricClass,
  { geometric_characteristic, toleranced_length, general_tolerance }: FeatureCreate,
  unit: LengthUnit,
): GivenLimits | LimitsRefusal {
  const lengthPm = optionalPm(toleranced_length, unit);
  const tolerance = generalToleranceOf(geometric_characteristic!, lengthPm, geometricClass);
  if (tolerance === "needs_length") {
    return {
      field: "toleranced_length",
      detail: `is missing: the general tolerance "${geometricClass}" depends on it. Send that length, or upper_limit with the tolerance of this form`,
    };
  }
  if (typeof tolerance !== "number") {
    return {
      field: isGiven(general_tolerance) ? "general_tolerance" : "upper_limit",
      detail: `there is no general tolerance "${geometricClass}" for it: ${tolerance.notGiven}. Send upper_limit with the tolerance of this form`,
    };
  }
  return {
    limits_from: "general_tolerance",
    general_tolerance: geometricClass,
    lowerPm: undefined,
    upperPm: tolerance,
  };
}

function limitsOfFit(
  fit: string,
  kind: FeatureCreate["kind"],
  nominalPm: number,
  unit: LengthUnit,
): GivenLimits | LimitsRefusal {
  if (kind !== "external" && kind !== "internal") {
    return {
      field: "fit",
      detail: `a ${kind} has no fit: send deviations or limits, or "external" or "internal" as its kind`,
    };
  }
  const toleranceClass = readToleranceClass(fit, nominalPm);
  if ("fault" in toleranceClass) return refuseFit(fit, toleranceClass, nominalPm, unit);
  const side = kind === "internal" ? "hole" : "shaft";
  if (toleranceClass.side !== side) {
    const meant = nameOf({ ...toleranceClass, side });
    return {
      field: "fit",
      detail: `"${fit}" is the class of a ${toleranceClass.side}, and the feature is ${kind}: "${meant}" is that of a ${side}; send it, or mend the kind`,
    };
  }
  const deviations = limitDeviations(toleranceClass, nominalPm);
  if ("fault" in deviations) return refuseFit(fit, deviations, nominalPm, unit);
  const { lowerDeviationPm, upperDeviationPm } = deviations;
  return { limits_from: "fit", fit, ...limitsFromDeviations(nominalPm, lowerDeviationPm, upperDeviationPm) };
}

function refuseFit(
  fit: string,
  { why, nearest }: FitFault,
  nominalPm: number,
  unit: LengthUnit,
): LimitsRefusal {
  const near = nearest.map((name) => `"${name}"`).join(", ");
  const instead = near ? `the nearest are ${near}` : "send deviations or limits instead";
  return {
    field: "fit",
    detail: `ISO 286 gives no "${fit}" for ${inBoth(nominalPm, unit)}: ${why}; ${instead}`,
  };
}

function limitsOfGeneralTolerance(
  generalTolerance: GeneralClass,
  feature: FeatureCreate,
  nominalPm: number,
  unit: LengthUnit,
): GivenLimits | LimitsRefusal {
  const find = feature.broken_edge ? generalEdgeTolerance : generalLinearTolerance;
  const tolerance = find(nominalPm, generalTolerance);
  if (typeof tolerance !== "number") {
    return {
      field: isGiven(feature.general_tolerance) ? "general_tolerance" : "nominal",
      detail: `there is no general tolerance "${generalTolerance}" for ${inBoth(nominalPm, unit)}: ${tolerance.notGiven}. Send deviations or limits of this feature`,
    };
  }
  return {
    limits_from: "general_tolerance",
    general_tolerance: generalTolerance,
    ...limitsFromDeviations(nominalPm, -tolerance, tolerance),
  };
}

/** An angle takes the general tolerance by its shorter leg; a title block by decimal places says nothing of it. */
function limitsOfAngle(
  generalTolerance: GeneralClass | null | undefined,
  { shorter_leg }: FeatureCreate,
  nominalPm: number,
  partUnit: LengthUnit,
): GivenLimits | LimitsRefusal {
  if (!isGiven(generalTolerance)) {
    return {
      field: "lower_deviation",
      detail:
        "is missing: a title block by decimal places says nothing of angles, so send deviations or limits of this one, or general_tolerance with its shorter_leg",
    };
  }
  if (!isGiven(shorter_leg)) {
    return {
      field: "shorter_leg",
      detail: `is missing: the general tolerance "${generalTolerance}" of an angle depends on the length of its shorter leg. Send that, or deviations or limits of this angle`,
    };
  }
  const tolerance = generalAngleToleranceArcmin(lengthPm(shorter_leg, partUnit), generalTolerance) * 60e9;
  return {
    limits_from: "general_tolerance",
    general_tolerance: generalTolerance,
    ...limitsFromDeviations(nominalPm, -tolerance, tolerance),
  };
}

function limitsOfTitleBlock(
  nominal: string,
  nominalPm: number,
  part: PartLimits,
): GivenLimits | LimitsRefusal {
  const titleBlock = (part.title_block ?? []).map(({ places, plus_minus }) => ({
    places,
    plusMinusPm: lengthPm(plus_minus, part.unit),
  }));
  const line = findTitleBlockLine(nominal, titleBlock);
  if (!line) {
    const known = titleBlock.map(({ places }) => places).sort((a, b) => a - b);
    return {
      field: "nominal",
      detail: `${nominal} is written with ${writtenPlaces(nominal)} decimal places, and the title block has lines for ${known.join(", ")}: write it as the drawing does ("6.50" has two), or send deviations or limits of this feature`,
    };
  }
  return {
    limits_from: "title_block",
    ...limitsFromDeviations(nominalPm, -line.plusMinusPm, line.plusMinusPm),
  };
}

/** The standards go by millimetres, so a size in inch is shown in both. */
function inBoth(nominalPm: number, unit: LengthUnit): string {
  const shown = formatLength(nominalPm, unit);
  return unit === "mm" ? shown : `${shown} (${formatLength(nominalPm, "mm")})`;
}

export function explainLimits(
  fault: LimitsFault,
  {
    lowerPm,
    upperPm,
    targetPm = 0,
  }: { lowerPm: number | undefined; upperPm: number | undefined; targetPm: number | undefined },
  unit: MeasureUnit,
): string {
  const lower = lowerPm === undefined ? undefined : formatMeasure(lowerPm, unit);
  const upper = upperPm === undefined ? undefined : formatMeasure(upperPm, unit);
  if (fault === "crossed")
    return `the upper limit ${upper} is not above the lower limit ${lower}: check sign and order`;
  const inside =
    lower && upper ? `between ${lower} and ${upper}` : lower ? `above ${lower}` : `below ${upper}`;
  return `${formatMeasure(targetPm, unit)} is no size to aim at: send one ${inside}`;
}

/** A part has one general tolerance for the features that say nothing themselves. */
export function checkDefaults({ general_tolerance, title_block }: PartLimits): FieldError[] {
  if (!isGiven(general_tolerance) || !isGiven(title_block)) return [];
  return [
    {
      pointer: "/title_block",
      detail:
        "stands beside general_tolerance, and only one of them can hold for a feature without limits: leave one out, and send general_tolerance with the features it is for",
    },
  ];
}

function limitColumns({ lowerPm, upperPm, targetPm }: Limits) {
  return {
    lower_limit_mm: lowerPm === undefined ? null : toNumeric(lowerPm),
    upper_limit_mm: upperPm === undefined ? null : toNumeric(upperPm),
    target_mm: toNumeric(targetPm),
  };
}

// A JSON number below 10⁻⁶ would show an exponent, which no drawing does.
function nominalText(nominal: Length): string {
  const text = String(nominal);
  return text.includes("e")
    ? Number(nominal)
        .toFixed(20)
        .replace(/\.?0+$/, "")
    : text;
}

function optionalPm(value: Length | null | undefined, unit: MeasureUnit): number | undefined {
  return isGiven(value) ? lengthPm(value, unit) : undefined;
}

function isGiven<Value>(value: Value): value is NonNullable<Value> {
  return value !== null && value !== undefined;
}
