import { type Insertable, sql, type Updateable } from "kysely";
import type { Db } from "../../db/client.js";
import type { Database } from "../../db/schema.js";

/** The new part, or undefined where this revision of the number exists. */
export function insertPart(db: Db, part: Insertable<Database["part"]>) {
  return db
    .insertInto("part")
    .values(part)
    .onConflict((conflict) => conflict.constraint("part_number_revision_unique").doNothing())
    .returning("part_id")
    .executeTakeFirst();
}

/** Their ids, in the order of `position`. */
export async function insertFeatures(db: Db, features: Insertable<Database["feature"]>[]) {
  const rows = await db
    .insertInto("feature")
    .values(features)
    .returning(["feature_id", "position"])
    .execute();
  return rows.sort((a, b) => a.position - b.position).map(({ feature_id }) => feature_id);
}

export function insertCuts(db: Db, cuts: Insertable<Database["feature_cut"]>[]) {
  return db.insertInto("feature_cut").values(cuts).execute();
}

export function insertOperationLimits(db: Db, limits: Insertable<Database["feature_operation_limits"]>[]) {
  return db.insertInto("feature_operation_limits").values(limits).execute();
}

export function listOperationLimits(db: Db, featureIds: readonly string[]) {
  return db
    .selectFrom("feature_operation_limits")
    .selectAll()
    .where(sql<boolean>`feature_id = any(${featureIds}::bigint[])`)
    .orderBy("feature_id")
    .orderBy("position")
    .execute();
}

export function deleteCuts(db: Db, featureId: string) {
  return db.deleteFrom("feature_cut").where("feature_id", "=", featureId).execute();
}

export function updateFeature(db: Db, featureId: string, change: Updateable<Database["feature"]>) {
  return db.updateTable("feature").set(change).where("feature_id", "=", featureId).execute();
}

export function updatePart(db: Db, partId: string, change: Updateable<Database["part"]>) {
  return db
    .updateTable("part")
    .set(change)
    .where("part_id", "=", partId)
    .returning("part_id")
    .executeTakeFirst();
}

export function findPart(db: Db, partId: string) {
  return db.selectFrom("part").selectAll().where("part_id", "=", partId).executeTakeFirst();
}

/** Parts, oldest first, after `after` (exclusive); at most `limit`. */
export function listParts(db: Db, page: { number: string | undefined; after: string; limit: number }) {
  const { number, after, limit } = page;
  const parts = db
    .selectFrom("part")
    .selectAll()
    .where("part_id", ">", after)
    .orderBy("part_id")
    .limit(limit);
  return (number === undefined ? parts : parts.where("number", "=", number)).execute();
}

export function listFeatures(db: Db, partId: string) {
  return featuresWithUnit(db).where("feature.part_id", "=", partId).orderBy("position").execute();
}

export function findFeature(db: Db, featureId: string) {
  return featuresWithUnit(db).where("feature_id", "=", featureId).executeTakeFirst();
}

/** Likewise, and nobody else changes it until the transaction ends; readings of it may still come in meanwhile. */
export function lockFeature(db: Db, featureId: string) {
  return featuresWithUnit(db)
    .where("feature_id", "=", featureId)
    .forNoKeyUpdate("feature")
    .executeTakeFirst();
}

function featuresWithUnit(db: Db) {
  return db
    .selectFrom("feature")
    .innerJoin("part", "part.part_id", "feature.part_id")
    .selectAll("feature")
    .select("part.unit");
}

export function listCuts(db: Db, featureIds: readonly string[]) {
  return db
    .selectFrom("feature_cut")
    .leftJoin("tool", "tool.tool_id", "feature_cut.tool_id")
    .leftJoin("register", "register.register_id", "feature_cut.register_id")
    .innerJoin("machine", (join) =>
      join.on("machine.machine_id", "=", sql<string>`coalesce(tool.machine_id, register.machine_id)`),
    )
    .selectAll("feature_cut")
    .select("machine.unit as machine_unit")
    .where(sql<boolean>`feature_id = any(${featureIds}::bigint[])`)
    .orderBy("feature_id")
    .orderBy("position")
    .execute();
}

/** Those of the registers that exist, with the kind of their machine. */
export function listRegisters(db: Db, registerIds: readonly string[]) {
  return db
    .selectFrom("register")
    .innerJoin("machine", "machine.machine_id", "register.machine_id")
    .select([
      "register_id",
      "tool_id",
      "label",
      "controls",
      "holds",
      "sign",
      "machine.kind as machine_kind",
      "machine.unit as machine_unit",
    ])
    .where(sql<boolean>`register_id = any(${registerIds}::bigint[])`)
    .execute();
}

/** Those of the tools that exist. */
export function listTools(db: Db, toolIds: readonly string[]) {
  return db
    .selectFrom("tool")
    .select("tool_id")
    .where(sql<boolean>`tool_id = any(${toolIds}::bigint[])`)
    .execute();
}

/** Those of the gauges that exist. */
export function listGauges(db: Db, gaugeIds: readonly string[]) {
  return db
    .selectFrom("gauge")
    .select(["gauge_id", "name", "unit", "resolution_mm", "reference"])
    .where(sql<boolean>`gauge_id = any(${gaugeIds}::bigint[])`)
    .execute();
}
