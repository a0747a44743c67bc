import { type Selectable, sql } from "kysely";
import type { Db } from "../db/client.js";
import type { Database } from "../db/schema.js";
import type { CorrectionFeature } from "./answered-advice.js";
import type { BatchRows } from "./batch-rows.js";

type Row<T extends keyof Database> = Selectable<Database[T]>;

/** Everything that decides in these batches: what they are made of, what happened in them, what has been learned. */
export async function loadBatchRows(db: Db, batchIds: readonly string[]): Promise<BatchRows[]> {
  if (batchIds.length === 0) return [];
  const batches = await db.selectFrom("batch").selectAll().where("batch_id", "in", batchIds).execute();
  return await loadRowsOf(db, batches);
}

/** The same of batches at hand; one that is not opened yet may be among them, with an id that no batch has. */
export async function loadRowsOf(db: Db, batches: readonly Row<"batch">[]): Promise<BatchRows[]> {
  if (batches.length === 0) return [];
  const ids = batches.map((batch) => batch.batch_id);
  const machineIds = [...new Set(batches.map((batch) => batch.machine_id))];
  const partIds = [...new Set(batches.map((batch) => batch.part_id))];
  const [
    machines,
    parts,
    features,
    early,
    cuts,
    tools,
    registers,
    entries,
    edges,
    interruptions,
    findings,
    answered,
    states,
  ] = await Promise.all([
    db.selectFrom("machine").selectAll().where("machine_id", "in", machineIds).execute(),
    db.selectFrom("part").selectAll().where("part_id", "in", partIds).execute(),
    db.selectFrom("feature").selectAll().where("part_id", "in", partIds).execute(),
    db
      .selectFrom("feature_operation_limits")
      .innerJoin("feature", "feature.feature_id", "feature_operation_limits.feature_id")
      .selectAll("feature_operation_limits")
      .where("feature.part_id", "in", partIds)
      .execute(),
    db
      .selectFrom("feature_cut")
      .innerJoin("feature", "feature.feature_id", "feature_cut.feature_id")
      .selectAll("feature_cut")
      .where("feature.part_id", "in", partIds)
      .execute(),
    db.selectFrom("tool").selectAll().where("machine_id", "in", machineIds).execute(),
    db.selectFrom("register").selectAll().where("machine_id", "in", machineIds).execute(),
    db
      .selectFrom("register_entry")
      .selectAll()
      .where("batch_id", "in", ids)
      .where("voided_at", "is", null)
      .execute(),
    db
      .selectFrom("edge_in_batch")
      .innerJoin("edge", "edge.edge_id", "edge_in_batch.edge_id")
      .select(["edge_in_batch.batch_id", "edge_in_batch.from_piece", "edge.edge_id", "edge.tool_id"])
      .where("edge_in_batch.batch_id", "in", ids)
      .where("edge.voided_at", "is", null)
      .execute(),
    db
      .selectFrom("interruption")
      .selectAll()
      .where("batch_id", "in", ids)
      .where("voided_at", "is", null)
      .execute(),
    db
      .selectFrom("correction")
      .select(["batch_id", "correction_no", "found", "from_piece", "cause"])
      .where("batch_id", "in", ids)
      .where("found", "is not", null)
      .execute(),
    db
      .selectFrom("correction")
      .distinctOn(["batch_id", "subject"])
      .select(["batch_id", "subject", "kind", "piece", "value_now_mm", "change_mm", "features", "reason"])
      .where("batch_id", "in", ids)
      .where((eb) =>
        eb.or([
          eb("status", "=", "declined"),
          eb("found", "=", "nothing"),
          eb.and([eb("kind", "=", "check_gauge"), eb("status", "=", "settled")]),
        ]),
      )
      .orderBy("batch_id")
      .orderBy("subject")
      .orderBy("correction_no", "desc")
      .execute(),
    db.selectFrom("block_state").selectAll().where("batch_id", "in", ids).execute(),
  ]);
  return batches.map((batch) => {
    const own = <T extends { batch_id: string }>(rows: T[]) =>
      rows.filter((row) => row.batch_id === batch.batch_id);
    const partFeatures = features.filter((feature) => feature.part_id === batch.part_id);
    const featureIds = new Set(partFeatures.map((feature) => feature.feature_id));
    return {
      batch,
      machine: machines.find((machine) => machine.machine_id === batch.machine_id)!,
      part: parts.find((part) => part.part_id === batch.part_id)!,
      features: partFeatures,
      early: early.filter((row) => row.operation === batch.operation && featureIds.has(row.feature_id)),
      cuts: cuts.filter((cut) => featureIds.has(cut.feature_id)),
      tools: tools.filter((tool) => tool.machine_id === batch.machine_id),
      registers: registers.filter((register) => register.machine_id === batch.machine_id),
      entries: own(entries),
      edges: own(edges),
      interruptions: own(interruptions),
      answered: own(answered).map((row) => ({ ...row, features: row.features as CorrectionFeature[] })),
      findings: own(findings).map((row) => ({ ...row, found: row.found! })),
      states: own(states),
    };
  });
}

