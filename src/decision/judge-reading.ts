import { fromNumeric, parseLength, toUnit } from "../core/quantity.js";
import { probabilityWithin } from "../core/statistics/normal.js";
import {
  type Disposition,
  decideConformity,
  disposeNonconforming,
  toleranceUsed,
  type Verdict,
} from "../core/tolerance/decide-conformity.js";
import { findSlip } from "../core/tolerance/find-slip.js";
import type { JournalReading, OpenQuestion } from "../core/wear-offset/follow-block.js";
import type { BatchView, FeatureView, GaugeView } from "./batch-view.js";
import { isTooCoarse } from "./batch-work.js";
import type { ReadingRow } from "./queries.js";
import { sayPm, saySlip } from "./words.js";

export type Flag =
  | "implausible"
  | "gauge_overdue"
  | "gauge_too_coarse"
  | "late"
  | "duplicate"
  | "readings_disagree"
  | "piece_unsure"
  | "earlier_reading_failed";

export interface JudgedReading {
  verdict: Verdict;
  disposition: Disposition;
  flags: Flag[];
  slip: string | null;
  probability: number;
}

interface Circumstances {
  readingNo: number;
  cut: number;
  sizePm: number;
  valueGiven: string;
  unit: ReadingRow["unit"];
  late: boolean;
  overdue: boolean;
  unsure: boolean;
  questions: readonly OpenQuestion[];
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
  const implausible = question?.ask === 2;
  const coarse = isTooCoarse(gauge, room);
  if (implausible) flags.push("implausible");
  if (question?.ask === 3) flags.push("readings_disagree");
  if (now.overdue) flags.push("gauge_overdue");
  if (coarse) flags.push("gauge_too_coarse");
  if (now.late) flags.push("late");
  if (now.unsure) flags.push("piece_unsure");
  const byLimits = decideConformity(sizePm, {
    lowerPm: feature.lowerPm,
    upperPm: feature.upperPm,
    rule: view.part.rule,
    guardBandFactor: 1,
    expandedUncertaintyPm: gauge.expandedPm,
  });
  const verdict = implausible ? "uncertain" : byLimits;
  const failedBefore = now.pieceReadings.some(
    (other) =>
      other.feature === feature.index &&
      other.cut === now.cut &&
      other.readingNo !== readingNo &&
      isOutside(other.sizePm, feature),
  );
  if (failedBefore && verdict === "conforming") flags.push("earlier_reading_failed");
  let disposition: Disposition;
  if (verdict === "uncertain" || question || coarse) disposition = "remeasure";
  else if (verdict === "nonconforming")
    disposition = disposeNonconforming(sizePm, feature.upperPm, feature.metal);
  else disposition = now.overdue || failedBefore ? "remeasure" : "accept";
  return {
    verdict,
    disposition,
    flags,
    slip: implausible ? nameSlip(view, feature, now, question) : null,
    probability: probabilityWithin(
      sizePm / 1e9,
      gauge.standardMm,
      feature.lowerPm === undefined ? undefined : feature.lowerPm / 1e9,
      feature.upperPm === undefined ? undefined : feature.upperPm / 1e9,
    ),
  };
}

export function isOutside(
  sizePm: number,
  limits: { lowerPm: number | undefined; upperPm: number | undefined },
): boolean {
  return sizePm < (limits.lowerPm ?? sizePm) || sizePm > (limits.upperPm ?? sizePm);
}

function nameSlip(
  view: BatchView,
  feature: FeatureView,
  now: Circumstances,
  question: OpenQuestion,
): string | null {
  const typed = { text: now.valueGiven, unit: now.unit, sizePm: now.sizePm };
  const slip = findSlip(typed, question.expectedPm, feature.nominalPm, question.withinPm, parseLength);
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
  feature: Pick<FeatureView, "characteristic" | "nominalPm" | "lowerPm" | "upperPm">,
  { unit, rule }: Pick<BatchView["part"], "unit" | "rule">,
) {
  const size = (pm: number | undefined) => (pm === undefined ? null : toUnit(pm, unit));
  const targetPm = fromNumeric(row.target_mm); // the target of that day: it may have been moved since
  const used = toleranceUsed(sizePm, targetPm, feature.lowerPm, feature.upperPm);
  return {
    reading_id: `${row.batch_id}-${row.reading_no}`,
    feature_id: row.feature_id,
    characteristic: feature.characteristic,
    batch_id: row.batch_id,
    piece: row.piece,
    cut: row.cut,
    repeat: row.repeat,
    value: Number(row.value_given),
    unit: row.unit,
    size: toUnit(sizePm, unit),
    size_unit: unit,
    verdict: row.verdict,
    disposition: row.disposition,
    deviation: toUnit(sizePm - feature.nominalPm, unit),
    from_target: toUnit(sizePm - targetPm, unit),
    tolerance_used: used === undefined ? null : Number(used.toFixed(6)),
    lower_limit: size(feature.lowerPm),
    upper_limit: size(feature.upperPm),
    target: toUnit(targetPm, unit),
    decision_rule: rule,
    expanded_uncertainty:
      row.expanded_uncertainty_mm === null ? null : toUnit(fromNumeric(row.expanded_uncertainty_mm), unit),
    probability_conforming: Number(row.probability_conforming.toFixed(6)),
    flags: row.flags,
    slip: row.slip,
    hold: row.hold_from === null ? null : { from_piece: row.hold_from, to_piece: row.hold_to! },
    gauge_id: row.gauge_id,
    measured_at: row.measured_at,
    taken_by: row.taken_by,
    serial: row.serial,
    source_id: row.source_id,
    piece_within: row.piece_within,
    voided: null as { at: string; reason: string; by: string | null } | null,
  };
}
export type ShownReading = ReturnType<typeof showReading>;
