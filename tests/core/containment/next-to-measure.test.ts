import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findHolds, type ProofReading } from "../../../src/core/containment/find-holds.js";
import { nextToMeasure } from "../../../src/core/containment/next-to-measure.js";

function read(piece: number, good: boolean, change = {}): ProofReading {
  const proves = good;
  return {
    readingNo: piece,
    piece,
    earliest: piece,
    cut: 1,
    proves,
    fails: !good,
    byReference: true,
    ...change,
  };
}

function nextOf(readings: ProofReading[], lastPieceCut: number, changes: number[] = []) {
  return nextToMeasure(findHolds(readings, lastPieceCut)[0]!, changes);
}

describe("nextToMeasure", () => {
  it("halves the doubt between good and bad", () => {
    const { steps } = nextOf([read(40, true), read(50, false), read(51, true)], 51, [51]);

    expect(steps).toEqual([{ piece: 45, rule: "halve", atMost: 4 }]);
  });

  it("measures the piece beside a single odd one", () => {
    const { steps } = nextOf([read(40, true), read(50, false), read(51, true)], 51);

    expect(steps).toEqual([{ piece: 49, rule: "neighbour", atMost: 4 }]);
  });

  it("begins after what was changed, and looks at the last piece where nothing was", () => {
    const readings = [read(49, true), read(50, false)];

    expect(nextOf(readings, 60, [56]).steps).toEqual([{ piece: 56, rule: "after_change", atMost: 4 }]);
    expect(nextOf(readings, 60).steps).toEqual([{ piece: 60, rule: "latest", atMost: 4 }]);
    expect(nextOf([...readings, read(60, true)], 60, [51]).steps[0]).toMatchObject({ rule: "after_change" });
  });

  it("asks first for a gauge that may say so", () => {
    const probe = read(50, false, { byReference: false });

    expect(nextOf([read(49, true), probe, read(51, true)], 51).steps).toEqual([
      { piece: 50, rule: "confirm", atMost: 1 },
    ]);
  });

  it("says that pieces between bad ones are measured one by one", () => {
    const { each } = nextOf([read(40, true), read(45, false), read(50, false), read(51, true)], 51);

    expect(each).toEqual([{ from: 46, to: 49 }]);
  });

  it("asks for nothing where only the bad piece is left", () => {
    const only = nextOf([read(49, true), read(50, false), read(51, true)], 51);

    expect(only).toEqual({ steps: [], each: [] });
  });

  it("finds where good turned into bad in at most ⌈log₂(n + 1)⌉ readings, and leaves none before in doubt", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 300 }), fc.integer({ min: 1, max: 300 }), (inDoubt, offset) => {
        const bad = inDoubt + 2;
        const turn = 2 + (offset % (inDoubt + 1)); // the first bad piece: from 2 to `bad`
        const readings = [read(1, true), read(bad, false), read(bad + 1, true)];
        const changes = [bad + 1];
        let taken = 0;
        for (;;) {
          const { steps } = nextOf(readings, bad + 1, changes);
          const step = steps.find(({ rule }) => rule === "halve");
          if (!step) break;
          readings.push(read(step.piece, step.piece < turn));
          taken += 1;
          expect(taken).toBeLessThanOrEqual(Math.ceil(Math.log2(inDoubt + 1)));
        }

        const [hold] = findHolds(readings, bad + 1);
        expect(hold?.from).toBe(turn);
      }),
    );
  });
});
