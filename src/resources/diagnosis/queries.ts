import { sql } from "kysely";
import type { Db } from "../../db/client.js";
import type { DiagnosedRow, PieceRange } from "../../decision/diagnosis/window.js";

/** The latest readings in each range that nobody voided, of pieces that are sure and were cut once. */
export async function listReadings(
  db: Db,
  batchId: string,
  ranges: readonly PieceRange[],
): Promise<DiagnosedRow[]> {
  const { rows } = await sql<DiagnosedRow>`
    select latest.* from unnest(${ranges.map((range) => range.featureId)}::bigint[],
      ${ranges.map((range) => range.fromPiece)}::int[], ${ranges.map((range) => range.toPiece)}::int[],
      ${ranges.map((range) => range.most)}::int[]) as wanted (feature_id, from_piece, to_piece, most)
    cross join lateral (
      select feature_id, place, piece, gauge_id, seat, value_mm, dx_mm, dy_mm, gauge_variance from reading
      where batch_id = ${batchId} and feature_id = wanted.feature_id
        and piece >= wanted.from_piece and piece <= wanted.to_piece
        and value_mm is not null and cut = 1 and coalesce(piece_within, 1) = 1 and voided_at is null
      order by piece desc, reading_no desc limit wanted.most
    ) as latest
  `.execute(db);
  return rows;
}

export async function listGauges(db: Db, gaugeIds: readonly string[]) {
  return await db
    .selectFrom("gauge")
    .select(["gauge_id", "name", "kind"])
    .where(sql<boolean>`gauge_id = any(${gaugeIds}::bigint[])`)
    .orderBy("gauge_id")
    .execute();
}
