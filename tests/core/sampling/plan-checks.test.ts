import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  checkFeature,
  earnedInterval,
  hasTrust,
  largestInterval,
  type NextCheck,
  nextCheck,
  type PlannedFeature,
  type TrustState,
} from "../../../src/core/sampling/plan-checks.js";
import { tradeCase } from "../data/read-data.js";

function trust(change: Partial<TrustState> = {}): TrustState {
  return {
    measuredPiece: 80,
    countedFrom: 80,
    goodInARow: 9,
    pending: [],
    suspect: false,
    causeOpen: false,
    questionOpen: false,
    risk: 0.005,
    riskAllows: (most) => most,
    jumpsAllow: 20,
    largest: 10,
    ...change,
  };
}

const pending = (piece: number, rule: TrustState["pending"][number]["rule"], unproven = false) => ({
  piece,
  rule,
  unproven,
});

function feature(change: Partial<PlannedFeature> = {}): PlannedFeature {
  return { importance: "ordinary", movable: true, earlierOfPattern: false, ...change };
}

const next: NextCheck = { piece: 30, every: 10, rule: "largest_interval", wait: false };
const noLot = { quantity: undefined };

describe("earnedInterval", () => {
  // The project's method, section 4.
  it.each([
    [0, 1],
    [1, 1],
    [2, 2],
    [3, 4],
    [4, 6],
    [5, 8],
    [6, 10],
    [7, 10],
    [100, 10],
  ])("after %d good checks in a row is %d", (good, every) => {
    expect(earnedInterval(good)).toBe(every);
  });

  it("goes with trust from two good checks in a row on", () => {
    expect([0, 1, 2, 3].map(hasTrust)).toEqual([false, false, true, true]);
  });
});

describe("nextCheck", () => {
  it("begins with the first piece and waits for it", () => {
    const fresh = trust({ measuredPiece: 0, countedFrom: 0, goodInARow: 0 });

    expect(nextCheck(fresh)).toMatchObject({ piece: 1, every: 1, rule: "start", wait: true });
  });

  it("begins with the next piece where some were cut before the first reading", () => {
    expect(nextCheck(trust({ measuredPiece: 0, countedFrom: 6, goodInARow: 0 })).piece).toBe(7);
  });

  it.each([
    [1, 81, "start"],
    [2, 82, "earned"],
    [5, 88, "earned"],
    [6, 90, "largest_interval"],
  ])("after %d good checks is on piece %d (%s)", (goodInARow, piece, rule) => {
    expect(nextCheck(trust({ goodInARow }))).toMatchObject({ piece, rule, wait: false });
  });

  it("counts from the last piece cut when the reading came, not from the piece measured", () => {
    expect(nextCheck(trust({ measuredPiece: 80, countedFrom: 84, goodInARow: 3 })).piece).toBe(88);
  });

  it.each([
    ["causeOpen", "cause_open"],
    ["suspect", "odd_piece"],
    ["questionOpen", "confirm"],
  ] as const)("measures every piece and waits while %s", (state, rule) => {
    const open = trust({ [state]: true, pending: [pending(85, "after_change")] });

    expect(nextCheck(open)).toEqual({ piece: 81, every: 1, rule, wait: true });
  });

  it("takes the cause before the suspicion, the suspicion before the question", () => {
    const all = trust({ causeOpen: true, suspect: true, questionOpen: true });

    expect(nextCheck(all).rule).toBe("cause_open");
    expect(nextCheck({ ...all, causeOpen: false }).rule).toBe("odd_piece");
  });

  it.each(["after_change", "interruption"] as const)(
    "does not ask for the first piece (%s) again while readings come late and its own is on its way",
    (rule) => {
      const late = (change: Partial<TrustState>) =>
        nextCheck(trust({ pending: [pending(84, rule)], ...change }));

      expect(late({ countedFrom: 83 })).toMatchObject({ piece: 84, rule });
      expect(late({ countedFrom: 84 })).toMatchObject({ piece: 94, rule: "largest_interval" });
      expect(late({ countedFrom: 88 })).toMatchObject({ piece: 98, rule: "largest_interval" });
      expect(late({ measuredPiece: 84, countedFrom: 90 })).toMatchObject({ piece: 91, rule });
    },
  );

  it("asks for a fresh edge, and for a change of a register that has not proved itself, however late readings come", () => {
    const late = (rule: "fresh_edge" | "after_change") =>
      nextCheck(trust({ countedFrom: 88, pending: [pending(84, rule, rule === "after_change")] }));

    expect(late("fresh_edge")).toMatchObject({ piece: 89, rule: "fresh_edge", wait: true });
    expect(late("after_change")).toMatchObject({ piece: 89, rule: "after_change", wait: true });
  });

  it("measures the first piece after a change, and waits for it until the register has proved itself", () => {
    expect(nextCheck(trust({ pending: [pending(83, "after_change")] }))).toEqual({
      piece: 83,
      every: 10,
      rule: "after_change",
      wait: false,
    });
    expect(nextCheck(trust({ pending: [pending(83, "after_change", true)] })).wait).toBe(true);
  });

  it("waits for the first piece of a fresh edge, also when a change comes with it", () => {
    const edge = pending(83, "fresh_edge");
    const change = pending(83, "after_change");

    for (const list of [[edge], [edge, change], [change, edge]]) {
      expect(nextCheck(trust({ pending: list }))).toMatchObject({
        piece: 83,
        rule: "fresh_edge",
        wait: true,
      });
    }
  });

  it("is overdue at once where the first piece after a change has been cut already", () => {
    expect(nextCheck(trust({ pending: [pending(78, "after_change")] })).piece).toBe(81);
  });

  it("does not let a later event put off the regular check", () => {
    expect(nextCheck(trust({ pending: [pending(95, "interruption")] })).piece).toBe(90);
  });

  it(`FQ-12: a shift change after part 88 (${tradeCase("FQ-12").source})`, () => {
    const { inputs, expected } = tradeCase("FQ-12");
    const from = inputs.shift_change_after_part! + 1;
    const state = trust({ countedFrom: inputs.last_check!, pending: [pending(from, "interruption")] });

    expect(nextCheck(state)).toMatchObject({ piece: expected.must_check, rule: "interruption" });
  });

  it("does not depend on the order in which events are listed", () => {
    const event = fc.record({
      piece: fc.integer({ min: 70, max: 100 }),
      rule: fc.constantFrom("fresh_edge" as const, "after_change" as const, "interruption" as const),
      unproven: fc.boolean(),
    });
    fc.assert(
      fc.property(fc.array(event, { maxLength: 5 }), fc.nat({ max: 8 }), (list, goodInARow) => {
        const there = nextCheck(trust({ goodInARow, pending: list }));
        const back = nextCheck(trust({ goodInARow, pending: [...list].reverse() }));

        expect([back.piece, back.wait]).toEqual([there.piece, there.wait]);
      }),
    );
  });

  it("is never behind the pieces already cut, nor further ahead than the largest interval", () => {
    fc.assert(
      fc.property(
        fc.nat({ max: 500 }),
        fc.nat({ max: 20 }),
        fc.array(fc.nat({ max: 500 })),
        (cut, good, pieces) => {
          const list = pieces.map((piece) => pending(piece, "after_change"));

          const { piece } = nextCheck(trust({ countedFrom: cut, goodInARow: good, pending: list }));

          expect(piece).toBeGreaterThan(cut);
          expect(piece).toBeLessThanOrEqual(cut + largestInterval);
        },
      ),
    );
  });
});

