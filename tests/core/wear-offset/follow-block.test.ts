import { describe, expect, it } from "vitest";
import type { Block } from "../../../src/core/wear-offset/block.js";
import {
  advance,
  copyEstimate,
  type Estimate,
  expectedDeviation,
} from "../../../src/core/wear-offset/estimate.js";
import {
  type Journal,
  type JournalReading,
  offsetsOf,
  type Progress,
} from "../../../src/core/wear-offset/progress.js";
import {
  adviseBefore,
  blockOf,
  changeTo,
  follow,
  type JournalSpec,
  journalOf,
  pm,
  readingOf,
  readingsOf,
  ribBlock,
} from "../../support/blocks.js";

const rib = ribBlock();
const ribAndSlot = blockOf({
  features: [
    { nominal: 12, tolerance: 0.03, effects: [2] },
    { nominal: 8, tolerance: 0.03, effects: [-2], metal: -1 },
  ],
});

/** Pieces 1 to 6 of a rib that runs well: enough to know what to expect. */
function steadyRib(around = 12): JournalReading[] {
  return [0.001, -0.001, 0, 0.001, 0, -0.001].map((off, k) => readingOf(k + 1, around + off));
}

/** A size measured twice on a piece, as a surprise has to be. */
function twice(piece: number, size: number, more: Partial<JournalReading> = {}): JournalReading[] {
  return [readingOf(piece, size, more), readingOf(piece, size + 0.001, more)];
}

function followRib(readings: JournalReading[], spec: JournalSpec = {}) {
  const journal = journalOf(rib, spec);
  const { cache, questions } = follow(rib, journal, readings);
  return { ...cache.after, questions, odd: cache.odd, journal };
}

/** The estimate without the readings of a piece, carried on to it. */
function carried(block: Block, journal: Journal, readings: JournalReading[], piece: number): Estimate {
  const estimate = copyEstimate(follow(block, journal, readings).cache.after.estimate);
  advance(block, estimate, piece);
  return estimate;
}

describe("a surprising reading", () => {
  it("asks for a second measurement of the piece and leaves the state alone", () => {
    const steady = steadyRib();
    const odd = readingOf(7, 12.04);

    const { questions, estimate, suspect, cause, latest, journal } = followRib([...steady, odd]);

    expect(questions).toMatchObject([{ feature: 0, piece: 7, ask: 2, readingNos: [odd.readingNo] }]);
    expect(estimate).toEqual(carried(rib, journal, steady, 7));
    expect([suspect, cause, latest[0]!.piece]).toEqual([null, null, 6]);
  });

  it("says what was expected and how far a reading may lie from it", () => {
    const [question] = followRib([...steadyRib(), readingOf(7, 12.04)]).questions;

    expect(question!.expectedPm / 1e9).toBeCloseTo(12, 2);
    expect(
      followRib([...steadyRib(), readingOf(7, (question!.expectedPm + question!.withinPm - 1e4) / 1e9)])
        .questions,
    ).toEqual([]);
    expect(
      followRib([...steadyRib(), readingOf(7, (question!.expectedPm + question!.withinPm + 1e4) / 1e9)])
        .questions,
    ).toHaveLength(1);
  });

  it("beyond five half tolerances surprises though next to nothing is known", () => {
    expect(followRib([readingOf(1, 12.149)]).questions).toEqual([]);
    expect(followRib([readingOf(1, 12.151)]).questions).toHaveLength(1);
  });

  it("counts with its mean once a second one agrees", () => {
    const { questions, latest, registers } = followRib([readingOf(1, 12.16), readingOf(1, 12.164)]);

    expect(questions).toEqual([]);
    expect(latest[0]).toMatchObject({ piece: 1, sizePm: pm(12.162) });
    expect(registers[0]).toMatchObject({ usedSinceEdge: 2, measuredPieces: 1 });
  });

  it("asks a third where two disagree, and takes the middle of three", () => {
    const [first, second, third] = [readingOf(7, 12.24), readingOf(7, 12.003), readingOf(7, 12.002)];

    const asked = followRib([...steadyRib(), first, second]);
    const settled = followRib([...steadyRib(), first, second, third]);

    expect(asked.questions).toMatchObject([{ ask: 3, readingNos: [first.readingNo, second.readingNo] }]);
    expect(settled.questions).toEqual([]);
    expect(settled.latest[0]).toMatchObject({ piece: 7, sizePm: pm(12.003) });
    expect(settled.odd).toBe(false);
  });

  it("agrees with a second one as far as the coarser of two gauges allows", () => {
    const coarse = { gaugeVariance: 0.004 ** 2 };
    const apart = [readingOf(7, 12.003), readingOf(7, 11.983)];

    expect(followRib([...steadyRib(), ...apart]).questions).toMatchObject([{ ask: 3 }]);
    expect(followRib([...steadyRib(), apart[0]!, { ...apart[1]!, ...coarse }]).questions).toEqual([]);
  });

  it("keeps the trust that was earned until it is answered", () => {
    expect(followRib(steadyRib()).goodInARow).toBe(6);
    expect(followRib([...steadyRib(), readingOf(7, 12.25)]).goodInARow).toBe(6);
  });
});

