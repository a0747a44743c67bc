import { type Block, shareOf } from "./block.js";
import { offsetsOf, type Progress } from "./progress.js";

/** Expected deviation from target of one feature in one seat, mm; without seats one cell for each feature. */
export interface Cell {
  feature: number;
  seat: number | undefined;
  deviation: number;
}

/** What a register has to gain, as a share of the room, to be moved. */
export const deadBand = 0.25;

/**
 * Moves of all registers together, without lead: start from what the state ascribes to each, three sweeps of the
 * one-register minimax, then registers are dropped whose features lose less than 0.25 of their room by it, until all that
 * are left are needed.
 * @param settled per register: its move, where that is not to be found any more
 */
export function jointMoves(
  block: Block,
  progress: Progress,
  cells: readonly Cell[],
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
  for (let sweep = 0; sweep < 3; sweep++) for (const r of order) moves[r] = bestMove(block, r, cells, moves);

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
          without[other] = bestMove(block, other, cells, without);
      }
    }
    const gain = worstShare(block, r, cells, without) - worstShare(block, r, cells, moves);
    if (gain >= deadBand) return;
    kept.delete(r);
    for (let i = 0; i < count; i++) moves[i] = without[i]!;
  }
}

function shareFeature(block: Block, a: number, b: number): boolean {
  return block.features.some(({ effects }) => effects[a] !== 0 && effects[b] !== 0);
}

/** Largest share of the room used by a feature of register `r` in any seat, 1 being on the limit. */
export function worstShare(
  block: Block,
  r: number,
  cells: readonly Cell[],
  moves: readonly number[],
): number {
  let worst = 0;
  for (const cell of cells) {
    const feature = block.features[cell.feature]!;
    if (feature.effects[r] === 0) continue;
    const share = Math.abs(shareOf(movedDeviation(feature.effects, cell.deviation, moves), feature));
    worst = Math.max(worst, share);
  }
  return worst;
}

export function movedDeviation(
  effects: readonly number[],
  deviation: number,
  moves: readonly number[],
): number {
  return effects.reduce((sum, effect, r) => sum + effect * moves[r]!, deviation);
}

/** The move of register `r` that makes its worst feature and seat best, the other moves given. */
export function bestMove(block: Block, r: number, cells: readonly Cell[], moves: readonly number[]): number {
  return leastWorstMove(
    cells.flatMap((cell) => {
      const feature = block.features[cell.feature]!;
      const effect = feature.effects[r]!;
      if (effect === 0) return [];
      const deviation = movedDeviation(feature.effects, cell.deviation, moves) - effect * moves[r]!;
      return { ...roomsOf(feature), deviation, effect };
    }),
  );
}

export function roomsOf({ roomAboveMm, roomBelowMm }: { roomAboveMm: number; roomBelowMm: number }) {
  return { roomAboveMm, roomBelowMm };
}

/**
 * The move whose worst share of the room is least. Each deviation gives two straight lines in the move; the lowest point
 * of their upper envelope is the highest crossing of a rising with a falling line. 0 where nothing is moved.
 */
export function leastWorstMove(
  moved: readonly { deviation: number; effect: number; roomAboveMm: number; roomBelowMm: number }[],
): number {
  const rising: [number, number][] = [];
  const falling: [number, number][] = [];
  for (const { deviation, effect, roomAboveMm, roomBelowMm } of moved) {
    const above: [number, number] = [deviation / roomAboveMm, effect / roomAboveMm];
    const below: [number, number] = [-deviation / roomBelowMm, -effect / roomBelowMm];
    (effect > 0 ? rising : falling).push(above);
    (effect > 0 ? falling : rising).push(below);
  }
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
