import { addDecimals, compareDecimals } from "../../core/notation/decimal-text.js";
import { readAngle } from "../../core/notation/read-angle.js";
import { type Fault, readNumber } from "../../core/notation/read-number.js";

/** What writers put into a reported tolerance of size: the actual size, or its deviation from the nominal one. */
export type Convention = "size" | "deviation";

/** A number that a tolerance of size was reported with, and all that tells which of the two it is; plain decimals. */
export interface Actual {
  printed: string;
  nominal: string | undefined;
  /** The same size as the actual feature has it. */
  onFeature: string | undefined;
  featureName: string;
  lowerDeviation: string | undefined;
  upperDeviation: string | undefined;
  lowerLimit: string | undefined;
  upperLimit: string | undefined;
  /** By the file's own word; undefined: it says none. */
  isIn: boolean | undefined;
}

interface Measured {
  value: string;
  /** The convention that this place shows beyond doubt. */
  proves?: Convention;
  note?: string;
}

/**
 * The size that a reported number means. Writers differ in whether it is the size or its deviation: the actual feature decides,
 * else the file's own word about the limits, else what the layout says or the file has shown before. What could be both is
 * refused with both meanings.
 */
export function measuredBy(actual: Actual, convention: Convention | undefined): Measured | Fault {
  const { printed, nominal, onFeature, featureName } = actual;
  const asDeviation = nominal === undefined ? undefined : addDecimals(nominal, printed);
  const sizes = { size: printed, deviation: asDeviation };
  if (onFeature !== undefined) {
    const isSize = areAlike(sizes.size, onFeature);
    const isDeviation = asDeviation !== undefined && areAlike(asDeviation, onFeature, printed);
    if (isSize && isDeviation) return { value: sizes.size };
    if (isSize) return { value: sizes.size, proves: "size" };
    if (isDeviation) return meantAsDeviation(asDeviation, actual, "deviation");
    return {
      fault: `says ${printed}, which is neither the size ${onFeature} of ${featureName} nor its deviation from ${nominal ?? "an unknown nominal size"}`,
    };
  }
  const bySays = bySaid(actual, asDeviation);
  const meant = bySays ?? convention;
  if (meant === "size") return bySays ? { value: sizes.size, proves: "size" } : { value: sizes.size };
  if (meant === "deviation") {
    if (asDeviation !== undefined) return meantAsDeviation(asDeviation, actual, bySays);
    return { fault: `says the deviation ${printed}, but nothing says from which nominal size` };
  }
  return {
    fault: `says ${printed}: the size, or the deviation from ${nominal ?? "a nominal size that nothing says"}? Say it in the layout (dmis.actuals)`,
  };
}

function meantAsDeviation(
  value: string,
  { nominal, printed }: Actual,
  proves: Convention | undefined,
): Measured {
  const note = `the size is the nominal ${nominal} with the deviation ${printed}`;
  return proves === undefined ? { value, note } : { value, note, proves };
}

/** What the file's own verdict leaves possible; undefined: both, neither, or it says none. */
function bySaid(actual: Actual, asDeviation: string | undefined): Convention | undefined {
  const { nominal, isIn, lowerDeviation, upperDeviation } = actual;
  if (isIn === undefined || asDeviation === undefined) return undefined;
  const from = (deviation: string | undefined) =>
    nominal === undefined || deviation === undefined ? undefined : addDecimals(nominal, deviation);
  const lower = actual.lowerLimit ?? from(lowerDeviation);
  const upper = actual.upperLimit ?? from(upperDeviation);
  if (lower === undefined || upper === undefined) return undefined;
  const fits = (size: string) =>
    (compareDecimals(size, lower) >= 0 && compareDecimals(size, upper) <= 0) === isIn;
  const [isSize, isDeviation] = [fits(actual.printed), fits(asDeviation)];
  if (isSize === isDeviation) return undefined;
  return isSize ? "size" : "deviation";
}

/** Alike to a digit of the coarser one. */
function areAlike(a: string, b: string, printed = a): boolean {
  const places = Math.min(placesOf(printed), placesOf(b));
  return Math.abs(Number(a) - Number(b)) <= 1.000001 * 10 ** -places;
}

function placesOf(decimal: string): number {
  return decimal.split(".")[1]?.length ?? 0;
}

/** A number of DMIS as a plain decimal. @throws {RangeError} if it is none */
export function plain(text: string): string {
  const read = readNumber(text, { decimalSign: "." });
  if ("fault" in read) throw new RangeError(`${text} ${read.fault}`);
  return read.decimal;
}

/** A number as a plain decimal, an angle printed as degrees:minutes:seconds in degrees; undefined: it is no angle. */
export function toDecimal(text: string): string | undefined {
  if (!text.includes(":")) return plain(text);
  const [degrees = "0", minutes = "0", seconds] = text.split(":");
  const angle = `${degrees}°${minutes}'${seconds === undefined ? "" : `${seconds.replace(/\.$/, "")}"`}`;
  const read = readAngle(angle.replace(/^\+/, ""), { decimalSign: "." });
  return "fault" in read ? undefined : read.degrees;
}
