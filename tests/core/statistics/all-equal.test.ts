import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { chanceOfAllEqual } from "../../../src/core/statistics/all-equal.js";
import { normalCdf } from "../../../src/core/statistics/normal.js";

describe("chanceOfAllEqual", () => {
  it("is the chance of one standard deviation either side for a step of two: 0.6827 (tables of the normal distribution)", () => {
    expect(chanceOfAllEqual(2, 2, 1)).toBeCloseTo(0.682689492, 9);
    expect(chanceOfAllEqual(3, 2, 1)).toBeCloseTo(0.682689492 ** 2, 8);
    expect(chanceOfAllEqual(1, 2, 1)).toBe(1);
  });

  it.each([
    [0, 1, 1],
    [Number.NaN, 1, 1],
    [2, 0, 1],
    [2, 1, 0],
    [2, 1, Number.NaN],
  ])("refuses %s readings, a step of %s and a scatter of %s", (n, step, scatter) => {
    expect(() => chanceOfAllEqual(n, step, scatter)).toThrow(RangeError);
  });

  it("is never below the chance summed step by step, wherever the mean lies on the display", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 12 }),
        fc.double({ min: 0.05, max: 5, noNaN: true }),
        fc.double({ min: -0.5, max: 0.5, noNaN: true }),
        (n, step, offset) => {
          let exact = 0;
          const reach = Math.ceil(9 / step) + 1;
          for (let k = -reach; k <= reach; k++) {
            const middle = (k + offset) * step;
            exact += (normalCdf(middle + step / 2) - normalCdf(middle - step / 2)) ** n;
          }

          expect(chanceOfAllEqual(n, step, 1)).toBeGreaterThanOrEqual(exact - 1e-12);
        },
      ),
    );
  });
});
