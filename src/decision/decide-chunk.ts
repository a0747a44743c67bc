import type { Db } from "../db/client.js";
import type { FieldError } from "../http/problem.js";
import type { BatchView, FeatureView } from "./batch-view.js";
import { type BatchWork, emptyWrite } from "./batch-work.js";
import { showNamed } from "./correction-row.js";
import {
  nextPlan,
  openDrain,
  openWorks,
  type ReadingsAnswer,
  resolveEach,
  withdrawElsewhere,
} from "./decide-readings.js";
import { type FailedReading, nextStep } from "./next-step.js";
import { listKnown, lookUp, type ReadingRow, writeDecision } from "./queries.js";
import type { ReadingInput } from "./resolve-reading.js";
import { type Placed, takeRows } from "./take-readings.js";

/** What became of one reading of a chunk. */
export type ChunkOutcome =
  | { kind: "taken"; row: ReadingRow; feature: Pick<FeatureView, "kind" | "lowerPm" | "upperPm"> }
  /** It was there before. */
  | { kind: "known"; row: { batch_id: string; reading_no: number } }
  /** An earlier one of this chunk says the very same. */
  | { kind: "repeated"; slot: number }
  | { kind: "refused"; faults: FieldError[] };

export interface DecidedChunk {
  outcomes: ChunkOutcome[];
  failed: FailedReading[];
  /** False: another writer was faster, and nothing was written. */
  written: boolean;
  views: BatchView[];
}

/**
 * Decides the readings of a piece of a file: each stands for itself, and what is wrong with one keeps none of the others
 * out. Verdicts and states only; the advice is worked out when the file is through (`adviseBatches`).
 * @param dry decide only, and write nothing
 */
export async function decideChunk(
  db: Db,
  readings: readonly ReadingInput[],
  cached: ReadonlyMap<string, BatchView>,
  dry: boolean,
): Promise<DecidedChunk> {
  const drain = await openDrain(db, readings, cached);
  const outcomes: ChunkOutcome[] = [];
  const placed = await resolveEach(drain, readings, (slot, fault) => {
    const before = outcomes[slot];
    outcomes[slot] = {
      kind: "refused",
      faults: before?.kind === "refused" ? [...before.faults, fault] : [fault],
    };
    return true;
  });
  const fresh = await freshOf(db, placed, outcomes);
  const failed: FailedReading[] = [];
  const changed = [...new Set(fresh.map(({ work }) => work))];
  for (const work of changed) {
    const mine = fresh.filter((item) => item.work === work);
    for (const { item, row } of await takeRows(drain, work, mine, failed, { warm: [], alike: [] })) {
      outcomes[item.slot] = { kind: "taken", row, feature: item.read.feature };
    }
  }
  return { outcomes, failed, ...(await writeWorks(db, changed, dry)) };
}

/** What nobody has sent before; the outcome of the others is noted. */
async function freshOf(db: Db, placed: readonly Placed[], outcomes: ChunkOutcome[]): Promise<Placed[]> {
  const named = placed.flatMap(({ identity, work }) =>
    identity === null ? [] : [{ batchId: work.view.batchId, identity }],
  );
  const stored = named.length > 0 ? await listKnown(db, named) : [];
  const known = new Map(stored.map((row) => [`${row.batch_id} ${row.identity}`, row]));
  const seen = new Map<string, number>();
  return placed.filter((item) => {
    if (item.identity === null) return true;
    const name = `${item.work.view.batchId} ${item.identity}`;
    const row = known.get(name);
    const before = seen.get(name);
    if (row) outcomes[item.slot] = { kind: "known", row };
    else if (before !== undefined) outcomes[item.slot] = { kind: "repeated", slot: before };
    else seen.set(name, item.slot);
    return !row && before === undefined;
  });
}

export type Advised = Pick<ReadingsAnswer, "next" | "corrections" | "next_checks">;

/** Brings the advice of batches in line with what has been read in, once for many readings. */
export async function adviseBatches(
  db: Db,
  batchIds: readonly string[],
  cached: ReadonlyMap<string, BatchView>,
  failed: readonly FailedReading[],
): Promise<{ answer: Advised; written: boolean; views: BatchView[] }> {
  const asked = { batchNames: [], gaugeIds: [], gaugeNames: [], keys: [], from: new Date().toISOString() };
  const found = await lookUp(db, { ...asked, batchIds: [...batchIds] });
  const works = await openWorks(db, found, cached);
  const answer: Advised = {
    next: { action: "run_on", piece: 0, why: "Nothing has been read." },
    corrections: [],
    next_checks: [],
  };
  for (const batchId of batchIds) {
    const work = works.get(batchId);
    if (!work) continue;
    const { view } = work;
    const { standing, withdrawn } = work.advise(view.blocks.keys());
    withdrawElsewhere({ works }, work, standing);
    answer.corrections.push(...[...standing, ...withdrawn].map((row) => showNamed(row, view)));
    const last = view.lastPieceCut;
    answer.next = nextStep(
      view,
      work.corrections,
      last,
      failed.filter(({ piece }) => piece === last),
    );
    answer.next_checks.push(nextPlan(view));
  }
  return { answer, ...(await writeWorks(db, [...works.values()], false)) };
}

async function writeWorks(db: Db, works: readonly BatchWork[], dry: boolean) {
  const write = emptyWrite();
  for (const work of works) work.collect(write);
  const views = works.map((work) => work.view);
  const written = dry || works.length === 0 || (await writeDecision(db, write));
  if (written && !dry) for (const view of views) view.version += 1;
  return { written, views };
}
