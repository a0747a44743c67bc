import type { z } from "zod";
import { fromNumeric, parseLength, toNumeric } from "../../core/quantity.js";
import type { Db, Trx } from "../../db/client.js";
import type { CorrectionFeature } from "../../decision/answered-advice.js";
import { lockBatches, raiseVersions } from "../../decision/batch-queries.js";
import type { StoredCause } from "../../decision/batch-rows.js";
import { valueAt } from "../../decision/batch-view.js";
import { loadBatchViews } from "../../decision/batch-work.js";
import { type CorrectionRow, showCorrection, showNamed } from "../../decision/correction-row.js";
import { nextStep } from "../../decision/next-step.js";
import { explainBeyond, pieceMeant } from "../../decision/open-change.js";
import { listOpenCorrections } from "../../decision/queries.js";
import { type EntryInBatch, enterRegisters, lockMachine } from "../../decision/register-entries.js";
import { replan } from "../../decision/replan.js";
import { sayPm } from "../../decision/words.js";
import { WriteHeaders, write } from "../../http/idempotency.js";
import { VoidCreate } from "../../http/journal.js";
import { eachPage, readCursor, toPage } from "../../http/pagination.js";
import { answer, ProblemError, problemAt, problems } from "../../http/problem.js";
import { listOrTable, sendTable } from "../../http/table.js";
import type { App } from "../../http/types.js";
import { isInForce, outcomeOf } from "./outcome.js";
import {
  endCorrection,
  findCorrection,
  findEntryAhead,
  findLastEntry,
  listCorrections,
  listFound,
  listUntil,
  voidEntriesOf,
} from "./queries.js";
import {
  Apply,
  CorrectionAnswer,
  CorrectionList,
  CorrectionPath,
  CorrectionQuery,
  CorrectionRecord,
  Decline,
  Finding,
} from "./schemas.js";
import { correctionColumns, tabulateCorrection } from "./table.js";

/** The contract of a route by which a person says what became of a correction. */
function writeSchema<Body extends z.ZodType>(operationId: string, summary: string, body: Body) {
  return {
    operationId,
    summary,
    tags: ["corrections"],
    params: CorrectionPath,
    headers: WriteHeaders,
    body,
    response: {
      200: answer("The correction, and what follows", CorrectionAnswer),
      ...problems({
        404: "There is no such correction",
        409: "It stands in another way already, or the same request is still being worked on",
        422: "It cannot be; or the Idempotency-Key belongs to another request",
      }),
    },
  };
}

