import { type Block, shareOf } from "./block.js";
import { changeWindow, overlapOf } from "./change-window.js";
import { isSeatKnown, lifeOf } from "./estimate.js";
import { type FeatureForecast, forecastFeature, fromTarget } from "./forecast.js";
import { type Cell, deadBand, jointMoves, movedDeviation, worstShare } from "./joint-moves.js";
import { type ChangeLimits, type ClampReason, limitChange, movesTowardsWork } from "./limit-change.js";
import { latestReading, offsetsOf, type Progress } from "./progress.js";
import { seatsToMedian, seatsToTarget, type WorkOffsetAdvice, withOffsets } from "./seat-moves.js";

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
  /** Absent where there are none. */
  workOffsets?: WorkOffsetAdvice[];
  /** Per feature: the next piece as things stand, and with the changes proposed; in the seat where it is worst. */
  before: FeatureForecast[];
  after: FeatureForecast[];
  /** The same of every feature in every seat that is known; absent where pieces are not told apart. */
  seats?: { feature: number; seat: number | undefined; before: FeatureForecast; after: FeatureForecast }[];
  piece: number;
}

const longestLead = 20;
const largeMove = 3;
/**
 * From this share on that the best move leaves, the last piece decides whether features disagree: their own deviations are
 * learned slowly, and would say so some 15 pieces after the sizes do where they drift apart by 0.03 T a piece.
 */
const nearlyOut = 0.75;

/**
 * The changes to make before piece `piece`: for every register the move that makes its worst feature best, as a whole
 * over registers that share features, leaving out what gains less than a quarter of the tolerance. Seats that stand apart
 * are brought together by their work offsets first.
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
  const places = placesOf(block, progress);
  const forecast = (moved: readonly number[]) =>
    places.map(({ feature, seat }) =>
      forecastFeature(
        block,
        estimate,
        feature,
        ahead,
        offsets.map((u, r) => u + (moved[r] ?? 0)),
        seat,
      ),
    );
  const still = block.registers.map(() => 0);
  const expected = forecast(still);
  const found: Cell[] = places.map(({ feature, seat }, i) => {
    const deviation = fromTarget(block, feature, expected[i]!.expectedDeviation);
    return { feature, seat, deviation };
  });
  const together = seatsToMedian(block, progress, found, limits);
  const cells = withOffsets(block, found, together);
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
    moves = jointMoves(block, progress, cells, ahead, settled);
    decided = block.registers.map((_, r) => short.get(r) ?? decide(r));
  } while (noteShort());
  const confirm = decided.some((advice) => advice.decision === "confirm_large_move");
  if (confirm) decided = decided.map(waitForConfirmation);
  const workOffsets = confirm
    ? undefined
    : together && seatsToTarget(block, progress, cells, together, decided, limits);
  const seatMoves = (workOffsets ?? []).map((advice) => advice.changePm / 1e9);
  const moved = (list: readonly RegisterAdvice[]) =>
    forecast([...list.map((advice) => advice.changePm / 1e9), ...seatMoves]);
  const planned = moved(decided);
  const judged = middleSeats(block, places, planned);
  const registers = decided.map((advice) => judgeEdge(block, progress, advice, judged, ahead));
  const worst = worstPlaces(block, places, found);
  const after = moved(registers);
  const advice: BlockAdvice = {
    registers,
    before: worst.map((i) => expected[i]!),
    after: worst.map((i) => after[i]!),
    piece,
  };
  if (workOffsets) advice.workOffsets = workOffsets;
  if (block.seats)
    advice.seats = places.map((place, i) => ({ ...place, before: expected[i]!, after: after[i]! }));
  return advice;

  /** True where of one of the register's features nobody knows within its tolerance where it runs. */
  function movesUnknown(r: number): boolean {
    return places.some(({ feature }, i) => {
      const { effects, roomMm } = block.features[feature]!;
      return effects[r] !== 0 && expected[i]!.meanDeviation > roomMm;
    });
  }

  /** True where the best move leaves an expected size of the register outside its limits, by more than it is unsure. */
  function disagree(r: number): boolean {
    return cells.some(({ feature, deviation }, i) => {
      const { effects, ...room } = block.features[feature]!;
      if (effects[r] === 0) return false;
      const left = movedDeviation(effects, deviation, moves);
      const sure = Math.sign(left) * Math.max(0, Math.abs(left) - expected[i]!.meanDeviation);
      return Math.abs(shareOf(sure, room)) > 1;
    });
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
      worstShareBefore: worstShare(block, r, cells, still),
      worstShareAfter: worstShare(block, r, cells, moves),
      probabilityOut: 0,
    };
    if (!hasReading(known)) return { ...advice, decision: "no_reading_since_change" };
    if (movesUnknown(r)) return { ...advice, decision: "feature_unknown" };
    if (disagree(r)) return { ...advice, decision: "features_disagree" };
    if (!block.seats && advice.worstShareAfter > nearlyOut && readApart(block, progress, r)) {
      return {
        ...advice,
        decision: isPastHalf(block, progress, r, ahead) ? "edge_worn" : "features_disagree",
      };
    }
    if (move === 0) return advice;
    const ascribed = estimate.mean[r]! + ahead * estimate.mean[block.registers.length + r]!;
    // An allowance that was keyed on purpose, or a register that always stood far from 0, is no surprise.
    const large = Math.min(Math.abs(ascribed), Math.abs(move)) > largeMove * register.halfMoveMm;
    if (known.usedSinceEdge < 2 && large) {
      return { ...advice, decision: "confirm_large_move" };
    }
    const towardsWork = (changePm: number) => movesTowardsWork(block, r, changePm);
    const { changePm, clamped } = limitChange(register, wantedMm * 1e9, known, limits, towardsWork);
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

