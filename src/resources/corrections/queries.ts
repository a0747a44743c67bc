import { type SqlBool, sql } from "kysely";
import type { Db } from "../../db/client.js";

const shown = (db: Db) =>
  db
    .selectFrom("correction")
    .innerJoin("batch", "batch.batch_id", "correction.batch_id")
    .innerJoin("machine", "machine.machine_id", "batch.machine_id")
    .innerJoin("part", "part.part_id", "batch.part_id")
    .leftJoin("register", "register.register_id", "correction.register_id")
    .leftJoin("tool", "tool.tool_id", "correction.tool_id")
    // A correction that is voided says who voided it; who had applied it stands in the entry that it made.
    .leftJoinLateral(
      (eb) =>
        eb
          .selectFrom("register_entry")
          .select(["by_name as applied_by", "created_at as applied_at"])
          .whereRef("register_entry.batch_id", "=", "correction.batch_id")
          .whereRef("register_entry.register_id", "=", "correction.register_id")
          .whereRef("register_entry.correction_no", "=", "correction.correction_no")
          .orderBy("register_entry.entry_id", "desc")
          .limit(1)
          .as("applied"),
      (join) => join.onTrue(),
    )
    .selectAll("correction")
    .select([
      "applied.applied_by",
      "applied.applied_at",
      "batch.name as batch",
      "part.number as part_number",
      "part.revision",
      "tool.name as tool",
      "register.number as register_number",
      "register.label as register_label",
      "machine.unit as machine_unit",
      "machine.machine_id",
    ]);

export interface CorrectionFilter {
  status?: "proposed" | "applied" | "declined" | "superseded" | "settled" | undefined;
  batchId?: string | undefined;
  toolId?: string | undefined;
  registerId?: string | undefined;
  by?: string | undefined;
  from?: string | undefined;
  to?: string | undefined;
  after: [batchId: string, correctionNo: number];
  limit: number;
}

/** Corrections by batch and number, after `after` (exclusive); at most `limit`. */
export function listCorrections(
  db: Db,
  { status, batchId, toolId, registerId, by, from, to, after, limit }: CorrectionFilter,
) {
  const happened = sql<SqlBool>`exists (
    select from (values
      (applied.applied_by, applied.applied_at),
      (correction.by_name, coalesce(correction.ended_at, correction.proposed_at))) as event (by_name, at)
    where ${by === undefined ? sql`true` : sql`event.by_name = ${by}`}
      and event.at >= ${from ?? "-infinity"}::timestamptz and event.at < ${to ?? "infinity"}::timestamptz)`;
  return shown(db)
    .where((eb) =>
      eb(eb.refTuple("correction.batch_id", "correction.correction_no"), ">", eb.tuple(after[0], after[1])),
    )
    .$if(status !== undefined, (query) => query.where("correction.status", "=", status!))
    .$if(batchId !== undefined, (query) => query.where("correction.batch_id", "=", batchId!))
    .$if(toolId !== undefined, (query) => query.where("correction.tool_id", "=", toolId!))
    .$if(registerId !== undefined, (query) => query.where("correction.register_id", "=", registerId!))
    .$if(
      [by, from, to].some((wanted) => wanted !== undefined),
      (query) => query.where(happened),
    )
    .orderBy("correction.batch_id")
    .orderBy("correction.correction_no")
    .limit(limit)
    .execute();
}

export function findCorrection(db: Db, batchId: string, correctionNo: number) {
  return shown(db)
    .where("correction.batch_id", "=", batchId)
    .where("correction.correction_no", "=", correctionNo)
    .executeTakeFirst();
}

interface Changes {
  batchIds: readonly string[];
  numbers: readonly number[];
  registerIds: readonly string[];
  fromPieces: readonly number[];
  fromCuts: readonly number[];
}

const changes = ({ batchIds, numbers, registerIds, fromPieces, fromCuts }: Changes) => sql`
  unnest(${batchIds}::bigint[], ${numbers}::int[], ${registerIds}::bigint[], ${fromPieces}::int[], ${fromCuts}::int[])
    as change (batch_id, correction_no, register_id, from_piece, from_cut)`;

/** From where on the register of each change held another value in its batch: the entry after the change's own. */
const nextEntry = sql`
  select later.from_piece, later.from_cut from register_entry as later
  where later.batch_id = change.batch_id and later.register_id = change.register_id and later.voided_at is null
    and (later.from_piece, later.from_cut) > (change.from_piece, change.from_cut)
  order by later.from_piece, later.from_cut limit 1`;

/** Up to where applied changes counted; one that still does has no line. */
export async function listUntil(db: Db, applied: Changes) {
  const { rows } = await sql<{
    batch_id: string;
    correction_no: number;
    from_piece: number;
    from_cut: number;
  }>`
    select change.batch_id, change.correction_no, next.from_piece, next.from_cut
    from ${changes(applied)} cross join lateral (${nextEntry}) as next
  `.execute(db);
  return rows;
}

