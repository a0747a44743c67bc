import { type Insertable, type Selectable, sql } from "kysely";
import type { Db } from "../../db/client.js";
import type { Database } from "../../db/schema.js";

export type ProposalRow = Selectable<Database["tool_proposal"]>;

export function findMachine(db: Db, machineId: string) {
  return db
    .selectFrom("machine")
    .select(["machine_id", "name", "unit", "largest_change_mm", "least_increment_mm"])
    .where("machine_id", "=", machineId)
    .executeTakeFirst();
}

export function listTools(db: Db, machineId: string) {
  return db
    .selectFrom("tool")
    .select(["tool_id", "number", "name", "nominal_diameter_mm", "life_pieces"])
    .where("machine_id", "=", machineId)
    .orderBy("number")
    .execute();
}

/** Wear registers of a machine's tools; work offsets are no tool's. */
export function listToolRegisters(db: Db, machineId: string) {
  return db
    .selectFrom("register")
    .select(["register_id", "tool_id", "number", "label", "controls", "holds"])
    .where("machine_id", "=", machineId)
    .where("tool_id", "is not", null)
    .orderBy("register_id")
    .execute();
}

/** Assets that a person has accepted, the latest of each tool first. */
export function listAssets(db: Db, machineId: string) {
  return db
    .selectFrom("tool_asset")
    .select(["asset_id", "tool_id", "serial"])
    .where("machine_id", "=", machineId)
    .orderBy("accepted_at", "desc")
    .orderBy("asset_id")
    .execute();
}

/** The new proposal; undefined where the same document is waiting already. */
export function insertProposal(db: Db, proposal: Insertable<Database["tool_proposal"]>) {
  return db
    .insertInto("tool_proposal")
    .values(proposal)
    .onConflict((conflict) =>
      conflict.columns(["machine_id", "fingerprint"]).where("status", "=", "open").doNothing(),
    )
    .returningAll()
    .executeTakeFirst();
}

/** The proposal of a document that is waiting for a person; what it says is brought up to date. */
export function updateWaiting(
  db: Db,
  proposal: Pick<Insertable<Database["tool_proposal"]>, "machine_id" | "fingerprint" | "items">,
) {
  return db
    .updateTable("tool_proposal")
    .set({ items: proposal.items })
    .where("machine_id", "=", proposal.machine_id)
    .where("fingerprint", "=", proposal.fingerprint)
    .where("status", "=", "open")
    .returningAll()
    .executeTakeFirst();
}

export function findProposal(db: Db, proposalId: string) {
  return db.selectFrom("tool_proposal").selectAll().where("proposal_id", "=", proposalId).executeTakeFirst();
}

export function lockProposal(db: Db, proposalId: string) {
  return db
    .selectFrom("tool_proposal")
    .selectAll()
    .where("proposal_id", "=", proposalId)
    .forUpdate()
    .executeTakeFirst();
}

/** Proposals, newest first, before `before` (exclusive; "0": from the newest on); at most `limit`. */
export function listProposals(
  db: Db,
  filter: {
    machineId: string | undefined;
    status: ProposalRow["status"] | undefined;
    before: string;
    limit: number;
  },
) {
  const { machineId, status, before, limit } = filter;
  return db
    .selectFrom("tool_proposal")
    .selectAll()
    .$if(machineId !== undefined, (query) => query.where("machine_id", "=", machineId!))
    .$if(status !== undefined, (query) => query.where("status", "=", status!))
    .$if(before !== "0", (query) => query.where("proposal_id", "<", before))
    .orderBy("proposal_id", "desc")
    .limit(limit)
    .execute();
}

export function decideProposal(
  db: Db,
  proposalId: string,
  decided: {
    status: "accepted" | "declined";
    by: string;
    reason?: string;
    choices?: string;
    outcome?: string;
  },
) {
  const { status, by, reason = null, choices = null, outcome = null } = decided;
  return db
    .updateTable("tool_proposal")
    .set({ status, by_name: by, reason, choices, outcome, decided_at: sql<string>`now()` })
    .where("proposal_id", "=", proposalId)
    .returningAll()
    .executeTakeFirstOrThrow();
}

export function updateTool(
  db: Db,
  toolId: string,
  change: { nominal_diameter_mm?: string; life_pieces?: number },
) {
  return db.updateTable("tool").set(change).where("tool_id", "=", toolId).execute();
}

/** Remembers which of our tools an asset is, as from now. */
export function keepAsset(db: Db, asset: Insertable<Database["tool_asset"]>) {
  return db
    .insertInto("tool_asset")
    .values(asset)
    .onConflict((conflict) =>
      conflict
        .columns(["machine_id", "asset_id"])
        .doUpdateSet({ tool_id: asset.tool_id, serial: asset.serial, accepted_at: sql<string>`now()` }),
    )
    .execute();
}
