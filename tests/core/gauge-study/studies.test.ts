import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { compareGauges } from "../../../src/core/gauge-study/agreement.js";
import { fitLine } from "../../../src/core/gauge-study/line.js";
import { studyOnePart } from "../../../src/core/gauge-study/one-part.js";
import { chiSquareQuantile } from "../../../src/core/statistics/chi-square-quantile.js";
import { coverageFactor } from "../../../src/core/statistics/coverage-factor.js";
import { varianceRatioTail } from "../../../src/core/statistics/variance-ratio.js";

describe("compareGauges", () => {
  // Peak flow by a large and a small meter, first readings (Bland and Altman 1986, table 1; from memory).
  const large = [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427];
  const small = [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451];

  it("agrees with Bland and Altman 1986: −2.1, s 38.8, limits −79.7 and 75.5 (z = 2), bias −22.0 to 17.8", () => {
    const result = compareGauges(
      large.map((value, i) => [value, small[i]!]),
      2,
    );

    expect(result.n).toBe(17);
    expect(result.bias).toBeCloseTo(-2.1, 1);
    expect(result.standardDeviation).toBeCloseTo(38.8, 1);
    expect(Math.abs(result.lower + 79.7)).toBeLessThan(0.1);
    expect(Math.abs(result.upper - 75.5)).toBeLessThan(0.1);
    expect(Math.abs(result.biasLimits[0] + 22)).toBeLessThan(0.1);
    expect(Math.abs(result.biasLimits[1] - 17.8)).toBeLessThan(0.1);
  });

  it("turns round with its gauges, and gives no line where it cannot", () => {
    const value = fc.integer({ min: 0, max: 1000 });
    fc.assert(
      fc.property(fc.array(fc.tuple(value, value), { minLength: 2, maxLength: 20 }), (pairs) => {
        const one = compareGauges(pairs);
        const other = compareGauges(pairs.map(([a, b]) => [b, a]));
        expect(other.bias).toBeCloseTo(-one.bias, 9);
        expect(other.lower).toBeCloseTo(-one.upper, 9);
        expect(one.lowerLimits[0]).toBeLessThanOrEqual(one.lower);
      }),
    );
    expect(
      compareGauges([
        [1, 2],
        [3, 4],
      ]).bySize,
    ).toBeUndefined();
    expect(
      compareGauges([
        [1, 3],
        [2, 2],
        [3, 1],
      ]).bySize,
    ).toBeUndefined();
  });

  it("sees that the difference grows with the size", () => {
    const { bySize } = compareGauges([10, 20, 30, 40, 50, 60].map((x, i) => [x * 1.01 + (i % 2) * 0.01, x]));
    expect(bySize!.slope.value).toBeCloseTo(0.01, 3);
    expect(bySize!.slope.chance!).toBeLessThan(1e-5);
  });

  it("refuses one pair", () => {
    expect(() => compareGauges([[1, 2]])).toThrow(RangeError);
  });
});

describe("fitLine", () => {
  // Five parts of 2 to 10, twelve readings each (measurement systems analysis handbook, linearity example; from memory).
  const readings: [number, number[]][] = [
    [2, [2.7, 2.5, 2.4, 2.5, 2.7, 2.3, 2.5, 2.5, 2.4, 2.4, 2.6, 2.4]],
    [4, [5.1, 3.9, 4.2, 5.0, 3.8, 3.9, 3.9, 3.9, 3.9, 4.0, 4.1, 3.8]],
    [6, [5.8, 5.7, 5.9, 5.9, 6.0, 6.1, 6.0, 6.1, 6.4, 6.3, 6.0, 6.1]],
    [8, [7.6, 7.7, 7.8, 7.7, 7.8, 7.8, 7.8, 7.7, 7.8, 7.5, 7.6, 7.7]],
    [10, [9.1, 9.3, 9.5, 9.3, 9.4, 9.5, 9.5, 9.5, 9.6, 9.2, 9.3, 9.4]],
  ];
  const x = readings.flatMap(([size, list]) => list.map(() => size));
  const y = readings.flatMap(([size, list]) => list.map((value) => Number((value - size).toFixed(1))));

  it("agrees with the printed linearity: slope −0.1317, intercept 0.7367, R² 71.4 %, t −12.043 and 10.158", () => {
    const line = fitLine(x, y);

    expect(line.slope.value).toBeCloseTo(-0.1317, 4);
    expect(line.intercept.value).toBeCloseTo(0.7367, 4);
    expect(line.rSquared).toBeCloseTo(0.714, 3);
    expect(line.slope.value / line.slope.standardDeviation).toBeCloseTo(-12.043, 3);
    expect(line.intercept.value / line.intercept.standardDeviation).toBeCloseTo(10.158, 3);
    expect(line.degrees).toBe(58);
  });

  it("is narrowest in the middle, and its band at 0 is that of the intercept", () => {
    const line = fitLine(x, y);
    const width = (at: number) => line.at(at).limits[1] - line.at(at).limits[0];
    expect(width(6)).toBeLessThan(width(5.9));
    expect(width(6)).toBeLessThan(width(6.1));
    expect(line.at(0).limits[0]).toBeCloseTo(line.intercept.limits[0], 12);
    expect(width(6)).toBeCloseTo((2 * coverageFactor(0.95, 58) * line.scatter) / Math.sqrt(60), 12);
  });

  it("has no chance to give where nothing scatters, and refuses two points or one place", () => {
    expect(fitLine([1, 2, 3], [1, 2, 3]).slope.chance).toBeUndefined();
    expect(() => fitLine([1, 2], [1, 2])).toThrow(RangeError);
    expect(() => fitLine([2, 2, 2], [1, 2, 3])).toThrow(/dependent/);
  });
});

