import { sql } from "kysely";
import { fromNumeric } from "../../core/quantity.js";
import type { Db } from "../../db/client.js";

export function findEdge(db: Db, toolId: string, edgeId: string) {
  return db
    .selectFrom("edge")
    .innerJoin("tool", "tool.tool_id", "edge.tool_id")
    .select(["edge.edge_id", "edge.voided_at", "tool.tool_id", "tool.machine_id"])
    .where("edge.tool_id", "=", toolId)
    .where("edge.edge_id", "=", edgeId)
    .executeTakeFirst();
}

export function findRegister(db: Db, registerId: string) {
  return db
    .selectFrom("register")
    .innerJoin("machine", "machine.machine_id", "register.machine_id")
    .select(["register.register_id", "register.machine_id", "register.start_value_mm", "machine.unit"])
    .where("register_id", "=", registerId)
    .executeTakeFirst();
}

export function findCorrection(db: Db, batchId: string, correctionNo: number) {
  return db
    .selectFrom("correction")
    .innerJoin("batch", "batch.batch_id", "correction.batch_id")
    .innerJoin("machine", "machine.machine_id", "batch.machine_id")
    .select(["correction.status", "correction.register_id", "machine.unit"])
    .where("correction.batch_id", "=", batchId)
    .where("correction_no", "=", correctionNo)
    .executeTakeFirst();
}

export function findGauge(db: Db, gaugeId: string) {
  return db.selectFrom("gauge").select("gauge_id").where("gauge_id", "=", gaugeId).executeTakeFirst();
}

/** Pieces of a batch that were cut while a register held a value. */
export interface ValueSpan {
  batch_id: string;
  batch: string;
  part_number: string;
  revision: string;
  value_mm: string;
  from_piece: number;
  from_cut: number;
  to_piece: number;
  /** Where the value changed from one cut of a piece to the next: the last cut with it. */
  to_cut: number | null;
  entry_id: string | null;
  correction_no: number | null;
  /** The batch that numbered the correction. */
  correction_batch: string;
  by_name: string | null;
  created_at: string | null;
}

type After = [batchId: string, fromPiece: string, fromCut: string, entryId: string];

const shownSpan = sql`
  span.batch_id, batch.name as batch, part.number as part_number, part.revision, span.value_mm, span.from_piece,
  span.from_cut, case when next_piece is null then batch.last_piece_cut
    when next_cut > 1 then next_piece else next_piece - 1 end as to_piece,
  case when next_cut > 1 then next_cut - 1 end as to_cut, nullif(span.entry_id, 0) as entry_id, span.correction_no,
  span.correction_batch, span.by_name, span.created_at`;
const isCut = sql`
  span.from_piece <= batch.last_piece_cut
  and (next_piece is null or (next_piece, next_cut) > (span.from_piece, span.from_cut))`;

/**
 * Batches in which a register was given a value, or that began with it on some register. A batch from before the register was
 * there counts with the register's own start value: that one is looked for in all batches.
 */
function mayHaveHeld(register: { register_id: string; start_value_mm: string }, valueMm: string) {
  if (fromNumeric(valueMm) === fromNumeric(register.start_value_mm)) return sql`true`;
  return sql`batch_id in (
    select batch_id from register_entry
    where register_id = ${register.register_id} and value_mm = ${valueMm}::numeric and voided_at is null
    union
    select batch_id from batch
    where jsonb_path_query_array(start, '$.registers.*.value_mm') @> jsonb_build_array(${valueMm}::numeric(18, 9)::text))`;
}

/**
 * What a register held, batch by batch in cutting order, after the place of the page (exclusive); with a value only where
 * it held that. Batches of the machine whose part the register moves, which begin with what it brought along.
 */
export async function listRegisterSpans(
  db: Db,
  register: { register_id: string; machine_id: string; start_value_mm: string },
  valueMm: string | undefined,
  batchId: string | undefined,
  page: { after: After; limit: number },
): Promise<ValueSpan[]> {
  const { after, limit } = page;
  const { rows } = await sql<ValueSpan>`
    select ${shownSpan}
    from (
      select batch_id, start, part_id, name, last_piece_cut from batch
      where machine_id = ${register.machine_id} and batch_id >= ${after[0]}::bigint
        and ${batchId === undefined ? sql`true` : sql`batch_id = ${batchId}`}
        and ${valueMm === undefined ? sql`true` : mayHaveHeld(register, valueMm)}
      order by machine_id, batch_id
    ) as batch
    join part using (part_id)
    cross join lateral (
      select *, lead(from_piece) over held as next_piece, lead(from_cut) over held as next_cut
      from (
        select batch.batch_id, 1 as from_piece, 1 as from_cut, coalesce(
            (batch.start -> 'registers' -> ${register.register_id}::text ->> 'value_mm')::numeric(18, 9), start_value_mm) as value_mm,
          0::bigint as entry_id, null::int as correction_no, batch.batch_id as correction_batch, null as by_name,
          null::timestamptz as created_at
        from register where register.register_id = ${register.register_id}
        union all
        select entry.batch_id, entry.from_piece, entry.from_cut, entry.value_mm, entry.entry_id,
          coalesce(entry.correction_no, first.correction_no), coalesce(first.batch_id, entry.batch_id), entry.by_name,
          entry.created_at
        from register_entry as entry left join register_entry as first on first.entry_id = entry.follows_entry_id
        where entry.batch_id = batch.batch_id and entry.register_id = ${register.register_id} and entry.voided_at is null
      ) as points
      window held as (order by from_piece, from_cut, entry_id)
    ) as span
    where exists (select from feature join feature_cut using (feature_id)
        where feature.part_id = batch.part_id and feature_cut.register_id = ${register.register_id})
      and ${isCut} and ${valueMm === undefined ? sql`true` : sql`span.value_mm = ${valueMm}::numeric`}
      and (batch.batch_id, span.from_piece, span.from_cut, span.entry_id)
        > (${after[0]}::bigint, ${after[1]}::int, ${after[2]}::int, ${after[3]}::bigint)
    order by batch.batch_id, span.from_piece, span.from_cut, span.entry_id limit ${limit}
  `.execute(db);
  return rows;
}

