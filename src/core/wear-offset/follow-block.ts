import type { Block } from "./block.js";
import { combineRepeats } from "./combine-repeats.js";
import {
  expectedDeviation,
  gaugeDeviation,
  readingsLearned,
  type Source,
  sizeCovariance,
  takeDifference,
  takeMixture,
  widenGauge,
} from "./estimate.js";
import { type JointTest, surpriseGate, testPiece } from "./joint-test.js";
import { notePlaces } from "./note-places.js";
import { followIfReal, noteOddPiece, settleSuspects } from "./odd-piece.js";
import { carryTo, type Journal, type JournalReading, offsetsOf, type Progress } from "./progress.js";
import {
  gaugesOf,
  groupByGauge,
  join,
  type OpenQuestion,
  type SettledReading,
  settleFeature,
} from "./settle-readings.js";
import { takePiece } from "./take-piece.js";

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
  /** Of each gauge beside a reference gauge that read the piece. */
  deviations: GaugeDeviation[];
}

/**
 * How far a gauge reads from the reference gauge of a feature, as far as all before a piece says, and what the reference
 * gauge says on that piece; not its own reading of it, which is what is to be judged. Lengths in mm.
 */
export interface GaugeDeviation {
  feature: number;
  gauge: string;
  mean: number;
  standardDeviation: number;
}

/** With the cut that it was read after: the first, or a spring pass at the same register values. */
type CutReading = SettledReading & { cut: number };

