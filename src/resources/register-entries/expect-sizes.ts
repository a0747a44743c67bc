import { showMm, toUnit } from "../../core/quantity.js";
import { forecastFeature } from "../../core/wear-offset/forecast.js";
import { latestReading, offsetsOf, type Progress } from "../../core/wear-offset/progress.js";
import { progressAt } from "../../decision/advise.js";
import { sizeWithOthers } from "../../decision/advise-register.js";
import type { BatchView, BlockView } from "../../decision/batch-view.js";
import type { FeatureView } from "../../decision/feature-view.js";
import { nameFeature, sayPm } from "../../decision/words.js";

export interface ExpectedSize {
  feature_id: string;
  characteristic: string;
  place: string | null;
  size: number | null;
  unit: "mm" | "inch";
  from_latest_reading: number | null;
}

/**
 * What the features that a register moves come out at with a value in it: by the forecast, and by the latest reading alone,
 *   size of that reading + Σ effect · (value now − value it was cut with).
 * @param piece the first piece to be cut with the value
 */
export function expectSizes(
  view: BatchView,
  registerId: string,
  valuePm: number,
  piece: number,
): { expected: ExpectedSize[]; warnings: string[] } {
  const blockNo = view.blocks.findIndex(({ block }) =>
    block.registers.some((register) => register.registerId === registerId),
  );
  const blockView = view.blocks[blockNo];
  if (!blockView) return { expected: [], warnings: [] };
  const r = blockView.block.registers.findIndex((register) => register.registerId === registerId);
  const progress = progressAt(blockView, piece);
  const expected: ExpectedSize[] = [];
  const warnings: string[] = [];
  for (const feature of view.features) {
    const effect = blockView.block.features[feature.index]?.effects[r] ?? 0;
    if (feature.block !== blockNo || effect === 0) continue;
    const latestPm = sizeFromLatest(blockView, progress, feature, r, effect, valuePm);
    expected.push({
      feature_id: feature.featureId,
      characteristic: feature.characteristic,
      place: feature.place,
      size: forecastSize(view, blockView, progress, feature, r, valuePm, piece),
      unit: view.part.unit,
      from_latest_reading: latestPm === undefined ? null : toUnit(latestPm, view.part.unit),
    });
    const warning = latestPm === undefined ? undefined : explainOutside(feature, latestPm, view.part.unit);
    if (warning !== undefined) warnings.push(warning);
  }
  return { expected, warnings };
}

/** Exact; undefined where the running edge has no reading of the feature. */
function sizeFromLatest(
  { block }: BlockView,
  progress: Progress,
  feature: FeatureView,
  r: number,
  effect: number,
  valuePm: number,
): number | undefined {
  const latest = latestReading(block, progress, feature.index);
  const tool = block.registers[r]?.tool;
  const cutWithPm = latest?.valuesPm[r];
  if (!latest || tool === undefined || cutWithPm === undefined) return undefined;
  if (latest.piece < (progress.estimate.edgeFrom[tool] ?? 0)) return undefined;
  const { effects } = block.features[feature.index]!;
  return Math.round(sizeWithOthers(effects, r, latest, progress) + effect * (valuePm - cutWithPm));
}

/** Null where nothing is known of how the tool cuts: neither from this batch nor from one before. */
function forecastSize(
  view: BatchView,
  { block, journal }: BlockView,
  progress: Progress,
  feature: FeatureView,
  r: number,
  valuePm: number,
  piece: number,
): number | null {
  const register = progress.registers[r];
  if (!register || (progress.measuredPieces === 0 && journal.start[r]?.carried === undefined)) return null;
  const offsets = offsetsOf(progress).map((offset, other) =>
    other === r ? (valuePm - register.zeroPm) / 1e9 : offset,
  );
  const ahead = piece - progress.estimate.piece;
  const { expectedDeviation } = forecastFeature(block, progress.estimate, feature.index, ahead, offsets);
  return showMm(feature.programmedPm / 1e9 + expectedDeviation, view.part.unit);
}

function explainOutside(feature: FeatureView, sizePm: number, unit: "mm" | "inch"): string | undefined {
  const { lowerPm, upperPm } = feature;
  const say = (beyondPm: number, side: string, limitPm: number) =>
    `With this value ${nameFeature(feature)} would come out at ${sayPm(sizePm, unit)}, ${sayPm(beyondPm, unit)} ${side} limit of ${sayPm(limitPm, unit)}. ` +
    "Look at the control before the next piece: sign, decimal point, and whether it added the number or put it in the old one's place.";
  if (upperPm !== undefined && sizePm > upperPm) return say(sizePm - upperPm, "above its upper", upperPm);
  if (lowerPm !== undefined && sizePm < lowerPm) return say(lowerPm - sizePm, "below its lower", lowerPm);
  return undefined;
}
