import { describe, expect, it } from "vitest";
import { nearMatches } from "../../src/http/near-matches.js";

const gauges = [
  "micrometer 0-25 no. 3",
  "micrometer 25-50 no. 1",
  "bore gauge 18-35",
  "calliper 150",
  "probe",
];

describe("nearMatches", () => {
  it("finds names with letters changed, nearest first", () => {
    expect(nearMatches("calliper 15", gauges)).toEqual(["calliper 150"]);
    expect(nearMatches("Probe", gauges)).toEqual(["probe"]);
  });

  it("finds a long name by its beginning", () => {
    expect(nearMatches("micrometer 0-52", gauges)).toEqual([
      "micrometer 0-25 no. 3",
      "micrometer 25-50 no. 1",
    ]);
  });

  it("finds a name by a part of it", () => {
    expect(nearMatches("diameter", ["number", "nominal_diameter"])).toEqual(["nominal_diameter"]);
  });

  it("lists no more than asked for, and nothing that is far away", () => {
    expect(nearMatches("a1", ["a2", "a3", "a4", "a5"], 2)).toEqual(["a2", "a3"]);
    expect(nearMatches("thread plug M8", gauges)).toEqual([]);
    expect(nearMatches("x", [])).toEqual([]);
  });
});
