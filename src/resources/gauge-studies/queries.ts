import { type Insertable, type Selectable, sql } from "kysely";
import type { FeatureKind } from "../../core/feature-kind.js";
import type { Db } from "../../db/client.js";
import type { Database } from "../../db/schema.js";

export function findGauge(db: Db, gaugeId: string) {
  return db.selectFrom("gauge").selectAll().where("gauge_id", "=", gaugeId).executeTakeFirst();
}

/** Readings by their ids, in one statement whatever their number; those that there are not are left out. */
export async function listStoredReadings(db: Db, readingIds: readonly string[]) {
  const ids = readingIds.map((id) => id.split("-") as [string, string]);
  const { rows } = await sql<
    Pick<
      Selectable<Database["reading"]>,
      | "batch_id"
      | "reading_no"
      | "gauge_id"
      | "value_mm"
      | "piece"
      | "cut"
      | "place"
      | "piece_within"
      | "taken_by"
      | "voided_at"
    > & { kind: FeatureKind; characteristic: string; batch: string }
  >`
    select batch_id, reading_no, reading.gauge_id, value_mm, piece, cut, place, piece_within, taken_by, reading.voided_at,
      feature.kind, feature.characteristic, batch.name as batch
    from unnest(${ids.map(([batchId]) => batchId)}::bigint[], ${ids.map(([, no]) => no)}::int[]) as asked (batch_id, reading_no)
    join reading using (batch_id, reading_no) join feature using (feature_id) join batch using (batch_id)
  `.execute(db);
  return rows;
}

/** Nobody else changes this gauge until the transaction ends. */
export function lockGauge(db: Db, gaugeId: string) {
  return db
    .selectFrom("gauge")
    .selectAll()
    .where("gauge_id", "=", gaugeId)
    .forNoKeyUpdate()
    .executeTakeFirst();
}

export function insertStudy(db: Db, study: Insertable<Database["gauge_study"]>) {
  return db.insertInto("gauge_study").values(study).returningAll().executeTakeFirstOrThrow();
}

export function findStudy(db: Db, gaugeId: string, studyId: string) {
  return db
    .selectFrom("gauge_study")
    .selectAll()
    .where("gauge_id", "=", gaugeId)
    .where("gauge_study_id", "=", studyId)
    .executeTakeFirst();
}

/** Studies of a gauge, the latest first, before `before` (exclusive); at most `limit`. */
export function listStudies(db: Db, page: { gaugeId: string; before: string | undefined; limit: number }) {
  return db
    .selectFrom("gauge_study")
    .selectAll()
    .where("gauge_id", "=", page.gaugeId)
    .$if(page.before !== undefined, (query) => query.where("gauge_study_id", "<", page.before!))
    .orderBy("gauge_study_id", "desc")
    .limit(page.limit)
    .execute();
}

/** The latest accepted study in force. */
export function findLatestAccepted(db: Db, gaugeId: string) {
  return db
    .selectFrom("gauge_study")
    .select("gauge_study_id")
    .where("gauge_id", "=", gaugeId)
    .where("accepted_at", "is not", null)
    .where("voided_at", "is", null)
    .orderBy("accepted_at", "desc")
    .orderBy("gauge_study_id", "desc")
    .limit(1)
    .executeTakeFirst();
}

export function acceptStudy(db: Db, studyId: string, about: { by: string; before: string | null }) {
  return db
    .updateTable("gauge_study")
    .set({ accepted_at: sql<string>`now()`, accepted_by: about.by, repeatability_before_mm: about.before })
    .where("gauge_study_id", "=", studyId)
    .returningAll()
    .executeTakeFirstOrThrow();
}

export function voidStudy(db: Db, studyId: string, about: { reason: string; by: string | null }) {
  return db
    .updateTable("gauge_study")
    .set({ voided_at: sql<string>`now()`, void_reason: about.reason, voided_by: about.by })
    .where("gauge_study_id", "=", studyId)
    .returningAll()
    .executeTakeFirstOrThrow();
}

export async function updateRepeatability(
  db: Db,
  gaugeId: string,
  repeatability: string | null,
): Promise<void> {
  await db
    .updateTable("gauge")
    .set({ repeatability_mm: repeatability })
    .where("gauge_id", "=", gaugeId)
    .execute();
}
