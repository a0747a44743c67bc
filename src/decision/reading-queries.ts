import { type Selectable, sql } from "kysely";
import type { Db } from "../db/client.js";
import type { Database } from "../db/schema.js";
import type { ReadingRow } from "./queries.js";

type Row<T extends keyof Database> = Selectable<Database[T]>;

/** What a block's journal wants of a stored reading. */
export const blockReadingColumns = [
  "reading_no",
  "feature_id",
  "place",
  "piece",
  "cut",
  "spring_pass",
  "seat",
  "value_mm",
  "dx_mm",
  "dy_mm",
  "dz_mm",
  "size_mm",
  "result",
  "turns",
  "state",
  "gauge_id",
  "gauge_reference",
  "gauge_variance",
  "gauge_fit",
  "gauge_doubt_mm",
  "expanded_uncertainty_mm",
  "fails",
  "piece_within",
] as const;

export type BlockReading = Pick<Row<"reading">, (typeof blockReadingColumns)[number]>;

/** Readings of some features from a piece on that nobody voided, without those where the gauge gave nothing. */
export async function listBlockReadings(
  db: Db,
  batchId: string,
  featureIds: readonly string[],
  fromPiece: number,
): Promise<BlockReading[]> {
  return await db
    .selectFrom("reading")
    .select(blockReadingColumns)
    .where("batch_id", "=", batchId)
    .where("feature_id", "in", featureIds)
    .where("piece", ">=", fromPiece)
    .where("state", "is", null)
    .where("voided_at", "is", null)
    .execute();
}

/** For each reading: sizes of the pieces before it, of the same feature, place and gauge, the latest first. */
export async function listBefore(
  db: Db,
  batchId: string,
  wanted: readonly Pick<ReadingRow, "feature_id" | "place" | "gauge_id" | "piece">[],
  most: number,
): Promise<{ piece: number; value_mm: string }[][]> {
  const { rows } = await sql<{ before: { piece: number; value_mm: string }[] }>`
    select coalesce((select json_agg(json_build_object('piece', piece, 'value_mm', value_mm::text)) from (
      select piece, value_mm from reading
      where batch_id = ${batchId} and feature_id = t.feature_id and place is not distinct from t.place
        and gauge_id = t.gauge_id and cut = 1 and value_mm is not null and voided_at is null and piece < t.piece
      order by piece desc limit ${most}) as last), '[]') as before
    from unnest(${wanted.map((w) => w.feature_id)}::bigint[], ${wanted.map((w) => w.place)}::text[],
      ${wanted.map((w) => w.gauge_id)}::bigint[], ${wanted.map((w) => w.piece)}::int[])
      with ordinality as t (feature_id, place, gauge_id, piece, at)
    order by t.at
  `.execute(db);
  return rows.map((row) => row.before);
}

export type PlaceReading = Pick<
  ReadingRow,
  | "reading_no"
  | "feature_id"
  | "place"
  | "piece"
  | "cut"
  | "value_mm"
  | "gauge_deviation_mm"
  | "verdict"
  | "disposition"
  | "flags"
>;

/** Readings of (feature, piece) that nobody voided, at whatever place. */
export async function listPlaceReadings(
  db: Db,
  batchId: string,
  wanted: readonly { featureId: string; piece: number }[],
): Promise<PlaceReading[]> {
  const { rows } = await sql<PlaceReading>`
    select reading_no, feature_id, place, piece, cut, value_mm, gauge_deviation_mm, verdict, disposition, flags
    from unnest(${wanted.map((w) => w.featureId)}::bigint[], ${wanted.map((w) => w.piece)}::int[]) as t (feature_id, piece)
    join reading using (feature_id, piece)
    where batch_id = ${batchId} and voided_at is null
  `.execute(db);
  return rows;
}

export async function hasReadings(db: Db, batchId: string, featureIds: readonly string[]): Promise<boolean> {
  const row = await db
    .selectFrom("reading")
    .select("reading_no")
    .where("batch_id", "=", batchId)
    .where("feature_id", "in", featureIds)
    .where("state", "is", null)
    .where("voided_at", "is", null)
    .limit(1)
    .executeTakeFirst();
  return row !== undefined;
}

/** Last piece known to be cut when the latest reading of some features came, and when the first one of `piece` did. */
export async function findKnownPieces(
  db: Db,
  batchId: string,
  featureIds: readonly string[],
  piece: number,
): Promise<{ countedFrom: number; countedBefore: number }> {
  const { rows } = await sql<{ countedFrom: number; countedBefore: number }>`
    with mine as (
      select reading_no, piece, known_piece from reading
      where batch_id = ${batchId} and feature_id = any(${featureIds}::bigint[]) and state is null
        and voided_at is null
    )
    select coalesce(max(known_piece), 0) as "countedFrom",
      coalesce(max(case when known_piece < ${piece} then known_piece else mine.piece end)
        filter (where reading_no < coalesce((select min(reading_no) from mine where piece = ${piece}), 2147483647)), 0)
        as "countedBefore"
    from mine
  `.execute(db);
  return rows[0]!;
}

/** The latest state stored before `piece`; one stored at it may stand on readings that are all voided by now. */
export async function findCheckpoint(db: Db, batchId: string, blockKey: string, piece: number) {
  return await db
    .selectFrom("block_checkpoint")
    .select(["piece", "state"])
    .where("batch_id", "=", batchId)
    .where("block_key", "=", blockKey)
    .where("piece", "<", piece)
    .orderBy("piece", "desc")
    .limit(1)
    .executeTakeFirst();
}

/** The latest size read at each place of features on pieces and cuts. One that has to be confirmed yet does not count. */
export async function listLatestSizes(
  db: Db,
  wanted: readonly { batchId: string; featureId: string; piece: number; cut: number }[],
): Promise<{ place: string | null; value_mm: string }[][]> {
  const { rows } = await sql<{ sizes: { place: string | null; value_mm: string }[] }>`
    select (
      select coalesce(json_agg(json_build_object('place', place, 'value_mm', value_mm::text)), '[]') from (
        select distinct on (place) place, value_mm - coalesce(gauge_deviation_mm, 0) as value_mm from reading
        where reading.batch_id = t.batch_id and reading.feature_id = t.feature_id and reading.piece = t.piece
          and reading.cut = t.cut and value_mm is not null and voided_at is null and not 'implausible' = any(flags)
        order by place, reading_no desc) as latest) as sizes
    from unnest(${wanted.map((w) => w.batchId)}::bigint[], ${wanted.map((w) => w.featureId)}::bigint[],
      ${wanted.map((w) => w.piece)}::int[], ${wanted.map((w) => w.cut)}::int[])
      with ordinality as t (batch_id, feature_id, piece, cut, at)
    order by t.at
  `.execute(db);
  return rows.map((row) => row.sizes);
}
