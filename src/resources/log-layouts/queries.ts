import { sql } from "kysely";
import type { Db } from "../../db/client.js";

/** The new layout, or undefined where the name is taken. */
export function insertLayout(db: Db, name: string, layout: object) {
  return db
    .insertInto("log_layout")
    .values({ name, layout: JSON.stringify(layout) })
    .onConflict((conflict) => conflict.constraint("log_layout_name_unique").doNothing())
    .returningAll()
    .executeTakeFirst();
}

export function findLayout(db: Db, layoutId: string) {
  return db.selectFrom("log_layout").selectAll().where("layout_id", "=", layoutId).executeTakeFirst();
}

export function findLayoutByName(db: Db, name: string) {
  return db.selectFrom("log_layout").select("layout_id").where("name", "=", name).executeTakeFirst();
}

export function updateLayout(db: Db, layoutId: string, name: string, layout: object) {
  return db
    .updateTable("log_layout")
    .set((eb) => ({
      name,
      layout: JSON.stringify(layout),
      version: eb("version", "+", 1),
      changed_at: sql<string>`now()`,
    }))
    .where("layout_id", "=", layoutId)
    .returningAll()
    .executeTakeFirst();
}

/** Layouts, oldest first, after `after` (exclusive); at most `limit`. */
export function listLayouts(db: Db, { after, limit }: { after: string; limit: number }) {
  return db
    .selectFrom("log_layout")
    .selectAll()
    .where("layout_id", ">", after)
    .orderBy("layout_id")
    .limit(limit)
    .execute();
}
