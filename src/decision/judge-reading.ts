import { isAttribute } from "../core/feature-kind.js";
import { fromNumeric, type LengthUnit, parseLength, parseMeasure, toUnit } from "../core/quantity.js";
import {
  conformanceProbability,
  type Normal,
  posterior,
  specificRisk,
} from "../core/tolerance/conformity-risk.js";
import {
  type Disposition,
  decisionLimits,
  type Interval,
  isWithin,
  toleranceUsed,
  type Verdict,
} from "../core/tolerance/decide-conformity.js";
import { findSlip } from "../core/tolerance/find-slip.js";
import { isTooCoarse } from "../core/tolerance/gauge-fitness.js";
import type { PieceForecast } from "../core/wear-offset/follow-block.js";
import { surpriseGate } from "../core/wear-offset/joint-test.js";
import type { JournalReading } from "../core/wear-offset/progress.js";
import type { OpenQuestion } from "../core/wear-offset/settle-readings.js";
import type { BatchView } from "./batch-view.js";
import { decideMeasured, disposeFailed, requirementOf } from "./decide-measured.js";
import type { FeatureView, RuledFeature } from "./feature-view.js";
import type { GaugeView } from "./gauge-view.js";
import { beyondDoubt, judgedOf, sayLearned, storedDeviation } from "./learned-deviation.js";
import { sayFit, showFit } from "./measured-points.js";
import { type Measured, measuredOf } from "./measured-value.js";
import type { ReadingRow } from "./queries.js";
import { isWarm, type Reduction } from "./reduce-reading.js";
import { sayMeasured, sayWhy } from "./say-measured.js";
import { optionalPm } from "./stored-size.js";
import { sayPm, saySlip } from "./words.js";

export type Flag =
  | "implausible"
  | "gauge_overdue"
  | "gauge_too_coarse"
  | "gauge_in_doubt"
  | "gauge_not_compared"
  | "too_alike"
  | "warm_part"
  | "late"
  | "clock_ahead"
  | "duplicate"
  | "readings_disagree"
  | "piece_unsure"
  | "earlier_reading_failed"
  | "no_value"
  | "size_not_known"
  | "size_out";

export interface JudgedReading {
  verdict: Verdict;
  disposition: Disposition;
  /** The gauge is too coarse for what counts. */
  coarse: boolean;
  /** By its own rule and gauge alone, whatever surprises or came before: what holds go by. */
  fails: boolean;
  proves: boolean;
  /** Another reading of the same cut fails the piece. */
  pieceFailed: boolean;
  flags: Flag[];
  slip: string | null;
  /** Null: of what passes or fails, or is counted, nobody knows it. */
  probability: number | null;
  prior: ReadingRow["prior"];
  /** What the size of the feature adds to the tolerance of its position; null: nothing does. */
  bonusPm: number | null;
}

