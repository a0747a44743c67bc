import type { Selectable } from "kysely";
import { fromNumeric } from "../core/quantity.js";
import type { Expansion } from "../core/temperature/expansion.js";
import type { Block } from "../core/wear-offset/block.js";
import type { Journal } from "../core/wear-offset/progress.js";
import type { BatchStart, Database } from "../db/schema.js";
import { knownExpansion } from "../http/expansion.js";
import type { AnsweredAdvice } from "./answered-advice.js";
import type { BatchRows } from "./batch-rows.js";
import type { BlockCache } from "./block-cache.js";
import { buildBlock } from "./build-block.js";
import { buildJournal, inCuttingOrder, startValue } from "./build-journal.js";
import { type FeatureView, featureView, groupFeatures, inOperation } from "./feature-view.js";
import { optionalPm } from "./stored-size.js";

type Row<T extends keyof Database> = Selectable<Database[T]>;

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
