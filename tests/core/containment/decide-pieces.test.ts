import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type DecisionKind,
  decisionsInForce,
  type PieceDecision,
  settledPieces,
  stateOf,
} from "../../../src/core/containment/decide-pieces.js";
import type { Hold } from "../../../src/core/containment/find-holds.js";
import { hasPiece } from "../../../src/core/containment/piece-ranges.js";

const bad = (piece: number, readingNo: number) => ({
  piece,
  earliest: piece,
  readingNos: [readingNo],
  contradictedBy: [],
  byReference: true,
});
const hold: Hold = {
  from: 41,
  to: 50,
  goodBefore: 40,
  goodAfter: undefined,
  bad: [bad(50, 7)],
  open: [{ from: 41, to: 50 }],
};

function decide(kind: DecisionKind, from: number, to: number, change = {}): PieceDecision {
  return { decisionNo: 1, kind, from, to, knownReadings: 7, ...change };
}
const settled = (decision: PieceDecision, of: Hold = hold) => settledPieces(of, decisionsInForce([decision]));

describe("decisionsInForce", () => {
  it("gives each piece to the latest decision about it", () => {
    const list = [decide("scrap", 1, 20), decide("use_as_is", 5, 8, { decisionNo: 2 })];

    expect(decisionsInForce(list).map(({ decision, pieces }) => [decision.kind, pieces])).toEqual([
      [
        "scrap",
        [
          { from: 1, to: 4 },
          { from: 9, to: 20 },
        ],
      ],
      ["use_as_is", [{ from: 5, to: 8 }]],
    ]);
  });

  it("agrees with looking for the latest piece by piece, in any order given", () => {
    const anyDecision = fc.record({
      from: fc.integer({ min: 1, max: 20 }),
      more: fc.integer({ min: 0, max: 9 }),
    });
    fc.assert(
      fc.property(fc.array(anyDecision, { maxLength: 8 }), (list) => {
        const decisions = list.map(({ from, more }, i) =>
          decide("scrap", from, from + more, { decisionNo: i + 1 }),
        );
        const inForce = decisionsInForce([...decisions].reverse());
        for (let piece = 1; piece <= 30; piece += 1) {
          const latest = decisions.findLast(({ from, to }) => piece >= from && piece <= to);
          const found = inForce.filter(({ pieces }) => hasPiece(pieces, piece));
          expect(found.map(({ decision }) => decision.decisionNo)).toEqual(latest ? [latest.decisionNo] : []);
        }
      }),
    );
  });
});

describe("settledPieces", () => {
  it("takes scrapped and returned pieces out for good", () => {
    expect(settled(decide("scrap", 45, 60))).toEqual([{ from: 45, to: 50 }]);
    expect(settled(decide("return", 1, 41, { knownReadings: 0 }))).toEqual([{ from: 41, to: 41 }]);
  });

  it("settles nothing by rework before the piece is measured again", () => {
    expect(settled(decide("rework", 41, 50))).toEqual([]);
  });

  it.each(["use_as_is", "repair"] as const)(
    "lets %s cover what was known, and nothing that came later",
    (kind) => {
      expect(settled(decide(kind, 41, 50))).toEqual([{ from: 41, to: 50 }]);
      expect(settled(decide(kind, 41, 50, { knownReadings: 6 }))).toEqual([]);
      const again = { ...hold, bad: [bad(45, 9), bad(50, 7)] };
      expect(settled(decide(kind, 41, 50), again)).toEqual([
        { from: 41, to: 44 },
        { from: 46, to: 50 },
      ]);
    },
  );

  it("leaves a hold open, decided or released", () => {
    expect(stateOf(hold, [])).toBe("open");
    expect(stateOf(hold, [{ from: 41, to: 49 }])).toBe("open");
    expect(stateOf(hold, [{ from: 41, to: 50 }])).toBe("decided");
    expect(stateOf({ ...hold, open: [] }, [])).toBe("released");
  });
});
