import { type Selectable, sql } from "kysely";
import { arrayText } from "../db/array-text.js";
import type { Db } from "../db/client.js";
import type { Database, SentPoints } from "../db/schema.js";
import type { CorrectionRow } from "./correction-row.js";
import { type CheckRow, checksFrom } from "./gauge-check-queries.js";

type Row<T extends keyof Database> = Selectable<Database[T]>;

export interface DrainLookup {
  batches: { batch_id: string; name: string; version: number }[];
  gauges: Row<"gauge">[];
  keys: Row<"idempotency_key">[];
  open: CorrectionRow[];
  /** Of the gauges: the last check up to the earliest reading, and all after it. */
  checks: CheckRow[];
}

/** What a drain of readings has to know afresh each time, in one round trip. */
export async function lookUp(
  db: Db,
  asked: {
    batchIds: string[];
    batchNames: string[];
    gaugeIds: string[];
    gaugeNames: string[];
    keys: string[];
    /** When the earliest of the readings was taken. */
    from: string;
  },
): Promise<DrainLookup> {
  const { rows } = await sql<DrainLookup>`/* prepared look-up */
    with asked as materialized (
      select batch_id, name, version from batch
      where batch_id = any(${asked.batchIds}::bigint[]) or name = any(${asked.batchNames}::text[]))
    select
      (select coalesce(json_agg(json_build_object('batch_id', batch_id::text, 'name', name, 'version', version)), '[]')
        from asked) as batches,
      (select coalesce(json_agg(json_build_object(
          'gauge_id', gauge_id::text, 'name', name, 'kind', kind, 'unit', unit, 'resolution_mm', resolution_mm::text,
          'repeatability_mm', repeatability_mm::text, 'expanded_uncertainty_mm', expanded_uncertainty_mm::text,
          'coverage_factor', coverage_factor, 'calibration_due', calibration_due, 'reference', reference,
          'reads', reads, 'master_size_mm', master_size_mm::text, 'sense', sense, 'material', material,
          'expansion_coefficient', expansion_coefficient::text, 'expansion_uncertainty', expansion_uncertainty::text)), '[]')
        from gauge where gauge_id = any(${asked.gaugeIds}::bigint[]) or name = any(${asked.gaugeNames}::text[])) as gauges,
      (select coalesce(json_agg(json_build_object('gauge_id', c.gauge_id::text, 'checked_at', c.checked_at,
          'error_mm', c.error_mm::text, 'allowed_mm', c.allowed_mm::text, 'direction_known', c.direction_known,
          'shift', c.shift, 'variance', c.variance)), '[]')
        from gauge g cross join lateral ${checksFrom(asked.from)} as c
        where g.gauge_id = any(${asked.gaugeIds}::bigint[]) or g.name = any(${asked.gaugeNames}::text[])) as checks,
      (select coalesce(json_agg(idempotency_key), '[]') from idempotency_key
        where key = any(${asked.keys}::text[])) as keys,
      (select coalesce(json_agg(${openCorrectionJson}), '[]') from correction
        where status = 'proposed' and batch_id in (select batch_id from asked)) as open
  `.execute(db);
  return rows[0]!;
}

const openCorrectionJson = sql.raw(`json_build_object(
  'batch_id', batch_id::text, 'correction_no', correction_no, 'kind', kind, 'status', status, 'subject', subject,
  'tool_id', tool_id::text, 'register_id', register_id::text, 'gauge_id', gauge_id::text, 'piece', piece, 'value_now_mm', value_now_mm::text,
  'change_mm', change_mm::text, 'value_after_mm', value_after_mm::text, 'reading_nos', reading_nos, 'features', features,
  'cause', cause, 'causes', causes, 'why', why, 'arithmetic', arithmetic, 'cautions', cautions, 'line', line, 'from_piece', from_piece,
  'from_cut', from_cut, 'value_found_mm', value_found_mm::text, 'value_set_mm', value_set_mm::text,
  'was_withdrawn', was_withdrawn, 'found', found, 'reason', reason, 'by_name', by_name)`);

/** Open advice of these batches. */
export async function listOpenCorrections(db: Db, batchIds: readonly string[]): Promise<CorrectionRow[]> {
  const { rows } = await sql<{ open: CorrectionRow[] }>`
    select coalesce(json_agg(${openCorrectionJson}), '[]') as open from correction
    where status = 'proposed' and batch_id = any(${batchIds}::bigint[])
  `.execute(db);
  return rows[0]!.open;
}

