import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readNumber, saysNoValue } from "../../../src/core/notation/read-number.js";

const point = { decimalSign: "." } as const;
const comma = { decimalSign: "," } as const;

describe("readNumber", () => {
  it.each([
    ["12.345", "12.345"],
    ["+0012.345", "12.345"],
    ["-0000.012", "-0.012"],
    [".4863", "0.4863"],
    ["+.0126", "0.0126"],
    ["24.", "24"],
    ["- 0.5", "-0.5"],
    ["\u22120.012", "-0.012"],
    ["-0.000", "0.000"],
    ["12.0050", "12.0050"],
    ["1.25E-2", "0.0125"],
    ["1.25e3", "1250"],
    [" 7 ", "7"],
  ])("reads %s with a decimal point as %s", (text, decimal) => {
    expect(readNumber(text, point)).toMatchObject({ decimal });
  });

  it.each([
    ["9,99", "9.99"],
    ["0,75", "0.75"],
    ["260,00", "260.00"],
    ["\u22120,012", "-0.012"],
  ])("reads %s with a decimal comma as %s", (text, decimal) => {
    expect(readNumber(text, comma)).toMatchObject({ decimal });
  });

  it("reads 1.234,56 where points are said to stand between thousands", () => {
    expect(readNumber("1.234,56", { ...comma, groupingSign: "." })).toMatchObject({ decimal: "1234.56" });
    expect(readNumber("1'234.5", { ...point, groupingSign: "'" })).toMatchObject({ decimal: "1234.5" });
    expect(readNumber("12 345", { ...point, groupingSign: " " })).toMatchObject({ decimal: "12345" });
  });

  it.each(["12.34,5", "1.2345", "1.234,5.6"])("refuses %s, whose groups are not of three digits", (text) => {
    expect(readNumber(text, { ...comma, groupingSign: "." })).toHaveProperty("fault");
  });

  it("refuses 1,234 with both meanings where the decimal sign is a point", () => {
    const read = readNumber("1,234", point);

    expect(read).toHaveProperty("fault", expect.stringContaining("1.234 with a decimal comma"));
    expect(read).toHaveProperty("fault", expect.stringContaining("1234 with a comma between thousands"));
  });

  it("refuses 4,0 where the decimal sign is a point, and never reads 40", () => {
    const { fault } = readNumber("4,0", point) as { fault: string };

    expect(fault).toContain("4.0 with a decimal comma");
    expect(fault).not.toContain("40 ");
  });

  it("takes point and comma alike where the layout says so, but not both in one number", () => {
    const both = { decimalSign: "both" } as const;

    expect(readNumber("12,019", both)).toMatchObject({ decimal: "12.019" });
    expect(readNumber("25.421", both)).toMatchObject({ decimal: "25.421" });
    expect(readNumber("1.234,5", both)).toHaveProperty("fault");
  });

  it.each(["", "abc", "0x1F", "1e", "1e999", "NaN", "Infinity", "12..3", "1-2", "--3", "1 234", "٣"])(
    "refuses %j",
    (text) => {
      expect(readNumber(text, point)).toHaveProperty("fault");
    },
  );

  it("refuses what is longer than any number, however long it is", () => {
    expect(readNumber("1".repeat(20_000_000), point)).toHaveProperty("fault");
  });

  it("says that zeros stand in front of a number without a decimal sign", () => {
    expect(readNumber("000249876", point)).toEqual({ decimal: "249876", padded: true });
    expect(readNumber("249876", point)).toEqual({ decimal: "249876", padded: false });
    expect(readNumber("0", point)).toEqual({ decimal: "0", padded: false });
    expect(readNumber("0012.5", point)).toEqual({ decimal: "12.5", padded: false });
  });

  it("reads every decimal back that is printed with either sign, whatever zeros and plus signs stand in front", () => {
    fc.assert(
      fc.property(
        fc.bigInt({ min: -(10n ** 15n), max: 10n ** 15n }),
        fc.integer({ min: 1, max: 9 }),
        fc.integer({ min: 0, max: 4 }),
        fc.constantFrom(".", ","),
        (whole, places, zeros, sign) => {
          const digits = (whole < 0n ? -whole : whole).toString().padStart(places + 1, "0");
          const decimal = `${digits.slice(0, -places)}.${digits.slice(-places)}`;
          const minus = whole < 0n;
          const printed = `${minus ? "-" : "+"}${"0".repeat(zeros)}${decimal.replace(".", sign)}`;

          const read = readNumber(printed, { decimalSign: sign as "." | "," });

          expect(read).toEqual({ decimal: `${minus && whole !== 0n ? "-" : ""}${decimal}`, padded: false });
        },
      ),
    );
  });
});

describe("saysNoValue", () => {
  it.each(["", " ", "-", "--", "-----", "n/a", "N.M.", "#DIV/0!", "NaN", "NULL"])("knows %j", (text) => {
    expect(saysNoValue(text)).toBe(true);
  });

  it.each(["0", "-0", "0.000", "-1", "9999.999", "ERR"])("does not take %j for no value", (text) => {
    expect(saysNoValue(text)).toBe(false);
  });
});
