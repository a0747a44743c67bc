import { probabilityWithin } from "../statistics/normal.js";

/** A normal distribution; mean and standard deviation in one common unit. */
export interface Normal {
  readonly mean: number;
  readonly standardDeviation: number;
}

/**
 * What is believed of the true size after a reading y with standard uncertainty u. Without a prior (a flat one) the
 * reading itself; with the normal prior N(m₀, s₀²) of the process, by Bayes' theorem:
 *   mean = (s₀²·y + u²·m₀) / (s₀² + u²),  standard deviation = s₀·u / √(s₀² + u²)
 * @param reading y and u ≥ 0; `prior`: m₀ and s₀ > 0 of the process, not having seen this reading
 * @returns in the unit of the arguments
 * @throws {RangeError} if a number is not finite, u is below 0 or s₀ is not above 0
 * @see JCGM 106:2012, clause 6 and annex A.4 (from memory)
 */
export function posterior(reading: Normal, prior: Normal | undefined): Normal {
  const { mean: y, standardDeviation: u } = reading;
  if (!Number.isFinite(y) || !Number.isFinite(u) || u < 0) {
    throw new RangeError(`needs a finite reading and an uncertainty of 0 or more, got ${y} and ${u}`);
  }
  if (!prior) return reading;
  const { mean: m, standardDeviation: s } = prior;
  requireProcess(prior);
  const sum = s * s + u * u;
  return { mean: y + ((m - y) * (u * u)) / sum, standardDeviation: (s * u) / Math.sqrt(sum) };
}

/**
 * Conformance probability: p_c = Φ((T_U − m)/s) − Φ((T_L − m)/s) for the true size N(m, s²).
 * @param lower, upper limits of size in the unit of `belief`; undefined: none on that side
 * @returns 0 to 1
 * @see JCGM 106:2012, 7.2 to 7.4 (from memory)
 */
export function conformanceProbability(
  { mean, standardDeviation }: Normal,
  lower: number | undefined,
  upper: number | undefined,
): number {
  return Math.min(1, probabilityWithin(mean, standardDeviation, lower, upper));
}

/**
 * Risk that a verdict on one piece is wrong: accepted, but out of limits, 1 − p_c, which the consumer bears; rejected, but
 * within limits, p_c, which the producer bears. A verdict that decides nothing has none.
 * @see JCGM 106:2012, 9.3.2 (from memory)
 */
export function specificRisk(
  verdict: "conforming" | "nonconforming" | "uncertain",
  conformanceProbability: number,
): { borneBy: "consumer" | "producer"; probability: number } | undefined {
  if (verdict === "conforming") return { borneBy: "consumer", probability: 1 - conformanceProbability };
  if (verdict === "nonconforming") return { borneBy: "producer", probability: conformanceProbability };
  return undefined;
}

interface Limits {
  readonly lower: number | undefined;
  readonly upper: number | undefined;
}

/**
 * Risks over all pieces of a process N(m, s²) read with standard uncertainty u, with φ the density of the process and
 * F(η) the probability that a piece of true size η is read within the acceptance limits:
 *   consumer: ∫ φ(η)·F(η) dη outside the limits of size;  producer: ∫ φ(η)·(1 − F(η)) dη inside them
 * @param limits limits of size; `acceptance`: limits of the readings that are accepted; one unit for all
 * @returns probabilities: good to 1e-10; `accepted`: share of all pieces that is accepted
 * @throws {RangeError} if m is not finite, or s or u is not above 0
 * @see JCGM 106:2012, 9.4 and 9.5 (from memory)
 */
export function globalRisks(
  process: Normal,
  uncertainty: number,
  limits: Limits,
  acceptance: Limits,
): { consumer: number; producer: number; accepted: number } {
  requireProcess(process);
  const u = uncertainty;
  if (!(u > 0 && Number.isFinite(u))) throw new RangeError(`uncertainty must be above 0, got ${u}`);
  const { mean, standardDeviation: s } = process;
  const density = (size: number) => Math.exp(-0.5 * ((size - mean) / s) ** 2) / (s * Math.sqrt(2 * Math.PI));
  const acceptedAt = (size: number) => probabilityWithin(size, u, acceptance.lower, acceptance.upper);
  const [from, to] = [mean - reach * s, mean + reach * s];
  const inReach = (size: number) => Math.min(to, Math.max(from, size));
  const lower = inReach(limits.lower ?? from);
  const upper = inReach(limits.upper ?? to);
  // F bends within a few u of the acceptance limits only: there the panels are as short as u asks for.
  const bends = [acceptance.lower, acceptance.upper].flatMap((limit) =>
    limit === undefined ? [] : [limit - reach * u, limit + reach * u],
  );
  const integrate = (f: (size: number) => number, a: number, b: number): number => {
    const ends = [a, ...bends.filter((x) => x > a && x < b), b].sort((x, y) => x - y);
    let sum = 0;
    for (let i = 1; i < ends.length; i++) {
      const [low, high] = [ends[i - 1]!, ends[i]!];
      const middle = (low + high) / 2;
      const bent = [acceptance.lower, acceptance.upper].some(
        (limit) => limit !== undefined && Math.abs(middle - limit) < reach * u,
      );
      sum += integratePanels(f, low, high, (bent ? Math.min(s, u) : s) / 2);
    }
    return sum;
  };
  const wronglyAccepted = (size: number) => density(size) * acceptedAt(size);
  return {
    consumer: integrate(wronglyAccepted, from, lower) + integrate(wronglyAccepted, upper, to),
    producer: integrate((size) => density(size) * (1 - acceptedAt(size)), lower, upper),
    accepted: probabilityWithin(mean, Math.hypot(s, u), acceptance.lower, acceptance.upper),
  };
}

/** Beyond so many standard deviations a normal distribution leaves 1e-18. */
const reach = 9;

// Gauss and Legendre's rule of five points: [place in −1 to 1, weight].
const root = 2 * Math.sqrt(10 / 7);
const points: readonly (readonly [number, number])[] = [
  [0, 128 / 225],
  ...[-1, 1].flatMap((side): [number, number][] => [
    [(side * Math.sqrt(5 - root)) / 3, (322 + 13 * Math.sqrt(70)) / 900],
    [(side * Math.sqrt(5 + root)) / 3, (322 - 13 * Math.sqrt(70)) / 900],
  ]),
];

/** Integral of f from a to b in equal panels no longer than `longest`, by the rule of five points. */
function integratePanels(f: (x: number) => number, a: number, b: number, longest: number): number {
  const count = Math.ceil((b - a) / longest);
  const half = (b - a) / count / 2;
  let sum = 0;
  for (let panel = 0; panel < count; panel++) {
    const middle = a + (2 * panel + 1) * half;
    for (const [place, weight] of points) sum += weight * f(middle + place * half);
  }
  return count === 0 ? 0 : sum * half;
}

function requireProcess({ mean, standardDeviation }: Normal): void {
  if (Number.isFinite(mean) && Number.isFinite(standardDeviation) && standardDeviation > 0) return;
  throw new RangeError(`needs a finite mean and a deviation above 0, got ${mean} and ${standardDeviation}`);
}
