import { describe, expect, it } from "vitest";
import { chiSquare99 } from "../../../src/core/statistics/chi-square.js";
import { readData } from "../data/read-data.js";

interface Table {
  source: string;
  values: [number, number][];
}

const [few, many] = readData<[Table, Table]>("chi-square.json");

describe("chiSquare99", () => {
  it.each(few.values)(`for %d degrees of freedom is %d (${few.source})`, (degrees, expected) => {
    expect(chiSquare99(degrees)).toBe(expected);
  });

  it.each(many.values)(
    `for %d is within a thousandth of %d by approximation (${many.source})`,
    (degrees, expected) => {
      expect(Math.abs(chiSquare99(degrees) / expected - 1)).toBeLessThan(1e-3);
    },
  );

  it("is 0 for no degrees of freedom: nothing is left to vary", () => {
    expect(chiSquare99(0)).toBe(0);
  });

  it("rises with every degree of freedom, by less than the one before", () => {
    const steps = Array.from({ length: 200 }, (_, k) => chiSquare99(k + 1) - chiSquare99(k));

    expect(steps.every((step) => step > 1)).toBe(true);
    expect(steps[0]).toBeGreaterThan(steps[19]!);
    expect(steps[19]).toBeGreaterThan(steps[199]!);
  });
});
