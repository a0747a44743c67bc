import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { compileTimeFormat, readInstant, type TimeFormat } from "../../../src/core/notation/read-instant.js";
import { zoneOffset } from "../../../src/import/time-zone.js";

const berlin = zoneOffset("Europe/Berlin");
const format = (text: string) => compileTimeFormat(text) as TimeFormat;

describe("readInstant", () => {
  it.each([
    ["2026-03-11T06:42:17", "2026-03-11T05:42:17.000Z"],
    ["2026-07-11 06:42", "2026-07-11T04:42:00.000Z"],
    ["2017-01-31T21:19:15.9843750Z", "2017-01-31T21:19:15.984Z"],
    ["2026-03-11T06:42:17+05:30", "2026-03-11T01:12:17.000Z"],
  ])("reads %s, local times in Berlin, as %s", (text, instant) => {
    expect(readInstant(text, [], berlin)).toEqual({ instant });
  });

  it.each([
    ["DD.MM.YYYY HH:mm", "11.03.2026 07:05", "2026-03-11T06:05:00.000Z"],
    ["YYYY/MM/DD HH:mm:ss", "2026/03/11 06:42:17", "2026-03-11T05:42:17.000Z"],
    ["DD-MMM-YYYY H:mm", "11-MAR-2026 7:05", "2026-03-11T06:05:00.000Z"],
    ["M/D/YY H:mm A", "3/11/26 12:05 am", "2026-03-10T23:05:00.000Z"],
    ["M/D/YY H:mm A", "3/11/26 12:05 PM", "2026-03-11T11:05:00.000Z"],
  ])("reads by %s the time %s", (pattern, text, instant) => {
    expect(readInstant(text, [format(pattern)], berlin)).toEqual({ instant });
  });

  it("refuses a local time where no zone is known", () => {
    expect(readInstant("2026-03-11T06:42:17", [], undefined)).toHaveProperty(
      "fault",
      expect.stringContaining("time_zone"),
    );
  });

  it("refuses what the clocks of Berlin showed twice on 25 October 2026, with both meanings, and what they skipped on 29 March", () => {
    const { fault } = readInstant("2026-10-25T02:30:00", [], berlin) as { fault: string };

    expect(fault).toContain("2026-10-25T00:30:00.000Z");
    expect(fault).toContain("2026-10-25T01:30:00.000Z");
    expect(readInstant("2026-03-29T02:30:00", [], berlin)).toHaveProperty(
      "fault",
      expect.stringContaining("skipped"),
    );
  });

  it.each([
    "",
    "yesterday",
    "2026-02-30T10:00",
    "2026-13-01T10:00",
    "2026-03-11T24:00",
    "2026-03-11T10:60",
    "x".repeat(100),
  ])("refuses %j", (text) => {
    expect(readInstant(text, [], berlin)).toHaveProperty("fault");
  });

  it("says of a date alone that it has no time of day", () => {
    expect(readInstant("2026-03-11", [], berlin)).toEqual({ fault: "says no time of day" });
  });

  it("gives back every minute of a year as it was shown in a zone, save those of the two changes", () => {
    const shown = new Intl.DateTimeFormat("sv-SE", {
      timeZone: "America/New_York",
      dateStyle: "short",
      timeStyle: "medium",
    });
    const zone = zoneOffset("America/New_York");
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 365 * 1440 }), (minute) => {
        const at = Date.UTC(2026, 0, 1) + minute * 60_000;
        const read = readInstant(shown.format(at), [], zone);

        const isDoubled = "fault" in read && read.fault.includes(new Date(at).toISOString());
        if (!isDoubled) expect(read).toEqual({ instant: new Date(at).toISOString() });
      }),
    );
  });
});

describe("compileTimeFormat", () => {
  it.each(["HH:mm", "YYYY", "YYYY-MM-DD HH", "YYYY-MM-DD YYYY", ""])("refuses %j", (text) => {
    expect(compileTimeFormat(text)).toHaveProperty("fault");
  });

  it("takes signs of patterns for what they are", () => {
    expect(readInstant("(11.03.2026) [07:05]", [format("(DD.MM.YYYY) [HH:mm]")], berlin)).toHaveProperty(
      "instant",
    );
    expect(readInstant("11x03x2026 07:05", [format("DD.MM.YYYY HH:mm")], berlin)).toHaveProperty("fault");
  });
});
