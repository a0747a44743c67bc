import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parseLength } from "../../../src/core/quantity.js";
import { positionDiameter } from "../../../src/core/tolerance/position.js";
import { ofKind, pm } from "../data/positions.js";

const offset = fc.integer({ min: -1e12, max: 1e12 });

describe("positionDiameter", () => {
  it.each(ofKind("true-position"))("agrees with the published diameter: %s", (_, { inputs, expected }) => {
    const diameter = positionDiameter([pm(inputs.dx), pm(inputs.dy)]);
    // The published figure has 16 digits; rounded up to a picometre it has to be this one.
    const exact = Number(expected.position) * 1e9;

    expect(diameter).toBe(Math.ceil(exact - 1e-6));
    expect(diameter <= pm(inputs.tolerance)).toBe(expected.verdict === "pass");
  });

  it.each([
    ["0.03", "0.04", 0, 100_000_000],
    ["0", "0", 0, 0],
    ["0.000000001", "0", 0, 2],
    ["0.000000001", "0.000000001", 0, 3], // 2·√2 = 2.83 pm
    ["0.02", "0.03", "0.06", 140_000_000], // 2·√(4 + 9 + 36) = 14
  ])("of %s and %s and %s is %d pm", (dx, dy, dz, expected) => {
    expect(positionDiameter([pm(dx), pm(dy), dz === 0 ? 0 : pm(dz)])).toBe(expected);
  });

  it("conforms exactly where the squares do, for every limit in whole picometres", () => {
    fc.assert(
      fc.property(offset, offset, fc.integer({ min: -3, max: 3 }), (dx, dy, step) => {
        const square = 4n * (BigInt(dx) ** 2n + BigInt(dy) ** 2n);
        const limit = Math.max(0, Math.round(2 * Math.hypot(dx, dy)) + step);

        expect(positionDiameter([dx, dy]) <= limit).toBe(square <= BigInt(limit) ** 2n);
      }),
    );
  });

  it("does not change when the axes are swapped, turned by a quarter or mirrored", () => {
    fc.assert(
      fc.property(offset, offset, offset, (dx, dy, dz) => {
        const diameter = positionDiameter([dx, dy, dz]);

        expect(positionDiameter([dy, dx, dz])).toBe(diameter);
        expect(positionDiameter([-dy, dx, dz])).toBe(diameter);
        expect(positionDiameter([dx, -dy, -dz])).toBe(diameter);
      }),
    );
  });

  it("does not change when the axes are turned by a 3-4-5 angle", () => {
    fc.assert(
      fc.property(offset, offset, (u, v) => {
        const [dx, dy] = [5 * u, 5 * v];

        expect(positionDiameter([3 * u - 4 * v, 4 * u + 3 * v])).toBe(positionDiameter([dx, dy]));
      }),
    );
  });

  it("never falls when an offset grows", () => {
    fc.assert(
      fc.property(offset, offset, fc.integer({ min: 0, max: 1e12 }), (dx, dy, more) => {
        const further = dx < 0 ? dx - more : dx + more;

        expect(positionDiameter([further, dy])).toBeGreaterThanOrEqual(positionDiameter([dx, dy]));
      }),
    );
  });

  it("goes with one axis alone: twice the offset", () => {
    expect(positionDiameter([-parseLength("0.05", "mm")!])).toBe(100_000_000);
  });

  it.each([[[]], [[Number.NaN]], [[0.5, 0]], [[1, Number.POSITIVE_INFINITY]]])("refuses %j", (offsets) => {
    expect(() => positionDiameter(offsets)).toThrow(RangeError);
  });
});
