import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parseDecimal, parseLength } from "../../../src/core/quantity.js";
import { referenceMicroC, sizeAt20, type Warmth } from "../../../src/core/temperature/size-at-20.js";
import { readData } from "../data/read-data.js";

interface Case {
  id: string;
  kind: string;
  what: string;
  source: string;
  inputs: Record<string, string>;
  expected: Record<string, string>;
  abs_or_rel_tolerance: { abs_mm: number };
}
const cases = readData<Case[]>("temperature.json");
const ofKind = (kind: string) => cases.filter((each) => each.kind === kind);

const micro = (text: string | undefined) => parseDecimal(text ?? "", 6)!;
const pm = (text: string | undefined) => parseLength(text ?? "", "mm")!;
const warmth = (coefficient: string | undefined, temperature: string | undefined): Warmth => ({
  coefficientPicoPerK: micro(coefficient),
  temperatureMicroC: micro(temperature),
});
const cool = warmth("11.5", "20");
/** The reference gives 12 decimals of a mm; what is kept are 9, so half of the ninth is all that may be lost. */
const asKept = (decimals: string | undefined) => Math.round(Number(decimals) * 1e9);

describe("sizeAt20", () => {
  it.each(ofKind("length-at-20"))("$id: $what [$source]", ({ inputs, expected, abs_or_rel_tolerance }) => {
    const read = pm(inputs.length_at_T_mm);

    const size = sizeAt20(read, warmth(inputs.cte_1e6, inputs.temperature_C), cool);

    expect(size).toBe(asKept(expected.length_at_20_mm_exact));
    expect(Math.abs(size / 1e9 - Number(expected.length_at_20_mm_exact))).toBeLessThanOrEqual(
      Math.max(abs_or_rel_tolerance.abs_mm, 0.5e-9) * (1 + 1e-6),
    );
    expect(read - size).toBe(Math.round(Number(expected.change_um) * 1e6));
  });

  it.each(ofKind("length-at-20"))("$id: first order, L − L α (t − 20)", ({ inputs, expected }) => {
    const grown =
      pm(inputs.length_at_T_mm) * Number(inputs.cte_1e6) * 1e-6 * (Number(inputs.temperature_C) - 20);
    const secondOrder = (grown * Number(inputs.cte_1e6) * 1e-6 * (Number(inputs.temperature_C) - 20)) / 1e9;

    const size = sizeAt20(pm(inputs.length_at_T_mm), warmth(inputs.cte_1e6, inputs.temperature_C), cool);

    expect(size / 1e9 - secondOrder).toBeCloseTo(Number(expected.length_at_20_mm_first_order), 7);
  });

  it.each(ofKind("differential"))("$id: $what [$source]", ({ inputs, expected }) => {
    const part = warmth(inputs.part_cte_1e6, inputs.part_temperature_C);
    const gauge = warmth(inputs.instrument_cte_1e6, inputs.instrument_temperature_C);

    const size = sizeAt20(pm(inputs.reading_mm), part, gauge);

    expect(size).toBe(asKept(expected.length_at_20_mm_exact));
    // L α² θ² is at most 0.06 µm in these.
    const correctionUm = (size - pm(inputs.reading_mm)) / 1e6;
    expect(Math.abs(correctionUm - Number(expected.first_order_correction_um))).toBeLessThan(0.06);
  });

  it("takes warm aluminium read with a warm steel gauge to be smaller than it reads", () => {
    const aluminium = warmth("23", "28");
    const steel = warmth("11.5", "28");

    expect(sizeAt20(150e9, aluminium, steel)).toBeLessThan(150e9 - 13.7e6);
    expect(sizeAt20(150e9, aluminium, steel)).toBeGreaterThan(150e9 - 13.9e6);
  });

  it("rounds half a picometre to even", () => {
    // 1 + α θ = 2, so that the size is half of what was read.
    const doubled = { coefficientPicoPerK: 1e12, temperatureMicroC: 21e6 };

    expect([1, 3, 5, -1, -3].map((read) => sizeAt20(read, doubled, cool))).toEqual([0, 2, 2, 0, -2]);
  });

  it.each([
    ["a read size that is no whole number", 0.5, cool, cool],
    ["a read size beyond 9 km", 2 ** 53, cool, cool],
    ["a size at 20 °C beyond 9 km", 2 ** 53 - 1, cool, warmth("11.5", "30")],
    ["a coefficient that is no whole number", 1, { ...cool, coefficientPicoPerK: 0.5 }, cool],
    ["a temperature that is NaN", 1, cool, { ...cool, temperatureMicroC: Number.NaN }],
    [
      "a part that would have shrunk to nothing",
      1,
      { coefficientPicoPerK: 1e12, temperatureMicroC: 19e6 },
      cool,
    ],
  ])("throws for %s", (_, read, part, gauge) => {
    expect(() => sizeAt20(read, part, gauge)).toThrow(RangeError);
  });
});