export async function correctionRoutes(app: App, { db }: { db: Db }) {
  app.get("/corrections", {
    schema: {
      operationId: "listCorrections",
      summary: "List corrections: who changed what, when and why, what was promised and what was found",
      description:
        "The table has a row for each feature that a correction moves, and one for a correction that moves none. It is written as it is read: one that breaks off was not finished.",
      tags: ["corrections"],
      querystring: CorrectionQuery,
      response: { 200: listOrTable("Corrections by batch, oldest first", CorrectionList) },
    },
    handler: async ({ query }, reply) => {
      const { status, batch_id: batchId, tool_id: toolId, register_id: registerId, by, from, to } = query;
      const filter = { status, batchId, toolId, registerId, by, from, to };
      const read = async (cursor: string | undefined, limit: number) => {
        const [ofBatch = "0", no = "0"] = readCursor(cursor, 2);
        const rows = await listCorrections(db, { ...filter, after: [ofBatch, Number(no)], limit: limit + 1 });
        const record = await recordsOf(db, rows.slice(0, limit));
        return toPage(
          rows,
          limit,
          (row) => [row.batch_id, row.correction_no],
          (row) => ({ row, record: record(row) }),
        );
      };
      if (query.format === "csv") {
        const rows = eachPage(query.cursor, read, ({ row, record }) => tabulateCorrection(record, row));
        return sendTable(reply, "corrections", correctionColumns, rows);
      }
      const { items, next_cursor } = await read(query.cursor, query.limit);
      return { items: items.map(({ record }) => record), next_cursor };
    },
  });

  app.get("/corrections/:correction_id", {
    schema: {
      operationId: "getCorrection",
      summary: "Show one correction with its arithmetic and what it did",
      tags: ["corrections"],
      params: CorrectionPath,
      response: {
        200: answer("The correction", CorrectionRecord),
        ...problems({ 404: "There is no such correction" }),
      },
    },
    handler: async ({ params }) => {
      const row = await find(db, params.correction_id);
      return (await recordsOf(db, [row]))(row);
    },
  });

  app.post("/corrections/:correction_id/apply", {
    schema: writeSchema(
      "applyCorrection",
      "Say that a change was set at the control, from which piece on and to what value",
      Apply,
    ),
    handler: (request, reply) =>
      write(request, reply, db, (trx) => applyCorrection(trx, request.params.correction_id, request.body)),
  });

  app.post("/corrections/:correction_id/decline", {
    schema: writeSchema("declineCorrection", "Say that advice is not followed, and why", Decline),
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const { reason, by = null } = request.body;
        const row = await lockAndFind(trx, request.params.correction_id);
        if (row.status !== "proposed") throw standsOtherwise(row, "declined");
        await endCorrection(trx, row.batch_id, row.correction_no, {
          status: "declined",
          reason,
          by_name: by,
        });
        return standing(trx, row);
      }),
  });

  app.post("/corrections/:correction_id/finding", {
    schema: writeSchema("answerFinding", "Say what was found when the advice was to find the cause", Finding),
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const { found, from_piece, note = null, by = null } = request.body;
        const row = await lockAndFind(trx, request.params.correction_id);
        if (row.kind !== "find_cause") {
          throw new ProblemError(
            "unprocessable",
            `Correction ${request.params.correction_id} does not ask for a cause: its kind is ${row.kind}.`,
          );
        }
        // An entry or edge that puts things right comes first, and may have withdrawn the question already.
        const putRight = row.status === "superseded" && row.found === null && found !== "nothing";
        if (row.status !== "proposed" && !putRight) throw standsOtherwise(row, "answered");
        const [view] = await loadBatchViews(trx, [row.batch_id]);
        const fromPiece = from_piece ?? view!.lastPieceCut + 1;
        const cause = row.cause as StoredCause | null;
        if (cause && fromPiece < cause.first_piece) {
          throw problemAt("unprocessable", [
            {
              pointer: "/from_piece",
              detail: `lies before piece ${cause.first_piece}, where the size jumped`,
            },
          ]);
        }
        await endCorrection(trx, row.batch_id, row.correction_no, {
          status: "settled",
          found,
          from_piece: fromPiece,
          reason: note,
          by_name: by,
        });
        if (!cause) return standing(trx, row);
        return follow(trx, row, [], new Map([[row.batch_id, cause.first_piece]]));
      }),
  });

  app.post("/corrections/:correction_id/void", {
    schema: writeSchema("voidCorrection", "Take back that a change was set", VoidCreate),
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const { reason, by = null } = request.body;
        const row = await lockAndFind(trx, request.params.correction_id);
        if (row.status !== "applied") throw standsOtherwise(row, "voided: only an applied one can be");
        await endCorrection(trx, row.batch_id, row.correction_no, {
          status: "superseded",
          reason,
          by_name: by,
        });
        const entries = await voidEntriesOf(trx, row.batch_id, row.correction_no, { reason, by });
        const from = new Map([[row.batch_id, row.from_piece ?? 1]]);
        for (const entry of entries)
          from.set(entry.batch_id, Math.min(entry.from_piece, from.get(entry.batch_id) ?? entry.from_piece));
        return follow(trx, row, [], from);
      }),
  });
}

type Row = NonNullable<Awaited<ReturnType<typeof findCorrection>>>;

async function find(db: Db, correctionId: string): Promise<Row> {
  const [batchId = "0", no = "0"] = correctionId.split("-");
  const row = await findCorrection(db, batchId, Number(no));
  if (!row)
    throw new ProblemError(
      "not-found",
      `There is no correction ${correctionId}: GET /v1/corrections lists them.`,
    );
  return row;
}

/** The correction, with its batch and the machine's other open batches locked. */
async function lockAndFind(trx: Trx, correctionId: string): Promise<Row> {
  const { batch_id, machine_id } = await find(trx, correctionId);
  await lockMachine(trx, machine_id, batch_id);
  return find(trx, correctionId);
}

function show(row: Row) {
  return showCorrection(row as unknown as CorrectionRow, row);
}

