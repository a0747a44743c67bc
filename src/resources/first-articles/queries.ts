import { type Insertable, type Selectable, sql } from "kysely";
import type { Db } from "../../db/client.js";
import type { Database } from "../../db/schema.js";

export type FirstArticleRow = Selectable<Database["first_article"]>;

export function findPart(db: Db, partId: string) {
  return db.selectFrom("part").selectAll().where("part_id", "=", partId).executeTakeFirst();
}

/** Features of a part as the drawing gives them, in its order. */
export function listDrawn(db: Db, partId: string) {
  return db.selectFrom("feature").selectAll().where("part_id", "=", partId).orderBy("position").execute();
}

export function listBatches(db: Db, batchIds: readonly string[]) {
  return db
    .selectFrom("batch")
    .select(["batch_id", "name", "operation", "part_id", "last_piece_cut"])
    .where("batch_id", "in", batchIds)
    .execute();
}

/** The new first article; undefined where its number is taken. */
export function insertFirstArticle(db: Db, row: Insertable<Database["first_article"]>) {
  return db
    .insertInto("first_article")
    .values(row)
    .onConflict((conflict) => conflict.constraint("first_article_number_unique").doNothing())
    .returningAll()
    .executeTakeFirst();
}

export function findFirstArticle(db: Db, id: string) {
  return db.selectFrom("first_article").selectAll().where("first_article_id", "=", id).executeTakeFirst();
}

export function listFirstArticles(
  db: Db,
  page: { partId: string | undefined; after: string; limit: number },
) {
  const { partId, after, limit } = page;
  return db
    .selectFrom("first_article")
    .selectAll()
    .where("first_article_id", ">", after)
    .$if(partId !== undefined, (query) => query.where("part_id", "=", partId!))
    .orderBy("first_article_id")
    .limit(limit)
    .execute();
}

/** Partial ones that build on a first article, or on one that does; oldest first, without those that were voided. */
export async function listFollowing(db: Db, id: string): Promise<FirstArticleRow[]> {
  const { rows } = await sql<FirstArticleRow>`
    with recursive following as (
      select * from first_article where baseline_id = ${id} and voided_at is null
      union
      select next.* from first_article as next join following on next.baseline_id = following.first_article_id
      where next.voided_at is null
    )
    select * from following order by first_article_id
  `.execute(db);
  return rows;
}

export function voidFirstArticle(db: Db, id: string, about: { reason: string; by: string | null }) {
  return db
    .updateTable("first_article")
    .set({ voided_at: sql<string>`now()`, void_reason: about.reason, voided_by: about.by })
    .where("first_article_id", "=", id)
    .where("voided_at", "is", null)
    .returningAll()
    .executeTakeFirst();
}

/** Numbers of nonconformance reports that decisions about some pieces name, the latest decision last. */
export async function listNonconformances(
  db: Db,
  pieces: readonly { batch_id: string; piece: number }[],
): Promise<{ batch_id: string; piece: number; nonconformance: string }[]> {
  const { rows } = await sql<{ batch_id: string; piece: number; nonconformance: string }>`
    select t.batch_id, t.piece, decided.nonconformance
    from unnest(${pieces.map((p) => p.batch_id)}::bigint[], ${pieces.map((p) => p.piece)}::int[]) as t (batch_id, piece)
    join piece_decision as decided on decided.batch_id = t.batch_id and decided.voided_at is null
      and t.piece between decided.from_piece and decided.to_piece and decided.nonconformance is not null
    order by decided.decision_id
  `.execute(db);
  return rows;
}

export function listGaugeNames(db: Db, gaugeIds: readonly string[]) {
  if (gaugeIds.length === 0) return Promise.resolve([]);
  return db.selectFrom("gauge").select(["gauge_id", "name"]).where("gauge_id", "in", gaugeIds).execute();
}

/** When the last reading of a part was taken, before an instant; its latest batches are asked, by the last reading of each. */
export async function findLastProduced(db: Db, partId: string, before: string): Promise<string | null> {
  const { rows } = await sql<{ at: string | null }>`
    select max(taken.at) as at
    from (select batch_id from batch where part_id = ${partId} order by batch_id desc limit 20) as latest
    cross join lateral (
      select coalesce(measured_at, received_at) as at from reading
      where batch_id = latest.batch_id and voided_at is null order by reading_no desc limit 1
    ) as taken
    where taken.at < ${before}
  `.execute(db);
  return rows[0]?.at ?? null;
}

/** First articles of a part number whatever its revision, that nobody voided. */
export function listOfNumber(db: Db, number: string) {
  return db
    .selectFrom("first_article")
    .innerJoin("part", "part.part_id", "first_article.part_id")
    .select([
      "first_article.first_article_id",
      "first_article.part_id",
      "first_article.extent",
      "part.revision",
    ])
    .where("part.number", "=", number)
    .where("first_article.voided_at", "is", null)
    .orderBy("first_article.first_article_id")
    .execute();
}

/** Machines on which a part was made in batches after some, other than those of these. */
export async function listOtherMachines(db: Db, partId: string, batchIds: readonly string[]) {
  const { rows } = await sql<{ machine: string; operation: string | null }>`
    select distinct machine.name as machine, batch.operation
    from batch join machine using (machine_id)
    where batch.part_id = ${partId} and batch.batch_id > ${batchIds.at(-1)!}::bigint and not exists (
      select from batch as known where known.batch_id = any(${batchIds}::bigint[])
        and known.machine_id = batch.machine_id and known.operation is not distinct from batch.operation)
    order by machine.name limit 10
  `.execute(db);
  return rows;
}

/** What happened in batches of a part since an instant that may call for a new first article. */
export async function listEventsSince(db: Db, partId: string, since: string) {
  const { rows } = await sql<{ kind: string; batch: string; from_piece: number; note: string | null }>`
    select distinct on (interruption.kind) interruption.kind, batch.name as batch, interruption.from_piece, interruption.note
    from interruption join batch using (batch_id)
    where batch.part_id = ${partId} and interruption.voided_at is null and interruption.created_at > ${since}
      and interruption.kind in ('material_change', 'fixture_change', 'program_change')
    order by interruption.kind, interruption.interruption_id desc
  `.execute(db);
  return rows;
}