interface Circumstances {
  readingNo: number;
  cut: number;
  /** As it is judged: less what the gauge is known to read beside the reference. */
  measured: Measured;
  /** As it was read, and the gauge by itself. */
  read: { measured: Measured; gauge: GaugeView };
  /** What the gauge reads beside the reference is not known well enough. */
  notCompared: boolean;
  reduction: Reduction | undefined;
  valueGiven: string | null;
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

/**
 * Verdict, disposition and flags of one reading. Proof only: what it does to the registers is decided elsewhere.
 * @param feature with the rule that counts for this reading
 * @param gauge with what the deviation taken off leaves unsure
 */
export function judgeReading(
  view: BatchView,
  feature: FeatureView,
  gauge: GaugeView,
  now: Circumstances,
): JudgedReading {
  const { measured, readingNo } = now;
  const decided = decideMeasured(measured, feature, gauge.expandedPm);
  const bonusPm = decided.bonus?.bonusPm ?? null;
  if (measured.state !== null) {
    const flags: Flag[] = now.overdue ? ["no_value", "gauge_overdue"] : ["no_value"];
    const open = {
      coarse: false,
      fails: false,
      proves: false,
      pieceFailed: false,
      slip: null,
      probability: null,
      bonusPm,
    } as const;
    return { verdict: decided.verdict, disposition: "remeasure", flags, prior: "flat", ...open };
  }
  const flags: Flag[] = [];
  const room = roomOf(measured, feature, decided.limits.upperPm);
  const question = now.questions.find((asked) => asked.readingNos.includes(readingNo));
  const implausible = question?.ask === 2 && question.reference === undefined;
  const coarse = isTooCoarse(now.read.gauge.standardMm, room);
  if (implausible) flags.push("implausible");
  if (question?.ask === 3 || question?.reference === "gauges_disagree") flags.push("readings_disagree");
  if (now.overdue) flags.push("gauge_overdue");
  if (isTooCoarse((now.reduction?.gaugeItself ?? now.read.gauge).standardMm, room))
    flags.push("gauge_too_coarse");
  if (now.notCompared) flags.push("gauge_not_compared");
  if (now.reduction && isWarm(now.reduction, feature, room)) flags.push("warm_part");
  if (now.late) flags.push("late");
  if (now.clockAhead) flags.push("clock_ahead");
  if (now.unsure) flags.push("piece_unsure");
  if (decided.bonus?.sizeOut) flags.push("size_out");
  if (feature.condition && measured.featureSizePm === undefined) flags.push("size_not_known");
  const verdict = implausible ? "uncertain" : decided.verdict;
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
  else if (verdict === "nonconforming") disposition = disposeFailed(measured, feature, decided);
  else disposition = now.overdue || now.doubted || failedBefore ? "remeasure" : "accept";
  // The process has been learned through this very gauge, so that it does not speak for itself.
  const prior = now.unsure || question || gauge !== now.read.gauge ? undefined : priorOf(now, gauge);
  return {
    verdict,
    disposition,
    coarse,
    fails: decided.verdict === "nonconforming",
    proves: decided.verdict === "conforming" && gauge.reference && !coarse && !now.overdue,
    pieceFailed: failedBefore,
    flags,
    slip: implausible ? nameSlip(view, feature, now, question) : null,
    probability: probabilityOf(measured, feature.kind, gauge, prior, decided.limits),
    prior: prior ? "process" : "flat",
    bonusPm,
  };
}

/** Room from target to the nearer limit as it counts for one reading: a bonus widens it. In mm, for an angle arcseconds. */
function roomOf({ sizePm }: Measured, feature: FeatureView, upperPm: number | undefined): number {
  if (sizePm === undefined) return Number.POSITIVE_INFINITY;
  return feature.condition ? upperPm! / 1e9 : feature.roomMm;
}

function probabilityOf(
  { sizePm }: Measured,
  kind: FeatureView["kind"],
  gauge: GaugeView,
  prior: Normal | undefined,
  { lowerPm, upperPm }: Interval,
): number | null {
  if (sizePm === undefined || kind === "count") return null;
  const belief = posterior({ mean: sizePm / 1e9, standardDeviation: gauge.standardMm }, prior);
  const mm = (pm: number | undefined) => (pm === undefined ? undefined : pm / 1e9);
  return conformanceProbability(belief, mm(lowerPm), mm(upperPm));
}

/**
 * What the process says of the piece before it is read, for the probability only. A reading that the process does not
 * explain is no piece of it, and a piece cut again is another one: both stand for themselves.
 */
function priorOf(
  { forecast, cut, measured: { sizePm } }: Circumstances,
  gauge: GaugeView,
): Normal | undefined {
  if (!forecast || cut > 1 || sizePm === undefined) return undefined;
  const { meanMm: mean, deviationMm: standardDeviation } = forecast;
  const within = surpriseGate * Math.hypot(standardDeviation, gauge.standardMm);
  return Math.abs(sizePm / 1e9 - mean) <= within ? { mean, standardDeviation } : undefined;
}

function nameSlip(
  view: BatchView,
  feature: FeatureView,
  now: Circumstances,
  question: OpenQuestion,
): string | null {
  if (now.valueGiven === null) return null;
  // A slip was made in what the gauge showed, so that is what is compared.
  const asRead = (pm: number) => now.reduction?.asRead(pm) ?? pm;
  const sizePm = now.reduction?.sizeAsReadPm ?? now.read.measured.sizePm!;
  const typed = { text: now.valueGiven, unit: now.unit as LengthUnit, sizePm };
  const [expectedPm, nominalPm] = [asRead(question.expectedPm), asRead(feature.nominalPm)];
  const slip = findSlip(typed, expectedPm, nominalPm, question.withinPm, parseLength);
  return slip ? saySlip(slip.kind, sayPm(roundTo(slip.sizePm, view.part.unit), view.part.unit)) : null;
}

/** A guessed size is shown to 0.1 µm or 0.00001 inch. */
function roundTo(pm: number, unit: "mm" | "inch"): number {
  const step = unit === "mm" ? 1e5 : 254e3;
  return Math.round(pm / step) * step;
}

/** A stored reading as the wire shows it: sizes in the feature's unit, `value` in its own. */
export function showReading(row: ReadingRow, ownFeature: RuledFeature) {
  const notCompared = row.flags.includes("gauge_not_compared" satisfies Flag);
  const feature = notCompared ? beyondDoubt(ownFeature) : ownFeature;
  const { unit, early } = feature;
  const read = measuredOf(row);
  const learned = storedDeviation(row);
  const { measured, expandedPm } = judgedOf(row);
  const { sizePm, offsetsPm, featureSizePm } = measured;
  const size = (pm: number | undefined) => (pm === undefined ? null : toUnit(pm, unit));
  const stored = (numeric: string | null) => size(optionalPm(numeric));
  const given = (pm: number | undefined) => (pm === undefined ? null : toUnit(pm, row.unit!));
  const shiftedPm = row.size_as_read_mm === null ? read.sizePm : fromNumeric(row.size_as_read_mm);
  const errorPm = optionalPm(row.gauge_error_mm);
  const targetPm = fromNumeric(row.target_mm); // the target of that day: it may have been moved since
  const decided = decideMeasured(measured, feature, expandedPm);
  const { lowerPm, upperPm } = decided.limits;
  const limits = decisionLimits(requirementOf({ ...feature, ...decided.limits }, expandedPm));
  const { acceptance, rejection } = limits;
  const ends = (interval: Interval | undefined) => interval ?? { lowerPm: undefined, upperPm: undefined };
  const probability = row.probability_conforming;
  const risk = probability === null ? undefined : specificRisk(row.verdict, probability);
  const attribute = isAttribute(feature.kind);
  const hasNominal = !attribute && feature.kind !== "roughness" && feature.kind !== "count";
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
    value: valueShown(row, read.sizePm),
    unit: row.unit === "1" ? null : row.unit,
    rocked: row.rocked?.map(Number) ?? null,
    dx: given(offsetsPm?.dx),
    dy: given(offsetsPm?.dy),
    dz: given(offsetsPm?.dz),
    result: row.result,
    turns: optionalNumber(row.turns),
    state: row.state,
    size: size(sizePm),
    size_unit: unit === "1" ? null : unit,
    size_as_read: shiftedPm === undefined ? null : toUnit(shiftedPm + (errorPm ?? 0), unit),
    gauge_error: size(errorPm),
    gauge_doubt: stored(row.gauge_doubt_mm),
    gauge_deviation: stored(row.gauge_deviation_mm),
    gauge_deviation_uncertainty: stored(row.gauge_deviation_uncertainty_mm),
    temperature_c: optionalNumber(row.temperature_c),
    gauge_temperature_c: optionalNumber(row.gauge_temperature_c),
    temperature_correction: row.size_as_read_mm === null ? null : toUnit(read.sizePm! - shiftedPm!, unit),
    temperature_correction_uncertainty: stored(row.temperature_correction_uncertainty_mm),
    expansion_coefficient: optionalNumber(row.expansion_coefficient),
    gauge_expansion_coefficient: optionalNumber(row.gauge_expansion_coefficient),
    feature_size: size(featureSizePm),
    bonus: stored(row.bonus_mm),
    verdict: row.verdict,
    disposition: row.disposition,
    why: sayWhy(row, measured, feature, decided, limits),
    arithmetic: [
      ...(row.fit ? sayFit(row.fit, feature) : []),
      ...sayLearned(learned, read, feature, notCompared),
      ...sayMeasured(measured, feature, decided),
    ],
    fit: showFit(row.fit, feature.unit as LengthUnit),
    advice: row.advice,
    deviation: sizePm === undefined || !hasNominal ? null : toUnit(sizePm - feature.nominalPm, unit),
    from_target: sizePm === undefined ? null : toUnit(sizePm - targetPm, unit),
    tolerance_used:
      sizePm === undefined ? null : shareUsed(toleranceUsed(sizePm, targetPm, lowerPm, upperPm)),
    lower_limit: size(lowerPm),
    upper_limit: size(upperPm),
    target: attribute ? null : toUnit(targetPm, unit),
    operation_limits: early && {
      operation: early.operation,
      reason: early.reason,
      final_lower_limit: size(early.finalLowerPm),
      final_upper_limit: size(early.finalUpperPm),
      size_after_plating:
        early.growthPm === undefined || sizePm === undefined ? null : size(sizePm + early.growthPm),
    },
    decision_rule: attribute ? null : feature.rule,
    expanded_uncertainty: size(expandedPm),
    guard_band: attribute ? null : size(limits.guardBandPm),
    lower_acceptance_limit: size(ends(acceptance).lowerPm),
    upper_acceptance_limit: size(ends(acceptance).upperPm),
    lower_rejection_limit: size(ends(rejection).lowerPm),
    upper_rejection_limit: size(ends(rejection).upperPm),
    probability_conforming: probability === null ? null : Number(probability.toFixed(6)),
    prior: row.prior,
    risk: risk ? { borne_by: risk.borneBy, probability: Number(risk.probability.toFixed(9)) } : null,
    flags: row.gauge_doubt_mm === null ? row.flags : [...row.flags, "gauge_in_doubt" satisfies Flag],
    slip: row.slip,
    gauge_advice: row.gauge_advice,
    hold: showHeld(row),
    gauge_id: row.gauge_id,
    measured_at: row.measured_at,
    taken_by: row.taken_by,
    key: row.key_name,
    serial: row.serial,
    source_id: row.source_id,
    piece_within: row.piece_within,
    seat: row.seat,
    seat_given: row.seat_given,
    voided: null as { at: string; reason: string; by: string | null } | null,
  };
}

