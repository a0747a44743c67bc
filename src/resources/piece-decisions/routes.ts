import { countPieces } from "../../core/containment/piece-ranges.js";
import type { Db, Trx } from "../../db/client.js";
import { lockBatches } from "../../decision/batch-queries.js";
import { loadContainment } from "../../decision/containment.js";
import type { DecisionRow } from "../../decision/hold-queries.js";
import { PiecePath, showDecision, showRanges } from "../../decision/hold-wire.js";
import { WriteHeaders, write } from "../../http/idempotency.js";
import { VoidCreate } from "../../http/journal.js";
import { readCursor, toPage } from "../../http/pagination.js";
import { answer, ProblemError, problemAt, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import {
  findBatch,
  findDecision,
  insertDecisions,
  listDecisions,
  listFailedFeatures,
  listFeatures,
  voidDecision,
} from "./queries.js";
import {
  BatchPath,
  DecisionList,
  DecisionPath,
  DecisionQuery,
  DecisionsAnswer,
  PieceDecisionCreate,
  PieceDecisionsCreate,
} from "./schemas.js";

type BatchRow = NonNullable<Awaited<ReturnType<typeof findBatch>>>;
type Range = PieceDecisionsCreate["pieces"][number];

const faults = {
  404: "There is no such batch",
  409: "The same request is still being worked on",
  422: "A piece has not been cut yet, a feature is named that the batch does not have or one that failed is left out; or the Idempotency-Key belongs to another request",
};

export async function pieceDecisionRoutes(app: App, { db }: { db: Db }) {
  app.post("/batches/:batch_id/pieces/:piece/decision", {
    schema: {
      operationId: "decidePiece",
      summary: "Enter what is to become of a piece, and who decided it",
      tags: ["holds"],
      params: PiecePath,
      headers: WriteHeaders,
      body: PieceDecisionCreate,
      response: {
        201: answer("The decision, and what is still on hold", DecisionsAnswer),
        ...problems(faults),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const { batch_id, piece } = request.params;
        const pieces = [{ from_piece: piece, to_piece: piece }];
        const pointers = { pieces: () => "piece" };
        return { status: 201, body: await decide(trx, batch_id, { ...request.body, pieces }, pointers) };
      }),
  });

  app.post("/batches/:batch_id/decisions", {
    schema: {
      operationId: "decidePieces",
      summary: "Enter what is to become of ranges of pieces, and who decided it",
      tags: ["holds"],
      params: BatchPath,
      headers: WriteHeaders,
      body: PieceDecisionsCreate,
      response: {
        201: answer("The decisions, and what is still on hold", DecisionsAnswer),
        ...problems(faults),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const pointers = { pieces: (index: number) => `/pieces/${index}/to_piece` };
        return { status: 201, body: await decide(trx, request.params.batch_id, request.body, pointers) };
      }),
  });

  app.get("/batches/:batch_id/decisions", {
    schema: {
      operationId: "listDecisions",
      summary: "List the decisions about pieces of a batch, voided ones among them",
      tags: ["holds"],
      params: BatchPath,
      querystring: DecisionQuery,
      response: {
        200: answer("Decisions in the order they were entered", DecisionList),
        ...problems({ 404: "There is no such batch" }),
      },
    },
    handler: async ({ params, query }) => {
      const { batch_id: batchId } = await find(db, params.batch_id);
      const [after = "0"] = readCursor(query.cursor, 1);
      const rows = await listDecisions(db, { batchId, after, limit: query.limit + 1 });
      return toPage(rows, query.limit, ({ decision_id }) => [decision_id], showDecision);
    },
  });

  app.post("/batches/:batch_id/decisions/:decision_id/void", {
    schema: {
      operationId: "voidDecision",
      summary: "Take back a decision about pieces",
      tags: ["holds"],
      params: DecisionPath,
      headers: WriteHeaders,
      body: VoidCreate,
      response: {
        200: answer("The decision as it is kept now, and what is on hold without it", DecisionsAnswer),
        ...problems({
          404: "There is no such decision",
          409: "It is voided already, or the same request is still being worked on",
          422: "The Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const { batch_id, decision_id } = request.params;
        const { reason, by = null } = request.body;
        await lockBatches(trx, [batch_id]);
        const found = await findDecision(trx, batch_id, decision_id);
        if (!found) {
          throw new ProblemError(
            "not-found",
            `Batch ${batch_id} has no decision ${decision_id}. GET /v1/batches/${batch_id}/decisions lists them.`,
          );
        }
        if (found.voided_at !== null) {
          throw new ProblemError(
            "conflict",
            `Decision ${decision_id} was voided at ${found.voided_at} already (${found.void_reason}).`,
          );
        }
        const row = await voidDecision(trx, decision_id, { reason, by });
        return { status: 200, body: await toAnswer(trx, await find(trx, batch_id), [row]) };
      }),
  });
}

async function find(db: Db, batchId: string): Promise<BatchRow> {
  const batch = await findBatch(db, batchId);
  if (!batch)
    throw new ProblemError("not-found", `There is no batch ${batchId}: GET /v1/batches lists them.`);
  return batch;
}

async function decide(
  trx: Trx,
  batchId: string,
  body: PieceDecisionsCreate,
  pointers: { pieces: (index: number) => string },
) {
  // Locked, so that it is certain which readings were known.
  await lockBatches(trx, [batchId]);
  const batch = await find(trx, batchId);
  const { decision, authority, nonconformance, note, by, decided_at } = body;
  const uncut = body.pieces.flatMap(({ to_piece }, index) =>
    to_piece <= batch.last_piece_cut
      ? []
      : [
          {
            pointer: pointers.pieces(index),
            detail: `piece ${to_piece} of batch "${batch.name}" is not known to be cut; the last one is ${batch.last_piece_cut}: check the number, or post the count first`,
          },
        ],
  );
  if (uncut.length > 0) throw problemAt("unprocessable", uncut);
  refuseAhead(decided_at);
  const again =
    decision === "rework" ? await featuresToMeasure(trx, batch, body.pieces, body.measure_again) : null;
  const rows = await insertDecisions(
    trx,
    body.pieces.map(({ from_piece, to_piece }) => ({
      batch_id: batchId,
      from_piece,
      to_piece,
      decision,
      authority: authority ?? null,
      nonconformance: nonconformance ?? null,
      note: note ?? null,
      measure_again: again,
      known_readings: batch.reading_count,
      decided_at: decided_at ?? new Date().toISOString(),
      by_name: by ?? null,
    })),
  );
  return toAnswer(trx, batch, rows);
}

function refuseAhead(decidedAt: string | undefined): void {
  if (decidedAt === undefined || Date.parse(decidedAt) <= Date.now() + 60_000) return;
  throw problemAt("unprocessable", [
    { pointer: "/decided_at", detail: "lies ahead: check the date and the offset from UTC" },
  ]);
}

/** What has to be measured again after a rework: all features of the batch, unless somebody names the ones concerned. */
async function featuresToMeasure(
  trx: Trx,
  batch: BatchRow,
  pieces: readonly Range[],
  named: readonly string[] | undefined,
): Promise<string[]> {
  const features = await listFeatures(trx, batch.part_id, batch.operation);
  if (named === undefined) return features.map(({ feature_id }) => feature_id);
  const unknown = named.flatMap((id, index) =>
    features.some(({ feature_id }) => feature_id === id)
      ? []
      : [{ pointer: `/measure_again/${index}`, detail: `batch "${batch.name}" has no feature ${id}` }],
  );
  if (unknown.length > 0) throw problemAt("unprocessable", unknown);
  const failed = await listFailedFeatures(trx, batch.batch_id, pieces);
  const left = features.filter(
    ({ feature_id }) => failed.includes(feature_id) && !named.includes(feature_id),
  );
  if (left.length > 0) {
    throw problemAt("unprocessable", [
      {
        pointer: "/measure_again",
        detail: `characteristic ${left.map(({ characteristic }) => characteristic).join(", ")} failed on these pieces and has to be measured again: add ${left.map(({ feature_id }) => feature_id).join(", ")}`,
      },
    ]);
  }
  return [...new Set(named)];
}

async function toAnswer(trx: Trx, batch: BatchRow, rows: readonly DecisionRow[]) {
  const { batch_id: batchId, last_piece_cut: lastPieceCut, seats } = batch;
  const { onHold } = await loadContainment(trx, { batchId, lastPieceCut, seats });
  return {
    decisions: rows.map(showDecision),
    pieces_on_hold: countPieces(onHold),
    on_hold: showRanges(onHold),
  };
}
