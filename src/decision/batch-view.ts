import type { Selectable } from "kysely";
import type { Vector } from "../core/diagnosis/observation.js";
import { isSize, type ShownUnit, shownUnitOf } from "../core/feature-kind.js";
import { fromNumeric } from "../core/quantity.js";
import type { Expansion } from "../core/temperature/expansion.js";
import type { DecisionRule } from "../core/tolerance/decide-conformity.js";
import { metalSide } from "../core/tolerance/decide-conformity.js";
import type { MaterialCondition, SizeLimits } from "../core/tolerance/material-condition.js";
import { type Block, roomOf, unknownLifePieces } from "../core/wear-offset/block.js";
import { type BlockEvent, type Journal, type RegisterChange, wearOf } from "../core/wear-offset/progress.js";
import type { BatchStart, Database } from "../db/schema.js";
import { knownExpansion } from "../http/expansion.js";
import type { AnsweredAdvice } from "./answered-advice.js";
import type { BlockCache } from "./block-cache.js";

type Row<T extends keyof Database> = Selectable<Database[T]>;

export interface GaugeView {
  /** Null: none was named, and none is needed. */
  gaugeId: string | null;
  name: string;
  unit: "mm" | "inch" | "deg";
  /** 0: it passes or refuses and shows no number. */
  resolutionPm: number;
  /** u_g², mm². */
  variance: number;
  /** Standard uncertainty for judging fitness, mm: the larger of u_g and U/k. */
  standardMm: number;
  expandedPm: number | undefined;
  /** k of the expanded uncertainty. */
  coverageFactor: number;
  /** How far it grows with heat; undefined: not known. */
  expansion: Expansion | undefined;
  calibrationDue: string | null;
  reference: boolean;
  reads: "size" | "deviation";
  masterPm: number | undefined;
  sense: "normal" | "reversed";
}

/** What decides about the readings of a feature, and how they are shown. */
export interface RuledFeature {
  characteristic: string;
  kind: Row<"feature">["kind"];
  /** Unit that its sizes are shown in; "1" where they have none. */
  unit: ShownUnit;
  /** Whole steps of the kind's quantity, as all that ends in Pm here: picometres, for an angle nano-arcseconds. */
  nominalPm: number;
  lowerPm: number | undefined;
  upperPm: number | undefined;
  targetPm: number;
  /** Set where the limits are those of the batch's operation, before the last one. */
  early: EarlyLimits | null;
  /** Its own, else its part's. */
  rule: DecisionRule;
  guardBandFactor: number;
  /** Of a position at maximum or least material: the feature whose size earns the bonus. */
  condition: FeatureCondition | undefined;
  gauged: Row<"feature">["gauged"];
  threadStandard: Row<"feature">["thread_standard"];
  /** On which side of the limits it can be reworked, where the kind does not say it. */
  rework: Row<"feature">["rework"];
  /** Which geometrical characteristic a form is. */
  geometric: Row<"feature">["geometric_characteristic"];
}

export interface FeatureCondition {
  condition: MaterialCondition;
  size: SizeLimits;
  /** Null: the size is no feature of the part, and comes with the reading. */
  characteristic: string | null;
}

export interface FeatureView extends RuledFeature {
  featureId: string;
  /** Its number in the part's order. */
  position: number;
  name: string | null;
  /** Size that the programme is taken to aim at. */
  programmedPm: number;
  /** From target to the nearer limit, in mm, or for an angle arcseconds. */
  roomMm: number;
  importance: Row<"feature">["importance"];
  gaugeId: string | null;
  /** Proves the size where the other gauge only steers. */
  referenceGaugeId: string | null;
  patternName: string | null;
  /** Where it is measured, in the drawing's order; null: one reading speaks for it. */
  places: readonly string[] | null;
  /** The place that this is about: a feature with places stands in the batch once for each. */
  place: string | null;
  movable: boolean;
  /** Registers of which a step can be tried where a gauge refuses. */
  steps: { registerId: string; stepPm: number; effect: number }[];
  earlierOfPattern: boolean;
  /** Where on the part it is, from the part's zero, mm; undefined: not said. */
  at: Vector | undefined;
  /** Direction in which its size grows. */
  axis: Row<"feature">["axis"];
  /** How deep along the tool it is cut. */
  depthPm: number | undefined;
  /** Only one wall of it is cut: a shift of the work moves it. */
  oneWalled: boolean;
  /** Where it stands: which block, and its number in it. */
  block: number;
  index: number;
}

