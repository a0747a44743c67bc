import { sql } from "kysely";
import type { Db } from "../../db/client.js";

export function findPart(db: Db, partId: string) {
  return db.selectFrom("part").selectAll().where("part_id", "=", partId).executeTakeFirst();
}

export function findMachine(db: Db, machineId: string) {
  return db.selectFrom("machine").selectAll().where("machine_id", "=", machineId).executeTakeFirst();
}

export interface EarlierBatch {
  batch_id: string;
  name: string;
  last_piece_cut: number;
  reading_count: number;
}

/** The latest batches of a part on a machine that have cut something, at most `limit`. */
export function listEarlierBatches(
  db: Db,
  about: { partId: string; machineId: string; operation: string | undefined; limit: number },
): Promise<EarlierBatch[]> {
  return db
    .selectFrom("batch")
    .select(["batch_id", "name", "last_piece_cut", "reading_count"])
    .where("part_id", "=", about.partId)
    .where("machine_id", "=", about.machineId)
    .where("last_piece_cut", ">", 0)
    .$if(about.operation !== undefined, (query) => query.where("operation", "=", about.operation!))
    .orderBy("batch_id", "desc")
    .limit(about.limit)
    .execute();
}

export interface ReadingShare {
  batch_id: string;
  feature_id: string;
  /** Null: none was needed. */
  gauge_id: string | null;
  readings: number;
}

/** Of the latest readings of each batch, at most `mostEach`: how many were of which feature with which gauge. */
export async function listReadingShares(
  db: Db,
  batchIds: readonly string[],
  mostEach: number,
): Promise<ReadingShare[]> {
  const { rows } = await sql<ReadingShare>`
    select t.batch_id, latest.feature_id, latest.gauge_id, count(*)::int as readings
    from unnest(${batchIds}::bigint[]) as t (batch_id)
    cross join lateral (
      select feature_id, gauge_id from reading
      where reading.batch_id = t.batch_id and voided_at is null order by reading_no desc limit ${mostEach}
    ) as latest
    group by t.batch_id, latest.feature_id, latest.gauge_id
  `.execute(db);
  return rows;
}

/** What pieces were held when they failed, for each failing piece of these batches; at most `limit`. */
export async function listHoldsSaid(
  db: Db,
  batchIds: readonly string[],
  limit: number,
): Promise<{ batch_id: string; hold_from: number; hold_to: number }[]> {
  const { rows } = await sql<{ batch_id: string; hold_from: number; hold_to: number }>`
    select batch_id, hold_from, max(hold_to)::int as hold_to from reading
    where batch_id = any(${batchIds}::bigint[]) and fails and cut = 1 and voided_at is null and hold_from is not null
    group by batch_id, hold_from limit ${limit}
  `.execute(db);
  return rows;
}

export function listGauges(db: Db, gaugeIds: readonly string[]) {
  if (gaugeIds.length === 0) return Promise.resolve([]);
  return db
    .selectFrom("gauge")
    .select(["gauge_id", "name", "minutes_per_reading"])
    .where("gauge_id", "in", gaugeIds)
    .execute();
}
