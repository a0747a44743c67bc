import { isSize } from "../../core/feature-kind.js";
import { deriveEffect } from "../../core/wear-offset/derive-effect.js";
import type { Db } from "../../db/client.js";
import { whyUnsuited } from "../../decision/gauge-suits.js";
import { storeLength } from "../../http/lengths.js";
import type { FieldError } from "../../http/problem.js";
import { listGauges, listRegisters, listTools } from "./queries.js";
import type { CutCreate, Feature } from "./schemas.js";

/** The registers, tools and gauges that features refer to, by their ids. */
export interface Shop {
  registers: Map<string, Awaited<ReturnType<typeof listRegisters>>[number]>;
  tools: Set<string>;
  gauges: Map<string, Awaited<ReturnType<typeof listGauges>>[number]>;
}

interface GaugesNamed {
  gauge_id?: string | null | undefined;
  reference_gauge_id?: string | null | undefined;
}

export async function loadShop(
  db: Db,
  features: readonly ({ cut_by?: CutCreate[] | undefined } & GaugesNamed)[],
): Promise<Shop> {
  const cuts = features.flatMap(({ cut_by }) => cut_by ?? []);
  const registers = await listRegisters(db, present(cuts.map(({ register_id }) => register_id)));
  const tools = await listTools(db, present(cuts.map(({ tool_id }) => tool_id)));
  const gauges = await listGauges(
    db,
    present(features.flatMap(({ gauge_id, reference_gauge_id }) => [gauge_id, reference_gauge_id])),
  );
  return {
    registers: new Map(registers.map((register) => [register.register_id, register])),
    tools: new Set(tools.map(({ tool_id }) => tool_id)),
    gauges: new Map(gauges.map((gauge) => [gauge.gauge_id, gauge])),
  };
}

function present(ids: readonly (string | null | undefined)[]): string[] {
  return ids.filter((id) => id !== null && id !== undefined);
}

/** What cuts a feature as columns, or what cannot be about it. */
export function checkCuts(
  cuts: readonly CutCreate[],
  feature: Pick<Feature, "kind" | "gauged">,
  shop: Shop,
  pointer: string,
) {
  const checked = cuts.map((cut, i) => checkCut(cut, feature, shop, `${pointer}/cut_by/${i}`));
  const faults = checked.filter((cut): cut is FieldError => "pointer" in cut);
  if (faults.length > 0) return { faults };
  return { cuts: checked.flatMap((cut, position) => ("pointer" in cut ? [] : [{ ...cut, position }])) };
}

function checkCut(cut: CutCreate, feature: Pick<Feature, "kind" | "gauged">, shop: Shop, pointer: string) {
  const { register_id = null, tool_id = null, walls = null, plus_makes = null, effect = null } = cut;
  const step = cut.step ?? null;
  if (tool_id !== null && !shop.tools.has(tool_id)) {
    return { pointer: `${pointer}/tool_id`, detail: `there is no tool ${tool_id}: GET /v1/tools lists them` };
  }
  if (register_id === null) {
    return { tool_id: tool_id ?? "", register_id, walls, plus_makes, effect, step_mm: null };
  }
  const register = shop.registers.get(register_id);
  if (!register) {
    return {
      pointer: `${pointer}/register_id`,
      detail: `there is no register ${register_id}: GET /v1/machines/{machine_id}/registers lists those of a machine`,
    };
  }
  if (tool_id !== null && tool_id !== register.tool_id) {
    const owner =
      register.tool_id === null
        ? "is a work offset, which no tool carries"
        : `belongs to tool ${register.tool_id}`;
    return {
      pointer: `${pointer}/tool_id`,
      detail: `register "${register.label}" ${owner}, not ${tool_id}: leave tool_id out`,
    };
  }
  const { machine_kind, machine_unit, label, controls, holds, sign } = register;
  const { kind, gauged } = feature;
  if (step !== null && kind !== "go_no_go") {
    return {
      pointer: `${pointer}/step`,
      detail: `a step is tried where a gauge refuses, and a ${kind} is measured: leave it out`,
    };
  }
  if (!isSize(kind) && step === null) {
    const stray = (["walls", "plus_makes", "effect"] as const).find((field) => isGiven(cut[field]));
    if (!stray) return { tool_id: register.tool_id, register_id, walls, plus_makes, effect, step_mm: null };
    return {
      pointer: `${pointer}/${stray}`,
      detail: `says how a register moves a size, and a ${kind} steers none: leave it out. The register may stand here, so that a change of it calls for a check`,
    };
  }
  const inside = gauged === "bore" || gauged === "internal_thread";
  const derived = deriveEffect({
    machineKind: machine_kind,
    featureKind: isSize(kind) ? kind : inside ? "internal" : "external",
    walls: isSize(kind) ? walls : (walls ?? 2),
    register: { label, controls, holds, sign },
    plusMakes: plus_makes,
    effect,
  });
  if (typeof derived !== "number") return { pointer: `${pointer}/${derived.field}`, detail: derived.detail };
  const step_mm = storeLength(step, machine_unit);
  return { tool_id: register.tool_id, register_id, walls, plus_makes, effect: derived, step_mm };
}

function isGiven(value: unknown): boolean {
  return value !== null && value !== undefined;
}

/** @param feature what the gauges are to measure */
export function checkGauges(
  named: GaugesNamed,
  feature: Pick<Feature, "kind" | "characteristic">,
  shop: Shop,
  pointer: string,
): FieldError[] {
  const { gauge_id, reference_gauge_id } = named;
  const faults = [
    ...checkGauge(gauge_id, feature, shop, `${pointer}/gauge_id`),
    ...checkGauge(reference_gauge_id, feature, shop, `${pointer}/reference_gauge_id`),
  ];
  if (reference_gauge_id && shop.gauges.get(reference_gauge_id)?.reference === false) {
    faults.push({
      pointer: `${pointer}/reference_gauge_id`,
      detail: `gauge ${reference_gauge_id} may not prove a size ("reference" is false): name one that may, or leave it out`,
    });
  }
  return faults;
}

function checkGauge(
  gaugeId: string | null | undefined,
  feature: Pick<Feature, "kind" | "characteristic">,
  shop: Shop,
  pointer: string,
): FieldError[] {
  if (gaugeId === null || gaugeId === undefined) return [];
  const gauge = shop.gauges.get(gaugeId);
  if (!gauge) return [{ pointer, detail: `there is no gauge ${gaugeId}: GET /v1/gauges lists them` }];
  const unsuited = whyUnsuited(feature, { ...gauge, showsNumber: gauge.resolution_mm !== null });
  return unsuited === undefined ? [] : [{ pointer, detail: unsuited }];
}