/** True where no value of the register would have brought all its features in on the last piece, as they were read. */
function readApart(block: Block, progress: Progress, r: number): boolean {
  const now = progress.registers[r]!.valuePm;
  const windows = block.features.flatMap((feature, f) => {
    const latest = feature.effects[r] === 0 ? undefined : latestReading(block, progress, f);
    if (latest?.piece !== progress.estimate.piece) return [];
    const sizePm = feature.effects.reduce(
      (size, effect, other) =>
        other === r ? size : size + effect * (progress.registers[other]!.valuePm - latest.valuesPm[other]!),
      latest.sizePm,
    );
    return [changeWindow(feature, feature.effects[r]!, sizePm, latest.valuesPm[r]!, now)];
  });
  return overlapOf(windows) === undefined;
}

function isPastHalf(block: Block, { estimate }: Progress, r: number, ahead: number): boolean {
  const { tool } = block.registers[r]!;
  return estimate.piece + ahead - estimate.edgeFrom[tool]! > lifeOf(block, tool) / 2;
}

/** Every feature in every seat that is known; without seats every feature. */
function placesOf(block: Block, { estimate }: Progress): Place[] {
  return block.features.flatMap((_, feature): Place[] => {
    const known = (block.seats ?? []).flatMap((__, seat) =>
      isSeatKnown(block, estimate, feature, seat) ? { feature, seat } : [],
    );
    return known.length > 0 ? known : [{ feature, seat: undefined }];
  });
}

interface Place {
  feature: number;
  seat: number | undefined;
}

/** Per feature the place that uses most of its room. */
function worstPlaces(block: Block, places: readonly Place[], cells: readonly Cell[]): number[] {
  const share = (i: number) => Math.abs(shareOf(cells[i]!.deviation, block.features[cells[i]!.feature]!));
  return block.features.map((_, f) =>
    places.reduce(
      (worst, { feature }, i) => (feature === f && (worst < 0 || share(i) > share(worst)) ? i : worst),
      -1,
    ),
  );
}

/** Per feature the forecast of the seat in the middle: an edge is not dull because seats stand apart. */
function middleSeats(
  block: Block,
  places: readonly Place[],
  forecasts: readonly FeatureForecast[],
): FeatureForecast[] {
  return block.features.map((_, f) => {
    const mine = places
      .flatMap(({ feature }, i) => (feature === f ? forecasts[i]! : []))
      .sort((a, b) => a.expectedDeviation - b.expectedDeviation);
    return mine[(mine.length - 1) >> 1]!;
  });
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
