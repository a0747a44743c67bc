import { randomUUID } from "node:crypto";
import { setTimeout as delay } from "node:timers/promises";
import { type RawBuilder, sql } from "kysely";
import supertest from "supertest";
import type { Db } from "../../src/db/client.js";
import { runningBatch } from "./running-batch.js";

// biome-ignore lint/suspicious/noExplicitAny: answers are read back and compared as a whole
type Answer = any;

interface Write {
  path: string;
  body: Answer;
  key: string;
  status: number;
  answer: string;
}

const patienceMs = 60_000;

/** A small generator with a seed (mulberry32, in the public domain), so that a fault can be met again. */
export function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/**
 * Machines that are measured and corrected without a pause, each by a client who sends again, with the same Idempotency-Key, what
 * got no answer, and who keeps what was acknowledged.
 */
export class ShopUnderFire {
  readonly machines: Awaited<ReturnType<typeof runningBatch>>[] = [];
  /** What each machine's client was told, in the order it was sent. */
  readonly acknowledged: Write[][] = [];
  /** Source ids of the readings of the request that each client is waiting for. */
  readonly underWay: (string[] | undefined)[] = [];
  private isOver = false;
  private work: Promise<void>[] = [];

  /** @param addressOf where the client of a machine sends next */
  constructor(
    private readonly addressOf: (machine: number) => string,
    private readonly random: () => number,
  ) {}

  async open(machines: number): Promise<void> {
    for (let machine = 0; machine < machines; machine++) {
      const api = supertest(this.addressOf(machine)) as unknown as Parameters<typeof runningBatch>[0];
      const shop = await runningBatch(api, {
        features: [
          { characteristic: "1", nominal: "12", lower_deviation: -0.03, upper_deviation: 0.03 },
          { characteristic: "2", nominal: "6", lower_deviation: -0.04, upper_deviation: 0.04 },
          {
            characteristic: "3",
            kind: "depth",
            nominal: "5",
            lower_deviation: -0.05,
            upper_deviation: 0.05,
            cut_by: [{ register: "axial" }],
          },
        ],
      });
      this.machines.push(shop);
      this.acknowledged.push([]);
    }
  }

  run(): void {
    this.isOver = false;
    this.work = this.machines.map((_, machine) => this.runMachine(machine));
    for (const each of this.work) each.catch(() => {}); // told by end()
  }

  /** Lets every client have the answer it waits for, and then stops. */
  async end(): Promise<void> {
    this.isOver = true;
    await Promise.all(this.work);
  }

  private async runMachine(machine: number): Promise<void> {
    const shop = this.machines[machine]!;
    const batchId: string = shop.batch.batch_id;
    let piece = this.acknowledged[machine]!.filter(({ path }) => path === "/v1/readings").length;
    let offset = Number(
      await this.ask(machine, `/v1/tools/${shop.tool.tool_id}/wear`).then(
        (wear) => wear.registers[0].value_now,
      ),
    );
    while (!this.isOver) {
      piece += 1;
      // The tool wears by 0.4 µm a piece, so that corrections are asked for all along.
      const wear = 0.0004 * piece + offset + 0.001 * (this.random() - 0.5);
      const sizes = [12 + 2 * wear, 6 + wear, 5 + 0.01 * (this.random() - 0.5)];
      const readings = shop.part.features.map((feature: Answer, i: number) => ({
        batch_id: batchId,
        feature_id: feature.feature_id,
        piece,
        value: sizes[i]!.toFixed(4),
        unit: "mm",
        source_id: randomUUID(),
      }));
      const answer = await this.post(machine, "/v1/readings", readings);
      const change = answer.corrections.find(
        (row: Answer) => row.kind === "change" && row.status === "proposed" && row.register_number === 7,
      );
      if (change) {
        const applied = await this.post(machine, `/v1/corrections/${change.correction_id}/apply`, {
          from_piece: piece + 1,
          by: "shift A",
        });
        if (applied.status === "applied") offset = Number(change.value_after);
      } else if (this.random() < 0.05) {
        await this.post(machine, `/v1/batches/${batchId}/interruptions`, {
          kind: "stop",
          from_piece: piece + 1,
        });
      }
    }
  }

  private async post(machine: number, path: string, body: Answer): Promise<Answer> {
    const key = randomUUID();
    this.underWay[machine] = Array.isArray(body) ? body.map(({ source_id }) => source_id) : undefined;
    const response = await this.insist(machine, path, {
      method: "POST",
      headers: { "content-type": "application/json", "idempotency-key": key },
      body: JSON.stringify(body),
    });
    const answer = await response.text();
    this.underWay[machine] = undefined;
    this.acknowledged[machine]!.push({ path, body, key, status: response.status, answer });
    return JSON.parse(answer);
  }

  private async ask(machine: number, path: string): Promise<Answer> {
    return (await this.insist(machine, path, {})).json();
  }

  /** Sends until there is an answer that is no refusal for the moment. */
  private async insist(machine: number, path: string, request: RequestInit): Promise<Response> {
    const deadline = performance.now() + patienceMs;
    for (;;) {
      try {
        const response = await fetch(`${this.addressOf(machine)}${path}`, request);
        const whole = new Response(await response.arrayBuffer(), response);
        const isForTheMoment =
          whole.status >= 500 || (whole.status === 409 && /in-flight/.test(await whole.clone().text()));
        if (!isForTheMoment) {
          if (whole.status >= 400) throw new Refused(`${path}: ${whole.status} ${await whole.text()}`);
          return whole;
        }
        if (performance.now() > deadline)
          throw new Refused(`${path}: no answer but ${whole.status} ${await whole.text()}`);
      } catch (error) {
        if (error instanceof Refused || performance.now() > deadline) throw error;
      }
      await delay(20);
    }
  }

