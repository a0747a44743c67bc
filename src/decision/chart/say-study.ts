import { type Assessed, readingsForIndices, type Study } from "./assess.js";
import { round } from "./draw-chart.js";

/** The usual bar for a process that is left alone longer (ISO 22514-2 leaves it to the parties; common practice, no source). */
const usualBar = 1.33;

interface Told {
  pieces: number;
  unit: string;
  confidence: number;
  /** Readings left out since nobody has confirmed them. */
  doubtful: number;
}

/** A study in plain words: the answer first, then what it rests on. */
export function sayStudy(study: Study, { pieces, unit, confidence, doubtful }: Told): string[] {
  const percent = `${confidence * 100} %`;
  if (pieces < readingsForIndices)
    return [
      `${pieces} pieces were read: too few for any index. From ${readingsForIndices} on there is one with its limits, from 50 on two decimals mean something.`,
    ];
  const { within, overall, trend, trending, aboutTrend, shipped, normality, quantiles, steady } = study;
  if (!overall) return ["All readings are alike, or there is no limit: no index can be formed."];
  const says = [sayFirst(overall, percent, steady && doubtful === 0)];
  if (within?.smaller)
    says.push(
      `From piece to piece, between corrections, the spread is ${show(within.spread.s, unit)}: Cpk ${within.smaller.value} (${percent}: ${within.smaller.low} to ${within.smaller.high}), from moving ranges of two, worth ${Math.round(within.spread.degrees)} degrees of freedom (Cryer and Ryan 1990).`,
    );
  if (trend && trending && aboutTrend?.smaller)
    says.push(
      `The size moves by ${show(trend.slope, unit)} per piece. About that line it scatters by ${show(trend.s, unit)}: Cpk ${aboutTrend.smaller.value} if the wear were taken out piece by piece and the aim were met. What was not taken out is in Ppk.`,
    );
  if (shipped?.smaller)
    says.push(
      `As they left the machine: Ppk ${shipped.smaller.value} (${percent}: ${shipped.smaller.low} to ${shipped.smaller.high}).`,
    );
  says.push(sayNormality(normality, quantiles !== undefined));
  says.push(
    "Limits of Cp and Pp by chi-square, of Cpk and Ppk approximately (Bissell 1990), of Cpm approximately (Boyles 1991); all of them hold for normal readings of a process that stays as it is.",
  );
  return says;
}

function sayFirst(overall: Assessed, percent: string, steady: boolean): string {
  const { value, low, high } = overall.smaller!;
  const bar = `Ppk ${value} (${percent}: ${low} to ${high})`;
  if (!steady)
    return `${bar}, but pieces lie beyond their control limits or surprised: find out why before you trust an index, and go on measuring as often.`;
  if (low >= usualBar)
    return `${bar}, all of it above ${usualBar}, and steady: with a gauge that is fit you may measure less often, step by step.`;
  if (value >= usualBar)
    return `${bar}, above ${usualBar}, and steady; so few readings leave it open whether it really is. With a gauge that is fit you may measure less often, step by step.`;
  return `${bar}, below ${usualBar}: go on measuring as often.`;
}

function sayNormality(normality: Study["normality"], quantiles: boolean): string {
  if (!normality)
    return "Whether the readings are normal was not tested: there are too few, or they are alike.";
  const p = normality.p < 0.001 ? "below 0.001" : `${Number(normality.p.toPrecision(2))}`;
  if (normality.p >= 0.05)
    return `Nothing speaks against a normal distribution (Anderson-Darling, p ${p}); that is no proof of one.`;
  const instead = quantiles
    ? "go by the indices by quantiles"
    : "there are too few of them, or too few different ones, for indices by quantiles";
  return `The readings are not normal (Anderson-Darling, p ${p}), which a display with coarse steps can also cause: the indices promise more or less than holds; ${instead}.`;
}

function show(value: number, unit: string): string {
  return `${round(Number(value.toPrecision(2)))}${unit === "1" ? "" : ` ${unit}`}`;
}
