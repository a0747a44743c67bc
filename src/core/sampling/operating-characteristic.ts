import { binomialCdf, hypergeometricCdf, poissonCdf } from "../statistics/discrete.js";

/** Sample size and acceptance number. */
export interface AttributePlan {
  n: number;
  ac: number;
}

/**
 * What the number of nonconforming pieces in a sample follows: `binomial`: a long-running process; `hypergeometric`: one
 * lot of known size; `poisson`: nonconformities, of which a piece may have several.
 */
export type SamplingModel =
  | { model: "binomial" }
  | { model: "poisson" }
  | { model: "hypergeometric"; lotSize: number };

/**
 * Probability of acceptance at quality p: P(X ≤ Ac), X the number found in a sample of n.
 * @param p share nonconforming, or nonconformities per piece (`poisson`). Of a lot the nearest whole number of pieces
 *   counts
 * @throws {RangeError} if p is out of range, or the sample larger than the lot
 * @see MIL-STD-105E (1989), tables X (binomial for samples up to 80, Poisson); ISO 2859-1, 12.1
 */
export function acceptanceProbability({ n, ac }: AttributePlan, p: number, model: SamplingModel): number {
  switch (model.model) {
    case "binomial":
      return binomialCdf(ac, n, p);
    case "poisson":
      return poissonCdf(ac, n * p);
    case "hypergeometric":
      return hypergeometricCdf(ac, model.lotSize, Math.round(p * model.lotSize), n);
  }
}

/**
 * Quality that a plan accepts with a given probability, by halving; of a lot the smallest number of nonconforming pieces
 * that is not accepted more often, as a share of it.
 * @throws {RangeError} if the probability does not lie between 0 and 1, or the plan accepts everything
 */
export function qualityAccepted(plan: AttributePlan, probability: number, model: SamplingModel): number {
  if (!(probability > 0 && probability < 1)) {
    throw new RangeError(`probability must lie between 0 and 1, got ${probability}`);
  }
  if (plan.ac >= plan.n && model.model !== "poisson") throw new RangeError("the plan accepts everything");
  const accepted = (p: number) => acceptanceProbability(plan, p, model);
  if (model.model === "hypergeometric") {
    const { lotSize } = model;
    let [low, high] = [0, lotSize];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (accepted(middle / lotSize) <= probability) high = middle;
      else low = middle + 1;
    }
    return low / lotSize;
  }
  let high = 1;
  if (model.model === "poisson") while (accepted(high) > probability) high *= 2;
  let low = 0;
  for (let middle = high / 2; middle > low && middle < high; middle = (low + high) / 2) {
    if (accepted(middle) > probability) low = middle;
    else high = middle;
  }
  return low;
}
