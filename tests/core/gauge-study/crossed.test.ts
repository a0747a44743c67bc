import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  analyzeCrossed,
  averageAndRange,
  type CrossedReadings,
} from "../../../src/core/gauge-study/crossed.js";
import { judgePercent, percentOfTolerance } from "../../../src/core/gauge-study/percent-of-tolerance.js";
import { analyzeOneWay } from "../../../src/core/statistics/one-way-analysis.js";
import { rangeConstants, rangeFactor } from "../../../src/core/statistics/range-constants.js";
import { readData } from "../data/read-data.js";

// biome-ignore lint/suspicious/noExplicitAny: figures of many shapes
type Figures = any;
interface Case {
  id: string;
  kind: string;
  source: string;
  inputs: Figures;
  expected: Figures;
}
const cases = readData<Case[]>("gauge-rr.json");
const ofKind = (kind: string) =>
  cases.filter((test) => test.kind === kind).map((test) => [test.id, test] as const);
const pooled = { interaction: "pooled", poolAbove: 0.25 } as const;
const kept = { interaction: "kept", poolAbove: 0.25 } as const;
const byTest = { interaction: "by_test", poolAbove: 0.25 } as const;
const near = (actual: number, expected: number, within: number) =>
  expect(Math.abs(actual - expected), `${actual} is not ${expected}`).toBeLessThanOrEqual(within);

describe("averageAndRange", () => {
  it.each(ofKind("average-and-range"))("agrees with the printed figures of %s", (_, { inputs, expected }) => {
    const readings: CrossedReadings = inputs.data_part_appraiser_trial;
    const printed = averageAndRange(readings, { k1: inputs.K1, k2: inputs.K2, k3: inputs.K3 });
    const exact = averageAndRange(readings);

    near(printed.repeatability, expected.EV, 1e-8);
    near(printed.reproducibility, expected.AV, 1e-8);
    near(printed.gauge, expected.GRR, 1e-8);
    near(printed.parts, expected.PV, 1e-8);
    near(printed.total, expected.TV, 1e-8);
    near((100 * printed.gauge) / printed.total, expected.percent.GRR, 1e-6);
    expect(Math.floor(printed.distinctCategories!)).toBe(expected.ndc);
    near(exact.repeatability, expected.published.EV, 2e-4);
    near(exact.reproducibility, expected.published.AV, 2e-4);
    near(exact.gauge, expected.published.GRR, 2e-4);
    near(exact.parts, expected.published.PV, 2e-4);
    near((100 * exact.gauge) / exact.total, expected.published.percent_GRR, 0.02);
  });
});

