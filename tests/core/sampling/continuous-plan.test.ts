import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  clearanceNumber,
  continuousBehaviour,
  outgoingLimit,
  samplingDenominator,
} from "../../../src/core/sampling/continuous-plan.js";
import { randomFrom, runContinuousPlan } from "../../support/run-continuous-plan.js";
import { readData } from "../data/read-data.js";

interface Case {
  id: string;
  kind: string;
  what: string;
  source: string;
  inputs: Record<string, number>;
  expected: Record<string, number>;
}
const cases = readData<Case[]>("acceptance-sampling.json");
const ofKind = (kind: string) => cases.filter((each) => each.kind === kind);
const expectRelative = (actual: number, expected: number, relative: number) =>
  expect(Math.abs(actual - expected), `${actual} for ${expected}`).toBeLessThanOrEqual(relative * expected);

describe("continuousBehaviour", () => {
  it.each(ofKind("csp1"))("$id: $what [$source]", ({ inputs, expected }) => {
    const found = continuousBehaviour({ i: inputs.i!, f: inputs.f! }, inputs.p!);

    expectRelative(found.fullInspection, expected.u!, 1e-10);
    expectRelative(found.sampling, expected.v!, 1e-10);
    expectRelative(found.averageFractionInspected, expected.afi!, 1e-10);
    expectRelative(found.acceptedBySampling, expected.pa!, 1e-10);
    expectRelative(found.outgoing.replaced, expected.aoq_replaced!, 1e-10);
    expectRelative(found.outgoing.removed, expected.aoq_removed!, 1e-10);
  });

  it("csp1-formulas: F is (u + f v)/(u + v), by each of its two forms [Dodge (1943)]", () => {
    const plan = { i: 80, f: 0.04 };
    const { fullInspection: u, sampling: v, averageFractionInspected } = continuousBehaviour(plan, 0.013);

    expectRelative(averageFractionInspected, (u + plan.f * v) / (u + v), 1e-12);
  });

  it.each(ofKind("csp1-simulation"))(
    "$id: comes to what a published run found, to 2 % [$source]",
    ({ inputs, expected }) => {
      const { averageFractionInspected, outgoing } = continuousBehaviour(
        { i: inputs.i!, f: inputs.f! },
        inputs.p!,
      );

      expectRelative(averageFractionInspected, expected.afi_formula!, 1e-10);
      expectRelative(averageFractionInspected, expected.afi_simulated!, 0.02);
      expectRelative(outgoing.replaced, expected.aoq_simulated!, 0.02);
    },
  );

  // Twenty stretches of 50 000 pieces each give the standard error themselves.
  it.each([
    [50, 0.1, 0.01],
    [38, 0.1, 0.02],
    [15, 0.5, 0.05],
    [10, 0.2, 0.1],
  ])("agrees with a million pieces run one by one to three standard errors: i %s, f %s, p %s", (i, f, p) => {
    const random = randomFrom(20_261_125);
    const parts = Array.from({ length: 20 }, () => runContinuousPlan({ i, f }, p, 50_000, random));
    const expected = continuousBehaviour({ i, f }, p);
    const shares = {
      averageFractionInspected: parts.map(({ inspected }) => inspected / 50_000),
      replaced: parts.map(({ passedBad }) => passedBad / 50_000),
      removed: parts.map(({ passedBad, found }) => passedBad / (50_000 - found)),
    };
    const within = (values: number[], wanted: number) => {
      const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
      const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1);
      expect(Math.abs(mean - wanted)).toBeLessThan(3 * Math.sqrt(variance / values.length));
    };
    within(shares.averageFractionInspected, expected.averageFractionInspected);
    within(shares.replaced, expected.outgoing.replaced);
    within(shares.removed, expected.outgoing.removed);
  });

  it("inspects everything in the end where nearly all is bad, without overflowing", () => {
    expect(continuousBehaviour({ i: 5000, f: 0.01 }, 0.9)).toMatchObject({
      averageFractionInspected: 1,
      acceptedBySampling: 0,
      outgoing: { replaced: 0, removed: 0 },
    });
  });
});

