import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { mean, meanAndRangeChart } from "../../../src/core/control-chart/variables.js";
import {
  aboutTargetLimits,
  indicesOf,
  quantileIndices,
  readingsForQuantiles,
  shareOutside,
  smallerLimits,
  spreadLimits,
} from "../../../src/core/performance/indices.js";
import { spreadOverall, spreadWithin } from "../../../src/core/performance/spread.js";
import { normalQuantile } from "../../../src/core/statistics/normal-quantile.js";
import { expectDigits, readData } from "../data/read-data.js";

// biome-ignore lint/suspicious/noExplicitAny: each case has a shape of its own
const cards = readData<any[]>("capability.json");
const ofKind = (kind: string) =>
  cards.filter((card) => card.kind === kind).map((card) => [card.id, card.source, card] as const);
const toleranceOf = ({
  lsl,
  usl,
  target,
}: {
  lsl: number | null;
  usl: number | null;
  target?: number | null;
}) => ({
  lower: lsl ?? undefined,
  upper: usl ?? undefined,
  target: target ?? undefined,
});

it.each(ofKind("indices"))(
  "%s agrees with %s",
  (_, __, { inputs, expected, abs_or_rel_tolerance: { abs } }) => {
    const found = indicesOf(inputs.mean, inputs.s, toleranceOf(inputs));
    const names = { cp: "spread", cpl: "lower", cpu: "upper", cpk: "smaller", cpm: "aboutTarget" } as const;
    for (const [name, ours] of Object.entries(names)) {
      if (name in expected) expect(Math.abs(found[ours]! - expected[name]), name).toBeLessThanOrEqual(abs);
      else expect(found[ours], name).toBeUndefined();
    }
  },
);

it.each(ofKind("confidence"))(
  "%s agrees with %s",
  (_, __, { inputs, expected, abs_or_rel_tolerance: bounds }) => {
    const near = (found: number, wanted: number, bound: number) =>
      expect(Math.abs(found - wanted)).toBeLessThanOrEqual(bound);
    const { n, confidence } = inputs;
    if (inputs.cpk !== undefined) {
      const [low, high] = smallerLimits(inputs.cpk, n, { confidence });
      near(low, expected.lower, bounds.abs_exact);
      near(high, expected.upper, bounds.abs_exact);
      near(low, expected.published.lower, bounds.abs_published);
      near(high, expected.published.upper, bounds.abs_published);
      return;
    }
    const { mean: x, s, target } = inputs;
    const found = indicesOf(x, s, toleranceOf(inputs));
    const pairs: [[number, number], [number, number] | undefined][] = [
      [smallerLimits(found.smaller, n, { confidence }), expected.cpk],
    ];
    if (expected.cp) pairs.push([spreadLimits(found.spread!, n - 1, confidence), expected.cp]);
    if (expected.cpm)
      pairs.push([aboutTargetLimits(found.aboutTarget!, n, (x - target) / s, confidence), expected.cpm]);
    for (const [limits, wanted] of pairs) {
      near(limits[0], wanted![0], bounds.abs);
      near(limits[1], wanted![1], bounds.abs);
    }
    const [single] = smallerLimits(found.smaller, n, { confidence, sides: 1 });
    near(single, expected.cpk_lower_one_sided, bounds.abs);
  },
);

it.each(ofKind("indices-from-data"))(
  "%s agrees with %s",
  (id, _, { inputs, expected, abs_or_rel_tolerance: { abs } }) => {
    const near = (found: number, wanted: number) => expect(Math.abs(found - wanted)).toBeLessThanOrEqual(abs);
    const tolerance = toleranceOf(inputs);
    if (inputs.data) {
      const overall = indicesOf(mean(inputs.data), spreadOverall(inputs.data)!.s, tolerance);
      const within = indicesOf(mean(inputs.data), spreadWithin([inputs.data])!.s, tolerance);
      near(spreadOverall(inputs.data)!.s, expected.s_overall);
      near(spreadWithin([inputs.data])!.s, expected.sigma_mr);
      near(overall.spread!, expected.pp);
      near(overall.smaller, expected.ppk);
      near(overall.aboutTarget!, expected.cpm);
      near(within.spread!, expected.cp_mr);
      near(within.smaller, expected.cpk_mr);
      return;
    }
    const groups: number[][] = inputs.subgroups;
    const all = groups.flat();
    const pooled = Math.sqrt(mean(groups.map((group) => spreadOverall(group)!.s ** 2)));
    const sigmas: Record<string, number> = {
      "R/d2": meanAndRangeChart(groups).sigma,
      pooled,
      overall: spreadOverall(all)!.s,
    };
    const sigma = sigmas[inputs.sigma_method]!;
    const found = indicesOf(mean(all), sigma, tolerance);
    near(sigma, expected.sigma);
    const [lower, upper, spread, smaller, target] =
      id === "cap-data-overall"
        ? ["ppl", "ppu", "pp", "ppk", "ppm_target"]
        : ["cpl", "cpu", "cp", "cpk", "cpm"];
    near(found.lower!, expected[lower!]);
    near(found.upper!, expected[upper!]);
    near(found.spread!, expected[spread!]);
    near(found.smaller, expected[smaller!]);
    near(found.aboutTarget!, expected[target!]);
  },
);

