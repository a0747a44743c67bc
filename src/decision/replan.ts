import type { Trx } from "../db/client.js";
import type { Advice } from "./advice-base.js";
import { deleteBlockStates, listBatchesOfPart, lockBatches, raiseVersions } from "./batch-queries.js";
import type { BatchView } from "./batch-view.js";
import { BatchWork, emptyWrite, loadBatchViews } from "./batch-work.js";
import type { CorrectionRow } from "./correction-row.js";
import { listOpenCorrections, writeDecision } from "./queries.js";

export interface Replanned {
  view: BatchView;
  open: CorrectionRow[];
  quiet: Advice[];
}

/**
 * After something other than a reading has changed in batches that the transaction holds locked: works their blocks out
 * afresh from the piece given and brings the advice in line. Where several want to change one register, the first of the
 * batches given has its way.
 */
export async function replan(
  trx: Trx,
  fromPieces: ReadonlyMap<string, number>,
): Promise<Map<string, Replanned>> {
  const batchIds = [...fromPieces.keys()];
  const loaded = await loadBatchViews(trx, batchIds);
  const views = batchIds.flatMap((id) => loaded.find((view) => view.batchId === id) ?? []);
  const open = await listOpenCorrections(trx, batchIds);
  const write = emptyWrite();
  const works: BatchWork[] = [];
  const answers = new Map<string, Replanned>();
  for (const view of views) {
    const work = new BatchWork(
      trx,
      view,
      open.filter((row) => row.batch_id === view.batchId),
    );
    const fromPiece = fromPieces.get(view.batchId)!;
    for (const [blockNo, { cache }] of view.blocks.entries()) {
      if (fromPiece <= cache.piece) await work.refollow(blockNo, fromPiece);
    }
    works.push(work);
  }
  const proposed = new Set<string>();
  for (const work of works) {
    const { quiet, standing } = work.advise(work.view.blocks.keys());
    work.withdrawChanges(proposed);
    for (const row of standing) if (row.kind === "change") proposed.add(row.register_id!);
    answers.set(work.view.batchId, { view: work.view, open: work.corrections, quiet });
  }
  for (const work of works) work.collect(write);
  if (!(await writeDecision(trx, write))) throw new Error("a batch changed under its lock");
  return answers;
}

/**
 * After a part's features have changed: every open batch of it is worked out from its first piece. What was learned in
 * closed ones is forgotten, since it may be of other blocks; it is followed afresh when it is asked for.
 */
export async function replanPart(trx: Trx, partId: string): Promise<void> {
  const batches = await listBatchesOfPart(trx, partId);
  if (batches.length === 0) return;
  const batchIds = batches.map((batch) => batch.batch_id);
  await lockBatches(trx, batchIds);
  await deleteBlockStates(trx, batchIds);
  const open = batches.filter((batch) => batch.closed_at === null).map((batch) => batch.batch_id);
  if (open.length > 0) await replan(trx, new Map(open.map((id) => [id, 1])));
}

/** After something of a part has changed that counts for readings to come only: what is kept of its open batches is stale. */
export async function refreshPart(trx: Trx, partId: string): Promise<void> {
  const batches = await listBatchesOfPart(trx, partId);
  const open = batches.filter((batch) => batch.closed_at === null).map((batch) => batch.batch_id);
  if (open.length === 0) return;
  await lockBatches(trx, open);
  await raiseVersions(trx, open);
}
