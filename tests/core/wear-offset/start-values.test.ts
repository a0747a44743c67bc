import { describe, expect, it } from "vitest";
import { rememberedPrior } from "../../../src/core/wear-offset/edge-memory.js";
import { plainPrior, startEstimate } from "../../../src/core/wear-offset/estimate.js";
import { startProgress } from "../../../src/core/wear-offset/progress.js";
import { startValues } from "../../../src/core/wear-offset/start-values.js";
import { blockOf, type FeatureSpec, journalOf, ribBlock } from "../../support/blocks.js";
import { expectDigits } from "../data/read-data.js";

function startOf(features: FeatureSpec[], levels: number[] = []) {
  const block = blockOf({ features });
  const prior = rememberedPrior({ levels, rates: [] }, plainPrior(block, 0));
  return startValues(block, 0, prior, startEstimate(block, [prior], [0]), [0]);
}

describe("startValues", () => {
  it("leaves 1.645 standard deviations of metal on (worked twice by separate programs, the project's method note, 9.9 N)", () => {
    const { aimedMm, safeMm } = startOf([{ nominal: 12, tolerance: 0.03, effects: [2] }]);

    expect(aimedMm).toBeCloseTo(0, 12);
    expectDigits(safeMm, "0.0495");
    expectDigits(safeMm / 1.645, "0.0301040");
  });

  it("aims against the level that earlier edges had (the project's method note, section 6 H)", () => {
    const { aimedMm } = startOf([{ nominal: 12, tolerance: 0.03, effects: [2] }], [0.011, 0.013]);

    expectDigits(aimedMm, "-0.0104348");
  });

  // The project's method, 9.4: sign(s·m), s the effect and m the side on which metal is left.
  it.each([
    ["a rib", 2, 1, 1],
    ["a milled slot", -2, -1, 1],
    ["a turned bore", 1, -1, -1],
    ["a turned shaft", 1, 1, 1],
    ["a depth", -1, -1, 1],
  ] as const)("stays on the safe side of %s: effect %d, metal %d, sign %d", (_, effect, metal, sign) => {
    const { aimedMm, safeMm } = startOf([{ nominal: 12, tolerance: 0.03, effects: [effect], metal }]);

    expect(Math.sign(safeMm - aimedMm)).toBe(sign);
  });

  it("refuses a register that nothing answers to", () => {
    const block = ribBlock();
    const deaf = { ...block, features: block.features.map((feature) => ({ ...feature, effects: [0] })) };
    const prior = plainPrior(block, 0);

    expect(() => startValues(deaf, 0, prior, startEstimate(deaf, [prior], [0]), [0])).toThrow(RangeError);
  });
});

describe("startProgress", () => {
  const block = ribBlock();
  const levelVariance = (start: object) =>
    startProgress(block, journalOf(block, { starts: [start] })).estimate.covariance[0];

  it("doubts a level by as much as its register stands off 0 for no known reason", () => {
    expect(levelVariance({ doubtMm: 0.04 })).toBeCloseTo(0.03 ** 2 + 0.04 ** 2, 15);
    expect(levelVariance({})).toBeCloseTo(0.03 ** 2, 15);
  });

  it("takes what the running edge brings along as it is", () => {
    const carried = { level: 0.01, levelVariance: 1e-5, rate: 1e-4, covariance: 1e-7, rateVariance: 1e-8 };

    expect(levelVariance({ carried, doubtMm: 0.04 })).toBe(1e-5);
  });
});
