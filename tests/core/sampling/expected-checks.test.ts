import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { jumpInterval } from "../../../src/core/sampling/allowed-interval.js";
import { checksIfAllGoesWell } from "../../../src/core/sampling/expected-checks.js";
import { earnedInterval } from "../../../src/core/sampling/plan-checks.js";

describe("checksIfAllGoesWell", () => {
  // Good checks earn 1, 1, 2, 4, 6, 8, 10, 10 … pieces, and jumps allow √((n + 500)/10), which is 7 from 0 to 139 pieces on:
  // 1, 2, 4, 8, 14, 21, 28, 35, 42, … (by hand)
  it.each([
    [1, 1],
    [2, 2],
    [3, 3],
    [4, 3],
    [8, 4],
    [42, 9],
    [43, 10],
  ])("of %s pieces are %s, the last one among them [by hand]", (quantity, checks) => {
    expect(checksIfAllGoesWell(quantity, 10)).toBe(checks);
  });

  it("begin afresh with an edge: 1, 2, 4, 8, 11, 12, 14, 18, 20 of 20 with one at 11 [by hand]", () => {
    expect(checksIfAllGoesWell(20, 10, [11])).toBe(9);
    expect(checksIfAllGoesWell(20, 10, [1, 21])).toBe(checksIfAllGoesWell(20, 10));
  });

  it("agree with walking piece by piece, and grow with pieces and edges", () => {
    const job = fc.record({
      quantity: fc.integer({ min: 1, max: 400 }),
      largest: fc.integer({ min: 1, max: 30 }),
      edges: fc.array(fc.integer({ min: 1, max: 400 }), { maxLength: 4 }),
    });
    fc.assert(
      fc.property(job, ({ quantity, largest, edges }) => {
        let [checks, good, due] = [0, 0, 1];
        for (let piece = 1; piece <= quantity; piece += 1) {
          const fresh = piece > 1 && edges.includes(piece);
          if (!fresh && piece !== due && piece !== quantity) continue;
          if (fresh) good = 0;
          checks += 1;
          good += 1;
          due = piece + Math.min(earnedInterval(good, largest), jumpInterval(piece, 0, 20));
        }
        expect(checksIfAllGoesWell(quantity, largest, edges)).toBe(checks);
        expect(checksIfAllGoesWell(quantity + 1, largest, edges)).toBeGreaterThanOrEqual(checks);
      }),
    );
  });

  it.each([0, 2.5, Number.NaN])("refuses %s pieces", (quantity) => {
    expect(() => checksIfAllGoesWell(quantity, 10)).toThrow(RangeError);
  });
});
