import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fitPlane } from "../../../src/core/geometry/fit-plane.js";
import type { Point3 } from "../../../src/core/geometry/points.js";
import { angle, fitted, nearPlane, offset, turned3 } from "../../support/points.js";
import { readData } from "../data/read-data.js";

interface Case {
  id: string;
  kind: string;
  what: string;
  source: string;
  inputs: { points: Point3[] };
  expected: { centroid: string[]; normal: string[]; rms: string; flatness_ls: string; deviations: string[] };
  abs_or_rel_tolerance: { abs_normal: number; abs_deviation: number };
}
const cases = readData<Case[]>("geometry.json").filter(({ kind }) => kind === "plane-fit");

describe("fitPlane", () => {
  it.each(cases)("$id: $what [$source]", ({ inputs, expected, abs_or_rel_tolerance: tolerance }) => {
    const plane = fitted(fitPlane(inputs.points));
    // The case with three equal coordinates may come out with either sign: both are right.
    const sign = Math.sign(plane.normal.reduce((sum, x, i) => sum + x * Number(expected.normal[i]), 0));

    plane.normal.forEach((x, i) => {
      expect(Math.abs(sign * x - Number(expected.normal[i]))).toBeLessThan(tolerance.abs_normal);
    });
    plane.deviationsMm.forEach((d, i) => {
      expect(Math.abs(sign * d - Number(expected.deviations[i]))).toBeLessThan(tolerance.abs_deviation);
    });
    plane.centroidMm.forEach((x, i) => void expect(x).toBeCloseTo(Number(expected.centroid[i]), 12));
    expect(plane.flatnessMm).toBeCloseTo(Number(expected.flatness_ls), 12);
    expect(plane.rmsMm).toBeCloseTo(Number(expected.rms), 12);
    expect(plane.redundancy).toBe(inputs.points.length - 3);
  });

  it.each([
    [
      "two points",
      [
        [0, 0, 0],
        [1, 0, 0],
      ],
      "too_few_points",
    ],
    [
      "one point three times",
      [
        [0.1, 0.2, 0.3],
        [0.1, 0.2, 0.3],
        [0.1, 0.2, 0.3],
      ],
      "all_equal",
    ],
    [
      "points on a line",
      [
        [0.1, 0.2, 0.3],
        [0.2, 0.4, 0.6],
        [0.7, 1.4, 2.1],
        [1.1, 2.2, 3.3],
      ],
      "collinear",
    ],
  ] satisfies [string, Point3[], string][])("refuses %s", (_, points, why) => {
    expect(fitPlane(points)).toBe(why);
  });

  it("throws for a coordinate that is not finite", () => {
    expect(() =>
      fitPlane([
        [0, 0, 0],
        [1, 0, 0],
        [0, 1, Number.NaN],
      ]),
    ).toThrow(RangeError);
  });
});

describe("fitPlane, whatever the points", () => {
  it("turns with them, and does not mind 10 m", () => {
    fc.assert(
      fc.property(nearPlane(), angle, angle, offset, offset, (points, aboutZ, aboutX, x, z) => {
        const here = fitted(fitPlane(points));
        const there = fitted(fitPlane(turned3(points, aboutZ, aboutX, [x, 0, z])));
        const [normal] = turned3([here.normal as unknown as Point3], aboutZ, aboutX);
        const along = normal!.reduce((sum, part, i) => sum + part * there.normal[i]!, 0);
        expect(Math.abs(along)).toBeCloseTo(1, 12);
        expect(Math.abs(there.flatnessMm - here.flatnessMm)).toBeLessThan(3e-11);
        expect(Math.max(...there.normal)).toBe(Math.max(...there.normal.map(Math.abs)));
      }),
    );
  });

  it("grows with them", () => {
    fc.assert(
      fc.property(nearPlane(), fc.integer({ min: 1, max: 1000 }), (points, factor) => {
        const here = fitted(fitPlane(points));
        const grown = fitted(fitPlane(points.map(([x, y, z]) => [x * factor, y * factor, z * factor])));
        expect(grown.flatnessMm / factor).toBeCloseTo(here.flatnessMm, 12);
      }),
    );
  });

  it("leaves no tilt with a smaller sum of squares", () => {
    fc.assert(
      fc.property(nearPlane(), angle, (points, towards) => {
        const { normal, centroidMm, rmsMm } = fitted(fitPlane(points));
        const tilted = [
          normal[0]! + 1e-4 * Math.cos(towards),
          normal[1]! + 1e-4 * Math.sin(towards),
          normal[2]!,
        ].map((x, _, all) => x / Math.hypot(...all));
        const squares = points.map(
          (p) => tilted.reduce((sum, x, i) => sum + x * (p[i]! - centroidMm[i]!), 0) ** 2,
        );
        expect(squares.reduce((sum, x) => sum + x, 0)).toBeGreaterThan(rmsMm ** 2 * points.length);
      }),
    );
  });
});
