import type { Block } from "./block.js";
import { type EdgeMemory, remember, rememberedPrior } from "./edge-memory.js";
import {
  advance,
  copyEstimate,
  type Estimate,
  lifeOf,
  type Prior,
  plainPrior,
  setRegisterPrior,
  startEstimate,
  widenFeature,
  widenLevel,
  widenSeat,
} from "./estimate.js";
import type { Slip } from "./joint-test.js";

/** One reading as the journal of a block keeps it. */
export interface JournalReading {
  readingNo: number;
  feature: number;
  piece: number;
  cut: number;
  sizePm: number;
  /** u_g², mm². */
  gaugeVariance: number;
  /** A later cut at the same register values, which takes off what the cutter had sprung. */
  springPass?: boolean | undefined;
  /** False: it has its verdict, but says nothing about the tool (gauge too coarse). */
  steers: boolean;
  /** Nonconforming by its own rule and gauge: proof, of which the state knows nothing. Absent: not said. */
  fails?: boolean | undefined;
  /** Seat that the piece was cut in; absent: not known, or there is but one. */
  seat?: number | undefined;
  /** The gauge, where the feature has a reference gauge; absent: the reference itself, or there is none. */
  gauge?: JournalGauge | undefined;
  /** The piece is one of `pieceFrom` to `piece`; absent: it is known. */
  pieceFrom?: number | undefined;
}

export interface JournalGauge {
  id: string;
  reference: boolean;
  /** U, mm. */
  expandedMm?: number | undefined;
}

/** From (piece, cut) on the register holds this value. Numbers above those of the registers are work offsets. */
export interface RegisterChange {
  register: number;
  piece: number;
  cut: number;
  valuePm: number;
  /** True: keyed with a fresh edge, whose length or radius may have been measured anew. */
  withEdge: boolean;
}

/** What happens before a piece is cut. */
export type BlockEvent =
  | { kind: "fresh_edge"; piece: number; tool: number }
  /** The machine stood, or other hands or material came. */
  | { kind: "pause"; piece: number }
  /** Another value was entered in a register that a feature only names: it is looked at again, no more. */
  | { kind: "touched"; piece: number }
  /** Fixture or programme changed: every feature may have moved on its own. */
  | { kind: "upset"; piece: number }
  /** A person found nothing: the jump is real; of one seat where that is named. */
  | {
      kind: "jump";
      piece: number;
      register: number | undefined;
      features: readonly number[];
      seat?: number | undefined;
    }
  /** A person found the cause and put it right from this piece on. */
  | { kind: "put_right"; piece: number };

/** Everything that is known about a block but the readings. Changes and events in cutting order. */
export interface Journal {
  start: readonly RegisterStart[];
  /** What each work offset held when the batch began, pm; absent: there are none. */
  workOffsets?: readonly number[];
  piecesCut: readonly number[];
  changes: readonly RegisterChange[];
  events: readonly BlockEvent[];
}

export interface RegisterStart {
  valuePm: number;
  memory: EdgeMemory;
  /** What the running edge brings along; undefined: the edge is fresh or nothing is known of it. */
  carried: Prior | undefined;
  /** How far from 0 it stands although nothing is known of the edge: the tool may be off by as much the other way. */
  doubtMm?: number | undefined;
}

/** Why a jump waits for a person. */
export interface Cause {
  firstPiece: number;
  lastPiece: number;
  features: number[];
  /** The register whose jump explains it; undefined: none does. */
  register: number | undefined;
  jumpMm: number;
  /** True: only one feature was measured, so edge and setup can't be told apart. */
  single: boolean;
  slip: Slip | undefined;
  /** The jump is of this seat alone: pieces of others came out as expected in between. */
  seat?: number | undefined;
}

export interface RegisterProgress {
  valuePm: number;
  /** Value that counts as no wear: 0, or the start value where the register holds a whole length or radius. */
  zeroPm: number;
  memory: EdgeMemory;
  measuredPieces: number;
  third: { piece: number; level: number } | null;
  last: { piece: number; level: number } | null;
  /** Value with which the last piece that counts was cut; null: none of this edge has been measured. */
  readAtPm: number | null;
  /** Readings that speak for that value, and for the present edge. */
  usedSinceChange: number;
  usedSinceEdge: number;
  /** A change whose prediction has not been compared with a piece yet, mm. */
  openChangeMm: number | null;
  /** A change of this register has come out as predicted at least once. */
  proven: boolean;
}

