import { sql } from "kysely";
import type { Db } from "../../db/client.js";

const shown = (db: Db) =>
  db
    .selectFrom("correction")
    .innerJoin("batch", "batch.batch_id", "correction.batch_id")
    .innerJoin("machine", "machine.machine_id", "batch.machine_id")
    .leftJoin("register", "register.register_id", "correction.register_id")
    .selectAll("correction")
    .select([
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
  after: [batchId: string, correctionNo: number];
  limit: number;
}

/** Corrections by batch and number, after `after` (exclusive); at most `limit`. */
export function listCorrections(
  db: Db,
  { status, batchId, toolId, registerId, after, limit }: CorrectionFilter,
) {
  return shown(db)
    .where((eb) =>
      eb(eb.refTuple("correction.batch_id", "correction.correction_no"), ">", eb.tuple(after[0], after[1])),
    )
    .$if(status !== undefined, (query) => query.where("correction.status", "=", status!))
    .$if(batchId !== undefined, (query) => query.where("correction.batch_id", "=", batchId!))
    .$if(toolId !== undefined, (query) => query.where("correction.tool_id", "=", toolId!))
    .$if(registerId !== undefined, (query) => query.where("correction.register_id", "=", registerId!))
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
