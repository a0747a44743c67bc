import { powerOf10, quotient, sum, toIntegers } from "./exact.js";

export interface Summary {
  n: number;
  mean: number;
  /** Sample standard deviation s, divisor n − 1. */
  standardDeviation: number;
  /** r₁ = Σ(xᵢ − x̄)(xᵢ₊₁ − x̄) / Σ(xᵢ − x̄)²; undefined where all values are equal. */
  lag1Autocorrelation: number | undefined;
}

/**
 * Mean, sample standard deviation and lag-1 autocorrelation, from exact sums of the values as they are written.
 * @param values n ≥ 2 finite numbers in one common unit, in the order they were taken
 * @returns mean and s in the unit of `values`
 * @throws {RangeError} if n < 2 or a value is not finite
 * @see NIST StRD, univariate summary statistics (definitions); NIST/SEMATECH e-Handbook 1.3.5.12
 */
export function summarize(values: readonly number[]): Summary {
  const n = values.length;
  if (n < 2) throw new RangeError(`needs at least 2 values, got ${n}`);
  const { integers, places } = toIntegers(values);
  const total = sum(integers);
  const count = BigInt(n);
  const unit = powerOf10(places);
  const deviations = integers.map((x) => count * x - total); // n times the deviation
  const squares = sum(deviations.map((d) => d * d));
  const products = sum(deviations.slice(1).map((d, i) => d * deviations[i]!));
  return {
    n,
    mean: quotient(total, count * unit),
    standardDeviation: Math.sqrt(quotient(squares, count * count * (count - 1n) * unit * unit)),
    lag1Autocorrelation: squares === 0n ? undefined : quotient(products, squares),
  };
}