/** Pieces cut with the value that a correction set, in its own batch and where it counted besides. */
export async function listCorrectionSpans(
  db: Db,
  correction: { batchId: string; correctionNo: number; registerId: string },
  page: { after: After; limit: number },
): Promise<ValueSpan[]> {
  const { after, limit } = page;
  const { rows } = await sql<ValueSpan>`
    with own as (
      select * from register_entry
      where batch_id = ${correction.batchId} and register_id = ${correction.registerId}
        and correction_no = ${correction.correctionNo} and voided_at is null
    ), made as (
      select * from own
      union all
      select followed.* from register_entry as followed join own on followed.follows_entry_id = own.entry_id
      where followed.voided_at is null
    ), span as (
      select made.batch_id, made.value_mm, made.from_piece, made.from_cut, made.entry_id,
        ${correction.correctionNo}::int as correction_no, ${correction.batchId}::bigint as correction_batch, made.by_name,
        made.created_at, next.from_piece as next_piece, next.from_cut as next_cut
      from made left join lateral (
        select from_piece, from_cut from register_entry as later
        where later.batch_id = made.batch_id and later.register_id = made.register_id and later.voided_at is null
          and (later.from_piece, later.from_cut, later.entry_id) > (made.from_piece, made.from_cut, made.entry_id)
        order by later.from_piece, later.from_cut, later.entry_id limit 1
      ) as next on true
    )
    select ${shownSpan}
    from span join batch using (batch_id) join part using (part_id)
    where ${isCut}
      and (batch_id, span.from_piece, span.from_cut, span.entry_id)
        > (${after[0]}::bigint, ${after[1]}::int, ${after[2]}::int, ${after[3]}::bigint)
    order by batch_id, span.from_piece, span.from_cut, span.entry_id limit ${limit}
  `.execute(db);
  return rows;
}

export interface GaugeSpan {
  batch_id: string;
  batch: string;
  part_number: string;
  revision: string;
  feature_id: string;
  characteristic: string;
  from_piece: number;
  to_piece: number;
  readings: number;
  first_at: string;
  last_at: string;
  /** The last reading of the page in the order of time. */
  page_at: string;
  page_batch: string;
  page_reading: number;
  page_size: number;
}

/**
 * What a gauge has measured between two instants, in the order of time: the next `most` readings after the place of the
 * page, summed up by batch and feature. What was voided counts too: the gauge did read it.
 */
export async function listGaugeSpans(
  db: Db,
  gaugeId: string,
  between: { from: string; to: string },
  page: { at: string; batchId: string; readingNo: string; most: number },
): Promise<GaugeSpan[]> {
  const taken = sql`coalesce(measured_at, received_at)`;
  const { rows } = await sql<GaugeSpan>`
    with near as (
      select batch_id, feature_id, piece, reading_no, ${taken} as taken_at from reading
      where gauge_id = ${gaugeId} and ${taken} >= ${between.from}::timestamptz and ${taken} < ${between.to}::timestamptz
        and (${taken}, batch_id, reading_no)
          > (to_timestamp(${page.at}::numeric / 1000), ${page.batchId}::bigint, ${page.readingNo}::int)
      order by ${taken}, batch_id, reading_no limit ${page.most}
    ), last as (
      select taken_at as page_at, batch_id as page_batch, reading_no as page_reading,
        (select count(*)::int from near) as page_size
      from near order by taken_at desc, batch_id desc, reading_no desc limit 1
    )
    select batch_id, batch.name as batch, part.number as part_number, part.revision, feature_id, feature.characteristic,
      min(piece) as from_piece, max(piece) as to_piece, count(*)::int as readings, min(taken_at) as first_at,
      max(taken_at) as last_at, page_at, page_batch, page_reading, page_size
    from near join batch using (batch_id) join feature using (feature_id) join part on part.part_id = feature.part_id
    cross join last
    group by batch_id, batch.name, part.number, part.revision, feature_id, feature.characteristic, page_at, page_batch,
      page_reading, page_size
    order by min(taken_at), batch_id, feature_id
  `.execute(db);
  return rows;
}
