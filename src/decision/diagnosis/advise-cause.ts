import type { Circumstances, KeyedChange } from "../../core/diagnosis/causes.js";
import { diagnose } from "../../core/diagnosis/diagnose.js";
import { expectedDeviation, type Source } from "../../core/wear-offset/estimate.js";
import { copyProgress, latestReading, offsetsOf, takeJournal } from "../../core/wear-offset/progress.js";
import type { BatchView, BlockView } from "../batch-view.js";
import type { FeatureView } from "../feature-view.js";
import { CauseSpeaker, type SaidCause } from "./say-cause.js";
import { type DiagnosedReading, diagnosedBatch, observe } from "./subject.js";

const mostCauses = 4;
const leastWeight = 0.02;

/**
 * What a jump most likely comes from, by what is at hand when advice is given: all that was read on the odd piece, in
 * whatever block, against what was expected of it.
 */
export function causesOfJump(view: BatchView, piece: number): SaidCause[] {
  const gaugeIds = gaugesOf(view);
  const readings = view.blocks.flatMap((blockView, blockNo) => {
    const { block, journal, cache } = blockView;
    if (cache.piece !== piece) return [];
    const before = copyProgress(cache.before);
    takeJournal(block, journal, before, piece);
    const offsets = offsetsOf(before);
    return cache.readings
      .filter((reading) => reading.cut === 1 && reading.steers)
      .map((reading): DiagnosedReading => {
        const { programmedPm, hasReference } = block.features[reading.feature]!;
        const { gauge } = reading;
        // What is known of a gauge that only steers is no news of it.
        const other = hasReference && gauge && !gauge.reference ? [{ gauge, weight: 1 }] : undefined;
        const source: Source = { seat: reading.seat, gauges: other };
        const expected = expectedDeviation(block, before.estimate, reading.feature, offsets, source);
        const feature = featureOf(view, blockNo, reading.feature);
        const gaugeId = gauge?.id ?? feature.referenceGaugeId ?? feature.gaugeId;
        return {
          ...reached(feature, reading.gaugeVariance, view, gaugeIds.indexOf(gaugeId ?? "")),
          piece,
          seat: reading.seat === undefined ? null : view.seats[reading.seat]!,
          deviationMm: (reading.sizePm - programmedPm) / 1e9 - expected,
        };
      });
  });
  return say(view, readings, { since: undefined, coldFrom: 1, changes: openChanges(view, piece) });
}

/** The same where features that one register moves disagree: what was read last of each, as it would come out now. */
export function causesOfDisagreement(view: BatchView): SaidCause[] {
  const gaugeIds = gaugesOf(view);
  const readings = view.features.flatMap((feature): DiagnosedReading[] => {
    const { block, cache } = view.blocks[feature.block]!;
    const latest = latestReading(block, cache.after, feature.index);
    if (!latest) return [];
    const { effects } = block.features[feature.index]!;
    const sizePm = effects.reduce(
      (size, effect, r) => size + effect * (cache.after.registers[r]!.valuePm - latest.valuesPm[r]!),
      latest.sizePm,
    );
    // One piece speaks for the state: what changed between the pieces is not looked at here.
    return [
      {
        ...reached(feature, 0, view, gaugeIds.indexOf(feature.gaugeId ?? "")),
        piece: 1,
        deviationMm: (sizePm - feature.targetPm) / 1e9,
      },
    ];
  });
  return say(view, readings, { since: undefined, coldFrom: 1, changes: [] });
}

function say(
  view: BatchView,
  readings: readonly DiagnosedReading[],
  circumstances: Circumstances,
): SaidCause[] {
  const gaugeIds = gaugesOf(view);
  const gauges = gaugeIds.map((gauge_id) => ({ gauge_id, name: "the gauge", kind: "other" }));
  const batch = diagnosedBatch(view, gauges, "target");
  const observations = observe(batch, readings);
  const { causes, chi2, alike } = diagnose(batch.subject, observations, circumstances);
  if (alike === 0) return [];
  const speaker = new CauseSpeaker(batch, observations, chi2);
  return causes
    .filter(({ weight }, i) => i < alike || weight >= leastWeight)
    .slice(0, mostCauses)
    .map((cause) => speaker.say(cause));
}

/** Gauges that features name. */
function gaugesOf(view: BatchView): string[] {
  const named = view.features.flatMap(({ gaugeId, referenceGaugeId }) => [gaugeId, referenceGaugeId]);
  return [...new Set(named.filter((id) => id !== null))];
}

function reached(feature: FeatureView, gaugeVariance: number, view: BatchView, gauge: number) {
  const { roomMm } = view.blocks[feature.block]!.block.features[feature.index]!;
  return {
    feature,
    component: "size" as const,
    gauge,
    seat: null,
    // What is kept of an accepted reading has no variance of its own: a hundredth of the room keeps the sums well.
    readingMm2: Math.max(gaugeVariance, (0.01 * roomMm) ** 2),
  };
}

function featureOf(view: BatchView, block: number, index: number): FeatureView {
  return view.features.find((feature) => feature.block === block && feature.index === index)!;
}

/** Changes of registers that no piece before this one has been measured with. */
function openChanges(view: BatchView, piece: number): KeyedChange[] {
  const numbers = new Map([...view.registers.keys()].map((id, r) => [id, r]));
  return view.blocks.flatMap((blockView) => changesOf(blockView, piece, numbers));
}

function changesOf(
  { block, journal, cache }: BlockView,
  piece: number,
  numbers: ReadonlyMap<string, number>,
): KeyedChange[] {
  if (cache.piece !== piece) return [];
  const before = copyProgress(cache.before);
  takeJournal(block, journal, before, piece);
  return before.registers.flatMap(({ openChangeMm }, r) =>
    openChangeMm === null
      ? []
      : [{ register: numbers.get(block.registers[r]!.registerId)!, piece, changeMm: openChangeMm }],
  );
}
