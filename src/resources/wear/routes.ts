import { fromNumeric, toUnit } from "../../core/quantity.js";
import type { Db } from "../../db/client.js";
import { loadBatchViews } from "../../decision/batch-work.js";
import { learnedOf } from "../../decision/learned-register.js";
import { listCurrentEdges, listCurrentValues, listEdgeUse } from "../../decision/register-queries.js";
import { answer, ProblemError, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { type EntryRow, findLatestBatch, findTool, listEntries, listRegisters } from "./queries.js";
import { Wear, WearPath, WearQuery } from "./schemas.js";

const mostEntries = 100;

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