describe("an odd piece", () => {
  it("is left out and makes the next one count", () => {
    const steady = steadyRib();

    const { estimate, suspect, cause, goodInARow, odd, journal } = followRib([...steady, ...twice(7, 12.04)]);

    expect(odd).toBe(true);
    expect(suspect).toEqual({ piece: 7, features: [0], register: 0, out: true });
    expect(cause).toBeNull();
    expect(goodInARow).toBe(0);
    expect(estimate).toEqual(carried(rib, journal, steady, 7));
  });

  it("is forgotten when the next piece is normal", () => {
    const { suspect, cause, odd, latest } = followRib([
      ...steadyRib(),
      ...twice(7, 12.04),
      readingOf(8, 12.001),
    ]);

    expect([suspect, cause, odd]).toEqual([null, null, false]);
    expect(latest[0]!.piece).toBe(8);
  });

  it("becomes a cause to find when the next one is odd the same way; one feature can't tell edge from setup", () => {
    const { suspect, cause } = followRib([...steadyRib(), ...twice(7, 12.04), ...twice(8, 12.041)]);

    expect(suspect).toBeNull();
    expect(cause).toMatchObject({ firstPiece: 7, lastPiece: 8, features: [0], register: 0, single: true });
    expect(cause!.slip).toBeUndefined();
    expect(cause!.jumpMm).toBeCloseTo(0.02, 2);
  });

  it("stays one cause however many odd pieces follow", () => {
    const { cause } = followRib([
      ...steadyRib(),
      ...twice(7, 12.04),
      ...twice(8, 12.041),
      ...twice(9, 12.04),
    ]);

    expect(cause).toMatchObject({ firstPiece: 7, lastPiece: 9 });
  });

  it("opens a cause at once where two features are beyond and one register explains both", () => {
    const steady = [1, 2, 3, 4, 5, 6].flatMap((piece) => readingsOf(piece, 12, 8));
    const jumped = [...twice(7, 12.04), ...twice(7, 7.96, { feature: 1 })];

    const { cause } = follow(ribAndSlot, journalOf(ribAndSlot), [...steady, ...jumped]).cache.after;

    expect(cause).toMatchObject({
      firstPiece: 7,
      lastPiece: 7,
      features: [0, 1],
      register: 0,
      single: false,
    });
    expect(cause!.jumpMm).toBeCloseTo(0.02, 2);
  });

  it("blames no register where two features have jumped the way none can move them", () => {
    const steady = [1, 2, 3, 4, 5, 6].flatMap((piece) => readingsOf(piece, 12, 8));
    const jumped = (piece: number) => [...twice(piece, 12.04), ...twice(piece, 8.04, { feature: 1 })];
    const journal = journalOf(ribAndSlot);

    const once = follow(ribAndSlot, journal, [...steady, ...jumped(7)]).cache.after;
    const again = follow(ribAndSlot, journal, [...steady, ...jumped(7), ...jumped(8)]).cache.after;

    expect([once.cause, once.suspect]).toEqual([null, { piece: 7, features: [0, 1], out: true }]);
    expect(again.cause).toMatchObject({ firstPiece: 7, lastPiece: 8, features: [0, 1], single: false });
    expect(again.cause!.register).toBeUndefined();
  });

  it("is seen in two readings together though neither surprises alone", () => {
    const steady = [1, 2, 3, 4, 5, 6].flatMap((piece) => readingsOf(piece, 12, 8));

    // The rib bigger and the slot bigger by 0.015: opposite to all that one tool does.
    const { cache, questions } = follow(ribAndSlot, journalOf(ribAndSlot), [
      ...steady,
      ...readingsOf(7, 12.015, 8.015),
    ]);

    expect(questions).toEqual([]);
    expect(cache.odd).toBe(true);
    expect(cache.after.suspect?.piece).toBe(7);
  });
});

