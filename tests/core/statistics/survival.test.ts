import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Lifetime, lifeQuantile, survivalSteps } from "../../../src/core/statistics/survival.js";

const failed = (...durations: number[]): Lifetime[] =>
  durations.map((duration) => ({ duration, failed: true }));
const taken = (...durations: number[]): Lifetime[] =>
  durations.map((duration) => ({ duration, failed: false }));

/** Weeks of remission of 21 patients on 6-MP (Freireich et al., Blood 21 (1963) 699–716). */
const remission = [
  ...failed(6, 6, 6, 7, 10, 13, 16, 22, 23),
  ...taken(6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35),
];
const lives = fc.array(fc.record({ duration: fc.nat(50), failed: fc.boolean() }), { maxLength: 30 });

describe("survivalSteps", () => {
  it("agrees with the remission data of Freireich et al. 1963, as printed in textbooks of survival analysis (from memory)", () => {
    const printed: [number, number][] = [
      [6, 0.857],
      [7, 0.807],
      [10, 0.753],
      [13, 0.69],
      [16, 0.627],
      [22, 0.538],
      [23, 0.448],
    ];
    const steps = survivalSteps(remission);
    expect(steps.map(({ duration }) => duration)).toEqual(printed.map(([week]) => week));
    steps.forEach(({ share }, i) => {
      expect(Math.abs(share - printed[i]![1])).toBeLessThanOrEqual(0.0005 + 1e-9);
    });
    expect(lifeQuantile(steps, 0.5)).toBe(23);
  });

  it("is the plain share of survivors where nothing was taken out early", () => {
    fc.assert(
      fc.property(fc.array(fc.nat(50), { minLength: 1, maxLength: 30 }), (durations) => {
        for (const { duration, share } of survivalSteps(failed(...durations))) {
          const longer = durations.filter((other) => other > duration).length;
          expect(share).toBeCloseTo(longer / durations.length, 9);
        }
      }),
    );
  });

  it("never rises, stays between 0 and 1, and does not depend on the order", () => {
    const shuffled = lives.chain((list) =>
      fc.tuple(fc.constant(list), fc.shuffledSubarray(list, { minLength: list.length })),
    );
    fc.assert(
      fc.property(shuffled, ([list, other]) => {
        const steps = survivalSteps(list);
        expect(survivalSteps(other)).toEqual(steps);
        steps.forEach(({ share, duration }, i) => {
          expect(share).toBeGreaterThanOrEqual(-1e-12);
          expect(share).toBeLessThanOrEqual(i === 0 ? 1 : steps[i - 1]!.share);
          if (i > 0) expect(duration).toBeGreaterThan(steps[i - 1]!.duration);
        });
      }),
    );
  });

  it("knows no step where nothing failed", () => {
    expect(survivalSteps([])).toEqual([]);
    expect(survivalSteps(taken(3, 5))).toEqual([]);
  });

  it.each([-1, Number.NaN, Number.POSITIVE_INFINITY])("refuses a duration of %s", (duration) => {
    expect(() => survivalSteps(failed(duration))).toThrow(RangeError);
  });
});

describe("lifeQuantile", () => {
  it("is the duration by which the share has failed, on the step itself", () => {
    const steps = survivalSteps(failed(10, 20, 30, 40));
    expect([0.25, 0.26, 0.5, 0.75, 0.99].map((share) => lifeQuantile(steps, share))).toEqual([
      10, 20, 20, 30, 40,
    ]);
  });

  it("is not known beyond the lives that are", () => {
    expect(lifeQuantile(survivalSteps([...failed(10), ...taken(20, 30, 40)]), 0.5)).toBeUndefined();
    expect(lifeQuantile([], 0.1)).toBeUndefined();
  });

  it.each([0, 1, -0.1, Number.NaN])("refuses a share of %s", (share) => {
    expect(() => lifeQuantile([], share)).toThrow(RangeError);
  });
});
