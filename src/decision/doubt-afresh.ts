import type { Trx } from "../db/client.js";
import { deleteBlockStates, raiseVersions } from "./batch-queries.js";
import { findDoubted, listMachinesOfBatches, updateDoubts } from "./gauge-check-queries.js";
import { listGaugeAdvice, settleGaugeAdvice } from "./gauge-queries.js";
import { lockMachinesOf } from "./register-entries.js";
import { replan } from "./replan.js";

/**
 * After a check has been entered or voided: which readings its gauge leaves in doubt is worked out afresh between the
 * checks before and after it, and so are the open batches with such readings; states of closed ones are followed afresh when
 * they are asked for.
 * @param entered true: it answers advice to have the gauge checked
 */
export async function doubtAfresh(
  trx: Trx,
  gaugeId: string,
  checkedAt: string,
  entered = false,
): Promise<void> {
  const touched = await findDoubted(trx, gaugeId, checkedAt);
  const asking = entered ? await listGaugeAdvice(trx, gaugeId) : [];
  const batchIds = [...new Set([...touched.map((row) => row.batch_id), ...asking])];
  if (batchIds.length === 0) return;
  await lockMachinesOf(trx, await listMachinesOfBatches(trx, batchIds));
  if (asking.length > 0) {
    await settleGaugeAdvice(trx, gaugeId, asking);
    await raiseVersions(trx, asking);
  }
  if (touched.length === 0) return;
  await updateDoubts(trx, gaugeId, checkedAt);
  const closed = touched.filter((row) => row.closed_at !== null).map((row) => row.batch_id);
  if (closed.length > 0) await deleteBlockStates(trx, closed);
  const open = touched.filter((row) => row.closed_at === null);
  if (open.length > 0) await replan(trx, new Map(open.map((row) => [row.batch_id, row.first_piece])));
}
