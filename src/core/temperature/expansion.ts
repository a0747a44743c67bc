/** Mean coefficient of linear expansion near 20 °C, with what is known of it. */
export interface Expansion {
  /** Whole 10⁻¹² per kelvin: 11.5 µm/(m·K) is 11 500 000. */
  readonly coefficientPicoPerK: number;
  /** Its standard uncertainty, in the same unit. */
  readonly standardPicoPerK: number;
}

/** Decimals of µm/(m·K), and of °C, that are kept. */
export const thermalPlaces = 6;

/**
 * Standard uncertainty of a coefficient of which a range and one value in it are known: any place in the range is as likely
 * as another, and a value that is not its middle misses the middle besides:
 *   u² = (high − low)² / 12 + (value − (low + high) / 2)²
 * @param low, value, high in one common unit
 * @returns u in that unit
 * @throws {RangeError} if `value` lies outside the range
 * @see JCGM 100:2008, 4.3.7 (rectangular distribution) and F.2.4.5 (a known correction left out) (from memory)
 */
export function standardOfRange(low: number, value: number, high: number): number {
  if (!(low <= value && value <= high)) throw new RangeError(`${value} is not in ${low} to ${high}`);
  return Math.hypot((high - low) / Math.sqrt(12), value - (low + high) / 2);
}

/** Half the range that is assumed of a coefficient given alone: a tenth of it, not less than 0.1 µm/(m·K). */
const assumedShare = 0.1;
const assumedLeastPicoPerK = 1e5;

/**
 * A coefficient that somebody gave as a number. Where nothing is said about its uncertainty it is taken to lie within a
 * tenth of itself, any place being as likely: u = a / √3. Handbooks differ by about that much for one alloy (common
 * practice, no source); JCGM 100:2008, H.1.3.4 takes 2 in 11.5 for the steel of an end gauge (from memory).
 * @param coefficientPicoPerK whole 10⁻¹² per kelvin
 * @param standardPicoPerK its standard uncertainty; undefined: not said
 */
export function givenExpansion(coefficientPicoPerK: number, standardPicoPerK: number | undefined): Expansion {
  const half = Math.max(assumedShare * Math.abs(coefficientPicoPerK), assumedLeastPicoPerK);
  return { coefficientPicoPerK, standardPicoPerK: standardPicoPerK ?? half / Math.sqrt(3) };
}
