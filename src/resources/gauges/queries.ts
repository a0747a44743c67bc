import type { Insertable, Updateable } from "kysely";
import type { Db } from "../../db/client.js";
import type { Database } from "../../db/schema.js";

/** The new gauge, or undefined where the name is taken. */
export function insertGauge(db: Db, gauge: Insertable<Database["gauge"]>) {
  return db
    .insertInto("gauge")
    .values(gauge)
    .onConflict((conflict) => conflict.constraint("gauge_name_unique").doNothing())
    .returningAll()
    .executeTakeFirst();
}

export function findGauge(db: Db, gaugeId: string) {
  return db.selectFrom("gauge").selectAll().where("gauge_id", "=", gaugeId).executeTakeFirst();
}

/** Gauges, oldest first, after `after` (exclusive); at most `limit`. */
export function listGauges(db: Db, { after, limit }: { after: string; limit: number }) {
  return db
    .selectFrom("gauge")
    .selectAll()
    .where("gauge_id", ">", after)
    .orderBy("gauge_id")
    .limit(limit)
    .execute();
}

export function updateGauge(db: Db, gaugeId: string, change: Updateable<Database["gauge"]>) {
  return db
    .updateTable("gauge")
    .set(change)
    .where("gauge_id", "=", gaugeId)
    .returningAll()
    .executeTakeFirstOrThrow();
}
