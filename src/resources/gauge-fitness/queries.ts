import { sql } from "kysely";
import type { Db } from "../../db/client.js";

/** A feature with the limits that hold in an operation, absent the one that it is made in; else with those of the drawing. */
export function findFeature(db: Db, featureId: string, operation: string | null) {
  return db
    .selectFrom("feature")
    .innerJoin("part", "part.part_id", "feature.part_id")
    .leftJoin("feature_operation_limits as early", (join) =>
      join
        .onRef("early.feature_id", "=", "feature.feature_id")
        .on(sql<boolean>`early.operation = coalesce(${operation}::text, feature.operation)`),
    )
    .select((eb) => [
      eb.fn.coalesce("early.nominal_mm", "feature.nominal_mm").as("nominal_mm"),
      limit("lower_limit_mm").as("lower_limit_mm"),
      limit("upper_limit_mm").as("upper_limit_mm"),
      eb.fn.coalesce("early.target_mm", "feature.target_mm").as("target_mm"),
      "early.operation as early_operation",
      "characteristic",
      "feature.kind",
      "material_condition",
      "size_characteristic",
      "size_kind",
      "size_lower_limit_mm",
      "size_upper_limit_mm",
      "gauged",
      "thread_standard",
      "rework",
      "geometric_characteristic",
      "part.decision_rule as rule",
      "part.guard_band_factor",
      "part.unit as part_unit",
    ])
    .where("feature.feature_id", "=", featureId)
    .executeTakeFirst();
}

/** An operation's limits may be one-sided where the drawing's are not. */
function limit(side: "lower_limit_mm" | "upper_limit_mm") {
  return sql<
    string | null
  >`case when early.operation is null then ${sql.ref(`feature.${side}`)} else ${sql.ref(`early.${side}`)} end`;
}
