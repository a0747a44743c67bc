import { chartConstants } from "../../core/control-chart/constants.js";
import { individualsChart, mean } from "../../core/control-chart/variables.js";
import {
  aboutTargetLimits,
  indicesOf,
  quantileIndices,
  readingsForQuantiles,
  smallerLimits,
  spreadLimits,
  type Tolerance,
} from "../../core/performance/indices.js";
import {
  type Spread,
  spreadOverall,
  spreadWithin,
  type Trend,
  trendOf,
} from "../../core/performance/spread.js";
import { coverageFactor } from "../../core/statistics/coverage-factor.js";
import { type Normality, testNormality } from "../../core/statistics/normality.js";
import type { Index } from "./chart.js";
import type { Measured, Phase } from "./draw-chart.js";

/** Fewer readings give no index: at 10 the true one may be half as large again or as small (chi-square). */
export const readingsForIndices = 10;
const readingsForNormality = 8;
const probabilityOfTrend = 0.997;

export interface Assessed {
  mean: number;
  spread: Spread;
  index: Index;
  smaller: Index;
  lower: number | null;
  upper: number | null;
  aboutTarget: Index;
}

/** Decimals that n readings bear: the last one shown is about as large as the uncertainty of the index or smaller by ten. */
function decimalsOf(n: number): number {
  return n < 50 ? 1 : n < 1000 ? 2 : 3;
}

/**
 * Indices of a mean and a spread with their confidence limits, rounded to what n readings bear; none of fewer than
 * `readingsForIndices`. Undefined where there is no spread, or no limit.
 */
function assess(
  n: number,
  center: number,
  spread: Spread | undefined,
  tolerance: Tolerance,
  confidence: number,
): Assessed | undefined {
  if (spread === undefined || !(spread.s > 0)) return undefined;
  if (tolerance.lower === undefined && tolerance.upper === undefined) return undefined;
  const { s, degrees } = spread;
  const found = indicesOf(center, s, tolerance);
  const enough = n >= readingsForIndices;
  const places = decimalsOf(n);
  const show = (value: number | undefined) =>
    value === undefined || !enough ? null : Number(value.toFixed(places)) + 0;
  const withLimits = (value: number | undefined, limits: (value: number) => [number, number]): Index => {
    if (value === undefined || !enough) return null;
    const [low, high] = limits(value);
    return { value: show(value)!, low: show(low)!, high: show(high)! };
  };
  const delta = tolerance.target === undefined ? 0 : (center - tolerance.target) / s;
  return {
    mean: center,
    spread,
    index: withLimits(found.spread, (value) => spreadLimits(value, degrees, confidence)),
    smaller: withLimits(found.smaller, (value) => smallerLimits(value, n, { degrees, confidence })),
    lower: show(found.lower),
    upper: show(found.upper),
    aboutTarget: withLimits(found.aboutTarget, (value) => aboutTargetLimits(value, n, delta, confidence)),
  };
}

export interface Study {
  within: Assessed | undefined;
  overall: Assessed | undefined;
  aboutTrend: Assessed | undefined;
  trend: Trend | undefined;
  /** The slope is more than chance explains. */
  trending: boolean;
  shipped: Assessed | undefined;
  normality: Normality | undefined;
  quantiles: ReturnType<typeof quantileIndices> | undefined;
  steady: boolean;
}

/** Everything that is said of a window: of first cuts by phases, and of pieces as they were shipped. */
export function study(
  phases: readonly Phase[],
  shipped: readonly Measured[],
  tolerance: Tolerance,
  confidence: number,
): Study {
  const pieces = phases.flatMap((phase) => phase.pieces);
  const sizes = pieces.map(({ size }) => size);
  const sizesByPhase = phases.map((phase) => phase.pieces.map(({ size }) => size));
  const shippedSizes = shipped.map(({ size }) => size);
  const n = sizes.length;
  const within = spreadWithin(sizesByPhase);
  const trend = trendOf(phases.map((phase) => phase.pieces));
  const at = (list: readonly number[]) => (list.length === 0 ? Number.NaN : mean(list));
  // Wear that is corrected piece by piece would leave the process on its aim.
  const aim = tolerance.target ?? at(sizes);
  return {
    within: assess(n, at(sizes), within, tolerance, confidence),
    overall: assess(n, at(sizes), spreadOverall(sizes), tolerance, confidence),
    aboutTrend: assess(n, aim, trend, tolerance, confidence),
    trend,
    trending: trend !== undefined && isTrending(trend),
    shipped: assess(shipped.length, at(shippedSizes), spreadOverall(shippedSizes), tolerance, confidence),
    normality: normalityOf(phases, trend),
    quantiles: byQuantiles(sizes, tolerance),
    steady: isSteady(sizesByPhase, within),
  };
}

function isTrending({ slope, slopeUncertainty, degrees }: Trend): boolean {
  return Math.abs(slope) > coverageFactor(probabilityOfTrend, degrees) * slopeUncertainty;
}

/** Of what is left when each phase's level and the common slope are taken off. */
function normalityOf(phases: readonly Phase[], trend: Trend | undefined): Normality | undefined {
  if (!trend || !(trend.s > 0)) return undefined;
  const left = phases.flatMap(({ pieces }) => {
    const size = mean(pieces.map((piece) => piece.size));
    const piece = mean(pieces.map((one) => one.piece));
    return pieces.length < 3 ? [] : pieces.map((one) => one.size - size - trend.slope * (one.piece - piece));
  });
  if (left.length < readingsForNormality || left.every((value) => value === left[0])) return undefined;
  return testNormality(left);
}

function byQuantiles(sizes: readonly number[], tolerance: Tolerance) {
  if (sizes.length < readingsForQuantiles || new Set(sizes).size < 5) return undefined;
  if (tolerance.lower === undefined && tolerance.upper === undefined) return undefined;
  const sorted = [...sizes].sort((a, b) => a - b);
  const middle = sorted[Math.floor(sorted.length / 2)]!;
  // Where a display is coarse the outer quantiles may fall on the median: nothing can be said then.
  if (sorted[2]! >= middle || sorted.at(-3)! <= middle) return undefined;
  return quantileIndices(sizes, tolerance);
}

function isSteady(phases: readonly (readonly number[])[], within: Spread | undefined): boolean {
  if (!within) return false;
  const range = within.s * chartConstants(2).d2;
  return phases.every((sizes) => {
    const { location } = individualsChart(sizes, range);
    return sizes.every((size) => size >= location.lower && size <= location.upper);
  });
}
