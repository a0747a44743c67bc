import { describe, expect, it } from "vitest";
import { readRequirement } from "../../../src/core/notation/read-requirement.js";

const both = { decimalSign: "both" } as const;

describe("readRequirement", () => {
  it("reads Ø12 H7 as 12.000 to 12.018 (ISO 286-2:2010, H7 over 10 up to 18 mm, from memory)", () => {
    expect(readRequirement("Ø12 H7", both)).toEqual({ nominal: "12", lower: "12", upper: "12.018" });
  });

  it.each([
    ["10 ±0,05", { nominal: "10", lower: "9.95", upper: "10.05" }],
    ["10 +/-0.05", { nominal: "10", lower: "9.95", upper: "10.05" }],
    ["25.4 +0.021/-0", { nominal: "25.4", lower: "25.4", upper: "25.421" }],
    ["75 +0,1 -0,2", { nominal: "75", lower: "74.8", upper: "75.1" }],
    ["20 -0.02 -0.05", { nominal: "20", lower: "19.95", upper: "19.98" }],
    ["8.02 - 8.05", { lower: "8.02", upper: "8.05" }],
    ["8.02 \u2013 8.05", { lower: "8.02", upper: "8.05" }],
    ["R0.8 MAX", { upper: "0.8" }],
    ["MIN 3", { lower: "3" }],
    ["Ra 1,6", { upper: "1.6" }],
    ["R0.8", { nominal: "0.8" }],
    ["12.5 mm", { nominal: "12.5" }],
  ])("reads %s", (text, requirement) => {
    expect(readRequirement(text, both)).toEqual(requirement);
  });

  it.each(["", "see note", "8.05 - 8.02", "12 Q7", "12 H99", "1 ±"])("refuses %j", (text) => {
    expect(readRequirement(text, both)).toHaveProperty("fault");
  });

  it("refuses a figure that may mean two things, and a class in inch", () => {
    expect(readRequirement("1,234 ±0.1", { decimalSign: "." })).toHaveProperty("fault");
    expect(readRequirement("0.5 H7", { decimalSign: "." }, "inch")).toHaveProperty("fault");
  });

  it.each(["1,".repeat(39), "Ø".repeat(80), `1${" ".repeat(79)}x`, `±${"1".repeat(10_000)}`])(
    "refuses a hostile text, and does not hang over it",
    (text) => expect(readRequirement(text, both)).toHaveProperty("fault"),
  );
});