describe("analyzeCrossed", () => {
  it.each(ofKind("anova"))("agrees with the printed table of %s", (_, { inputs, expected }) => {
    const { table, interactionChance } = analyzeCrossed(inputs.data_part_appraiser_trial, kept);

    for (const name of ["parts", "operators", "interaction", "repeatability"] as const) {
      near(table[name]!.sumOfSquares, expected.ss[name], 1e-7);
      near(table[name]!.meanSquare, expected.ms[name], 1e-7);
      expect(table[name]!.degrees).toBe(expected.df[name]);
    }
    near(table.total.sumOfSquares, expected.ss.total, 1e-7);
    expect(table.total.degrees).toBe(expected.df.total);
    near(interactionChance!, expected.p_interaction, 1e-10);
  });

  it.each(ofKind("variance-components"))(
    "agrees with the printed components of %s",
    (_, { inputs, expected }) => {
      const { spread, pooled: isPooled } = analyzeCrossed(inputs.data_part_appraiser_trial, byTest);

      expect(isPooled).toBe(true);
      near(spread.repeatability, expected.sd.EV, 1e-8);
      near(spread.operators, expected.sd.AV, 1e-8);
      near(spread.interaction, expected.sd.INT, 1e-8);
      near(spread.gauge, expected.sd.GRR, 1e-8);
      near(spread.parts, expected.sd.PV, 1e-8);
      near(spread.total, expected.sd.TV, 1e-8);
      near((100 * spread.gauge) / spread.total, expected.percent_study.GRR, 1e-6);
      near((100 * spread.gauge ** 2) / spread.total ** 2, expected.percent_contribution.GRR, 1e-6);
      if (expected.published) {
        near(spread.gauge, expected.published.GRR, 5e-6);
        near(spread.total, expected.published.TV, 5e-4);
        // 1.41 is the handbook's rounding of √2.
        expect(Math.floor(spread.distinctCategories!)).toBe(expected.published.ndc);
      }
    },
  );

  const whole = fc.integer({ min: -1000, max: 1000 });
  const study = fc
    .tuple(fc.integer({ min: 2, max: 5 }), fc.integer({ min: 1, max: 4 }), fc.integer({ min: 2, max: 4 }))
    .chain(([p, o, r]) => {
      const exactly = (n: number) => ({ minLength: n, maxLength: n });
      return fc.array(fc.array(fc.array(whole, exactly(r)), exactly(o)), exactly(p));
    });

  it("does not mind the order of parts, operators and trials, nor a shift", () => {
    fc.assert(
      fc.property(study, whole, fc.constantFrom(byTest, kept, pooled), (readings, shift, options) => {
        const plain = analyzeCrossed(readings, options);
        const turned = readings
          .map((part) => part.map((cell) => cell.toReversed()).toReversed())
          .toReversed();
        expect(analyzeCrossed(turned, options)).toEqual(plain);
        expect(averageAndRange(turned)).toEqual(averageAndRange(readings));
        const moved = readings.map((part) => part.map((cell) => cell.map((x) => x + shift)));
        expect(analyzeCrossed(moved, options)).toEqual(plain);
        expect(averageAndRange(moved)).toEqual(averageAndRange(readings));
      }),
    );
  });

  it("grows with its readings, and its squares add up", () => {
    fc.assert(
      fc.property(study, fc.constantFrom(byTest, kept, pooled), (readings, options) => {
        const plain = analyzeCrossed(readings, options);
        const doubled = analyzeCrossed(
          readings.map((part) => part.map((cell) => cell.map((x) => 4 * x))),
          options,
        );
        expect(doubled.spread.gauge).toBe(4 * plain.spread.gauge);
        expect(doubled.interactionChance).toBe(plain.interactionChance);
        const { parts, operators, interaction, repeatability, total } = plain.table;
        const all = [parts, operators, interaction, repeatability].reduce(
          (sum, row) => sum + (row?.sumOfSquares ?? 0),
          0,
        );
        expect(all).toBeCloseTo(total.sumOfSquares, 4);
        const { spread, limits } = plain;
        expect(spread.gauge ** 2 + spread.parts ** 2).toBeCloseTo(spread.total ** 2, 4);
        expect(limits.repeatability[0]).toBeLessThanOrEqual(spread.repeatability);
        expect(limits.repeatability[1]).toBeGreaterThanOrEqual(spread.repeatability);
        expect(limits.gauge[0]).toBeLessThanOrEqual(spread.gauge * (1 + 1e-12));
        expect(limits.gauge[1]).toBeGreaterThanOrEqual(spread.gauge * (1 - 1e-12));
      }),
    );
  });

  it("gives repeatability its exact limits by chi-square", () => {
    // 60 degrees of freedom: 40.4817 and 83.2977 (NIST/SEMATECH e-Handbook 1.3.6.7.4: 40.482, 83.298)
    const [, { inputs, expected }] = ofKind("anova")[0]!;
    const { limits } = analyzeCrossed(inputs.data_part_appraiser_trial, kept);
    near(limits.repeatability[0], Math.sqrt(expected.ss.repeatability / 83.298), 1e-5);
    near(limits.repeatability[1], Math.sqrt(expected.ss.repeatability / 40.482), 1e-5);
  });

  it("has no reproducibility of one operator, as a probe is", () => {
    const readings = [[[1, 2, 3]], [[4, 6, 8]]];
    const { spread, table, pooled: isPooled } = analyzeCrossed(readings, byTest);
    expect(spread.reproducibility).toBe(0);
    expect(spread.repeatability).toBeCloseTo(Math.sqrt(2.5), 12);
    expect([table.operators, table.interaction, isPooled]).toEqual([undefined, undefined, false]);
    expect(averageAndRange(readings).reproducibility).toBe(0);
  });

  it("has no number of categories where the gauge does not vary", () => {
    const { spread, interactionChance } = analyzeCrossed([[[1, 1]], [[2, 2]]], byTest);
    expect([spread.gauge, spread.distinctCategories, interactionChance]).toEqual([0, undefined, undefined]);
  });

  it.each([
    ["one part", [[[1, 2]]]],
    ["one trial", [[[1]], [[2]]]],
    ["a missing reading", [[[1, 2]], [[1]]]],
    [
      "a missing operator",
      [
        [
          [1, 2],
          [1, 2],
        ],
        [[1, 2]],
      ],
    ],
    ["nothing", []],
    ["no number", [[[1, Number.NaN]], [[1, 2]]]],
  ])("refuses %s", (_, readings) => {
    expect(() => analyzeCrossed(readings, byTest)).toThrow(RangeError);
    expect(() => averageAndRange(readings)).toThrow(RangeError);
  });
});

