import { parseLength, toNumeric } from "../core/quantity.js";
import type { Trx } from "../db/client.js";
import { type FieldError, problemAt } from "../http/problem.js";
import { findBatchIds, listOpenBatches, lockBatches, lockMachineRow } from "./batch-queries.js";
import { type BatchView, valueAt } from "./batch-view.js";
import { loadBatchViews } from "./batch-work.js";
import type { FeatureView } from "./feature-view.js";
import {
  insertRegisterEntries,
  isTakenIn,
  listLastEntries,
  listOvertaken,
  type NewEntry,
} from "./register-queries.js";
import { replan } from "./replan.js";
import { nearOrAll, type ReadingInput, type RecordRequest } from "./resolve-reading.js";

export interface EntryInBatch {
  batchId: string;
  fromPiece: number;
  fromCut: number;
}

/** Where a change counts besides; `named`: somebody has said from which piece. */
export interface EntryElsewhere extends EntryInBatch {
  named: boolean;
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
): Promise<EntryElsewhere[]> {
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
    .map((row) => {
      const named = alsoFrom.find((place) => place.batch_id === row.batch_id);
      return {
        batchId: row.batch_id,
        fromPiece: named?.from_piece ?? row.last_piece_cut + 1,
        fromCut: 1,
        named: named !== undefined,
      };
    });
}

/** Locks batches, and the other open ones of their machines, which what is decided in these may concern. */
export async function lockMachinesOf(
  trx: Trx,
  batches: readonly { batch_id: string; machine_id: string }[],
): Promise<void> {
  const machineIds = [...new Set(batches.map((batch) => batch.machine_id))].sort(
    (a, b) => Number(a) - Number(b),
  );
  const batchIds = batches.map((batch) => batch.batch_id);
  for (const machineId of machineIds) {
    await lockMachineRow(trx, machineId);
    batchIds.push(...(await listOpenBatches(trx, machineId)));
  }
  if (batchIds.length > 0) await lockBatches(trx, [...new Set(batchIds)]);
}

export interface RegisterValue {
  registerId: string;
  valuePm: number;
}

/**
 * Enters register values from a piece on, in the batch itself and where they count besides. A value that a later entry of
 * the batch has replaced already is history: the machine's other batches go on with what it holds now. Likewise
 * it counts there from no earlier than what was entered there before, unless somebody has named the piece.
 */
export async function enterRegisters(
  trx: Trx,
  at: EntryInBatch,
  elsewhere: readonly EntryElsewhere[],
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
  const registerIds = values.map(({ registerId }) => registerId);
  const otherIds = elsewhere.map(({ batchId }) => batchId);
  const overtaken = otherIds.length > 0 ? await listOvertaken(trx, at, registerIds) : [];
  const last = otherIds.length > 0 ? await listLastEntries(trx, otherIds, registerIds) : [];
  const notBefore = (place: EntryElsewhere, registerId: string): EntryInBatch => {
    const before = last.find((entry) => entry.batch_id === place.batchId && entry.register_id === registerId);
    if (place.named || !before || before.from_piece < place.fromPiece) return place;
    const fromCut =
      before.from_piece > place.fromPiece ? before.from_cut : Math.max(before.from_cut, place.fromCut);
    return { ...place, fromPiece: before.from_piece, fromCut };
  };
  const made = await insertRegisterEntries(
    trx,
    values.map((value) => row(at, value)),
  );
  const follow = made.flatMap((first, i) =>
    elsewhere
      .filter((place) => place.named || !overtaken.includes(first.register_id))
      .map((place) => ({
        ...row(notBefore(place, first.register_id), values[i]!),
        correction_no: null, // numbered in its own batch
        follows_entry_id: first.entry_id,
      })),
  );
  if (follow.length > 0) await insertRegisterEntries(trx, follow);
  return made;
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
  const views = new Map<string, BatchView>();
  for (const [i, reading] of inCuttingOrder(request)) {
    if (!reading.cut_with?.length) continue;
    const batch = batches.find((row) => row.batch_id === reading.batch_id || row.name === reading.batch);
    if (!batch) continue; // the reading itself is refused for it
    const elsewhere = await lockMachine(trx, batch.machine_id, batch.batch_id);
    const view = views.get(batch.batch_id) ?? (await loadBatchViews(trx, [batch.batch_id]))[0]!;
    views.set(batch.batch_id, view);
    const { piece, cut = 1 } = reading;
    if (await isDuplicate(trx, view, reading)) continue;
    const values: RegisterValue[] = [];
    reading.cut_with.forEach((printed, k) => {
      const pointer = `${request.isArray ? `/${i}` : ""}/cut_with/${k}`;
      const registerId = findRegister(view, printed, reading, pointer);
      const valuePm = parseLength(printed.value, view.machine.unit);
      if (valuePm === undefined)
        throw problemAt("validation", [{ pointer: `${pointer}/value`, detail: "is no size" }]);
      if (valueAt(view, registerId, piece, cut) !== valuePm) values.push({ registerId, valuePm });
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
    views.clear();
    touched.push(...from.keys());
  }
  return touched;
}

/** A line that is sent again changes nothing, whatever has become of the history since. */
async function isDuplicate(trx: Trx, view: BatchView, reading: ReadingInput): Promise<boolean> {
  const { source_id: sourceId, measured_at: measuredAt, piece, cut = 1 } = reading;
  const feature = findFeature(view, reading);
  if (!feature || (sourceId === undefined && measuredAt === undefined)) return false;
  const { batchId } = view;
  return await isTakenIn(trx, { batchId, featureId: feature.featureId, piece, cut, sourceId, measuredAt });
}

function findFeature(
  view: BatchView,
  { feature_id, characteristic }: Pick<ReadingInput, "feature_id" | "characteristic">,
): FeatureView | undefined {
  return feature_id
    ? view.featureById.get(feature_id)
    : view.featureByCharacteristic.get(characteristic ?? "");
}

function inCuttingOrder(request: RecordRequest) {
  return [...request.readings.entries()].sort(
    ([, a], [, b]) => a.piece - b.piece || (a.cut ?? 1) - (b.cut ?? 1),
  );
}

function findRegister(
  view: BatchView,
  printed: { register_id?: string | undefined; register_number?: number | undefined },
  reading: ReadingInput,
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
  const feature = findFeature(view, reading);
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
