import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parseLength } from "../../../src/core/quantity.js";
import {
  decideFit,
  type FitFault,
  type FitSide,
  type LimitDeviations,
  limitDeviations,
  nameOf,
  readToleranceClass,
  standardTolerance,
} from "../../../src/core/tolerance/fit.js";
import { grades, letters, mainBandsMm } from "../../../src/core/tolerance/iso-286-tables.js";
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

const cases = readData<Case<never, never>[]>("limits-and-fits.json");
/** Cases of one kind; the type is the caller's word for it, the file has been read by eye. */
function ofKind<Inputs, Expected>(kind: string) {
  const found = cases.filter((entry) => entry.kind === kind) as Case<Inputs, Expected>[];
  return found.map((entry): [string, Case<Inputs, Expected>] => [
    `${entry.id}: ${entry.what} (${entry.source})`,
    entry,
  ]);
}
function caseOf<Expected>(id: string): Expected {
  const found = cases.find((entry) => entry.id === id);
  if (!found) throw new RangeError(`no case ${id}`);
  return found.expected;
}

const um = (micrometres: number) => Math.round(micrometres * 1e6);
const mm = (text: string) => parseLength(text, "mm")!;

/** Limit deviations of a class as it is written, or the fault. */
function deviationsOf(text: string, nominalPm: number): LimitDeviations | FitFault {
  const read = readToleranceClass(text, nominalPm);
  return "fault" in read ? read : limitDeviations(read, nominalPm);
}

function given(text: string, nominalPm: number): LimitDeviations {
  const found = deviationsOf(text, nominalPm);
  if ("fault" in found) throw new Error(`${text}: ${found.why}`);
  return found;
}

const isGiven = (text: string, nominalPm: number) => !("fault" in deviationsOf(text, nominalPm));

describe("standardTolerance", () => {
  it.each(ofKind<{ over_mm: number; up_to_and_incl_mm: number }, Record<string, number | null>>("it-table"))(
    "%s",
    (_, { inputs, expected }) => {
      expect(Object.keys(expected)).toEqual(grades.map((grade) => `IT${grade}`));
      for (const grade of grades) {
        const tolerance = expected[`IT${grade}`]!;
        const expectedPm = tolerance === null ? undefined : um(tolerance);

        expect(standardTolerance(pm(inputs.over_mm) + 1, grade), grade).toBe(expectedPm);
        expect(standardTolerance(pm(inputs.up_to_and_incl_mm), grade), grade).toBe(expectedPm);
      }
    },
  );

  it.each(ofKind<{ nominal_mm: string; grade: string }, { tolerance_um: number }>("it-lookup"))(
    "%s",
    (_, { inputs, expected }) => {
      const grade = grades.find((name) => `IT${name}` === inputs.grade)!;

      expect(standardTolerance(mm(inputs.nominal_mm), grade)).toBe(um(expected.tolerance_um));
    },
  );

  it("is not given for 0 and below, nor above 3150 mm", () => {
    expect(standardTolerance(0, "7")).toBeUndefined();
    expect(standardTolerance(-1, "7")).toBeUndefined();
    expect(standardTolerance(1, "7")).toBe(um(10));
    expect(standardTolerance(pm(3150), "7")).toBe(um(210));
    expect(standardTolerance(pm(3150) + 1, "7")).toBeUndefined();
  });
});

