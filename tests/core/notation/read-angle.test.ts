import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { looksLikeAngle, readAngle } from "../../../src/core/notation/read-angle.js";

const point = { decimalSign: "." } as const;

describe("readAngle", () => {
  it("reads 44° 59' 30\" as 44.991666667° (60 minutes to a degree, 60 seconds to a minute: SI brochure, table 8)", () => {
    expect(readAngle("44° 59' 30\"", point)).toEqual({ degrees: "44.991666667" });
  });

  it.each([
    ["45°", "45"],
    ["30'", "0.5"],
    ["-0° 30'", "-0.5"],
    ["1° 0' 0.5\"", "1.000138889"],
    ["0°", "0"],
    ["-0°", "0"],
    ["59′", "0.983333333"],
    ["59.5'", "0.991666667"],
    ["90'", "1.5"],
  ])("reads %s as %s°", (text, degrees) => {
    expect(readAngle(text, point)).toEqual({ degrees });
  });

  it.each([
    "",
    "abc",
    "44° 60'",
    "44° 0' 60\"",
    "44.5° 30'",
    "44° 30.5' 1\"",
    "1° 2° 3'",
    `${"1".repeat(70)}°`,
  ])("refuses %s", (text) => {
    expect(readAngle(text, point)).toHaveProperty("fault");
  });

  it("refuses minutes that may mean two things", () => {
    expect(readAngle("44° 1,5'", point)).toHaveProperty("fault", expect.stringContaining("decimal comma"));
  });

  it("is within half a billionth of a degree of the sum of its parts", () => {
    fc.assert(
      fc.property(fc.nat(359), fc.nat(59), fc.nat(59_999), (degrees, minutes, milliseconds) => {
        const read = readAngle(`${degrees}° ${minutes}' ${(milliseconds / 1000).toFixed(3)}"`, point);

        const [whole = "", fraction = ""] = (read as { degrees: string }).degrees.split(".");
        const billionths = BigInt(whole + fraction.padEnd(9, "0"));
        const exactTimes3600000 = BigInt(degrees * 3_600_000 + minutes * 60_000 + milliseconds) * 10n ** 9n;
        const apart = billionths * 3_600_000n - exactTimes3600000;
        expect(apart <= 1_800_000n && apart >= -1_800_000n).toBe(true);
      }),
    );
  });

  it("is looked for only where signs of degrees or minutes stand", () => {
    expect(looksLikeAngle("30'")).toBe(true);
    expect(looksLikeAngle("44°")).toBe(true);
    expect(looksLikeAngle('0.4863"')).toBe(false);
  });
});
