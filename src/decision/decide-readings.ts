import type { Db } from "../db/client.js";
import { showVoided } from "../http/journal.js";
import { type FieldError, ProblemError, problemAt } from "../http/problem.js";
import type { Advice } from "./advice-base.js";
import type { BatchView } from "./batch-view.js";
import { BatchWork, emptyWrite, loadBatchViews } from "./batch-work.js";
import { type CorrectionRow, type ShownCorrection, showNamed } from "./correction-row.js";
import { needsSize, withSizes } from "./feature-sizes.js";
import { listChecks } from "./gauge-check-queries.js";
import { orderChecks } from "./gauge-checks.js";
import { listGauges, listNames } from "./gauge-queries.js";
import { gaugeView } from "./gauge-view.js";
import { type ShownReading, showReading } from "./judge-reading.js";
import { type FailedReading, type NextStep, nextStep } from "./next-step.js";
import { type CheckPlan, planPiece } from "./plan.js";
import { type DrainLookup, findByIdentity, lookUp, type ReadingRow, writeDecision } from "./queries.js";
import { nearOrAll, type ReadingInput, type RecordRequest, resolveReading } from "./resolve-reading.js";
import { findSeats } from "./seats.js";
import { type PlacesSummary, sumUpPlaces } from "./sum-up-places.js";
import { type Drain, type Placed, type Remarks, takeInto } from "./take-readings.js";

export interface RecordAnswer {
  body: string;
  replayed: boolean;
}

export interface ReadingsAnswer {
  next: NextStep;
  readings: ShownReading[];
  places: PlacesSummary[];
  corrections: ShownCorrection[];
  next_checks: CheckPlan[];
}

interface Decided<R extends RecordRequest> {
  request: R;
  answer: RecordAnswer;
}

export interface Outcome<R extends RecordRequest> {
  decided: Decided<R>[];
  refused: { request: R; error: unknown }[];
  /** False: another writer was faster, and nothing was written. */
  written: boolean;
  views: BatchView[];
  taken: readonly Pick<ReadingRow, "verdict">[];
}

/**
 * Decides all requests of a drain in memory, each as if it came alone and in turn, and writes what follows at once.
 * @param cached views of batches as they were left last; what no longer has its version is loaded afresh
 */
export async function decideReadings<R extends RecordRequest>(
  db: Db,
  requests: readonly R[],
  cached: ReadonlyMap<string, BatchView>,
): Promise<Outcome<R>> {
  const inputs = requests.flatMap((request) => [...request.readings]);
  const drain = await openDrain(db, inputs, cached, unique(requests.map((request) => request.key)));
  const { found, works } = drain;
  const decided: Decided<R>[] = [];
  const refused: { request: R; error: unknown }[] = [];
  const write = emptyWrite();
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
  return {
    decided,
    refused,
    written,
    views: written ? views : [...works.values()].map((work) => work.view),
    taken: changed.flatMap((work) => work.readings),
  };
}

/** Looks up what readings name: their batches as they stand, open advice, gauges, and keys that were used before. */
export async function openDrain(
  db: Db,
  inputs: readonly ReadingInput[],
  cached: ReadonlyMap<string, BatchView>,
  keys: string[] = [],
): Promise<Drain> {
  const now = new Date();
  const from = earliest(inputs, now);
  const found = await lookUp(db, {
    batchIds: unique(inputs.map((input) => input.batch_id)),
    batchNames: unique(inputs.map((input) => (input.batch_id ? undefined : input.batch))),
    gaugeIds: unique([...inputs.map((input) => input.gauge_id), ...gaugesOfFeatures(inputs, cached)]),
    gaugeNames: unique(inputs.map((input) => (input.gauge_id ? undefined : input.gauge))),
    keys,
    from,
  });
  const works = await openWorks(db, found, cached);
  const gauges = await gatherGauges(db, found, works, inputs, from);
  return { db, found, works, gauges, checks: orderChecks(found.checks), gaugeAdvice: new Map(), now };
}

/** When the earliest of the readings was taken; one that does not say so is taken now. */
function earliest(inputs: readonly ReadingInput[], now: Date): string {
  const at = inputs.map((input) =>
    input.measured_at === undefined ? now.getTime() : Date.parse(input.measured_at),
  );
  return new Date(at.reduce((first, each) => Math.min(first, each), now.getTime())).toISOString();
}

