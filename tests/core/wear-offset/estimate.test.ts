import { describe, expect, it } from "vitest";
import {
  advance,
  copyEstimate,
  expectedDeviation,
  plainPrior,
  setRegisterPrior,
  sizeCovariance,
  startEstimate,
  takeReading,
  widenFeature,
  widenLevel,
} from "../../../src/core/wear-offset/estimate.js";
import { blockOf, gaugeVariance, ribBlock } from "../../support/blocks.js";

// Formulas: the project's method, section 1; figures by hand.
const slot = blockOf({
  lives: [110, 70],
  registers: [{ tool: 0 }, { tool: 1 }],
  features: [
    { nominal: 16, tolerance: 0.02, effects: [-1, -1], tool: 0 },
    { nominal: 8, tolerance: 0.03, effects: [1, 0], tool: 0 },
  ],
});
const start = () => startEstimate(slot, [plainPrior(slot, 0), plainPrior(slot, 1)], [0, 30]);

describe("plainPrior", () => {
  it("is 2h for the level and 2h/N for the rate, h from the tightest feature", () => {
    const prior = plainPrior(slot, 1);

    expect(Math.sqrt(prior.levelVariance)).toBeCloseTo(0.04, 12);
    expect(Math.sqrt(prior.rateVariance)).toBeCloseTo(0.04 / 70, 12);
    expect([prior.level, prior.rate, prior.covariance]).toEqual([0, 0, 0]);
  });

  it("does not start a register with less than 0.02", () => {
    const tight = blockOf({ features: [{ nominal: 12, tolerance: 0.002, effects: [1] }] });

    expect(Math.sqrt(plainPrior(tight, 0).levelVariance)).toBeCloseTo(0.02, 12);
    expect(Math.sqrt(plainPrior(tight, 0).rateVariance)).toBeCloseTo(0.004 / 120, 12);
  });
});

describe("startEstimate", () => {
  it("holds the priors, 0.2 T of each feature, T/6 of scatter, and where each edge began", () => {
    const { mean, covariance, scatter, scatterWeight, edgeFrom, piece } = start();

    expect(mean).toEqual([0, 0, 0, 0, 0, 0]);
    expect(Math.sqrt(covariance[4 * 7]!)).toBeCloseTo(0.004, 12);
    expect(Math.sqrt(covariance[5 * 7]!)).toBeCloseTo(0.006, 12);
    expect(covariance.filter((value) => value !== 0)).toHaveLength(6);
    expect(scatter.map(Math.sqrt)).toEqual([expect.closeTo(0.02 / 6, 12), expect.closeTo(0.005, 12)]);
    expect(scatterWeight).toEqual([10, 10]);
    expect([edgeFrom, piece]).toEqual([[1, -29], 0]);
  });
});

describe("advance", () => {
  it("moves every level by its rate and adds the noise of one piece", () => {
    const estimate = start();
    estimate.mean[2] = 0.001;

    advance(slot, estimate, 1);

    const h = 0.02;
    expect(estimate.mean.slice(0, 2)).toEqual([0.001, 0]);
    // Register 0: a fresh edge, n_b = max(3, 110/20) = 5.5, age 0. Register 1: n_b = 3.5, 30 pieces old.
    const level = (life: number, breakIn: number, age: number) =>
      (2 * h) ** 2 +
      ((2 * h) / life) ** 2 +
      (0.02 * h) ** 2 +
      ((0.3 * h) ** 2 / breakIn) * Math.exp(-age / breakIn);
    expect(estimate.covariance[0]).toBeCloseTo(level(110, 5.5, 0), 15);
    expect(estimate.covariance[7]).toBeCloseTo(level(70, 3.5, 30), 15);
    expect(estimate.covariance[2]).toBeCloseTo(((2 * h) / 110) ** 2, 18);
    expect(estimate.covariance[14]).toBeCloseTo(((2 * h) / 110) ** 2 * (1 + 3 / 110), 18);
    expect(estimate.covariance[28]).toBeCloseTo(0.004 ** 2 * (1 + 1 / 110), 18);
  });

  it("does not go back, nor twice to the same piece", () => {
    const estimate = start();
    advance(slot, estimate, 5);
    const before = copyEstimate(estimate);

    advance(slot, estimate, 5);
    advance(slot, estimate, 3);

    expect(estimate).toEqual(before);
  });

  it("takes 100 pieces of life for a feature that no tool cuts", () => {
    const fixed = blockOf({
      features: [{ nominal: 5, effects: [], tool: undefined }],
      lives: [],
      registers: [],
    });
    const estimate = startEstimate(fixed, [], []);

    advance(fixed, estimate, 10);

    expect(estimate.covariance[0]).toBeCloseTo(0.006 ** 2 * 1.1, 15);
  });
});

