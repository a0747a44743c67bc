import type { NextCheck } from "../core/sampling/plan-checks.js";
import type { Progress } from "../core/wear-offset/progress.js";
import type { Db } from "../db/client.js";
import type { BatchView } from "./batch-view.js";
import { fromStored } from "./batch-work.js";
import { emptyCache, followReadings } from "./block-cache.js";
import { listCheckpointsAt, listReadingsBetween } from "./hold-queries.js";
import { nextCheckOf } from "./plan.js";

/** What the check plan asked for after a piece had been measured. */
export interface PlanAt {
  /** The piece measured. */
  after: number;
  next: NextCheck;
  goodInARow: number;
}

/**
 * The check plan of some blocks as it was after a measured piece: each block is followed from the last state stored before
 * it, at most a checkpoint's worth of pieces.
 * @param at by block number the piece measured
 */
export async function plansAt(
  db: Db,
  view: BatchView,
  at: ReadonlyMap<number, number>,
): Promise<Map<number, PlanAt>> {
  const wanted = [...at].map(([blockNo, piece]) => ({
    blockNo,
    blockKey: view.blocks[blockNo]!.block.key,
    piece,
  }));
  if (wanted.length === 0) return new Map();
  const checkpoints = await listCheckpointsAt(db, view.batchId, wanted);
  const stored = new Map(checkpoints.map((row) => [row.block_key, row]));
  const rows = await listReadingsBetween(
    db,
    view.batchId,
    wanted.flatMap(({ blockNo, blockKey, piece }) =>
      view.blocks[blockNo]!.block.features.map(({ featureId }) => ({
        featureId,
        from: stored.get(blockKey)?.piece ?? 1,
        to: piece,
      })),
    ),
  );
  return new Map(
    wanted.map(({ blockNo, blockKey, piece }) => {
      const { block, journal } = view.blocks[blockNo]!;
      const checkpoint = stored.get(blockKey);
      const from = checkpoint ? (JSON.parse(checkpoint.state) as Progress) : emptyCache(block, journal).after;
      const mine = rows.filter((row) => view.featureById.get(row.feature_id)!.block === blockNo);
      const readings = mine.flatMap((row) => fromStored(view, row) ?? []);
      const { cache } = followReadings(block, journal, from, readings, piece);
      return [
        blockNo,
        {
          after: piece,
          next: nextCheckOf(view, { block, journal, cache }),
          goodInARow: cache.after.goodInARow,
        },
      ];
    }),
  );
}
