import { coverageFactor } from "../statistics/coverage-factor.js";
import { fitLinear } from "../statistics/linear-regression.js";
import { varianceRatioTail } from "../statistics/variance-ratio.js";

export interface Estimate {
  value: number;
  standardDeviation: number;
  /** Limits at 95 % confidence. */
  limits: [number, number];
  /** Chance of a value that far from 0 where it is 0; undefined where nothing scatters. */
  chance: number | undefined;
}

export interface Line {
  slope: Estimate;
  intercept: Estimate;
  /** s about the line. */
  scatter: number;
  rSquared: number | undefined;
  degrees: number;
  /** The line at x, with limits of its mean at 95 % confidence. */
  at(x: number): { value: number; limits: [number, number] };
}

/**
 * A straight line y = a + b x with Student's tests of a and b against 0 and the confidence band of the mean,
 *   ŷ ± t √(s² (1, x) (XᵀX)⁻¹ (1, x)ᵀ): linearity and bias of a gauge are that line through deviations over reference sizes.
 * @param x, y at least 3 numbers each, x not all equal
 * @throws {RangeError} for anything else
 * @see NIST/SEMATECH e-Handbook 4.1.4.1 and 4.5.1.2; measurement systems analysis handbook, 4th edition, linearity (from memory)
 */
export function fitLine(x: readonly number[], y: readonly number[]): Line {
  if (x.length < 3) throw new RangeError(`a line with its scatter needs at least 3 points, got ${x.length}`);
  const fit = fitLinear([x.map(() => 1), x], y, true);
  const scatter = fit.residualStandardDeviation!;
  const t = coverageFactor(0.95, fit.residualDegrees);
  const estimate = (i: 0 | 1): Estimate => {
    const value = fit.estimates[i]!;
    const standardDeviation = fit.standardDeviations[i]!;
    return {
      value,
      standardDeviation,
      limits: [value - t * standardDeviation, value + t * standardDeviation],
      chance:
        standardDeviation === 0
          ? undefined
          : varianceRatioTail((value / standardDeviation) ** 2, 1, fit.residualDegrees),
    };
  };
  const [intercept, slope] = [estimate(0), estimate(1)];
  const [[a, b], [, c]] = fit.inverse as [[number, number], [number, number]];
  const middle = x.reduce((all, value) => all + value, 0) / x.length;
  return {
    slope,
    intercept,
    scatter,
    rSquared: fit.rSquared,
    degrees: fit.residualDegrees,
    at(at) {
      const value = intercept.value + slope.value * at;
      // About the middle, where the terms do not cancel.
      const half = t * scatter * Math.sqrt(Math.max(a - b ** 2 / c, 0) + c * (at - middle) ** 2);
      return { value, limits: [value - half, value + half] };
    },
  };
}
