import { type RawBuilder, type Selectable, sql } from "kysely";
import type { Db } from "../db/client.js";
import type { Database } from "../db/schema.js";
import { type BlockReading, blockReadingColumns } from "./reading-queries.js";

/** When a reading was taken, as far as known. */
const takenAt = sql<string>`coalesce(reading.measured_at, reading.received_at)`;

/** Piece that a reading was taken of at the earliest, where it is only known to be one of the last few. */
const earliest = sql<number>`reading.piece - coalesce(reading.piece_within, 1) + 1`;

/** What a check of its gauge leaves open proves nothing, neither good nor bad. */
const proofColumns = sql`reading.reading_no, reading.feature_id, reading.place, reading.seat, reading.piece,
  ${earliest} as earliest, reading.cut, reading.fails, reading.proves and reading.gauge_doubt_mm is null as proves,
  ${takenAt} as taken_at, reading.gauge_reference and reading.gauge_fit and reading.gauge_doubt_mm is null
    and not 'gauge_overdue' = any(reading.flags) as by_reference,
  reading.gauge_deviation_mm is not null and reading.verdict = 'conforming' and reading.gauge_doubt_mm is null as vouches`;

export interface ProofRow {
  reading_no: number;
  feature_id: string;
  place: string | null;
  /** Null: the batch names no seats, or it is not known. */
  seat: string | null;
  piece: number;
  earliest: number;
  cut: number;
  fails: boolean;
  proves: boolean;
  taken_at: string;
  by_reference: boolean;
  vouches: boolean;
}

/** Readings of the (feature, piece) of a row, looked up by index: the offset keeps them from being joined the other way. */
function readingsOf(table: string, batchId: string): RawBuilder<unknown> {
  return sql`(
    select * from reading
    where reading.batch_id = ${batchId} and reading.feature_id = ${sql.ref(`${table}.feature_id`)}
      and reading.piece = ${sql.ref(`${table}.piece`)} and reading.voided_at is null offset 0)`;
}

/**
 * All readings of the (feature, piece) that failed, and of the nearest good pieces of each seat before and after each; where a
 * gauge failed it whose deviation from the reference is known, of the nearest good checks as well.
 */
export async function listDoubtReadings(db: Db, batchId: string): Promise<ProofRow[]> {
  const { rows } = await sql<ProofRow>`
    with wanted as materialized (
      select feature_id, piece from reading where batch_id = ${batchId} and fails and voided_at is null
      union select feature_id, piece from doubt_bounds(${batchId})
    )
    select ${proofColumns}
    from wanted cross join lateral ${readingsOf("wanted", batchId)} as reading
  `.execute(db);
  return rows;
}

/** All readings of (feature, piece), whatever the place. */
export async function listReadingsOn(
  db: Db,
  batchId: string,
  wanted: readonly { featureId: string; piece: number }[],
): Promise<ProofRow[]> {
  const { rows } = await sql<ProofRow>`
    with wanted as materialized (
      select distinct feature_id, piece
      from unnest(${wanted.map((w) => w.featureId)}::bigint[], ${wanted.map((w) => w.piece)}::int[]) as t (feature_id, piece)
    )
    select ${proofColumns}
    from wanted cross join lateral ${readingsOf("wanted", batchId)} as reading
  `.execute(db);
  return rows;
}

interface FeatureRange {
  featureId: string;
  from: number;
  to: number;
}

/**
 * For each (feature, place, seat, piece): the last piece before it and the first one after it that were proved good there
 * as they left the machine; `byCheck`: or found good by a gauge whose deviation from the reference is known.
 */
export async function listGoodNeighbours(
  db: Db,
  wanted: readonly {
    batchId: string;
    featureId: string;
    place: string | null;
    seat: string | null;
    piece: number;
    byCheck: boolean;
  }[],
): Promise<{ before: number | null; after: number | null }[]> {
  const beside = (walk: string, isBefore: boolean) =>
    sql`${sql.ref(walk)}(t.batch_id, t.feature_id, t.place, t.seat, t.piece, ${isBefore}, true)`;
  const good = (isBefore: boolean) => sql`${sql.raw(isBefore ? "greatest" : "least")}(
    ${beside("nearest_witness", isBefore)},
    case when t.by_check then ${beside("nearest_good_check", isBefore)} end)`;
  const { rows } = await sql<{ before: number | null; after: number | null }>`
    select ${good(true)} as before, ${good(false)} as after
    from unnest(${wanted.map((w) => w.batchId)}::bigint[], ${wanted.map((w) => w.featureId)}::bigint[],
      ${wanted.map((w) => w.place)}::text[], ${wanted.map((w) => w.seat)}::text[], ${wanted.map((w) => w.piece)}::int[],
      ${wanted.map((w) => w.byCheck)}::bool[])
      with ordinality as t (batch_id, feature_id, place, seat, piece, by_check, at)
    order by t.at
  `.execute(db);
  return rows;
}