/** That a feature is judged by limits of an operation before its last, and what is to come. */
export interface EarlyLimits {
  operation: string;
  reason: string | null;
  finalLowerPm: number | undefined;
  finalUpperPm: number | undefined;
  /** What plating adds to the size; undefined: something else follows. */
  growthPm: number | undefined;
}

export interface RegisterView {
  registerId: string;
  /** Null: a work offset. */
  toolId: string | null;
  /** The only seat in which it acts; null: it acts on every piece. */
  seat: string | null;
  number: number;
  label: string;
  holds: "radius" | "diameter" | null;
  controls: Row<"register">["controls"];
  /** What it holds from (piece, cut) on, in cutting order; the first is what it held when the batch began. */
  values: { piece: number; cut: number; valuePm: number }[];
}

export interface ToolView {
  toolId: string;
  number: number;
  name: string;
  /** Pieces that an edge is planned for; null: not said. */
  plannedLife: number | null;
}

/** A block of the batch with its journal and what has been learned. */
export interface BlockView {
  block: Block;
  journal: Journal;
  cache: BlockCache;
}

/** A batch as the decisions see it; `version` is the one that a write must still find. */
export interface BatchView {
  batchId: string;
  name: string;
  version: number;
  readingCount: number;
  correctionCount: number;
  lastPieceCut: number;
  quantity: number | undefined;
  /** Seats of the fixture in the order they are cut; none: pieces are not told apart by them. */
  seats: readonly string[];
  closed: boolean;
  start: BatchStart;
  machine: {
    machineId: string;
    name: string;
    unit: "mm" | "inch";
    leastIncrementPm: number;
    largestChangePm: number;
    largestTowardsWorkPm: number | undefined;
    lineTemplate: string | null;
    kind: "mill" | "lathe";
  };
  part: {
    partId: string;
    number: string;
    revision: string;
    unit: "mm" | "inch";
    material: string | null;
    /** How far it grows with heat; undefined: not known. */
    expansion: Expansion | undefined;
    /** Most that a piece left unmeasured may be out of limits with, as a probability. */
    risk: number;
    /** Most pieces from one check to the next. */
    largestInterval: number;
  };
  /** In the part's order; one that is measured at several places once for each. */
  features: FeatureView[];
  /** The first place of each feature. */
  featureById: Map<string, FeatureView>;
  featureByCharacteristic: Map<string, FeatureView>;
  registers: Map<string, RegisterView>;
  tools: Map<string, ToolView>;
  blocks: BlockView[];
  /** By subject: the last advice that a person has answered by not following it, or by finding nothing. */
  answered: ReadonlyMap<string, AnsweredAdvice>;
}

export interface BatchRows {
  batch: Row<"batch">;
  machine: Row<"machine">;
  part: Row<"part">;
  features: Row<"feature">[];
  /** Limits that features have in the batch's operation instead of their own. */
  early: Row<"feature_operation_limits">[];
  cuts: Row<"feature_cut">[];
  tools: Row<"tool">[];
  registers: Row<"register">[];
  entries: Row<"register_entry">[];
  edges: { edge_id: string; tool_id: string; from_piece: number }[];
  interruptions: Row<"interruption">[];
  findings: { correction_no: number; found: string; from_piece: number | null; cause: unknown }[];
  answered: AnsweredAdvice[];
  states: Row<"block_state">[];
}

/** What a find_cause correction keeps of the jump that it asks about. */
export interface StoredCause {
  first_piece: number;
  /** The last odd piece so far; absent where it was not kept. */
  last_piece?: number;
  register_id: string | null;
  feature_ids: string[];
  /** The one seat whose pieces have jumped. */
  seat?: string | null;
}

export function optionalPm(numeric: string | null): number | undefined {
  return numeric === null ? undefined : fromNumeric(numeric);
}

