import type { Selectable } from "kysely";
import type { Vector } from "../core/diagnosis/observation.js";
import { isSize, type ShownUnit, shownUnitOf } from "../core/feature-kind.js";
import { fromNumeric } from "../core/quantity.js";
import type { DecisionRule } from "../core/tolerance/decide-conformity.js";
import type { MaterialCondition, SizeLimits } from "../core/tolerance/material-condition.js";
import { roomOf } from "../core/wear-offset/block.js";
import type { Database } from "../db/schema.js";
import { optionalPm } from "./stored-size.js";

type Row<T extends keyof Database> = Selectable<Database[T]>;

/** What decides about the readings of a feature, and how they are shown. */
export interface RuledFeature {
  characteristic: string;
  kind: Row<"feature">["kind"];
  /** Unit that its sizes are shown in; "1" where they have none. */
  unit: ShownUnit;
  /** Whole steps of the kind's quantity, as all that ends in Pm here: picometres, for an angle nano-arcseconds. */
  nominalPm: number;
  lowerPm: number | undefined;
  upperPm: number | undefined;
  targetPm: number;
  /** Set where the limits are those of the batch's operation, before the last one. */
  early: EarlyLimits | null;
  /** Its own, else its part's. */
  rule: DecisionRule;
  guardBandFactor: number;
  /** Of a position at maximum or least material: the feature whose size earns the bonus. */
  condition: FeatureCondition | undefined;
  gauged: Row<"feature">["gauged"];
  threadStandard: Row<"feature">["thread_standard"];
  /** On which side of the limits it can be reworked, where the kind does not say it. */
  rework: Row<"feature">["rework"];
  /** Which geometrical characteristic a form is. */
  geometric: Row<"feature">["geometric_characteristic"];
}

export interface FeatureCondition {
  condition: MaterialCondition;
  size: SizeLimits;
  /** Null: the size is no feature of the part, and comes with the reading. */
  characteristic: string | null;
}

export interface FeatureView extends RuledFeature {
  featureId: string;
  /** Its number in the part's order. */
  position: number;
  name: string | null;
  /** Size that the programme is taken to aim at. */
  programmedPm: number;
  /** From target to the nearer limit, in mm, or for an angle arcseconds. */
  roomMm: number;
  importance: Row<"feature">["importance"];
  gaugeId: string | null;
  /** Proves the size where the other gauge only steers. */
  referenceGaugeId: string | null;
  patternName: string | null;
  /** Where it is measured, in the drawing's order; null: one reading speaks for it. */
  places: readonly string[] | null;
  /** The place that this is about: a feature with places stands in the batch once for each. */
  place: string | null;
  movable: boolean;
  /** Registers of which a step can be tried where a gauge refuses. */
  steps: { registerId: string; stepPm: number; effect: number }[];
  earlierOfPattern: boolean;
  /** Where on the part it is, from the part's zero, mm; undefined: not said. */
  at: Vector | undefined;
  /** Direction in which its size grows. */
  axis: Row<"feature">["axis"];
  /** How deep along the tool it is cut. */
  depthPm: number | undefined;
  /** Only one wall of it is cut: a shift of the work moves it. */
  oneWalled: boolean;
  /** Where it stands: which block, and its number in it. */
  block: number;
  index: number;
}

/** That a feature is judged by limits of an operation before its last, and what is to come. */
export interface EarlyLimits {
  operation: string;
  reason: string | null;
  finalLowerPm: number | undefined;
  finalUpperPm: number | undefined;
  /** What plating adds to the size; undefined: something else follows. */
  growthPm: number | undefined;
}

/** A feature with the limits that hold in an operation. */
interface LimitedRow extends Row<"feature"> {
  early: EarlyLimits | null;
}

export interface PlacedRow extends LimitedRow {
  place: string | null;
}

export function inOperation(
  row: Row<"feature">,
  limits: Row<"feature_operation_limits"> | undefined,
): LimitedRow {
  if (!limits) return { ...row, early: null };
  const { lower_limit_mm, upper_limit_mm, target_mm, nominal, nominal_mm } = limits;
  return {
    ...row,
    lower_limit_mm,
    upper_limit_mm,
    target_mm,
    ...(nominal !== null && { nominal, nominal_mm: nominal_mm! }),
    early: earlyLimits(row, limits),
  };
}

export function earlyLimits(
  final: Pick<Row<"feature">, "lower_limit_mm" | "upper_limit_mm">,
  limits: Pick<Row<"feature_operation_limits">, "operation" | "reason" | "growth_mm">,
): EarlyLimits {
  return {
    operation: limits.operation,
    reason: limits.reason,
    finalLowerPm: optionalPm(final.lower_limit_mm),
    finalUpperPm: optionalPm(final.upper_limit_mm),
    growthPm: optionalPm(limits.growth_mm),
  };
}

/**
 * Features that are linked by a tool or a work offset, in the part's order; one that nothing moves stands alone, and so does
 * one that is no size: the estimator knows lengths only.
 */
