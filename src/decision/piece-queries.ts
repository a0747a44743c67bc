import { type Selectable, sql } from "kysely";
import type { PieceRange } from "../core/containment/piece-ranges.js";
import type { Db } from "../db/client.js";
import type { Database } from "../db/schema.js";

export type StoredReading = Selectable<Database["reading"]>;

/** Readings of some pieces by piece and cut, in the order they were taken in; voided ones among them. */
export async function listReadingsOnPieces(
  db: Db,
  batchId: string,
  featureIds: readonly string[],
  { from, to }: PieceRange,
): Promise<StoredReading[]> {
  return db
    .selectFrom("reading")
    .selectAll()
    .where("batch_id", "=", batchId)
    .where("feature_id", "in", featureIds)
    .where("piece", ">=", from)
    .where("piece", "<=", to)
    .orderBy("piece")
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
