export type Verdict = "conforming" | "nonconforming" | "uncertain";
export type DecisionRule = "simple" | "guarded_acceptance" | "guarded_rejection" | "iso_14253";

export interface Requirement {
  /** Whole picometres; at least one of the two. */
  lowerPm: number | undefined;
  upperPm: number | undefined;
  rule: DecisionRule;
  /** r: the guard band in expanded uncertainties; without meaning under `simple`. */
  guardBandFactor: number;
  /** U: expanded uncertainty of the reading; undefined: not known. */
  expandedUncertaintyPm: number | undefined;
}

/** A closed interval in picometres; undefined: it has no end on that side. Crossed ends leave nothing inside. */
export interface Interval {
  lowerPm: number | undefined;
  upperPm: number | undefined;
}

export interface DecisionLimits {
  /** g in picometres; undefined: the rule needs U, and it is not known. */
  guardBandPm: number | undefined;
  /** A reading in it, ends included, is conforming; undefined: none can be called so. */
  acceptance: Interval | undefined;
  /** A reading beyond it is nonconforming; undefined: none can be called so. */
  rejection: Interval | undefined;
}

/**
 * Where the limits of size T_L, T_U put the acceptance and the rejection limits of a rule, g = r·U:
 *   simple              accepts T_L to T_U             rejects beyond T_L, T_U
 *   guarded_acceptance  accepts T_L + g to T_U − g     rejects beyond T_L, T_U
 *   guarded_rejection   accepts T_L to T_U             rejects beyond T_L − g, T_U + g
 *   iso_14253           accepts T_L + g to T_U − g     rejects beyond T_L − g, T_U + g
 * JCGM 106 makes guarded acceptance and guarded rejection binary: the one refuses acceptance outside its acceptance
 * limits, the other does not reject inside its own. What the claim leaves open between the limit of size and the guarded
 * limit is `uncertain` here, neither accepted nor rejected. A missing limit of size has no guarded one. g is rounded to a
 * whole picometre.
 * @throws {RangeError} if r or U is no finite number ≥ 0
 * @see JCGM 106:2012, 8.2, 8.3.2 and 8.3.3; ISO 14253-1:2017, clause 5 (all from memory)
 */
export function decisionLimits(requirement: Requirement): DecisionLimits {
  const { lowerPm, upperPm, rule, guardBandFactor: r, expandedUncertaintyPm: u } = requirement;
  if (!(r >= 0 && Number.isFinite(r))) throw new RangeError(`guard band factor must be 0 or more, got ${r}`);
  if (u !== undefined && !(u >= 0 && Number.isFinite(u))) {
    throw new RangeError(`expanded uncertainty must be 0 or more, got ${u}`);
  }
  const limits = { lowerPm, upperPm };
  if (rule === "simple") return { guardBandPm: 0, acceptance: limits, rejection: limits };
  const guardBandPm = u === undefined ? undefined : Math.round(r * u);
  const drawnIn = guardBandPm === undefined ? undefined : moved(limits, -guardBandPm);
  const widened = guardBandPm === undefined ? undefined : moved(limits, guardBandPm);
  if (rule === "guarded_acceptance") return { guardBandPm, acceptance: drawnIn, rejection: limits };
  if (rule === "guarded_rejection") return { guardBandPm, acceptance: limits, rejection: widened };
  return { guardBandPm, acceptance: drawnIn, rejection: widened };
}

function moved({ lowerPm, upperPm }: Interval, outwardPm: number): Interval {
  return {
    lowerPm: lowerPm === undefined ? undefined : lowerPm - outwardPm,
    upperPm: upperPm === undefined ? undefined : upperPm + outwardPm,
  };
}

/** True on an interval's ends and between them. */
export function isWithin(sizePm: number, { lowerPm, upperPm }: Interval): boolean {
  return sizePm >= (lowerPm ?? sizePm) && sizePm <= (upperPm ?? sizePm);
}

/**
 * Verdict on one measured size by the limits of its rule. Exactly on an acceptance limit it is conforming, exactly on a
 * rejection limit not yet nonconforming: a value on a limit conforms (JCGM 106). The editions of ISO 14253-1 differ on
 * such readings (1998: on the drawn-in limit nothing is proved); here one sentence goes for every rule.
 * @param sizePm whole picometres
 * @see JCGM 106:2012, 8.2 and 8.3; ISO 14253-1:2017, clause 5 (all from memory)
 */
function verdictWithin(sizePm: number, { acceptance, rejection }: DecisionLimits): Verdict {
  if (acceptance && isWithin(sizePm, acceptance)) return "conforming";
  if (rejection && !isWithin(sizePm, rejection)) return "nonconforming";
  return "uncertain";
}

/** Verdict on one measured size by a decision rule: see `decisionLimits` and `verdictWithin`. */
export function decideConformity(sizePm: number, requirement: Requirement): Verdict {
  return verdictWithin(sizePm, decisionLimits(requirement));
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
