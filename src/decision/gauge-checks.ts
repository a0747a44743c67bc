import { fromNumeric } from "../core/quantity.js";
import { type CheckInForce, type GaugeState, gaugeStateBetween } from "../core/tolerance/gauge-check.js";
import type { CheckRow } from "./gauge-check-queries.js";
import type { GaugeView } from "./gauge-view.js";
import { widenGauge } from "./reduce-reading.js";

/** Checks of gauges on standards, by gauge, in the order of their times. */
export type KnownChecks = ReadonlyMap<string, readonly CheckRow[]>;

export function orderChecks(rows: readonly CheckRow[]): KnownChecks {
  const byGauge = new Map<string, CheckRow[]>();
  for (const row of rows) byGauge.set(row.gauge_id, [...(byGauge.get(row.gauge_id) ?? []), row]);
  for (const list of byGauge.values())
    list.sort((a, b) => Date.parse(a.checked_at) - Date.parse(b.checked_at));
  return byGauge;
}

function checkInForce(row: Omit<CheckRow, "gauge_id" | "checked_at">): CheckInForce {
  return {
    errorPm: fromNumeric(row.error_mm),
    allowedPm: fromNumeric(row.allowed_mm),
    directionKnown: row.direction_known,
    shift: row.shift,
    variance: row.variance,
  };
}

/** What a gauge's checks say of a reading taken at an instant. */
export function gaugeStateAt(checks: KnownChecks, gaugeId: string | null, instant: number): GaugeState {
  const list = checks.get(gaugeId ?? "") ?? [];
  const next = list.findIndex((row) => Date.parse(row.checked_at) > instant);
  const [before, after] = next < 0 ? [list.at(-1), undefined] : [list[next - 1], list[next]];
  return gaugeStateBetween(before && checkInForce(before), after && checkInForce(after));
}

/** A gauge as it counts while its error is taken off: what the check of it leaves unsure is added. */
export function withCheck(gauge: GaugeView, state: GaugeState): GaugeView {
  return state.variance === 0 ? gauge : widenGauge(gauge, Math.sqrt(state.variance));
}
