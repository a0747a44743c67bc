/** General levels I to III, II being the usual one, and special levels for tests that cost much. */
export const inspectionLevels = ["S-1", "S-2", "S-3", "S-4", "I", "II", "III"] as const;
export type InspectionLevel = (typeof inspectionLevels)[number];
export type Inspection = "normal" | "tightened" | "reduced";

/** Preferred AQL: percent nonconforming up to 10, and nonconformities per 100 units. */
export const preferredAqls = [
  "0.010",
  "0.015",
  "0.025",
  "0.040",
  "0.065",
  "0.10",
  "0.15",
  "0.25",
  "0.40",
  "0.65",
  "1.0",
  "1.5",
  "2.5",
  "4.0",
  "6.5",
  "10",
  "15",
  "25",
  "40",
  "65",
  "100",
  "150",
  "250",
  "400",
  "650",
  "1000",
] as const;
export type Aql = (typeof preferredAqls)[number];

// Table I: largest lot of each row, and the letters by level in the order of inspectionLevels.
const lotRows: readonly [largest: number, letters: string][] = [
  [8, "AAAAAAB"],
  [15, "AAAAABC"],
  [25, "AABBBCD"],
  [50, "ABBCCDE"],
  [90, "BBCCCEF"],
  [150, "BBCDDFG"],
  [280, "BCDEEGH"],
  [500, "BCDEFHJ"],
  [1200, "CCEFGJK"],
  [3200, "CDEGHKL"],
  [10_000, "CDFGJLM"],
  [35_000, "CDFHKMN"],
  [150_000, "DEGJLNP"],
  [500_000, "DEGJMPQ"],
  [Number.POSITIVE_INFINITY, "DEHKNQR"],
];

/** Code letters in order; S stands in the table of tightened inspection only. */
const letters = "ABCDEFGHJKLMNPQRS";

/**
 * Sample size code letter of a lot.
 * @throws {RangeError} if the lot has fewer than 2 pieces
 * @see MIL-STD-105E (1989), table I; in the main equal to ISO 2859-1, table 1
 */
export function codeLetter(lotSize: number, level: InspectionLevel): string {
  if (!(Number.isSafeInteger(lotSize) && lotSize >= 2)) {
    throw new RangeError(`a lot has 2 pieces or more, got ${lotSize}`);
  }
  const [, row] = lotRows.find(([largest]) => lotSize <= largest)!;
  return row[inspectionLevels.indexOf(level)]!;
}

const sampleSizes = [2, 3, 5, 8, 13, 20, 32, 50, 80, 125, 200, 315, 500, 800, 1250, 2000, 3150];
const reducedSizes = [2, 2, 2, 3, 5, 8, 13, 20, 32, 50, 80, 125, 200, 315, 500, 800];

type Numbers = readonly [ac: number, re: number];

/**
 * The tables are made of diagonals: on each, letter and AQL move on together (sample size times AQL stays nearly the same)
 * and the acceptance numbers are equal. A diagonal is the sum of the places of letter and AQL.
 */
const normalNumbers: Record<number, Numbers> = {
  14: [0, 1],
  17: [1, 2],
  18: [2, 3],
  19: [3, 4],
  20: [5, 6],
  21: [7, 8],
  22: [10, 11],
  23: [14, 15],
  24: [21, 22],
  25: [30, 31],
  26: [44, 45],
};
const tightenedNumbers: Record<number, Numbers> = {
  15: [0, 1],
  18: [1, 2],
  19: [2, 3],
  20: [3, 4],
  21: [5, 6],
  22: [8, 9],
  23: [12, 13],
  24: [18, 19],
  25: [27, 28],
  26: [41, 42],
};
const reducedNumbers: Record<number, Numbers> = {
  14: [0, 1],
  17: [0, 2],
  18: [1, 3],
  19: [1, 4],
  20: [2, 5],
  21: [3, 6],
  22: [5, 8],
  23: [7, 10],
  24: [10, 13],
  25: [14, 17],
  26: [21, 24],
};
// Letters A to C share the sample of 2 under reduced inspection, and the gap closes there for large AQL.
const reducedExceptions: Record<string, Numbers> = { "1/18": [2, 4], "1/19": [3, 5] };