describe("checkFeature", () => {
  it("measures an ordinary feature from the next check on, not before", () => {
    expect(checkFeature(feature(), 29, next, 9, noLot)).toBeUndefined();
    expect(checkFeature(feature(), 30, next, 9, noLot)).toBe("largest_interval");
    expect(checkFeature(feature(), 31, next, 9, noLot)).toBe("largest_interval");
  });

  it.each(["critical", "key"] as const)(
    `FQ-09: measures what is %s on every piece (${tradeCase("FQ-09").source})`,
    (importance) => {
      const pieces = [1, 2, 7, 29, 30, 200];

      const rules = pieces.map((piece) =>
        checkFeature(feature({ importance }), piece, next, 99, { quantity: 200 }),
      );

      expect(rules).toEqual(pieces.map(() => importance));
    },
  );

  it(`FQ-10: measures all of an order of 8 (${tradeCase("FQ-10").source})`, () => {
    const { order, check_all } = { ...tradeCase("FQ-10").inputs, ...tradeCase("FQ-10").expected };
    const pieces = Array.from({ length: order! }, (_, k) => k + 1);

    const checked = pieces.filter(
      (piece) => checkFeature(feature(), piece, next, 9, { quantity: order }) !== undefined,
    );

    expect(checked).toHaveLength(check_all!);
    expect(checkFeature(feature(), 2, next, 9, { quantity: order })).toBe("small_lot");
  });

  it("samples from ten pieces on (common practice, no source)", () => {
    expect(checkFeature(feature(), 5, next, 9, { quantity: 9 })).toBe("small_lot");
    expect(checkFeature(feature(), 5, next, 9, { quantity: 10 })).toBeUndefined();
  });

  it(`FQ-13: measures the last piece of a batch (${tradeCase("FQ-13").source})`, () => {
    const { batch, last_check } = tradeCase("FQ-13").inputs;
    const { must_check } = tradeCase("FQ-13").expected;
    const later: NextCheck = { ...next, piece: last_check! + 15 };

    expect(checkFeature(feature(), must_check!, later, 9, { quantity: batch })).toBe("last_piece");
    expect(checkFeature(feature(), must_check! - 1, later, 9, { quantity: batch })).toBeUndefined();
    expect(checkFeature(feature(), must_check!, later, 9, noLot)).toBeUndefined();
  });

  it("measures everything on the first piece, though nothing moves it and a later hole speaks for it", () => {
    const hole = feature({ movable: false, earlierOfPattern: true });

    expect(checkFeature(hole, 1, next, 0, noLot)).toBe("first_piece");
  });

  it(`PS-10: of twelve holes only the last, once there is trust (${tradeCase("PS-10").source})`, () => {
    const { inputs, expected } = tradeCase("PS-10");
    const holes = Array.from({ length: inputs.holes! }, (_, k) =>
      feature({ earlierOfPattern: k + 1 < inputs.holes! }),
    );
    const measured = (goodInARow: number, rule: NextCheck["rule"]) =>
      holes.flatMap((hole, k) =>
        checkFeature(hole, 30, { ...next, rule }, goodInARow, noLot) === undefined ? [] : k + 1,
      );

    expect(measured(2, "earned")).toEqual([expected.check_hole_number]);
    expect(measured(1, "start")).toHaveLength(12);
    expect(measured(9, "fresh_edge")).toHaveLength(12);
  });
});
