import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { normalCdf, probabilityWithin } from "../../../src/core/statistics/normal.js";
import { readData } from "../data/read-data.js";

interface Table {
  id: "area" | "tail" | "point";
  source: string;
  values: [number, number][];
}

interface Conformance {
  id: string;
  kind: string;
  what: string;
  source: string;
  inputs: { y: number; u: number; lsl: number | null; usl: number | null };
  expected: { pc: number; published?: number };
  tolerance: number;
}

const [area, tail, point] = readData<[Table, Table, Table]>("normal.json");
const conformance = readData<Conformance[]>("decision-rules.json").filter(
  (rule) => rule.kind === "conformance-probability",
);

const anyZ = fc.double({ min: -39, max: 39, noNaN: true });

describe("normalCdf", () => {
  it.each(area.values)(`at %d is %d to 1e-15 (${area.source})`, (z, expected) => {
    expect(Math.abs(normalCdf(z) - expected)).toBeLessThan(1e-15);
    expect(Math.abs(normalCdf(-z) - (1 - expected))).toBeLessThan(1e-15);
  });

  it("at 1.96 is 0.9750021 (the project's method, section 6 I)", () => {
    expect(normalCdf(1.96)).toBeCloseTo(0.9750021, 7);
  });

  // The table gives 15 figures; at -5 the series leaves 1e-16 of 3e-7.
  it.each(tail.values)(
    `beyond -%d keeps the relative accuracy of the tail: %d (${tail.source})`,
    (z, expected) => {
      expect(Math.abs(normalCdf(-z) / expected - 1)).toBeLessThan(z === 5 ? 1e-9 : 1e-13);
    },
  );

  // A share of 1e-12 changes by 1e-14 of itself with the last digit of its z.
  it.each(point.values)(`leaves %d beyond the point %d (${point.source})`, (share, z) => {
    expect(Math.abs(normalCdf(-z) / share - 1)).toBeLessThan(z < 5 ? 1e-9 : 1e-13);
    expect(Math.abs(1 - normalCdf(z) - share)).toBeLessThan(1e-15);
  });

  it("is the mirror image of itself: Φ(−z) = 1 − Φ(z)", () => {
    fc.assert(fc.property(anyZ, (z) => Math.abs(normalCdf(-z) - (1 - normalCdf(z))) < 1e-15));
  });

  it("lies between 0 and 1 and never falls (by more than its rounding)", () => {
    fc.assert(
      fc.property(anyZ, fc.double({ min: 1e-6, max: 1, noNaN: true }), (z, step) => {
        const [low, high] = [normalCdf(z), normalCdf(z + step)];

        expect(low).toBeGreaterThanOrEqual(0);
        expect(high).toBeLessThanOrEqual(1);
        expect(high).toBeGreaterThanOrEqual(low - 1e-15);
      }),
    );
  });

  // The series adds to ½, so that it is good to 1e-16 of 1 and not of the tail.
  it("has no step above 1e-15 where the series hands over to the tail's fraction, at 5", () => {
    expect(Math.abs(normalCdf(-5) - normalCdf(-5 - 1e-12))).toBeLessThan(1e-15);
    expect(Math.abs(normalCdf(5) - normalCdf(5 + 1e-12))).toBeLessThan(1e-15);
  });

  it("ends at 0 and 1", () => {
    expect(normalCdf(Number.NEGATIVE_INFINITY)).toBe(0);
    expect(normalCdf(Number.POSITIVE_INFINITY)).toBe(1);
    expect(normalCdf(0)).toBe(0.5);
  });

  it("refuses NaN", () => {
    expect(() => normalCdf(Number.NaN)).toThrow(RangeError);
  });
});

describe("probabilityWithin", () => {
  it.each(conformance)("$id: $what ($source)", ({ inputs, expected, tolerance }) => {
    const { y, u, lsl, usl } = inputs;

    const probability = probabilityWithin(y, u, lsl ?? undefined, usl ?? undefined);

    expect(Math.abs(probability - expected.pc)).toBeLessThanOrEqual(tolerance);
    if (expected.published !== undefined) expect(probability).toBeCloseTo(expected.published, 2);
  });

  it("is 1 without limits and with limits beyond reach", () => {
    expect(probabilityWithin(3, 1, undefined, undefined)).toBe(1);
    expect(probabilityWithin(3, 1, -100, 100)).toBe(1);
  });

  it("without spread is 1 on and inside the limits, 0 beyond", () => {
    expect(probabilityWithin(1, 0, 1, 2)).toBe(1);
    expect(probabilityWithin(2, 0, 1, 2)).toBe(1);
    expect(probabilityWithin(0.999, 0, 1, 2)).toBe(0);
    expect(probabilityWithin(2.001, 0, 1, 2)).toBe(0);
    expect(probabilityWithin(-5, 0, undefined, 2)).toBe(1);
    expect(probabilityWithin(5, 0, 1, undefined)).toBe(1);
  });

  it("never falls when a limit moves outward, and both limits together cut what each cuts alone", () => {
    const size = fc.double({ min: -10, max: 10, noNaN: true });
    const width = fc.double({ min: 0, max: 10, noNaN: true });
    fc.assert(
      fc.property(
        size,
        fc.double({ min: 0.01, max: 5, noNaN: true }),
        size,
        width,
        width,
        (mean, sd, low, up, more) => {
          const both = probabilityWithin(mean, sd, low, low + up);
          const above = probabilityWithin(mean, sd, low, undefined);
          const below = probabilityWithin(mean, sd, undefined, low + up);

          expect(probabilityWithin(mean, sd, low - more, low + up)).toBeGreaterThanOrEqual(both - 1e-15);
          expect(Math.abs(both - (above + below - 1))).toBeLessThan(1e-15);
        },
      ),
    );
  });
});