export function gaugeView(row: Row<"gauge">): GaugeView {
  const resolutionPm = row.resolution_mm === null ? 0 : fromNumeric(row.resolution_mm);
  const expandedPm = optionalPm(row.expanded_uncertainty_mm);
  const resolution = resolutionPm / 1e9;
  const claimed = expandedPm === undefined ? undefined : expandedPm / 1e9 / row.coverage_factor;
  const repeatability =
    row.repeatability_mm === null ? (claimed ?? resolution) : Number(row.repeatability_mm);
  const variance = repeatability ** 2 + resolution ** 2 / 12;
  return {
    gaugeId: row.gauge_id,
    name: row.name,
    unit: row.unit,
    resolutionPm,
    variance,
    standardMm: Math.max(Math.sqrt(variance), claimed ?? 0),
    expandedPm,
    coverageFactor: row.coverage_factor,
    expansion: knownExpansion(row),
    calibrationDue: row.calibration_due,
    reference: row.reference,
    reads: row.reads,
    masterPm: optionalPm(row.master_size_mm),
    sense: row.sense ?? "normal",
  };
}

/** A feature with the limits that hold in an operation. */
interface LimitedRow extends Row<"feature"> {
  early: EarlyLimits | null;
}

interface PlacedRow extends LimitedRow {
  place: string | null;
}

function inOperation(row: Row<"feature">, limits: Row<"feature_operation_limits"> | undefined): LimitedRow {
  if (!limits) return { ...row, early: null };
  const { lower_limit_mm, upper_limit_mm, target_mm, nominal, nominal_mm } = limits;
  return {
    ...row,
    lower_limit_mm,
    upper_limit_mm,
    target_mm,
    ...(nominal !== null && { nominal, nominal_mm: nominal_mm! }),
    early: earlyLimits(row, limits),
  };
}

export function earlyLimits(
  final: Pick<Row<"feature">, "lower_limit_mm" | "upper_limit_mm">,
  limits: Pick<Row<"feature_operation_limits">, "operation" | "reason" | "growth_mm">,
): EarlyLimits {
  return {
    operation: limits.operation,
    reason: limits.reason,
    finalLowerPm: optionalPm(final.lower_limit_mm),
    finalUpperPm: optionalPm(final.upper_limit_mm),
    growthPm: optionalPm(limits.growth_mm),
  };
}

/** A feature as the estimator sees it: each place where it is measured is one of its own. */
export function placeKey(featureId: string, place: string | null | undefined): string {
  return place === null || place === undefined ? featureId : `${featureId} ${place}`;
}

/** The view of a feature at the place that a reading names. */
export function featureAt(view: BatchView, featureId: string, place: string | null): FeatureView | undefined {
  const first = view.featureById.get(featureId);
  if (!first || first.place === place) return first;
  return view.features.find((feature) => feature.featureId === featureId && feature.place === place);
}

/** Register value in force for (piece, cut) of a batch, by its journal. */
export function valueAt(view: BatchView, registerId: string, piece: number, cut: number): number {
  const values = view.registers.get(registerId)?.values ?? [];
  const held = values.findLast((value) => value.piece < piece || (value.piece === piece && value.cut <= cut));
  if (!held) throw new RangeError(`register ${registerId} is not on machine ${view.machine.machineId}`);
  return held.valuePm;
}

/** Seat that follows from a piece's number: piece k sits in seat (k − 1) mod n; null: the batch names no seats. */
export function seatByNumber({ seats }: { seats: readonly string[] }, piece: number): string | null {
  return seats[(piece - 1) % seats.length] ?? null;
}

