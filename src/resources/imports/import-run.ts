import { setImmediate } from "node:timers/promises";
import type { z } from "zod";
import { type FeatureKind, quantityOf } from "../../core/feature-kind.js";
import { parseMeasure, toNumeric } from "../../core/quantity.js";
import type { Db, Trx } from "../../db/client.js";
import type { ImportCounters, ImportFault, ImportSettings, ImportTallies } from "../../db/schema.js";
import type { BatchView } from "../../decision/batch-view.js";
import { type ChunkOutcome, type DecidedChunk, decideChunk } from "../../decision/decide-chunk.js";
import type { FailedReading } from "../../decision/next-step.js";
import type { ReadingRecorder } from "../../decision/reading-recorder.js";
import type { ReadingInput } from "../../decision/resolve-reading.js";
import { ProblemError } from "../../http/problem.js";
import type { CompiledLayout } from "../../import/compile-layout.js";
import { openReader } from "../../import/formats.js";
import {
  createInterpreter,
  type Interpreted,
  type ReadReading,
  type Said,
} from "../../import/interpret-record.js";
import { listCharacteristics } from "../../import/qif/characteristics.js";
import {
  createQifRecords,
  joinMeasurement,
  type KeptMeasurement,
  type QifCharacteristics,
} from "../../import/qif/qif-records.js";
import { readDefinitions } from "../../import/qif/read-definitions.js";
import { readMeasurements } from "../../import/qif/read-measurements.js";
import { isLength } from "../../import/quantities.js";
import { checkpointBefore } from "../../import/read-lines.js";
import {
  type Checkpoint,
  type Found,
  type SourceRecord,
  shown,
  UnreadableSource,
} from "../../import/source-record.js";
import { type SpooledDocument, spoolDocument } from "../../import/spool-document.js";
import { PieceNumbers } from "./piece-numbers.js";
import {
  findDocuments,
  findOrigins,
  type ImportLineRow,
  insertImportReadings,
  keepDocument,
  moveImport,
  type NewLine,
  type NewReading,
  upsertImportLines,
} from "./queries.js";
import type { ImportLine } from "./schemas.js";

/** A reading of the file on its way to the recorder. */
interface Pending {
  record: SourceRecord;
  reading: ReadReading;
  said: Said;
}

/** What a file holds at a place, and what that means where it is a record. */
interface Understood {
  item: Found;
  read: Interpreted | undefined;
}

/** What a chunk of found things comes to before anything is decided. */
interface Sorted {
  pending: Pending[];
  lines: Map<number, NewLine>;
  tallies: ImportTallies;
  counters: ImportCounters;
  /** Serial numbers in the order of the file, of readings that are refused or have no value too. */
  serials: Set<string>;
}

export interface Job {
  db: Db;
  recorder: ReadingRecorder;
  layout: CompiledLayout;
  batch: { batch_id: string; name: string } | undefined;
  settings: ImportSettings;
  /** Undefined: a dry run. */
  importId: string | undefined;
  from: Checkpoint;
  tallies: ImportTallies;
  counters: ImportCounters;
}

const foundPerChunk = 1000;
const bytesAtOnce = 32 * 1024;
/** Line feed and carriage return; in UTF-16 one of two bytes. */
const lineEnds = [0x0a, 0x0d];
const mostShown = 100;
const mostRefusedBeforeAny = 1000;
const mostRefusedForOne = 20; // refused lines to one that is read

export const noTallies: ImportTallies = {
  lines: 0,
  accepted: 0,
  duplicates: 0,
  repeated: 0,
  not_measured: 0,
  refused: 0,
  skipped: 0,
  conforming: 0,
  nonconforming: 0,
  uncertain: 0,
  results_differ: 0,
  limits_differ: 0,
};

/**
 * One reading-in of bytes of a file. What has been found is decided and written chunk by chunk, each with the place behind
 * it, so that whatever ends it in between, it goes on there.
 */