describe("limitDeviations", () => {
  it.each(
    ofKind<
      { nominal_mm: string; tolerance_class: string; feature: FitSide },
      { upper_um: number; lower_um: number; max_size_mm: string; min_size_mm: string }
    >("limit-case"),
  )("%s", (_, { inputs, expected }) => {
    const nominalPm = mm(inputs.nominal_mm);

    const limits = given(inputs.tolerance_class, nominalPm);

    expect(readToleranceClass(inputs.tolerance_class, nominalPm)).toMatchObject({ side: inputs.feature });
    expect(limits).toEqual({
      lowerDeviationPm: um(expected.lower_um),
      upperDeviationPm: um(expected.upper_um),
    });
    expect(nominalPm + limits.upperDeviationPm).toBe(mm(expected.max_size_mm));
    expect(nominalPm + limits.lowerDeviationPm).toBe(mm(expected.min_size_mm));
  });

  const tables = ofKind<
    { letter: string; which: "es" | "ei" },
    { rows_over_upto_value: [number, number, number | null][] }
  >("deviation-table").filter(([, { expected }]) => "rows_over_upto_value" in expected);

  it("has a published table for each letter but those that lie between two", () => {
    expect(tables.map(([, { inputs }]) => inputs.letter)).toEqual(
      letters.filter((letter) => !["cd", "ef", "fg", "js", "j"].includes(letter)),
    );
  });

  it.each(tables)("%s", (_, { inputs: { letter, which }, expected }) => {
    for (const [over, upTo, value] of expected.rows_over_upto_value) {
      for (const nominalPm of [over === 0 ? pm(1) + 1 : pm(over) + 1, pm(upTo)]) {
        const found = deviationsOf(`${letter}6`, nominalPm);

        if (value === null) expect(found).toHaveProperty("fault", "not_given");
        else
          expect(found).toHaveProperty(which === "es" ? "upperDeviationPm" : "lowerDeviationPm", um(value));
      }
    }
  });

  it.each([
    ["shaft-fd-j", "j", "lowerDeviationPm"],
    ["hole-fd-J", "J", "upperDeviationPm"],
  ] as const)("%s by grade and main band (ISO 286-1:2010)", (id, letter, side) => {
    const table = caseOf<Record<string, number[]>>(id);
    for (const grade of grades) {
      mainBandsMm.forEach((upTo, band) => {
        const value = table[`IT${grade}`]?.[band];
        const found = deviationsOf(`${letter}${grade}`, pm(upTo));

        if (value === undefined) expect(found, `${upTo} ${letter}${grade}`).toHaveProperty("fault");
        else expect(found, `${upTo} ${letter}${grade}`).toHaveProperty(side, um(value));
      });
    }
  });

  it("delta-table: holes M to N up to IT8 and P to ZC up to IT7 lie higher by the difference", () => {
    const { rows } = caseOf<{ rows: number[][] }>("delta-table");
    expect(rows).toHaveLength(12);
    for (const [over = 0, upTo = 0, ...differences] of rows) {
      differences.forEach((difference, i) => {
        const grade = i + 3;
        for (const letter of grade <= 7 ? ["m", "n", "p", "u", "x", "zc"] : ["m", "n"]) {
          const isExceptional = letter === "m" && grade === 6 && over === 250;
          const shift =
            given(`${letter.toUpperCase()}${grade}`, pm(upTo)).upperDeviationPm +
            given(`${letter}${grade}`, pm(upTo)).lowerDeviationPm;

          expect(shift, `${upTo} ${letter}${grade}`).toBe(isExceptional ? um(20 - 9) : um(difference));
        }
      });
    }
  });

  // ISO 286-1:2010, tables 2 and 4, with Cor.1:2013 (from memory, compared with a public table).
  it.each([
    ["cd", [-34, -46, -56, -70, -85, -100]],
    ["ef", [-10, -14, -18, -23, -28, -35]],
    ["fg", [-4, -6, -8, -10, -12, -15]],
  ])("gives %s and its hole up to 50 mm (ISO 286-1:2010, Cor.1:2013)", (letter, values) => {
    values.forEach((value, band) => {
      const nominalPm = pm(mainBandsMm[band]!);

      expect(given(`${letter}8`, nominalPm).upperDeviationPm).toBe(um(value));
      expect(given(`${letter.toUpperCase()}8`, nominalPm).lowerDeviationPm).toBe(um(-value));
    });
    expect(isGiven(`${letter}8`, pm(50) + 1)).toBe(false);
  });

  it.each([
    ["K7", 3, 0, -10],
    ["K9", 3, 0, -25],
    ["K8", 30, 10, -23],
    ["K3", 30, -0.5, -4.5],
    ["N9", 3, -4, -29],
    ["N9", 500, 0, -155],
    ["N9", 501, -44, -219],
    ["M9", 600, -26, -201],
    ["M6", 250, -8, -37],
    ["M5", 300, -13, -36],
    ["M7", 300, 0, -52],
    ["P7", 501, -78, -148],
    ["k3", 100, 6, 0],
    ["k4", 100, 13, 3],
    ["k7", 100, 38, 3],
    ["k8", 100, 54, 0],
    ["k6", 600, 44, 0],
    ["JS01", 3, 0.15, -0.15],
    ["j8", 3, 8, -6],
    ["A11", 1.001, 330, 270],
    ["E8", 100, 126, 72],
    ["f9", 300, -56, -186],
    ["A13", 350, 2090, 1200],
  ])("follows the rules for %s at %d mm: %d, %d (ISO 286-2, from memory)", (name, size, upper, lower) => {
    expect(given(name, pm(size))).toEqual({ lowerDeviationPm: um(lower), upperDeviationPm: um(upper) });
  });

  it.each(
    ofKind<{ nominal_mm: string; tolerance_class: string }, { defined: false; why: string }>(
      "undefined-case",
    ),
  )("%s", (_, { inputs }) => {
    expect(deviationsOf(inputs.tolerance_class, mm(inputs.nominal_mm))).toHaveProperty("fault");
  });

  it.each<[string, number, FitFault["fault"], RegExp, string[]]>([
    ["t6", 20, "not_given", /^t is given over 24 up to 3150 mm only$/, ["s6", "u6"]],
    ["v6", 14, "not_given", /over 14 up to 500 mm/, ["u6", "x6"]],
    ["a11", 1, "not_given", /^a is not for sizes up to 1 mm$/, ["c11"]],
    ["B11", 0.9, "not_given", /^B is not for sizes up to 1 mm$/, ["C11"]],
    ["a11", 600, "not_given", /^a is given up to 500 mm only$/, ["d11"]],
    ["CD8", 60, "not_given", /^CD is given up to 50 mm only$/, ["C8", "D8"]],
    ["J9", 25, "not_given", /^J is given for grades 6, 7, 8 only$/, ["J8", "JS9", "M9"]],
    ["j4", 25, "not_given", /grades 5, 6, 7, 8 only/, ["j5", "js4", "k4"]],
    ["j8", 25, "not_given", /^j8 is given up to 3 mm only$/, ["j7", "js8", "k8"]],
    ["J7", 600, "not_given", /^J7 is given up to 500 mm only$/, ["JS7", "K7"]],
    ["K9", 30, "not_given", /^K coarser than IT8 is given up to 3 mm only$/, ["K8", "JS9", "M9"]],
    ["K9", 600, "not_given", /up to 3 mm only/, ["K8", "JS9", "M9"]],
    ["N9", 1, "not_given", /N coarser than IT8 is not for sizes up to 1 mm/, ["N8", "M9", "P9"]],
    ["P2", 30, "not_given", /finer than IT3/, ["P3", "JS2"]],
    ["H14", 1, "not_given", /IT14 to IT18 are not for sizes up to 1 mm/, ["H13"]],
    ["A18", 1, "not_given", /IT14 to IT18/, ["C13"]],
    ["H01", 600, "not_given", /IT01 and IT0 end at 500 mm/, ["H1"]],
    ["H7", 3151, "size", /ends at 3150 mm/, []],
    ["H7", 0, "size", /above 0/, []],
    ["H7", -5, "size", /above 0/, []],
    ["H7", Number.NaN, "size", /above 0/, []],
    ["Q7", 25, "letter", /no letter "Q"/, ["P7", "R7"]],
    ["w6", 10, "letter", /no letter "w"/, ["u6", "x6"]],
    ["zd6", 10, "letter", /no letter "zd"/, ["zc6"]],
    ["Js7", 25, "letter", /mixes capitals/, ["JS7", "js7"]],
    ["Qx7", 25, "letter", /no letter "Qx"/, []],
    ["H19", 25, "grade", /no grade 19/, ["H18"]],
    ["J20", 25, "grade", /no grade 20/, ["J8"]],
    ["H007", 25, "grade", /no grade 007/, []],
    ["H 7", 25, "unreadable", /not a letter and a grade/, ["H7"]],
    ["7H", 25, "unreadable", /not a letter and a grade/, []],
    ["H", 25, "unreadable", /not a letter and a grade/, []],
    ["", 25, "unreadable", /not a letter and a grade/, []],
    ["???", 25, "unreadable", /not a letter and a grade/, []],
    ["H7/g6", 25, "unreadable", /fit of two features/, ["H7", "g6"]],
    ["Q-7", 25, "unreadable", /not a letter and a grade/, ["P7", "R7"]],
  ])("says of %s at %d mm that it is no class, and what is near", (name, size, fault, why, nearest) => {
    expect(deviationsOf(name, pm(size))).toEqual({ fault, why: expect.stringMatching(why), nearest });
  });

  const nominal = fc.integer({ min: 1, max: 3_150_000 }).map((micrometres) => micrometres * 1e6);
  const side = fc.constantFrom<FitSide>("hole", "shaft");
  const letter = fc.constantFrom(...letters);
  const grade = fc.constantFrom(...grades);

  it("has ordered limits as far apart as the standard tolerance, for every class that is given", () => {
    fc.assert(
      fc.property(nominal, side, letter, grade, (nominalPm, of, name, number) => {
        const limits = limitDeviations({ side: of, letter: name, grade: number }, nominalPm);
        if ("fault" in limits) return;
        const { lowerDeviationPm, upperDeviationPm } = limits;

        expect(lowerDeviationPm).toBeLessThan(upperDeviationPm);
        expect(upperDeviationPm - lowerDeviationPm).toBe(standardTolerance(nominalPm, number));
        expect([lowerDeviationPm, upperDeviationPm].every(Number.isSafeInteger)).toBe(true);
      }),
      { numRuns: 2000 },
    );
  });

  it("names as near only classes that it gives, of the same side", () => {
    fc.assert(
      fc.property(nominal, side, letter, grade, (nominalPm, of, name, number) => {
        const limits = limitDeviations({ side: of, letter: name, grade: number }, nominalPm);
        if (!("fault" in limits)) return;

        expect(limits.nearest).not.toEqual([]);
        for (const near of limits.nearest) {
          expect(readToleranceClass(near, nominalPm)).toHaveProperty("side", of);
          expect(isGiven(near, nominalPm)).toBe(true);
        }
      }),
      { numRuns: 2000 },
    );
  });

  it("grows wider with the grade, never narrower with the size", () => {
    fc.assert(
      fc.property(nominal, nominal, fc.nat({ max: grades.length - 2 }), (a, b, at) => {
        const [finer, coarser] = [grades[at]!, grades[at + 1]!];
        const [small, large] = [
          standardTolerance(Math.min(a, b), finer),
          standardTolerance(Math.max(a, b), finer),
        ];

        if (small !== undefined) expect(small).toBeLessThan(standardTolerance(Math.min(a, b), coarser)!);
        if (small !== undefined && large !== undefined) expect(small).toBeLessThanOrEqual(large);
      }),
      { numRuns: 1000 },
    );
  });

  it("is symmetric for js and JS, begins at 0 for H and ends at 0 for h", () => {
    fc.assert(
      fc.property(nominal, grade, (nominalPm, number) => {
        fc.pre(isGiven(`H${number}`, nominalPm));
        for (const name of ["js", "JS"]) {
          const { lowerDeviationPm, upperDeviationPm } = given(`${name}${number}`, nominalPm);
          expect(upperDeviationPm).toBe(-lowerDeviationPm);
        }
        expect(Object.is(given(`H${number}`, nominalPm).lowerDeviationPm, 0)).toBe(true);
        expect(Object.is(given(`h${number}`, nominalPm).upperDeviationPm, 0)).toBe(true);
      }),
    );
  });

  it("mirrors shafts a to h in holes A to H", () => {
    const clearance = fc.constantFrom("a", "b", "c", "cd", "d", "e", "ef", "f", "fg", "g", "h");
    fc.assert(
      fc.property(nominal, clearance, grade, (nominalPm, name, number) => {
        const shaft = deviationsOf(`${name}${number}`, nominalPm);
        const hole = deviationsOf(`${name.toUpperCase()}${number}`, nominalPm);

        expect("fault" in hole).toBe("fault" in shaft);
        if ("fault" in hole || "fault" in shaft) return;
        expect(hole.lowerDeviationPm + shaft.upperDeviationPm).toBe(0);
        expect(hole.upperDeviationPm + shaft.lowerDeviationPm).toBe(0);
      }),
      { numRuns: 1000 },
    );
  });

  it("fits a hole one grade coarser alike on the hole basis and on the shaft basis, where the difference applies", () => {
    const interference = fc.constantFrom("p", "r", "s", "t", "u", "v", "x", "y", "z", "za", "zb", "zc");
    const between3And500 = fc.integer({ min: 3_001, max: 500_000 }).map((micrometres) => micrometres * 1e6);
    fc.assert(
      fc.property(between3And500, interference, fc.integer({ min: 4, max: 7 }), (nominalPm, name, number) => {
        fc.pre(isGiven(`${name}${number}`, nominalPm));
        // H7/p6 and P7/h6 have the same clearances (ISO 286-1:1988, clause on the special rule, from memory).
        const holeBasis = decideFit(given(`H${number}`, nominalPm), given(`${name}${number - 1}`, nominalPm));
        const shaftBasis = decideFit(
          given(`${name.toUpperCase()}${number}`, nominalPm),
          given(`h${number - 1}`, nominalPm),
        );

        expect(shaftBasis).toEqual(holeBasis);
      }),
      { numRuns: 1000 },
    );
  });

  it("takes a size on the edge of a band into the lower band", () => {
    const edges = [
      3, 6, 10, 14, 18, 24, 30, 40, 50, 65, 80, 100, 120, 140, 160, 180, 200, 225, 250, 280, 315, 355,
    ];
    fc.assert(
      fc.property(fc.constantFrom(...edges), side, letter, grade, (edge, of, name, number) => {
        const text = nameOf({ side: of, letter: name, grade: number });

        expect(deviationsOf(text, pm(edge))).toEqual(deviationsOf(text, pm(edge) - 1));
      }),
      { numRuns: 1000 },
    );
    expect(given("H7", pm(18)).upperDeviationPm).toBe(um(18));
    expect(given("H7", pm(18) + 1).upperDeviationPm).toBe(um(21));
    expect(given("r6", pm(65)).lowerDeviationPm).toBe(um(41));
    expect(given("r6", pm(65) + 1).lowerDeviationPm).toBe(um(43));
  });

  it("reads every class that it writes", () => {
    fc.assert(
      fc.property(side, letter, grade, (of, name, number) => {
        const toleranceClass = { side: of, letter: name, grade: number };

        expect(readToleranceClass(nameOf(toleranceClass), pm(10))).toEqual(toleranceClass);
      }),
    );
  });
});

