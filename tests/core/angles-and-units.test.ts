import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type AngleUnit,
  formatMeasure,
  isDms,
  type LengthUnit,
  parseAngle,
  parseLength,
  parseMeasure,
  toDms,
  toUnit,
} from "../../src/core/quantity.js";
import { readData } from "./data/read-data.js";

interface Case {
  id: string;
  kind: string;
  what: string;
  source: string;
  inputs: Record<string, string>;
  expected: Record<string, string | number | boolean | null> & { rounded_to_whole_seconds?: number[] };
}

const cases = readData<Case[]>("units.json");
const ofKind = (kind: string) =>
  cases
    .filter((entry) => entry.kind === kind)
    .map((entry): [string, Case] => [`${entry.what} (${entry.source})`, entry]);

const nano = fc.integer({ min: -360 * 3600e9, max: 360 * 3600e9 }).map((n) => n + 0);

function signed(dms: { sign: string; degrees: number; minutes: number; seconds: string }): string {
  return `${dms.sign === "-" ? "-" : ""}${dms.degrees}°${dms.minutes}'${dms.seconds}"`;
}

describe("the published units", () => {
  it("are all used here, in the test of lengths, or named with a reason", () => {
    const here = ["inch-fraction", "small-units", "dms-to-degrees", "degrees-to-dms"];
    const inTestOfLengths = ["inch-to-mm", "mm-to-inch", "toleranced-conversion"];

    expect([...new Set(cases.map(({ kind }) => kind))].sort()).toEqual([...here, ...inTestOfLengths].sort());
    expect(cases).toHaveLength(55);
  });

  // A third of an inch is no finite decimal, and fractions are no notation of a reading.
  const decimals = ofKind("inch-fraction").filter(([, { expected }]) => expected.inch_exact_decimal !== null);
  it.each(decimals)("are exact for a fraction of an inch as a decimal: %s", (_, { expected }) => {
    const length = parseLength(String(expected.inch_exact_decimal), "inch");

    expect(length).toBe(parseLength(String(expected.mm_exact_decimal), "mm"));
  });
  it("leave out only a third of an inch", () => {
    expect(ofKind("inch-fraction").length - decimals.length).toBe(1);
    expect(parseLength("1/3", "inch")).toBeUndefined();
  });

  const spelled: Record<string, [LengthUnit, number]> = {
    um: ["µm", 1],
    uin: ["µin", 1],
    nm: ["nm", 1],
    in: ["inch", 1],
    mm: ["mm", 1],
    "tenths of thou": ["inch", 1e-4], // four places behind the point: a reading is sent as 0.0005 inch
  };
  it.each(ofKind("small-units"))("are exact: %s", (_, { inputs, expected }) => {
    const [from, times] = spelled[inputs.from!]!;
    const [to] = spelled[inputs.to!]!;
    const value = times === 1 ? inputs.value! : (Number(inputs.value) * times).toFixed(4);
    const shown = toUnit(parseLength(value, from)!, to);

    expect(shown.toFixed(6)).toBe(expected.rounded_6);
    if (expected.exact_decimal !== null) expect(shown).toBe(Number(expected.exact_decimal));
  });

  it.each(ofKind("dms-to-degrees"))("read degrees, minutes and seconds: %s", (_, { inputs, expected }) => {
    const sign = inputs.sign === "-" ? "-" : "";
    const marked = parseAngle(`${sign}${inputs.degrees}°${inputs.minutes}'${inputs.seconds}"`, "deg");
    const spaced = parseAngle(`${sign}${inputs.degrees} ${inputs.minutes} ${inputs.seconds}`, "deg");

    expect(spaced).toBe(marked);
    if (expected.well_formed === false) {
      expect(marked).toBeUndefined();
      return;
    }
    expect(toUnit(marked!, "deg").toFixed(9)).toBe(expected.degrees_9_decimals);
    if (expected.degrees_exact_decimal !== null) {
      expect(marked).toBe(parseAngle(String(expected.degrees_exact_decimal), "deg"));
    }
  });

  it.each(ofKind("degrees-to-dms"))("write degrees, minutes and seconds: %s", (_, { inputs, expected }) => {
    const angle = parseAngle(inputs.degrees!, "deg")!;
    const exact = toDms(angle, 9);

    expect([exact.sign, exact.degrees, exact.minutes]).toEqual([
      expected.sign,
      expected.degrees,
      expected.minutes,
    ]);
    expect(Number(exact.seconds)).toBe(Number(expected.seconds_exact));
    const whole = toDms(angle, 0);
    expect([whole.degrees, whole.minutes, Number(whole.seconds)]).toEqual(expected.rounded_to_whole_seconds);
  });
});

