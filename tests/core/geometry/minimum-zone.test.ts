import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fitCircle } from "../../../src/core/geometry/fit-circle.js";
import { fitLine } from "../../../src/core/geometry/fit-line.js";
import { fitPlane } from "../../../src/core/geometry/fit-plane.js";
import { type Height, leastSlab } from "../../../src/core/geometry/least-slab.js";
import {
  minimumZoneFlatness,
  minimumZoneRoundness,
  minimumZoneStraightness,
} from "../../../src/core/geometry/minimum-zone.js";
import { type Point2, type Point3, range } from "../../../src/core/geometry/points.js";
import {
  angle,
  fitted,
  nearCircle,
  nearLine,
  nearPlane,
  offset,
  turned2,
  turned3,
} from "../../support/points.js";

const pairs = <T>(list: readonly T[]) => list.flatMap((a, i) => list.slice(i + 1).map((b): [T, T] => [a, b]));
const rounding = 1e-11;

/** The slow ways: every zone that touches as many points as determine it. */
function straightnessByTrial(points: readonly Point2[]): number {
  const widths = pairs(points).map(([[x, y], [x2, y2]]) => {
    const length = Math.hypot(x2 - x, y2 - y);
    return range(points.map((p) => ((x2 - x) * (p[1] - y) - (y2 - y) * (p[0] - x)) / length));
  });
  return Math.min(...widths);
}

function flatnessByTrial(points: readonly Point3[]): number {
  // Through three points, or along two pairs: in both cases across the plane of two edges.
  const edges = pairs(points).map(([a, b]) => b.map((x, i) => x - a[i]!) as unknown as Point3);
  const widths = pairs(edges).flatMap(([[x, y, z], [u, v, w]]) => {
    const normal = [y * w - z * v, z * u - x * w, x * v - y * u];
    const length = Math.hypot(...normal);
    if (length < 1e-9) return [];
    return [range(points.map((p) => (p[0] * normal[0]! + p[1] * normal[1]! + p[2] * normal[2]!) / length))];
  });
  return Math.min(...widths);
}

function roundnessByTrial(points: readonly Point2[]): number {
  // Three points on one circle, or two on each: in both cases the centre lies on two perpendicular bisectors.
  const bisectors = pairs(points).map(([[x, y], [x2, y2]]) => ({
    a: x2 - x,
    b: y2 - y,
    c: (x2 * x2 - x * x + y2 * y2 - y * y) / 2,
  }));
  const widths = pairs(bisectors).flatMap(([p, q]) => {
    const determinant = p.a * q.b - q.a * p.b;
    if (Math.abs(determinant) < 1e-9) return [];
    const [x, y] = [(p.c * q.b - q.c * p.b) / determinant, (p.a * q.c - q.a * p.c) / determinant];
    return [range(points.map((point) => Math.hypot(point[0] - x, point[1] - y)))];
  });
  return Math.min(...widths);
}

