import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  commonRanges,
  countPieces,
  hasPiece,
  joinRanges,
  type PieceRange,
  withoutRanges,
} from "../../../src/core/containment/piece-ranges.js";

const anyRange = fc
  .tuple(fc.integer({ min: 1, max: 30 }), fc.integer({ min: 0, max: 6 }))
  .map(([from, more]): PieceRange => ({ from, to: from + more }));
const anyRanges = fc.array(anyRange, { maxLength: 8 });

/** The slow way: every piece by itself. */
function piecesOf(ranges: readonly PieceRange[]): number[] {
  return Array.from({ length: 40 }, (_, i) => i + 1).filter((piece) =>
    ranges.some(({ from, to }) => piece >= from && piece <= to),
  );
}

describe("ranges of pieces", () => {
  it("hold the same pieces joined, in order and apart from each other", () => {
    fc.assert(
      fc.property(anyRanges, (ranges) => {
        const joined = joinRanges(ranges);

        expect(piecesOf(joined)).toEqual(piecesOf(ranges));
        expect(countPieces(joined)).toBe(piecesOf(ranges).length);
        const gaps = joined.slice(1).map(({ from }, i) => from - joined[i]!.to);
        expect(gaps.filter((gap) => gap < 2)).toEqual([]);
      }),
    );
  });

  it("are taken from each other, and have in common, what single pieces say", () => {
    fc.assert(
      fc.property(anyRanges, anyRanges, (a, b) => {
        const [mine, theirs] = [piecesOf(a), piecesOf(b)];

        expect(piecesOf(withoutRanges(a, b))).toEqual(mine.filter((piece) => !theirs.includes(piece)));
        expect(piecesOf(commonRanges(a, b))).toEqual(mine.filter((piece) => theirs.includes(piece)));
        for (const piece of [1, 7, 36]) expect(hasPiece(a, piece)).toBe(mine.includes(piece));
      }),
    );
  });

  it("join where one ends just before the other begins", () => {
    expect(
      joinRanges([
        { from: 4, to: 5 },
        { from: 1, to: 3 },
      ]),
    ).toEqual([{ from: 1, to: 5 }]);
  });
});