describe("expectedDeviation and sizeCovariance", () => {
  it("sum effect times register value and error, and what belongs to the feature", () => {
    const estimate = start();
    estimate.mean.splice(0, 6, 0.001, 0.002, 9, 9, 0.0001, 0.0002);

    expect(expectedDeviation(slot, estimate, 0, [0.01, 0.02])).toBeCloseTo(-0.011 - 0.022 + 0.0001, 15);
    expect(expectedDeviation(slot, estimate, 1, [0.01, 0.02])).toBeCloseTo(0.011 + 0.0002, 15);
  });

  it("joins features through the registers they share", () => {
    const estimate = start();

    expect(sizeCovariance(slot, estimate, 0, 0)).toBeCloseTo(2 * 0.04 ** 2 + 0.004 ** 2, 15);
    expect(sizeCovariance(slot, estimate, 0, 1)).toBeCloseTo(-(0.04 ** 2), 15);
    expect(sizeCovariance(slot, estimate, 1, 0)).toBe(sizeCovariance(slot, estimate, 0, 1));
  });
});

describe("takeReading", () => {
  it("halves a surprise where state and reading are equally sure", () => {
    const rib = ribBlock();
    const estimate = startEstimate(rib, [plainPrior(rib, 0)], [0]);
    estimate.covariance.fill(0);
    estimate.covariance[8] = 0.004 ** 2;
    estimate.scatter[0] = 0.004 ** 2 - gaugeVariance;

    const { surprise, variance } = takeReading(rib, estimate, 0, 0.01, gaugeVariance, [0]);

    expect([surprise, variance]).toEqual([0.01, expect.closeTo(2 * 0.004 ** 2, 15)]);
    expect(estimate.mean[2]).toBeCloseTo(0.005, 15);
    expect(estimate.covariance[8]).toBeCloseTo(0.004 ** 2 / 2, 15);
  });

  it("learns the scatter: more from a far reading, at most as from one of 3 standard deviations", () => {
    const rib = ribBlock();
    const learnedFrom = (deviation: number) => {
      const estimate = startEstimate(rib, [plainPrior(rib, 0)], [0]);
      estimate.covariance.fill(0);
      takeReading(rib, estimate, 0, deviation, 0, [0]);
      return [estimate.scatter[0], estimate.scatterWeight[0]];
    };

    expect(learnedFrom(0)).toEqual([expect.closeTo((0.005 ** 2 * 10) / 11, 15), 11]);
    expect(learnedFrom(0.005)).toEqual([expect.closeTo(0.005 ** 2, 15), 11]);
    expect(learnedFrom(0.015)).toEqual([expect.closeTo((0.005 ** 2 * 19) / 11, 15), 11]);
    expect(learnedFrom(0.05)).toEqual([expect.closeTo((0.005 ** 2 * 19) / 11, 15), 11]);
  });

  it("keeps the scatter within 0.03 T and 0.6 T, and the belief in it at 60 readings", () => {
    const rib = ribBlock();
    const run = (deviation: (k: number) => number) => {
      const estimate = startEstimate(rib, [plainPrior(rib, 0)], [0]);
      for (let k = 1; k <= 400; k++) {
        advance(rib, estimate, k);
        takeReading(rib, estimate, 0, deviation(k), gaugeVariance, [0]);
      }
      return estimate;
    };

    expect(Math.sqrt(run(() => 0).scatter[0]!)).toBeCloseTo(0.03 * 0.03, 12);
    expect(Math.sqrt(run((k) => (k % 2 === 0 ? 0.1 : -0.1)).scatter[0]!)).toBeCloseTo(0.6 * 0.03, 12);
    expect(run(() => 0).scatterWeight[0]).toBe(60);
  });
});

describe("setRegisterPrior", () => {
  it("clears every tie of the register, and touches nothing else", () => {
    const estimate = start();
    advance(slot, estimate, 3);
    takeReading(slot, estimate, 0, 0.01, gaugeVariance, [0, 0]);
    takeReading(slot, estimate, 1, 0.002, gaugeVariance, [0, 0]);
    const before = copyEstimate(estimate);

    setRegisterPrior(slot, estimate, 1, {
      level: 0.5,
      levelVariance: 4,
      rate: 0.25,
      covariance: 0.1,
      rateVariance: 2,
    });

    for (const own of [1, 3]) {
      for (const other of [0, 2, 4, 5]) {
        expect(estimate.covariance[own * 6 + other]).toBe(0);
        expect(estimate.covariance[other * 6 + own]).toBe(0);
      }
    }
    expect([7, 9, 19, 21].map((at) => estimate.covariance[at])).toEqual([4, 0.1, 0.1, 2]);
    expect([estimate.mean[1], estimate.mean[3]]).toEqual([0.5, 0.25]);
    for (const i of [0, 2, 4, 5]) {
      expect(estimate.mean[i]).toBe(before.mean[i]);
      for (const j of [0, 2, 4, 5]) expect(estimate.covariance[i * 6 + j]).toBe(before.covariance[i * 6 + j]);
    }
  });
});

describe("widenLevel and widenFeature", () => {
  it("add variance to the one quantity", () => {
    const [estimate, before] = [start(), start()];

    widenLevel(estimate, 1, 0.3);
    widenFeature(slot, estimate, 1, 0.4);

    const added = estimate.covariance.map((value, at) => value - before.covariance[at]!);
    expect(added.flatMap((value, at) => (value === 0 ? [] : at))).toEqual([7, 35]);
    expect([added[7], added[35]]).toEqual([expect.closeTo(0.09, 12), expect.closeTo(0.16, 12)]);
  });
});