describe("outgoingLimit", () => {
  it.each(ofKind("csp1-aoql"))("$id: $what [$source]", ({ inputs, expected }) => {
    const plan = { i: inputs.i!, f: 1 / inputs.f_denominator! };
    const [replaced, removed] = [outgoingLimit(plan, "replaced"), outgoingLimit(plan, "removed")];

    expectRelative(replaced.aoql, expected.aoql_replaced!, 1e-6);
    expectRelative(replaced.atP, expected.p_at_aoql_replaced!, 1e-4);
    expectRelative(removed.aoql, expected.aoql_removed!, 1e-6);
    expectRelative(removed.atP, expected.p_at_aoql_removed!, 1e-4);
    expectRelative(removed.aoql, expected.published_aoql_percent! / 100, 0.16);
  });

  it("csp1-table: every published i keeps near its AOQL, 84 % to 103 % of the column's head [MIL-STD-1235B]", () => {
    const table = ofKind("table").find(({ id }) => id === "csp1-table") as unknown as {
      inputs: { aoql_percent: number[] };
      expected: { i: Record<string, number[]> };
    };
    for (const [fraction, row] of Object.entries(table.expected.i)) {
      row.forEach((i, column) => {
        const { aoql } = outgoingLimit({ i, f: 1 / Number(fraction.slice(2)) }, "removed");
        const share = (100 * aoql) / table.inputs.aoql_percent[column]!;
        expect(share).toBeGreaterThan(0.84);
        expect(share).toBeLessThan(1.03);
      });
    }
  });

  const anyPlan = fc.record({
    i: fc.integer({ min: 2, max: 20_000 }),
    f: fc.double({ min: 0.001, max: 0.9, noNaN: true }),
  });

  it("is reached nowhere else", () => {
    fc.assert(
      fc.property(anyPlan, fc.double({ min: 1e-6, max: 0.999999, noNaN: true }), (plan, p) => {
        for (const bad of ["replaced", "removed"] as const) {
          const { aoql, atP } = outgoingLimit(plan, bad);
          expect(continuousBehaviour(plan, p).outgoing[bad]).toBeLessThanOrEqual(aoql * (1 + 1e-9));
          expectRelative(continuousBehaviour(plan, atP).outgoing[bad], aoql, 1e-7);
        }
      }),
    );
  });

  it("falls with a larger clearance number and with more sampling", () => {
    fc.assert(
      fc.property(anyPlan, ({ i, f }) => {
        const { aoql } = outgoingLimit({ i, f }, "replaced");
        expect(outgoingLimit({ i: i + 1, f }, "replaced").aoql).toBeLessThan(aoql);
        expect(outgoingLimit({ i, f: f * 1.05 }, "replaced").aoql).toBeLessThan(aoql);
      }),
    );
  });
});

describe("designing a plan", () => {
  it.each(ofKind("csp1-design"))("$id: $what [$source]", ({ inputs, expected }) => {
    const f = 1 / inputs.f_denominator!;

    expect(clearanceNumber(inputs.aoql!, f, "removed")).toBe(expected.i_removed);
    expect(clearanceNumber(inputs.aoql!, f, "replaced")).toBe(expected.i_replaced);
  });

  it("finds how seldom may be sampled for a given clearance number", () => {
    const plan = fc.record({
      aoql: fc.double({ min: 0.001, max: 0.2, noNaN: true }),
      k: fc.integer({ min: 2, max: 300 }),
    });
    fc.assert(
      fc.property(plan, ({ aoql, k }) => {
        const i = clearanceNumber(aoql, 1 / k, "removed");
        const found = samplingDenominator(aoql, i, "removed");
        expect(found).toBeGreaterThanOrEqual(k);
        expect(outgoingLimit({ i, f: 1 / found! }, "removed").aoql).toBeLessThanOrEqual(aoql);
        expect(outgoingLimit({ i, f: 1 / (found! + 1) }, "removed").aoql).toBeGreaterThan(aoql);
      }),
    );
    expect(samplingDenominator(0.001, 2, "removed")).toBeUndefined();
  });

  it.each([
    () => continuousBehaviour({ i: 0, f: 0.1 }, 0.01),
    () => continuousBehaviour({ i: 5, f: 1 }, 0.01),
    () => continuousBehaviour({ i: 5, f: 0.1 }, 0),
    () => outgoingLimit({ i: 1, f: 0.1 }, "removed"),
    () => clearanceNumber(0, 0.1, "removed"),
    () => samplingDenominator(1, 5, "removed"),
  ])("refuses what is none: %s", (call) => {
    expect(call).toThrow(RangeError);
  });
});
