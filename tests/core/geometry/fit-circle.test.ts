import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fitCircle } from "../../../src/core/geometry/fit-circle.js";
import { type Point2, range } from "../../../src/core/geometry/points.js";
import { angle, fitted, nearCircle, normalDeviates, offset, turned2 } from "../../support/points.js";
import { readData } from "../data/read-data.js";

interface Case {
  id: string;
  kind: string;
  what: string;
  source: string;
  inputs: { points: Point2[] };
  expected: {
    geometric: Record<"xc" | "yc" | "r" | "rms_radial" | "radial_range", string>;
    published?: { geometric: { xc: number; yc: number; r: number } };
  };
  abs_or_rel_tolerance: { rel_r: number; abs_centre: number };
}
const cases = readData<Case[]>("geometry.json").filter(({ kind }) => kind === "circle-fit");

describe("fitCircle", () => {
  it.each(cases)("$id: $what [$source]", ({ inputs, expected, abs_or_rel_tolerance: tolerance }) => {
    const { xc, yc, r, rms_radial, radial_range } = expected.geometric;

    const circle = fitted(fitCircle(inputs.points));

    expect(Math.abs(circle.diameterMm / 2 / Number(r) - 1)).toBeLessThan(tolerance.rel_r);
    expect(Math.abs(circle.centreMm[0] - Number(xc))).toBeLessThan(tolerance.abs_centre);
    expect(Math.abs(circle.centreMm[1] - Number(yc))).toBeLessThan(tolerance.abs_centre);
    expect(Math.abs(circle.rmsMm - Number(rms_radial))).toBeLessThan(1e-12);
    expect(Math.abs(circle.roundnessMm - Number(radial_range))).toBeLessThan(1e-12);
    expect(circle.redundancy).toBe(inputs.points.length - 3);
  });

  it("gives the figures printed by Gander, Golub and Strebel, BIT 34 (1994)", () => {
    const { inputs, expected } = cases.find(({ id }) => id === "circle-gander")!;
    const { xc, yc, r } = expected.published!.geometric;

    const circle = fitted(fitCircle(inputs.points));

    expect(circle.centreMm[0]).toBeCloseTo(xc, 4);
    expect(circle.centreMm[1]).toBeCloseTo(yc, 4);
    expect(circle.diameterMm / 2).toBeCloseTo(r, 4);
  });

  it("tells how far round the points reach", () => {
    const quadrants: Point2[] = [
      [5, 0],
      [0, 5],
      [-5, 0],
      [0, -5],
    ];

    expect(fitted(fitCircle(quadrants)).arcDeg).toBeCloseTo(270, 9);
    expect(fitted(fitCircle(quadrants.slice(1))).arcDeg).toBeCloseTo(180, 9);
  });

  it("says that n points right round give the diameter to 2/√n and the centre to √(2/n) of one point's", () => {
    const points = Array.from({ length: 16 }, (_, i): Point2 => {
      const at = (i * Math.PI) / 8;
      return [20 * Math.cos(at), 20 * Math.sin(at)];
    });

    const { diameterFactor, centreFactor } = fitted(fitCircle(points));

    expect(diameterFactor).toBeCloseTo(2 / 4, 9);
    expect(centreFactor).toBeCloseTo(Math.sqrt(2 / 16), 9);
  });

  it.each([360, 180, 60, 20])("scatters by its factors over an arc of %d°", (arcDeg) => {
    const next = normalDeviates(arcDeg);
    const sigma = 1e-4;
    const around = (noise: () => number) =>
      fitted(
        fitCircle(
          Array.from({ length: 9 }, (_, i): Point2 => {
            const at = ((i / (arcDeg === 360 ? 9 : 8)) * arcDeg * Math.PI) / 180;
            return [15 * Math.cos(at) + noise(), 15 * Math.sin(at) + noise()];
          }),
        ),
      );
    const runs = Array.from({ length: 4000 }, () => around(() => sigma * next()));
    const ideal = around(() => 0);
    const spread = Math.sqrt(runs.reduce((sum, run) => sum + (run.diameterMm - 30) ** 2, 0) / runs.length);

    // The deviation of 4000 runs is known to 1/√8000 = 1.1 %; the fit is linear enough at this noise.
    expect(spread / sigma / ideal.diameterFactor).toBeGreaterThan(0.95);
    expect(spread / sigma / ideal.diameterFactor).toBeLessThan(1.05);
  });

  it.each([
    [
      "two points",
      [
        [0, 0],
        [1, 0],
      ],
      "too_few_points",
    ],
    [
      "one point three times",
      [
        [7.1, 3.3],
        [7.1, 3.3],
        [7.1, 3.3],
      ],
      "all_equal",
    ],
    [
      "two points twice",
      [
        [0, 0.1],
        [1, 0.3],
        [0, 0.1],
        [1, 0.3],
      ],
      "collinear",
    ],
    [
      "three points on a line that no double holds exactly",
      [
        [0.1, 0.3],
        [0.2, 0.6],
        [0.7, 2.1],
      ],
      "collinear",
    ],
    [
      "the same 10 m away",
      [
        [9000.1, 8000.3],
        [9000.2, 8000.6],
        [9000.7, 8002.1],
      ],
      "collinear",
    ],
    [
      "an edge that is straight but for its noise",
      [
        [0, 0.001],
        [10, -0.001],
        [20, 0.0015],
        [30, 0],
        [40, 0.001],
      ],
      "arc_too_short",
    ],
    [
      "a flat zigzag that bends nowhere",
      [
        [0, 0.001],
        [10, -0.001],
        [20, 0.001],
        [30, -0.001],
        [40, 0.001],
        [50, -0.001],
      ],
      "arc_too_short",
    ],
  ] satisfies [string, Point2[], string][])("refuses %s", (_, points, why) => {
    expect(fitCircle(points)).toBe(why);
  });

  it("throws for a coordinate that is not finite, and for points of unlike kinds", () => {
    expect(() =>
      fitCircle([
        [0, 0],
        [1, 0],
        [0, Number.NaN],
      ]),
    ).toThrow(RangeError);
    expect(() => fitCircle([[0, 0], [1, 0], [0, 1, 2] as never])).toThrow(RangeError);
  });

  it("copes with a point in the very centre", () => {
    const points: Point2[] = [
      [0, 0],
      [5, 0],
      [0, 5],
      [-5, 0],
      [0, -5],
    ];

    const { centreMm, diameterMm } = fitted(fitCircle(points));

    // About the origin itself the best radius is 4, with squares 4·1² + 4² = 20.
    expect(squaresAbout(points, ...centreMm, diameterMm / 2)).toBeLessThan(20);
  });
});

