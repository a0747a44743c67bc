import { fromNumeric, toNumeric } from "../core/quantity.js";
import { isTooCoarse } from "../core/tolerance/gauge-fitness.js";
import type { JournalReading } from "../core/wear-offset/follow-block.js";
import type { Db } from "../db/client.js";
import { isContention } from "../db/transact.js";
import { toThermalNumeric } from "../http/expansion.js";
import { showVoided } from "../http/journal.js";
import { type FieldError, ProblemError, problemAt } from "../http/problem.js";
import type { Advice } from "./advise.js";
import type { BatchView, FeatureView, GaugeView } from "./batch-view.js";
import { gaugeView } from "./batch-view.js";
import { BatchWork, emptyWrite, loadBatchViews, straddlesChange, type Taken } from "./batch-work.js";
import { type CorrectionRow, type ShownCorrection, showNamed } from "./correction-row.js";
import { adviseGauge } from "./gauge-choice.js";
import { isNonconforming, judgeReading, type ShownReading, showReading } from "./judge-reading.js";
import { type FailedReading, type NextStep, nextStep } from "./next-step.js";
import { type CheckPlan, planPiece } from "./plan.js";
import {
  type DrainLookup,
  findBatchIds,
  findByIdentity,
  listGauges,
  listGoodNeighbours,
  listNames,
  lookUp,
  type ReadingRow,
  writeDecision,
} from "./queries.js";
import { type Reduction, sayWarmth } from "./reduce-reading.js";
import { enterFromLog, lockMachinesOf } from "./register-entries.js";
import {
  nearOrAll,
  type ReadingInput,
  type RecordRequest,
  type ResolvedReading,
  resolveReading,
} from "./resolve-reading.js";
import { nameFeature, sayPm, saySize } from "./words.js";

export interface ReadingsAnswer {
  next: NextStep;
  readings: ShownReading[];
  corrections: ShownCorrection[];
  next_checks: CheckPlan[];
}

export interface RecordAnswer {
  body: string;
  replayed: boolean;
}

interface Waiting extends RecordRequest {
  attempts: number;
  done(answer: RecordAnswer): void;
  failed(error: unknown): void;
}

const mostReadingsAtOnce = 4000;
const mostAttempts = 3;
const mostCachedBatches = 200;

/**
 * Takes readings in. What arrives while a write is under way goes into the next one, so that many clients cost few
 * statements. Batches are kept in memory between writes, but only as caches: their version is read afresh each time and
 * guarded by the write itself; a write that finds another version is thrown away, worked out again, and after three
 * misses done under a lock.
 */
export class ReadingRecorder {
  private readonly waiting: Waiting[] = [];
  private readonly cached = new Map<string, BatchView>();
  private readonly keysInFlight = new Set<string>();
  private running = false;

  constructor(private readonly db: Db) {}

  post(request: RecordRequest): Promise<RecordAnswer> {
    const { key } = request;
    if (key !== undefined) {
      if (this.keysInFlight.has(key)) {
        throw new ProblemError(
          "idempotency-in-flight",
          "Wait a moment and send it again with the same Idempotency-Key.",
        );
      }
      this.keysInFlight.add(key);
    }
    return new Promise<RecordAnswer>((done, failed) => {
      this.waiting.push({ ...request, attempts: 0, done, failed });
      if (!this.running) void this.run();
    }).finally(() => {
      if (key !== undefined) this.keysInFlight.delete(key);
    });
  }

  private async run(): Promise<void> {
    this.running = true;
    while (this.waiting.length > 0) {
      const drain = this.take();
      try {
        await this.settle(drain);
      } catch (error) {
        for (const request of drain) request.failed(error);
      }
    }
    this.running = false;
  }

  private take(): Waiting[] {
    let count = 0;
    let requests = 0;
    while (requests < this.waiting.length && (requests === 0 || count < mostReadingsAtOnce)) {
      count += this.waiting[requests]!.readings.length;
      requests += 1;
    }
    return this.waiting.splice(0, requests);
  }

