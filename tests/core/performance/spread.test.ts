import fc from "fast-check";
import { expect, it } from "vitest";
import { spreadOverall, spreadWithin, trendOf } from "../../../src/core/performance/spread.js";

it("the trend is a common slope with a level for each phase, worked by hand", () => {
  // Phase 1: 0, 1, 3 on pieces 1, 2, 3; phase 2: 0, 2 on pieces 4, 5. Σx² = 2.5, Σxy = 4, slope 1.6.
  const trend = trendOf([
    [
      { piece: 1, size: 0 },
      { piece: 2, size: 1 },
      { piece: 3, size: 3 },
    ],
    [
      { piece: 4, size: 0 },
      { piece: 5, size: 2 },
    ],
  ])!;
  expect(trend.slope).toBeCloseTo(1.6, 12);
  expect(trend.degrees).toBe(2);
  // Σy² = 14/3 + 2, less 4²/2.5.
  expect(trend.s).toBeCloseTo(Math.sqrt((14 / 3 + 2 - 6.4) / 2), 12);
  expect(trend.slopeUncertainty).toBeCloseTo(trend.s / Math.sqrt(2.5), 12);
});

it("does not see corrections: a shift of a phase changes neither slope nor scatter", () => {
  const noise = [3, -1, 4, 1, -5, 9, 2, -6];
  const phase = (from: number, level: number) =>
    noise.map((e, i) => ({ piece: from + i, size: level + 0.5 * i + e }));
  fc.assert(
    fc.property(fc.integer({ min: -1000, max: 1000 }), (shift) => {
      const plain = trendOf([phase(1, 0), phase(9, 0)])!;
      const moved = trendOf([phase(1, 0), phase(9, shift)])!;
      expect(moved.slope).toBeCloseTo(plain.slope, 9);
      expect(moved.s).toBeCloseTo(plain.s, 9);
    }),
  );
});

it("takes no moving range across phases", () => {
  expect(
    spreadWithin([
      [1, 2],
      [100, 101],
    ])!.s,
  ).toBeCloseTo(Math.sqrt(Math.PI) / 2, 8);
});

it("says nothing of too few", () => {
  expect(spreadWithin([[1], [2]])).toBeUndefined();
  expect(spreadOverall([1])).toBeUndefined();
  expect(
    trendOf([
      [
        { piece: 1, size: 1 },
        { piece: 2, size: 2 },
      ],
    ]),
  ).toBeUndefined();
  expect(
    trendOf([
      [],
      [
        { piece: 1, size: 1 },
        { piece: 1, size: 2 },
        { piece: 1, size: 3 },
      ],
    ]),
  ).toBeUndefined();
});