/** Gauges that the features of batches at hand name, asked for in the same round trip. */
function gaugesOfFeatures(inputs: readonly ReadingInput[], cached: ReadonlyMap<string, BatchView>): string[] {
  if (inputs.every((input) => input.gauge_id ?? input.gauge)) return [];
  const named = new Set(inputs.map((input) => input.batch_id ?? input.batch));
  const views = [...cached.values()].filter((view) => named.has(view.batchId) || named.has(view.name));
  return views.flatMap((view) => view.features.flatMap(({ gaugeId }) => gaugeId ?? []));
}
export async function openWorks(db: Db, found: DrainLookup, cached: ReadonlyMap<string, BatchView>) {
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
  from: string,
) {
  const gauges = new Map(found.gauges.map((row) => [row.gauge_id, gaugeView(row)]));
  if (inputs.every((input) => input.gauge_id ?? input.gauge)) return gauges;
  const named = [...works.values()].flatMap(({ view }) =>
    view.features.flatMap(({ gaugeId }) => gaugeId ?? []),
  );
  const missing = [...new Set(named)].filter((id) => !gauges.has(id));
  if (missing.length === 0) return gauges;
  const [rows, checks] = await Promise.all([listGauges(db, missing), listChecks(db, missing, from)]);
  for (const row of rows) gauges.set(row.gauge_id, gaugeView(row));
  found.checks.push(...checks);
  return gauges;
}

