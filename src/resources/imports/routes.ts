import { createHash } from "node:crypto";
import type { IncomingMessage } from "node:http";
import { setTimeout as delay } from "node:timers/promises";
import type { FastifyReply, FastifyRequest } from "fastify";
import type { z } from "zod";
import { shownUnitOf } from "../../core/feature-kind.js";
import { fromNumeric, toUnit } from "../../core/quantity.js";
import type { Db } from "../../db/client.js";
import type { ImportCounters, ImportSettings, ImportTallies } from "../../db/schema.js";
import { transact } from "../../db/transact.js";
import type { ReadingRecorder } from "../../decision/reading-recorder.js";
import { nearOrAll } from "../../decision/resolve-reading.js";
import { fingerprint, WriteHeaders } from "../../http/idempotency.js";
import { readCursor, toPage } from "../../http/pagination.js";
import { answer, ProblemError, problemAt, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { type CompiledLayout, compileLayout } from "../../import/compile-layout.js";
import type { Said } from "../../import/interpret-record.js";
import { LayoutShape } from "../../import/layout.js";
import { type Checkpoint, UnreadableSource } from "../../import/source-record.js";
import { showSaid } from "../../import/wire.js";
import { ImportRun, type Job, noTallies, showLine } from "./import-run.js";
import {
  endImport,
  findAnswer,
  findBatch,
  findImport,
  findImportByKey,
  findLayout,
  type ImportRow,
  insertImport,
  keepAnswer,
  listBatchNames,
  listImportLines,
  listImportReadings,
  listImports,
  listLayoutNames,
  listWaitingImports,
  updateSettings,
} from "./queries.js";
import {
  ContentQuery,
  ImportAnswer,
  ImportedReadingList,
  ImportedReadingQuery,
  ImportLineList,
  ImportLineQuery,
  ImportList,
  ImportListQuery,
  ImportPath,
  ImportQuery,
  ReadingImport,
  RetryQuery,
} from "./schemas.js";

type Answer = z.infer<typeof ImportAnswer>;

const linesPerRetry = 500;

export async function importRoutes(app: App, { db, recorder }: { db: Db; recorder: ReadingRecorder }) {
  // The body is the file itself, of any kind and length: it is read as it comes.
  app.removeAllContentTypeParsers();
  app.addContentTypeParser("*", (_request, payload, done) =>
    done(null, payload.iterator({ destroyOnReturn: false })),
  );
  app.addHook("onSend", async ({ raw }) => letSend(raw));

  /** Imports that this process is reading on. */
  const busy = new Set<string>();

  app.post("/readings/imports", {
    schema: {
      operationId: "createReadingImport",
      summary: "Read a file in: a text log, a table, JSON lines or a gauge's lines",
      description:
        "The body is the file as it is, of any content type and length. Each reading is taken once, whatever file it comes in: " +
        "a file sent again, grown or overlapping changes nothing but what is new. Lines that can't be read are kept and listed, " +
        "the others are taken. With an Idempotency-Key a request that was cut off goes on where it was when it is sent again.",
      tags: ["imports"],
      headers: WriteHeaders,
      querystring: ImportQuery,
      response: {
        200: answer("A dry run: what would become of the file", ImportAnswer),
        201: answer("What became of the file", ImportAnswer),
        ...problems({
          409: "The same request is still being worked on",
          422: "There is no such layout or batch; the file can't be read at all; or the Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: async (request, reply) => {
      const { query } = request;
      refuseEncoded(request);
      const layout = await findLayoutOf(db, query);
      const batch = await findBatchOf(db, query);
      const { gauge_id, gauge, taken_by, first_piece, source = null, unit, angle_unit } = query;
      const settings: ImportSettings = {
        ...(gauge_id !== undefined && { gauge_id }),
        ...(gauge !== undefined && { gauge }),
        ...(taken_by !== undefined && { taken_by }),
        ...(first_piece !== undefined && { first_piece }),
        ...unitsSaid({ unit, angle_unit }),
      };
      const compiled = compileFor(layout.layout, settings);
      refuseUncounted(compiled.layout.piece_from, settings, batch !== undefined);
      refuseParts(compiled.layout.format, query.open);
      const job = { db, recorder, layout: compiled, batch, settings };
      const { hash, body } = hashed(request);
      if (query.dry_run) {
        const run = new ImportRun({ ...job, ...beginning, importId: undefined });
        const end = await readOn(run, body, 0, true);
        const shown = { ...dryShown, source, layout_id: layout.layout_id, batch_id: batch?.batch_id ?? null };
        reply.code(200);
        return { ...shown, ...end, ...show(run), ...nothingNext, refused: run.refused };
      }
      const key = request.headers["idempotency-key"];
      const kept = key === undefined ? undefined : await findAnswer(db, key);
      if (kept) return repeatAnswer(request, reply, kept, hash, body);
      const row =
        (await transact(db, (trx) =>
          insertImport(trx, {
            layout_id: layout.layout_id,
            batch_id: batch?.batch_id ?? null,
            source,
            settings,
            tallies: noTallies,
            idempotency_key: key ?? null,
          }),
        )) ?? (await findImportByKey(db, key!));
      if (!row) throw new Error("an import has vanished");
      if (row.status !== "open") {
        reply.code(201);
        return { ...showRow(row), ...nothingNext, refused: [] };
      }
      const result = await exclusively(busy, row.import_id, reply, async () => {
        const { importId, from, tallies, counters } = standing(row);
        const run = new ImportRun({ ...job, importId, from, tallies, counters });
        return finish(row, run, body, from.offset, !query.open);
      });
      reply.code(201);
      if (key !== undefined && !query.open) {
        await keepAnswer(
          db,
          key,
          `${requestPrint(request)} ${hash.digest("base64")}`,
          201,
          JSON.stringify(result),
        );
      }
      return result;
    },
  });

  app.post("/imports/:import_id/content", {
    schema: {
      operationId: "continueReadingImport",
      summary: "Read more of a file in: what was added to it, or the rest after a break",
      description:
        "The body is the file's bytes from `offset` on. What lies before the import's next_offset is passed over, so that pieces may overlap and be sent again. A last line without its end is waited for: the answer's next_offset says where to go on.",
      tags: ["imports"],
      params: ImportPath,
      querystring: ContentQuery,
      response: {
        200: answer("How far it has come, and what this piece brought", ImportAnswer),
        ...problems({
          404: "There is no such import",
          409: "It has come to its end, another request is reading it on, or bytes are missing in between",
          422: "The file can't be read on",
        }),
      },
    },
    handler: async (request, reply) => {
      refuseEncoded(request);
      const { import_id } = request.params;
      const { offset, last } = request.query;
      return exclusively(busy, import_id, reply, async () => {
        const row = await find(db, import_id);
        if (row.status !== "open") {
          throw new ProblemError(
            "conflict",
            `Import ${import_id} is ${row.status}: begin another one for the same file, and what is there already is recognised.`,
          );
        }
        const job = await jobOf(row);
        const nextOffset = Number(row.next_offset);
        refuseParts(job.layout.layout.format, offset > 0 || !last);
        if (offset > nextOffset) {
          throw new ProblemError(
            "conflict",
            `Bytes ${nextOffset} to ${offset} are missing: go on at offset ${nextOffset}.`,
          );
        }
        const run = new ImportRun(job);
        return finish(row, run, request.body as AsyncIterable<Buffer>, nextOffset - offset, last);
      });
    },
  });

  app.post("/imports/:import_id/retry", {
    schema: {
      operationId: "retryReadingImport",
      summary: "Read the refused lines again, by the layout as it is now",
      tags: ["imports"],
      params: ImportPath,
      querystring: RetryQuery,
      response: {
        200: answer("How the import stands, and which lines are still refused", ImportAnswer),
        ...problems({ 404: "There is no such import", 409: "Another request is reading it on" }),
      },
    },
    handler: (request, reply) => {
      const { import_id } = request.params;
      return exclusively(busy, import_id, reply, async () => {
        const row = await find(db, import_id);
        const said = unitsSaid(request.query);
        const settings = { ...(row.settings as ImportSettings), ...said };
        const job = await jobOf({ ...row, settings });
        if (Object.keys(said).length > 0) await updateSettings(db, import_id, settings);
        const run = await readRefused(job);
        return {
          ...showRow(await find(db, import_id)),
          ...(await adviseOn(run)),
          joined: 0,
          refused: run.refused,
        };
      });
    },
  });

  app.get("/imports", {
    schema: {
      operationId: "listReadingImports",
      summary: "List the imports",
      tags: ["imports"],
      querystring: ImportListQuery,
      response: { 200: answer("Imports, newest first", ImportList) },
    },
    handler: async ({ query }) => {
      const [before = "0"] = readCursor(query.cursor, 1);
      const { batch_id: batchId, source, status, limit } = query;
      const rows = await listImports(db, { batchId, source, status, before, limit: limit + 1 });
      return toPage(rows, limit, (row) => [row.import_id], showRow);
    },
  });

  app.get("/imports/:import_id", {
    schema: {
      operationId: "getReadingImport",
      summary: "Show how far an import has come",
      tags: ["imports"],
      params: ImportPath,
      response: { 200: answer("The import", ReadingImport), ...problems({ 404: "There is no such import" }) },
    },
    handler: async ({ params }) => showRow(await find(db, params.import_id)),
  });

  app.get("/imports/:import_id/lines", {
    schema: {
      operationId: "listImportLines",
      summary: "List the lines of an import that gave no reading, with the reason",
      tags: ["imports"],
      params: ImportPath,
      querystring: ImportLineQuery,
      response: {
        200: answer("Lines, in the order of the file", ImportLineList),
        ...problems({ 404: "There is no such import" }),
      },
    },
    handler: async ({ params, query }) => {
      await find(db, params.import_id);
      const [after = "0"] = readCursor(query.cursor, 1);
      const filter = { state: query.state, after: Number(after), limit: query.limit + 1 };
      const rows = await listImportLines(db, params.import_id, filter);
      return toPage(
        rows,
        query.limit,
        ({ line }) => [line],
        (row) => showLine({ ...row, lastLine: row.last_line }),
      );
    },
  });

  app.get("/imports/:import_id/readings", {
    schema: {
      operationId: "listImportedReadings",
      summary: "List the readings of an import, what the file says of each beside what was decided",
      tags: ["imports"],
      params: ImportPath,
      querystring: ImportedReadingQuery,
      response: {
        200: answer("Readings, in the order of the file", ImportedReadingList),
        ...problems({ 404: "There is no such import" }),
      },
    },
    handler: async ({ params, query }) => {
      await find(db, params.import_id);
      const [line = "0", no = "0"] = readCursor(query.cursor, 2);
      const page = { afterLine: Number(line), afterNo: Number(no), limit: query.limit + 1 };
      const rows = await listImportReadings(db, params.import_id, page);
      return toPage(rows, query.limit, (row) => [row.line, row.reading_no], showReading);
    },
  });

  async function jobOf(row: ImportRow): Promise<Job & { importId: string }> {
    const layout = (await findLayout(db, { layoutId: row.layout_id }))!;
    const batch = row.batch_id === null ? undefined : await findBatch(db, { batchId: row.batch_id });
    const settings = row.settings as ImportSettings;
    return {
      db,
      recorder,
      layout: compileFor(layout.layout, settings),
      batch,
      settings,
      ...standing(row),
    };
  }

  /** Reads the body in and says how the import stands then; the advice is worked out once, at the end. */
  async function finish(
    row: ImportRow,
    run: ImportRun,
    body: AsyncIterable<Buffer>,
    skip: number,
    last: boolean,
  ): Promise<Answer> {
    const end = await readOn(run, body, skip, last).catch(async (error) => {
      // What was taken in before it broke off wants its advice all the same.
      await recorder.advise([...run.batchIds], run.failed).catch(() => undefined);
      throw error;
    });
    const joined = await readWaiting(row.import_id, run);
    const ended = await endImport(db, row.import_id, { status: end.status, reason: end.reason });
    const advice = await adviseOn(run);
    if (end.status === "failed") {
      throw new ProblemError(
        "unprocessable",
        `${end.reason?.replace(/[^.?!]$/, "$&.")} It is kept as import ${row.import_id}; ${run.tallies.accepted} readings before that place were taken.`,
      );
    }
    return { ...showRow(ended), ...advice, joined, refused: run.refused };
  }

  /** Reads all refused lines of an import again, by the layout as it is now. */
  async function readRefused(job: Job & { importId: string }): Promise<ImportRun> {
    const run = new ImportRun(job);
    for (let after = 0; ; ) {
      const filter = { state: "refused" as const, after, limit: linesPerRetry };
      const lines = await listImportLines(db, job.importId, filter);
      const readable = lines.filter((line) => line.parser_state !== null);
      if (readable.length > 0) await run.readAgain(readable);
      if (lines.length < linesPerRetry) return run;
      after = lines.at(-1)!.line;
    }
  }

  /** Reads again what waits for documents that are there now; how many readings that gave. */
  async function readWaiting(own: string, run: ImportRun): Promise<number> {
    if (run.qpid === undefined) return 0;
    let joined = 0;
    for (const importId of await listWaitingImports(db, run.qpid, own)) {
      for (let waited = 0; importId !== own && busy.has(importId) && waited < patienceMs; waited += 50)
        await delay(50);
      const row = await find(db, importId);
      const before = (row.tallies as ImportTallies).accepted;
      // Another replica may be reading it on at this moment; it, too, looks for what has come in the meantime.
      const waiting = await readRefused(await jobOf(row)).catch((error) => {
        if (error instanceof ProblemError && error.type === "conflict") return undefined;
        throw error;
      });
      if (!waiting) continue;
      joined += waiting.tallies.accepted - before;
      for (const batchId of waiting.batchIds) run.batchIds.add(batchId);
      run.failed = [...run.failed, ...waiting.failed];
    }
    return joined;
  }

  async function adviseOn(run: ImportRun): Promise<Pick<Answer, "next" | "corrections" | "next_checks">> {
    if (run.batchIds.size === 0) return nothingNext;
    return await recorder.advise([...run.batchIds], run.failed);
  }
}

const patienceMs = 5000; // for another import to come to its end
const nothingNext = { next: null, corrections: [], next_checks: [], joined: 0 };
const beginning = {
  from: { offset: 0 },
  tallies: noTallies,
  counters: { pieces: {}, lostAt: null },
};
const dryShown = { import_id: null, started_at: null, moved_at: null, ended_at: null };

const mostLetSend = 256 * 1024 * 1024;

/**
 * Passes over what is left of a file that is not read to its end: many clients send the whole before they look for an
 * answer, and would find none where the connection is closed on them.
 */
async function letSend(raw: IncomingMessage): Promise<void> {
  if (raw.complete || raw.readableEnded || raw.destroyed) return;
  await new Promise<void>((resolve) => {
    let left = mostLetSend;
    raw.on("data", (chunk: Buffer) => {
      left -= chunk.length;
      if (left <= 0) resolve();
    });
    raw.once("end", resolve).once("close", resolve);
  });
}

/** Reads to the end, or to where the file can't be read on. */
async function readOn(
  run: ImportRun,
  body: AsyncIterable<Buffer>,
  skip: number,
  last: boolean,
): Promise<{ status: ImportRow["status"]; reason: string | null }> {
  try {
    await run.read(body ?? [], skip, last);
    return { status: last ? "complete" : "open", reason: null };
  } catch (error) {
    if (!(error instanceof UnreadableSource)) throw error;
    return { status: "failed", reason: error.reason };
  }
}

/** The body, and the hash of what has been read of it. */
function hashed(request: FastifyRequest) {
  const hash = createHash("sha256");
  async function* body(): AsyncGenerator<Buffer> {
    for await (const chunk of (request.body ?? []) as AsyncIterable<Buffer>) {
      hash.update(chunk);
      yield chunk;
    }
  }
  return { hash, body: body() };
}

async function repeatAnswer(
  request: FastifyRequest,
  reply: FastifyReply,
  kept: { fingerprint: string; body: string; status: number },
  hash: ReturnType<typeof createHash>,
  body: AsyncGenerator<Buffer>,
): Promise<Answer> {
  for await (const _ of body);
  if (kept.fingerprint !== `${requestPrint(request)} ${hash.digest("base64")}`) {
    throw new ProblemError(
      "idempotency-key-reused",
      "Another request has used this Idempotency-Key. Choose a fresh key for each new file, and an old one only to send the very same file again.",
    );
  }
  reply.header("idempotency-replayed", "true").code(kept.status);
  return JSON.parse(kept.body);
}

function requestPrint({ method, url }: FastifyRequest): string {
  return fingerprint({ method, url, body: null });
}

async function exclusively<T>(
  busy: Set<string>,
  importId: string,
  reply: FastifyReply,
  work: () => Promise<T>,
): Promise<T> {
  if (busy.has(importId)) {
    reply.header("retry-after", "1");
    throw new ProblemError(
      "idempotency-in-flight",
      `Import ${importId} is being read on. Wait a moment and send it again.`,
    );
  }
  busy.add(importId);
  try {
    return await work();
  } finally {
    busy.delete(importId);
  }
}

/** How far an import has come, as its next run needs it. */
function standing(row: ImportRow) {
  const from: Checkpoint = { offset: Number(row.next_offset), state: row.reader_state ?? undefined };
  return {
    importId: row.import_id,
    from,
    tallies: row.tallies as ImportTallies,
    counters: row.counters as ImportCounters,
  };
}

/** Units that the sender of a request names. */
function unitsSaid({ unit, angle_unit }: z.output<typeof RetryQuery>): ImportSettings {
  return { ...(unit !== undefined && { unit }), ...(angle_unit !== undefined && { angle_unit }) };
}

/** The layout with what was said of this file alone. */
function compileFor(stored: unknown, { unit, angle_unit }: ImportSettings): CompiledLayout {
  const layout = LayoutShape.parse(stored);
  if (angle_unit === undefined) return compileLayout({ ...layout, unit: unit ?? layout.unit });
  if (layout.format !== "qif") {
    throw problemAt("unprocessable", [
      {
        pointer: "angle_unit",
        detail: `is of use to format "qif" only, and layout "${layout.name}" is of format "${layout.format}"`,
      },
    ]);
  }
  const qif = { names: "designator" as const, ...layout.qif, angle_unit };
  return compileLayout({ ...layout, unit: unit ?? layout.unit, qif });
}

function refuseEncoded(request: FastifyRequest): void {
  const encoding = request.headers["content-encoding"];
  if (encoding === undefined || encoding === "identity") return;
  throw new ProblemError(
    "unsupported-media-type",
    `A body in the encoding "${encoding}" is not read here. Send the file as it is.`,
  );
}

/** What a document's values are of may stand behind them, so it can't be read before it is whole. */
function refuseParts(format: string, isPart: boolean): void {
  if (format === "qif" && isPart)
    throw problemAt("unprocessable", [
      { pointer: "open", detail: "can't be with a QIF document: send it as a whole, in one request" },
    ]);
}

function refuseUncounted(piecesFrom: string, settings: ImportSettings, hasBatch: boolean): void {
  if (piecesFrom === "count" && settings.first_piece === undefined) {
    throw problemAt("unprocessable", [
      {
        pointer: "first_piece",
        detail: "is missing: the layout counts pieces, so say which one the first reading is of",
      },
    ]);
  }
  if (piecesFrom === "serial" && !hasBatch) {
    throw problemAt("unprocessable", [
      {
        pointer: "batch_id",
        detail: "is missing: the layout numbers the pieces of one batch by their serial numbers",
      },
    ]);
  }
}

async function findLayoutOf(db: Db, { layout_id, layout }: z.output<typeof ImportQuery>) {
  const row = await findLayout(db, layout_id === undefined ? { name: layout! } : { layoutId: layout_id });
  if (row) return row;
  throw problemAt("unprocessable", [
    layout_id === undefined
      ? {
          pointer: "layout",
          detail: `there is no layout "${layout}"; ${nearOrAll(layout!, await listLayoutNames(db))}`,
        }
      : { pointer: "layout_id", detail: `there is no layout ${layout_id}: GET /v1/log-layouts lists them` },
  ]);
}

async function findBatchOf(db: Db, { batch_id, batch }: z.output<typeof ImportQuery>) {
  if (batch_id === undefined && batch === undefined) return undefined;
  const row = await findBatch(db, batch_id === undefined ? { name: batch! } : { batchId: batch_id });
  if (!row) {
    throw problemAt("unprocessable", [
      batch_id === undefined
        ? {
            pointer: "batch",
            detail: `there is no batch "${batch}"; ${nearOrAll(batch!, await listBatchNames(db))}`,
          }
        : {
            pointer: "batch_id",
            detail: `there is no batch ${batch_id}: post the batch first, GET /v1/batches lists them`,
          },
    ]);
  }
  if (row.closed_at !== null)
    throw problemAt("unprocessable", [{ pointer: "batch_id", detail: `batch "${row.name}" is closed` }]);
  return row;
}

async function find(db: Db, importId: string): Promise<ImportRow> {
  const row = await findImport(db, importId);
  if (row) return row;
  throw new ProblemError("not-found", `There is no import ${importId}: GET /v1/imports lists them.`);
}

function show({ tallies, nextOffset }: { tallies: ImportTallies; nextOffset: number }) {
  const { conforming, nonconforming, uncertain, refused, ...counts } = tallies;
  return {
    ...counts,
    refused_count: refused,
    next_offset: nextOffset,
    verdicts: { conforming, nonconforming, uncertain },
  };
}

function showRow(row: ImportRow): z.infer<typeof ReadingImport> {
  const { import_id, status, reason, source, layout_id, batch_id, started_at, moved_at, ended_at } = row;
  const counts = show({ tallies: row.tallies as ImportTallies, nextOffset: Number(row.next_offset) });
  return {
    import_id,
    status,
    reason,
    source,
    layout_id,
    batch_id,
    ...counts,
    started_at,
    moved_at,
    ended_at,
  };
}

function showReading(row: Awaited<ReturnType<typeof listImportReadings>>[number]) {
  const { line, column_name, batch_id, reading_no, characteristic, piece, value_given, unit, verdict } = row;
  const limitUnit = shownUnitOf(row.kind, row.part_unit);
  const limit = (stored: string | null) => (stored === null ? null : toUnit(fromNumeric(stored), limitUnit));
  return {
    line,
    column: column_name,
    reading_id: `${batch_id}-${reading_no}`,
    characteristic,
    piece,
    value: value_given,
    unit: unit === "1" ? null : unit,
    lower_limit: limit(row.lower_limit_mm),
    upper_limit: limit(row.upper_limit_mm),
    limit_unit: limitUnit === "1" ? null : limitUnit,
    verdict,
    said: showSaid(row.said as Said),
  };
}
