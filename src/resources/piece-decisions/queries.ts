import { type Insertable, sql } from "kysely";
import type { Db } from "../../db/client.js";
import type { Database } from "../../db/schema.js";

export function findBatch(db: Db, batchId: string) {
  return db
    .selectFrom("batch")
    .select(["batch_id", "name", "part_id", "operation", "last_piece_cut", "reading_count", "seats"])
    .where("batch_id", "=", batchId)
    .executeTakeFirst();
}

/** Features that are measured in an operation of a part; null: in every one. */
export function listFeatures(db: Db, partId: string, operation: string | null) {
  return db
    .selectFrom("feature")
    .select(["feature_id", "characteristic"])
    .where("part_id", "=", partId)
    .$if(operation !== null, (query) =>
      query.where((eb) => eb.or([eb("operation", "is", null), eb("operation", "=", operation)])),
    )
    .orderBy("position")
    .execute();
}

/** Features that failed on pieces of some ranges. */
export async function listFailedFeatures(
  db: Db,
  batchId: string,
  ranges: readonly { from_piece: number; to_piece: number }[],
): Promise<string[]> {
  const { rows } = await sql<{ feature_id: string }>`
    select distinct feature_id from reading
    join unnest(${ranges.map((r) => r.from_piece)}::int[], ${ranges.map((r) => r.to_piece)}::int[]) as t (low, high)
      on piece >= low and piece <= high
    where batch_id = ${batchId} and fails and voided_at is null
  `.execute(db);
  return rows.map(({ feature_id }) => feature_id);
}

export function insertDecisions(db: Db, decisions: Insertable<Database["piece_decision"]>[]) {
  return db.insertInto("piece_decision").values(decisions).returningAll().execute();
}

/** Decisions of a batch, oldest first, after `after` (exclusive); voided ones among them; at most `limit`. */
export function listDecisions(db: Db, page: { batchId: string; after: string; limit: number }) {
  return db
    .selectFrom("piece_decision")
    .selectAll()
    .where("batch_id", "=", page.batchId)
    .where("decision_id", ">", page.after)
    .orderBy("decision_id")
    .limit(page.limit)
    .execute();
}

export function findDecision(db: Db, batchId: string, decisionId: string) {
  return db
    .selectFrom("piece_decision")
    .selectAll()
    .where("batch_id", "=", batchId)
    .where("decision_id", "=", decisionId)
    .executeTakeFirst();
}

export function voidDecision(db: Db, decisionId: string, about: { reason: string; by: string | null }) {
  return db
    .updateTable("piece_decision")
    .set({ voided_at: sql<string>`now()`, void_reason: about.reason, voided_by: about.by })
    .where("decision_id", "=", decisionId)
    .returningAll()
    .executeTakeFirstOrThrow();
}
