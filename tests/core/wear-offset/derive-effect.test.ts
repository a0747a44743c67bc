import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type CutGeometry, deriveEffect } from "../../../src/core/wear-offset/derive-effect.js";

type Register = CutGeometry["register"];

function register(
  controls: Register["controls"],
  holds: Register["holds"] = null,
  sign: Register["sign"] = "normal",
): Register {
  return { label: "D7 wear", controls, holds, sign };
}

function cut(given: Partial<CutGeometry>): CutGeometry {
  return {
    machineKind: "mill",
    featureKind: "external",
    walls: null,
    register: register("radial", "radius"),
    plusMakes: null,
    effect: null,
    ...given,
  };
}

const radius = register("radial", "radius");
const diameter = register("radial", "diameter");
const length = register("axial");
const turnedX = register("x", "diameter");
const turnedXRadius = register("x", "radius");
const turnedZ = register("z");

const manual =
  "operator manual of a CNC control, section on tool wear offsets (radius change = -error, half when both sides are cut; length change = -height error)";
const column =
  "trade-magazine column 'Offset specification with cutter compensation' (some controls hold the radius, some the diameter)";
const turning =
  "trade-magazine column 'Simplifying tricky sizing adjustments' (turning: X offset reduced by the whole diameter error)";
const polarity =
  "web tutorial on CNC tool offset direction (right for turning, wrong as a rule for milled inside features); trade-magazine column 'Eliminating calculations for offset entries'";
const reversal =
  "machine-maker training page 'Quick guide to cutter compensation' (the sign of the entry depends on how the program was posted)";

