import { type Block, shareOf } from "./block.js";
import { lifeOf } from "./estimate.js";
import { offsetsOf, type Progress } from "./follow-block.js";
import { type FeatureForecast, forecastFeature, fromTarget } from "./forecast.js";

export interface ChangeLimits {
  largestChangePm: number;
  /** For moves that take more metal off; undefined: the same as any other. */
  largestTowardsWorkPm: number | undefined;
}

export type ClampReason = "largest_change" | "largest_towards_work" | "largest_total";

/** What to do about one register. Deviations and moves in mm, register values and changes in whole picometres. */
export interface RegisterAdvice {
  register: number;
  decision:
    | "change"
    | "leave_alone"
    /** No piece cut since its last change has been measured. */
    | "no_reading_since_change"
    /** One of its features has not been measured since it may have moved by more than its tolerance. */
    | "feature_unknown"
    /** The move rests on a single reading and is large: measure again first. */
    | "confirm_large_move"
    /** No register value brings every feature inside its limits. */
    | "features_disagree"
    /** The register is at its largest total, or the edge has worn so that its features can't all be kept. */
    | "largest_total_reached"
    | "edge_worn";
  valueNowPm: number;
  changePm: number;
  /** The move before rounding and limits, lead included. */
  wantedMm: number;
  leadMm: number;
  clamped: ClampReason | undefined;
  worstShareBefore: number;
  worstShareAfter: number;
  /** Worst feature's probability of being out on the next piece, with the registers as they will stand. */
  probabilityOut: number;
}

export interface BlockAdvice {
  registers: RegisterAdvice[];
  /** Per feature: the next piece as things stand, and with the changes proposed. */
  before: FeatureForecast[];
  after: FeatureForecast[];
  piece: number;
}

const deadBand = 0.25;
const longestLead = 20;
const largeMove = 3;

/**
 * The changes to make before piece `piece`: for every register the move that makes its worst feature best, as a whole
 * over registers that share features, leaving out what gains less than a quarter of the tolerance.
 * @param progress what is known; events and changes before `piece` taken in
 */
export function proposeChanges(
  block: Block,
  progress: Progress,
  piece: number,
  limits: ChangeLimits,
): BlockAdvice {
  const { estimate } = progress;
  const ahead = piece - estimate.piece;
  const offsets = offsetsOf(progress);
  const forecast = (moved: readonly number[]) =>
    block.features.map((_, f) =>
      forecastFeature(
        block,
        estimate,
        f,
        ahead,
        offsets.map((u, r) => u + moved[r]!),
      ),
    );
  const still = block.registers.map(() => 0);
  const before = forecast(still);
  const deviations = before.map((feature, f) => fromTarget(block, f, feature.expectedDeviation));
  // A register that falls short of its move is settled, and the others are asked again with it as it will stand.
  const short = new Map<number, RegisterAdvice>();
  let moves: number[];
  let decided: RegisterAdvice[];
  do {
    const settled = progress.registers.map((register, r) =>
      hasReading(register) && !movesUnknown(r)
        ? short.has(r)
          ? short.get(r)!.changePm / 1e9
          : undefined
        : 0,
    );
    moves = jointMoves(block, progress, deviations, ahead, settled);
    decided = block.registers.map((_, r) => short.get(r) ?? decide(r));
  } while (noteShort());
  if (decided.some((advice) => advice.decision === "confirm_large_move"))
    decided = decided.map(waitForConfirmation);
  const moved = (list: readonly RegisterAdvice[]) => forecast(list.map((advice) => advice.changePm / 1e9));
  const planned = moved(decided);
  const registers = decided.map((advice) => judgeEdge(block, progress, advice, planned, ahead));
  return { registers, before, after: moved(registers), piece };

  /** True where of one of the register's features nobody knows within its tolerance where it runs. */
  function movesUnknown(r: number): boolean {
    return block.features.some(
      ({ effects, roomMm }, f) => effects[r] !== 0 && before[f]!.meanDeviation > roomMm,
    );
  }

  /** Settles the register that falls short by most of those that were not known to; true where there is one. */
  function noteShort(): boolean {
    const missing = ({ register, wantedMm, changePm }: RegisterAdvice) =>
      Math.abs(wantedMm - changePm / 1e9) / block.registers[register]!.halfMoveMm;
    const found = decided
      .filter((advice) => !short.has(advice.register) && fallsShort(advice))
      .sort((x, y) => missing(y) - missing(x))[0];
    if (found) short.set(found.register, found);
    return found !== undefined;
  }

  function decide(r: number): RegisterAdvice {
    const register = block.registers[r]!;
    const known = progress.registers[r]!;
    const move = moves[r]!;
    const leadMm = move === 0 ? 0 : leadOf(block, progress, r);
    const wantedMm = move - leadMm;
    const advice: RegisterAdvice = {
      register: r,
      decision: "leave_alone",
      valueNowPm: known.valuePm,
      changePm: 0,
      wantedMm,
      leadMm,
      clamped: undefined,
      worstShareBefore: worstShare(block, r, deviations, still),
      worstShareAfter: worstShare(block, r, deviations, moves),
      probabilityOut: 0,
    };
    if (!hasReading(known)) return { ...advice, decision: "no_reading_since_change" };
    if (movesUnknown(r)) return { ...advice, decision: "feature_unknown" };
    if (advice.worstShareAfter > 1) return { ...advice, decision: "features_disagree" };
    if (move === 0) return advice;
    const ascribed = estimate.mean[r]! + ahead * estimate.mean[block.registers.length + r]!;
    // An allowance that was keyed on purpose, or a register that always stood far from 0, is no surprise.
    const large = Math.min(Math.abs(ascribed), Math.abs(move)) > largeMove * register.halfMoveMm;
    if (known.usedSinceEdge < 2 && large) {
      return { ...advice, decision: "confirm_large_move" };
    }
    const { changePm, clamped } = limitChange(block, r, wantedMm * 1e9, known, limits);
    if (changePm === 0) {
      return {
        ...advice,
        clamped,
        decision: clamped === "largest_total" ? "largest_total_reached" : "leave_alone",
      };
    }
    return { ...advice, decision: "change", changePm, clamped };
  }
}

