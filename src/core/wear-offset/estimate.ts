import { type Block, type BlockFeature, unknownLifePieces } from "./block.js";

/**
 * What is believed about a block after the pieces up to `piece`: mean and covariance of
 * [tool error a_r of every register | its change per piece v_r | deviation b_f of every feature], and what has been
 * learned of each feature's scatter. A reading of feature f on piece k is modelled as
 *   y = programmed + Σ effect·(u_r(k) + a_r) + b_f + noise,  u_r(k) the register value in force when piece k was cut.
 * Lengths in mm.
 */
export interface Estimate {
  piece: number;
  mean: number[];
  /** Covariance, row by row. */
  covariance: number[];
  /** V_f: variance of a piece about its expected size, without the gauge. */
  scatter: number[];
  /** d_f: how many readings the belief in V_f weighs. */
  scatterWeight: number[];
  /** Piece number from which each tool's edge counts: it has cut `k − edgeFrom` pieces before piece k. */
  edgeFrom: number[];
}

export interface Prior {
  level: number;
  levelVariance: number;
  rate: number;
  covariance: number;
  rateVariance: number;
}

const beliefAtStart = 10;
/** Standard deviation that b_f starts with, in T; of a place as of a seat, since form is of the order of the tolerance. */
const ownShare = 0.2;
const placeShare = 0.5;
const beliefAtMost = 60;

/** Standard deviations that a register starts with when nothing is known: a = max(0.02, 2h), v = 2h / N. */
export function plainPrior(block: Block, register: number): Prior {
  const { halfMoveMm, tool } = registerOf(block, register);
  const level = Math.max(0.02, 2 * halfMoveMm);
  const rate = (2 * halfMoveMm) / lifeOf(block, tool);
  return { level: 0, levelVariance: level ** 2, rate: 0, covariance: 0, rateVariance: rate ** 2 };
}

/** The state before the first piece of a batch. */
export function startEstimate(
  block: Block,
  priors: readonly Prior[],
  piecesCut: readonly number[],
): Estimate {
  const size = sizeOf(block);
  const estimate: Estimate = {
    piece: 0,
    mean: new Array(size).fill(0),
    covariance: new Array(size * size).fill(0),
    scatter: block.features.map((feature) => (feature.roomMm / 6) ** 2),
    scatterWeight: block.features.map(() => beliefAtStart),
    edgeFrom: piecesCut.map((count) => 1 - count),
  };
  priors.forEach((prior, register) => {
    setRegisterPrior(block, estimate, register, prior);
  });
  block.features.forEach((feature, f) => {
    const at = 2 * block.registers.length + f;
    const share = feature.place === undefined ? ownShare : placeShare;
    estimate.covariance[at * size + at] = (share * feature.roomMm) ** 2;
  });
  return estimate;
}

/** A fresh edge: what was known of this register is forgotten, its place taken by the prior. */
export function setRegisterPrior(block: Block, estimate: Estimate, register: number, prior: Prior): void {
  const size = sizeOf(block);
  const level = register;
  const rate = block.registers.length + register;
  for (const at of [level, rate]) {
    for (let j = 0; j < size; j++) {
      estimate.covariance[at * size + j] = 0;
      estimate.covariance[j * size + at] = 0;
    }
  }
  estimate.mean[level] = prior.level;
  estimate.mean[rate] = prior.rate;
  estimate.covariance[level * size + level] = prior.levelVariance;
  estimate.covariance[rate * size + rate] = prior.rateVariance;
  estimate.covariance[level * size + rate] = prior.covariance;
  estimate.covariance[rate * size + level] = prior.covariance;
}

/** Adds variance to a register's level (a pause, a confirmed jump). */
export function widenLevel(
  block: Block,
  estimate: Estimate,
  register: number,
  standardDeviationMm: number,
): void {
  estimate.covariance[register * (sizeOf(block) + 1)]! += standardDeviationMm ** 2;
}

/** Adds variance to a feature's own deviation (a jump that no register explains). */
export function widenFeature(
  block: Block,
  estimate: Estimate,
  feature: number,
  standardDeviationMm: number,
): void {
  const at = 2 * block.registers.length + feature;
  estimate.covariance[at * (sizeOf(block) + 1)]! += standardDeviationMm ** 2;
}

/**
 * Carries the state on to `piece` without a reading. Per piece: a += v, and variance is added to
 *   a: (0.02h)² + (0.3h)²/n_b·exp(−age/n_b), n_b = max(3, N/20);  v: (2h/N)²/(N/3);  b: (0.2T)²/N,
 * summed in closed form, so that the cost does not grow with the gap.
 */