const size = fc.integer({ min: 1e6, max: 5e12 });
const coefficient = fc.integer({ min: -5e6, max: 300e6 });
const expanding = fc.integer({ min: 1e6, max: 300e6 });
const temperature = fc.integer({ min: -40e6, max: 200e6 });
const anyWarmth = fc.record({ coefficientPicoPerK: coefficient, temperatureMicroC: temperature });

describe("sizeAt20, whatever the figures", () => {
  it("changes nothing where both are at 20 °C, and nothing where both are alike", () => {
    fc.assert(
      fc.property(size, coefficient, coefficient, anyWarmth, (read, a, b, alike) => {
        const part = { coefficientPicoPerK: a, temperatureMicroC: referenceMicroC };
        const gauge = { coefficientPicoPerK: b, temperatureMicroC: referenceMicroC };
        expect(sizeAt20(read, part, gauge)).toBe(read);
        expect(sizeAt20(read, alike, alike)).toBe(read);
      }),
    );
  });

  it("makes a warm part smaller and a cold one bigger; a warm gauge the other way round", () => {
    fc.assert(
      fc.property(size, expanding, temperature, (read, coefficientPicoPerK, temperatureMicroC) => {
        const off = { coefficientPicoPerK, temperatureMicroC };
        const warm = Math.sign(temperatureMicroC - referenceMicroC);
        const byPart = sizeAt20(read, off, cool) - read;
        const byGauge = sizeAt20(read, cool, off) - read;
        expect(byPart * warm).toBeLessThanOrEqual(0);
        expect(byGauge * warm).toBeGreaterThanOrEqual(0);
      }),
    );
  });

  it("never gives a bigger size for a warmer part", () => {
    fc.assert(
      fc.property(size, expanding, temperature, temperature, anyWarmth, (read, c, t, u, gauge) => {
        const at = (temperatureMicroC: number) => ({ coefficientPicoPerK: c, temperatureMicroC });
        const [colder, warmer] = [Math.min(t, u), Math.max(t, u)];
        expect(sizeAt20(read, at(warmer), gauge)).toBeLessThanOrEqual(sizeAt20(read, at(colder), gauge));
      }),
    );
  });

  it("leads back to what was read when part and gauge change places, to a picometre", () => {
    fc.assert(
      fc.property(size, anyWarmth, anyWarmth, (read, part, gauge) => {
        const back = sizeAt20(sizeAt20(read, part, gauge), gauge, part);
        expect(Math.abs(back - read)).toBeLessThanOrEqual(1);
      }),
    );
  });

  it("turns with the sign of the size", () => {
    fc.assert(
      fc.property(size, anyWarmth, anyWarmth, (read, part, gauge) => {
        expect(sizeAt20(-read, part, gauge)).toBe(-sizeAt20(read, part, gauge));
      }),
    );
  });
});
