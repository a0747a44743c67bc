import { sql } from "kysely";
import type { Db } from "../../db/client.js";

export function findTool(db: Db, toolId: string) {
  return db
    .selectFrom("tool")
    .innerJoin("machine", "machine.machine_id", "tool.machine_id")
    .select(["tool.tool_id", "tool.machine_id", "machine.unit"])
    .where("tool_id", "=", toolId)
    .executeTakeFirst();
}

export function listRegisters(db: Db, toolId: string) {
  return db.selectFrom("register").selectAll().where("tool_id", "=", toolId).orderBy("register_id").execute();
}

/** The latest batch whose part the tool works on. */
export async function findLatestBatch(db: Db, toolId: string): Promise<string | undefined> {
  const { rows } = await sql<{ batch_id: string }>`
    select batch.batch_id from batch join tool using (machine_id)
    where tool.tool_id = ${toolId} and exists (
      select from feature join feature_cut using (feature_id)
      where feature.part_id = batch.part_id and feature_cut.tool_id = tool.tool_id)
    order by batch.batch_id desc limit 1
  `.execute(db);
  return rows[0]?.batch_id;
}

export interface EntryRow {
  register_id: string;
  created_at: string;
  batch_id: string;
  from_piece: number;
  from_cut: number;
  value_mm: string;
  change_mm: string;
  reason: string | null;
  correction_no: number | null;
  by_name: string | null;
}

/**
 * Entries of registers that count, newest first, at most `limit` each; the change is against the entry before in its
 * batch, else against what the register brought into it.
 */
export async function listEntries(
  db: Db,
  registerIds: readonly string[],
  limit: number,
): Promise<EntryRow[]> {
  const { rows } = await sql<EntryRow>`
    select entry.* from unnest(${registerIds}::bigint[]) as wanted (register_id)
    cross join lateral (
      select e.register_id, e.created_at, e.batch_id, e.from_piece, e.from_cut, e.value_mm, e.reason, e.correction_no,
        e.by_name, e.value_mm - coalesce(
          (select b.value_mm from register_entry b
            where b.batch_id = e.batch_id and b.register_id = e.register_id and b.voided_at is null
              and (b.from_piece, b.from_cut, b.entry_id) < (e.from_piece, e.from_cut, e.entry_id)
            order by b.from_piece desc, b.from_cut desc, b.entry_id desc limit 1),
          (batch.start -> 'registers' -> e.register_id::text ->> 'value_mm')::numeric, e.value_mm) as change_mm
      from register_entry e join batch using (batch_id)
      where e.register_id = wanted.register_id and e.voided_at is null and e.follows_entry_id is null
      order by e.entry_id desc limit ${limit}
    ) as entry
  `.execute(db);
  return rows;
}
