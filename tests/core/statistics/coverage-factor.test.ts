import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { combineStandards, effectiveDegrees } from "../../../src/core/statistics/combine-standards.js";
import { coverageFactor } from "../../../src/core/statistics/coverage-factor.js";
import { expectDigits } from "../data/read-data.js";

describe("coverageFactor", () => {
  it.each([
    [0.95, 1, "12.71"],
    [0.95, 2, "4.30"],
    [0.95, 3, "3.18"],
    [0.95, 10, "2.23"],
    [0.95, 50, "2.01"],
    [0.99, 1, "63.66"],
    [0.99, 5, "4.03"],
    [0.9973, 20, "3.42"],
    [0.6827, 1, "1.84"],
  ])(
    "agrees with JCGM 100:2008, table G.2 (from memory): p = %d, ν = %d",
    (probability, degrees, printed) => {
      expectDigits(coverageFactor(probability, degrees), printed);
    },
  );

  it("falls with more degrees of freedom towards that of the normal distribution", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 400 }),
        fc.double({ min: 0.5, max: 0.999, noNaN: true }),
        (degrees, probability) => {
          const k = coverageFactor(probability, degrees);
          expect(coverageFactor(probability, degrees + 1)).toBeLessThan(k);
        },
      ),
    );
    expect(coverageFactor(0.95, 1000)).toBeCloseTo(1.96, 2);
  });

  it.each([
    [0, 5],
    [1, 5],
    [Number.NaN, 5],
    [0.95, 0],
    [0.95, 2.5],
  ])("throws for p = %d, ν = %d", (probability, degrees) => {
    expect(() => coverageFactor(probability, degrees)).toThrow(RangeError);
  });
});

describe("effectiveDegrees", () => {
  it("is that of the only part, and of n equal parts n times that of one", () => {
    const part = { standard: 2.5, degrees: 9 };

    expect(effectiveDegrees([part])).toBeCloseTo(9, 12);
    expect(effectiveDegrees([part, part, part])).toBeCloseTo(27, 12);
  });

  it("is infinite where all parts are sure", () => {
    expect(effectiveDegrees([{ standard: 1, degrees: Number.POSITIVE_INFINITY }])).toBe(
      Number.POSITIVE_INFINITY,
    );
  });

  it.each([0, -1, Number.NaN])("throws for %d degrees of freedom", (degrees) => {
    expect(() => effectiveDegrees([{ standard: 1, degrees }])).toThrow(RangeError);
  });
});

it("combines standard uncertainties in quadrature", () => {
  expect(combineStandards([3, 4])).toBe(5);
  expect(combineStandards([])).toBe(0);
});