  private async settle(drain: readonly Waiting[]): Promise<void> {
    const locked = drain.filter(
      (request) => request.attempts >= mostAttempts || request.readings.some(hasOffsets),
    );
    const free = drain.filter((request) => !locked.includes(request));
    for (const request of locked) await this.settleLocked(request);
    if (free.length === 0) return;
    let outcome: Outcome<Waiting>;
    try {
      outcome = await decide(this.db, free, this.cached);
    } catch (error) {
      this.cached.clear();
      if (isContention(error)) this.again(free);
      else if (free.length === 1) free[0]!.failed(error);
      // One of them may be to blame: the others must not suffer for it.
      else for (const request of free) await this.settle([request]);
      return;
    }
    for (const { request, error } of outcome.refused) request.failed(error);
    if (!outcome.written) {
      for (const view of outcome.views) this.cached.delete(view.batchId);
      this.again(outcome.decided.map(({ request }) => request));
      return;
    }
    for (const view of outcome.views) this.remember(view);
    for (const { request, answer } of outcome.decided) request.done(answer);
  }

  /** One request at a time under locks: the offsets that a log prints may have to go into the history first. */
  private async settleLocked(request: Waiting): Promise<void> {
    try {
      const answer = await this.db.transaction().execute(async (trx) => {
        const named = unique(request.readings.map((input) => input.batch_id ?? input.batch));
        await lockMachinesOf(trx, named.length > 0 ? await findBatchIds(trx, named) : []);
        const batchIds = (await isKept(trx, request.key)) ? [] : await enterFromLog(trx, request);
        const outcome = await decide(trx, [request], new Map());
        for (const { error } of outcome.refused) throw error;
        if (!outcome.written) throw new Error("the batch changed under its lock");
        return {
          answer: outcome.decided[0]!.answer,
          batchIds: [...batchIds, ...outcome.views.map((view) => view.batchId)],
        };
      });
      for (const batchId of answer.batchIds) this.cached.delete(batchId);
      request.done(answer.answer);
    } catch (error) {
      if (isContention(error) && request.attempts < 2 * mostAttempts) this.again([request]);
      else request.failed(error);
    }
  }

  private again(requests: readonly Waiting[]): void {
    for (const request of requests) request.attempts += 1;
    this.waiting.unshift(...requests);
  }

  private remember(view: BatchView): void {
    this.cached.delete(view.batchId);
    this.cached.set(view.batchId, view);
    if (this.cached.size > mostCachedBatches) this.cached.delete(this.cached.keys().next().value!);
  }
}

/** True where a request with this key has been answered before. */
async function isKept(db: Db, key: string | undefined): Promise<boolean> {
  if (key === undefined) return false;
  const { keys } = await lookUp(db, {
    batchIds: [],
    batchNames: [],
    gaugeIds: [],
    gaugeNames: [],
    keys: [key],
  });
  return keys.length > 0;
}

function hasOffsets(reading: ReadingInput): boolean {
  return (reading.cut_with?.length ?? 0) > 0;
}

interface Decided<R extends RecordRequest> {
  request: R;
  answer: RecordAnswer;
}

interface Outcome<R extends RecordRequest> {
  decided: Decided<R>[];
  refused: { request: R; error: unknown }[];
  /** False: another writer was faster, and nothing was written. */
  written: boolean;
  views: BatchView[];
}

async function decide<R extends RecordRequest>(
  db: Db,
  requests: readonly R[],
  cached: ReadonlyMap<string, BatchView>,
): Promise<Outcome<R>> {
  const inputs = requests.flatMap((request) => [...request.readings]);
  const asked = {
    batchIds: unique(inputs.map((input) => input.batch_id)),
    batchNames: unique(inputs.map((input) => (input.batch_id ? undefined : input.batch))),
    gaugeIds: unique([...inputs.map((input) => input.gauge_id), ...gaugesOfFeatures(inputs, cached)]),
    gaugeNames: unique(inputs.map((input) => (input.gauge_id ? undefined : input.gauge))),
    keys: unique(requests.map((request) => request.key)),
  };
  const found = await lookUp(db, asked);
  const works = await openWorks(db, found, cached);
  const gauges = await gatherGauges(db, found, works, inputs);
  const decided: Decided<R>[] = [];
  const refused: { request: R; error: unknown }[] = [];
  const write = emptyWrite();
  const drain: Drain = { db, found, works, gauges, gaugeAdvice: new Map(), now: new Date() };
  for (const request of requests) {
    const kept = request.key === undefined ? undefined : found.keys.find((row) => row.key === request.key);
    try {
      if (kept && kept.fingerprint !== request.fingerprint) {
        throw new ProblemError(
          "idempotency-key-reused",
          "Another request has used this Idempotency-Key. Choose a fresh key for each new request.",
        );
      }
      const body = kept ? kept.body : JSON.stringify(await decideRequest(drain, request));
      decided.push({ request, answer: { body, replayed: kept !== undefined } });
      if (!kept && request.key !== undefined) {
        write.keys.push({ key: request.key, fingerprint: request.fingerprint!, status: 201, body });
      }
    } catch (error) {
      if (!(error instanceof ProblemError)) throw error;
      refused.push({ request, error });
    }
  }
  const changed = [...works.values()].filter((work) => work.readings.length > 0);
  for (const work of changed) work.collect(write);
  const views = changed.map((work) => work.view);
  const needsWrite = changed.length > 0 || write.keys.length > 0;
  const written = !needsWrite || (await writeDecision(db, write));
  if (written) for (const view of views) view.version += 1;
  return { decided, refused, written, views: written ? views : [...works.values()].map((work) => work.view) };
}

