import { sql } from "kysely";
import type { Db } from "../../db/client.js";

export function findRegister(db: Db, registerId: string) {
  return db
    .selectFrom("register")
    .innerJoin("machine", "machine.machine_id", "register.machine_id")
    .select([
      "register.register_id",
      "register.label",
      "register.machine_id",
      "machine.name as machine_name",
      "machine.unit",
    ])
    .where("register_id", "=", registerId)
    .executeTakeFirst();
}

/** Entries of a register, oldest first, after `after` (exclusive); at most `limit`. */
export function listEntries(db: Db, page: { registerId: string; after: string; limit: number }) {
  const { registerId, after, limit } = page;
  return entriesWithOrigin(db)
    .where("register_entry.register_id", "=", registerId)
    .where("register_entry.entry_id", ">", after)
    .orderBy("register_entry.entry_id")
    .limit(limit)
    .execute();
}

export function findEntry(db: Db, registerId: string, entryId: string) {
  return entriesWithOrigin(db)
    .where("register_entry.register_id", "=", registerId)
    .where("register_entry.entry_id", "=", entryId)
    .executeTakeFirst();
}

/** An entry made in another open batch of the machine comes with the batch and the correction that it goes back to. */
function entriesWithOrigin(db: Db) {
  return db
    .selectFrom("register_entry")
    .leftJoin("register_entry as first", "first.entry_id", "register_entry.follows_entry_id")
    .selectAll("register_entry")
    .select((eb) => [
      eb.fn.coalesce("first.batch_id", "register_entry.batch_id").as("correction_batch_id"),
      eb.fn.coalesce("first.correction_no", "register_entry.correction_no").as("made_by_correction_no"),
    ]);
}

/** An entry with those that follow it in other batches: where each of them counts. */
export function listPlaces(db: Db, entryId: string) {
  return db
    .selectFrom("register_entry")
    .select(["entry_id", "batch_id", "from_piece"])
    .where((eb) => eb.or([eb("entry_id", "=", entryId), eb("follows_entry_id", "=", entryId)]))
    .where("voided_at", "is", null)
    .orderBy("entry_id")
    .execute();
}

export function voidEntries(
  db: Db,
  entryIds: readonly string[],
  about: { reason: string; by: string | null },
) {
  return db
    .updateTable("register_entry")
    .set({ voided_at: sql<string>`now()`, void_reason: about.reason, voided_by: about.by })
    .where("entry_id", "in", entryIds)
    .execute();
}
