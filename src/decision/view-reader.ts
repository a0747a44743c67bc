import type { Db } from "../db/client.js";
import { findVersion } from "./batch-queries.js";
import type { BatchView } from "./batch-view.js";
import { loadBatchViews } from "./batch-work.js";

const mostKept = 200;

/**
 * Batches for questions that change nothing. What was loaded before is kept for as long as the batch has the version that
 * it had then; whoever decides something has views of its own.
 */
export class ViewReader {
  private readonly kept = new Map<string, BatchView>();

  constructor(private readonly db: Db) {}

  /** The batch as it stands in `db`, or undefined where there is none. Nothing of it may be changed. */
  async read(batchId: string, db: Db = this.db): Promise<BatchView | undefined> {
    const version = await findVersion(db, batchId);
    const known = this.kept.get(batchId);
    this.kept.delete(batchId);
    if (version === undefined) return undefined;
    const view = known?.version === version ? known : (await loadBatchViews(db, [batchId]))[0];
    if (view) this.kept.set(batchId, view);
    if (this.kept.size > mostKept) this.kept.delete(this.kept.keys().next().value!);
    return view;
  }
}
