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

/** An edge that counts, with its tool. */
export async function findEdge(db: Db, toolId: string, edgeId: string) {
  const { rows } = await sql<{
    edge_id: string;
    number: number;
    reason: string;
    tool_id: string;
    machine_id: string;
    unit: "mm" | "inch";
    life_pieces: number | null;
    in_use: boolean;
  }>`
    select edge.edge_id, edge.number, edge.reason, tool_id, machine_id, machine.unit, tool.life_pieces,
      not exists (
        select from edge as later
        where later.tool_id = edge.tool_id and later.number > edge.number and later.voided_at is null) as in_use
    from edge join tool using (tool_id) join machine using (machine_id)
    where tool_id = ${toolId} and edge_id = ${edgeId} and edge.voided_at is null
  `.execute(db);
  return rows[0];
}

/** What registers of a tool held, over pieces of batches. */
export interface HeldRow {
  register_id: string;
  batch_id: string;
  from_piece: number;
  from_cut: number;
  value_mm: string;
  reason: string | null;
  correction_no: number | null;
  by_name: string | null;
  created_at: string | null;
}

/**
 * What a tool's registers held from the first piece of each span on, and every entry that counts after it up to the
 * span's `until`; of each register in each span the latest `limit`.
 */
export async function listHeld(
  db: Db,
  toolId: string,
  spans: readonly { batchId: string; from: number; until: number }[],
  limit: number,
): Promise<HeldRow[]> {
  const { rows } = await sql<HeldRow>`
    select register.register_id, span.batch_id, held.*
    from unnest(${spans.map(({ batchId }) => batchId)}::bigint[], ${spans.map(({ from }) => from)}::int[],
      ${spans.map(({ until }) => until)}::int[]) as span (batch_id, first_piece, until)
    cross join register
    cross join lateral (
      select * from (
        (select first_piece as from_piece, 1 as from_cut, value_mm, reason, correction_no, by_name, created_at
          from register_entry
          where batch_id = span.batch_id and register_id = register.register_id and voided_at is null
            and (from_piece, from_cut) <= (first_piece, 1)
          order by register_entry.from_piece desc, register_entry.from_cut desc, entry_id desc limit 1)
        union all
        select first_piece, 1, coalesce(
            (batch.start -> 'registers' -> register.register_id::text ->> 'value_mm')::numeric, register.start_value_mm),
          null, null, null, null
        from batch where batch.batch_id = span.batch_id
      ) as first limit 1
    ) as held
    where register.tool_id = ${toolId}
    union all
    select register.register_id, span.batch_id, held.*
    from unnest(${spans.map(({ batchId }) => batchId)}::bigint[], ${spans.map(({ from }) => from)}::int[],
      ${spans.map(({ until }) => until)}::int[]) as span (batch_id, first_piece, until)
    cross join register
    cross join lateral (
      select from_piece, from_cut, value_mm, reason, correction_no, by_name, created_at from (
        select distinct on (from_piece, from_cut) from_piece, from_cut, value_mm, reason, correction_no, by_name, created_at
        from register_entry
        where batch_id = span.batch_id and register_id = register.register_id and voided_at is null
          and (from_piece, from_cut) > (first_piece, 1) and from_piece <= until
        order by from_piece desc, from_cut desc, entry_id desc limit ${limit}) as entry
    ) as held
    where register.tool_id = ${toolId}
    order by register_id, batch_id, from_piece, from_cut
  `.execute(db);
  return rows;
}
