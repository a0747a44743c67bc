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
  commonRanges,
  countPieces,
  hasPiece,
  joinRanges,
  type PieceRange,
  withoutRanges,
} from "../core/containment/piece-ranges.js";
import type { Db } from "../db/client.js";
import { placeKey, seatByNumber } from "./batch-view.js";
import {
  type DecisionRow,
  listCharacteristics,
  listCutAgain,
  listDecisionsInForce,
  listDoubtReadings,
  listReadingsOfPieces,
  listSeatsGiven,
  type ProofRow,
} from "./hold-queries.js";
import { sayList } from "./words.js";

/** A feature at one place, on the pieces of one seat: a good piece speaks for these, and for no others. */
interface Run {
  featureId: string;
  place: string | null;
  seat: string | null;
}

export interface FeatureHold extends Run {
  hold: Hold;
  settled: PieceRange[];
  state: HoldState;
}

/** A batch as far as its holds go. */
export interface Contained {
  batchId: string;
  lastPieceCut: number;
  /** Seats of the fixture in the order they are cut; none: pieces are not told apart by them. */
  seats: readonly string[];
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
export async function loadContainment(db: Db, batch: Contained): Promise<Containment> {
  const { batchId } = batch;
  const [decisions, doubts] = await Promise.all([
    listDecisionsInForce(db, batchId),
    listDoubtReadings(db, batchId),
  ]);
  const reworks = decisions.filter(({ decision }) => decision === "rework");
  const readings = new Evidence(batch, reworks);
  readings.gather(doubts);
  readings.gather(await listReadingsOfPieces(db, batchId, joinRanges(reworks.map(rangeOf))));
  let found = readings.findHolds();
  const wide = found.filter(({ hold }) => hold.to > hold.from);
  if (wide.length > 0) {
    const ranges = wide.map(({ featureId, hold }) => ({ featureId, from: hold.from, to: hold.to }));
    const again = await listCutAgain(db, batchId, ranges);
    readings.gather(again);
    if (batch.seats.length > 0) {
      const from = Math.min(...ranges.map((range) => range.from));
      const to = Math.max(...ranges.map((range) => range.to));
      readings.takeSeats(await listSeatsGiven(db, batchId, { from, to }));
    }
    if (again.length > 0 || batch.seats.length > 0) found = readings.findHolds();
  }
  const inForce = decisionsInForce(decisions.map(toDecision));
  const holds = found.map((item): FeatureHold => {
    const settled = joinRanges(settledPieces(item.hold, inForce));
    return { ...item, settled, state: stateOf(item.hold, settled) };
  });
  const openReworks = await listOpenReworks(db, readings, inForce);
  const onHold = joinRanges([
    ...holds.flatMap(({ hold, settled }) => withoutRanges(hold.open, settled)),
    ...openReworks.flatMap(({ pieces }) => pieces),
  ]);
  return { holds, reworks: openReworks, inForce, allReworks: reworks, onHold };
}

/** What is left of the reworks in force: a feature is proved on a piece when every place of it is. */
async function listOpenReworks(
  db: Db,
  readings: Evidence,
  inForce: Containment["inForce"],
): Promise<OpenRework[]> {
  const mine = inForce.filter(({ decision }) => decision.kind === "rework");
  const again = [...new Set(mine.flatMap(({ decision }) => decision.row.measure_again!))];
  const features = await listCharacteristics(db, again);
  const places = new Map(features.map((row) => [row.feature_id, row.places ?? [null]]));
  return mine.flatMap(({ decision, pieces }): OpenRework[] => {
    const waitingFor = decision.row.measure_again!.flatMap((featureId) => {
      const waiting = joinRanges(
        (places.get(featureId) ?? []).flatMap((place) =>
          withoutRanges(pieces, readings.provedSince(featureId, place, pieces)),
        ),
      );
      return waiting.length > 0 ? [{ featureId, pieces: waiting }] : [];
    });
    const open = joinRanges(waitingFor.flatMap((waiting) => waiting.pieces));
    return open.length > 0 ? [{ decision: decision.row, pieces: open, waitingFor }] : [];
  });
}

/** Readings of a batch that say something about holds, by feature and place. */
class Evidence {
  private readonly byPlace = new Map<
    string,
    { of: Pick<Run, "featureId" | "place">; rows: Map<number, ProofRow> }
  >();
  private readonly seatGiven = new Map<number, string>();

