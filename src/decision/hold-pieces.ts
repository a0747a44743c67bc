import { type ProofReading, witnessOf } from "../core/containment/find-holds.js";
import type { JournalReading } from "../core/wear-offset/progress.js";
import type { Db } from "../db/client.js";
import { placeKey } from "./batch-view.js";
import type { BatchWork } from "./batch-work.js";
import { listGoodNeighbours, listReadingsOn, type ProofRow } from "./hold-queries.js";
import type { ReadingRow } from "./queries.js";

/** What is known of the piece of a reading beside the reading itself. */
export interface DoubtRaised {
  /** Another reading of the same cut fails the piece. */
  pieceFailed: boolean;
  /** All readings of the piece at this feature and place. */
  ofFeature: readonly JournalReading[];
}

interface Fresh {
  row: ReadingRow;
  doubt: DoubtRaised;
}

/**
 * Pieces in doubt, for each reading that fails its piece or whose piece another one fails: since the last good reading by a
 * gauge that may prove a size, up to the next one or the last piece cut. A doubt that another gauge raises goes back to the
 * last check that it found good. What may be a misreading holds them as well, until it is settled; a piece that more good
 * readings than bad ones speak for is held alone.
 */
export async function holdPieces(db: Db, work: BatchWork, rows: readonly Fresh[]): Promise<void> {
  const bad = rows.filter(({ row, doubt }) => row.fails || doubt.pieceFailed);
  if (bad.length === 0) return;
  const fresh = [...work.readings, ...rows.map(({ row }) => row)];
  const alone = await findHeldAlone(db, work, bad, fresh);
  const wide = bad.filter((each) => !alone.has(each));
  for (const { row } of alone) [row.hold_from, row.hold_to] = [row.piece, row.piece];
  if (wide.length === 0) return;
  const { batchId, lastPieceCut } = work.view;
  const stored = await listGoodNeighbours(
    db,
    wide.map(({ row }) => ({
      batchId,
      featureId: row.feature_id,
      place: row.place,
      seat: row.seat,
      piece: row.piece,
      byCheck: row.gauge_deviation_mm !== null,
    })),
  );
  const { good, checked } = goodPieces(fresh);
  wide.forEach(({ row }, i) => {
    const pieces = (row.gauge_deviation_mm === null ? good : checked).get(runOf(row)) ?? [];
    const at = lowerBound(pieces, row.piece);
    const before = Math.max(stored[i]!.before ?? 0, pieces[at - 1] ?? 0);
    const after = Math.min(
      stored[i]!.after ?? Number.POSITIVE_INFINITY,
      pieces[lowerBound(pieces, row.piece + 1)] ?? Number.POSITIVE_INFINITY,
    );
    row.hold_from = before + 1;
    row.hold_to = Math.max(row.piece, Math.min(after - 1, lastPieceCut));
  });
}

/** Pieces that say nothing of others: cut again since they were first read, or with more good readings than bad ones. */
async function findHeldAlone(
  db: Db,
  { view }: BatchWork,
  bad: readonly Fresh[],
  fresh: readonly ReadingRow[],
): Promise<Set<Fresh>> {
  const again = bad.filter(({ row, doubt }) => doubt.ofFeature.some(({ cut }) => cut < row.cut));
  const asked = bad.filter((each) => each.doubt.ofFeature.length > 1 && !again.includes(each));
  const alone = new Set(again);
  if (asked.length === 0) return alone;
  const pieces = asked.map(({ row }) => ({ featureId: row.feature_id, piece: row.piece }));
  const stored = await listReadingsOn(db, view.batchId, pieces);
  const onPiece = (row: { feature_id: string; place: string | null; piece: number }) =>
    `${placeKey(row.feature_id, row.place)}/${row.piece}`;
  const known = new Map<string, ProofReading[]>(asked.map(({ row }) => [onPiece(row), []]));
  for (const row of stored) known.get(onPiece(row))?.push(storedProof(row));
  for (const row of fresh) known.get(onPiece(row))?.push(freshProof(row));
  for (const each of asked) if (witnessOf(known.get(onPiece(each.row))!) !== "bad") alone.add(each);
  return alone;
}

function storedProof(row: ProofRow): ProofReading {
  const { reading_no: readingNo, piece, earliest, cut, proves, fails, by_reference: byReference } = row;
  return { readingNo, piece, earliest, cut, proves, fails, byReference };
}

function freshProof(row: ReadingRow): ProofReading {
  const sure = row.gauge_doubt_mm === null;
  return {
    readingNo: row.reading_no,
    piece: row.piece,
    earliest: row.piece,
    cut: row.cut,
    proves: row.proves && sure,
    fails: row.fails,
    byReference: row.gauge_reference && row.gauge_fit && sure && !row.flags.includes("gauge_overdue"),
  };
}

function runOf(row: ReadingRow): string {
  return `${placeKey(row.feature_id, row.place)} ${row.seat ?? ""}`;
}

/** Pieces of each run that are not stored yet and good as they left the machine, in cutting order. */
function goodPieces(fresh: readonly ReadingRow[]) {
  const good = new Map<string, number[]>();
  const checked = new Map<string, number[]>();
  const spoilt = new Set(fresh.filter((row) => row.fails).map((row) => `${runOf(row)}/${row.piece}`));
  const add = (to: Map<string, number[]>, row: ReadingRow) => {
    const pieces = to.get(runOf(row));
    if (pieces) pieces.push(row.piece);
    else to.set(runOf(row), [row.piece]);
  };
  for (const row of fresh) {
    if (row.gauge_doubt_mm !== null || row.cut > 1 || (row.piece_within ?? 1) > 1) continue;
    if (spoilt.has(`${runOf(row)}/${row.piece}`)) continue;
    const vouches = row.gauge_deviation_mm !== null && row.verdict === "conforming";
    if (row.proves) add(good, row);
    if (row.proves || vouches) add(checked, row);
  }
  for (const pieces of [...good.values(), ...checked.values()]) pieces.sort((a, b) => a - b);
  return { good, checked };
}

/** Index of the first of the sorted numbers that is not below `value`. */
function lowerBound(sorted: readonly number[], value: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return low;
}
