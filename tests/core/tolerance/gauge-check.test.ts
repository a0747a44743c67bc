import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  allowedError,
  type CheckInForce,
  gaugeStateBetween,
  judgeAgain,
  judgeGaugeCheck,
  safeBand,
} from "../../../src/core/tolerance/gauge-check.js";

const um = (value: number) => Math.round(value * 1e6);
const check = (errorPm: number, change: Partial<CheckInForce> = {}): CheckInForce => ({
  errorPm,
  allowedPm: um(3),
  directionKnown: true,
  shift: false,
  variance: 1e-6,
  ...change,
});

describe("allowedError", () => {
  it.each([
    [um(1), um(3), 0, um(3)],
    [um(1), um(3), um(4), um(5)],
    [um(10), um(3), 0, um(10)],
    [um(10), undefined, 0, um(10)],
    [um(1), undefined, um(2), um(2)],
  ])("of a step of %i, U of %s and a standard of U %i is %i", (step, own, standard, allowed) => {
    expect(allowedError(step, own, standard)).toBe(allowed);
  });

  it.each([
    [0, um(1), 0],
    [Number.NaN, um(1), 0],
    [um(1), -1, 0],
    [um(1), um(1), -1],
    [um(1), um(1), Number.NaN],
  ])("refuses a step of %s with %s and %s", (step, own, standard) => {
    expect(() => allowedError(step, own, standard)).toThrow(RangeError);
  });

  it("lets an E_n of exactly 1 pass, and nothing above (ISO 13528:2015, 9.7, from memory)", () => {
    const allowed = allowedError(1, um(3), um(4));

    expect(judgeGaugeCheck(um(25) + um(5), um(25), allowed)).toEqual({
      errorPm: um(5),
      allowedPm: um(5),
      state: "fit",
    });
    expect(judgeGaugeCheck(um(25) - um(5), um(25), allowed).state).toBe("fit");
    expect(judgeGaugeCheck(um(25) + um(5) + 1, um(25), allowed).state).toBe("off");
    expect(judgeGaugeCheck(um(25) - um(5) - 1, um(25), allowed).state).toBe("off");
  });
});

describe("gaugeStateBetween", () => {
  it("knows nothing of a gauge that was never checked", () => {
    expect(gaugeStateBetween(undefined, undefined)).toEqual({
      takenOffPm: 0,
      variance: 0,
      doubtPm: undefined,
    });
  });

  it("takes the error of the check before off only where somebody has said so", () => {
    expect(gaugeStateBetween(check(um(6), { shift: true }), undefined)).toEqual({
      takenOffPm: um(6),
      variance: 1e-6,
      doubtPm: undefined,
    });
    expect(gaugeStateBetween(check(um(6)), undefined)).toEqual({
      takenOffPm: 0,
      variance: 0,
      doubtPm: um(6),
    });
  });

  it("has no doubt between two good checks, and doubts what lies before or after one that is off", () => {
    expect(gaugeStateBetween(check(um(3)), check(-um(3))).doubtPm).toBeUndefined();
    expect(gaugeStateBetween(check(0), check(um(3) + 1)).doubtPm).toBe(um(3) + 1);
    expect(gaugeStateBetween(check(um(7)), check(um(9))).doubtPm).toBe(um(9));
  });

  it("has no doubt where the next check finds the error that was taken off", () => {
    expect(gaugeStateBetween(check(um(6), { shift: true }), check(um(8))).doubtPm).toBeUndefined();
    expect(gaugeStateBetween(check(um(6), { shift: true }), check(0)).doubtPm).toBe(um(6));
  });
});

describe("judgeAgain", () => {
  const limits = { lowerPm: um(0), upperPm: um(21) };

  it.each([
    [um(8), false, um(8), "stands"],
    [um(8) - 1, false, um(8), "open"],
    [um(13), false, um(8), "stands"],
    [um(13) + 1, false, um(8), "open"],
    [um(30), false, um(8), "stands"],
    [um(-9), false, um(8), "stands"],
    [um(22), true, um(2), "turns"],
    [um(22), true, um(1), "turns"],
    [um(22), true, um(1) - 1, "stands"],
    [um(1), true, um(1), "stands"],
    [um(1), true, um(1) + 1, "turns"],
    [um(10), false, um(40), "open"],
  ] as const)("says of %i with direction known %s and error %i: %s", (size, known, error, outcome) => {
    expect(judgeAgain(size, limits, error, known).outcome).toBe(outcome);
  });

  const size = fc.integer({ min: -50, max: 50 });
  it("lets a size without a doubt stand exactly where every size that it may have is on its side of the limits", () => {
    fc.assert(
      fc.property(
        size,
        size,
        fc.integer({ min: 1, max: 40 }),
        fc.integer({ min: 0, max: 30 }),
        (pm, low, width, e) => {
          const both = { lowerPm: low, upperPm: low + width };
          const side = (at: number) => (at < low ? -1 : at > low + width ? 1 : 0);
          const all = Array.from({ length: 2 * e + 1 }, (_, i) => side(pm - e + i));
          const { outcome } = judgeAgain(pm, both, e, false);

          expect(outcome === "stands").toBe(all.every((each) => each === side(pm)));
          expect(outcome).not.toBe("turns");
        },
      ),
    );
  });

  it("gives back what a known error took: taken off and put on again it is the same size", () => {
    fc.assert(
      fc.property(size, size, (pm, error) => {
        const { fromPm, toPm } = judgeAgain(pm, limits, error, true);

        expect([fromPm, toPm]).toEqual([pm - error, pm - error]);
      }),
    );
  });

  it("agrees with the safe band: what lies in it stands, what is inside the limits but not in it is open", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 21 }), fc.integer({ min: 0, max: 15 }), (pm, amount) => {
        const both = { lowerPm: 0, upperPm: 21 };
        const band = safeBand(both, amount);
        const safe = band !== undefined && pm >= band.lowerPm! && pm <= band.upperPm!;

        expect(judgeAgain(pm, both, amount, false).outcome).toBe(safe ? "stands" : "open");
      }),
    );
  });
});

describe("safeBand", () => {
  it("draws in what limits there are", () => {
    expect(safeBand({ lowerPm: 10, upperPm: undefined }, 3)).toEqual({ lowerPm: 13, upperPm: undefined });
    expect(safeBand({ lowerPm: undefined, upperPm: 10 }, 3)).toEqual({ lowerPm: undefined, upperPm: 7 });
    expect(safeBand({ lowerPm: 0, upperPm: 6 }, 3)).toEqual({ lowerPm: 3, upperPm: 3 });
    expect(safeBand({ lowerPm: 0, upperPm: 6 }, 4)).toBeUndefined();
  });
});
