import type { GeometricName } from "../feature-kind.js";

/** f fine, m medium, c coarse, v very coarse. */
export const generalClasses = ["f", "m", "c", "v"] as const;
export type GeneralClass = (typeof generalClasses)[number];
/** From the finest to the coarsest. */
export const geometricClasses = ["H", "K", "L"] as const;
export type GeometricClass = (typeof geometricClasses)[number];
/** As a drawing writes them behind "ISO 2768-": a class of part 1, of part 2, or both. */
export const generalToleranceMarks = [
  ...generalClasses,
  ...geometricClasses,
  ...generalClasses.flatMap((size) => geometricClasses.map((geometric) => `${size}${geometric}` as const)),
] as const;
export type GeneralToleranceMark = (typeof generalToleranceMarks)[number];
export type GeometricCharacteristic =
  | "straightness"
  | "flatness"
  | "perpendicularity"
  | "symmetry"
  | "run_out";

/** The standard gives no general tolerance here; `notGiven` says why. */
export interface NotGiven {
  readonly notGiven: string;
}

/** A band runs from over the limit before it (0 at first) up to and including its own; a shorter row or null: not given. */
interface Table<Class extends string> {
  readonly bandsMm: readonly number[];
  readonly values: Readonly<Record<Class, readonly (number | null)[]>>;
}

const pmPerMm = 1e9;
const noEnd = Number.POSITIVE_INFINITY;
const leastSizeMm = 0.5;

/** ISO 2768-1:1989, table 1, ± mm. */
const linear: Table<GeneralClass> = {
  bandsMm: [3, 6, 30, 120, 400, 1000, 2000, 4000],
  values: {
    f: [0.05, 0.05, 0.1, 0.15, 0.2, 0.3, 0.5],
    m: [0.1, 0.1, 0.2, 0.3, 0.5, 0.8, 1.2, 2],
    c: [0.2, 0.3, 0.5, 0.8, 1.2, 2, 3, 4],
    v: [null, 0.5, 1, 1.5, 2.5, 4, 6, 8],
  },
};

const fineEdge = [0.2, 0.5, 1];
const coarseEdge = [0.4, 1, 2];
/** ISO 2768-1:1989, table 2, ± mm. */
const brokenEdges: Table<GeneralClass> = {
  bandsMm: [3, 6, noEnd],
  values: { f: fineEdge, m: fineEdge, c: coarseEdge, v: coarseEdge },
};

const fineAngle = [60, 30, 20, 10, 5];
/** ISO 2768-1:1989, table 3, ± minutes of arc by the length of the shorter leg. */
const angles: Table<GeneralClass> = {
  bandsMm: [10, 50, 120, 400, noEnd],
  values: { f: fineAngle, m: fineAngle, c: [90, 60, 30, 15, 10], v: [180, 120, 60, 30, 20] },
};

const straightness: Table<GeometricClass> = {
  bandsMm: [10, 30, 100, 300, 1000, 3000],
  values: {
    H: [0.02, 0.05, 0.1, 0.2, 0.3, 0.4],
    K: [0.05, 0.1, 0.2, 0.4, 0.6, 0.8],
    L: [0.1, 0.2, 0.4, 0.8, 1.2, 1.6],
  },
};

/** ISO 2768-2:1989, tables 1 to 4, mm. */
const geometric: Readonly<Record<GeometricCharacteristic, Table<GeometricClass>>> = {
  straightness,
  flatness: straightness,
  perpendicularity: {
    bandsMm: [100, 300, 1000, 3000],
    values: { H: [0.2, 0.3, 0.4, 0.5], K: [0.4, 0.6, 0.8, 1], L: [0.6, 1, 1.5, 2] },
  },
  symmetry: {
    bandsMm: [100, 300, 1000, 3000],
    values: { H: [0.5, 0.5, 0.5, 0.5], K: [0.6, 0.6, 0.8, 1], L: [0.6, 1, 1.5, 2] },
  },
  run_out: { bandsMm: [noEnd], values: { H: [0.1], K: [0.2], L: [0.5] } },
};

/** The class of ISO 2768-1 for sizes and angles and that of ISO 2768-2 for form and place in "mK"; undefined: not named. */
export function readGeneralTolerance(mark: GeneralToleranceMark): {
  size: GeneralClass | undefined;
  geometric: GeometricClass | undefined;
} {
  return {
    size: generalClasses.find((name) => mark.startsWith(name)),
    geometric: geometricClasses.find((name) => mark.endsWith(name)),
  };
}

/**
 * General tolerance of a linear size (outside, inside, step, distance): limits = nominal ± result.
 * @param nominalPm whole picometres; a size on the edge of a band belongs to the lower band
 * @returns whole picometres, or why the standard gives none: below 0.5 mm, above 4000 mm, f above 2000 mm, v up to 3 mm
 * @see ISO 2768-1:1989, table 1 (from memory)
 */
export function generalLinearTolerance(nominalPm: number, generalClass: GeneralClass): number | NotGiven {
  return sizeTolerance(linear, nominalPm, generalClass);
}

/**
 * General tolerance of a broken edge, that is an external radius or the height of a chamfer: limits = nominal ± result.
 * @param nominalPm whole picometres; a size on the edge of a band belongs to the lower band
 * @returns whole picometres, or why the standard gives none: below 0.5 mm
 * @see ISO 2768-1:1989, table 2 (from memory)
 */
