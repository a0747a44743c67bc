import type { Insertable } from "kysely";
import type { Db } from "../../db/client.js";
import type { Database } from "../../db/schema.js";

/** The new machine, or undefined where the name is taken. */
export function insertMachine(db: Db, machine: Insertable<Database["machine"]>) {
  return db
    .insertInto("machine")
    .values(machine)
    .onConflict((conflict) => conflict.constraint("machine_name_unique").doNothing())
    .returningAll()
    .executeTakeFirst();
}

export function findMachine(db: Db, machineId: string) {
  return db.selectFrom("machine").selectAll().where("machine_id", "=", machineId).executeTakeFirst();
}

/** Machines, oldest first, after `after` (exclusive); at most `limit`. */
export function listMachines(db: Db, { after, limit }: { after: string; limit: number }) {
  return db
    .selectFrom("machine")
    .selectAll()
    .where("machine_id", ">", after)
    .orderBy("machine_id")
    .limit(limit)
    .execute();
}