/** Puts the rows of one batch together; `readCache` gives a block's stored state, or the one before any piece. */
export function buildBatchView(
  rows: BatchRows,
  readCache: (block: Block, journal: Journal, state: string | undefined) => BlockCache,
): BatchView {
  const { batch, machine, part } = rows;
  const registers = new Map(rows.registers.map((row) => [row.register_id, row]));
  const onMachine = new Set(rows.tools.map((tool) => tool.tool_id));
  const cuts = rows.cuts.filter((cut) =>
    cut.tool_id === null ? registers.has(cut.register_id!) : onMachine.has(cut.tool_id),
  );
  const features = rows.features
    .map((feature) =>
      inOperation(
        feature,
        rows.early.find((limits) => limits.feature_id === feature.feature_id),
      ),
    )
    .filter(
      (feature) =>
        feature.early !== null ||
        feature.operation === null ||
        batch.operation === null ||
        feature.operation === batch.operation,
    )
    .sort((a, b) => a.position - b.position);
  const view: BatchView = {
    batchId: batch.batch_id,
    name: batch.name,
    version: batch.version,
    readingCount: batch.reading_count,
    correctionCount: batch.correction_count,
    lastPieceCut: batch.last_piece_cut,
    quantity: batch.quantity ?? undefined,
    seats: batch.seats,
    closed: batch.closed_at !== null,
    start: batch.start,
    answered: new Map(rows.answered.map((row) => [row.subject, row])),
    machine: {
      machineId: machine.machine_id,
      name: machine.name,
      unit: machine.unit,
      leastIncrementPm: fromNumeric(machine.least_increment_mm),
      largestChangePm: fromNumeric(machine.largest_change_mm),
      largestTowardsWorkPm: optionalPm(machine.largest_change_towards_work_mm),
      lineTemplate: machine.line_template,
      kind: machine.kind,
    },
    part: {
      partId: part.part_id,
      number: part.number,
      revision: part.revision,
      unit: part.unit,
      material: part.material,
      expansion: knownExpansion(part),
      risk: part.risk,
      largestInterval: part.largest_interval,
    },
    features: [],
    featureById: new Map(),
    featureByCharacteristic: new Map(),
    registers: new Map(
      rows.registers.map((row) => [
        row.register_id,
        {
          registerId: row.register_id,
          toolId: row.tool_id,
          seat: row.seat,
          number: row.number,
          label: row.label,
          holds: row.holds,
          controls: row.controls,
          values: valuesOf(row, rows),
        },
      ]),
    ),
    tools: new Map(
      rows.tools.map((row) => [
        row.tool_id,
        { toolId: row.tool_id, number: row.number, name: row.name, plannedLife: row.life_pieces },
      ]),
    ),
    blocks: [],
  };
  const states = new Map(rows.states.map((row) => [row.block_key, row.state]));
  for (const rowsOfGroup of groupFeatures(features, cuts)) {
    const group = rowsOfGroup.flatMap((row) => (row.places ?? [null]).map((place) => ({ ...row, place })));
    const number = view.blocks.length;
    const block = buildBlock(group, cuts, rows, registers, view.machine.leastIncrementPm);
    group.forEach((row, index) => {
      const feature = featureView(row, part, group, cuts, number, index);
      view.features.push(feature);
      if (view.featureById.has(feature.featureId)) return;
      view.featureById.set(feature.featureId, feature);
      view.featureByCharacteristic.set(feature.characteristic, feature);
    });
    const journal = buildJournal(block, rows);
    view.blocks.push({ block, journal, cache: readCache(block, journal, states.get(block.key)) });
  }
  const order = new Map(features.map((row, i) => [row.feature_id, i]));
  view.features.sort((a, b) => order.get(a.featureId)! - order.get(b.featureId)!);
  return view;
}

/** A register that was set up after the batch was opened began with the value it was set up with. */
function startValue(register: Row<"register">, start: BatchStart): number {
  return fromNumeric(start.registers[register.register_id]?.value_mm ?? register.start_value_mm);
}

function valuesOf(register: Row<"register">, { batch, entries }: BatchRows): RegisterView["values"] {
  const keyed = entries.filter((entry) => entry.register_id === register.register_id).sort(inCuttingOrder);
  return [
    { piece: 0, cut: 1, valuePm: startValue(register, batch.start) },
    ...keyed.map(({ from_piece: piece, from_cut: cut, value_mm }) => ({
      piece,
      cut,
      valuePm: fromNumeric(value_mm),
    })),
  ];
}

function inCuttingOrder(a: Row<"register_entry">, b: Row<"register_entry">): number {
  return a.from_piece - b.from_piece || a.from_cut - b.from_cut || Number(a.entry_id) - Number(b.entry_id);
}

/**
 * Features that are linked by a tool or a work offset, in the part's order; one that nothing moves stands alone, and so does
 * one that is no size: the estimator knows lengths only.
 */
function groupFeatures(features: readonly LimitedRow[], cuts: readonly Row<"feature_cut">[]): LimitedRow[][] {
  const linksOf = new Map<string, string[]>();
  for (const cut of cuts) {
    const link = cut.tool_id === null ? `register ${cut.register_id}` : `tool ${cut.tool_id}`;
    linksOf.set(cut.feature_id, [...(linksOf.get(cut.feature_id) ?? []), link]);
  }
  const groups: { links: Set<string>; features: LimitedRow[] }[] = [];
  for (const feature of features) {
    const links = new Set(isSize(feature.kind) ? (linksOf.get(feature.feature_id) ?? []) : []);
    const joined = groups.filter((group) => [...group.links].some((link) => links.has(link)));
    const merged = {
      links: new Set([...joined.flatMap((group) => [...group.links]), ...links]),
      features: [...joined.flatMap((group) => group.features), feature].sort(
        (a, b) => a.position - b.position,
      ),
    };
    for (const group of joined) groups.splice(groups.indexOf(group), 1);
    groups.push(merged);
  }
  return groups.map((group) => group.features);
}