export class ImportRun {
  tallies: ImportTallies;
  readonly batchIds = new Set<string>();
  /** The first lines that this run refused. */
  readonly refused: z.infer<typeof ImportLine>[] = [];
  /** Of the last pieces read: what is out of limits. */
  failed: FailedReading[] = [];
  nextOffset: number;
  /** The persistent id of the document that was read, for which values of others may wait; "": it has none. */
  qpid: string | undefined;
  private counters: ImportCounters;
  private readonly interpret;
  private readonly pieces;
  private readonly dryViews = new Map<string, BatchView>();
  private found: Understood[] = [];
  private writing: Promise<void> = Promise.resolve();

  constructor(private readonly job: Job) {
    this.tallies = job.tallies;
    this.counters = job.counters;
    if (job.from.offset === 0 && job.from.state === undefined) {
      // Cut off before, and read from its beginning: what was taken in is known again, all else is counted afresh.
      const afresh = { lines: 0, duplicates: 0, repeated: 0, not_measured: 0, refused: 0, skipped: 0 };
      this.tallies = { ...job.tallies, ...afresh };
    }
    this.nextOffset = job.from.offset;
    this.interpret = createInterpreter(job.layout);
    this.pieces = new PieceNumbers(job.layout.layout.piece_from, job.settings.first_piece);
  }

  /**
   * Reads bytes in.
   * @param skip how many of them lie before the place to go on at
   * @param last the file ends with them
   * @throws {UnreadableSource} if the file can't be read on; what was read before is kept
   */
  async read(body: AsyncIterable<Buffer>, skip: number, last: boolean): Promise<void> {
    if (this.job.layout.layout.format === "qif") return this.readDocument(body);
    const reader = openReader(this.job.layout, this.job.from);
    let left = skip;
    let endsLine = true;
    try {
      for await (const chunk of body) {
        const bytes = left > 0 ? chunk.subarray(Math.min(left, chunk.length)) : chunk;
        left -= chunk.length - bytes.length;
        if (bytes.length > 0) endsLine = lineEnds.some((end) => bytes.subarray(-2).includes(end));
        for (let at = 0; at < bytes.length; at += bytesAtOnce) {
          this.find(reader.read(bytes.subarray(at, at + bytesAtOnce)));
          if (this.found.length >= foundPerChunk) await this.writeBehind(reader.checkpoint());
          else await setImmediate(); // others have their turn between pieces of a large file
        }
      }
      const rest = last ? reader.end() : reader.pause();
      this.find(last && !endsLine ? noteOpenEnd(rest) : rest);
    } catch (error) {
      await this.writing;
      if (error instanceof UnreadableSource) await this.commit(reader.checkpoint());
      throw error;
    }
    await this.writing;
    await this.commit(reader.checkpoint());
  }

  /** What values are of stands before and behind them, so the document is read once for that and once for the values. */
  private async readDocument(body: AsyncIterable<Buffer>): Promise<void> {
    const spooled = await spoolDocument(body);
    try {
      await this.readSpooled(spooled);
    } finally {
      await this.writing.catch(() => undefined);
      await spooled.close();
    }
  }

  private async readSpooled({ size, read }: SpooledDocument): Promise<void> {
    const { db, importId, layout } = this.job;
    const document = await readDefinitions(read());
    const others = await findDocuments(db, [...new Set(document.externals.values())]);
    const toFound = createQifRecords(document, layout.layout, others as Map<string, QifCharacteristics>);
    for await (const measurements of readMeasurements(read(), document)) {
      this.find(measurements.map(toFound));
      if (this.found.length >= foundPerChunk) await this.writeBehind({ offset: 0 });
      else await setImmediate();
    }
    await this.writing;
    await this.commit({ offset: size });
    const { qpid } = document;
    if (importId === undefined) return;
    if (qpid !== undefined) {
      const characteristics = Object.fromEntries(
        listCharacteristics(document).map((each) => [each.id, each]),
      );
      await keepDocument(db, { qpid, import_id: importId, characteristics });
    }
    this.qpid = qpid ?? "";
  }

  /** Works out what things mean as soon as they are found: while the chunk before them is being written. */
  private find(found: readonly Found[]): void {
    for (const item of found) {
      this.found.push({ item, read: item.kind === "record" ? this.interpret(item) : undefined });
    }
  }

  /** Begins to write a chunk once the one before it is written; the next one is read in the meantime. */
  private async writeBehind(checkpoint: Checkpoint): Promise<void> {
    await this.writing;
    this.writing = this.commit(checkpoint);
    this.writing.catch(() => {}); // whoever waits for it is told
  }

