import { fromNumeric, type LengthUnit, parseLength, toNumeric, toUnit } from "../core/quantity.js";
import type { Length } from "./types.js";

/** A size as it came in, in whole picometres. @throws {RangeError} if `Length` has not accepted it */
export function lengthPm(value: Length, unit: LengthUnit): number {
  const pm = parseLength(value, unit);
  if (pm === undefined) throw new RangeError(`no length: ${value} ${unit}`);
  return pm;
}

/** A size as it came in, as the database keeps it. */
export function storeLength(value: Length, unit: LengthUnit): string;
export function storeLength(value: Length | null | undefined, unit: LengthUnit): string | null;
export function storeLength(value: Length | null | undefined, unit: LengthUnit): string | null {
  return value === null || value === undefined ? null : toNumeric(lengthPm(value, unit));
}

/** A stored size as the wire shows it. */
export function showLength(stored: string, unit: LengthUnit): number;
export function showLength(stored: string | null, unit: LengthUnit): number | null;
export function showLength(stored: string | null, unit: LengthUnit): number | null {
  return stored === null ? null : toUnit(fromNumeric(stored), unit);
}
