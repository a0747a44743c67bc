/**
 * Continuous plan CSP-1: inspect every piece until i in a row are good, then the fraction f of the pieces; the first bad
 * one found brings back inspection of every piece.
 */
export interface ContinuousPlan {
  /** Clearance number. */
  i: number;
  /** Fraction inspected while sampling, above 0 and below 1. */
  f: number;
}

/** What becomes of bad pieces found: replaced by good ones, or only taken out. */
export type BadPieces = "replaced" | "removed";

export interface ContinuousBehaviour {
  /** u: pieces inspected on average in a run of full inspection. */
  fullInspection: number;
  /** v: pieces passed on average in a run of sampling. */
  sampling: number;
  /** F: average fraction inspected. */
  averageFractionInspected: number;
  /** Share of the pieces passed while sampling. */
  acceptedBySampling: number;
  /** Average outgoing quality: share of bad pieces that get through. */
  outgoing: Record<BadPieces, number>;
}

/**
 * How a plan behaves in the long run where each piece is bad with probability p, q = 1 − p:
 *   u = (1 − q^i)/(p q^i), v = 1/(f p), F = f/(f + (1 − f) q^i), Pa = v/(u + v)
 *   AOQ = p(1 − F) with replacement, p(1 − F)/(1 − pF) where bad pieces are only taken out
 * @throws {RangeError} if p is not above 0 and below 1, or the plan is none
 * @see Dodge, A sampling inspection plan for continuous production, Annals of Mathematical Statistics 14 (1943) 264–279;
 *      MIL-STD-1235B (from memory)
 */
export function continuousBehaviour(plan: ContinuousPlan, p: number): ContinuousBehaviour {
  mustBePlan(plan);
  if (!(p > 0 && p < 1)) throw new RangeError(`p must be above 0 and below 1, got ${p}`);
  const { i, f } = plan;
  const passes = Math.exp(i * Math.log1p(-p)); // q^i
  const fullInspection = -Math.expm1(i * Math.log1p(-p)) / (p * passes);
  const sampling = 1 / (f * p);
  const denominator = f + (1 - f) * passes;
  const averageFractionInspected = f / denominator;
  const replaced = (p * (1 - f) * passes) / denominator;
  return {
    fullInspection,
    sampling,
    averageFractionInspected,
    acceptedBySampling: Number.isFinite(fullInspection) ? sampling / (fullInspection + sampling) : 0,
    outgoing: { replaced, removed: replaced / (1 - p * averageFractionInspected) },
  };
}

/**
 * Average outgoing quality limit: the largest AOQ over all p, and where it lies. At the maximum
 * f + (1 − f)q^i = i p f/q, so that AOQL = p − q/i; with bad pieces only taken out the plan behaves like one of i − 1 with
 * replacement.
 * @throws {RangeError} if the plan is none, or i is 1 and bad pieces are only taken out (the AOQ then grows up to p = 1)
 * @see Dodge (1943), from memory
 */
export function outgoingLimit(plan: ContinuousPlan, bad: BadPieces): { aoql: number; atP: number } {
  mustBePlan(plan);
  const { f } = plan;
  const i = bad === "replaced" ? plan.i : plan.i - 1;
  if (i < 1) throw new RangeError("with i = 1 and bad pieces only taken out there is no limit below 1");
  const rises = (p: number) => (f + (1 - f) * Math.exp(i * Math.log1p(-p))) * (1 - p) > i * p * f;
  let [low, high] = [0, 1];
  for (let middle = 0.5; middle > low && middle < high; middle = (low + high) / 2) {
    if (rises(middle)) low = middle;
    else high = middle;
  }
  return { aoql: low - (1 - low) / i, atP: low };
}

/** Smallest clearance number whose AOQL is not above the one wanted. @throws {RangeError} if it is not above 0 and below 1 */
export function clearanceNumber(aoql: number, f: number, bad: BadPieces): number {
  if (!(aoql > 0 && aoql < 1)) throw new RangeError(`AOQL must be above 0 and below 1, got ${aoql}`);
  const least = bad === "replaced" ? 1 : 2;
  const keeps = (i: number) => outgoingLimit({ i, f }, bad).aoql <= aoql;
  let high = least;
  while (!keeps(high)) high *= 2;
  let low = Math.max(least, high / 2);
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (keeps(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** Largest k so that inspecting 1 in k keeps the AOQL; undefined: not even 1 in 2 does. */
export function samplingDenominator(aoql: number, i: number, bad: BadPieces): number | undefined {
  if (!(aoql > 0 && aoql < 1)) throw new RangeError(`AOQL must be above 0 and below 1, got ${aoql}`);
  const keeps = (k: number) => outgoingLimit({ i, f: 1 / k }, bad).aoql <= aoql;
  if (!keeps(2)) return undefined;
  let low = 2;
  while (low < largestDenominator && keeps(low * 2)) low *= 2;
  let high = low * 2;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (keeps(middle)) low = middle;
    else high = middle;
  }
  return low;
}

const largestDenominator = 1e6;

function mustBePlan({ i, f }: ContinuousPlan): void {
  if (!(Number.isSafeInteger(i) && i >= 1))
    throw new RangeError(`i must be a whole number from 1 on, got ${i}`);
  if (!(f > 0 && f < 1)) throw new RangeError(`f must be above 0 and below 1, got ${f}`);
}
