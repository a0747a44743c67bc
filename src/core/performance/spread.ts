import { chartConstants } from "../control-chart/constants.js";
import { deviationOf, mean, movingRanges } from "../control-chart/variables.js";

/** A standard deviation with the degrees of freedom that it is as good as. */
export interface Spread {
  s: number;
  degrees: number;
}

/** What m̄R/d₂ is worth beside the sample standard deviation, as a share of its degrees of freedom, for long series. */
const rangeEfficiency = 0.605;

/**
 * Spread within, from the moving ranges of readings in cutting order; none is taken across phases.
 * @returns undefined where no phase has two readings
 * @see ISO 22514-2; J. D. Cryer and T. P. Ryan, J. Quality Technology 22 (1990) 187–192 (efficiency 0.605, from memory)
 */
export function spreadWithin(phases: readonly (readonly number[])[]): Spread | undefined {
  const ranges = phases.flatMap((phase) => movingRanges(phase));
  if (ranges.length === 0) return undefined;
  return { s: mean(ranges) / chartConstants(2).d2, degrees: rangeEfficiency * ranges.length };
}

/** Spread of all readings together. @returns undefined of fewer than 2 */
export function spreadOverall(values: readonly number[]): Spread | undefined {
  return values.length < 2 ? undefined : { s: deviationOf(values), degrees: values.length - 1 };
}

export interface Reading {
  piece: number;
  size: number;
}

/** Scatter about straight lines of one slope, a fresh level for each phase. */
export interface Trend extends Spread {
  /** Change of size per piece. */
  slope: number;
  /** Standard uncertainty of the slope. */
  slopeUncertainty: number;
}

/**
 * Scatter about the trend: within each phase the size is a level of its own plus one slope, common to all, times the piece; what is
 * left over has n − phases − 1 degrees of freedom.
 * @returns undefined where fewer than one degree is left, or all pieces of each phase are the same
 * @see analysis of covariance with one common slope, ordinary least squares
 */
export function trendOf(phases: readonly (readonly Reading[])[]): Trend | undefined {
  const used = phases.filter((phase) => phase.length > 0);
  const centred = used.flatMap((phase) => {
    const piece = mean(phase.map((reading) => reading.piece));
    const size = mean(phase.map((reading) => reading.size));
    return phase.map((reading) => ({ x: reading.piece - piece, y: reading.size - size }));
  });
  const degrees = centred.length - used.length - 1;
  const squares = centred.reduce((all, { x }) => all + x * x, 0);
  if (degrees < 1 || squares === 0) return undefined;
  const slope = centred.reduce((all, { x, y }) => all + x * y, 0) / squares;
  const s = Math.sqrt(centred.reduce((all, { x, y }) => all + (y - slope * x) ** 2, 0) / degrees);
  return { s, degrees, slope, slopeUncertainty: s / Math.sqrt(squares) };
}
