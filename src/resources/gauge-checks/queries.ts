import { type Insertable, sql } from "kysely";
import type { FeatureKind } from "../../core/feature-kind.js";
import type { Db } from "../../db/client.js";
import type { Database } from "../../db/schema.js";

/** Nobody else enters or voids checks of this gauge until the transaction ends. */
export function lockGauge(db: Db, gaugeId: string) {
  return db
    .selectFrom("gauge")
    .selectAll()
    .where("gauge_id", "=", gaugeId)
    .forNoKeyUpdate()
    .executeTakeFirst();
}

export function findGauge(db: Db, gaugeId: string) {
  return db.selectFrom("gauge").selectAll().where("gauge_id", "=", gaugeId).executeTakeFirst();
}

/** The new check, or undefined where the gauge has one at that very instant. */
export function insertCheck(db: Db, check: Insertable<Database["gauge_check"]>) {
  return db
    .insertInto("gauge_check")
    .values(check)
    .onConflict((conflict) =>
      conflict.columns(["gauge_id", "checked_at"]).where("voided_at", "is", null).doNothing(),
    )
    .returningAll()
    .executeTakeFirst();
}

export function findCheck(db: Db, gaugeId: string, checkId: string) {
  return db
    .selectFrom("gauge_check")
    .selectAll()
    .where("gauge_id", "=", gaugeId)
    .where("gauge_check_id", "=", checkId)
    .executeTakeFirst();
}

/** Marks a check as voided; undefined where it was before. */
export function voidCheck(db: Db, checkId: string, about: { reason: string; by: string | null }) {
  return db
    .updateTable("gauge_check")
    .set({ voided_at: sql<string>`now()`, void_reason: about.reason, voided_by: about.by })
    .where("gauge_check_id", "=", checkId)
    .where("voided_at", "is", null)
    .returningAll()
    .executeTakeFirst();
}

/** Checks of a gauge, the latest time first; at most `limit` from the place of the page on. */
export function listChecks(db: Db, page: { gaugeId: string; before: Keys | undefined; limit: number }) {
  const { gaugeId, before, limit } = page;
  return db
    .selectFrom("gauge_check")
    .selectAll()
    .where("gauge_id", "=", gaugeId)
    .$if(before !== undefined, (query) =>
      query.where(
        sql<boolean>`(checked_at, gauge_check_id) < (${instant(before!.at)}, ${before!.id}::bigint)`,
      ),
    )
    .orderBy("checked_at", "desc")
    .orderBy("gauge_check_id", "desc")
    .limit(limit)
    .execute();
}
interface Keys {
  /** Milliseconds since 1970. */
  at: string;
  id: string;
}

function instant(milliseconds: string) {
  return sql`to_timestamp(${milliseconds}::numeric / 1000)`;
}

/** The check in force before an instant. */
export async function findCheckBefore(db: Db, gaugeId: string, at: string): Promise<string | null> {
  const row = await db
    .selectFrom("gauge_check")
    .select("checked_at")
    .where("gauge_id", "=", gaugeId)
    .where("voided_at", "is", null)
    .where("checked_at", "<", at)
    .orderBy("checked_at", "desc")
    .limit(1)
    .executeTakeFirst();
  return row?.checked_at ?? null;
}

const taken = sql<string>`coalesce(reading.measured_at, reading.received_at)`;

/**
 * Readings between the checks before and after this one that are in doubt by it, with what the size is by its error: `low`
 * and `high` are the same where the direction is known.
 */
