import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { conformanceProbability } from "../../../src/core/tolerance/conformity-risk.js";
import { guardBandForProbability, managedGuardBandFactor } from "../../../src/core/tolerance/guard-band.js";
import { readData } from "../data/read-data.js";

interface Case {
  id: string;
  kind: string;
  what: string;
  source: string;
  tolerance: number;
}
interface GuardBand extends Case {
  inputs: { tolerance_width: number | null; u: number; pc: number };
  expected: { guard_band: number; in_u: number };
}
interface Managed extends Case {
  inputs: { tur: number };
  expected: { multiple_of_U: number };
}
const stored = readData<Case[]>("decision-rules.json");
const bands = stored.filter((one): one is GuardBand => one.kind === "guard-band");
const managed = stored.filter((one): one is Managed => one.kind === "guard-band-2percent");

describe("guardBandForProbability", () => {
  it.each(bands)("$id: $what ($source)", ({ inputs, expected, tolerance }) => {
    const { pc, u, tolerance_width } = inputs;

    const guard = guardBandForProbability(pc, u, tolerance_width ?? undefined)!;

    expect(Math.abs(guard - expected.guard_band)).toBeLessThanOrEqual(tolerance);
    expect(Math.abs(guard / u - expected.in_u)).toBeLessThanOrEqual(tolerance);
  });

  it("leaves a reading on the acceptance limit with the probability that was asked for", () => {
    const probability = fc.double({ min: 0.51, max: 0.9999, noNaN: true });
    const width = fc.double({ min: 0.1, max: 50, noNaN: true });
    fc.assert(
      fc.property(probability, fc.double({ min: 0.01, max: 3, noNaN: true }), width, (p, u, t) => {
        const guard = guardBandForProbability(p, u, t);
        const at = (y: number) => conformanceProbability({ mean: y, standardDeviation: u }, 0, t);

        if (guard === undefined) expect(at(t / 2)).toBeLessThan(p);
        else expect(Math.abs(at(t - guard) - p)).toBeLessThan(1e-12);
      }),
    );
  });

  it("has none where the tolerance is too narrow for the uncertainty", () => {
    expect(guardBandForProbability(0.95, 1, 3.9)).toBeUndefined();
    expect(guardBandForProbability(0.95, 1, 3.93)).toBeLessThan(1.965);
  });

  it.each([
    [0.5, 1, 1],
    [1, 1, 1],
    [Number.NaN, 1, 1],
    [0.95, 0, 1],
    [0.95, Number.NaN, 1],
    [0.95, 1, 0],
    [0.95, 1, Number.POSITIVE_INFINITY],
  ])("throws for p %d, u %d, T %d", (p, u, t) => {
    expect(() => guardBandForProbability(p, u, t)).toThrow(RangeError);
  });
});

describe("managedGuardBandFactor", () => {
  it.each(managed)("$id: $what ($source)", ({ inputs, expected, tolerance }) => {
    expect(Math.abs(managedGuardBandFactor(inputs.tur) - expected.multiple_of_U)).toBeLessThanOrEqual(
      tolerance,
    );
  });

  it.each([0, -1, Number.NaN])("throws for a test ratio of %d", (ratio) => {
    expect(() => managedGuardBandFactor(ratio)).toThrow(RangeError);
  });
});
