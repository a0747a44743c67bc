import { jumpInterval, usualLimits } from "./allowed-interval.js";
import { earnedInterval } from "./plan-checks.js";

/**
 * Pieces of a batch that the check plan wants measured if every check is good and nothing but edges is changed: the first
 * ones until trust is earned, then at growing intervals, from the start again with each fresh edge, and the last one. No
 * interval is longer than jumps allow after so many pieces without one.
 * @param largest largest interval that the part allows
 * @param freshEdges first pieces cut with a fresh edge
 * @throws {RangeError} if the quantity is no whole number from 1 on
 */
export function checksIfAllGoesWell(
  quantity: number,
  largest: number,
  freshEdges: readonly number[] = [],
): number {
  if (!(Number.isSafeInteger(quantity) && quantity >= 1)) {
    throw new RangeError(`a batch has 1 piece or more, got ${quantity}`);
  }
  const edges = [...new Set(freshEdges)]
    .filter((piece) => piece > 1 && piece <= quantity)
    .sort((a, b) => a - b);
  let checks = 0;
  let good = 0;
  let at = 0; // last piece measured
  let edge = 0; // next fresh edge
  for (;;) {
    const jumpsAllow = jumpInterval(at, 0, usualLimits.badPieceInChecks);
    let piece = at + Math.min(earnedInterval(good, largest), jumpsAllow);
    if (edge < edges.length && edges[edge]! <= piece) {
      piece = edges[edge]!;
      edge += 1;
      good = 0;
    }
    if (piece > quantity) return at < quantity ? checks + 1 : checks;
    checks += 1;
    good += 1;
    at = piece;
  }
}
