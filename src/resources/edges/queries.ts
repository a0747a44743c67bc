import { type Insertable, sql } from "kysely";
import type { Db } from "../../db/client.js";
import type { Database } from "../../db/schema.js";

export function findTool(db: Db, toolId: string) {
  return db
    .selectFrom("tool")
    .innerJoin("machine", "machine.machine_id", "tool.machine_id")
    .select([
      "tool.tool_id",
      "tool.number",
      "tool.name",
      "tool.machine_id",
      "machine.name as machine_name",
      "machine.unit",
    ])
    .where("tool_id", "=", toolId)
    .executeTakeFirst();
}

export function listRegisters(db: Db, toolId: string) {
  return db
    .selectFrom("register")
    .select(["register_id", "label"])
    .where("tool_id", "=", toolId)
    .orderBy("register_id")
    .execute();
}

/** The tool's next edge. */
export function insertEdge(db: Db, edge: Omit<Insertable<Database["edge"]>, "number">) {
  return db
    .insertInto("edge")
    .values((eb) => ({
      ...edge,
      number: eb
        .selectFrom("edge")
        .select(sql<number>`coalesce(max(number), 0) + 1`.as("next"))
        .where("tool_id", "=", edge.tool_id),
    }))
    .returningAll()
    .executeTakeFirstOrThrow();
}

export function insertEdgesInBatches(db: Db, edges: Insertable<Database["edge_in_batch"]>[]) {
  return db.insertInto("edge_in_batch").values(edges).execute();
}

/** The edge that was asked for has come. */
export function settleToolChanges(db: Db, toolId: string) {
  return db
    .updateTable("correction")
    .set({ status: "settled", ended_at: sql<string>`now()` })
    .where("tool_id", "=", toolId)
    .where("kind", "=", "change_tool")
    .where("status", "=", "proposed")
    .execute();
}

/** Edges of a tool, oldest first, after `after` (exclusive); at most `limit`. */
export function listEdges(db: Db, page: { toolId: string; after: string; limit: number }) {
  const { toolId, after, limit } = page;
  return db
    .selectFrom("edge")
    .selectAll()
    .where("tool_id", "=", toolId)
    .where("edge_id", ">", after)
    .orderBy("edge_id")
    .limit(limit)
    .execute();
}

export function findEdge(db: Db, toolId: string, edgeId: string) {
  return db
    .selectFrom("edge")
    .selectAll()
    .where("tool_id", "=", toolId)
    .where("edge_id", "=", edgeId)
    .executeTakeFirst();
}

/** The edge in use: the latest of the tool that is not voided. */
export function findCurrentEdge(db: Db, toolId: string) {
  return db
    .selectFrom("edge")
    .select(["edge_id", "number"])
    .where("tool_id", "=", toolId)
    .where("voided_at", "is", null)
    .orderBy("number", "desc")
    .limit(1)
    .executeTakeFirst();
}

/** The first edge of a tool that counts in a batch from a piece after `piece` on. */
export function findEdgeAfter(db: Db, toolId: string, batchId: string, piece: number) {
  return db
    .selectFrom("edge_in_batch")
    .innerJoin("edge", "edge.edge_id", "edge_in_batch.edge_id")
    .select(["edge.edge_id", "edge.number", "edge_in_batch.from_piece"])
    .where("edge.tool_id", "=", toolId)
    .where("edge.voided_at", "is", null)
    .where("edge_in_batch.batch_id", "=", batchId)
    .where("edge_in_batch.from_piece", ">", piece)
    .orderBy("edge_in_batch.from_piece")
    .limit(1)
    .executeTakeFirst();
}

/** From which piece of which batch edges count. */
export function listPlaces(db: Db, edgeIds: readonly string[]) {
  return db
    .selectFrom("edge_in_batch")
    .selectAll()
    .where("edge_id", "in", edgeIds)
    .orderBy("batch_id")
    .execute();
}

/** Voids an edge and the register values that were keyed with it. */
export async function voidEdge(
  db: Db,
  edgeId: string,
  about: { reason: string; by: string | null },
): Promise<void> {
  const voided = { voided_at: sql<string>`now()`, void_reason: about.reason, voided_by: about.by };
  await db.updateTable("edge").set(voided).where("edge_id", "=", edgeId).execute();
  await db
    .updateTable("register_entry")
    .set(voided)
    .where("edge_id", "=", edgeId)
    .where("voided_at", "is", null)
    .execute();
}
