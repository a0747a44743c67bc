import { type SqlBool, sql } from "kysely";
import type { Db } from "../../db/client.js";
import type { Database } from "../../db/schema.js";

const shown = (db: Db) =>
  db
    .selectFrom("reading")
    .innerJoin("feature", "feature.feature_id", "reading.feature_id")
    .innerJoin("part", "part.part_id", "feature.part_id")
    .selectAll("reading")
    .select([
      "feature.characteristic",
      "feature.kind",
      "feature.nominal_mm",
      "feature.lower_limit_mm",
      "feature.upper_limit_mm",
      "feature.material_condition",
      "feature.size_characteristic",
      "feature.size_kind",
      "feature.size_lower_limit_mm",
      "feature.size_upper_limit_mm",
      "feature.gauged",
      "feature.thread_standard",
      "feature.rework",
      "part.unit as part_unit",
      sql<Database["part"]["decision_rule"]>`coalesce(feature.decision_rule, part.decision_rule)`.as("rule"),
      sql<number>`coalesce(feature.guard_band_factor, part.guard_band_factor)`.as("guard_band_factor"),
    ]);

export interface ReadingFilter {
  batchId: string;
  featureId?: string | undefined;
  gaugeId?: string | undefined;
  piece?: number | undefined;
  from?: string | undefined;
  to?: string | undefined;
  after: number;
  limit: number;
}

/** Readings of a batch in the order they came, after number `after` (exclusive); at most `limit`. */
export function listReadings(db: Db, filter: ReadingFilter) {
  const { batchId, featureId, gaugeId, piece, from, to, after, limit } = filter;
  const taken = sql<string>`coalesce(reading.measured_at, reading.received_at)`;
  return shown(db)
    .where("reading.batch_id", "=", batchId)
    .where("reading.reading_no", ">", after)
    .$if(featureId !== undefined, (query) => query.where("reading.feature_id", "=", featureId!))
    .$if(gaugeId !== undefined, (query) => query.where("reading.gauge_id", "=", gaugeId!))
    .$if(piece !== undefined, (query) => query.where("reading.piece", "=", piece!))
    .$if(from !== undefined, (query) => query.where(sql<SqlBool>`${taken} >= ${from}`))
    .$if(to !== undefined, (query) => query.where(sql<SqlBool>`${taken} < ${to}`))
    .orderBy("reading.reading_no")
    .limit(limit)
    .execute();
}

export function findReading(db: Db, batchId: string, readingNo: number) {
  return shown(db)
    .where("reading.batch_id", "=", batchId)
    .where("reading.reading_no", "=", readingNo)
    .executeTakeFirst();
}

/** Marks a reading as voided; false where it was before. */
export async function voidReading(
  db: Db,
  batchId: string,
  readingNo: number,
  about: { reason: string; by: string | null },
) {
  const { numUpdatedRows } = await db
    .updateTable("reading")
    .set({ voided_at: sql<string>`now()`, void_reason: about.reason, voided_by: about.by })
    .where("batch_id", "=", batchId)
    .where("reading_no", "=", readingNo)
    .where("voided_at", "is", null)
    .executeTakeFirst();
  return numUpdatedRows > 0n;
}
