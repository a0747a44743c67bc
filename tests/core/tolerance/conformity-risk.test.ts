import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  conformanceProbability,
  globalRisks,
  posterior,
  specificRisk,
} from "../../../src/core/tolerance/conformity-risk.js";
import { readData } from "../data/read-data.js";

interface Case {
  id: string;
  kind: string;
  what: string;
  source: string;
  tolerance: number;
}
interface Conformance extends Case {
  inputs: { y: number; u: number; lsl: number | null; usl: number | null };
  expected: {
    pc: number;
    specific_consumer_risk_if_accepted?: number;
    specific_producer_risk_if_rejected?: number;
  };
}
interface Global extends Case {
  inputs: {
    process_mean: number;
    process_sd: number;
    u: number;
    lsl: number;
    usl: number;
    acceptance_limits: [number, number];
  };
  expected: {
    global_consumer_risk: number;
    global_producer_risk: number;
    share_accepted: number;
    bad_among_accepted: number;
  };
}
const stored = readData<Case[]>("decision-rules.json");
const conformance = stored.filter((one): one is Conformance => one.kind === "conformance-probability");
const global = stored.filter((one): one is Global => one.kind === "global-risk");

const size = fc.double({ min: -10, max: 10, noNaN: true });
const spread = fc.double({ min: 0.01, max: 5, noNaN: true });
const prior = fc.record({ mean: size, standardDeviation: spread });

describe("posterior", () => {
  it("is the reading itself where nothing else is known (JCGM 106:2012 clause 6, from memory)", () => {
    expect(posterior({ mean: 5, standardDeviation: 0.2 }, undefined)).toEqual({
      mean: 5,
      standardDeviation: 0.2,
    });
  });

  it("lies half way between reading and process where both are equally sure", () => {
    const { mean, standardDeviation } = posterior(
      { mean: 4, standardDeviation: 0.5 },
      { mean: 2, standardDeviation: 0.5 },
    );

    expect(mean).toBe(3);
    expect(standardDeviation).toBeCloseTo(0.5 / Math.SQRT2, 15);
  });

  it("weighs by the inverse squares: y 10.06, u 0.04 and process 10 ± 0.03 give 10.0216 ± 0.024 (by hand)", () => {
    const { mean, standardDeviation } = posterior(
      { mean: 10.06, standardDeviation: 0.04 },
      { mean: 10, standardDeviation: 0.03 },
    );

    expect(mean).toBeCloseTo(10.0216, 12);
    expect(standardDeviation).toBeCloseTo(0.024, 12);
  });

  it("is the reading where the gauge has no doubt at all", () => {
    expect(posterior({ mean: 5, standardDeviation: 0 }, { mean: 4, standardDeviation: 1 })).toEqual({
      mean: 5,
      standardDeviation: 0,
    });
  });

  it("lies between reading and process, surer than either", () => {
    fc.assert(
      fc.property(size, spread, prior, (y, u, process) => {
        const { mean, standardDeviation } = posterior({ mean: y, standardDeviation: u }, process);

        expect(mean).toBeGreaterThanOrEqual(Math.min(y, process.mean) - 1e-12);
        expect(mean).toBeLessThanOrEqual(Math.max(y, process.mean) + 1e-12);
        expect(standardDeviation).toBeLessThanOrEqual(Math.min(u, process.standardDeviation) * (1 + 1e-15));
      }),
    );
  });

  it.each([
    [{ mean: Number.NaN, standardDeviation: 1 }, undefined],
    [{ mean: 1, standardDeviation: -1 }, undefined],
    [
      { mean: 1, standardDeviation: 1 },
      { mean: 1, standardDeviation: 0 },
    ],
    [
      { mean: 1, standardDeviation: 1 },
      { mean: Number.POSITIVE_INFINITY, standardDeviation: 1 },
    ],
  ])("throws for %j with the prior %j", (reading, process) => {
    expect(() => posterior(reading, process)).toThrow(RangeError);
  });
});

