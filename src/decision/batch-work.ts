import { fromNumeric } from "../core/quantity.js";
import type { GaugeDeviation, PieceForecast } from "../core/wear-offset/follow-block.js";
import type { JournalReading, Progress } from "../core/wear-offset/progress.js";
import type { OpenQuestion } from "../core/wear-offset/settle-readings.js";
import type { Db } from "../db/client.js";
import type { Advice } from "./advice-base.js";
import { adviseBlock } from "./advise.js";
import { loadBatchRows } from "./batch-queries.js";
import { type BatchView, buildBatchView, featureAt } from "./batch-view.js";
import { type BlockCache, emptyCache, followReadings, readCache } from "./block-cache.js";
import type { CorrectionRow } from "./correction-row.js";
import { toJournalReading } from "./journal-reading.js";
import { measuredOf } from "./measured-value.js";
import type { DecisionWrite, ReadingRow } from "./queries.js";
import {
  type BlockReading,
  findCheckpoint,
  findKnownPieces,
  hasReadings,
  listBlockReadings,
} from "./reading-queries.js";
import { optionalPm } from "./stored-size.js";

export async function loadBatchViews(db: Db, batchIds: readonly string[]): Promise<BatchView[]> {
  const views = (await loadBatchRows(db, batchIds)).map((rows) => buildBatchView(rows, readCache));
  for (const view of views) if (view.readingCount > 0) await followMissing(db, view);
  return views;
}

/** A stored state may be gone, as after a change of the part's features: it is followed from the readings. */
async function followMissing(db: Db, view: BatchView): Promise<void> {
  const missing = view.blocks.flatMap(({ cache }, blockNo) => (cache.piece === 0 ? [blockNo] : []));
  if (missing.length === 0) return;
  const wanted = view.features.filter((feature) => missing.includes(feature.block));
  const ids = wanted.map((feature) => feature.featureId);
  if (!(await hasReadings(db, view.batchId, ids))) return;
  const work = new BatchWork(db, view, []);
  for (const blockNo of missing) await work.refollow(blockNo, 1);
}

/**
 * A stored reading as the journal of its block keeps it; undefined: of a place that has been taken off the feature since, or one
 * where the gauge gave nothing.
 */
export function fromStored(view: BatchView, row: BlockReading): JournalReading | undefined {
  if (row.state !== null) return undefined;
  const feature = featureAt(view, row.feature_id, row.place);
  return (
    feature &&
    toJournalReading(view, {
      readingNo: row.reading_no,
      feature,
      piece: row.piece,
      cut: row.cut,
      springPass: row.spring_pass,
      seat: row.seat,
      pieceWithin: row.piece_within,
      measured: measuredOf(row),
      gaugeId: row.gauge_id,
      isReference: row.gauge_reference,
      gaugeVariance: row.gauge_variance,
      gaugeFit: row.gauge_fit,
      gaugeDoubtPm: optionalPm(row.gauge_doubt_mm),
      expandedPm: optionalPm(row.expanded_uncertainty_mm),
      fails: row.fails,
    })
  );
}

/** What taking readings into a block brought to light about them. */
export interface Taken {
  questions: OpenQuestion[];
  pieces: Map<number, JournalReading[]>;
  /** What the process said of each piece before its readings. */
  forecasts: Map<number, PieceForecast[]>;
  /** How far gauges beside a reference gauge read from it, by the piece that they read. */
  deviations: Map<number, GaugeDeviation[]>;
}

/** One batch while something about it is being decided: its view moves on in memory, and the rows to write gather here. */
export class BatchWork {
  readonly readVersion: number;
  readonly readings: ReadingRow[] = [];
  /** What readings were worked out from, where that is points. */
  readonly points: DecisionWrite["points"] = [];
  readonly byIdentity = new Map<string, ReadingRow>();
  readonly corrections: CorrectionRow[];
  private readonly unsaved = new Map<number, JournalReading[]>();
  private readonly touched = new Set<number>();
  private readonly checkpoints = new Map<string, DecisionWrite["checkpoints"][number]>();
  private readonly stale = new Map<string, DecisionWrite["staleCheckpoints"][number]>();
  private readonly added = new Set<CorrectionRow>();
  private readonly refreshed = new Set<CorrectionRow>();
  private readonly ended = new Set<CorrectionRow>();

  constructor(
    private readonly db: Db,
    readonly view: BatchView,
    open: readonly CorrectionRow[],
  ) {
    this.readVersion = view.version;
    this.corrections = [...open];
  }

