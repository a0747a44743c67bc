import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fitCircle } from "../../../src/core/geometry/fit-circle.js";
import { fitCylinder } from "../../../src/core/geometry/fit-cylinder.js";
import type { Point2, Point3 } from "../../../src/core/geometry/points.js";
import { fitted, nearCircle, offset, turned3 } from "../../support/points.js";

/** Rings of points about z, in sections 15 mm apart; the second ring is turned by a little. */
function rings(points: readonly Point2[], sections: number): Point3[] {
  return Array.from({ length: sections }, (_, k) =>
    points.map(([x, y]): Point3 => {
      const [c, s] = [Math.cos(k / 3), Math.sin(k / 3)];
      return [c * x - s * y, s * x + c * y, 15 * k];
    }),
  ).flat();
}

const ring = (radius: number, count: number): Point2[] =>
  Array.from({ length: count }, (_, i) => {
    const at = (i * 2 * Math.PI) / count;
    return [radius * Math.cos(at), radius * Math.sin(at)];
  });
const z: Point3 = [0, 0, 1];
const lean = fc.integer({ min: -200, max: 200 }).map((n) => n / 1000);

describe("fitCylinder", () => {
  it("finds an exact cylinder that leans by 8° from the axis sent, 10 m away", () => {
    const leaning = turned3(rings(ring(12, 6), 3), 0.7, 0.14, [9000, -7000, 10_000]);

    const cylinder = fitted(fitCylinder(leaning, z));

    expect(cylinder.diameterMm).toBeCloseTo(24, 9);
    expect(cylinder.cylindricityMm).toBeLessThan(1e-11);
    const [axis] = turned3([z], 0.7, 0.14);
    cylinder.axis.forEach((x, i) => void expect(x).toBeCloseTo(axis![i]!, 11));
    expect(cylinder.redundancy).toBe(13);
  });

  it("sees a barrel: two rings of one diameter with a larger one between", () => {
    const barrel = [...rings(ring(10, 8), 3)].map(
      ([x, y, h]): Point3 => (h === 15 ? [x * 1.0006, y * 1.0006, h] : [x, y, h]),
    );

    const cylinder = fitted(fitCylinder(barrel, z));

    // By symmetry about the axis and the middle section: radius 10 + 0.006/3, deviations +0.004 and −0.002.
    expect(cylinder.diameterMm).toBeCloseTo(20.004, 8);
    expect(cylinder.cylindricityMm).toBeCloseTo(0.006, 8);
    expect(cylinder.deviationsMm[0]).toBeCloseTo(-0.002, 8);
  });

  it.each([
    ["four points", rings(ring(10, 2), 2), "too_few_points"],
    ["one section", rings(ring(10, 8), 1), "undetermined"],
    ["the same line twice along the wall", [0, 5, 10, 15, 20].map((h): Point3 => [3, 4, h]), "all_equal"],
    [
      "two lines along the wall",
      [0, 5, 10].flatMap((h): Point3[] => [
        [3, 4, h],
        [3, -4, h],
      ]),
      "collinear",
    ],
  ] satisfies [string, Point3[], string][])("refuses %s", (_, points, why) => {
    expect(fitCylinder(points, z)).toBe(why);
  });

  it("throws for an axis without direction", () => {
    expect(() => fitCylinder(rings(ring(10, 4), 2), [0, 0, 0])).toThrow(RangeError);
    expect(() => fitCylinder(rings(ring(10, 4), 2), [0, Number.NaN, 1])).toThrow(RangeError);
  });
});

describe("fitCylinder, whatever the points", () => {
  it("turns and moves with them", () => {
    fc.assert(
      fc.property(
        nearCircle({ least: 6 }),
        lean,
        lean,
        offset,
        offset,
        ({ points }, aboutZ, aboutX, x, y) => {
          const upright = rings(points, 3);
          const here = fitted(fitCylinder(upright, z));
          const there = fitted(fitCylinder(turned3(upright, aboutZ, aboutX, [x, y, -x]), z));
          expect(Math.abs(there.diameterMm - here.diameterMm)).toBeLessThan(1e-9);
          expect(Math.abs(there.cylindricityMm - here.cylindricityMm)).toBeLessThan(1e-9);
          const [axis] = turned3([here.axis as unknown as Point3], aboutZ, aboutX);
          there.axis.forEach((part, i) => void expect(part).toBeCloseTo(axis![i]!, 9));
        },
      ),
    );
  });

  it("is, of like sections one above the other, the circle of one", () => {
    fc.assert(
      fc.property(nearCircle({ least: 6 }), ({ points }) => {
        const circle = fitted(fitCircle(points));
        const stack = [0, 10, 20].flatMap((h) => points.map(([x, y]): Point3 => [x, y, h]));
        const cylinder = fitted(fitCylinder(stack, z));
        expect(cylinder.diameterMm).toBeCloseTo(circle.diameterMm, 8);
        expect(cylinder.cylindricityMm).toBeCloseTo(circle.roundnessMm, 8);
        expect(cylinder.axisPointMm[0]).toBeCloseTo(circle.centreMm[0], 8);
      }),
    );
  });
});
