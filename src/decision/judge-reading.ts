import { fromNumeric, parseLength, toUnit } from "../core/quantity.js";
import {
  conformanceProbability,
  type Normal,
  posterior,
  specificRisk,
} from "../core/tolerance/conformity-risk.js";
import {
  type Disposition,
  decideConformity,
  decisionLimits,
  disposeNonconforming,
  type Interval,
  isWithin,
  type Requirement,
  toleranceUsed,
  type Verdict,
} from "../core/tolerance/decide-conformity.js";
import { findSlip } from "../core/tolerance/find-slip.js";
import { isTooCoarse } from "../core/tolerance/gauge-fitness.js";
import type { PieceForecast } from "../core/wear-offset/follow-block.js";
import { surpriseGate } from "../core/wear-offset/joint-test.js";
import type { JournalReading } from "../core/wear-offset/progress.js";
import type { OpenQuestion } from "../core/wear-offset/settle-readings.js";
import { type BatchView, type FeatureView, type GaugeView, optionalPm } from "./batch-view.js";
import type { ReadingRow } from "./queries.js";
import { isWarm, type Reduction } from "./reduce-reading.js";
import { sayDoubt, sayPm, saySlip } from "./words.js";

export type Flag =
  | "implausible"
  | "gauge_overdue"
  | "gauge_too_coarse"
  | "gauge_in_doubt"
  | "too_alike"
  | "warm_part"
  | "late"
  | "clock_ahead"
  | "duplicate"
  | "readings_disagree"
  | "piece_unsure"
  | "earlier_reading_failed";

export interface JudgedReading {
  verdict: Verdict;
  disposition: Disposition;
  /** By its own rule and gauge alone, whatever surprises or came before: what holds go by. */
  fails: boolean;
  proves: boolean;
  flags: Flag[];
  slip: string | null;
  probability: number;
  prior: ReadingRow["prior"];
}

/** What decides about a feature's readings. */
type Ruled = Pick<FeatureView, "lowerPm" | "upperPm" | "rule" | "guardBandFactor">;

interface Circumstances {
  readingNo: number;
  cut: number;
  sizePm: number;
  reduction: Reduction | undefined;
  valueGiven: string;
  unit: ReadingRow["unit"];
  late: boolean;
  /** It claims to be of the future. */
  clockAhead: boolean;
  overdue: boolean;
  /** A check shows the gauge off. */
  doubted: boolean;
  unsure: boolean;
  questions: readonly OpenQuestion[];
  /** What the process said of the feature before this piece; undefined: it is not known. */
  forecast: PieceForecast | undefined;
  /** All readings of the piece in this block. */
  pieceReadings: readonly JournalReading[];
}

/** Verdict, disposition and flags of one reading. Proof only: what it does to the registers is decided elsewhere. */
export function judgeReading(
  view: BatchView,
  feature: FeatureView,
  gauge: GaugeView,
  now: Circumstances,
): JudgedReading {
  const { sizePm, readingNo } = now;
  const room = view.blocks[feature.block]!.block.features[feature.index]!.roomMm;
  const flags: Flag[] = [];
  const question = now.questions.find((asked) => asked.readingNos.includes(readingNo));
  const implausible = question?.ask === 2 && question.reference === undefined;
  const coarse = isTooCoarse(gauge.standardMm, room);
  if (implausible) flags.push("implausible");
  if (question?.ask === 3 || question?.reference === "gauges_disagree") flags.push("readings_disagree");
  if (now.overdue) flags.push("gauge_overdue");
  if (isTooCoarse((now.reduction?.gaugeItself ?? gauge).standardMm, room)) flags.push("gauge_too_coarse");
  if (now.reduction && isWarm(now.reduction, feature, room)) flags.push("warm_part");
  if (now.late) flags.push("late");
  if (now.clockAhead) flags.push("clock_ahead");
  if (now.unsure) flags.push("piece_unsure");
  const byRule = decideConformity(sizePm, requirementOf(feature, gauge.expandedPm));
  const verdict = implausible ? "uncertain" : byRule;
  const failedBefore = now.pieceReadings.some(
    (other) =>
      other.feature === feature.index &&
      other.cut === now.cut &&
      other.readingNo !== readingNo &&
      (other.fails ?? !isWithin(other.sizePm, feature)),
  );
  if (failedBefore && verdict === "conforming") flags.push("earlier_reading_failed");
  let disposition: Disposition;
  if (verdict === "uncertain" || question || coarse) disposition = "remeasure";
  else if (verdict === "nonconforming")
    disposition = disposeNonconforming(sizePm, feature.upperPm, feature.metal);
  else disposition = now.overdue || now.doubted || failedBefore ? "remeasure" : "accept";
  const prior = now.unsure || question ? undefined : priorOf(now, gauge);
  const belief = posterior({ mean: sizePm / 1e9, standardDeviation: gauge.standardMm }, prior);
  const mm = (pm: number | undefined) => (pm === undefined ? undefined : pm / 1e9);
  return {
    verdict,
    disposition,
    fails: byRule === "nonconforming",
    proves: byRule === "conforming" && gauge.reference && !coarse && !now.overdue,
    flags,
    slip: implausible ? nameSlip(view, feature, now, question) : null,
    probability: conformanceProbability(belief, mm(feature.lowerPm), mm(feature.upperPm)),
    prior: prior ? "process" : "flat",
  };
}

