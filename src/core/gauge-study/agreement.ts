import { coverageFactor } from "../statistics/coverage-factor.js";
import { summarize } from "../statistics/summary.js";
import { varianceRatioTail } from "../statistics/variance-ratio.js";
import { fitLine, type Line } from "./line.js";

export interface Agreement {
  n: number;
  /** Mean of the differences, first less second. */
  bias: number;
  biasLimits: [number, number];
  /** Chance of a bias that large where there is none; undefined where nothing scatters. */
  biasChance: number | undefined;
  standardDeviation: number;
  lower: number;
  upper: number;
  /** Of either limit of agreement at 95 % confidence. */
  lowerLimits: [number, number];
  upperLimits: [number, number];
  /** The differences over the mean of the two; undefined of fewer than 3 pairs or equal sizes. */
  bySize: Line | undefined;
}

/**
 * Two gauges on the same pieces: mean difference d̄ and limits of agreement d̄ ± z s, within which about 95 % of the differences
 * lie where they are normal and do not depend on the size; se²(limit) ≈ s² [1/n + z² / (2 (n − 1))].
 * @param pairs at least 2, first and second gauge in one common unit
 * @param z 1.96 for 95 %
 * @throws {RangeError} for fewer pairs, or numbers that are not finite
 * @see J. M. Bland and D. G. Altman, Lancet 327 (1986) 307–310; Stat. Methods Med. Res. 8 (1999) 135–160 (from memory)
 */
export function compareGauges(pairs: readonly (readonly [number, number])[], z = 1.96): Agreement {
  const differences = pairs.map(([first, second]) => first - second);
  const { n, mean: bias, standardDeviation: s } = summarize(differences);
  const t = coverageFactor(0.95, n - 1);
  const about = (value: number, half: number): [number, number] => [value - half, value + half];
  const ofLimit = t * s * Math.sqrt(1 / n + z ** 2 / (2 * (n - 1)));
  const sizes = pairs.map(([first, second]) => (first + second) / 2);
  const [lower, upper] = about(bias, z * s);
  return {
    n,
    bias,
    biasLimits: about(bias, (t * s) / Math.sqrt(n)),
    biasChance: s === 0 ? undefined : varianceRatioTail((bias / s) ** 2 * n, 1, n - 1),
    standardDeviation: s,
    lower,
    upper,
    lowerLimits: about(lower, ofLimit),
    upperLimits: about(upper, ofLimit),
    bySize: n > 2 && new Set(sizes).size > 1 ? fitLine(sizes, differences) : undefined,
  };
}
