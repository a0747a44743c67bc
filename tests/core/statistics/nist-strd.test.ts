import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fitLinear } from "../../../src/core/statistics/linear-regression.js";
import { analyzeOneWay } from "../../../src/core/statistics/one-way-analysis.js";
import { summarize } from "../../../src/core/statistics/summary.js";
import { readData } from "../data/read-data.js";

interface Case {
  id: string;
  kind: string;
  inputs: { digits?: string; data?: number[]; rule?: string; x: number[][]; y: number[]; model?: string };
  expected: {
    certified: {
      mean: string;
      sd: string;
      lag1_autocorrelation: string;
      estimates: string[];
      sd_of_estimates: string[];
      residual_sd: string;
      r_squared: string;
      regression_df: number;
      regression_ss: string;
      residual_df: number;
      residual_ss: string;
    };
  };
}

const cases = readData<Case[]>("nist-strd.json");

/** Log relative error: how many digits agree; certified values have 15, which leave 14.5 at the best. */
function digits(actual: number, certified: string | number): number {
  const value = Number(certified);
  if (actual === value) return 15;
  return Math.min(15, -Math.log10(Math.abs(actual - value) / (value === 0 ? 1 : Math.abs(value))));
}

function values({ inputs, id }: Case): number[] {
  if (id === "univ-NumAcc3")
    return [1000000.2, ...Array.from({ length: 500 }, () => [1000000.1, 1000000.3]).flat()];
  return inputs.data ?? [...(inputs.digits ?? "")].map(Number);
}

describe("summarize", () => {
  it.each(cases.filter(({ kind }) => kind === "univariate").map((test) => [test.id, test] as const))(
    "agrees with NIST StRD %s to 14 digits",
    (_, test) => {
      const { mean, standardDeviation, lag1Autocorrelation } = summarize(values(test));

      expect(digits(mean, test.expected.certified.mean)).toBeGreaterThan(14);
      expect(digits(standardDeviation, test.expected.certified.sd)).toBeGreaterThan(14);
      expect(digits(lag1Autocorrelation!, test.expected.certified.lag1_autocorrelation)).toBeGreaterThan(14);
    },
  );

  it("agrees with NIST StRD NumAcc4 (mean 10000000.2, s 0.1, r₁ −0.999; from memory) to 14 digits", () => {
    const pairs = Array.from({ length: 500 }, () => [10000000.1, 10000000.3]).flat();

    const { mean, standardDeviation, lag1Autocorrelation } = summarize([10000000.2, ...pairs]);

    expect(digits(mean, 10000000.2)).toBeGreaterThan(14);
    expect(digits(standardDeviation, 0.1)).toBeGreaterThan(14);
    expect(digits(lag1Autocorrelation!, -0.999)).toBeGreaterThan(14);
  });

  it("knows nothing of the order but in r₁, and moves and grows with its values", () => {
    const whole = fc.integer({ min: -1e6, max: 1e6 });
    fc.assert(
      fc.property(fc.array(whole, { minLength: 2, maxLength: 30 }), whole, (list, shift) => {
        const plain = summarize(list);

        expect(summarize([...list].reverse())).toEqual(plain);
        const moved = summarize(list.map((x) => x + shift));
        expect(moved.standardDeviation).toBe(plain.standardDeviation);
        expect(moved.lag1Autocorrelation).toBe(plain.lag1Autocorrelation);
        expect(summarize(list.map((x) => 4 * x)).standardDeviation).toBe(4 * plain.standardDeviation);
      }),
    );
  });

  it("has no autocorrelation where nothing varies", () => {
    expect(summarize([0.1, 0.1, 0.1])).toEqual({
      n: 3,
      mean: 0.1,
      standardDeviation: 0,
      lag1Autocorrelation: undefined,
    });
  });

  it("takes the smallest and the largest doubles", () => {
    expect(summarize([1e-300, 3e-300]).mean).toBe(2e-300);
    expect(summarize([1e300, 3e300]).mean).toBe(2e300);
  });

  it.each([[[1]], [[1, Number.NaN]], [[1, Number.POSITIVE_INFINITY]]])("refuses %j", (list) => {
    expect(() => summarize(list)).toThrow(RangeError);
  });
});