/**
 * What the process says of the piece before it is read, for the probability only. A reading that the process does not
 * explain is no piece of it, and a piece cut again is another one: both stand for themselves.
 */
function priorOf({ forecast, cut, sizePm }: Circumstances, gauge: GaugeView): Normal | undefined {
  if (!forecast || cut > 1) return undefined;
  const { meanMm: mean, deviationMm: standardDeviation } = forecast;
  const within = surpriseGate * Math.hypot(standardDeviation, gauge.standardMm);
  return Math.abs(sizePm / 1e9 - mean) <= within ? { mean, standardDeviation } : undefined;
}

function requirementOf(feature: Ruled, expandedUncertaintyPm: number | undefined): Requirement {
  const { lowerPm, upperPm, rule, guardBandFactor } = feature;
  return { lowerPm, upperPm, rule, guardBandFactor, expandedUncertaintyPm };
}

/** True where a feature's rule calls a size nonconforming, whatever else is known of the reading. */
export function isNonconforming(sizePm: number, feature: Ruled, expandedPm: number | undefined): boolean {
  return decideConformity(sizePm, requirementOf(feature, expandedPm)) === "nonconforming";
}

function nameSlip(
  view: BatchView,
  feature: FeatureView,
  now: Circumstances,
  question: OpenQuestion,
): string | null {
  // A slip was made in what the gauge showed, so that is what is compared.
  const asRead = (pm: number) => now.reduction?.asRead(pm) ?? pm;
  const sizePm = now.reduction?.sizeAsReadPm ?? now.sizePm;
  const typed = { text: now.valueGiven, unit: now.unit, sizePm };
  const [expectedPm, nominalPm] = [asRead(question.expectedPm), asRead(feature.nominalPm)];
  const slip = findSlip(typed, expectedPm, nominalPm, question.withinPm, parseLength);
  return slip ? saySlip(slip.kind, sayPm(roundTo(slip.sizePm, view.part.unit), view.part.unit)) : null;
}

/** A guessed size is shown to 0.1 µm or 0.00001 inch. */
function roundTo(pm: number, unit: "mm" | "inch"): number {
  const step = unit === "mm" ? 1e5 : 254e3;
  return Math.round(pm / step) * step;
}

