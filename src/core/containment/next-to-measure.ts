import type { Hold } from "./find-holds.js";
import { commonRanges, countPieces, type PieceRange, withoutRanges } from "./piece-ranges.js";

/**
 * Why a piece of a hold is the next to be measured:
 *   confirm       its failing readings are all by gauges that prove nothing
 *   neighbour     the bad piece looks like a single odd one, so the piece beside it releases most
 *   halve         half way between good and bad: drift and jump both turn good into bad once
 *   after_change  the first piece cut after what was changed last: good from there on, if the change was right
 *   latest        nothing has been changed since the bad piece: the last one cut tells whether it lasts
 */
export type MeasureRule = "confirm" | "neighbour" | "halve" | "after_change" | "latest";

export interface MeasureNext {
  steps: { piece: number; rule: MeasureRule; atMost: number }[];
  /** Between bad pieces: no measurement of one speaks for another. */
  each: PieceRange[];
}

/**
 * Which pieces of a hold to measure next. Before the first bad piece and after the last one the doubt is halved from the
 * good side, so that n pieces take at most ⌈log₂(n + 1)⌉ readings as long as good turns into bad only once; what lies
 * between bad pieces has to be measured piece by piece.
 * @param changes first pieces cut after a register, an edge or something else was changed, ascending
 */
export function nextToMeasure(hold: Hold, changes: readonly number[]): MeasureNext {
  const steps: MeasureNext["steps"] = [];
  const [first, last] = [hold.bad[0]!, hold.bad.at(-1)!];
  const bad = hold.bad.map(({ piece }) => ({ from: piece, to: piece }));
  const open = withoutRanges(hold.open, bad);
  for (const { piece, byReference } of hold.bad) {
    if (!byReference && commonRanges(hold.open, [{ from: piece, to: piece }]).length > 0) {
      steps.push({ piece, rule: "confirm", atMost: 1 });
    }
  }
  const between = (from: number, to: number) => (from > to ? [] : commonRanges(open, [{ from, to }]));
  const before = between(hold.from, first.earliest - 1);
  const after = between(last.piece + 1, hold.to);
  const isChanged = (from: number, to: number) => changes.some((piece) => piece > from && piece <= to);
  const single =
    hold.bad.length === 1 && hold.goodAfter !== undefined && !isChanged(last.piece, hold.goodAfter);
  if (before.length > 0) steps.push(single ? besides(before, "last") : halfWay(before));
  if (after.length > 0) steps.push(stepAfter(after, hold, changes, single));
  return { steps, each: between(first.piece + 1, last.piece - 1) };
}

function stepAfter(
  after: PieceRange[],
  { goodAfter, to }: Hold,
  changes: readonly number[],
  single: boolean,
): MeasureNext["steps"][number] {
  if (single) return besides(after, "first");
  const changed = changes.findLast((piece) => commonRanges(after, [{ from: piece, to }]).length > 0);
  const sinceChange = changed === undefined ? [] : commonRanges(after, [{ from: changed, to }]);
  if (changed !== undefined && sinceChange[0]!.from === changed && !isUnchanged(after, changed)) {
    return { piece: changed, rule: "after_change", atMost: halvings(after) };
  }
  if (goodAfter !== undefined) return halfWay(after);
  return { piece: after.at(-1)!.to, rule: "latest", atMost: halvings(after) };
}

/** Whether everything in doubt was cut after the change, so that it divides nothing. */
function isUnchanged(ranges: readonly PieceRange[], changed: number): boolean {
  return ranges[0]!.from > changed;
}

function besides(ranges: readonly PieceRange[], end: "first" | "last"): MeasureNext["steps"][number] {
  const piece = end === "first" ? ranges[0]!.from : ranges.at(-1)!.to;
  return { piece, rule: "neighbour", atMost: halvings(ranges) };
}

function halfWay(ranges: readonly PieceRange[]): MeasureNext["steps"][number] {
  let ahead = Math.floor((countPieces(ranges) - 1) / 2);
  for (const { from, to } of ranges) {
    if (from + ahead <= to) return { piece: from + ahead, rule: "halve", atMost: halvings(ranges) };
    ahead -= to - from + 1;
  }
  throw new RangeError("there is no piece to halve at");
}

function halvings(ranges: readonly PieceRange[]): number {
  return Math.ceil(Math.log2(countPieces(ranges) + 1));
}
