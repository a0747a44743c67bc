import type { Db, Trx } from "../db/client.js";
import { isContention } from "../db/transact.js";
import { type FieldError, ProblemError } from "../http/problem.js";
import { findBatchIds } from "./batch-queries.js";
import type { BatchView } from "./batch-view.js";
import { adviseBatches, type ChunkOutcome, type DecidedChunk, decideChunk } from "./decide-chunk.js";
import { decideReadings, type Outcome, type RecordAnswer, unique } from "./decide-readings.js";
import type { FailedReading } from "./next-step.js";
import { lookUp } from "./queries.js";
import { enterFromLog, lockMachinesOf } from "./register-entries.js";
import type { ReadingInput, RecordRequest } from "./resolve-reading.js";

interface Waiting extends RecordRequest {
  attempts: number;
  done(answer: RecordAnswer): void;
  failed(error: unknown): void;
}

/** Work that has its turn between the writes of posted readings, alone. */
interface Turn {
  turn(): Promise<void>;
}

/** Part of a file: what it reads is decided and written in one transaction with what its sender keeps of it. */
export interface Chunk {
  /** Its readings, as they are to be decided; asked in the transaction, before it. */
  prepare(trx: Trx): Promise<ReadingInput[]>;
  /** Writes what belongs to the readings; in the transaction, after them. */
  settle(trx: Trx, outcomes: readonly ChunkOutcome[]): Promise<void>;
}

/** Who watches what the recorder does; told after the fact. */
export interface RecorderObserver {
  /** Readings have been written, with what was decided of each. */
  taken(readings: readonly { verdict: string | null }[]): void;
  /** What was worked out and written at once is through, or failed. */
  drained(seconds: number): void;
}

const mostReadingsAtOnce = 4000;
const mostReadingsWaiting = 20_000; // some seconds of work
const mostAttempts = 3;
const mostCachedBatches = 200;

/**
 * Takes readings in. What arrives while a write is under way goes into the next one, so that many clients cost few
 * statements. Batches are kept in memory between writes, but only as caches: their version is read afresh each time and
 * guarded by the write itself; a write that finds another version is thrown away, worked out again, and after three
 * misses done under a lock.
 */
export class ReadingRecorder {
  private readonly waiting: (Waiting | Turn)[] = [];
  private readonly cached = new Map<string, BatchView>();
  private readonly keysInFlight = new Set<string>();
  private running = false;

  private waitingReadings = 0;

  constructor(
    private readonly db: Db,
    private readonly observer?: RecorderObserver,
    private readonly mostWaiting = mostReadingsWaiting,
  ) {}

  /** How many posted readings wait for their turn. */
  get backlog(): number {
    return this.waitingReadings;
  }

