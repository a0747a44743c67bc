import fc from "fast-check";
import { expect, it } from "vitest";
import { chartConstants } from "../../../src/core/control-chart/constants.js";
import {
  cusumChart,
  deviationOf,
  ewmaChart,
  individualsChart,
  mean,
  meanAndDeviationChart,
  meanAndRangeChart,
} from "../../../src/core/control-chart/variables.js";
import { readData } from "../data/read-data.js";

// biome-ignore lint/suspicious/noExplicitAny: each case has a shape of its own
const cards = readData<any[]>("control-charts.json");
const card = (id: string) => cards.find((one) => one.id === id);

function expectNear(actual: readonly number[], expected: readonly number[], bound: number) {
  expect(actual).toHaveLength(expected.length);
  for (const [i, value] of actual.entries())
    expect(Math.abs(value - expected[i]!), `${i}`).toBeLessThanOrEqual(bound);
}

it("EWMA agrees with NIST/SEMATECH e-Handbook 6.3.2.4", () => {
  const { inputs, expected, abs_or_rel_tolerance: bounds } = card("ewma-nist");

  const { values, steadyHalf, halves } = ewmaChart(inputs.data, {
    target: inputs.ewma0,
    sigma: inputs.s,
    lambda: inputs.lambda,
    width: inputs.k,
  });

  expectNear(values, expected.ewma, bounds.abs_exact);
  expectNear(values, expected.ewma_published_2dp, bounds.abs_published);
  const limits = [inputs.ewma0 - steadyHalf, inputs.ewma0 + steadyHalf];
  expectNear(limits, [expected.lcl, expected.ucl], bounds.abs_exact);
  expectNear(limits, [expected.lcl_published, expected.ucl_published], bounds.abs_published_limits);
  expect(halves[0]).toBeCloseTo(3 * inputs.lambda * inputs.s, 12);
  expect(halves.at(-1)!).toBeLessThanOrEqual(steadyHalf);
});

it("CUSUM agrees with NIST/SEMATECH e-Handbook 6.3.2.3", () => {
  const { inputs, expected, abs_or_rel_tolerance: bounds } = card("cusum-nist");

  const { above, below, signals } = cusumChart(inputs.data, inputs);

  expectNear(above, expected.s_hi, bounds.abs_exact);
  expectNear(below, expected.s_lo, bounds.abs_exact);
  expectNear(above.slice(12), expected.published_s_hi_from_13, bounds.abs_published);
  expect(signals.map((at) => at + 1)).toEqual(expected.signals);
});

it("individuals agree with NIST/SEMATECH e-Handbook 6.3.2.2, d2 as rounded there", () => {
  const { inputs, expected, abs_or_rel_tolerance: bounds } = card("imr-nist");

  const { location, spreads, spread } = individualsChart(inputs.data);

  expectNear(spreads, expected.moving_ranges, bounds.abs_exact);
  expect(Math.abs(spread.centre - expected.mean_moving_range)).toBeLessThan(bounds.abs_exact);
  expect(Math.abs(location.centre - expected.mean)).toBeLessThan(bounds.abs_exact);
  const rounded = chartConstants(2).d2 / inputs.d2_rounded;
  expect(
    Math.abs(location.centre + (location.upper - location.centre) * rounded - expected.ucl_x),
  ).toBeLessThan(1e-8);
  expect(Math.abs(location.upper - expected.published.ucl_x)).toBeLessThan(2e-3); // d2 here is not rounded
  expect(spread.upper / chartConstants(2).D4).toBeCloseTo(expected.ucl_mr / inputs.D4_rounded, 8);
});

it("means with ranges and with standard deviations agree with 25 subgroups of 5, Montgomery", () => {
  const { inputs, expected, abs_or_rel_tolerance: bounds } = card("xbar-textbook");

  const byRange = meanAndRangeChart(inputs.subgroups);
  const byDeviation = meanAndDeviationChart(inputs.subgroups);

  const found = [
    [byRange.location.centre, expected.grand_mean],
    [byRange.spread.centre, expected.r_bar],
    [byRange.sigma, expected.sigma_from_r],
    [byRange.location.upper, expected.xbar_r.ucl],
    [byRange.location.lower, expected.xbar_r.lcl],
    [byRange.spread.upper, expected.r.ucl],
    [byRange.spread.lower, expected.r.lcl],
    [byDeviation.spread.centre, expected.s_bar],
    [byDeviation.sigma, expected.sigma_from_s],
    [byDeviation.location.upper, expected.xbar_s.ucl],
    [byDeviation.location.lower, expected.xbar_s.lcl],
    [byDeviation.spread.upper, expected.s.ucl],
    [byDeviation.spread.lower, expected.s.lcl],
  ];
  for (const [value, wanted] of found)
    expect(Math.abs(value! - wanted!)).toBeLessThanOrEqual(bounds.abs_exact);
});

const sizes = fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 6, maxLength: 60 });
const change = fc.record({
  scale: fc.double({ min: 0.01, max: 100, noNaN: true }),
  shift: fc.double({ min: -100, max: 100, noNaN: true }),
});

it("limits move with a shift and stretch with a scale", () => {
  fc.assert(
    fc.property(sizes, change, (list, { scale, shift }) => {
      const plain = individualsChart(list);
      const moved = individualsChart(list.map((x) => scale * x + shift));
      const at = (x: number) => scale * x + shift;
      const bound = 1e-9 * (1 + scale * 4000 + Math.abs(shift));
      expect(Math.abs(moved.location.upper - at(plain.location.upper))).toBeLessThan(bound);
      expect(Math.abs(moved.location.lower - at(plain.location.lower))).toBeLessThan(bound);
      expect(Math.abs(moved.spread.upper - scale * plain.spread.upper)).toBeLessThan(bound);
    }),
  );
});

it("the order inside a subgroup does not matter", () => {
  fc.assert(
    fc.property(
      fc.array(fc.array(fc.integer({ min: -99, max: 99 }), { minLength: 4, maxLength: 4 }), { minLength: 1 }),
      (groups) => {
        const turned = groups.map((group) => [...group].reverse());
        expect(meanAndRangeChart(turned)).toEqual(meanAndRangeChart(groups));
        expect(meanAndDeviationChart(turned).sigma).toBeCloseTo(meanAndDeviationChart(groups).sigma, 9);
      },
    ),
  );
});

it("the sums are never below 0 and swap when the readings are turned about the target", () => {
  fc.assert(
    fc.property(sizes, (list) => {
      const plain = cusumChart(list, { target: 0, k: 5, h: 40 });
      const turned = cusumChart(
        list.map((x) => -x),
        { target: 0, k: 5, h: 40 },
      );
      expect(turned.above).toEqual(plain.below);
      expect(turned.signals).toEqual(plain.signals);
      expect(Math.min(...plain.above, ...plain.below)).toBeGreaterThanOrEqual(0);
    }),
  );
});

it("refuses what it can't chart", () => {
  expect(() => mean([])).toThrow(RangeError);
  expect(() => deviationOf([1])).toThrow(RangeError);
  expect(() => individualsChart([1])).toThrow(RangeError);
  expect(() => meanAndRangeChart([])).toThrow(RangeError);
  expect(() =>
    meanAndRangeChart([
      [1, 2],
      [1, 2, 3],
    ]),
  ).toThrow(RangeError);
  expect(() => ewmaChart([1], { target: 0, sigma: 1, lambda: 0 })).toThrow(RangeError);
  expect(() => ewmaChart([1], { target: 0, sigma: -1, lambda: 0.2 })).toThrow(RangeError);
});