describe("decideFit", () => {
  it.each(
    ofKind<
      { nominal_mm: string; hole: string; shaft: string },
      {
        hole_um: [number, number];
        shaft_um: [number, number];
        max_clearance_um: number;
        min_clearance_um: number;
        fit: string;
      }
    >("fit-case"),
  )("%s", (_, { inputs, expected }) => {
    const hole = given(inputs.hole, mm(inputs.nominal_mm));
    const shaft = given(inputs.shaft, mm(inputs.nominal_mm));

    expect([hole.upperDeviationPm, hole.lowerDeviationPm]).toEqual(expected.hole_um.map(um));
    expect([shaft.upperDeviationPm, shaft.lowerDeviationPm]).toEqual(expected.shaft_um.map(um));
    expect(decideFit(hole, shaft)).toEqual({
      largestClearancePm: um(expected.max_clearance_um),
      leastClearancePm: um(expected.min_clearance_um),
      kind: expected.fit,
    });
  });

  it.each([
    [0, 10, -10, 0, "clearance"],
    [0, 10, 0, 5, "transition"],
    [0, 10, 10, 20, "interference"],
    [0, 10, 9, 20, "transition"],
  ])("calls a hole %d to %d on a shaft %d to %d a fit of %s", (ei, es, lower, upper, kind) => {
    const hole = { lowerDeviationPm: ei, upperDeviationPm: es };
    const shaft = { lowerDeviationPm: lower, upperDeviationPm: upper };

    expect(decideFit(hole, shaft).kind).toBe(kind);
  });
});
