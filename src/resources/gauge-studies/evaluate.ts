import { analyzeCrossed, averageAndRange, type Spread } from "../../core/gauge-study/crossed.js";
import { fitLine } from "../../core/gauge-study/line.js";
import { studyOnePart } from "../../core/gauge-study/one-part.js";
import { judgePercent, percentOfTolerance } from "../../core/gauge-study/percent-of-tolerance.js";
import { analyzeOneWay } from "../../core/statistics/one-way-analysis.js";
import { summarize } from "../../core/statistics/summary.js";
import type { StudyFigures } from "./schemas.js";

export interface StudyOptions {
  kind: "crossed" | "one_part" | "linearity";
  interaction: "by_test" | "kept" | "pooled";
  pool_above: number;
  share: number;
  spread: number;
  least_index: number;
  limits: { fit: number; conditional: number };
}

export interface StudyReading {
  operator: string;
  part: string;
  pm: number;
  referencePm: number | undefined;
}

export interface Scale {
  /** Steps in one unit. */
  steps: number;
  /** With its unit. */
  say(pm: number): string;
}

/** Figures as the wire shows them: statistics with 8 digits. */
const round = (value: number) => Number(value.toPrecision(8));
const percentText = (value: number) => `${Number(value.toPrecision(3))} %`;
const chanceText = (chance: number | undefined) => (chance === undefined ? null : round(chance));

/** The cells of a crossed study, or what keeps it from being one. */
export function cellsOf(readings: readonly StudyReading[]): number[][][] | string {
  const parts = [...new Set(readings.map(({ part }) => part))];
  const operators = [...new Set(readings.map(({ operator }) => operator))];
  const byCell = new Map<string, number[]>();
  const key = (part: string, operator: string) => JSON.stringify([part, operator]);
  for (const { part, operator, pm } of readings) {
    byCell.set(key(part, operator), [...(byCell.get(key(part, operator)) ?? []), pm]);
  }
  const cells = parts.map((part) => operators.map((operator) => byCell.get(key(part, operator)) ?? []));
  const trials = Math.max(...cells.flat().map(({ length }) => length));
  if (parts.length < 2)
    return "a crossed study needs at least 2 parts, 10 are usual: measure more, or send kind one_part";
  if (trials < 2)
    return "each operator has to read each part at least twice: without repeats nothing is known of repeatability";
  for (const [i, part] of parts.entries()) {
    for (const [j, operator] of operators.entries()) {
      const found = cells[i]![j]!.length;
      if (found !== trials) {
        return `${operator} has read part ${part} ${found} times and others ${trials} times: measure what is missing, or leave that part or operator out altogether`;
      }
    }
  }
  return cells;
}

