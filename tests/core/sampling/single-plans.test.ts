import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type Aql,
  codeLetter,
  type Inspection,
  type InspectionLevel,
  inspectionLevels,
  preferredAqls,
  singlePlan,
} from "../../../src/core/sampling/single-plans.js";
import { readData } from "../data/read-data.js";

interface Case {
  id: string;
  kind: string;
  what: string;
  source: string;
  // biome-ignore lint/suspicious/noExplicitAny: each kind has its own members
  inputs: any;
  // biome-ignore lint/suspicious/noExplicitAny: each kind has its own members
  expected: any;
}
const cases = readData<Case[]>("acceptance-sampling.json");
const ofKind = (kind: string) => cases.filter((each) => each.kind === kind);
const table = (id: string) => ofKind("table").find((each) => each.id === id)!;

/** A lot size with each letter at some level. */
const lotOf: Record<string, [number, InspectionLevel]> = {};
for (const level of inspectionLevels) {
  for (const lot of [2, 9, 16, 26, 51, 91, 151, 281, 501, 1201, 3201, 10_001, 35_001, 150_001, 500_001]) {
    lotOf[codeLetter(lot, level)] ??= [lot, level];
  }
}

describe("codeLetter", () => {
  const letters = table("tab-code-letters");

  it(`is the one of every cell, at both ends of each row [${letters.source}]`, () => {
    const { levels, lots_from_to: rows } = letters.inputs;
    rows.forEach(([from, to]: [number, number | null], row: number) => {
      levels.forEach((level: InspectionLevel, column: number) => {
        const expected = letters.expected.letters[row][column];
        expect([from, level, codeLetter(from, level)]).toEqual([from, level, expected]);
        expect(codeLetter(to ?? 10_000_000, level)).toBe(expected);
      });
    });
  });

  it.each(ofKind("code-letter"))("$id: $what [$source]", ({ inputs, expected }) => {
    expect(codeLetter(inputs.lot_size, inputs.level)).toBe(expected.code_letter);
  });

  it("never falls with the lot or the level", () => {
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 600_000 }), fc.nat({ max: 100_000 }), (lot, more) => {
        for (const level of inspectionLevels) {
          expect(codeLetter(lot + more, level) >= codeLetter(lot, level)).toBe(true);
        }
        const row = inspectionLevels.map((level) => codeLetter(lot, level));
        expect([...row].sort()).toEqual(row);
      }),
    );
  });

  it.each([1, 0, 2.5, Number.NaN])("refuses a lot of %s", (lot) => {
    expect(() => codeLetter(lot, "II")).toThrow(RangeError);
  });
});

describe("singlePlan", () => {
  it.each(["tab-single-normal", "tab-single-tightened", "tab-single-reduced"])(
    `$0 is given cell by cell [${table("tab-single-normal").source}]`,
    (id) => {
      const { inputs, expected } = table(id);
      const inspection = id.replace("tab-single-", "") as Inspection;
      for (const letter of inputs.rows) {
        const [lot, level] = lotOf[letter]!;
        inputs.columns_aql.forEach((aql: Aql, column: number) => {
          const [n, ac, re] = expected[letter][column];
          const plan = singlePlan(lot, level, aql, inspection);
          const sized = n >= lot ? { n: lot, inspectAll: true } : { n, inspectAll: false };
          expect([letter, aql, plan]).toMatchObject([letter, aql, { codeLetter: letter, ac, re, ...sized }]);
        });
      }
    },
  );

  it.each(ofKind("single-plan"))("$id: $what [$source]", ({ inputs, expected }) => {
    const plan = singlePlan(inputs.lot_size, inputs.level, inputs.aql, inputs.inspection);

    expect({
      code_letter: plan.codeLetter,
      n: plan.n,
      ac: plan.ac,
      re: plan.re,
      inspect_all: plan.inspectAll,
    }).toEqual(expected);
  });

  it("leads to a sample of 3150 that only tightened inspection has", () => {
    expect(singlePlan(600_000, "III", "0.025", "tightened")).toMatchObject({
      planLetter: "S",
      n: 3150,
      ac: 1,
    });
  });

  it("rejects with more than it accepts, by one outside reduced inspection", () => {
    const anyPlan = fc.record({
      lot: fc.integer({ min: 2, max: 600_000 }),
      level: fc.constantFrom(...inspectionLevels),
      aql: fc.constantFrom(...preferredAqls),
      inspection: fc.constantFrom<Inspection>("normal", "tightened", "reduced"),
    });
    fc.assert(
      fc.property(anyPlan, ({ lot, level, aql, inspection }) => {
        const { ac, re, n } = singlePlan(lot, level, aql, inspection);
        expect(ac).toBeLessThan(re);
        if (inspection !== "reduced") expect(re).toBe(ac + 1);
        expect(n).toBeLessThanOrEqual(lot);
      }),
      { numRuns: 500 },
    );
  });

  it("refuses an AQL that is not preferred", () => {
    expect(() => singlePlan(500, "II", "1.2" as Aql, "normal")).toThrow(RangeError);
  });
});