/** How each correction of a page is shown, with what it did. */
async function recordsOf(db: Db, rows: readonly Row[]) {
  const applied = rows.filter(isInForce);
  const about = {
    batchIds: applied.map((row) => row.batch_id),
    numbers: applied.map((row) => row.correction_no),
    registerIds: applied.map((row) => row.register_id!),
    fromPieces: applied.map((row) => row.from_piece!),
    fromCuts: applied.map((row) => row.from_cut ?? 1),
  };
  const moved = applied.flatMap((row) => {
    const ids = new Set((row.features as CorrectionFeature[]).map(({ feature_id }) => feature_id));
    return [...ids].map((id) => ({ row, id }));
  });
  const [until, found] =
    applied.length === 0
      ? [[], []]
      : await Promise.all([
          listUntil(db, about),
          listFound(db, about, {
            batchIds: moved.map(({ row }) => row.batch_id),
            numbers: moved.map(({ row }) => row.correction_no),
            ids: moved.map(({ id }) => id),
          }),
        ]);
  return (row: Row) => {
    const isMine = (other: { batch_id: string; correction_no: number }) =>
      other.batch_id === row.batch_id && other.correction_no === row.correction_no;
    return {
      ...show(row),
      proposed_at: row.proposed_at,
      ended_at: row.ended_at,
      applied_at: row.applied_at,
      applied_by: row.applied_by,
      outcome: outcomeOf(row, until.find(isMine), found.filter(isMine)),
    };
  };
}

function standsOtherwise(row: Row, wanted: string): ProblemError {
  const id = `${row.batch_id}-${row.correction_no}`;
  return new ProblemError(
    "conflict",
    `Correction ${id} is ${row.status} and can't be ${wanted}. GET /v1/corrections?status=proposed lists what is open.`,
  );
}

