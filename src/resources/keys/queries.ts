import { sql } from "kysely";
import type { Db } from "../../db/client.js";
import type { Database } from "../../db/schema.js";

type Role = Database["access_key"]["role"];

const columns = [
  "key_id",
  "name",
  "role",
  "prefix",
  "created_at",
  "created_by",
  "last_used_at",
  "revoked_at",
  "revoked_by",
] as const;

/** The new key, or undefined where the name was ever taken: a name in old records means one key. */
export function insertKey(
  db: Db,
  row: { name: string; role: Role; prefix: string; secret_hash: Buffer; created_by: string | null },
) {
  return db
    .insertInto("access_key")
    .values(row)
    .onConflict((conflict) => conflict.constraint("access_key_name_unique").doNothing())
    .returning(columns)
    .executeTakeFirst();
}

/** Keys, oldest first, after `after` (exclusive); at most `limit`. */
export function listKeys(db: Db, { after, limit }: { after: string; limit: number }) {
  return db
    .selectFrom("access_key")
    .select(columns)
    .where("key_id", ">", after)
    .orderBy("key_id")
    .limit(limit)
    .execute();
}

export function findKeyByName(db: Db, name: string) {
  return db.selectFrom("access_key").select(columns).where("name", "=", name).executeTakeFirst();
}

/** The key as it is then, or undefined where there is none; one that is revoked already stays as it is. */
export function revokeKey(db: Db, keyId: string, by: string | null) {
  return db
    .updateTable("access_key")
    .set((eb) => ({
      revoked_at: eb.fn.coalesce("revoked_at", sql<string>`now()`),
      revoked_by: eb.case().when("revoked_at", "is", null).then(by).else(eb.ref("revoked_by")).end(),
    }))
    .where("key_id", "=", keyId)
    .returning(columns)
    .executeTakeFirst();
}
