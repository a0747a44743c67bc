import { parseMeasure } from "../core/quantity.js";
import type { FeatureView } from "./feature-view.js";
import { judgedOf } from "./learned-deviation.js";
import type { StoredReading } from "./piece-queries.js";
import { textOf } from "./say-requirement.js";
import { optionalPm } from "./stored-size.js";

/** The reading that stands for a feature of a piece: of its last cut one that failed, else one that proves it, else the latest. */
export function decidingOf(rows: readonly StoredReading[]): StoredReading | undefined {
  const last = rows.at(-1);
  const ofCut = rows.filter(({ cut }) => cut === last?.cut);
  return ofCut.findLast(({ fails }) => fails) ?? ofCut.findLast(({ proves }) => proves) ?? last;
}

const resultWords = {
  pass: "passes",
  fail: "fails",
  go_refuses: "GO refuses",
  no_go_enters: "NO-GO enters",
  not_measured: "not measured",
  error: "gauge error",
  over_range: "over range",
} as const;

/** What was held against the limits, or whether it passed; the unit of a size stands beside it. */
export function resultText(row: StoredReading, feature: Pick<FeatureView, "unit">): string {
  const word = row.state ?? row.result;
  return word === null ? sizeText(row, judgedOf(row).measured.sizePm!, feature) : resultWords[word];
}

/** What a position was allowed with the bonus that its size earned; null: no bonus counted. */
export function allowedWithBonus(
  row: StoredReading,
  { upperPm, unit }: Pick<FeatureView, "upperPm" | "unit">,
): string | null {
  const bonusPm = optionalPm(row.bonus_mm);
  return bonusPm === undefined || upperPm === undefined ? null : textOf(upperPm + bonusPm, unit);
}

/** Digit for digit as the gauge gave it, where that is the very size in the unit of the drawing. */
function sizeText(row: StoredReading, sizePm: number, feature: Pick<FeatureView, "unit">): string {
  const given = row.value_given;
  const plain = given !== null && row.unit === feature.unit && /^[+-]?\d+(\.\d+)?$/.test(given);
  return plain && parseMeasure(given, row.unit!) === sizePm ? given : textOf(sizePm, feature.unit)!;
}
