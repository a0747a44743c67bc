import { type Insertable, sql } from "kysely";
import type { Db } from "../../db/client.js";
import type { Database } from "../../db/schema.js";

export function findMachine(db: Db, machineId: string) {
  return db.selectFrom("machine").select("name").where("machine_id", "=", machineId).executeTakeFirst();
}

export function findPart(db: Db, partId: string) {
  return db
    .selectFrom("part")
    .select(["number", "revision"])
    .where("part_id", "=", partId)
    .executeTakeFirst();
}

/** The operations that a part's features are made in or have limits for, each once; null stands for features without one. */
export async function listOperations(db: Db, partId: string): Promise<(string | null)[]> {
  const limited = db
    .selectFrom("feature_operation_limits")
    .innerJoin("feature", "feature.feature_id", "feature_operation_limits.feature_id")
    .select("feature_operation_limits.operation")
    .where("part_id", "=", partId);
  const rows = await db
    .selectFrom("feature")
    .select("operation")
    .where("part_id", "=", partId)
    .union(limited.$castTo<{ operation: string | null }>())
    .orderBy("operation")
    .execute();
  return rows.map(({ operation }) => operation);
}

/** The new batch, or undefined where the name is taken. */
export function insertBatch(db: Db, batch: Insertable<Database["batch"]>) {
  return db
    .insertInto("batch")
    .values(batch)
    .onConflict((conflict) => conflict.constraint("batch_name_unique").doNothing())
    .returningAll()
    .executeTakeFirst();
}

/** Makes room for the readings of a batch. */
export async function ensureReadingPartition(db: Db, batchId: string): Promise<void> {
  await sql`select ensure_reading_partition(${batchId})`.execute(db);
}

export function findBatch(db: Db, batchId: string) {
  return db.selectFrom("batch").selectAll().where("batch_id", "=", batchId).executeTakeFirst();
}

export interface BatchFilter {
  machineId: string | undefined;
  partId: string | undefined;
  open: boolean | undefined;
  after: string;
  limit: number;
}

/** Batches, oldest first, after `after` (exclusive); at most `limit`. */
export function listBatches(db: Db, { machineId, partId, open, after, limit }: BatchFilter) {
  let batches = db.selectFrom("batch").selectAll().where("batch_id", ">", after);
  if (machineId !== undefined) batches = batches.where("machine_id", "=", machineId);
  if (partId !== undefined) batches = batches.where("part_id", "=", partId);
  if (open !== undefined) batches = batches.where("closed_at", open ? "is" : "is not", null);
  return batches.orderBy("batch_id").limit(limit).execute();
}

export function closeBatch(db: Db, batchId: string, by: string | null) {
  return db
    .updateTable("batch")
    .set({ closed_at: sql<string>`now()`, closed_by: by })
    .where("batch_id", "=", batchId)
    .execute();
}

export function updateCount(db: Db, batchId: string, lastPieceCut: number) {
  return db
    .updateTable("batch")
    .set({ counted_piece: lastPieceCut, last_piece_cut: lastPieceCut })
    .where("batch_id", "=", batchId)
    .execute();
}

/** The highest piece that a reading proves was cut. */
export async function findHighestRead(db: Db, batchId: string): Promise<number> {
  const row = await db
    .selectFrom("reading")
    .select((eb) => eb.fn.max("piece").as("piece"))
    .where("batch_id", "=", batchId)
    .where("voided_at", "is", null)
    .executeTakeFirst();
  return row?.piece ?? 0;
}

export function insertInterruption(db: Db, interruption: Insertable<Database["interruption"]>) {
  return db.insertInto("interruption").values(interruption).returningAll().executeTakeFirstOrThrow();
}

export function findInterruption(db: Db, batchId: string, interruptionId: string) {
  return db
    .selectFrom("interruption")
    .selectAll()
    .where("batch_id", "=", batchId)
    .where("interruption_id", "=", interruptionId)
    .executeTakeFirst();
}

/** Interruptions of a batch, oldest first, after `after` (exclusive); at most `limit`. */
export function listInterruptions(db: Db, page: { batchId: string; after: string; limit: number }) {
  const { batchId, after, limit } = page;
  return db
    .selectFrom("interruption")
    .selectAll()
    .where("batch_id", "=", batchId)
    .where("interruption_id", ">", after)
    .orderBy("interruption_id")
    .limit(limit)
    .execute();
}

export function voidInterruption(
  db: Db,
  interruptionId: string,
  about: { reason: string; by: string | null },
) {
  return db
    .updateTable("interruption")
    .set({ voided_at: sql<string>`now()`, void_reason: about.reason, voided_by: about.by })
    .where("interruption_id", "=", interruptionId)
    .returningAll()
    .executeTakeFirstOrThrow();
}
