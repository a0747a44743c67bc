import { fromNumeric, mmPerInch, showMm, toUnit } from "../../core/quantity.js";
import type { CorrectionFeature } from "../../decision/answered-advice.js";
import type { listFound, listUntil } from "./queries.js";

export interface Applied {
  batch_id: string;
  correction_no: number;
  register_id: string | null;
  status: string;
  from_piece: number | null;
  from_cut: number | null;
  value_after_mm: string | null;
  value_set_mm: string | null;
  value_now_mm: string | null;
  value_found_mm: string | null;
  features: unknown;
}

/** A change that counts: it was applied, and not voided since. */
export function isInForce<Row extends Applied>(row: Row): boolean {
  return row.status === "applied" && row.register_id !== null && row.from_piece !== null;
}

type Until = Awaited<ReturnType<typeof listUntil>>[number];
type Found = Awaited<ReturnType<typeof listFound>>[number];

/**
 * What an applied change did: the size that it promised, for the value that was really set, beside what the first pieces
 * cut with it have read.
 */
export function outcomeOf(row: Applied, until: Until | undefined, found: readonly Found[]) {
  if (!isInForce(row)) return null;
  // One key more or less than advised moves the promise by its effect.
  const beyondMm =
    row.value_set_mm && row.value_after_mm
      ? (fromNumeric(row.value_set_mm) - fromNumeric(row.value_after_mm)) / 1e9
      : 0;
  const features = (row.features as CorrectionFeature[]).map((feature) => {
    const place = feature.place ?? null;
    const mine = found.filter((read) => read.feature_id === feature.feature_id && read.place === place);
    const expected = toMm(feature.expected_after, feature.unit) + feature.effect * beyondMm;
    const sizes = mine.map(({ value_mm }) => fromNumeric(value_mm));
    const mean = sizes.reduce((sum, pm) => sum + pm / 1e9, 0) / sizes.length;
    return {
      feature_id: feature.feature_id,
      place,
      unit: feature.unit,
      expected_before: feature.expected_before,
      promised: showMm(expected, feature.unit),
      first_piece: mine[0]?.piece ?? null,
      first_size: sizes[0] === undefined ? null : toUnit(sizes[0], feature.unit),
      pieces: mine.map(({ piece }) => piece),
      mean_size: sizes.length > 0 ? showMm(mean, feature.unit) : null,
      off_promise: sizes.length > 0 ? showMm(mean - expected, feature.unit) : null,
    };
  });
  return {
    from_piece: row.from_piece!,
    until_piece: until ? (until.from_cut > 1 ? until.from_piece : until.from_piece - 1) : null,
    features,
  };
}

function toMm(size: number, unit: "mm" | "inch"): number {
  return unit === "mm" ? size : size * mmPerInch;
}
