import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findPatterns, type RunRule, runRules } from "../../../src/core/control-chart/run-rules.js";
import { normalCdf } from "../../../src/core/statistics/normal.js";
import { readData } from "../data/read-data.js";

interface Card {
  id: string;
  kind: string;
  source: string;
  inputs: { z: number[]; event: string };
  expected: Record<"western_electric" | "nelson", Record<string, number[]>> & {
    probability: number;
    arl: number;
  };
}

const cards = readData<Card[]>("control-charts.json");

it.each(
  cards.filter(({ kind }) => kind === "run-rules").map((card) => [card.id, card.source, card] as const),
)("%s: %s", (_, __, { inputs, expected }) => {
  const found = findPatterns(inputs.z, runRules);

  for (const set of ["western_electric", "nelson"] as const) {
    for (const [number, places] of Object.entries(expected[set])) {
      const rule = `${set}_${number}` as RunRule;
      expect(
        found.filter((one) => one.rule === rule).map(({ at }) => at + 1),
        rule,
      ).toEqual(places);
    }
  }
});

it.each(cards.filter(({ kind }) => kind === "false-alarm").map((card) => [card.inputs.event, card] as const))(
  "false alarms: %s",
  (event, { expected }) => {
    const chances: Record<string, number> = {
      "beyond 3 sigma": 2 * normalCdf(-3),
      "beyond 2 sigma one side": normalCdf(-2),
      "beyond 1 sigma one side": normalCdf(-1),
      "eight in a row on one side": 2 * 0.5 ** 8,
      "nine in a row on one side": 2 * 0.5 ** 9,
    };
    expect(Math.abs(chances[event]! / expected.probability - 1)).toBeLessThan(1e-9);
    expect(Math.abs(1 / chances[event]! / expected.arl - 1)).toBeLessThan(1e-9);
  },
);

describe("tests of ISO 7870-2 (from memory)", () => {
  it("names the seventh on one side, and no sixth", () => {
    const z = [-0.5, 0.2, 0.3, 0.2, 0.9, 0.8, 0.1, 0.4];
    expect(findPatterns(z, ["iso_7870_2"])).toEqual([{ rule: "iso_7870_2", at: 7 }]);
    expect(findPatterns(z.slice(0, 7), ["iso_7870_2"])).toEqual([]);
  });

  it("names the seventh that rises", () => {
    const z = [-1.2, -0.9, -0.5, -0.1, 0.2, 0.4, 0.6];
    expect(findPatterns(z, ["iso_7870_3"])).toEqual([{ rule: "iso_7870_3", at: 6 }]);
    expect(findPatterns(z.slice(1), ["iso_7870_3"])).toEqual([]);
  });
});

it("takes a point on the line for inside", () => {
  expect(findPatterns([3, -3], ["western_electric_1", "nelson_1", "iso_7870_1"])).toEqual([]);
});

const run = fc.array(fc.double({ min: -4, max: 4, noNaN: true }), { maxLength: 40 });

it("finds the same patterns upside down", () => {
  fc.assert(
    fc.property(run, (z) => {
      expect(
        findPatterns(
          z.map((x) => -x),
          runRules,
        ),
      ).toEqual(findPatterns(z, runRules));
    }),
  );
});

it("knows each rule apart: what one finds does not depend on the others", () => {
  fc.assert(
    fc.property(run, fc.subarray(runRules), (z, wanted) => {
      const all = findPatterns(z, runRules).filter(({ rule }) => wanted.includes(rule));
      expect(findPatterns(z, wanted)).toEqual(all);
    }),
  );
});

it("alternating wants fourteen points", () => {
  const z = Array.from({ length: 14 }, (_, i) => (i % 2 === 0 ? 0.5 : -0.5));
  expect(findPatterns(z, ["nelson_4"])).toEqual([{ rule: "nelson_4", at: 13 }]);
  expect(findPatterns(z.slice(1), ["nelson_4"])).toEqual([]);
});
