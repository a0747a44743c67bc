import type { Hold } from "./find-holds.js";
import { commonRanges, countPieces, type PieceRange, withoutRanges } from "./piece-ranges.js";

/** rework ends fully at the drawing and has to be proved; repair and use as is do not and need an authority. */
export type DecisionKind = "rework" | "scrap" | "use_as_is" | "repair" | "return";

export interface PieceDecision extends PieceRange {
  /** Later ones have higher numbers. */
  decisionNo: number;
  kind: DecisionKind;
  /** Readings with a higher number were not known when it was taken. */
  knownReadings: number;
}

/** The pieces for which each decision is the latest one. */
export function decisionsInForce<D extends PieceDecision>(
  decisions: readonly D[],
): { decision: D; pieces: PieceRange[] }[] {
  const inForce: { decision: D; pieces: PieceRange[] }[] = [];
  const covered: PieceRange[] = [];
  for (const decision of [...decisions].sort((a, b) => b.decisionNo - a.decisionNo)) {
    const { from, to } = decision;
    const pieces = withoutRanges([{ from, to }], covered);
    if (pieces.length > 0) inForce.push({ decision, pieces });
    covered.push({ from, to });
  }
  return inForce.reverse();
}

/**
 * Pieces of a hold that are settled by decisions. Scrap and return take a piece away for good. Use as is and repair
 * settle what was known when they were taken: a doubt that came later, or a piece that failed again since, stays open.
 * Rework settles nothing before the piece has been measured again.
 */
export function settledPieces(
  hold: Hold,
  inForce: readonly { decision: PieceDecision; pieces: readonly PieceRange[] }[],
): PieceRange[] {
  let firstCause = Number.POSITIVE_INFINITY;
  for (const { readingNos } of hold.bad) firstCause = Math.min(firstCause, readingNos[0]!);
  return inForce.flatMap(({ decision, pieces }) => {
    const { kind, knownReadings } = decision;
    const mine = commonRanges(hold.open, pieces);
    if (kind === "scrap" || kind === "return") return mine;
    if (kind === "rework" || firstCause > knownReadings) return [];
    const failedSince = hold.bad.filter(({ readingNos }) => readingNos.at(-1)! > knownReadings);
    return withoutRanges(
      mine,
      failedSince.map(({ piece }) => ({ from: piece, to: piece })),
    );
  });
}

export type HoldState = "open" | "decided" | "released";

/** A hold is open while a piece of it is neither good by itself nor settled. */
export function stateOf(hold: Hold, settled: readonly PieceRange[]): HoldState {
  if (countPieces(withoutRanges(hold.open, settled)) > 0) return "open";
  return hold.open.length > 0 ? "decided" : "released";
}
