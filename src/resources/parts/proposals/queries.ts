import type { Insertable, Selectable, Updateable } from "kysely";
import type { Db } from "../../../db/client.js";
import type { Database } from "../../../db/schema.js";

export type PartProposalRow = Selectable<Database["part_proposal"]>;

export function findLayout(db: Db, by: { layout_id?: string | undefined; layout?: string | undefined }) {
  return db
    .selectFrom("log_layout")
    .select(["layout_id", "layout"])
    .where(by.layout_id === undefined ? "name" : "layout_id", "=", by.layout_id ?? by.layout ?? "")
    .executeTakeFirst();
}

/** The new proposal; undefined where the same document is waiting already. */
export function insertPartProposal(db: Db, row: Insertable<Database["part_proposal"]>) {
  return db
    .insertInto("part_proposal")
    .values(row)
    .onConflict((conflict) => conflict.column("fingerprint").where("status", "=", "open").doNothing())
    .returningAll()
    .executeTakeFirst();
}

export function findWaiting(db: Db, fingerprint: string) {
  return db
    .selectFrom("part_proposal")
    .selectAll()
    .where("fingerprint", "=", fingerprint)
    .where("status", "=", "open")
    .executeTakeFirst();
}

export function findPartProposal(db: Db, proposalId: string) {
  return db.selectFrom("part_proposal").selectAll().where("proposal_id", "=", proposalId).executeTakeFirst();
}

export function lockPartProposal(db: Db, proposalId: string) {
  return db
    .selectFrom("part_proposal")
    .selectAll()
    .where("proposal_id", "=", proposalId)
    .forUpdate()
    .executeTakeFirst();
}

export function decidePartProposal(
  db: Db,
  proposalId: string,
  decision: Updateable<Database["part_proposal"]> & { decided_at: string },
) {
  return db
    .updateTable("part_proposal")
    .set(decision)
    .where("proposal_id", "=", proposalId)
    .returningAll()
    .executeTakeFirstOrThrow();
}

/** Proposals, newest first, before `before` (exclusive; 0: the newest); at most `limit`. */
export function listPartProposals(
  db: Db,
  page: { status: PartProposalRow["status"] | undefined; before: string; limit: number },
) {
  const { status, before, limit } = page;
  return db
    .selectFrom("part_proposal")
    .selectAll()
    .$if(before !== "0", (query) => query.where("proposal_id", "<", before))
    .$if(status !== undefined, (query) => query.where("status", "=", status!))
    .orderBy("proposal_id", "desc")
    .limit(limit)
    .execute();
}

/** A part by its number: that revision of it, else the newest one. */
export async function findPartByNumber(db: Db, number: string, revision: string | null) {
  const rows = await db
    .selectFrom("part")
    .select(["part_id", "number", "revision", "unit"])
    .where("number", "=", number)
    .orderBy("part_id", "desc")
    .execute();
  return rows.find((row) => row.revision === revision) ?? rows[0];
}

/** The part that a person has made of an earlier document: of the same part by its persistent id, or of the same characteristics. */
export async function findPartOfEarlier(db: Db, by: { qpid: string | null; characteristics: string }) {
  const accepted = db
    .selectFrom("part_proposal")
    .innerJoin("part", "part.part_id", "part_proposal.part_id")
    .select(["part.part_id", "part.number", "part.revision", "part.unit"])
    .where("status", "=", "accepted")
    .orderBy("proposal_id", "desc")
    .limit(1);
  const byId =
    by.qpid === null ? undefined : await accepted.where("part_qpid", "=", by.qpid).executeTakeFirst();
  return byId ?? (await accepted.where("characteristics", "=", by.characteristics).executeTakeFirst());
}