describe("single odd pieces", () => {
  /** Steady pieces with one odd one each time, and twice two of them that jumped for good. */
  const chipped = (piece: number) => [...twice(piece, 12.04), ...twice(piece, 7.96, { feature: 1 })];
  const steadyFrom = (from: number, to: number) =>
    Array.from({ length: to - from + 1 }, (_, i) => readingsOf(from + i, 12, 8)).flat();
  const rest = (piece: number) => ({ kind: "put_right" as const, piece });

  it("are counted, and those outside a limit apart", () => {
    const inside = followRib([...steadyRib(), ...twice(7, 12.025), readingOf(8, 12)]);
    const outside = followRib([...steadyRib(), ...twice(7, 12.04), readingOf(8, 12)]);

    expect([inside.singles, outside.singles]).toEqual([
      { odd: 1, out: 0 },
      { odd: 1, out: 1 },
    ]);
    expect(followRib([...steadyRib(), ...twice(7, 12.04)]).singles).toBeUndefined();
  });

  it("are what the next odd piece is taken for, where two were met and no jump", () => {
    const two = [...steadyFrom(1, 6), ...chipped(7), ...steadyFrom(8, 8), ...steadyFrom(9, 12)];
    // The first opens a cause by itself: looked at, and nothing found.
    const events = [7, 13].map((piece) => ({
      kind: "unfounded" as const,
      piece: piece + 1,
      register: 0,
      features: [0, 1],
    }));
    const list = [...two, ...chipped(13), ...steadyFrom(14, 18)];
    const journal = journalOf(ribAndSlot, { events });

    const known = follow(ribAndSlot, journal, list).cache.after;
    const third = follow(ribAndSlot, journal, [...list, ...chipped(19)]).cache.after;

    expect([known.singles, known.jumps]).toEqual([{ odd: 2, out: 2 }, 0]);
    expect([third.cause, third.suspect?.piece]).toEqual([null, 19]);
  });

  it("are not waited for where it has jumped twice and never was a single one", () => {
    const journal = journalOf(rib, { events: [rest(9), rest(17)] });
    const level = (from: number, to: number) =>
      Array.from({ length: to - from + 1 }, (_, i) => readingOf(from + i, 12 + (i % 2) / 1000));
    const twoJumps = [
      ...level(1, 6),
      ...[7, 8].flatMap((piece) => twice(piece, 12.04)),
      ...level(9, 14),
      ...[15, 16].flatMap((piece) => twice(piece, 12.04)),
      ...level(17, 22),
    ];
    const next = (size: number) => follow(rib, journal, [...twoJumps, ...twice(23, size)]).cache.after;

    expect(next(12.001)).toMatchObject({ jumps: 2, cause: null, suspect: null });
    expect(next(12.04).cause).toMatchObject({ firstPiece: 23, lastPiece: 23, register: 0 });
    // Inside the limits, or the other way round, it is waited for all the same.
    expect(next(12.028)).toMatchObject({ cause: null, suspect: { piece: 23 } });
    expect(next(11.96)).toMatchObject({ cause: null, suspect: { piece: 23 } });
  });
});

describe("a second odd piece", () => {
  const steady = steadyRib();
  const twice = (piece: number, size: number) => [readingOf(piece, size), readingOf(piece, size)];
  const oddFrom7 = (...sizes: number[]) =>
    followRib([...steady, ...sizes.flatMap((size, i) => twice(7 + i, size))]);

  it("that is odd in the same way makes a jump, and the state beside has taken it", () => {
    const { cause, ifReal, estimate } = oddFrom7(12.03, 12.031);

    expect(cause).toMatchObject({ firstPiece: 7, lastPiece: 8, register: 0 });
    expect(2 * ifReal!.estimate.mean[0]!).toBeGreaterThan(0.02);
    expect(2 * estimate.mean[0]!).toBeLessThan(0.005);
  });

  it("that is odd the other way waits for a third", () => {
    const { cause, suspect } = oddFrom7(12.03, 11.97);

    expect(cause).toBeNull();
    expect(suspect).toMatchObject({ piece: 8, another: true });
  });

  it("the third in a row is looked into, whichever way it is", () => {
    expect(oddFrom7(12.03, 11.97, 12.03).cause).toMatchObject({ firstPiece: 8, lastPiece: 9 });
  });

  it("is forgotten with the state beside once a piece is as expected", () => {
    const { cause, suspect, ifReal } = oddFrom7(12.03, 12);

    expect([cause, suspect, ifReal]).toEqual([null, null, undefined]);
  });

  it("asks no question of a reading that fits the jump, though nobody has repeated it", () => {
    const { questions, cause } = followRib([...steady, ...twice(7, 12.03), readingOf(8, 12.031)]);

    expect(questions).toEqual([]);
    expect(cause).toMatchObject({ firstPiece: 7, lastPiece: 8 });
  });

  it("comes to what the state beside knows when a person finds nothing", () => {
    const jump = { kind: "jump" as const, piece: 7, register: 0, features: [0] };
    const readings = [...steady, ...twice(7, 12.03), ...twice(8, 12.031), ...twice(9, 12.03)];
    const beside = followRib(readings).ifReal!.estimate;
    const accepted = followRib(readings, { events: [jump] }).estimate;

    expect(accepted.mean[0]).toBeCloseTo(beside.mean[0]!, 4);
  });
});

