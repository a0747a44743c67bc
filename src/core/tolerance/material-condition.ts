/** Which size of a feature a geometrical tolerance is stated at (ISO 2692: maximum Ⓜ, least Ⓛ material requirement). */
export type MaterialCondition = "maximum" | "least";

/** The feature whose size counts: a hole has least material where it is largest, a shaft where it is smallest. */
export interface SizeLimits {
  readonly kind: "internal" | "external";
  readonly lowerPm: number;
  readonly upperPm: number;
}

export interface Bonus {
  /** What is added to the stated tolerance; undefined: the size itself is out, and nothing is earned. */
  readonly bonusPm: number | undefined;
  /** Size at the material condition, from which the bonus counts. */
  readonly atPm: number;
  /** Where the size is out of its limits. */
  readonly sizeOut: "below" | "above" | undefined;
}

/**
 * Bonus tolerance: departure of the size from the size at its material condition, towards the other limit. It is never below 0
 * and never above the tolerance of the size; a size outside its limits earns none. The size that counts is that of the mating
 * envelope, square to the datums; a two-point size of a leaning hole earns more than it should. A shift of a datum feature of
 * size is not part of it.
 * @param sizePm and limits: whole picometres
 * @throws {RangeError} if the limits are crossed
 * @see ISO 2692:2021, clauses 4 and 5; ASME Y14.5-2018, 7.3 (both from memory)
 */
export function bonusTolerance(sizePm: number, limits: SizeLimits, condition: MaterialCondition): Bonus {
  const { kind, lowerPm, upperPm } = limits;
  if (!(upperPm > lowerPm)) throw new RangeError(`upper limit ${upperPm} is not above ${lowerPm}`);
  const fromLower = (kind === "internal") === (condition === "maximum");
  const atPm = fromLower ? lowerPm : upperPm;
  const sizeOut = sizePm < lowerPm ? "below" : sizePm > upperPm ? "above" : undefined;
  return { bonusPm: sizeOut ? undefined : Math.abs(sizePm - atPm), atPm, sizeOut };
}

/**
 * Whether taking metal off earns bonus: a hole at maximum material gains by opening it, a shaft by turning it down. At least
 * material they lose by it.
 */
export function gainsByCutting(condition: MaterialCondition): boolean {
  return condition === "maximum";
}
