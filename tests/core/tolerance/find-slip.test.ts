import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type LengthUnit, parseLength } from "../../../src/core/quantity.js";
import { findSlip } from "../../../src/core/tolerance/find-slip.js";
import { pm } from "../../support/blocks.js";
import { tradeCase } from "../data/read-data.js";

/** The slip behind `text`, everything but the unit of the text in mm. */
function slipOf(
  text: string,
  expected: number,
  { unit = "mm" as LengthUnit, nominal = expected, within = 0.05 } = {},
) {
  const sizePm = parseLength(text, unit)!;
  return findSlip({ text, unit, sizePm }, pm(expected), pm(nominal), pm(within), parseLength);
}

describe("findSlip", () => {
  it.each([
    ["TY-01", "2.014", 20.01, "digit_lost", 20.014],
    ["TY-02", "0.788", 20.015, "inch_for_mm", 20.0152],
    ["TY-04", "20.514", 20.014, "thimble_turn", 20.014],
    ["TY-05", "0.012", 20.0, "deviation_for_size", 20.012],
  ] as const)("%s: %s where %d is expected is %s, %d", (id, text, expected, kind, meant) => {
    const { inputs, source } = tradeCase(id);
    expect(Number(text), source).toBe(inputs.typed);

    const slip = slipOf(text, expected);

    expect(slip?.kind, source).toBe(kind);
    expect(slip!.sizePm / 1e9, source).toBeCloseTo(meant, 4);
  });

  // Common practice, no source: the slips of hand and eye that a shop knows.
  it.each([
    ["two neighbours exchanged", "21.004", 12.004, "digits_swapped", 12.004],
    ["two decimals exchanged", "20.41", 20.14, "digits_swapped", 20.14],
    ["two exchanged around the point", "10.204", 12.004, "digits_swapped", 12.004],
    ["point one place left", "1.2004", 12.0, "decimal_point", 12.004],
    ["point one place right", "120.04", 12.0, "decimal_point", 12.004],
    ["point two places right", "1200.4", 12.0, "decimal_point", 12.004],
    ["no point", "12004", 12.0, "decimal_point", 12.004],
    ["a turn too little", "19.514", 20.014, "thimble_turn", 20.014],
    ["a digit lost after the point", "20.14", 20.014, "digit_lost", 20.014],
    ["a minus deviation", "-0.012", 20.0, "deviation_for_size", 19.988],
  ] as const)("%s: %s where %d is expected is %s", (_, text, expected, kind, meant) => {
    expect(slipOf(text, expected, { within: 0.013 })).toEqual({ kind, sizePm: pm(meant) });
  });

  it("knows the turn of an inch micrometer, 0.025 in (from memory)", () => {
    expect(slipOf("0.8126", 20.005, { unit: "inch", within: 0.02 })).toEqual({
      kind: "thimble_turn",
      sizePm: 0.7876 * 25.4e9,
    });
    expect(slipOf("0.7626", 20.005, { unit: "inch", within: 0.02 })?.kind).toBe("thimble_turn");
  });

  it("does not take 0.5 mm for a turn of an inch micrometer", () => {
    const half = (20.005 + 0.5) / 25.4;

    expect(slipOf(half.toFixed(4), 20.005, { unit: "inch", within: 0.005 })?.kind).not.toBe("thimble_turn");
  });

  it("sees millimetres typed into a field of inches", () => {
    expect(slipOf("20.005", 20.01, { unit: "inch", within: 0.02 })).toEqual({
      kind: "mm_for_inch",
      sizePm: pm(20.005),
    });
  });

  it("believes a simple slip before one that takes a lucky digit", () => {
    // 20.41 is 20.14 with two digits exchanged; 20.141 less a 1 would come closer to what was expected.
    expect(slipOf("20.41", 20.1415)).toEqual({ kind: "digits_swapped", sizePm: pm(20.14) });
    // 20.012 may have lost the 2 of its front, or be the deviation 0.012 typed for the size.
    expect(slipOf("0.012", 20.0)?.kind).toBe("deviation_for_size");
  });

  it.each(["20.7", "13.37", "35"])("finds nothing behind %s where 20.014 is expected within 0.01", (text) => {
    expect(slipOf(text, 20.014, { within: 0.01 })).toBeUndefined();
  });

  it("never names a size farther from the expected one than a plausible one may lie, nor the size as typed", () => {
    const micrometres = fc.integer({ min: -5_000, max: 300_000 });
    fc.assert(
      fc.property(
        micrometres,
        fc.integer({ min: 1_000, max: 300_000 }),
        fc.integer({ min: 1, max: 500 }),
        fc.constantFrom("mm" as const, "inch" as const),
        (typed, expected, within, unit) => {
          const text = (typed / 1000).toFixed(3);
          const sizePm = parseLength(text, unit)!;

          const slip = findSlip(
            { text, unit, sizePm },
            expected * 1e6,
            expected * 1e6,
            within * 1e6,
            parseLength,
          );

          if (slip) {
            expect(Math.abs(slip.sizePm - expected * 1e6)).toBeLessThanOrEqual(within * 1e6);
            expect(slip.sizePm).not.toBe(sizePm);
          }
        },
      ),
      { numRuns: 500 },
    );
  });

  it("finds every slip of the point, the turn and the deviation that was made", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 5_001, max: 49_999 }),
        fc.integer({ min: -40, max: 40 }),
        (nominal, off) => {
          fc.pre(off !== 0);
          const meantUm = nominal + off;
          const said = (micrometres: number) =>
            slipOf((micrometres / 1000).toFixed(3), meantUm / 1000, { nominal: nominal / 1000 });

          expect(said(meantUm * 10)).toBeDefined();
          expect(said(meantUm + 500)).toBeDefined();
          expect(said(meantUm - 500)).toBeDefined();
          expect(said(off)).toBeDefined();
        },
      ),
    );
  });
});
