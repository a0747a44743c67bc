import { sql } from "kysely";
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
      "tool.life_pieces",
    ])
    .where("tool_id", "=", toolId)
    .executeTakeFirst();
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

/** Edges of a tool that count, the latest first, at most `limit`, each with why the next one was put in. */
export async function listLives(db: Db, toolId: string, limit: number) {
  const { rows } = await sql<{ edge_id: string; ended_by: EdgeReason | null }>`
    select edge_id, lead(reason) over (order by number) as ended_by
    from edge where tool_id = ${toolId} and voided_at is null
    order by number desc limit ${limit}
  `.execute(db);
  return rows;
}
type EdgeReason = Database["edge"]["reason"];

/** Why the next edge was put in, of edges that count; an edge in use has no line. */
export async function listEnds(db: Db, toolId: string, edgeIds: readonly string[]) {
  const { rows } = await sql<{ edge_id: string; ended_by: EdgeReason; ended_at: string }>`
    select ended.edge_id, next.reason as ended_by, next.created_at as ended_at
    from edge as ended
    cross join lateral (
      select reason, created_at from edge as later
      where later.tool_id = ${toolId} and later.number > ended.number and later.voided_at is null
      order by later.number limit 1
    ) as next
    where ended.edge_id = any(${edgeIds}::bigint[]) and ended.voided_at is null
  `.execute(db);
  return rows;
}

/** First and last piece that an edge has cut. */
export interface EdgeEnds {
  edgeId: string;
  first: { batchId: string; piece: number };
  last: { batchId: string; piece: number };
}

/** What the registers of a tool held on the first and the last piece of each edge. */
export async function listEdgeValues(db: Db, toolId: string, ends: readonly EdgeEnds[]) {
  const value = (batch: string, piece: string, cuts: string) => sql`coalesce(
    (select value_mm from register_entry
      where batch_id = ends.${sql.raw(batch)} and register_id = register.register_id and voided_at is null
        and (from_piece, from_cut) <= (ends.${sql.raw(piece)}, ${sql.raw(cuts)})
      order by from_piece desc, from_cut desc, entry_id desc limit 1),
    (select (batch.start -> 'registers' -> register.register_id::text ->> 'value_mm')::numeric from batch
      where batch.batch_id = ends.${sql.raw(batch)}),
    register.start_value_mm)`;
  const { rows } = await sql<{
    edge_id: string;
    register_id: string;
    label: string;
    value_at_start_mm: string;
    value_at_end_mm: string;
  }>`
    select ends.edge_id, register.register_id, register.label,
      ${value("first_batch", "first_piece", "1")} as value_at_start_mm,
      ${value("last_batch", "last_piece", "99")} as value_at_end_mm
    from unnest(${ends.map((end) => end.edgeId)}::bigint[], ${ends.map((end) => end.first.batchId)}::bigint[],
      ${ends.map((end) => end.first.piece)}::int[], ${ends.map((end) => end.last.batchId)}::bigint[],
      ${ends.map((end) => end.last.piece)}::int[])
      as ends (edge_id, first_batch, first_piece, last_batch, last_piece)
    cross join register
    where register.tool_id = ${toolId}
    order by ends.edge_id, register.register_id
  `.execute(db);
  return rows;
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