  /** Reads lines that were refused again, by the layout as it is now. */
  async readAgain(rows: readonly ImportLineRow[]): Promise<void> {
    const lines = new Map<number, NewLine>();
    const others = await this.findAwaited(rows);
    for (const row of rows) {
      const state = row.parser_state as { parser: unknown; pieces?: Record<string, number> };
      const { pieces } = state;
      const parser = others ? joinMeasurement(state.parser as KeptMeasurement, others) : state.parser;
      const reader = openReader(this.job.layout, checkpointBefore(row.line, parser));
      const found = [...reader.read(Buffer.from(`${row.text}\n`)), ...reader.end()];
      if (pieces && this.counters.lostAt === null) this.pieces.recall(row.line, pieces);
      if (this.counters.lostAt === row.line && found.every((item) => item.kind !== "unreadable")) {
        this.counters = { ...this.counters, lostAt: null };
      }
      this.find(found);
      lines.set(row.line, {
        line: row.line,
        lastLine: row.last_line,
        state: "mended",
        text: row.text,
        parserState: row.parser_state,
        faults: row.faults as ImportFault[],
      });
    }
    this.tallies = { ...this.tallies, refused: this.tallies.refused - rows.length };
    await this.commit({ offset: this.nextOffset }, lines);
  }

  /** What has come since of the documents that values wait for; undefined: none of them waits. */
  private async findAwaited(rows: readonly ImportLineRow[]) {
    if (this.job.layout.layout.format !== "qif") return undefined;
    const qpids = rows.flatMap(({ parser_state }) => {
      const { parser } = parser_state as { parser: KeptMeasurement };
      return parser.waits_for?.qpid ?? [];
    });
    return (await findDocuments(this.job.db, [...new Set(qpids)])) as Map<string, QifCharacteristics>;
  }

  private async commit(
    checkpoint: Checkpoint,
    mended: ReadonlyMap<number, NewLine> = new Map(),
  ): Promise<void> {
    const found = this.found;
    this.found = [];
    const sorted = this.sort(found, mended.size > 0);
    if (mended.size === 0) {
      const state = checkpoint.state as { decode?: { line: number } } | undefined;
      sorted.tallies.lines = Math.max(
        sorted.tallies.lines,
        state?.decode?.line ?? found.at(-1)?.item.line ?? 0,
      );
    }
    let moved = sorted.tallies;
    let kept: ReadonlyMap<number, NewLine> = sorted.lines;
    const decided = await this.take(sorted, async (trx, outcomes) => {
      const tallies = { ...sorted.tallies };
      const lines = new Map([...mended, ...sorted.lines]);
      const readings = await this.record(trx, sorted.pending, outcomes, lines, tallies);
      moved = tallies;
      kept = lines;
      if (this.job.importId === undefined || !trx) return;
      await insertImportReadings(trx, this.job.importId, readings);
      await upsertImportLines(trx, this.job.importId, [...lines.values()]);
      const isMoved = await moveImport(trx, this.job.importId, String(this.nextOffset), {
        nextOffset: checkpoint.offset,
        readerState: mended.size === 0 ? checkpoint.state : undefined,
        counters: sorted.counters,
        tallies,
        batchIds: [...this.batchIds, ...readings.map(({ batchId }) => batchId)],
      });
      if (!isMoved) {
        throw new ProblemError(
          "conflict",
          "Another request is reading the same import on. GET it to see how far it has come, and go on at its next_offset.",
        );
      }
    });
    this.keepFailed(decided.failed);
    this.tallies = moved;
    this.counters = sorted.counters;
    this.nextOffset = checkpoint.offset;
    for (const outcome of decided.outcomes)
      if (outcome.kind === "taken") this.batchIds.add(outcome.row.batch_id);
    const inOrder = [...kept.values()].sort((a, b) => a.line - b.line);
    for (const line of inOrder) if (line.state === "refused") this.show(line);
    this.refuseWrongLayout();
  }