  constructor(
    private readonly batch: Contained,
    private readonly reworks: readonly DecisionRow[],
  ) {}

  gather(rows: readonly ProofRow[]): void {
    for (const row of rows) {
      const { feature_id: featureId, place } = row;
      const key = placeKey(featureId, place);
      const found = this.byPlace.get(key);
      if (found) found.rows.set(row.reading_no, row);
      else this.byPlace.set(key, { of: { featureId, place }, rows: new Map([[row.reading_no, row]]) });
      if (row.seat !== null && row.earliest === row.piece) this.seatGiven.set(row.piece, row.seat);
    }
  }

  takeSeats(given: readonly { piece: number; seat: string }[]): void {
    for (const { piece, seat } of given) this.seatGiven.set(piece, seat);
  }

  /** Holds of every run; what failed in one seat is a doubt about the others too, until good pieces of theirs end it. */
  findHolds(): (Run & { hold: Hold })[] {
    const { seats, lastPieceCut } = this.batch;
    const reworksOf = (piece: number) => countReworks(this.reworks, piece);
    return [...this.byPlace.values()].flatMap(({ of, rows }): (Run & { hold: Hold })[] => {
      const readings = toProof([...rows.values()], this.reworks);
      if (seats.length === 0) {
        return findHolds(readings, lastPieceCut, reworksOf).map((hold) => ({ ...of, seat: null, hold }));
      }
      return seats.flatMap((seat) => {
        const mine = readings.map((reading) => ({ ...reading, foreign: reading.seat !== seat }));
        return findHolds(mine, lastPieceCut, reworksOf).flatMap((hold) => {
          const open = commonRanges(hold.open, this.piecesIn(seat, hold));
          const own = hold.bad.some(({ piece }) => this.seatOf(piece) === seat);
          return open.length > 0 || own ? [{ ...of, seat, hold: { ...hold, open } }] : [];
        });
      });
    });
  }

  private seatOf(piece: number): string | null {
    return this.seatGiven.get(piece) ?? seatByNumber(this.batch, piece);
  }

  private piecesIn(seat: string, { from, to }: PieceRange): PieceRange[] {
    const pieces: PieceRange[] = [];
    for (let piece = from; piece <= to; piece += 1) {
      if (this.seatOf(piece) === seat) pieces.push({ from: piece, to: piece });
    }
    return pieces;
  }

  /** Pieces proved good at a place since they were last reworked. */
  provedSince(featureId: string, place: string | null, pieces: readonly PieceRange[]): PieceRange[] {
    const rows = this.byPlace.get(placeKey(featureId, place))?.rows.values() ?? [];
    const among = toProof([...rows], this.reworks).filter(({ piece }) => hasPiece(pieces, piece));
    return [...groupByPiece(among)].flatMap(([piece, mine]) =>
      standingSince(mine, countReworks(this.reworks, piece)) === "good" ? [{ from: piece, to: piece }] : [],
    );
  }
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

/** Readings of one feature, each with the number of reworks that its piece had behind it. */
function toProof(
  rows: readonly ProofRow[],
  reworks: readonly DecisionRow[],
): (ProofReading & { seat: string | null })[] {
  const ofPiece = reworks.length > 0 ? groupByPiece(rows) : undefined;
  return rows.map((row) => ({
    readingNo: row.reading_no,
    piece: row.piece,
    seat: row.seat,
    earliest: row.earliest,
    cut: row.cut,
    proves: row.proves,
    fails: row.fails,
    byReference: row.by_reference,
    vouches: row.vouches,
    reworks: ofPiece ? reworks.filter((rework) => isSince(row, rework, ofPiece.get(row.piece)!)).length : 0,
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
