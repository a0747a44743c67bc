import supertest, { type Agent } from "supertest";
import { afterAll, describe, expect, it } from "vitest";
import { buildApp } from "../../src/app.js";
import { openDatabase } from "../../src/db/client.js";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create } from "../support/shop.js";

const { api: one, db, url } = await createTestApp();

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

const otherDb = openDatabase(url);
const otherApp = buildApp({ db: otherDb, config: { logLevel: "silent", adminKey: undefined } });
await otherApp.listen({ host: "127.0.0.1", port: 0 });
const two = supertest(otherApp.server);
afterAll(async () => {
  await otherApp.close();
  await otherDb.destroy();
});

async function post(api: Agent, path: string, body: object, key?: string): Promise<Answer> {
  const request = api.post(path);
  if (key !== undefined) request.set("idempotency-key", key);
  return await request.send(body);
}

/** Sizes that ask for a change now and then: the register's value is added as the control would. */
function sizeOf(piece: number): number {
  return Number((12.02 + (piece % 5) * 0.001).toFixed(4));
}

async function stateOf(batchIds: string[]): Promise<unknown[]> {
  const rows = await db
    .selectFrom("block_state")
    .selectAll()
    .where("batch_id", "in", batchIds)
    .orderBy("batch_id")
    .execute();
  return rows.map((row) => {
    const { after, countedFrom } = JSON.parse(row.state);
    return { after, countedFrom };
  });
}

async function readingsOf(batchId: string): Promise<number[]> {
  const rows = await db
    .selectFrom("reading")
    .select("reading_no")
    .where("batch_id", "=", batchId)
    .orderBy("reading_no")
    .execute();
  return rows.map((row) => row.reading_no);
}

describe("two replicas on one database", () => {
  it("answer the check plan as the other has left it", async () => {
    const shop = await runningBatch(one);
    const path = `/v1/batches/${shop.batch.batch_id}/checks`;
    const pieceOf = async (api: Agent) => (await api.get(path)).body.piece;
    expect([await pieceOf(one), await pieceOf(two)]).toEqual([1, 1]);

    await post(two, "/v1/readings", shop.reading(1, 12));
    expect([await pieceOf(one), await pieceOf(two)]).toEqual([2, 2]);

    await post(one, "/v1/readings", shop.reading(2, 12));
    expect([await pieceOf(one), await pieceOf(two)]).toEqual([3, 3]);
  });

  it("lose and double nothing when they post to one batch at once", async () => {
    const shop = await runningBatch(one);
    const { batch_id } = shop.batch;

    for (let round = 0; round < 8; round++) {
      const pieces = [1, 2, 3, 4, 5, 6].map((i) => 6 * round + i);
      const answers = await Promise.all(
        pieces.map((piece, i) => post(i % 2 ? one : two, "/v1/readings", shop.reading(piece, sizeOf(piece)))),
      );
      expect(answers.map(({ status }) => status)).toEqual(pieces.map(() => 201));
    }

    expect(await readingsOf(batch_id)).toEqual(Array.from({ length: 48 }, (_, i) => i + 1));
    const before = await stateOf([batch_id]);
    await db.deleteFrom("block_state").where("batch_id", "=", batch_id).execute();
    await db.deleteFrom("block_checkpoint").where("batch_id", "=", batch_id).execute();
    await one.patch(`/v1/features/${shop.part.features[0].feature_id}`).send({ target: 12 });
    expect((await stateOf([batch_id])).map(withoutNumbers)).toEqual(before.map(withoutNumbers));
  });

  it("take one request with an Idempotency-Key once, whichever of them it reaches", async () => {
    const shop = await runningBatch(one);

    const answers = await Promise.all(
      [one, two, one, two].map((api) => post(api, "/v1/readings", shop.reading(1, 12.024), "same-key")),
    );

    const taken = answers.filter(({ status }) => status === 201);
    expect(taken.length).toBeGreaterThanOrEqual(2);
    expect(answers.filter(({ status }) => status !== 201 && status !== 409)).toEqual([]);
    expect(new Set(taken.map(({ text }) => text)).size).toBe(1);
    expect(await readingsOf(shop.batch.batch_id)).toEqual([1]);
  });

  it("keep one open change per register while batches on one machine are read, corrected and voided at once", async () => {
    const shop = await runningBatch(one);
    const second = await create(one, "/v1/batches", {
      name: "replica-2",
      part_id: shop.part.part_id,
      machine_id: shop.machine.machine_id,
    });
    const batchIds: string[] = [shop.batch.batch_id, second.batch_id];
    const bad: string[] = [];
    const note = ({ status, text }: Answer, allowed: number[]) => {
      if (!allowed.includes(status)) bad.push(`${status} ${text}`);
    };
    const read = async (api: Agent, batch_id: string, piece: number) =>
      note(await post(api, "/v1/readings", { ...shop.reading(piece, sizeOf(piece)), batch_id }), [201]);
    const applyOpen = async (api: Agent, batch_id: string) => {
      const { body } = await api.get(`/v1/corrections?status=proposed&batch_id=${batch_id}`);
      const open = body.items.find((item: Answer) => item.kind === "change");
      if (open) note(await post(api, `/v1/corrections/${open.correction_id}/apply`, {}), [200, 409]);
    };

    for (let round = 0; round < 10; round++) {
      const piece = 3 * round + 1;
      await Promise.all([
        ...batchIds.flatMap((batchId, i) => [
          read(i ? one : two, batchId, piece),
          read(i ? two : one, batchId, piece + 1),
          read(i ? one : two, batchId, piece + 2),
        ]),
        applyOpen(round % 2 ? one : two, batchIds[round % 2]!),
        post(two, `/v1/batches/${batchIds[1]}/interruptions`, { kind: "stop" }).then((answer) =>
          note(answer, [201]),
        ),
        round > 1
          ? post(one, `/v1/readings/${batchIds[0]}-${round}/void`, { reason: "other piece" }).then((answer) =>
              note(answer, [200]),
            )
          : undefined,
        round % 3 === 2
          ? post(two, `/v1/registers/${shop.registers.radial}/entries`, {
              batch_id: batchIds[round % 2],
              value: -0.001 * round,
            }).then((answer) => note(answer, [201]))
          : undefined,
      ]);
      const { body } = await one.get("/v1/corrections?status=proposed");
      const changes = body.items.filter(
        (item: Answer) => item.kind === "change" && batchIds.includes(item.batch_id),
      );
      expect(changes.length).toBeLessThanOrEqual(1);
    }

    expect(bad).toEqual([]);
    for (const batchId of batchIds) {
      expect(await readingsOf(batchId)).toEqual(Array.from({ length: 30 }, (_, i) => i + 1));
    }
    const { registers } = await shop.wear();
    const sum = registers[0].entries.reduce((total: number, { change }: Answer) => total + change, 0);
    expect(sum).toBeCloseTo(registers[0].value_now, 9);
  });
});

/** Numbers of readings go by arrival, and so by chance. */
function withoutNumbers(state: Answer) {
  const latest = state.after.latest.map((reading: Answer) => reading && { ...reading, readingNos: [] });
  return { ...state, after: { ...state.after, latest } };
}
