import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  blockProbabilityOut,
  jointProbabilityOut,
  jumpInterval,
  oddProbability,
  riskInterval,
  usualLimits,
} from "../../../src/core/sampling/allowed-interval.js";
import { nextBlockCheck } from "../../../src/core/sampling/block-check.js";
import { startEstimate } from "../../../src/core/wear-offset/estimate.js";
import {
  blockOf,
  changeTo,
  follow,
  journalOf,
  readingOf,
  readingsOf,
  ribBlock,
} from "../../support/blocks.js";

describe("jumpInterval", () => {
  it.each([
    [0, 0, 7],
    [360, 0, 9],
    [360, 2, 5],
    [360, 4, 4],
    [1000, 0, 12],
  ])("after %d pieces with %d jumps is %d (the project's method note, section 6 G)", (pieces, jumps, n) => {
    expect(jumpInterval(pieces, jumps, 20)).toBe(n);
  });

  it("is shorter by √2 where seats may shift as well: M = 250 and 500", () => {
    expect([jumpInterval(0, 0, 20, 2), jumpInterval(500, 0, 20, 2)]).toEqual([5, 7]);
    expect(jumpInterval(500, 0, 20)).toBe(10);
  });

  it("is 2 at least, however often it jumps", () => {
    expect(jumpInterval(10, 500, 20)).toBe(2);
  });
});

describe("oddProbability", () => {
  it("is (x − ½)/(n + 50), and nothing before the first", () => {
    expect(oddProbability(0, 5)).toBe(0);
    expect(oddProbability(1, 50)).toBe(0.005);
    expect(oddProbability(3, 75)).toBe(0.02);
  });

  it("has every piece measured until 50 pieces were after one single odd piece outside a limit", () => {
    const steady = (from: number, to: number) =>
      Array.from({ length: to - from + 1 }, (_, i) => readingOf(from + i, 12 + (i % 2) / 1000));
    const odd = [readingOf(21, 12.04), readingOf(21, 12.04)];
    const every = (last: number) => {
      const list = [...steady(1, 20), ...odd, ...steady(22, last)];
      const { cache } = follow(ribBlock(), journalOf(ribBlock()), list);
      return nextBlockCheck({
        block: ribBlock(),
        journal: journalOf(ribBlock()),
        progress: cache.after,
        countedFrom: last,
        questionOpen: false,
      });
    };

    expect(every(40)).toMatchObject({ every: 1, rule: "odd_pieces" });
    expect(every(49)).toMatchObject({ every: 1, rule: "odd_pieces" });
    expect(every(60).every).toBeGreaterThan(1);
  });
});

describe("riskInterval", () => {
  const printed = [0.00118, 0.00199, 0.00326, 0.00523, 0.0082];
  const chance = (j: number) => printed[j - 1]!;

  it("is 3 for the chances of example G and a risk of 0.005 (the project's method note, section 6 G)", () => {
    expect(riskInterval(chance, 0.005, 5)).toBe(3);
  });

  it("is 1 if the piece after next is too much at risk already, even where the next is not", () => {
    expect(riskInterval((j) => (j === 1 ? 0 : 0.006), 0.005, 10)).toBe(1);
  });

  it("counts a chance that is just the risk as allowed", () => {
    expect(riskInterval(() => 0.005, 0.005, 10)).toBe(10);
  });

  it("is the largest n up to which every chance from the second piece on is within the risk", () => {
    const chances = fc.array(fc.double({ min: 0, max: 0.01, noNaN: true }), { minLength: 10, maxLength: 10 });
    fc.assert(
      fc.property(chances, fc.integer({ min: 1, max: 10 }), (each, most) => {
        const n = riskInterval((j) => each[j - 1]!, 0.005, most);

        expect(n).toBeLessThanOrEqual(most);
        for (let j = 2; j <= n; j++) expect(each[j - 1]!).toBeLessThanOrEqual(0.005);
        if (n < most) expect(each[n]!).toBeGreaterThan(0.005);
      }),
    );
  });
});

describe("jointProbabilityOut", () => {
  it("is one less the chance that all are inside: 0.1 and 0.2 make 0.28", () => {
    expect(jointProbabilityOut([0.1, 0.2])).toBeCloseTo(0.28, 15);
    expect(jointProbabilityOut([])).toBe(0);
  });
});

describe("blockProbabilityOut", () => {
  it("is of a seat that nobody has measured larger than of one that is known", () => {
    const block = blockOf({ seats: 2, features: [{ nominal: 25, effects: [1] }] });
    const journal = journalOf(block);
    const list = [1, 3, 5, 7].map((piece) => readingOf(piece, 25, { seat: 0 }));
    const { estimate } = follow(block, journal, list).cache.after;
    const seatOf = (piece: number) => (piece - 1) % 2;

    const chance = blockProbabilityOut(block, estimate, 7, [0], [0], seatOf);

    expect(chance(1)).toBeGreaterThan(10 * chance(2));
  });

  it("leaves out what is measured on every piece anyway", () => {
    const block = blockOf({
      features: [
        { nominal: 12, tolerance: 0.001, effects: [2] },
        { nominal: 8, tolerance: 0.5, effects: [0], tool: undefined },
      ],
    });
    const estimate = startEstimate(
      block,
      [{ level: 0, levelVariance: 1, rate: 0, covariance: 0, rateVariance: 0 }],
      [0],
    );
    const none = () => undefined;

    expect(blockProbabilityOut(block, estimate, 0, [0], [0, 1], none)(1)).toBeGreaterThan(0.9);
    expect(blockProbabilityOut(block, estimate, 0, [0], [1], none)(1)).toBeLessThan(0.001);
  });
});

