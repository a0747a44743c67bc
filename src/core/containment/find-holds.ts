import { type PieceRange, withoutRanges } from "./piece-ranges.js";

/** What one reading of a feature says about its piece, whatever was read before or after it. */
export interface ProofReading {
  readingNo: number;
  piece: number;
  /** The first piece that it may have been: below `piece` where that is only known to be one of the last few. */
  earliest: number;
  cut: number;
  /** Conforming, by a gauge that may prove a size. */
  proves: boolean;
  /** Nonconforming by the feature's rule. */
  fails: boolean;
  /** By a gauge that may prove a size, fine enough and in calibration. */
  byReference: boolean;
  /**
   * Conforming, by a gauge that may prove nothing but whose deviation from the reference gauge is known: it ends a doubt that
   * only such gauges have raised. Absent: false.
   */
  vouches?: boolean;
  /** How often the piece had been reworked when it was read; absent: never. */
  reworks?: number;
  /** True: of a piece from another seat of the fixture, which may speak against these pieces but is none of them. */
  foreign?: boolean;
}

export type Standing = "good" | "bad" | "unproven";

/**
 * How a piece stands by all readings of one feature. Its last cut decides: bad with a failing reading, which no repeat
 * outvotes, good with a proving one, else unproven; what an earlier cut failed stays bad until the last one is proved good.
 */
function standingOf(readings: readonly ProofReading[]): Standing {
  if (readings.length === 0) return "unproven";
  const last = Math.max(...readings.map(({ cut }) => cut));
  const mine = readings.filter(({ cut }) => cut === last);
  if (mine.some(({ fails }) => fails)) return "bad";
  if (mine.some(({ proves }) => proves)) return "good";
  return readings.some(({ fails }) => fails) ? "bad" : "unproven";
}

/**
 * What a piece says about its neighbours in cutting order. Only its first cut counts, as it left the machine: what was cut
 * again or reworked was made apart from them. It speaks against them with a failing reading, unless more readings of the same cut by gauges that may prove it
 * say the contrary (a misreading; against one by another gauge a single one is enough), and for them with proving
 * readings only.
 */
export function witnessOf(readings: readonly ProofReading[]): Standing {
  const asCut = readings.filter(({ reworks = 0 }) => reworks === 0);
  const first = Math.min(...asCut.map(({ cut }) => cut));
  const mine = asCut.filter(({ cut }) => cut === first);
  const proving = mine.filter(({ proves }) => proves).length;
  const failing = mine.filter(({ fails }) => fails);
  const against = failing.filter(({ byReference }) => byReference).length;
  if (failing.length > 0) return (against > 0 ? proving <= against : proving === 0) ? "bad" : "unproven";
  return proving > 0 && first === 1 ? "good" : "unproven";
}

/** Whether a piece, as it left the machine, was found good by whatever gauge that is known to read what the reference reads. */
function isGoodCheck(readings: readonly ProofReading[]): boolean {
  const mine = readings.filter(({ cut, reworks = 0 }) => cut === 1 && reworks === 0);
  return mine.some(({ proves, vouches }) => proves || vouches) && !mine.some(({ fails }) => fails);
}

export interface BadPiece {
  piece: number;
  earliest: number;
  readingNos: number[];
  /** Proving readings of the same cut, which say the contrary. */
  contradictedBy: number[];
  /** False: only a gauge that may not prove a size has said so. */
  byReference: boolean;
}

/** Pieces of one feature in doubt, with everything that a person needs to see why and where the doubt ends. */
export interface Hold extends PieceRange {
  /** The good pieces nearest before and after it; undefined: none. */
  goodBefore: number | undefined;
  goodAfter: number | undefined;
  /** Pieces that failed, in cutting order: why there is a hold. */
  bad: BadPiece[];
  /** What is still in doubt of it: pieces that stand good by themselves are not. */
  open: PieceRange[];
}

/**
 * Holds of one feature: from behind the last good piece before a bad one to before the first good one after it, else to
 * the last piece cut. Where only a gauge that may not prove a size has found it bad, good checks by such gauges count beside
 * good pieces: what it says now is no news of pieces that it found good. A bad piece that says nothing about its neighbours is held alone. The result does not depend on the
 * order of the readings.
 * @param readings at least all of the pieces that failed, of the nearest good pieces around them, and of those that were
 *   cut again; more changes nothing
 * @param reworksOf how often a piece has been given to rework: from then on it stands by what was read since
 */
