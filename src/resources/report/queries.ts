import { sql } from "kysely";
import type { Db } from "../../db/client.js";

export function findBatch(db: Db, batchId: string) {
  return db
    .selectFrom("batch")
    .innerJoin("part", "part.part_id", "batch.part_id")
    .innerJoin("machine", "machine.machine_id", "batch.machine_id")
    .select([
      "batch.batch_id",
      "batch.name",
      "batch.operation",
      "batch.quantity",
      "batch.created_at",
      "batch.closed_at",
      "batch.closed_by",
      "machine.name as machine",
      "part.number",
      "part.revision",
      "part.name as part_name",
      "part.unit",
      "part.material",
      "part.decision_rule",
      "part.guard_band_factor",
    ])
    .where("batch.batch_id", "=", batchId)
    .executeTakeFirst();
}

/** Features as the drawing gives them. */
export function listDrawn(db: Db, featureIds: readonly string[]) {
  return db.selectFrom("feature").selectAll().where("feature_id", "in", featureIds).execute();
}

export interface GaugeUse {
  gauge_id: string;
  name: string;
  kind: string;
  unit: "mm" | "inch" | "deg";
  expanded_uncertainty_mm: string | null;
  coverage_factor: number;
  calibration_due: string | null;
  reference: boolean;
  readings: number;
  first_at: string;
  last_at: string;
  checked_at: string | null;
  error_mm: string | null;
}

/** Gauges whose readings count in a batch, each with its last check on a standard up to the last of them. */
export async function listGaugesUsed(db: Db, batchId: string, featureIds: readonly string[]) {
  const { rows } = await sql<GaugeUse>`
    with used as (
      select gauge_id, count(*)::int as readings, min(coalesce(measured_at, received_at)) as first_at,
        max(coalesce(measured_at, received_at)) as last_at
      from reading
      where batch_id = ${batchId} and feature_id = any(${featureIds}::bigint[]) and voided_at is null
        and gauge_id is not null
      group by gauge_id
    )
    select gauge.gauge_id, gauge.name, gauge.kind, gauge.unit, gauge.expanded_uncertainty_mm, gauge.coverage_factor,
      gauge.calibration_due, gauge.reference, used.readings, used.first_at, used.last_at, checked.checked_at, checked.error_mm
    from used join gauge using (gauge_id)
    left join lateral (
      select checked_at, error_mm from gauge_check
      where gauge_id = used.gauge_id and voided_at is null and checked_at <= used.last_at
      order by checked_at desc limit 1) as checked on true
    order by used.readings desc, gauge.gauge_id
  `.execute(db);
  return rows;
}

export function listEntries(db: Db, batchId: string, registerIds: readonly string[]) {
  if (registerIds.length === 0) return Promise.resolve([]);
  return db
    .selectFrom("register_entry")
    .selectAll()
    .where("batch_id", "=", batchId)
    .where("register_id", "in", registerIds)
    .where("voided_at", "is", null)
    .orderBy("from_piece")
    .orderBy("from_cut")
    .orderBy("entry_id")
    .execute();
}

export function listEdges(db: Db, batchId: string) {
  return db
    .selectFrom("edge_in_batch")
    .innerJoin("edge", "edge.edge_id", "edge_in_batch.edge_id")
    .select(["edge.tool_id", "edge.number", "edge.reason", "edge.by_name", "edge_in_batch.from_piece"])
    .where("edge_in_batch.batch_id", "=", batchId)
    .where("edge.voided_at", "is", null)
    .orderBy("edge_in_batch.from_piece")
    .orderBy("edge.edge_id")
    .execute();
}

export function listInterruptions(db: Db, batchId: string) {
  return db
    .selectFrom("interruption")
    .select(["from_piece", "kind", "note", "by_name"])
    .where("batch_id", "=", batchId)
    .where("voided_at", "is", null)
    .orderBy("from_piece")
    .orderBy("interruption_id")
    .execute();
}

/** Every decision about pieces of a batch, voided ones among them: a report hides none. */
export function listDecisions(db: Db, batchId: string) {
  return db
    .selectFrom("piece_decision")
    .selectAll()
    .where("batch_id", "=", batchId)
    .orderBy("decision_id")
    .execute();
}

export async function countReadings(db: Db, batchId: string, featureIds: readonly string[]) {
  const { rows } = await sql<{ counted: number; voided: number }>`
    select count(*) filter (where voided_at is null)::int as counted, count(voided_at)::int as voided
    from reading where batch_id = ${batchId} and feature_id = any(${featureIds}::bigint[])
  `.execute(db);
  return rows[0]!;
}
