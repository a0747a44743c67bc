import { normalCdf } from "./normal.js";

export interface Normality {
  /** A²*, the Anderson-Darling statistic corrected for mean and standard deviation taken from the sample. */
  statistic: number;
  /** Chance of a value as large where the readings are normal; an approximation. */
  p: number;
}

/**
 * Anderson-Darling test of normality, mean and standard deviation estimated:
 *   A² = −n − Σ (2i − 1)/n · [ln Φ(zᵢ) + ln Φ(−zₙ₊₁₋ᵢ)],  A²* = A² (1 + 0.75/n + 2.25/n²)
 * @param values n ≥ 8 finite numbers, not all equal, in any order
 * @throws {RangeError} for fewer, or where all are equal
 * @see R. B. D'Agostino and M. A. Stephens, Goodness-of-Fit Techniques (1986), table 4.9 (correction and p, from memory)
 */
export function testNormality(values: readonly number[]): Normality {
  const n = values.length;
  if (n < 8) throw new RangeError(`needs at least 8 values, got ${n}`);
  const mean = values.reduce((all, x) => all + x, 0) / n;
  const s = Math.sqrt(values.reduce((all, x) => all + (x - mean) ** 2, 0) / (n - 1));
  if (!(s > 0 && Number.isFinite(s))) throw new RangeError("values must be finite and not all equal");
  const z = values.map((x) => (x - mean) / s).sort((a, b) => a - b);
  const sum = z.reduce(
    (all, zi, i) => all + (2 * i + 1) * (Math.log(normalCdf(zi)) + Math.log(normalCdf(-z[n - 1 - i]!))),
    0,
  );
  const statistic = (-n - sum / n) * (1 + 0.75 / n + 2.25 / n ** 2);
  return { statistic, p: Math.min(1, Math.max(0, pOf(statistic))) };
}

function pOf(a: number): number {
  if (a >= 13) return 0;
  if (a >= 0.6) return Math.exp(1.2937 - 5.709 * a + 0.0186 * a ** 2);
  if (a >= 0.34) return Math.exp(0.9177 - 4.279 * a - 1.38 * a ** 2);
  if (a >= 0.2) return 1 - Math.exp(-8.318 + 42.796 * a - 59.938 * a ** 2);
  return 1 - Math.exp(-13.436 + 101.14 * a - 223.73 * a ** 2);
}
