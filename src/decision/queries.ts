import { type Selectable, sql } from "kysely";
import { arrayText } from "../db/array-text.js";
import type { Db } from "../db/client.js";
import type { Database, SentPoints } from "../db/schema.js";
import type { CorrectionFeature } from "./answered-advice.js";
import type { BatchRows } from "./batch-view.js";
import type { CorrectionRow } from "./correction-row.js";
import { type CheckRow, checksFrom } from "./gauge-check-queries.js";

type Row<T extends keyof Database> = Selectable<Database[T]>;

/** Everything that decides in these batches: what they are made of, what happened in them, what has been learned. */
export async function loadBatchRows(db: Db, batchIds: readonly string[]): Promise<BatchRows[]> {
  if (batchIds.length === 0) return [];
  const batches = await db.selectFrom("batch").selectAll().where("batch_id", "in", batchIds).execute();
  return await loadRowsOf(db, batches);
}

/** The same of batches at hand; one that is not opened yet may be among them, with an id that no batch has. */
export async function loadRowsOf(db: Db, batches: readonly Row<"batch">[]): Promise<BatchRows[]> {
  if (batches.length === 0) return [];
  const ids = batches.map((batch) => batch.batch_id);
  const machineIds = [...new Set(batches.map((batch) => batch.machine_id))];
  const partIds = [...new Set(batches.map((batch) => batch.part_id))];
  const [
    machines,
    parts,
    features,
    early,
    cuts,
    tools,
    registers,
    entries,
    edges,
    interruptions,
    findings,
    answered,
    states,
  ] = await Promise.all([
    db.selectFrom("machine").selectAll().where("machine_id", "in", machineIds).execute(),
    db.selectFrom("part").selectAll().where("part_id", "in", partIds).execute(),
    db.selectFrom("feature").selectAll().where("part_id", "in", partIds).execute(),
    db
      .selectFrom("feature_operation_limits")
      .innerJoin("feature", "feature.feature_id", "feature_operation_limits.feature_id")
      .selectAll("feature_operation_limits")
      .where("feature.part_id", "in", partIds)
      .execute(),
    db
      .selectFrom("feature_cut")
      .innerJoin("feature", "feature.feature_id", "feature_cut.feature_id")
      .selectAll("feature_cut")
      .where("feature.part_id", "in", partIds)
      .execute(),
    db.selectFrom("tool").selectAll().where("machine_id", "in", machineIds).execute(),
    db.selectFrom("register").selectAll().where("machine_id", "in", machineIds).execute(),
    db
      .selectFrom("register_entry")
      .selectAll()
      .where("batch_id", "in", ids)
      .where("voided_at", "is", null)
      .execute(),
    db
      .selectFrom("edge_in_batch")
      .innerJoin("edge", "edge.edge_id", "edge_in_batch.edge_id")
      .select(["edge_in_batch.batch_id", "edge_in_batch.from_piece", "edge.edge_id", "edge.tool_id"])
      .where("edge_in_batch.batch_id", "in", ids)
      .where("edge.voided_at", "is", null)
      .execute(),
    db
      .selectFrom("interruption")
      .selectAll()
      .where("batch_id", "in", ids)
      .where("voided_at", "is", null)
      .execute(),
    db
      .selectFrom("correction")
      .select(["batch_id", "correction_no", "found", "from_piece", "cause"])
      .where("batch_id", "in", ids)
      .where("found", "is not", null)
      .execute(),
    db
      .selectFrom("correction")
      .distinctOn(["batch_id", "subject"])
      .select(["batch_id", "subject", "kind", "piece", "value_now_mm", "change_mm", "features", "reason"])
      .where("batch_id", "in", ids)
      .where((eb) =>
        eb.or([
          eb("status", "=", "declined"),
          eb("found", "=", "nothing"),
          eb.and([eb("kind", "=", "check_gauge"), eb("status", "=", "settled")]),
        ]),
      )
      .orderBy("batch_id")
      .orderBy("subject")
      .orderBy("correction_no", "desc")
      .execute(),
    db.selectFrom("block_state").selectAll().where("batch_id", "in", ids).execute(),
  ]);
  return batches.map((batch) => {
    const own = <T extends { batch_id: string }>(rows: T[]) =>
      rows.filter((row) => row.batch_id === batch.batch_id);
    const partFeatures = features.filter((feature) => feature.part_id === batch.part_id);
    const featureIds = new Set(partFeatures.map((feature) => feature.feature_id));
    return {
      batch,
      machine: machines.find((machine) => machine.machine_id === batch.machine_id)!,
      part: parts.find((part) => part.part_id === batch.part_id)!,
      features: partFeatures,
      early: early.filter((row) => row.operation === batch.operation && featureIds.has(row.feature_id)),
      cuts: cuts.filter((cut) => featureIds.has(cut.feature_id)),
      tools: tools.filter((tool) => tool.machine_id === batch.machine_id),
      registers: registers.filter((register) => register.machine_id === batch.machine_id),
      entries: own(entries),
      edges: own(edges),
      interruptions: own(interruptions),
      answered: own(answered).map((row) => ({ ...row, features: row.features as CorrectionFeature[] })),
      findings: own(findings).map((row) => ({ ...row, found: row.found! })),
      states: own(states),
    };
  });
}

