import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { turningPoint } from "../../../src/core/tolerance/turning-point.js";

describe("turningPoint (common practice, no source)", () => {
  it("is the smallest size in a bore and the largest over a shaft", () => {
    expect(turningPoint([18, 12, 15], "internal")).toBe(1);
    expect(turningPoint([18, 12, 15], "external")).toBe(0);
  });

  it("refuses no sizes", () => {
    expect(() => turningPoint([], "internal")).toThrow(RangeError);
  });

  it("is the other side's of the mirrored sizes, and no size lies beyond it", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -1e14, max: 1e14 }), { minLength: 1, maxLength: 20 }),
        (sizes) => {
          const at = turningPoint(sizes, "internal");

          expect(sizes.every((size) => size >= sizes[at]!)).toBe(true);
          expect(
            turningPoint(
              sizes.map((size) => 0 - size),
              "external",
            ),
          ).toBe(at);
        },
      ),
    );
  });
});
