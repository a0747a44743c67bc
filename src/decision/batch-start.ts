import { advance } from "../core/wear-offset/estimate.js";
import { copyProgress, takeJournal } from "../core/wear-offset/progress.js";
import type { Db } from "../db/client.js";
import type { BatchStart, CarriedEdge, RegisterStart } from "../db/schema.js";
import { listLatestBatches } from "./batch-queries.js";
import type { BatchView } from "./batch-view.js";
import { loadBatchViews } from "./batch-work.js";
import { edgesOfTools, latestEdges, summarizeLife } from "./edge-life.js";
import { listLivesOf } from "./edge-queries.js";
import { listCurrentEdges, listCurrentValues, listEdgeUse } from "./register-queries.js";

/**
 * What the tools and registers of a machine bring into a new batch: the edge in use and how much it has cut, how long earlier ones lasted, the value
 * each register holds, what earlier edges taught, and how far the running one has worn.
 */
export async function batchStart(db: Db, machineId: string, partId: string): Promise<BatchStart> {
  const [edges, values, use, latest] = await Promise.all([
    listCurrentEdges(db, machineId),
    listCurrentValues(db, machineId),
    listEdgeUse(db, machineId),
    listLatestBatches(db, machineId, partId),
  ]);
  const views = await loadBatchViews(db, latest);
  views.sort((a, b) => Number(b.batchId) - Number(a.batchId));
  const toolIds = edges.map((edge) => edge.tool_id);
  const lived = edgesOfTools(await listLivesOf(db, toolIds, latestEdges), use);
  const start: BatchStart = { tools: {}, registers: {} };
  for (const edge of edges) {
    const cut = use.filter((row) => row.edge_id === edge.edge_id).reduce((sum, row) => sum + row.pieces, 0);
    const { advised_life } = summarizeLife(lived.get(edge.tool_id) ?? [], null);
    start.tools[edge.tool_id] = {
      edge_id: edge.edge_id,
      edge_number: edge.number,
      pieces_cut: cut,
      ...(advised_life !== null && { advised_life }),
    };
  }
  for (const { register_id, tool_id, value_mm } of values) {
    const edgeId = tool_id === null ? undefined : start.tools[tool_id]?.edge_id;
    start.registers[register_id] = {
      value_mm,
      memory: memoryOf(views, register_id, partId),
      carried: carriedBy(views, register_id, partId, edgeId),
    };
  }
  return start;
}

function find(view: BatchView, registerId: string) {
  for (const blockView of view.blocks) {
    const r = blockView.block.registers.findIndex((register) => register.registerId === registerId);
    if (r >= 0) return { blockView, r };
  }
  return undefined;
}

function memoryOf(views: readonly BatchView[], registerId: string, partId: string): RegisterStart["memory"] {
  for (const view of views) {
    const found = view.part.partId === partId ? find(view, registerId) : undefined;
    if (found) return found.blockView.cache.after.registers[found.r]!.memory;
  }
  return { levels: [], rates: [] };
}

/** Level and rate that the running edge has reached in the batch that used it last. */
function carriedBy(
  views: readonly BatchView[],
  registerId: string,
  partId: string,
  edgeId: string | undefined,
): CarriedEdge | null {
  for (const view of views) {
    const found = find(view, registerId);
    if (!found) continue;
    const { blockView, r } = found;
    const { block, journal, cache } = blockView;
    const toolId = block.tools[block.registers[r]!.tool]!.toolId;
    const progress = copyProgress(cache.after);
    takeJournal(block, journal, progress, view.lastPieceCut + 1);
    advance(block, progress.estimate, view.lastPieceCut);
    if (progress.registers[r]!.usedSinceEdge === 0 && journal.start[r]!.carried === undefined) return null;
    const freshHere = journal.events.some(
      (event) => event.kind === "fresh_edge" && event.tool === block.registers[r]!.tool,
    );
    if (!freshHere && view.start.tools[toolId]?.edge_id !== edgeId) return null;
    const size = progress.estimate.mean.length;
    const v = block.registers.length + r;
    const { mean, covariance } = progress.estimate;
    return {
      level_mm: mean[r]!,
      rate_mm: mean[v]!,
      level_variance: covariance[r * size + r]!,
      covariance: covariance[r * size + v]!,
      rate_variance: covariance[v * size + v]!,
      same_part: view.part.partId === partId,
    };
  }
  return null;
}
