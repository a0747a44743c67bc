import type { Selectable } from "kysely";
import { fromNumeric, toUnit } from "../core/quantity.js";
import type { Database } from "../db/schema.js";
import type { CorrectionFeature } from "./answered-advice.js";
import type { BatchView } from "./batch-view.js";
import type { SaidCause } from "./diagnosis/say-cause.js";

export interface CorrectionRow
  extends Omit<
    Selectable<Database["correction"]>,
    "features" | "cause" | "causes" | "proposed_at" | "ended_at"
  > {
  features: CorrectionFeature[];
  cause: unknown;
  causes: SaidCause[] | null;
}

interface Named {
  register_number: number | null;
  register_label: string | null;
  machine_unit: "mm" | "inch";
}

/** A correction as the wire shows it. */
export function showCorrection(row: CorrectionRow, named: Named) {
  const size = (numeric: string | null) =>
    numeric === null ? null : toUnit(fromNumeric(numeric), named.machine_unit);
  return {
    correction_id: `${row.batch_id}-${row.correction_no}`,
    status: row.status,
    kind: row.kind,
    tool_id: row.tool_id,
    register_id: row.register_id,
    register_number: named.register_number,
    register_label: named.register_label,
    unit: named.machine_unit,
    value_now: size(row.value_now_mm),
    change: size(row.change_mm) ?? 0,
    value_after: size(row.value_after_mm),
    batch_id: row.batch_id,
    piece: row.piece,
    gauge_id: row.gauge_id,
    reading_ids: row.reading_nos.map((no) => `${row.batch_id}-${no}`),
    features: row.features.map((feature) => ({ ...feature, place: feature.place ?? null })),
    causes: row.causes,
    why: row.why,
    arithmetic: row.arithmetic,
    cautions: row.cautions,
    line: row.line,
    from_piece: row.from_piece,
    from_cut: row.from_cut,
    value_found: size(row.value_found_mm),
    value_set: size(row.value_set_mm),
    was_withdrawn: row.was_withdrawn,
    found: row.found,
    reason: row.reason,
    by: row.by_name,
  };
}
export type ShownCorrection = Omit<ReturnType<typeof showCorrection>, "correction_id" | "kind"> & {
  correction_id: string | null;
  kind: CorrectionRow["kind"] | "leave_alone";
};

/** A correction of a batch whose view is at hand. */
export function showNamed(row: CorrectionRow, view: BatchView) {
  const register = row.register_id === null ? undefined : view.registers.get(row.register_id);
  return showCorrection(row, {
    register_number: register?.number ?? null,
    register_label: register?.label ?? null,
    machine_unit: view.machine.unit,
  });
}