/** So many readings must have taught what a feature's pieces scatter, before its process counts as known. */
const readingsToKnow = 5;
/** A reference reading is asked for at the first check this many pieces after the last one, and again if none came. */
const referenceEvery = 20;
const referenceAgain = 10;

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
  const seat = block.seats && seatOf(readings);
  const questions: OpenQuestion[] = [];
  const forecasts: PieceForecast[] = [];
  const settled: CutReading[] = [];
  const mixed: { feature: number; list: JournalReading[]; apart: number[] }[] = [];
  const beside = progress.ifReal;

  block.features.forEach((feature, f) => {
    const cut = lastSpringPass(block, journal, progress, readings, f);
    const firstCut = readings.filter((reading) => reading.feature === f && reading.cut === cut);
    if (firstCut.length === 0) return;
    if (isProcessKnown(block, progress, f)) {
      const meanMm = feature.programmedPm / 1e9 + expectedDeviation(block, estimate, f, offsets, { seat });
      const variance = sizeCovariance(block, estimate, f, f, { seat }) + estimate.scatter[f]!;
      forecasts.push({ feature: f, meanMm, deviationMm: Math.sqrt(variance) });
    }
    const mine = firstCut.filter((reading) => reading.steers);
    const apart = mine.length > 0 ? piecesApart(block, journal, progress, f, mine) : undefined;
    if (apart) mixed.push({ feature: f, list: mine, apart });
    else if (mine.length > 0) settle(f, mine, cut);
  });

  compareGauges();
  const deviations = deviationsOf(block, progress, readings);
  const changes = [
    ...registers.map((register) => register.openChangeMm ?? undefined),
    ...offsetChanges(block, progress, seat),
  ];
  const test = settled.length > 0 ? testPiece(block, estimate, offsets, settled, changes) : undefined;
  const unusual = test !== undefined && (test.odd || test.slip !== undefined);
  if (test && unusual) {
    if (!askReference(test)) noteOddPiece(block, progress, piece, seat, test, settled);
  } else if (test) {
    settleSuspects(progress, seat, settled);
    takePiece(block, progress, piece, settled);
  }
  for (const item of mixed) takeUnsure(item);
  compareLaterCuts();
  if (seat !== undefined && (settled.length > 0 || questions.length > 0)) progress.seatPieces![seat] = piece;
  if (!unusual) noteWorkOffsets();
  noteReferences();
  notePlaces(block, progress, piece, settled);
  countTrust(block, progress, readings, settled, questions.length > 0, unusual);
  // Not where this very piece has begun the second state, which has taken it already.
  if (beside && progress.ifReal === beside) followIfReal(block, progress, piece, settled);
  return { piece, questions, odd: unusual, forecasts, deviations };

  function settle(f: number, mine: readonly JournalReading[], cut: number): void {
    let judged = settleFeature(block, progress, f, mine, offsets, seat);
    // What fits the state that has accepted the jump is no surprise.
    if (judged.surprised !== undefined && beside) {
      const other = settleFeature(block, beside, f, mine, offsets, seat);
      if (other.settled) judged = other;
    }
    questions.push(...judged.questions);
    if (judged.settled) settled.push({ ...judged.settled, cut });
    else if (judged.surprised !== undefined) progress.unconfirmed[f] = { piece, sign: judged.surprised };
  }

  /** What two gauges differ by on one piece tells of the gauges, whatever became of the piece. */
  function compareGauges(): void {
    for (const { feature, parts, off } of settled) {
      for (const { gauge, byMm } of off ?? []) {
        widenGauge(block, estimate, feature, gauge, block.features[feature]!.roomMm);
        const others = (progress.gaugesOff ?? []).filter(
          (known) => known.feature !== feature || known.gauge !== gauge.id,
        );
        progress.gaugesOff = [...others, { feature, gauge: gauge.id, piece, byMm }];
      }
      if (!parts) continue;
      const [first, ...rest] = parts;
      let mean = { deviation: first!.deviation, variance: first!.variance, gauges: gaugesOf(first!) };
      for (const part of rest) {
        takeDifference(block, estimate, feature, mean, { ...part, gauges: gaugesOf(part) });
        mean = join(mean, part);
      }
    }
  }

  /** Before a jump is concluded from a gauge that may have moved itself, the reference has to read the piece. */
  function askReference(result: JointTest): boolean {
    const doubted = settled.filter(({ feature, only }) => only && result.beyond.includes(feature));
    if (doubted.length === 0) return false;
    for (const { feature, readingNos } of doubted) {
      const expected = expectedDeviation(block, estimate, feature, offsets, { seat });
      questions.push({
        feature,
        piece,
        ask: 2,
        readingNos: [...readingNos],
        expectedPm: block.features[feature]!.programmedPm + expected * 1e9,
        withinPm: 0,
        reference: "odd_piece",
      });
    }
    return true;
  }

  function takeUnsure({ feature: f, list: all, apart }: (typeof mixed)[number]): void {
    // Of several gauges the reference speaks, else the first by its id.
    const [{ gauge, list }] = groupByGauge(all) as [ReturnType<typeof groupByGauge>[number]];
    const source: Source = { gauges: gauge && [{ gauge, weight: 1 }] };
    const { programmedPm, roomMm } = block.features[f]!;
    const gaugeVariance = Math.max(...list.map((reading) => reading.gaugeVariance));
    const expected = expectedDeviation(block, estimate, f, offsets, source);
    const spread = Math.sqrt(
      sizeCovariance(block, estimate, f, f, source) + estimate.scatter[f]! + gaugeVariance,
    );
    const withinMm = Math.min(5 * roomMm, surpriseGate * spread);
    const surprise = (list[0]!.sizePm - programmedPm) / 1e9 - expected;
    const misses = apart.map((o) => Math.abs(surprise - o));
    const surprising = list.length === 1 && Math.min(...misses) > withinMm;
    const sizes = list.map((reading) => reading.sizePm);
    const combined = combineRepeats(sizes, gaugeVariance, surprising);
    if (!combined.settled) {
      const readingNos = list.map((reading) => reading.readingNo).sort((a, b) => a - b);
      const expectedPm = programmedPm + expected * 1e9;
      questions.push({
        feature: f,
        piece,
        ask: combined.ask,
        readingNos,
        expectedPm,
        withinPm: withinMm * 1e9,
      });
      return;
    }
    const deviation = (combined.sizePm - programmedPm) / 1e9;
    takeMixture(block, estimate, f, deviation, gaugeVariance, offsets, apart, source);
  }

  function noteWorkOffsets(): void {
    block.workOffsets?.forEach((offset, i) => {
      if (offset.seat !== undefined && offset.seat !== seat) return;
      if (!settled.some(({ feature }) => offset.effects[feature] !== 0)) return;
      const known = progress.workOffsets![i]!;
      known.readAtPm = known.valuePm;
    });
  }

  function noteReferences(): void {
    block.features.forEach(({ hasReference }, f) => {
      if (!hasReference) return;
      const mine = readings.filter((reading) => reading.feature === f && reading.cut === 1);
      if (mine.length === 0) return;
      const known = progress.references![f]!;
      if (isReferenceDue(known, piece)) known.asked = piece;
      if (mine.some((reading) => reading.steers && reading.gauge?.reference !== false)) known.read = piece;
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
          expectedDeviation(block, estimate, f, now, { seat });
        const variance =
          sizeCovariance(block, estimate, f, f, { seat }) + estimate.scatter[f]! + reading.gaugeVariance;
        if (Math.abs(surprise) > surpriseGate * Math.sqrt(variance)) continue;
        block.features[f]!.effects.forEach((effect, r) => {
          if (effect !== 0 && registers[r]!.openChangeMm !== null) registers[r]!.proven = true;
        });
      }
    }
  }
}

