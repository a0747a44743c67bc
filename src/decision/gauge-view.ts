import type { Selectable } from "kysely";
import { fromNumeric } from "../core/quantity.js";
import type { Expansion } from "../core/temperature/expansion.js";
import type { Database } from "../db/schema.js";
import { knownExpansion } from "../http/expansion.js";
import { optionalPm } from "./stored-size.js";

type Row<T extends keyof Database> = Selectable<Database[T]>;

export interface GaugeView {
  /** Null: none was named, and none is needed. */
  gaugeId: string | null;
  name: string;
  unit: "mm" | "inch" | "deg";
  /** 0: it passes or refuses and shows no number. */
  resolutionPm: number;
  /** u_g², mm². */
  variance: number;
  /** Standard uncertainty for judging fitness, mm: the larger of u_g and U/k. */
  standardMm: number;
  expandedPm: number | undefined;
  /** k of the expanded uncertainty. */
  coverageFactor: number;
  /** How far it grows with heat; undefined: not known. */
  expansion: Expansion | undefined;
  calibrationDue: string | null;
  reference: boolean;
  reads: "size" | "deviation";
  masterPm: number | undefined;
  sense: "normal" | "reversed";
}

export function gaugeView(row: Row<"gauge">): GaugeView {
  const resolutionPm = row.resolution_mm === null ? 0 : fromNumeric(row.resolution_mm);
  const expandedPm = optionalPm(row.expanded_uncertainty_mm);
  const resolution = resolutionPm / 1e9;
  const claimed = expandedPm === undefined ? undefined : expandedPm / 1e9 / row.coverage_factor;
  const repeatability =
    row.repeatability_mm === null ? (claimed ?? resolution) : Number(row.repeatability_mm);
  const variance = repeatability ** 2 + resolution ** 2 / 12;
  return {
    gaugeId: row.gauge_id,
    name: row.name,
    unit: row.unit,
    resolutionPm,
    variance,
    standardMm: Math.max(Math.sqrt(variance), claimed ?? 0),
    expandedPm,
    coverageFactor: row.coverage_factor,
    expansion: knownExpansion(row),
    calibrationDue: row.calibration_due,
    reference: row.reference,
    reads: row.reads,
    masterPm: optionalPm(row.master_size_mm),
    sense: row.sense ?? "normal",
  };
}
