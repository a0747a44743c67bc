import { describe, expect, it } from "vitest";
import { forecastFeature } from "../../../src/core/wear-offset/forecast.js";
import type { JournalReading } from "../../../src/core/wear-offset/progress.js";
import { blockOf, changeTo, follow, journalOf, readingOf, ribBlock } from "../../support/blocks.js";

const rib = ribBlock();

/** Pieces 1 to 6 of a rib that runs well. */
function steadyRib(count = 6): JournalReading[] {
  return [0.001, -0.001, 0, 0.001, 0, -0.001, 0.001, 0]
    .slice(0, count)
    .map((off, k) => readingOf(k + 1, 12 + off));
}

const forecastsOf = (readings: JournalReading[], piece: number, spec = {}) =>
  follow(rib, journalOf(rib, spec), readings).forecasts.get(piece);

describe("what the process says of a piece before it is read", () => {
  it("is what was forecast from the pieces before, with their scatter", () => {
    const { cache } = follow(rib, journalOf(rib), steadyRib());
    const ahead = forecastFeature(rib, cache.after.estimate, 0, 1, [0]);

    const [forecast] = forecastsOf([...steadyRib(), readingOf(7, 12.004)], 7)!;

    expect(forecast!.feature).toBe(0);
    expect(forecast!.meanMm - 12).toBeCloseTo(ahead.expectedDeviation, 12);
    // The forecast adds what a drift may do until then in a closed form of its own: 1 % more here.
    expect(forecast!.deviationMm / ahead.pieceDeviation).toBeCloseTo(1, 1);
  });

  it("does not hang on the readings of the piece itself, nor on those of later pieces", () => {
    const alone = forecastsOf([...steadyRib(), readingOf(7, 12.004)], 7);
    const repeated = forecastsOf([...steadyRib(), readingOf(7, 11.99), readingOf(7, 12.004)], 7);
    const followed = forecastsOf([...steadyRib(), readingOf(7, 12.004), readingOf(8, 12.009)], 7);

    expect(alone).toHaveLength(1);
    expect(repeated).toEqual(alone);
    expect(followed).toEqual(alone);
  });

  it("is there for a gauge that may not steer, which needs it most", () => {
    expect(forecastsOf([...steadyRib(), readingOf(7, 12.02, { steers: false })], 7)).toHaveLength(1);
  });

  it("is known after five readings, not before", () => {
    const afterReadings = (count: number) =>
      forecastsOf([...steadyRib(count), readingOf(count + 1, 12)], count + 1);

    expect(afterReadings(4)).toEqual([]);
    expect(afterReadings(5)).toHaveLength(1);
  });

  it.each([
    ["on the first piece after a change", { changes: [changeTo(-0.001, 7)] }],
    ["on the first piece of a fresh edge", { events: [{ kind: "fresh_edge" as const, piece: 7, tool: 0 }] }],
  ])("is not known %s, and is again after it", (_, spec) => {
    const readings = [...steadyRib(), readingOf(7, 12.0), readingOf(8, 12.001)];

    expect(forecastsOf(readings, 7, spec)).toEqual([]);
    expect(forecastsOf(readings, 8, spec)).toHaveLength(1);
  });

  it("is not known while an odd piece, a reading or a cause waits for an answer", () => {
    const surprise = readingOf(7, 12.04);
    const odd = [readingOf(7, 12.04), readingOf(7, 12.041)];
    const jump = [...odd, readingOf(8, 12.04), readingOf(8, 12.041)];

    expect(forecastsOf([...steadyRib(), surprise, readingOf(8, 12)], 8)).toEqual([]);
    expect(forecastsOf([...steadyRib(), ...odd, readingOf(8, 12)], 8)).toEqual([]);
    expect(forecastsOf([...steadyRib(), ...jump, readingOf(9, 12.04)], 9)).toEqual([]);
  });

  it("says nothing of a second cut, and of features that were not read", () => {
    const two = blockOf({
      features: [
        { nominal: 12, tolerance: 0.03, effects: [2] },
        { nominal: 8, tolerance: 0.03, effects: [-2] },
      ],
    });
    const both = [1, 2, 3, 4, 5, 6].flatMap((piece) => [
      readingOf(piece, 12),
      readingOf(piece, 8, { feature: 1 }),
    ]);
    const again = [...both, readingOf(7, 8, { feature: 1 }), readingOf(7, 12, { cut: 2 })];

    const forecasts = follow(two, journalOf(two), again).forecasts.get(7)!;

    expect(forecasts.map(({ feature }) => feature)).toEqual([1]);
  });
});
