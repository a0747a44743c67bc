import { formatLength, type LengthUnit, toNumeric } from "../../core/quantity.js";
import {
  decideLimits,
  type Limits,
  type LimitsFault,
  limitsFromDeviations,
} from "../../core/tolerance/limits.js";
import { deriveEffect } from "../../core/wear-offset/derive-effect.js";
import type { Db } from "../../db/client.js";
import { lengthPm } from "../../http/lengths.js";
import type { FieldError } from "../../http/problem.js";
import type { Length } from "../../http/types.js";
import { listGauges, listRegisters, listTools } from "./queries.js";
import type { CutCreate, Feature, FeatureCreate } from "./schemas.js";

/** The registers, tools and gauges that features refer to, by their ids. */
export interface Shop {
  registers: Map<string, Awaited<ReturnType<typeof listRegisters>>[number]>;
  tools: Set<string>;
  gauges: Set<string>;
}

export async function loadShop(
  db: Db,
  features: readonly { cut_by?: CutCreate[] | undefined; gauge_id?: string | null | undefined }[],
): Promise<Shop> {
  const cuts = features.flatMap(({ cut_by }) => cut_by ?? []);
  const registers = await listRegisters(db, present(cuts.map(({ register_id }) => register_id)));
  const tools = await listTools(db, present(cuts.map(({ tool_id }) => tool_id)));
  const gauges = await listGauges(db, present(features.map(({ gauge_id }) => gauge_id)));
  return {
    registers: new Map(registers.map((register) => [register.register_id, register])),
    tools: new Set(tools.map(({ tool_id }) => tool_id)),
    gauges: new Set(gauges.map(({ gauge_id }) => gauge_id)),
  };
}

function present(ids: readonly (string | null | undefined)[]): string[] {
  return ids.filter((id) => id !== null && id !== undefined);
}

/** The limits of a feature as columns, or what cannot be about them. */
export function checkLimits(feature: FeatureCreate, unit: LengthUnit, pointer: string) {
  const nominalPm = lengthPm(feature.nominal, unit);
  if (nominalPm <= 0 && (feature.kind === "external" || feature.kind === "internal")) {
    return [
      {
        pointer: `${pointer}/nominal`,
        detail: `${formatLength(nominalPm, unit)} is no size of an ${feature.kind} feature: send one above 0`,
      },
    ];
  }
  const { lower_deviation, upper_deviation } = feature;
  const given =
    isGiven(lower_deviation) && isGiven(upper_deviation)
      ? limitsFromDeviations(nominalPm, lengthPm(lower_deviation, unit), lengthPm(upper_deviation, unit))
      : { lowerPm: optionalPm(feature.lower_limit, unit), upperPm: optionalPm(feature.upper_limit, unit) };
  const target = optionalPm(feature.target, unit);
  const limits = decideLimits(given.lowerPm, given.upperPm, target);
  if (typeof limits !== "string") {
    return {
      nominal: nominalText(feature.nominal),
      nominal_mm: toNumeric(nominalPm),
      ...limitColumns(limits),
    };
  }
  const upper = isGiven(upper_deviation) ? "upper_deviation" : "upper_limit";
  const field = limits === "crossed" ? upper : "target";
  return [
    { pointer: `${pointer}/${field}`, detail: explainLimits(limits, { ...given, targetPm: target }, unit) },
  ];
}

export function explainLimits(
  fault: LimitsFault,
  {
    lowerPm,
    upperPm,
    targetPm = 0,
  }: { lowerPm: number | undefined; upperPm: number | undefined; targetPm: number | undefined },
  unit: LengthUnit,
): string {
  const lower = lowerPm === undefined ? undefined : formatLength(lowerPm, unit);
  const upper = upperPm === undefined ? undefined : formatLength(upperPm, unit);
  if (fault === "crossed")
    return `the upper limit ${upper} is not above the lower limit ${lower}: check sign and order`;
  const inside =
    lower && upper ? `between ${lower} and ${upper}` : lower ? `above ${lower}` : `below ${upper}`;
  return `${formatLength(targetPm, unit)} is no size to aim at: send one ${inside}`;
}

function limitColumns({ lowerPm, upperPm, targetPm }: Limits) {
  return {
    lower_limit_mm: lowerPm === undefined ? null : toNumeric(lowerPm),
    upper_limit_mm: upperPm === undefined ? null : toNumeric(upperPm),
    target_mm: toNumeric(targetPm),
  };
}

/** What cuts a feature as columns, or what cannot be about it. */
export function checkCuts(cuts: readonly CutCreate[], kind: Feature["kind"], shop: Shop, pointer: string) {
  const checked = cuts.map((cut, i) => checkCut(cut, kind, shop, `${pointer}/cut_by/${i}`));
  const faults = checked.filter((cut): cut is FieldError => "pointer" in cut);
  if (faults.length > 0) return { faults };
  return { cuts: checked.flatMap((cut, position) => ("pointer" in cut ? [] : [{ ...cut, position }])) };
}

function checkCut(cut: CutCreate, kind: Feature["kind"], shop: Shop, pointer: string) {
  const { register_id = null, tool_id = null, walls = null, plus_makes = null, effect = null } = cut;
  if (tool_id !== null && !shop.tools.has(tool_id)) {
    return { pointer: `${pointer}/tool_id`, detail: `there is no tool ${tool_id}: GET /v1/tools lists them` };
  }
  if (register_id === null) {
    return { tool_id: tool_id ?? "", register_id, walls, plus_makes, effect };
  }
  const register = shop.registers.get(register_id);
  if (!register) {
    return {
      pointer: `${pointer}/register_id`,
      detail: `there is no register ${register_id}: GET /v1/tools lists the tools with their registers`,
    };
  }
  if (tool_id !== null && tool_id !== register.tool_id) {
    return {
      pointer: `${pointer}/tool_id`,
      detail: `register "${register.label}" belongs to tool ${register.tool_id}, not ${tool_id}: leave tool_id out`,
    };
  }
  const { machine_kind, label, controls, holds, sign } = register;
  const derived = deriveEffect({
    machineKind: machine_kind,
    featureKind: kind,
    walls,
    register: { label, controls, holds, sign },
    plusMakes: plus_makes,
    effect,
  });
  if (typeof derived !== "number") return { pointer: `${pointer}/${derived.field}`, detail: derived.detail };
  return { tool_id: register.tool_id, register_id, walls, plus_makes, effect: derived };
}

export function checkGauge(gaugeId: string | null | undefined, shop: Shop, pointer: string): FieldError[] {
  if (!isGiven(gaugeId) || shop.gauges.has(gaugeId)) return [];
  return [
    { pointer: `${pointer}/gauge_id`, detail: `there is no gauge ${gaugeId}: GET /v1/gauges lists them` },
  ];
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

function optionalPm(value: Length | null | undefined, unit: LengthUnit): number | undefined {
  return isGiven(value) ? lengthPm(value, unit) : undefined;
}

function isGiven<Value>(value: Value): value is NonNullable<Value> {
  return value !== null && value !== undefined;
}