/** Gauges that the features of batches at hand name, asked for in the same round trip. */
function gaugesOfFeatures(inputs: readonly ReadingInput[], cached: ReadonlyMap<string, BatchView>): string[] {
  if (inputs.every((input) => input.gauge_id ?? input.gauge)) return [];
  const named = new Set(inputs.map((input) => input.batch_id ?? input.batch));
  const views = [...cached.values()].filter((view) => named.has(view.batchId) || named.has(view.name));
  return views.flatMap((view) => view.features.flatMap(({ gaugeId }) => gaugeId ?? []));
}

interface Drain {
  db: Db;
  found: DrainLookup;
  works: Map<string, BatchWork>;
  gauges: Map<string, GaugeView>;
  /** Which gauge to take instead, by feature, gauge and day: asked once. */
  gaugeAdvice: Map<string, string>;
  now: Date;
}

async function openWorks(db: Db, found: DrainLookup, cached: ReadonlyMap<string, BatchView>) {
  const fresh = found.batches.filter((row) => cached.get(row.batch_id)?.version !== row.version);
  const loaded =
    fresh.length > 0
      ? await loadBatchViews(
          db,
          fresh.map((row) => row.batch_id),
        )
      : [];
  const views = new Map(loaded.map((view) => [view.batchId, view]));
  return new Map(
    found.batches.map((row) => {
      const view = views.get(row.batch_id) ?? cached.get(row.batch_id)!;
      // The open advice is of the version looked up: where the batch has moved on since, the write has to miss.
      view.version = row.version;
      const open = found.open.filter((correction) => correction.batch_id === row.batch_id);
      return [row.batch_id, new BatchWork(db, view, open)];
    }),
  );
}

/** Gauges that the readings name, and those of features where a reading names none. */
async function gatherGauges(
  db: Db,
  found: DrainLookup,
  works: ReadonlyMap<string, BatchWork>,
  inputs: readonly ReadingInput[],
) {
  const gauges = new Map(found.gauges.map((row) => [row.gauge_id, gaugeView(row)]));
  if (inputs.every((input) => input.gauge_id ?? input.gauge)) return gauges;
  const named = [...works.values()].flatMap(({ view }) =>
    view.features.flatMap(({ gaugeId }) => gaugeId ?? []),
  );
  const missing = [...new Set(named)].filter((id) => !gauges.has(id));
  for (const row of await listGauges(db, missing)) gauges.set(row.gauge_id, gaugeView(row));
  return gauges;
}

