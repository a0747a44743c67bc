/** What reading a known standard says of a gauge; lengths in whole picometres. */
export interface GaugeCheckOutcome {
  /** Reading less standard. */
  errorPm: number;
  /** Errors up to this are what its uncertainty or its display leave open. */
  allowedPm: number;
  state: "fit" | "off";
}

/**
 * How far a gauge may read off a standard: the expanded uncertainties of both in quadrature, so that an error on it has
 * |E_n| = |x − X| / √(U² + U_std²) = 1; no finer than one step of its display, and where its uncertainty is not known that
 * step alone (common practice, no source).
 * @param expandedPm U of the gauge; undefined: not known
 * @param standardExpandedPm U of the standard; 0: taken as exact
 * @throws {RangeError} if the step is not above 0, or an uncertainty is below 0
 * @see ISO 13528:2015, 9.7 (E_n score, satisfactory up to 1; from memory)
 */
export function allowedError(
  resolutionPm: number,
  expandedPm: number | undefined,
  standardExpandedPm: number,
): number {
  if (!(resolutionPm > 0)) throw new RangeError(`a step of ${resolutionPm} pm is none`);
  const own = expandedPm ?? 0;
  if (!(own >= 0 && standardExpandedPm >= 0)) throw new RangeError("an uncertainty is not below 0");
  const together = standardExpandedPm === 0 ? own : Math.round(Math.hypot(own, standardExpandedPm));
  return Math.max(resolutionPm, together);
}

/** Judges a gauge by one reading of a standard; an error exactly as large as allowed is fit. */
export function judgeGaugeCheck(readingPm: number, standardPm: number, allowedPm: number): GaugeCheckOutcome {
  const errorPm = readingPm - standardPm;
  return { errorPm, allowedPm, state: isOff(errorPm, 0, allowedPm) ? "off" : "fit" };
}

/** True where an error is not explained: what was taken off a reading leaves more of it than allowed. */
function isOff(errorPm: number, takenOffPm: number, allowedPm: number): boolean {
  return Math.abs(errorPm - takenOffPm) > allowedPm;
}

/** A check as far as readings go by it. */
export interface CheckInForce {
  errorPm: number;
  allowedPm: number;
  /** False: the error is known in amount only, either way. */
  directionKnown: boolean;
  /** The error is taken off what the gauge reads from the check on. */
  shift: boolean;
  /** Of the error found, mm². */
  variance: number;
}

export interface GaugeState {
  /** Taken off what the gauge reads; 0: nothing. */
  takenOffPm: number;
  /** What taking it off leaves unsure, mm². */
  variance: number;
  /** The largest error that is left by the check before or the one after; undefined: both stand for the reading. */
  doubtPm: number | undefined;
}

/**
 * What a gauge's checks say of a reading between them: the one before may have its error taken off, and either may show
 * that the gauge was off when it was taken.
 */
export function gaugeStateBetween(
  before: CheckInForce | undefined,
  after: CheckInForce | undefined,
): GaugeState {
  const takenOffPm = before?.shift ? before.errorPm : 0;
  const left = [before, after].flatMap((check) =>
    check && isOff(check.errorPm, takenOffPm, check.allowedPm) ? [Math.abs(check.errorPm - takenOffPm)] : [],
  );
  return {
    takenOffPm,
    variance: before?.shift ? before.variance : 0,
    doubtPm: left.length > 0 ? Math.max(...left) : undefined,
  };
}

/** A limit of a feature may be missing. */
interface Limits {
  lowerPm: number | undefined;
  upperPm: number | undefined;
}

export interface JudgedAgain {
  /** Between these the size lies, by the error found. */
  fromPm: number;
  toPm: number;
  /** `stands`: inside or outside as before. `turns`: inside is outside now, or the other way round. `open`: either may be. */
  outcome: "stands" | "turns" | "open";
}

/**
 * Judges a size again after its gauge was found off: with the error taken off where its direction is known, else with both
 * ends it may have. Sizes on a limit conform.
 * @see ISO 9001:2015, 7.1.5.2: earlier results are judged again when a gauge is found unfit
 */
export function judgeAgain(
  sizePm: number,
  limits: Limits,
  errorPm: number,
  directionKnown: boolean,
): JudgedAgain {
  const [fromPm, toPm] = directionKnown
    ? [sizePm - errorPm, sizePm - errorPm]
    : [sizePm - Math.abs(errorPm), sizePm + Math.abs(errorPm)];
  const was = isInside(sizePm, limits);
  const ends = [isInside(fromPm, limits), isInside(toPm, limits)];
  const straddles = !ends[0] && !ends[1] && !isSameSide(fromPm, toPm, limits);
  if (ends[0] !== ends[1] || straddles) return { fromPm, toPm, outcome: "open" };
  return { fromPm, toPm, outcome: ends[0] === was ? "stands" : "turns" };
}

/**
 * Readings by the gauge that are safe although it may be off by an amount either way: inside the limits by that much.
 * @returns undefined where there is no such reading
 */
export function safeBand(limits: Limits, amountPm: number): Limits | undefined {
  const { lowerPm, upperPm } = limits;
  const low = lowerPm === undefined ? undefined : lowerPm + amountPm;
  const high = upperPm === undefined ? undefined : upperPm - amountPm;
  return low !== undefined && high !== undefined && low > high ? undefined : { lowerPm: low, upperPm: high };
}

function isInside(pm: number, { lowerPm, upperPm }: Limits): boolean {
  return pm >= (lowerPm ?? pm) && pm <= (upperPm ?? pm);
}

function isSameSide(a: number, b: number, { lowerPm, upperPm }: Limits): boolean {
  const below = (pm: number) => lowerPm !== undefined && pm < lowerPm;
  const above = (pm: number) => upperPm !== undefined && pm > upperPm;
  return (below(a) && below(b)) || (above(a) && above(b));
}
