import type { z } from "zod";
import type { Reading } from "../../decision/reading-wire.js";

/** What a table says besides of each reading. */
interface Names {
  batch: string;
  part_number: string;
  revision: string;
  gauge: string | null;
  received_at: string;
}

export const readingColumns = [
  "reading_id",
  "batch_id",
  "batch",
  "part_number",
  "revision",
  "feature_id",
  "characteristic",
  "piece",
  "serial",
  "seat",
  "cut",
  "spring_pass",
  "place",
  "repeat",
  "value",
  "unit",
  "rocked",
  "dx",
  "dy",
  "dz",
  "result",
  "turns",
  "state",
  "size",
  "size_unit",
  "size_as_read",
  "gauge_error",
  "gauge_doubt",
  "gauge_deviation",
  "temperature_c",
  "gauge_temperature_c",
  "temperature_correction",
  "deviation",
  "from_target",
  "tolerance_used",
  "lower_limit",
  "upper_limit",
  "target",
  "bonus",
  "verdict",
  "disposition",
  "decision_rule",
  "expanded_uncertainty",
  "guard_band",
  "probability_conforming",
  "flags",
  "gauge_id",
  "gauge",
  "taken_by",
  "measured_at",
  "received_at",
  "source_id",
  "voided_at",
  "voided_by",
  "void_reason",
  "why",
] as const;

/** The reading as it was decided, also where it was voided since. */
export function tabulateReading(reading: z.infer<typeof Reading>, names: Names) {
  const { batch, part_number, revision, gauge, received_at } = names;
  const { rocked, flags, voided } = reading;
  return {
    ...reading,
    batch,
    part_number,
    revision,
    gauge,
    received_at,
    rocked: rocked?.join(" ") ?? null,
    flags: flags.join(" "),
    voided_at: voided?.at ?? null,
    voided_by: voided?.by ?? null,
    void_reason: voided?.reason ?? null,
  };
}
