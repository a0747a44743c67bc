import type { Db } from "../../db/client.js";
import { type FieldError, problemAt } from "../../http/problem.js";
import { checkCuts, checkGauges, loadShop } from "./check-feature.js";
import { checkDefaults, checkLimits } from "./check-limits.js";
import { checkOperationLimits } from "./check-operation-limits.js";
import { checkSizeOf, type SizeColumns } from "./check-size-of.js";
import type { PartCreate } from "./schemas.js";

/** Everything of a part that follows from what was sent and from the shop, or all that is wrong with it as one problem. */
export async function checkPart(db: Db, { features, ...part }: PartCreate) {
  const shop = await loadShop(db, features);
  const errors: FieldError[] = checkDefaults(part);
  const looked = features.map((feature, position) => {
    const pointer = `/features/${position}`;
    const limits = checkLimits(feature, part, pointer);
    const { kind, gauged = null } = feature;
    const { cuts = [], faults } = checkCuts(feature.cut_by, { kind, gauged }, shop, pointer);
    if (Array.isArray(limits)) errors.push(...limits);
    if (faults) errors.push(...faults);
    const early = Array.isArray(limits)
      ? { faults: [], rows: [] }
      : checkOperationLimits(feature, limits, part, pointer);
    errors.push(...early.faults);
    errors.push(...checkGauges(feature, feature, shop, pointer));
    return { feature, position, limits, cuts, early: early.rows };
  });
  const sizes = looked.map(({ feature, position }): SizeColumns => {
    const size = checkSizeOf(feature, looked, part.unit, `/features/${position}`);
    if (!Array.isArray(size)) return size;
    errors.push(...size);
    return {};
  });
  if (errors.length > 0) throw problemAt("unprocessable", errors);
  const checked = looked.flatMap(({ limits, ...rest }) =>
    Array.isArray(limits) ? [] : [{ ...rest, limits }],
  );
  return { checked, sizes };
}
export type CheckedFeature = Awaited<ReturnType<typeof checkPart>>["checked"][number];