export function generalEdgeTolerance(nominalPm: number, generalClass: GeneralClass): number | NotGiven {
  return sizeTolerance(brokenEdges, nominalPm, generalClass);
}

/**
 * General tolerance of an angle: limits = nominal angle ± result.
 * @param shorterLegPm length of the shorter leg in whole picometres, above 0
 * @returns minutes of arc
 * @throws {RangeError} if the length is not above 0
 * @see ISO 2768-1:1989, table 3 (from memory)
 */
export function generalAngleToleranceArcmin(shorterLegPm: number, generalClass: GeneralClass): number {
  requirePositive(shorterLegPm);
  return lookUp(angles, shorterLegPm, generalClass)!;
}

/**
 * General geometrical tolerance of a single feature. The length that counts: straightness, that of the line; flatness, the
 * longer side or the diameter of the surface; perpendicularity, the shorter leg of the right angle; symmetry, the shorter
 * of the two features; circular run-out does not depend on it.
 * @param lengthPm whole picometres, above 0; a length on the edge of a band belongs to the lower band
 * @returns whole picometres, or why the standard gives none: above 3000 mm
 * @throws {RangeError} if the length is not above 0
 * @see ISO 2768-2:1989, 5.1, 5.2 and tables 1 to 4 (from memory; withdrawn in 2021, still called up by drawings)
 */
export function generalGeometricTolerance(
  characteristic: GeometricCharacteristic,
  lengthPm: number,
  geometricClass: GeometricClass,
): number | NotGiven {
  requirePositive(lengthPm);
  const toleranceMm = lookUp(geometric[characteristic], lengthPm, geometricClass);
  return toleranceMm === undefined ? { notGiven: "ISO 2768-2 ends at 3000 mm" } : toPm(toleranceMm);
}

/** What the standard goes by where its table gives no figure for a characteristic of ISO 1101. */
const withoutTable: Readonly<Record<Exclude<GeometricName, keyof typeof tableOf>, string>> = {
  roundness:
    "ISO 2768-2 takes roundness from the tolerance of the diameter, and no more than that of circular run-out",
  cylindricity:
    "ISO 2768-2 gives none for cylindricity: it follows from roundness, straightness and parallelism",
  parallelism:
    "ISO 2768-2 takes parallelism from the tolerance of the size between the two, or their straightness or flatness where that is wider",
  coaxiality: "ISO 2768-2 gives none for coaxiality: circular run-out bounds it",
  concentricity: "ISO 2768-2 gives none for concentricity: circular run-out bounds it",
  line_profile: "ISO 2768-2 gives none for the profile of a line",
  surface_profile: "ISO 2768-2 gives none for the profile of a surface",
  angularity: "ISO 2768-2 gives none for angularity: the angle has its own in ISO 2768-1",
  total_run_out: "ISO 2768-2 gives none for total run-out",
};

const tableOf = {
  straightness: "straightness",
  flatness: "flatness",
  perpendicularity: "perpendicularity",
  symmetry: "symmetry",
  circular_run_out: "run_out",
} as const satisfies Partial<Record<GeometricName, GeometricCharacteristic>>;

/**
 * General tolerance of a characteristic of ISO 1101, see `generalGeometricTolerance`.
 * @param lengthPm whole picometres; undefined: not known
 * @returns whole picometres, `needs_length` where the figure depends on a length that is not known, or why there is none
 * @throws {RangeError} if the length is not above 0
 * @see ISO 2768-2:1989, 5.1 and 5.2 (from memory)
 */
export function generalToleranceOf(
  name: GeometricName,
  lengthPm: number | undefined,
  geometricClass: GeometricClass,
): number | NotGiven | "needs_length" {
  if (!hasTable(name)) return { notGiven: withoutTable[name] };
  if (name === "circular_run_out") return generalGeometricTolerance("run_out", 1, geometricClass);
  if (lengthPm === undefined) return "needs_length";
  return generalGeometricTolerance(tableOf[name], lengthPm, geometricClass);
}

function hasTable(name: GeometricName): name is keyof typeof tableOf {
  return name in tableOf;
}

function sizeTolerance(
  table: Table<GeneralClass>,
  nominalPm: number,
  generalClass: GeneralClass,
): number | NotGiven {
  if (!(nominalPm >= leastSizeMm * pmPerMm)) {
    return { notGiven: `ISO 2768-1 begins at ${leastSizeMm} mm; a smaller size has its tolerance beside it` };
  }
  const toleranceMm = lookUp(table, nominalPm, generalClass);
  if (toleranceMm !== undefined) return toPm(toleranceMm);
  const row = table.values[generalClass];
  const first = row.findIndex((value) => value !== null);
  const over = first > 0 ? `over ${table.bandsMm[first - 1]} ` : "";
  return {
    notGiven: `ISO 2768-1 gives class ${generalClass} ${over}up to ${table.bandsMm[row.length - 1]} mm only`,
  };
}

function lookUp<Class extends string>({ bandsMm, values }: Table<Class>, lengthPm: number, name: Class) {
  const band = bandsMm.findIndex((upToMm) => lengthPm <= upToMm * pmPerMm);
  return values[name][band] ?? undefined;
}

function toPm(millimetres: number): number {
  return Math.round(millimetres * pmPerMm);
}

function requirePositive(lengthPm: number): void {
  if (!(lengthPm > 0)) throw new RangeError(`needs a length above 0, got ${lengthPm}`);
}
