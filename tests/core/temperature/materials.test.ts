import { describe, expect, it } from "vitest";
import { givenExpansion, standardOfRange } from "../../../src/core/temperature/expansion.js";
import { expansionOf, findMaterial, materials } from "../../../src/core/temperature/materials.js";
import { readData } from "../data/read-data.js";

interface Case {
  id: string;
  kind: string;
  source: string;
  inputs: { material: string };
  expected: { typical: number; handbook_range: [number, number] };
}
const cases = readData<Case[]>("temperature.json").filter(({ kind }) => kind === "cte");

describe("findMaterial", () => {
  it.each(cases)("$id: $inputs.material [$source]", ({ inputs, expected }) => {
    const [low, high] = expected.handbook_range;

    expect(findMaterial(inputs.material)).toMatchObject({ low, typical: expected.typical, high });
    expect(expansionOf(findMaterial(inputs.material)!).coefficientPicoPerK).toBe(expected.typical * 1e6);
  });

  it.each([
    ["Aluminum", "aluminium"],
    ["EN AW 6061", "aluminium 6061"],
    ["7075-t6", "aluminium 7075"],
    ["Stainless steel 316", "stainless steel 316"],
    ["aisi 304", "stainless steel 304"],
    ["1.4301", "stainless steel 304"],
    ["Steel", "steel"],
    ["17-4PH", "stainless steel 17-4 PH"],
    ["ti6al4v", "titanium Ti-6Al-4V"],
    ["PA 6.6", "polyamide 6.6"],
  ])("knows %s as %s", (name, known) => {
    expect(findMaterial(name)?.name).toBe(known);
  });

  it.each(["stainless steel", "tool steel", "carbon fibre", "unobtainium", ""])(
    "does not guess what %s is",
    (name) => {
      expect(findMaterial(name)).toBeUndefined();
    },
  );

  it("tells every material by each of its names", () => {
    for (const material of materials) {
      for (const name of [material.name, ...material.aliases]) expect(findMaterial(name)).toBe(material);
    }
  });

  it("holds a customary value inside every range", () => {
    for (const { low, typical, high } of materials) {
      expect(low).toBeLessThanOrEqual(typical);
      expect(typical).toBeLessThanOrEqual(high);
    }
  });
});

describe("standardOfRange", () => {
  it("is half the range over √3 for its middle (JCGM 100:2008, H.1.3.4: ±2 gives 1.2, ±1 gives 0.58)", () => {
    expect(standardOfRange(9.5, 11.5, 13.5)).toBeCloseTo(2 / Math.sqrt(3), 12);
    expect(standardOfRange(10.5, 11.5, 12.5).toFixed(2)).toBe("0.58");
  });

  it("is more for a value beside the middle", () => {
    expect(standardOfRange(0, 0, 6)).toBeCloseTo(Math.hypot(Math.sqrt(3), 3), 12);
  });

  it("throws for a value outside", () => {
    expect(() => standardOfRange(1, 0.9, 2)).toThrow(RangeError);
    expect(() => standardOfRange(1, Number.NaN, 2)).toThrow(RangeError);
  });
});

describe("givenExpansion", () => {
  it("takes a coefficient to lie within a tenth of itself where nothing else is said", () => {
    const { standardPicoPerK } = givenExpansion(11.5e6, undefined);

    expect(standardPicoPerK).toBeCloseTo(1.15e6 / Math.sqrt(3), 6);
    expect(givenExpansion(0, undefined).standardPicoPerK).toBeCloseTo(1e5 / Math.sqrt(3), 6);
  });

  it("keeps the uncertainty that was given with it", () => {
    expect(givenExpansion(11.5e6, 0)).toEqual({ coefficientPicoPerK: 11.5e6, standardPicoPerK: 0 });
  });
});
