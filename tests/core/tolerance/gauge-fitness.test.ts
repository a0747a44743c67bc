import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isTooCoarse, rateGauge } from "../../../src/core/tolerance/gauge-fitness.js";
import { pm } from "../../support/blocks.js";
import { readData, tradeCase } from "../data/read-data.js";

interface Capability {
  id: string;
  kind: string;
  what: string;
  source: string;
  inputs: { T: number; U: number; k: number };
  expected: { cm: number; tur: number; golden_rule_ten_to_one: boolean };
  tolerance: number;
}
const capability = readData<Capability[]>("decision-rules.json").filter(
  (one) => one.kind === "measurement-capability",
);

const rate = (width: number, u: number, { resolution = width / 1000, room = width / 2 } = {}) =>
  rateGauge({
    widthPm: width,
    roomPm: room,
    resolutionPm: resolution,
    expandedUncertaintyPm: 2 * u,
    standardUncertaintyPm: u,
  });

describe("rateGauge", () => {
  it.each(capability)("$id: $what ($source)", ({ inputs, expected, tolerance }) => {
    const { T, U, k } = inputs;

    const rating = rateGauge({
      widthPm: pm(T),
      roomPm: pm(T) / 2,
      resolutionPm: pm(T) / 100,
      expandedUncertaintyPm: pm(U),
      standardUncertaintyPm: pm(U) / k,
    });

    expect(Math.abs(rating.capabilityIndex / expected.cm - 1)).toBeLessThanOrEqual(tolerance);
    expect(Math.abs(rating.testRatio! / expected.tur - 1)).toBeLessThanOrEqual(tolerance);
    expect(rating.fitness === "ample").toBe(expected.golden_rule_ten_to_one);
  });

  it.each([
    ["GA-01", "too_coarse", 2],
    ["GA-02", "ample", 1],
  ] as const)("%s: %s", (id, fitness, places) => {
    const { inputs, expected, source } = tradeCase(id);
    const width = pm(inputs.tolerance_width!);

    const rating = rate(width, pm(inputs.U!) / 2);

    expect(rating.fitness, source).toBe(fitness);
    expect(rating.testRatio, source).toBeCloseTo(expected.ratio_tolerance_to_2U!, places);
  });

  // T = 8000, so that each threshold falls on a whole picometre of u.
  it.each([
    [199, "ample"],
    [200, "ample"],
    [201, "fit"],
    [500, "fit"],
    [501, "marginal"],
    [1000, "marginal"],
    [1001, "too_coarse"],
  ])("with u = %d in 8000 is %s (10, 4 and 2 to 1: common practice)", (u, fitness) => {
    expect(rate(8000, u).fitness).toBe(fitness);
  });

  it("is at most marginal with fewer than ten steps of the display in the tolerance", () => {
    expect(rate(8000, 100, { resolution: 800 })).toMatchObject({ fitness: "ample", resolutionRatio: 10 });
    expect(rate(8000, 100, { resolution: 801 }).fitness).toBe("marginal");
  });

  it("is too coarse where it may not steer: by the way from target to the nearer limit", () => {
    expect(rate(8000, 500, { room: 2000 }).fitness).toBe("fit");
    expect(rate(8000, 501, { room: 2000 }).fitness).toBe("too_coarse");
    expect(isTooCoarse(500, 2000)).toBe(false);
    expect(isTooCoarse(501, 2000)).toBe(true);
  });

  it("has no test ratio where U is not known or given as 0", () => {
    const gauge = { widthPm: 8000, roomPm: 4000, resolutionPm: 100, standardUncertaintyPm: 100 };

    for (const expandedUncertaintyPm of [undefined, 0]) {
      expect(rateGauge({ ...gauge, expandedUncertaintyPm })).toMatchObject({
        testRatio: undefined,
        capabilityIndex: 20,
      });
    }
  });

  it("never rates a gauge with more doubt, or coarser steps, better", () => {
    const order = ["ample", "fit", "marginal", "too_coarse"];
    const length = fc.integer({ min: 1, max: 5000 });
    fc.assert(
      fc.property(length, length, length, length, (u, moreU, step, moreStep) => {
        const rank = (doubt: number, resolution: number) =>
          order.indexOf(rate(8000, doubt, { resolution }).fitness);

        expect(rank(u + moreU, step + moreStep)).toBeGreaterThanOrEqual(rank(u, step));
      }),
    );
  });

  it.each([
    { widthPm: 0 },
    { roomPm: -1 },
    { resolutionPm: Number.NaN },
    { standardUncertaintyPm: 0 },
    { standardUncertaintyPm: Number.POSITIVE_INFINITY },
    { expandedUncertaintyPm: -1 },
  ])("throws for %j", (change) => {
    const gauge = {
      widthPm: 8000,
      roomPm: 4000,
      resolutionPm: 100,
      expandedUncertaintyPm: 200,
      standardUncertaintyPm: 100,
    };

    expect(() => rateGauge({ ...gauge, ...change })).toThrow(RangeError);
  });
});