export function findHolds(
  readings: readonly ProofReading[],
  lastPieceCut: number,
  reworksOf: (piece: number) => number = () => 0,
): Hold[] {
  const good: GoodPiece[] = [];
  const checked: GoodPiece[] = [];
  const bad: (BadPiece & { alone: boolean })[] = [];
  const standGood: PieceRange[] = [];
  for (const [piece, mine] of inPieceOrder(readings)) {
    const earliest = Math.min(...mine.map((reading) => reading.earliest));
    const witness = witnessOf(mine);
    const foreign = mine.some((reading) => reading.foreign);
    if (foreign && witness !== "bad") continue;
    if (witness === "good") good.push({ piece, earliest: surest(mine.filter(({ proves }) => proves)) });
    if (witness === "good" || isGoodCheck(mine)) {
      checked.push({ piece, earliest: surest(mine.filter(({ proves, vouches }) => proves || vouches)) });
    }
    if (!foreign && earliest === piece && standingSince(mine, reworksOf(piece)) === "good") {
      standGood.push({ from: piece, to: piece });
    }
    const failing = mine.filter(({ fails }) => fails);
    if (failing.length === 0) continue;
    const readingNos = numbersOf(failing);
    const byReference = failing.some((reading) => reading.byReference);
    const contradictedBy = numbersOf(
      mine.filter(({ proves, cut }) => proves && failing.some((other) => other.cut === cut)),
    );
    const earliestBad = Math.min(...failing.map((reading) => reading.earliest));
    bad.push({
      piece,
      earliest: earliestBad,
      readingNos,
      contradictedBy,
      byReference,
      alone: witness !== "bad",
    });
  }
  const holds: Hold[] = [];
  for (const { alone, ...cause } of bad) {
    const open: PieceRange[] = [];
    if (alone) {
      const range = { from: cause.earliest, to: cause.piece };
      holds.push({ ...range, goodBefore: undefined, goodAfter: undefined, bad: [cause], open });
      continue;
    }
    const [last, next] = neighboursOf(cause, cause.byReference ? good : checked);
    holds.push({
      from: last ? last.earliest + 1 : 1,
      to: next ? next.piece - 1 : Math.max(lastPieceCut, cause.piece),
      goodBefore: last?.piece,
      goodAfter: next?.piece,
      bad: [cause],
      open,
    });
  }
  const joined = joinHolds(holds);
  let first = 0; // holds lie one behind the other, and so do the good pieces
  for (const hold of joined) {
    while (first < standGood.length && standGood[first]!.to < hold.from) first += 1;
    let end = first;
    while (end < standGood.length && standGood[end]!.from <= hold.to) end += 1;
    hold.open = withoutRanges([hold], standGood.slice(first, end));
  }
  return joined;
}

/** The first piece that a good one may have been, by the reading of its first cut that knows it best. */
function surest(good: readonly ProofReading[]): number {
  return Math.max(...good.filter(({ cut }) => cut === 1).map(({ earliest }) => earliest));
}

function numbersOf(readings: readonly ProofReading[]): number[] {
  return readings.map(({ readingNo }) => readingNo).sort((a, b) => a - b);
}

interface GoodPiece {
  piece: number;
  /** The first that it may have been. */
  earliest: number;
}

/** The good pieces nearest before and after a bad one; among the first of those after it may be some that need not be after. */
function neighboursOf(
  bad: { piece: number; earliest: number },
  good: readonly GoodPiece[],
): [GoodPiece | undefined, GoodPiece | undefined] {
  let low = 0;
  let high = good.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (good[middle]!.piece < bad.earliest) low = middle + 1;
    else high = middle;
  }
  let after = low;
  while (after < good.length && good[after]!.earliest <= bad.piece) after += 1;
  return [good[low - 1], good[after]];
}

function inPieceOrder(readings: readonly ProofReading[]): [number, ProofReading[]][] {
  const byPiece = new Map<number, ProofReading[]>();
  for (const reading of readings) {
    const mine = byPiece.get(reading.piece);
    if (mine) mine.push(reading);
    else byPiece.set(reading.piece, [reading]);
  }
  return [...byPiece].sort(([a], [b]) => a - b);
}

/** How a piece stands that has been given to rework some times: by what was read since the last of them. */
export function standingSince(readings: readonly ProofReading[], reworks: number): Standing {
  const since = readings.filter((reading) => (reading.reworks ?? 0) >= reworks);
  if (since.length > 0 || readings.length === 0) return standingOf(since);
  return standingOf(readings) === "bad" ? "bad" : "unproven";
}

/** Bad pieces between the same good ones are causes of one hold. */
function joinHolds(holds: readonly Hold[]): Hold[] {
  const joined: Hold[] = [];
  for (const hold of [...holds].sort((a, b) => a.from - b.from || b.to - a.to)) {
    const last = joined.at(-1);
    if (!last || hold.from > last.to) {
      joined.push(hold);
      continue;
    }
    for (const cause of hold.bad) last.bad.push(cause);
    if (hold.to <= last.to) continue;
    last.to = hold.to;
    last.goodAfter = hold.goodAfter;
  }
  for (const hold of joined) hold.bad.sort((a, b) => a.piece - b.piece);
  return joined;
}