async function decideRequest(drain: Drain, request: RecordRequest): Promise<ReadingsAnswer> {
  const resolved = await resolveAll(drain, request);
  const slots: (ShownReading | undefined)[] = resolved.map(() => undefined);
  const fresh = await withoutDuplicates(drain, resolved, slots);
  const failed: FailedReading[] = [];
  const warm: string[] = [];
  const corrections: ShownCorrection[] = [];
  const last = resolved.at(-1)!;
  let lastPiece = 0;
  for (const work of new Set(fresh.map(({ work: mine }) => mine))) {
    const mine = fresh.filter((item) => item.work === work);
    const shown = await takeInto(drain, work, mine, failed, warm);
    mine.forEach((item, i) => {
      slots[item.slot] = shown[i];
    });
    const blocks = new Set(mine.map(({ feature }) => feature.block));
    const advice = work.advise(blocks);
    withdrawElsewhere(drain, work, advice.standing);
    corrections.push(
      ...advice.standing.map((row) => showNamed(row, work.view)),
      ...advice.withdrawn.map((row) => showNamed(row, work.view)),
      ...advice.quiet.map((row) => shownQuiet(row, work.view)),
    );
  }
  for (const work of new Set(resolved.map((item) => item.work))) {
    if (fresh.some((item) => item.work === work)) continue;
    corrections.push(...work.corrections.map((row) => showNamed(row, work.view)));
  }
  const { work } = last;
  for (const item of resolved) if (item.work === work) lastPiece = Math.max(lastPiece, item.input.piece);
  const next = nextStep(work.view, work.corrections, lastPiece, failed);
  return {
    next: { ...next, why: [next.why, ...sayFirst(warm)].join(" ") },
    readings: slots as ShownReading[],
    corrections,
    next_checks: [...new Set(resolved.map((item) => item.work))].map(({ view }) => nextPlan(view)),
  };
}

const mostSaid = 3;

/** The first few of many sentences, and how many more there are. */
function sayFirst(sentences: readonly string[]): string[] {
  const more = sentences.length - mostSaid;
  return more > 0
    ? [...sentences.slice(0, mostSaid), `${more} more readings are flagged as warm.`]
    : [...sentences];
}

/** The plan of the next piece on which something is due. */
function nextPlan(view: BatchView): CheckPlan {
  const plan = planPiece(view, view.lastPieceCut + 1);
  const later = plan.next_pieces[0];
  return plan.features.length > 0 || later === undefined ? plan : planPiece(view, later);
}

function withdrawElsewhere(drain: Drain, work: BatchWork, standing: readonly CorrectionRow[]): void {
  const registers = new Set(standing.flatMap((row) => (row.kind === "change" ? [row.register_id!] : [])));
  if (registers.size === 0) return;
  for (const other of drain.works.values()) if (other !== work) other.withdrawChanges(registers);
}

function shownQuiet(row: Advice, view: BatchView): ShownCorrection {
  const stored = { ...row, correction_no: 0, kind: "change", status: "settled" } as CorrectionRow;
  return { ...showNamed(stored, view), correction_id: null, kind: "leave_alone" };
}

type Placed = ResolvedReading & { work: BatchWork; slot: number };

async function resolveAll(drain: Drain, request: RecordRequest): Promise<Placed[]> {
  const errors: FieldError[] = [];
  const placed: Placed[] = [];
  const byName = new Map([...drain.gauges.values()].map((gauge) => [gauge.name, gauge]));
  const names = { byId: drain.gauges, byName, names: () => listNames(drain.db, "gauge") };
  for (const [slot, input] of request.readings.entries()) {
    const pointer = request.isArray ? `/${slot}` : "";
    const row = drain.found.batches.find((batch) =>
      input.batch_id ? batch.batch_id === input.batch_id : batch.name === input.batch,
    );
    if (!row) {
      errors.push(await unknownBatch(drain.db, input, pointer));
      continue;
    }
    const work = drain.works.get(row.batch_id)!;
    if (work.view.closed) {
      errors.push({ pointer: `${pointer}/batch_id`, detail: `batch "${row.name}" is closed` });
      continue;
    }
    if (input.measured_at !== undefined && Date.parse(input.measured_at) > drain.now.getTime() + 86_400_000) {
      errors.push({
        pointer: `${pointer}/measured_at`,
        detail: "lies more than a day ahead: check the date and the offset from UTC",
      });
      continue;
    }
    if (input.measured_at !== undefined && Date.parse(input.measured_at) < 0) {
      errors.push({ pointer: `${pointer}/measured_at`, detail: "lies before 1970: check the date" });
      continue;
    }
    const before = errors.length;
    const resolved = resolveReading(input, work.view, names, pointer, errors);
    if (resolved) placed.push({ ...resolved, work, slot });
    else if (errors.length === before) {
      errors.push({
        pointer: `${pointer}/gauge`,
        detail: `there is no gauge "${input.gauge}"; ${nearOrAll(input.gauge ?? "", await names.names())}`,
      });
    }
    if (errors.length >= 100) break;
  }
  if (errors.length > 0) throw problemAt("unprocessable", errors);
  return placed;
}

