import type { Block } from "../core/wear-offset/block.js";
import { followPiece, type PieceForecast } from "../core/wear-offset/follow-block.js";
import {
  copyProgress,
  type Journal,
  type JournalReading,
  type Progress,
  startProgress,
} from "../core/wear-offset/progress.js";
import type { OpenQuestion } from "../core/wear-offset/settle-readings.js";

/**
 * What has been learned of a block, kept so that the next reading costs the same whatever the history: the state before
 * and after the last measured piece, and that piece's readings. Everything in it follows from the journal.
 */
export interface BlockCache {
  /** Last measured piece; 0: none. */
  piece: number;
  before: Progress;
  after: Progress;
  readings: JournalReading[];
  questions: OpenQuestion[];
  odd: boolean;
  /** The check plan counts from here: last piece known to be cut when the latest reading came. */
  countedFrom: number;
  /** The same before this piece was measured. */
  countedBefore: number;
}

/** The state before a measured piece, kept now and then, so that a late reading need not start from the first piece. */
export interface Checkpoint {
  piece: number;
  progress: Progress;
}

const checkpointEvery = 16;

export function emptyCache(block: Block, journal: Journal): BlockCache {
  const start = startProgress(block, journal);
  return {
    piece: 0,
    before: start,
    after: start,
    readings: [],
    questions: [],
    odd: false,
    countedFrom: 0,
    countedBefore: 0,
  };
}

export function readCache(block: Block, journal: Journal, state: string | undefined): BlockCache {
  return state === undefined ? emptyCache(block, journal) : (JSON.parse(state) as BlockCache);
}

/**
 * Follows the readings of one or more pieces on from a state.
 * @param from state before the first of the pieces
 * @param readings all readings of those pieces, in any order
 * @returns the cache at the last piece; checkpoints passed, questions that any of the pieces left open, and by piece the
 *   readings and what was forecast of it before them
 */
export function followReadings(
  block: Block,
  journal: Journal,
  from: Progress,
  readings: readonly JournalReading[],
  countedFrom: number,
): {
  cache: BlockCache;
  checkpoints: Checkpoint[];
  questions: OpenQuestion[];
  pieces: Map<number, JournalReading[]>;
  forecasts: Map<number, PieceForecast[]>;
} {
  const pieces = new Map<number, JournalReading[]>();
  for (const reading of readings) {
    const mine = pieces.get(reading.piece);
    if (mine) mine.push(reading);
    else pieces.set(reading.piece, [reading]);
  }
  const checkpoints: Checkpoint[] = [];
  const asked: OpenQuestion[] = [];
  const forecasts = new Map<number, PieceForecast[]>();
  let cache: BlockCache = {
    piece: 0,
    before: from,
    after: from,
    readings: [],
    questions: [],
    odd: false,
    countedFrom,
    countedBefore: countedFrom,
  };
  const order = [...pieces.keys()].sort((a, b) => a - b);
  for (const piece of order) {
    const before = cache.after;
    if (before.measuredPieces > 0 && before.measuredPieces % checkpointEvery === 0) {
      checkpoints.push({ piece, progress: before });
    }
    const after = copyProgress(before);
    const mine = pieces.get(piece)!;
    const outcome = followPiece(block, journal, after, piece, mine);
    const { questions, odd } = outcome;
    asked.push(...questions);
    forecasts.set(piece, outcome.forecasts);
    cache = { piece, before, after, readings: mine, questions, odd, countedFrom, countedBefore: countedFrom };
  }
  return { cache, checkpoints, questions: asked, pieces, forecasts };
}