describe("studyOnePart", () => {
  const options = { reference: 10, tolerance: 0.1, share: 0.2, spread: 6 };

  it("sets a fifth of the tolerance against six standard deviations", () => {
    const study = studyOnePart([10.001, 10.003, 10.002, 10.002], options);
    const s = Math.sqrt(2e-6 / 3);
    expect(study.bias).toBeCloseTo(0.002, 12);
    expect(study.cg).toBeCloseTo(0.02 / (6 * s), 9);
    expect(study.cgk).toBeCloseTo((0.01 - 0.002) / (3 * s), 9);
    expect(study.biasLimits[0]).toBeCloseTo(0.002 - (3.182446 * s) / 2, 8); // t(0.975; 3), common tables
    expect(study.biasChance).toBeCloseTo(varianceRatioTail((0.004 / s) ** 2, 1, 3), 9);
  });

  it("says nothing of a scatter that does not show, and needs no tolerance", () => {
    expect(studyOnePart([10, 10, 10], options)).toMatchObject({
      repeatability: 0,
      cg: undefined,
      cgk: undefined,
      biasChance: undefined,
    });
    expect(studyOnePart([10, 11], { ...options, tolerance: undefined }).cg).toBeUndefined();
  });

  it("moves with part and reference, and Cgk is never above Cg", () => {
    const value = fc.integer({ min: -1000, max: 1000 });
    fc.assert(
      fc.property(
        fc.array(value, { minLength: 2, maxLength: 30 }),
        value,
        value,
        (list, reference, shift) => {
          const own = { reference, tolerance: 500, share: 0.2, spread: 6 };
          const one = studyOnePart(list, own);
          const moved = studyOnePart(
            list.map((x) => x + shift),
            { ...own, reference: reference + shift },
          );
          expect(moved.bias).toBeCloseTo(one.bias, 9);
          expect(moved.repeatability).toBe(one.repeatability);
          if (one.cg !== undefined) expect(one.cgk!).toBeLessThanOrEqual(one.cg * (1 + 1e-12));
        },
      ),
    );
  });

  it.each([{ tolerance: 0 }, { share: 0 }, { spread: 0 }, { reference: Number.NaN }])(
    "refuses %j",
    (change) => {
      expect(() => studyOnePart([1, 2], { ...options, ...change })).toThrow(RangeError);
    },
  );
});

describe("varianceRatioTail", () => {
  it.each([
    [4.964603, 1, 10, 0.05],
    [3.325835, 5, 10, 0.05],
    [5.636326, 5, 10, 0.01],
    [161.4476, 1, 1, 0.05],
    [1.534314, 60, 60, 0.05],
  ])(
    "above %d with %d and %d degrees is %d (common tables of F, NIST/SEMATECH e-Handbook 1.3.6.7.3)",
    (f, a, b, tail) => {
      expect(Math.abs(varianceRatioTail(f, a, b) / tail - 1)).toBeLessThan(1e-5);
    },
  );

  it("is the two-sided tail of Student's distribution for t²", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 200 }),
        fc.double({ min: 0.01, max: 0.999, noNaN: true }),
        (degrees, inside) => {
          expect(varianceRatioTail(coverageFactor(inside, degrees) ** 2, 1, degrees)).toBeCloseTo(
            1 - inside,
            9,
          );
        },
      ),
    );
  });

  it("is 1 at 0 and turns round with its degrees", () => {
    expect(varianceRatioTail(0, 3, 5)).toBe(1);
    expect(varianceRatioTail(Number.POSITIVE_INFINITY, 3, 5)).toBe(0);
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 100, noNaN: true }),
        fc.integer({ min: 1, max: 50 }),
        fc.integer({ min: 1, max: 50 }),
        (f, a, b) => {
          expect(varianceRatioTail(f, a, b) + varianceRatioTail(1 / f, b, a)).toBeCloseTo(1, 11);
        },
      ),
    );
  });

  it.each([
    [-1, 1, 1],
    [1, 0, 1],
    [1, 1, 0],
    [Number.NaN, 1, 1],
  ])("refuses %d with %d and %d", (f, a, b) => {
    expect(() => varianceRatioTail(f, a, b)).toThrow(RangeError);
  });
});

describe("chiSquareQuantile", () => {
  it.each([
    [0.95, 1, 3.841],
    [0.95, 10, 18.307],
    [0.975, 60, 83.298],
    [0.025, 60, 40.482],
    [0.025, 1, 0.001],
    [0.99, 100, 135.807],
  ])("below %d of %d degrees is %d (NIST/SEMATECH e-Handbook 1.3.6.7.4)", (probability, degrees, value) => {
    expect(Math.abs(chiSquareQuantile(probability, degrees) - value)).toBeLessThan(6e-4);
  });

  it("of two degrees is −2 ln(1 − P)", () => {
    for (const p of [1e-6, 0.1, 0.5, 0.9, 0.999999])
      expect(Math.abs(chiSquareQuantile(p, 2) / (-2 * Math.log1p(-p)) - 1)).toBeLessThan(1e-10);
  });

  it.each([
    [0, 1],
    [1, 1],
    [0.5, 0],
    [0.5, 1e7],
    [Number.NaN, 1],
  ])("refuses %d of %d degrees", (p, degrees) => {
    expect(() => chiSquareQuantile(p, degrees)).toThrow(RangeError);
  });
});
