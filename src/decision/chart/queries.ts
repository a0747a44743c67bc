import { sql } from "kysely";
import type { Db } from "../../db/client.js";

/** The latest batches in which a feature was measured, oldest first. */
export async function listLatestBatches(db: Db, featureId: string, count: number): Promise<string[]> {
  const { rows } = await sql<{ batch_id: string }>`
    select batch.batch_id from batch join feature using (part_id) cross join lateral (
      select from reading where reading.batch_id = batch.batch_id and reading.feature_id = feature.feature_id limit 1) as one
    where feature.feature_id = ${featureId}
    order by batch.batch_id desc limit ${count}
  `.execute(db);
  return rows.map(({ batch_id }) => batch_id).reverse();
}

export interface Window {
  /** In the order in which they follow each other. */
  batchIds: readonly string[];
  featureId: string;
  place: string | null;
  seat: string | undefined;
  gaugeId: string | undefined;
  fromPiece: number;
  toPiece: number;
  /** Of each batch. */
  last: number;
}

export interface MeasuredPiece {
  batch_id: string;
  piece: number;
  /** As it was judged: less what its gauge is known to read beside the reference. */
  value_mm: string | null;
  fails: boolean;
  gauge_variance: number;
  /** It surprised, and no repeat has confirmed it. */
  implausible: boolean;
}

/**
 * The latest pieces of a window, in cutting order: of each its first cut as it was read last, or where `shipped` its last cut,
 * without pieces that were scrapped or sent back. What may be another piece and what was voided is left out.
 */
export async function listPieces(db: Db, window: Window, shipped: boolean): Promise<MeasuredPiece[]> {
  const { batchIds, featureId, place, fromPiece, toPiece, last } = window;
  const [seat, gaugeId] = [window.seat ?? null, window.gaugeId ?? null];
  const counts = sql`
    reading.batch_id = b.batch_id and feature_id = ${featureId} and place is not distinct from ${place}
    and (${seat}::text is null or seat = ${seat}) and (${gaugeId}::bigint is null or gauge_id = ${gaugeId})
    and state is null and voided_at is null and coalesce(piece_within, 1) = 1
    and (${shipped} or cut = 1)
    and not (${shipped} and exists (select from piece_decision as d
      where d.batch_id = reading.batch_id and d.voided_at is null and d.decision in ('scrap', 'return')
        and d.from_piece <= reading.piece and reading.piece <= d.to_piece))`;
  const columns = sql`piece, value_mm - coalesce(gauge_deviation_mm, 0) as value_mm, fails, gauge_variance,
    'implausible' = any(flags) as implausible`;
  // Goes from piece to piece by index, also to the first one, where the planner would rather read the whole batch: what lies
  // before costs nothing. Where the window holds no more pieces than are asked for, all of it is read in one go.
  const found =
    toPiece - fromPiece < last
      ? sql`select distinct on (piece) ${columns} from reading
          where ${counts} and piece >= ${fromPiece} and piece <= ${toPiece} order by piece, cut desc, reading_no desc`
      : sql`
          with recursive walk (piece, number) as (
            select ${toPiece}::int + 1, 0
            union all
            select next.piece, walk.number + 1 from walk cross join lateral (
              select piece from reading where ${counts} and piece >= ${fromPiece} and piece < walk.piece
              order by piece desc limit 1) as next
            where walk.number < ${last}
          )
          select latest.* from walk cross join lateral (
            select ${columns} from reading
            where ${counts} and number > 0 and piece = walk.piece order by cut desc, reading_no desc limit 1) as latest`;
  const { rows } = await sql<MeasuredPiece>`
    select b.batch_id, found.* from unnest(${[...batchIds]}::bigint[]) with ordinality as b (batch_id, ord)
    cross join lateral (${found}) as found
    order by ord, piece
  `.execute(db);
  return rows;
}

export interface PhaseStart {
  batch_id: string;
  piece: number;
  why: "edge" | "correction";
}

/** Pieces of batches from which on another edge cut the feature, or a register of it held another value. */
export async function listPhaseStarts(
  db: Db,
  { batchIds, featureId }: Pick<Window, "batchIds" | "featureId">,
): Promise<PhaseStart[]> {
  const { rows } = await sql<PhaseStart>`
    with cut as (
      select distinct feature_cut.register_id, coalesce(feature_cut.tool_id, register.tool_id) as tool_id
      from feature_cut left join register using (register_id) where feature_id = ${featureId}
    ), starts as (
      select batch_id, edge_in_batch.from_piece as piece, 'edge' as why
      from edge_in_batch join edge using (edge_id)
      where batch_id = any(${[...batchIds]}::bigint[]) and edge.voided_at is null and edge.tool_id in (select tool_id from cut)
      union all
      select batch_id, from_piece + (from_cut > 1)::int, 'correction' from register_entry
      where batch_id = any(${[...batchIds]}::bigint[]) and voided_at is null and register_id in (select register_id from cut)
    )
    select batch_id, piece, max(why) as why from starts group by batch_id, piece order by batch_id, piece
  `.execute(db);
  return rows;
}

/** Which features of a batch were measured, and where on them. */
export async function listMeasuredPlaces(db: Db, batchId: string) {
  return await db
    .selectFrom("reading")
    .select(["feature_id", "place"])
    .distinct()
    .where("batch_id", "=", batchId)
    .where("voided_at", "is", null)
    .where("value_mm", "is not", null)
    .execute();
}
