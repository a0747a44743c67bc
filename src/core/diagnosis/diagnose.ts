import { chiSquare99 } from "../statistics/chi-square.js";
import { type Candidate, type Circumstances, listCandidates } from "./causes.js";
import { fitPattern, type PatternFit } from "./fit-pattern.js";
import { type Observation, type Product, productOf, type Subject } from "./observation.js";

export interface FittedCause {
  candidate: Candidate;
  fit: PatternFit;
  degrees: number;
  /** What is left over is no more than scatter: χ² of the rest is at most 1.6 times its 99 % point. */
  explains: boolean;
  /** Share of belief among all causes looked at and none, each held equally likely before. */
  weight: number;
  /** What the cause does to each observation by this fit, mm. */
  explained: number[];
}

export interface Diagnosis {
  /** χ² of the deviations if nothing is wrong. */
  chi2: number;
  /** Deviations that scatter alone would hardly give. */
  stands: boolean;
  /** The best way of each cause: those that are alike first, then the others, each most believable first. */
  causes: FittedCause[];
  /** So many of them, from the first, that the readings do not tell apart; 0: none stands out from scatter. */
  alike: number;
  /** Where no single cause explains the deviations: the best two together, if they do clearly better. */
  pair: [FittedCause, FittedCause] | undefined;
}

/** As for odd pieces: the scatter is itself an estimate. */
const looseness = 1.6;
/**
 * 2 ln of a Bayes factor from which evidence counts as strong: one name only where the next cause is weaker by this.
 * @see Kass and Raftery, Journal of the American Statistical Association 90 (1995) 773–795, section 3.2 (from memory)
 */
const strongEvidence = 6;
/** A cause is taken to be able to move the tightest feature by twice its room, as an edge or a jump is. */
const largestShare = 2;

/**
 * Which cause explains the deviations best. Each cause is a pattern over all observations, fitted with the uncertainty of
 * every reading and the scatter of every feature, and weighed by what it explains less what it could have explained: see
 * `fitPattern`. The order of the observations does not count, and a change of sign or scale of everything changes nothing.
 * @throws {RangeError} if a deviation is not finite or a variance not above 0
 */
export function diagnose(
  subject: Subject,
  observations: readonly Observation[],
  circumstances: Circumstances,
): Diagnosis {
  if (!observations.every(({ deviationMm }) => Number.isFinite(deviationMm)))
    throw new RangeError("deviations must be finite");
  const product = productOf(subject, observations);
  const y = observations.map(({ deviationMm }) => deviationMm);
  const chi2 = product(y, y);
  const none: Diagnosis = { chi2, stands: false, causes: [], alike: 0, pair: undefined };
  if (observations.length === 0) return none;
  const judge = judgeOf(subject, observations, product, y);
  const fitted = listCandidates(subject, observations, circumstances).flatMap(
    (candidate) => judge([candidate]) ?? [],
  );
  const best = new Map<string, FittedCause>();
  for (const cause of fitted) {
    const key = nameOf(cause.candidate);
    const known = best.get(key);
    if (!known || cause.fit.evidence > known.fit.evidence) best.set(key, cause);
  }
  const causes = [...best.values()].sort(
    (a, b) => b.fit.evidence - a.fit.evidence || nameOf(a.candidate).localeCompare(nameOf(b.candidate)),
  );
  const top = causes[0];
  if (!top) return { ...none, stands: chi2 > looseness * chiSquare99(observations.length) };
  weigh(causes);
  const stands = top.fit.evidence >= strongEvidence;
  const isRival = (cause: FittedCause) =>
    cause.fit.evidence > top.fit.evidence - strongEvidence && !repeats(cause, top);
  const rivals = stands ? causes.slice(1).filter(isRival) : [];
  const others = causes.slice(1).filter((cause) => !rivals.includes(cause));
  return {
    chi2,
    stands,
    causes: [top, ...rivals, ...others],
    alike: stands ? 1 + rivals.length : 0,
    pair: stands && !top.explains ? findPair() : undefined,
  };

  /** It says what the best cause says and something besides that nobody needs. */
  function repeats(cause: FittedCause, best: FittedCause): boolean {
    if (cause.fit.columns <= best.fit.columns) return false;
    const columns = cause.candidate.columns.map(({ pattern }) => observations.map(pattern));
    const priors = columns.map((column) => priorOf(subject, observations, column));
    const copy = fitPattern(product, best.explained, columns, priors);
    return copy !== undefined && copy.rest <= 1e-9 * product(best.explained, best.explained);
  }

  /** The best cause and another on top of it. */
  function findPair(): Diagnosis["pair"] {
    const pairs = causes.slice(1).flatMap(({ candidate }) => {
      const both = judge([top!.candidate, candidate]);
      return both ? [{ candidate, both }] : [];
    });
    pairs.sort((a, b) => b.both.fit.evidence - a.both.fit.evidence);
    const found = pairs[0];
    if (!found || found.both.fit.evidence < top!.fit.evidence + strongEvidence) return undefined;
    return [
      split(top!.candidate, found.both, 0),
      split(found.candidate, found.both, top!.candidate.columns.length),
    ];
  }

  /** One of two causes with its part of what they explain together. */
  function split(candidate: Candidate, both: FittedCause, from: number): FittedCause {
    const to = from + candidate.columns.length;
    const { fit } = both;
    return {
      ...both,
      candidate,
      fit: { ...fit, amounts: fit.amounts.slice(from, to), deviations: fit.deviations.slice(from, to) },
      explained: explainedBy(candidate, observations, fit.amounts.slice(from, to)),
    };
  }
}

