import { probabilityWithin } from "../statistics/normal.js";
import type { Block } from "./block.js";
import { type Estimate, featureOf, lifeOf, sizeOf } from "./estimate.js";

/** Expected size of one feature on a piece to come. Lengths in mm; deviations are from the programmed size. */
export interface FeatureForecast {
  expectedDeviation: number;
  /** Standard deviation of the expected size itself. */
  meanDeviation: number;
  /** Standard deviation of a piece: the above with the scatter of the pieces. */
  pieceDeviation: number;
  /** P(out): probability that the piece is outside a limit. */
  probabilityOut: number;
}

/**
 * Forecast of one feature `ahead` pieces after the one that the state stands at.
 *   m = Σ s·(u + a + v·d) + b
 *   w² = g'P g + q + max(V, (0.03T)²), g = (s at a, s·d at v, 1 at b)
 *   q = Σ s²·((0.02h)²·d + (0.3h)²·(e^(−age/n_b) − e^(−(age+d)/n_b)) + (2h/N)²/(N/3)·d³/3)
 * @param offsets register values u_r as they will stand, mm
 */
export function forecastFeature(
  block: Block,
  estimate: Estimate,
  f: number,
  ahead: number,
  offsets: readonly number[],
): FeatureForecast {
  const size = sizeOf(block);
  const registers = block.registers.length;
  const feature = featureOf(block, f);
  const g: [number, number][] = [[2 * registers + f, 1]];
  let expectedDeviation = estimate.mean[2 * registers + f]!;
  let variance = 0;
  feature.effects.forEach((effect, r) => {
    if (effect === 0) return;
    const register = block.registers[r]!;
    const h = register.halfMoveMm;
    const life = lifeOf(block, register.tool);
    const breakIn = Math.max(3, life / 20);
    const age = estimate.piece + 1 - estimate.edgeFrom[register.tool]!;
    g.push([r, effect], [registers + r, effect * ahead]);
    expectedDeviation += effect * (offsets[r]! + estimate.mean[r]! + estimate.mean[registers + r]! * ahead);
    variance +=
      effect ** 2 *
      ((0.02 * h) ** 2 * ahead +
        (0.3 * h) ** 2 * (Math.exp(-age / breakIn) - Math.exp(-(age + ahead) / breakIn)) +
        (((2 * h) / life) ** 2 / (life / 3)) * (ahead ** 3 / 3));
  });
  for (const [i, a] of g) for (const [j, b] of g) variance += a * estimate.covariance[i * size + j]! * b;
  const meanDeviation = Math.sqrt(Math.max(0, variance));
  const pieceDeviation = Math.sqrt(
    Math.max(0, variance) + Math.max(estimate.scatter[f]!, (0.03 * feature.roomMm) ** 2),
  );
  const { programmedPm, lowerPm, upperPm } = feature;
  const within = probabilityWithin(
    expectedDeviation,
    pieceDeviation,
    lowerPm === undefined ? undefined : (lowerPm - programmedPm) / 1e9,
    upperPm === undefined ? undefined : (upperPm - programmedPm) / 1e9,
  );
  return { expectedDeviation, meanDeviation, pieceDeviation, probabilityOut: 1 - within };
}

/** Deviation of an expected size from the target, mm. */
export function fromTarget(block: Block, f: number, expectedDeviation: number): number {
  const { programmedPm, targetPm } = featureOf(block, f);
  return expectedDeviation - (targetPm - programmedPm) / 1e9;
}

/** What doubles may miss a limit by, so that a size on it still conforms. */
const roundingMm = 1e-12;

/**
 * Pieces until a feature's expected size leaves its limits if no register is touched: the first j ≥ 1, or undefined
 * when that does not happen within `most` pieces.
 */
export function piecesToLimit(
  block: Block,
  estimate: Estimate,
  f: number,
  offsets: readonly number[],
  most: number,
): number | undefined {
  const { programmedPm, lowerPm, upperPm, effects } = featureOf(block, f);
  const registers = block.registers.length;
  let size = estimate.mean[2 * registers + f]!;
  let rate = 0;
  effects.forEach((effect, r) => {
    size += effect * (offsets[r]! + estimate.mean[r]!);
    rate += effect * estimate.mean[registers + r]!;
  });
  const upper = upperPm === undefined ? Number.POSITIVE_INFINITY : (upperPm - programmedPm) / 1e9;
  const lower = lowerPm === undefined ? Number.NEGATIVE_INFINITY : (lowerPm - programmedPm) / 1e9;
  const next = size + rate;
  if (next > upper + roundingMm || next < lower - roundingMm) return 1;
  if (rate === 0) return undefined;
  const room = Math.abs((rate > 0 ? upper : lower) - size);
  const pieces = Math.floor((room + roundingMm) / Math.abs(rate)) + 1;
  return Number.isFinite(pieces) && pieces <= most ? pieces : undefined;
}
