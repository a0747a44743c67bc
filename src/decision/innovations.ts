import type { Progress } from "../core/wear-offset/progress.js";
import type { Db } from "../db/client.js";
import type { BatchView } from "./batch-view.js";
import { fromStored } from "./batch-work.js";
import { emptyCache, followReadings } from "./block-cache.js";
import type { FeatureView } from "./feature-view.js";
import { findCheckpoint, listBlockReadings } from "./reading-queries.js";

/** What the state before a piece foresaw of it, mm; undefined of a piece of which it could say nothing. */
export interface Foreseen {
  meanMm: number;
  deviationMm: number;
}

/**
 * What was foreseen of the pieces of a feature, each by all that is known now of the pieces before it: followed from the last state
 * kept before the first of them, so that the cost does not grow with what lies before.
 */
export async function foresee(
  db: Db,
  view: BatchView,
  feature: FeatureView,
  fromPiece: number,
  toPiece: number,
): Promise<Map<number, Foreseen>> {
  const { block, journal } = view.blocks[feature.block]!;
  const checkpoint = await findCheckpoint(db, view.batchId, block.key, fromPiece);
  const from = checkpoint ? (JSON.parse(checkpoint.state) as Progress) : emptyCache(block, journal).after;
  const ids = block.features.map(({ featureId }) => featureId);
  const rows = await listBlockReadings(db, view.batchId, ids, checkpoint?.piece ?? 1);
  const readings = rows.flatMap((row) => (row.piece <= toPiece ? (fromStored(view, row) ?? []) : []));
  const { forecasts } = followReadings(block, journal, from, readings, 0);
  return new Map(
    [...forecasts].flatMap(([piece, list]) => {
      const mine = list.find((forecast) => forecast.feature === feature.index);
      return mine ? [[piece, { meanMm: mine.meanMm, deviationMm: mine.deviationMm }] as const] : [];
    }),
  );
}
