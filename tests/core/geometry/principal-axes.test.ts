import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dot } from "../../../src/core/geometry/points.js";
import { principalAxes } from "../../../src/core/geometry/principal-axes.js";

describe("principalAxes", () => {
  it("of rows along the coordinates are the coordinates, longest first", () => {
    const axes = principalAxes([
      [0, 3, 0],
      [0, -4, 0],
      [1, 0, 0],
      [0, 0, 2],
    ]);

    expect(axes.map(({ extent }) => extent)).toEqual([5, 2, 1]);
    expect(axes[0]!.direction.map(Math.abs)).toEqual([0, 1, 0]);
  });

  it("keep an extent of 10⁻¹² beside one of 1", () => {
    const axes = principalAxes([
      [1, 1 + 1e-12],
      [-1, -1 - 1e-12],
      [1e-12, -1e-12],
    ]);

    expect(axes[1]!.extent).toBeCloseTo(Math.SQRT2 * 1e-12, 14);
  });

  it("are at right angles, of length 1, and hold all of the rows", () => {
    const row = fc.tuple(...[0, 1, 2].map(() => fc.integer({ min: -1000, max: 1000 })));
    fc.assert(
      fc.property(fc.array(row, { minLength: 1, maxLength: 10 }), (rows) => {
        const axes = principalAxes(rows);
        axes.forEach((a, i) => {
          axes.forEach((b, j) => void expect(dot(a.direction, b.direction)).toBeCloseTo(i === j ? 1 : 0, 13));
          const along = rows.map((r) => dot(r, a.direction));
          expect(Math.sqrt(dot(along, along))).toBeCloseTo(a.extent, 9);
        });
        const all = rows.reduce((sum, r) => sum + dot(r, r), 0);
        expect(axes.reduce((sum, { extent }) => sum + extent ** 2, 0)).toBeCloseTo(all, 5);
      }),
    );
  });
});