describe("minimumZoneStraightness", () => {
  it("lies along the two points that leave the third nearest", () => {
    // By hand: the height over the longest side of a triangle of 3, 4 and 5 is 12/5.
    expect(
      minimumZoneStraightness([
        [0, 0],
        [4, 0],
        [0, 3],
      ]),
    ).toBeCloseTo(2.4, 12);
    expect(
      minimumZoneStraightness([
        [0, 0],
        [50, 0.004],
        [100, 0],
      ]),
    ).toBeCloseTo(0.004, 12);
    // A saw tooth: both edges straight, so that the zone is as high as the teeth, which least squares would tilt in.
    expect(
      minimumZoneStraightness([
        [0, 0],
        [10, 0.002],
        [20, 0],
        [30, 0.002],
      ]),
    ).toBeCloseTo(0.002, 9);
  });

  it("is 0 of two points, and of points on a line", () => {
    expect(
      minimumZoneStraightness([
        [0, 0],
        [4, 3],
      ]),
    ).toBe(0);
    expect(
      minimumZoneStraightness([
        [0, 0],
        [4, 3],
        [8, 6],
        [4, 3],
      ]),
    ).toBe(0);
  });

  it("refuses one point, and one point twice", () => {
    expect(minimumZoneStraightness([[0, 0]])).toBe("too_few_points");
    expect(
      minimumZoneStraightness([
        [9.1, 0.1],
        [9.1, 0.1],
      ]),
    ).toBe("all_equal");
  });

  it("looks past corners of the hull that rounding has made level", () => {
    const points: Point2[] = [
      [4, 2],
      [9, 0],
      [8, 0],
      [5, 0],
      [2, 1],
      [0, 0],
      [6, 1],
    ];
    const turned = turned2(points, 0.4015583729818477);

    expect(Math.abs(Number(minimumZoneStraightness(turned)) - straightnessByTrial(turned))).toBeLessThan(
      1e-12,
    );
  });

  it("is what trying every pair finds, also where many points are level", () => {
    const level = fc.array(fc.tuple(fc.integer({ min: 0, max: 9 }), fc.integer({ min: 0, max: 3 })), {
      minLength: 3,
      maxLength: 14,
    });
    const uneven = level.filter((points) => new Set(points.map(String)).size > 1);
    fc.assert(
      fc.property(fc.oneof(nearLine(), nearLine({ formMm: 30 }), uneven), angle, (points, by) => {
        const turned = turned2(points, by);
        const apart = turned.filter(
          (p, i) => turned.findIndex((q) => Math.hypot(p[0] - q[0], p[1] - q[1]) < 1e-9) === i,
        );
        expect(Math.abs(Number(minimumZoneStraightness(turned)) - straightnessByTrial(apart))).toBeLessThan(
          1e-12,
        );
      }),
      { numRuns: 1000 },
    );
  });

  it("is never more than the least-squares straightness, and the same 10 m away", () => {
    fc.assert(
      fc.property(nearLine(), angle, offset, offset, (points, by, x, y) => {
        const zone = fitted(minimumZoneStraightness(points)) as number;
        expect(zone).toBeLessThanOrEqual(fitted(fitLine(points)).straightnessMm + 1e-15);
        expect(Math.abs(Number(minimumZoneStraightness(turned2(points, by, [x, y]))) - zone)).toBeLessThan(
          rounding,
        );
      }),
    );
  });

  it("does not change with a point between two others", () => {
    fc.assert(
      fc.property(nearLine(), fc.nat(), fc.nat(), (points, i, j) => {
        const [a, b] = [points[i % points.length]!, points[j % points.length]!];
        const inside: Point2 = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
        const zone = Number(minimumZoneStraightness(points));
        expect(Math.abs(Number(minimumZoneStraightness([...points, inside])) - zone)).toBeLessThan(1e-12);
      }),
    );
  });
});

