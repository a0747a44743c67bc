import { sql } from "kysely";
import type { Db } from "../db/client.js";

export async function listGauges(db: Db, gaugeIds: readonly string[]) {
  return gaugeIds.length === 0
    ? []
    : await db.selectFrom("gauge").selectAll().where("gauge_id", "in", gaugeIds).execute();
}

/** Kinds of gauge that can be brought to a kind of feature, and size and limits that they are wanted for. */
export interface GaugeWanted {
  kinds: readonly string[];
  /** Gauges of angles instead of lengths. */
  angle: boolean;
  nominalMm: string;
  /** Only gauges that may prove a size, calibrated on this day (2026-03-02). */
  provesOn?: string | undefined;
  offset: number;
  limit: number;
}

/**
 * Gauges of some kinds, the least standard uncertainty first, as `gaugeView` works it out. One that is set to a master
 * reads sizes near it only: 1 mm is taken as its reach (common practice, no source).
 */
export async function listFinestGauges(db: Db, wanted: GaugeWanted) {
  const claimed = sql`expanded_uncertainty_mm::float8 / coverage_factor`;
  return await db
    .selectFrom("gauge")
    .selectAll()
    .where(sql<boolean>`kind = any(${wanted.kinds}::text[])`)
    .where("resolution_mm", "is not", null)
    .where("unit", wanted.angle ? "=" : "<>", "deg")
    .where(sql<boolean>`(master_size_mm is null or abs(master_size_mm - ${wanted.nominalMm}::numeric) <= 1)`)
    .$if(wanted.provesOn !== undefined, (query) =>
      query
        .where("reference", "=", true)
        .where(sql<boolean>`coalesce(calibration_due >= ${wanted.provesOn}::date, true)`),
    )
    .orderBy(
      sql`greatest(coalesce(${claimed}, 0), sqrt(power(coalesce(repeatability_mm::float8, ${claimed}, resolution_mm::float8), 2)
        + power(resolution_mm::float8, 2) / 12))`,
    )
    .orderBy("gauge_id")
    .offset(wanted.offset)
    .limit(wanted.limit)
    .execute();
}

export async function listNames(db: Db, table: "batch" | "gauge"): Promise<string[]> {
  const rows = await db.selectFrom(table).select("name").orderBy("created_at", "desc").limit(1000).execute();
  return rows.map((row) => row.name);
}

/** Batches in which a check of this gauge has been asked for. */
export async function listGaugeAdvice(db: Db, gaugeId: string): Promise<string[]> {
  const rows = await db
    .selectFrom("correction")
    .select("batch_id")
    .distinct()
    .where("gauge_id", "=", gaugeId)
    .where("kind", "=", "check_gauge")
    .where("status", "=", "proposed")
    .execute();
  return rows.map((row) => row.batch_id);
}

/** Closes what asks in these batches, which are locked, for a check of a gauge. */
export async function settleGaugeAdvice(db: Db, gaugeId: string, batchIds: readonly string[]): Promise<void> {
  await db
    .updateTable("correction")
    .set({ status: "settled", ended_at: sql<string>`now()` })
    .where("gauge_id", "=", gaugeId)
    .where("kind", "=", "check_gauge")
    .where("status", "=", "proposed")
    .where("batch_id", "in", batchIds)
    .execute();
}
