import { hasPiece, type PieceRange } from "../core/containment/piece-ranges.js";
import type { Db } from "../db/client.js";
import { type BatchView, placeKey, seatByNumber } from "./batch-view.js";
import type { Containment } from "./containment.js";
import type { FeatureView } from "./feature-view.js";
import { type DecisionRow, listGoodNeighbours } from "./hold-queries.js";
import { listMeasuredBefore, listReadingsOnPieces, type StoredReading } from "./piece-queries.js";
import { plansAt } from "./plan-at.js";
import { isHeld, type OnPiece, type Proved, proveByNeighbours, proveByReadings } from "./prove-feature.js";
import { sayList } from "./words.js";

export type PieceDisposition = Proved["disposition"] | DecisionRow["decision"];

/** One feature of a piece, at one place of it. */
export interface ProvedFeature extends Proved {
  feature: FeatureView;
  /** Its readings by cut, in the order they were taken in; voided ones among them. */
  rows: StoredReading[];
  /** The good pieces nearest before and after; null: none. Only looked for where its own readings do not prove it. */
  before: number | null;
  after: number | null;
}

/** What is known of one piece. */
export interface ProvedPiece {
  piece: number;
  seat: string | null;
  serials: string[];
  /** How often it was cut, as far as its readings say. */
  cuts: number;
  disposition: PieceDisposition;
  onHold: boolean;
  why: string;
  /** In the part's order. */
  features: ProvedFeature[];
}

type OpenCell = Omit<ProvedFeature, keyof Proved> & { on: OnPiece; proved: Proved | undefined };

/** How the pieces from one to another are proved, in a few queries whatever their number. */
export async function provePieces(
  db: Db,
  view: BatchView,
  containment: Containment,
  range: PieceRange,
): Promise<ProvedPiece[]> {
  const featureIds = [...view.featureById.keys()];
  const [rows, measured] = await Promise.all([
    listReadingsOnPieces(db, view.batchId, featureIds, range),
    listMeasuredBefore(db, view.batchId, featureIds, range.from),
  ]);
  const byPiece = groupBy(rows, ({ piece }) => piece);
  const pieces: { piece: number; rows: StoredReading[]; seat: string | null; cells: OpenCell[] }[] = [];
  for (let piece = range.from; piece <= range.to; piece += 1) {
    const mine = byPiece.get(piece) ?? [];
    const atPlace = groupBy(mine, (row) => placeKey(row.feature_id, row.place));
    const seat =
      mine.find((row) => row.seat !== null && row.voided_at === null)?.seat ?? seatByNumber(view, piece);
    const cells = view.features.map((feature): OpenCell => {
      const rows = atPlace.get(placeKey(feature.featureId, feature.place)) ?? [];
      const on = { view, piece, rows, containment };
      return { feature, rows, on, before: null, after: null, proved: proveByReadings(feature, on) };
    });
    pieces.push({ piece, rows: mine, seat, cells });
  }
  await proveTheRest(db, view, pieces, measuredByBlock(view, measured));
  return pieces.map(({ piece, rows, seat, cells }) => {
    const standing = rows.filter(({ voided_at }) => voided_at === null);
    const features = cells.map(({ on: _, proved, ...cell }): ProvedFeature => ({ ...cell, ...proved! }));
    return {
      piece,
      seat,
      serials: [...new Set(standing.flatMap(({ serial }) => serial ?? []))],
      cuts: Math.max(1, ...standing.map(({ cut }) => cut)),
      ...disposePiece(features, containment, piece),
      features,
    };
  });
}

function measuredByBlock(view: BatchView, measured: Awaited<ReturnType<typeof listMeasuredBefore>>) {
  const last = new Map<number, number>();
  for (const { feature_id, piece } of measured) {
    const { block } = view.featureById.get(feature_id)!;
    last.set(block, Math.max(piece, last.get(block) ?? 0));
  }
  return last;
}

/**
 * What readings of their own do not prove: by the good pieces around and the check plan then in force.
 * @param last by block the last piece measured before the first of these; carried on from piece to piece
 */