async function unknownBatch(db: Db, input: ReadingInput, pointer: string): Promise<FieldError> {
  if (input.batch_id) {
    return {
      pointer: `${pointer}/batch_id`,
      detail: `there is no batch ${input.batch_id}: post the batch first, GET /v1/batches lists them`,
    };
  }
  if (input.batch === undefined) {
    return {
      pointer: `${pointer}/batch_id`,
      detail: 'is missing: send "batch_id", or the batch\'s name as "batch"',
    };
  }
  const near = nearOrAll(input.batch, await listNames(db, "batch"));
  return { pointer: `${pointer}/batch`, detail: `there is no batch "${input.batch}"; ${near}` };
}

/** Answers what is already there from the store, and gives back the rest. */
async function withoutDuplicates(
  drain: Drain,
  resolved: readonly Placed[],
  slots: (ShownReading | undefined)[],
): Promise<Placed[]> {
  const named = resolved.flatMap(({ identity, work }) =>
    identity === null ? [] : [{ batchId: work.view.batchId, identity }],
  );
  if (named.length === 0) return [...resolved];
  const stored = await findByIdentity(drain.db, named);
  const known = new Map<string, KnownReading>(stored.map((row) => [`${row.batch_id} ${row.identity}`, row]));
  const fresh: Placed[] = [];
  const seen = new Map<string, Placed>();
  for (const item of resolved) {
    const name = `${item.work.view.batchId} ${item.identity}`;
    const row =
      item.identity === null ? undefined : (known.get(name) ?? item.work.byIdentity.get(item.identity));
    if (row) {
      slots[item.slot] = showStored(item.work.view, row);
    } else if (item.identity !== null && seen.has(name)) {
      throw problemAt("unprocessable", [
        {
          pointer: `/${item.slot}`,
          detail: `is the same reading as item ${seen.get(name)!.slot} of this array: send it once`,
        },
      ]);
    } else {
      seen.set(name, item);
      fresh.push(item);
    }
  }
  return fresh;
}

type KnownReading = ReadingRow & Partial<Parameters<typeof showVoided>[0]>;

/** One that was voided stays so, and says it: whoever sends it again would take it for counted. */
function showStored(view: BatchView, row: KnownReading): ShownReading {
  const shown = showReading(
    row,
    fromNumeric(row.value_mm),
    view.featureById.get(row.feature_id)!,
    view.part.unit,
  );
  const { voided_at = null, void_reason = null, voided_by = null } = row;
  const voided = showVoided({ voided_at, void_reason, voided_by });
  return { ...shown, flags: [...shown.flags, "duplicate"], voided };
}

