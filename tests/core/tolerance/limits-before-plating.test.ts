import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  limitsBeforePlating,
  type Plating,
  platingFactor,
} from "../../../src/core/tolerance/limits-before-plating.js";

const um = (value: number) => Math.round(value * 1e6);
const plating = (change: Partial<Plating> = {}): Plating => ({
  thicknessPm: um(8),
  plusMinusPm: 0,
  share: 1,
  over: { surfaces: 2 },
  ...change,
});

describe("platingFactor", () => {
  it("is the number of plain surfaces, and 4 for the pitch diameter of a 60° thread (coating tables for threads)", () => {
    expect(platingFactor({ surfaces: 1 })).toBe(1);
    expect(platingFactor({ surfaces: 2 })).toBe(2);
    expect(platingFactor({ threadAngleDeg: 60 })).toBe(4);
    expect(platingFactor({ threadAngleDeg: 59.9999999 })).toBeCloseTo(4, 6);
  });

  it("is 2/sin(α/2): 7.727 at 30°, 4.330 at 55°, 2.828 at 90° (plain geometry)", () => {
    expect(platingFactor({ threadAngleDeg: 30 })).toBeCloseTo(7.7274, 4);
    expect(platingFactor({ threadAngleDeg: 55 })).toBeCloseTo(4.3314, 4);
    expect(platingFactor({ threadAngleDeg: 90 })).toBeCloseTo(Math.SQRT2 * 2, 12);
  });

  it.each([0, 180, -60, Number.NaN])("refuses an angle of %s°", (threadAngleDeg) => {
    expect(() => platingFactor({ threadAngleDeg })).toThrow(RangeError);
  });
});

describe("limitsBeforePlating", () => {
  it("takes twice the layer off both limits of a shaft, and adds it to those of a bore", () => {
    const final = { lowerPm: um(19_979), upperPm: um(20_000) };

    expect(limitsBeforePlating(final, "external", plating())).toEqual({
      lowerPm: um(19_963),
      upperPm: um(19_984),
      growthPm: um(16),
    });
    expect(limitsBeforePlating(final, "internal", plating())).toEqual({
      lowerPm: um(19_995),
      upperPm: um(20_016),
      growthPm: -um(16),
    });
  });

  it("gives half the thickness where half of it grows into the metal", () => {
    const final = { lowerPm: um(100), upperPm: um(200) };

    expect(limitsBeforePlating(final, "external", plating({ share: 0.5 }))?.growthPm).toBe(um(8));
  });

  it("leaves a missing limit missing", () => {
    expect(limitsBeforePlating({ lowerPm: undefined, upperPm: um(100) }, "external", plating())).toEqual({
      lowerPm: undefined,
      upperPm: um(84),
      growthPm: um(16),
    });
  });

  it("has nothing left where the layer scatters as much as the size may", () => {
    const final = { lowerPm: um(100), upperPm: um(108) };

    expect(limitsBeforePlating(final, "external", plating({ plusMinusPm: um(2) }))).toBeUndefined();
    expect(limitsBeforePlating(final, "external", plating({ plusMinusPm: um(2) - 1 }))).toBeDefined();
  });

  it.each<Partial<Plating>>([
    { thicknessPm: 0 },
    { plusMinusPm: um(8) },
    { plusMinusPm: -1 },
    { share: 0 },
    { share: 1.1 },
    { thicknessPm: Number.NaN },
  ])("refuses %j", (change) => {
    expect(() => limitsBeforePlating({ lowerPm: 0, upperPm: um(100) }, "external", plating(change))).toThrow(
      RangeError,
    );
  });

  it("lets a size before plating pass exactly where the thinnest and the thickest layer both bring it inside", () => {
    const small = fc.integer({ min: 1, max: 20 });
    fc.assert(
      fc.property(
        fc.constantFrom("external" as const, "internal" as const),
        fc.constantFrom<1 | 2>(1, 2),
        small,
        fc.integer({ min: 0, max: 19 }),
        fc.integer({ min: 1, max: 200 }),
        fc.integer({ min: -300, max: 300 }),
        (side, surfaces, thickness, plusMinus, width, size) => {
          fc.pre(plusMinus < thickness);
          const final = { lowerPm: 0, upperPm: width };
          const layer = plating({ thicknessPm: thickness, plusMinusPm: plusMinus, over: { surfaces } });
          const before = limitsBeforePlating(final, side, layer);
          const sign = side === "external" ? 1 : -1;
          const after = [thickness - plusMinus, thickness + plusMinus].map((t) => size + sign * surfaces * t);
          const good = after.every((pm) => pm >= 0 && pm <= width);

          if (before) expect(size >= before.lowerPm! && size <= before.upperPm!).toBe(good);
          else expect(good && width > 2 * surfaces * plusMinus).toBe(false);
        },
      ),
    );
  });
});
