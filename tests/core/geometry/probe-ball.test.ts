import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fitCircle } from "../../../src/core/geometry/fit-circle.js";
import type { Point2 } from "../../../src/core/geometry/points.js";
import { diameterOfSurface } from "../../../src/core/geometry/probe-ball.js";
import { fitted, nearCircle } from "../../support/points.js";

describe("diameterOfSurface", () => {
  it("adds the ball in a hole and takes it off a boss", () => {
    expect(diameterOfSurface(24, 6, "inside")).toBe(30);
    expect(diameterOfSurface(36, 6, "outside")).toBe(30);
    expect(diameterOfSurface(30, 0, "outside")).toBe(30);
  });

  it("refuses a ball that leaves nothing of a boss", () => {
    expect(diameterOfSurface(6, 6, "outside")).toBe("ball_too_large");
    expect(diameterOfSurface(5, 6, "outside")).toBe("ball_too_large");
    expect(diameterOfSurface(6.001, 6, "outside")).toBeCloseTo(0.001, 12);
  });

  it("throws for a ball with no diameter", () => {
    expect(() => diameterOfSurface(6, -1, "inside")).toThrow(RangeError);
    expect(() => diameterOfSurface(6, Number.NaN, "inside")).toThrow(RangeError);
  });

  it("gives the surface back from the centres of a ball that rolls on it", () => {
    fc.assert(
      fc.property(
        nearCircle({ formMm: 0 }),
        fc.constantFrom("inside", "outside"),
        ({ points, radiusMm }, touched) => {
          const ball = 3;
          const away = (touched === "inside" ? -1 : 1) * (ball / 2);
          const centres = points.map(([x, y]): Point2 => {
            const share = 1 + away / radiusMm;
            return [x * share, y * share];
          });
          const { diameterMm } = fitted(fitCircle(centres));
          expect(diameterOfSurface(diameterMm, ball, touched)).toBeCloseTo(2 * radiusMm, 9);
        },
      ),
    );
  });
});
