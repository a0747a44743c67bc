import {
  type DeviationRow,
  exceptionM6,
  type Grade,
  grades,
  holeJDeviationsUm,
  type Letter,
  letters,
  mainBandsMm,
  shaftDeviationsUm,
  shaftJDeviationsUm,
  standardTolerancesUm,
  type TabulatedLetter,
} from "./iso-286-tables.js";

/** Inside features are holes, outside ones shafts, round or not (ISO 286-1:2010, 3.1, from memory). */
export type FitSide = "hole" | "shaft";

/** A tolerance class such as H7: where the tolerance interval lies (letter) and how wide it is (grade). */
export interface ToleranceClass {
  readonly side: FitSide;
  /** In small letters, whatever the side. */
  readonly letter: Letter;
  readonly grade: Grade;
}

export interface LimitDeviations {
  readonly lowerDeviationPm: number;
  readonly upperDeviationPm: number;
}

/**
 * Why a tolerance class has no limits. `unreadable`: not a letter and a grade; `letter`, `grade`: none of the standard's;
 * `size`: outside the standard's sizes; `not_given`: a cell that the standard leaves empty.
 */
export interface FitFault {
  readonly fault: "unreadable" | "letter" | "grade" | "size" | "not_given";
  readonly why: string;
  /** The nearest classes that the standard gives for this size. */
  readonly nearest: readonly string[];
}

const pmPerMm = 1e9;
const pmPerUm = 1e6;
const largestMm = 3150;
const letterAndGrade = /^([A-Za-z]+)(\d+)$/;

/**
 * Reads a tolerance class: identifier of the fundamental deviation and number of the grade, as in "H7", "js6", "H01".
 * Capitals are holes, small letters shafts.
 * @param nominalPm whole picometres, by which the nearest classes are chosen
 * @see ISO 286-1:2010, 4.2 (from memory)
 */
export function readToleranceClass(text: string, nominalPm: number): ToleranceClass | FitFault {
  const match = letterAndGrade.exec(text);
  if (!match) return explainUnreadable(text, nominalPm);
  const [, identifier = "", number = ""] = match;
  const known = letters.find((name) => name === identifier.toLowerCase());
  const side = sideOf(identifier);
  const grade = grades.find((name) => name === number);
  if (known && !side) {
    return {
      fault: "letter",
      why: `"${identifier}" mixes capitals, which are holes, with small letters, which are shafts`,
      nearest: [`${known.toUpperCase()}${number}`, `${known}${number}`],
    };
  }
  if (!known) {
    const nearest = grade && side ? nearestLetters({ side, grade }, identifier.toLowerCase(), nominalPm) : [];
    return { fault: "letter", why: `the standard has no letter "${identifier}"`, nearest };
  }
  if (!grade) {
    const coarsest = grades.findLast((name) =>
      isGiven({ side: side!, letter: known, grade: name }, nominalPm),
    );
    return {
      fault: "grade",
      why: `the standard has no grade ${number}: grades are 01, 0 and 1 to 18`,
      nearest: coarsest && Number(number) > 18 ? [`${identifier}${coarsest}`] : [],
    };
  }
  return { side: side!, letter: known, grade };
}

function explainUnreadable(text: string, nominalPm: number): FitFault {
  const meant = text
    .split("/")
    .map((part) => part.replace(/[^A-Za-z\d]/g, ""))
    .filter((part) => letterAndGrade.test(part))
    .map((part) => readToleranceClass(part, nominalPm));
  const nearest = meant.flatMap((found) => ("fault" in found ? found.nearest : [nameOf(found)]));
  return {
    fault: "unreadable",
    why:
      meant.length > 1
        ? "that is a fit of two features, each of which has its own class"
        : 'that is not a letter and a grade, such as "H7" for a hole or "g6" for a shaft',
    nearest,
  };
}

function sideOf(identifier: string): FitSide | undefined {
  if (identifier === identifier.toUpperCase()) return "hole";
  return identifier === identifier.toLowerCase() ? "shaft" : undefined;
}

/** A tolerance class as it is written. */
export function nameOf({ side, letter, grade }: ToleranceClass): string {
  return `${side === "hole" ? letter.toUpperCase() : letter}${grade}`;
}

/**
 * Standard tolerance IT of a grade for a nominal size.
 * @param nominalPm whole picometres; a size on the edge of a band belongs to the lower band
 * @returns whole picometres, or undefined where the standard gives none (0 and below, above 3150 mm, IT01 and IT0 above
 *   500 mm)
 * @see ISO 286-1:2010, table 1 (from memory)
 */
export function standardTolerance(nominalPm: number, grade: Grade): number | undefined {
  const toleranceUm = lookUp({ bandsMm: mainBandsMm, valuesUm: standardTolerancesUm[grade] }, nominalPm);
  return toleranceUm === undefined ? undefined : toPm(toleranceUm);
}