function fallsShort({ decision, clamped }: RegisterAdvice): boolean {
  return decision === "features_disagree" || decision === "largest_total_reached" || clamped !== undefined;
}

/** While a reading has to be confirmed, nothing that rests on the same readings is changed. */
function waitForConfirmation(advice: RegisterAdvice): RegisterAdvice {
  if (advice.decision !== "change") return advice;
  return { ...advice, decision: "confirm_large_move", changePm: 0, clamped: undefined };
}

/** True where a piece cut with the present value, on the present edge, has been measured. */
function hasReading({ usedSinceChange, openChangeMm }: Progress["registers"][number]): boolean {
  return usedSinceChange > 0 && openChangeMm === null;
}

/**
 * Moves of all registers together, without lead: start from what the state ascribes to each, three sweeps of the
 * one-register minimax, then registers are dropped whose features lose less than 0.25 of their room by it, until all that
 * are left are needed.
 * @param settled per register: its move, where that is not to be found any more
 */
function jointMoves(
  block: Block,
  progress: Progress,
  deviations: readonly number[],
  ahead: number,
  settled: readonly (number | undefined)[],
): number[] {
  const { estimate } = progress;
  const offsets = offsetsOf(progress);
  const count = block.registers.length;
  const moves = settled.map(
    (move, r) => move ?? -(offsets[r]! + estimate.mean[r]! + estimate.mean[count + r]! * ahead),
  );
  const size = (r: number) => Math.abs(moves[r]!) / block.registers[r]!.halfMoveMm;
  const movable = block.registers.map((_, r) => r).filter((r) => settled[r] === undefined);
  const order = [...movable].sort((a, b) => size(b) - size(a));
  for (let sweep = 0; sweep < 3; sweep++)
    for (const r of order) moves[r] = bestMove(block, r, deviations, moves);

  const kept = new Set(movable);
  const rising = [...movable].sort((a, b) => size(a) - size(b) || b - a);
  for (let before = kept.size + 1; kept.size < before; ) {
    before = kept.size;
    for (const r of rising) if (kept.has(r)) dropIfNotNeeded(r);
  }
  return moves;

  function dropIfNotNeeded(r: number): void {
    const without = moves.slice();
    without[r] = 0;
    for (let sweep = 0; sweep < 4; sweep++) {
      for (const other of kept) {
        if (other !== r && shareFeature(block, r, other))
          without[other] = bestMove(block, other, deviations, without);
      }
    }
    const gain = worstShare(block, r, deviations, without) - worstShare(block, r, deviations, moves);
    if (gain >= deadBand) return;
    kept.delete(r);
    for (let i = 0; i < count; i++) moves[i] = without[i]!;
  }
}

function shareFeature(block: Block, a: number, b: number): boolean {
  return block.features.some(({ effects }) => effects[a] !== 0 && effects[b] !== 0);
}

/** Largest share of the room used by a feature of register `r`, 1 being on the limit. */
function worstShare(
  block: Block,
  r: number,
  deviations: readonly number[],
  moves: readonly number[],
): number {
  let worst = 0;
  block.features.forEach((feature, f) => {
    if (feature.effects[r] === 0) return;
    worst = Math.max(
      worst,
      Math.abs(shareOf(movedDeviation(feature.effects, deviations[f]!, moves), feature)),
    );
  });
  return worst;
}

function movedDeviation(effects: readonly number[], deviation: number, moves: readonly number[]): number {
  return effects.reduce((sum, effect, r) => sum + effect * moves[r]!, deviation);
}

/**
 * The move of register `r` that makes its worst feature best, the other moves given. Each feature gives two straight
 * lines in the move; the lowest point of their upper envelope is the highest crossing of a rising with a falling line.
 */
