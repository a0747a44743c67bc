import { powerOf10, quotient, sum, toIntegers } from "./exact.js";

export interface OneWayAnalysis {
  between: { degrees: number; sumOfSquares: number; meanSquare: number };
  within: { degrees: number; sumOfSquares: number; meanSquare: number };
  /** Undefined where nothing varies within the groups. */
  f: number | undefined;
  /** Share of the sum of squares that lies between the groups; undefined where nothing varies. */
  rSquared: number | undefined;
}

/**
 * One-way analysis of variance, groups of any size, from exact sums.
 * @param groups at least 2 groups of at least 1 finite number each, in one common unit, and more numbers than groups
 * @throws {RangeError} for anything else
 * @see NIST/SEMATECH e-Handbook 7.4.3.3; NIST StRD, analysis of variance (definitions)
 */
export function analyzeOneWay(groups: readonly (readonly number[])[]): OneWayAnalysis {
  const flat = groups.flat();
  if (groups.length < 2 || groups.some((group) => group.length === 0) || flat.length <= groups.length) {
    throw new RangeError("needs at least 2 groups, none of them empty, and more values than groups");
  }
  const { integers, places } = toIntegers(flat);
  let from = 0;
  const parts = groups.map(({ length }) => {
    const part = integers.slice(from, from + length);
    from += length;
    return part;
  });
  const product = parts.reduce((all, part) => all * BigInt(part.length), 1n);
  // Σ (group total)² / size, times the product of all sizes.
  const ofGroups = sum(parts.map((part) => (sum(part) ** 2n * product) / BigInt(part.length)));
  const count = BigInt(flat.length);
  const ofAll = sum(integers) ** 2n;
  const squares = sum(integers.map((x) => x * x));
  const unit = powerOf10(2 * places);
  const betweenTop = count * ofGroups - product * ofAll; // count · product times the sum of squares
  const withinTop = product * squares - ofGroups; // product times
  const row = (degrees: number, sumOfSquares: number) => ({
    degrees,
    sumOfSquares,
    meanSquare: sumOfSquares / degrees,
  });
  const [k, n] = [groups.length - 1, flat.length - groups.length];
  const totalTop = betweenTop + count * withinTop;
  return {
    between: row(k, quotient(betweenTop, count * product * unit)),
    within: row(n, quotient(withinTop, product * unit)),
    f: withinTop === 0n ? undefined : quotient(betweenTop * BigInt(n), count * withinTop * BigInt(k)),
    rSquared: totalTop === 0n ? undefined : quotient(betweenTop, totalTop),
  };
}
