import { isSize } from "../core/feature-kind.js";
import { fromNumeric } from "../core/quantity.js";
import { chanceOfAllEqual } from "../core/statistics/all-equal.js";
import type { Db } from "../db/client.js";
import type { BatchWork } from "./batch-work.js";
import type { GaugeView } from "./gauge-view.js";
import type { ReadingRow } from "./queries.js";
import { listBefore } from "./reading-queries.js";
import type { ResolvedReading } from "./resolve-reading.js";
import { nameFeature, sayMm, saySize } from "./words.js";

/** Below this chance a run of equal readings is not believed. */
const believedFrom = 1e-6;
/** So many readings back a run is counted. */
const longestRun = 60;

type Valued = ReadingRow & { value_mm: string };
type Item = { item: ResolvedReading; row: ReadingRow };

/**
 * Flags readings that end a run of equal ones, piece after piece, which the scatter of the pieces makes next to impossible:
 * a stuck gauge or copied numbers. Asks for the readings before only where the last one was equal. Sentences about them are
 * answered.
 * @param measuredBefore the last piece of each block that had been measured before these readings
 */
export async function flagTooAlike(
  db: Db,
  work: BatchWork,
  rows: readonly Item[],
  measuredBefore: readonly number[],
): Promise<string[]> {
  const candidates = rows.filter(({ item, row }) => row.cut === 1 && mayBeAlike(work, item));
  if (candidates.length === 0) return [];
  const written = byRun([...work.readings, ...rows.map(({ row }) => row)]);
  const before = (row: ReadingRow) => written.get(keyOf(row))!.filter(({ piece }) => piece < row.piece);
  const open = candidates.filter(({ item, row }) => {
    const last = measuredBefore[item.feature.block]!;
    return !isSettled(row as Valued, written.get(keyOf(row))!, last);
  });
  if (open.length === 0) return [];
  const stored = await listBefore(
    db,
    work.view.batchId,
    open.map(({ row }) => row),
    longestRun,
  );
  return open.flatMap((candidate, i) => {
    const { row } = candidate;
    const run = runOf(row as Valued, [...(stored[i] ?? []), ...before(row)]);
    return judge(work, candidate, run) ?? [];
  });
}

function keyOf({ feature_id, place, gauge_id }: ReadingRow): string {
  return `${feature_id} ${gauge_id} ${place ?? ""}`;
}

/** First cuts that have a size, by feature, place and gauge, in cutting order. */
function byRun(rows: readonly ReadingRow[]): Map<string, Valued[]> {
  const runs = new Map<string, Valued[]>();
  for (const row of rows) {
    if (row.cut !== 1 || row.value_mm === null) continue;
    const run = runs.get(keyOf(row));
    if (run) run.push(row as Valued);
    else runs.set(keyOf(row), [row as Valued]);
  }
  for (const run of runs.values()) run.sort((a, b) => a.piece - b.piece);
  return runs;
}

/** True where all readings of the piece before are other ones and nothing that is stored can lie between the two. */
function isSettled(row: Valued, run: readonly Valued[], measuredBefore: number): boolean {
  const to = lowerBound(run, row.piece);
  const before = run[to - 1];
  if (before === undefined || before.piece <= measuredBefore) return false;
  const from = lowerBound(run, before.piece);
  return run.slice(from, to).every(({ value_mm }) => value_mm !== row.value_mm);
}

/** Index of the first that is of this piece or a later one. */
function lowerBound(run: readonly Valued[], piece: number): number {
  let low = 0;
  let high = run.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (run[middle]!.piece < piece) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Cheap: false of what is no size, where the display is too coarse for a believable run to end, or the last piece read something else. */
function mayBeAlike(work: BatchWork, { feature, gauge, measured }: ResolvedReading): boolean {
  if (!isSize(feature.kind) || measured.sizePm === undefined) return false;
  const { cache } = work.view.blocks[feature.block]!;
  if (chanceOf(longestRun, work, feature, gauge) >= believedFrom) return false;
  const before = cache.before.latest[feature.index];
  return !before || before.sizePm === measured.sizePm;
}

function chanceOf(
  run: number,
  work: BatchWork,
  feature: ResolvedReading["feature"],
  gauge: Pick<GaugeView, "resolutionPm">,
): number {
  const { estimate } = work.view.blocks[feature.block]!.cache.after;
  const scatter = Math.sqrt(estimate.scatter[feature.index]!);
  return chanceOfAllEqual(run, gauge.resolutionPm / 1e9, scatter);
}

/** How many pieces in a row, this one the last, have the same size. */
function runOf(row: Valued, before: readonly { piece: number; value_mm: string }[]): number {
  const size = fromNumeric(row.value_mm);
  let run = 1;
  let last = row.piece;
  for (const { piece, value_mm } of [...before].sort((a, b) => b.piece - a.piece)) {
    if (fromNumeric(value_mm) !== size) break;
    if (piece < last) run += 1;
    last = piece;
  }
  return run;
}

function judge(work: BatchWork, { item, row }: Item, run: number): string | undefined {
  const { feature, gauge } = item;
  if (chanceOf(run, work, feature, gauge) >= believedFrom) return undefined;
  row.flags = [...row.flags, "too_alike"];
  if (row.disposition === "accept") row.disposition = "remeasure";
  const { unit } = work.view.part;
  const scatter = Math.sqrt(work.view.blocks[feature.block]!.cache.after.estimate.scatter[feature.index]!);
  return `${nameFeature(feature)} has read ${saySize(fromNumeric(row.value_mm!), unit)} on ${run} measured pieces in a row, though its pieces scatter by about ${sayMm(scatter, unit)} (one standard deviation) and the gauge would show it: the gauge sticks, or numbers were copied. Measure piece ${row.piece} again with somebody looking on.`;
}
