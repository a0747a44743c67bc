import type { Db } from "../../db/client.js";

export function findFeature(db: Db, featureId: string) {
  return db
    .selectFrom("feature")
    .innerJoin("part", "part.part_id", "feature.part_id")
    .select(["feature.kind", "nominal_mm", "lower_limit_mm", "upper_limit_mm", "target_mm", "part.unit"])
    .where("feature_id", "=", featureId)
    .executeTakeFirst();
}