describe("fitLinear", () => {
  it.each(cases.filter(({ kind }) => kind === "linear-regression").map((test) => [test.id, test] as const))(
    "agrees with NIST StRD %s to 14 digits",
    (id, test) => {
      const { x, y } = test.inputs;
      const constant = id !== "lls-NoInt1";
      const powers = id === "lls-Wampler1" ? [1, 2, 3, 4, 5] : undefined;
      const given = powers
        ? powers.map((power) => x.map(([v]) => v! ** power))
        : x[0]!.map((_, j) => x.map((row) => row[j]!));
      const { certified } = test.expected;

      const fit = fitLinear(constant ? [y.map(() => 1), ...given] : given, y, constant);

      certified.estimates.forEach((value, i) => {
        expect(digits(fit.estimates[i]!, value), `estimate ${i}`).toBeGreaterThan(14);
        expect(
          digits(fit.standardDeviations[i]!, certified.sd_of_estimates[i]!),
          `its deviation ${i}`,
        ).toBeGreaterThan(14);
      });
      expect(digits(fit.residualStandardDeviation!, certified.residual_sd)).toBeGreaterThan(14);
      expect(digits(fit.residualSumOfSquares, certified.residual_ss)).toBeGreaterThan(14);
      expect(digits(fit.regressionSumOfSquares, certified.regression_ss)).toBeGreaterThan(14);
      expect(digits(fit.rSquared!, certified.r_squared)).toBeGreaterThan(14);
      expect([fit.regressionDegrees, fit.residualDegrees]).toEqual([
        certified.regression_df,
        certified.residual_df,
      ]);
    },
  );

  it("refuses columns that depend on each other, lie askew or are longer than what is fitted", () => {
    expect(() =>
      fitLinear(
        [
          [1, 1, 1],
          [2, 2, 2],
        ],
        [1, 2, 3],
        true,
      ),
    ).toThrow(/dependent/);
    expect(() => fitLinear([[1, 1]], [1, 2, 3], true)).toThrow(RangeError);
    expect(() => fitLinear([], [1, 2, 3], true)).toThrow(RangeError);
    expect(() => fitLinear([[1], [2]], [1], true)).toThrow(RangeError);
    expect(() => fitLinear([[1, Number.NaN]], [1, 2], false)).toThrow(RangeError);
  });

  it("leaves no scatter where two points make a line, and no R² where y is level", () => {
    const line = fitLinear(
      [
        [1, 1],
        [0, 0.5],
      ],
      [1, 1.25],
      true,
    );
    expect(line.estimates).toEqual([1, 0.5]);
    expect(line.residualStandardDeviation).toBeUndefined();
    expect(
      fitLinear(
        [
          [1, 1, 1],
          [1, 2, 3],
        ],
        [4, 4, 4],
        true,
      ).rSquared,
    ).toBeUndefined();
  });

  it("finds any whole line again, whatever its distance from 0", () => {
    const whole = fc.integer({ min: -1e9, max: 1e9 });
    fc.assert(
      fc.property(whole, whole, fc.uniqueArray(whole, { minLength: 3, maxLength: 12 }), (a, b, x) => {
        const small = (b % 1000) + 0; // no −0
        const fit = fitLinear(
          [x.map(() => 1), x],
          x.map((v) => a + small * v),
          true,
        );
        expect(fit.estimates).toEqual([a, small]);
        expect(fit.residualSumOfSquares).toBe(0);
      }),
    );
  });
});

describe("analyzeOneWay", () => {
  // The rule of the Simon-Lesage data sets and their certified figures from memory: they are the same for every mean.
  const group = (mean: string, size: number) =>
    Array.from({ length: size }, (_, i) =>
      Number(`${mean.slice(0, -1)}${Number(mean.at(-1)) + (i === 0 ? 0 : i % 2 === 1 ? -1 : 1)}`),
    );
  it.each([
    ["SmLs01", "", 21, 1.68, 1.8, 21, 1.68 / 3.48],
    ["SmLs04", "100000", 21, 1.68, 1.8, 21, 1.68 / 3.48],
    ["SmLs07", "100000000000", 21, 1.68, 1.8, 21, 1.68 / 3.48],
    ["SmLs08", "100000000000", 201, 16.08, 18, 201, 16.08 / 34.08],
  ])("agrees with NIST StRD %s to 14 digits", (_, before, size, between, within, f, rSquared) => {
    const means = ["1.4", "1.3", "1.5", "1.3", "1.5", "1.3", "1.5", "1.3", "1.5"];
    const groups = means.map((mean) => group(before === "" ? mean : `${before}${mean}`, size));

    const table = analyzeOneWay(groups);

    expect(digits(table.between.sumOfSquares, between)).toBeGreaterThan(14);
    expect(digits(table.within.sumOfSquares, within)).toBeGreaterThan(14);
    expect(digits(table.f!, f)).toBeGreaterThan(14);
    expect(digits(table.rSquared!, rSquared)).toBeGreaterThan(14);
    expect([table.between.degrees, table.within.degrees]).toEqual([8, 9 * (size - 1)]);
  });

  it("does not mind groups of unequal size, their order, or a shift", () => {
    const groups = fc.array(fc.array(fc.integer({ min: -1e6, max: 1e6 }), { minLength: 2, maxLength: 6 }), {
      minLength: 2,
      maxLength: 5,
    });
    fc.assert(
      fc.property(groups, fc.integer({ min: -1e9, max: 1e9 }), (list, shift) => {
        const plain = analyzeOneWay(list);
        expect(analyzeOneWay([...list].reverse())).toEqual(plain);
        expect(analyzeOneWay(list.map((part) => part.map((x) => x + shift)))).toEqual(plain);
        const all = list.flat();
        const mean = all.reduce((a, b) => a + b, 0) / all.length;
        const total = all.reduce((a, b) => a + (b - mean) ** 2, 0);
        expect(plain.between.sumOfSquares + plain.within.sumOfSquares).toBeCloseTo(
          total,
          total > 1e6 ? -3 : 3,
        );
      }),
    );
  });

  it("refuses one group, an empty one, and no more values than groups; has no F where nothing varies within", () => {
    expect(() => analyzeOneWay([[1, 2]])).toThrow(RangeError);
    expect(() => analyzeOneWay([[1, 2], []])).toThrow(RangeError);
    expect(() => analyzeOneWay([[1], [2]])).toThrow(RangeError);
    expect(
      analyzeOneWay([
        [1, 1],
        [2, 2],
      ]).f,
    ).toBeUndefined();
    expect(
      analyzeOneWay([
        [1, 1],
        [1, 1],
      ]).rSquared,
    ).toBeUndefined();
  });
});
