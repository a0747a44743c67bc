import { chiSquareQuantile } from "../statistics/chi-square-quantile.js";
import { powerOf10, quotient, sum, toIntegers } from "../statistics/exact.js";
import { rangeFactor } from "../statistics/range-constants.js";
import { varianceRatioTail } from "../statistics/variance-ratio.js";

/** Readings by part, operator and trial: as many trials in each cell, at least 2 parts and 2 trials. */
export type CrossedReadings = readonly (readonly (readonly number[])[])[];

/** Standard deviations in the unit of the readings. */
export interface Spread {
  repeatability: number;
  /** Operators and their interaction with the parts; 0 of one operator. */
  reproducibility: number;
  gauge: number;
  parts: number;
  total: number;
  /** 1.41 times parts over gauge, not rounded; undefined of a gauge that does not vary. */
  distinctCategories: number | undefined;
}

export interface VarianceRow {
  degrees: number;
  sumOfSquares: number;
  meanSquare: number;
}

export interface CrossedAnalysis {
  table: {
    parts: VarianceRow;
    operators: VarianceRow | undefined;
    interaction: VarianceRow | undefined;
    repeatability: VarianceRow;
    total: { degrees: number; sumOfSquares: number };
  };
  /** Chance of an interaction that large where there is none; undefined of one operator or where nothing varies in the cells. */
  interactionChance: number | undefined;
  pooled: boolean;
  spread: Spread & { operators: number; interaction: number };
  /** Limits of the standard deviations at 95 % confidence, from the chi-square distribution. */
  limits: { repeatability: [number, number]; gauge: [number, number] };
}

export interface CrossedOptions {
  /** Whether the interaction is pooled into repeatability: `by_test` where its chance is above `poolAbove`. */
  interaction: "by_test" | "kept" | "pooled";
  poolAbove: number;
}

/**
 * Crossed study of repeatability and reproducibility by analysis of variance, parts and operators random. With the interaction:
 *   σ²ₑ = MSₑ, σ²ₚₒ = (MSₚₒ − MSₑ)/r, σ²ₒ = (MSₒ − MSₚₒ)/(p r), σ²ₚ = (MSₚ − MSₚₒ)/(o r);
 * pooled, MSₑ and MSₚₒ are one mean square in both roles. What comes out below 0 is 0. Confidence limits of repeatability are
 * exact for normal readings; those of the gauge are Satterthwaite's.
 * @throws {RangeError} for readings of another shape or none that are finite
 * @see D. C. Montgomery, Introduction to Statistical Quality Control, gauge and measurement system capability (from memory);
 *      measurement systems analysis handbook, 4th edition, chapter III; F. E. Satterthwaite, Biometrics Bulletin 2 (1946) 110–114
 */
export function analyzeCrossed(readings: CrossedReadings, options: CrossedOptions): CrossedAnalysis {
  const [p, o, r] = shapeOf(readings);
  const { integers, places } = toIntegers(readings.flat(2));
  const unit = powerOf10(2 * places);
  const total = (of: (part: number, operator: number) => boolean) =>
    sum(integers.filter((_, i) => of(Math.floor(i / (o * r)), Math.floor(i / r) % o)));
  const n = p * o * r;
  const range = (length: number) => Array.from({ length }, (_, i) => i);
  // Each n times the sum of squares of the means.
  const level = total(() => true) ** 2n;
  const squares = (totals: bigint[]) => sum(totals.map((t) => t * t)) * BigInt(totals.length);
  const ofParts = squares(range(p).map((i) => total((part) => part === i))) - level;
  const ofOperators = squares(range(o).map((j) => total((_, operator) => operator === j))) - level;
  const ofCells = squares(range(p * o).map((cell) => sum(integers.slice(cell * r, cell * r + r)))) - level;
  const ofAll = squares(integers) - level;
  const row = (top: bigint, degrees: number): VarianceRow => {
    const sumOfSquares = quotient(top, BigInt(n) * unit);
    return { degrees, sumOfSquares, meanSquare: sumOfSquares / degrees };
  };
  const table = {
    parts: row(ofParts, p - 1),
    operators: o === 1 ? undefined : row(ofOperators, o - 1),
    interaction: o === 1 ? undefined : row(ofCells - ofParts - ofOperators, (p - 1) * (o - 1)),
    repeatability: row(ofAll - ofCells, p * o * (r - 1)),
    total: { degrees: n - 1, sumOfSquares: row(ofAll, n - 1).sumOfSquares },
  };
  const { interaction, repeatability } = table;
  const interactionChance =
    interaction === undefined || repeatability.meanSquare === 0
      ? undefined
      : varianceRatioTail(
          interaction.meanSquare / repeatability.meanSquare,
          interaction.degrees,
          repeatability.degrees,
        );
  const pooled =
    interaction !== undefined &&
    (options.interaction === "pooled" ||
      (options.interaction === "by_test" && (interactionChance ?? 0) > options.poolAbove));
  const error = pooled
    ? row(ofAll - ofParts - ofOperators, interaction.degrees + repeatability.degrees)
    : repeatability;
  const second = pooled || interaction === undefined ? error : interaction;
  const operators = table.operators ?? { ...second, degrees: 1 };
  const positive = (variance: number) => Math.max(0, variance);
  const variance = {
    repeatability: error.meanSquare,
    interaction: positive((second.meanSquare - error.meanSquare) / r),
    operators: positive((operators.meanSquare - second.meanSquare) / (p * r)),
    parts: positive((table.parts.meanSquare - second.meanSquare) / (o * r)),
  };
  const reproducibility = variance.interaction + variance.operators;
  const gauge = variance.repeatability + reproducibility;
  const share = 1 / (p * r);
  const made: [VarianceRow, number][] = [
    [error, 1 - 1 / r],
    [second, 1 / r - (table.operators ? share : 0)],
    [operators, table.operators ? share : 0],
  ];
  const degrees = effectiveDegreesOf(made, gauge, variance, error);
  return {
    table,
    interactionChance,
    pooled,
    spread: {
      ...spreadOf(variance.repeatability, reproducibility, variance.parts),
      operators: Math.sqrt(variance.operators),
      interaction: Math.sqrt(variance.interaction),
    },
    limits: {
      repeatability: limitsOf(variance.repeatability, error.degrees),
      gauge: limitsOf(gauge, degrees),
    },
  };
}

