import { countPieces } from "../../core/containment/piece-ranges.js";
import type { Db, Trx } from "../../db/client.js";
import { lockMachineRow } from "../../decision/batch-queries.js";
import { batchStart } from "../../decision/batch-start.js";
import { type Contained, loadContainment, sayOnHold, sayRanges } from "../../decision/containment.js";
import { nextStep } from "../../decision/next-step.js";
import { lockMachinesOf } from "../../decision/register-entries.js";
import { replan } from "../../decision/replan.js";
import { WriteHeaders, write } from "../../http/idempotency.js";
import { showVoided, VoidCreate } from "../../http/journal.js";
import { readCursor, toPage } from "../../http/pagination.js";
import { answer, type FieldError, ProblemError, problemAt, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import {
  closeBatch,
  ensureReadingPartition,
  findBatch,
  findHighestRead,
  findInterruption,
  findMachine,
  findPart,
  insertBatch,
  insertInterruption,
  listBatches,
  listInterruptions,
  listOperations,
  updateCount,
  voidInterruption,
} from "./queries.js";
import {
  Batch,
  BatchClose,
  BatchCreate,
  BatchList,
  BatchPath,
  BatchQuery,
  Count,
  CountCreate,
  type Interruption,
  InterruptionAnswer,
  InterruptionCreate,
  InterruptionList,
  InterruptionPath,
  InterruptionQuery,
} from "./schemas.js";

type BatchRow = NonNullable<Awaited<ReturnType<typeof findBatch>>>;
type InterruptionRow = NonNullable<Awaited<ReturnType<typeof findInterruption>>>;

export async function batchRoutes(app: App, { db }: { db: Db }) {
  app.post("/batches", {
    schema: {
      operationId: "createBatch",
      summary: "Open a batch on a machine",
      description:
        "What the machine's registers hold and how far its edges have worn is taken over from the batches before.",
      tags: ["batches"],
      headers: WriteHeaders,
      body: BatchCreate,
      response: {
        201: answer("The batch as it is kept", Batch),
        ...problems({
          409: "The name is taken, or the same request is still being worked on",
          422: "There is no such part or machine, or the part has no feature in this operation; or the Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => ({ status: 201, body: await createBatch(trx, request.body) })),
  });

  app.get("/batches", {
    schema: {
      operationId: "listBatches",
      summary: "List the batches",
      tags: ["batches"],
      querystring: BatchQuery,
      response: { 200: answer("Batches, oldest first", BatchList) },
    },
    handler: async ({ query }) => {
      const [after = "0"] = readCursor(query.cursor, 1);
      const { machine_id: machineId, part_id: partId, open, limit } = query;
      const rows = await listBatches(db, { machineId, partId, open, after, limit: limit + 1 });
      return toPage(rows, limit, ({ batch_id }) => [batch_id], toBatch);
    },
  });

  app.get("/batches/:batch_id", {
    schema: {
      operationId: "getBatch",
      summary: "Show one batch",
      tags: ["batches"],
      params: BatchPath,
      response: { 200: answer("The batch", Batch), ...problems({ 404: "There is no such batch" }) },
    },
    handler: ({ params }) => showBatch(db, params.batch_id),
  });

  app.post("/batches/:batch_id/close", {
    schema: {
      operationId: "closeBatch",
      summary: "Close a batch",
      tags: ["batches"],
      params: BatchPath,
      headers: WriteHeaders,
      body: BatchClose,
      response: {
        200: answer("The batch as it is kept now", Batch),
        ...problems({
          404: "There is no such batch",
          409: "It is closed already or has pieces on hold, or the same request is still being worked on",
          422: "The Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const { batch_id } = request.params;
        const { last_piece_cut, name, seats } = await lockOpenBatch(trx, batch_id);
        await refuseOnHold(trx, { batchId: batch_id, name, lastPieceCut: last_piece_cut, seats });
        await closeBatch(trx, batch_id, request.body.by ?? null);
        await replan(trx, new Map([[batch_id, last_piece_cut + 1]]));
        return { status: 200, body: await showBatch(trx, batch_id) };
      }),
  });

  app.post("/batches/:batch_id/count", {
    schema: {
      operationId: "countPieces",
      summary: "Say how far a batch has come",
      tags: ["batches"],
      params: BatchPath,
      headers: WriteHeaders,
      body: CountCreate,
      response: {
        200: answer("How far it has come, and what to do next", Count),
        ...problems({
          404: "There is no such batch",
          409: "A later piece is known to be cut, the batch is closed, or the same request is still being worked on",
          422: "The batch has fewer pieces, or the Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const { batch_id } = request.params;
        const { last_piece_cut } = request.body;
        const batch = await lockOpenBatch(trx, batch_id);
        refuseCount(batch, last_piece_cut, await findHighestRead(trx, batch_id));
        await updateCount(trx, batch_id, last_piece_cut);
        const miscounted = last_piece_cut < batch.last_piece_cut;
        const next = await replanFrom(trx, batch_id, miscounted ? 1 : last_piece_cut + 1);
        return { status: 200, body: { batch_id, last_piece_cut, next } };
      }),
  });

  app.post("/batches/:batch_id/interruptions", {
    schema: {
      operationId: "createInterruption",
      summary: "Enter an interruption of a batch",
      tags: ["interruptions"],
      params: BatchPath,
      headers: WriteHeaders,
      body: InterruptionCreate,
      response: {
        201: answer("The interruption as it is kept, and what to do next", InterruptionAnswer),
        ...problems({
          404: "There is no such batch",
          409: "The batch is closed, or the same request is still being worked on",
          422: "The batch has fewer pieces, or the Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const { batch_id } = request.params;
        const { kind, note, by, from_piece } = request.body;
        const batch = await lockOpenBatch(trx, batch_id);
        refuseBeyond(batch, "/from_piece", from_piece);
        const row = await insertInterruption(trx, {
          batch_id,
          from_piece: from_piece ?? batch.last_piece_cut + 1,
          kind,
          note: note ?? null,
          by_name: by ?? null,
        });
        const next = await replanFrom(trx, batch_id, row.from_piece);
        return { status: 201, body: { ...toInterruption(row), next } };
      }),
  });

  app.get("/batches/:batch_id/interruptions", {
    schema: {
      operationId: "listInterruptions",
      summary: "List the interruptions of a batch, voided ones among them",
      tags: ["interruptions"],
      params: BatchPath,
      querystring: InterruptionQuery,
      response: {
        200: answer("Interruptions in the order they were entered", InterruptionList),
        ...problems({ 404: "There is no such batch" }),
      },
    },
    handler: async ({ params, query }) => {
      const { batch_id: batchId } = await showBatch(db, params.batch_id);
      const [after = "0"] = readCursor(query.cursor, 1);
      const rows = await listInterruptions(db, { batchId, after, limit: query.limit + 1 });
      return toPage(rows, query.limit, ({ interruption_id }) => [interruption_id], toInterruption);
    },
  });

  app.post("/batches/:batch_id/interruptions/:interruption_id/void", {
    schema: {
      operationId: "voidInterruption",
      summary: "Take an interruption out of all that is decided",
      tags: ["interruptions"],
      params: InterruptionPath,
      headers: WriteHeaders,
      body: VoidCreate,
      response: {
        200: answer("The interruption as it is kept now, and what to do next", InterruptionAnswer),
        ...problems({
          404: "There is no such interruption",
          409: "It is voided already, or the same request is still being worked on",
          422: "The Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const { batch_id, interruption_id } = request.params;
        const { reason, by = null } = request.body;
        await lockBatch(trx, batch_id);
        await findInterruptionInForce(trx, batch_id, interruption_id);
        const row = await voidInterruption(trx, interruption_id, { reason, by });
        const next = await replanFrom(trx, batch_id, row.from_piece);
        return { status: 200, body: { ...toInterruption(row), next } };
      }),
  });
}

async function createBatch(trx: Trx, body: BatchCreate): Promise<Batch> {
  await refuseUnknown(trx, body);
  await lockMachineRow(trx, body.machine_id);
  const row = await insertBatch(trx, {
    name: body.name,
    part_id: body.part_id,
    machine_id: body.machine_id,
    operation: body.operation ?? null,
    quantity: body.quantity ?? null,
    seats: body.seats,
    start: JSON.stringify(await batchStart(trx, body.machine_id, body.part_id)),
  });
  if (!row) {
    throw problemAt("conflict", [
      {
        pointer: "/name",
        detail: `a batch named "${body.name}" exists already: use that one (GET /v1/batches lists it) or choose another name`,
      },
    ]);
  }
  await ensureReadingPartition(trx, row.batch_id);
  return toBatch(row);
}

async function refuseUnknown(trx: Trx, body: BatchCreate): Promise<void> {
  const errors: FieldError[] = [];
  const part = await findPart(trx, body.part_id);
  if (!part) {
    errors.push({
      pointer: "/part_id",
      detail: `there is no part ${body.part_id}: GET /v1/parts lists them`,
    });
  }
  if (!(await findMachine(trx, body.machine_id))) {
    errors.push({
      pointer: "/machine_id",
      detail: `there is no machine ${body.machine_id}: GET /v1/machines lists them`,
    });
  }
  const operations = part ? await listOperations(trx, body.part_id) : [];
  const isRun = (operation: string | null) => operation === null || operation === body.operation;
  if (part && body.operation && !operations.some(isRun)) {
    const known = operations.map((operation) => `"${operation}"`).join(", ");
    errors.push({
      pointer: "/operation",
      detail: `part ${part.number} revision ${part.revision} has no feature in operation "${body.operation}"; its operations are ${known}: send one of them, or leave it out to run them all`,
    });
  }
  if (errors.length > 0) throw problemAt("unprocessable", errors);
}

/** The batch, locked for the rest of the transaction with the others that are open on its machine. */
async function lockBatch(trx: Trx, batchId: string): Promise<BatchRow> {
  const found = await findBatch(trx, batchId);
  if (!found) throw noBatch(batchId);
  await lockMachinesOf(trx, [found]);
  return (await findBatch(trx, batchId))!;
}

async function lockOpenBatch(trx: Trx, batchId: string): Promise<BatchRow> {
  const batch = await lockBatch(trx, batchId);
  if (batch.closed_at !== null) {
    throw new ProblemError(
      "conflict",
      `Batch "${batch.name}" was closed at ${batch.closed_at}. Open a new batch for what is cut from now on.`,
    );
  }
  return batch;
}

/** Pieces that may be bad must not go out with a batch that everybody takes for done. */
async function refuseOnHold(trx: Trx, batch: Contained & { name: string }): Promise<void> {
  const containment = await loadContainment(trx, batch);
  const held = countPieces(containment.onHold);
  if (held === 0) return;
  const errors = (await sayOnHold(trx, containment)).map((detail) => ({ pointer: "", detail }));
  const { batchId, name } = batch;
  throw new ProblemError(
    "conflict",
    `Batch "${name}" has ${held} ${held === 1 ? "piece" : "pieces"} on hold: ${sayRanges(containment.onHold)}. Measure them (GET /v1/batches/${batchId}/holds says which next) or post what was decided about them to /v1/batches/${batchId}/decisions.`,
    errors,
  );
}

/** A miscount may be put right, but not below what readings prove. */
function refuseCount(batch: BatchRow, lastPieceCut: number, proven: number): void {
  if (lastPieceCut < proven) {
    throw problemAt("conflict", [
      {
        pointer: "/last_piece_cut",
        detail: `piece ${proven} is known to be cut by a reading: send ${proven} or more. If a reading was posted for a wrong piece, void it`,
      },
    ]);
  }
  refuseBeyond(batch, "/last_piece_cut", lastPieceCut);
}

function refuseBeyond({ name, quantity }: BatchRow, pointer: string, piece: number | undefined): void {
  if (quantity === null || piece === undefined || piece <= quantity) return;
  throw problemAt("unprocessable", [
    {
      pointer,
      detail: `${piece} is beyond the ${quantity} pieces of batch "${name}": check the number, or the batch`,
    },
  ]);
}

async function replanFrom(trx: Trx, batchId: string, piece: number) {
  const replanned = (await replan(trx, new Map([[batchId, piece]]))).get(batchId);
  if (!replanned) throw noBatch(batchId);
  const { view, open } = replanned;
  return nextStep(view, open, view.lastPieceCut, []);
}

async function showBatch(db: Db, batchId: string): Promise<Batch> {
  const row = await findBatch(db, batchId);
  if (!row) throw noBatch(batchId);
  return toBatch(row);
}

async function findInterruptionInForce(trx: Trx, batchId: string, interruptionId: string): Promise<void> {
  const row = await findInterruption(trx, batchId, interruptionId);
  if (!row) {
    throw new ProblemError(
      "not-found",
      `Batch ${batchId} has no interruption ${interruptionId}. GET /v1/batches/${batchId}/interruptions lists them.`,
    );
  }
  if (row.voided_at === null) return;
  throw new ProblemError(
    "conflict",
    `Interruption ${interruptionId} was voided at ${row.voided_at} already (${row.void_reason}).`,
  );
}

function noBatch(batchId: string): ProblemError {
  return new ProblemError("not-found", `There is no batch ${batchId}. GET /v1/batches lists them.`);
}

function toBatch(row: BatchRow): Batch {
  return {
    batch_id: row.batch_id,
    name: row.name,
    part_id: row.part_id,
    machine_id: row.machine_id,
    operation: row.operation,
    quantity: row.quantity,
    seats: row.seats,
    last_piece_cut: row.last_piece_cut,
    created_at: row.created_at,
    closed_at: row.closed_at,
    closed_by: row.closed_by,
  };
}

function toInterruption(row: InterruptionRow): Interruption {
  return {
    interruption_id: row.interruption_id,
    batch_id: row.batch_id,
    from_piece: row.from_piece,
    kind: row.kind,
    note: row.note,
    by: row.by_name,
    created_at: row.created_at,
    voided: showVoided(row),
  };
}