/** Raised whenever anything inside the batch is changed. */
export async function findVersion(db: Db, batchId: string): Promise<number | undefined> {
  const row = await db
    .selectFrom("batch")
    .select("version")
    .where("batch_id", "=", batchId)
    .executeTakeFirst();
  return row?.version;
}

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

export async function listGauges(db: Db, gaugeIds: readonly string[]) {
  return gaugeIds.length === 0
    ? []
    : await db.selectFrom("gauge").selectAll().where("gauge_id", "in", gaugeIds).execute();
}

/** Kinds of gauge that can be brought to a kind of feature, and size and limits that they are wanted for. */
export interface GaugeWanted {
  kinds: readonly string[];
  /** Gauges of angles instead of lengths. */
  angle: boolean;
  nominalMm: string;
  /** Only gauges that may prove a size, calibrated on this day (2026-03-02). */
  provesOn?: string | undefined;
  offset: number;
  limit: number;
}

/**
 * Gauges of some kinds, the least standard uncertainty first, as `gaugeView` works it out. One that is set to a master
 * reads sizes near it only: 1 mm is taken as its reach (common practice, no source).
 */
export async function listFinestGauges(db: Db, wanted: GaugeWanted) {
  const claimed = sql`expanded_uncertainty_mm::float8 / coverage_factor`;
  return await db
    .selectFrom("gauge")
    .selectAll()
    .where(sql<boolean>`kind = any(${wanted.kinds}::text[])`)
    .where("resolution_mm", "is not", null)
    .where("unit", wanted.angle ? "=" : "<>", "deg")
    .where(sql<boolean>`(master_size_mm is null or abs(master_size_mm - ${wanted.nominalMm}::numeric) <= 1)`)
    .$if(wanted.provesOn !== undefined, (query) =>
      query
        .where("reference", "=", true)
        .where(sql<boolean>`coalesce(calibration_due >= ${wanted.provesOn}::date, true)`),
    )
    .orderBy(
      sql`greatest(coalesce(${claimed}, 0), sqrt(power(coalesce(repeatability_mm::float8, ${claimed}, resolution_mm::float8), 2)
        + power(resolution_mm::float8, 2) / 12))`,
    )
    .orderBy("gauge_id")
    .offset(wanted.offset)
    .limit(wanted.limit)
    .execute();
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

export async function listNames(db: Db, table: "batch" | "gauge"): Promise<string[]> {
  const rows = await db.selectFrom(table).select("name").orderBy("created_at", "desc").limit(1000).execute();
  return rows.map((row) => row.name);
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
        gauge_variance, gauge_fit, expanded_uncertainty_mm, measured_at, taken_by, serial, source_id, identity, piece_within, known_piece, verdict, disposition, target_mm,
        probability_conforming, prior, gauge_advice, flags, slip, hold_from, hold_to, fails, proves, size_as_read_mm, temperature_c, gauge_temperature_c,
        temperature_correction_uncertainty_mm, expansion_coefficient, gauge_expansion_coefficient, seat, seat_given,
        gauge_reference, place, spring_pass, gauge_error_mm, gauge_doubt_mm, rocked,
        dx_mm, dy_mm, dz_mm, size_mm, bonus_mm, result, turns, state, advice, fit, gauge_deviation_mm, gauge_deviation_uncertainty_mm)
      select batch_id, reading_no, feature_id, piece, cut, repeat, value_mm, value_given, unit, gauge_id,
        gauge_variance, gauge_fit, expanded_uncertainty_mm, measured_at, taken_by, serial, source_id, identity, piece_within, known_piece, verdict, disposition, target_mm,
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
        gauge_variance, gauge_fit, expanded_uncertainty_mm, measured_at, taken_by, serial, source_id, identity, piece_within, known_piece, verdict, disposition, target_mm,
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

/** One change of a machine at a time: a batch that is being opened must not miss a register that is being entered. */
export async function lockMachineRow(db: Db, machineId: string): Promise<void> {
  await db
    .selectFrom("machine")
    .select("machine_id")
    .where("machine_id", "=", machineId)
    .forUpdate()
    .execute();
}

export async function listOpenBatches(db: Db, machineId: string): Promise<string[]> {
  const rows = await db
    .selectFrom("batch")
    .select("batch_id")
    .where("machine_id", "=", machineId)
    .where("closed_at", "is", null)
    .execute();
  return rows.map((row) => row.batch_id);
}

/** Locks batches in the order of their ids, so that two writers never wait for each other. */
export async function lockBatches(db: Db, batchIds: readonly string[]) {
  return await db
    .selectFrom("batch")
    .selectAll()
    .where("batch_id", "in", batchIds)
    .orderBy("batch_id")
    .forUpdate()
    .execute();
}

export async function findBatchIds(db: Db, idsOrNames: readonly string[]) {
  return await db
    .selectFrom("batch")
    .select(["batch_id", "name", "machine_id"])
    .where((eb) =>
      eb.or([
        eb("name", "in", idsOrNames),
        eb("batch_id", "in", ["0", ...idsOrNames.filter((text) => /^\d{1,18}$/.test(text))]),
      ]),
    )
    .execute();
}

export type NewEntry = Pick<
  Row<"register_entry">,
  | "register_id"
  | "batch_id"
  | "from_piece"
  | "from_cut"
  | "value_mm"
  | "origin"
  | "reason"
  | "correction_no"
  | "edge_id"
  | "follows_entry_id"
  | "by_name"
>;

export async function insertRegisterEntries(db: Db, entries: readonly NewEntry[]) {
  return await db
    .insertInto("register_entry")
    .values([...entries])
    .returning(["entry_id", "register_id", "created_at"])
    .execute();
}

/** Which registers a batch has an entry of after (piece, cut): what is entered at it is no news but history. */
export async function listOvertaken(
  db: Db,
  at: { batchId: string; fromPiece: number; fromCut: number },
  registerIds: readonly string[],
): Promise<string[]> {
  const rows = await db
    .selectFrom("register_entry")
    .select("register_id")
    .distinct()
    .where("batch_id", "=", at.batchId)
    .where("register_id", "in", registerIds)
    .where("voided_at", "is", null)
    .where((eb) => eb(eb.refTuple("from_piece", "from_cut"), ">", eb.tuple(at.fromPiece, at.fromCut)))
    .execute();
  return rows.map((row) => row.register_id);
}

/** The last entry of registers in batches, in cutting order. */
export async function listLastEntries(db: Db, batchIds: readonly string[], registerIds: readonly string[]) {
  return await db
    .selectFrom("register_entry")
    .distinctOn(["batch_id", "register_id"])
    .select(["batch_id", "register_id", "from_piece", "from_cut"])
    .where("batch_id", "in", batchIds)
    .where("register_id", "in", registerIds)
    .where("voided_at", "is", null)
    .orderBy("batch_id")
    .orderBy("register_id")
    .orderBy("from_piece", "desc")
    .orderBy("from_cut", "desc")
    .execute();
}

/** Whether this very reading, by its source or its time, has been taken in before. */
export async function isTakenIn(
  db: Db,
  reading: {
    batchId: string;
    featureId: string;
    piece: number;
    cut: number;
    sourceId: string | undefined;
    measuredAt: string | undefined;
  },
): Promise<boolean> {
  const { batchId, featureId, piece, cut, sourceId, measuredAt } = reading;
  const row = await db
    .selectFrom("reading")
    .select("reading_no")
    .where("batch_id", "=", batchId)
    .where("feature_id", "=", featureId)
    .where("piece", "=", piece)
    .where("cut", "=", cut)
    .$if(sourceId !== undefined, (query) => query.where("source_id", "=", sourceId!))
    .$if(sourceId === undefined, (query) => query.where("measured_at", "=", measuredAt!))
    .limit(1)
    .executeTakeFirst();
  return row !== undefined;
}

export async function deleteBlockStates(db: Db, batchIds: readonly string[]): Promise<void> {
  await db.deleteFrom("block_state").where("batch_id", "in", batchIds).execute();
  await db.deleteFrom("block_checkpoint").where("batch_id", "in", batchIds).execute();
}

export async function listBatchesOfPart(db: Db, partId: string) {
  return await db
    .selectFrom("batch")
    .select(["batch_id", "closed_at"])
    .where("part_id", "=", partId)
    .execute();
}

/** So that whoever decides from what was read before decides again. */
export async function raiseVersions(db: Db, batchIds: readonly string[]): Promise<void> {
  await db
    .updateTable("batch")
    .set((eb) => ({ version: eb("version", "+", 1) }))
    .where("batch_id", "in", batchIds)
    .execute();
}

/** Batches in which a check of this gauge has been asked for. */
export async function listGaugeAdvice(db: Db, gaugeId: string): Promise<string[]> {
  const rows = await db
    .selectFrom("correction")
    .select("batch_id")
    .distinct()
    .where("gauge_id", "=", gaugeId)
    .where("kind", "=", "check_gauge")
    .where("status", "=", "proposed")
    .execute();
  return rows.map((row) => row.batch_id);
}

/** Closes what asks in these batches, which are locked, for a check of a gauge. */
export async function settleGaugeAdvice(db: Db, gaugeId: string, batchIds: readonly string[]): Promise<void> {
  await db
    .updateTable("correction")
    .set({ status: "settled", ended_at: sql<string>`now()` })
    .where("gauge_id", "=", gaugeId)
    .where("kind", "=", "check_gauge")
    .where("status", "=", "proposed")
    .where("batch_id", "in", batchIds)
    .execute();
}

/** Last piece known to be cut, from what nobody voided. */
export async function updateLastPieceCut(db: Db, batchId: string): Promise<void> {
  await sql`
    update batch set last_piece_cut = greatest(counted_piece, coalesce((
      select max(piece) from reading where batch_id = ${batchId} and voided_at is null), 0))
    where batch_id = ${batchId}
  `.execute(db);
}

/** The edge in use of every tool of a machine. */
export async function listCurrentEdges(db: Db, machineId: string) {
  return await db
    .selectFrom("edge")
    .innerJoin("tool", "tool.tool_id", "edge.tool_id")
    .distinctOn("edge.tool_id")
    .select(["edge.edge_id", "edge.tool_id", "edge.number", "edge.reason", "edge.created_at"])
    .where("tool.machine_id", "=", machineId)
    .where("edge.voided_at", "is", null)
    .orderBy("edge.tool_id")
    .orderBy("edge.number", "desc")
    .execute();
}

/**
 * What every register of a machine holds now: the last entry in cutting order of the batch in which it was entered last,
 * else its value at the start.
 */
export async function listCurrentValues(db: Db, machineId: string) {
  const { rows } = await sql<{ register_id: string; tool_id: string | null; value_mm: string }>`
    select register.register_id, register.tool_id, coalesce(held.value_mm, register.start_value_mm) as value_mm
    from register
    left join lateral (
      select batch_id from register_entry
      where register_id = register.register_id and voided_at is null order by entry_id desc limit 1
    ) as latest on true
    left join lateral (
      select value_mm from register_entry
      where register_id = register.register_id and batch_id = latest.batch_id and voided_at is null
      order by from_piece desc, from_cut desc, entry_id desc limit 1
    ) as held on true
    where register.machine_id = ${machineId}
  `.execute(db);
  return rows;
}

/** How many pieces each edge of a machine's tools has cut in each batch whose part the tool works on. */
export async function listEdgeUse(db: Db, machineId: string) {
  const { rows } = await sql<{ tool_id: string; edge_id: string; batch_id: string; pieces: number }>`
    with spans as (
      select batch.batch_id, brought.key::bigint as tool_id, (brought.value ->> 'edge_id')::bigint as edge_id, 1 as from_piece
      from batch, jsonb_each(batch.start -> 'tools') as brought
      where batch.machine_id = ${machineId}
      union all
      select edge_in_batch.batch_id, edge.tool_id, edge.edge_id, edge_in_batch.from_piece
      from edge_in_batch join edge using (edge_id) join batch using (batch_id)
      where batch.machine_id = ${machineId} and edge.voided_at is null
    ), ordered as (
      select spans.*, batch.part_id, batch.last_piece_cut,
        lead(from_piece) over (partition by batch_id, tool_id order by from_piece, edge_id) as next_from
      from spans join batch using (batch_id)
    )
    select tool_id, edge_id, batch_id, greatest(0, coalesce(next_from - 1, last_piece_cut) - from_piece + 1) as pieces
    from ordered
    where exists (
      select from feature join feature_cut using (feature_id)
      where feature.part_id = ordered.part_id and feature_cut.tool_id = ordered.tool_id)
  `.execute(db);
  return rows;
}

/** Per register of a machine the latest batch that it worked in, of any part and of this one: where its state stands. */
export async function listLatestBatches(db: Db, machineId: string, partId: string): Promise<string[]> {
  const latest = (samePart: boolean) => sql`(
    select batch.batch_id from batch join feature using (part_id) join feature_cut using (feature_id)
    where batch.machine_id = ${machineId} and feature_cut.register_id = register.register_id
      and (batch.part_id = ${partId} or not ${samePart})
    order by batch.batch_id desc limit 1)`;
  const { rows } = await sql<{ batch_id: string }>`
    select distinct batch_id from register
    cross join lateral (select * from ${latest(false)} as a union select * from ${latest(true)} as b) as latest
    where register.machine_id = ${machineId} and register.tool_id is not null
  `.execute(db);
  return rows.map((row) => row.batch_id);
}
