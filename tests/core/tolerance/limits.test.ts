import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decideLimits, limitsFromDeviations } from "../../../src/core/tolerance/limits.js";

describe("limitsFromDeviations", () => {
  it("adds the limit deviations to the nominal size (ISO 286-1, from memory): 20 +0.021/0", () => {
    expect(limitsFromDeviations(20e9, 0, 21e6)).toEqual({ lowerPm: 20e9, upperPm: 20.021e9 });
  });
});

describe("decideLimits", () => {
  it("aims at the middle where no target is given", () => {
    expect(decideLimits(5.95e9, 6.05e9, undefined)).toEqual({
      lowerPm: 5.95e9,
      upperPm: 6.05e9,
      targetPm: 6e9,
    });
  });

  it.each([
    [0, 3, 2],
    [1, 4, 2],
    [2, 5, 4],
    [-3, 0, -2],
    [-4, -1, -2],
    [-2, 1, 0],
    [0, 2, 1],
  ])("rounds half a picometre to even: %d to %d gives %d", (lower, upper, expected) => {
    expect(decideLimits(lower, upper, undefined)).toHaveProperty("targetPm", expected);
  });

  it("keeps a target inside the limits, one picometre from either", () => {
    expect(decideLimits(10, 20, 11)).toHaveProperty("targetPm", 11);
    expect(decideLimits(10, 20, 19)).toHaveProperty("targetPm", 19);
  });

  it.each([
    [10, 20, 10],
    [10, 20, 20],
    [10, 20, 9],
    [10, 20, 21],
    [10, undefined, 10],
    [undefined, 20, 20],
  ])("refuses a target on or beyond a limit: %s to %s, target %d", (lower, upper, target) => {
    expect(decideLimits(lower, upper, target)).toBe("target_outside");
  });

  it("takes a single limit with a target", () => {
    expect(decideLimits(10, undefined, 15)).toEqual({ lowerPm: 10, upperPm: undefined, targetPm: 15 });
    expect(decideLimits(undefined, 20, 15)).toEqual({ lowerPm: undefined, upperPm: 20, targetPm: 15 });
  });

  it("finds limits crossed when the upper one is below or equal to the lower one", () => {
    expect(decideLimits(20, 10, undefined)).toBe("crossed");
    expect(decideLimits(20, 20, 20)).toBe("crossed");
  });

  it("has no room for a default target between limits one picometre apart", () => {
    expect(decideLimits(10, 11, undefined)).toBe("target_outside");
  });

  it("throws where there is no limit, or one and no target", () => {
    expect(() => decideLimits(undefined, undefined, 5)).toThrow(RangeError);
    expect(() => decideLimits(10, undefined, undefined)).toThrow(RangeError);
    expect(() => decideLimits(undefined, 10, undefined)).toThrow(RangeError);
  });

  it("puts the default target inside, as far from one limit as from the other to a picometre", () => {
    const size = fc.integer({ min: -5e14, max: 5e14 });
    fc.assert(
      fc.property(size, fc.integer({ min: 2, max: 1e12 }), (lower, width) => {
        const limits = decideLimits(lower, lower + width, undefined);
        if (typeof limits === "string") throw new Error(limits);
        const unevenness = Math.abs(lower + width - limits.targetPm - (limits.targetPm - lower));

        expect(unevenness).toBe(width % 2);
        if (width % 2 === 1) expect(Math.abs(limits.targetPm % 2)).toBe(0);
      }),
    );
  });
});
