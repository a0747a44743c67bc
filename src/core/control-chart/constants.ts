import { logGamma } from "../statistics/log-gamma.js";
import { rangeConstants } from "../statistics/range-constants.js";

export interface ChartConstants {
  d2: number;
  d3: number;
  c4: number;
  A2: number;
  A3: number;
  B3: number;
  B4: number;
  D3: number;
  D4: number;
}

/** c₄ = √(2/(n − 1)) Γ(n/2) / Γ((n − 1)/2): expected sample standard deviation of n normal quantities of σ = 1. */
export function c4Of(n: number): number {
  if (!Number.isInteger(n) || n < 2) throw new RangeError(`a subgroup has at least 2 values, got ${n}`);
  return Math.sqrt(2 / (n - 1)) * Math.exp(logGamma(n / 2) - logGamma((n - 1) / 2));
}

/**
 * Factors of the charts of means with ranges or standard deviations, worked out for subgroups of n:
 *   A₂ = 3/(d₂√n), A₃ = 3/(c₄√n), D = 1 ∓ 3 d₃/d₂, B = 1 ∓ 3 √(1 − c₄²)/c₄, none below 0
 * @param n from 2 on
 * @throws {RangeError} for anything else
 * @see ISO 7870-2:2013, table of factors; ASTM STP 15D (from memory)
 */
export function chartConstants(n: number): ChartConstants {
  const { d2, d3 } = rangeConstants(n);
  const c4 = c4Of(n);
  const range = (3 * d3) / d2;
  const s = (3 * Math.sqrt(1 - c4 ** 2)) / c4;
  return {
    d2,
    d3,
    c4,
    A2: 3 / (d2 * Math.sqrt(n)),
    A3: 3 / (c4 * Math.sqrt(n)),
    B3: Math.max(0, 1 - s),
    B4: 1 + s,
    D3: Math.max(0, 1 - range),
    D4: 1 + range,
  };
}
