import { type Block, shareOf } from "./block.js";
import { type Cell, leastWorstMove, movedDeviation, roomsOf } from "./joint-moves.js";
import { type ChangeLimits, type ClampReason, limitChange } from "./limit-change.js";
import type { Progress } from "./progress.js";

/** What to do about one work offset; sizes as for a register. */
export interface WorkOffsetAdvice {
  workOffset: number;
  /** Undefined: it acts on every piece. */
  seat: number | undefined;
  decision: "change" | "leave_alone" | "no_reading_since_change";
  valueNowPm: number;
  changePm: number;
  wantedMm: number;
  clamped: ClampReason | undefined;
  /** True: it brings the seat to the others; false: to the targets of its own features. */
  toMedian: boolean;
  worstShareBefore: number;
  worstShareAfter: number;
}

/** What a seat has to gain by its own work offset, as a share of the room: setting a seat is more trouble than a wear value. */
const seatBand = 0.4;

/**
 * Brings seats that stand apart to the others: a work offset whose seat is off the median of the measured seats (even
 * number: mean of the middle two) is moved there if its worst share falls by 0.4 or more.
 * @returns what to do about each work offset; undefined where there are none
 */
export function seatsToMedian(
  block: Block,
  progress: Progress,
  cells: readonly Cell[],
  limits: ChangeLimits,
): WorkOffsetAdvice[] | undefined {
  const decided: WorkOffsetAdvice[] = [];
  for (const [i] of (block.workOffsets ?? []).entries()) {
    // Another offset of the same seat may have moved the same feature already.
    const now = withOffsets(block, cells, decided);
    const medians = block.features.map((_, f) => medianOf(now.filter((cell) => cell.feature === f)));
    const apart = now.map((cell) => ({ ...cell, deviation: cell.deviation - medians[cell.feature]! }));
    decided.push(decide(block, progress, i, apart, limits, true));
  }
  return block.workOffsets?.length ? decided : undefined;
}

/** What a seat still gains by its own work offset once seats and registers stand as decided. */
export function seatsToTarget(
  block: Block,
  progress: Progress,
  cells: readonly Cell[],
  together: readonly WorkOffsetAdvice[],
  registers: readonly { changePm: number }[],
  limits: ChangeLimits,
): WorkOffsetAdvice[] {
  const moves = registers.map((advice) => advice.changePm / 1e9);
  let now: Cell[] = cells.map((cell) => ({
    ...cell,
    deviation: movedDeviation(block.features[cell.feature]!.effects, cell.deviation, moves),
  }));
  return together.map((advice, i) => {
    if (advice.decision === "change") return advice;
    const own = decide(block, progress, i, now, limits, false);
    now = withOffsets(block, now, [own]);
    return own.decision === "change" ? own : advice;
  });
}

/** Deviations with the work offsets moved as decided. */
export function withOffsets(
  block: Block,
  cells: readonly Cell[],
  decided: readonly WorkOffsetAdvice[] | undefined,
): Cell[] {
  return cells.map((cell) => {
    let { deviation } = cell;
    for (const { workOffset, seat, changePm } of decided ?? []) {
      if (seat === undefined || seat === cell.seat)
        deviation += (block.workOffsets![workOffset]!.effects[cell.feature]! * changePm) / 1e9;
    }
    return { ...cell, deviation };
  });
}

function medianOf(cells: readonly Cell[]): number {
  const sorted = cells.map((cell) => cell.deviation).sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}

function decide(
  block: Block,
  progress: Progress,
  i: number,
  cells: readonly Cell[],
  limits: ChangeLimits,
  toMedian: boolean,
): WorkOffsetAdvice {
  const offset = block.workOffsets![i]!;
  const known = progress.workOffsets![i]!;
  const acts = ({ seat, feature }: Cell) =>
    (offset.seat === undefined || seat === offset.seat) && offset.effects[feature] !== 0;
  const mine = toMedian && offset.seat === undefined ? [] : cells.filter(acts);
  const worst = (move: number) =>
    Math.max(
      0,
      ...mine.map(({ feature, deviation }) =>
        Math.abs(shareOf(deviation + offset.effects[feature]! * move, block.features[feature]!)),
      ),
    );
  const wantedMm = leastWorstMove(
    mine.map(({ feature, deviation }) => ({
      ...roomsOf(block.features[feature]!),
      deviation,
      effect: offset.effects[feature]!,
    })),
  );
  const advice: WorkOffsetAdvice = {
    workOffset: i,
    seat: offset.seat,
    decision: "leave_alone",
    valueNowPm: known.valuePm,
    changePm: 0,
    wantedMm,
    clamped: undefined,
    toMedian,
    worstShareBefore: worst(0),
    worstShareAfter: worst(wantedMm),
  };
  if (mine.length === 0) return advice;
  if (known.readAtPm !== known.valuePm) return { ...advice, decision: "no_reading_since_change" };
  if (advice.worstShareBefore - advice.worstShareAfter < seatBand) return advice;
  // Where metal is left no one can say for a work offset: it moves the whole part, so the smaller limit holds.
  const { changePm, clamped } = limitChange(offset, wantedMm * 1e9, known, limits, () => true);
  return changePm === 0 ? { ...advice, clamped } : { ...advice, decision: "change", changePm, clamped };
}