  /** A file that the layout does not fit is read no further: a row of each of its lines would help nobody. */
  private refuseWrongLayout(): void {
    const { lines, accepted, duplicates, not_measured, refused } = this.tallies;
    const read = accepted + duplicates + not_measured;
    if (refused <= mostRefusedBeforeAny || refused <= mostRefusedForOne * read) return;
    const gave = accepted + duplicates === 0 ? "None" : `Only ${accepted + duplicates}`;
    throw new UnreadableSource(
      lines,
      `${gave} of the first ${lines} lines gave a reading, and ${refused} were refused: is it the right layout, and the ` +
        'right batch? Try the layout on a part of the file (POST /v1/log-layouts/trials); lines that tell nothing it can skip (other_lines "skip", or a rule). ' +
        "Then send the file again: what was taken is known.",
    );
  }

  /** What becomes of each thing found, as far as the file alone tells. */
  private sort(found: readonly Understood[], again: boolean): Sorted {
    const sorted: Sorted = {
      pending: [],
      lines: new Map(),
      tallies: { ...this.tallies },
      counters: { pieces: { ...this.counters.pieces }, lostAt: this.counters.lostAt },
      serials: new Set(),
    };
    const { counters } = sorted;
    for (const { item, read: meant } of found) {
      if (item.kind === "skipped") {
        sorted.tallies.skipped += 1;
        continue;
      }
      if (item.kind === "unreadable") {
        refuse(sorted, item, { column: null, field: null, reason: item.reason });
        if (this.pieces.counts && !again && this.job.layout.layout.format !== "qif")
          counters.lostAt ??= item.line;
        continue;
      }
      const { line } = item;
      const { column = null } = item;
      const before = this.pieces.counts ? { ...counters.pieces } : undefined;
      const nthPiece = item.kind === "record" ? item.nthPiece : undefined;
      const name = this.interpret.nameOf("characteristic", item.fields);
      const piece = this.pieces.count(line, name, counters, nthPiece);
      if (this.pieces.bySerial) sorted.serials.add(this.interpret.nameOf("serial", item.fields));
      const read = item.kind === "record" ? meant! : item;
      if (read.kind === "unmeasured") {
        sorted.tallies.not_measured += 1;
        if (item.fields.value?.trim())
          keep(sorted, item, "not_measured", { column, field: "value", reason: read.reason });
        continue;
      }
      const fault =
        read.kind === "refused"
          ? { column, field: read.field, reason: read.reason }
          : piece !== undefined && typeof piece === "object"
            ? { column, field: "piece", reason: piece.fault }
            : undefined;
      if (fault) {
        refuse(sorted, item as SourceRecord, fault, before);
        continue;
      }
      if (read.kind !== "reading") continue;
      if (typeof piece === "number") read.reading.piece = piece;
      sorted.pending.push({ record: item as SourceRecord, reading: read.reading, said: read.said });
    }
    return sorted;
  }

  private async take(
    { pending, serials }: Sorted,
    settle: (trx: Trx | undefined, outcomes: readonly ChunkOutcome[]) => Promise<void>,
  ): Promise<DecidedChunk> {
    const prepared: { inputs: ReadingInput[]; slots: number[]; outcomes: ChunkOutcome[] } = {
      inputs: [],
      slots: [],
      outcomes: [],
    };
    const prepare = async (db: Db | Trx) => {
      const { batch } = this.job;
      if (this.pieces.bySerial && batch) {
        const known = await this.pieces.assign(
          db,
          batch.batch_id,
          [...serials],
          this.job.importId === undefined,
        );
        for (const { reading } of pending) reading.piece = known.get(reading.serial!)!;
      }
      prepared.inputs = [];
      prepared.slots = [];
      prepared.outcomes = [];
      for (const [slot, item] of pending.entries()) {
        const input = this.toInput(item);
        if ("fault" in input) {
          prepared.outcomes[slot] = {
            kind: "refused",
            faults: [{ pointer: `/${input.field}`, detail: input.fault }],
          };
          continue;
        }
        prepared.inputs.push(input);
        prepared.slots.push(slot);
      }
      return prepared.inputs;
    };
    const all = (outcomes: readonly ChunkOutcome[]) => {
      const whole = [...prepared.outcomes];
      outcomes.forEach((outcome, i) => {
        whole[prepared.slots[i]!] =
          outcome.kind === "repeated" ? { kind: "repeated", slot: prepared.slots[outcome.slot]! } : outcome;
      });
      return whole;
    };
    if (this.job.importId === undefined) {
      const decided = await decideChunk(this.job.db, await prepare(this.job.db), this.dryViews, true);
      for (const view of decided.views) this.dryViews.set(view.batchId, view);
      await settle(undefined, all(decided.outcomes));
      return decided;
    }
    return this.job.recorder.take({
      prepare,
      settle: (trx, outcomes) => settle(trx, all(outcomes)),
    });
  }

