import fc from "fast-check";
import type { Block } from "../../../src/core/wear-offset/block.js";
import type {
  BlockEvent,
  Journal,
  JournalReading,
  RegisterChange,
} from "../../../src/core/wear-offset/progress.js";
import { type BlockSpec, blockOf, changeTo, gaugeVariance, journalOf } from "../../support/blocks.js";

/** What happened to a block in some batch: anything a shop may do, misreadings and voids of sense included. */
export interface Run {
  spec: BlockSpec;
  block: Block;
  journal: Journal;
  /** Numbered from 1, by piece. */
  readings: JournalReading[];
}

export const lastPiece = 24;

/** One rib; rib, slot and wall of one tool; a slot between two tools with a wall of one. */
export const specs: BlockSpec[] = [
  { features: [{ nominal: 12, tolerance: 0.03, effects: [2] }] },
  {
    features: [
      { nominal: 12, tolerance: 0.03, effects: [2] },
      { nominal: 8, tolerance: 0.03, effects: [-2], metal: -1 },
      { nominal: 20, lower: 19.93, upper: 20.05, target: 20, effects: [1] },
    ],
  },
  {
    lives: [110, 70],
    registers: [{ tool: 0 }, { tool: 1 }],
    features: [
      { nominal: 16, tolerance: 0.02, effects: [-1, -1], tool: 0, metal: -1 },
      { nominal: 8, tolerance: 0.03, effects: [1, 0], tool: 0 },
    ],
  },
];

/** Three seats with a work offset each; a probe and another gauge beside the reference; both at once. */
const seatedAndGauged: BlockSpec[] = [
  {
    seats: 3,
    workOffsets: [[1, 0]],
    features: [
      { nominal: 25, tolerance: 0.03, effects: [1] },
      { nominal: 12, tolerance: 0.03, effects: [2] },
    ],
  },
  { features: [{ nominal: 30, tolerance: 0.02, effects: [1], hasReference: true }] },
  {
    seats: 2,
    features: [
      { nominal: 30, tolerance: 0.02, effects: [1], hasReference: true },
      { nominal: 16, tolerance: 0.03, effects: [-2], metal: -1 },
    ],
  },
];

const piece = fc.integer({ min: 1, max: lastPiece });

const deviationUm = fc.oneof(
  { weight: 12, arbitrary: fc.integer({ min: -12, max: 12 }) },
  { weight: 4, arbitrary: fc.integer({ min: -40, max: 40 }) },
  { weight: 1, arbitrary: fc.integer({ min: -500, max: 500 }) },
);

const looseReading = fc.record({
  piece,
  feature: fc.nat({ max: 59 }),
  deviationUm,
  cut: fc.oneof({ weight: 9, arbitrary: fc.constant(1) }, { weight: 1, arbitrary: fc.constant(2) }),
  steers: fc.oneof({ weight: 9, arbitrary: fc.constant(true) }, { weight: 1, arbitrary: fc.constant(false) }),
  gauge: fc.constantFrom("caliper", "probe", "reference"),
  within: fc.oneof({ weight: 5, arbitrary: fc.constant(1) }, { weight: 1, arbitrary: fc.nat({ max: 5 }) }),
});

const looseChange = fc.record({
  register: fc.nat({ max: 59 }),
  piece,
  cut: fc.oneof({ weight: 5, arbitrary: fc.constant(1) }, { weight: 1, arbitrary: fc.constant(2) }),
  valueUm: fc.integer({ min: -40, max: 40 }),
});

const looseEvent = fc.record({
  kind: fc.constantFrom("fresh_edge", "pause", "upset", "jump", "put_right"),
  piece,
  which: fc.nat({ max: 59 }),
});

/** @param maxChanges, maxEvents at most so many of them */
export function runs({
  maxChanges = 4,
  maxEvents = 3,
  of = [...specs, ...seatedAndGauged],
} = {}): fc.Arbitrary<Run> {
  return fc
    .record({
      spec: fc.constantFrom(...of),
      loose: fc.array(looseReading, { minLength: 3, maxLength: 40 }),
      changes: fc.array(looseChange, { maxLength: maxChanges }),
      events: fc.array(looseEvent, { maxLength: maxEvents }),
    })
    .map(({ spec, loose, changes, events }) => {
      const block = blockOf(spec);
      const journal = journalOf(block, {
        changes: changes
          .map((change) => keyed(block, change))
          .sort((a, b) => a.piece - b.piece || a.cut - b.cut),
        events: events.map((event) => happened(block, event)).sort((a, b) => a.piece - b.piece),
      });
      const readings = loose
        .sort((a, b) => a.piece - b.piece)
        .map(({ deviationUm: um, gauge, within, ...rest }, i) => {
          const feature = rest.feature % block.features.length;
          const { programmedPm, hasReference } = block.features[feature]!;
          const sizePm = programmedPm + um * 1e6;
          const reading: JournalReading = { ...rest, readingNo: i + 1, feature, sizePm, gaugeVariance };
          if (block.seats) reading.seat = (rest.piece - 1) % block.seats.length;
          if (hasReference)
            reading.gauge = { id: gauge, reference: gauge === "reference", expandedMm: 0.006 };
          if (within > 1) reading.pieceFrom = Math.max(1, rest.piece - within + 1);
          return reading;
        });
      return { spec, block, journal, readings };
    });
}

function keyed(
  block: Block,
  loose: { register: number; piece: number; cut: number; valueUm: number },
): RegisterChange {
  const { piece: from, cut } = loose;
  const registers = block.registers.length + (block.workOffsets?.length ?? 0);
  return changeTo(loose.valueUm / 1000, from, { register: loose.register % registers, cut });
}

function happened(
  block: Block,
  loose: { kind: BlockEvent["kind"]; piece: number; which: number },
): BlockEvent {
  const { kind, piece: at, which } = loose;
  if (kind === "fresh_edge") return { kind, piece: at, tool: which % block.tools.length };
  if (kind !== "jump") return { kind, piece: at };
  const feature = which % block.features.length;
  const register = which % 2 === 0 ? which % block.registers.length : undefined;
  return { kind, piece: at, register, features: [feature] };
}
