export type Verdict = "conforming" | "nonconforming" | "uncertain";
export type DecisionRule = "simple" | "guarded_acceptance";

export interface Requirement {
  /** Whole picometres; at least one of the two. */
  lowerPm: number | undefined;
  upperPm: number | undefined;
  rule: DecisionRule;
  /** U: expanded uncertainty of the reading; undefined: not known. */
  expandedUncertaintyPm: number | undefined;
}

/**
 * Verdict on one measured size. Simple acceptance: conforming inside and on the limits. Guarded acceptance with a guard
 * band of U: conforming inside and on the limits drawn in by U, uncertain from there to the limits, nonconforming beyond.
 * Where U is not known a guarded acceptance can't be given: uncertain.
 * @param sizePm whole picometres
 * @see JCGM 106:2012, 8.2 and 8.3.2 (from memory)
 */
export function decideConformity(sizePm: number, requirement: Requirement): Verdict {
  const { lowerPm = Number.NEGATIVE_INFINITY, upperPm = Number.POSITIVE_INFINITY, rule } = requirement;
  if (sizePm < lowerPm || sizePm > upperPm) return "nonconforming";
  if (rule === "simple") return "conforming";
  const guardPm = requirement.expandedUncertaintyPm;
  if (guardPm === undefined) return "uncertain";
  return sizePm >= lowerPm + guardPm && sizePm <= upperPm - guardPm ? "conforming" : "uncertain";
}

/** Share of the way from target to the limit on that side, 1 being on the limit; a missing limit leaves it undefined. */
export function toleranceUsed(
  sizePm: number,
  targetPm: number,
  lowerPm: number | undefined,
  upperPm: number | undefined,
): number | undefined {
  const fromTarget = sizePm - targetPm;
  if (fromTarget === 0) return 0;
  const limit = fromTarget > 0 ? upperPm : lowerPm;
  return limit === undefined ? undefined : fromTarget / (limit - targetPm);
}

export type Disposition = "accept" | "rework" | "scrap" | "remeasure";

/** +1: a size too large has metal left to remove; −1: a size too small has. Common practice, no source. */
export const metalSide: Record<"external" | "internal" | "depth" | "height" | "length", 1 | -1> = {
  external: 1,
  internal: -1,
  depth: -1,
  height: 1,
  length: 1,
};

/** What becomes of a piece by the side on which it is out: rework while there is metal to remove, else scrap. */
export function disposeNonconforming(
  sizePm: number,
  upperPm: number | undefined,
  metal: 1 | -1,
): "rework" | "scrap" {
  const tooLarge = upperPm !== undefined && sizePm > upperPm;
  return tooLarge === (metal === 1) ? "rework" : "scrap";
}
