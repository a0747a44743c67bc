import { type Insertable, sql } from "kysely";
import type { Db } from "../db/client.js";
import type { Database } from "../db/schema.js";

/** Pieces of a batch that one edge has cut. */
export interface EdgeSpan {
  edge_id: string;
  batch_id: string;
  batch: string;
  part_number: string;
  revision: string;
  from_piece: number;
  to_piece: number;
}

/**
 * Where edges of a tool have cut, by edge and batch, after the place of the page (exclusive): in a batch from its first
 * piece where the batch was opened with it, else from where it was put in, up to the next edge or the last piece cut.
 * Which edge a batch was opened with stands in the batch; when it was opened only bounds the search, with a minute to
 * spare for who waited for a lock.
 */
export async function listEdgeSpans(
  db: Db,
  tool: { tool_id: string; machine_id: string },
  edgeIds: readonly string[],
  page: { after: [edgeId: string, batchId: string]; limit: number } = { after: ["0", "0"], limit: 100_000 },
): Promise<EdgeSpan[]> {
  const { rows } = await sql<EdgeSpan>`
    with known as (
      select edge_id, number, created_at, lead(created_at) over (order by number) as next_at
      from edge where tool_id = ${tool.tool_id} and voided_at is null
    ), wanted as (
      select * from known where edge_id = any(${edgeIds}::bigint[])
    ), begun as (
      select wanted.edge_id, wanted.number, batch.batch_id, 1 as from_piece
      from wanted join batch on batch.machine_id = ${tool.machine_id}
        and batch.created_at >= wanted.created_at - interval '1 minute'
        and batch.created_at <= coalesce(wanted.next_at, 'infinity') + interval '1 minute'
      where batch.start -> 'tools' -> ${tool.tool_id}::text ->> 'edge_id' = wanted.edge_id::text
      union all
      select wanted.edge_id, wanted.number, edge_in_batch.batch_id, edge_in_batch.from_piece
      from wanted join edge_in_batch using (edge_id)
    )
    select begun.edge_id, batch_id, batch.name as batch, part.number as part_number, part.revision, begun.from_piece,
      coalesce(next.from_piece - 1, batch.last_piece_cut) as to_piece
    from begun join batch using (batch_id) join part using (part_id)
    cross join lateral (
      select min(later.from_piece) as from_piece
      from edge_in_batch as later join edge on edge.edge_id = later.edge_id
      where later.batch_id = begun.batch_id and edge.tool_id = ${tool.tool_id} and edge.voided_at is null
        and edge.number > begun.number
    ) as next
    where (begun.edge_id, batch_id) > (${page.after[0]}::bigint, ${page.after[1]}::bigint)
      and coalesce(next.from_piece - 1, batch.last_piece_cut) >= begun.from_piece
      and exists (
        select from feature join feature_cut using (feature_id)
        where feature.part_id = batch.part_id and feature_cut.tool_id = ${tool.tool_id})
    order by begun.edge_id, batch_id limit ${page.limit}
  `.execute(db);
  return rows;
}

/** Edges of tools that count, the latest of each first, at most `mostEach`, with why the next one was put in. */
export async function listLivesOf(
  db: Db,
  toolIds: readonly string[],
  mostEach: number,
): Promise<{ tool_id: string; edge_id: string; ended_by: string | null }[]> {
  const { rows } = await sql<{ tool_id: string; edge_id: string; ended_by: string | null }>`
    select t.tool_id, latest.edge_id, latest.ended_by
    from unnest(${toolIds}::bigint[]) as t (tool_id)
    cross join lateral (
      select edge_id, number, lead(reason) over (order by number) as ended_by
      from edge where edge.tool_id = t.tool_id and voided_at is null
      order by number desc limit ${mostEach}
    ) as latest
  `.execute(db);
  return rows;
}

export function listToolRegisters(db: Db, toolId: string) {
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