/** What was sent as a number of its unit: an angle in degrees, minutes and seconds and the offsets of a position come out so. */
function valueShown({ value_given, unit }: ReadingRow, sizePm: number | undefined): number | null {
  if (unit === null || sizePm === undefined) return null;
  if (value_given === null) return toUnit(sizePm, unit);
  const plain = Number(value_given);
  return Number.isFinite(plain) ? plain : toUnit(parseMeasure(value_given, unit)!, unit);
}

/** Pieces in doubt as the reading left them; provisional where it is not settled yet what the piece measures. */
function showHeld(row: ReadingRow) {
  const { verdict, hold_from: from_piece, hold_to: to_piece } = row;
  if (from_piece === null || to_piece === null) return null;
  const provisional = verdict !== "nonconforming";
  return { from_piece, to_piece, provisional, released_by: provisional ? sayReleased(row) : null };
}

function sayReleased({ piece, fails, hold_from: from, hold_to: to }: ReadingRow): string {
  const itself = `Piece ${piece} itself is free when the misreading has been voided.`;
  if (from === to) return itself;
  const free = "by a gauge that may prove it, the other pieces are free by themselves";
  return fails
    ? `Measure piece ${piece} again. With two good readings of it, ${free}; a second bad one makes the hold final. ${itself}`
    : `Measure piece ${piece} once more. With more good readings of it than bad ones, ${free}. ${itself}`;
}

/** Null: there is no limit on that side, or the target stands on it. */
function shareUsed(used: number | undefined): number | null {
  return used === undefined || !Number.isFinite(used) ? null : Number(used.toFixed(6));
}

function optionalNumber(numeric: string | null): number | null {
  return numeric === null ? null : Number(numeric);
}

export type ShownReading = ReturnType<typeof showReading>;