describe("minimumZoneFlatness", () => {
  it("is 0 of three points", () => {
    expect(
      minimumZoneFlatness([
        [0, 0, 0],
        [1, 0, 1],
        [0, 1, 1],
      ]),
    ).toBeCloseTo(0, 15);
  });

  it("of a twisted square is what its diagonals are apart", () => {
    // By hand: corners at 0, t, 0, t in turn; the diagonals' middles are t apart, at right angles to both.
    const corners: Point3[] = [
      [0, 0, 0],
      [10, 0, 0.004],
      [10, 10, 0],
      [0, 10, 0.004],
    ];

    expect(minimumZoneFlatness(corners)).toBeCloseTo(0.004, 12);
  });

  it("of a pyramid is its height", () => {
    const points: Point3[] = [
      [0, 0, 0],
      [10, 0, 0],
      [0, 10, 0],
      [10, 10, 0],
      [5, 4, 0.006],
    ];

    expect(minimumZoneFlatness(points)).toBeCloseTo(0.006, 12);
  });

  it("refuses what determines no plane", () => {
    expect(
      minimumZoneFlatness([
        [0, 0, 0],
        [1, 0, 0],
      ]),
    ).toBe("too_few_points");
    expect(
      minimumZoneFlatness([
        [0, 0, 0],
        [1, 1, 1],
        [2, 2, 2],
      ]),
    ).toBe("collinear");
  });

  it("is what trying every plane finds", () => {
    fc.assert(
      fc.property(nearPlane(), angle, angle, (points, aboutZ, aboutX) => {
        const turned = turned3(points, aboutZ, aboutX);
        expect(Math.abs(Number(minimumZoneFlatness(turned)) - flatnessByTrial(points))).toBeLessThan(
          rounding,
        );
      }),
      { numRuns: 60 },
    );
  });

  it("is within 2w³/W² of the minimum on a face as rough as a tenth of its width", () => {
    fc.assert(
      fc.property(nearPlane({ formMm: 3.5, rows: 3, columns: 3 }), (points) => {
        const zone = Number(minimumZoneFlatness(points));
        const least = flatnessByTrial(points);
        expect(zone).toBeGreaterThanOrEqual(least - rounding);
        expect(zone).toBeLessThanOrEqual(least + (2 * zone ** 3) / 34 ** 2 + rounding);
      }),
      { numRuns: 60 },
    );
  });

  it("is what trying every plane finds where many points are level", () => {
    const steps = fc.array(fc.integer({ min: 0, max: 2 }), { minLength: 9, maxLength: 9 });
    fc.assert(
      fc.property(steps, (heights) => {
        const points = heights.map((z, i): Point3 => [10 * (i % 3), 10 * Math.floor(i / 3), z / 1000]);
        expect(Math.abs(Number(minimumZoneFlatness(points)) - flatnessByTrial(points))).toBeLessThan(
          rounding,
        );
      }),
      { numRuns: 60 },
    );
  });

  it("is never more than the least-squares flatness, and the same 10 m away", () => {
    fc.assert(
      fc.property(nearPlane({ rows: 4, columns: 5 }), angle, angle, offset, (points, aboutZ, aboutX, y) => {
        const zone = Number(minimumZoneFlatness(points));
        expect(zone).toBeLessThanOrEqual(fitted(fitPlane(points)).flatnessMm + 1e-15);
        const moved = turned3(points, aboutZ, aboutX, [y, -y, 10_000]);
        expect(Math.abs(Number(minimumZoneFlatness(moved)) - zone)).toBeLessThan(rounding);
      }),
    );
  });

  it("does not change with a point between others, and never falls with one more", () => {
    fc.assert(
      fc.property(nearPlane({ rows: 4 }), fc.nat(), fc.nat(), fc.nat(), (points, ...picks) => {
        const [a, b, c] = picks.map((i) => points[i % points.length]!) as [Point3, Point3, Point3];
        const inside = a.map((x, i) => (x + b[i]! + c[i]!) / 3) as unknown as Point3;
        const zone = Number(minimumZoneFlatness(points));
        expect(Math.abs(Number(minimumZoneFlatness([...points, inside])) - zone)).toBeLessThan(1e-12);
        expect(Number(minimumZoneFlatness(points.slice(1)))).toBeLessThanOrEqual(zone + 1e-12);
      }),
    );
  });
});

