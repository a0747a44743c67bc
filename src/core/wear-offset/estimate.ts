import { type Block, type BlockFeature, unknownLifePieces } from "./block.js";

/**
 * What is believed about a block after the pieces up to `piece`: mean and covariance of
 * [tool error a_r of every register | its change per piece v_r | deviation b_f of every feature | own deviations], and
 * what has been learned of each feature's scatter. A reading of feature f on piece k, cut in seat q, is modelled as
 *   y = programmed + Σ effect·(u_r(k) + a_r) + Σ effect·w_q(k) + b_f + b_fq + g + noise,
 * u_r(k) and w_q(k) the values of registers and work offsets in force when piece k was cut, g the gauge's deviation from
 * the reference gauge (0 for the reference). Lengths in mm.
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
  /** What the rows after those of the features stand for; absent: there are none. They come with their first reading. */
  own?: OwnDeviation[];
}

/** A deviation of one feature that belongs to one seat (b_fq), or to one gauge that is no reference (g). */
export interface OwnDeviation {
  feature: number;
  seat?: number;
  gauge?: string;
}

/** A gauge beside the reference gauge of a feature. */
export interface OtherGauge {
  id: string;
  /** U, expanded uncertainty as its certificate gives it, mm. */
  expandedMm?: number | undefined;
}