export function bestMove(
  block: Block,
  r: number,
  deviations: readonly number[],
  moves: readonly number[],
): number {
  const rising: [number, number][] = [];
  const falling: [number, number][] = [];
  block.features.forEach((feature, f) => {
    const effect = feature.effects[r]!;
    if (effect === 0) return;
    const deviation = movedDeviation(feature.effects, deviations[f]!, moves) - effect * moves[r]!;
    const above: [number, number] = [deviation / feature.roomAboveMm, effect / feature.roomAboveMm];
    const below: [number, number] = [-deviation / feature.roomBelowMm, -effect / feature.roomBelowMm];
    (effect > 0 ? rising : falling).push(above);
    (effect > 0 ? falling : rising).push(below);
  });
  let highest = Number.NEGATIVE_INFINITY;
  let move = 0;
  for (const [a, slopeA] of rising) {
    for (const [b, slopeB] of falling) {
      const crossing = (b - a) / (slopeA - slopeB);
      const height = a + slopeA * crossing;
      if (height > highest) [highest, move] = [height, crossing];
    }
  }
  return move;
}

/** Aim that leaves the drift centred until the next correction: v_e·L/2, L = min(20, 2·0.25·h/|v_e|). */
function leadOf(block: Block, progress: Progress, r: number): number {
  const { mean, covariance } = progress.estimate;
  const at = block.registers.length + r;
  return driftLead(mean[at]!, covariance[at * (mean.length + 1)]!, block.registers[r]!.halfMoveMm);
}

/** The same from drift per piece, its variance and h; see `leadOf`. */
export function driftLead(rate: number, rateVariance: number, halfMoveMm: number): number {
  if (rate === 0) return 0;
  const sure = rate * Math.max(0, 1 - rateVariance / rate ** 2);
  if (sure === 0) return 0;
  return (sure * Math.min(longestLead, (2 * deadBand * halfMoveMm) / Math.abs(sure))) / 2;
}

function limitChange(
  block: Block,
  r: number,
  wantedPm: number,
  known: { valuePm: number; zeroPm: number },
  limits: ChangeLimits,
): { changePm: number; clamped: ClampReason | undefined } {
  const { leastIncrementPm, largestTotalPm } = block.registers[r]!;
  let clamped: ClampReason | undefined;
  let changePm = roundChange(wantedPm, leastIncrementPm);
  const clampTo = (mostPm: number, reason: ClampReason) => {
    const most = Math.floor(mostPm / leastIncrementPm) * leastIncrementPm;
    if (Math.abs(changePm) <= most) return;
    changePm = Math.sign(changePm) * most;
    clamped = reason;
  };
  clampTo(limits.largestChangePm, "largest_change");
  const { largestTowardsWorkPm } = limits;
  if (largestTowardsWorkPm !== undefined && movesTowardsWork(block, r, changePm)) {
    clampTo(largestTowardsWorkPm, "largest_towards_work");
  }
  if (largestTotalPm !== undefined) {
    const total = known.valuePm - known.zeroPm;
    const room = changePm > 0 ? largestTotalPm - total : largestTotalPm + total;
    if (changePm !== 0) clampTo(Math.max(0, room), "largest_total");
  }
  return { changePm: changePm + 0, clamped };
}

/** True where the move takes more metal off a feature than before. */
export function movesTowardsWork(block: Block, r: number, changePm: number): boolean {
  return block.features.some(({ effects, metal }) => effects[r]! * changePm * metal < 0);
}

/** To the control's least increment, halves toward zero. */
export function roundChange(wantedPm: number, leastIncrementPm: number): number {
  const steps = Math.ceil(Math.abs(wantedPm) / leastIncrementPm - 0.5 - 1e-9);
  return Math.sign(wantedPm) * steps * leastIncrementPm + 0;
}

/** A dull edge: its features can't all be kept in, though every register stands as well as it can. */
function judgeEdge(
  block: Block,
  progress: Progress,
  advice: RegisterAdvice,
  after: readonly FeatureForecast[],
  ahead: number,
): RegisterAdvice {
  const r = advice.register;
  const { tool } = block.registers[r]!;
  let worst = -1;
  block.features.forEach((feature, f) => {
    if (feature.effects[r] !== 0 && (worst < 0 || after[f]!.probabilityOut > after[worst]!.probabilityOut))
      worst = f;
  });
  if (worst < 0) return advice;
  const judged = { ...advice, probabilityOut: after[worst]!.probabilityOut };
  const age = progress.estimate.piece + ahead - progress.estimate.edgeFrom[tool]!;
  const worn =
    (advice.decision === "leave_alone" || advice.decision === "change") &&
    judged.probabilityOut > 0.02 &&
    age > lifeOf(block, tool) / 2 &&
    after[worst]!.meanDeviation < 0.15 * block.features[worst]!.roomMm &&
    progress.goodInARow >= 2;
  return worn ? { ...judged, decision: "edge_worn", changePm: 0 } : judged;
}
