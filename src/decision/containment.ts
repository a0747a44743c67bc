import {
  decisionsInForce,
  type HoldState,
  type PieceDecision,
  settledPieces,
  stateOf,
} from "../core/containment/decide-pieces.js";
import {
  findHolds,
  type Hold,
  type ProofReading,
  type Standing,
  standingSince,
} from "../core/containment/find-holds.js";
import {
  countPieces,
  hasPiece,
  joinRanges,
  type PieceRange,
  withoutRanges,
} from "../core/containment/piece-ranges.js";
import type { Db } from "../db/client.js";
import {
  type DecisionRow,
  listCharacteristics,
  listCutAgain,
  listDecisionsInForce,
  listDoubtReadings,
  listReadingsOfPieces,
  type ProofRow,
} from "./hold-queries.js";
import { sayList } from "./words.js";

export interface FeatureHold {
  featureId: string;
  hold: Hold;
  settled: PieceRange[];
  state: HoldState;
}

/** Pieces given to rework that have not been proved good since. */
export interface OpenRework {
  decision: DecisionRow;
  pieces: PieceRange[];
  waitingFor: { featureId: string; pieces: PieceRange[] }[];
}

/** All that keeps pieces of a batch from going out, and what was decided about them. */
export interface Containment {
  holds: FeatureHold[];
  reworks: OpenRework[];
  inForce: { decision: PieceDecision & { row: DecisionRow }; pieces: PieceRange[] }[];
  /** Every rework that was decided and not voided. */
  allReworks: DecisionRow[];
  /** Pieces on hold: in doubt, failed or to be proved after a rework, and not settled. */
  onHold: PieceRange[];
}

/** Holds of a batch as its readings and decisions make them now. */
export async function loadContainment(
  db: Db,
  { batchId, lastPieceCut }: { batchId: string; lastPieceCut: number },
): Promise<Containment> {
  const [decisions, doubts] = await Promise.all([
    listDecisionsInForce(db, batchId),
    listDoubtReadings(db, batchId),
  ]);
  const reworks = decisions.filter(({ decision }) => decision === "rework");
  const reworked = joinRanges(reworks.map(rangeOf));
  const readings = new Map<string, Map<number, ProofRow>>();
  gather(readings, doubts);
  gather(readings, await listReadingsOfPieces(db, batchId, reworked));
  const reworksOf = (piece: number) => countReworks(reworks, piece);
  const holdsOf = () =>
    [...readings].flatMap(([featureId, rows]) =>
      findHolds(toProof([...rows.values()], reworks), lastPieceCut, reworksOf).map((hold) => ({
        featureId,
        hold,
      })),
    );
  const wide = holdsOf().filter(({ hold }) => hold.to > hold.from);
  gather(
    readings,
    await listCutAgain(
      db,
      batchId,
      wide.map(({ featureId, hold }) => ({ featureId, from: hold.from, to: hold.to })),
    ),
  );
  const inForce = decisionsInForce(decisions.map(toDecision));
  const holds = holdsOf().map(({ featureId, hold }): FeatureHold => {
    const settled = joinRanges(settledPieces(hold, inForce));
    return { featureId, hold, settled, state: stateOf(hold, settled) };
  });
  const openReworks = inForce.flatMap(({ decision, pieces }): OpenRework[] => {
    if (decision.kind !== "rework") return [];
    const waitingFor = decision.row.measure_again!.flatMap((featureId) => {
      const rows = [...(readings.get(featureId)?.values() ?? [])];
      const good = provedSince(toProof(rows, reworks), pieces, reworksOf);
      const waiting = withoutRanges(pieces, good);
      return waiting.length > 0 ? [{ featureId, pieces: waiting }] : [];
    });
    const open = joinRanges(waitingFor.flatMap((waiting) => waiting.pieces));
    return open.length > 0 ? [{ decision: decision.row, pieces: open, waitingFor }] : [];
  });
  const onHold = joinRanges([
    ...holds.flatMap(({ hold, settled }) => withoutRanges(hold.open, settled)),
    ...openReworks.flatMap(({ pieces }) => pieces),
  ]);
  return { holds, reworks: openReworks, inForce, allReworks: reworks, onHold };
}

function countReworks(reworks: readonly DecisionRow[], piece: number): number {
  return reworks.filter((row) => hasPiece([rangeOf(row)], piece)).length;
}

/** How a piece stands by all readings of one feature. */
export function standingOnPiece(
  rows: readonly ProofRow[],
  piece: number,
  { allReworks }: Containment,
): Standing {
  return standingSince(toProof(rows, allReworks), countReworks(allReworks, piece));
}

