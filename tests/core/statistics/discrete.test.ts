import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  binomialCdf,
  binomialProbability,
  hypergeometricCdf,
  hypergeometricProbability,
  poissonCdf,
  poissonProbability,
} from "../../../src/core/statistics/discrete.js";

/** C(n, k) as a whole number. */
function choose(n: number, k: number): bigint {
  if (k < 0 || k > n) return 0n;
  let result = 1n;
  for (let i = 1; i <= k; i += 1) result = (result * BigInt(n - k + i)) / BigInt(i);
  return result;
}
/** Quotient of whole numbers to 17 digits. */
function quotient(a: bigint, b: bigint): number {
  if (a === 0n) return 0;
  let shift = 0;
  let top = a;
  while (top < b * 10n ** 20n) {
    top *= 10n ** 20n;
    shift += 20;
  }
  return Number(top / b) / 10 ** shift;
}
/** P(X ≤ c) of a binomial with p = a/b in whole numbers. */
function exactBinomialCdf(c: number, n: number, a: number, b: number): number {
  let sum = 0n;
  for (let x = 0; x <= c; x += 1)
    sum += choose(n, x) * BigInt(a) ** BigInt(x) * BigInt(b - a) ** BigInt(n - x);
  return quotient(sum, BigInt(b) ** BigInt(n));
}
function exactHypergeometricCdf(c: number, lot: number, marked: number, n: number): number {
  let sum = 0n;
  for (let x = 0; x <= c; x += 1) sum += choose(marked, x) * choose(lot - marked, n - x);
  return quotient(sum, choose(lot, n));
}
const near = (actual: number, expected: number, relative = 1e-12) =>
  Math.abs(actual - expected) <= relative * Math.max(expected, 1e-290) + 1e-15;

describe("binomial and hypergeometric sums", () => {
  it("agree with whole-number arithmetic", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 150 }),
        fc.integer({ min: 0, max: 150 }),
        fc.integer({ min: 1, max: 99 }),
        (n, c, percent) => {
          const at = Math.min(c, n);
          expect(near(binomialCdf(at, n, percent / 100), exactBinomialCdf(at, n, percent, 100))).toBe(true);
        },
      ),
      { numRuns: 150 },
    );
    const drawn = fc
      .integer({ min: 1, max: 250 })
      .chain((lot) =>
        fc.tuple(fc.constant(lot), fc.nat({ max: lot }), fc.nat({ max: lot }), fc.nat({ max: lot })),
      );
    fc.assert(
      fc.property(drawn, ([lot, marked, n, c]) => {
        expect(near(hypergeometricCdf(c, lot, marked, n), exactHypergeometricCdf(c, lot, marked, n))).toBe(
          true,
        );
      }),
      { numRuns: 150 },
    );
  });

  it("stay whole for large numbers: all probabilities of one add up to 1", () => {
    for (const [n, p] of [
      [1_000_000, 0.0001],
      [100_000, 0.5],
    ] as const) {
      const middle = Math.round(n * p);
      let sum = 0;
      const spread = Math.ceil(12 * Math.sqrt(n * p * (1 - p)));
      for (let x = Math.max(0, middle - spread); x <= middle + spread; x += 1)
        sum += binomialProbability(x, n, p);
      expect(Math.abs(sum - 1)).toBeLessThan(1e-11);
      expect(binomialCdf(middle, n, p)).toBeGreaterThan(0.49);
    }
    let drawn = 0;
    for (let x = 0; x <= 400; x += 1) drawn += hypergeometricProbability(x, 10_000_000, 100_000, 20_000);
    expect(Math.abs(drawn - 1)).toBeLessThan(1e-11);
  });

  it("come to Poisson's for rare events", () => {
    expect(Math.abs(binomialCdf(3, 10_000_000, 2e-7) - poissonCdf(3, 2))).toBeLessThan(1e-6);
  });
});

describe("poissonCdf", () => {
  // e^−λ Σ λ^x/x!, worked out by hand: λ = 1 gives 2.5/e up to 2.
  it("is the sum of its terms", () => {
    expect(poissonCdf(2, 1)).toBeCloseTo(2.5 / Math.E, 14);
    expect(poissonProbability(0, 3)).toBeCloseTo(Math.exp(-3), 15);
    expect(poissonCdf(0, 0)).toBe(1);
    expect(poissonProbability(1, 0)).toBe(0);
  });

  it("rises with c and falls with λ", () => {
    fc.assert(
      fc.property(fc.nat({ max: 60 }), fc.double({ min: 0.01, max: 80, noNaN: true }), (c, lambda) => {
        expect(poissonCdf(c + 1, lambda)).toBeGreaterThanOrEqual(poissonCdf(c, lambda));
        expect(poissonCdf(c, lambda * 1.1)).toBeLessThanOrEqual(poissonCdf(c, lambda));
      }),
    );
  });
});

describe("boundaries", () => {
  it("are certain at the ends", () => {
    expect(binomialCdf(5, 5, 0.3)).toBe(1);
    expect([
      binomialProbability(0, 4, 0),
      binomialProbability(4, 4, 1),
      binomialProbability(3, 4, 1),
    ]).toEqual([1, 1, 0]);
    expect(binomialProbability(5, 4, 0.5)).toBe(0);
    expect(hypergeometricCdf(0, 10, 8, 5)).toBe(0); // 3 of 5 at least are marked
    expect(hypergeometricCdf(2, 10, 2, 10)).toBe(1);
    expect(hypergeometricProbability(2, 10, 2, 10)).toBe(1);
  });

  it.each([
    () => binomialCdf(-1, 5, 0.1),
    () => binomialCdf(1, 5.5, 0.1),
    () => binomialCdf(1, 5, 1.1),
    () => poissonCdf(1, Number.NaN),
    () => poissonProbability(0.5, 1),
    () => hypergeometricCdf(1, 10, 11, 5),
    () => hypergeometricCdf(1, 10, 5, 11),
  ])("refuse what is none: %s", (call) => {
    expect(call).toThrow(RangeError);
  });
});