  /** Requests that are answered in part: readings of what is still waited for must be there all or none. */
  async findHalves(db: Db): Promise<string[]> {
    const faults: string[] = [];
    for (const [machine, ids] of this.underWay.entries()) {
      if (!ids) continue;
      const { rows } = await sql<{ count: string }>`select count(*) from reading
        where batch_id = ${this.machines[machine]!.batch.batch_id} and source_id = any(${ids})`.execute(db);
      const count = Number(rows[0]?.count);
      if (count !== 0 && count !== ids.length)
        faults.push(`machine ${machine}: ${count} of ${ids.length} readings of a request`);
    }
    return faults;
  }

  /** What was lost, doubled or left half done; nothing where all is as it was acknowledged. */
  async findFaults(db: Db): Promise<string[]> {
    const faults: string[] = [];
    for (const [machine, shop] of this.machines.entries()) {
      const batchId = shop.batch.batch_id;
      const sent = this.acknowledged[machine]!;
      const wanted = sent.flatMap(({ body }) =>
        Array.isArray(body) ? body.map(({ source_id }) => source_id) : [],
      );
      const { rows: found } = await sql<{ source_id: string; reading_no: number }>`
        select source_id, reading_no from reading where batch_id = ${batchId} order by reading_no`.execute(
        db,
      );
      const there = found.map(({ source_id }) => source_id);
      const lost = wanted.filter((id) => !there.includes(id));
      if (lost.length > 0) faults.push(`machine ${machine}: ${lost.length} acknowledged readings lost`);
      if (new Set(there).size !== there.length) faults.push(`machine ${machine}: readings doubled`);
      if (there.length > wanted.length)
        faults.push(`machine ${machine}: ${there.length - wanted.length} readings nobody sent`);
      if (found.some(({ reading_no }, i) => reading_no !== i + 1))
        faults.push(`machine ${machine}: numbers with a gap`);
      const applied = sent.filter(({ path }) => path.endsWith("/apply")).length;
      const stopped = sent.filter(({ path }) => path.endsWith("/interruptions")).length;
      const [counts] = (
        await sql<{
          readings: number;
          entries: string;
          interruptions: string;
        }>`select reading_count as readings,
          (select count(*) from register_entry where batch_id = ${batchId}) as entries,
          (select count(*) from interruption where batch_id = ${batchId}) as interruptions
        from batch where batch_id = ${batchId}`.execute(db)
      ).rows;
      if (counts?.readings !== wanted.length)
        faults.push(`machine ${machine}: the batch counts ${counts?.readings} readings`);
      if (Number(counts?.entries) !== applied)
        faults.push(`machine ${machine}: ${counts?.entries} entries of ${applied} corrections`);
      if (Number(counts?.interruptions) !== stopped)
        faults.push(`machine ${machine}: ${counts?.interruptions} interruptions of ${stopped}`);
      for (const write of sent.slice(-20)) {
        const again = await fetch(`${this.addressOf(machine)}${write.path}`, {
          method: "POST",
          headers: { "content-type": "application/json", "idempotency-key": write.key },
          body: JSON.stringify(write.body),
        });
        if (again.status !== write.status || (await again.text()) !== write.answer)
          faults.push(`machine ${machine}: ${write.path} sent again is answered otherwise`);
      }
    }
    return faults;
  }

  /** Sends all that was acknowledged once more, in the same order, to a service that nothing happens to. */
  async replay(address: string): Promise<string[]> {
    const faults: string[] = [];
    for (const [machine, writes] of this.acknowledged.entries()) {
      for (const { path, body, key, status } of writes) {
        const response = await fetch(`${address}${path}`, {
          method: "POST",
          headers: { "content-type": "application/json", "idempotency-key": key },
          body: JSON.stringify(body),
        });
        if (response.status !== status)
          faults.push(`machine ${machine}: ${path} ${response.status}: ${await response.text()}`);
      }
    }
    return faults;
  }
}

class Refused extends Error {}

/** What was decided, without the moments at which it was. */
export async function decisionsOf(db: Db): Promise<Record<string, unknown[]>> {
  const queries: Record<string, RawBuilder<unknown>> = {
    readings: sql`select batch_id, reading_no, feature_id, piece, cut, repeat, value_mm, verdict, disposition, flags, source_id
      from reading order by batch_id, reading_no`,
    corrections: sql`select batch_id, correction_no, kind, status, subject, register_id, piece, value_now_mm, change_mm,
      value_after_mm, reading_nos, from_piece, value_set_mm from correction order by batch_id, correction_no`,
    entries: sql`select batch_id, register_id, from_piece, from_cut, value_mm from register_entry order by 1, 2, 3, 4`,
    states: sql`select batch_id, block_key, state from block_state order by 1, 2`,
  };
  const found: Record<string, unknown[]> = {};
  for (const [name, query] of Object.entries(queries)) found[name] = (await query.execute(db)).rows;
  return found;
}