const mostPieces = 5;

/** What the first pieces cut with each applied change have read, of each feature named; the first reading of a piece. */
export async function listFound(
  db: Db,
  applied: Changes,
  features: { batchIds: readonly string[]; numbers: readonly number[]; ids: readonly string[] },
) {
  const { rows } = await sql<{
    batch_id: string;
    correction_no: number;
    feature_id: string;
    place: string | null;
    piece: number;
    value_mm: string;
  }>`
    select change.batch_id, change.correction_no, read.*
    from ${changes(applied)}
    join unnest(${features.batchIds}::bigint[], ${features.numbers}::int[], ${features.ids}::bigint[])
      as wanted (batch_id, correction_no, feature_id) using (batch_id, correction_no)
    left join lateral (${nextEntry}) as next on true
    cross join lateral (
      select ranked.feature_id, ranked.place, ranked.piece, ranked.value_mm from (
        select first.*, row_number() over (partition by place order by piece) as rank from (
          select distinct on (place, piece) feature_id, place, piece, value_mm from (
            select feature_id, place, piece, cut, repeat, value_mm - coalesce(gauge_deviation_mm, 0) as value_mm
            from reading
            where batch_id = change.batch_id and feature_id = wanted.feature_id and voided_at is null
              and piece >= change.from_piece and (piece, cut) >= (change.from_piece, change.from_cut)
              and (next.from_piece is null or (piece, cut) < (next.from_piece, next.from_cut))
              and coalesce(piece_within, 1) = 1
            order by piece limit 200
          ) as near order by place, piece, cut desc, repeat
        ) as first
      ) as ranked where rank <= ${mostPieces}
    ) as read
    order by change.batch_id, change.correction_no, read.feature_id, read.place, read.piece
  `.execute(db);
  return rows;
}

export interface Ending {
  status: "applied" | "declined" | "settled" | "superseded";
  from_piece?: number;
  from_cut?: number;
  value_found_mm?: string;
  value_set_mm?: string;
  was_withdrawn?: boolean;
  found?: string;
  reason?: string | null;
  by_name: string | null;
}

export async function endCorrection(
  db: Db,
  batchId: string,
  correctionNo: number,
  ending: Ending,
): Promise<void> {
  await db
    .updateTable("correction")
    .set({ ...ending, ended_at: sql<string>`now()` })
    .where("batch_id", "=", batchId)
    .where("correction_no", "=", correctionNo)
    .execute();
}

/** Where a register's last entry in a batch begins: what is found at the control has been there since. */
export function findLastEntry(
  db: Db,
  registerId: string,
  upTo: { batchId: string; fromPiece: number; fromCut: number },
) {
  return db
    .selectFrom("register_entry")
    .select(["from_piece", "from_cut"])
    .where("batch_id", "=", upTo.batchId)
    .where("register_id", "=", registerId)
    .where("voided_at", "is", null)
    .where((eb) => eb(eb.refTuple("from_piece", "from_cut"), "<=", eb.tuple(upTo.fromPiece, upTo.fromCut)))
    .orderBy("from_piece", "desc")
    .orderBy("from_cut", "desc")
    .orderBy("entry_id", "desc")
    .limit(1)
    .executeTakeFirst();
}

/** An entry of a register after `at` that counts from a piece still to be cut. */
export function findEntryAhead(
  db: Db,
  registerId: string,
  at: { batchId: string; fromPiece: number; fromCut: number; lastPieceCut: number },
) {
  return db
    .selectFrom("register_entry")
    .select(["entry_id", "from_piece", "value_mm"])
    .where("batch_id", "=", at.batchId)
    .where("register_id", "=", registerId)
    .where("voided_at", "is", null)
    .where("from_piece", ">", at.lastPieceCut)
    .where((eb) => eb(eb.refTuple("from_piece", "from_cut"), ">", eb.tuple(at.fromPiece, at.fromCut)))
    .orderBy("from_piece")
    .orderBy("from_cut")
    .orderBy("entry_id")
    .limit(1)
    .executeTakeFirst();
}

/** Voids the entries that an applied correction made, those in other batches too; answers from where they counted. */
export async function voidEntriesOf(
  db: Db,
  batchId: string,
  correctionNo: number,
  about: { reason: string; by: string | null },
) {
  const { rows } = await sql<{ batch_id: string; from_piece: number }>`
    with own as (
      select entry_id from register_entry where batch_id = ${batchId} and correction_no = ${correctionNo}
    )
    update register_entry set voided_at = now(), void_reason = ${about.reason}, voided_by = ${about.by}
    where voided_at is null and (entry_id in (select entry_id from own) or follows_entry_id in (select entry_id from own))
    returning batch_id, from_piece
  `.execute(db);
  return rows;
}