/** Readings of pieces that were cut again, inside some ranges of pieces. */
export async function listCutAgain(
  db: Db,
  batchId: string,
  ranges: readonly FeatureRange[],
): Promise<ProofRow[]> {
  if (ranges.length === 0) return [];
  const { rows } = await sql<ProofRow>`
    with again as materialized (
      select distinct reading.feature_id, reading.piece
      from unnest(${ranges.map((r) => r.featureId)}::bigint[], ${ranges.map((r) => r.from)}::int[],
        ${ranges.map((r) => r.to)}::int[]) as t (feature_id, from_piece, to_piece)
      join reading on reading.batch_id = ${batchId} and reading.feature_id = t.feature_id and reading.cut > 1
        and reading.voided_at is null and reading.piece >= t.from_piece and reading.piece <= t.to_piece
    )
    select ${proofColumns}
    from again cross join lateral ${readingsOf("again", batchId)} as reading
  `.execute(db);
  return rows;
}

/** All readings of some ranges of pieces, whatever the feature. */
export async function listReadingsOfPieces(
  db: Db,
  batchId: string,
  ranges: readonly { from: number; to: number }[],
): Promise<ProofRow[]> {
  if (ranges.length === 0) return [];
  const { rows } = await sql<ProofRow>`
    with features as materialized (
      select feature_id from feature join batch using (part_id) where batch_id = ${batchId}
    )
    select distinct ${proofColumns}
    from unnest(${ranges.map((r) => r.from)}::int[], ${ranges.map((r) => r.to)}::int[]) as t (from_piece, to_piece)
    cross join features
    join reading on reading.batch_id = ${batchId} and reading.feature_id = features.feature_id
      and reading.piece >= t.from_piece and reading.piece <= t.to_piece and reading.voided_at is null
  `.execute(db);
  return rows;
}

export type DecisionRow = Selectable<Database["piece_decision"]>;

/** Decisions about pieces of a batch that nobody voided, in the order they were taken in. */
export function listDecisionsInForce(db: Db, batchId: string): Promise<DecisionRow[]> {
  return db
    .selectFrom("piece_decision")
    .selectAll()
    .where("batch_id", "=", batchId)
    .where("voided_at", "is", null)
    .orderBy("decision_id")
    .execute();
}

/** Pieces of some range whose seat somebody gave: it need not be the one that their number says. */
export async function listSeatsGiven(
  db: Db,
  batchId: string,
  { from, to }: { from: number; to: number },
): Promise<{ piece: number; seat: string }[]> {
  const { rows } = await sql<{ piece: number; seat: string }>`
    select distinct piece, seat from reading
    where batch_id = ${batchId} and seat_given and voided_at is null and coalesce(piece_within, 1) = 1
      and piece >= ${from} and piece <= ${to}
      and feature_id in (select feature_id from feature join batch using (part_id) where batch_id = ${batchId})
  `.execute(db);
  return rows;
}

/** Balloon numbers of features, and the places where they are measured. */
export function listCharacteristics(db: Db, featureIds: readonly string[]) {
  if (featureIds.length === 0) return Promise.resolve([]);
  return db
    .selectFrom("feature")
    .select(["feature_id", "characteristic", "name", "places"])
    .where("feature_id", "in", featureIds)
    .execute();
}

/** The latest state of each block stored at or before a piece, in the order asked for; absent where there is none. */
export async function listCheckpointsAt(
  db: Db,
  batchId: string,
  wanted: readonly { blockKey: string; piece: number }[],
): Promise<{ block_key: string; piece: number; state: string }[]> {
  const { rows } = await sql<{ block_key: string; piece: number; state: string }>`
    select t.block_key, stored.piece, stored.state
    from unnest(${wanted.map((w) => w.blockKey)}::bigint[], ${wanted.map((w) => w.piece)}::int[]) as t (block_key, piece)
    cross join lateral (
      select piece, state from block_checkpoint
      where batch_id = ${batchId} and block_key = t.block_key and block_checkpoint.piece <= t.piece
      order by piece desc limit 1) as stored
  `.execute(db);
  return rows;
}

/** Readings of features from one piece to another that nobody voided. */
export async function listReadingsBetween(
  db: Db,
  batchId: string,
  wanted: readonly FeatureRange[],
): Promise<BlockReading[]> {
  const { rows } = await sql<BlockReading>`
    select ${sql.join(blockReadingColumns.map((column) => sql.ref(`reading.${column}`)))}
    from unnest(${wanted.map((w) => w.featureId)}::bigint[], ${wanted.map((w) => w.from)}::int[],
      ${wanted.map((w) => w.to)}::int[]) as t (feature_id, low, high)
    join reading on reading.batch_id = ${batchId} and reading.feature_id = t.feature_id
      and piece >= t.low and piece <= t.high and voided_at is null
  `.execute(db);
  return rows;
}
