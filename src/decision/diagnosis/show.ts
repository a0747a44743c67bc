import type { diagnose, FittedCause } from "../../core/diagnosis/diagnose.js";
import type { Observation } from "../../core/diagnosis/observation.js";
import { isSize } from "../../core/feature-kind.js";
import { showMm, toUnit } from "../../core/quantity.js";
import { roundChange } from "../../core/wear-offset/limit-change.js";
import { type BatchView, valueAt } from "../batch-view.js";
import { sayList } from "../words.js";
import { causeNames } from "./say-cause.js";
import type { DiagnosedBatch } from "./subject.js";

/** What could be measured besides, by the gauge that each feature names. */
export function measurable({ view, gauges, subject }: DiagnosedBatch) {
  return view.features.flatMap((feature, f) => {
    if (!isSize(feature.kind) && feature.kind !== "position") return [];
    const components = feature.kind === "position" ? (["x", "y"] as const) : (["size"] as const);
    const gauge = gauges.findIndex((known) => known.gauge_id === feature.gaugeId);
    // The gauge has not read it yet: a tenth of the room stands for its variance.
    const readingMm2 = (0.1 * subject.features[f]!.roomMm) ** 2;
    return components.map((component) => ({ feature: f, component, gauge, readingMm2 }));
  });
}

/** By how much to correct the work offsets for a zero that is off, where it is clear which registers that are. */
export function offsetChanges(view: BatchView, { candidate, fit }: FittedCause, piece: number) {
  if (candidate.kind !== "work_zero") return [];
  const named = new Set(
    view.blocks.flatMap(({ block }) => (block.workOffsets ?? []).map(({ registerId }) => registerId)),
  );
  return candidate.columns.flatMap(({ amount }, j) => {
    if (amount.of !== "shift") return [];
    const controls = (["work_x", "work_y", "work_z"] as const)[amount.axis];
    const possible = [...view.registers.values()].filter(
      (register) =>
        register.controls === controls && (register.seat === null || register.seat === candidate.seat),
    );
    const used = possible.filter(({ registerId }) => named.has(registerId));
    const [register, other] = used.length > 0 ? used : possible;
    if (!register || other) return [];
    const now = register.values.at(-1)!.valuePm;
    // What has been entered since the last piece looked at has not shown in it yet.
    const entered = now - valueAt(view, register.registerId, piece, 1);
    const change = roundChange(-fit.amounts[j]! * 1e9 - entered, view.machine.leastIncrementPm);
    const { unit } = view.machine;
    if (change === 0) return [];
    return [
      {
        register_id: register.registerId,
        register_number: register.number,
        register_label: register.label,
        unit,
        value_now: toUnit(now, unit),
        change: toUnit(change, unit),
        value_after: toUnit(now + change, unit),
      },
    ];
  });
}

/** What stands out, in a sentence. */
export function sayWhy(
  observations: readonly Observation[],
  since: number | undefined,
  { causes, alike, pair }: ReturnType<typeof diagnose>,
): string {
  if (observations.length === 0)
    return "Nothing has been measured on these pieces: there is nothing to compare.";
  const pieces = observations.map(({ piece }) => piece);
  const [from, to] = [since ?? Math.min(...pieces), Math.max(...pieces)];
  const where = from >= to ? `piece ${to}` : `pieces ${from} to ${to}`;
  const what = `${observations.length} deviation${observations.length === 1 ? "" : "s"} of ${where} ${since === undefined ? "from target" : "against the pieces before"}`;
  const name = (cause: FittedCause) => causeNames[cause.candidate.kind];
  if (alike === 0) return `${what}: no cause stands out from scatter, and none should be chased.`;
  if (pair) return `${what}: no single cause explains them; ${sayList(pair.map(name))} together do best.`;
  if (alike > 1)
    return `${what}: ${sayList([...new Set(causes.slice(0, alike).map(name))])} cannot be told apart by what was measured.`;
  const rest = causes[0]!.explains ? "" : ", though it leaves more over than scatter";
  return `${what}: ${name(causes[0]!)} stands out${rest}.`;
}

/** What was looked at, on average over the pieces, beside what causes say of it. */
export function showDeviations(
  { view, gauges }: DiagnosedBatch,
  observations: readonly Observation[],
  since: number | undefined,
  causes: readonly FittedCause[],
) {
  const means = observations.map((_, i) => causes.reduce((sum, { explained }) => sum + explained[i]!, 0));
  const groups = new Map<string, number[]>();
  observations.forEach(({ feature, component, gauge, piece }, i) => {
    if (since !== undefined && piece < since) return;
    const key = `${feature}/${component}/${gauge}`;
    groups.set(key, [...(groups.get(key) ?? []), i]);
  });
  const mean = (list: readonly number[]) => list.reduce((sum, value) => sum + value, 0) / list.length;
  return [...groups.values()]
    .map((members) => {
      const first = observations[members[0]!]!;
      const feature = view.features[first.feature]!;
      // Against the pieces before, what the feature was off by then is no part of it.
      const earlier = observations.flatMap((o) =>
        since !== undefined &&
        o.piece < since &&
        o.feature === first.feature &&
        o.component === first.component
          ? [o.deviationMm]
          : [],
      );
      const off =
        mean(members.map((i) => observations[i]!.deviationMm)) - (earlier.length > 0 ? mean(earlier) : 0);
      const { unit } = view.part;
      return {
        order: first.feature,
        feature_id: feature.featureId,
        characteristic: feature.characteristic,
        place: feature.place,
        component: first.component,
        gauge_id: gauges[first.gauge]!.gauge_id,
        pieces: members.length,
        unit,
        deviation: showMm(off, unit),
        explained: causes.length > 0 ? showMm(mean(members.map((i) => means[i]!)), unit) : null,
      };
    })
    .sort((a, b) => a.order - b.order || a.component.localeCompare(b.component))
    .map(({ order: _, ...rest }) => rest);
}

/** What is not said of features that were looked at, and would let more causes be seen. */
export function missingOf({ view, subject }: DiagnosedBatch, observations: readonly Observation[]) {
  const seen = [...new Set(observations.map(({ feature }) => feature))].sort((a, b) => a - b);
  const byFeature = new Map<string, { feature_id: string; members: ("at" | "axis" | "depth")[] }>();
  for (const f of seen) {
    const { featureId, oneWalled, kind } = view.features[f]!;
    const { at, direction, depthMm, effects } = subject.features[f]!;
    const shifts = kind !== "external" && kind !== "internal" ? true : oneWalled;
    const cutSideways = [...effects.keys()].some((r) => subject.registers[r]!.controls === "radial");
    const members = [
      ...(at ? [] : (["at"] as const)),
      ...(direction || !shifts || kind === ("position" as string) ? [] : (["axis"] as const)),
      ...(depthMm !== undefined || !cutSideways ? [] : (["depth"] as const)),
    ];
    if (members.length > 0) byFeature.set(featureId, { feature_id: featureId, members });
  }
  return [...byFeature.values()];
}
