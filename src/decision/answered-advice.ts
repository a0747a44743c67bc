import type { Selectable } from "kysely";
import type { Database } from "../db/schema.js";

/** One feature that a correction's register moves, as the wire shows it: sizes in the part's unit, window in the register's. */
export interface CorrectionFeature {
  feature_id: string;
  /** Absent in rows from before there were places. */
  place?: string | null;
  effect: number;
  unit: "mm" | "inch";
  expected_before: number;
  expected_after: number;
  window: { low: number | null; high: number | null } | null;
}

/** Advice that a person has answered by not following it, or by finding nothing. */
export interface AnsweredAdvice
  extends Pick<
    Selectable<Database["correction"]>,
    "subject" | "kind" | "piece" | "value_now_mm" | "change_mm" | "reason"
  > {
  features: CorrectionFeature[];
}