function featureView(
  row: PlacedRow,
  part: Row<"part">,
  group: readonly Row<"feature">[],
  cuts: readonly Row<"feature_cut">[],
  block: number,
  index: number,
): FeatureView {
  const rule = row.decision_rule ?? part.decision_rule;
  const guard_band_factor = row.guard_band_factor ?? part.guard_band_factor;
  const ruled = ruledFeature({ ...row, rule, guard_band_factor, part_unit: part.unit }, row.early);
  const mine = cuts.filter((cut) => cut.feature_id === row.feature_id);
  return {
    ...ruled,
    featureId: row.feature_id,
    name: row.name,
    programmedPm: programmedSize(row),
    roomMm: roomOf(ruled).roomMm,
    importance: row.importance,
    gaugeId: row.gauge_id,
    referenceGaugeId: row.reference_gauge_id,
    patternName: row.pattern_name,
    places: row.places,
    place: row.place,
    movable: mine.length > 0,
    steps: mine.flatMap(({ register_id, step_mm, effect }) =>
      register_id === null || step_mm === null
        ? []
        : [{ registerId: register_id, stepPm: fromNumeric(step_mm), effect: effect! }],
    ),
    position: row.position,
    earlierOfPattern: isEarlierOfPattern(row, group),
    at:
      row.at_x_mm === null || row.at_y_mm === null || row.at_z_mm === null
        ? undefined
        : [Number(row.at_x_mm), Number(row.at_y_mm), Number(row.at_z_mm)],
    axis: row.axis,
    depthPm: optionalPm(row.depth_mm),
    oneWalled: cuts.some((cut) => cut.feature_id === row.feature_id && cut.walls === 1),
    block,
    index,
  };
}

/** Columns of a feature that decide about its readings, with what its part says where it says nothing itself. */
export type RuledRow = Pick<
  Row<"feature">,
  | "characteristic"
  | "kind"
  | "nominal_mm"
  | "lower_limit_mm"
  | "upper_limit_mm"
  | "target_mm"
  | "material_condition"
  | "size_characteristic"
  | "size_kind"
  | "size_lower_limit_mm"
  | "size_upper_limit_mm"
  | "gauged"
  | "thread_standard"
  | "rework"
  | "geometric_characteristic"
> & { rule: DecisionRule; guard_band_factor: number; part_unit: "mm" | "inch" };

export function ruledFeature(row: RuledRow, early: EarlyLimits | null = null): RuledFeature {
  return {
    characteristic: row.characteristic,
    kind: row.kind,
    unit: shownUnitOf(row.kind, row.part_unit),
    nominalPm: fromNumeric(row.nominal_mm),
    lowerPm: optionalPm(row.lower_limit_mm),
    upperPm: optionalPm(row.upper_limit_mm),
    targetPm: fromNumeric(row.target_mm),
    rule: row.rule,
    guardBandFactor: row.guard_band_factor,
    condition:
      row.material_condition === null
        ? undefined
        : {
            condition: row.material_condition,
            size: {
              kind: row.size_kind!,
              lowerPm: fromNumeric(row.size_lower_limit_mm!),
              upperPm: fromNumeric(row.size_upper_limit_mm!),
            },
            characteristic: row.size_characteristic,
          },
    gauged: row.gauged,
    threadStandard: row.thread_standard,
    rework: row.rework,
    early,
    geometric: row.geometric_characteristic,
  };
}

/**
 * Size that a programme is taken to aim at before anything is known: the middle of the limits, with one limit the nominal
 * size (common practice, no source).
 */
function programmedSize(row: Row<"feature">): number {
  const { lower_limit_mm: lower, upper_limit_mm: upper } = row;
  if (lower === null || upper === null) return fromNumeric(row.nominal_mm);
  return Math.round((fromNumeric(lower) + fromNumeric(upper)) / 2);
}

function isEarlierOfPattern(row: Row<"feature">, group: readonly Row<"feature">[]): boolean {
  return (
    row.pattern_name !== null &&
    group.some(
      (other) =>
        other.pattern_name === row.pattern_name && (other.pattern_order ?? 0) > (row.pattern_order ?? 0),
    )
  );
}