export interface WorkOffsetProgress {
  valuePm: number;
  /** Value when the batch began: what is moved since then is what counts. */
  zeroPm: number;
  /** Value with which the seat's last piece that counts was cut; null: none. */
  readAtPm: number | null;
}

export interface LatestReading {
  piece: number;
  sizePm: number;
  /** Register values when that piece was cut. */
  valuesPm: number[];
  readingNos: number[];
  /** Where the piece was cut, and what each work offset held then; absent: there are none. */
  seat?: number | undefined;
  workOffsetsPm?: number[];
}

/** What the places of one feature measured on the last piece where there were several. */
export interface PlacesRead {
  piece: number;
  /** First of the pieces in a row on which they differed by more than half the tolerance; null: they don't. */
  wideSince: number | null;
  /** The difference has been looked into: after a spring pass, by repeats, or on the piece before as well. */
  confirmed: boolean;
  sizes: { feature: number; sizePm: number }[];
}

/** An odd piece that waits for another one to tell what it was. */
export interface Suspect {
  piece: number;
  features: number[];
  seat?: number | undefined;
  /** The register whose jump would explain it; absent: none would. */
  register?: number | undefined;
  /** The piece before it was odd too, but in another way. */
  another?: boolean;
}

/** What has been learned up to a piece: everything that the next piece's judgement starts from. */
export interface Progress {
  estimate: Estimate;
  registers: RegisterProgress[];
  workOffsets?: WorkOffsetProgress[];
  latest: (LatestReading | null)[];
  goodInARow: number;
  measuredPieces: number;
  /** Jumps that were no slip of keying. */
  jumps: number;
  /** Edge changes, interruptions and changes of registers taken in so far. */
  eventsTaken: number;
  changesTaken: number;
  /** An odd piece whose next piece has not been measured yet. */
  suspect: Suspect | null;
  /** Odd pieces whose seat has not been measured since, although the next piece was as expected. */
  seatSuspects?: (Suspect & { seat: number })[];
  /** Per seat: its last measured piece, 0 where there is none. */
  seatPieces?: number[];
  /** Per feature with a reference gauge: the last piece that it read, and the last on which it should have. */
  references?: { read: number; asked: number }[];
  /** Gauges that no longer read what they did beside the reference. */
  gaugesOff?: { feature: number; gauge: string; piece: number; byMm: number }[];
  /** Per feature: a reading that surprised and was never repeated. */
  unconfirmed: ({ piece: number; sign: number } | null)[];
  cause: Cause | null;
  /** By feature, for those that are measured at several places. */
  places: Record<string, PlacesRead>;
  /** While a cause is open: what would be known if the jump is real, followed beside. */
  ifReal?: Progress;
}

/** Beyond this a register does not hold a wear value but a whole length or radius, and wear counts from its start value. */
const geometryFromPm = 1e9;

/**
 * What a feature's own deviation may change by with a fresh edge, as a share of its room: part of it may have come from the
 * old edge, as where a thin wall bends away from a dull tool.
 */
const edgeShare = 0.1;

export function startProgress(block: Block, journal: Journal): Progress {
  const priors = block.registers.map((_, r) => {
    const { carried, memory, doubtMm = 0 } = journal.start[r]!;
    if (carried) return carried;
    const prior = rememberedPrior(memory, plainPrior(block, r));
    return { ...prior, levelVariance: prior.levelVariance + doubtMm ** 2 };
  });
  const progress: Progress = {
    estimate: startEstimate(block, priors, journal.piecesCut),
    registers: journal.start.map(({ valuePm, memory }) => ({
      valuePm,
      zeroPm: zeroOf(valuePm),
      memory,
      measuredPieces: 0,
      third: null,
      last: null,
      readAtPm: null,
      usedSinceChange: 0,
      usedSinceEdge: 0,
      openChangeMm: null,
      proven: false,
    })),
    latest: block.features.map(() => null),
    goodInARow: 0,
    measuredPieces: 0,
    jumps: 0,
    eventsTaken: 0,
    changesTaken: 0,
    suspect: null,
    unconfirmed: block.features.map(() => null),
    cause: null,
    places: {},
  };
  if (block.workOffsets?.length) {
    progress.workOffsets = block.workOffsets.map((_, i) => {
      const valuePm = journal.workOffsets?.[i] ?? 0;
      return { valuePm, zeroPm: valuePm, readAtPm: null };
    });
  }
  if (block.seats?.length) progress.seatPieces = block.seats.map(() => 0);
  if (block.features.some((feature) => feature.hasReference))
    progress.references = block.features.map(() => ({ read: 0, asked: 0 }));
  return progress;
}

