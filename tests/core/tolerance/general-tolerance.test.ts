import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parseLength } from "../../../src/core/quantity.js";
import {
  type GeneralClass,
  type GeometricCharacteristic,
  type GeometricClass,
  generalAngleToleranceArcmin,
  generalClasses,
  generalEdgeTolerance,
  generalGeometricTolerance,
  generalLinearTolerance,
} from "../../../src/core/tolerance/general-tolerance.js";
import { pm } from "../../support/blocks.js";
import { readData } from "../data/read-data.js";

interface Case<Inputs, Expected> {
  id: string;
  kind: string;
  what: string;
  source: string;
  inputs: Inputs;
  expected: Expected;
}
type Table<Class> = Case<{ class: Class }, { rows: [number, number | null, number | null][] }>;

const cases = readData<Case<unknown, unknown>[]>("general-tolerances.json");
/** Cases that a kind and the beginning of their id select; the type is the caller's word for it. */
function select<Entry extends Case<unknown, unknown>>(kind: string, prefix = "") {
  const found = cases.filter((entry) => entry.kind === kind && entry.id.startsWith(prefix)) as Entry[];
  return found.map((entry): [string, Entry] => [`${entry.id}: ${entry.what} (${entry.source})`, entry]);
}

const mm = (text: string) => parseLength(text, "mm")!;
const notGiven = { notGiven: expect.any(String) };
const far = pm(50_000);

describe("generalLinearTolerance", () => {
  it.each(select<Table<GeneralClass>>("table", "linear"))("%s", (_, { inputs, expected }) => {
    expect(expected.rows).toHaveLength(8);
    expected.rows.forEach(([over, upTo, value], i) => {
      const tolerance = value === null ? notGiven : pm(value);

      expect(generalLinearTolerance(i === 0 ? pm(over) : pm(over) + 1, inputs.class)).toEqual(tolerance);
      expect(generalLinearTolerance(pm(upTo!), inputs.class)).toEqual(tolerance);
    });
  });

  it.each(
    select<
      Case<
        { nominal_mm: string; class: GeneralClass },
        { plus_minus_mm: string; upper_limit_mm: string; lower_limit_mm: string }
      >
    >("linear-case"),
  )("%s", (_, { inputs, expected }) => {
    const nominalPm = mm(inputs.nominal_mm);

    const tolerance = generalLinearTolerance(nominalPm, inputs.class);

    expect(tolerance).toBe(mm(expected.plus_minus_mm));
    expect(nominalPm + Number(tolerance)).toBe(mm(expected.upper_limit_mm));
    expect(nominalPm - Number(tolerance)).toBe(mm(expected.lower_limit_mm));
  });

  it.each(select<Case<{ nominal_mm: string; class: GeneralClass }, { defined: false }>>("undefined-case"))(
    "%s",
    (_, { inputs }) => {
      expect(generalLinearTolerance(mm(inputs.nominal_mm), inputs.class)).toEqual(notGiven);
    },
  );

  it.each([
    [0.4, "m", "ISO 2768-1 begins at 0.5 mm; a smaller size has its tolerance beside it"],
    [-12, "m", "ISO 2768-1 begins at 0.5 mm; a smaller size has its tolerance beside it"],
    [Number.NaN, "m", "ISO 2768-1 begins at 0.5 mm; a smaller size has its tolerance beside it"],
    [2000.1, "f", "ISO 2768-1 gives class f up to 2000 mm only"],
    [3, "v", "ISO 2768-1 gives class v over 3 up to 4000 mm only"],
    [4000.1, "c", "ISO 2768-1 gives class c up to 4000 mm only"],
  ] as const)("says why there is none for %d mm, class %s", (size, name, why) => {
    expect(generalLinearTolerance(pm(size), name)).toEqual({ notGiven: why });
  });

  it("begins at 0.5 mm to the picometre", () => {
    expect(generalLinearTolerance(pm(0.5), "f")).toBe(pm(0.05));
    expect(generalLinearTolerance(pm(0.5) - 1, "f")).toEqual(notGiven);
  });
});

describe("generalEdgeTolerance", () => {
  it.each(select<Table<GeneralClass>>("table", "radius"))("%s", (_, { inputs, expected }) => {
    expect(expected.rows).toHaveLength(3);
    expected.rows.forEach(([over, upTo, value], i) => {
      expect(generalEdgeTolerance(i === 0 ? pm(over) : pm(over) + 1, inputs.class)).toBe(pm(value!));
      expect(generalEdgeTolerance(upTo === null ? far : pm(upTo), inputs.class)).toBe(pm(value!));
    });
  });

  it.each(
    select<
      Case<
        { nominal_mm: string; class: GeneralClass },
        { plus_minus_mm: string; upper_limit_mm: string; lower_limit_mm: string }
      >
    >("radius-case"),
  )("%s", (_, { inputs, expected }) => {
    const nominalPm = mm(inputs.nominal_mm);

    const tolerance = generalEdgeTolerance(nominalPm, inputs.class);

    expect(tolerance).toBe(mm(expected.plus_minus_mm));
    expect(nominalPm + Number(tolerance)).toBe(mm(expected.upper_limit_mm));
    expect(nominalPm - Number(tolerance)).toBe(mm(expected.lower_limit_mm));
  });

  it("is not given below 0.5 mm", () => {
    for (const name of generalClasses) expect(generalEdgeTolerance(pm(0.49), name)).toEqual(notGiven);
  });
});