export function groupFeatures(
  features: readonly LimitedRow[],
  cuts: readonly Row<"feature_cut">[],
): LimitedRow[][] {
  const linksOf = new Map<string, string[]>();
  for (const cut of cuts) {
    const link = cut.tool_id === null ? `register ${cut.register_id}` : `tool ${cut.tool_id}`;
    linksOf.set(cut.feature_id, [...(linksOf.get(cut.feature_id) ?? []), link]);
  }
  const groups: { links: Set<string>; features: LimitedRow[] }[] = [];
  for (const feature of features) {
    const links = new Set(isSize(feature.kind) ? (linksOf.get(feature.feature_id) ?? []) : []);
    const joined = groups.filter((group) => [...group.links].some((link) => links.has(link)));
    const merged = {
      links: new Set([...joined.flatMap((group) => [...group.links]), ...links]),
      features: [...joined.flatMap((group) => group.features), feature].sort(
        (a, b) => a.position - b.position,
      ),
    };
    for (const group of joined) groups.splice(groups.indexOf(group), 1);
    groups.push(merged);
  }
  return groups.map((group) => group.features);
}

export function featureView(
  row: PlacedRow,
  part: Row<"part">,
  group: readonly Row<"feature">[],
  cuts: readonly Row<"feature_cut">[],
  block: number,
  index: number,
): FeatureView {
  const rule = row.decision_rule ?? part.decision_rule;
  const guard_band_factor = row.guard_band_factor ?? part.guard_band_factor;
  const ruled = ruledFeature({ ...row, rule, guard_band_factor, part_unit: part.unit }, row.early);
  const mine = cuts.filter((cut) => cut.feature_id === row.feature_id);
  return {
    ...ruled,
    featureId: row.feature_id,
    name: row.name,
    programmedPm: programmedSize(row),
    roomMm: roomOf(ruled).roomMm,
    importance: row.importance,
    gaugeId: row.gauge_id,
    referenceGaugeId: row.reference_gauge_id,
    patternName: row.pattern_name,
    places: row.places,
    place: row.place,
    movable: mine.length > 0,
    steps: mine.flatMap(({ register_id, step_mm, effect }) =>
      register_id === null || step_mm === null
        ? []
        : [{ registerId: register_id, stepPm: fromNumeric(step_mm), effect: effect! }],
    ),
    position: row.position,
    earlierOfPattern: isEarlierOfPattern(row, group),
    at:
      row.at_x_mm === null || row.at_y_mm === null || row.at_z_mm === null
        ? undefined
        : [Number(row.at_x_mm), Number(row.at_y_mm), Number(row.at_z_mm)],
    axis: row.axis,
    depthPm: optionalPm(row.depth_mm),
    oneWalled: cuts.some((cut) => cut.feature_id === row.feature_id && cut.walls === 1),
    block,
    index,
  };
}

/** Columns of a feature that decide about its readings, with what its part says where it says nothing itself. */
export type RuledRow = Pick<
  Row<"feature">,
  | "characteristic"
  | "kind"
  | "nominal_mm"
  | "lower_limit_mm"
  | "upper_limit_mm"
  | "target_mm"
  | "material_condition"
  | "size_characteristic"
  | "size_kind"
  | "size_lower_limit_mm"
  | "size_upper_limit_mm"
  | "gauged"
  | "thread_standard"
  | "rework"
  | "geometric_characteristic"
> & { rule: DecisionRule; guard_band_factor: number; part_unit: "mm" | "inch" };

export function ruledFeature(row: RuledRow, early: EarlyLimits | null = null): RuledFeature {
  return {
    characteristic: row.characteristic,
    kind: row.kind,
    unit: shownUnitOf(row.kind, row.part_unit),
    nominalPm: fromNumeric(row.nominal_mm),
    lowerPm: optionalPm(row.lower_limit_mm),
    upperPm: optionalPm(row.upper_limit_mm),
    targetPm: fromNumeric(row.target_mm),
    rule: row.rule,
    guardBandFactor: row.guard_band_factor,
    condition:
      row.material_condition === null
        ? undefined
        : {
            condition: row.material_condition,
            size: {
              kind: row.size_kind!,
              lowerPm: fromNumeric(row.size_lower_limit_mm!),
              upperPm: fromNumeric(row.size_upper_limit_mm!),
            },
            characteristic: row.size_characteristic,
          },
    gauged: row.gauged,
    threadStandard: row.thread_standard,
    rework: row.rework,
    early,
    geometric: row.geometric_characteristic,
  };
}

/**
 * Size that a programme is taken to aim at before anything is known: the middle of the limits, with one limit the nominal
 * size (common practice, no source).
 */
export function programmedSize(row: Row<"feature">): number {
  const { lower_limit_mm: lower, upper_limit_mm: upper } = row;
  if (lower === null || upper === null) return fromNumeric(row.nominal_mm);
  return Math.round((fromNumeric(lower) + fromNumeric(upper)) / 2);
}

export function isEarlierOfPattern(row: Row<"feature">, group: readonly Row<"feature">[]): boolean {
  return (
    row.pattern_name !== null &&
    group.some(
      (other) =>
        other.pattern_name === row.pattern_name && (other.pattern_order ?? 0) > (row.pattern_order ?? 0),
    )
  );
}
