import { sql } from "kysely";
import type { Db } from "../../db/client.js";

export function findGauges(db: Db, ids: readonly string[]) {
  return db
    .selectFrom("gauge")
    .select(["gauge_id", "name", "unit"])
    .where(sql<boolean>`gauge_id = any(${ids}::bigint[])`)
    .execute();
}

const mostPairs = 2000;

/**
 * What two gauges read on the same cut of the same piece at the same place, each the mean of its repeats in whole steps; the
 * latest pieces first, at most `mostPairs`. Readings that were voided, implausible or gave no number are left out.
 */
export async function listPairs(
  db: Db,
  about: { first: string; second: string; featureId: string | null; from: string | null; to: string | null },
) {
  const { rows } = await sql<{
    first_pm: string;
    second_pm: string;
    batch_id: string;
    piece: number;
    all_pairs: number;
  }>`
    with mine as (
      select batch_id, feature_id, piece, cut, coalesce(place, '') as place, avg(value_mm) as value_mm
      from reading
      where gauge_id = ${about.first} and voided_at is null and value_mm is not null and not 'implausible' = any(flags)
        and piece_within is null
        and (${about.featureId}::bigint is null or feature_id = ${about.featureId}::bigint)
        and (${about.from}::timestamptz is null or coalesce(measured_at, received_at) >= ${about.from}::timestamptz)
        and (${about.to}::timestamptz is null or coalesce(measured_at, received_at) < ${about.to}::timestamptz)
      group by 1, 2, 3, 4, 5
    )
    select round(mine.value_mm * 1000000000)::text as first_pm, round(theirs.value_mm * 1000000000)::text as second_pm,
      mine.batch_id, mine.piece, (count(*) over ())::int as all_pairs
    from mine
    join feature using (feature_id)
    cross join lateral (
      select avg(value_mm) as value_mm from reading
      where reading.batch_id = mine.batch_id and reading.feature_id = mine.feature_id and reading.piece = mine.piece
        and reading.cut = mine.cut and coalesce(reading.place, '') = mine.place and reading.gauge_id = ${about.second}
        and voided_at is null and value_mm is not null and not 'implausible' = any(flags) and piece_within is null
    ) as theirs
    where theirs.value_mm is not null and feature.kind not in ('count', 'position', 'form', 'roughness')
    order by mine.batch_id desc, mine.piece desc limit ${mostPairs}
  `.execute(db);
  return rows;
}
