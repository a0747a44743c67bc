import { normalCdf } from "./normal.js";

/**
 * The value below which a standard normal quantity lies with a given probability, by halving on the shorter tail.
 * @param probability above 0 and below 1
 * @throws {RangeError} for anything else
 */
export function normalQuantile(probability: number): number {
  if (!(probability > 0 && probability < 1)) throw new RangeError("a probability is between 0 and 1");
  if (probability > 0.5) return -normalQuantile(1 - probability);
  let [low, high] = [-39, 0];
  for (let step = 0; step < 100 && high - low > 1e-15 * -low; step++) {
    const middle = (low + high) / 2;
    if (normalCdf(middle) < probability) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
