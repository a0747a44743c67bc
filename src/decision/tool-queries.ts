import type { Insertable } from "kysely";
import type { Db } from "../db/client.js";
import type { Database } from "../db/schema.js";

export function findMachine(db: Db, machineId: string) {
  return db
    .selectFrom("machine")
    .select(["name", "unit"])
    .where("machine_id", "=", machineId)
    .executeTakeFirst();
}

/** The new tool, or undefined where the machine has one of that number. */
export function insertTool(db: Db, tool: Insertable<Database["tool"]>) {
  return db
    .insertInto("tool")
    .values(tool)
    .onConflict((conflict) => conflict.constraint("tool_number_unique").doNothing())
    .returning("tool_id")
    .executeTakeFirst();
}

/** Those of the registers whose number and label were free; the others are not stored. */
export function insertRegisters(db: Db, registers: Insertable<Database["register"]>[]) {
  return db
    .insertInto("register")
    .values(registers)
    .onConflict((conflict) => conflict.doNothing())
    .returning(["number", "controls", "label"])
    .execute();
}

export function insertFirstEdge(db: Db, toolId: string) {
  return db.insertInto("edge").values({ tool_id: toolId, number: 1, reason: "start" }).execute();
}