/** A stored reading as the wire shows it: sizes in the part's unit, `value` in its own. */
export function showReading(
  row: ReadingRow,
  sizePm: number,
  feature: Ruled & Pick<FeatureView, "characteristic" | "nominalPm" | "early">,
  unit: "mm" | "inch",
) {
  const size = (pm: number | undefined) => (pm === undefined ? null : toUnit(pm, unit));
  const stored = (numeric: string | null) => size(optionalPm(numeric));
  const shiftedPm = row.size_as_read_mm === null ? sizePm : fromNumeric(row.size_as_read_mm);
  const errorPm = optionalPm(row.gauge_error_mm);
  const targetPm = fromNumeric(row.target_mm); // the target of that day: it may have been moved since
  const used = toleranceUsed(sizePm, targetPm, feature.lowerPm, feature.upperPm);
  const expandedPm = optionalPm(row.expanded_uncertainty_mm);
  const limits = decisionLimits(requirementOf(feature, expandedPm));
  const { acceptance, rejection } = limits;
  const ends = (interval: Interval | undefined) => interval ?? { lowerPm: undefined, upperPm: undefined };
  const risk = specificRisk(row.verdict, row.probability_conforming);
  return {
    reading_id: `${row.batch_id}-${row.reading_no}`,
    feature_id: row.feature_id,
    characteristic: feature.characteristic,
    batch_id: row.batch_id,
    piece: row.piece,
    cut: row.cut,
    place: row.place,
    spring_pass: row.spring_pass,
    repeat: row.repeat,
    value: Number(row.value_given),
    unit: row.unit,
    rocked: row.rocked?.map(Number) ?? null,
    size: toUnit(sizePm, unit),
    size_unit: unit,
    size_as_read: toUnit(shiftedPm + (errorPm ?? 0), unit),
    gauge_error: size(errorPm),
    gauge_doubt: stored(row.gauge_doubt_mm),
    temperature_c: optionalNumber(row.temperature_c),
    gauge_temperature_c: optionalNumber(row.gauge_temperature_c),
    temperature_correction: row.size_as_read_mm === null ? null : toUnit(sizePm - shiftedPm, unit),
    temperature_correction_uncertainty: stored(row.temperature_correction_uncertainty_mm),
    expansion_coefficient: optionalNumber(row.expansion_coefficient),
    gauge_expansion_coefficient: optionalNumber(row.gauge_expansion_coefficient),
    verdict: row.verdict,
    disposition: row.disposition,
    why: row.verdict === "uncertain" ? sayDoubt(row.flags, sizePm, feature, limits, unit) : null,
    deviation: toUnit(sizePm - feature.nominalPm, unit),
    from_target: toUnit(sizePm - targetPm, unit),
    tolerance_used: used === undefined ? null : Number(used.toFixed(6)),
    lower_limit: size(feature.lowerPm),
    upper_limit: size(feature.upperPm),
    target: toUnit(targetPm, unit),
    operation_limits: feature.early && {
      operation: feature.early.operation,
      reason: feature.early.reason,
      final_lower_limit: size(feature.early.finalLowerPm),
      final_upper_limit: size(feature.early.finalUpperPm),
      size_after_plating: feature.early.growthPm === undefined ? null : size(sizePm + feature.early.growthPm),
    },
    decision_rule: feature.rule,
    expanded_uncertainty: size(expandedPm),
    guard_band: size(limits.guardBandPm),
    lower_acceptance_limit: size(ends(acceptance).lowerPm),
    upper_acceptance_limit: size(ends(acceptance).upperPm),
    lower_rejection_limit: size(ends(rejection).lowerPm),
    upper_rejection_limit: size(ends(rejection).upperPm),
    probability_conforming: Number(row.probability_conforming.toFixed(6)),
    prior: row.prior,
    risk: risk ? { borne_by: risk.borneBy, probability: Number(risk.probability.toFixed(9)) } : null,
    flags: row.gauge_doubt_mm === null ? row.flags : [...row.flags, "gauge_in_doubt" satisfies Flag],
    slip: row.slip,
    gauge_advice: row.gauge_advice,
    hold: row.hold_from === null ? null : { from_piece: row.hold_from, to_piece: row.hold_to! },
    gauge_id: row.gauge_id,
    measured_at: row.measured_at,
    taken_by: row.taken_by,
    serial: row.serial,
    source_id: row.source_id,
    piece_within: row.piece_within,
    seat: row.seat,
    seat_given: row.seat_given,
    voided: null as { at: string; reason: string; by: string | null } | null,
  };
}

function optionalNumber(numeric: string | null): number | null {
  return numeric === null ? null : Number(numeric);
}

export type ShownReading = ReturnType<typeof showReading>;
