import { multiplyDecimals } from "../../core/notation/decimal-text.js";
import { plain } from "./actual-size.js";

/** What a tolerance can be about in a feature: its sizes and where it lies, as printed. */
export type Dimensions = Partial<Record<"diameter" | "radius" | "width" | "angle" | "x" | "y" | "z", string>>;

export interface Tolerance {
  /** Its type: DIAM, POS, FLAT ... */
  type: string;
  /** Which dimension of its feature it limits; absent: none, as a form or a distance between two. */
  of?: keyof Dimensions;
  nominal?: string;
  lowerDeviation?: string;
  upperDeviation?: string;
  lowerLimit?: string;
  upperLimit?: string;
  isAngle?: true;
  notes?: string[];
}

const number = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[Ee][+-]?\d{1,2})?$/;
const sexagesimal = /^[+-]?\d{1,3}:\d{1,2}(?::\d{1,2}(?:\.\d*)?)?$/;

export function isNumber(text: string): boolean {
  return text.length <= 40 && (number.test(text) || sexagesimal.test(text));
}

/** A size of a feature, by another one where that gives it exactly. */
export function sizeOf(dimensions: Dimensions | undefined, of: keyof Dimensions): string | undefined {
  const own = dimensions?.[of];
  if (own !== undefined || !dimensions) return own;
  if (of === "radius" && dimensions.diameter !== undefined)
    return multiplyDecimals(plain(dimensions.diameter), "0.5");
  if (of === "diameter" && dimensions.radius !== undefined)
    return multiplyDecimals(plain(dimensions.radius), "2");
  return undefined;
}

/** Which number of a feature, behind its minor words, is which size (ISO 22093, FEAT, from memory). */
const sizes: Record<string, [keyof Dimensions, number][]> = {
  CIRCLE: [["diameter", 6]],
  CYLNDR: [["diameter", 6]],
  SPHERE: [["diameter", 3]],
  ARC: [["radius", 6]],
  CONE: [["angle", 6]],
  CPARLN: [["width", 10]],
};

/**
 * The dimensions that FEAT/... says, nominal or actual. Where it lies only in Cartesian coordinates, for in polar ones x and y
 * would have to be worked out.
 */
export function dimensionsOf(args: readonly string[]): Dimensions {
  const type = (args[0] ?? "").toUpperCase();
  const words = args.slice(1).map((arg) => arg.toUpperCase());
  const numbers = words.filter(isNumber);
  const dimensions: Dimensions = {};
  const isMiddlePlane = type === "PARPLN" && words.includes("MIDPL");
  for (const [name, at] of isMiddlePlane ? ([["width", 6]] as const) : (sizes[type] ?? [])) {
    if (numbers[at] !== undefined) dimensions[name] = numbers[at];
  }
  if (words.includes("CART")) {
    const axes = ["x", "y", "z"] as const;
    for (const [i, axis] of axes.entries()) if (numbers[i] !== undefined) dimensions[axis] = numbers[i];
  }
  return dimensions;
}

const sized: Record<string, keyof Dimensions> = {
  DIAM: "diameter",
  RAD: "radius",
  WIDTH: "width",
  ANGL: "angle",
};
/** Types whose tolerance is a zone, from 0 to its width (ISO 1101). */
const zones = new Set("FLAT STRGHT CIRLTY CYLCTY PERP PARLEL ANGLR CONCEN CRNOUT TRNOUT SYM POS".split(" "));
const distances = new Set(["DISTB", "DISTWRT", "ANGLB", "ANGLWRT"]);
const profiles = new Set(["PROFL", "PROFP", "PROFS"]);
const axes: Record<string, "x" | "y" | "z"> = { XAXIS: "x", YAXIS: "y", ZAXIS: "z" };

export function isToleranceKnown(type: string): boolean {
  return (
    sized[type] !== undefined ||
    zones.has(type) ||
    distances.has(type) ||
    profiles.has(type) ||
    type === "CORTOL"
  );
}

/** What TOL/... of a nominal tolerance allows (ISO 22093, TOL, from memory). */
export function toleranceOf(args: readonly string[]): Tolerance {
  const words = args.map((arg) => arg.toUpperCase());
  const type = words[0] ?? "";
  const numbers = leading(words);
  const [first, second, third] = numbers;
  const isAngle = type === "ANGL" || type === "ANGLB" || type === "ANGLWRT" || words.includes("ANGLE");
  const tolerance: Tolerance = { type, ...(isAngle && { isAngle }) };
  const add = (more: Partial<Tolerance>) => Object.assign(tolerance, more);
  const bothWays = (lower: string | undefined, upper: string | undefined) => {
    if (lower === undefined || upper === undefined) add({ notes: ["its tolerance names no two deviations"] });
    else add({ lowerDeviation: lower, upperDeviation: upper });
  };
  if (sized[type] !== undefined) {
    add({ of: sized[type] });
    bothWays(first, second);
  } else if (type === "CORTOL") {
    const axis = words.map((word) => axes[word]).find((name) => name !== undefined);
    if (axis) add({ of: axis });
    bothWays(first, second);
  } else if (distances.has(type)) {
    if (words.includes("LIMIT")) {
      if (first !== undefined && second !== undefined) add({ lowerLimit: first, upperLimit: second });
    } else {
      if (first !== undefined) add({ nominal: first });
      bothWays(second, third);
    }
  } else if (profiles.has(type)) {
    add({ nominal: "0" });
    bothWays(first, second);
  } else if (zones.has(type) && first !== undefined) {
    const isOneNumber = second === undefined || !nextToEachOther(words);
    if (isOneNumber || type !== "ANGLR") add({ upperLimit: first });
    else
      add({ notes: ["its tolerance of angularity names two numbers, of which none is taken for the zone"] });
  }
  return tolerance;
}

/** The numbers of a tolerance before anything that belongs to a datum or a material condition. */
function leading(words: readonly string[]): string[] {
  const end = words.findIndex((word, i) => i > 0 && /^(MMC|LMC|RFS|DAT\(|F\(|FA\()/.test(word));
  return words.slice(1, end < 0 ? undefined : end).filter(isNumber);
}

function nextToEachOther(words: readonly string[]): boolean {
  return words.some((word, i) => isNumber(word) && isNumber(words[i + 1] ?? ""));
}