  /** Takes new readings of one block, whatever their order, and carries its state on. */
  async takeReadings(blockNo: number, list: readonly JournalReading[]): Promise<Taken> {
    const blockView = this.view.blocks[blockNo]!;
    const { block, journal, cache } = blockView;
    const first = Math.min(...list.map((reading) => reading.piece));
    let from: Progress;
    let known: readonly JournalReading[];
    if (first > cache.piece) [from, known] = [cache.after, []];
    else if (first === cache.piece) [from, known] = [cache.before, cache.readings];
    else [from, known] = await this.history(blockNo, first);
    this.unsaved.set(blockNo, [...(this.unsaved.get(blockNo) ?? []), ...list]);
    const isCheck = this.checksOf(blockNo);
    const countedFrom = list.some(isCheck) ? this.counted(cache) : cache.countedFrom;
    const followed = followReadings(block, journal, from, [...known, ...list], countedFrom);
    this.keep(blockNo, followed.checkpoints);
    const checked = [...followed.pieces].filter(
      ([piece, mine]) => piece < followed.cache.piece && mine.some(isCheck),
    );
    const previous = Math.max(0, ...checked.map(([piece]) => piece));
    blockView.cache = {
      ...followed.cache,
      countedBefore:
        followed.cache.piece === cache.piece ? cache.countedBefore : Math.max(cache.countedFrom, previous),
    };
    return followed;
  }

  /** Works a block's state out afresh from `piece` on, after something before it has changed. */
  async refollow(blockNo: number, piece: number): Promise<void> {
    const blockView = this.view.blocks[blockNo]!;
    const { block, journal } = blockView;
    const [from, readings] = await this.history(blockNo, piece);
    this.touched.add(blockNo);
    if (readings.length === 0) {
      blockView.cache = emptyCache(block, journal);
      return;
    }
    const followed = followReadings(block, journal, from, readings, 0);
    this.keep(blockNo, followed.checkpoints);
    const { batchId, lastPieceCut } = this.view;
    const isCheck = this.checksOf(blockNo);
    const checked = block.features.filter((_, feature) => isCheck({ feature }));
    const featureIds = checked.map((feature) => feature.featureId);
    const known = await findKnownPieces(this.db, batchId, featureIds, followed.cache.piece);
    blockView.cache = {
      ...followed.cache,
      countedFrom: Math.min(known.countedFrom, lastPieceCut),
      countedBefore: Math.min(known.countedBefore, lastPieceCut),
    };
  }

  /**
   * Which readings count as a check of a block: not those of features that are measured on every piece anyway, else the
   * others beside them would never be due. Where all of them are, each reading does.
   */
  private checksOf(blockNo: number): (reading: Pick<JournalReading, "feature">) => boolean {
    const { features } = this.view.blocks[blockNo]!.block;
    const isOrdinary = features.map(
      ({ featureId }) => this.view.featureById.get(featureId)!.importance === "ordinary",
    );
    const isAny = isOrdinary.includes(true);
    return ({ feature }) => !isAny || isOrdinary[feature]!;
  }

  private counted(cache: BlockCache): number {
    return Math.max(cache.countedFrom, this.view.lastPieceCut);
  }

  /** State before a piece at or before `piece`, and all readings from there on. */
  private async history(blockNo: number, piece: number): Promise<[Progress, JournalReading[]]> {
    const blockView = this.view.blocks[blockNo]!;
    const { block, journal } = blockView;
    const { batchId } = this.view;
    const id = `${batchId}/${block.key}`;
    const stale = this.stale.get(id);
    // What a reading of this very write has overtaken is still stored, but holds no more.
    const before = stale ? Math.min(piece, stale.afterPiece + 1) : piece;
    const checkpoint = await findCheckpoint(this.db, batchId, block.key, before);
    const from = checkpoint ? (JSON.parse(checkpoint.state) as Progress) : emptyCache(block, journal).after;
    const fromPiece = checkpoint?.piece ?? 1;
    const featureIds = block.features.map((feature) => feature.featureId);
    const rows = await listBlockReadings(this.db, batchId, featureIds, fromPiece);
    const saved = rows.flatMap((row) => fromStored(this.view, row) ?? []);
    const afterPiece = checkpoint?.piece ?? 0;
    if (!stale || stale.afterPiece > afterPiece)
      this.stale.set(id, { batchId, blockKey: block.key, afterPiece });
    for (const [name, row] of this.checkpoints) {
      if (row.blockKey === block.key && row.piece > afterPiece) this.checkpoints.delete(name);
    }
    const unsaved = (this.unsaved.get(blockNo) ?? []).filter((reading) => reading.piece >= fromPiece);
    return [from, [...saved, ...unsaved]];
  }

