import { type Selectable, sql } from "kysely";
import type { Db } from "../db/client.js";
import type { Database } from "../db/schema.js";

type Row<T extends keyof Database> = Selectable<Database[T]>;

export type NewEntry = Pick<
  Row<"register_entry">,
  | "register_id"
  | "batch_id"
  | "from_piece"
  | "from_cut"
  | "value_mm"
  | "origin"
  | "reason"
  | "correction_no"
  | "edge_id"
  | "follows_entry_id"
  | "by_name"
>;

export async function insertRegisterEntries(db: Db, entries: readonly NewEntry[]) {
  return await db
    .insertInto("register_entry")
    .values([...entries])
    .returning(["entry_id", "register_id", "created_at"])
    .execute();
}

/** Which registers a batch has an entry of after (piece, cut): what is entered at it is no news but history. */
export async function listOvertaken(
  db: Db,
  at: { batchId: string; fromPiece: number; fromCut: number },
  registerIds: readonly string[],
): Promise<string[]> {
  const rows = await db
    .selectFrom("register_entry")
    .select("register_id")
    .distinct()
    .where("batch_id", "=", at.batchId)
    .where("register_id", "in", registerIds)
    .where("voided_at", "is", null)
    .where((eb) => eb(eb.refTuple("from_piece", "from_cut"), ">", eb.tuple(at.fromPiece, at.fromCut)))
    .execute();
  return rows.map((row) => row.register_id);
}

/** The last entry of registers in batches, in cutting order. */
export async function listLastEntries(db: Db, batchIds: readonly string[], registerIds: readonly string[]) {
  return await db
    .selectFrom("register_entry")
    .distinctOn(["batch_id", "register_id"])
    .select(["batch_id", "register_id", "from_piece", "from_cut"])
    .where("batch_id", "in", batchIds)
    .where("register_id", "in", registerIds)
    .where("voided_at", "is", null)
    .orderBy("batch_id")
    .orderBy("register_id")
    .orderBy("from_piece", "desc")
    .orderBy("from_cut", "desc")
    .execute();
}

/** Whether this very reading, by its source or its time, has been taken in before. */
export async function isTakenIn(
  db: Db,
  reading: {
    batchId: string;
    featureId: string;
    piece: number;
    cut: number;
    sourceId: string | undefined;
    measuredAt: string | undefined;
  },
): Promise<boolean> {
  const { batchId, featureId, piece, cut, sourceId, measuredAt } = reading;
  const row = await db
    .selectFrom("reading")
    .select("reading_no")
    .where("batch_id", "=", batchId)
    .where("feature_id", "=", featureId)
    .where("piece", "=", piece)
    .where("cut", "=", cut)
    .$if(sourceId !== undefined, (query) => query.where("source_id", "=", sourceId!))
    .$if(sourceId === undefined, (query) => query.where("measured_at", "=", measuredAt!))
    .limit(1)
    .executeTakeFirst();
  return row !== undefined;
}

/** The edge in use of every tool of a machine. */
export async function listCurrentEdges(db: Db, machineId: string) {
  return await db
    .selectFrom("edge")
    .innerJoin("tool", "tool.tool_id", "edge.tool_id")
    .distinctOn("edge.tool_id")
    .select(["edge.edge_id", "edge.tool_id", "edge.number", "edge.reason", "edge.created_at"])
    .where("tool.machine_id", "=", machineId)
    .where("edge.voided_at", "is", null)
    .orderBy("edge.tool_id")
    .orderBy("edge.number", "desc")
    .execute();
}

/**
 * What every register of a machine holds now: the last entry in cutting order of the batch in which it was entered last,
 * else its value at the start.
 */
export async function listCurrentValues(db: Db, machineId: string) {
  const { rows } = await sql<{ register_id: string; tool_id: string | null; value_mm: string }>`
    select register.register_id, register.tool_id, coalesce(held.value_mm, register.start_value_mm) as value_mm
    from register
    left join lateral (
      select batch_id from register_entry
      where register_id = register.register_id and voided_at is null order by entry_id desc limit 1
    ) as latest on true
    left join lateral (
      select value_mm from register_entry
      where register_id = register.register_id and batch_id = latest.batch_id and voided_at is null
      order by from_piece desc, from_cut desc, entry_id desc limit 1
    ) as held on true
    where register.machine_id = ${machineId}
  `.execute(db);
  return rows;
}

/** How many pieces each edge of a machine's tools has cut in each batch whose part the tool works on. */
export async function listEdgeUse(db: Db, machineId: string) {
  const { rows } = await sql<{ tool_id: string; edge_id: string; batch_id: string; pieces: number }>`
    with spans as (
      select batch.batch_id, brought.key::bigint as tool_id, (brought.value ->> 'edge_id')::bigint as edge_id, 1 as from_piece
      from batch, jsonb_each(batch.start -> 'tools') as brought
      where batch.machine_id = ${machineId}
      union all
      select edge_in_batch.batch_id, edge.tool_id, edge.edge_id, edge_in_batch.from_piece
      from edge_in_batch join edge using (edge_id) join batch using (batch_id)
      where batch.machine_id = ${machineId} and edge.voided_at is null
    ), ordered as (
      select spans.*, batch.part_id, batch.last_piece_cut,
        lead(from_piece) over (partition by batch_id, tool_id order by from_piece, edge_id) as next_from
      from spans join batch using (batch_id)
    )
    select tool_id, edge_id, batch_id, greatest(0, coalesce(next_from - 1, last_piece_cut) - from_piece + 1) as pieces
    from ordered
    where exists (
      select from feature join feature_cut using (feature_id)
      where feature.part_id = ordered.part_id and feature_cut.tool_id = ordered.tool_id)
  `.execute(db);
  return rows;
}
