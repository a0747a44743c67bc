/** A layer that comes onto a feature after it has been cut; lengths in whole picometres. */
export interface Plating {
  /** Of the layer on each surface. */
  thicknessPm: number;
  /** The layer may be so much thinner or thicker. */
  plusMinusPm: number;
  /** Share of the thickness by which a surface grows: 1 for a plated layer, 0.5 where half of it grows into the metal. */
  share: number;
  /** Plated surfaces that the size lies between, or the included angle of a thread whose pitch diameter it is. */
  over: { surfaces: 1 | 2 } | { threadAngleDeg: number };
}

export interface SizeLimits {
  lowerPm: number | undefined;
  upperPm: number | undefined;
}

export interface LimitsBeforePlating extends SizeLimits {
  /** What the layer adds to the size in the middle of its own tolerance; below 0 for an internal feature. */
  growthPm: number;
}

/**
 * How many times the growth of a surface a size grows: once or twice for plain surfaces; the pitch diameter of a thread
 * 2 / sin(α/2) times, since a layer normal to a flank at α/2 to the axis' normal moves the flank by t / sin(α/2) across it
 * (4 times at α = 60°).
 * @throws {RangeError} if the angle is not between 0° and 180°
 * @see plain geometry; the factor 4 at 60° and 2 for the major diameter as in tables of coating allowances for threads
 */
export function platingFactor(over: Plating["over"]): number {
  if ("surfaces" in over) return over.surfaces;
  const { threadAngleDeg } = over;
  if (!(threadAngleDeg > 0 && threadAngleDeg < 180))
    throw new RangeError(`${threadAngleDeg}° is no included angle of a thread`);
  return threadAngleDeg === 60 ? 4 : 2 / Math.sin((threadAngleDeg * Math.PI) / 360);
}

/**
 * Limits of a size before plating, such that every layer within its own tolerance brings it inside the final limits:
 *   outside: lower = L − F·(t − p), upper = U − F·(t + p);  inside: lower = L + F·(t + p), upper = U + F·(t − p),
 * F the share times the factor of `platingFactor`, t ± p the thickness.
 * @param final limits after plating
 * @returns undefined where the tolerance of the layer leaves nothing of that of the size
 * @throws {RangeError} if the thickness is not above its plus and minus, that is below 0, or the share is not in (0, 1]
 * @see common practice: a diameter grows by twice the layer (shop articles on plating allowances)
 */
export function limitsBeforePlating(
  final: SizeLimits,
  side: "external" | "internal",
  plating: Plating,
): LimitsBeforePlating | undefined {
  const { thicknessPm, plusMinusPm, share, over } = plating;
  if (!(plusMinusPm >= 0 && thicknessPm > plusMinusPm))
    throw new RangeError("no layer is left of this thickness");
  if (!(share > 0 && share <= 1)) throw new RangeError(`a share of ${share} is none`);
  const factor = share * platingFactor(over);
  const sign = side === "external" ? 1 : -1;
  const growth = (pm: number) => sign * Math.round(factor * pm);
  // The least and the most that a layer adds, signed.
  const ends = [growth(thicknessPm - plusMinusPm), growth(thicknessPm + plusMinusPm)];
  const lowerPm = final.lowerPm === undefined ? undefined : final.lowerPm - Math.min(...ends);
  const upperPm = final.upperPm === undefined ? undefined : final.upperPm - Math.max(...ends);
  if (lowerPm !== undefined && upperPm !== undefined && upperPm <= lowerPm) return undefined;
  return { lowerPm, upperPm, growthPm: growth(thicknessPm) };
}
