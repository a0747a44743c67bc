import { fromNumeric } from "../core/quantity.js";

/** A stored size that may be absent, in picometres. */
export function optionalPm(numeric: string | null): number | undefined {
  return numeric === null ? undefined : fromNumeric(numeric);
}
