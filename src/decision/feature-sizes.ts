import { fromNumeric } from "../core/quantity.js";
import type { BatchWork } from "./batch-work.js";
import { listLatestSizes } from "./queries.js";
import type { Drain, Placed } from "./take-readings.js";

/**
 * Gives positions at maximum or least material that came without a size the one read last on the same piece and cut: in this
 * request, in this drain, or stored. A size that comes later changes nothing: the position is then sent again.
 */
export async function withSizes(drain: Drain, work: BatchWork, items: readonly Placed[]): Promise<Placed[]> {
  const sizeFeatureOf = ({ feature, measured }: Placed): string | undefined => {
    if (measured.sizePm === undefined || measured.featureSizePm !== undefined) return undefined;
    const named = feature.condition?.characteristic;
    return named == null ? undefined : work.view.featureByCharacteristic.get(named)?.featureId;
  };
  const lacking = items.flatMap((item) => {
    const featureId = sizeFeatureOf(item);
    return featureId === undefined ? [] : [{ item, featureId }];
  });
  if (lacking.length === 0) return [...items];
  const inRequest = (featureId: string, piece: number, cut: number) =>
    items.findLast(
      ({ feature, input, measured }) =>
        feature.featureId === featureId &&
        input.piece === piece &&
        (input.cut ?? 1) === cut &&
        measured.sizePm !== undefined,
    )?.measured.sizePm;
  const inDrain = (featureId: string, piece: number, cut: number) => {
    const row = work.readings.findLast(
      (reading) =>
        reading.feature_id === featureId &&
        reading.piece === piece &&
        reading.cut === cut &&
        reading.value_mm !== null &&
        !reading.flags.includes("implausible"),
    );
    return row && fromNumeric(row.value_mm!);
  };
  const { batchId } = work.view;
  const wanted = lacking.map(({ item, featureId }) => {
    const { piece, cut = 1 } = item.input;
    return { batchId, featureId, piece, cut };
  });
  const stored = await listLatestSizes(drain.db, wanted);
  const sizes = new Map(
    lacking.map(({ item, featureId }, i) => {
      const { piece, cut } = wanted[i]!;
      const kept = stored[i];
      return [
        item,
        inRequest(featureId, piece, cut) ??
          inDrain(featureId, piece, cut) ??
          (kept == null ? undefined : fromNumeric(kept)),
      ];
    }),
  );
  return items.map((item) => {
    const featureSizePm = sizes.get(item);
    return featureSizePm === undefined ? item : { ...item, measured: { ...item.measured, featureSizePm } };
  });
}
