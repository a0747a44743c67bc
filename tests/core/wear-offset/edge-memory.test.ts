import { describe, expect, it } from "vitest";
import { remember, rememberedPrior } from "../../../src/core/wear-offset/edge-memory.js";

const plain = { level: 0, levelVariance: 0.03 ** 2, rate: 0, covariance: 0, rateVariance: 0.00025 ** 2 };
const none = { levels: [], rates: [] };

// Formulas: the project's method, section 1; figures by hand.
describe("rememberedPrior", () => {
  it("is the plain prior where nothing is remembered", () => {
    expect(rememberedPrior(none, plain)).toEqual(plain);
  });

  it("shrinks a single level toward 0: Σ/(m + 0.3)", () => {
    const prior = rememberedPrior({ levels: [0.013], rates: [] }, plain);

    expect(prior.level).toBeCloseTo(0.01, 15);
    expect(prior.levelVariance).toBeCloseTo((0.03 ** 2 + 0.003 ** 2) / 2, 15);
    expect(prior.rate).toBe(0);
    expect(prior.rateVariance).toBe(plain.rateVariance);
  });

  it("grows surer with every edge that came out alike", () => {
    const variances = [1, 2, 4, 8].map(
      (m) => rememberedPrior({ levels: new Array(m).fill(0.01), rates: [] }, plain).levelVariance,
    );

    expect(variances).toEqual([...variances].sort((a, b) => b - a));
    expect(new Set(variances).size).toBe(4);
  });

  it("does not believe a rate to better than 0.15 of its first spread", () => {
    const prior = rememberedPrior(
      { levels: [], rates: new Array(12).fill(0) },
      { ...plain, rateVariance: 1 },
    );
    const many = rememberedPrior(
      { levels: [], rates: new Array(100).fill(0) },
      { ...plain, rateVariance: 1 },
    );

    expect(prior.rateVariance).toBeCloseTo(1 / 13, 15);
    expect(many.rateVariance).toBeCloseTo(0.15 ** 2, 15);
  });
});

describe("remember", () => {
  it("keeps a level always, a rate where it was seen long enough", () => {
    expect(remember(none, 0.01, undefined)).toEqual({ levels: [0.01], rates: [] });
    expect(remember(none, 0.01, 0.0001)).toEqual({ levels: [0.01], rates: [0.0001] });
  });

  it("keeps the latest dozen", () => {
    let memory: { levels: number[]; rates: number[] } = none;
    for (let k = 1; k <= 15; k++) memory = remember(memory, k, k / 100);

    expect(memory.levels).toEqual([4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15]);
    expect(memory.rates).toHaveLength(12);
    expect(none).toEqual({ levels: [], rates: [] });
  });
});
