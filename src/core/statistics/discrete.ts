/** ln n! − (ln √(2πn) + n ln n − n): what Stirling's formula leaves out. */
function stirlingError(n: number): number {
  if (n === 0) return 0;
  if (n < 16) {
    let factorial = 1;
    for (let k = 2; k <= n; k += 1) factorial *= k;
    return Math.log(factorial) - (0.5 * Math.log(2 * Math.PI * n) + n * Math.log(n) - n);
  }
  const s = 1 / (n * n);
  return (1 / 12 - s * (1 / 360 - s * (1 / 1260 - s * (1 / 1680 - s / 1188)))) / n;
}

/** x ln(x/m) + m − x without the cancellation where x is near m. */
function deviance(x: number, m: number): number {
  if (Math.abs(x - m) < 0.1 * (x + m)) {
    const v = (x - m) / (x + m);
    let sum = (x - m) * v;
    let term = 2 * x * v;
    for (let k = 1; ; k += 1) {
      term *= v * v;
      const next = sum + term / (2 * k + 1);
      if (next === sum) return next;
      sum = next;
    }
  }
  return x * Math.log(x / m) + m - x;
}

/**
 * Poisson probability of exactly x events where λ are expected, by the saddle-point expansion, which keeps full precision
 * for large numbers.
 * @see Loader, Fast and accurate computation of binomial probabilities (2000), from memory
 */
export function poissonProbability(x: number, lambda: number): number {
  mustBeWhole(x, "x");
  if (!(lambda >= 0 && Number.isFinite(lambda))) throw new RangeError(`λ must be 0 or more, got ${lambda}`);
  if (lambda === 0) return x === 0 ? 1 : 0;
  if (x === 0) return Math.exp(-lambda);
  return Math.exp(-stirlingError(x) - deviance(x, lambda)) / Math.sqrt(2 * Math.PI * x);
}

/**
 * Binomial probability of exactly x in n, each with probability p, by the saddle-point expansion.
 * @see Loader (2000), from memory
 */
export function binomialProbability(x: number, n: number, p: number): number {
  mustBeWhole(x, "x");
  mustBeWhole(n, "n");
  if (!(p >= 0 && p <= 1)) throw new RangeError(`p must lie from 0 to 1, got ${p}`);
  if (x > n) return 0;
  if (p === 0) return x === 0 ? 1 : 0;
  if (p === 1) return x === n ? 1 : 0;
  const q = 1 - p;
  if (x === 0) return Math.exp(n * Math.log1p(-p));
  if (x === n) return Math.exp(n * Math.log(p));
  const exponent =
    stirlingError(n) - stirlingError(x) - stirlingError(n - x) - deviance(x, n * p) - deviance(n - x, n * q);
  return Math.exp(exponent) * Math.sqrt(n / (2 * Math.PI * x * (n - x)));
}

/**
 * Hypergeometric probability of exactly x marked pieces in a sample of n out of N, of which D are marked: the quotient of
 * three binomial probabilities at p = n/N.
 * @see Loader (2000), from memory
 */
export function hypergeometricProbability(x: number, lot: number, marked: number, n: number): number {
  mustBeDrawn(x, lot, marked, n);
  if (x > n || x > marked || n - x > lot - marked) return 0;
  if (n === 0 || n === lot) return 1;
  const p = n / lot;
  return (
    (binomialProbability(x, marked, p) * binomialProbability(n - x, lot - marked, p)) /
    binomialProbability(n, lot, p)
  );
}

/** P(X ≤ c), X Poisson with mean λ. */
export function poissonCdf(c: number, lambda: number): number {
  mustBeWhole(c, "c");
  return lowerTail(c, {
    mean: lambda,
    highest: Number.POSITIVE_INFINITY,
    at: (x) => poissonProbability(x, lambda),
    step: (x) => lambda / (x + 1),
  });
}

/** P(X ≤ c), X binomial with n draws of probability p. */
export function binomialCdf(c: number, n: number, p: number): number {
  mustBeWhole(c, "c");
  return lowerTail(c, {
    mean: n * p,
    highest: n,
    at: (x) => binomialProbability(x, n, p),
    step: (x) => ((n - x) * p) / ((x + 1) * (1 - p)),
  });
}

/** P(X ≤ c), X marked pieces in a sample of n out of a lot, of which some are marked. */
export function hypergeometricCdf(c: number, lot: number, marked: number, n: number): number {
  mustBeDrawn(c, lot, marked, n);
  if (c < n - (lot - marked)) return 0;
  return lowerTail(c, {
    mean: (n * marked) / lot,
    highest: Math.min(n, marked),
    at: (x) => hypergeometricProbability(x, lot, marked, n),
    step: (x) => ((marked - x) * (n - x)) / ((x + 1) * (lot - marked - n + x + 1)),
  });
}

interface Counts {
  mean: number;
  highest: number;
  /** Probability of exactly x. */
  at: (x: number) => number;
  /** That of x + 1 over that of x. */
  step: (x: number) => number;
}

/** Sums the shorter side, from c outwards, until nothing is added any more. */
function lowerTail(c: number, { mean, highest, at, step }: Counts): number {
  if (c >= highest) return 1;
  if (c < mean) {
    let term = at(c);
    let sum = term;
    for (let x = c; x > 0 && term > 0; x -= 1) {
      term /= step(x - 1);
      if (sum + term === sum) break;
      sum += term;
    }
    return Math.min(1, sum);
  }
  let term = at(c + 1);
  let sum = term;
  for (let x = c + 1; x < highest && term > 0; x += 1) {
    term *= step(x);
    if (sum + term === sum) break;
    sum += term;
  }
  return Math.max(0, 1 - sum);
}

function mustBeWhole(value: number, name: string): void {
  if (!(Number.isSafeInteger(value) && value >= 0)) {
    throw new RangeError(`${name} must be a whole number from 0 on, got ${value}`);
  }
}

function mustBeDrawn(x: number, lot: number, marked: number, n: number): void {
  mustBeWhole(x, "x");
  mustBeWhole(lot, "lot");
  mustBeWhole(marked, "marked");
  mustBeWhole(n, "n");
  if (marked > lot || n > lot) throw new RangeError(`a lot of ${lot} has no ${Math.max(marked, n)} pieces`);
}
