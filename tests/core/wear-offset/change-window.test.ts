import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { changeWindow, overlapOf } from "../../../src/core/wear-offset/change-window.js";
import { pm } from "../../support/blocks.js";
import { tradeCase } from "../data/read-data.js";

const limits = { lowerPm: 100, upperPm: 120 };

describe("changeWindow", () => {
  it.each([
    [1, { lowPm: -4, highPm: 16 }],
    [-1, { lowPm: -16, highPm: 4 }],
    [2, { lowPm: -2, highPm: 8 }],
    [-2, { lowPm: -8, highPm: 2 }],
    [0.5, { lowPm: -8, highPm: 32 }],
  ])("of 104 in 100 to 120 with effect %d is %j", (effect, window) => {
    expect(changeWindow(limits, effect, 104, 0, 0)).toEqual(window);
  });

  it("is referred to the register value that the piece was cut with", () => {
    expect(changeWindow(limits, 2, 104, -10, -7)).toEqual({ lowPm: -5, highPm: 5 });
  });

  it("lies wholly on one side of nothing where the feature is out", () => {
    expect(changeWindow(limits, 1, 125, 0, 0)).toEqual({ lowPm: -25, highPm: -5 });
  });

  it("is open on the side without a limit, the other side where the effect is negative", () => {
    const below = { lowerPm: 100, upperPm: undefined };

    expect(changeWindow(below, 1, 104, 0, 0)).toEqual({ lowPm: -4, highPm: undefined });
    expect(changeWindow(below, -1, 104, 0, 0)).toEqual({ lowPm: undefined, highPm: 4 });
  });

  it("is rounded inward where the effect does not divide it", () => {
    expect(changeWindow(limits, 3, 104, 0, 0)).toEqual({ lowPm: -1, highPm: 5 });
    expect(changeWindow(limits, -3, 104, 0, 0)).toEqual({ lowPm: -5, highPm: 1 });
  });

  it("keeps the feature inside for every change inside it, and for none outside", () => {
    const size = fc.integer({ min: -1e12, max: 1e12 });
    const register = fc.integer({ min: -1e9, max: 1e9 });
    fc.assert(
      fc.property(
        fc.constantFrom(1, -1, 2, -2, 0.5, -0.5),
        size,
        fc.integer({ min: 1, max: 1e9 }),
        fc.integer({ min: -1e9, max: 1e9 }),
        register,
        register,
        fc.integer({ min: -3, max: 3 }),
        fc.boolean(),
        (effect, lowerPm, width, from, then, now, past, atLow) => {
          const upperPm = lowerPm + width;
          const sizePm = lowerPm + from;
          const window = changeWindow({ lowerPm, upperPm }, effect, sizePm, then, now);
          const change = Math.round(atLow ? window.lowPm! : window.highPm!) + past;

          const after = sizePm + effect * (now - then) + effect * change;

          const inside = window.lowPm! <= change && change <= window.highPm!;
          expect(lowerPm <= after && after <= upperPm).toBe(inside);
        },
      ),
      { numRuns: 1000 },
    );
  });
});

describe("overlapOf", () => {
  it(`ML-16: bore and boss of one tool, ${tradeCase("ML-16").source}`, () => {
    const { inputs, expected } = tradeCase("ML-16");
    const bore = { lowerPm: pm(inputs.bore_lower!), upperPm: pm(inputs.bore_upper!) };
    const boss = { lowerPm: pm(inputs.boss_lower!), upperPm: pm(inputs.boss_upper!) };

    // A mill's diameter register: inside shrinks, outside grows with a larger value.
    const overlap = overlapOf([
      changeWindow(bore, -1, pm(inputs.bore_measured!), 0, 0),
      changeWindow(boss, 1, pm(inputs.boss_measured!), 0, 0),
    ]);

    expect(overlap).toEqual({
      lowPm: pm(expected.allowed_change_low!),
      highPm: pm(expected.allowed_change_high!),
    });
  });

  it(`TR-07: two diameters of one turning tool, ${tradeCase("TR-07").source}`, () => {
    const { inputs, expected } = tradeCase("TR-07");
    const first = { lowerPm: pm(inputs.d1_lower!), upperPm: pm(inputs.d1_upper!) };
    const second = { lowerPm: pm(inputs.d2_lower!), upperPm: pm(inputs.d2_upper!) };

    const overlap = overlapOf([
      changeWindow(first, 1, pm(inputs.d1_measured!), 0, 0),
      changeWindow(second, 1, pm(inputs.d2_measured!), 0, 0),
    ]);

    expect(overlap).toEqual({
      lowPm: pm(expected.allowed_change_low!),
      highPm: pm(expected.allowed_change_high!),
    });
  });

  it("is a single change where the windows touch, nothing where they don't", () => {
    expect(
      overlapOf([
        { lowPm: 0, highPm: 5 },
        { lowPm: 5, highPm: 9 },
      ]),
    ).toEqual({ lowPm: 5, highPm: 5 });
    expect(
      overlapOf([
        { lowPm: 0, highPm: 5 },
        { lowPm: 6, highPm: 9 },
      ]),
    ).toBeUndefined();
  });

  it("is open where no window has an end", () => {
    expect(overlapOf([])).toEqual({ lowPm: undefined, highPm: undefined });
    expect(
      overlapOf([
        { lowPm: 3, highPm: undefined },
        { lowPm: -2, highPm: undefined },
      ]),
    ).toEqual({
      lowPm: 3,
      highPm: undefined,
    });
  });

  it("holds exactly the changes that every window holds", () => {
    const end = fc.option(fc.integer({ min: -20, max: 20 }), { nil: undefined });
    const window = fc
      .record({ lowPm: end, highPm: end })
      .filter(({ lowPm, highPm }) => lowPm === undefined || highPm === undefined || lowPm <= highPm);
    fc.assert(
      fc.property(
        fc.array(window, { maxLength: 4 }),
        fc.integer({ min: -25, max: 25 }),
        (windows, change) => {
          const holds = (w: { lowPm: number | undefined; highPm: number | undefined }) =>
            (w.lowPm ?? change) <= change && change <= (w.highPm ?? change);
          const overlap = overlapOf(windows);

          expect(overlap !== undefined && holds(overlap)).toBe(windows.every(holds));
        },
      ),
    );
  });
});
