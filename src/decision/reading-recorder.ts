import type { Db } from "../db/client.js";
import { isContention } from "../db/transact.js";
import { ProblemError } from "../http/problem.js";
import type { BatchView } from "./batch-view.js";
import { decideReadings, type Outcome, type RecordAnswer, unique } from "./decide-readings.js";
import { findBatchIds, lookUp } from "./queries.js";
import { enterFromLog, lockMachinesOf } from "./register-entries.js";
import type { ReadingInput, RecordRequest } from "./resolve-reading.js";

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
      outcome = await decideReadings(this.db, free, this.cached);
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
        const outcome = await decideReadings(trx, [request], new Map());
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
    from: new Date().toISOString(),
  });
  return keys.length > 0;
}

function hasOffsets(reading: ReadingInput): boolean {
  return (reading.cut_with?.length ?? 0) > 0;
}