export function advance(block: Block, estimate: Estimate, piece: number): void {
  const steps = piece - estimate.piece;
  if (steps <= 0) return;
  const size = sizeOf(block);
  const registers = block.registers.length;
  const p = estimate.covariance;
  for (let r = 0; r < registers; r++) estimate.mean[r]! += steps * estimate.mean[registers + r]!;
  for (let r = 0; r < registers; r++)
    for (let j = 0; j < size; j++) p[r * size + j]! += steps * p[(registers + r) * size + j]!;
  for (let r = 0; r < registers; r++)
    for (let j = 0; j < size; j++) p[j * size + r]! += steps * p[j * size + registers + r]!;
  block.registers.forEach((register, r) => {
    const h = register.halfMoveMm;
    const life = lifeOf(block, register.tool);
    const breakIn = Math.max(3, life / 20);
    const decay = Math.exp(-1 / breakIn);
    const age = estimate.piece + 1 - estimate.edgeFrom[register.tool]!;
    const settling = (Math.exp(-age / breakIn) * (1 - decay ** steps)) / (1 - decay);
    const rate = ((2 * h) / life) ** 2 / (life / 3);
    const v = registers + r;
    p[r * size + r]! +=
      steps * (0.02 * h) ** 2 +
      ((0.3 * h) ** 2 / breakIn) * settling +
      (rate * ((steps - 1) * steps * (2 * steps - 1))) / 6;
    const shared = (rate * (steps * (steps - 1))) / 2;
    p[r * size + v]! += shared;
    p[v * size + r]! += shared;
    p[v * size + v]! += rate * steps;
  });
  block.features.forEach((feature, f) => {
    const at = 2 * registers + f;
    p[at * size + at]! += (steps * (0.2 * feature.roomMm) ** 2) / lifeOf(block, feature.tool);
  });
  estimate.piece = piece;
}

/** Covariance of the expected sizes of two features. */
export function sizeCovariance(block: Block, estimate: Estimate, f: number, g: number): number {
  const size = sizeOf(block);
  const p = estimate.covariance;
  const left = gradient(block, f);
  const right = gradient(block, g);
  let sum = 0;
  for (const [i, a] of left) for (const [j, b] of right) sum += a * p[i * size + j]! * b;
  return sum;
}

/** How many readings of a feature its scatter has been learned from, at most 50. */
export function readingsLearned(estimate: Estimate, f: number): number {
  return estimate.scatterWeight[f]! - beliefAtStart;
}

/** Expected size less the programmed one, for the piece that the state stands at; `offsets`: register values u_r in mm. */
export function expectedDeviation(
  block: Block,
  estimate: Estimate,
  f: number,
  offsets: readonly number[],
): number {
  const { effects } = featureOf(block, f);
  let sum = estimate.mean[2 * block.registers.length + f]!;
  for (let r = 0; r < effects.length; r++) sum += effects[r]! * (offsets[r]! + estimate.mean[r]!);
  return sum;
}

/**
 * Takes one reading into the state (Kalman update), and learns the feature's scatter from it:
 *   R' = R·(d + min(9, z²))/(d + 1), V = R' − u_g², kept within (0.03T)² and (0.6T)².
 * @param deviation reading less programmed size, mm
 * @param gaugeVariance u_g², mm²
 */
export function takeReading(
  block: Block,
  estimate: Estimate,
  f: number,
  deviation: number,
  gaugeVariance: number,
  offsets: readonly number[],
): { surprise: number; variance: number } {
  const size = sizeOf(block);
  const p = estimate.covariance;
  const h = gradient(block, f);
  const gain: number[] = new Array(size).fill(0);
  for (let i = 0; i < size; i++) for (const [j, weight] of h) gain[i]! += p[i * size + j]! * weight;
  const noise = estimate.scatter[f]! + gaugeVariance;
  let variance = noise;
  for (const [j, weight] of h) variance += gain[j]! * weight;
  const surprise = deviation - expectedDeviation(block, estimate, f, offsets);
  const row = gain.slice(); // P is symmetric, so H P is P H' turned
  for (let i = 0; i < size; i++) {
    estimate.mean[i]! += (gain[i]! / variance) * surprise;
    for (let j = 0; j < size; j++) p[i * size + j]! -= (gain[i]! * row[j]!) / variance;
  }
  const weight = estimate.scatterWeight[f]!;
  const room = featureOf(block, f).roomMm;
  const learned = (noise * (weight + Math.min(9, surprise ** 2 / variance))) / (weight + 1) - gaugeVariance;
  estimate.scatter[f] = Math.min((0.6 * room) ** 2, Math.max((0.03 * room) ** 2, learned));
  estimate.scatterWeight[f] = Math.min(beliefAtMost, weight + 1);
  return { surprise, variance };
}

/** Where the state's row of partial derivatives of a feature's size is not 0: [index, value]. */
function gradient(block: Block, f: number): [number, number][] {
  const entries: [number, number][] = [[2 * block.registers.length + f, 1]];
  featureOf(block, f).effects.forEach((effect, r) => {
    if (effect !== 0) entries.push([r, effect]);
  });
  return entries;
}

export function lifeOf(block: Block, tool: number | undefined): number {
  return tool === undefined ? unknownLifePieces : block.tools[tool]!.lifePieces;
}

export function sizeOf(block: Block): number {
  return 2 * block.registers.length + block.features.length;
}

function registerOf(block: Block, r: number) {
  return block.registers[r]!;
}

export function featureOf(block: Block, f: number): BlockFeature {
  return block.features[f]!;
}

export function copyEstimate(estimate: Estimate): Estimate {
  return {
    piece: estimate.piece,
    mean: estimate.mean.slice(),
    covariance: estimate.covariance.slice(),
    scatter: estimate.scatter.slice(),
    scatterWeight: estimate.scatterWeight.slice(),
    edgeFrom: estimate.edgeFrom.slice(),
  };
}