/** Takes the fresh readings of one batch into its blocks and judges each. */
async function takeInto(
  drain: Drain,
  work: BatchWork,
  items: readonly Placed[],
  failed: FailedReading[],
  warm: string[],
): Promise<ShownReading[]> {
  const { view } = work;
  view.lastPieceCut = Math.max(view.lastPieceCut, ...items.map((item) => item.input.piece));
  const numbers = new Map(items.map((item) => [item, ++view.readingCount]));
  const measuredBefore = view.blocks.map((block) => block.cache.piece);
  const taken = new Map<number, Taken>();
  for (const blockNo of new Set(items.map((item) => item.feature.block))) {
    const mine = items.filter((item) => item.feature.block === blockNo);
    taken.set(
      blockNo,
      await work.takeReadings(
        blockNo,
        mine.map((item) => toJournal(view, item, numbers.get(item)!)),
      ),
    );
  }
  const rows: { item: Placed; row: ReadingRow }[] = [];
  const now = drain.now.toISOString();
  for (const item of items) {
    const { input, feature, gauge, sizePm, reduction } = item;
    const readingNo = numbers.get(item)!;
    const { questions, pieces, forecasts } = taken.get(feature.block)!;
    const { piece, cut = 1 } = input;
    const pieceReadings = pieces.get(piece) ?? [];
    const repeat = pieceReadings.filter(
      (other) => other.feature === feature.index && other.cut === cut && other.readingNo <= readingNo,
    ).length;
    const blockView = view.blocks[feature.block]!;
    const { effects } = blockView.block.features[feature.index]!;
    const superseded = blockView.journal.changes.some(
      (change) =>
        effects[change.register] !== 0 &&
        (change.piece > piece || (change.piece === piece && change.cut > cut)),
    );
    const judged = judgeReading(view, feature, gauge, {
      readingNo,
      cut,
      sizePm,
      reduction,
      valueGiven: String(input.value),
      unit: input.unit,
      late: piece < measuredBefore[feature.block]! || superseded,
      overdue: isOverdue(gauge, input.measured_at ?? now),
      unsure: straddlesChange(blockView, feature.index, piece, input.piece_within ?? null),
      questions: questions.filter((question) => question.piece === piece),
      forecast: forecasts.get(piece)?.find((forecast) => forecast.feature === feature.index),
      pieceReadings,
    });
    const fit = !isTooCoarse(gauge.standardMm, blockView.block.features[feature.index]!.roomMm);
    const measuredAt = input.measured_at ?? now;
    const row: ReadingRow = {
      batch_id: view.batchId,
      reading_no: readingNo,
      feature_id: feature.featureId,
      piece,
      cut,
      repeat,
      value_mm: toNumeric(sizePm),
      value_given: String(input.value),
      unit: input.unit,
      gauge_id: gauge.gaugeId,
      gauge_variance: gauge.variance,
      gauge_fit: fit,
      expanded_uncertainty_mm: gauge.expandedPm === undefined ? null : toNumeric(gauge.expandedPm),
      measured_at: input.measured_at ?? null,
      taken_by: input.taken_by ?? null,
      serial: input.serial ?? null,
      source_id: input.source_id ?? null,
      identity: item.identity,
      piece_within: input.piece_within ?? null,
      known_piece: view.lastPieceCut,
      verdict: judged.verdict,
      disposition: judged.disposition,
      target_mm: toNumeric(feature.targetPm),
      probability_conforming: judged.probability,
      prior: judged.prior,
      gauge_advice: fit ? null : await betterGauge(drain, feature, gauge, measuredAt.slice(0, 10)),
      flags: judged.flags,
      slip: judged.slip,
      hold_from: null,
      hold_to: null,
      ...temperatureColumns(reduction),
    };
    if (reduction && judged.flags.includes("warm_part")) {
      const sure = row.gauge_fit && judged.verdict !== "uncertain";
      warm.push(sayWarmth(reduction, nameFeature(feature), piece, view.part.unit, sure));
    }
    rows.push({ item, row });
  }
  await holdPieces(drain, work, rows);
  for (const { row } of rows) {
    work.readings.push(row);
    if (row.identity !== null) work.byIdentity.set(row.identity, row);
  }
  for (const { item, row } of rows)
    if (row.verdict === "nonconforming") failed.push(describeFailure(view, item, row));
  const shown = rows.map(({ item, row }) => showReading(row, item.sizePm, item.feature, view.part.unit));
  rows.forEach(({ item, row }, i) => {
    const doubt = describeDoubt(item, row, shown[i]!);
    if (doubt) failed.push(doubt);
  });
  return shown;
}

async function betterGauge(
  drain: Drain,
  feature: FeatureView,
  coarse: GaugeView,
  onDay: string,
): Promise<string> {
  const asked = `${feature.featureId} ${coarse.gaugeId} ${onDay}`;
  const advice = drain.gaugeAdvice.get(asked) ?? (await adviseGauge(drain.db, feature, coarse, onDay));
  drain.gaugeAdvice.set(asked, advice);
  return advice;
}

function temperatureColumns(reduction: Reduction | undefined) {
  const micro = (value: number | undefined) => (value === undefined ? null : toThermalNumeric(value));
  return {
    size_as_read_mm: reduction ? toNumeric(reduction.sizeAsReadPm) : null,
    temperature_c: micro(reduction?.part.temperatureMicroC),
    gauge_temperature_c: micro(reduction?.gauge.temperatureMicroC),
    temperature_correction_uncertainty_mm: reduction
      ? toNumeric(Math.round(reduction.standardMm * 1e9))
      : null,
    expansion_coefficient: micro(reduction?.part.coefficientPicoPerK),
    gauge_expansion_coefficient: micro(reduction?.gauge.coefficientPicoPerK),
  };
}

function toJournal(view: BatchView, item: ResolvedReading, readingNo: number): JournalReading {
  const { feature, gauge, input, sizePm } = item;
  const blockView = view.blocks[feature.block]!;
  return {
    readingNo,
    feature: feature.index,
    piece: input.piece,
    cut: input.cut ?? 1,
    sizePm,
    gaugeVariance: gauge.variance,
    fails: isNonconforming(sizePm, feature, gauge.expandedPm),
    steers:
      !isTooCoarse(gauge.standardMm, blockView.block.features[feature.index]!.roomMm) &&
      !straddlesChange(blockView, feature.index, input.piece, input.piece_within ?? null),
  };
}