/** Sum of squares about a circle of one's own. */
const squaresAbout = (points: readonly Point2[], x: number, y: number, radius: number) =>
  points.reduce((sum, [px, py]) => sum + (Math.hypot(px - x, py - y) - radius) ** 2, 0);

describe("fitCircle, whatever the points", () => {
  it("is left by no small move with a smaller sum of squares", () => {
    fc.assert(
      fc.property(nearCircle(), angle, ({ points }, towards) => {
        const { centreMm, diameterMm } = fitted(fitCircle(points));
        const least = squaresAbout(points, ...centreMm, diameterMm / 2);
        const [dx, dy] = [1e-4 * Math.cos(towards), 1e-4 * Math.sin(towards)];
        for (const dr of [-1e-4, 0, 1e-4]) {
          expect(
            squaresAbout(points, centreMm[0] + dx, centreMm[1] + dy, diameterMm / 2 + dr),
          ).toBeGreaterThan(least);
        }
      }),
    );
  });

  it.each([360, 90, 5])("moves with the points: turned and 10 m away, on an arc of %d°", (arcDeg) => {
    fc.assert(
      fc.property(
        nearCircle({ arcDeg, formMm: arcDeg === 5 ? 0.0002 : 0.02, least: 8 }),
        angle,
        offset,
        offset,
        ({ points }, by, x, y) => {
          const here = fitCircle(points);
          const there = fitCircle(turned2(points, by, [x, y]));
          if (typeof here === "string") return expect(there).toBe(here);
          const moved = fitted(there);
          const [middle] = turned2([here.centreMm], by, [x, y]);
          // Coordinates at 10 m are rounded to 2·10⁻¹² mm each; the factors say what comes of it.
          const rounding = 1e-11;
          expect(Math.abs(moved.diameterMm - here.diameterMm)).toBeLessThan(
            rounding * (1 + here.diameterFactor),
          );
          expect(Math.abs(moved.centreMm[0] - middle![0])).toBeLessThan(rounding * (1 + here.centreFactor));
          expect(Math.abs(moved.centreMm[1] - middle![1])).toBeLessThan(rounding * (1 + here.centreFactor));
          expect(Math.abs(moved.roundnessMm - here.roundnessMm)).toBeLessThan(3 * rounding);
        },
      ),
    );
  });

  it("grows with the points", () => {
    fc.assert(
      fc.property(nearCircle(), fc.integer({ min: 1, max: 1000 }), ({ points }, factor) => {
        const here = fitted(fitCircle(points));
        const grown = fitted(fitCircle(points.map(([x, y]) => [x * factor, y * factor])));
        expect(grown.diameterMm / factor).toBeCloseTo(here.diameterMm, 10);
        expect(grown.roundnessMm / factor).toBeCloseTo(here.roundnessMm, 10);
        expect(grown.diameterFactor).toBeCloseTo(here.diameterFactor, 8);
      }),
    );
  });

  it("does not depend on the order of the points", () => {
    fc.assert(
      fc.property(nearCircle(), ({ points }) => {
        const here = fitted(fitCircle(points));
        expect(fitted(fitCircle([...points].reverse())).diameterMm).toBeCloseTo(here.diameterMm, 11);
      }),
    );
  });

  it("gives deviations that are distances from its circle, and their range as roundness", () => {
    fc.assert(
      fc.property(nearCircle({ arcDeg: 200 }), ({ points }) => {
        const { centreMm, diameterMm, deviationsMm, roundnessMm } = fitted(fitCircle(points));
        points.forEach(([x, y], i) => {
          const distance = Math.hypot(x - centreMm[0], y - centreMm[1]) - diameterMm / 2;
          expect(deviationsMm[i]).toBeCloseTo(distance, 11);
        });
        expect(roundnessMm).toBe(range(deviationsMm));
      }),
    );
  });

  it("finds an exact circle of 5° 10 m away", () => {
    fc.assert(
      fc.property(nearCircle({ arcDeg: 5, formMm: 0 }), offset, offset, ({ points, radiusMm }, x, y) => {
        const circle = fitted(fitCircle(turned2(points, 0, [x, y])));
        expect(Math.abs(circle.diameterMm - 2 * radiusMm)).toBeLessThan(1e-11 * circle.diameterFactor);
      }),
    );
  });
});
