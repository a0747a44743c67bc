import { toUnit } from "../../core/quantity.js";
import type { Db, Trx } from "../../db/client.js";
import { lockBatches, lockMachineRow } from "../../decision/batch-queries.js";
import { type BatchView, valueAt } from "../../decision/batch-view.js";
import { explainLargeChange } from "../../decision/check-change.js";
import { nextStep } from "../../decision/next-step.js";
import { earliestPieces, openChange } from "../../decision/open-change.js";
import { type EntryInBatch, enterRegisters } from "../../decision/register-entries.js";
import { replan } from "../../decision/replan.js";
import { sayPm } from "../../decision/words.js";
import { WriteHeaders, write } from "../../http/idempotency.js";
import { showVoided, VoidCreate } from "../../http/journal.js";
import { lengthPm, showLength } from "../../http/lengths.js";
import { readCursor, toPage } from "../../http/pagination.js";
import { answer, ProblemError, problemAt, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { expectSizes } from "./expect-sizes.js";
import { findEntry, findRegister, listEntries, listPlaces, voidEntries } from "./queries.js";
import {
  type Entry,
  EntryAnswer,
  EntryCreate,
  EntryList,
  EntryPath,
  EntryQuery,
  EntryVoided,
  RegisterPath,
} from "./schemas.js";

type RegisterRow = NonNullable<Awaited<ReturnType<typeof findRegister>>>;
type EntryRow = NonNullable<Awaited<ReturnType<typeof findEntry>>>;

export async function registerEntryRoutes(app: App, { db }: { db: Db }) {
  app.post("/registers/:register_id/entries", {
    schema: {
      operationId: "createRegisterEntry",
      summary: "Enter a value that was keyed into a register",
      description:
        "For a change made without a correction. It counts in the batch named from the piece named on, and in the machine's other open batches too.",
      tags: ["registers"],
      params: RegisterPath,
      headers: WriteHeaders,
      body: EntryCreate,
      response: {
        201: answer("The entry, the sizes expected with it and what to do next", EntryAnswer),
        ...problems({
          404: "There is no such register",
          409: "The batch is closed, or the same request is still being worked on",
          422: "The batch does not run on the register's machine, the piece is beyond it, or the change is larger than the machine allows; or the Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const register = await findRegisterOrRefuse(trx, request.params.register_id);
        return { status: 201, body: await createEntry(trx, register, request.body) };
      }),
  });

  app.get("/registers/:register_id/entries", {
    schema: {
      operationId: "listRegisterEntries",
      summary: "List the entries of a register, voided ones among them",
      tags: ["registers"],
      params: RegisterPath,
      querystring: EntryQuery,
      response: {
        200: answer("Entries in the order they were made", EntryList),
        ...problems({ 404: "There is no such register" }),
      },
    },
    handler: async ({ params, query }) => {
      const { register_id: registerId, unit } = await findRegisterOrRefuse(db, params.register_id);
      const [after = "0"] = readCursor(query.cursor, 1);
      const rows = await listEntries(db, { registerId, after, limit: query.limit + 1 });
      return toPage(
        rows,
        query.limit,
        ({ entry_id }) => [entry_id],
        (row) => toEntry(row, unit),
      );
    },
  });

  app.post("/registers/:register_id/entries/:entry_id/void", {
    schema: {
      operationId: "voidRegisterEntry",
      summary: "Take an entry of a register out of all that is decided",
      description: "What was entered with it in the machine's other batches is voided too.",
      tags: ["registers"],
      params: EntryPath,
      headers: WriteHeaders,
      body: VoidCreate,
      response: {
        200: answer("The entry as it is kept now, and what to do next", EntryVoided),
        ...problems({
          404: "There is no such register, or no such entry of it",
          409: "It is voided already, came with an edge or a correction, or follows an entry of another batch; or the same request is still being worked on",
          422: "The Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const register = await findRegisterOrRefuse(trx, request.params.register_id);
        const { reason, by = null } = request.body;
        const body = await voidEntry(trx, register, request.params.entry_id, { reason, by });
        return { status: 200, body };
      }),
  });
}

async function createEntry(trx: Trx, register: RegisterRow, body: EntryCreate): Promise<EntryAnswer> {
  const { register_id: registerId, unit, label } = register;
  const { view, at, elsewhere, from } = await openChange(trx, register, body);
  const valuePm = lengthPm(body.value, unit);
  const beforePm = valueAt(view, registerId, at.fromPiece, at.fromCut);
  const tooLarge = body.confirmed ? undefined : explainLargeChange(view.machine, label, valuePm, beforePm);
  if (tooLarge !== undefined) {
    throw problemAt("unprocessable", [{ pointer: "/value", detail: tooLarge }]);
  }
  const [entry] = await enterRegisters(trx, at, elsewhere, [{ registerId, valuePm }], {
    origin: "person",
    reason: body.reason ?? null,
    correction_no: null,
    edge_id: null,
    by_name: body.by ?? null,
  });
  const replanned = (await replan(trx, from)).get(at.batchId);
  if (!entry || !replanned) throw new Error(`entry of register ${registerId} is not there`);
  const { view: after, open } = replanned;
  const places = await listPlaces(trx, entry.entry_id);
  const firstPiece = Math.max(at.fromPiece, after.lastPieceCut + 1);
  const { expected, warnings } = expectSizes(after, registerId, valuePm, firstPiece);
  return {
    entry_id: entry.entry_id,
    register_id: registerId,
    register_label: label,
    batch_id: at.batchId,
    from_piece: at.fromPiece,
    from_cut: at.fromCut,
    value_before: toUnit(beforePm, unit),
    change: toUnit(valuePm - beforePm, unit),
    value: toUnit(valuePm, unit),
    unit,
    expected,
    warnings: [...warnings, ...explainOverridden(after, register, at, firstPiece, valuePm)],
    also_in: elsewhereOf(entry.entry_id, places),
    next: nextStep(after, open, after.lastPieceCut, []),
  };
}

/** A word where an entry made before already gives the pieces to come another value. */
function explainOverridden(
  view: BatchView,
  { register_id, label, unit }: RegisterRow,
  at: EntryInBatch,
  firstPiece: number,
  valuePm: number,
): string[] {
  const nowPm = valueAt(view, register_id, firstPiece, at.fromPiece === firstPiece ? at.fromCut : 1);
  if (nowPm === valuePm) return [];
  return [
    `A later entry stands already: on piece ${firstPiece} ${label} counts as ${sayPm(nowPm, unit)}, not ${sayPm(valuePm, unit)}. If that entry is wrong, void it.`,
  ];
}

async function voidEntry(
  trx: Trx,
  register: RegisterRow,
  entryId: string,
  about: { reason: string; by: string | null },
): Promise<EntryVoided> {
  const { register_id: registerId, unit } = register;
  await findEntryOrRefuse(trx, registerId, entryId);
  await lockMachineRow(trx, register.machine_id);
  const places = await listPlaces(trx, entryId);
  const from = earliestPieces(places);
  if (from.size > 0) await lockBatches(trx, [...from.keys()]);
  refuseVoid(await findEntryOrRefuse(trx, registerId, entryId));
  await voidEntries(
    trx,
    places.map(({ entry_id }) => entry_id),
    about,
  );
  const entry = await findEntryOrRefuse(trx, registerId, entryId);
  const replanned = (await replan(trx, from)).get(entry.batch_id);
  if (!replanned) throw new Error(`batch ${entry.batch_id} is not there`);
  const { view, open } = replanned;
  return {
    ...toEntry(entry, unit),
    value_now: toUnit(valueAt(view, registerId, entry.from_piece, entry.from_cut), unit),
    also_in: elsewhereOf(entryId, places),
    next: nextStep(view, open, view.lastPieceCut, []),
  };
}

function elsewhereOf(entryId: string, places: Awaited<ReturnType<typeof listPlaces>>) {
  return places
    .filter(({ entry_id }) => entry_id !== entryId)
    .map(({ batch_id, from_piece }) => ({ batch_id, from_piece }));
}

function refuseVoid(entry: EntryRow): void {
  const { entry_id, voided_at, void_reason, edge_id, follows_entry_id } = entry;
  const refuse = (detail: string) => new ProblemError("conflict", `Entry ${entry_id} ${detail}.`);
  if (voided_at !== null) throw refuse(`was voided at ${voided_at} already (${void_reason})`);
  if (edge_id !== null) throw refuse(`was keyed with edge ${edge_id}: void the edge, and it goes with it`);
  if (entry.made_by_correction_no !== null) {
    const correction = `${entry.correction_batch_id}-${entry.made_by_correction_no}`;
    throw refuse(
      `was made by applying correction ${correction}: void that one (POST /v1/corrections/${correction}/void), and the entry goes with it`,
    );
  }
  if (follows_entry_id !== null) {
    throw refuse(
      `follows entry ${follows_entry_id} of batch ${entry.correction_batch_id}, made at the same time: void that one, and it goes with it`,
    );
  }
}

async function findRegisterOrRefuse(db: Db, registerId: string): Promise<RegisterRow> {
  const row = await findRegister(db, registerId);
  if (row) return row;
  throw new ProblemError(
    "not-found",
    `There is no register ${registerId}. GET /v1/tools lists the tools with their registers.`,
  );
}

async function findEntryOrRefuse(db: Db, registerId: string, entryId: string): Promise<EntryRow> {
  const row = await findEntry(db, registerId, entryId);
  if (row) return row;
  throw new ProblemError(
    "not-found",
    `Register ${registerId} has no entry ${entryId}. GET /v1/registers/${registerId}/entries lists them.`,
  );
}

function toEntry(row: EntryRow, unit: "mm" | "inch"): Entry {
  return {
    entry_id: row.entry_id,
    register_id: row.register_id,
    batch_id: row.batch_id,
    from_piece: row.from_piece,
    from_cut: row.from_cut,
    value: showLength(row.value_mm, unit),
    unit,
    origin: row.origin,
    reason: row.reason,
    correction_id:
      row.made_by_correction_no === null ? null : `${row.correction_batch_id}-${row.made_by_correction_no}`,
    edge_id: row.edge_id,
    follows_entry_id: row.follows_entry_id,
    by: row.by_name,
    created_at: row.created_at,
    voided: showVoided(row),
  };
}
