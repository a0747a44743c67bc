import { judgeDifference } from "../tolerance/places.js";
import type { Block } from "./block.js";
import { combineRepeats } from "./combine-repeats.js";
import { type EdgeMemory, remember, rememberedPrior } from "./edge-memory.js";
import {
  advance,
  copyEstimate,
  type Estimate,
  expectedDeviation,
  lifeOf,
  type Prior,
  plainPrior,
  readingsLearned,
  setRegisterPrior,
  sizeCovariance,
  startEstimate,
  takeReading,
  widenFeature,
  widenLevel,
} from "./estimate.js";
import { type JointTest, type PieceReading, type Slip, surpriseGate, testPiece } from "./joint-test.js";

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
  /** False: it has its verdict, but says nothing about the tool (gauge too coarse, piece not sure). */
  steers: boolean;
  /** Nonconforming by its own rule and gauge: proof, of which the state knows nothing. Absent: not said. */
  fails?: boolean | undefined;
}

/** From (piece, cut) on the register holds this value. */
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
  /** Fixture or programme changed: every feature may have moved on its own. */
  | { kind: "upset"; piece: number }
  /** A work offset was entered: by how much it moves each feature, mm, which needs no learning. */
  | { kind: "shift"; piece: number; deviations: readonly number[] }
  /** A person found nothing: the jump is real. */
  | { kind: "jump"; piece: number; register: number | undefined; features: readonly number[] }
  /** A person found the cause and put it right from this piece on. */
  | { kind: "put_right"; piece: number };

/** Everything that is known about a block but the readings. Changes and events in cutting order. */
export interface Journal {
  start: readonly RegisterStart[];
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
}

