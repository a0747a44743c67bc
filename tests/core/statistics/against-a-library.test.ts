import fc from "fast-check";
import jstat from "jstat";
import { describe, expect, it } from "vitest";
import { chiSquareQuantile } from "../../../src/core/statistics/chi-square-quantile.js";
import { coverageFactor } from "../../../src/core/statistics/coverage-factor.js";
import { binomialCdf, hypergeometricCdf, poissonCdf } from "../../../src/core/statistics/discrete.js";
import { logGamma } from "../../../src/core/statistics/log-gamma.js";
import { normalCdf } from "../../../src/core/statistics/normal.js";
import { normalQuantile } from "../../../src/core/statistics/normal-quantile.js";
import { varianceRatioTail } from "../../../src/core/statistics/variance-ratio.js";

/** jStat 1.9.6, a general-purpose library of distributions; it is good to some ten digits. */
const { normal, studentt, chisquare, centralF, binomial, poisson, hypgeom, gammaln } = jstat.jStat;

const probability = fc.double({ min: 1e-4, max: 1 - 1e-4, noNaN: true });
const degrees = fc.integer({ min: 1, max: 200 });

/** Alike to nine digits, or to 1e-10 where both are next to nothing. */
function alike(ours: number, theirs: number, relative = 1e-8): void {
  expect(Math.abs(ours - theirs)).toBeLessThanOrEqual(1e-10 + relative * Math.abs(theirs));
}

describe("distributions beside those of a general-purpose library", () => {
  it("normal: share below, and its inverse", () => {
    fc.assert(
      fc.property(fc.double({ min: -6, max: 6, noNaN: true }), (z) =>
        alike(normalCdf(z), normal.cdf(z, 0, 1), 1e-6),
      ),
    );
    fc.assert(fc.property(probability, (p) => alike(normalCdf(normalQuantile(p)), p)));
    fc.assert(fc.property(probability, (p) => alike(normalQuantile(p), normal.inv(p, 0, 1), 1e-6)));
  });

  it("Student: the factor that covers a share on both sides", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.5, max: 0.999, noNaN: true }), degrees, (p, n) =>
        alike(2 * studentt.cdf(coverageFactor(p, n), n) - 1, p, 1e-7),
      ),
    );
  });

  it("chi-square: its quantiles", () => {
    fc.assert(
      fc.property(probability, degrees, (p, n) => alike(chisquare.cdf(chiSquareQuantile(p, n), n), p, 1e-7)),
    );
  });

  it("variance ratio: the share beyond", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.05, max: 20, noNaN: true }), degrees, degrees, (f, above, below) =>
        alike(varianceRatioTail(f, above, below), 1 - centralF.cdf(f, above, below), 1e-6),
      ),
    );
  });

  it("binomial, Poisson and hypergeometric: up to a number", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 60 }), probability, fc.nat({ max: 60 }), (n, p, c) =>
        alike(
          binomialCdf(Math.min(c, n), n, p),
          Math.min(c, n) >= n ? 1 : binomial.cdf(Math.min(c, n), n, p),
          1e-7,
        ),
      ),
    );
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 40, noNaN: true }), fc.nat({ max: 80 }), (lambda, c) =>
        alike(poissonCdf(c, lambda), poisson.cdf(c, lambda), 1e-7),
      ),
    );
    fc.assert(
      fc.property(
        fc.integer({ min: 10, max: 60 }),
        fc.nat({ max: 9 }),
        fc.integer({ min: 1, max: 9 }),
        fc.nat({ max: 9 }),
        (lot, marked, n, c) =>
          alike(
            hypergeometricCdf(c, lot, marked, n),
            c >= Math.min(marked, n) ? 1 : hypgeom.cdf(c, lot, marked, n),
            1e-7,
          ),
      ),
    );
  });

  it("logarithm of the gamma function", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 500, noNaN: true }), (x) =>
        alike(logGamma(x), gammaln(x), 1e-9),
      ),
    );
  });
});