  /** A reading as the recorder takes it, or why it can't. */
  private toInput({ record, reading, said }: Pending): ReadingInput | { field: string; fault: string } {
    const { batch, settings } = this.job;
    if (batch && reading.batch !== undefined && reading.batch !== batch.name) {
      return {
        field: "batch",
        fault: `says batch "${reading.batch}", but the import is into "${batch.name}"`,
      };
    }
    if (reading.piece === undefined) return { field: "piece", fault: "says no piece" };
    const { part_number, revision, characteristic, piece, cut, serial, measured_at } = reading;
    const { temperature_c, gauge_temperature_c, cut_with } = reading;
    const { value, unit, dx, dy, dz, size, result, count, seat, place } = reading;
    const gauge = reading.gauge ?? (settings.gauge_id === undefined ? settings.gauge : undefined);
    // Every name in a fixed order and nothing spread: a million of these are made.
    return {
      batch_id: batch?.batch_id,
      batch: batch ? undefined : reading.batch,
      part_number,
      revision,
      characteristic,
      piece,
      cut,
      serial,
      seat,
      place,
      value,
      unit,
      dx,
      dy,
      dz,
      size,
      result,
      count,
      zone: record.zone,
      gauge_id: reading.gauge === undefined ? settings.gauge_id : undefined,
      gauge,
      measured_at,
      taken_by: reading.taken_by ?? settings.taken_by,
      temperature_c,
      gauge_temperature_c,
      cut_with,
      record: said.record ?? (measured_at === undefined ? (said.measured_at ?? "") : ""),
    };
  }

  /** Notes what was decided of each reading; gives back what is to be kept beside those taken in. */
  private async record(
    trx: Trx | undefined,
    pending: readonly Pending[],
    outcomes: readonly ChunkOutcome[],
    lines: Map<number, NewLine>,
    tallies: ImportTallies,
  ): Promise<NewReading[]> {
    const known = outcomes.flatMap((outcome) =>
      outcome.kind === "known" ? [{ batchId: outcome.row.batch_id, readingNo: outcome.row.reading_no }] : [],
    );
    const origins = new Map(
      known.length > 0
        ? (await findOrigins(trx ?? this.job.db, known)).map((row) => [
            `${row.batch_id}-${row.reading_no}`,
            row,
          ])
        : [],
    );
    const sorted = { lines, tallies };
    const readings: NewReading[] = [];
    for (const [slot, { record, said, reading }] of pending.entries()) {
      const outcome = outcomes[slot]!;
      const { line, column = null } = record;
      if (outcome.kind === "refused") {
        for (const { pointer, detail } of outcome.faults) {
          refuse(sorted, record, { column, field: pointer.split("/")[1] ?? null, reason: detail });
        }
      } else if (outcome.kind === "known") {
        const origin = origins.get(`${outcome.row.batch_id}-${outcome.row.reading_no}`);
        const isOwn = origin !== undefined && origin.import_id === this.job.importId;
        if (isOwn && origin.line === line && origin.column_name === column) continue;
        if (isOwn && reading.measured_at === undefined) repeat(sorted, record, origin.line);
        else tallies.duplicates += 1;
      } else if (outcome.kind === "repeated") {
        if (reading.measured_at === undefined) repeat(sorted, record, pending[outcome.slot]!.record.line);
        else tallies.duplicates += 1;
      } else {
        const { row } = outcome;
        tallies.accepted += 1;
        tallies[row.verdict] += 1;
        if (differs(said, row.verdict)) tallies.results_differ += 1;
        if (record.zone === undefined && limitsDiffer(said, outcome.feature)) tallies.limits_differ += 1;
        const limit = (pm: number | undefined) => (pm === undefined ? null : toNumeric(pm));
        const { lowerPm, upperPm } = outcome.feature;
        const limits = { lowerMm: limit(lowerPm), upperMm: limit(upperPm) };
        readings.push({ batchId: row.batch_id, readingNo: row.reading_no, line, column, said, ...limits });
      }
    }
    return readings;
  }

