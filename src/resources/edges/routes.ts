import { fromNumeric, toUnit } from "../../core/quantity.js";
import type { Db, Trx } from "../../db/client.js";
import { listOpenBatches, lockBatches, lockMachineRow } from "../../decision/batch-queries.js";
import { summarizeLife } from "../../decision/edge-life.js";
import { type EdgeSpan, listEdgeSpans } from "../../decision/edge-queries.js";
import { enterEdge } from "../../decision/enter-edge.js";
import { nextStep } from "../../decision/next-step.js";
import { earliestPieces } from "../../decision/open-change.js";
import { replan } from "../../decision/replan.js";
import { WriteHeaders, write } from "../../http/idempotency.js";
import { showVoided, VoidCreate } from "../../http/journal.js";
import { readCursor, toPage } from "../../http/pagination.js";
import { answer, ProblemError, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import {
  type EdgeEnds,
  findCurrentEdge,
  findEdge,
  findTool,
  listEdges,
  listEdgeValues,
  listEnds,
  listLives,
  listPlaces,
  voidEdge,
} from "./queries.js";
import {
  type Edge,
  EdgeAnswer,
  EdgeCreate,
  EdgeLife,
  EdgeList,
  type EdgeListed,
  EdgePath,
  EdgeQuery,
  EdgesPath,
  EdgeVoided,
  type EndReason,
} from "./schemas.js";

const mostLives = 500;

type ToolRow = NonNullable<Awaited<ReturnType<typeof findTool>>>;
type EdgeRow = NonNullable<Awaited<ReturnType<typeof findEdge>>>;
type PlaceRow = Awaited<ReturnType<typeof listPlaces>>[number];

export async function edgeRoutes(app: App, { db }: { db: Db }) {
  app.post("/tools/:tool_id/edges", {
    schema: {
      operationId: "createEdge",
      summary: "Enter a fresh edge of a tool",
      description:
        "It counts in the batch named from the piece named on, and in the machine's other open batches too. Advice to change the tool is settled by it.",
      tags: ["edges"],
      params: EdgesPath,
      headers: WriteHeaders,
      body: EdgeCreate,
      response: {
        201: answer("The edge as it is kept, and what to do next", EdgeAnswer),
        ...problems({
          404: "There is no such tool",
          409: "The batch is closed, a later edge is entered already, or the same request is still being worked on",
          422: "A register of the tool is missing or one of another tool is named, the batch does not run on the tool's machine, or the piece is beyond it; or the Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const tool = await findToolOrRefuse(trx, request.params.tool_id);
        return { status: 201, body: await createEdge(trx, tool, request.body) };
      }),
  });

  app.get("/tools/:tool_id/edges", {
    schema: {
      operationId: "listEdges",
      summary: "List the edges of a tool, voided ones among them",
      tags: ["edges"],
      params: EdgesPath,
      querystring: EdgeQuery,
      response: {
        200: answer("Edges, oldest first", EdgeList),
        ...problems({ 404: "There is no such tool" }),
      },
    },
    handler: async ({ params, query }) => {
      const tool = await findToolOrRefuse(db, params.tool_id);
      const toolId = tool.tool_id;
      const [after = "0"] = readCursor(query.cursor, 1);
      const edges = await listEdges(db, { toolId, after, limit: query.limit + 1 });
      const ids = edges.slice(0, query.limit).map(({ edge_id }) => edge_id);
      const show = await describeEdges(db, tool, ids);
      return toPage(edges, query.limit, ({ edge_id }) => [edge_id], show);
    },
  });

  app.get("/tools/:tool_id/edge-life", {
    schema: {
      operationId: "getEdgeLife",
      summary: "How long the edges of a tool last, by reason, and what life to plan with",
      tags: ["edges"],
      params: EdgesPath,
      response: {
        200: answer("How long its edges last", EdgeLife),
        ...problems({ 404: "There is no such tool" }),
      },
    },
    handler: async ({ params }) => {
      const tool = await findToolOrRefuse(db, params.tool_id);
      const lives = await listLives(db, tool.tool_id, mostLives);
      const spans = await listEdgeSpans(
        db,
        tool,
        lives.map(({ edge_id }) => edge_id),
      );
      const edges = lives.map(({ edge_id, ended_by }) => ({
        pieces: piecesOf(spans, edge_id),
        endedBy: endReason(ended_by),
      }));
      return {
        tool_id: tool.tool_id,
        planned_life: tool.life_pieces,
        pieces_cut_in_use: edges.find(({ endedBy }) => endedBy === null)?.pieces ?? 0,
        ...summarizeLife(edges, tool.life_pieces),
      };
    },
  });

  app.post("/tools/:tool_id/edges/:edge_id/void", {
    schema: {
      operationId: "voidEdge",
      summary: "Take an edge of a tool out of all that is decided",
      description:
        "The register values that were keyed with it are voided too. Only the latest edge can be voided.",
      tags: ["edges"],
      params: EdgePath,
      headers: WriteHeaders,
      body: VoidCreate,
      response: {
        200: answer("The edge as it is kept now, and what to do next", EdgeVoided),
        ...problems({
          404: "There is no such tool, or no such edge of it",
          409: "It is voided already, is the first or not the latest, or the same request is still being worked on",
          422: "The Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const tool = await findToolOrRefuse(trx, request.params.tool_id);
        const { reason, by = null } = request.body;
        const body = await removeEdge(trx, tool, request.params.edge_id, { reason, by });
        return { status: 200, body };
      }),
  });
}

/** How each edge of a page is shown, with where it has cut and what was corrected meanwhile. */
async function describeEdges(db: Db, tool: ToolRow, ids: readonly string[]) {
  if (ids.length === 0) return (edge: EdgeRow) => toListed(edge, tool, [], [], [], []);
  const [places, spans, ends] = await Promise.all([
    listPlaces(db, ids),
    listEdgeSpans(db, tool, ids),
    listEnds(db, tool.tool_id, ids),
  ]);
  const used = ids.flatMap((edgeId): EdgeEnds[] => {
    const mine = spans.filter((span) => span.edge_id === edgeId);
    const [first, last] = [mine[0], mine.at(-1)];
    if (!first || !last) return [];
    return [
      {
        edgeId,
        first: { batchId: first.batch_id, piece: first.from_piece },
        last: { batchId: last.batch_id, piece: last.to_piece },
      },
    ];
  });
  const values = await listEdgeValues(db, tool.tool_id, used);
  return (edge: EdgeRow) => toListed(edge, tool, places, spans, ends, values);
}

/** Only a tool's first edge is there from the start, and that one ends none. */
function endReason(reason: EdgeRow["reason"] | null): EndReason | null {
  return reason === "start" ? null : reason;
}

function piecesOf(spans: readonly EdgeSpan[], edgeId: string): number {
  return spans
    .filter((span) => span.edge_id === edgeId)
    .reduce((sum, { from_piece, to_piece }) => sum + to_piece - from_piece + 1, 0);
}

function toListed(
  edge: EdgeRow,
  { unit }: ToolRow,
  places: readonly PlaceRow[],
  spans: readonly EdgeSpan[],
  ends: Awaited<ReturnType<typeof listEnds>>,
  values: Awaited<ReturnType<typeof listEdgeValues>>,
): EdgeListed {
  const end = ends.find(({ edge_id }) => edge_id === edge.edge_id);
  const pieces = piecesOf(spans, edge.edge_id);
  return {
    ...toEdge(edge, places),
    in_use: !end && edge.voided_at === null,
    ended_by: endReason(end?.ended_by ?? null),
    ended_at: end?.ended_at ?? null,
    pieces_cut: pieces,
    unit,
    registers: values
      .filter(({ edge_id }) => edge_id === edge.edge_id)
      .map((row) => {
        const startPm = fromNumeric(row.value_at_start_mm);
        const endPm = fromNumeric(row.value_at_end_mm);
        return {
          register_id: row.register_id,
          label: row.label,
          value_at_start: toUnit(startPm, unit),
          value_at_end: toUnit(endPm, unit),
          cumulative_change: toUnit(endPm - startPm, unit),
          change_per_piece:
            pieces < 2 ? null : Number((toUnit(endPm - startPm, unit) / pieces).toPrecision(4)),
        };
      }),
  };
}

async function createEdge(trx: Trx, tool: ToolRow, body: EdgeCreate): Promise<EdgeAnswer> {
  const { edge, at, elsewhere, values, after: replanned } = await enterEdge(trx, tool, body);
  const { view: after, open } = replanned;
  return {
    edge_id: edge.edge_id,
    tool_id: tool.tool_id,
    number: edge.number,
    reason: body.reason,
    batch_id: at.batchId,
    from_piece: at.fromPiece,
    registers: values.map(({ registerId, valuePm }) => ({
      register_id: registerId,
      value: toUnit(valuePm, tool.unit),
    })),
    unit: tool.unit,
    also_in: elsewhere.map(({ batchId, fromPiece }) => ({ batch_id: batchId, from_piece: fromPiece })),
    next: nextStep(after, open, after.lastPieceCut, []),
  };
}

async function removeEdge(
  trx: Trx,
  tool: ToolRow,
  edgeId: string,
  about: { reason: string; by: string | null },
): Promise<EdgeVoided> {
  await lockMachineRow(trx, tool.machine_id);
  const places = await listPlaces(trx, [edgeId]);
  const from = earliestPieces(places);
  const open = await listOpenBatches(trx, tool.machine_id);
  const batchIds = [...new Set([...open, ...from.keys()])];
  if (batchIds.length > 0) await lockBatches(trx, batchIds);
  await refuseVoid(trx, tool, await findEdgeOrRefuse(trx, tool.tool_id, edgeId));
  await voidEdge(trx, edgeId, about);
  const replanned = await replan(trx, from);
  const edge = await findEdgeOrRefuse(trx, tool.tool_id, edgeId);
  return {
    ...toEdge(edge, places),
    next: [...replanned].map(([batch_id, { view, open }]) => ({
      batch_id,
      next: nextStep(view, open, view.lastPieceCut, []),
    })),
  };
}

async function refuseVoid(trx: Trx, tool: ToolRow, edge: EdgeRow): Promise<void> {
  const refuse = (detail: string) =>
    new ProblemError("conflict", `Edge ${edge.number} of tool ${tool.number} ${tool.name} ${detail}.`);
  if (edge.voided_at !== null) throw refuse(`was voided at ${edge.voided_at} already (${edge.void_reason})`);
  if (edge.number === 1) throw refuse("is the one it was set up with: enter a fresh edge instead");
  const current = await findCurrentEdge(trx, tool.tool_id);
  if (current && current.edge_id !== edge.edge_id) {
    throw refuse(`is not the latest: void edge ${current.number} (edge_id ${current.edge_id}) first`);
  }
}

async function findToolOrRefuse(db: Db, toolId: string): Promise<ToolRow> {
  const tool = await findTool(db, toolId);
  if (!tool) throw new ProblemError("not-found", `There is no tool ${toolId}. GET /v1/tools lists them.`);
  return tool;
}

async function findEdgeOrRefuse(db: Db, toolId: string, edgeId: string): Promise<EdgeRow> {
  const edge = await findEdge(db, toolId, edgeId);
  if (edge) return edge;
  throw new ProblemError(
    "not-found",
    `Tool ${toolId} has no edge ${edgeId}. GET /v1/tools/${toolId}/edges lists them.`,
  );
}

function toEdge(row: EdgeRow, places: readonly PlaceRow[]): Edge {
  return {
    edge_id: row.edge_id,
    tool_id: row.tool_id,
    number: row.number,
    reason: row.reason,
    in_batches: places
      .filter(({ edge_id }) => edge_id === row.edge_id)
      .map(({ batch_id, from_piece }) => ({ batch_id, from_piece })),
    by: row.by_name,
    created_at: row.created_at,
    voided: showVoided(row),
  };
}