export function evaluateCrossed(
  cells: number[][][],
  tolerancePm: number | undefined,
  options: StudyOptions,
  scale: Scale,
) {
  const study = analyzeCrossed(cells, {
    interaction: options.interaction,
    poolAbove: options.pool_above,
  });
  const { spread, table, pooled, interactionChance } = study;
  const size = (pm: number) => round(pm / scale.steps);
  const row = (of: { degrees: number; sumOfSquares: number; meanSquare: number } | undefined) =>
    of === undefined
      ? null
      : {
          degrees: of.degrees,
          sum_of_squares: round(of.sumOfSquares / scale.steps ** 2),
          mean_square: round(of.meanSquare / scale.steps ** 2),
        };
  const show = (of: Spread) => ({
    repeatability: size(of.repeatability),
    reproducibility: size(of.reproducibility),
    gauge: size(of.gauge),
    parts: size(of.parts),
    total: size(of.total),
    percent_of_study: of.total === 0 ? null : round((100 * of.gauge) / of.total),
    percent_of_tolerance:
      tolerancePm === undefined ? null : round(percentOfTolerance(of.gauge, tolerancePm, options.spread)),
    distinct_categories: of.distinctCategories === undefined ? null : Math.floor(of.distinctCategories),
  });
  const analysis = show(spread);
  const percent = analysis.percent_of_tolerance ?? analysis.percent_of_study ?? 0;
  const { fit, conditional } = options.limits;
  const verdict = judgePercent(percent, options.limits);
  const of = tolerancePm === undefined ? "spread of these parts" : "tolerance";
  const meaning = {
    fit: `up to ${fit} % is good: take it for this job`,
    conditional: `above ${fit} % and up to ${conditional} % is only good enough where nothing better is at hand: keep away from the limits with it`,
    unfit: `above ${conditional} % is too much: take a finer gauge, or look into how it is held and read`,
  }[verdict];
  const mainly =
    spread.reproducibility > spread.repeatability ? "the people who read it" : "the gauge itself";
  const why = [
    `The gauge takes up ${percentText(percent)} of the ${of}; ${meaning}.`,
    spread.gauge === 0
      ? "All readings of a part are equal: the display is too coarse to show any scatter."
      : `Most of that comes from ${mainly}.`,
    analysis.distinct_categories !== null && analysis.distinct_categories < 5
      ? `It tells ${analysis.distinct_categories} classes of these parts apart; 5 are the usual least.`
      : "",
  ];
  return {
    verdict,
    why: why.filter((text) => text !== "").join(" "),
    repeatabilityPm: spread.repeatability,
    result: {
      repeatability: size(spread.repeatability),
      repeatability_limits: study.limits.repeatability.map(size),
      bias: null,
      crossed: {
        parts: cells.length,
        operators: cells[0]!.length,
        trials: cells[0]![0]!.length,
        table: {
          parts: row(table.parts)!,
          operators: row(table.operators),
          interaction: row(table.interaction),
          repeatability: row(table.repeatability)!,
        },
        interaction_chance: chanceText(interactionChance),
        pooled,
        rule: ruleOf(options, pooled),
        analysis_of_variance: { ...analysis, gauge_limits: study.limits.gauge.map(size) },
        average_and_range: show(averageAndRange(cells)),
      },
      one_part: null,
      linearity: null,
    } satisfies StudyFigures,
  };
}

function ruleOf({ interaction, pool_above }: StudyOptions, pooled: boolean): string {
  if (interaction !== "by_test")
    return pooled ? "The interaction is pooled, as asked for." : "The interaction is kept.";
  return pooled
    ? `The interaction is pooled into repeatability: chance alone makes one as large with a probability above ${pool_above}.`
    : `The interaction is kept: chance alone does not make one as large with a probability above ${pool_above}, or there is none.`;
}

export function evaluateOnePart(
  values: readonly number[],
  referencePm: number,
  tolerancePm: number | undefined,
  options: StudyOptions,
  scale: Scale,
) {
  const study = studyOnePart(values, {
    reference: referencePm,
    tolerance: tolerancePm,
    share: options.share,
    spread: options.spread,
  });
  const size = (pm: number) => round(pm / scale.steps);
  const least = options.least_index;
  const isBiased = study.biasChance === undefined ? study.bias !== 0 : study.biasChance < 0.05;
  const verdict =
    study.cg === undefined || study.cgk === undefined
      ? null
      : study.cgk >= least
        ? ("fit" as const)
        : study.cg >= least
          ? ("conditional" as const)
          : ("unfit" as const);
  const found = `It reads ${scale.say(Math.abs(study.bias))} too ${study.bias < 0 ? "small" : "big"} in the mean of ${study.n}, ${isBiased ? "more than chance makes" : "which may be chance"}, and repeats within a standard deviation of ${scale.say(study.repeatability)}.`;
  const meaning =
    verdict === null
      ? study.repeatability === 0
        ? "All readings are equal: the display is too coarse to show any scatter, so no index is given."
        : "Without a tolerance no index is given."
      : {
          fit: `Cgk ${study.cgk!.toFixed(2)} is at least ${least}: fit.`,
          conditional: `Cg ${study.cg!.toFixed(2)} is at least ${least}, but Cgk ${study.cgk!.toFixed(2)} is not: it repeats well, set it afresh or take its error off.`,
          unfit: `Cg ${study.cg!.toFixed(2)} is below ${least}: it scatters too much for this tolerance, take a finer gauge.`,
        }[verdict];
  const few = study.n < 25 ? ` ${study.n} readings are few: 50 are usual, 25 the usual least.` : "";
  return {
    verdict,
    why: `${found} ${meaning}${few}`,
    repeatabilityPm: study.repeatability,
    result: {
      repeatability: size(study.repeatability),
      repeatability_limits: study.repeatabilityLimits.map(size),
      bias: size(study.bias),
      crossed: null,
      one_part: {
        mean: size(study.mean),
        bias_limits: study.biasLimits.map(size),
        bias_chance: chanceText(study.biasChance),
        cg: study.cg === undefined ? null : round(study.cg),
        cgk: study.cgk === undefined ? null : round(study.cgk),
      },
      linearity: null,
    } satisfies StudyFigures,
  };
}

