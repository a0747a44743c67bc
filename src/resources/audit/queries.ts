import type { Db } from "../../db/client.js";

/** Changes, newest first, before `before` (exclusive; "0": from the newest); at most `limit`. */
export function listChanges(
  db: Db,
  filter: {
    from?: string | undefined;
    to?: string | undefined;
    key?: string | undefined;
    operation?: string | undefined;
    entity?: Readonly<Record<string, string>> | undefined;
    before: string;
    limit: number;
  },
) {
  const { from, to, key, operation, entity, before, limit } = filter;
  return db
    .selectFrom("audit")
    .selectAll()
    .$if(before !== "0", (query) => query.where("audit_id", "<", before))
    .$if(from !== undefined, (query) => query.where("at", ">=", from!))
    .$if(to !== undefined, (query) => query.where("at", "<", to!))
    .$if(key !== undefined, (query) => query.where("key_name", "=", key!))
    .$if(operation !== undefined, (query) => query.where("operation", "=", operation!))
    .$if(entity !== undefined, (query) =>
      query.where((eb) => eb("entities", "@>", eb.cast<never>(eb.val(JSON.stringify(entity)), "jsonb"))),
    )
    .orderBy("audit_id", "desc")
    .limit(limit)
    .execute();
}
