import { normalCdf } from "./normal.js";

/**
 * Most that the chance can be of n independent normal readings all showing the same value on a display: with p the largest
 * chance of one step, that around the mean,
 *   P = Σ p_k^n ≤ p^(n−1),  p = 2Φ(d/2s) − 1.
 * @param n readings, at least 1
 * @param step one step d of the display
 * @param standardDeviation s of the readings, in the unit of `step`
 * @throws {RangeError} if n is below 1, or step or standardDeviation is not above 0
 * @see elementary probability: the chances p_k of the steps add up to 1
 */
export function chanceOfAllEqual(n: number, step: number, standardDeviation: number): number {
  if (!(n >= 1)) throw new RangeError(`${n} readings are none`);
  if (!(step > 0 && standardDeviation > 0)) throw new RangeError("step and scatter must be above 0");
  return (2 * normalCdf(step / (2 * standardDeviation)) - 1) ** (n - 1);
}