/**
 * Readings already there under these identities: the first answer to a duplicate. Looked up one by one inside the
 * statement: a join would read all of a long batch for a few of them.
 */
export async function findByIdentity(db: Db, wanted: readonly { batchId: string; identity: string }[]) {
  return await db
    .selectFrom(
      sql<{ batch_id: string; identity: string }>`unnest(
        ${wanted.map(({ batchId }) => batchId)}::bigint[], ${wanted.map(({ identity }) => identity)}::text[])`.as<"wanted">(
        sql`wanted (batch_id, identity)`,
      ),
    )
    .innerJoinLateral(
      (eb) =>
        eb
          .selectFrom("reading")
          .selectAll()
          .whereRef("reading.batch_id", "=", "wanted.batch_id")
          .whereRef("reading.identity", "=", "wanted.identity")
          .limit(1)
          .as("found"),
      (join) => join.onTrue(),
    )
    .selectAll("found")
    .execute();
}

/** Which of these readings are there, of many at once and of few batches: the index is walked once, in its order. */
export async function listKnown(db: Db, wanted: readonly { batchId: string; identity: string }[]) {
  const batchIds = [...new Set(wanted.map(({ batchId }) => batchId))];
  return await db
    .selectFrom("reading")
    .select(["batch_id", "reading_no", "identity"])
    .where(sql<boolean>`batch_id = any(${batchIds}::bigint[])`)
    .where(sql<boolean>`identity = any(${arrayText(wanted.map(({ identity }) => identity))}::text[])`)
    .execute();
}

/** In which seat pieces were cut, cut by cut, by readings that nobody voided: all readings of one cut agree. */
export async function listSeats(
  db: Db,
  batchId: string,
  featureIds: readonly string[],
  pieces: readonly number[],
): Promise<{ piece: number; cut: number; seat: string; given: boolean }[]> {
  return await db
    .selectFrom("reading")
    .distinctOn(["piece", "cut"])
    .select(["piece", "cut", "seat", "seat_given as given"])
    .where("batch_id", "=", batchId)
    .where(sql<boolean>`feature_id = any(${featureIds}::bigint[])`)
    .where(sql<boolean>`piece = any(${pieces}::int[])`)
    .where("seat", "is not", null)
    .where((eb) => eb(eb.fn.coalesce("piece_within", eb.lit(1)), "=", 1))
    .where("voided_at", "is", null)
    .orderBy("piece")
    .orderBy("cut")
    .orderBy("seat_given", "desc")
    .$narrowType<{ seat: string }>()
    .execute();
}

export type ReadingRow = Omit<Row<"reading">, "received_at" | "voided_at" | "void_reason" | "voided_by">;

export interface DecisionWrite {
  batches: {
    batchId: string;
    version: number;
    readingCount: number;
    correctionCount: number;
    lastPieceCut: number;
  }[];
  readings: ReadingRow[];
  points: { row: ReadingRow; sent: SentPoints }[];
  states: { batchId: string; blockKey: string; state: string }[];
  checkpoints: { batchId: string; blockKey: string; piece: number; state: string }[];
  /** Checkpoints after this piece no longer hold. */
  staleCheckpoints: { batchId: string; blockKey: string; afterPiece: number }[];
  newCorrections: CorrectionRow[];
  endedCorrections: { batchId: string; correctionNo: number; status: "superseded" | "settled" }[];
  refreshedCorrections: CorrectionRow[];
  keys: { key: string; fingerprint: string; status: number; body: string }[];
}

/**
 * Writes what a drain decided, all of it or nothing: where one of the batches no longer has the version that was read,
 * no row is touched and the answer is false.
 */
