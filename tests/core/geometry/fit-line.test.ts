import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fitLine } from "../../../src/core/geometry/fit-line.js";
import type { Point2, Point3 } from "../../../src/core/geometry/points.js";
import { angle, fitted, nearLine, offset, turned2, turned3 } from "../../support/points.js";
import { readData } from "../data/read-data.js";

interface Case {
  id: string;
  kind: string;
  what: string;
  source: string;
  inputs: { points: Point2[] };
  expected: {
    centroid: string[];
    direction: string[];
    rms_orthogonal: string;
    straightness_range_ls: string;
    angle_deg: string;
    orthogonal_slope?: string;
    orthogonal_intercept?: string;
    published?: { slope: number; intercept: number };
  };
}
const cases = readData<Case[]>("geometry.json").filter(({ kind }) => kind === "line-fit");

describe("fitLine", () => {
  it.each(cases)("$id: $what [$source]", ({ id, inputs, expected }) => {
    const line = fitted(fitLine(inputs.points));

    // Absolute, as the parts of a unit vector; the reference allows 1e-10, for line-far 1e-8.
    line.direction.forEach(
      (x, i) => void expect(Math.abs(x - Number(expected.direction[i]))).toBeLessThan(1e-14),
    );
    line.centroidMm.forEach((x, i) => void expect(x).toBeCloseTo(Number(expected.centroid[i]), 9));
    expect(Math.abs(line.rmsMm - Number(expected.rms_orthogonal))).toBeLessThan(1e-13);
    expect(Math.abs(line.straightnessMm - Number(expected.straightness_range_ls))).toBeLessThan(1e-13);
    const [dx, dy] = line.direction;
    expect((Math.atan2(dy!, dx!) * 180) / Math.PI).toBeCloseTo(Number(expected.angle_deg), 11);
    if (expected.orthogonal_slope !== undefined) {
      const slope = dy! / dx!;
      const intercept = line.centroidMm[1]! - slope * line.centroidMm[0]!;
      expect(slope / Number(expected.orthogonal_slope)).toBeCloseTo(1, 10);
      expect(Math.abs(intercept - Number(expected.orthogonal_intercept))).toBeLessThan(
        id === "line-far" ? 1 : 1e-10,
      );
    }
  });

  it("gives the slope and intercept printed by Pearson, Phil. Mag. 2 (1901)", () => {
    const { inputs, expected } = cases.find(({ id }) => id === "line-pearson")!;

    const { centroidMm, direction } = fitted(fitLine(inputs.points));

    const slope = direction[1]! / direction[0]!;
    expect(slope).toBeCloseTo(expected.published!.slope, 3);
    expect(centroidMm[1]! - slope * centroidMm[0]!).toBeCloseTo(expected.published!.intercept, 3);
  });

  it("has its deviations to the left above 0 in a plane, and as distances in space", () => {
    const flat = fitted(
      fitLine([
        [0, 0],
        [10, 1],
        [20, -1],
        [30, 0],
      ]),
    );
    const inSpace = fitted(
      fitLine([
        [0, 0, 0],
        [10, 0, 1],
        [20, 0, -1],
        [30, 0, 0],
      ]),
    );

    expect(flat.deviationsMm[1]).toBeGreaterThan(0);
    expect(flat.deviationsMm[2]).toBeLessThan(0);
    inSpace.deviationsMm.forEach((d, i) => void expect(d).toBeCloseTo(Math.abs(flat.deviationsMm[i]!), 12));
    // By hand: Σxz = −10, Σx² = 500, Σz² = 2 about the middle; both extremes lie 1 − 5·s from the line, s ≈ −0.02.
    const slope = flat.direction[1]! / flat.direction[0]!;
    expect(inSpace.straightnessMm).toBeCloseTo(2 * (1 + 5 * slope * -1 * -1) * flat.direction[0]!, 9);
  });

  it.each([
    ["one point", [[1, 2]], "too_few_points"],
    ["none", [], "too_few_points"],
    [
      "one point twice",
      [
        [1.1, 2.3],
        [1.1, 2.3],
      ],
      "all_equal",
    ],
  ] satisfies [string, Point2[], string][])("refuses %s", (_, points, why) => {
    expect(fitLine(points)).toBe(why);
  });

  it("throws for a coordinate that is not finite", () => {
    expect(() =>
      fitLine([
        [0, 0],
        [Number.POSITIVE_INFINITY, 1],
      ]),
    ).toThrow(RangeError);
  });
});

describe("fitLine, whatever the points", () => {
  it("turns with them, and does not mind 10 m", () => {
    fc.assert(
      fc.property(nearLine(), angle, offset, offset, (points, by, x, y) => {
        const here = fitted(fitLine(points));
        const there = fitted(fitLine(turned2(points, by, [x, y])));
        const [along] = turned2([here.direction as unknown as Point2], by);
        expect(Math.abs(along![0] * there.direction[1]! - along![1] * there.direction[0]!)).toBeLessThan(
          1e-11,
        );
        expect(Math.abs(there.straightnessMm - here.straightnessMm)).toBeLessThan(3e-11);
        expect(there.direction.find((part) => Math.abs(part) > 1e-15)).toBeGreaterThan(0);
      }),
    );
  });

  it("is the same line in space as in its plane", () => {
    fc.assert(
      fc.property(nearLine(), angle, angle, offset, (points, aboutZ, aboutX, z) => {
        const flat = fitted(fitLine(points));
        const lifted = points.map(([x, y]): Point3 => [x, y, 0]);
        const space = fitted(fitLine(turned3(lifted, aboutZ, aboutX, [0, 0, z])));
        space.deviationsMm.forEach(
          (d, i) => void expect(Math.abs(d - Math.abs(flat.deviationsMm[i]!))).toBeLessThan(3e-11),
        );
      }),
    );
  });

  it("leaves deviations that sum to 0, also weighted by the way along", () => {
    fc.assert(
      fc.property(nearLine(), (points) => {
        const { deviationsMm, direction } = fitted(fitLine(points));
        const along = points.map(([x, y]) => x * direction[0]! + y * direction[1]!);
        expect(deviationsMm.reduce((sum, d) => sum + d, 0)).toBeCloseTo(0, 11);
        expect(deviationsMm.reduce((sum, d, i) => sum + d * along[i]!, 0)).toBeCloseTo(0, 9);
      }),
    );
  });
});
