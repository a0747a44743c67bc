import type { NextCheck } from "../core/sampling/plan-checks.js";
import type { JournalReading, Progress } from "../core/wear-offset/progress.js";
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

/** A block by its number in the view, and a piece of it that was measured. */
interface BlockAt {
  blockNo: number;
  piece: number;
}

/**
 * The check plan of some blocks as it was after measured pieces, in the order asked for: each block is followed from the last
 * state stored before a piece, at most a checkpoint's worth of pieces.
 */
export async function plansAt(db: Db, view: BatchView, wanted: readonly BlockAt[]): Promise<PlanAt[]> {
  if (wanted.length === 0) return [];
  const keyOf = (blockNo: number) => view.blocks[blockNo]!.block.key;
  const stored = await listCheckpointsAt(
    db,
    view.batchId,
    wanted.map(({ blockNo, piece }) => ({ blockKey: keyOf(blockNo), piece })),
  );
  const starts = wanted.map(({ blockNo, piece }) =>
    stored
      .filter((row) => row.block_key === keyOf(blockNo) && row.piece <= piece)
      .reduce<(typeof stored)[number] | undefined>((a, b) => (a && a.piece >= b.piece ? a : b), undefined),
  );
  const ranges = new Map<number, { from: number; to: number }>();
  wanted.forEach(({ blockNo, piece }, i) => {
    const from = starts[i]?.piece ?? 1;
    const known = ranges.get(blockNo) ?? { from, to: piece };
    ranges.set(blockNo, { from: Math.min(known.from, from), to: Math.max(known.to, piece) });
  });
  const rows = await listReadingsBetween(
    db,
    view.batchId,
    [...ranges].flatMap(([blockNo, range]) =>
      view.blocks[blockNo]!.block.features.map(({ featureId }) => ({ featureId, ...range })),
    ),
  );
  const readings = new Map<number, JournalReading[]>();
  for (const row of rows) {
    const { block } = view.featureById.get(row.feature_id)!;
    const reading = fromStored(view, row);
    if (!reading) continue;
    const mine = readings.get(block);
    if (mine) mine.push(reading);
    else readings.set(block, [reading]);
  }
  return wanted.map(({ blockNo, piece }, i) => {
    const { block, journal } = view.blocks[blockNo]!;
    const start = starts[i];
    const from = start ? (JSON.parse(start.state) as Progress) : emptyCache(block, journal).after;
    const mine = (readings.get(blockNo) ?? []).filter(
      (reading) => reading.piece >= (start?.piece ?? 1) && reading.piece <= piece,
    );
    const { cache } = followReadings(block, journal, from, mine, piece);
    return {
      after: piece,
      next: nextCheckOf(view, { block, journal, cache }),
      goodInARow: cache.after.goodInARow,
    };
  });
}
