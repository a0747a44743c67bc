import { chiSquareQuantile } from "../statistics/chi-square-quantile.js";
import { coverageFactor } from "../statistics/coverage-factor.js";
import { summarize } from "../statistics/summary.js";
import { varianceRatioTail } from "../statistics/variance-ratio.js";

export interface OnePartStudy {
  n: number;
  mean: number;
  bias: number;
  /** Limits of the bias at 95 % confidence. */
  biasLimits: [number, number];
  /** Chance of a bias that large where there is none; undefined where nothing varies. */
  biasChance: number | undefined;
  repeatability: number;
  repeatabilityLimits: [number, number];
  /** Undefined where nothing varies. */
  cg: number | undefined;
  cgk: number | undefined;
}

/**
 * Study of one part of known size, type 1: bias x̄ − x₀ with Student's limits and test, and
 *   Cg = share T / (spread s),  Cgk = (share T / 2 − |bias|) / (spread s / 2)
 * @param readings at least 2, in one common unit, which the result is in
 * @param options reference x₀; tolerance T, above 0, if there is one; share of it that counts, usually 0.2; spread, how many s
 *   are set against it, usually 6
 * @throws {RangeError} for anything else
 * @see ISO 22514-7:2012 (indices of a measuring system on one standard); common practice, shares differ between shops
 */
export function studyOnePart(
  readings: readonly number[],
  options: { reference: number; tolerance?: number | undefined; share: number; spread: number },
): OnePartStudy {
  const { reference, tolerance, share, spread } = options;
  if (
    ![reference, share, spread].every(Number.isFinite) ||
    !(share > 0 && spread > 0) ||
    !((tolerance ?? 1) > 0)
  ) {
    throw new RangeError("needs a reference, and tolerance, share and spread above 0");
  }
  const { n, mean, standardDeviation: s } = summarize(readings);
  const bias = mean - reference;
  const half = (coverageFactor(0.95, n - 1) * s) / Math.sqrt(n);
  const limit = (probability: number) => s * Math.sqrt((n - 1) / chiSquareQuantile(probability, n - 1));
  const isIndexed = s > 0 && tolerance !== undefined;
  return {
    n,
    mean,
    bias,
    biasLimits: [bias - half, bias + half],
    biasChance: s === 0 ? undefined : varianceRatioTail((bias / s) ** 2 * n, 1, n - 1),
    repeatability: s,
    repeatabilityLimits: [limit(0.975), limit(0.025)],
    cg: isIndexed ? (share * tolerance) / (spread * s) : undefined,
    cgk: isIndexed ? ((share * tolerance) / 2 - Math.abs(bias)) / ((spread * s) / 2) : undefined,
  };
}
