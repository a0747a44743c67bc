import { logGamma } from "./log-gamma.js";

/**
 * The value below which a chi-square quantity lies with a given probability, by halving.
 * @param probability above 0 and below 1
 * @param degrees of freedom, above 0, not necessarily whole
 * @throws {RangeError} for anything else
 * @see Abramowitz and Stegun 26.4.19, 6.5.29 and 6.5.31 (incomplete gamma function, from memory)
 */
export function chiSquareQuantile(probability: number, degrees: number): number {
  if (!(probability > 0 && probability < 1)) throw new RangeError("a probability is between 0 and 1");
  if (!(degrees > 0 && degrees < 1e6))
    throw new RangeError("degrees of freedom are above 0 and below a million");
  let [low, high] = [0, degrees + 10];
  while (lower(degrees / 2, high / 2) < probability) [low, high] = [high, 2 * high];
  for (let step = 0; step < 200 && high - low > 1e-15 * high; step++) {
    const middle = (low + high) / 2;
    if (lower(degrees / 2, middle / 2) < probability) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** P(a, x): series below a + 1, continued fraction of the other tail above. */
function lower(a: number, x: number): number {
  if (x === 0) return 0;
  const scale = Math.exp(a * Math.log(x) - x - logGamma(a + 1)); // x^a e^−x / Γ(a + 1)
  if (x < a + 1) {
    let [term, total] = [1, 1];
    for (let n = 1; term > 1e-17 * total; n++) {
      term *= x / (a + n);
      total += term;
    }
    return scale * total;
  }
  let b = x + 1 - a;
  let c = Number.POSITIVE_INFINITY;
  let d = 1 / b;
  let fraction = d;
  for (let i = 1; i < 10_000; i++) {
    const an = -i * (i - a);
    b += 2;
    d = 1 / (an * d + b);
    c = b + an / c;
    fraction *= c * d;
    if (Math.abs(c * d - 1) < 1e-15) break;
  }
  return 1 - scale * a * fraction;
}
