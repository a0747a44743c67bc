import type { Selectable } from "kysely";
import { isSize } from "../core/feature-kind.js";
import { fromNumeric } from "../core/quantity.js";
import { metalSide } from "../core/tolerance/decide-conformity.js";
import { type Block, roomOf, unknownLifePieces } from "../core/wear-offset/block.js";
import type { Database } from "../db/schema.js";
import type { BatchRows } from "./batch-rows.js";
import { type FeatureView, isEarlierOfPattern, type PlacedRow, programmedSize } from "./feature-view.js";
import { optionalPm } from "./stored-size.js";

type Row<T extends keyof Database> = Selectable<Database[T]>;

export function buildBlock(
  group: readonly PlacedRow[],
  allCuts: readonly Row<"feature_cut">[],
  rows: BatchRows,
  registerRows: ReadonlyMap<string, Row<"register">>,
  leastIncrementPm: number,
): Block {
  const ids = new Set(group.map((feature) => feature.feature_id));
  const cuts = allCuts.filter((cut) => ids.has(cut.feature_id)).sort((a, b) => a.position - b.position);
  const cutsOf = (feature: Row<"feature">) => cuts.filter((cut) => cut.feature_id === feature.feature_id);
  const ordered = group.flatMap(cutsOf);
  const byTool = ordered.filter((cut) => cut.tool_id !== null);
  const toolIds = [...new Set(byTool.map((cut) => cut.tool_id!))];
  const steered = isSize(group[0]!.kind);
  const registerIds = steered ? [...new Set(byTool.flatMap((cut) => cut.register_id ?? []))] : [];
  const tools = toolIds.map((toolId) => {
    const row = rows.tools.find((tool) => tool.tool_id === toolId)!;
    return { toolId, lifePieces: row.life_pieces ?? unknownLifePieces };
  });
  const features = group.map((row) => {
    if (!isSize(row.kind)) return verdictOnly(row, toolIds.length > 0 ? 0 : undefined);
    const limits = {
      programmedPm: programmedSize(row),
      lowerPm: optionalPm(row.lower_limit_mm),
      upperPm: optionalPm(row.upper_limit_mm),
      targetPm: fromNumeric(row.target_mm),
    };
    const mine = cutsOf(row);
    const first = mine.find((cut) => cut.tool_id !== null);
    const tool = first && toolIds.indexOf(first.tool_id!);
    return {
      featureId: row.feature_id,
      place: row.place ?? undefined,
      ...limits,
      ...roomOf(limits),
      effects: registerIds.map((id) => mine.find((cut) => cut.register_id === id)?.effect ?? 0),
      tool,
      metal: metalSide[row.kind],
      tells: !isEarlierOfPattern(row, group),
      ...(row.reference_gauge_id !== null && { hasReference: true }),
    };
  });
  const registers = registerIds.map((registerId, r) => {
    const row = registerRows.get(registerId)!;
    const moves = features.flatMap(({ effects, roomMm }) =>
      effects[r] === 0 ? [] : roomMm / Math.abs(effects[r]!),
    );
    return {
      registerId,
      tool: toolIds.indexOf(row.tool_id!),
      leastIncrementPm,
      largestTotalPm: optionalPm(row.largest_total_mm),
      halfMoveMm: Math.min(...moves),
    };
  });
  const { seats } = rows.batch;
  const offsetCuts = steered ? ordered.filter((cut) => cut.tool_id === null) : [];
  const workOffsets = [...new Set(offsetCuts.map((cut) => cut.register_id!))]
    .map((registerId) => registerRows.get(registerId)!)
    .filter((row) => row.seat === null || seats.includes(row.seat))
    .map((row) => ({
      registerId: row.register_id,
      seat: row.seat === null ? undefined : seats.indexOf(row.seat),
      leastIncrementPm,
      largestTotalPm: optionalPm(row.largest_total_mm),
      effects: group.map(
        (feature) => cutsOf(feature).find((cut) => cut.register_id === row.register_id)?.effect ?? 0,
      ),
    }));
  return {
    key: group[0]!.feature_id,
    tools,
    registers,
    features,
    ...(seats.length > 0 && { seats }),
    ...(workOffsets.length > 0 && { workOffsets }),
  };
}

/** Of what is no size a block only knows whether it is inside its limits, 0, or out, 1; that never moves a register. */
function verdictOnly(row: PlacedRow, tool: number | undefined): Block["features"][number] {
  const limits = { lowerPm: undefined, upperPm: outside / 2, targetPm: 0 };
  return {
    featureId: row.feature_id,
    place: row.place ?? undefined,
    programmedPm: 0,
    ...limits,
    ...roomOf(limits),
    effects: [],
    tool,
    metal: 1,
    tells: false,
  };
}

const outside = 1e9;

/** A reading as its block takes it. */
export function sizeForBlock(kind: FeatureView["kind"], sizePm: number | undefined, inside: boolean): number {
  return isSize(kind) ? sizePm! : inside ? 0 : outside;
}
