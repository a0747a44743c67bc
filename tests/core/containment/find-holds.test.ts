import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  findHolds,
  type Hold,
  type ProofReading,
  standingSince,
} from "../../../src/core/containment/find-holds.js";
import { hasPiece } from "../../../src/core/containment/piece-ranges.js";

let numbers = 0;

function read(piece: number, outcome: "good" | "bad" | "probe_good" | "probe_bad" | "unsure", change = {}) {
  numbers += 1;
  const byReference = !outcome.startsWith("probe");
  const reading: ProofReading = {
    readingNo: numbers,
    piece,
    earliest: piece,
    cut: 1,
    proves: outcome === "good",
    fails: outcome === "bad" || outcome === "probe_bad",
    byReference,
    ...change,
  };
  return reading;
}

const spans = (holds: readonly Hold[]) => holds.map(({ from, to }) => [from, to]);

describe("findHolds", () => {
  it("holds back to the last good piece [common practice: trade case FQ-06]", () => {
    const [hold, ...more] = findHolds([read(40, "good"), read(50, "bad")], 50);

    expect(more).toEqual([]);
    expect(hold).toMatchObject({ from: 41, to: 50, goodBefore: 40, goodAfter: undefined });
    expect(hold?.open).toEqual([{ from: 41, to: 50 }]);
  });

  it("ends before the next good piece, else at the last piece cut", () => {
    const bad = [read(40, "good"), read(50, "bad")];

    expect(spans(findHolds(bad, 63))).toEqual([[41, 63]]);
    expect(spans(findHolds([...bad, read(55, "good")], 63))).toEqual([[41, 54]]);
  });

  it("is released back to the good side by a good piece in it", () => {
    const readings = [read(40, "good"), read(50, "bad"), read(51, "good"), read(45, "good")];

    expect(spans(findHolds(readings, 51))).toEqual([[46, 50]]);
    expect(spans(findHolds([...readings, read(49, "good")], 51))).toEqual([[50, 50]]);
  });

  it("makes one hold of bad pieces between the same good ones", () => {
    const holds = findHolds([read(10, "good"), read(14, "bad"), read(17, "bad"), read(20, "good")], 20);

    expect(holds).toHaveLength(1);
    expect(holds[0]).toMatchObject({ from: 11, to: 19, goodBefore: 10, goodAfter: 20 });
    expect(holds[0]?.bad.map(({ piece }) => piece)).toEqual([14, 17]);
  });

  it("is not released by a probe: it steers and proves nothing", () => {
    const readings = [read(40, "good"), read(50, "bad"), read(51, "probe_good"), read(45, "probe_good")];

    expect(spans(findHolds(readings, 51))).toEqual([[41, 51]]);
  });

  it("is raised by a probe, until a reference gauge says the contrary of the same piece", () => {
    const readings = [read(40, "good"), read(50, "probe_bad")];

    expect(spans(findHolds(readings, 52))).toEqual([[41, 52]]);
    expect(spans(findHolds([...readings, read(50, "good")], 52))).toEqual([[50, 50]]);
  });

  it("keeps a piece with a failing reading, which two good ones outvote for its neighbours only", () => {
    const readings = [read(4, "good"), read(9, "bad"), read(9, "good")];

    expect(spans(findHolds(readings, 9))).toEqual([[5, 9]]);
    expect(spans(findHolds([...readings, read(9, "good")], 9))).toEqual([[9, 9]]);
  });

  it("lets a piece go that was cut again and is good, not its neighbours", () => {
    const [hold] = findHolds([read(40, "good"), read(50, "bad"), read(50, "good", { cut: 2 })], 52);

    expect(hold).toMatchObject({ from: 41, to: 52 });
    expect(hold?.open).toEqual([
      { from: 41, to: 49 },
      { from: 51, to: 52 },
    ]);
  });

  it("does not take a good second cut for a good piece of the run", () => {
    const readings = [read(40, "good"), read(45, "good", { cut: 2 }), read(50, "bad")];

    expect(findHolds(readings, 50)[0]).toMatchObject({ from: 41, to: 50 });
    expect(findHolds(readings, 50)[0]?.open).toEqual([
      { from: 41, to: 44 },
      { from: 46, to: 50 },
    ]);
  });

  it("holds a piece alone that was spoilt when it was cut again", () => {
    const readings = [read(40, "good"), read(50, "good"), read(50, "bad", { cut: 2 }), read(60, "good")];

    expect(spans(findHolds(readings, 60))).toEqual([[50, 50]]);
  });

  it("keeps a piece that was cut again and measured by a probe only", () => {
    const readings = [
      read(49, "good"),
      read(50, "bad"),
      read(50, "probe_good", { cut: 2 }),
      read(51, "good"),
    ];

    expect(findHolds(readings, 51)[0]?.open).toEqual([{ from: 50, to: 50 }]);
  });

  it("reaches as far as a piece may lie that nobody is sure of", () => {
    const bad = read(50, "bad", { earliest: 48 });

    expect(spans(findHolds([read(47, "good"), bad, read(51, "good")], 51))).toEqual([[48, 50]]);
    // A good one of the last three proves no more than the first of them, and bounds nothing that it may lie in.
    expect(spans(findHolds([read(45, "good", { earliest: 43 }), read(50, "bad")], 50))).toEqual([[44, 50]]);
    expect(spans(findHolds([read(49, "good"), bad], 50))).toEqual([[1, 50]]);
  });

  it("says of a reworked piece what was read since, and nothing about its neighbours", () => {
    const readings = [read(40, "good"), read(50, "bad"), read(45, "good", { reworks: 1 })];
    const reworksOf = (piece: number) => (piece === 45 || piece === 50 ? 1 : 0);

    const [hold] = findHolds(readings, 50, reworksOf);

    expect(hold).toMatchObject({ from: 41, to: 50 });
    expect(hold?.open).toEqual([
      { from: 41, to: 44 },
      { from: 46, to: 50 },
    ]);
    const good = findHolds([...readings, read(50, "good", { reworks: 1 })], 50, reworksOf);
    expect(good[0]?.open).toEqual([
      { from: 41, to: 44 },
      { from: 46, to: 49 },
    ]);
  });

  it("finds nothing where nothing failed", () => {
    expect(findHolds([read(1, "good"), read(2, "unsure"), read(3, "probe_good")], 9)).toEqual([]);
    expect(findHolds([], 0)).toEqual([]);
  });
});