  private keepFailed(failed: readonly FailedReading[]): void {
    const all = [...this.failed, ...failed];
    const last = all.reduce((most, { piece }) => Math.max(most, piece), 0);
    this.failed = all.filter(({ piece }) => piece === last).slice(0, mostShown);
  }

  private show(line: NewLine): void {
    if (this.refused.length < mostShown) this.refused.push(showLine(line));
  }
}

export function showLine(
  line: Pick<NewLine, "line" | "lastLine" | "state" | "text" | "faults">,
): z.infer<typeof ImportLine> {
  const reasons = line.faults.map(({ column, reason }) =>
    column === null ? reason : `${column}: ${reason}`,
  );
  return {
    line: line.line,
    last_line: line.lastLine,
    state: line.state,
    text: shown(line.text),
    reason: reasons.slice(0, 3).join("; ") + (reasons.length > 3 ? `; and ${reasons.length - 3} more` : ""),
    faults: line.faults,
  };
}

type Place = Pick<SourceRecord, "line" | "lastLine" | "text"> & { parser?: unknown };

function refuse(
  sorted: Pick<Sorted, "lines" | "tallies">,
  item: Place,
  fault: ImportFault,
  pieces?: Record<string, number>,
): void {
  if (sorted.lines.get(item.line)?.state !== "refused") sorted.tallies.refused += 1;
  keep(sorted, item, "refused", fault, { parser: item.parser ?? null, ...(pieces && { pieces }) });
}

function repeat(sorted: Pick<Sorted, "lines" | "tallies">, record: SourceRecord, before: number): void {
  sorted.tallies.repeated += 1;
  const reason = `says the very same as line ${before}, and neither a time nor a number of its own tells them apart: counted once`;
  keep(sorted, record, "repeated", { column: record.column ?? null, field: null, reason });
}

/** A number in a last line without an end may have lost digits; it is taken as it stands, and that is said. */
function noteOpenEnd(found: readonly Found[]): Found[] {
  const last = found.at(-1);
  return found.map((item) =>
    item.kind === "record" && item.line === last?.line
      ? { ...item, notes: [...(item.notes ?? []), "its line has no end: the file may be cut off there"] }
      : item,
  );
}

/** One entry for a line, whatever is wrong with its values; what was refused weighs most. */
function keep(
  { lines }: Pick<Sorted, "lines">,
  item: Place,
  state: NewLine["state"],
  fault: ImportFault,
  parserState: unknown = null,
): void {
  const before = lines.get(item.line);
  const rank = { mended: 0, not_measured: 1, repeated: 2, refused: 3 };
  const own = before && before.state !== "mended" ? before : undefined;
  const isHeavier = own === undefined || rank[state] > rank[own.state];
  lines.set(item.line, {
    line: item.line,
    lastLine: item.lastLine,
    state: isHeavier ? state : own.state,
    text: item.text,
    parserState: isHeavier ? parserState : own.parserState,
    faults: [...(own?.faults ?? []), fault],
  });
}

function differs(said: Said, verdict: "conforming" | "nonconforming" | "uncertain"): boolean {
  const opinions = [said.result && said.result === "pass", said.within];
  if (verdict === "uncertain") return false;
  return opinions.some((good) => good !== undefined && good !== (verdict === "conforming"));
}

function limitsDiffer(
  said: Said,
  ours: { kind: FeatureKind; lowerPm: number | undefined; upperPm: number | undefined },
): boolean {
  const { unit } = said;
  if (unit === undefined || quantityOf(ours.kind) !== (isLength(unit) ? "length" : "angle")) return false;
  const isOther = (text: string | undefined, pm: number | undefined) =>
    text !== undefined && parseMeasure(text, unit) !== pm;
  return isOther(said.lower_limit, ours.lowerPm) || isOther(said.upper_limit, ours.upperPm);
}
