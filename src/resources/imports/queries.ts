import { type Selectable, sql } from "kysely";
import { arrayText } from "../../db/array-text.js";
import type { Db } from "../../db/client.js";
import type {
  Database,
  ImportCounters,
  ImportFault,
  ImportSettings,
  ImportTallies,
} from "../../db/schema.js";

export type ImportRow = Selectable<Database["reading_import"]>;
export type ImportLineRow = Selectable<Database["import_line"]>;

export function findLayout(db: Db, by: { layoutId: string } | { name: string }) {
  return db
    .selectFrom("log_layout")
    .select(["layout_id", "layout"])
    .$if("layoutId" in by, (query) => query.where("layout_id", "=", (by as { layoutId: string }).layoutId))
    .$if("name" in by, (query) => query.where("name", "=", (by as { name: string }).name))
    .executeTakeFirst();
}

export async function listLayoutNames(db: Db): Promise<string[]> {
  const rows = await db
    .selectFrom("log_layout")
    .select("name")
    .orderBy("layout_id", "desc")
    .limit(1000)
    .execute();
  return rows.map(({ name }) => name);
}

export function findBatch(db: Db, by: { batchId: string } | { name: string }) {
  return db
    .selectFrom("batch")
    .select(["batch_id", "name", "closed_at"])
    .$if("batchId" in by, (query) => query.where("batch_id", "=", (by as { batchId: string }).batchId))
    .$if("name" in by, (query) => query.where("name", "=", (by as { name: string }).name))
    .executeTakeFirst();
}

export async function listBatchNames(db: Db): Promise<string[]> {
  const rows = await db.selectFrom("batch").select("name").orderBy("batch_id", "desc").limit(1000).execute();
  return rows.map(({ name }) => name);
}

/** The new import, or undefined where another one has its key. */
export function insertImport(
  db: Db,
  row: {
    layout_id: string;
    batch_id: string | null;
    source: string | null;
    settings: ImportSettings;
    tallies: ImportTallies;
    idempotency_key: string | null;
  },
) {
  return db
    .insertInto("reading_import")
    .values({
      ...row,
      settings: JSON.stringify(row.settings),
      tallies: JSON.stringify(row.tallies),
      counters: JSON.stringify({ pieces: {}, lostAt: null }),
    })
    .onConflict((conflict) => conflict.constraint("reading_import_key_unique").doNothing())
    .returningAll()
    .executeTakeFirst();
}

export function findImport(db: Db, importId: string) {
  return db.selectFrom("reading_import").selectAll().where("import_id", "=", importId).executeTakeFirst();
}

export function findImportByKey(db: Db, key: string) {
  return db.selectFrom("reading_import").selectAll().where("idempotency_key", "=", key).executeTakeFirst();
}

/** Imports, newest first, before `before` (exclusive; 0: the newest); at most `limit`. */
export function listImports(
  db: Db,
  filter: {
    batchId?: string | undefined;
    source?: string | undefined;
    status?: ImportRow["status"] | undefined;
    before: string;
    limit: number;
  },
) {
  const { batchId, source, status, before, limit } = filter;
  return db
    .selectFrom("reading_import")
    .selectAll()
    .$if(before !== "0", (query) => query.where("import_id", "<", before))
    .$if(batchId !== undefined, (query) => query.where("batch_id", "=", batchId!))
    .$if(source !== undefined, (query) => query.where("source", "=", source!))
    .$if(status !== undefined, (query) => query.where("status", "=", status!))
    .orderBy("import_id", "desc")
    .limit(limit)
    .execute();
}

/** Moves an import on; false where somebody else has moved it since. */
export async function moveImport(
  db: Db,
  importId: string,
  fromOffset: string,
  to: {
    nextOffset: number;
    /** Undefined: as it was. */
    readerState: unknown;
    counters: ImportCounters;
    tallies: ImportTallies;
    batchIds: readonly string[];
  },
): Promise<boolean> {
  const { numUpdatedRows } = await db
    .updateTable("reading_import")
    .set({
      next_offset: String(to.nextOffset),
      ...(to.readerState !== undefined && { reader_state: JSON.stringify(to.readerState) }),
      counters: JSON.stringify(to.counters),
      tallies: JSON.stringify(to.tallies),
      batch_ids: sql<string[]>`${[...to.batchIds]}::bigint[]`,
      moved_at: sql<string>`now()`,
    })
    .where("import_id", "=", importId)
    .where("next_offset", "=", fromOffset)
    .executeTakeFirst();
  return numUpdatedRows > 0n;
}

/** Keeps what a sender has said of an import since. */
export async function updateSettings(db: Db, importId: string, settings: ImportSettings): Promise<void> {
  await db
    .updateTable("reading_import")
    .set({ settings: JSON.stringify(settings) })
    .where("import_id", "=", importId)
    .execute();
}

