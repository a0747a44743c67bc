import { sql } from "kysely";
import type { Db } from "../../db/client.js";

/** Readings of one piece, in the order they were taken of it; voided ones among them. */
export function listPieceReadings(db: Db, batchId: string, featureIds: readonly string[], piece: number) {
  return db
    .selectFrom("reading")
    .selectAll()
    .where("batch_id", "=", batchId)
    .where("feature_id", "in", featureIds)
    .where("piece", "=", piece)
    .orderBy("cut")
    .orderBy("reading_no")
    .execute();
}

/** For each feature the last piece before one that was measured, by whatever gauge; absent: none. */
export async function listMeasuredBefore(
  db: Db,
  batchId: string,
  featureIds: readonly string[],
  piece: number,
): Promise<{ feature_id: string; piece: number }[]> {
  const { rows } = await sql<{ feature_id: string; piece: number }>`
    select t.feature_id, last.piece from unnest(${featureIds}::bigint[]) as t (feature_id)
    cross join lateral last_measured_before(${batchId}, t.feature_id, ${piece}) as last (piece)
    where last.piece is not null
  `.execute(db);
  return rows;
}

export interface RegisterInForce {
  cut: number;
  register_id: string;
  value_mm: string | null;
  from_piece: number | null;
  from_cut: number | null;
  reason: string | null;
  by_name: string | null;
}

/** For each cut of a piece and each register the entry in force, in cutting order; nulls: none since the batch began. */
export async function listRegistersInForce(
  db: Db,
  batchId: string,
  piece: number,
  cuts: readonly number[],
  registerIds: readonly string[],
): Promise<RegisterInForce[]> {
  const { rows } = await sql<RegisterInForce>`
    select t.cut, register.register_id, held.value_mm, held.from_piece, held.from_cut, held.reason, held.by_name
    from unnest(${cuts}::int[]) as t (cut)
    cross join register
    left join lateral (
      select value_mm, from_piece, from_cut, reason, by_name from register_entry
      where batch_id = ${batchId} and register_id = register.register_id and voided_at is null
        and (from_piece, from_cut) <= (${piece}::int, t.cut)
      order by from_piece desc, from_cut desc, entry_id desc limit 1
    ) as held on true
    where register.register_id = any(${registerIds}::bigint[])
    order by t.cut, register.number, register.register_id
  `.execute(db);
  return rows;
}

/** For each tool the edge that was changed last in a batch up to a piece. */
export function listEdgesInForce(db: Db, batchId: string, piece: number) {
  return db
    .selectFrom("edge_in_batch")
    .innerJoin("edge", "edge.edge_id", "edge_in_batch.edge_id")
    .distinctOn("edge.tool_id")
    .select(["edge.tool_id", "edge.edge_id", "edge.number", "edge.reason", "edge_in_batch.from_piece"])
    .where("edge_in_batch.batch_id", "=", batchId)
    .where("edge_in_batch.from_piece", "<=", piece)
    .where("edge.voided_at", "is", null)
    .orderBy("edge.tool_id")
    .orderBy("edge_in_batch.from_piece", "desc")
    .orderBy("edge.edge_id", "desc")
    .execute();
}

/** The last interruption before a piece was cut. */
export function findLastInterruption(db: Db, batchId: string, piece: number) {
  return db
    .selectFrom("interruption")
    .select(["interruption_id", "from_piece", "kind", "note"])
    .where("batch_id", "=", batchId)
    .where("from_piece", "<=", piece)
    .where("voided_at", "is", null)
    .orderBy("from_piece", "desc")
    .orderBy("interruption_id", "desc")
    .limit(1)
    .executeTakeFirst();
}

/** All decisions about a piece, oldest first, voided ones among them. */
export function listPieceDecisions(db: Db, batchId: string, piece: number) {
  return db
    .selectFrom("piece_decision")
    .selectAll()
    .where("batch_id", "=", batchId)
    .where("from_piece", "<=", piece)
    .where("to_piece", ">=", piece)
    .orderBy("decision_id")
    .execute();
}
