import type { Trx } from "../db/client.js";
import { type FieldError, ProblemError, problemAt } from "../http/problem.js";
import { findBatchIds } from "./batch-queries.js";
import type { BatchView } from "./batch-view.js";
import { loadBatchViews } from "./batch-work.js";
import { type EntryElsewhere, type EntryInBatch, lockMachine } from "./register-entries.js";

/** What a person says about a change at the machine: in which batch, from which piece, and where else it counts. */
export interface ChangeRequest {
  batch_id: string;
  from_piece?: number | undefined;
  from_cut?: number | undefined;
  also_from?: { batch_id: string; from_piece: number }[] | undefined;
}

export interface OpenChange {
  /** The batch it is entered in, as it stands before. */
  view: BatchView;
  at: EntryInBatch;
  /** Where it counts in the machine's other open batches. */
  elsewhere: EntryElsewhere[];
  /** From which piece each of these batches has to be worked out afresh. */
  from: Map<string, number>;
}

/** Locks the open batches of a machine for a change made in one of them, and refuses what cannot be. */
export async function openChange(
  trx: Trx,
  machine: { machine_id: string; machine_name: string },
  change: ChangeRequest,
): Promise<OpenChange> {
  const { batch_id: batchId, from_piece, from_cut = 1, also_from } = change;
  const refuse = (detail: string) => problemAt("unprocessable", [{ pointer: "/batch_id", detail }]);
  const batch = (await findBatchIds(trx, [batchId])).find((row) => row.batch_id === batchId);
  if (!batch) throw refuse(`there is no batch ${batchId}: GET /v1/batches lists them`);
  if (batch.machine_id !== machine.machine_id) {
    throw refuse(
      `batch "${batch.name}" does not run on ${machine.machine_name}: send a batch that does (GET /v1/batches?machine_id=${machine.machine_id}&open=true)`,
    );
  }
  const elsewhere = await lockMachine(trx, machine.machine_id, batchId, also_from);
  const views = await loadBatchViews(trx, [batchId, ...elsewhere.map((place) => place.batchId)]);
  const viewOf = (id: string) => views.find((view) => view.batchId === id);
  const view = viewOf(batchId);
  if (!view) throw refuse(`there is no batch ${batchId}: GET /v1/batches lists them`);
  if (view.closed) {
    throw new ProblemError(
      "conflict",
      `Batch "${view.name}" is closed: name the batch that is cut now (GET /v1/batches?machine_id=${machine.machine_id}&open=true).`,
    );
  }
  const errors = explainBeyond(view, "/from_piece", from_piece);
  also_from?.forEach((named, i) => {
    errors.push(...explainBeyond(viewOf(named.batch_id), `/also_from/${i}/from_piece`, named.from_piece));
  });
  if (errors.length > 0) throw problemAt("unprocessable", errors);
  const at = { batchId, fromPiece: from_piece ?? pieceMeant(view, from_cut), fromCut: from_cut };
  const from = new Map([at, ...elsewhere].map((place) => [place.batchId, place.fromPiece]));
  return { view, at, elsewhere, from };
}

/** The piece meant where none is named: the next one, or for a further cut the last one. */
export function pieceMeant({ lastPieceCut }: BatchView, cut: number): number {
  return cut > 1 && lastPieceCut > 0 ? lastPieceCut : lastPieceCut + 1;
}

export function explainBeyond(
  view: BatchView | undefined,
  pointer: string,
  piece: number | undefined,
): FieldError[] {
  if (view?.quantity === undefined || piece === undefined || piece <= view.quantity) return [];
  const detail = `${piece} is beyond the ${view.quantity} pieces of batch "${view.name}": check the number, or the batch`;
  return [{ pointer, detail }];
}

/** The earliest piece of each batch. */
export function earliestPieces(
  places: readonly { batch_id: string; from_piece: number }[],
): Map<string, number> {
  const earliest = new Map<string, number>();
  for (const { batch_id, from_piece } of places) {
    earliest.set(batch_id, Math.min(from_piece, earliest.get(batch_id) ?? from_piece));
  }
  return earliest;
}