export function endImport(
  db: Db,
  importId: string,
  end: { status: ImportRow["status"]; reason: string | null },
) {
  const ended = end.status === "open" ? null : sql<string>`now()`;
  return db
    .updateTable("reading_import")
    .set({ status: end.status, reason: end.reason, ended_at: ended })
    .where("import_id", "=", importId)
    .returningAll()
    .executeTakeFirstOrThrow();
}

export interface NewReading {
  batchId: string;
  readingNo: number;
  line: number;
  column: string | null;
  lowerMm: string | null;
  upperMm: string | null;
  said: unknown;
}

export async function insertImportReadings(
  db: Db,
  importId: string,
  rows: readonly NewReading[],
): Promise<void> {
  if (rows.length === 0) return;
  const column = (pick: (row: NewReading) => string | number | null) => arrayText(rows.map(pick));
  await sql`/* prepared import-readings */
    insert into import_reading (batch_id, reading_no, import_id, line, column_name, lower_limit_mm, upper_limit_mm, said)
    select batch_id, reading_no, ${importId}::bigint, line, column_name, lower_limit_mm, upper_limit_mm, said
    from unnest(${column((r) => r.batchId)}::bigint[], ${column((r) => r.readingNo)}::int[], ${column((r) => r.line)}::int[],
      ${column((r) => r.column)}::text[], ${column((r) => r.lowerMm)}::numeric[], ${column((r) => r.upperMm)}::numeric[],
      ${column((r) => JSON.stringify(r.said))}::jsonb[])
      as t (batch_id, reading_no, line, column_name, lower_limit_mm, upper_limit_mm, said)
  `.execute(db);
}

export interface NewLine {
  line: number;
  lastLine: number;
  state: ImportLineRow["state"];
  text: string;
  parserState: unknown;
  faults: ImportFault[];
}

/** Keeps lines; one that is read a second time is kept as it comes out now. */
export async function upsertImportLines(db: Db, importId: string, rows: readonly NewLine[]): Promise<void> {
  if (rows.length === 0) return;
  const column = (pick: (row: NewLine) => string | number) => arrayText(rows.map(pick));
  await sql`
    insert into import_line (import_id, line, last_line, state, text, parser_state, faults)
    select ${importId}::bigint, line, last_line, state, text, parser_state, faults
    from unnest(${column((r) => r.line)}::int[], ${column((r) => r.lastLine)}::int[], ${column((r) => r.state)}::text[],
      ${column((r) => r.text)}::text[], ${column((r) => JSON.stringify(r.parserState ?? null))}::jsonb[],
      ${column((r) => JSON.stringify(r.faults))}::jsonb[])
      as t (line, last_line, state, text, parser_state, faults)
    on conflict (import_id, line) do update set last_line = excluded.last_line, state = excluded.state,
      text = excluded.text, parser_state = excluded.parser_state, faults = excluded.faults
  `.execute(db);
}

/** Where readings that are there came from: by which import, from which line. */
export async function findOrigins(db: Db, readings: readonly { batchId: string; readingNo: number }[]) {
  const { rows } = await sql<{
    batch_id: string;
    reading_no: number;
    import_id: string;
    line: number;
    column_name: string | null;
  }>`
    select found.* from unnest(${readings.map((r) => r.batchId)}::bigint[], ${readings.map((r) => r.readingNo)}::int[])
      as t (batch_id, reading_no)
    cross join lateral (
      select batch_id, reading_no, import_id, line, column_name from import_reading
      where batch_id = t.batch_id and reading_no = t.reading_no limit 1) as found
  `.execute(db);
  return rows;
}

/** Lines kept of an import in the order of the file, after line `after` (exclusive); at most `limit`. */
export function listImportLines(
  db: Db,
  importId: string,
  filter: { state?: ImportLineRow["state"] | undefined; after: number; limit: number },
) {
  return db
    .selectFrom("import_line")
    .selectAll()
    .where("import_id", "=", importId)
    .$if(filter.state !== undefined, (query) => query.where("state", "=", filter.state!))
    .where("line", ">", filter.after)
    .orderBy("line")
    .limit(filter.limit)
    .execute();
}

/** Readings that an import gave, in the order of the file, with what was decided of them; at most `limit`. */
export function listImportReadings(
  db: Db,
  importId: string,
  { afterLine, afterNo, limit }: { afterLine: number; afterNo: number; limit: number },
) {
  return db
    .selectFrom("import_reading")
    .innerJoin("reading", (join) =>
      join
        .onRef("reading.batch_id", "=", "import_reading.batch_id")
        .onRef("reading.reading_no", "=", "import_reading.reading_no"),
    )
    .innerJoin("feature", "feature.feature_id", "reading.feature_id")
    .innerJoin("part", "part.part_id", "feature.part_id")
    .select([
      "import_reading.batch_id",
      "import_reading.reading_no",
      "import_reading.line",
      "import_reading.column_name",
      "import_reading.said",
      "reading.piece",
      "reading.value_given",
      "reading.unit",
      "reading.verdict",
      "feature.characteristic",
      "feature.kind",
      "import_reading.lower_limit_mm",
      "import_reading.upper_limit_mm",
      "part.unit as part_unit",
    ])
    .where("import_reading.import_id", "=", importId)
    .where((eb) =>
      eb(eb.refTuple("import_reading.line", "import_reading.reading_no"), ">", eb.tuple(afterLine, afterNo)),
    )
    .orderBy("import_reading.line")
    .orderBy("import_reading.reading_no")
    .limit(limit)
    .execute();
}

