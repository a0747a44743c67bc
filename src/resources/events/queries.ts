import { sql } from "kysely";
import type { Db } from "../../db/client.js";

/** What stands in the shop, as marks that change when it does. */
export interface Standing {
  /** Per open batch, and per batch that was closed lately. */
  batches: Record<string, string>;
  /** Machines, tools, gauges, parts, layouts and how many batches there are. */
  shop: string;
}

/**
 * One look at everything that a page may show. Every decision raises the version of its batch; what people enter beside is counted
 * from indexes, so that the look costs as much after years as on the first day.
 */
export async function readStanding(db: Db): Promise<Standing> {
  const { rows } = await sql<Standing>`
    with open as (
      select batch_id, version, counted_piece, closed_at from batch
      where closed_at is null or closed_at > now() - interval '1 hour'
    )
    select
      (select coalesce(json_object_agg(batch_id, concat_ws('.', version, counted_piece, closed_at is not null,
        (select concat(count(*), '-', count(voided_at)) from piece_decision where piece_decision.batch_id = open.batch_id),
        (select concat(count(*), '-', count(voided_at)) from interruption where interruption.batch_id = open.batch_id))), '{}')
        from open) as batches,
      concat_ws('.', (select max(batch_id) from batch), (select max(machine_id) from machine), (select max(tool_id) from tool),
        (select max(register_id) from register), (select max(gauge_id) from gauge), (select max(part_id) from part),
        (select max(edge_id) from edge), (select max(gauge_check_id) from gauge_check), (select max(layout_id) from log_layout),
        (select max(import_id) from reading_import), (select count(*) from open where closed_at is null)) as shop
  `.execute(db);
  return rows[0]!;
}
