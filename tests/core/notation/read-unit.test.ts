import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { printedUnits, readUnit, splitHeader, toKeptUnit } from "../../../src/core/notation/read-unit.js";
import { type LengthUnit, parseLength } from "../../../src/core/quantity.js";

describe("readUnit", () => {
  it("takes the micro sign, the Greek letter and u for the same micrometre", () => {
    for (const text of ["\u00b5m", "\u03bcm", "um"]) expect(readUnit(text)).toBe("µm");
  });

  it.each([
    ["MM", "mm"],
    ["IN", "inch"],
    ['"', "inch"],
    ["uin", "µin"],
    ["°", "deg"],
    ["rad", "rad"],
    ["'", "arcmin"],
  ])("reads %s as %s", (text, unit) => {
    expect(readUnit(text)).toBe(unit);
  });

  it.each(["", "M", "X", "mmm", "grad", "bar"])("knows no unit %j", (text) => {
    expect(readUnit(text)).toBeUndefined();
  });
});

describe("toKeptUnit", () => {
  it("moves the decimal point only: 5 mil are 0.127 mm (1 inch = 25.4 mm, NIST SP 811, table B.8)", () => {
    const { decimal, unit } = toKeptUnit("5", "mil");

    expect([decimal, unit]).toEqual(["0.005", "inch"]);
    expect(parseLength(decimal, unit as LengthUnit)).toBe(127_000_000);
  });

  it("changes no size: back by the opposite power of ten it is what it was", () => {
    const powers = { cm: ["mm", 10n], m: ["mm", 1000n] } as const;
    fc.assert(
      fc.property(fc.integer({ min: -1e6, max: 1e6 }), fc.constantFrom("cm", "m"), (value, unit) => {
        const [kept, factor] = powers[unit as "cm" | "m"];
        expect(toKeptUnit(String(value), unit as "cm" | "m")).toEqual({
          decimal: String(BigInt(value) * factor),
          unit: kept,
        });
      }),
    );
  });

  it("leaves every other unit alone", () => {
    for (const unit of printedUnits.filter((name) => !["cm", "m", "mil"].includes(name)))
      expect(toKeptUnit("1.50", unit)).toEqual({ decimal: "1.50", unit });
  });
});

describe("splitHeader", () => {
  it.each([
    ["Ist [mm]", "Ist", "mm"],
    ["Actual (in)", "Actual", "inch"],
    ["D1 mm", "D1", "mm"],
    ["Length (in mm)", "Length", "mm"],
  ])("takes the unit off %s", (header, name, unit) => {
    expect(splitHeader(header)).toEqual({ name, unit });
  });

  it.each(["Bew.", "Feature", "mm", "D1 (left)", ""])("leaves %j as it is", (header) => {
    expect(splitHeader(header)).toEqual({ name: header, unit: undefined });
  });

  it("leaves a hostile header as it is, where going back over it would take longer than the test may", () => {
    const header = `${" [".repeat(1_000_000)}x`;

    expect(splitHeader(header).unit).toBeUndefined();
  });
});
