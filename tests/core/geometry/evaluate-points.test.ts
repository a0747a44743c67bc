import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  circleOfPoints,
  cylindricityOfPoints,
  flatnessOfPoints,
  type PointsPm,
  straightnessOfPoints,
} from "../../../src/core/geometry/evaluate-points.js";
import { fitCircle } from "../../../src/core/geometry/fit-circle.js";
import type { Point2 } from "../../../src/core/geometry/points.js";
import { pm } from "../../support/blocks.js";
import { fitted, nearCircle, offset } from "../../support/points.js";
import { readData } from "../data/read-data.js";

const mm = (points: readonly (readonly number[])[]): PointsPm => points.map((point) => point.map(pm));
const quadrants = [
  [40.012, 25],
  [30, 35.008],
  [20.01, 25.002],
  [30.001, 14.997],
];

describe("circleOfPoints", () => {
  interface Case {
    kind: string;
    what: string;
    source: string;
    inputs: { points: Point2[] };
    expected: { geometric: Record<"xc" | "yc" | "r" | "radial_range", string> };
  }
  const cases = readData<Case[]>("geometry.json").filter(({ kind }) => kind === "circle-fit");
  const round = cases.filter(
    ({ expected: { geometric } }) => Number(geometric.radial_range) < Number(geometric.r) / 5,
  );

  it.each(round)("gives whole picometres of $what [$source]", ({ inputs, expected }) => {
    const { xc, yc, r, radial_range } = expected.geometric;

    const circle = fitted(circleOfPoints(mm(inputs.points), undefined));

    // The reference took the doubles next to the decimals; a factor says how much of a picometre that is.
    const near = (value: number, printed: string, factor: number) =>
      expect(Math.abs(value - Number(printed) * 1e9)).toBeLessThan(1 + 1e-3 * factor);
    near(circle.diameterPm / 2, r, circle.diameterFactor);
    near(circle.centrePm[0]!, xc, circle.centreFactor);
    near(circle.centrePm[1]!, yc, circle.centreFactor);
    near(circle.leastSquaresPm, radial_range, 1);
  });

  it("takes the ball off a boss and adds it in a bore, and leaves centre and form alone", () => {
    const points = mm(quadrants);
    const plain = fitted(circleOfPoints(points, undefined));
    const bore = fitted(circleOfPoints(points, { diameterPm: pm(6), touched: "inside" }));
    const boss = fitted(circleOfPoints(points, { diameterPm: pm(6), touched: "outside" }));

    expect(bore).toEqual({ ...plain, diameterPm: plain.diameterPm + pm(6) });
    expect(boss).toEqual({ ...plain, diameterPm: plain.diameterPm - pm(6) });
    expect(circleOfPoints(points, { diameterPm: pm(21), touched: "outside" })).toBe("ball_too_large");
  });

  it.each([
    ["z", [0, 1], (x: number, y: number) => [x, y, -12]],
    ["y", [0, 2], (x: number, y: number) => [x, 7, y]],
    ["x", [1, 2], (x: number, y: number) => [3.5, x, y]],
  ] as const)("takes points in space of which %s stays the same", (_, axes, lift) => {
    const flat = fitted(circleOfPoints(mm(quadrants), undefined));

    const circle = fitted(circleOfPoints(mm(quadrants.map(([x, y]) => lift(x!, y!))), undefined));

    expect(circle).toEqual({
      ...flat,
      axes,
      centrePm: lift(flat.centrePm[0]!, flat.centrePm[1]!).map((x) => (Math.abs(x) > 1e6 ? x : pm(x))),
    });
  });

  it("refuses points in no section, and points far off any circle", () => {
    expect(
      circleOfPoints(
        mm([
          [0, 0, 0],
          [10, 0, 0.001],
          [0, 10, 0],
          [10, 10, 0],
        ]),
        undefined,
      ),
    ).toBe("not_in_a_plane");
    // The two walls of a groove, 10 mm apart.
    const walls = [-20, -10, 0, 10, 20].flatMap((x) => [
      [x, 0],
      [x, 10],
    ]);
    expect(circleOfPoints(mm(walls), undefined)).toBe("not_round");
    expect(circleOfPoints([], undefined)).toBe("too_few_points");
  });

  it("gives no minimum zone of less than 180°", () => {
    const arc = [0, 20, 45, 70, 90].map((d) => [
      10 * Math.cos((d * Math.PI) / 180),
      10 * Math.sin((d * Math.PI) / 180),
    ]);

    const circle = fitted(circleOfPoints(mm(arc), undefined));

    expect(circle.minimumZonePm).toBeUndefined();
    expect(circle.arcDeg).toBeCloseTo(90, 6);
  });

  it("is what the fit in mm gives, to a picometre, however far away", () => {
    fc.assert(
      fc.property(nearCircle({ least: 6 }), offset, offset, ({ points }, x, y) => {
        const plain = fitted(fitCircle(points));
        const far = fitted(
          circleOfPoints(
            points.map(([a, b]) => [pm(a) + pm(x), pm(b) + pm(y)]),
            undefined,
          ),
        );
        expect(Math.abs(far.diameterPm - plain.diameterMm * 1e9)).toBeLessThan(2);
        expect(Math.abs(far.centrePm[0]! - pm(x) - plain.centreMm[0] * 1e9)).toBeLessThan(3);
        expect(far.minimumZonePm).toBeLessThanOrEqual(far.leastSquaresPm);
      }),
    );
  });
});

