import { chiSquareQuantile } from "../statistics/chi-square-quantile.js";
import { normalCdf } from "../statistics/normal.js";
import { normalQuantile } from "../statistics/normal-quantile.js";

export interface Tolerance {
  lower: number | undefined;
  upper: number | undefined;
  target?: number | undefined;
}

/** Undefined where a limit or the target is missing. */
export interface Indices {
  /** (upper − lower) / 6s: what the spread alone would allow. */
  spread: number | undefined;
  /** Distance of the mean from each limit over 3s, and the smaller of them. */
  lower: number | undefined;
  upper: number | undefined;
  smaller: number;
  /** (upper − lower) / 6√(s² + (mean − target)²). */
  aboutTarget: number | undefined;
}

/**
 * Capability indices where s is the spread within (Cp, CpkL, CpkU, Cpk, Cpm), performance indices where it is that of all readings
 * (Pp, PpkL, PpkU, Ppk); of a limit that is missing nothing is said.
 * @param mean, s, and the limits of size in one common unit; s above 0
 * @throws {RangeError} if s is not above 0, or both limits are missing
 * @see ISO 22514-2; V. E. Kane, J. Quality Technology 18 (1986) 41–52; Chan, Cheng and Spiring, ibid. 20 (1988) 162–175
 */
export function indicesOf(mean: number, s: number, { lower, upper, target }: Tolerance): Indices {
  if (!(s > 0)) throw new RangeError("a standard deviation is above 0");
  const below = lower === undefined ? undefined : (mean - lower) / (3 * s);
  const above = upper === undefined ? undefined : (upper - mean) / (3 * s);
  const smaller = Math.min(below ?? Number.POSITIVE_INFINITY, above ?? Number.POSITIVE_INFINITY);
  if (!Number.isFinite(smaller)) throw new RangeError("needs at least one limit");
  const width = lower === undefined || upper === undefined ? undefined : upper - lower;
  return {
    spread: width === undefined ? undefined : width / (6 * s),
    lower: below,
    upper: above,
    smaller,
    aboutTarget:
      width === undefined || target === undefined
        ? undefined
        : width / (6 * Math.sqrt(s ** 2 + (mean - target) ** 2)),
  };
}

/**
 * Confidence limits of Cp or Pp, exact for normal readings: index · √(χ²(p; ν)/ν).
 * @param degrees ν of the standard deviation: n − 1 of a sample's
 * @param confidence of the two limits together, such as 0.95
 * @see NIST/SEMATECH e-Handbook 6.1.6; ISO 22514-2
 */
export function spreadLimits(index: number, degrees: number, confidence = 0.95): [number, number] {
  const tail = (1 - confidence) / 2;
  const at = (p: number) => index * Math.sqrt(chiSquareQuantile(p, degrees) / degrees);
  return [at(tail), at(1 - tail)];
}

/**
 * Approximate confidence limits of Cpk or Ppk: index ± z √(1/(9n) + index²/(2ν)).
 * @param n readings
 * @param degrees ν of the standard deviation; absent: n − 1
 * @param sides 2: limits that hold together; 1: the lower one holds by itself
 * @see A. F. Bissell, Applied Statistics 39 (1990) 331–340 (from memory); NIST/SEMATECH e-Handbook 6.1.6
 */
export function smallerLimits(
  index: number,
  n: number,
  {
    degrees = n - 1,
    confidence = 0.95,
    sides = 2,
  }: { degrees?: number; confidence?: number; sides?: 1 | 2 } = {},
): [number, number] {
  const half =
    normalQuantile(1 - (1 - confidence) / sides) * Math.sqrt(1 / (9 * n) + index ** 2 / (2 * degrees));
  return [index - half, index + half];
}

/**
 * Approximate confidence limits of Cpm: index · √(χ²(p; f)/f), f = n (1 + δ²)²/(1 + 2δ²), δ = (mean − target)/s.
 * @see R. A. Boyles, J. Quality Technology 23 (1991) 17–26
 */
export function aboutTargetLimits(
  index: number,
  n: number,
  delta: number,
  confidence = 0.95,
): [number, number] {
  return spreadLimits(index, (n * (1 + delta ** 2) ** 2) / (1 + 2 * delta ** 2), confidence);
}

/** Share of a normal process below the lower and above the upper limit; 0 where a limit is missing. */
export function shareOutside(
  mean: number,
  s: number,
  { lower, upper }: Tolerance,
): { below: number; above: number } {
  return {
    below: lower === undefined ? 0 : normalCdf((lower - mean) / s),
    above: upper === undefined ? 0 : normalCdf((mean - upper) / s),
  };
}

/** Readings below which the quantiles of the indices by quantiles lie outside the sample: 1/0.00135. */
export const readingsForQuantiles = 741;

/**
 * Indices by quantiles, for readings that are not normal: the distances from the median to the quantiles of 0.135 % and 99.865 %
 * take the place of 3s. The quantiles are those of the readings themselves, between which they are interpolated.
 * @param values at least `readingsForQuantiles`, in any order
 * @throws {RangeError} for fewer, or where a quantile falls on the median
 * @see ISO 22514-2, percentile method (from memory); J. A. Clements, Quality Progress 22 (1989) 95–100
 */
export function quantileIndices(
  values: readonly number[],
  { lower, upper }: Tolerance,
): Pick<Indices, "spread" | "lower" | "upper" | "smaller"> {
  if (values.length < readingsForQuantiles)
    throw new RangeError(`needs at least ${readingsForQuantiles} values, got ${values.length}`);
  const sorted = [...values].sort((a, b) => a - b);
  const [low, median, high] = [0.00135, 0.5, 0.99865].map((p) => quantile(sorted, p)) as [
    number,
    number,
    number,
  ];
  if (!(low < median && median < high)) throw new RangeError("the readings hardly differ");
  const below = lower === undefined ? undefined : (median - lower) / (median - low);
  const above = upper === undefined ? undefined : (upper - median) / (high - median);
  return {
    spread: lower === undefined || upper === undefined ? undefined : (upper - lower) / (high - low),
    lower: below,
    upper: above,
    smaller: Math.min(below ?? Number.POSITIVE_INFINITY, above ?? Number.POSITIVE_INFINITY),
  };
}

function quantile(sorted: readonly number[], p: number): number {
  const at = p * (sorted.length - 1);
  const low = Math.floor(at);
  const next = sorted[Math.min(low + 1, sorted.length - 1)]!;
  return sorted[low]! + (at - low) * (next - sorted[low]!);
}
