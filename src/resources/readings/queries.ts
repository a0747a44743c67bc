import { type SqlBool, sql } from "kysely";
import type { Db } from "../../db/client.js";
import type { Database } from "../../db/schema.js";

const shown = (db: Db) =>
  db
    .selectFrom("reading")
    .innerJoin("feature", "feature.feature_id", "reading.feature_id")
    .innerJoin("part", "part.part_id", "feature.part_id")
    .innerJoin("batch", "batch.batch_id", "reading.batch_id")
    .leftJoin("feature_operation_limits as early", (join) =>
      join
        .onRef("early.feature_id", "=", "reading.feature_id")
        .onRef("early.operation", "=", "batch.operation"),
    )
    .leftJoin("gauge", "gauge.gauge_id", "reading.gauge_id")
    .selectAll("reading")
    .select([
      "batch.name as batch",
      "part.number as part_number",
      "part.revision",
      "gauge.name as gauge",
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
      "early.operation as early_operation",
      "early.reason as early_reason",
      "early.growth_mm",
      "early.nominal_mm as early_nominal_mm",
      "early.lower_limit_mm as early_lower_limit_mm",
      "early.upper_limit_mm as early_upper_limit_mm",
      "feature.geometric_characteristic",
      "part.unit as part_unit",
      sql<Database["part"]["decision_rule"]>`coalesce(feature.decision_rule, part.decision_rule)`.as("rule"),
      sql<number>`coalesce(feature.guard_band_factor, part.guard_band_factor)`.as("guard_band_factor"),
    ]);

export interface ReadingFilter {
  batchId?: string | undefined;
  featureId?: string | undefined;
  gaugeId?: string | undefined;
  piece?: number | undefined;
  from?: string | undefined;
  to?: string | undefined;
  /** Only voided ones, or only those that count. */
  voided?: boolean | undefined;
  limit: number;
}

const taken = sql<string>`coalesce(reading.measured_at, reading.received_at)`;

function filtered(db: Db, filter: ReadingFilter) {
  const { batchId, featureId, gaugeId, piece, from, to, voided, limit } = filter;
  return shown(db)
    .select(taken.as("taken_at"))
    .$if(batchId !== undefined, (query) => query.where("reading.batch_id", "=", batchId!))
    .$if(featureId !== undefined, (query) => query.where("reading.feature_id", "=", featureId!))
    .$if(gaugeId !== undefined, (query) => query.where("reading.gauge_id", "=", gaugeId!))
    .$if(piece !== undefined, (query) => query.where("reading.piece", "=", piece!))
    .$if(from !== undefined, (query) => query.where(sql<SqlBool>`${taken} >= ${from}`))
    .$if(to !== undefined, (query) => query.where(sql<SqlBool>`${taken} < ${to}`))
    .$if(voided !== undefined, (query) =>
      query.where("reading.voided_at", voided === true ? "is not" : "is", null),
    )
    .limit(limit);
}

/** Readings of a batch in the order they came, after number `after` (exclusive); at most `limit`. */
export function listReadings(db: Db, filter: ReadingFilter & { batchId: string }, after: number) {
  return filtered(db, filter).where("reading.reading_no", ">", after).orderBy("reading.reading_no").execute();
}

/** Readings by a gauge in the order they were taken, whatever their batch; `after`: the last one of the page before. */
export function listReadingsOfGauge(
  db: Db,
  filter: ReadingFilter & { gaugeId: string },
  after: { at: string; batchId: string; readingNo: string },
) {
  const { at, batchId, readingNo } = after;
  return filtered(db, filter)
    .where(
      sql<SqlBool>`(${taken}, reading.batch_id, reading.reading_no)
        > (to_timestamp(${at}::numeric / 1000), ${batchId}::bigint, ${readingNo}::int)`,
    )
    .orderBy(taken)
    .orderBy("reading.batch_id")
    .orderBy("reading.reading_no")
    .execute();
}

export function findReading(db: Db, batchId: string, readingNo: number) {
  return shown(db)
    .where("reading.batch_id", "=", batchId)
    .where("reading.reading_no", "=", readingNo)
    .executeTakeFirst();
}

/** Points of a reading as they were sent; undefined: it came as a value. */
export function findPoints(db: Db, batchId: string, readingNo: number) {
  return db
    .selectFrom("reading_points")
    .selectAll()
    .where("batch_id", "=", batchId)
    .where("reading_no", "=", readingNo)
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