/** In which seat a size was cut, and with which gauges other than the reference it was read (by the weight of each). */
export interface Source {
  seat?: number | undefined;
  gauges?: readonly { gauge: OtherGauge; weight: number }[] | undefined;
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
const seatShare = 0.5;
const seatWander = 0.05;
const gaugeShare = 0.5;
const gaugeWander = 0.3;
const nowhere: Source = {};

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
  const size = 2 * block.registers.length + block.features.length;
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
  const size = estimate.mean.length;
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
export function widenLevel(estimate: Estimate, register: number, standardDeviationMm: number): void {
  widen(estimate, register, standardDeviationMm);
}

/** Adds variance to a feature's own deviation (a jump that no register explains). */
export function widenFeature(
  block: Block,
  estimate: Estimate,
  feature: number,
  standardDeviationMm: number,
): void {
  widen(estimate, 2 * block.registers.length + feature, standardDeviationMm);
}

/** Adds variance to a feature's deviation in one seat (a jump of that seat). */
export function widenSeat(
  block: Block,
  estimate: Estimate,
  feature: number,
  seat: number,
  standardDeviationMm: number,
): void {
  widen(estimate, ownRow(block, estimate, feature, { seat }), standardDeviationMm);
}

/** Adds variance to a gauge's deviation from the reference (it was bent, or its zero was lost). */
export function widenGauge(
  block: Block,
  estimate: Estimate,
  feature: number,
  gauge: OtherGauge,
  standardDeviationMm: number,
): void {
  widen(estimate, ownRow(block, estimate, feature, { gauge }), standardDeviationMm);
}

function widen(estimate: Estimate, at: number, standardDeviationMm: number): void {
  estimate.covariance[at * (estimate.mean.length + 1)]! += standardDeviationMm ** 2;
}

/**
 * Carries the state on to `piece` without a reading. Per piece: a += v, and variance is added to
 *   a: (0.02h)² + (0.3h)²/n_b·exp(−age/n_b), n_b = max(3, N/20);  v: (2h/N)²/(N/3);  b: (0.2T)²/N;
 *   b_fq: (0.05T)²/N;  g: (0.3T)²/N,
 * summed in closed form, so that the cost does not grow with the gap.
 */
export function advance(block: Block, estimate: Estimate, piece: number): void {
  const steps = piece - estimate.piece;
  if (steps <= 0) return;
  const size = estimate.mean.length;
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
  estimate.own?.forEach((row, i) => {
    const at = 2 * registers + block.features.length + i;
    p[at * size + at]! += steps * ownWander(block, row);
  });
  estimate.piece = piece;
}

/** Variance that an own deviation gains per piece, mm². */
function ownWander(block: Block, row: OwnDeviation): number {
  const { roomMm, tool } = featureOf(block, row.feature);
  return ((row.seat === undefined ? gaugeWander : seatWander) * roomMm) ** 2 / lifeOf(block, tool);
}

/** Variance of an own deviation before its first reading: it wandered from the first piece of the batch on. */
function ownPrior(
  block: Block,
  estimate: Estimate,
  feature: number,
  of: { seat?: number; gauge?: OtherGauge },
): number {
  const { roomMm } = featureOf(block, feature);
  const { seat } = of;
  const sd =
    seat === undefined ? Math.max(gaugeShare * roomMm, (of.gauge?.expandedMm ?? 0) / 2) : seatShare * roomMm;
  return sd ** 2 + estimate.piece * ownWander(block, seat === undefined ? { feature } : { feature, seat });
}

function findOwn(
  block: Block,
  { own }: Estimate,
  feature: number,
  seat: number | undefined,
  gauge: string | undefined,
): number | undefined {
  if (own === undefined) return undefined;
  const i = own.findIndex((row) => row.feature === feature && row.seat === seat && row.gauge === gauge);
  return i < 0 ? undefined : 2 * block.registers.length + block.features.length + i;
}

/** The row of an own deviation; made where there is none yet. */
function ownRow(
  block: Block,
  estimate: Estimate,
  feature: number,
  of: { seat?: number; gauge?: OtherGauge },
): number {
  const found = findOwn(block, estimate, feature, of.seat, of.gauge?.id);
  if (found !== undefined) return found;
  const old = estimate.mean.length;
  const size = old + 1;
  const wider: number[] = new Array(size * size).fill(0);
  for (let i = 0; i < old; i++)
    for (let j = 0; j < old; j++) wider[i * size + j] = estimate.covariance[i * old + j]!;
  wider[old * size + old] = ownPrior(block, estimate, feature, of);
  estimate.covariance = wider;
  estimate.mean.push(0);
  const row = of.gauge === undefined ? { feature, seat: of.seat! } : { feature, gauge: of.gauge.id };
  estimate.own = [...(estimate.own ?? []), row];
  return old;
}

/** How far a gauge is believed to read from the reference, mm; 0 where nothing is known of it. */
export function gaugeDeviation(
  block: Block,
  estimate: Estimate,
  feature: number,
  gauge: OtherGauge,
): { mean: number; variance: number } {
  const at = findOwn(block, estimate, feature, undefined, gauge.id);
  if (at === undefined) return { mean: 0, variance: ownPrior(block, estimate, feature, { gauge }) };
  return { mean: estimate.mean[at]!, variance: estimate.covariance[at * (estimate.mean.length + 1)]! };
}

/** True where a piece cut in that seat has told of the feature. */
export function isSeatKnown(block: Block, estimate: Estimate, feature: number, seat: number): boolean {
  return findOwn(block, estimate, feature, seat, undefined) !== undefined;
}

/** Where the partial derivatives of a size are not 0: [index, value], and the variance of what has no row yet. */
interface Gradient {
  entries: [number, number][];
  unknown: number;
}

/**
 * Partial derivatives of a feature's size by the state, or of what a gauge makes of it. No row is made here: what has not
 * been read yet stands beside as variance.
 */
export function gradientOf(
  block: Block,
  estimate: Estimate,
  f: number,
  { seat, gauges }: Source = nowhere,
): Gradient {
  const entries: [number, number][] = [[2 * block.registers.length + f, 1]];
  let unknown = 0;
  featureOf(block, f).effects.forEach((effect, r) => {
    if (effect !== 0) entries.push([r, effect]);
  });
  if (seat !== undefined) {
    const at = findOwn(block, estimate, f, seat, undefined);
    if (at === undefined) unknown += ownPrior(block, estimate, f, { seat });
    else entries.push([at, 1]);
  }
  for (const { gauge, weight } of gauges ?? []) {
    const at = findOwn(block, estimate, f, undefined, gauge.id);
    if (at === undefined) unknown += weight ** 2 * ownPrior(block, estimate, f, { gauge });
    else entries.push([at, weight]);
  }
  return { entries, unknown };
}

/** Covariance of the expected sizes of two features, or of what their gauges should read. */
export function sizeCovariance(
  block: Block,
  estimate: Estimate,
  f: number,
  g: number,
  from: Source = nowhere,
  to: Source = from,
): number {
  const size = estimate.mean.length;
  const p = estimate.covariance;
  const left = gradientOf(block, estimate, f, from);
  const right = f === g && from === to ? left : gradientOf(block, estimate, g, to);
  let sum = left === right ? left.unknown : 0;
  for (const [i, a] of left.entries) for (const [j, b] of right.entries) sum += a * p[i * size + j]! * b;
  return sum;
}

/** How many readings of a feature its scatter has been learned from, at most 50. */
export function readingsLearned(estimate: Estimate, f: number): number {
  return estimate.scatterWeight[f]! - beliefAtStart;
}

/**
 * Expected size less the programmed one, for the piece that the state stands at, or what a gauge should read of it.
 * @param offsets register values u_r in mm, those of the work offsets after them
 */
export function expectedDeviation(
  block: Block,
  estimate: Estimate,
  f: number,
  offsets: readonly number[],
  source: Source = nowhere,
): number {
  const { mean } = estimate;
  let sum = inputOf(block, f, offsets, source.seat);
  for (const [i, weight] of gradientOf(block, estimate, f, source).entries) sum += weight * mean[i]!;
  return sum;
}

/** What the registers and the seat's work offsets put into a size, mm. */
export function inputOf(
  block: Block,
  f: number,
  offsets: readonly number[],
  seat: number | undefined,
): number {
  const { effects } = featureOf(block, f);
  let sum = 0;
  for (let r = 0; r < effects.length; r++) sum += effects[r]! * offsets[r]!;
  block.workOffsets?.forEach((offset, i) => {
    if (offset.seat === undefined || offset.seat === seat)
      sum += offset.effects[f]! * (offsets[effects.length + i] ?? 0);
  });
  return sum;
}

/** Kalman update by one number: what was found less what was expected of it, and the noise of finding it. */
function update(
  estimate: Estimate,
  entries: readonly [number, number][],
  surprise: number,
  noise: number,
): number {
  const size = estimate.mean.length;
  const p = estimate.covariance;
  const gain: number[] = new Array(size).fill(0);
  for (let i = 0; i < size; i++) for (const [j, weight] of entries) gain[i]! += p[i * size + j]! * weight;
  let variance = noise;
  for (const [j, weight] of entries) variance += gain[j]! * weight;
  for (let i = 0; i < size; i++) {
    estimate.mean[i]! += (gain[i]! / variance) * surprise;
    for (let j = 0; j < size; j++) p[i * size + j]! -= (gain[i]! * gain[j]!) / variance;
  }
  return variance;
}

/** Makes the rows that a reading from this source tells of. */
function makeRows(block: Block, estimate: Estimate, f: number, { seat, gauges }: Source): void {
  if (seat !== undefined) ownRow(block, estimate, f, { seat });
  for (const { gauge } of gauges ?? []) ownRow(block, estimate, f, { gauge });
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
  source: Source = nowhere,
): { surprise: number; variance: number } {
  makeRows(block, estimate, f, source);
  const { entries } = gradientOf(block, estimate, f, source);
  const noise = estimate.scatter[f]! + gaugeVariance;
  const surprise = deviation - expectedDeviation(block, estimate, f, offsets, source);
  const variance = update(estimate, entries, surprise, noise);
  const weight = estimate.scatterWeight[f]!;
  const room = featureOf(block, f).roomMm;
  const learned = (noise * (weight + Math.min(9, surprise ** 2 / variance))) / (weight + 1) - gaugeVariance;
  estimate.scatter[f] = Math.min((0.6 * room) ** 2, Math.max((0.03 * room) ** 2, learned));
  estimate.scatterWeight[f] = Math.min(beliefAtMost, weight + 1);
  return { surprise, variance };
}

/**
 * Takes the difference of two readings of one feature on one piece by different gauges: it shares the piece, so that it
 * tells of the gauges alone (H = h₂ − h₁, R = u₁² + u₂²).
 */
export function takeDifference(
  block: Block,
  estimate: Estimate,
  f: number,
  first: { deviation: number; variance: number; gauges: Source["gauges"] },
  second: { deviation: number; variance: number; gauges: Source["gauges"] },
): void {
  const gauges = differenceOf(first.gauges, second.gauges);
  makeRows(block, estimate, f, { gauges });
  const size = 2 * block.registers.length;
  const entries = gradientOf(block, estimate, f, { gauges }).entries.filter(
    ([at]) => at >= size + block.features.length,
  );
  const expected = entries.reduce((sum, [at, weight]) => sum + weight * estimate.mean[at]!, 0);
  update(estimate, entries, second.deviation - first.deviation - expected, first.variance + second.variance);
}

function differenceOf(first: Source["gauges"], second: Source["gauges"]): NonNullable<Source["gauges"]> {
  return [...(second ?? []), ...(first ?? []).map(({ gauge, weight }) => ({ gauge, weight: -weight }))];
}

/**
 * Takes a reading of a piece that is one of several: mixture over the pieces it may be.
 *   w_p ~ exp(−(e − o_p)²/2S),  m_o = Σ w·o,  v_o = Σ w·(o − m_o)²;  x += K·(e − m_o),  P += −K·H·P + K·K'·v_o
 * Nothing is learned of the scatter from it.
 * @param apart o_p: expected size of each possible piece less that of the last one, mm
 */
export function takeMixture(
  block: Block,
  estimate: Estimate,
  f: number,
  deviation: number,
  gaugeVariance: number,
  offsets: readonly number[],
  apart: readonly number[],
  source: Source = nowhere,
): Mixture {
  makeRows(block, estimate, f, source);
  const { entries } = gradientOf(block, estimate, f, source);
  const surprise = deviation - expectedDeviation(block, estimate, f, offsets, source);
  const noise = estimate.scatter[f]! + gaugeVariance;
  const mixture = mixtureOf(surprise, noise + sizeCovariance(block, estimate, f, f, source), apart);
  const size = estimate.mean.length;
  const gain: number[] = new Array(size).fill(0);
  for (let i = 0; i < size; i++)
    for (const [j, weight] of entries) gain[i]! += estimate.covariance[i * size + j]! * weight;
  const variance = update(estimate, entries, mixture.used, noise);
  for (let i = 0; i < size; i++)
    for (let j = 0; j < size; j++)
      estimate.covariance[i * size + j]! += ((gain[i]! * gain[j]!) / variance ** 2) * mixture.spread;
  return mixture;
}

interface Mixture {
  /** w_p, one for each possible piece. */
  weights: number[];
  /** m_o, mm; e − m_o, mm; v_o, mm². */
  mean: number;
  used: number;
  spread: number;
}

/** Weights of the pieces that a reading may belong to, see `takeMixture`. */
export function mixtureOf(surprise: number, variance: number, apart: readonly number[]): Mixture {
  const misses = apart.map((o) => (surprise - o) ** 2 / (2 * variance));
  const least = Math.min(...misses);
  const raw = misses.map((miss) => Math.exp(least - miss));
  const total = raw.reduce((sum, w) => sum + w, 0);
  const weights = raw.map((w) => w / total);
  const mean = weights.reduce((sum, w, i) => sum + w * apart[i]!, 0);
  const spread = weights.reduce((sum, w, i) => sum + w * (apart[i]! - mean) ** 2, 0);
  return { weights, mean, used: surprise - mean, spread };
}

export function lifeOf(block: Block, tool: number | undefined): number {
  return tool === undefined ? unknownLifePieces : block.tools[tool]!.lifePieces;
}

function registerOf(block: Block, r: number) {
  return block.registers[r]!;
}

export function featureOf(block: Block, f: number): BlockFeature {
  return block.features[f]!;
}

export function copyEstimate(estimate: Estimate): Estimate {
  const copy: Estimate = {
    piece: estimate.piece,
    mean: estimate.mean.slice(),
    covariance: estimate.covariance.slice(),
    scatter: estimate.scatter.slice(),
    scatterWeight: estimate.scatterWeight.slice(),
    edgeFrom: estimate.edgeFrom.slice(),
  };
  if (estimate.own) copy.own = estimate.own;
  return copy;
}