/** What a register's value says of wear, in picometres: all of it, or nothing where it holds a whole length or radius. */
export function wearOf(valuePm: number): number {
  return valuePm - zeroOf(valuePm);
}

function zeroOf(valuePm: number): number {
  return Math.abs(valuePm) > geometryFromPm ? valuePm : 0;
}

export function copyProgress(progress: Progress): Progress {
  const copy: Progress = {
    ...progress,
    estimate: copyEstimate(progress.estimate),
    registers: progress.registers.map((register) => ({ ...register })),
    latest: progress.latest.slice(),
    unconfirmed: progress.unconfirmed.slice(),
    places: { ...progress.places },
  };
  if (progress.workOffsets) copy.workOffsets = progress.workOffsets.map((offset) => ({ ...offset }));
  if (progress.seatPieces) copy.seatPieces = progress.seatPieces.slice();
  if (progress.references) copy.references = progress.references.map((reference) => ({ ...reference }));
  if (progress.ifReal) copy.ifReal = copyProgress(progress.ifReal);
  return copy;
}

/** Register values less their zero, in mm: the known input u_r; those of the work offsets after them. */
export function offsetsOf(progress: Progress): number[] {
  const offsets = progress.registers.map(({ valuePm, zeroPm }) => (valuePm - zeroPm) / 1e9);
  for (const { valuePm, zeroPm } of progress.workOffsets ?? []) offsets.push((valuePm - zeroPm) / 1e9);
  return offsets;
}

/** The latest reading of a feature, unless a work offset that moves it has been moved since. */
export function latestReading(block: Block, progress: Progress, f: number): LatestReading | undefined {
  const latest = progress.latest[f];
  if (!latest) return undefined;
  const moved = block.workOffsets?.some(
    ({ effects, seat }, i) =>
      effects[f] !== 0 &&
      (seat === undefined || seat === latest.seat) &&
      latest.workOffsetsPm?.[i] !== progress.workOffsets![i]!.valuePm,
  );
  return moved ? undefined : latest;
}

/** Takes in what happened before (piece, cut) and carries the estimate on to that piece. */
export function carryTo(block: Block, journal: Journal, progress: Progress, piece: number, cut = 1): void {
  takeJournal(block, journal, progress, piece, cut);
  advance(block, progress.estimate, piece);
  if (progress.ifReal) advance(block, progress.ifReal.estimate, piece);
}

/** Takes in what happened before (piece, cut); the estimate stays at the last piece that a reading or an event needed. */
export function takeJournal(
  block: Block,
  journal: Journal,
  progress: Progress,
  piece: number,
  cut = 1,
): void {
  const { estimate } = progress;
  const { events, changes } = journal;
  for (
    ;
    progress.eventsTaken < events.length && events[progress.eventsTaken]!.piece <= piece;
    progress.eventsTaken++
  ) {
    const event = events[progress.eventsTaken]!;
    takeChanges(event.piece, 0);
    advance(block, estimate, event.piece - 1);
    takeEvent(block, progress, event);
  }
  takeChanges(piece, cut);
  if (progress.ifReal) takeJournal(block, journal, progress.ifReal, piece, cut);

  function takeChanges(uptoPiece: number, uptoCut: number): void {
    for (; progress.changesTaken < changes.length; progress.changesTaken++) {
      const change = changes[progress.changesTaken]!;
      if (change.piece > uptoPiece || (change.piece === uptoPiece && change.cut > uptoCut)) return;
      const register = progress.registers[change.register];
      if (register) changeRegister(register, change);
      else progress.workOffsets![change.register - progress.registers.length]!.valuePm = change.valuePm;
    }
  }
}