it.each(ofKind("fallout"))(
  "%s agrees with %s",
  (_, __, { inputs, expected, abs_or_rel_tolerance: bounds }) => {
    const rel = (found: number, wanted: number, bound: number) =>
      expect(Math.abs(found / wanted - 1)).toBeLessThanOrEqual(bound);
    if (inputs.cp === undefined) {
      const { below, above } = shareOutside(inputs.mean, inputs.s, toleranceOf(inputs));
      rel(below, expected.below, bounds.rel);
      rel(above, expected.above, bounds.rel);
      rel(1e6 * (below + above), expected.total_ppm, bounds.rel);
      return;
    }
    const { below, above } = shareOutside(0, 1, { lower: -3 * inputs.cp, upper: 3 * inputs.cp });
    rel(1e6 * above, expected.one_sided_ppm, bounds.rel_exact);
    rel(1e6 * (below + above), expected.two_sided_ppm, bounds.rel_exact);
    // Printed as whole ppm up to Cp = 1.6: 3.4 stands there as 4, so that no relative bound fits.
    [1e6 * above, 1e6 * (below + above)].forEach((ppm, i) => {
      if (inputs.cp <= 1.6) expectDigits(ppm, String(expected.published[i]));
      else rel(ppm, expected.published[i], bounds.rel_published);
    });
  },
);

describe("properties", () => {
  const process = fc.record({
    mean: fc.double({ min: -5, max: 5, noNaN: true }),
    s: fc.double({ min: 0.1, max: 3, noNaN: true }),
    scale: fc.double({ min: 0.01, max: 100, noNaN: true }),
    shift: fc.double({ min: -100, max: 100, noNaN: true }),
  });
  it("no index depends on the unit or on where the scale begins, and Cpk is at most Cp", () => {
    fc.assert(
      fc.property(process, ({ mean: x, s, scale, shift }) => {
        const at = (value: number) => scale * value + shift;
        const plain = indicesOf(x, s, { lower: -6, upper: 6, target: 1 });
        const moved = indicesOf(at(x), scale * s, { lower: at(-6), upper: at(6), target: at(1) });
        expect(moved.smaller).toBeCloseTo(plain.smaller, 5);
        expect(moved.aboutTarget).toBeCloseTo(plain.aboutTarget!, 5);
        expect(plain.smaller).toBeLessThanOrEqual(plain.spread! + 1e-12);
      }),
    );
  });
});

it("indices by quantiles of a normal sample are those of its standard deviation", () => {
  const n = 20_001;
  const sample = Array.from({ length: n }, (_, i) => normalQuantile((i + 0.5) / n));
  const found = quantileIndices(sample, { lower: -4, upper: 5 });
  expect(Math.abs(found.lower! - 4 / 3)).toBeLessThan(0.005);
  expect(Math.abs(found.upper! - 5 / 3)).toBeLessThan(0.005);
  expect(found.smaller).toBe(found.lower);
});

it("refuses what says nothing", () => {
  expect(() => indicesOf(1, 0, { lower: 0, upper: 2 })).toThrow(RangeError);
  expect(() => indicesOf(1, 1, { lower: undefined, upper: undefined })).toThrow(RangeError);
  const few = Array.from({ length: readingsForQuantiles - 1 }, (_, i) => i);
  expect(() => quantileIndices(few, { lower: 0, upper: 1 })).toThrow(RangeError);
  expect(() => quantileIndices(Array(2000).fill(1), { lower: 0, upper: 2 })).toThrow(RangeError);
});