describe("two surprises in a row that nobody repeated", () => {
  it("open a cause from the first one when they point the same way", () => {
    const { cause, questions } = followRib([...steadyRib(), readingOf(7, 12.04), readingOf(8, 12.041)]);

    expect(cause).toMatchObject({ firstPiece: 7, lastPiece: 8, register: 0 });
    expect(questions).toMatchObject([{ piece: 7, ask: 2 }]);
  });

  it("are two questions when they point opposite ways", () => {
    const { cause, questions } = followRib([...steadyRib(), readingOf(7, 12.04), readingOf(8, 11.96)]);

    expect(cause).toBeNull();
    expect(questions.map(({ piece }) => piece)).toEqual([7, 8]);
  });

  it("are not in a row when a normal piece lies between them", () => {
    const { cause, questions } = followRib([
      ...steadyRib(),
      readingOf(7, 12.04),
      readingOf(8, 12),
      readingOf(9, 12.041),
    ]);

    expect(cause).toBeNull();
    expect(questions.map(({ piece }) => piece)).toEqual([7, 9]);
  });

  it("are not in a row across a fresh edge", () => {
    const events = [{ kind: "fresh_edge" as const, piece: 8, tool: 0 }];

    const { cause, questions } = followRib([...steadyRib(), readingOf(7, 12.2), readingOf(8, 12.24)], {
      events,
    });

    expect(cause).toBeNull();
    expect(questions.map(({ piece }) => piece)).toEqual([7, 8]);
  });

  it("are not in a row across a cause that was put right", () => {
    const events = [{ kind: "put_right" as const, piece: 9 }];
    const jumped = [readingOf(7, 12.04), readingOf(8, 12.041)];

    const { cause, questions } = followRib([...steadyRib(), ...jumped, readingOf(9, 12.2)], { events });

    expect(cause).toBeNull();
    expect(questions.map(({ piece }) => piece)).toEqual([7, 9]);
  });
});

describe("the answer to a cause", () => {
  const jumped = () => [...steadyRib(), ...twice(7, 12.04), ...twice(8, 12.041)];

  it("nothing found: the jump is real, the odd readings are taken back in", () => {
    const events = [{ kind: "jump" as const, piece: 7, register: 0, features: [0] }];

    const { cause, suspect, questions, latest, estimate, goodInARow, journal } = followRib(jumped(), {
      events,
    });

    expect([cause, suspect, questions]).toEqual([null, null, []]);
    expect(latest[0]!.piece).toBe(8);
    expect(estimate.mean[0]).toBeGreaterThan(0.018);
    expect(goodInARow).toBe(0);
    const [advice] = adviseBefore(rib, journal, follow(rib, journal, jumped()).cache.after, 9).registers;
    expect(advice).toMatchObject({ decision: "change", changePm: pm(-0.02) });
  });

  it("nothing found, and no register explains it: the jump belongs to the feature", () => {
    const events = [{ kind: "jump" as const, piece: 7, register: undefined, features: [0] }];

    const { cause, latest, estimate } = followRib(jumped(), { events });

    expect([cause, latest[0]!.piece]).toEqual([null, 8]);
    expect(estimate.mean[2]).toBeGreaterThan(0.03);
    expect(Math.abs(estimate.mean[0]!)).toBeLessThan(0.004);
  });

  it("nothing found after a single odd piece: it stays out, and the next piece tells what it was", () => {
    const steady = [1, 2, 3, 4, 5, 6].flatMap((piece) => readingsOf(piece, 12, 8));
    const odd = [...twice(7, 12.04), ...twice(7, 7.96, { feature: 1 })];
    const events = [{ kind: "unfounded" as const, piece: 8, register: 0, features: [0, 1] }];
    const journal = journalOf(ribAndSlot, { events });
    const withNext = (rib: number, slot: number) =>
      follow(ribAndSlot, journal, [...steady, ...odd, ...readingsOf(8, rib, slot)]).cache.after;

    const single = withNext(12.001, 8);
    const jump = withNext(12.04, 7.96);

    expect([single.cause, single.suspect, single.jumps]).toEqual([null, null, 0]);
    expect(2 * single.estimate.mean[0]!).toBeCloseTo(0, 2);
    expect([jump.cause, jump.suspect]).toEqual([null, null]);
    expect(2 * jump.estimate.mean[0]!).toBeCloseTo(0.04, 2);
  });

  it("put right: the odd readings stay out, and the next piece is less certain by 0.4 h", () => {
    const events = [{ kind: "put_right" as const, piece: 9 }];

    const open = followRib(jumped());
    const { cause, suspect, estimate, latest } = followRib([...jumped(), readingOf(9, 12.002)], { events });
    const without = followRib([...steadyRib(), readingOf(9, 12.002)], { events });

    expect(open.cause).not.toBeNull();
    expect([cause, suspect]).toEqual([null, null]);
    expect(latest[0]!.piece).toBe(9);
    // The odd pieces only make the state step 6, 7, 8, 9 instead of from 6 to 8 to 9: sums in another order.
    for (const [i, mean] of estimate.mean.entries()) expect(mean).toBeCloseTo(without.estimate.mean[i]!, 12);
    for (const [i, p] of estimate.covariance.entries())
      expect(p).toBeCloseTo(without.estimate.covariance[i]!, 12);
    const still = copyEstimate(open.estimate);
    advance(rib, still, 9);
    const widened = followRib([...jumped(), readingOf(9, 12.002, { steers: false })], { events }).estimate;
    expect(widened.covariance[0]! - still.covariance[0]!).toBeCloseTo((0.4 * 0.015) ** 2, 12);
  });
});

