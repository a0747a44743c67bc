import type { Db } from "../../db/client.js";

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