/**
 * Limit deviations of a tolerance class for a nominal size D, from the tables and rules of the standard:
 *   shafts a to h    es from the table, ei = es − IT
 *   shafts k to zc   ei from the table (k: 0 but for IT4 to IT7), es = ei + IT
 *   holes A to H     EI = −es of the shaft, ES = EI + IT
 *   holes K, M, N up to IT8 and P to ZC up to IT7   ES = −ei + Δ, EI = ES − IT, Δ = IT(n) − IT(n−1) over 3 up to 500 mm,
 *                    otherwise 0; ES of M6 over 250 up to 315 mm is −9 µm
 *   coarser holes    K up to 3 mm only, ES = 0; N over 3 up to 500 mm ES = 0; the rest ES = −ei
 *   j, J             one deviation from the table of its grade; js, JS: ±IT/2, not rounded
 * Not given: a and b up to 1 mm, IT14 to IT18 up to 1 mm, N coarser than IT8 up to 1 mm, and holes K to ZC finer than IT3
 * over 3 up to 500 mm, for which Δ is not defined.
 * @param nominalPm D in whole picometres; a size on the edge of a band belongs to the lower band
 * @returns whole picometres, or why there are none
 * @see ISO 286-1:2010, 4.3 and tables 1 to 5, with Cor.1:2013; ISO 286-2:2010 (from memory; the bar on IT14 to IT18 up to
 *   1 mm from ISO 286-1:1988, table 1)
 */
export function limitDeviations(
  toleranceClass: ToleranceClass,
  nominalPm: number,
): LimitDeviations | FitFault {
  const deviations = computeDeviations(toleranceClass, nominalPm);
  if (typeof deviations !== "string") return deviations;
  const isSize = nominalPm > 0 && nominalPm <= largestMm * pmPerMm;
  return {
    fault: isSize ? "not_given" : "size",
    why: deviations,
    nearest: isSize ? nearestClasses(toleranceClass, nominalPm) : [],
  };
}

/** The deviations, or in words why the standard gives none. */
function computeDeviations(toleranceClass: ToleranceClass, nominalPm: number): LimitDeviations | string {
  const { side, letter, grade } = toleranceClass;
  if (!(nominalPm > 0)) return "a nominal size is above 0";
  if (nominalPm > largestMm * pmPerMm) return `the standard ends at ${largestMm} mm`;
  const tolerancePm = standardTolerance(nominalPm, grade);
  if (tolerancePm === undefined) return "IT01 and IT0 end at 500 mm";
  if (rank(grade) >= rank("14") && nominalPm <= pmPerMm) return "IT14 to IT18 are not for sizes up to 1 mm";
  if (letter === "js") return between(-tolerancePm / 2, tolerancePm / 2);
  if (letter === "j") return deviationsOfJ(side, grade, nominalPm, tolerancePm);
  if ((letter === "a" || letter === "b") && nominalPm <= pmPerMm) {
    return `${show(side, letter)} is not for sizes up to 1 mm`;
  }
  const row = shaftDeviationsUm[letter];
  const fundamentalUm = lookUp(row, nominalPm);
  if (fundamentalUm === undefined) return `${show(side, letter)} is given ${describeRange(row)} only`;
  if (letters.indexOf(letter) <= letters.indexOf("h")) {
    const nearPm = toPm(fundamentalUm);
    return side === "shaft" ? between(nearPm - tolerancePm, nearPm) : between(-nearPm, tolerancePm - nearPm);
  }
  if (side === "hole") return deviationsOfHole(letter, grade, nominalPm, tolerancePm, fundamentalUm);
  const lowerPm =
    letter === "k" && (rank(grade) < rank("4") || rank(grade) > rank("7")) ? 0 : toPm(fundamentalUm);
  return between(lowerPm, lowerPm + tolerancePm);
}

/** Holes K to ZC, from the fundamental deviation of the shaft. */
function deviationsOfHole(
  letter: TabulatedLetter,
  grade: Grade,
  nominalPm: number,
  tolerancePm: number,
  shaftUm: number,
): LimitDeviations | string {
  const under = (upperPm: number) => between(upperPm - tolerancePm, upperPm);
  const isSmall = nominalPm <= 3 * pmPerMm;
  const isLarge = nominalPm > 500 * pmPerMm;
  const isEarly = letter === "k" || letter === "m" || letter === "n";
  if (rank(grade) > rank(isEarly ? "8" : "7")) {
    if (letter === "k" && !isSmall) return "K coarser than IT8 is given up to 3 mm only";
    if (letter === "n" && nominalPm <= pmPerMm) return "N coarser than IT8 is not for sizes up to 1 mm";
    return under(letter === "n" && !isSmall && !isLarge ? 0 : -toPm(shaftUm));
  }
  if (isSmall || isLarge) return under(-toPm(shaftUm));
  if (rank(grade) < rank("3"))
    return "holes K to ZC finer than IT3 are given up to 3 mm and above 500 mm only";
  const { overMm, upToMm, upperUm } = exceptionM6;
  if (letter === "m" && grade === "6" && nominalPm > overMm * pmPerMm && nominalPm <= upToMm * pmPerMm) {
    return under(toPm(upperUm));
  }
  const finer = standardTolerance(nominalPm, grades[rank(grade) - 1]!)!;
  return under(-toPm(shaftUm) + tolerancePm - finer);
}

