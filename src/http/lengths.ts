import { fromNumeric, type MeasureUnit, parseMeasure, toNumeric, toUnit } from "../core/quantity.js";
import type { Length } from "./types.js";

/** A size or angle as it came in, in whole steps. @throws {RangeError} if its schema has not accepted it */
export function lengthPm(value: Length, unit: MeasureUnit): number {
  const pm = parseMeasure(value, unit);
  if (pm === undefined) throw new RangeError(`no length: ${value} ${unit}`);
  return pm;
}

/** A size as it came in, as the database keeps it. */
export function storeLength(value: Length, unit: MeasureUnit): string;
export function storeLength(value: Length | null | undefined, unit: MeasureUnit): string | null;
export function storeLength(value: Length | null | undefined, unit: MeasureUnit): string | null {
  return value === null || value === undefined ? null : toNumeric(lengthPm(value, unit));
}

/** A stored size as the wire shows it. */
export function showLength(stored: string, unit: MeasureUnit): number;
export function showLength(stored: string | null, unit: MeasureUnit): number | null;
export function showLength(stored: string | null, unit: MeasureUnit): number | null {
  return stored === null ? null : toUnit(fromNumeric(stored), unit);
}