/** What tells one cause from another: ways of showing are the same cause. */
export function nameOf({ kind, tool, registers, gauge, feature, seat }: Candidate): string {
  const which =
    kind === "tool_size" || kind === "tool_wear" || kind === "deflection" ? tool : registers?.join("+");
  return [kind, which ?? "", gauge ?? "", feature ?? "", seat ?? ""].join("/");
}

/** What a cause of these sizes does to observations, mm. */
export function explainedBy(
  { columns, fixed }: Candidate,
  observations: readonly Observation[],
  amounts: readonly number[],
): number[] {
  return observations.map((observation) =>
    columns.reduce(
      (sum, { pattern }, j) => sum + amounts[j]! * pattern(observation),
      fixed?.(observation) ?? 0,
    ),
  );
}

function judgeOf(
  subject: Subject,
  observations: readonly Observation[],
  product: Product,
  y: readonly number[],
) {
  return (candidates: readonly Candidate[]): FittedCause | undefined => {
    const parts = candidates.flatMap(({ columns }) => columns);
    const columns = parts.map(({ pattern }) => observations.map(pattern));
    const priors = columns.map((column) => priorOf(subject, observations, column));
    const shapes = candidates.flatMap(({ fixed }) => fixed ?? []);
    const fixed =
      shapes.length > 0
        ? observations.map((observation) => shapes.reduce((sum, shape) => sum + shape(observation), 0))
        : undefined;
    const fit = fitPattern(product, y, columns, priors, fixed);
    if (!fit) return undefined;
    const degrees = observations.length - fit.columns;
    const explained = observations.map((_, i) =>
      columns.reduce((sum, column, j) => sum + fit.amounts[j]! * column[i]!, fixed?.[i] ?? 0),
    );
    return {
      candidate: candidates[0]!,
      fit,
      degrees,
      explains: fit.rest <= looseness * chiSquare99(degrees) + 1e-9 * product(y, y),
      weight: 0,
      explained,
    };
  };
}

/** Size of a column that moves the feature with the least room for it by twice that room. */
function priorOf(subject: Subject, observations: readonly Observation[], column: readonly number[]): number {
  let least = Number.POSITIVE_INFINITY;
  column.forEach((value, i) => {
    if (value !== 0)
      least = Math.min(least, subject.features[observations[i]!.feature]!.roomMm / Math.abs(value));
  });
  return largestShare * least;
}

function weigh(causes: FittedCause[]): void {
  const most = Math.max(0, causes[0]!.fit.evidence);
  const share = (evidence: number) => Math.exp((evidence - most) / 2);
  const total = causes.reduce((sum, { fit }) => sum + share(fit.evidence), share(0));
  for (const cause of causes) cause.weight = share(cause.fit.evidence) / total;
}