  /** @throws {ProblemError} `unavailable` where so many wait already that this one would wait too long */
  post(request: RecordRequest): Promise<RecordAnswer> {
    const { key } = request;
    if (this.waitingReadings > 0 && this.waitingReadings + request.readings.length > this.mostWaiting) {
      throw new ProblemError(
        "unavailable",
        `${this.waitingReadings} readings wait to be taken in, more than can be answered in good time. Nothing of this ` +
          "request was taken; send it again in a moment, with the same Idempotency-Key if it had one.",
      );
    }
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
      this.waitingReadings += request.readings.length;
      this.waiting.push({ ...request, attempts: 0, done, failed });
      if (!this.running) void this.run();
    }).finally(() => {
      this.waitingReadings -= request.readings.length;
      if (key !== undefined) this.keysInFlight.delete(key);
    });
  }

  /**
   * Takes a part of a file in. Faulty readings are refused one by one, the others are taken; no advice is worked out.
   */
  take(chunk: Chunk): Promise<DecidedChunk> {
    return this.inTurn(async () => {
      for (let attempt = 1; ; attempt++) {
        try {
          const decided = await this.db.transaction().execute((trx) => this.settleChunk(trx, chunk, attempt));
          for (const view of decided.views) this.remember(view);
          this.observer?.taken(
            decided.outcomes.flatMap((outcome) => (outcome.kind === "taken" ? outcome.row : [])),
          );
          return decided;
        } catch (error) {
          this.cached.clear();
          if (!(error instanceof Overtaken || isContention(error)) || attempt === 2 * mostAttempts)
            throw error;
        }
      }
    });
  }

  /** Brings the advice of batches in line, after chunks have been taken in. */
  advise(batchIds: readonly string[], failed: readonly FailedReading[]) {
    return this.inTurn(async () => {
      for (let attempt = 1; ; attempt++) {
        try {
          const { answer, views } = await this.db.transaction().execute(async (trx) => {
            if (attempt > mostAttempts) await lockMachinesOf(trx, await findBatchIds(trx, batchIds));
            const advised = await adviseBatches(trx, batchIds, this.cached, failed);
            if (!advised.written) throw new Overtaken();
            return advised;
          });
          for (const view of views) this.remember(view);
          return answer;
        } catch (error) {
          this.cached.clear();
          if (!(error instanceof Overtaken || isContention(error)) || attempt === 2 * mostAttempts)
            throw error;
        }
      }
    });
  }

  private async settleChunk(trx: Trx, chunk: Chunk, attempt: number): Promise<DecidedChunk> {
    const readings = await chunk.prepare(trx);
    const refused = new Map<number, FieldError[]>();
    const withOffsets = readings.some(hasOffsets);
    let cached: ReadonlyMap<string, BatchView> = this.cached;
    if (withOffsets || attempt > mostAttempts) {
      const named = unique(readings.map((input) => input.batch_id ?? input.batch));
      await lockMachinesOf(trx, named.length > 0 ? await findBatchIds(trx, named) : []);
    }
    if (withOffsets) {
      const touched = await enterEachFromLog(trx, readings, refused);
      if (touched.length > 0) cached = new Map();
    }
    const slots = readings.flatMap((_, slot) => (refused.has(slot) ? [] : [slot]));
    const decided = await decideChunk(
      trx,
      slots.map((slot) => readings[slot]!),
      cached,
      false,
    );
    if (!decided.written) throw new Overtaken();
    const outcomes: ChunkOutcome[] = [];
    for (const [i, slot] of slots.entries()) {
      const outcome = decided.outcomes[i]!;
      outcomes[slot] =
        outcome.kind === "repeated" ? { kind: "repeated", slot: slots[outcome.slot]! } : outcome;
    }
    for (const [slot, faults] of refused) outcomes[slot] = { kind: "refused", faults };
    await chunk.settle(trx, outcomes);
    return { ...decided, outcomes };
  }

  private inTurn<T>(work: () => Promise<T>): Promise<T> {
    return new Promise<T>((done, failed) => {
      this.waiting.push({ turn: () => work().then(done, failed) });
      if (!this.running) void this.run();
    });
  }

  private async run(): Promise<void> {
    this.running = true;
    while (this.waiting.length > 0) {
      const [first] = this.waiting;
      const begun = performance.now();
      if (first && "turn" in first) {
        this.waiting.shift();
        await first.turn();
        this.observer?.drained((performance.now() - begun) / 1000);
        continue;
      }
      const drain = this.takeWaiting();
      try {
        await this.settle(drain);
      } catch (error) {
        for (const request of drain) request.failed(error);
      }
      this.observer?.drained((performance.now() - begun) / 1000);
    }
    this.running = false;
  }

  private takeWaiting(): Waiting[] {
    const drain: Waiting[] = [];
    let count = 0;
    for (const request of this.waiting) {
      if ("turn" in request || (drain.length > 0 && count >= mostReadingsAtOnce)) break;
      drain.push(request);
      count += request.readings.length;
    }
    this.waiting.splice(0, drain.length);
    return drain;
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
    this.observer?.taken(outcome.taken);
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
          taken: outcome.taken,
        };
      });
      for (const batchId of answer.batchIds) this.cached.delete(batchId);
      this.observer?.taken(answer.taken);
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

/** Another writer was faster: what was decided is thrown away, and decided again. */
class Overtaken extends Error {}

/** Offsets that a log prints go into the history first; a reading whose offsets can't be is refused for itself. */
async function enterEachFromLog(
  trx: Trx,
  readings: readonly ReadingInput[],
  refused: Map<number, FieldError[]>,
): Promise<string[]> {
  for (;;) {
    const kept = readings.map((input, slot) =>
      refused.has(slot) ? { ...input, cut_with: undefined } : input,
    );
    try {
      return await enterFromLog(trx, { readings: kept, isArray: true });
    } catch (error) {
      if (!(error instanceof ProblemError)) throw error;
      const [, slot, pointer] = /^\/(\d+)(\/.*)$/.exec(error.errors?.[0]?.pointer ?? "") ?? [];
      if (slot === undefined) throw error;
      refused.set(Number(slot), [{ pointer: pointer!, detail: error.errors![0]!.detail }]);
    }
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
