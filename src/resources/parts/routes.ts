import { isAttribute, isSize, shownUnitOf } from "../../core/feature-kind.js";
import { fromNumeric, type LengthUnit, type MeasureUnit, toNumeric, toUnit } from "../../core/quantity.js";
import type { Db, Trx } from "../../db/client.js";
import { transact } from "../../db/transact.js";
import { refreshPart, replanPart } from "../../decision/replan.js";
import { showExpansion, storeExpansion } from "../../http/expansion.js";
import { WriteHeaders, write } from "../../http/idempotency.js";
import { lengthPm, showLength, storeLength } from "../../http/lengths.js";
import { readCursor, toPage } from "../../http/pagination.js";
import { answer, type FieldError, ProblemError, problemAt, problems } from "../../http/problem.js";
import { type App, type Length, refuseDms } from "../../http/types.js";
import { checkCuts, checkGauges, loadShop } from "./check-feature.js";
import { explainLimits, limitsOfKind } from "./check-limits.js";
import { showOperationLimits } from "./check-operation-limits.js";
import { type CheckedFeature, checkPart } from "./check-part.js";
import {
  deleteCuts,
  findFeature,
  findPart,
  insertCuts,
  insertFeatures,
  insertOperationLimits,
  insertPart,
  listCuts,
  listFeatures,
  listOperationLimits,
  listParts,
  lockFeature,
  updateFeature,
  updatePart,
} from "./queries.js";
import {
  Feature,
  FeatureChange,
  type FeatureCreate,
  FeaturePath,
  Part,
  PartChange,
  PartCreate,
  PartList,
  PartPath,
  PartQuery,
  type PartSummary,
  PartTrial,
} from "./schemas.js";

type PartRow = NonNullable<Awaited<ReturnType<typeof findPart>>>;
type FeatureRow = NonNullable<Awaited<ReturnType<typeof findFeature>>>;
type CutRow = Awaited<ReturnType<typeof listCuts>>[number];

