import { type Block, roomOf } from "../../src/core/wear-offset/block.js";
import type { ChangeLimits } from "../../src/core/wear-offset/limit-change.js";
import type {
  BlockEvent,
  Journal,
  JournalReading,
  Progress,
  RegisterChange,
  RegisterStart,
} from "../../src/core/wear-offset/progress.js";
import { copyProgress, startProgress, takeJournal } from "../../src/core/wear-offset/progress.js";
import { type BlockAdvice, proposeChanges } from "../../src/core/wear-offset/propose-changes.js";
import { followReadings } from "../../src/decision/block-cache.js";

export interface FeatureSpec {
  nominal: number;
  /** Limits at the nominal size plus and minus this; `lower` and `upper` say them themselves. */
  tolerance?: number;
  lower?: number | undefined;
  upper?: number | undefined;
  target?: number;
  effects: number[];
  tool?: number | undefined;
  metal?: 1 | -1;
  tells?: boolean;
  hasReference?: boolean;
}

export interface BlockSpec {
  seats?: number;
  /** Per axis: the effect on each feature, the same in every seat; without seats it acts on every piece. */
  workOffsets?: number[][];
  features: FeatureSpec[];
  /** Planned life of each tool's edge in pieces. */
  lives?: number[];
  registers?: { tool?: number; increment?: number; largestTotal?: number }[];
}

/** Millimetres as whole picometres. */
export function pm(mm: number): number {
  return Math.round(mm * 1e9);
}

/** A block from sizes in mm: one tool of 120 pieces, registers in steps of 0.001, unless said otherwise. */
export function blockOf({
  features,
  lives = [120],
  registers = [{}],
  seats = 0,
  workOffsets = [],
}: BlockSpec): Block {
  const built = features.map((spec, f) => {
    const { nominal, tolerance = 0.03, lower = nominal - tolerance, upper = nominal + tolerance } = spec;
    const limits = {
      lowerPm: "lower" in spec && spec.lower === undefined ? undefined : pm(lower),
      upperPm: "upper" in spec && spec.upper === undefined ? undefined : pm(upper),
      targetPm: pm(spec.target ?? (lower + upper) / 2),
    };
    return {
      featureId: `f${f}`,
      programmedPm: pm(nominal),
      ...limits,
      ...roomOf(limits),
      effects: spec.effects,
      tool: "tool" in spec ? spec.tool : 0,
      metal: spec.metal ?? (1 as const),
      tells: spec.tells ?? true,
      ...(spec.hasReference ? { hasReference: true } : {}),
    };
  });
  return {
    key: "block",
    tools: lives.map((lifePieces, t) => ({ toolId: `t${t}`, lifePieces })),
    registers: registers.map(({ tool = 0, increment = 0.001, largestTotal }, r) => ({
      registerId: `r${r}`,
      tool,
      leastIncrementPm: pm(increment),
      largestTotalPm: largestTotal === undefined ? undefined : pm(largestTotal),
      halfMoveMm: Math.min(
        ...built.flatMap(({ effects, roomMm }) => (effects[r] ? roomMm / Math.abs(effects[r]!) : [])),
      ),
    })),
    features: built,
    ...(seats > 0 ? { seats: Array.from({ length: seats }, (_, q) => `seat ${q + 1}`) } : {}),
    ...(workOffsets.length > 0
      ? {
          workOffsets: workOffsets.flatMap((effects, axis) =>
            Array.from({ length: Math.max(1, seats) }, (_, seat) => ({
              registerId: `w${axis}-${seat}`,
              seat: seats > 0 ? seat : undefined,
              leastIncrementPm: pm(registers[0]?.increment ?? 0.001),
              largestTotalPm: undefined,
              effects,
            })),
          ),
        }
      : {}),
  };
}

/** A rib 12 ±0.03 cut on both sides, moved by a radius register: R1 of the method's worked examples. */
export function ribBlock(): Block {
  return blockOf({ features: [{ nominal: 12, tolerance: 0.03, effects: [2] }] });
}

/** u_g² of a gauge with repeatability 0.0012 and resolution 0.001 mm. */
export const gaugeVariance = 0.0012 ** 2 + 0.001 ** 2 / 12;

export interface JournalSpec {
  /** Register values at the start, mm. */
  values?: number[];
  starts?: Partial<RegisterStart>[];
  piecesCut?: number[];
  changes?: RegisterChange[];
  events?: BlockEvent[];
}

export function journalOf(block: Block, spec: JournalSpec = {}): Journal {
  return {
    start: block.registers.map((_, r) => ({
      valuePm: pm(spec.values?.[r] ?? 0),
      memory: { levels: [], rates: [] },
      carried: undefined,
      ...spec.starts?.[r],
    })),
    piecesCut: spec.piecesCut ?? block.tools.map(() => 0),
    changes: spec.changes ?? [],
    events: spec.events ?? [],
  };
}

/** From `piece` on register `register` holds `value` mm. */
export function changeTo(value: number, piece: number, more: Partial<RegisterChange> = {}): RegisterChange {
  return { register: 0, piece, cut: 1, valuePm: pm(value), withEdge: false, ...more };
}

let lastNo = 0;

/** A reading of `size` mm on `piece`; numbered in the order of building. */
export function readingOf(piece: number, size: number, more: Partial<JournalReading> = {}): JournalReading {
  lastNo += 1;
  return {
    readingNo: lastNo,
    feature: 0,
    piece,
    cut: 1,
    sizePm: pm(size),
    gaugeVariance,
    steers: true,
    ...more,
  };
}

/** One reading per feature of a piece, in the block's order. */
export function readingsOf(piece: number, ...sizes: number[]): JournalReading[] {
  return sizes.map((size, feature) => readingOf(piece, size, { feature }));
}

/** Everything learned from the readings, from the start of the batch. */
export function follow(
  block: Block,
  journal: Journal,
  readings: readonly JournalReading[],
  countedFrom?: number,
) {
  const last = countedFrom ?? Math.max(0, ...readings.map((reading) => reading.piece));
  return followReadings(block, journal, startProgress(block, journal), readings, last);
}

export const wideLimits: ChangeLimits = { largestChangePm: pm(0.5), largestTowardsWorkPm: undefined };

/** What is proposed before `piece` is cut, with everything that the journal says of the time before it. */
export function adviseBefore(
  block: Block,
  journal: Journal,
  progress: Progress,
  piece: number,
  limits: ChangeLimits = wideLimits,
): BlockAdvice {
  const now = copyProgress(progress);
  takeJournal(block, journal, now, piece);
  return proposeChanges(block, now, piece, limits);
}
