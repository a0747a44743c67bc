import { sql } from "kysely";
import type { Db } from "../../db/client.js";

/** The latest batch in which a feature was measured. */
export async function findLatestBatch(db: Db, featureId: string): Promise<string | undefined> {
  const { rows } = await sql<{ batch_id: string }>`
    select batch_id from batch join feature using (part_id)
    where feature_id = ${featureId}
      and exists (select from reading where reading.batch_id = batch.batch_id and reading.feature_id = feature.feature_id)
    order by batch_id desc limit 1
  `.execute(db);
  return rows[0]?.batch_id;
}

export interface Window {
  batchId: string;
  featureId: string;
  place: string | null;
  seat: string | undefined;
  gaugeId: string | undefined;
  fromPiece: number;
  toPiece: number;
  last: number;
}

export interface MeasuredPiece {
  piece: number;
  value_mm: string | null;
  fails: boolean;
  gauge_variance: number;
}

/**
 * The latest pieces of a window, in cutting order: of each its first cut, as it was read last. What nobody believes until it is
 * repeated, what may be another piece and what was voided is left out.
 */
export async function listFirstCuts(db: Db, window: Window): Promise<MeasuredPiece[]> {
  const { batchId, featureId, place, seat, gaugeId, fromPiece, toPiece, last } = window;
  const { rows } = await sql<MeasuredPiece>`
    select * from (
      select distinct on (piece) piece, value_mm, fails, gauge_variance from reading
      where batch_id = ${batchId} and feature_id = ${featureId} and place is not distinct from ${place}
        and (${seat ?? null}::text is null or seat = ${seat ?? null})
        and (${gaugeId ?? null}::bigint is null or gauge_id = ${gaugeId ?? null})
        and piece >= ${fromPiece} and piece <= ${toPiece} and cut = 1 and state is null and voided_at is null
        and coalesce(piece_within, 1) = 1 and not 'implausible' = any(flags)
      order by piece desc, reading_no desc limit ${last}
    ) as latest order by piece
  `.execute(db);
  return rows;
}

/** As `listFirstCuts`, but each piece as it left the machine, without those that were scrapped or sent back. */
export async function listShipped(db: Db, window: Window): Promise<MeasuredPiece[]> {
  const { batchId, featureId, place, seat, gaugeId, fromPiece, toPiece, last } = window;
  const { rows } = await sql<MeasuredPiece>`
    select * from (
      select distinct on (piece) piece, value_mm, fails, gauge_variance from reading
      where batch_id = ${batchId} and feature_id = ${featureId} and place is not distinct from ${place}
        and (${seat ?? null}::text is null or seat = ${seat ?? null})
        and (${gaugeId ?? null}::bigint is null or gauge_id = ${gaugeId ?? null})
        and piece >= ${fromPiece} and piece <= ${toPiece} and state is null and voided_at is null
        and coalesce(piece_within, 1) = 1 and not 'implausible' = any(flags)
        and not exists (select from piece_decision as d
          where d.batch_id = reading.batch_id and d.voided_at is null and d.decision in ('scrap', 'return')
            and d.from_piece <= reading.piece and reading.piece <= d.to_piece)
      order by piece desc, cut desc, reading_no desc limit ${last}
    ) as latest order by piece
  `.execute(db);
  return rows;
}

export interface PhaseStart {
  piece: number;
  why: "edge" | "correction";
}

/** Pieces of a window from which on another edge cut the feature, or a register of it held another value. */
export async function listPhaseStarts(
  db: Db,
  { batchId, featureId, fromPiece, toPiece }: Pick<Window, "batchId" | "featureId" | "fromPiece" | "toPiece">,
): Promise<PhaseStart[]> {
  const { rows } = await sql<PhaseStart>`
    with cut as (
      select distinct feature_cut.register_id, coalesce(feature_cut.tool_id, register.tool_id) as tool_id
      from feature_cut left join register using (register_id) where feature_id = ${featureId}
    ), starts as (
      select edge_in_batch.from_piece as piece, 'edge' as why
      from edge_in_batch join edge using (edge_id)
      where batch_id = ${batchId} and edge.voided_at is null and edge.tool_id in (select tool_id from cut)
      union all
      select from_piece + (from_cut > 1)::int, 'correction' from register_entry
      where batch_id = ${batchId} and voided_at is null and register_id in (select register_id from cut)
    )
    select piece, max(why) as why
    from starts where piece > ${fromPiece} and piece <= ${toPiece} group by piece order by piece
  `.execute(db);
  return rows.map(({ piece, why }) => ({ piece, why }));
}
