import { describe, expect, it } from "vitest";
import { geometricCharacteristics } from "../../../src/core/feature-kind.js";
import {
  generalToleranceMarks,
  generalToleranceOf,
  readGeneralTolerance,
} from "../../../src/core/tolerance/general-tolerance.js";
import { pm } from "../../support/blocks.js";
import { readData } from "../data/read-data.js";

describe("readGeneralTolerance", () => {
  it.each([
    ["m", { size: "m", geometric: undefined }],
    ["K", { size: undefined, geometric: "K" }],
    ["mK", { size: "m", geometric: "K" }],
    ["vL", { size: "v", geometric: "L" }],
  ] as const)("reads %s", (mark, classes) => {
    expect(readGeneralTolerance(mark)).toEqual(classes);
  });

  it("knows 4 classes of ISO 2768-1, 3 of ISO 2768-2 and their 12 pairs", () => {
    expect(generalToleranceMarks).toHaveLength(19);
    expect(new Set(generalToleranceMarks).size).toBe(19);
    for (const mark of generalToleranceMarks) {
      const { size = "", geometric = "" } = readGeneralTolerance(mark);
      expect(size + geometric).toBe(mark);
    }
  });
});

describe("generalToleranceOf", () => {
  interface Case {
    id: string;
    kind: string;
    what: string;
    source: string;
    inputs: { characteristic: string; length_mm: number; class: "H" | "K" | "L" };
    expected: { tolerance_mm: number };
  }
  const named: Record<
    string,
    ("straightness" | "flatness" | "perpendicularity" | "symmetry" | "circular_run_out")[]
  > = {
    "straightness-flatness": ["straightness", "flatness"],
    perpendicularity: ["perpendicularity"],
    symmetry: ["symmetry"],
    "circular-run-out": ["circular_run_out"],
  };

  it.each(readData<Case[]>("general-tolerances.json").filter(({ kind }) => kind === "geometrical-case"))(
    "$id: $what [$source]",
    ({ inputs, expected }) => {
      const names = named[inputs.characteristic]!;

      expect(names).not.toEqual([]);
      for (const name of names) {
        expect(generalToleranceOf(name, pm(inputs.length_mm), inputs.class)).toBe(pm(expected.tolerance_mm));
      }
    },
  );

  it("asks for a length but for circular run-out", () => {
    for (const name of ["straightness", "flatness", "perpendicularity", "symmetry"] as const) {
      expect(generalToleranceOf(name, undefined, "K")).toBe("needs_length");
    }
    expect(generalToleranceOf("circular_run_out", undefined, "K")).toBe(pm(0.2));
  });

  it("says why there is none beyond 3000 mm, and of characteristics without a table", () => {
    expect(generalToleranceOf("flatness", pm(3000) + 1, "H")).toEqual({
      notGiven: "ISO 2768-2 ends at 3000 mm",
    });
    const withTable = ["straightness", "flatness", "perpendicularity", "symmetry", "circular_run_out"];
    for (const name of geometricCharacteristics.filter((one) => !withTable.includes(one))) {
      expect(generalToleranceOf(name, pm(10), "H")).toEqual({
        notGiven: expect.stringMatching(/^ISO 2768-2 /),
      });
    }
  });

  it("throws where the length is not above 0", () => {
    expect(() => generalToleranceOf("flatness", 0, "H")).toThrow(RangeError);
  });
});
