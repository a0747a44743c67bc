import { type Selectable, sql } from "kysely";
import type { Db } from "../db/client.js";
import type { Database } from "../db/schema.js";

/** A check as far as readings go by it. */
export type CheckRow = Pick<
  Selectable<Database["gauge_check"]>,
  "gauge_id" | "checked_at" | "error_mm" | "allowed_mm" | "direction_known" | "shift" | "variance"
>;

const taken = sql.raw("coalesce(reading.measured_at, reading.received_at)");
const checkColumns = sql.raw("gauge_id, checked_at, error_mm, allowed_mm, direction_known, shift, variance");

/** Of a gauge `g` in scope: the last check in force up to an instant, and all after it. */
export function checksFrom(instant: string) {
  return sql`(
    (select ${checkColumns} from gauge_check
      where gauge_id = g.gauge_id and voided_at is null and checked_at <= ${instant}::timestamptz
      order by checked_at desc limit 1)
    union all
    (select ${checkColumns} from gauge_check
      where gauge_id = g.gauge_id and voided_at is null and checked_at > ${instant}::timestamptz)
  )`;
}

/** The same for gauges by their ids. */
export async function listChecks(db: Db, gaugeIds: readonly string[], instant: string): Promise<CheckRow[]> {
  if (gaugeIds.length === 0) return [];
  const { rows } = await sql<CheckRow>`
    select c.* from unnest(${gaugeIds}::bigint[]) as g (gauge_id) cross join lateral ${checksFrom(instant)} as c
  `.execute(db);
  return rows;
}

/** By how much the checks before and after a reading show its gauge off, given what was taken off it; null: by nothing. */
const doubtOfReading = sql.raw(`(
  select max(abs(c.error_mm - coalesce(reading.gauge_error_mm, 0))) from (
    (select error_mm, allowed_mm from gauge_check
      where gauge_id = reading.gauge_id and voided_at is null
        and checked_at <= coalesce(reading.measured_at, reading.received_at)
      order by checked_at desc limit 1)
    union all
    (select error_mm, allowed_mm from gauge_check
      where gauge_id = reading.gauge_id and voided_at is null
        and checked_at > coalesce(reading.measured_at, reading.received_at)
      order by checked_at limit 1)
  ) as c where abs(c.error_mm - coalesce(reading.gauge_error_mm, 0)) > c.allowed_mm)`);

/** Readings of a gauge between the checks in force before and after an instant. */
function readingsAbout(gaugeId: string, checkedAt: string) {
  const neighbour = (
    which: "max" | "min",
    compare: "<" | ">",
    else_: "-infinity" | "infinity",
  ) => sql`coalesce((
    select ${sql.raw(which)}(checked_at) from gauge_check
    where gauge_id = ${gaugeId} and voided_at is null and checked_at ${sql.raw(compare)} ${checkedAt}::timestamptz
  ), ${else_}::timestamptz)`;
  return sql`reading.gauge_id = ${gaugeId} and ${taken} >= ${neighbour("max", "<", "-infinity")}
    and ${taken} < ${neighbour("min", ">", "infinity")}`;
}

/** Batches with readings about an instant whose doubt is no longer what is kept, and the first piece that it is about. */
export async function findDoubted(db: Db, gaugeId: string, checkedAt: string) {
  const { rows } = await sql<{ batch_id: string; first_piece: number; closed_at: string | null }>`
    select batch.batch_id, min(reading.piece) as first_piece, batch.closed_at
    from reading join batch using (batch_id)
    where ${readingsAbout(gaugeId, checkedAt)} and reading.gauge_doubt_mm is distinct from ${doubtOfReading}
    group by batch.batch_id order by batch.batch_id
  `.execute(db);
  return rows;
}

/** Keeps the doubt about these readings afresh. */
export async function updateDoubts(db: Db, gaugeId: string, checkedAt: string): Promise<void> {
  await sql`
    update reading set gauge_doubt_mm = ${doubtOfReading}
    where ${readingsAbout(gaugeId, checkedAt)} and reading.gauge_doubt_mm is distinct from ${doubtOfReading}
  `.execute(db);
}

export async function listMachinesOfBatches(db: Db, batchIds: readonly string[]) {
  return await db
    .selectFrom("batch")
    .select(["batch_id", "machine_id"])
    .where(sql<boolean>`batch_id = any(${batchIds}::bigint[])`)
    .execute();
}
