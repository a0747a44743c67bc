import { summarize } from "../statistics/summary.js";
import { chartConstants } from "./constants.js";

/** Centre line and control limits of one panel; in the unit of what is charted. */
export interface Lines {
  centre: number;
  lower: number;
  upper: number;
}

/** What two panels show, and the standard deviation within, in the unit of the readings. */
export interface PairedChart {
  sigma: number;
  values: number[];
  location: Lines;
  spreads: number[];
  spread: Lines;
}

/**
 * Individuals and moving range: x̄ ± 3 m̄R/d₂, limits of the moving range D₃ m̄R and D₄ m̄R, for moving ranges of 2.
 * @param values n ≥ 2 readings of one phase in cutting order
 * @param meanRange m̄R to go by, where it was pooled over several phases; absent: the mean of these moving ranges
 * @throws {RangeError} if n < 2 and no mean range is given, or n < 1
 * @see ISO 7870-2:2013; NIST/SEMATECH e-Handbook 6.3.2.2
 */
export function individualsChart(values: readonly number[], meanRange?: number): PairedChart {
  const spreads = movingRanges(values);
  const centre = mean(values);
  const range = meanRange ?? mean(spreads);
  const { d2, D3, D4 } = chartConstants(2);
  const sigma = range / d2;
  return {
    sigma,
    values: [...values],
    location: { centre, lower: centre - 3 * sigma, upper: centre + 3 * sigma },
    spreads,
    spread: { centre: range, lower: D3 * range, upper: D4 * range },
  };
}

/** |xᵢ − xᵢ₋₁|, one fewer than the values. */
export function movingRanges(values: readonly number[]): number[] {
  return values.slice(1).map((x, i) => Math.abs(x - values[i]!));
}

/**
 * Means with ranges: x̄̄ ± A₂ R̄, D₃ R̄ and D₄ R̄.
 * @param subgroups at least 1, all of the same n ≥ 2 readings
 * @param meanRange R̄ pooled over phases; absent: that of these subgroups
 * @throws {RangeError} for subgroups that differ in size, or none
 * @see ISO 7870-2:2013; ASTM STP 15D
 */
export function meanAndRangeChart(
  subgroups: readonly (readonly number[])[],
  meanRange?: number,
): PairedChart {
  const { A2, D3, D4, d2 } = chartConstants(sizeOf(subgroups));
  const spreads = subgroups.map(rangeOf);
  return paired(subgroups, spreads, meanRange ?? mean(spreads), A2, D3, D4, d2);
}

/**
 * Means with standard deviations: x̄̄ ± A₃ s̄, B₃ s̄ and B₄ s̄.
 * @param subgroups at least 1, all of the same n ≥ 2 readings
 * @param meanDeviation s̄ pooled over phases; absent: that of these subgroups
 * @throws {RangeError} for subgroups that differ in size, or none
 * @see ISO 7870-2:2013; ASTM STP 15D
 */
export function meanAndDeviationChart(
  subgroups: readonly (readonly number[])[],
  meanDeviation?: number,
): PairedChart {
  const { A3, B3, B4, c4 } = chartConstants(sizeOf(subgroups));
  const spreads = subgroups.map(deviationOf);
  return paired(subgroups, spreads, meanDeviation ?? mean(spreads), A3, B3, B4, c4);
}

function paired(
  subgroups: readonly (readonly number[])[],
  spreads: number[],
  typical: number,
  factor: number,
  lower: number,
  upper: number,
  perSigma: number,
): PairedChart {
  const values = subgroups.map(mean);
  const centre = mean(values);
  return {
    sigma: typical / perSigma,
    values,
    location: { centre, lower: centre - factor * typical, upper: centre + factor * typical },
    spreads,
    spread: { centre: typical, lower: lower * typical, upper: upper * typical },
  };
}

/**
 * Exponentially weighted moving average zᵢ = λ xᵢ + (1 − λ) zᵢ₋₁, z₀ = target, with limits that widen from the start:
 *   target ± L σ √(λ/(2 − λ) · [1 − (1 − λ)²ⁱ])
 * @param values readings in cutting order
 * @param given target and σ in the unit of the readings, λ above 0 and at most 1, L such as 3
 * @throws {RangeError} for another λ or a σ below 0
 * @see S. W. Roberts, Technometrics 1 (1959) 239–250; NIST/SEMATECH e-Handbook 6.3.2.4
 */
export function ewmaChart(
  values: readonly number[],
  { target, sigma, lambda, width = 3 }: { target: number; sigma: number; lambda: number; width?: number },
): { values: number[]; halves: number[]; steadyHalf: number } {
  if (!(lambda > 0 && lambda <= 1)) throw new RangeError("λ is above 0 and at most 1");
  if (!(sigma >= 0)) throw new RangeError("σ must be 0 or more");
  const steadyHalf = width * sigma * Math.sqrt(lambda / (2 - lambda));
  let z = target;
  const averages = values.map((x) => {
    z = lambda * x + (1 - lambda) * z;
    return z;
  });
  const halves = values.map((_, i) => steadyHalf * Math.sqrt(1 - (1 - lambda) ** (2 * (i + 1))));
  return { values: averages, halves, steadyHalf };
}

/**
 * Tabular cumulative sums, not set back after a signal:
 *   C⁺ᵢ = max(0, C⁺ᵢ₋₁ + xᵢ − target − k), C⁻ᵢ = max(0, C⁻ᵢ₋₁ + target − k − xᵢ); a signal where either exceeds h.
 * @param values readings in cutting order
 * @param given target, slack k and decision interval h in the unit of the readings
 * @see E. S. Page, Biometrika 41 (1954) 100–115; NIST/SEMATECH e-Handbook 6.3.2.3
 */
export function cusumChart(
  values: readonly number[],
  { target, k, h }: { target: number; k: number; h: number },
): { above: number[]; below: number[]; signals: number[] } {
  let [high, low] = [0, 0];
  const above: number[] = [];
  const below: number[] = [];
  const signals: number[] = [];
  values.forEach((x, i) => {
    high = Math.max(0, high + (x - target) - k);
    low = Math.max(0, low + (target - x) - k);
    above.push(high);
    below.push(low);
    if (high > h || low > h) signals.push(i);
  });
  return { above, below, signals };
}

export function mean(values: readonly number[]): number {
  if (values.length === 0) throw new RangeError("needs at least 1 value");
  return values.reduce((all, x) => all + x, 0) / values.length;
}

/** Sample standard deviation, divisor n − 1. @throws {RangeError} of fewer than 2 */
export function deviationOf(values: readonly number[]): number {
  return summarize(values).standardDeviation;
}

function rangeOf(values: readonly number[]): number {
  return Math.max(...values) - Math.min(...values);
}

function sizeOf(subgroups: readonly (readonly number[])[]): number {
  const n = subgroups[0]?.length ?? 0;
  if (subgroups.some((group) => group.length !== n)) throw new RangeError("subgroups must be of one size");
  return n;
}