describe("a change that was not keyed as believed", () => {
  const wellKnown = () => steadyRib(12.06);

  it.each([
    ["as half of it", 0.5, [0.5]],
    ["not at all", 0, [0]],
    ["with the other sign", -1, [-1]],
    ["twice", 2, [2]],
  ])("comes out %s and is named", (_, factor, factors) => {
    const change = changeTo(-0.03, 7);

    const { cause, latest } = followRib([...wellKnown(), ...twice(7, 12.06 - 0.06 * factor)], {
      changes: [change],
    });

    expect(cause).toMatchObject({ firstPiece: 7, register: 0, slip: { register: 0, factors } });
    expect(cause!.slip!.changeMm).toBeCloseTo(-0.03, 12);
    expect(latest[0]!.piece).toBe(6);
  });

  it("comes out as entered: the register has proved itself", () => {
    const { cause, suspect, registers } = followRib([...wellKnown(), readingOf(7, 12)], {
      changes: [changeTo(-0.03, 7)],
    });

    expect([cause, suspect]).toEqual([null, null]);
    expect(registers[0]).toMatchObject({
      proven: true,
      openChangeMm: null,
      usedSinceChange: 1,
      usedSinceEdge: 7,
    });
  });

  it("is cured by entering what the register really shows", () => {
    const readings = [...wellKnown(), ...twice(7, 12.06)];

    expect(followRib(readings, { changes: [changeTo(-0.03, 7)] }).cause).not.toBeNull();
    expect(followRib(readings, { changes: [changeTo(0, 7)] })).toMatchObject({ cause: null, suspect: null });
  });

  it("has not proved anything before a piece cut with it was measured", () => {
    const journal = journalOf(rib, { changes: [changeTo(-0.03, 7)] });
    const { after } = follow(rib, journal, wellKnown()).cache;

    expect(after.registers[0]!.proven).toBe(false);
    expect(adviseBefore(rib, journal, after, 7).registers[0]).toMatchObject({
      decision: "no_reading_since_change",
      changePm: 0,
    });
  });
});

describe("a second cut of a piece", () => {
  const change = changeTo(-0.03, 1, { cut: 2 });
  const firstCut = readingOf(1, 12.06);

  it("leaves the state as it is, but proves the register", () => {
    const once = followRib([firstCut], { changes: [change] });

    const again = followRib([firstCut, readingOf(1, 12.002, { cut: 2 })], { changes: [change] });

    expect(again.estimate).toEqual(once.estimate);
    expect(again.latest).toEqual(once.latest);
    expect(once.registers[0]).toMatchObject({ proven: false, valuePm: 0 });
    expect(again.registers[0]).toMatchObject({ proven: true, valuePm: pm(-0.03) });
  });

  it("does not prove a register that did not do what was predicted", () => {
    const { registers } = followRib([firstCut, readingOf(1, 12.16, { cut: 2 })], { changes: [change] });

    expect(registers[0]!.proven).toBe(false);
  });

  it("gives the check its verdict: out before, in after is a good check", () => {
    const { goodInARow } = followRib([firstCut, readingOf(1, 12.002, { cut: 2 })], { changes: [change] });

    expect(goodInARow).toBe(1);
    expect(followRib([firstCut], { changes: [change] }).goodInARow).toBe(0);
  });

  it("does not stand in the way of the next piece's first cut", () => {
    const { cause, estimate, registers } = followRib(
      [firstCut, readingOf(1, 12.002, { cut: 2 }), readingOf(2, 12.001)],
      { changes: [change] },
    );

    expect(cause).toBeNull();
    expect(estimate.mean[0]).toBeCloseTo(0.03, 2);
    expect(registers[0]).toMatchObject({ openChangeMm: null, measuredPieces: 2 });
  });
});