export async function partRoutes(app: App, { db }: { db: Db }) {
  app.post("/parts", {
    schema: {
      operationId: "createPart",
      summary: "Set up a part with its features",
      tags: ["parts"],
      headers: WriteHeaders,
      body: PartCreate,
      response: {
        201: answer("The part as it is kept", Part),
        ...problems({
          409: "This revision of the number exists, or the same request is still being worked on",
          422: "Limits that cross, a target on or outside them, a fit or general tolerance that the standard does not give for the size, a fit for the other side or kind, a nominal whose places the title block lacks, a register, tool or gauge that does not exist, an effect that does not follow from the set-up, a reference gauge that may not prove a size; or the Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => ({ status: 201, body: await createPart(trx, request.body) })),
  });

  app.post("/parts/trials", {
    schema: {
      operationId: "tryPart",
      summary: "Show what a part would be: limits, targets and which way offsets move it; nothing is kept",
      description:
        "For who enters a drawing: the limits that a fit or general tolerance gives, and how far adding to an offset moves each feature, before the part is set up. What is wrong is answered as it is by POST /v1/parts, save that whether the revision exists is not looked up.",
      tags: ["parts"],
      body: PartCreate,
      response: {
        200: answer("What the part would be", PartTrial),
        ...problems({ 422: "What POST /v1/parts would refuse" }),
      },
    },
    handler: async ({ body }) => {
      const { checked } = await checkPart(db, body);
      return { features: checked.map((feature) => toTrial(feature, body.unit)) };
    },
  });

  app.get("/parts", {
    schema: {
      operationId: "listParts",
      summary: "List the parts, without their features",
      tags: ["parts"],
      querystring: PartQuery,
      response: { 200: answer("Parts, oldest first", PartList) },
    },
    handler: async ({ query }) => {
      const [after = "0"] = readCursor(query.cursor, 1);
      const rows = await listParts(db, { number: query.number, after, limit: query.limit + 1 });
      return toPage(rows, query.limit, ({ part_id }) => [part_id], toSummary);
    },
  });

  app.get("/parts/:part_id", {
    schema: {
      operationId: "getPart",
      summary: "Show one part with its features",
      tags: ["parts"],
      params: PartPath,
      response: { 200: answer("The part", Part), ...problems({ 404: "There is no such part" }) },
    },
    handler: ({ params }) => showPart(db, params.part_id),
  });

  app.patch("/parts/:part_id", {
    schema: {
      operationId: "updatePart",
      summary: "Say what a part is made of, how far it grows with heat, or how closely it is checked",
      description:
        "Counts for readings and check plans from now on; readings taken before keep their size. All else only changes with a new revision.",
      tags: ["parts"],
      params: PartPath,
      body: PartChange,
      response: {
        200: answer("The part as it is kept now", Part),
        ...problems({ 404: "There is no such part" }),
      },
    },
    handler: ({ params, body }) => transact(db, (trx) => changePart(trx, params.part_id, body)),
  });

  app.get("/features/:feature_id", {
    schema: {
      operationId: "getFeature",
      summary: "Show one feature",
      tags: ["features"],
      params: FeaturePath,
      response: { 200: answer("The feature", Feature), ...problems({ 404: "There is no such feature" }) },
    },
    handler: ({ params }) => showFeature(db, params.feature_id),
  });

  app.patch("/features/:feature_id", {
    schema: {
      operationId: "updateFeature",
      summary: "Change what cuts a feature, its gauges, target, importance, places, or where it lies",
      description:
        "Limits, decision rule, kind and nominal size only change with a new revision of the part.",
      tags: ["features"],
      params: FeaturePath,
      body: FeatureChange,
      response: {
        200: answer("The feature as it is kept now", Feature),
        ...problems({
          404: "There is no such feature",
          422: "A target on or outside the limits, a register, tool or gauge that does not exist, an effect that does not follow from the set-up, or a reference gauge that may not prove a size",
        }),
      },
    },
    handler: ({ params, body }) => transact(db, (trx) => changeFeature(trx, params.feature_id, body)),
  });
}

export async function createPart(trx: Db, body: PartCreate): Promise<Part> {
  const { features: _, ...part } = body;
  const { checked, sizes } = await checkPart(trx, body);

  const stored = await insertPart(trx, {
    ...part,
    name: part.name ?? null,
    material: part.material ?? null,
    general_tolerance: part.general_tolerance ?? null,
    title_block: storeTitleBlock(part),
    ...storeExpansion(part),
  });
  if (!stored) {
    throw problemAt("conflict", [
      {
        pointer: "/revision",
        detail: `part "${part.number}" revision "${part.revision}" exists already: use that one (GET /v1/parts?number=${encodeURIComponent(part.number)}) or send the next revision`,
      },
    ]);
  }
  const rows = checked.map(({ feature, position, limits }) => ({
    ...limits,
    ...toColumns(feature, part.unit),
    ...sizes[position],
    part_id: stored.part_id,
    position,
  }));
  const featureIds = await insertFeatures(trx, rows);
  const cuts = checked.flatMap(({ cuts, position }) =>
    cuts.map((cut) => ({ ...cut, feature_id: featureIds[position] ?? "" })),
  );
  if (cuts.length > 0) await insertCuts(trx, cuts);
  const early = checked.flatMap((feature) =>
    feature.early.map((row) => ({ ...row, feature_id: featureIds[feature.position] ?? "" })),
  );
  if (early.length > 0) await insertOperationLimits(trx, early);
  return showPart(trx, stored.part_id);
}

function toTrial({ feature, limits, cuts }: CheckedFeature, partUnit: PartCreate["unit"]) {
  const unit = shownUnitOf(feature.kind, partUnit);
  const isJudged = !isAttribute(feature.kind);
  return {
    characteristic: feature.characteristic,
    unit: unit === "1" ? null : unit,
    limits_from: isJudged ? limits.limits_from : null,
    lower_limit: showLength(limits.lower_limit_mm, unit),
    upper_limit: showLength(limits.upper_limit_mm, unit),
    target: isJudged ? showLength(limits.target_mm, unit) : null,
    cut_by: cuts.map(({ tool_id, register_id, effect }) => ({ tool_id, register_id, effect })),
  };
}

function storeTitleBlock({ title_block, unit }: Omit<PartCreate, "features">): string | null {
  if (!title_block) return null;
  return JSON.stringify(
    title_block.map(({ places, plus_minus }) => ({ places, plus_minus_mm: storeLength(plus_minus, unit) })),
  );
}

function toColumns(feature: FeatureCreate, unit: LengthUnit) {
  return {
    geometric_characteristic: feature.geometric_characteristic ?? null,
    roughness_parameter: feature.roughness_parameter ?? null,
    gauged: feature.gauged ?? null,
    thread_standard: feature.thread_standard ?? null,
    shorter_leg_mm: storeLength(feature.shorter_leg, unit),
    toleranced_length_mm: storeLength(feature.toleranced_length, unit),
    rework: feature.rework ?? null,
    characteristic: feature.characteristic,
    name: feature.name ?? null,
    kind: feature.kind,
    operation: feature.operation ?? null,
    importance: feature.importance,
    decision_rule: feature.decision_rule ?? null,
    guard_band_factor: feature.guard_band_factor ?? null,
    gauge_id: feature.gauge_id ?? null,
    places: feature.places ?? null,
    drawing_zone: feature.drawing_zone ?? null,
    reference_gauge_id: feature.reference_gauge_id ?? null,
    pattern_name: feature.pattern?.name ?? null,
    pattern_order: feature.pattern?.order ?? null,
    pattern_of: feature.pattern?.of ?? null,
    ...storePlace(feature, unit),
  };
}

/** Where a feature lies, as columns; what is not said is null. */
function storePlace({ at, axis, depth }: Pick<FeatureCreate, "at" | "axis" | "depth">, unit: LengthUnit) {
  return {
    at_x_mm: storeLength(at?.x, unit),
    at_y_mm: storeLength(at?.y, unit),
    at_z_mm: storeLength(at?.z, unit),
    axis: axis ?? null,
    depth_mm: storeLength(depth, unit),
  };
}

async function changePart(trx: Trx, partId: string, change: PartChange): Promise<Part> {
  const { material, expansion_coefficient, expansion_uncertainty, risk, largest_interval } = change;
  const stored = await updatePart(trx, partId, {
    ...(material !== undefined && { material }),
    ...(expansion_coefficient !== undefined &&
      storeExpansion({ expansion_coefficient, expansion_uncertainty })),
    ...(risk !== undefined && { risk }),
    ...(largest_interval !== undefined && { largest_interval }),
  });
  if (!stored) throw noPart(partId);
  await refreshPart(trx, partId);
  return showPart(trx, partId);
}

async function changeFeature(trx: Trx, featureId: string, change: FeatureChange): Promise<Feature> {
  const feature = await lockFeature(trx, featureId);
  if (!feature) throw noFeature(featureId);
  const shop = await loadShop(trx, [change]);
  const { cuts, faults = [] } = checkCuts(change.cut_by ?? [], feature, shop, "");
  const errors = [
    ...checkTarget(feature, change.target),
    ...faults,
    ...checkGauges(change, feature, shop, ""),
  ];
  if (errors.length > 0) throw problemAt("unprocessable", errors);

  const { at_x_mm, at_y_mm, at_z_mm, axis, depth_mm } = storePlace(change, feature.unit);
  const columns = {
    ...(change.target !== undefined && {
      target_mm: toNumeric(lengthPm(change.target, shownUnitOf(feature.kind, feature.unit))),
    }),
    ...(change.gauge_id !== undefined && { gauge_id: change.gauge_id }),
    ...(change.reference_gauge_id !== undefined && { reference_gauge_id: change.reference_gauge_id }),
    ...(change.importance !== undefined && { importance: change.importance }),
    ...(change.at !== undefined && { at_x_mm, at_y_mm, at_z_mm }),
    ...(change.axis !== undefined && { axis }),
    ...(change.depth !== undefined && { depth_mm }),
    ...(change.places !== undefined && { places: change.places }),
    ...(change.drawing_zone !== undefined && { drawing_zone: change.drawing_zone }),
  };
  if (Object.keys(columns).length > 0) await updateFeature(trx, featureId, columns);
  if (change.cut_by) {
    await deleteCuts(trx, featureId);
    if (cuts && cuts.length > 0)
      await insertCuts(
        trx,
        cuts.map((cut) => ({ ...cut, feature_id: featureId })),
      );
  }
  await replanPart(trx, feature.part_id);
  return showFeature(trx, featureId);
}

function checkTarget(feature: FeatureRow, target: Length | undefined): FieldError[] {
  if (target === undefined) return [];
  const { lower_limit_mm, upper_limit_mm, kind } = feature;
  const unit = shownUnitOf(kind, feature.unit);
  const errors: FieldError[] = [];
  if (isAttribute(kind)) return [{ pointer: "/target", detail: `a ${kind} passes or fails: leave it out` }];
  if (kind !== "angle") {
    refuseDms({ target }, ["target"], (_, detail) => errors.push({ pointer: "/target", detail }));
  }
  if (errors.length > 0) return errors;
  const lowerPm = lower_limit_mm === null ? undefined : fromNumeric(lower_limit_mm);
  const upperPm = upper_limit_mm === null ? undefined : fromNumeric(upper_limit_mm);
  const targetPm = lengthPm(target, unit);
  const limits = limitsOfKind(kind, lowerPm, upperPm, targetPm);
  if (typeof limits !== "string") return [];
  return [{ pointer: "/target", detail: explainLimits(limits, { lowerPm, upperPm, targetPm }, unit) }];
}

export async function showPart(db: Db, partId: string): Promise<Part> {
  const part = await findPart(db, partId);
  if (!part) throw noPart(partId);
  const features = await listFeatures(db, partId);
  const ids = features.map(({ feature_id }) => feature_id);
  const [cuts, early] = [await listCuts(db, ids), await listOperationLimits(db, ids)];
  const of = <Row extends { feature_id: string }>(rows: readonly Row[], feature: FeatureRow) =>
    rows.filter(({ feature_id }) => feature_id === feature.feature_id);
  return {
    ...toSummary(part),
    features: features.map((feature) => toFeature(feature, of(cuts, feature), of(early, feature))),
  };
}

async function showFeature(db: Db, featureId: string): Promise<Feature> {
  const feature = await findFeature(db, featureId);
  if (!feature) throw noFeature(featureId);
  return toFeature(feature, await listCuts(db, [featureId]), await listOperationLimits(db, [featureId]));
}

function noPart(partId: string): ProblemError {
  return new ProblemError("not-found", `There is no part ${partId}. GET /v1/parts lists them.`);
}

function noFeature(featureId: string): ProblemError {
  return new ProblemError(
    "not-found",
    `There is no feature ${featureId}. GET /v1/parts/{part_id} shows those of a part.`,
  );
}

function toSummary(row: PartRow): PartSummary {
  return {
    part_id: row.part_id,
    number: row.number,
    revision: row.revision,
    name: row.name,
    unit: row.unit,
    material: row.material,
    ...showExpansion(row),
    decision_rule: row.decision_rule,
    general_tolerance: row.general_tolerance,
    title_block:
      row.title_block?.map(({ places, plus_minus_mm }) => ({
        places,
        plus_minus: showLength(plus_minus_mm, row.unit),
      })) ?? null,
    guard_band_factor: row.guard_band_factor,
    risk: row.risk,
    largest_interval: row.largest_interval,
    created_at: row.created_at,
  };
}

function toFeature(
  row: FeatureRow,
  cuts: readonly CutRow[],
  early: Awaited<ReturnType<typeof listOperationLimits>>,
): Feature {
  const { kind } = row;
  const unit = shownUnitOf(kind, row.unit);
  const attribute = isAttribute(kind);
  const deviates = isSize(kind) || kind === "angle";
  return {
    feature_id: row.feature_id,
    part_id: row.part_id,
    characteristic: row.characteristic,
    name: row.name,
    kind: row.kind,
    operation: row.operation,
    unit: unit === "1" ? null : unit,
    nominal: deviates || kind === "position" || kind === "form" ? row.nominal : null,
    limits_from: attribute ? null : row.limits_from,
    fit: row.fit,
    general_tolerance: row.general_tolerance,
    broken_edge: row.broken_edge,
    lower_deviation: deviates ? deviation(row.lower_limit_mm, row.nominal_mm, unit) : null,
    upper_deviation: deviates ? deviation(row.upper_limit_mm, row.nominal_mm, unit) : null,
    lower_limit: showLength(row.lower_limit_mm, unit),
    upper_limit: showLength(row.upper_limit_mm, unit),
    target: attribute ? null : showLength(row.target_mm, unit),
    importance: row.importance,
    decision_rule: row.decision_rule,
    guard_band_factor: row.guard_band_factor,
    cut_by: cuts.map(({ tool_id, register_id, walls, plus_makes, effect, step_mm, machine_unit }) => ({
      tool_id,
      register_id,
      walls: walls as 1 | 2 | null,
      plus_makes,
      effect,
      step: showLength(step_mm, machine_unit),
    })),
    gauge_id: row.gauge_id,
    places: row.places,
    drawing_zone: row.drawing_zone,
    reference_gauge_id: row.reference_gauge_id,
    pattern:
      row.pattern_name === null || row.pattern_order === null || row.pattern_of === null
        ? null
        : { name: row.pattern_name, order: row.pattern_order, of: row.pattern_of },
    at:
      row.at_x_mm === null || row.at_y_mm === null || row.at_z_mm === null
        ? null
        : {
            x: showLength(row.at_x_mm, row.unit),
            y: showLength(row.at_y_mm, row.unit),
            z: showLength(row.at_z_mm, row.unit),
          },
    axis: row.axis,
    depth: showLength(row.depth_mm, row.unit),
    operation_limits: early.map((limits) => showOperationLimits(limits, row.nominal, row.unit)),
    geometric_characteristic: row.geometric_characteristic,
    roughness_parameter: row.roughness_parameter,
    gauged: row.gauged,
    thread_standard: row.thread_standard,
    material_condition: kind === "position" ? (row.material_condition ?? "none") : null,
    size_of:
      row.size_kind === null
        ? null
        : {
            characteristic: row.size_characteristic,
            kind: row.size_kind,
            lower_limit: showLength(row.size_lower_limit_mm!, row.unit),
            upper_limit: showLength(row.size_upper_limit_mm!, row.unit),
          },
    shorter_leg: showLength(row.shorter_leg_mm, row.unit),
    toleranced_length: showLength(row.toleranced_length_mm, row.unit),
    rework: row.rework,
  };
}

function deviation(limit: string | null, nominal: string, unit: MeasureUnit): number | null {
  return limit === null ? null : toUnit(fromNumeric(limit) - fromNumeric(nominal), unit);
}