const anyReading = fc.record({
  piece: fc.integer({ min: 1, max: 25 }),
  cut: fc.constantFrom(1, 1, 1, 2),
  outcome: fc.constantFrom("good", "good", "bad", "probe_good", "probe_bad", "unsure" as const),
});
const anyReadings = fc
  .array(anyReading, { maxLength: 30 })
  .map((list) => list.map(({ piece, cut, outcome }, i) => read(piece, outcome, { cut, readingNo: i + 1 })));

describe("holds, whatever was read", () => {
  it("do not depend on the order in which the readings came", () => {
    const shuffled = anyReadings.chain((readings) =>
      fc.tuple(
        fc.constant(readings),
        fc.shuffledSubarray(readings, { minLength: readings.length, maxLength: readings.length }),
      ),
    );
    fc.assert(
      fc.property(shuffled, ([readings, other]) => {
        expect(findHolds(other, 25)).toEqual(findHolds(readings, 25));
      }),
      { numRuns: 300 },
    );
  });

  it("hold a piece exactly where no good one stands between it and a bad one", () => {
    fc.assert(
      fc.property(anyReadings, (readings) => {
        const holds = findHolds(readings, 25);
        const of = (piece: number) => readings.filter((reading) => reading.piece === piece);
        const pieces = Array.from({ length: 25 }, (_, i) => i + 1);
        const good = pieces.filter((piece) => speaks(of(piece)) === "for");
        const bad = pieces.filter((piece) => speaks(of(piece)) === "against");
        for (const piece of pieces) {
          const doubted = bad.some((b) => !good.some((g) => (g >= piece && g < b) || (g <= piece && g > b)));
          const failed = of(piece).some(({ fails }) => fails);
          const held = (doubted || failed) && standingSince(of(piece), 0) !== "good";
          expect([piece, holds.some(({ open }) => hasPiece(open, piece))]).toEqual([piece, held]);
        }
      }),
      { numRuns: 300 },
    );
  });

  it("shrink or stay with every good piece more, and grow or stay with every bad one", () => {
    fc.assert(
      fc.property(anyReadings, fc.integer({ min: 1, max: 25 }), (readings, piece) => {
        const fresh = readings.every((reading) => reading.piece !== piece);
        fc.pre(fresh);
        const held = (list: readonly ProofReading[]) => {
          const holds = findHolds(list, 25);
          return Array.from({ length: 25 }, (_, i) => i + 1).filter((p) =>
            holds.some(({ open }) => hasPiece(open, p)),
          );
        };
        const before = held(readings);

        const withGood = held([...readings, read(piece, "good")]);
        const withBad = held([...readings, read(piece, "bad")]);

        expect(withGood.filter((p) => !before.includes(p))).toEqual([]);
        expect(before.filter((p) => !withBad.includes(p))).toEqual([]);
      }),
      { numRuns: 200 },
    );
  });
});

/** The rule for neighbours in words: first cut only; failing by reference outvoted by more proving, by a probe by one. */
function speaks(readings: readonly ProofReading[]): "for" | "against" | "nothing" {
  if (readings.length === 0) return "nothing";
  const first = Math.min(...readings.map(({ cut }) => cut));
  const mine = readings.filter(({ cut }) => cut === first);
  const proving = mine.filter(({ proves }) => proves).length;
  const failing = mine.filter(({ fails, byReference }) => fails && byReference).length;
  if (failing > 0) return proving > failing ? "nothing" : "against";
  if (mine.some(({ fails }) => fails)) return proving > 0 ? "nothing" : "against";
  return proving > 0 && first === 1 ? "for" : "nothing";
}
