import { parseLength, toNumeric } from "../core/quantity.js";
import type { Trx } from "../db/client.js";
import { type FieldError, problemAt } from "../http/problem.js";
import type { BatchView } from "./batch-view.js";
import { loadBatchViews } from "./batch-work.js";
import {
  findBatchIds,
  insertRegisterEntries,
  listOpenBatches,
  lockBatches,
  lockMachineRow,
  type NewEntry,
} from "./queries.js";
import { replan } from "./replan.js";
import { nearOrAll, type RecordRequest } from "./resolve-reading.js";

export interface EntryInBatch {
  batchId: string;
  fromPiece: number;
  fromCut: number;
}

/**
 * Where a change made in one batch counts in the machine's other open batches: from the piece after the last one known to
 * be cut, or as named. Locks all of them, in the order of their ids.
 */
export async function lockMachine(
  trx: Trx,
  machineId: string,
  batchId: string,
  alsoFrom: readonly { batch_id: string; from_piece: number }[] = [],
): Promise<EntryInBatch[]> {
  await lockMachineRow(trx, machineId);
  const ids = await listOpenBatches(trx, machineId);
  const rows = await lockBatches(trx, [...new Set([...ids, batchId])]);
  const errors: FieldError[] = [];
  alsoFrom.forEach((named, i) => {
    if (!rows.some((row) => row.batch_id === named.batch_id && row.batch_id !== batchId)) {
      errors.push({ pointer: `/also_from/${i}/batch_id`, detail: "is no other open batch of this machine" });
    }
  });
  if (errors.length > 0) throw problemAt("unprocessable", errors);
  return rows
    .filter((row) => row.batch_id !== batchId && row.closed_at === null)
    .map((row) => ({
      batchId: row.batch_id,
      fromPiece:
        alsoFrom.find((named) => named.batch_id === row.batch_id)?.from_piece ?? row.last_piece_cut + 1,
      fromCut: 1,
    }));
}

export interface RegisterValue {
  registerId: string;
  valuePm: number;
}

/** Enters register values from a piece on, in the batch itself and where they count besides. */
export async function enterRegisters(
  trx: Trx,
  at: EntryInBatch,
  elsewhere: readonly EntryInBatch[],
  values: readonly RegisterValue[],
  about: Pick<NewEntry, "origin" | "reason" | "correction_no" | "edge_id" | "by_name">,
): Promise<{ entry_id: string; register_id: string; created_at: string }[]> {
  const row = (place: EntryInBatch, value: RegisterValue): NewEntry => ({
    register_id: value.registerId,
    batch_id: place.batchId,
    from_piece: place.fromPiece,
    from_cut: place.fromCut,
    value_mm: toNumeric(value.valuePm),
    follows_entry_id: null,
    ...about,
  });
  const made = await insertRegisterEntries(
    trx,
    values.map((value) => row(at, value)),
  );
  const follow = made.flatMap((first, i) =>
    elsewhere.map((place) => ({
      ...row(place, values[i]!),
      correction_no: null, // numbered in its own batch
      follows_entry_id: first.entry_id,
    })),
  );
  if (follow.length > 0) await insertRegisterEntries(trx, follow);
  return made;
}

/** Register value in force for (piece, cut) of a batch, by its journal. */
export function valueAt(view: BatchView, registerId: string, piece: number, cut: number): number {
  const values = view.registers.get(registerId)?.values ?? [];
  const held = values.findLast((value) => value.piece < piece || (value.piece === piece && value.cut <= cut));
  if (!held) throw new RangeError(`register ${registerId} is not on machine ${view.machine.machineId}`);
  return held.valuePm;
}

/**
 * Offsets in force, as a log prints them beside its readings, beat the history and are entered in it.
 * @returns ids of the batches touched
 */
export async function enterFromLog(trx: Trx, request: RecordRequest): Promise<string[]> {
  const named = request.readings.flatMap((reading) =>
    reading.cut_with?.length ? [reading.batch_id ?? reading.batch ?? ""] : [],
  );
  if (named.length === 0) return [];
  const batches = await findBatchIds(trx, [...new Set(named)]);
  const touched: string[] = [];
  for (const [i, reading] of inCuttingOrder(request)) {
    if (!reading.cut_with?.length) continue;
    const batch = batches.find((row) => row.batch_id === reading.batch_id || row.name === reading.batch);
    if (!batch) continue; // the reading itself is refused for it
    const elsewhere = await lockMachine(trx, batch.machine_id, batch.batch_id);
    const [view] = await loadBatchViews(trx, [batch.batch_id]);
    const { piece, cut = 1 } = reading;
    const values: RegisterValue[] = [];
    reading.cut_with.forEach((printed, k) => {
      const pointer = `${request.isArray ? `/${i}` : ""}/cut_with/${k}`;
      const registerId = findRegister(view!, printed, reading, pointer);
      const valuePm = parseLength(printed.value, view!.machine.unit);
      if (valuePm === undefined)
        throw problemAt("validation", [{ pointer: `${pointer}/value`, detail: "is no size" }]);
      if (valueAt(view!, registerId, piece, cut) !== valuePm) values.push({ registerId, valuePm });
    });
    if (values.length === 0) continue;
    const place = { batchId: batch.batch_id, fromPiece: piece, fromCut: cut };
    const about = {
      origin: "log",
      reason: "printed by the log",
      correction_no: null,
      edge_id: null,
    } as const;
    await enterRegisters(trx, place, elsewhere, values, { ...about, by_name: reading.taken_by ?? null });
    const from = new Map([
      [batch.batch_id, piece],
      ...elsewhere.map((at): [string, number] => [at.batchId, at.fromPiece]),
    ]);
    await replan(trx, from);
    touched.push(...from.keys());
  }
  return touched;
}

function inCuttingOrder(request: RecordRequest) {
  return [...request.readings.entries()].sort(
    ([, a], [, b]) => a.piece - b.piece || (a.cut ?? 1) - (b.cut ?? 1),
  );
}

function findRegister(
  view: BatchView,
  printed: { register_id?: string | undefined; register_number?: number | undefined },
  reading: { feature_id?: string | undefined; characteristic?: string | undefined },
  pointer: string,
): string {
  const all = [...view.registers.values()];
  const refuse = (detail: string) => problemAt("unprocessable", [{ pointer, detail }]);
  if (printed.register_id !== undefined) {
    const own = view.registers.get(printed.register_id);
    if (!own)
      throw refuse(`register ${printed.register_id} is not on ${view.machine.name}, where this batch runs`);
    return own.registerId;
  }
  const byNumber = all.filter((register) => register.number === printed.register_number);
  const feature = reading.feature_id
    ? view.featureById.get(reading.feature_id)
    : view.featureByCharacteristic.get(reading.characteristic ?? "");
  const block = feature && view.blocks[feature.block]!.block;
  const acting = byNumber.filter((register) => {
    const r = block?.registers.findIndex((other) => other.registerId === register.registerId) ?? -1;
    return r >= 0 && block!.features[feature!.index]!.effects[r] !== 0;
  });
  const [only, second] = acting.length > 0 ? acting : byNumber;
  if (!only) {
    const labels = all.map((register) => `${register.number} ${register.label}`);
    throw refuse(
      `${view.machine.name} has no register ${printed.register_number}; ${nearOrAll(String(printed.register_number), labels)}`,
    );
  }
  if (second)
    throw refuse(
      `register ${printed.register_number} may be ${only.label} or ${second.label}: send register_id`,
    );
  return only.registerId;
}