/** Raised whenever anything inside the batch is changed. */
export async function findVersion(db: Db, batchId: string): Promise<number | undefined> {
  const row = await db
    .selectFrom("batch")
    .select("version")
    .where("batch_id", "=", batchId)
    .executeTakeFirst();
  return row?.version;
}

/** One change of a machine at a time: a batch that is being opened must not miss a register that is being entered. */
export async function lockMachineRow(db: Db, machineId: string): Promise<void> {
  await db
    .selectFrom("machine")
    .select("machine_id")
    .where("machine_id", "=", machineId)
    .forUpdate()
    .execute();
}

export async function listOpenBatches(db: Db, machineId: string): Promise<string[]> {
  const rows = await db
    .selectFrom("batch")
    .select("batch_id")
    .where("machine_id", "=", machineId)
    .where("closed_at", "is", null)
    .execute();
  return rows.map((row) => row.batch_id);
}

/** Locks batches in the order of their ids, so that two writers never wait for each other. */
export async function lockBatches(db: Db, batchIds: readonly string[]) {
  return await db
    .selectFrom("batch")
    .selectAll()
    .where("batch_id", "in", batchIds)
    .orderBy("batch_id")
    .forUpdate()
    .execute();
}

export async function findBatchIds(db: Db, idsOrNames: readonly string[]) {
  return await db
    .selectFrom("batch")
    .select(["batch_id", "name", "machine_id"])
    .where((eb) =>
      eb.or([
        eb("name", "in", idsOrNames),
        eb("batch_id", "in", ["0", ...idsOrNames.filter((text) => /^\d{1,18}$/.test(text))]),
      ]),
    )
    .execute();
}

export async function deleteBlockStates(db: Db, batchIds: readonly string[]): Promise<void> {
  await db.deleteFrom("block_state").where("batch_id", "in", batchIds).execute();
  await db.deleteFrom("block_checkpoint").where("batch_id", "in", batchIds).execute();
}

export async function listBatchesOfPart(db: Db, partId: string) {
  return await db
    .selectFrom("batch")
    .select(["batch_id", "closed_at"])
    .where("part_id", "=", partId)
    .execute();
}

/** So that whoever decides from what was read before decides again. */
export async function raiseVersions(db: Db, batchIds: readonly string[]): Promise<void> {
  await db
    .updateTable("batch")
    .set((eb) => ({ version: eb("version", "+", 1) }))
    .where("batch_id", "in", batchIds)
    .execute();
}

/** Last piece known to be cut, from what nobody voided. */
export async function updateLastPieceCut(db: Db, batchId: string): Promise<void> {
  await sql`
    update batch set last_piece_cut = greatest(counted_piece, coalesce((
      select max(piece) from reading where batch_id = ${batchId} and voided_at is null), 0))
    where batch_id = ${batchId}
  `.execute(db);
}

/** Per register of a machine the latest batch that it worked in, of any part and of this one: where its state stands. */
export async function listLatestBatches(db: Db, machineId: string, partId: string): Promise<string[]> {
  const latest = (samePart: boolean) => sql`(
    select batch.batch_id from batch join feature using (part_id) join feature_cut using (feature_id)
    where batch.machine_id = ${machineId} and feature_cut.register_id = register.register_id
      and (batch.part_id = ${partId} or not ${samePart})
    order by batch.batch_id desc limit 1)`;
  const { rows } = await sql<{ batch_id: string }>`
    select distinct batch_id from register
    cross join lateral (select * from ${latest(false)} as a union select * from ${latest(true)} as b) as latest
    where register.machine_id = ${machineId} and register.tool_id is not null
  `.execute(db);
  return rows.map((row) => row.batch_id);
}