  private keep(blockNo: number, checkpoints: readonly { piece: number; progress: Progress }[]): void {
    this.touched.add(blockNo);
    const blockKey = this.view.blocks[blockNo]!.block.key;
    for (const { piece, progress } of checkpoints) {
      const row = { batchId: this.view.batchId, blockKey, piece, state: JSON.stringify(progress) };
      this.checkpoints.set(`${blockKey}/${piece}`, row);
    }
  }

  /**
   * Works out the advice on some blocks and brings the open corrections in line with it.
   * @returns what stands now, what was withdrawn, and the registers better left alone
   */
  advise(blockNos: Iterable<number>): {
    standing: CorrectionRow[];
    withdrawn: CorrectionRow[];
    quiet: Advice[];
  } {
    const standing: CorrectionRow[] = [];
    const withdrawn: CorrectionRow[] = [];
    const quiet: Advice[] = [];
    const keys = new Set(this.view.blocks.map(({ block }) => block.key));
    for (const open of this.corrections.filter((row) => !keys.has(row.subject.split("/")[0]!))) {
      this.withdraw(open, "superseded"); // its block is none any more since the part's features were changed
      withdrawn.push(open);
    }
    for (const blockNo of blockNos) {
      const { key } = this.view.blocks[blockNo]!.block;
      const advice = this.view.closed ? [] : adviseBlock(this.view, blockNo);
      const wanted = new Map(
        advice.filter(({ kind }) => kind !== "leave_alone").map((row) => [row.subject, row]),
      );
      quiet.push(...advice.filter(({ kind }) => kind === "leave_alone"));
      for (const open of this.corrections.filter((row) => row.subject.startsWith(`${key}/`))) {
        const now = wanted.get(open.subject);
        if (now && now.kind === open.kind && sameMove(now, open)) {
          wanted.delete(open.subject);
          const { piece, reading_nos, features, why, arithmetic, cause, causes } = now;
          Object.assign(open, { piece, reading_nos, features, why, arithmetic, cause, causes });
          if (!this.added.has(open)) this.refreshed.add(open);
          standing.push(open);
          continue;
        }
        this.withdraw(open, open.kind === "measure_again" ? "settled" : "superseded");
        withdrawn.push(open);
      }
      for (const row of wanted.values()) {
        this.view.correctionCount += 1;
        const added = {
          ...row,
          correction_no: this.view.correctionCount,
          status: "proposed",
        } as CorrectionRow;
        this.added.add(added);
        this.corrections.push(added);
        standing.push(added);
      }
    }
    return { standing, withdrawn, quiet };
  }

  /** Ends open changes of registers for which another batch of the machine has just been given one. */
  withdrawChanges(registerIds: ReadonlySet<string>): void {
    for (const row of [...this.corrections]) {
      if (row.kind === "change" && registerIds.has(row.register_id!)) this.withdraw(row, "superseded");
    }
  }

  private withdraw(row: CorrectionRow, status: "superseded" | "settled"): void {
    row.status = status;
    this.corrections.splice(this.corrections.indexOf(row), 1);
    this.refreshed.delete(row);
    if (!this.added.has(row)) this.ended.add(row);
  }

  /** Open and new corrections by their number; what was withdrawn in between stays among the new ones. */
  collect(write: DecisionWrite): void {
    const { view } = this;
    write.batches.push({
      batchId: view.batchId,
      version: this.readVersion,
      readingCount: view.readingCount,
      correctionCount: view.correctionCount,
      lastPieceCut: view.lastPieceCut,
    });
    write.readings.push(...this.readings);
    write.points.push(...this.points);
    for (const blockNo of this.touched) {
      const { block, cache } = view.blocks[blockNo]!;
      write.states.push({ batchId: view.batchId, blockKey: block.key, state: JSON.stringify(cache) });
    }
    write.checkpoints.push(...this.checkpoints.values());
    write.staleCheckpoints.push(...this.stale.values());
    write.newCorrections.push(...this.added);
    write.refreshedCorrections.push(...this.refreshed);
    for (const row of this.ended) {
      const status = row.status as "superseded" | "settled";
      write.endedCorrections.push({ batchId: view.batchId, correctionNo: row.correction_no, status });
    }
  }
}

function sameMove(a: Advice, b: CorrectionRow): boolean {
  return (
    fromNumeric(a.change_mm) === fromNumeric(b.change_mm) &&
    (a.value_now_mm === null) === (b.value_now_mm === null) &&
    (a.value_now_mm === null || fromNumeric(a.value_now_mm) === fromNumeric(b.value_now_mm!))
  );
}

export function emptyWrite(): DecisionWrite {
  return {
    batches: [],
    readings: [],
    points: [],
    states: [],
    checkpoints: [],
    staleCheckpoints: [],
    newCorrections: [],
    endedCorrections: [],
    refreshedCorrections: [],
    keys: [],
  };
}