describe("generalAngleToleranceArcmin", () => {
  it.each(select<Table<GeneralClass>>("table", "angle"))("%s", (_, { inputs, expected }) => {
    expect(expected.rows).toHaveLength(5);
    for (const [over, upTo, value] of expected.rows) {
      expect(generalAngleToleranceArcmin(pm(over) + 1, inputs.class)).toBe(value);
      expect(generalAngleToleranceArcmin(upTo === null ? far : pm(upTo), inputs.class)).toBe(value);
    }
  });

  it.each(
    select<
      Case<
        { angle_deg: string; shorter_leg_mm: string; class: GeneralClass },
        { plus_minus_arcmin: number; upper: string; lower: string }
      >
    >("angle-case"),
  )("%s", (_, { inputs, expected }) => {
    const degreesAndMinutes = (arcmin: number) =>
      `${Math.floor(arcmin / 60)} deg ${String(arcmin % 60).padStart(2, "0")} min`;
    const angleArcmin = Number(inputs.angle_deg) * 60;

    const tolerance = generalAngleToleranceArcmin(mm(inputs.shorter_leg_mm), inputs.class);

    expect(tolerance).toBe(expected.plus_minus_arcmin);
    expect(degreesAndMinutes(angleArcmin + tolerance)).toBe(expected.upper);
    expect(degreesAndMinutes(angleArcmin - tolerance)).toBe(expected.lower);
  });

  it("throws where the leg has no length", () => {
    expect(() => generalAngleToleranceArcmin(0, "m")).toThrow(RangeError);
    expect(() => generalAngleToleranceArcmin(Number.NaN, "m")).toThrow(RangeError);
  });
});

describe("generalGeometricTolerance", () => {
  const named = (characteristic: string): GeometricCharacteristic[] => {
    if (characteristic === "straightness-flatness") return ["straightness", "flatness"];
    if (characteristic === "circular-run-out") return ["run_out"];
    return [characteristic as GeometricCharacteristic];
  };

  it.each(select<Table<GeometricClass>>("table-geometrical"))("%s", (_, { id, inputs, expected }) => {
    for (const characteristic of named(id.replace(/^geo-(.*)-[HKL]$/, "$1"))) {
      for (const [over, upTo, value] of expected.rows) {
        expect(generalGeometricTolerance(characteristic, pm(over) + 1, inputs.class)).toBe(pm(value!));
        expect(generalGeometricTolerance(characteristic, upTo === null ? far : pm(upTo), inputs.class)).toBe(
          pm(value!),
        );
      }
    }
  });

  it.each(
    select<
      Case<{ characteristic: string; length_mm: number; class: GeometricClass }, { tolerance_mm: number }>
    >("geometrical-case"),
  )("%s", (_, { inputs, expected }) => {
    for (const characteristic of named(inputs.characteristic)) {
      expect(generalGeometricTolerance(characteristic, pm(inputs.length_mm), inputs.class)).toBe(
        pm(expected.tolerance_mm),
      );
    }
  });

  it("is not given above 3000 mm, but for run-out, which does not depend on the length", () => {
    for (const characteristic of ["straightness", "flatness", "perpendicularity", "symmetry"] as const) {
      expect(generalGeometricTolerance(characteristic, pm(3000) + 1, "K")).toEqual({
        notGiven: "ISO 2768-2 ends at 3000 mm",
      });
    }
    expect(generalGeometricTolerance("run_out", far, "K")).toBe(pm(0.2));
  });

  it("throws where there is no length", () => {
    expect(() => generalGeometricTolerance("flatness", 0, "H")).toThrow(RangeError);
  });
});

describe("general tolerances, whatever the size", () => {
  const length = fc.integer({ min: 500, max: 4_000_000 }).map((micrometres) => micrometres * 1e6);
  const wide = (tolerance: number | { notGiven: string }) =>
    typeof tolerance === "number" ? tolerance : undefined;
  /** Both given: the first is not above the second. */
  const expectOrder = (a: number | undefined, b: number | undefined) => {
    if (a !== undefined && b !== undefined) expect(a).toBeLessThanOrEqual(b);
  };

  it("never grow finer with the class, nor with the size; an angle's never coarser with its leg", () => {
    const at = fc.nat({ max: generalClasses.length - 2 });
    fc.assert(
      fc.property(length, length, at, (a, b, i) => {
        const [small, large] = [Math.min(a, b), Math.max(a, b)];
        const [finer, coarser] = [generalClasses[i]!, generalClasses[i + 1]!];
        for (const tolerance of [generalLinearTolerance, generalEdgeTolerance]) {
          expectOrder(wide(tolerance(small, finer)), wide(tolerance(small, coarser)));
          expectOrder(wide(tolerance(small, finer)), wide(tolerance(large, finer)));
        }
        expectOrder(generalAngleToleranceArcmin(a, finer), generalAngleToleranceArcmin(a, coarser));
        expectOrder(generalAngleToleranceArcmin(large, finer), generalAngleToleranceArcmin(small, finer));
      }),
      { numRuns: 500 },
    );
  });

  it("of form and place never grow finer with the class, nor with the length", () => {
    const characteristic = fc.constantFrom<GeometricCharacteristic>(
      "straightness",
      "flatness",
      "perpendicularity",
      "symmetry",
      "run_out",
    );
    const pair = fc.constantFrom<[GeometricClass, GeometricClass]>(["H", "K"], ["K", "L"]);
    fc.assert(
      fc.property(characteristic, length, length, pair, (name, a, b, [finer, coarser]) => {
        const tolerance = (pm: number, of: GeometricClass) => wide(generalGeometricTolerance(name, pm, of));
        expectOrder(tolerance(a, finer), tolerance(a, coarser));
        expectOrder(tolerance(Math.min(a, b), finer), tolerance(Math.max(a, b), finer));
      }),
      { numRuns: 500 },
    );
  });
});