describe("a reading that does not steer", () => {
  it("leaves state, register and latest reading alone", () => {
    const steady = steadyRib();

    const { estimate, registers, latest, questions, suspect, journal } = followRib([
      ...steady,
      readingOf(7, 12.04, { steers: false }),
    ]);

    expect(estimate).toEqual(carried(rib, journal, steady, 7));
    expect([questions, suspect, latest[0]!.piece]).toEqual([[], null, 6]);
    expect(registers).toEqual(followRib(steady).registers);
  });

  it("does not settle a surprise of the same piece", () => {
    const { questions } = followRib([
      ...steadyRib(),
      readingOf(7, 12.2),
      readingOf(7, 12.2, { steers: false }),
    ]);

    expect(questions).toMatchObject([{ ask: 2 }]);
  });

  it("earns no trust, but loses it where it is out of limits", () => {
    expect(followRib([...steadyRib(), readingOf(7, 12, { steers: false })]).goodInARow).toBe(6);
    expect(followRib([...steadyRib(), readingOf(7, 12.031, { steers: false })]).goodInARow).toBe(0);
  });
});

describe("trust", () => {
  const holes = blockOf({
    features: [
      { nominal: 6, tolerance: 0.05, effects: [-2], metal: -1, tells: false },
      { nominal: 6, tolerance: 0.05, effects: [-2], metal: -1 },
    ],
  });
  const good = (readings: JournalReading[], block = ribAndSlot, spec: JournalSpec = {}) =>
    follow(block, journalOf(block, spec), readings).cache.after.goodInARow;

  it("grows with every complete check inside the limits, the limit itself included", () => {
    expect(good([...readingsOf(1, 12, 8), ...readingsOf(2, 12.001, 8)])).toBe(2);
    expect(good([...readingsOf(1, 12.03, 7.97)])).toBe(1);
  });

  it("neither grows nor falls with half a check", () => {
    expect(good([...readingsOf(1, 12, 8), readingOf(2, 12)])).toBe(1);
  });

  it("is lost with a reading out of limits, also in half a check", () => {
    const before = [...readingsOf(1, 12.024, 7.976), ...readingsOf(2, 12.028, 7.974)];

    expect(good(before)).toBe(2);
    expect(good([...before, ...readingsOf(3, 12.030000001, 7.971)])).toBe(0);
    expect(good([...before, readingOf(3, 12.030000001)])).toBe(0);
  });

  it("needs only the last hole of a pattern", () => {
    expect(good([readingOf(1, 6, { feature: 1 })], holes)).toBe(1);
    expect(good([readingOf(1, 6, { feature: 0 })], holes)).toBe(0);
  });

  it.each([
    ["fresh_edge", 0],
    ["upset", 0],
    ["pause", 2],
  ] as const)("starts anew after %s or not: %d", (kind, kept) => {
    const event = kind === "fresh_edge" ? { kind, piece: 3, tool: 0 } : { kind, piece: 3 };
    const readings = [...readingsOf(1, 12, 8), ...readingsOf(2, 12, 8), ...readingsOf(3, 12, 8)];

    expect(good(readings, ribAndSlot, { events: [event] })).toBe(kept + 1);
  });
});