function isOverdue(gauge: GaugeView, at: string): boolean {
  return gauge.calibrationDue !== null && at.slice(0, 10) > gauge.calibrationDue;
}

/** Pieces in doubt: since the last good reading by a gauge that may prove a size, up to the next one or the last piece cut. */
async function holdPieces(
  drain: Drain,
  work: BatchWork,
  rows: readonly { item: Placed; row: ReadingRow }[],
): Promise<void> {
  const bad = rows.filter(({ row }) => row.verdict === "nonconforming");
  if (bad.length === 0) return;
  const { batchId, lastPieceCut } = work.view;
  const stored = await listGoodNeighbours(
    drain.db,
    bad.map(({ row }) => ({ batchId, featureId: row.feature_id, piece: row.piece })),
  );
  const good = new Map<string, number[]>();
  const note = (row: ReadingRow) => {
    if (row.disposition !== "accept" || !drain.gauges.get(row.gauge_id)?.reference) return;
    const pieces = good.get(row.feature_id);
    if (pieces) pieces.push(row.piece);
    else good.set(row.feature_id, [row.piece]);
  };
  for (const row of work.readings) note(row);
  for (const { row } of rows) note(row);
  for (const pieces of good.values()) pieces.sort((a, b) => a - b);
  bad.forEach(({ row }, i) => {
    const pieces = good.get(row.feature_id) ?? [];
    const at = lowerBound(pieces, row.piece);
    const before = Math.max(stored[i]!.before ?? 0, pieces[at - 1] ?? 0);
    const after = Math.min(
      stored[i]!.after ?? Number.POSITIVE_INFINITY,
      pieces[lowerBound(pieces, row.piece + 1)] ?? Number.POSITIVE_INFINITY,
    );
    row.hold_from = before + 1;
    row.hold_to = Math.max(row.piece, Math.min(after - 1, lastPieceCut));
  });
}

/** Index of the first of the sorted numbers that is not below `value`. */
function lowerBound(sorted: readonly number[], value: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return low;
}

function describeFailure(view: BatchView, item: Placed, row: ReadingRow): FailedReading {
  const { feature, sizePm } = item;
  const { unit } = view.part;
  const tooBig = feature.upperPm !== undefined && sizePm > feature.upperPm;
  const limit = tooBig ? feature.upperPm! : feature.lowerPm!;
  const beyond = `${saySize(Math.abs(sizePm - limit), unit)} ${tooBig ? "above the upper" : "below the lower"} limit of ${sayPm(limit, unit)}`;
  const fate = {
    rework: "metal is left, rework is possible",
    scrap: "too much is gone: set it aside",
    accept: "",
    remeasure: "measure it again",
  };
  const hold =
    row.hold_from !== null && row.hold_from < row.piece
      ? ` Hold pieces ${row.hold_from} to ${row.hold_to}.`
      : "";
  return {
    featureId: row.feature_id,
    piece: row.piece,
    cut: row.cut,
    outside: true,
    rework: row.disposition === "rework",
    text: `${nameFeature(feature)} of piece ${row.piece} is ${beyond}: ${fate[row.disposition]}.${hold}`,
  };
}

/** A piece that its rule or its gauge leaves undecided: it is neither out nor good. */
function describeDoubt(item: Placed, row: ReadingRow, shown: ShownReading): FailedReading | undefined {
  // A misreading is asked again by itself, and what is out has been said.
  if (row.verdict === "nonconforming" || row.flags.includes("implausible")) return undefined;
  const reasons = [shown.why, shown.gauge_advice].filter((reason) => reason !== null);
  if (reasons.length === 0) return undefined;
  return {
    featureId: row.feature_id,
    piece: row.piece,
    cut: row.cut,
    outside: false,
    rework: false,
    text: `Keep piece ${row.piece} apart, ${nameFeature(item.feature)} is not decided. ${reasons.join(" ")}`,
  };
}

function unique(values: readonly (string | undefined)[]): string[] {
  return [...new Set(values.filter((value) => value !== undefined))];
}
