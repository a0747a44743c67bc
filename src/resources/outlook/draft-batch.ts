import type { Db } from "../../db/client.js";
import { loadRowsOf } from "../../decision/batch-queries.js";
import { batchStart } from "../../decision/batch-start.js";
import { type BatchView, buildBatchView } from "../../decision/batch-view.js";
import { readCache } from "../../decision/block-cache.js";

/** A batch as it would be opened now, without opening it. */
export async function draftBatch(
  db: Db,
  about: { partId: string; machineId: string; quantity: number; operation: string | undefined },
): Promise<BatchView> {
  const draft = {
    batch_id: "0", // no batch has it
    name: "draft",
    part_id: about.partId,
    machine_id: about.machineId,
    operation: about.operation ?? null,
    quantity: about.quantity,
    version: 0,
    reading_count: 0,
    correction_count: 0,
    last_piece_cut: 0,
    counted_piece: 0,
    seats: [],
    start: await batchStart(db, about.machineId, about.partId),
    created_at: new Date().toISOString(),
    closed_at: null,
    closed_by: null,
  };
  const [rows] = await loadRowsOf(db, [draft]);
  return buildBatchView(rows!, readCache);
}
