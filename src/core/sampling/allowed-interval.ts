import type { Block } from "../wear-offset/block.js";
import type { Estimate } from "../wear-offset/estimate.js";
import { forecastFeature } from "../wear-offset/forecast.js";

/** What a shop may set about how far apart checks may lie. */
export interface SamplingLimits {
  /** Largest chance that a piece cut unmeasured is outside a limit, of all ordinary features of a block together. */
  risk: number;
  /** Largest number of pieces from one check to the next. */
  largest: number;
  /** What a bad piece costs, in checks. */
  badPieceInChecks: number;
}

export const usualLimits: SamplingLimits = { risk: 0.005, largest: 10, badPieceInChecks: 20 };

/** Pieces with which a shop of which nothing is known is taken to have run without a jump. */
const piecesBelieved = 500;

/**
 * Interval that jumps allow: with a jump every M pieces the cost of checks and of the bad pieces found late is least at
 *   n = √(2·M/c), M = (pieces + 500) / (jumps + k),
 * c the cost of a bad piece in checks, k the kinds of jumps that there may be: of the tool, and of a seat where pieces sit in
 * seats, since each may shift by itself; whole pieces, at least 2.
 */
export function jumpInterval(pieces: number, jumps: number, badPieceInChecks: number, kinds = 1): number {
  const apart = (pieces + piecesBelieved) / (jumps + kinds);
  return Math.max(2, Math.floor(Math.sqrt((2 * apart) / badPieceInChecks)));
}

/** Pieces without a single odd one that a shop is taken to have measured before. */
const evenBelieved = 50;

/**
 * Chance that a piece is a single odd one outside a limit, from those met among the measured pieces: (x − ½)/(n + 50), and 0
 * where there is none. No forecast knows of them: they come and go with one piece.
 */
export function oddProbability(oddOut: number, measuredPieces: number): number {
  return oddOut === 0 ? 0 : (oddOut - 0.5) / (measuredPieces + evenBelieved);
}

/** P(j): chance that a piece is outside a limit of at least one feature, 1 − Π(1 − P_f). */
export function jointProbabilityOut(each: readonly number[]): number {
  return 1 - each.reduce((inside, p) => inside * (1 - p), 1);
}

/**
 * Interval that drift, spread and scatter allow: the largest n ≤ `most` with P(j) ≤ risk for all j = 2…n, P(j) being of
 * the j-th piece from now on; 1 if P(2) is too large already.
 */
export function riskInterval(probabilityOut: (j: number) => number, risk: number, most: number): number {
  let n = 1;
  while (n < most && probabilityOut(n + 1) <= risk) n += 1;
  return n;
}

/**
 * P(j) of a block as `riskInterval` asks for it.
 * @param now last piece known to be cut
 * @param offsets register values as they will stand, mm; those of the work offsets after them
 * @param ordinary numbers of the features that are not measured on every piece anyway
 * @param seatOf seat that a piece will be cut in; undefined: not known
 */
export function blockProbabilityOut(
  block: Block,
  estimate: Estimate,
  now: number,
  offsets: readonly number[],
  ordinary: readonly number[],
  seatOf: (piece: number) => number | undefined,
): (j: number) => number {
  return (j) => {
    const piece = now + j;
    const seat = seatOf(piece);
    return jointProbabilityOut(
      ordinary.map((f) => {
        const ahead = Math.max(0, piece - estimate.piece);
        return forecastFeature(block, estimate, f, ahead, offsets, seat).probabilityOut;
      }),
    );
  };
}
