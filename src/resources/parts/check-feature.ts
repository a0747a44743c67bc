import { deriveEffect } from "../../core/wear-offset/derive-effect.js";
import type { Db } from "../../db/client.js";
import type { FieldError } from "../../http/problem.js";
import { listGauges, listRegisters, listTools } from "./queries.js";
import type { CutCreate, Feature } from "./schemas.js";

/** The registers, tools and gauges that features refer to, by their ids. */
export interface Shop {
  registers: Map<string, Awaited<ReturnType<typeof listRegisters>>[number]>;
  tools: Set<string>;
  /** Whether each may prove a size. */
  gauges: Map<string, boolean>;
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
    gauges: new Map(gauges.map(({ gauge_id, reference }) => [gauge_id, reference])),
  };
}

function present(ids: readonly (string | null | undefined)[]): string[] {
  return ids.filter((id) => id !== null && id !== undefined);
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

export function checkGauges(named: GaugesNamed, shop: Shop, pointer: string): FieldError[] {
  const { gauge_id, reference_gauge_id } = named;
  const faults = [
    ...checkGauge(gauge_id, shop, `${pointer}/gauge_id`),
    ...checkGauge(reference_gauge_id, shop, `${pointer}/reference_gauge_id`),
  ];
  if (reference_gauge_id && shop.gauges.get(reference_gauge_id) === false) {
    faults.push({
      pointer: `${pointer}/reference_gauge_id`,
      detail: `gauge ${reference_gauge_id} may not prove a size ("reference" is false): name one that may, or leave it out`,
    });
  }
  return faults;
}

function checkGauge(gaugeId: string | null | undefined, shop: Shop, pointer: string): FieldError[] {
  if (gaugeId === null || gaugeId === undefined || shop.gauges.has(gaugeId)) return [];
  return [{ pointer, detail: `there is no gauge ${gaugeId}: GET /v1/gauges lists them` }];
}
