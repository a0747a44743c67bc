import type { Insertable } from "kysely";
import type { Db } from "../../db/client.js";
import type { Database } from "../../db/schema.js";

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

export function findTool(db: Db, toolId: string) {
  return toolsWithUnit(db).where("tool_id", "=", toolId).executeTakeFirst();
}

/** Tools, oldest first, after `after` (exclusive); at most `limit`. */
export function listTools(db: Db, page: { machineId: string | undefined; after: string; limit: number }) {
  const { machineId, after, limit } = page;
  const tools = toolsWithUnit(db).where("tool_id", ">", after).orderBy("tool_id").limit(limit);
  return (machineId === undefined ? tools : tools.where("tool.machine_id", "=", machineId)).execute();
}

function toolsWithUnit(db: Db) {
  return db
    .selectFrom("tool")
    .innerJoin("machine", "machine.machine_id", "tool.machine_id")
    .selectAll("tool")
    .select("machine.unit");
}

export function listRegisters(db: Db, toolIds: readonly string[]) {
  return db
    .selectFrom("register")
    .selectAll()
    .where("tool_id", "in", toolIds)
    .orderBy("register_id")
    .$narrowType<{ controls: "radial" | "axial" | "x" | "z" }>()
    .execute();
}