function deviationsOfJ(
  side: FitSide,
  grade: Grade,
  nominalPm: number,
  tolerancePm: number,
): LimitDeviations | string {
  const table = side === "shaft" ? shaftJDeviationsUm : holeJDeviationsUm;
  const row = { bandsMm: mainBandsMm, valuesUm: table[grade] ?? [] };
  const deviationUm = lookUp(row, nominalPm);
  if (deviationUm === undefined) {
    const name = show(side, "j");
    if (row.valuesUm.length > 0) return `${name}${grade} is given ${describeRange(row)} only`;
    return `${name} is given for grades ${Object.keys(table).join(", ")} only`;
  }
  const givenPm = toPm(deviationUm);
  return side === "shaft" ? between(givenPm, givenPm + tolerancePm) : between(givenPm - tolerancePm, givenPm);
}

/** Adding 0 turns −0 into 0. */
function between(lowerDeviationPm: number, upperDeviationPm: number): LimitDeviations {
  return { lowerDeviationPm: lowerDeviationPm + 0, upperDeviationPm: upperDeviationPm + 0 };
}

function lookUp({ bandsMm, valuesUm }: DeviationRow, nominalPm: number): number | undefined {
  if (!(nominalPm > 0)) return undefined;
  const band = bandsMm.findIndex((upToMm) => nominalPm <= upToMm * pmPerMm);
  return valuesUm[band] ?? undefined;
}

function describeRange({ bandsMm, valuesUm }: DeviationRow): string {
  const first = valuesUm.findIndex((value) => value !== null);
  const over = first > 0 ? `over ${bandsMm[first - 1]} ` : "";
  return `${over}up to ${bandsMm[valuesUm.length - 1]} mm`;
}

/** Tenths of a micrometre times 10⁶ are whole, but a double may miss them by its last bit. */
function toPm(micrometres: number): number {
  return Math.round(micrometres * pmPerUm);
}

function rank(grade: Grade): number {
  return grades.indexOf(grade);
}

function show(side: FitSide, letter: Letter): string {
  return side === "hole" ? letter.toUpperCase() : letter;
}

function isGiven(toleranceClass: ToleranceClass, nominalPm: number): boolean {
  return typeof computeDeviations(toleranceClass, nominalPm) !== "string";
}

/**
 * The next finer and coarser grade of the letter, and the next letters on either side in the grade, as far as they are
 * given; where neither is, those letters in the nearest grade that is.
 */
function nearestClasses({ side, letter, grade }: ToleranceClass, nominalPm: number): string[] {
  const at = letters.indexOf(letter);
  const [finer, coarser] = [grades.slice(0, rank(grade)), grades.slice(rank(grade) + 1)];
  const given = (name: Grade) => isGiven({ side, letter, grade: name }, nominalPm);
  const sameLetter = [finer.findLast(given), coarser.find(given)].flatMap((name) =>
    name ? [nameOf({ side, letter, grade: name })] : [],
  );
  const near = [...sameLetter, ...neighbours({ side, grade }, at, nominalPm)];
  if (near.length > 0) return near;
  const usual = (name: Grade) => isGiven({ side, letter: "js", grade: name }, nominalPm);
  const other = finer.findLast(usual) ?? coarser.find(usual);
  return other ? neighbours({ side, grade: other }, at, nominalPm) : [];
}

/** Around a letter that the standard does not have. */
function nearestLetters(rest: Omit<ToleranceClass, "letter">, unknown: string, nominalPm: number): string[] {
  const after = letters.findIndex((letter) => letter > unknown);
  return neighbours(rest, (after < 0 ? letters.length : after) - 0.5, nominalPm);
}

function neighbours(rest: Omit<ToleranceClass, "letter">, at: number, nominalPm: number): string[] {
  const candidates = letters.map((letter) => ({ ...rest, letter }));
  const before = candidates.findLast((candidate, i) => i < at && isGiven(candidate, nominalPm));
  const after = candidates.find((candidate, i) => i > at && isGiven(candidate, nominalPm));
  return [before, after].flatMap((candidate) => (candidate ? [nameOf(candidate)] : []));
}

/**
 * Largest and least clearance of a hole on a shaft, negative ones being interference, and the kind of fit:
 *   largest = ES − ei, least = EI − es; clearance: least ≥ 0; interference: largest ≤ 0; transition: neither
 * All in whole picometres.
 * @see ISO 286-1:2010, 3.3 (from memory)
 */
export function decideFit(hole: LimitDeviations, shaft: LimitDeviations) {
  const largestClearancePm = hole.upperDeviationPm - shaft.lowerDeviationPm;
  const leastClearancePm = hole.lowerDeviationPm - shaft.upperDeviationPm;
  const kind: "clearance" | "transition" | "interference" =
    leastClearancePm >= 0 ? "clearance" : largestClearancePm <= 0 ? "interference" : "transition";
  return { largestClearancePm, leastClearancePm, kind };
}
