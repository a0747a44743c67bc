import type { z } from "zod";
import type { TableRow } from "../../http/table.js";
import type { CorrectionRecord } from "./schemas.js";

/** What a table says besides of each correction. */
interface Names {
  batch: string;
  part_number: string;
  revision: string;
  tool: string | null;
}

export const correctionColumns = [
  "correction_id",
  "status",
  "kind",
  "batch_id",
  "batch",
  "part_number",
  "revision",
  "tool_id",
  "tool",
  "register_id",
  "register_number",
  "register_label",
  "unit",
  "piece",
  "reading_ids",
  "value_now",
  "change",
  "value_after",
  "value_found",
  "value_set",
  "from_piece",
  "from_cut",
  "until_piece",
  "proposed_at",
  "applied_at",
  "applied_by",
  "ended_at",
  "by",
  "reason",
  "found",
  "was_withdrawn",
  "feature_id",
  "place",
  "feature_unit",
  "effect",
  "expected_before",
  "expected_after",
  "promised",
  "first_piece",
  "first_size",
  "pieces",
  "mean_size",
  "off_promise",
  "why",
] as const;

const noFeature = {
  feature_id: null,
  place: null,
  feature_unit: null,
  effect: null,
  expected_before: null,
  expected_after: null,
};
const noOutcome = {
  promised: null,
  first_piece: null,
  first_size: null,
  pieces: null,
  mean_size: null,
  off_promise: null,
};

/** A row for each feature that the correction moves; one where it moves none. */
export function tabulateCorrection(
  record: z.infer<typeof CorrectionRecord>,
  names: Names,
): TableRow<(typeof correctionColumns)[number]>[] {
  const { batch, part_number, revision, tool } = names;
  const { features, outcome } = record;
  const about = {
    ...record,
    batch,
    part_number,
    revision,
    tool,
    reading_ids: record.reading_ids.join(" "),
    until_piece: outcome?.until_piece ?? null,
  };
  if (features.length === 0) return [{ ...about, ...noFeature, ...noOutcome }];
  return features.map(({ feature_id, place, unit, effect, expected_before, expected_after }) => {
    const did = outcome?.features.find((it) => it.feature_id === feature_id && it.place === place);
    return {
      ...about,
      feature_id,
      place,
      feature_unit: unit,
      effect,
      expected_before,
      expected_after,
      ...(did ? { ...did, pieces: did.pieces.join(" ") } : noOutcome),
      unit: record.unit,
    };
  });
}