async function applyCorrection(trx: Trx, correctionId: string, body: z.output<typeof Apply>) {
  const before = await find(trx, correctionId);
  const elsewhere = await lockMachine(trx, before.machine_id, before.batch_id, body.also_from);
  const row = await find(trx, correctionId);
  if (row.kind !== "change" || row.register_id === null) {
    throw new ProblemError(
      "unprocessable",
      `Correction ${correctionId} proposes no change (its kind is ${row.kind}): there is nothing to apply.`,
    );
  }
  if (row.status === "applied" || row.status === "settled") {
    throw new ProblemError(
      "conflict",
      `Correction ${correctionId} is ${row.status} already and counts once. If the register was changed again, POST /v1/registers/${row.register_id}/entries.`,
    );
  }
  const [view] = await loadBatchViews(trx, [row.batch_id]);
  const { unit, largestChangePm, name } = view!.machine;
  const beyond = explainBeyond(view, "/from_piece", body.from_piece);
  if (beyond.length > 0) throw problemAt("unprocessable", beyond);
  const fromCut = body.from_cut ?? 1;
  const fromPiece = body.from_piece ?? pieceMeant(view!, fromCut);
  const ahead = await findEntryAhead(trx, row.register_id, {
    batchId: row.batch_id,
    fromPiece,
    fromCut,
    lastPieceCut: view!.lastPieceCut,
  });
  if (ahead) {
    throw new ProblemError(
      "conflict",
      `Entry ${ahead.entry_id} says that from piece ${ahead.from_piece} on ${row.register_label} holds ${sayPm(fromNumeric(ahead.value_mm), unit)}, and that piece is still to be cut: what is set from piece ${fromPiece}, cut ${fromCut}, would end there. Void that entry, or what it came with, then send this again.`,
    );
  }
  const believed = valueAt(view!, row.register_id, fromPiece, fromCut);
  const found = body.value_found === undefined ? believed : parseLength(body.value_found, unit)!;
  const advised = fromNumeric(row.value_after_mm!);
  const set = body.value_after === undefined ? advised : parseLength(body.value_after, unit)!;
  // Who finds the very value that is to be set finds it keyed: to take it for the old one would correct twice.
  const keyedAlready = found !== believed && found === set;
  const differs = found !== believed && !keyedAlready;
  const onlyFound = differs && body.value_after === undefined;
  if (differs && Math.abs(found - believed) > largestChangePm && !body.confirmed) {
    throw problemAt("unprocessable", [
      {
        pointer: "/value_found",
        detail: `is ${sayPm(Math.abs(found - believed), unit)} away from the ${sayPm(believed, unit)} that ${row.register_label} is believed to hold, and the largest change on ${name} is ${sayPm(largestChangePm, unit)}. Check sign, decimal point and unit; if the control really shows it, send "confirmed": true`,
      },
    ]);
  }
  if (!onlyFound && Math.abs(set - found) > largestChangePm && !body.confirmed) {
    throw problemAt("unprocessable", [
      {
        pointer: "/value_after",
        detail: `moves ${row.register_label} by ${sayPm(set - found, unit, true)}, from ${sayPm(found, unit)} to ${sayPm(set, unit)}; the largest change on ${name} is ${sayPm(largestChangePm, unit)}. Check sign, decimal point and unit; if the control really shows it, send "confirmed": true`,
      },
    ]);
  }
  const flags: string[] = keyedAlready ? ["found_keyed"] : [];
  const from = new Map<string, number>([
    [row.batch_id, fromPiece],
    ...elsewhere.map((at): [string, number] => [at.batchId, at.fromPiece]),
  ]);
  const by_name = body.by ?? null;
  if (differs) {
    flags.push("value_found_differs");
    const registerId = row.register_id;
    // It has stood there since the register was entered last, in the machine's other batches too.
    const sinceLast = async <P extends EntryInBatch>(place: P): Promise<P> => {
      const last = await findLastEntry(trx, registerId, place);
      return { ...place, fromPiece: last?.from_piece ?? 1, fromCut: last?.from_cut ?? 1 };
    };
    const since = await sinceLast({ batchId: row.batch_id, fromPiece, fromCut });
    const sinceElsewhere = [];
    for (const place of elsewhere) sinceElsewhere.push(await sinceLast(place));
    const about = {
      origin: "found",
      reason: `the control showed ${sayPm(found, unit)} where ${sayPm(believed, unit)} was believed`,
    } as const;
    await enterRegisters(trx, since, sinceElsewhere, [{ registerId, valuePm: found }], {
      ...about,
      correction_no: null,
      edge_id: null,
      by_name,
    });
    for (const place of [since, ...sinceElsewhere]) {
      from.set(place.batchId, Math.min(place.fromPiece, from.get(place.batchId) ?? place.fromPiece));
    }
  }
  if (onlyFound) {
    await endCorrection(trx, row.batch_id, row.correction_no, {
      status: "superseded",
      value_found_mm: toNumeric(found),
      reason: "the control showed another value; the advice was worked out afresh",
      by_name,
    });
    return follow(trx, row, flags, from);
  }
  const withdrawn = row.status !== "proposed";
  if (withdrawn) flags.push("was_withdrawn");
  await enterRegisters(
    trx,
    { batchId: row.batch_id, fromPiece, fromCut },
    elsewhere,
    [{ registerId: row.register_id, valuePm: set }],
    { origin: "correction", reason: null, correction_no: row.correction_no, edge_id: null, by_name },
  );
  await endCorrection(trx, row.batch_id, row.correction_no, {
    status: "applied",
    from_piece: fromPiece,
    from_cut: fromCut,
    value_found_mm: toNumeric(found),
    value_set_mm: toNumeric(set),
    was_withdrawn: withdrawn,
    by_name,
  });
  return follow(trx, row, flags, from);
}

/** Answers with what stands, nothing having changed that the advice rests on. */
async function standing(trx: Trx, row: Row) {
  await raiseVersions(trx, [row.batch_id]);
  const [view] = await loadBatchViews(trx, [row.batch_id]);
  const open = await listOpenCorrections(trx, [row.batch_id]);
  const next = nextStep(view!, open, view!.lastPieceCut, []);
  return done(
    trx,
    row,
    [],
    next,
    open.map((other) => showNamed(other, view!)),
  );
}

/** Works the batches out afresh and answers with what stands then. */
async function follow(trx: Trx, row: Row, flags: string[], from: ReadonlyMap<string, number>) {
  await lockBatches(trx, [...from.keys()]);
  const { view, open } = (await replan(trx, from)).get(row.batch_id)!;
  const next = nextStep(view, open, view.lastPieceCut, []);
  return done(
    trx,
    row,
    flags,
    next,
    open.map((other) => showNamed(other, view)),
  );
}

async function done(
  trx: Trx,
  row: Row,
  flags: string[],
  next: ReturnType<typeof nextStep>,
  corrections: ReturnType<typeof showNamed>[],
) {
  const correction = show(await find(trx, `${row.batch_id}-${row.correction_no}`));
  return { status: 200, body: { correction, flags, next, corrections } };
}
