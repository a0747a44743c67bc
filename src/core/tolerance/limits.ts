/** Limits of a feature in whole picometres. One of the two may be absent, never both. */
export interface Limits {
  readonly lowerPm: number | undefined;
  readonly upperPm: number | undefined;
  /** The size to aim at. */
  readonly targetPm: number;
}

/** `crossed`: the upper limit is not above the lower one. `target_outside`: the target is on or beyond a limit. */
export type LimitsFault = "crossed" | "target_outside";

/**
 * Lower and upper limit of size from the nominal size and its limit deviations (ISO 286-1, from memory):
 *   lower limit = nominal + lower deviation, upper limit = nominal + upper deviation
 * All in whole picometres.
 */
export function limitsFromDeviations(
  nominalPm: number,
  lowerDeviationPm: number,
  upperDeviationPm: number,
): { lowerPm: number; upperPm: number } {
  return { lowerPm: nominalPm + lowerDeviationPm, upperPm: nominalPm + upperDeviationPm };
}

/**
 * Checks limits against each other and the target against them. Where both limits are given and no target, the target is
 * their middle, half a picometre rounded to even.
 * @param lowerPm, upperPm, targetPm whole picometres
 * @throws {RangeError} if no limit is given, or only one and no target
 */
export function decideLimits(
  lowerPm: number | undefined,
  upperPm: number | undefined,
  targetPm: number | undefined,
): Limits | LimitsFault {
  if (lowerPm === undefined && upperPm === undefined) throw new RangeError("needs at least one limit");
  if (lowerPm !== undefined && upperPm !== undefined && upperPm <= lowerPm) return "crossed";
  const aim = targetPm ?? middleOf(lowerPm, upperPm);
  if ((lowerPm !== undefined && aim <= lowerPm) || (upperPm !== undefined && aim >= upperPm))
    return "target_outside";
  return { lowerPm, upperPm, targetPm: aim };
}

function middleOf(lowerPm: number | undefined, upperPm: number | undefined): number {
  if (lowerPm === undefined || upperPm === undefined) throw new RangeError("a single limit has no middle");
  const width = upperPm - lowerPm;
  const below = lowerPm + Math.floor(width / 2);
  return width % 2 === 0 || below % 2 === 0 ? below : below + 1;
}