describe("minimumZoneRoundness", () => {
  it("of lobes is twice their height, about the middle", () => {
    for (const lobes of [2, 3, 5]) {
      const points = Array.from({ length: 360 }, (_, i): Point2 => {
        const at = (i * Math.PI) / 180;
        const radius = 12 + 0.004 * Math.cos(lobes * at);
        return [7 + radius * Math.cos(at), radius * Math.sin(at) - 3];
      });

      const { roundnessMm, centreMm } = fitted(minimumZoneRoundness(points));

      // 360 points miss a trough between two of them by at most 0.004 (1 − cos(5 · 0.5°)).
      expect(Math.abs(roundnessMm - 0.008)).toBeLessThan(4e-6);
      expect(Math.hypot(centreMm[0] - 7, centreMm[1] + 3)).toBeLessThan(2e-4);
    }
  });

  it("refuses an arc of less than 180°, and takes one of 180°", () => {
    const arc = (degrees: number[]) =>
      degrees.map((d): Point2 => [10 * Math.cos((d * Math.PI) / 180), 10 * Math.sin((d * Math.PI) / 180)]);

    expect(minimumZoneRoundness(arc([0, 40, 80, 130, 179]))).toBe("arc_too_short");
    expect(fitted(minimumZoneRoundness(arc([0, 40, 80, 130, 181]))).roundnessMm).toBeCloseTo(0, 12);
    expect(
      minimumZoneRoundness([
        [0, 0],
        [1, 0],
      ]),
    ).toBe("too_few_points");
  });

  it("copes with a point near the very centre", () => {
    const ring = Array.from({ length: 12 }, (_, i): Point2 => {
      const at = (i * Math.PI) / 6;
      return [5 * Math.cos(at), 5 * Math.sin(at)];
    });

    expect(fitted(minimumZoneRoundness([...ring, [0, 0]])).roundnessMm).toBeLessThanOrEqual(5);
  });

  it("is what trying every centre finds", () => {
    fc.assert(
      fc.property(nearCircle({ least: 6, most: 9, formMm: 0.05 }), angle, ({ points }, by) => {
        const { roundnessMm } = fitted(minimumZoneRoundness(turned2(points, by)));
        expect(Math.abs(roundnessMm - roundnessByTrial(points))).toBeLessThan(rounding);
      }),
      { numRuns: 100 },
    );
  });

  it("has its zone about its centre, never wider than the least-squares roundness, and the same 10 m away", () => {
    fc.assert(
      fc.property(nearCircle(), angle, offset, offset, ({ points }, by, x, y) => {
        const circle = fitted(fitCircle(points));
        fc.pre(circle.arcDeg >= 181);
        const { roundnessMm, centreMm } = fitted(minimumZoneRoundness(points));
        expect(range(points.map((p) => Math.hypot(p[0] - centreMm[0], p[1] - centreMm[1])))).toBeCloseTo(
          roundnessMm,
          11,
        );
        expect(roundnessMm).toBeLessThanOrEqual(circle.roundnessMm + 1e-14);
        const moved = fitted(minimumZoneRoundness(turned2(points, by, [x, y])));
        expect(Math.abs(moved.roundnessMm - roundnessMm)).toBeLessThan(rounding);
      }),
    );
  });

  it("does not change with a point between the circles", () => {
    fc.assert(
      fc.property(nearCircle(), angle, fc.integer({ min: 1, max: 9 }), ({ points }, at, tenths) => {
        const { roundnessMm, centreMm } = fitted(minimumZoneRoundness(points));
        const radii = points.map((p) => Math.hypot(p[0] - centreMm[0], p[1] - centreMm[1]));
        const radius = Math.min(...radii) + (roundnessMm * tenths) / 10;
        const inside: Point2 = [centreMm[0] + radius * Math.cos(at), centreMm[1] + radius * Math.sin(at)];
        const again = fitted(minimumZoneRoundness([...points, inside]));
        expect(Math.abs(again.roundnessMm - roundnessMm)).toBeLessThan(rounding);
      }),
    );
  });
});

describe("leastSlab", () => {
  const height = fc.tuple(
    fc.integer({ min: -9, max: 9 }),
    fc.integer({ min: -9, max: 9 }),
    fc.integer({ min: -99, max: 99 }),
  );
  const spread = (points: Height[]) =>
    points.some(([x, y]) =>
      points.some(
        ([u, v]) => (x - points[0]![0]) * (v - points[0]![1]) !== (y - points[0]![1]) * (u - points[0]![0]),
      ),
    );

  it("is what trying all slopes finds, also with several heights over one place", () => {
    fc.assert(
      fc.property(fc.array(height, { minLength: 4, maxLength: 9 }).filter(spread), (points) => {
        const edges = pairs(points).map(([a, b]) => [b[0] - a[0], b[1] - a[1], b[2] - a[2]] as const);
        const widths = pairs(edges).flatMap(([[x, y, z], [u, v, w]]) => {
          const determinant = x * v - u * y;
          if (determinant === 0) return [];
          const [a, b] = [(z * v - w * y) / determinant, (x * w - u * z) / determinant];
          return [range(points.map((p) => p[2] - a * p[0] - b * p[1]))];
        });
        const { a, b, low, high } = leastSlab(points);
        expect(high - low).toBeCloseTo(Math.min(...widths), 10);
        for (const [x, y, z] of points) {
          expect(z - a * x - b * y).toBeGreaterThanOrEqual(low);
          expect(z - a * x - b * y).toBeLessThanOrEqual(high);
        }
      }),
      { numRuns: 300 },
    );
  });

  it("throws where the places lie on one line", () => {
    expect(() =>
      leastSlab([
        [0, 0, 1],
        [1, 1, 2],
        [2, 2, 0],
      ]),
    ).toThrow(RangeError);
  });
});
