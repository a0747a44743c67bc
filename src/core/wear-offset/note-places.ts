import { judgeDifference } from "../tolerance/places.js";
import type { Block } from "./block.js";
import type { Progress } from "./progress.js";

/** Keeps what the places of a feature measured on a piece where there were several. */
export function notePlaces(
  block: Block,
  progress: Progress,
  piece: number,
  settled: readonly { feature: number; sizePm: number; cut: number; readingNos: readonly number[] }[],
): void {
  const byFeature = new Map<string, (typeof settled)[number][]>();
  for (const item of settled) {
    const { featureId, place } = block.features[item.feature]!;
    if (place !== undefined) byFeature.set(featureId, [...(byFeature.get(featureId) ?? []), item]);
  }
  for (const [featureId, items] of byFeature) {
    if (items.length < 2) continue;
    const sizes = items.map(({ feature, sizePm }) => ({ feature, sizePm }));
    const { lowerPm, upperPm } = block.features[sizes[0]!.feature]!;
    const width = lowerPm === undefined || upperPm === undefined ? undefined : upperPm - lowerPm;
    const all = sizes.map(({ sizePm }) => sizePm);
    const wide = judgeDifference(Math.max(...all) - Math.min(...all), width) !== "within";
    const before = progress.places[featureId]?.wideSince ?? null;
    progress.places[featureId] = {
      piece,
      sizes,
      wideSince: wide ? (before ?? piece) : null,
      confirmed: before !== null || items.some(({ cut, readingNos }) => cut > 1 || readingNos.length > 1),
    };
  }
}