/** Numbers of a letter and AQL, by their places; undefined: an arrow stands there. */
function numbersAt(letter: number, aql: number, inspection: Inspection): Numbers | undefined {
  const diagonal = letter + aql;
  // Only the letters up to E have the two largest acceptance numbers.
  const isKept = (at: number) => at <= 24 || letter <= 4;
  if (inspection === "tightened") {
    // A sample of 2 without a bad piece proves too little to be a tightened plan of its own.
    if (letter === 0 && diagonal === 15) return undefined;
    return isKept(diagonal) ? tightenedNumbers[diagonal] : undefined;
  }
  if (inspection === "normal") return isKept(diagonal) ? normalNumbers[diagonal] : undefined;
  const exception = reducedExceptions[`${letter}/${aql}`];
  if (exception) return exception;
  const asLetterA =
    (letter === 0 && aql >= 17) || (letter === 1 && aql >= 20) || (letter === 2 && aql === 25);
  if (asLetterA) return normalNumbers[aql];
  return isKept(diagonal) ? reducedNumbers[diagonal] : undefined;
}

export interface SinglePlan {
  /** Letter of the lot; an arrow may have led to the sample of another one. */
  codeLetter: string;
  /** Letter whose sample is taken. */
  planLetter: string;
  /** Pieces to inspect: the whole lot where the sample would not be smaller. */
  n: number;
  inspectAll: boolean;
  /** Accepted with so many nonconforming or fewer, rejected with `re` or more; in between only under reduced inspection. */
  ac: number;
  re: number;
}

/**
 * Single sampling plan by attributes, arrows followed: down the letters to a larger sample, or up to a smaller one, with
 * the acceptance numbers found there.
 * @param aql one of the preferred values
 * @throws {RangeError} if the lot has fewer than 2 pieces or the AQL is not preferred
 * @see MIL-STD-105E (1989), tables II-A, II-B and II-C; in the main equal to ISO 2859-1, tables 2-A to 2-C. With Re − Ac
 *      above 1 (reduced inspection of MIL-STD-105E; ISO 2859-1:1999 has closed that gap) a lot in between is accepted, and
 *      normal inspection comes back
 */
export function singlePlan(
  lotSize: number,
  level: InspectionLevel,
  aql: Aql,
  inspection: Inspection,
): SinglePlan {
  const letter = codeLetter(lotSize, level);
  const column = preferredAqls.indexOf(aql);
  if (column < 0) throw new RangeError(`AQL must be one of ${preferredAqls.join(", ")}`);
  const at = followArrow(letters.indexOf(letter), column, inspection);
  const [ac, re] = numbersAt(at, column, inspection)!;
  const size = (inspection === "reduced" ? reducedSizes : sampleSizes)[at]!;
  const inspectAll = size >= lotSize;
  return { codeLetter: letter, planLetter: letters[at]!, n: inspectAll ? lotSize : size, inspectAll, ac, re };
}

/** Place of the letter whose plan holds. */
function followArrow(letter: number, aql: number, inspection: Inspection): number {
  const last = inspection === "tightened" ? letters.length - 1 : letters.length - 2;
  const isPlan = (at: number) => at >= 0 && at <= last && numbersAt(at, aql, inspection) !== undefined;
  const reach = (step: 1 | -1) => {
    for (let at = letter; at >= 0 && at <= last; at += step) if (isPlan(at)) return at;
    return undefined;
  };
  const diagonal = letter + aql;
  const ac0 = inspection === "tightened" ? 15 : 14;
  // Just above Ac = 0 the arrow leads up to it in the tables of normal and reduced inspection, beyond the last numbers too.
  const isUp = diagonal >= 25 || (inspection !== "tightened" && diagonal === ac0 + 1);
  return (isUp ? reach(-1) : reach(1)) ?? (isUp ? reach(1) : reach(-1))!;
}