export function evaluateLinearity(
  readings: readonly StudyReading[],
  tolerancePm: number | undefined,
  options: StudyOptions,
  scale: Scale,
) {
  const x = readings.map(({ referencePm }) => referencePm ?? 0);
  const y = readings.map(({ pm }, i) => pm - x[i]!);
  const line = fitLine(x, y);
  const size = (pm: number) => round(pm / scale.steps);
  const references = [...new Set(x)].sort((a, b) => a - b);
  const groups = references.map((reference) => y.filter((_, i) => x[i] === reference));
  const scatter = Math.sqrt(analyzeOneWay(groups).within.meanSquare);
  const points = references.map((reference, i) => {
    const { value, limits } = line.at(reference);
    const group = groups[i]!;
    return {
      reference,
      n: group.length,
      bias: group.length > 1 ? summarize(group).mean : group[0]!,
      value,
      limits,
    };
  });
  const isTilted = (line.slope.chance ?? (line.slope.value === 0 ? 1 : 0)) < 0.05;
  const off = points.filter(({ limits }) => limits[0] > 0 || limits[1] < 0);
  const largest = points.reduce((most, point) => (Math.abs(point.bias) > Math.abs(most.bias) ? point : most));
  const percent = tolerancePm === undefined ? undefined : (100 * Math.abs(largest.bias)) / tolerancePm;
  const verdict =
    !isTilted && off.length === 0
      ? ("fit" as const)
      : percent === undefined
        ? ("conditional" as const)
        : judgePercent(percent, options.limits);
  const why = [
    isTilted
      ? "Its error changes with the size, more than chance makes."
      : "Its error does not change with the size by more than chance makes.",
    off.length === 0
      ? "Nowhere is it off by more than chance makes."
      : `It is off at ${off.map(({ reference }) => scale.say(reference)).join(", ")}.`,
    `The largest mean error is ${scale.say(largest.bias)} at ${scale.say(largest.reference)}${percent === undefined ? "" : `, ${percentText(percent)} of the tolerance`}.`,
  ];
  return {
    verdict,
    why: why.join(" "),
    repeatabilityPm: scatter,
    result: {
      repeatability: size(scatter),
      repeatability_limits: null,
      bias: size(summarize(y).mean),
      crossed: null,
      one_part: null,
      linearity: {
        slope: round(line.slope.value),
        slope_limits: line.slope.limits.map(round),
        slope_chance: chanceText(line.slope.chance),
        intercept: size(line.intercept.value),
        intercept_limits: line.intercept.limits.map(size),
        intercept_chance: chanceText(line.intercept.chance),
        r_squared: line.rSquared === undefined ? null : round(line.rSquared),
        points: points.map(({ reference, n, bias, value, limits }) => ({
          reference: size(reference),
          readings: n,
          bias: size(bias),
          line: size(value),
          line_limits: limits.map(size),
        })),
      },
    } satisfies StudyFigures,
  };
}
