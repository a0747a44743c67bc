import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Estimate, plainPrior, startEstimate } from "../../../src/core/wear-offset/estimate.js";
import { forecastFeature, fromTarget, piecesToLimit } from "../../../src/core/wear-offset/forecast.js";
import { blockOf, type FeatureSpec, follow } from "../../support/blocks.js";
import { tradeCase } from "../data/read-data.js";
import { runs } from "./random-runs.js";

/** A block of one feature with effect 1 whose size and drift per piece are known. */
function drifting(spec: Partial<FeatureSpec> & { nominal: number }, deviation: number, rate: number) {
  const block = blockOf({ features: [{ effects: [1], ...spec }] });
  const estimate: Estimate = startEstimate(block, [plainPrior(block, 0)], [0]);
  estimate.mean.splice(0, 3, 0, rate, deviation);
  return { block, estimate };
}

describe("piecesToLimit", () => {
  it(`DR-02: 49.994 growing 0.0005 per part reaches 50.000 in 12 parts; the first outside is the 13th (${tradeCase("DR-02").source})`, () => {
    const { now, upper_limit, drift_per_part } = tradeCase("DR-02").inputs;
    const { parts_to_limit } = tradeCase("DR-02").expected;
    const { block, estimate } = drifting(
      { nominal: 50, lower: undefined, upper: upper_limit!, target: 49.988 },
      now! - 50,
      drift_per_part!,
    );

    const first = piecesToLimit(block, estimate, 0, [0], 1000);

    // The 12th part is on the limit and conforms.
    expect(first).toBe(parts_to_limit! + 1);
    expect(50 + forecastFeature(block, estimate, 0, parts_to_limit!, [0]).expectedDeviation).toBeCloseTo(
      upper_limit!,
      12,
    );
  });

  it.each([
    ["upward", 0.01, 0.001, 21],
    ["downward", 0.01, -0.001, 41],
    ["between two pieces", 0, 0.007, 5],
    ["outside already", 0.031, 0, 1],
    ["outside with the next piece", 0.029, 0.002, 1],
    ["on the limit with the next piece", 0.029, 0.001, 2],
  ])("counts %s: from %d by %d to ±0.03 the first outside is no. %d", (_, deviation, rate, first) => {
    const { block, estimate } = drifting({ nominal: 12, tolerance: 0.03 }, deviation, rate);

    expect(piecesToLimit(block, estimate, 0, [0], 1000)).toBe(first);
  });

  it("finds nothing without drift, beyond the pieces asked about, or away from the only limit", () => {
    const still = drifting({ nominal: 12, tolerance: 0.03 }, 0.01, 0);
    const slow = drifting({ nominal: 12, tolerance: 0.03 }, 0.01, 0.001);
    const away = drifting({ nominal: 12, lower: undefined, upper: 12.03, target: 12 }, 0, -0.001);

    expect(piecesToLimit(still.block, still.estimate, 0, [0], 1000)).toBeUndefined();
    expect(piecesToLimit(slow.block, slow.estimate, 0, [0], 20)).toBeUndefined();
    expect(piecesToLimit(slow.block, slow.estimate, 0, [0], 21)).toBe(21);
    expect(piecesToLimit(away.block, away.estimate, 0, [0], 1000)).toBeUndefined();
  });

  it("takes the register values as given", () => {
    const { block, estimate } = drifting({ nominal: 12, tolerance: 0.03 }, 0.01, 0.001);

    expect(piecesToLimit(block, estimate, 0, [-0.01], 1000)).toBe(31);
  });

  it("agrees with the forecast looked at piece by piece (off the limit by more than rounding)", () => {
    const um = fc.integer({ min: -29_000, max: 29_000 });
    fc.assert(
      fc.property(um, fc.integer({ min: -900, max: 900 }), (deviationNm, rateNm) => {
        const { block, estimate } = drifting(
          { nominal: 12, tolerance: 0.03 },
          (deviationNm + 0.5) / 1e6,
          rateNm / 1e6,
        );
        const outside = (ahead: number) =>
          Math.abs(forecastFeature(block, estimate, 0, ahead, [0]).expectedDeviation) > 0.03;
        const pieces = Array.from({ length: 100 }, (_, k) => k + 1);

        expect(piecesToLimit(block, estimate, 0, [0], 100)).toBe(pieces.find(outside));
      }),
    );
  });
});

describe("forecastFeature", () => {
  it("adds the noise of the pieces to come: q of the project's method, section 4 (by hand)", () => {
    const { block, estimate } = drifting({ nominal: 12, tolerance: 0.03 }, 0.004, 0.0005);
    estimate.covariance.fill(0);
    const [h, breakIn] = [0.03, 6];

    const { expectedDeviation, meanDeviation, pieceDeviation } = forecastFeature(
      block,
      estimate,
      0,
      4,
      [-0.01],
    );

    const settling = (0.3 * h) ** 2 * (Math.exp(0) - Math.exp(-4 / breakIn));
    const q = (0.02 * h) ** 2 * 4 + settling + (((2 * h) / 120) ** 2 / 40) * (64 / 3);
    expect(expectedDeviation).toBeCloseTo(-0.004, 12);
    expect(meanDeviation).toBeCloseTo(Math.sqrt(q), 12);
    expect(pieceDeviation).toBeCloseTo(Math.sqrt(q + 0.005 ** 2), 12);
  });

  it("counts no probability on a side without a limit", () => {
    const both = drifting({ nominal: 12, tolerance: 0.03 }, 0, 0);
    const one = drifting({ nominal: 12, lower: undefined, upper: 12.03, target: 12 }, 0, 0);

    const [two, single] = [both, one].map(
      ({ block, estimate }) => forecastFeature(block, estimate, 0, 1, [0]).probabilityOut,
    );

    expect(single).toBeCloseTo(two! / 2, 12);
  });

  it("is never surer further ahead", () => {
    fc.assert(
      fc.property(runs(), fc.integer({ min: 1, max: 20 }), ({ block, journal, readings }, ahead) => {
        const { estimate } = follow(block, journal, readings).cache.after;
        // A level and a rate that are tied the one against the other may grow surer first, so the ties are cut.
        const size = estimate.mean.length;
        estimate.covariance = estimate.covariance.map((p, at) => (at % (size + 1) === 0 ? p : 0));

        block.features.forEach((_, f) => {
          const near = forecastFeature(
            block,
            estimate,
            f,
            ahead,
            block.registers.map(() => 0),
          );
          const far = forecastFeature(
            block,
            estimate,
            f,
            ahead + 1,
            block.registers.map(() => 0),
          );
          expect(far.meanDeviation).toBeGreaterThanOrEqual(near.meanDeviation * (1 - 1e-12));
          expect(near.pieceDeviation).toBeGreaterThan(near.meanDeviation);
          expect(near.probabilityOut).toBeGreaterThanOrEqual(0);
          expect(near.probabilityOut).toBeLessThanOrEqual(1);
        });
      }),
    );
  });
});

describe("fromTarget", () => {
  it("is counted from the target, not the nominal size", () => {
    const block = blockOf({
      features: [{ nominal: 20, lower: 20, upper: 20.021, target: 20.01, effects: [-2] }],
    });

    expect(fromTarget(block, 0, -0.01)).toBeCloseTo(-0.02, 15);
    expect(fromTarget(block, 0, 0.01)).toBeCloseTo(0, 15);
  });
});
