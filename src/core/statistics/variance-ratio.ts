import { logGamma } from "./log-gamma.js";

/**
 * Upper tail of the F distribution: the chance that the ratio of two independent estimates of one variance is above f. With one
 * degree above and f = t² it is the two-sided tail of Student's distribution.
 * @param f from 0 on
 * @param above degrees of freedom of the numerator, above 0, not necessarily whole
 * @param below of the denominator
 * @throws {RangeError} for anything else
 * @see Abramowitz and Stegun 26.6.2 and 26.5.8 (incomplete beta function as a continued fraction, from memory)
 */
export function varianceRatioTail(f: number, above: number, below: number): number {
  if (!(f >= 0 && above > 0 && below > 0))
    throw new RangeError("needs a ratio from 0 on and degrees of freedom above 0");
  if (f === Number.POSITIVE_INFINITY) return 0;
  const x = below / (below + above * f);
  const [a, b] = [below / 2, above / 2];
  return x < (a + 1) / (a + b + 2) ? front(a, b, x) : 1 - front(b, a, 1 - x);
}

/** I_x(a, b) where the fraction converges at once. */
function front(a: number, b: number, x: number): number {
  if (x === 0) return 0;
  const scale = Math.exp(
    logGamma(a + b + 1) -
      Math.log(a + b) -
      logGamma(a + 1) -
      logGamma(b + 1) +
      Math.log(b) +
      a * Math.log(x) +
      b * Math.log1p(-x),
  );
  const tiny = 1e-300;
  let [c, d] = [1, 1 - ((a + b) * x) / (a + 1)];
  d = 1 / (Math.abs(d) < tiny ? tiny : d);
  let fraction = d;
  for (let m = 1; m < 10_000; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    let step = 1;
    for (const term of [even, odd]) {
      d = 1 / (Math.abs(1 + term * d) < tiny ? tiny : 1 + term * d);
      c = Math.abs(1 + term / c) < tiny ? tiny : 1 + term / c;
      step = c * d;
      fraction *= step;
    }
    if (Math.abs(step - 1) < 1e-15) break;
  }
  return scale * fraction;
}
