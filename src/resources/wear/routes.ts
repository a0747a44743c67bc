import { fromNumeric, toUnit } from "../../core/quantity.js";
import type { Db } from "../../db/client.js";
import { loadBatchViews } from "../../decision/batch-work.js";
import { listEdgeSpans } from "../../decision/edge-queries.js";
import { forecastOf, learnedOf } from "../../decision/learned-register.js";
import { listCurrentEdges, listCurrentValues, listEdgeUse } from "../../decision/queries.js";
import { answer, ProblemError, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { EdgeOffsets, EdgeOffsetsPath } from "./edge-schemas.js";
import {
  type EntryRow,
  findEdge,
  findLatestBatch,
  findTool,
  listEntries,
  listHeld,
  listRegisters,
} from "./queries.js";
import { Wear, WearPath, WearQuery } from "./schemas.js";

const mostEntries = 100;
const mostChanges = 500;
const noEnd = 2_147_483_647;

export async function wearRoutes(app: App, { db }: { db: Db }) {
  app.get("/tools/:tool_id/wear", {
    schema: {
      operationId: "getWear",
      summary: "What a tool's registers hold, how fast it wears and where a fresh edge should start",
      tags: ["wear"],
      params: WearPath,
      querystring: WearQuery,
      response: {
        200: answer("Wear of the tool", Wear),
        ...problems({ 404: "There is no such tool or batch, or the tool does not work in that batch" }),
      },
    },
    handler: async ({ params, query }) => {
      const tool = await findTool(db, params.tool_id);
      if (!tool)
        throw new ProblemError("not-found", `There is no tool ${params.tool_id}: GET /v1/tools lists them.`);
      const batchId = query.batch_id ?? (await findLatestBatch(db, tool.tool_id));
      const [view] = batchId === undefined ? [] : await loadBatchViews(db, [batchId]);
      if (query.batch_id !== undefined && !view?.tools.has(tool.tool_id)) {
        throw new ProblemError(
          "not-found",
          `There is no batch ${query.batch_id} on the machine of this tool.`,
        );
      }
      const registers = await listRegisters(db, tool.tool_id);
      const [edges, use, values, entries] = await Promise.all([
        listCurrentEdges(db, tool.machine_id),
        listEdgeUse(db, tool.machine_id),
        listCurrentValues(db, tool.machine_id),
        listEntries(
          db,
          registers.map((row) => row.register_id),
          mostEntries,
        ),
      ]);
      const edge = edges.find((row) => row.tool_id === tool.tool_id)!;
      const pieces = use
        .filter((row) => row.edge_id === edge.edge_id)
        .reduce((sum, row) => sum + row.pieces, 0);
      const show = (pm: number) => toUnit(pm, tool.unit);
      return {
        tool_id: tool.tool_id,
        batch_id: view?.batchId ?? null,
        edge: { edge_id: edge.edge_id, number: edge.number, reason: edge.reason, pieces_cut: pieces },
        registers: registers.map((row) => {
          const held = values.find((value) => value.register_id === row.register_id)!;
          const learned = view && learnedOf(view, row.register_id);
          const mine = entries.filter((entry) => entry.register_id === row.register_id);
          const valueNow = learned?.valueNowPm ?? fromNumeric(held.value_mm);
          return {
            register_id: row.register_id,
            number: row.number,
            label: row.label,
            unit: tool.unit,
            value_now: show(valueNow),
            cumulative_change: show(valueNow - (learned?.valueAtEdgePm ?? fromNumeric(row.start_value_mm))),
            wear_rate_per_piece:
              learned?.rateMm === undefined ? null : Number(show(-learned.rateMm * 1e9).toFixed(7)) + 0,
            pieces_to_limit: learned?.piecesToLimit ?? null,
            proposed_start: learned ? show(learned.proposedStartPm) : null,
            safe_start: learned ? show(learned.safeStartPm) : null,
            entries: mine.map((entry) => showEntry(entry, show)),
          };
        }),
      };
    },
  });

  app.get("/tools/:tool_id/edges/:edge_id/offsets", {
    schema: {
      operationId: "getEdgeOffsets",
      summary: "What a tool's offsets held over the pieces of one edge, and what wear will ask of them",
      description:
        "Values by the pieces that the edge had cut, over all its batches one after the other. Of each batch the latest 500 entries of a register.",
      tags: ["wear"],
      params: EdgeOffsetsPath,
      response: {
        200: answer("Offsets over the edge's pieces", EdgeOffsets),
        ...problems({ 404: "There is no such tool, or no such edge of it that counts" }),
      },
    },
    handler: async ({ params }) => {
      const { tool_id, edge_id } = params;
      const edge = await findEdge(db, tool_id, edge_id);
      if (!edge)
        throw new ProblemError(
          "not-found",
          `Tool ${tool_id} has no edge ${edge_id} that counts. GET /v1/tools/${tool_id}/edges lists them.`,
        );
      return showEdgeOffsets(db, edge);
    },
  });
}

async function showEdgeOffsets(db: Db, edge: NonNullable<Awaited<ReturnType<typeof findEdge>>>) {
  const { tool_id: toolId, unit } = edge;
  const [spans, registers] = await Promise.all([
    listEdgeSpans(db, edge, [edge.edge_id]),
    listRegisters(db, toolId),
  ]);
  let pieces = 0;
  const batches = spans.map(({ batch_id, batch, from_piece, to_piece }) => {
    const before = pieces;
    pieces += to_piece - from_piece + 1;
    return { batch_id, batch, from_piece, to_piece, pieces_cut: before };
  });
  const latest = edge.in_use ? await findLatestBatch(db, toolId) : undefined;
  const last = batches.find(({ batch_id }) => batch_id === latest);
  const [held, [view]] = await Promise.all([
    listHeld(
      db,
      toolId,
      batches.map(({ batch_id, from_piece, to_piece }) => ({
        batchId: batch_id,
        from: from_piece,
        // What was keyed for pieces to come of the edge in use counts for it.
        until: edge.in_use ? noEnd : to_piece,
      })),
      mostChanges,
    ),
    last ? loadBatchViews(db, [last.batch_id]) : [],
  ]);
  const show = (pm: number) => toUnit(pm, unit);
  const end = (pm: number | undefined) => (pm === undefined ? null : show(pm));
  return {
    tool_id: toolId,
    edge_id: edge.edge_id,
    number: edge.number,
    reason: edge.reason,
    in_use: edge.in_use,
    pieces_cut: pieces,
    planned_life: edge.life_pieces,
    unit,
    batches,
    registers: registers.map(({ register_id, number, label }) => {
      const forecast = view && forecastOf(view, register_id);
      return {
        register_id,
        number,
        label,
        values: held
          .filter((row) => row.register_id === register_id)
          .map((row) => {
            const { batch_id, from_piece, from_cut, reason, created_at: at, by_name: by } = row;
            const span = batches.find((one) => one.batch_id === batch_id)!;
            return {
              batch_id,
              from_piece,
              from_cut,
              pieces_cut: span.pieces_cut + from_piece - span.from_piece,
              value: show(fromNumeric(row.value_mm)),
              reason,
              correction_id: row.correction_no === null ? null : `${batch_id}-${row.correction_no}`,
              by,
              at,
            };
          }),
        forecast: forecast
          ? {
              batch_id: last!.batch_id,
              value_now: show(forecast.valueNowPm),
              rate_per_piece: Number(show(-forecast.rateMm * 1e9).toFixed(7)) + 0,
              ahead: forecast.ahead.map(
                ({ step, piece, aimedPm, lowPm, highPm, limitLowPm, limitHighPm }) => ({
                  piece,
                  pieces_cut: pieces + step,
                  aimed: show(aimedPm),
                  low: show(lowPm),
                  high: show(highPm),
                  limit_low: end(limitLowPm),
                  limit_high: end(limitHighPm),
                }),
              ),
            }
          : null,
      };
    }),
  };
}

function showEntry(entry: EntryRow, show: (pm: number) => number) {
  return {
    at: entry.created_at,
    batch_id: entry.batch_id,
    from_piece: entry.from_piece,
    from_cut: entry.from_cut,
    change: show(fromNumeric(entry.change_mm)),
    value: show(fromNumeric(entry.value_mm)),
    reason: entry.reason,
    correction_id: entry.correction_no === null ? null : `${entry.batch_id}-${entry.correction_no}`,
    by: entry.by_name,
  };
}