/** Locks a batch, and says which pieces these serial numbers are known as, and which is the highest known by any. */
export async function findPiecesOfSerials(db: Db, batchId: string, serials: readonly string[]) {
  const batch = await db
    .selectFrom("batch")
    .select("last_piece_cut")
    .where("batch_id", "=", batchId)
    .forUpdate()
    .executeTakeFirst();
  const { rows } = await sql<{ serial: string; piece: number }>`
    select serial, min(piece) as piece from (
      select serial, piece from piece_serial where batch_id = ${batchId} and serial = any(${[...serials]}::text[])
      union all
      select serial, piece from reading where batch_id = ${batchId} and serial = any(${[...serials]}::text[])
    ) as known group by serial
  `.execute(db);
  const highest = await db
    .selectFrom("piece_serial")
    .select((eb) => eb.fn.max<number | null>("piece").as("piece"))
    .where("batch_id", "=", batchId)
    .executeTakeFirst();
  return {
    lastPieceCut: batch?.last_piece_cut ?? 0,
    highest: highest?.piece ?? 0,
    pieces: new Map(rows.map((row) => [row.serial, row.piece])),
  };
}

/** The highest piece of a batch that readings name by a serial number; 0: none does. */
export async function findHighestSerialPiece(db: Db, batchId: string): Promise<number> {
  const row = await db
    .selectFrom("reading")
    .select((eb) => eb.fn.max<number | null>("piece").as("piece"))
    .where("batch_id", "=", batchId)
    .where("serial", "is not", null)
    .executeTakeFirst();
  return row?.piece ?? 0;
}

export async function insertPieceSerials(
  db: Db,
  batchId: string,
  pieces: readonly [serial: string, piece: number][],
) {
  await sql`
    insert into piece_serial (batch_id, serial, piece)
    select ${batchId}::bigint, serial, piece
    from unnest(${pieces.map(([serial]) => serial)}::text[], ${pieces.map(([, piece]) => piece)}::int[]) as t (serial, piece)
  `.execute(db);
}

/** Keeps the answer to a request with a key; the first one counts. */
export async function keepAnswer(
  db: Db,
  key: string,
  fingerprint: string,
  status: number,
  body: string,
): Promise<void> {
  await db
    .insertInto("idempotency_key")
    .values({ key, fingerprint, status, body })
    .onConflict((conflict) => conflict.column("key").doNothing())
    .execute();
}

export function findAnswer(db: Db, key: string) {
  return db
    .selectFrom("idempotency_key")
    .select(["fingerprint", "status", "body"])
    .where("key", "=", key)
    .executeTakeFirst();
}

/** Keeps what a document defines; one that comes again says how it is now. */
export async function keepDocument(
  db: Db,
  row: { qpid: string; import_id: string; characteristics: unknown },
): Promise<void> {
  const characteristics = JSON.stringify(row.characteristics);
  await db
    .insertInto("qif_document")
    .values({ ...row, characteristics })
    .onConflict((conflict) =>
      conflict
        .column("qpid")
        .doUpdateSet({ import_id: row.import_id, characteristics, received_at: sql<string>`now()` }),
    )
    .execute();
}

/** What other documents define, by their persistent ids. */
export async function findDocuments(db: Db, qpids: readonly string[]): Promise<Map<string, unknown>> {
  if (qpids.length === 0) return new Map();
  const rows = await db
    .selectFrom("qif_document")
    .select(["qpid", "characteristics"])
    .where("qpid", "in", qpids)
    .execute();
  return new Map(rows.map((row) => [row.qpid, row.characteristics]));
}

/** Imports with values that wait for a document, and `own` where it waits for one that has come; oldest first. */
export async function listWaitingImports(db: Db, qpid: string, own: string): Promise<string[]> {
  const { rows } = await sql<{ import_id: string }>`
    select distinct import_id from import_line
    where state = 'refused' and parser_state -> 'parser' ? 'waits_for'
      and (parser_state -> 'parser' -> 'waits_for' ->> 'qpid' = ${qpid}
        or import_id = ${own} and parser_state -> 'parser' -> 'waits_for' ->> 'qpid' in (select qpid from qif_document))
    order by import_id
  `.execute(db);
  return rows.map(({ import_id }) => import_id);
}
