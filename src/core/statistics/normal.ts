/**
 * Standard normal distribution function Φ(z): the series Φ = ½ + φ(z)·(z + z³/3 + z⁵/15 + …) up to |z| = 5, beyond it
 * the continued fraction of the tail.
 * @param z any number; ±Infinity give 0 and 1
 * @throws {RangeError} if z is NaN
 * @see Marsaglia, Evaluating the Normal Distribution, J. Stat. Software 11(4), 2004 (series, from memory);
 *      Abramowitz and Stegun 26.2.14 (continued fraction, from memory)
 */
export function normalCdf(z: number): number {
  if (Number.isNaN(z)) throw new RangeError("z must be a number");
  if (z === Number.POSITIVE_INFINITY) return 1;
  if (z === Number.NEGATIVE_INFINITY) return 0;
  const density = Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
  if (Math.abs(z) > 5) {
    const x = Math.abs(z);
    let fraction = x;
    for (let k = 60; k >= 1; k--) fraction = x + k / fraction;
    const tail = density / fraction;
    return z < 0 ? tail : 1 - tail;
  }
  let term = z;
  let sum = z;
  for (let k = 3; Math.abs(term) > 1e-18 * Math.abs(sum); k += 2) {
    term *= (z * z) / k;
    sum += term;
  }
  return 0.5 + sum * density;
}

/**
 * Probability that a normal quantity lies within limits of which one may be absent.
 * @param mean, standardDeviation, lower, upper in one common unit; standardDeviation ≥ 0
 */
export function probabilityWithin(
  mean: number,
  standardDeviation: number,
  lower: number | undefined,
  upper: number | undefined,
): number {
  if (standardDeviation === 0) return (lower ?? mean) <= mean && mean <= (upper ?? mean) ? 1 : 0;
  const below = lower === undefined ? 0 : normalCdf((lower - mean) / standardDeviation);
  const above = upper === undefined ? 0 : normalCdf((mean - upper) / standardDeviation);
  return Math.max(0, 1 - below - above);
}
