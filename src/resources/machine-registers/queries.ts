import type { Insertable } from "kysely";
import type { Db } from "../../db/client.js";
import type { Database } from "../../db/schema.js";

export function findMachine(db: Db, machineId: string) {
  return db
    .selectFrom("machine")
    .select(["machine_id", "name", "unit"])
    .where("machine_id", "=", machineId)
    .executeTakeFirst();
}

/** The new register, or undefined where its number or label is taken. */
export function insertRegister(db: Db, register: Insertable<Database["register"]>) {
  return db
    .insertInto("register")
    .values(register)
    .onConflict((conflict) => conflict.doNothing())
    .returningAll()
    .executeTakeFirst();
}

/** Registers of a machine, oldest first, after `after` (exclusive); at most `limit`. */
export function listRegisters(db: Db, page: { machineId: string; after: string; limit: number }) {
  const { machineId, after, limit } = page;
  return db
    .selectFrom("register")
    .selectAll()
    .where("machine_id", "=", machineId)
    .where("register_id", ">", after)
    .orderBy("register_id")
    .limit(limit)
    .execute();
}
