import { formatLength, fromNumeric, type LengthUnit, toNumeric } from "../../core/quantity.js";
import { decideLimits } from "../../core/tolerance/limits.js";
import { limitsBeforePlating } from "../../core/tolerance/limits-before-plating.js";
import { lengthPm, showLength } from "../../http/lengths.js";
import type { FieldError } from "../../http/problem.js";
import { checkLimits, explainLimits } from "./check-limits.js";
import type { OperationLimits, OperationLimitsCreate, PlatingCreate } from "./operation-limits-schemas.js";
import type { listOperationLimits } from "./queries.js";
import type { FeatureCreate, PartCreate } from "./schemas.js";

type FinalLimits = Exclude<ReturnType<typeof checkLimits>, FieldError[]>;

/** Limits by operation as columns, or what cannot be about them. */
export function checkOperationLimits(
  feature: FeatureCreate,
  final: FinalLimits,
  part: Pick<PartCreate, "unit">,
  pointer: string,
) {
  const checked = (feature.operation_limits ?? []).map((limits, position) => {
    const at = `${pointer}/operation_limits/${position}`;
    const columns = limits.plating
      ? beforePlating(limits, limits.plating, feature, final, part.unit, at)
      : asGiven(limits, feature, part, at);
    if (Array.isArray(columns)) return columns;
    const { operation, reason = null } = limits;
    return [{ ...columns, operation, reason, position }];
  });
  const isFault = (item: object): item is FieldError => "pointer" in item;
  const all = checked.flatMap((list) => list as (object & { operation?: string })[]);
  type Columns = Exclude<(typeof checked)[number][number], FieldError>;
  return {
    faults: all.filter(isFault),
    rows: all.filter((item) => !isFault(item)) as Columns[],
  };
}

const noPlating = {
  plating_thickness_mm: null,
  plating_plus_minus_mm: null,
  plating_share: null,
  plating_surfaces: null,
  plating_thread_angle_deg: null,
  growth_mm: null,
};

function asGiven(
  limits: OperationLimitsCreate,
  feature: FeatureCreate,
  { unit }: Pick<PartCreate, "unit">,
  pointer: string,
) {
  const {
    nominal,
    lower_deviation,
    upper_deviation,
    lower_limit,
    upper_limit,
    fit,
    general_tolerance,
    target,
  } = limits;
  const ways = { lower_deviation, upper_deviation, lower_limit, upper_limit, fit, general_tolerance, target };
  const asFeature = { ...feature, ...ways, nominal: nominal ?? feature.nominal };
  const columns = checkLimits(asFeature, { unit, general_tolerance: null, title_block: null }, pointer);
  if (Array.isArray(columns)) return columns;
  const { broken_edge, limits_from, ...kept } = columns;
  const own = nominal === undefined ? { nominal: null, nominal_mm: null } : {};
  return {
    ...kept,
    ...own,
    ...noPlating,
    general_tolerance: general_tolerance ?? null,
    limits_from: limits_from as Exclude<typeof limits_from, "title_block">,
  };
}

function beforePlating(
  limits: OperationLimitsCreate,
  plating: PlatingCreate,
  feature: FeatureCreate,
  final: FinalLimits,
  unit: LengthUnit,
  pointer: string,
) {
  const { kind } = feature;
  if (kind !== "external" && kind !== "internal") {
    return [
      {
        pointer: `${pointer}/plating`,
        detail: `cannot be worked out for a ${kind}, since it depends on which of its faces are plated: send the limits of this operation`,
      },
    ];
  }
  const thicknessPm = lengthPm(plating.thickness, unit);
  const plusMinusPm = lengthPm(plating.plus_minus, unit);
  const { share, surfaces, thread_angle } = plating;
  const over = surfaces === undefined ? { threadAngleDeg: thread_angle ?? 60 } : { surfaces };
  const optional = (stored: string | null) => (stored === null ? undefined : fromNumeric(stored));
  const finalSizes = { lowerPm: optional(final.lower_limit_mm), upperPm: optional(final.upper_limit_mm) };
  const before = limitsBeforePlating(finalSizes, kind, { thicknessPm, plusMinusPm, share, over });
  if (!before) {
    return [
      {
        pointer: `${pointer}/plating/plus_minus`,
        detail: `${formatLength(plusMinusPm, unit)} leaves nothing of the tolerance before plating: agree on a closer layer or wider limits`,
      },
    ];
  }
  const { lowerPm, upperPm, growthPm } = before;
  const targetPm =
    limits.target === undefined ? fromNumeric(final.target_mm) - growthPm : lengthPm(limits.target, unit);
  const decided = decideLimits(lowerPm, upperPm, targetPm);
  if (typeof decided === "string") {
    return [
      { pointer: `${pointer}/target`, detail: explainLimits(decided, { lowerPm, upperPm, targetPm }, unit) },
    ];
  }
  return {
    nominal: null,
    nominal_mm: null,
    lower_limit_mm: lowerPm === undefined ? null : toNumeric(lowerPm),
    upper_limit_mm: upperPm === undefined ? null : toNumeric(upperPm),
    target_mm: toNumeric(targetPm),
    limits_from: "plating" as const,
    fit: null,
    general_tolerance: null,
    plating_thickness_mm: toNumeric(thicknessPm),
    plating_plus_minus_mm: toNumeric(plusMinusPm),
    plating_share: share,
    plating_surfaces: surfaces ?? null,
    plating_thread_angle_deg: thread_angle ?? null,
    growth_mm: toNumeric(growthPm),
  };
}

type Row = Awaited<ReturnType<typeof listOperationLimits>>[number];

/** Limits of an operation as the wire shows them, beside a feature with this nominal size. */
export function showOperationLimits(row: Row, nominal: string, unit: LengthUnit): OperationLimits {
  const { plating_thickness_mm: thickness, plating_plus_minus_mm: plusMinus, growth_mm: growth } = row;
  return {
    operation: row.operation,
    nominal: row.nominal ?? nominal,
    lower_limit: showLength(row.lower_limit_mm, unit),
    upper_limit: showLength(row.upper_limit_mm, unit),
    target: showLength(row.target_mm, unit),
    limits_from: row.limits_from,
    fit: row.fit,
    general_tolerance: row.general_tolerance,
    plating:
      thickness === null || plusMinus === null || growth === null
        ? null
        : {
            thickness: showLength(thickness, unit),
            plus_minus: showLength(plusMinus, unit),
            surfaces: row.plating_surfaces,
            thread_angle: row.plating_thread_angle_deg,
            share: row.plating_share ?? 1,
            growth: showLength(growth, unit),
          },
    reason: row.reason,
  };
}
