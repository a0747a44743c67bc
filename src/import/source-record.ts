import type { KeptUnit } from "../core/notation/read-unit.js";
import type { Fields } from "./fields.js";

/**
 * One measured value as a file has it: texts, not yet understood, with the place where they stand. Every format ends in
 * these; what they mean is worked out behind them, the same for all.
 */
export interface SourceRecord {
  kind: "record";
  /** Its first line, from 1, and its last. */
  line: number;
  lastLine: number;
  /** Which of several values of a line, by the header of its column; absent: the line has one value. */
  column?: string;
  /** As it stands in the file. */
  text: string;
  fields: Fields;
  /** Units that stand in headers, for fields without one of their own. */
  unitOf?: Partial<Record<keyof Fields, string>>;
  /** The value in several units, each with its own; they must agree. */
  values?: { text: string; unit: string | undefined }[];
  /** Of a deviation from a profile: how far it may lie to either side. */
  zone?: DeviationZone;
  /** What was done to the text before it could be read. */
  notes?: string[];
  /** What its reader had to know by then, so that it can be read again by itself. */
  parser?: unknown;
  /** Which piece of the source it is of, from 0, where the source tells pieces apart; absent: it does not. */
  nthPiece?: number;
}

/** Limits of deviations from a profile; decimals, absent where the file does not say. */
export interface DeviationZone {
  lower?: string | undefined;
  upper?: string | undefined;
  unit: KeptUnit;
}

/** A place that should tell something and can't be read. */
export interface UnreadableRecord {
  kind: "unreadable";
  line: number;
  lastLine: number;
  text: string;
  reason: string;
  parser?: unknown;
}

/** A place that says itself that it has no value. */
export interface UnmeasuredRecord {
  kind: "unmeasured";
  line: number;
  lastLine: number;
  column?: string;
  text: string;
  fields: Fields;
  reason: string;
}

/** A line that tells nothing of any reading. */
export interface SkippedLine {
  kind: "skipped";
  line: number;
  text: string;
  why: string;
}

export type Found = SourceRecord | UnreadableRecord | UnmeasuredRecord | SkippedLine;

/** Where a source can be taken up again, with all that has to be known by then. */
export interface Checkpoint {
  /** Bytes from the beginning. */
  offset: number;
  /** Of the reader that wrote it alone; JSON. Undefined: at the beginning. */
  state?: unknown;
}

/**
 * A format reads bytes as they come, in pieces of any length, and gives out what it has found as soon as it is sure of it.
 * Memory does not grow with the source. A format that can't be taken up in the middle keeps its checkpoint at the
 * beginning: what comes twice is recognised by what it says.
 */
export interface RecordReader {
  read(bytes: Buffer): Found[];
  /** There is no more for now: what is sure comes out. */
  pause(): Found[];
  /** There is no more: what was waiting for its end comes out as it is. */
  end(): Found[];
  /** Behind everything that has been given out. */
  checkpoint(): Checkpoint;
}

/** The source as a whole can't be read; nothing after this place is looked at. */
export class UnreadableSource extends Error {
  constructor(
    readonly line: number,
    readonly reason: string,
  ) {
    super(reason);
  }
}

const longestShown = 500;

/** A text for a report: at most 500 characters. */
export function shown(text: string): string {
  return text.length > longestShown ? `${text.slice(0, longestShown)}…` : text;
}