function doubted(check: { gauge_id: string; checked_at: string; gauge_check_id: string }) {
  const neighbour = (which: "max" | "min", compare: "<" | ">", none: string) => sql`coalesce((
    select ${sql.raw(which)}(checked_at) from gauge_check
    where gauge_id = ${check.gauge_id} and voided_at is null and checked_at ${sql.raw(compare)} ${check.checked_at}::timestamptz
  ), ${none}::timestamptz)`;
  return sql`
    select reading.batch_id, reading.reading_no, reading.feature_id, reading.piece, reading.cut, reading.place,
      reading.value_mm - coalesce(reading.gauge_deviation_mm, 0) as value_mm, ${taken} as taken_at,
      feature.characteristic,
      case when early.operation is null then feature.lower_limit_mm else early.lower_limit_mm end as lower_limit_mm,
      case when early.operation is null then feature.upper_limit_mm + coalesce(reading.bonus_mm, 0)
        else early.upper_limit_mm end as upper_limit_mm,
      feature.kind,
      c.direction_known,
      c.error_mm - coalesce(reading.gauge_error_mm, 0) - coalesce(reading.gauge_deviation_mm, 0) as left_mm
    from reading
    join feature using (feature_id)
    join batch on batch.batch_id = reading.batch_id
    left join feature_operation_limits early
      on early.feature_id = reading.feature_id and early.operation = batch.operation
    join gauge_check c on c.gauge_check_id = ${check.gauge_check_id}
    where reading.gauge_id = ${check.gauge_id}
      and ${taken} >= ${neighbour("max", "<", "-infinity")} and ${taken} < ${neighbour("min", ">", "infinity")}
      and reading.gauge_doubt_mm is not null and reading.voided_at is null
      and reading.value_mm is not null and feature.kind <> 'count' -- what passes or fails is not judged by an error
      and abs(c.error_mm - coalesce(reading.gauge_error_mm, 0)) > c.allowed_mm`;
}

const mostBatches = 100;

/** The batches with readings in doubt, latest first, with how many of those change sides or may; and the totals of all. */
export async function sumUpDoubt(
  db: Db,
  check: { gauge_id: string; checked_at: string; gauge_check_id: string },
) {
  const side = (size: string) =>
    sql.raw(`(case when ${size} < lower_limit_mm then -1 when ${size} > upper_limit_mm then 1 else 0 end)`);
  const { rows } = await sql<{
    batch_id: string;
    batch: string;
    part_number: string;
    revision: string;
    readings: number;
    pieces: number;
    first_piece: number;
    last_piece: number;
    turned: number;
    open: number;
    closed: boolean;
    all_readings: number;
    all_turned: number;
    all_open: number;
    all_batches: number;
  }>`
    with doubted as (${doubted(check)}), judged as (
      select batch_id, piece,
        direction_known and (${side("value_mm")} = 0) <> (${side("(value_mm - left_mm)")} = 0) as turns,
        not direction_known and ${side("(value_mm - left_mm)")} <> ${side("(value_mm + left_mm)")} as opens
      from doubted
    ), batches as (
      select batch_id, count(*)::int as readings, count(distinct piece)::int as pieces, min(piece) as first_piece,
        max(piece) as last_piece, count(*) filter (where turns)::int as turned, count(*) filter (where opens)::int as open
      from judged group by batch_id
    )
    select batches.*, batch.name as batch, part.number as part_number, part.revision,
      batch.closed_at is not null as closed, (sum(readings) over ())::int as all_readings,
      (sum(turned) over ())::int as all_turned, (sum(open) over ())::int as all_open,
      (count(*) over ())::int as all_batches
    from batches join batch using (batch_id) join part using (part_id)
    order by batch_id desc limit ${mostBatches}
  `.execute(db);
  return rows;
}

/** Readings in doubt by a check, oldest first, after the place of the page; at most `limit`. */
export async function listDoubted(
  db: Db,
  check: { gauge_id: string; checked_at: string; gauge_check_id: string },
  page: { at: string; batchId: string; readingNo: string; limit: number },
) {
  const { rows } = await sql<{
    batch_id: string;
    reading_no: number;
    feature_id: string;
    piece: number;
    cut: number;
    place: string | null;
    value_mm: string;
    taken_at: string;
    characteristic: string;
    kind: FeatureKind;
    lower_limit_mm: string | null;
    upper_limit_mm: string | null;
    direction_known: boolean;
    left_mm: string;
    unit: "mm" | "inch";
  }>`
    select doubted.*, part.unit from (${doubted(check)}) as doubted
    join batch using (batch_id) join part using (part_id)
    where (taken_at, batch_id, reading_no) > (${instant(page.at)}, ${page.batchId}::bigint, ${page.readingNo}::int)
    order by taken_at, batch_id, reading_no limit ${page.limit}
  `.execute(db);
  return rows;
}
