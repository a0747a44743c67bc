import { describe, expect, it } from "vitest";
import { parseAngle, parseLength } from "../../src/core/quantity.js";
import { decideConformity } from "../../src/core/tolerance/decide-conformity.js";
import { positionDiameter } from "../../src/core/tolerance/position.js";
import { readData } from "./data/read-data.js";

interface Case {
  id: string;
  kind: string;
  what: string;
  source: string;
  inputs: Record<string, string> & { tol_min?: number; reading?: string | [number, number] };
  expected: { verdict: "pass" | "fail" };
}

const cases = readData<Case[]>("exactness.json");
const verdicts = { pass: "conforming", fail: "nonconforming" } as const;

function decide(size: number, lower: number | undefined, upper: number) {
  return decideConformity(size, {
    lowerPm: lower,
    upperPm: upper,
    rule: "simple",
    guardBandFactor: 1,
    expandedUncertaintyPm: undefined,
  });
}

/** What is kept are whole picometres, so that less than one never decides. */
const belowPicometre = ["just-outside-06", "just-outside-07", "inch-reading-03", "inch-reading-04"];

describe("sizes less than a picometre beyond a limit", () => {
  it("are kept as being on it", () => {
    for (const id of belowPicometre) {
      const { inputs, expected } = cases.find((each) => each.id === id)!;
      const size =
        inputs.reading_in === undefined
          ? parseLength(String(inputs.reading), "mm")!
          : parseLength(inputs.reading_in, "inch")!;
      const nominal = parseLength(inputs.nominal ?? inputs.nominal_mm!, "mm")!;
      const tolerance = parseLength(inputs.upper ?? inputs.tol_mm!, "mm")!;

      expect(expected.verdict).toBe("fail");
      expect(Math.abs(Math.abs(size - nominal) - tolerance)).toBe(0);
    }
  });
});

describe("positions on the edge of their zone", () => {
  it.each(cases.filter(({ kind }) => kind === "true-position-limit"))(
    "$id: $what [$source]",
    ({ inputs, expected }) => {
      const mm = (text: string | undefined) => parseLength(text!, "mm")!;

      const position = positionDiameter([mm(inputs.dx), mm(inputs.dy)]);

      expect(decide(position, undefined, mm(inputs.tolerance))).toBe(verdicts[expected.verdict]);
    },
  );
});

describe("angles on their limits", () => {
  it.each(cases.filter(({ kind }) => kind === "angle-limit"))(
    "$id: $what [$source]",
    ({ inputs, expected }) => {
      const { nominal, nominal_deg, tol, tol_min, reading } = inputs;
      const middle = parseAngle((nominal ?? nominal_deg)!, "deg")!;
      const tolerance = tol === undefined ? parseAngle(tol_min!, "arcmin")! : parseAngle(tol, "deg")!;

      const angle = Array.isArray(reading)
        ? parseAngle(`${reading[0]}°${reading[1]}'`, "deg")!
        : parseAngle(reading!, "deg")!;

      expect(decide(angle, middle - tolerance, middle + tolerance)).toBe(verdicts[expected.verdict]);
    },
  );
});