describe("analyzeOneWay", () => {
  it.each(ofKind("nested-gauge-study"))("gives the day-to-day deviation of %s", (_, { inputs, expected }) => {
    const wafers = new Map<number, number[]>();
    for (const [wafer, average] of inputs.rows_wafer_average_sd) {
      wafers.set(wafer, [...(wafers.get(wafer) ?? []), average]);
    }
    near(Math.sqrt(analyzeOneWay([...wafers.values()]).within.meanSquare), expected.level2_pooled_sd, 1e-7);
  });
});

describe("rangeFactor", () => {
  it.each(ofKind("constants"))("agrees with the constant %s", (id, { inputs, expected }) => {
    const factor = inputs.trials ? rangeFactor(inputs.trials) : rangeFactor(inputs.n, inputs.g ?? 1);
    const older = id.startsWith("k-515");
    near(older ? 5.15 * factor : factor, expected.k, older ? 1e-6 : 1e-7);
    if (expected.published) near(older ? 5.15 * factor : factor, expected.published, older ? 0.011 : 0.00011);
  });

  it("has d₂ of 2 = 2/√π and d₃ = √(2 − 4/π), of 3 = 3/√π", () => {
    near(rangeConstants(2).d2, 2 / Math.sqrt(Math.PI), 1e-8);
    near(rangeConstants(2).d3, Math.sqrt(2 - 4 / Math.PI), 1e-8);
    near(rangeConstants(3).d2, 3 / Math.sqrt(Math.PI), 1e-8);
  });

  it.each([1, 0, 2.5, Number.NaN])("refuses a range of %s", (n) => {
    expect(() => rangeConstants(n)).toThrow(RangeError);
  });
});

describe("percentOfTolerance", () => {
  it.each(ofKind("percent-tolerance"))("agrees with %s", (_, { inputs, expected }) => {
    const { GRR_sigma, tolerance } = inputs;
    expect(percentOfTolerance(GRR_sigma, tolerance)).toBeCloseTo(expected.percent_tolerance, 10);
    expect(percentOfTolerance(GRR_sigma, tolerance, 5.15)).toBeCloseTo(expected.percent_tolerance_515, 10);
  });

  it("is judged up to and with its limits", () => {
    const limits = { fit: 10, conditional: 30 };
    const verdicts = [0, 10, 10.01, 30, 30.01].map((percent) => judgePercent(percent, limits));
    expect(verdicts).toEqual(["fit", "fit", "conditional", "conditional", "unfit"]);
  });

  it("refuses a tolerance of nothing", () => {
    expect(() => percentOfTolerance(1, 0)).toThrow(RangeError);
    expect(() => percentOfTolerance(1, 1, 0)).toThrow(RangeError);
  });
});
