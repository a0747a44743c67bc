import { probabilityWithin } from "../statistics/normal.js";
import type { Block, BlockFeature } from "./block.js";
import { type Estimate, featureOf, gradientOf, inputOf, lifeOf } from "./estimate.js";

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
 *   w² = g'P g + q + max(V, (0.03T)²), g = (s at a, s·d at v, 1 at b and at the seat's own b)
 *   q = Σ s²·((0.02h)²·d + (0.3h)²·(e^(−age/n_b) − e^(−(age+d)/n_b)) + (2h/N)²/(N/3)·d³/3)
 * @param offsets register values u_r as they will stand, mm
 * @param seat where that piece will be cut
 */
export function forecastFeature(
  block: Block,
  estimate: Estimate,
  f: number,
  ahead: number,
  offsets: readonly number[],
  seat?: number,
): FeatureForecast {
  const size = estimate.mean.length;
  const registers = block.registers.length;
  const feature = featureOf(block, f);
  const { entries, unknown } = gradientOf(block, estimate, f, { seat });
  let expectedDeviation = inputOf(block, f, offsets, seat);
  let variance = unknown;
  for (const [i, weight] of entries) expectedDeviation += weight * estimate.mean[i]!;
  feature.effects.forEach((effect, r) => {
    if (effect === 0) return;
    entries.push([registers + r, effect * ahead]);
    expectedDeviation += effect * estimate.mean[registers + r]! * ahead;
    variance += effect ** 2 * wanderAhead(block, estimate, r, ahead);
  });
  for (const [i, a] of entries)
    for (const [j, b] of entries) variance += a * estimate.covariance[i * size + j]! * b;
  const meanDeviation = Math.sqrt(Math.max(0, variance));
  const pieceDeviation = Math.sqrt(
    Math.max(0, variance) + Math.max(estimate.scatter[f]!, (0.03 * feature.roomMm) ** 2),
  );
  return {
    expectedDeviation,
    meanDeviation,
    pieceDeviation,
    probabilityOut: probabilityOut(feature, expectedDeviation, pieceDeviation),
  };
}

/** Variance that a register's level gains over `ahead` pieces to come, mm²; q of `forecastFeature` without the effect. */
function wanderAhead(block: Block, estimate: Estimate, r: number, ahead: number): number {
  const { halfMoveMm: h, tool } = block.registers[r]!;
  const life = lifeOf(block, tool);
  const breakIn = Math.max(3, life / 20);
  const age = estimate.piece + 1 - estimate.edgeFrom[tool]!;
  return (
    (0.02 * h) ** 2 * ahead +
    (0.3 * h) ** 2 * (Math.exp(-age / breakIn) - Math.exp(-(age + ahead) / breakIn)) +
    (((2 * h) / life) ** 2 / (life / 3)) * (ahead ** 3 / 3)
  );
}

/** Probability that a size, normal about an expected deviation from the programmed one, is outside a limit. */
function probabilityOut(feature: BlockFeature, expectedDeviation: number, deviation: number): number {
  const { programmedPm, lowerPm, upperPm } = feature;
  const within = probabilityWithin(
    expectedDeviation,
    deviation,
    lowerPm === undefined ? undefined : (lowerPm - programmedPm) / 1e9,
    upperPm === undefined ? undefined : (upperPm - programmedPm) / 1e9,
  );
  return 1 - within;
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

/** Beyond this chance that the expected size has left the limits it may have. */
const mayHaveLeft = 0.1;

/**
 * "Not before": the first piece from now on at which the expected size has left its limits with more than 10 % probability,
 * counted like `piecesToLimit`; undefined when that does not come within `most` pieces.
 */
export function piecesToLimitAtEarliest(
  block: Block,
  estimate: Estimate,
  f: number,
  offsets: readonly number[],
  most: number,
): number | undefined {
  const feature = featureOf(block, f);
  const isPast = (ahead: number) => {
    const { expectedDeviation, meanDeviation } = forecastFeature(block, estimate, f, ahead, offsets);
    return probabilityOut(feature, expectedDeviation, meanDeviation) > mayHaveLeft;
  };
  let last = 0;
  // Uncertainty only grows with distance but a size may first run back inside, so steps are taken whole at first.
  for (let ahead = 1; ahead <= most; ahead += ahead < 64 ? 1 : 16) {
    if (!isPast(ahead)) {
      last = ahead;
      continue;
    }
    while (last + 1 < ahead && !isPast(last + 1)) last += 1;
    return last + 1;
  }
  return undefined;
}