function changeRegister(register: RegisterProgress, change: RegisterChange): void {
  const movedPm = change.valuePm - register.valuePm;
  register.valuePm = change.valuePm;
  if (register.readAtPm === null) {
    if (change.withEdge || Math.abs(movedPm) > geometryFromPm) register.zeroPm = zeroOf(change.valuePm);
  } else {
    // Against the value last read, so that one taken back before a piece was measured is no change.
    const openPm = register.valuePm - register.readAtPm;
    register.openChangeMm = openPm === 0 ? null : openPm / 1e9;
  }
}

function takeEvent(block: Block, progress: Progress, event: BlockEvent): void {
  const { estimate } = progress;
  switch (event.kind) {
    case "fresh_edge":
      block.registers.forEach((register, r) => {
        if (register.tool === event.tool) startEdge(block, progress, r, event.piece);
      });
      estimate.edgeFrom[event.tool] = event.piece;
      block.features.forEach((feature, f) => {
        if (feature.tool === event.tool) widenFeature(block, estimate, f, edgeShare * feature.roomMm);
      });
      progress.goodInARow = 0;
      forgetSurprises(progress);
      break;
    case "pause":
      pause(block, estimate);
      break;
    case "upset":
      block.features.forEach((feature, f) => {
        widenFeature(block, estimate, f, 2 * feature.roomMm);
      });
      progress.goodInARow = 0;
      forgetSurprises(progress);
      break;
    case "jump":
      acceptJump(block, progress, event);
      progress.jumps += 1;
      progress.goodInARow = 0;
      break;
    case "put_right":
      pause(block, estimate);
      progress.cause = null;
      delete progress.ifReal;
      forgetSurprises(progress);
      break;
  }
}

function pause(block: Block, estimate: Estimate): void {
  block.registers.forEach((register, r) => {
    widenLevel(estimate, r, 0.4 * register.halfMoveMm);
  });
}

/** A jump that is taken as real: (2h)² on its register's level, or (2T)² on every feature that was odd. */
export function acceptJump(
  block: Block,
  { estimate }: Progress,
  jump: { register: number | undefined; features: readonly number[]; seat?: number | undefined },
): void {
  if (jump.register !== undefined) {
    widenLevel(estimate, jump.register, 2 * block.registers[jump.register]!.halfMoveMm);
    return;
  }
  for (const f of jump.features) {
    const sd = 2 * block.features[f]!.roomMm;
    if (jump.seat === undefined) widenFeature(block, estimate, f, sd);
    else widenSeat(block, estimate, f, jump.seat, sd);
  }
}

/** What was odd before an edge, a fixture or a programme changed says nothing of what comes after. */
function forgetSurprises(progress: Progress): void {
  progress.suspect = null;
  if (!progress.cause) delete progress.ifReal;
  delete progress.seatSuspects;
  progress.unconfirmed.fill(null);
  progress.places = {};
}

/** What earlier edges teach of a register's fresh edge, the running one included as if it ended before `piece`. */
export function memoryBefore(block: Block, progress: Progress, r: number, piece: number): EdgeMemory {
  const { third, last, memory } = progress.registers[r]!;
  if (!third || !last) return memory;
  const { tool } = block.registers[r]!;
  const from = progress.estimate.edgeFrom[tool]!;
  const rate =
    last.piece > third.piece
      ? (last.level - third.level) / (last.piece - third.piece)
      : progress.estimate.mean[block.registers.length + r]!;
  const seenLong = piece - from > 0.3 * lifeOf(block, tool);
  return remember(memory, third.level - rate * (third.piece - from), seenLong ? rate : undefined);
}

function startEdge(block: Block, progress: Progress, r: number, piece: number): void {
  const register = progress.registers[r]!;
  register.memory = memoryBefore(block, progress, r, piece);
  setRegisterPrior(block, progress.estimate, r, rememberedPrior(register.memory, plainPrior(block, r)));
  Object.assign(register, {
    zeroPm: zeroOf(register.valuePm),
    measuredPieces: 0,
    third: null,
    last: null,
    readAtPm: null,
    usedSinceChange: 0,
    usedSinceEdge: 0,
    openChangeMm: null,
  });
}
