import { isSize } from "../core/feature-kind.js";
import { fromNumeric, toNumeric } from "../core/quantity.js";
import { isTooCoarse } from "../core/tolerance/gauge-fitness.js";
import type { Taken } from "./batch-work.js";
import type { FeatureView, RuledFeature } from "./feature-view.js";
import type { GaugeView } from "./gauge-view.js";
import { type Measured, measuredOf } from "./measured-value.js";
import type { ReadingRow } from "./queries.js";
import { optionalPm } from "./stored-size.js";
import { sayPm, saySize } from "./words.js";

/**
 * How far a gauge reads from the reference gauge of a feature, as it was known when a reading of it was judged: a reading by a
 * reference gauge is judged as it reads, any other less this. Kept with the reading, so that what is learned later changes
 * no verdict. Whole picometres.
 */
export interface LearnedDeviation {
  /** Above 0: it reads too large. */
  deviationPm: number;
  /** Standard uncertainty of that. */
  standardPm: number;
}

/** What has been learned of the gauge before a reading by it; undefined: it is the reference, or none is named. */
export function learnedDeviation(
  { deviations }: Pick<Taken, "deviations">,
  piece: number,
  feature: FeatureView,
  gauge: GaugeView,
): LearnedDeviation | undefined {
  if (!isSize(feature.kind)) return undefined;
  const found = deviations
    .get(piece)
    ?.find((known) => known.feature === feature.index && known.gauge === gauge.gaugeId);
  return (
    found && {
      deviationPm: Math.round(found.mean * 1e9),
      standardPm: Math.round(found.standardDeviation * 1e9),
    }
  );
}

export function deviationColumns(learned: LearnedDeviation | undefined) {
  return {
    gauge_deviation_mm: learned ? toNumeric(learned.deviationPm) : null,
    gauge_deviation_uncertainty_mm: learned ? toNumeric(learned.standardPm) : null,
  };
}

/** The same, back from its columns. */
export function storedDeviation(
  row: Pick<ReadingRow, "gauge_deviation_mm" | "gauge_deviation_uncertainty_mm">,
): LearnedDeviation | undefined {
  if (row.gauge_deviation_mm === null) return undefined;
  return {
    deviationPm: fromNumeric(row.gauge_deviation_mm),
    standardPm: fromNumeric(row.gauge_deviation_uncertainty_mm!),
  };
}

/** The size that a stored reading was judged by; undefined: it passed or failed, or there is none. */
export function judgedSizePm(row: Pick<ReadingRow, "value_mm" | "gauge_deviation_mm">): number | undefined {
  const { value_mm, gauge_deviation_mm } = row;
  if (value_mm === null) return undefined;
  return fromNumeric(value_mm) - (gauge_deviation_mm === null ? 0 : fromNumeric(gauge_deviation_mm));
}

/** The size that is judged: as read less what the gauge reads too large. */
function lessDeviation(measured: Measured, learned: LearnedDeviation | undefined): Measured {
  if (!learned || measured.sizePm === undefined) return measured;
  return { ...measured, sizePm: measured.sizePm - learned.deviationPm };
}

/**
 * U of the size that is judged: √(U² + (2·u)²), u that of the deviation. Where the gauge's own U is not known, twice its
 * standard deviation takes its place while the deviation is unsure.
 */
function expandedWith(
  gauge: { expandedPm: number | undefined; variance: number },
  learned: LearnedDeviation | undefined,
  unsure: boolean,
): number | undefined {
  const expandedPm = gauge.expandedPm ?? (unsure ? 2e9 * Math.sqrt(gauge.variance) : undefined);
  if (!learned || expandedPm === undefined) return expandedPm;
  return Math.round(Math.hypot(expandedPm, 2 * learned.standardPm));
}

/** What a stored reading was judged by: its size less what the gauge reads too large, and U with the doubt of that. */
export function judgedOf(row: ReadingRow): { measured: Measured; expandedPm: number | undefined } {
  const learned = storedDeviation(row);
  const gauge = { expandedPm: optionalPm(row.expanded_uncertainty_mm), variance: row.gauge_variance };
  return {
    measured: lessDeviation(measuredOf(row), learned),
    expandedPm: expandedWith(gauge, learned, row.flags.includes("gauge_not_compared")),
  };
}

/**
 * While what a gauge reads beside the reference is not known well enough, its readings decide only what is beyond doubt,
 * whatever the feature's own rule: inside or outside the limits by more than they may be off.
 */
export function beyondDoubt<F extends RuledFeature>(feature: F): F {
  return { ...feature, rule: "iso_14253", guardBandFactor: 1 };
}

interface Read {
  feature: FeatureView;
  gauge: GaugeView;
  measured: Measured;
}

/** A reading as it is judged: size, uncertainty and rule with what its gauge is known to read beside the reference. */
export function asJudged<R extends Read>(
  read: R,
  learned: LearnedDeviation | undefined,
): R & { unsure: boolean } {
  if (!learned) return { ...read, unsure: false };
  const { gauge } = read;
  const standardMm = Math.hypot(gauge.standardMm, learned.standardPm / 1e9);
  const unsure = isTooCoarse(standardMm, read.feature.roomMm);
  return {
    ...read,
    measured: lessDeviation(read.measured, learned),
    gauge: { ...gauge, standardMm, expandedPm: expandedWith(gauge, learned, unsure) },
    feature: unsure ? beyondDoubt(read.feature) : read.feature,
    unsure,
  };
}

/** How the size that is judged comes about, line by line. */
export function sayLearned(
  learned: LearnedDeviation | undefined,
  { sizePm }: Measured,
  { unit }: Pick<RuledFeature, "unit">,
  unsure: boolean,
): string[] {
  if (!learned || sizePm === undefined) return [];
  const { deviationPm, standardPm } = learned;
  const known = `± ${saySize(2 * standardPm, unit)}`;
  const side = deviationPm < 0 ? "small" : "large";
  const beside =
    deviationPm === 0
      ? `Beside the reference gauge it is taken to read right (${known}).`
      : `Beside the reference gauge this one reads ${saySize(Math.abs(deviationPm), unit)} too ${side} (${known}).`;
  const judged = `Size that is judged: ${sayPm(sizePm, unit)} ${deviationPm < 0 ? "+" : "−"} ${sayPm(Math.abs(deviationPm), unit)} = ${sayPm(sizePm - deviationPm, unit)}.`;
  const doubt =
    "That is not known well enough to decide a close one: the limits count only where the size is inside or outside by more than it may be off.";
  return [beside, judged, ...(unsure ? [doubt] : [])];
}