function buildBlock(
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

function buildJournal(block: Block, rows: BatchRows): Journal {
  const { start } = rows.batch;
  const moved = [...block.registers, ...(block.workOffsets ?? [])];
  const registerAt = new Map(moved.map(({ registerId }, r) => [registerId, r]));
  const placesOf = (id: string) =>
    block.features.flatMap(({ featureId }, f) => (featureId === id ? [f] : []));
  const toolAt = new Map(block.tools.map((tool, t) => [tool.toolId, t]));
  const changes: RegisterChange[] = rows.entries
    .filter((entry) => registerAt.has(entry.register_id))
    .sort(inCuttingOrder)
    .map((entry) => ({
      register: registerAt.get(entry.register_id)!,
      piece: entry.from_piece,
      cut: entry.from_cut,
      valuePm: fromNumeric(entry.value_mm),
      withEdge: entry.origin === "edge",
    }));
  const events: BlockEvent[] = [];
  for (const edge of rows.edges) {
    const tool = toolAt.get(edge.tool_id);
    if (tool !== undefined) events.push({ kind: "fresh_edge", piece: edge.from_piece, tool });
  }
  for (const { kind, from_piece: piece } of rows.interruptions) {
    if (kind === "fixture_change" || kind === "program_change") events.push({ kind: "upset", piece });
    else events.push({ kind: "pause", piece });
  }
  for (const piece of changesOfNamed(block, rows)) events.push({ kind: "touched", piece });
  for (const finding of rows.findings) {
    const cause = finding.cause as StoredCause | null;
    const features = cause?.feature_ids.flatMap(placesOf) ?? [];
    if (!cause || features.length === 0) continue;
    if (finding.found === "nothing") {
      const register = cause.register_id === null ? undefined : registerAt.get(cause.register_id);
      const seat = cause.seat == null ? undefined : block.seats?.indexOf(cause.seat);
      const jump = { register, features, seat };
      if (cause.last_piece === cause.first_piece) {
        events.push({ kind: "unfounded", piece: cause.first_piece + 1, ...jump });
      } else events.push({ kind: "jump", piece: cause.first_piece, ...jump });
    } else {
      events.push({ kind: "put_right", piece: finding.from_piece ?? cause.first_piece });
    }
  }
  const rank = { fresh_edge: 0, put_right: 1, upset: 2, pause: 3, touched: 4, jump: 5, unfounded: 5 };
  events.sort((a, b) => a.piece - b.piece || rank[a.kind] - rank[b.kind]);
  const startOf = (registerId: string) =>
    startValue(rows.registers.find((row) => row.register_id === registerId)!, start);
  return {
    start: block.registers.map((register) => {
      const brought = start.registers[register.registerId];
      const h = register.halfMoveMm;
      const carried = brought?.carried;
      const valuePm = startOf(register.registerId);
      return {
        valuePm,
        doubtMm: brought?.memory.levels.length ? 0 : wearOf(valuePm) / 1e9,
        memory: brought?.memory ?? { levels: [], rates: [] },
        carried: carried
          ? {
              level: carried.level_mm,
              levelVariance: carried.level_variance + ((carried.same_part ? 0.4 : 2) * h) ** 2,
              rate: carried.rate_mm,
              covariance: carried.covariance,
              rateVariance: carried.rate_variance,
            }
          : undefined,
      };
    }),
    ...(block.workOffsets && { workOffsets: block.workOffsets.map((offset) => startOf(offset.registerId)) }),
    piecesCut: block.tools.map((tool) => start.tools[tool.toolId]?.pieces_cut ?? 0),
    changes,
    events,
  };
}

/** Pieces from which on a register holds another value that a feature only names: it is looked at again, no more. */
function changesOfNamed(block: Block, { features, cuts, entries }: BatchRows): number[] {
  const kindOf = (id: string) => features.find((feature) => feature.feature_id === id)!.kind;
  const ids = new Set(block.features.map(({ featureId }) => featureId).filter((id) => !isSize(kindOf(id))));
  const named = new Set(cuts.filter((cut) => ids.has(cut.feature_id)).map((cut) => cut.register_id));
  return entries
    .filter((entry) => named.has(entry.register_id) && entry.origin !== "edge")
    .map((entry) => (entry.from_cut > 1 ? entry.from_piece + 1 : entry.from_piece));
}