export async function writeDecision(db: Db, write: DecisionWrite): Promise<boolean> {
  const {
    batches,
    readings,
    points,
    states,
    checkpoints,
    staleCheckpoints,
    newCorrections,
    endedCorrections,
    keys,
  } = write;
  const column = <T>(rows: readonly T[], pick: (row: T) => Parameters<typeof arrayText>[0][number]) =>
    arrayText(rows.map(pick));
  const corrections = [...newCorrections, ...write.refreshedCorrections];
  const proposedRegisters = corrections.flatMap((row) =>
    row.kind === "change" && row.status === "proposed" ? [row.register_id!] : [],
  );
  const { rows } = await sql<{ written: boolean }>`/* prepared write-decision */
    with expected as (
      select * from unnest(
        ${column(batches, (b) => b.batchId)}::bigint[], ${column(batches, (b) => b.version)}::int[],
        ${column(batches, (b) => b.readingCount)}::int[], ${column(batches, (b) => b.correctionCount)}::int[],
        ${column(batches, (b) => b.lastPieceCut)}::int[]
      ) as t (batch_id, version, reading_count, correction_count, last_piece_cut)
    ), locked as materialized (
      -- batches that lose an open change by this are locked with the others, in the same order everywhere
      select batch_id, version from batch
      where batch_id in (select batch_id from expected) or batch_id in (
        select batch_id from correction
        where status = 'proposed' and kind = 'change' and register_id = any(${proposedRegisters}::bigint[]))
      order by batch_id for update
    ), met as materialized (
      select batch_id from locked join expected using (batch_id, version)
    ), guard as materialized (
      select batch_id from met where (select count(*) from met) = (select count(*) from expected)
    ), raised as (
      update batch set version = batch.version + 1, reading_count = expected.reading_count,
        correction_count = expected.correction_count, last_piece_cut = expected.last_piece_cut
      from expected join guard using (batch_id) where batch.batch_id = expected.batch_id
    ), read_in as (
      insert into reading (batch_id, reading_no, feature_id, piece, cut, repeat, value_mm, value_given, unit, gauge_id,
        gauge_variance, gauge_fit, expanded_uncertainty_mm, measured_at, taken_by, key_name, serial, source_id, identity, piece_within, known_piece, verdict, disposition, target_mm,
        probability_conforming, prior, gauge_advice, flags, slip, hold_from, hold_to, fails, proves, size_as_read_mm, temperature_c, gauge_temperature_c,
        temperature_correction_uncertainty_mm, expansion_coefficient, gauge_expansion_coefficient, seat, seat_given,
        gauge_reference, place, spring_pass, gauge_error_mm, gauge_doubt_mm, rocked,
        dx_mm, dy_mm, dz_mm, size_mm, bonus_mm, result, turns, state, advice, fit, gauge_deviation_mm, gauge_deviation_uncertainty_mm)
      select batch_id, reading_no, feature_id, piece, cut, repeat, value_mm, value_given, unit, gauge_id,
        gauge_variance, gauge_fit, expanded_uncertainty_mm, measured_at, taken_by, key_name, serial, source_id, identity, piece_within, known_piece, verdict, disposition, target_mm,
        probability_conforming, prior, gauge_advice, string_to_array(flags, ' '), slip, hold_from, hold_to, fails, proves, size_as_read_mm, temperature_c,
        gauge_temperature_c, temperature_correction_uncertainty_mm, expansion_coefficient, gauge_expansion_coefficient, seat,
        seat_given, gauge_reference, place, spring_pass, gauge_error_mm, gauge_doubt_mm, string_to_array(rocked, ' '),
        dx_mm, dy_mm, dz_mm, size_mm, bonus_mm, result, turns, state, advice, fit, gauge_deviation_mm,
        gauge_deviation_uncertainty_mm
      from unnest(
        ${column(readings, (r) => r.batch_id)}::bigint[], ${column(readings, (r) => r.reading_no)}::int[],
        ${column(readings, (r) => r.feature_id)}::bigint[], ${column(readings, (r) => r.piece)}::int[],
        ${column(readings, (r) => r.cut)}::int[], ${column(readings, (r) => r.repeat)}::int[],
        ${column(readings, (r) => r.value_mm)}::numeric[], ${column(readings, (r) => r.value_given)}::text[],
        ${column(readings, (r) => r.unit)}::text[], ${column(readings, (r) => r.gauge_id)}::bigint[],
        ${column(readings, (r) => r.gauge_variance)}::float8[], ${column(readings, (r) => r.gauge_fit)}::bool[],
        ${column(readings, (r) => r.expanded_uncertainty_mm)}::numeric[],
        ${column(readings, (r) => r.measured_at)}::timestamptz[], ${column(readings, (r) => r.taken_by)}::text[],
        ${column(readings, (r) => r.key_name)}::text[],
        ${column(readings, (r) => r.serial)}::text[], ${column(readings, (r) => r.source_id)}::text[],
        ${column(readings, (r) => r.identity)}::text[], ${column(readings, (r) => r.piece_within)}::int[],
        ${column(readings, (r) => r.known_piece)}::int[], ${column(readings, (r) => r.verdict)}::text[],
        ${column(readings, (r) => r.disposition)}::text[], ${column(readings, (r) => r.target_mm)}::numeric[],
        ${column(readings, (r) => r.probability_conforming)}::float8[], ${column(readings, (r) => r.prior)}::text[],
        ${column(readings, (r) => r.gauge_advice)}::text[], ${column(readings, (r) => r.flags.join(" "))}::text[],
        ${column(readings, (r) => r.slip)}::text[], ${column(readings, (r) => r.hold_from)}::int[],
        ${column(readings, (r) => r.hold_to)}::int[], ${column(readings, (r) => r.fails)}::bool[],
        ${column(readings, (r) => r.proves)}::bool[], ${column(readings, (r) => r.size_as_read_mm)}::numeric[],
        ${column(readings, (r) => r.temperature_c)}::numeric[],
        ${column(readings, (r) => r.gauge_temperature_c)}::numeric[],
        ${column(readings, (r) => r.temperature_correction_uncertainty_mm)}::numeric[],
        ${column(readings, (r) => r.expansion_coefficient)}::numeric[],
        ${column(readings, (r) => r.gauge_expansion_coefficient)}::numeric[], ${column(readings, (r) => r.seat)}::text[],
        ${column(readings, (r) => r.seat_given)}::bool[], ${column(readings, (r) => r.gauge_reference)}::bool[],
        ${column(readings, (r) => r.place)}::text[], ${column(readings, (r) => r.spring_pass)}::bool[],
        ${column(readings, (r) => r.gauge_error_mm)}::numeric[], ${column(readings, (r) => r.gauge_doubt_mm)}::numeric[],
        ${column(readings, (r) => r.rocked?.join(" ") ?? null)}::text[],
        ${column(readings, (r) => r.dx_mm)}::numeric[], ${column(readings, (r) => r.dy_mm)}::numeric[],
        ${column(readings, (r) => r.dz_mm)}::numeric[], ${column(readings, (r) => r.size_mm)}::numeric[],
        ${column(readings, (r) => r.bonus_mm)}::numeric[], ${column(readings, (r) => r.result)}::text[],
        ${column(readings, (r) => r.turns)}::numeric[], ${column(readings, (r) => r.state)}::text[],
        ${column(readings, (r) => r.advice)}::text[],
        ${column(readings, (r) => r.fit && JSON.stringify(r.fit))}::jsonb[],
        ${column(readings, (r) => r.gauge_deviation_mm)}::numeric[],
        ${column(readings, (r) => r.gauge_deviation_uncertainty_mm)}::numeric[]
      ) as t (batch_id, reading_no, feature_id, piece, cut, repeat, value_mm, value_given, unit, gauge_id,
        gauge_variance, gauge_fit, expanded_uncertainty_mm, measured_at, taken_by, key_name, serial, source_id, identity, piece_within, known_piece, verdict, disposition, target_mm,
        probability_conforming, prior, gauge_advice, flags, slip, hold_from, hold_to, fails, proves, size_as_read_mm, temperature_c, gauge_temperature_c,
        temperature_correction_uncertainty_mm, expansion_coefficient, gauge_expansion_coefficient, seat, seat_given,
        gauge_reference, place, spring_pass, gauge_error_mm, gauge_doubt_mm, rocked,
        dx_mm, dy_mm, dz_mm, size_mm, bonus_mm, result, turns, state, advice, fit, gauge_deviation_mm, gauge_deviation_uncertainty_mm)
      join guard using (batch_id)
    ), touched as (
      insert into reading_points (batch_id, reading_no, points, unit, ball_diameter, true_position)
      select batch_id, reading_no, points, unit, ball_diameter, true_position from unnest(
        ${column(points, (p) => p.row.batch_id)}::bigint[], ${column(points, (p) => p.row.reading_no)}::int[],
        ${column(points, (p) => JSON.stringify(p.sent.points))}::jsonb[], ${column(points, (p) => p.sent.unit)}::text[],
        ${column(points, (p) => p.sent.ball_diameter ?? null)}::text[],
        ${column(points, (p) => p.sent.true_position && JSON.stringify(p.sent.true_position))}::jsonb[]
      ) as t (batch_id, reading_no, points, unit, ball_diameter, true_position) join guard using (batch_id)
    ), kept as (
      insert into block_state (batch_id, block_key, state)
      select batch_id, block_key, state from unnest(
        ${column(states, (s) => s.batchId)}::bigint[], ${column(states, (s) => s.blockKey)}::bigint[],
        ${column(states, (s) => s.state)}::text[]
      ) as t (batch_id, block_key, state) join guard using (batch_id)
      on conflict (batch_id, block_key) do update set state = excluded.state
    ), dropped as (
      delete from block_checkpoint using unnest(
        ${column(staleCheckpoints, (s) => s.batchId)}::bigint[], ${column(staleCheckpoints, (s) => s.blockKey)}::bigint[],
        ${column(staleCheckpoints, (s) => s.afterPiece)}::int[]
      ) as t (batch_id, block_key, after_piece), guard
      where guard.batch_id = t.batch_id and block_checkpoint.batch_id = t.batch_id
        and block_checkpoint.block_key = t.block_key and block_checkpoint.piece > t.after_piece
        and not (block_checkpoint.batch_id, block_checkpoint.block_key, block_checkpoint.piece) in (
          select * from unnest(${column(checkpoints, (c) => c.batchId)}::bigint[],
            ${column(checkpoints, (c) => c.blockKey)}::bigint[], ${column(checkpoints, (c) => c.piece)}::int[]))
    ), marked as (
      insert into block_checkpoint (batch_id, block_key, piece, state)
      select batch_id, block_key, piece, state from unnest(
        ${column(checkpoints, (c) => c.batchId)}::bigint[], ${column(checkpoints, (c) => c.blockKey)}::bigint[],
        ${column(checkpoints, (c) => c.piece)}::int[], ${column(checkpoints, (c) => c.state)}::text[]
      ) as t (batch_id, block_key, piece, state) join guard using (batch_id)
      on conflict (batch_id, block_key, piece) do update set state = excluded.state
    ), ended as (
      update correction set status = t.status, ended_at = now()
      from unnest(
        ${column(endedCorrections, (c) => c.batchId)}::bigint[],
        ${column(endedCorrections, (c) => c.correctionNo)}::int[],
        ${column(endedCorrections, (c) => c.status)}::text[]
      ) as t (batch_id, correction_no, status) join guard using (batch_id)
      where correction.batch_id = t.batch_id and correction.correction_no = t.correction_no
      returning 1
    ), elsewhere as (
      update correction set status = 'superseded', ended_at = now()
      where status = 'proposed' and kind = 'change' and register_id = any(${proposedRegisters}::bigint[])
        and batch_id not in (select batch_id from expected) and exists (select from guard)
      returning batch_id
    ), told as (
      update batch set version = version + 1 where batch_id in (select batch_id from elsewhere)
    ), advised as (
      insert into correction (batch_id, correction_no, kind, status, subject, tool_id, register_id, gauge_id, piece, value_now_mm,
        change_mm, value_after_mm, reading_nos, features, cause, causes, why, arithmetic, cautions, line)
      select c.batch_id, c.correction_no, c.kind, c.status, c.subject, c.tool_id, c.register_id, c.gauge_id, c.piece, c.value_now_mm,
        c.change_mm, c.value_after_mm, c.reading_nos, c.features, c.cause, c.causes, c.why, c.arithmetic, c.cautions, c.line
      from jsonb_populate_recordset(null::correction, ${JSON.stringify(corrections)}::jsonb) as c
      join guard using (batch_id)
      where (select count(*) from ended) + (select count(*) from elsewhere) >= 0
      on conflict (batch_id, correction_no) do update set piece = excluded.piece, reading_nos = excluded.reading_nos,
        features = excluded.features, why = excluded.why, arithmetic = excluded.arithmetic, cause = excluded.cause,
        causes = excluded.causes
    ), remembered as (
      insert into idempotency_key (key, fingerprint, status, body)
      select key, fingerprint, status, body from unnest(
        ${column(keys, (k) => k.key)}::text[], ${column(keys, (k) => k.fingerprint)}::text[],
        ${column(keys, (k) => k.status)}::int[], ${column(keys, (k) => k.body)}::text[]
      ) as t (key, fingerprint, status, body)
      where exists (select from guard) or not exists (select from expected)
    )
    select exists (select from guard) or not exists (select from expected) as written
  `.execute(db);
  return rows[0]!.written;
}
