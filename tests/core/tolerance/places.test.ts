import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  formOver,
  judgeDifference,
  type PlaceShape,
  placeOrder,
} from "../../../src/core/tolerance/places.js";

const sizesOf = (...list: number[]) => list.map((sizePm, i) => ({ place: `p${i}`, sizePm }));

describe("placeOrder", () => {
  it.each([
    [["0°", "90°"], "angle"],
    [["0 deg", "45.5 deg"], "angle"],
    [["1", "2", "3"], "member"],
    [["hole 1", "hole 2"], "member"],
    [["#1", "#2"], "member"],
    [["top", "bottom"], "along"],
    [["end 1", "end 2"], "along"],
    [["0°", "top"], "along"],
  ] as const)("reads %j as %s", (places, order) => {
    expect(placeOrder(places)).toBe(order);
  });
});

describe("formOver", () => {
  it.each<[number[], PlaceShape]>([
    [[5, 5, 5], "even"],
    [[7], "even"],
    [[5, 9], "taper"],
    [[9, 5], "taper"],
    [[5, 5, 9], "taper"],
    [[5, 9, 6], "barrel"],
    [[9, 5, 8], "waist"],
    [[5, 9, 5, 9, 5], "barrel"],
    [[6, 9, 5, 7], "uneven"],
    [[5, 9, 5, 9], "uneven"],
  ])("calls %j along a feature %s", (sizes, shape) => {
    expect(formOver(sizesOf(...sizes), "along").shape).toBe(shape);
  });

  it("knows no taper across a feature or over like ones", () => {
    expect(formOver(sizesOf(5, 9), "angle").shape).toBe("oval");
    expect(formOver(sizesOf(5, 9), "member").shape).toBe("uneven");
  });

  it("refuses no places at all", () => {
    expect(() => formOver([], "along")).toThrow(RangeError);
  });

  it("finds the ends of the range; the difference does not depend on their order, the shape not on the direction", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -1e14, max: 1e14 }), { minLength: 1, maxLength: 12 }),
        (list) => {
          const form = formOver(sizesOf(...list), "along");
          const turned = formOver(sizesOf(...list.toReversed()), "along");

          expect(form.smallest.sizePm).toBe(Math.min(...list));
          expect(form.largest.sizePm).toBe(Math.max(...list));
          expect(form.differencePm).toBe(Math.max(...list) - Math.min(...list));
          expect(turned.differencePm).toBe(form.differencePm);
          expect(turned.shape).toBe(form.shape);
        },
      ),
    );
  });

  it("swaps barrel and waist when every size is mirrored", () => {
    const mirrored: Partial<Record<PlaceShape, PlaceShape>> = { barrel: "waist", waist: "barrel" };
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -9, max: 9 }), { minLength: 1, maxLength: 6 }), (list) => {
        const { shape } = formOver(sizesOf(...list), "along");
        const { shape: other } = formOver(sizesOf(...list.map((size) => -size)), "along");

        expect(other).toBe(mirrored[shape] ?? shape);
      }),
    );
  });
});

describe("judgeDifference (common practice, no source)", () => {
  it.each([
    [0, 100, "within"],
    [50, 100, "within"],
    [51, 100, "wide"],
    [100, 100, "wide"],
    [101, 100, "beyond_tolerance"],
    [101, undefined, "within"],
  ] as const)("of %s against a tolerance of %s says %s", (difference, width, verdict) => {
    expect(judgeDifference(difference, width)).toBe(verdict);
  });

  it("says beyond_tolerance exactly where no shift brings both ends inside the limits", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -60, max: 60 }), { minLength: 2, maxLength: 5 }),
        fc.integer({ min: 1, max: 60 }),
        (sizes, width) => {
          const form = formOver(sizesOf(...sizes), "along");
          const shifts = Array.from({ length: 301 }, (_, i) => i - 150);
          const suits = shifts.some((shift) =>
            sizes.every((size) => size + shift >= 0 && size + shift <= width),
          );

          expect(judgeDifference(form.differencePm, width) === "beyond_tolerance").toBe(!suits);
        },
      ),
    );
  });
});