/** Satterthwaite's, of the mean squares that the variance is made of: those whose component came out as 0 are left out. */
function effectiveDegreesOf(
  made: readonly [VarianceRow, number][],
  gauge: number,
  variance: { interaction: number; operators: number },
  error: VarianceRow,
): number {
  if (gauge === 0) return error.degrees;
  if (variance.interaction === 0 && variance.operators === 0) return error.degrees;
  const sumOfParts = made.reduce(
    (all, [{ meanSquare, degrees }, c]) => all + (c * meanSquare) ** 2 / degrees,
    0,
  );
  const whole = made.reduce((all, [{ meanSquare }, c]) => all + c * meanSquare, 0);
  return sumOfParts === 0 ? error.degrees : whole ** 2 / sumOfParts;
}

function limitsOf(variance: number, degrees: number): [number, number] {
  const limit = (probability: number) =>
    Math.sqrt((variance * degrees) / chiSquareQuantile(probability, degrees));
  return [limit(0.975), limit(0.025)];
}

function spreadOf(repeatability: number, reproducibility: number, parts: number): Spread {
  const gauge = repeatability + reproducibility;
  return {
    repeatability: Math.sqrt(repeatability),
    reproducibility: Math.sqrt(reproducibility),
    gauge: Math.sqrt(gauge),
    parts: Math.sqrt(parts),
    total: Math.sqrt(gauge + parts),
    distinctCategories: gauge === 0 ? undefined : 1.41 * Math.sqrt(parts / gauge),
  };
}

export interface RangeFactors {
  k1: number;
  k2: number;
  k3: number;
}

/**
 * The same study by average and range: EV = R̄ K₁, AV² = (X_diff K₂)² − EV²/(p r), not below 0, PV = R_p K₃.
 * @param factors K₁ by trials, K₂ by operators, K₃ by parts; absent: worked out, not rounded
 * @throws {RangeError} as `analyzeCrossed`
 * @see measurement systems analysis handbook, 4th edition, chapter III, average and range method (from memory)
 */
export function averageAndRange(readings: CrossedReadings, factors?: RangeFactors): Spread {
  const [p, o, r] = shapeOf(readings);
  const { k1, k2, k3 } = factors ?? {
    k1: rangeFactor(r),
    k2: o === 1 ? 0 : rangeFactor(o, 1),
    k3: rangeFactor(p, 1),
  };
  const { integers, places } = toIntegers(readings.flat(2));
  const unit = powerOf10(places);
  const cell = (part: number, operator: number) =>
    integers.slice((part * o + operator) * r, (part * o + operator + 1) * r);
  const [parts, operators] = [p, o].map((length) => Array.from({ length }, (_, i) => i)) as [
    number[],
    number[],
  ];
  const rangeOf = (values: bigint[]) => {
    const ordered = values.toSorted((a, b) => (a < b ? -1 : 1));
    return ordered.at(-1)! - ordered[0]!;
  };
  const ranges = sum(parts.flatMap((i) => operators.map((j) => rangeOf(cell(i, j)))));
  const between = rangeOf(operators.map((j) => sum(parts.flatMap((i) => cell(i, j)))));
  const ofParts = rangeOf(parts.map((i) => sum(operators.flatMap((j) => cell(i, j)))));
  const ev = quotient(ranges, BigInt(p * o) * unit) * k1;
  const av = Math.max(0, (quotient(between, BigInt(p * r) * unit) * k2) ** 2 - ev ** 2 / (p * r));
  const pv = quotient(ofParts, BigInt(o * r) * unit) * k3;
  return spreadOf(ev ** 2, o === 1 ? 0 : av, pv ** 2);
}

function shapeOf(readings: CrossedReadings): [number, number, number] {
  const p = readings.length;
  const o = readings[0]?.length ?? 0;
  const r = readings[0]?.[0]?.length ?? 0;
  const isWhole = readings.every((part) => part.length === o && part.every((cell) => cell.length === r));
  if (p < 2 || o < 1 || r < 2 || !isWhole) {
    throw new RangeError("needs at least 2 parts, 1 operator and 2 trials, as many in each cell");
  }
  return [p, o, r];
}
