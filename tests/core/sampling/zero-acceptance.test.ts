import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  largestZeroPlan,
  probabilityOfNone,
  smallestZeroPlan,
} from "../../../src/core/sampling/zero-acceptance.js";
import { hypergeometricProbability } from "../../../src/core/statistics/discrete.js";

describe("probabilityOfNone", () => {
  it("is C(N − D, n)/C(N, n): 10 pieces, 2 bad, 3 drawn: 56/120 [by hand]", () => {
    expect(probabilityOfNone(10, 2, 3)).toBeCloseTo(56 / 120, 15);
    expect(probabilityOfNone(10, 2, 9)).toBe(0);
    expect(probabilityOfNone(10, 0, 10)).toBe(1);
    expect(probabilityOfNone(10, 2, 3, 0.5)).toBe(0);
  });

  it("agrees with the general distribution", () => {
    const drawn = fc
      .integer({ min: 1, max: 5000 })
      .chain((lot) => fc.tuple(fc.constant(lot), fc.nat({ max: lot }), fc.nat({ max: lot })));
    fc.assert(
      fc.property(drawn, ([lot, bad, n]) => {
        const expected = hypergeometricProbability(0, lot, bad, n);
        expect(Math.abs(probabilityOfNone(lot, bad, n) - expected)).toBeLessThan(1e-12);
      }),
    );
  });

  it.each([
    [10, 11, 3],
    [10, 2, 11],
    [10, 1.5, 3],
    [10, -1, 3],
  ])("refuses a lot of %s with %s bad and %s drawn", (lot, bad, n) => {
    expect(() => probabilityOfNone(lot, bad, n)).toThrow(RangeError);
  });
});

describe("plans without acceptance number", () => {
  it("come to the binomial ln β/ln(1 − p) in a large lot: 1 % at 10 % risk takes 230 pieces [by hand]", () => {
    expect(smallestZeroPlan(10_000_000, 100_000, 0.1)).toBe(Math.ceil(Math.log(0.1) / Math.log(0.99)));
    expect(smallestZeroPlan(10_000_000, 100_000, 0.1)).toBe(230);
  });

  it("need all pieces but the bad ones where nothing may get through nearly surely", () => {
    expect(smallestZeroPlan(20, 1, 0.0001)).toBe(20);
    expect(smallestZeroPlan(20, 20, 0.5)).toBe(1);
  });

  const anyLot = fc
    .integer({ min: 2, max: 3000 })
    .chain((lot) =>
      fc.tuple(
        fc.constant(lot),
        fc.integer({ min: 1, max: lot }),
        fc.double({ min: 0.001, max: 0.6, noNaN: true }),
      ),
    );

  it("are the smallest that guards and the largest that accepts", () => {
    fc.assert(
      fc.property(anyLot, ([lot, bad, risk]) => {
        const guards = smallestZeroPlan(lot, bad, risk);
        expect(probabilityOfNone(lot, bad, guards)).toBeLessThanOrEqual(risk);
        if (guards > 0) expect(probabilityOfNone(lot, bad, guards - 1)).toBeGreaterThan(risk);
        const accepts = largestZeroPlan(lot, bad, risk);
        expect(probabilityOfNone(lot, bad, accepts)).toBeGreaterThanOrEqual(1 - risk);
        if (accepts < lot) expect(probabilityOfNone(lot, bad, accepts + 1)).toBeLessThan(1 - risk);
      }),
    );
  });

  it("take more pieces for fewer bad ones and for a smaller risk", () => {
    fc.assert(
      fc.property(anyLot, ([lot, bad, risk]) => {
        const n = smallestZeroPlan(lot, bad, risk);
        if (bad > 1) expect(smallestZeroPlan(lot, bad - 1, risk)).toBeGreaterThanOrEqual(n);
        expect(smallestZeroPlan(lot, bad, risk / 2)).toBeGreaterThanOrEqual(n);
      }),
    );
  });

  it.each([
    () => smallestZeroPlan(10, 0, 0.1),
    () => smallestZeroPlan(10, 1, 0),
    () => smallestZeroPlan(10, 1, 1),
    () => largestZeroPlan(10, 1, 1),
  ])("refuse what is none: %s", (call) => {
    expect(call).toThrow(RangeError);
  });
});