async function proveTheRest(
  db: Db,
  view: BatchView,
  pieces: readonly { piece: number; rows: StoredReading[]; seat: string | null; cells: OpenCell[] }[],
  last: Map<number, number>,
): Promise<void> {
  const neighbours = new Asked<Parameters<typeof listGoodNeighbours>[1][number]>();
  const plans = new Asked<Parameters<typeof plansAt>[2][number]>();
  const open: { cell: OpenCell; neighbour: number; plan: number | undefined }[] = [];
  // The last question of a run of pieces that were not measured: all of them lie between the same good ones.
  const running = new Map<string, number>();
  for (const { piece, rows, seat, cells } of pieces) {
    for (const cell of cells) {
      const { featureId, place, block } = cell.feature;
      const run = `${placeKey(featureId, place)} ${seat}`;
      if (cell.rows.length > 0) running.delete(run);
      if (cell.proved) continue;
      const neighbour =
        running.get(run) ??
        neighbours.add({ batchId: view.batchId, featureId, place, seat, piece, byCheck: false });
      if (cell.rows.length === 0) running.set(run, neighbour);
      const after = last.get(block);
      const plan =
        after === undefined
          ? undefined
          : plans.addOnce(`${block} ${after}`, { blockNo: block, piece: after });
      open.push({ cell, neighbour, plan });
    }
    for (const row of rows) {
      if (row.state === null && row.voided_at === null)
        last.set(view.featureById.get(row.feature_id)!.block, piece);
    }
  }
  const [found, planned] = await Promise.all([
    listGoodNeighbours(db, neighbours.items),
    plansAt(db, view, plans.items),
  ]);
  for (const { cell, neighbour, plan } of open) {
    const { before, after } = found[neighbour]!;
    Object.assign(cell, { before, after });
    const around = { before, after, plan: plan === undefined ? undefined : planned[plan] };
    cell.proved = proveByNeighbours(cell.feature, cell.on, around);
  }
}

function groupBy<T, K>(items: readonly T[], keyOf: (item: T) => K): Map<K, T[]> {
  const groups = new Map<K, T[]>();
  for (const item of items) {
    const key = keyOf(item);
    const mine = groups.get(key);
    if (mine) mine.push(item);
    else groups.set(key, [item]);
  }
  return groups;
}

/** Questions for one query, each with its number. */
class Asked<T> {
  readonly items: T[] = [];
  private readonly known = new Map<string, number>();

  add(item: T): number {
    return this.items.push(item) - 1;
  }

  addOnce(key: string, item: T): number {
    const known = this.known.get(key) ?? this.add(item);
    this.known.set(key, known);
    return known;
  }
}

const worstFirst = ["scrap", "rework", "remeasure", "open", "accept"] as const;

/** The worst of its features, unless somebody has decided about it. */
function disposePiece(
  features: readonly ProvedFeature[],
  containment: Containment,
  piece: number,
): Pick<ProvedPiece, "disposition" | "onHold" | "why"> {
  const onHold = hasPiece(containment.onHold, piece);
  const decided = containment.inForce.find(({ pieces }) => hasPiece(pieces, piece))?.decision;
  if (decided && settles(decided.row, containment, piece)) {
    const { kind, row } = decided;
    const by = row.authority ? `, by authority of ${row.authority}` : "";
    const why = `Decision ${row.decision_id}${by}: ${kind.replaceAll("_", " ")}.`;
    return { disposition: kind, onHold, why };
  }
  const disposition =
    worstFirst.find((one) => features.some((feature) => feature.disposition === one)) ?? "open";
  const because = features.filter((feature) => feature.disposition === disposition);
  const why =
    disposition === "accept"
      ? "Every feature is measured good on it or lies between good pieces as the check plan wanted."
      : `Characteristic ${sayList([...new Set(because.map(({ feature }) => feature.characteristic))])}: ${because[0]?.why ?? "nothing is known of it."}`;
  return { disposition, onHold, why };
}

/** A rework only stands for its piece until it is measured; use as is and repair not for what failed since. */
function settles(row: DecisionRow, containment: Containment, piece: number): boolean {
  if (row.decision === "scrap" || row.decision === "return") return true;
  if (row.decision === "rework") return containment.reworks.some(({ pieces }) => hasPiece(pieces, piece));
  return !containment.holds.some((hold) => isHeld(hold, piece));
}