function rangeOf(row: DecisionRow): PieceRange {
  return { from: row.from_piece, to: row.to_piece };
}

function toDecision(row: DecisionRow) {
  const { decision: kind, known_readings: knownReadings } = row;
  return { ...rangeOf(row), decisionNo: Number(row.decision_id), kind, knownReadings, row };
}

function gather(into: Map<string, Map<number, ProofRow>>, rows: readonly ProofRow[]): void {
  for (const row of rows) {
    const mine = into.get(row.feature_id);
    if (mine) mine.set(row.reading_no, row);
    else into.set(row.feature_id, new Map([[row.reading_no, row]]));
  }
}

/** Readings of one feature, each with the number of reworks that its piece had behind it. */
function toProof(rows: readonly ProofRow[], reworks: readonly DecisionRow[]): ProofReading[] {
  const ofPiece = groupByPiece(rows);
  return rows.map((row) => ({
    readingNo: row.reading_no,
    piece: row.piece,
    earliest: row.earliest,
    cut: row.cut,
    proves: row.proves,
    fails: row.fails,
    byReference: row.by_reference,
    reworks: reworks.filter((rework) => isSince(row, rework, ofPiece.get(row.piece)!)).length,
  }));
}

function groupByPiece<R extends { piece: number }>(rows: readonly R[]): Map<number, R[]> {
  const groups = new Map<number, R[]>();
  for (const row of rows) {
    const mine = groups.get(row.piece);
    if (mine) mine.push(row);
    else groups.set(row.piece, [row]);
  }
  return groups;
}

/** Taken since the rework was decided; or unknown then, and of a cut later than all that was known. */
function isSince(row: ProofRow, rework: DecisionRow, ofPiece: readonly ProofRow[]): boolean {
  if (!hasPiece([rangeOf(rework)], row.piece)) return false;
  if (Date.parse(row.taken_at) >= Date.parse(rework.decided_at)) return true;
  if (row.reading_no <= rework.known_readings) return false;
  return ofPiece.every((other) => other.reading_no > rework.known_readings || other.cut < row.cut);
}

function provedSince(
  readings: readonly ProofReading[],
  pieces: readonly PieceRange[],
  reworksOf: (piece: number) => number,
): PieceRange[] {
  const among = readings.filter(({ piece }) => hasPiece(pieces, piece));
  return [...groupByPiece(among)].flatMap(([piece, mine]) =>
    standingSince(mine, reworksOf(piece)) === "good" ? [{ from: piece, to: piece }] : [],
  );
}

const mostRangesSaid = 20;

/** "41 to 49 and 51" */
export function sayRanges(ranges: readonly PieceRange[]): string {
  const words = ranges
    .slice(0, mostRangesSaid)
    .map(({ from, to }) => (from === to ? String(from) : `${from} to ${to}`));
  const more = ranges.length - mostRangesSaid;
  return more > 0 ? `${words.join(", ")} and ${more} more ranges` : sayList(words);
}

/** Why a batch has pieces on hold, one sentence for each feature and each rework. */
export async function sayOnHold(db: Db, { holds, reworks }: Containment): Promise<string[]> {
  const open = new Map<string, PieceRange[]>();
  for (const { featureId, hold, settled } of holds) {
    const left = withoutRanges(hold.open, settled);
    if (left.length > 0) open.set(featureId, [...(open.get(featureId) ?? []), ...left]);
  }
  const ids = new Set([...open.keys(), ...reworks.flatMap((r) => r.waitingFor.map((w) => w.featureId))]);
  const features = await listCharacteristics(db, [...ids]);
  const name = (id: string) => {
    const feature = features.find((row) => row.feature_id === id);
    return [feature?.characteristic, feature?.name].filter(Boolean).join(" ");
  };
  return [
    ...[...open].map(([featureId, pieces]) => `${name(featureId)}: ${sayPieces(joinRanges(pieces))} on hold`),
    ...reworks.map(({ pieces, waitingFor }) => {
      const names = sayList(waitingFor.map(({ featureId }) => name(featureId)));
      return `${sayPieces(pieces)} given to rework and not measured good since: ${names}`;
    }),
  ];
}

/** "piece 50 is", "pieces 41 to 49 are" */
function sayPieces(ranges: readonly PieceRange[]): string {
  return countPieces(ranges) === 1 ? `piece ${ranges[0]!.from} is` : `pieces ${sayRanges(ranges)} are`;
}
