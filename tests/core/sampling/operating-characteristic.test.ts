import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  acceptanceProbability,
  qualityAccepted,
  type SamplingModel,
} from "../../../src/core/sampling/operating-characteristic.js";
import { readData } from "../data/read-data.js";

interface Case {
  id: string;
  kind: string;
  what: string;
  source: string;
  inputs: { n: number; c: number; p: number; pa_percent: number[] };
  expected: { pa: number; p_percent: number[]; published: number[] };
}
const cases = readData<Case[]>("acceptance-sampling.json").filter(({ kind }) => kind === "oc");
const binomial: SamplingModel = { model: "binomial" };

describe("operating characteristic", () => {
  it.each(cases.filter(({ id }) => id.startsWith("pa-")))("$id: $what [$source]", ({ inputs, expected }) => {
    const { n, c, p } = inputs;
    expect(Math.abs(acceptanceProbability({ n, ac: c }, p, binomial) - expected.pa)).toBeLessThanOrEqual(
      1e-10,
    );
  });

  it.each(cases.filter(({ id }) => id.startsWith("oc-")))("$id: $what [$source]", ({ inputs, expected }) => {
    inputs.pa_percent.forEach((percent, k) => {
      const found = 100 * qualityAccepted({ n: inputs.n, ac: inputs.c }, percent / 100, binomial);
      expect(Math.abs(found - expected.p_percent[k]!)).toBeLessThanOrEqual(1e-5);
      expect(Math.abs(found / expected.published[k]! - 1)).toBeLessThanOrEqual(0.01);
    });
  });

  const anyPlan = fc
    .integer({ min: 1, max: 2000 })
    .chain((n) => fc.record({ n: fc.constant(n), ac: fc.nat({ max: n - 1 }) }));

  it.each<SamplingModel>([binomial, { model: "poisson" }, { model: "hypergeometric", lotSize: 5000 }])(
    "falls from 1 as the quality gets worse: $model",
    (model) => {
      fc.assert(
        fc.property(
          anyPlan,
          fc.double({ min: 0, max: 1, noNaN: true }),
          fc.double({ min: 0, max: 1, noNaN: true }),
          (plan, a, b) => {
            const [better, worse] = a < b ? [a, b] : [b, a];
            const [high, low] = [better, worse].map((p) => acceptanceProbability(plan, p, model));
            expect(low).toBeLessThanOrEqual(high! + 1e-14);
            expect(acceptanceProbability(plan, 0, model)).toBe(1);
          },
        ),
      );
    },
  );

  it("is answered backwards: the quality found is accepted so often", () => {
    fc.assert(
      fc.property(anyPlan, fc.double({ min: 0.01, max: 0.99, noNaN: true }), (plan, probability) => {
        for (const model of [binomial, { model: "poisson" } as const]) {
          const p = qualityAccepted(plan, probability, model);
          expect(Math.abs(acceptanceProbability(plan, p, model) - probability)).toBeLessThan(1e-9);
        }
        const lot: SamplingModel = { model: "hypergeometric", lotSize: 5000 };
        const p = qualityAccepted(plan, probability, lot);
        expect(acceptanceProbability(plan, p, lot)).toBeLessThanOrEqual(probability);
        if (p > 0) expect(acceptanceProbability(plan, p - 1 / 5000, lot)).toBeGreaterThan(probability);
      }),
    );
  });

  it("of a small lot lies below the binomial: 10 pieces, 5 drawn, 1 bad: 1/2 [by hand]", () => {
    expect(acceptanceProbability({ n: 5, ac: 0 }, 0.1, { model: "hypergeometric", lotSize: 10 })).toBeCloseTo(
      0.5,
      14,
    );
  });

  it.each([
    () => qualityAccepted({ n: 5, ac: 5 }, 0.5, binomial),
    () => qualityAccepted({ n: 5, ac: 0 }, 0, binomial),
    () => acceptanceProbability({ n: 11, ac: 0 }, 0.1, { model: "hypergeometric", lotSize: 10 }),
  ])("refuses what is none: %s", (call) => {
    expect(call).toThrow(RangeError);
  });
});
