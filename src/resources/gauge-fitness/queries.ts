import type { Db } from "../../db/client.js";

export function findFeature(db: Db, featureId: string) {
  return db
    .selectFrom("feature")
    .innerJoin("part", "part.part_id", "feature.part_id")
    .select([
      "characteristic",
      "feature.kind",
      "nominal_mm",
      "lower_limit_mm",
      "upper_limit_mm",
      "target_mm",
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
    .where("feature_id", "=", featureId)
    .executeTakeFirst();
}
