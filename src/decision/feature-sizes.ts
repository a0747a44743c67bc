import { fromNumeric } from "../core/quantity.js";
import { bonusTolerance } from "../core/tolerance/material-condition.js";
import type { BatchWork } from "./batch-work.js";
import type { FeatureCondition } from "./feature-view.js";
import { judgedSizePm } from "./learned-deviation.js";
import { listLatestSizes } from "./reading-queries.js";
import type { Drain, Placed } from "./take-readings.js";

/** True for a position at maximum or least material that came without the size of its feature. */
export function needsSize({ feature: { condition }, measured }: Placed): boolean {
  return condition !== undefined && measured.sizePm !== undefined && measured.featureSizePm === undefined;
}

/**
 * Gives positions that came without a size the one read last on the same piece and cut, in this drain or before it. Of several
 * places the size that earns the least counts. A size that comes later changes nothing: the position is then sent again.
 */
export async function withSizes(drain: Drain, work: BatchWork, items: readonly Placed[]): Promise<Placed[]> {
  const lacking = items.flatMap((item) => {
    const { condition } = item.feature;
    const named = work.view.featureByCharacteristic.get(condition?.characteristic ?? "");
    if (!condition || !named) return [];
    const { piece, cut = 1 } = item.input;
    return [{ item, condition, at: { batchId: work.view.batchId, featureId: named.featureId, piece, cut } }];
  });
  if (lacking.length === 0) return [...items];
  const stored = await listLatestSizes(
    drain.db,
    lacking.map(({ at }) => at),
  );
  const found = new Map(
    lacking.map(({ item, condition, at }, i) => {
      const sizes = new Map(stored[i]!.map(({ place, value_mm }) => [place, fromNumeric(value_mm)]));
      for (const row of work.readings) {
        const isIt = row.feature_id === at.featureId && row.piece === at.piece && row.cut === at.cut;
        if (isIt && row.value_mm !== null && !row.flags.includes("implausible")) {
          sizes.set(row.place, judgedSizePm(row)!);
        }
      }
      return [item, leastEarning([...sizes.values()], condition)];
    }),
  );
  return items.map((item) => {
    const featureSizePm = found.get(item);
    return featureSizePm === undefined ? item : { ...item, measured: { ...item.measured, featureSizePm } };
  });
}

/** The size that earns least, one outside its limits nothing; undefined: there is none. */
function leastEarning(sizes: readonly number[], { condition, size }: FeatureCondition): number | undefined {
  const earned = (sizePm: number) => bonusTolerance(sizePm, size, condition).bonusPm ?? -1;
  return sizes.length === 0 ? undefined : sizes.reduce((a, b) => (earned(b) < earned(a) ? b : a));
}