describe("nextBlockCheck", () => {
  const rib = ribBlock();
  const good = (count: number, size = 12) =>
    Array.from({ length: count }, (_, k) => readingOf(k + 1, size + 0.0005 * (k % 2)));
  const checkAfter = (list: ReturnType<typeof good>, more = {}, journal = journalOf(rib)) => {
    const { after, piece } = follow(rib, journal, list).cache;
    return nextBlockCheck({
      block: rib,
      journal,
      progress: after,
      countedFrom: piece,
      questionOpen: false,
      ...more,
    });
  };

  it("keeps to the largest interval that a shop sets", () => {
    const check = checkAfter(good(12), { limits: { ...usualLimits, largest: 4 } });

    expect(check).toMatchObject({ every: 4, rule: "largest_interval" });
  });

  it("runs shorter the smaller the risk that a shop takes", () => {
    const near = good(12, 12.018);
    const every = (risk: number) => checkAfter(near, { limits: { ...usualLimits, risk } }).every;

    expect(checkAfter(near).rule).toBe("drift");
    expect(every(1e-6)).toBe(1);
    expect(every(0.2)).toBeGreaterThan(every(0.005));
  });

  it("says what each limit allows, so that the next larger one is known", () => {
    expect(checkAfter(good(12)).allowed).toEqual({
      earned: 10,
      risk: 7,
      jumps: 7,
      largest: 10,
      chance: 0.005,
      oddChance: 0,
    });
  });

  it("measures the first piece after a change whatever is allowed", () => {
    const journal = journalOf(rib, { changes: [changeTo(-0.002, 13)] });

    expect(checkAfter(good(12), {}, journal)).toMatchObject({ piece: 13, rule: "after_change", wait: true });
  });

  const seated = blockOf({ seats: 3, workOffsets: [[1]], features: [{ nominal: 25, effects: [1] }] });
  const seatOf = (piece: number) => (piece - 1) % 3;
  const inSeats = (pieces: number[], size: (piece: number) => number = () => 25) =>
    pieces.map((piece) => readingOf(piece, size(piece), { seat: seatOf(piece) }));
  const seatCheck = (list: ReturnType<typeof good>, journal = journalOf(seated)) => {
    const { after, piece } = follow(seated, journal, list).cache;
    return nextBlockCheck({
      block: seated,
      journal,
      progress: after,
      countedFrom: piece,
      questionOpen: false,
      seatOf,
    });
  };

  it("measures the first piece of every seat", () => {
    expect(seatCheck(inSeats([1, 4, 7, 10]))).toMatchObject({ piece: 11, rule: "seat" });
    expect(seatCheck(inSeats([1, 2, 4, 7, 10]))).toMatchObject({ piece: 12, rule: "seat" });
  });

  it("takes of the second half of an interval the piece whose seat was measured longest ago", () => {
    // Every 4: pieces 16, 17 and 18 in seats 1, 2 and 3 come into question; seat 2 was measured last on piece 2.
    const check = seatCheck(inSeats([1, 2, 3, 6, 9, 12, 13, 15]));

    expect(check.every).toBeGreaterThan(2);
    expect(seatOf(check.piece)).toBe(1);
  });

  it("measures the seat of an odd piece again, although the next piece was as expected", () => {
    const list = inSeats([1, 2, 3, 4, 5, 6, 7, 8, 9], (piece) => (piece === 8 ? 25.028 : 25));
    const doubled = [...list, ...inSeats([8], () => 25.028)];

    const { after } = follow(seated, journalOf(seated), doubled).cache;

    expect(after.seatSuspects).toMatchObject([{ piece: 8, seat: 1 }]);
    expect(seatCheck(doubled).piece).toBeLessThanOrEqual(11);
    const again = [...doubled, ...inSeats([11, 11], () => 25.028)];
    expect(follow(seated, journalOf(seated), again).cache.after.cause).toMatchObject({
      firstPiece: 8,
      lastPiece: 11,
      seat: 1,
    });
  });

  it("waits for the first piece of a seat whose work offset was moved", () => {
    const list = inSeats([1, 2, 3, 4, 5, 6]);
    const journal = journalOf(seated, { changes: [changeTo(-0.01, 7, { register: 2 })] });

    expect(seatCheck(list, journal)).toMatchObject({ piece: 8, rule: "after_change", wait: true });
  });

  it("does not count a feature's reading twice: rib and slot of one tool", () => {
    const two = blockOf({
      features: [
        { nominal: 12, effects: [2] },
        { nominal: 16, effects: [-2] },
      ],
    });
    const list = [1, 2, 3].flatMap((piece) => readingsOf(piece, 12, 16));
    const { after, piece } = follow(two, journalOf(two), list).cache;
    const input = { block: two, journal: journalOf(two), progress: after, countedFrom: piece };

    expect(nextBlockCheck({ ...input, questionOpen: false }).every).toBe(4);
    expect(nextBlockCheck({ ...input, questionOpen: true })).toMatchObject({ every: 1, rule: "confirm" });
  });
});