/** Per work offset the change that no piece of its seat has been compared with yet, mm; undefined: none, or another seat. */
function offsetChanges(
  block: Block,
  { workOffsets = [] }: Progress,
  seat: number | undefined,
): (number | undefined)[] {
  return workOffsets.map(({ readAtPm, valuePm }, i) => {
    const of = block.workOffsets![i]!.seat;
    if (readAtPm === null || readAtPm === valuePm || (of !== undefined && of !== seat)) return undefined;
    return (valuePm - readAtPm) / 1e9;
  });
}

/** What is known of each gauge beside a reference gauge that read the piece, whatever the cut. */
function deviationsOf(
  block: Block,
  { estimate }: Progress,
  readings: readonly JournalReading[],
): GaugeDeviation[] {
  const found = new Map<string, GaugeDeviation>();
  for (const { feature, gauge } of readings) {
    if (!gauge || gauge.reference || found.has(`${feature} ${gauge.id}`)) continue;
    const { mean, variance } = gaugeDeviation(block, estimate, feature, gauge);
    found.set(`${feature} ${gauge.id}`, {
      feature,
      gauge: gauge.id,
      mean,
      standardDeviation: Math.sqrt(variance),
    });
  }
  return [...found.values()];
}

/** The seat that a piece was first cut in; for a further cut it may have been clamped elsewhere. */
function seatOf(readings: readonly JournalReading[]): number | undefined {
  const said = readings.filter((reading) => reading.seat !== undefined);
  return (said.find((reading) => reading.cut === 1) ?? said[0])?.seat;
}

/** True where the next check of a feature should also be read by its reference gauge. */
export function isReferenceDue(known: { read: number; asked: number }, piece: number): boolean {
  if (known.asked === 0 && known.read === 0) return true;
  return piece - known.read >= referenceEvery && piece - known.asked >= referenceAgain;
}

/**
 * Where a piece is only known to be one of the last few and a register was moved in between: expected size of each piece
 * of the present edge that it may be, less that of the last one, in mm. Undefined: it counts as the last one.
 */
function piecesApart(
  block: Block,
  journal: Journal,
  progress: Progress,
  f: number,
  list: readonly JournalReading[],
): number[] | undefined {
  const last = list[0]!.piece;
  const from = Math.min(...list.map((reading) => reading.pieceFrom ?? last));
  if (from >= last || list.some((reading) => reading.pieceFrom === undefined)) return undefined;
  const { effects } = block.features[f]!;
  const acting = effects.flatMap((effect, r) => (effect === 0 ? [] : [r]));
  const edge = Math.max(1, ...acting.map((r) => progress.estimate.edgeFrom[block.registers[r]!.tool]!));
  const first = Math.max(from, edge);
  const apart: number[] = [];
  let changed = false;
  for (let piece = first; piece <= last; piece++) {
    let sum = 0;
    for (const r of acting) {
      const moved = valueAt(journal, r, piece) - progress.registers[r]!.valuePm;
      if (moved !== 0) changed = true;
      const rate = progress.estimate.mean[block.registers.length + r]!;
      sum += effects[r]! * (moved / 1e9 - (last - piece) * rate);
    }
    apart.push(sum);
  }
  return changed ? apart : undefined;
}

function valueAt(journal: Journal, register: number, piece: number): number {
  const change = journal.changes.findLast(
    (entry) =>
      entry.register === register && (entry.piece < piece || (entry.piece === piece && entry.cut === 1)),
  );
  return change?.valuePm ?? journal.start[register]!.valuePm;
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

/**
 * A check is good when every feature that tells was measured and the last cut of each is inside the limits, whatever the
 * decision rule: trust is in the process, not in the proof, so that a reading inside a guard band earns it. Of readings
 * that were repeated it is the size they amount to that counts, so that a misreading costs no trust; of a gauge that
 * reads otherwise than the reference, what the reference would have read.
 */
function countTrust(
  block: Block,
  progress: Progress,
  readings: readonly JournalReading[],
  settled: readonly CutReading[],
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
    const known = settled.find((item) => item.feature === f && item.cut === lastCut);
    const sizes = known ? [trueSize(block, progress, known)] : last.map((reading) => reading.sizePm);
    for (const sizePm of sizes) {
      if (sizePm < (feature.lowerPm ?? sizePm) || sizePm > (feature.upperPm ?? sizePm)) good = false;
    }
  });
  if (open) return;
  if (!good) progress.goodInARow = 0;
  else if (complete) progress.goodInARow += 1;
}

/** A size less what its gauge is believed to read from the reference, in picometres. */
function trueSize(block: Block, progress: Progress, { feature, sizePm, only }: SettledReading): number {
  if (!only) return sizePm;
  return sizePm - gaugeDeviation(block, progress.estimate, feature, only).mean * 1e9;
}