describe("a register that holds a whole length", () => {
  const floor = blockOf({ features: [{ nominal: 10, tolerance: 0.05, effects: [-1], metal: -1 }] });
  const readings = () => [10.06, 10.058, 10.061].map((size, k) => readingOf(k + 1, size));

  it.each([150, -312.45])("counts from its start value, %d", (value) => {
    const list = readings();
    const whole = follow(floor, journalOf(floor, { values: [value] }), list);
    const wear = follow(floor, journalOf(floor), list);

    expect(whole.cache.after.estimate).toEqual(wear.cache.after.estimate);
    expect(whole.questions).toEqual([]);
  });

  it("is corrected by the same change: -312.45 and a floor 0.060 too deep asks for +0.060 (LN-04, common practice)", () => {
    const journal = journalOf(floor, { values: [-312.45] });
    const { after } = follow(floor, journal, readings()).cache;

    const [advice] = adviseBefore(floor, journal, after, 4).registers;

    expect(advice).toMatchObject({ decision: "change", valueNowPm: pm(-312.45) });
    expect(advice!.changePm / 1e9).toBeCloseTo(0.059, 2);
  });

  it("is a wear value up to 1 mm", () => {
    const { registers } = followRib([], { values: [1] });

    expect(registers[0]).toMatchObject({ valuePm: pm(1), zeroPm: 0 });
    expect(followRib([], { values: [1.000000001] }).registers[0]!.zeroPm).toBe(1_000_000_001);
  });

  it("counts anew from the length keyed with a fresh edge", () => {
    const events = [{ kind: "fresh_edge" as const, piece: 4, tool: 0 }];
    const journal = journalOf(floor, {
      values: [150],
      events,
      changes: [changeTo(149.2, 4, { withEdge: true })],
    });

    const { after } = follow(floor, journal, [...readings(), readingOf(4, 10.01)]).cache;
    const same = follow(floor, journalOf(floor, { events }), [...readings(), readingOf(4, 10.01)]).cache
      .after;

    expect(after.registers[0]).toMatchObject({ valuePm: pm(149.2), zeroPm: pm(149.2) });
    expect(after.estimate).toEqual(same.estimate);
  });

  it("counts a correction of it as a change", () => {
    const journal = journalOf(floor, { values: [150], changes: [changeTo(150.06, 4)] });
    const same = journalOf(floor, { changes: [changeTo(0.06, 4)] });
    const list = [...readings(), readingOf(4, 10.001)];

    expect(follow(floor, journal, list).cache.after.estimate.mean[0]).toBeCloseTo(
      follow(floor, same, list).cache.after.estimate.mean[0]!,
      12,
    );
  });
});

describe("a fresh edge", () => {
  const events = [{ kind: "fresh_edge" as const, piece: 7, tool: 0 }];

  it("forgets level and rate of its tool's registers and keeps what belongs to the features", () => {
    const worn = followRib(steadyRib(12.02));
    const { estimate, registers } = followRib([...steadyRib(12.02), readingOf(7, 12, { steers: false })], {
      events,
    });

    expect(estimate.edgeFrom).toEqual([7]);
    expect(registers[0]).toMatchObject({ usedSinceEdge: 0, usedSinceChange: 0, measuredPieces: 0 });
    expect(estimate.mean[2]).toBe(worn.estimate.mean[2]);
    expect(estimate.covariance[2]).toBe(0);
    // max(0.02, 2h)/1.3 from one remembered edge, and what a piece adds
    expect(Math.sqrt(estimate.covariance[0]!)).toBeLessThan(0.03);
  });

  it("remembers the old edge's level when fresh, if three of its pieces were measured", () => {
    const three = followRib([...steadyRib(12.02), readingOf(7, 12)], { events });
    const two = followRib([...steadyRib(12.02).slice(0, 2), readingOf(7, 12)], { events });

    expect(three.registers[0]!.memory.levels).toHaveLength(1);
    expect(three.registers[0]!.memory.levels[0]).toBeCloseTo(0.01, 3);
    expect(three.registers[0]!.memory.rates).toEqual([]);
    expect(two.registers[0]!.memory).toEqual({ levels: [], rates: [] });
  });

  it("remembers its rate where it cut more than 0.3 of its life", () => {
    const wearing = Array.from({ length: 10 }, (_, k) => readingOf(4 * k + 1, 12 + 0.0008 * k));
    const at = (piece: number) =>
      followRib([...wearing, readingOf(piece, 12)], { events: [{ kind: "fresh_edge", piece, tool: 0 }] });

    expect(at(38).registers[0]!.memory.rates).toHaveLength(1); // 37 pieces of 120
    expect(at(38).registers[0]!.memory.rates[0]).toBeCloseTo(0.0001, 4);
    expect(at(37).registers[0]!.memory.rates).toEqual([]); // 36, no more than 0.3 of 120
  });

  it("leaves the other tool's registers alone", () => {
    const slot = blockOf({
      lives: [110, 70],
      registers: [{ tool: 0 }, { tool: 1 }],
      features: [
        { nominal: 16, tolerance: 0.02, effects: [-1, -1], tool: 0, metal: -1 },
        { nominal: 8, tolerance: 0.03, effects: [1, 0], tool: 0 },
      ],
    });
    const readings = [
      ...readingsOf(1, 16, 8.01),
      ...readingsOf(2, 16, 8.011),
      readingOf(3, 16, { steers: false }),
    ];
    const other = journalOf(slot, { events: [{ kind: "fresh_edge", piece: 3, tool: 1 }] });

    const after = follow(slot, other, readings).cache.after;
    const untouched = follow(slot, journalOf(slot), readings).cache.after;

    expect(after.estimate.mean[0]).toBe(untouched.estimate.mean[0]);
    expect(after.estimate.covariance[0]).toBe(untouched.estimate.covariance[0]);
    expect(after.estimate.mean[1]).toBe(0);
    expect(after.registers[0]).toEqual(untouched.registers[0]);
  });
});