interface RegisterProgress {
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

export interface LatestReading {
  piece: number;
  sizePm: number;
  /** Register values when that piece was cut. */
  valuesPm: number[];
  readingNos: number[];
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

/** What has been learned up to a piece: everything that the next piece's judgement starts from. */
export interface Progress {
  estimate: Estimate;
  registers: RegisterProgress[];
  latest: (LatestReading | null)[];
  goodInARow: number;
  measuredPieces: number;
  /** Edge changes, interruptions and changes of registers taken in so far. */
  eventsTaken: number;
  changesTaken: number;
  /** An odd piece whose next piece has not been measured yet. */
  suspect: { piece: number; features: number[] } | null;
  /** Per feature: a reading that surprised and was never repeated. */
  unconfirmed: ({ piece: number; sign: number } | null)[];
  cause: Cause | null;
  /** By feature, for those that are measured at several places. */
  places: Record<string, PlacesRead>;
}

/** A question that a piece left open. */
export interface OpenQuestion {
  feature: number;
  piece: number;
  ask: 2 | 3;
  readingNos: number[];
  expectedPm: number;
  /** How far a reading may lie from the expected size without surprising, in picometres. */
  withinPm: number;
}

/** What the process says of a feature's size on a piece before any reading of that piece: N(mean, deviation²), mm. */
export interface PieceForecast {
  feature: number;
  meanMm: number;
  /** Doubt about the expected size and scatter of the pieces together, without the gauge. */
  deviationMm: number;
}

export interface PieceOutcome {
  piece: number;
  questions: OpenQuestion[];
  odd: boolean;
  /** Of the features read on the first cut, as far as the process is known. */
  forecasts: PieceForecast[];
}

/** So many readings must have taught what a feature's pieces scatter, before its process counts as known. */
const readingsToKnow = 5;

/** Beyond this a register does not hold a wear value but a whole length or radius, and wear counts from its start value. */
const geometryFromPm = 1e9;
const grossFactor = 5;

export function startProgress(block: Block, journal: Journal): Progress {
  const priors = block.registers.map((_, r) => {
    const { carried, memory, doubtMm = 0 } = journal.start[r]!;
    if (carried) return carried;
    const prior = rememberedPrior(memory, plainPrior(block, r));
    return { ...prior, levelVariance: prior.levelVariance + doubtMm ** 2 };
  });
  return {
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
    eventsTaken: 0,
    changesTaken: 0,
    suspect: null,
    unconfirmed: block.features.map(() => null),
    cause: null,
    places: {},
  };
}

/** What a register's value says of wear, in picometres: all of it, or nothing where it holds a whole length or radius. */
export function wearOf(valuePm: number): number {
  return valuePm - zeroOf(valuePm);
}

function zeroOf(valuePm: number): number {
  return Math.abs(valuePm) > geometryFromPm ? valuePm : 0;
}

export function copyProgress(progress: Progress): Progress {
  return {
    ...progress,
    estimate: copyEstimate(progress.estimate),
    registers: progress.registers.map((register) => ({ ...register })),
    latest: progress.latest.slice(),
    unconfirmed: progress.unconfirmed.slice(),
    places: { ...progress.places },
  };
}

/** Register values less their zero, in mm: the known input u_r. */
export function offsetsOf(progress: Progress): number[] {
  return progress.registers.map(({ valuePm, zeroPm }) => (valuePm - zeroPm) / 1e9);
}

/** Takes in what happened before (piece, cut) and carries the estimate on to that piece. */
function carryTo(block: Block, journal: Journal, progress: Progress, piece: number, cut = 1): void {
  takeJournal(block, journal, progress, piece, cut);
  advance(block, progress.estimate, piece);
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

  function takeChanges(uptoPiece: number, uptoCut: number): void {
    for (; progress.changesTaken < changes.length; progress.changesTaken++) {
      const change = changes[progress.changesTaken]!;
      if (change.piece > uptoPiece || (change.piece === uptoPiece && change.cut > uptoCut)) return;
      const register = progress.registers[change.register]!;
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
      progress.goodInARow = 0;
      forgetSurprises(progress);
      break;
    case "pause":
      block.registers.forEach((register, r) => {
        widenLevel(block, estimate, r, 0.4 * register.halfMoveMm);
      });
      break;
    case "upset":
      block.features.forEach((feature, f) => {
        widenFeature(block, estimate, f, 2 * feature.roomMm);
      });
      progress.goodInARow = 0;
      forgetSurprises(progress);
      break;
    case "shift":
      event.deviations.forEach((deviation, f) => {
        if (deviation === 0) return;
        estimate.mean[2 * block.registers.length + f]! += deviation;
        progress.latest[f] = null; // it was read before
      });
      break;
    case "jump":
      if (event.register !== undefined) {
        widenLevel(block, estimate, event.register, 2 * block.registers[event.register]!.halfMoveMm);
      } else {
        for (const f of event.features) widenFeature(block, estimate, f, 2 * block.features[f]!.roomMm);
      }
      progress.goodInARow = 0;
      break;
    case "put_right":
      block.registers.forEach((register, r) => {
        widenLevel(block, estimate, r, 0.4 * register.halfMoveMm);
      });
      progress.cause = null;
      forgetSurprises(progress);
      break;
  }
}

/** What was odd before an edge, a fixture or a programme changed says nothing of what comes after. */
function forgetSurprises(progress: Progress): void {
  progress.suspect = null;
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

/**
 * Judges the readings of one piece and takes what fits into the state. The result depends on the set of readings, not on
 * the order in which they came.
 * @param progress changed in place; stands before `piece`
 * @param readings all readings of the block on this piece that nobody voided
 */
export function followPiece(
  block: Block,
  journal: Journal,
  progress: Progress,
  piece: number,
  readings: readonly JournalReading[],
): PieceOutcome {
  carryTo(block, journal, progress, piece);
  progress.measuredPieces += 1;
  const { estimate, registers } = progress;
  const offsets = offsetsOf(progress);
  const values = registers.map((register) => register.valuePm);
  const questions: OpenQuestion[] = [];
  const forecasts: PieceForecast[] = [];
  const settled: (PieceReading & { sizePm: number; cut: number })[] = [];

  block.features.forEach((feature, f) => {
    const cutThatCounts = lastSpringPass(block, journal, progress, readings, f);
    const firstCut = readings.filter((reading) => reading.feature === f && reading.cut === cutThatCounts);
    if (firstCut.length === 0) return;
    const expected = expectedDeviation(block, estimate, f, offsets);
    const variance = sizeCovariance(block, estimate, f, f) + estimate.scatter[f]!;
    if (isProcessKnown(block, progress, f)) {
      const meanMm = feature.programmedPm / 1e9 + expected;
      forecasts.push({ feature: f, meanMm, deviationMm: Math.sqrt(variance) });
    }
    const mine = firstCut.filter((reading) => reading.steers);
    if (mine.length === 0) return;
    const gaugeVariance = Math.max(...mine.map((reading) => reading.gaugeVariance));
    const spread = Math.sqrt(variance + gaugeVariance);
    const withinMm = Math.min(grossFactor * feature.roomMm, surpriseGate * spread);
    const surprise = (mine[0]!.sizePm - feature.programmedPm) / 1e9 - expected;
    const before = progress.unconfirmed[f];
    const confirmedBefore = before != null && before.sign === Math.sign(surprise);
    const surprising = mine.length === 1 && Math.abs(surprise) > withinMm && !confirmedBefore;
    const readingNos = mine.map((reading) => reading.readingNo).sort((a, b) => a - b);
    const combined = combineRepeats(
      mine.map((reading) => reading.sizePm),
      gaugeVariance,
      surprising,
    );
    if (combined.settled) {
      const deviation = (combined.sizePm - feature.programmedPm) / 1e9;
      settled.push({
        feature: f,
        deviation,
        gaugeVariance,
        readingNos,
        sizePm: combined.sizePm,
        cut: cutThatCounts,
      });
    } else {
      const expectedPm = feature.programmedPm + expected * 1e9;
      questions.push({
        feature: f,
        piece,
        ask: combined.ask,
        readingNos,
        expectedPm,
        withinPm: withinMm * 1e9,
      });
      if (surprising) progress.unconfirmed[f] = { piece, sign: Math.sign(surprise) };
    }
  });

  const changes = registers.map((register) => register.openChangeMm ?? undefined);
  const test = settled.length > 0 ? testPiece(block, estimate, offsets, settled, changes) : undefined;
  const unusual = test !== undefined && (test.odd || test.slip !== undefined);
  if (test && unusual) noteOddPiece(progress, piece, test, settled.length);
  else if (test) takePiece(settled);
  compareLaterCuts();
  notePlaces(block, progress, piece, settled);
  countTrust(block, progress, readings, settled, questions.length > 0, unusual);
  return { piece, questions, odd: unusual, forecasts };

  function takePiece(list: typeof settled): void {
    // A piece on which other features were measured says nothing of the odd one.
    const { suspect } = progress;
    if (suspect && list.some(({ feature }) => suspect.features.includes(feature))) progress.suspect = null;
    for (const { feature, deviation, gaugeVariance, readingNos, sizePm } of list) {
      takeReading(block, estimate, feature, deviation, gaugeVariance, offsets);
      progress.latest[feature] = { piece, sizePm, valuesPm: values, readingNos: [...readingNos] };
      progress.unconfirmed[feature] = null;
    }
    block.registers.forEach((_, r) => {
      const used = list.filter(({ feature }) => block.features[feature]!.effects[r] !== 0);
      if (used.length === 0) return;
      const register = registers[r]!;
      const count = used.reduce((sum, { readingNos }) => sum + readingNos.length, 0);
      if (register.openChangeMm !== null) [register.proven, register.usedSinceChange] = [true, 0];
      register.openChangeMm = null;
      register.readAtPm = register.valuePm;
      register.usedSinceChange += count;
      register.usedSinceEdge += count;
      register.measuredPieces += 1;
      register.last = { piece, level: estimate.mean[r]! };
      if (register.measuredPieces === 3) register.third = register.last;
    });
  }

  /** A second cut is no piece of its own to the state, but shows whether the change did what it should. */
  function compareLaterCuts(): void {
    const cuts = [...new Set(readings.map((reading) => reading.cut))]
      .filter((cut) => cut > 1)
      .sort((a, b) => a - b);
    for (const cut of cuts) {
      carryTo(block, journal, progress, piece, cut);
      const now = offsetsOf(progress);
      for (const reading of readings) {
        if (reading.cut !== cut || !reading.steers) continue;
        const f = reading.feature;
        const surprise =
          (reading.sizePm - block.features[f]!.programmedPm) / 1e9 -
          expectedDeviation(block, estimate, f, now);
        const variance = sizeCovariance(block, estimate, f, f) + estimate.scatter[f]! + reading.gaugeVariance;
        if (Math.abs(surprise) > surpriseGate * Math.sqrt(variance)) continue;
        block.features[f]!.effects.forEach((effect, r) => {
          if (effect !== 0 && registers[r]!.openChangeMm !== null) registers[r]!.proven = true;
        });
      }
    }
  }
}

/**
 * The cut of a piece that says how the tool cuts: the first, or the last spring pass before any register of the feature
 * was changed. `progress` has taken in what happened before the first cut.
 */
function lastSpringPass(
  block: Block,
  journal: Journal,
  progress: Progress,
  readings: readonly JournalReading[],
  f: number,
): number {
  const passes = readings.filter(
    ({ feature, springPass, steers }) => feature === f && springPass === true && steers,
  );
  if (passes.length === 0) return 1;
  const { piece } = passes[0]!;
  const { effects } = block.features[f]!;
  const changed = journal.changes
    .slice(progress.changesTaken)
    .find((change) => change.piece === piece && effects[change.register] !== 0);
  const cuts = passes.map(({ cut }) => cut).filter((cut) => changed === undefined || cut < changed.cut);
  return Math.max(1, ...cuts);
}

/** Keeps what the places of a feature measured on a piece where there were several. */
function notePlaces(
  block: Block,
  progress: Progress,
  piece: number,
  settled: readonly { feature: number; sizePm: number; cut: number; readingNos: readonly number[] }[],
): void {
  const byFeature = new Map<string, (typeof settled)[number][]>();
  for (const item of settled) {
    const { featureId, place } = block.features[item.feature]!;
    if (place !== undefined) byFeature.set(featureId, [...(byFeature.get(featureId) ?? []), item]);
  }
  for (const [featureId, items] of byFeature) {
    if (items.length < 2) continue;
    const sizes = items.map(({ feature, sizePm }) => ({ feature, sizePm }));
    const { lowerPm, upperPm } = block.features[sizes[0]!.feature]!;
    const width = lowerPm === undefined || upperPm === undefined ? undefined : upperPm - lowerPm;
    const all = sizes.map(({ sizePm }) => sizePm);
    const wide = judgeDifference(Math.max(...all) - Math.min(...all), width) !== "within";
    const before = progress.places[featureId]?.wideSince ?? null;
    progress.places[featureId] = {
      piece,
      sizes,
      wideSince: wide ? (before ?? piece) : null,
      confirmed: before !== null || items.some(({ cut, readingNos }) => cut > 1 || readingNos.length > 1),
    };
  }
}

/**
 * True where the state before a piece says what that piece will measure: the scatter has been learned, a piece of the
 * running edge with the present register values has been measured, and nothing odd waits for an answer.
 */
function isProcessKnown(block: Block, progress: Progress, f: number): boolean {
  if (progress.cause || progress.suspect || progress.unconfirmed[f]) return false;
  if (readingsLearned(progress.estimate, f) < readingsToKnow) return false;
  return block.features[f]!.effects.every((effect, r) => {
    const { readAtPm, openChangeMm } = progress.registers[r]!;
    return effect === 0 || (readAtPm !== null && openChangeMm === null);
  });
}

function noteOddPiece(progress: Progress, piece: number, test: JointTest, measured: number): void {
  const { cause, suspect } = progress;
  const before = suspect?.piece ?? earliestUnconfirmed(progress, test.beyond);
  if (cause) {
    progress.cause = { ...cause, lastPiece: piece };
  } else if (test.slip || test.certain || before !== undefined) {
    progress.cause = {
      firstPiece: before ?? piece,
      lastPiece: piece,
      features: [...new Set([...(suspect?.features ?? []), ...test.beyond])].sort((a, b) => a - b),
      register: test.slip ? test.slip.register : test.explained ? test.register : undefined,
      jumpMm: test.jumpMm,
      single: measured === 1,
      slip: test.slip,
    };
    progress.suspect = null;
    progress.goodInARow = 0;
  } else {
    progress.suspect = { piece, features: test.beyond };
  }
}

function earliestUnconfirmed(progress: Progress, features: readonly number[]): number | undefined {
  const pieces = features.flatMap((f) => progress.unconfirmed[f]?.piece ?? []);
  return pieces.length > 0 ? Math.min(...pieces) : undefined;
}

/**
 * A check is good when every feature that tells was measured and the last cut of each is inside the limits, whatever the
 * decision rule: trust is in the process, not in the proof, so that a reading inside a guard band earns it. Of readings
 * that were repeated it is the size they amount to that counts, so that a misreading costs no trust.
 */
function countTrust(
  block: Block,
  progress: Progress,
  readings: readonly JournalReading[],
  settled: readonly { feature: number; sizePm: number; cut: number }[],
  open: boolean,
  unusual: boolean,
): void {
  let complete = true;
  let good = !unusual;
  block.features.forEach((feature, f) => {
    const mine = readings.filter((reading) => reading.feature === f);
    const lastCut = Math.max(...mine.map((reading) => reading.cut));
    const last = mine.filter((reading) => reading.cut === lastCut);
    if (feature.tells && !mine.some((reading) => reading.steers)) complete = false;
    const size = settled.find((item) => item.feature === f && item.cut === lastCut)?.sizePm;
    for (const sizePm of size === undefined ? last.map((reading) => reading.sizePm) : [size]) {
      if (sizePm < (feature.lowerPm ?? sizePm) || sizePm > (feature.upperPm ?? sizePm)) good = false;
    }
  });
  if (open) return;
  if (!good) progress.goodInARow = 0;
  else if (complete) progress.goodInARow += 1;
}