describe("flatnessOfPoints", () => {
  it("gives both forms of a face", () => {
    const face = [
      [0, 0, 5],
      [20, 0, 5],
      [0, 20, 5],
      [20, 20, 5],
      [10, 10, 5.006],
    ];

    // The four corners leave no tilt: the minimum zone is the height of the middle point.
    expect(flatnessOfPoints(mm(face))).toEqual({
      leastSquaresPm: expect.closeTo(pm(0.006), -3),
      minimumZonePm: pm(0.006),
      redundancy: 2,
    });
  });

  it("refuses points of a plane, on a line, or too few", () => {
    expect(
      flatnessOfPoints(
        mm([
          [0, 0],
          [1, 0],
          [0, 1],
        ]),
      ),
    ).toBe("not_in_space");
    expect(
      flatnessOfPoints(
        mm([
          [0, 0, 0],
          [1, 1, 1],
          [2, 2, 2],
        ]),
      ),
    ).toBe("collinear");
    expect(flatnessOfPoints([])).toBe("too_few_points");
  });
});

describe("straightnessOfPoints", () => {
  it("gives both forms of a line, in a plane and in a section of space", () => {
    const edge = [
      [0, 0],
      [50, 0.004],
      [100, 0],
    ];
    const expected = { leastSquaresPm: pm(0.004), minimumZonePm: pm(0.004), redundancy: 1 };

    expect(straightnessOfPoints(mm(edge))).toEqual(expected);
    expect(straightnessOfPoints(mm(edge.map(([x, z]) => [x!, -3, z!])))).toEqual(expected);
    expect(
      straightnessOfPoints(
        mm([
          [0, 0, 0],
          [50, 1, 1],
          [100, 0, 0],
        ]),
      ),
    ).toBe("not_in_a_plane");
    expect(straightnessOfPoints(mm([[0, 0]]))).toBe("too_few_points");
  });
});

describe("cylindricityOfPoints", () => {
  const ring = (h: number, radius: number) =>
    [0, 50, 120, 170, 250, 300].map((d) => [
      radius * Math.cos((d * Math.PI) / 180),
      radius * Math.sin((d * Math.PI) / 180),
      h,
    ]);
  const barrel = [...ring(0, 10), ...ring(15, 10.006), ...ring(30, 10)];

  it("is the same along any of the coordinates", () => {
    // By symmetry the middle ring stands out by 0.006 from the two others, about one axis.
    for (const turn of [0, 1, 2]) {
      const points = mm(barrel.map((p) => [p[turn]!, p[(turn + 1) % 3]!, p[(turn + 2) % 3]!]));
      const { leastSquaresPm, minimumZonePm, redundancy } = fitted(cylindricityOfPoints(points));
      expect(Math.abs(leastSquaresPm - pm(0.006))).toBeLessThan(pm(0.00001));
      expect([minimumZonePm, redundancy]).toEqual([undefined, 13]);
    }
  });

  it("refuses one section, a plane, too few points, and what is no cylinder", () => {
    expect(cylindricityOfPoints(mm(ring(0, 10)))).toBe("undetermined");
    expect(cylindricityOfPoints(mm(quadrants))).toBe("not_in_space");
    expect(cylindricityOfPoints([])).toBe("too_few_points");
    const block = [0, 10, 20].flatMap((x) =>
      [0, 10, 20].flatMap((y) => [
        [x, y, 0],
        [x, y, 12],
      ]),
    );
    expect(cylindricityOfPoints(mm(block))).toBe("not_round");
  });
});
