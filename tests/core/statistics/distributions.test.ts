import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { chiSquare99 } from "../../../src/core/statistics/chi-square.js";
import { chiSquareQuantile } from "../../../src/core/statistics/chi-square-quantile.js";
import { logGamma } from "../../../src/core/statistics/log-gamma.js";
import { normalCdf } from "../../../src/core/statistics/normal.js";
import { normalQuantile } from "../../../src/core/statistics/normal-quantile.js";
import { testNormality } from "../../../src/core/statistics/normality.js";
import { expectDigits } from "../data/read-data.js";

describe("normalQuantile", () => {
  it.each([
    [0.95, "1.6448536"],
    [0.975, "1.9599640"],
    [0.995, "2.5758293"],
    [0.9995, "3.2905267"],
  ])("agrees with NIST/SEMATECH e-Handbook 1.3.6.7.1, further digits from memory: %d", (p, printed) => {
    expectDigits(normalQuantile(p), printed);
  });

  it("takes the distribution function back; below |z| = 5 that is ½ less a sum, good to 1e-16 beside 3e-7", () => {
    fc.assert(
      fc.property(fc.double({ min: -300, max: -0.4, noNaN: true }), (power) => {
        const p = 10 ** power;
        expect(Math.abs(normalCdf(normalQuantile(p)) / p - 1)).toBeLessThan(1e-9);
      }),
    );
    expect(normalQuantile(0.5)).toBeCloseTo(0, 15);
  });

  it.each([0, 1, -0.1, Number.NaN])("throws for %d", (p) => {
    expect(() => normalQuantile(p)).toThrow(RangeError);
  });
});

describe("chiSquareQuantile", () => {
  it.each([
    [0.025, 1, "0.001"],
    [0.05, 10, "3.940"],
    [0.95, 10, "18.307"],
    [0.975, 30, "46.979"],
    [0.99, 100, "135.807"],
  ])("agrees with NIST/SEMATECH e-Handbook 1.3.6.7.4 (from memory): %d, ν = %d", (p, degrees, printed) => {
    expectDigits(chiSquareQuantile(p, degrees), printed);
  });

  it("is that of the exponential distribution with 2 degrees, to 9 digits", () => {
    for (const p of [1e-6, 0.01, 0.5, 0.99])
      expect(Math.abs(chiSquareQuantile(p, 2) / (-2 * Math.log1p(-p)) - 1)).toBeLessThan(1e-9);
  });

  it("is the square of a normal quantile with 1 degree", () => {
    for (const p of [0.05, 0.5, 0.95])
      expect(chiSquareQuantile(p, 1)).toBeCloseTo(normalQuantile((1 + p) / 2) ** 2, 11);
  });

  it("agrees with the 99 % points that the estimator goes by", () => {
    for (let degrees = 1; degrees <= 20; degrees++)
      expect(Math.abs(chiSquareQuantile(0.99, degrees) - chiSquare99(degrees))).toBeLessThan(6e-4);
  });

  it.each([
    [0, 1],
    [1, 1],
    [0.5, 0],
    [0.5, Number.NaN],
  ])("throws for %d, ν = %d", (p, degrees) => {
    expect(() => chiSquareQuantile(p, degrees)).toThrow(RangeError);
  });
});

it("logGamma is ln (n − 1)! and ln √π at a half, relative error below 1e-13", () => {
  let factorial = 1;
  for (let n = 3; n < 30; n++) {
    factorial *= n - 1;
    expect(Math.abs(logGamma(n) / Math.log(factorial) - 1)).toBeLessThan(1e-13);
  }
  expect(logGamma(0.5)).toBeCloseTo(Math.log(Math.PI) / 2, 13);
});

describe("testNormality", () => {
  const normal = Array.from({ length: 100 }, (_, i) => normalQuantile((i + 0.5) / 100));

  it.each([
    [0.631, 0.1],
    [0.752, 0.05],
    [0.873, 0.025],
    [1.035, 0.01],
  ])("p at %d is the one that D'Agostino and Stephens, table 4.7, print (from memory)", (statistic, p) => {
    // The sample is stretched in one tail until its statistic is the one printed.
    let [low, high] = [1, 40];
    for (let step = 0; step < 60; step++) {
      const middle = (low + high) / 2;
      const stretched = normal.map((x) => (x > 0 ? x * middle : x));
      if (testNormality(stretched).statistic < statistic) low = middle;
      else high = middle;
    }
    const found = testNormality(normal.map((x) => (x > 0 ? x * low : x)));
    expect(found.statistic).toBeCloseTo(statistic, 6);
    expect(Math.abs(found.p / p - 1)).toBeLessThan(0.05);
  });

  it("does not depend on unit, order or sign", () => {
    const sample = [3, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5];
    const { statistic } = testNormality(sample);
    expect(testNormality([...sample].reverse().map((x) => -25.4 * x + 7)).statistic).toBeCloseTo(
      statistic,
      9,
    );
  });

  it("finds an exponential sample out and passes a normal one", () => {
    expect(testNormality(normal.map((x) => -Math.log(normalCdf(x)))).p).toBeLessThan(1e-4);
    expect(testNormality(normal).p).toBeGreaterThan(0.9);
  });

  it("refuses fewer than 8 and equal ones", () => {
    expect(() => testNormality([1, 2, 3, 4, 5, 6, 7])).toThrow(RangeError);
    expect(() => testNormality(Array(9).fill(2))).toThrow(RangeError);
  });
});
