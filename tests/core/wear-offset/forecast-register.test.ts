import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Estimate, plainPrior, startEstimate } from "../../../src/core/wear-offset/estimate.js";
import { forecastFeature, piecesToLimit } from "../../../src/core/wear-offset/forecast.js";
import { forecastRegister } from "../../../src/core/wear-offset/forecast-register.js";
import { blockOf, type FeatureSpec } from "../../support/blocks.js";

/** One register whose features cut `level` too big and grow by `rate` per piece, as far as the register's share goes. */
function worn(features: FeatureSpec[], level: number, rate: number) {
  const block = blockOf({ features });
  const estimate: Estimate = startEstimate(block, [plainPrior(block, 0)], [0]);
  estimate.mean.splice(0, 2, level, rate);
  return { block, estimate };
}

const rib: FeatureSpec = { nominal: 12, tolerance: 0.03, effects: [2] };

describe("forecastRegister", () => {
  it("asks a rib's radius register for what wear adds to it, and leaves half of the tolerance on either side", () => {
    const { block, estimate } = worn([rib], 0.01, 0.001);

    const now = forecastRegister(block, estimate, 0, [0.002], 0);
    const later = forecastRegister(block, estimate, 0, [0.002], 10);

    // By hand: the size stands 2·(0.002 + 0.01) = 0.024 above 12, so that −0.010 puts it right; ±0.03/2 of room about that.
    expect(now.aimedMm).toBeCloseTo(-0.01, 12);
    expect(now.lowMm).toBeCloseTo(-0.025, 12);
    expect(now.highMm).toBeCloseTo(0.005, 12);
    // Ten pieces on another 10·0.001.
    expect(later.aimedMm).toBeCloseTo(-0.02, 12);
    expect(later.highMm).toBeCloseTo(-0.005, 12);
    expect(later.deviationMm).toBeGreaterThan(now.deviationMm);
  });

  it("takes the room in which all features agree, whichever way the register moves them", () => {
    const slot: FeatureSpec = { nominal: 8, tolerance: 0.01, effects: [-2] };
    const { block, estimate } = worn([rib, slot], 0, 0);

    expect(forecastRegister(block, estimate, 0, [0], 0)).toMatchObject({ lowMm: -0.005, highMm: 0.005 });
  });

  it("has no room to name where a limit is missing", () => {
    const { block, estimate } = worn(
      [{ nominal: 12, lower: undefined, upper: 12.03, target: 12, effects: [2] }],
      0,
      0,
    );

    const { lowMm, highMm } = forecastRegister(block, estimate, 0, [0], 0);

    expect(lowMm).toBeUndefined();
    expect(highMm).toBeCloseTo(0.015, 12);
  });

  it("refuses a register that nothing answers to", () => {
    const { block, estimate } = worn([{ nominal: 12, tolerance: 0.03, effects: [0] }], 0, 0);

    expect(() => forecastRegister(block, estimate, 0, [0], 0)).toThrow(RangeError);
  });

  it("puts a feature on its target by the value it names, and leaves the room when the pieces to limit are over", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -0.008, max: 0.008, noNaN: true }),
        fc.double({ min: 0.00005, max: 0.002, noNaN: true }),
        fc.constantFrom(-2, -1, 1, 2),
        fc.integer({ min: 0, max: 60 }),
        (level, rate, effect, ahead) => {
          const { block, estimate } = worn([{ ...rib, effects: [effect] }], level, rate);
          const { aimedMm } = forecastRegister(block, estimate, 0, [0], ahead);

          expect(forecastFeature(block, estimate, 0, ahead, [aimedMm]).expectedDeviation).toBeCloseTo(0, 12);
          const first = piecesToLimit(block, estimate, 0, [0], 10_000);
          if (first === undefined) return;
          const { lowMm, highMm } = forecastRegister(block, estimate, 0, [0], first);
          expect(0 < lowMm! + 1e-9 || 0 > highMm! - 1e-9).toBe(true);
          const before = forecastRegister(block, estimate, 0, [0], first - 1);
          expect(0 > before.lowMm! - 1e-9 && 0 < before.highMm! + 1e-9).toBe(true);
        },
      ),
    );
  });
});