describe("conformanceProbability", () => {
  it.each(conformance)("$id: $what ($source)", ({ inputs, expected, tolerance }) => {
    const belief = posterior({ mean: inputs.y, standardDeviation: inputs.u }, undefined);

    const probability = conformanceProbability(belief, inputs.lsl ?? undefined, inputs.usl ?? undefined);

    expect(Math.abs(probability - expected.pc)).toBeLessThanOrEqual(tolerance);
    const { specific_consumer_risk_if_accepted: consumer, specific_producer_risk_if_rejected: producer } =
      expected;
    if (consumer === undefined || producer === undefined) return;
    const accepted = specificRisk("conforming", probability)!;
    const rejected = specificRisk("nonconforming", probability)!;
    expect(accepted.borneBy).toBe("consumer");
    expect(Math.abs(accepted.probability - consumer)).toBeLessThanOrEqual(tolerance);
    expect(rejected.borneBy).toBe("producer");
    expect(Math.abs(rejected.probability - producer)).toBeLessThanOrEqual(tolerance);
  });

  it("lies within 0 and 1, and falls as the reading moves out towards a limit, whatever the prior", () => {
    fc.assert(
      fc.property(size, size, spread, fc.option(prior, { nil: undefined }), (a, b, u, process) => {
        const [near, far] = [Math.min(a, b), Math.max(a, b)];
        const upTo = (y: number) =>
          conformanceProbability(posterior({ mean: y, standardDeviation: u }, process), undefined, 1);
        const around = (y: number) =>
          conformanceProbability(posterior({ mean: y, standardDeviation: u }, undefined), -1, 1);

        for (const p of [upTo(near), upTo(far), around(near), around(far)]) {
          expect(p).toBeGreaterThanOrEqual(0);
          expect(p).toBeLessThanOrEqual(1);
        }
        expect(upTo(far)).toBeLessThanOrEqual(upTo(near) + 1e-14);
        if (Math.abs(a) <= Math.abs(b)) expect(around(b)).toBeLessThanOrEqual(around(a) + 1e-14);
      }),
    );
  });
});

describe("specificRisk", () => {
  it("has none where nothing was decided", () => {
    expect(specificRisk("uncertain", 0.4)).toBeUndefined();
  });
});

describe("globalRisks", () => {
  it.each(global)("$id: $what ($source)", ({ inputs, expected, tolerance }) => {
    const [low, high] = inputs.acceptance_limits;

    const { consumer, producer, accepted } = globalRisks(
      { mean: inputs.process_mean, standardDeviation: inputs.process_sd },
      inputs.u,
      { lower: inputs.lsl, upper: inputs.usl },
      { lower: low, upper: high },
    );

    const close = (actual: number, asked: number) =>
      expect(Math.abs(actual - asked)).toBeLessThanOrEqual(tolerance);
    close(consumer, expected.global_consumer_risk);
    close(producer, expected.global_producer_risk);
    close(accepted, expected.share_accepted);
    close(consumer / accepted, expected.bad_among_accepted);
  });

  it("adds up: good and accepted, bad and accepted, good and rejected (every piece is one of four)", () => {
    fc.assert(
      fc.property(prior, spread, size, spread, size, spread, (process, u, lower, width, from, reach) => {
        const limits = { lower, upper: lower + width };
        const acceptance = { lower: from, upper: from + reach };

        const { consumer, producer, accepted } = globalRisks(process, u, limits, acceptance);

        const good = conformanceProbability(process, limits.lower, limits.upper);
        expect(consumer).toBeGreaterThanOrEqual(-1e-12);
        expect(producer).toBeGreaterThanOrEqual(-1e-12);
        expect(Math.abs(accepted - consumer - (good - producer))).toBeLessThan(1e-9);
      }),
      { numRuns: 60 },
    );
  });

  it("takes one-sided limits, and limits that no piece comes near", () => {
    const process = { mean: 0, standardDeviation: 1 };
    const oneSided = globalRisks(
      process,
      0.1,
      { lower: undefined, upper: 1 },
      { lower: undefined, upper: 1 },
    );
    const far = globalRisks(process, 0.1, { lower: -50, upper: 50 }, { lower: -50, upper: 50 });
    const beyond = globalRisks(process, 0.1, { lower: 40, upper: 50 }, { lower: -50, upper: 50 });

    expect(oneSided.accepted - oneSided.consumer + oneSided.producer).toBeCloseTo(0.841344746, 9);
    expect(far.consumer).toBe(0);
    expect(far.producer).toBeLessThan(1e-12);
    expect(beyond.consumer).toBeCloseTo(1, 12);
  });

  it("costs the consumer less and the producer more, the further the acceptance limits are drawn in", () => {
    const fraction = fc.double({ min: 0, max: 0.4, noNaN: true });
    fc.assert(
      fc.property(prior, spread, fraction, fraction, (process, u, a, b) => {
        const risks = (g: number) =>
          globalRisks(process, u, { lower: -1, upper: 1 }, { lower: g - 1, upper: 1 - g });
        const [wide, tight] = [risks(Math.min(a, b)), risks(Math.max(a, b))];

        expect(tight.consumer).toBeLessThanOrEqual(wide.consumer + 1e-10);
        expect(tight.producer).toBeGreaterThanOrEqual(wide.producer - 1e-10);
      }),
      { numRuns: 60 },
    );
  });

  it.each([
    [0, 1],
    [Number.NaN, 1],
    [1, 0],
    [1, Number.POSITIVE_INFINITY],
  ])("throws for a process deviation of %d with an uncertainty of %d", (standardDeviation, u) => {
    const limits = { lower: -1, upper: 1 };

    expect(() => globalRisks({ mean: 0, standardDeviation }, u, limits, limits)).toThrow(RangeError);
  });
});