describe("parseAngle", () => {
  it.each([
    [`44°59'30"`, 161_970e9],
    [`44° 59' 30"`, 161_970e9],
    ["44 59 30", 161_970e9],
    ["44°59′30″", 161_970e9],
    [`-0°30'`, -1800e9],
    ["30'", 1800e9],
    [`90'`, 5400e9],
    [`1.5"`, 1.5e9],
    ["45°", 162_000e9],
    ["44°59.5'", 161_970e9],
    ["44.5", 160_200e9],
    [44.5, 160_200e9],
    ["+1", 3600e9],
    ["-0", 0],
    [`0°0'0.0000000005"`, 0],
    [`0°0'0.0000000015"`, 2],
  ])("reads %s as %d nano-arcseconds", (text, expected) => {
    expect(parseAngle(text, "deg")).toBe(expected);
  });

  it.each([
    "",
    " ",
    `44°60'0"`,
    `44°59'60"`,
    `44.5°30'`,
    `44°59.5'30"`,
    "44 59",
    "44 59 60",
    "44 60 30",
    "44 59.5 30",
    `44°-59'`,
    "44d59m",
    `59"30'`,
    "4e1",
    "99999999999°",
    "°",
  ])("refuses %j", (text) => {
    expect(parseAngle(text, "deg")).toBeUndefined();
    expect(isDms(text)).toBe(false);
  });

  it("reads degrees, minutes and seconds in degrees only", () => {
    expect(parseAngle("30'", "arcmin")).toBeUndefined();
    expect(parseAngle("30", "arcmin")).toBe(1800e9);
    expect(parseAngle("30", "arcsec")).toBe(30e9);
  });

  it.each([
    ["1", 206_264_806_247_096], // 206264.806247096355… arcseconds: SI brochure, 9th edition, table 8
    ["0.000000000000002", 0], // 0.41 nano-arcseconds
    ["0.000000000000003", 1], // 0.62
    ["3.141592653589793238462643383279502884197", 648_000e9],
    ["-1.570796326794896619231321691639751442099", -324_000e9],
  ])("rounds %s rad to %d nano-arcseconds", (text, expected) => {
    expect(parseAngle(text, "rad")).toBe(expected);
  });

  it("brings back what was written as degrees, minutes and seconds", () => {
    fc.assert(
      fc.property(nano, (angle) => {
        expect(parseAngle(signed(toDms(angle, 9)), "deg")).toBe(angle);
      }),
    );
  });

  it("reads one angle from all its units", () => {
    const each = fc.integer({ min: -1_296_000, max: 1_296_000 });
    fc.assert(
      fc.property(each, (seconds) => {
        const expected = seconds * 1e9 + 0;
        const list: [string, AngleUnit][] = [[String(seconds), "arcsec"]];
        if (seconds % 3600 === 0) list.push([String(seconds / 3600), "deg"]);
        if (seconds % 60 === 0) list.push([String(seconds / 60), "arcmin"]);
        for (const [text, unit] of list) expect(parseMeasure(text, unit)).toBe(expected);
      }),
    );
  });
});

describe("toDms", () => {
  it("never shows 60 of anything, and is off by half of the last place at most", () => {
    fc.assert(
      fc.property(nano, fc.integer({ min: 0, max: 9 }), (angle, places) => {
        const dms = toDms(angle, places);
        const back = parseAngle(signed(dms), "deg")!;

        expect(dms.minutes).toBeLessThan(60);
        expect(Number(dms.seconds)).toBeLessThan(60);
        expect(2 * Math.abs(back - angle)).toBeLessThanOrEqual(10 ** (9 - places));
      }),
    );
  });
});

describe("formatMeasure", () => {
  it.each([
    [161_970e9, "deg", false, `44°59'30"`],
    [-1800e9, "deg", false, `-0°30'0"`],
    [1_500_000_000, "arcsec", true, `+0°0'1.5"`],
    [8e9, "1", false, "8"],
    [-2e9, "1", true, "-2"],
    [800_000, "µm", false, "0.8 µm"],
    [812_800, "µin", false, "32 µin"],
    [250_000, "nm", false, "250 nm"],
    [6_040_000_000, "mm", true, "+6.040 mm"],
  ] as const)("writes %d in %s as %s", (steps, unit, plus, expected) => {
    expect(formatMeasure(steps, unit, plus)).toBe(expected);
  });

  it("reads a count as it is", () => {
    expect(parseMeasure("3", "1")).toBe(3e9);
  });
});