describe("deriveEffect", () => {
  it.each<[string, string, Partial<CutGeometry>, number, number, number]>([
    [
      "ML-01 bore small, radius",
      manual,
      { featureKind: "internal", walls: 2, register: radius },
      20.01,
      19.99,
      -0.01,
    ],
    [
      "ML-02 bore small, diameter",
      column,
      { featureKind: "internal", walls: 2, register: diameter },
      20.01,
      19.99,
      -0.02,
    ],
    ["ML-04 boss small, radius", manual, { walls: 2, register: radius }, 40, 39.97, 0.015],
    [
      "ML-05 slot wide, radius",
      manual,
      { featureKind: "internal", walls: 2, register: radius },
      12.025,
      12.071,
      0.023,
    ],
    ["ML-07 one wall, radius", manual, { walls: 1, register: radius }, 55, 55.048, -0.048],
    ["ML-08 one wall, diameter", column, { walls: 1, register: diameter }, 55, 55.048, -0.096],
    [
      "ML-13 boss in inches, reversed",
      reversal,
      { walls: 2, register: register("radial", "diameter", "reversed") },
      1,
      1.001,
      0.001,
    ],
    ["ML-13 the ordinary convention", reversal, { walls: 2, register: diameter }, 1, 1.001, -0.001],
    ["TR-01 turned outside", turning, { machineKind: "lathe", register: turnedX }, 49.988, 50.012, -0.024],
    [
      "TR-03 turned bore small",
      polarity,
      { machineKind: "lathe", featureKind: "internal", register: turnedX },
      30.01,
      29.986,
      0.024,
    ],
    [
      "TR-04 turned bore big",
      polarity,
      { machineKind: "lathe", featureKind: "internal", walls: 2, register: turnedX },
      30.01,
      30.028,
      -0.018,
    ],
    [
      "TR-06 overall length, Z of the facing tool",
      `${turning}; common practice, no source`,
      { machineKind: "lathe", featureKind: "length", register: turnedZ, plusMakes: "bigger" },
      80,
      80.13,
      -0.13,
    ],
    ["LN-01 pocket too deep", manual, { featureKind: "depth", register: length }, 10, 10.06, 0.06],
    [
      "LN-02 pocket too shallow",
      `${manual}; common practice, no source`,
      { featureKind: "depth", register: length },
      10,
      9.93,
      -0.07,
    ],
  ])("leads to the change of case %s (%s)", (_case, _source, given, target, measured, change) => {
    const effect = deriveEffect(cut(given));

    // The cases give decimals; a double division leaves less than 1e-12 of them.
    expect((target - measured) / (effect as number)).toBeCloseTo(change, 12);
  });

  it.each<[string, Partial<CutGeometry>, number]>([
    ["outside, two walls, radius", { walls: 2, register: radius }, 2],
    ["outside, two walls, diameter", { walls: 2, register: diameter }, 1],
    ["inside, two walls, radius", { featureKind: "internal", walls: 2, register: radius }, -2],
    ["inside, two walls, diameter", { featureKind: "internal", walls: 2, register: diameter }, -1],
    ["outside, one wall, radius", { walls: 1, register: radius }, 1],
    ["outside, one wall, diameter", { walls: 1, register: diameter }, 0.5],
    ["height by length", { featureKind: "height", register: length }, 1],
    ["depth by length", { featureKind: "depth", register: length }, -1],
    ["turned outside, radius value", { machineKind: "lathe", register: turnedXRadius }, 2],
    [
      "turned inside, radius value",
      { machineKind: "lathe", featureKind: "internal", walls: 2, register: turnedXRadius },
      2,
    ],
    [
      "turned outside, reversed",
      { machineKind: "lathe", register: register("x", "diameter", "reversed") },
      -1,
    ],
    ["depth, reversed", { featureKind: "depth", register: register("axial", null, "reversed") }, 1],
  ])("derives %s (common practice, no source)", (_case, given, expected) => {
    expect(deriveEffect(cut(given))).toBe(expected);
  });

  it.each<[string, Partial<CutGeometry>, number]>([
    [
      "one wall inside, radius",
      { featureKind: "internal", walls: 1, register: radius, plusMakes: "bigger" },
      1,
    ],
    [
      "one wall inside, diameter",
      { featureKind: "internal", walls: 1, register: diameter, plusMakes: "smaller" },
      -0.5,
    ],
    ["length by length register", { featureKind: "length", register: length, plusMakes: "smaller" }, -1],
    [
      "z of a lathe",
      { machineKind: "lathe", featureKind: "length", register: turnedZ, plusMakes: "smaller" },
      -1,
    ],
    [
      "groove of a lathe on one wall",
      { machineKind: "lathe", featureKind: "depth", walls: 1, register: turnedX, plusMakes: "smaller" },
      -0.5,
    ],
    ["depth milled by a wall", { featureKind: "depth", walls: 1, register: radius, plusMakes: "bigger" }, 1],
  ])("takes the sign of %s from what plus makes", (_case, given, expected) => {
    expect(deriveEffect(cut(given))).toBe(expected);
    const { controls, holds } = given.register ?? radius;
    expect(deriveEffect(cut({ ...given, register: register(controls, holds, "reversed") }))).toBe(expected);
  });

  it.each<[string, Partial<CutGeometry>, string]>([
    ["one wall inside", { featureKind: "internal", walls: 1 }, "plus_makes"],
    ["a length on a length register", { featureKind: "length", register: length }, "plus_makes"],
    ["every z", { machineKind: "lathe", featureKind: "depth", register: turnedZ }, "plus_makes"],
    ["an x register on a mill", { walls: 2, register: turnedX }, "plus_makes"],
    ["one side of a turned diameter", { machineKind: "lathe", walls: 1, register: turnedX }, "plus_makes"],
    ["an outside size on a length register", { register: length }, "plus_makes"],
    ["a milled outside size without walls", {}, "walls"],
    ["a milled inside size without walls", { featureKind: "internal", plusMakes: "bigger" }, "walls"],
    ["a depth on a radial register without walls", { featureKind: "depth", plusMakes: "bigger" }, "walls"],
    ["two walls on a length register", { featureKind: "depth", walls: 2, register: length }, "walls"],
    ["plus_makes against an outside size", { walls: 2, plusMakes: "smaller" }, "plus_makes"],
    [
      "plus_makes against a depth",
      { featureKind: "depth", register: length, plusMakes: "bigger" },
      "plus_makes",
    ],
    [
      "plus_makes against a reversed register",
      { walls: 2, register: register("radial", "radius", "reversed"), plusMakes: "bigger" },
      "plus_makes",
    ],
    ["effect against plus_makes", { walls: 2, effect: -1, plusMakes: "bigger" }, "effect"],
  ])("answers a fault for %s", (_case, given, field) => {
    expect(deriveEffect(cut(given))).toMatchObject({ field });
  });

  it.each(["work_x", "work_y", "work_z"] as const)(
    "moves one face by +1 with %s, in the direction that was seen (common practice, no source)",
    (controls) => {
      const given = { featureKind: "length", register: register(controls) } as const;

      expect(deriveEffect(cut({ ...given, plusMakes: "bigger" }))).toBe(1);
      expect(deriveEffect(cut({ ...given, plusMakes: "smaller", walls: 1 }))).toBe(-1);
      expect(deriveEffect(cut({ ...given, effect: 0.7 }))).toBe(0.7);
      expect(deriveEffect(cut(given))).toMatchObject({ field: "plus_makes" });
      expect(deriveEffect(cut({ ...given, walls: 2, plusMakes: "bigger" }))).toMatchObject({
        field: "walls",
      });
    },
  );

  it("asks how a lathe counts a shift of the work in X before it moves a diameter", () => {
    const given = { machineKind: "lathe", register: register("work_x"), plusMakes: "bigger" } as const;

    expect(deriveEffect(cut(given))).toMatchObject({ field: "effect" });
    expect(deriveEffect(cut({ ...given, effect: 2 }))).toBe(2);
    expect(deriveEffect(cut({ ...given, featureKind: "length" }))).toBe(1);
  });

  it("says what to send where the sign does not follow", () => {
    expect(deriveEffect(cut({ featureKind: "internal", walls: 1 }))).toMatchObject({
      detail: expect.stringMatching(/"plus_makes": "bigger".*"plus_makes": "smaller"/),
    });
  });

  it("names both sides of a contradiction", () => {
    expect(deriveEffect(cut({ walls: 2, plusMakes: "smaller" }))).toMatchObject({
      detail: expect.stringMatching(/"plus_makes": "smaller".*\+2/),
    });
    expect(deriveEffect(cut({ effect: -1, plusMakes: "bigger" }))).toMatchObject({
      detail: expect.stringMatching(/-1.*bigger/),
    });
  });

  it.each([-1, 0.7, 10, -10])(
    "leaves an explicit effect of %d as it is, whatever the sign of the register",
    (effect) => {
      const plusMakes = effect > 0 ? "bigger" : "smaller";

      expect(deriveEffect(cut({ effect, walls: 2 }))).toBe(effect);
      expect(
        deriveEffect(cut({ effect, plusMakes, register: register("radial", "radius", "reversed") })),
      ).toBe(effect);
    },
  );

  it.each([0, Number.NaN, 10.001, -11, Number.POSITIVE_INFINITY])(
    "throws on an explicit effect of %d",
    (effect) => {
      expect(() => deriveEffect(cut({ effect }))).toThrow(RangeError);
    },
  );

  it("derives an effect that, where plus_makes agrees, is the same with it; and the opposite for a reversed register", () => {
    const geometry = fc.record({
      machineKind: fc.constantFrom("mill", "lathe"),
      featureKind: fc.constantFrom("external", "internal", "depth", "height", "length"),
      walls: fc.constantFrom(1, 2, null),
      register: fc.constantFrom(radius, diameter, length, turnedX, turnedXRadius, turnedZ),
      plusMakes: fc.constant(null),
      effect: fc.constant(null),
    } as const);
    fc.assert(
      fc.property(geometry, (given) => {
        const effect = deriveEffect(given);
        fc.pre(typeof effect === "number");
        const reversed = { ...given.register, sign: "reversed" as const };

        expect([0.5, 1, 2]).toContain(Math.abs(effect));
        expect(deriveEffect({ ...given, plusMakes: effect > 0 ? "bigger" : "smaller" })).toBe(effect);
        expect(deriveEffect({ ...given, plusMakes: effect > 0 ? "smaller" : "bigger" })).toMatchObject({
          field: "plus_makes",
        });
        expect(deriveEffect({ ...given, register: reversed })).toBe(-effect);
      }),
    );
  });
});
