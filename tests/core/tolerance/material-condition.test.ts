import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  bonusTolerance,
  gainsByCutting,
  type SizeLimits,
} from "../../../src/core/tolerance/material-condition.js";
import { ofKind, pm } from "../data/positions.js";

const condition = fc.constantFrom("maximum" as const, "least" as const);
const limitsOfSize = fc
  .record({
    kind: fc.constantFrom("internal" as const, "external" as const),
    lowerPm: fc.integer({ min: 1, max: 1e12 }),
    width: fc.integer({ min: 1, max: 1e10 }),
  })
  .map(({ kind, lowerPm, width }): SizeLimits => ({ kind, lowerPm, upperPm: lowerPm + width }));

describe("bonusTolerance", () => {
  it.each(ofKind("bonus-tolerance"))("agrees with the worked case: %s", (_, { inputs, expected }) => {
    const [lower, upper] = inputs.size_limits!;
    const limits: SizeLimits = {
      kind: inputs.feature === "hole" ? "internal" : "external",
      lowerPm: pm(lower),
      upperPm: pm(upper),
    };
    const at = inputs.condition === "MMC" ? "maximum" : "least";

    const { bonusPm, sizeOut } = bonusTolerance(pm(inputs.actual_size), limits, at);

    expect(sizeOut === undefined).toBe(expected.size_ok);
    if (bonusPm === undefined) {
      expect(expected.bonus).toBeNull();
      return;
    }
    const allowed = pm(inputs.tolerance) + bonusPm;
    expect([bonusPm, allowed]).toEqual([pm(expected.bonus), pm(expected.total_tolerance)]);
    expect(pm(inputs.position) <= allowed).toBe(expected.verdict === "pass");
  });

  it.each(ofKind("bonus-tolerance"))(
    "leaves the boundary where it is: size at the condition and stated tolerance of %s",
    (_, { inputs, expected }) => {
      const [lower, upper] = inputs.size_limits!;
      const inside = inputs.feature === "hole";
      const limits = {
        kind: inside ? "internal" : "external",
        lowerPm: pm(lower),
        upperPm: pm(upper),
      } as const;
      const at = inputs.condition === "MMC" ? "maximum" : "least";
      const { atPm } = bonusTolerance(limits.lowerPm, limits, at);
      const inwards = inside === (at === "maximum") ? -1 : 1;

      expect(atPm + inwards * pm(inputs.tolerance)).toBe(pm(expected.virtual_or_resultant_boundary));
    },
  );

  it("is never below 0 and never above the tolerance of the size", () => {
    fc.assert(
      fc.property(limitsOfSize, condition, fc.nat(), (limits, at, seed) => {
        const size = limits.lowerPm + (seed % (limits.upperPm - limits.lowerPm + 1));
        const { bonusPm, sizeOut } = bonusTolerance(size, limits, at);

        expect(sizeOut).toBeUndefined();
        expect(bonusPm).toBeGreaterThanOrEqual(0);
        expect(bonusPm).toBeLessThanOrEqual(limits.upperPm - limits.lowerPm);
      }),
    );
  });

  it("shares the tolerance of the size between maximum and least material", () => {
    fc.assert(
      fc.property(limitsOfSize, fc.nat(), (limits, seed) => {
        const size = limits.lowerPm + (seed % (limits.upperPm - limits.lowerPm + 1));
        const [most, least] = (["maximum", "least"] as const).map(
          (at) => bonusTolerance(size, limits, at).bonusPm!,
        );

        expect(most! + least!).toBe(limits.upperPm - limits.lowerPm);
      }),
    );
  });

  it("is not earned by a size a picometre outside its limits, and is on them", () => {
    fc.assert(
      fc.property(limitsOfSize, condition, (limits, at) => {
        expect(bonusTolerance(limits.lowerPm - 1, limits, at)).toMatchObject({
          bonusPm: undefined,
          sizeOut: "below",
        });
        expect(bonusTolerance(limits.upperPm + 1, limits, at)).toMatchObject({
          bonusPm: undefined,
          sizeOut: "above",
        });
        expect(bonusTolerance(limits.lowerPm, limits, at).bonusPm).toBeDefined();
        expect(bonusTolerance(limits.upperPm, limits, at).bonusPm).toBeDefined();
      }),
    );
  });

  it("refuses limits that are crossed", () => {
    const crossed: SizeLimits = { kind: "internal", lowerPm: 10, upperPm: 10 };
    expect(() => bonusTolerance(10, crossed, "maximum")).toThrow(RangeError);
  });
});

describe("gainsByCutting", () => {
  it("goes with the way the bonus grows as metal goes", () => {
    fc.assert(
      fc.property(limitsOfSize, condition, (limits, at) => {
        const [before, after] =
          limits.kind === "internal" ? [limits.lowerPm, limits.upperPm] : [limits.upperPm, limits.lowerPm];
        const gained =
          bonusTolerance(after, limits, at).bonusPm! > bonusTolerance(before, limits, at).bonusPm!;

        expect(gainsByCutting(at)).toBe(gained);
      }),
    );
  });
});