describe("an event before a piece", () => {
  const width = (events: JournalSpec["events"] = []) => {
    const { estimate } = followRib([...steadyRib(), readingOf(7, 12, { steers: false })], { events });
    return [0, 4, 8].map((at) => estimate.covariance[at]!);
  };

  // The project's method, section 1: (0.4h)², (2h)², (2T)² with h 0.015 and T 0.03.
  it.each([
    ["pause", { kind: "pause", piece: 7 }, [0.006 ** 2, 0, 0]],
    ["put right", { kind: "put_right", piece: 7 }, [0.006 ** 2, 0, 0]],
    ["fixture or programme changed", { kind: "upset", piece: 7 }, [0, 0, 0.06 ** 2]],
    ["jump of the register", { kind: "jump", piece: 7, register: 0, features: [0] }, [0.03 ** 2, 0, 0]],
    [
      "jump of the feature",
      { kind: "jump", piece: 7, register: undefined, features: [0] },
      [0, 0, 0.06 ** 2],
    ],
  ] as const)("%s adds its variance", (_, event, added) => {
    const [before, after] = [width(), width([event])];

    for (const [i, value] of after.entries()) expect(value - before[i]!).toBeCloseTo(added[i]!, 12);
  });

  it("knows a work offset that came out otherwise than keyed, of its own seat only, and widens that seat's own size", () => {
    const seated = blockOf({ seats: 3, workOffsets: [[1]], features: [{ nominal: 25, effects: [1] }] });
    const steady = Array.from({ length: 9 }, (_, i) => readingOf(i + 1, 25, { seat: i % 3 }));
    // Work offset of the third seat, in the numbers after those of the registers.
    const changes = [changeTo(-0.02, 10, { register: seated.registers.length + 2 })];
    const others = [10, 11].map((piece) => readingOf(piece, 25, { seat: (piece - 1) % 3 }));
    const turned = twice(12, 25.02, { seat: 2 });
    const journal = journalOf(seated, { changes });

    const before = follow(seated, journal, [...steady, ...others]).cache.after;
    const { cause } = follow(seated, journal, [...steady, ...others, ...turned]).cache.after;

    expect(before.cause).toBeNull();
    expect(cause).toMatchObject({ firstPiece: 12, seat: 2, features: [0] });
    expect(cause!.register).toBeUndefined();
    expect(cause!.slip).toMatchObject({ register: seated.registers.length + 2, factors: [-1] });
    expect(cause!.slip!.changeMm).toBeCloseTo(-0.02, 12);
    const looked = journalOf(seated, {
      changes,
      events: [{ kind: "jump", piece: 12, register: undefined, features: [0], seat: 2 }],
    });
    const after = follow(seated, looked, [...steady, ...others, ...turned]).cache.after;
    expect([after.cause, after.jumps]).toEqual([null, 1]);
    const row = after.estimate.own!.findIndex(({ seat }) => seat === 2);
    const at = after.estimate.mean.length - after.estimate.own!.length + row;
    expect(after.estimate.mean[at]).toBeGreaterThan(0.03);
  });

  it("takes what a work offset moved as known: the expected size goes with it, and nothing becomes less sure", () => {
    const edge = blockOf({ workOffsets: [[1]], features: [{ nominal: 12, effects: [2] }] });
    const readings = [...steadyRib(), readingOf(7, 12, { steers: false })];
    const moved = journalOf(edge, { changes: [changeTo(-0.01, 7, { register: 1 })] });
    const known = (journal: Journal) => follow(edge, journal, readings).cache.after;

    const [before, after] = [known(journalOf(edge)), known(moved)];

    expect(after.estimate).toEqual(before.estimate);
    expect(offsetsOf(after)).toEqual([0, -0.01]);
    const expected = (progress: Progress) =>
      expectedDeviation(edge, progress.estimate, 0, offsetsOf(progress));
    expect(expected(after) - expected(before)).toBeCloseTo(-0.01, 12);
  });
});