async function decideRequest(drain: Drain, request: RecordRequest): Promise<ReadingsAnswer> {
  const resolved = await resolveAll(drain, request);
  const slots: (ShownReading | undefined)[] = resolved.map(() => undefined);
  const fresh = await withoutDuplicates(drain, resolved, slots);
  const failed: FailedReading[] = [];
  const remarks: Remarks = { warm: [], alike: [] };
  const corrections: ShownCorrection[] = [];
  const last = resolved.at(-1)!;
  let lastPiece = 0;
  const take = async (work: BatchWork, items: readonly Placed[]) => {
    if (items.length === 0) return;
    const shown = await takeInto(drain, work, items, failed, remarks);
    items.forEach((item, i) => {
      slots[item.slot] = shown[i];
    });
  };
  for (const work of new Set(fresh.map(({ work: mine }) => mine))) {
    const mine = fresh.filter((item) => item.work === work);
    const bySize = mine.filter(needsSize);
    await take(
      work,
      mine.filter((item) => !needsSize(item)),
    );
    await take(work, await withSizes(drain, work, bySize));
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
  const places: PlacesSummary[] = [];
  for (const work of new Set(resolved.map((item) => item.work)))
    places.push(
      ...(await sumUpPlaces(
        drain.db,
        work,
        resolved.filter((item) => item.work === work),
      )),
    );
  const { work } = last;
  for (const item of resolved) if (item.work === work) lastPiece = Math.max(lastPiece, item.input.piece);
  const next = nextStep(work.view, work.corrections, lastPiece, failed);
  return {
    next: {
      ...next,
      why: [next.why, ...sayFirst(remarks.alike, "too alike"), ...sayFirst(remarks.warm, "warm")].join(" "),
    },
    readings: slots as ShownReading[],
    places,
    corrections,
    next_checks: [...new Set(resolved.map((item) => item.work))].map(({ view }) => nextPlan(view)),
  };
}

const mostSaid = 3;

/** The first few of many sentences, and how many more there are. */
function sayFirst(sentences: readonly string[], flagged: string): string[] {
  const more = sentences.length - mostSaid;
  return more > 0
    ? [...sentences.slice(0, mostSaid), `${more} more readings are flagged as ${flagged}.`]
    : [...sentences];
}

/** The plan of the next piece on which something is due. */
export function nextPlan(view: BatchView): CheckPlan {
  const plan = planPiece(view, view.lastPieceCut + 1);
  const later = plan.next_pieces[0];
  return plan.features.length > 0 || later === undefined ? plan : planPiece(view, later);
}

export function withdrawElsewhere(
  drain: Pick<Drain, "works">,
  work: BatchWork,
  standing: readonly CorrectionRow[],
): void {
  const registers = new Set(standing.flatMap((row) => (row.kind === "change" ? [row.register_id!] : [])));
  if (registers.size === 0) return;
  for (const other of drain.works.values()) if (other !== work) other.withdrawChanges(registers);
}

function shownQuiet(row: Advice, view: BatchView): ShownCorrection {
  const stored = { ...row, correction_no: 0, kind: "change", status: "settled" } as CorrectionRow;
  return { ...showNamed(stored, view), correction_id: null, kind: "leave_alone" };
}
async function resolveAll(drain: Drain, request: RecordRequest): Promise<Placed[]> {
  const errors: FieldError[] = [];
  const placed = await resolveEach(drain, request.readings, (slot, { pointer, detail }) => {
    errors.push({ pointer: request.isArray ? `/${slot}${pointer}` : pointer, detail });
    return errors.length < 100;
  });
  if (errors.length > 0) throw problemAt("unprocessable", errors);
  return placed;
}

/**
 * Finds what each reading names; names that are not there are looked for near once, however many readings name them.
 * @param refuse takes what is wrong with one of them; false: nobody wants to know of more
 */
export async function resolveEach(
  drain: Drain,
  readings: readonly ReadingInput[],
  refuse: (slot: number, fault: FieldError) => boolean,
): Promise<Placed[]> {
  const placed: Placed[] = [];
  const known = new Map<"batch" | "gauge", Promise<string[]>>();
  const namesOf = (table: "batch" | "gauge") => {
    const names = known.get(table) ?? listNames(drain.db, table);
    known.set(table, names);
    return names;
  };
  const gauges = {
    byId: drain.gauges,
    byName: new Map([...drain.gauges.values()].map((gauge) => [gauge.name, gauge])),
    checks: drain.checks,
    now: drain.now,
  };
  const inBatch = readings.map((input) => ({ input, work: findWork(drain, input) }));
  const seats = await findSeats(
    drain.db,
    inBatch.flatMap(({ input, work }) => (work ? { input, work } : [])),
  );
  for (const [slot, { input, work }] of inBatch.entries()) {
    const faults: FieldError[] = [];
    if (!work) faults.push(await unknownBatch(namesOf, input));
    else {
      const early = earlyFault(input, work, drain.now);
      const resolved = early
        ? undefined
        : resolveReading(input, work.view, gauges, seats.get(work), "", faults);
      if (early) faults.push(early);
      else if (resolved) placed.push({ ...resolved, work, slot });
      else if (faults.length === 0) {
        const near = nearOrAll(input.gauge ?? "", await namesOf("gauge"));
        faults.push({ pointer: "/gauge", detail: `there is no gauge "${input.gauge}"; ${near}` });
      }
    }
    if (!faults.every((fault) => refuse(slot, fault))) break;
  }
  return placed;
}

/** What keeps a reading out of its batch, whatever it measures. */
function earlyFault({ measured_at }: ReadingInput, { view }: BatchWork, now: Date): FieldError | undefined {
  if (view.closed) return { pointer: "/batch_id", detail: `batch "${view.name}" is closed` };
  if (measured_at === undefined) return undefined;
  const at = Date.parse(measured_at);
  if (at > now.getTime() + 86_400_000) {
    return {
      pointer: "/measured_at",
      detail: "lies more than a day ahead: check the date and the offset from UTC",
    };
  }
  return at < 0 ? { pointer: "/measured_at", detail: "lies before 1970: check the date" } : undefined;
}

function findWork(drain: Drain, input: ReadingInput): BatchWork | undefined {
  const row = drain.found.batches.find((batch) =>
    input.batch_id ? batch.batch_id === input.batch_id : batch.name === input.batch,
  );
  return row && drain.works.get(row.batch_id);
}

async function unknownBatch(
  namesOf: (table: "batch" | "gauge") => Promise<string[]>,
  input: ReadingInput,
): Promise<FieldError> {
  if (input.batch_id) {
    return {
      pointer: "/batch_id",
      detail: `there is no batch ${input.batch_id}: post the batch first, GET /v1/batches lists them`,
    };
  }
  if (input.batch === undefined) {
    return {
      pointer: "/batch_id",
      detail: 'is missing: send "batch_id", or the batch\'s name as "batch"',
    };
  }
  const near = nearOrAll(input.batch, await namesOf("batch"));
  return { pointer: "/batch", detail: `there is no batch "${input.batch}"; ${near}` };
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
  const shown = showReading(row, view.featureById.get(row.feature_id)!);
  const { voided_at = null, void_reason = null, voided_by = null } = row;
  const voided = showVoided({ voided_at, void_reason, voided_by });
  return { ...shown, flags: [...shown.flags, "duplicate"], voided };
}
export function unique(values: readonly (string | undefined)[]): string[] {
  return [...new Set(values.filter((value) => value !== undefined))];
}
