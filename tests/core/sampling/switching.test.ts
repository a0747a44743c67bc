import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { afterLot, type LotResult, switchingStart } from "../../../src/core/sampling/switching.js";
import { readData } from "../data/read-data.js";

interface Case {
  id: string;
  kind: string;
  what: string;
  source: string;
  inputs: { lots: string; ac: number };
  expected: {
    inspection_for_each_lot: string[];
    next: string;
    score: number[];
    reduced_possible_after_lot: number;
  };
}
const cases = readData<Case[]>("acceptance-sampling.json");
const results: Record<string, LotResult> = {
  A: "accepted",
  T: "accepted_tighter",
  R: "rejected",
  B: "between",
};

function follow(lots: string, conditions = { ac: 1, reducedAllowed: false }) {
  const states = [switchingStart];
  for (const letter of lots) states.push(afterLot(states.at(-1)!, results[letter]!, conditions));
  return states;
}
const inspections = (lots: string, conditions?: Parameters<typeof follow>[1]) =>
  follow(lots, conditions).map(({ inspection }) => inspection);

describe("switching between inspections", () => {
  it.each(cases.filter(({ kind }) => kind === "switching"))(
    "$id: $what [$source]",
    ({ inputs, expected }) => {
      expect(inspections(inputs.lots)).toEqual([...expected.inspection_for_each_lot, expected.next]);
    },
  );

  it.each(cases.filter(({ kind }) => kind === "switching-score"))(
    "$id: $what [$source]",
    ({ inputs, expected }) => {
      const states = follow(inputs.lots, { ac: inputs.ac, reducedAllowed: false });

      expect(states.slice(1).map(({ score }) => score)).toEqual(expected.score);
      const allowed = inspections(inputs.lots, { ac: inputs.ac, reducedAllowed: true });
      expect(allowed.indexOf("reduced")).toBe(expected.reduced_possible_after_lot);
    },
  );

  it("comes back from reduced by a lot rejected or in between, or when the conditions go", () => {
    const allowed = { ac: 0, reducedAllowed: true };
    const reduced = follow("A".repeat(15), allowed).at(-1)!;

    expect(afterLot(reduced, "accepted", allowed).inspection).toBe("reduced");
    expect(afterLot(reduced, "rejected", allowed)).toEqual(switchingStart);
    expect(afterLot(reduced, "between", allowed)).toEqual(switchingStart);
    expect(afterLot(reduced, "accepted", { ac: 0, reducedAllowed: false })).toEqual(switchingStart);
  });

  it("never loosens without five accepted lots in a row, and never leaves what is discontinued", () => {
    const lots = fc.array(fc.constantFrom("A", "R"), { maxLength: 40 });
    fc.assert(
      fc.property(lots, (list) => {
        const seen = inspections(list.join(""));
        seen.forEach((state, i) => {
          if (seen[i - 1] === "tightened" && state === "normal") {
            expect(list.slice(i - 5, i).join("")).toBe("AAAAA");
          }
          if (seen[i - 1] === "discontinued") expect(state).toBe("discontinued");
        });
      }),
    );
  });
});
