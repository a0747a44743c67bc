import { setTimeout as delay } from "node:timers/promises";
import { sql } from "kysely";
import { expect, it } from "vitest";
import { ReadingRecorder } from "../../src/decision/reading-recorder.js";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";

const { api, db } = await createTestApp();

it("refuses readings while more wait than can be answered in good time, and loses none of those", async () => {
  const { batch, part } = await runningBatch(api);
  const recorder = new ReadingRecorder(db, undefined, 200);
  const post = (from: number, count: number) =>
    recorder.post({
      readings: Array.from({ length: count }, (_, i) => ({
        batch_id: batch.batch_id,
        feature_id: part.features[0].feature_id,
        piece: from + i,
        value: "12.001",
        unit: "mm" as const,
      })),
      isArray: true,
      key: undefined,
      fingerprint: undefined,
    });
  let release = () => {};
  const released = new Promise<void>((done) => {
    release = done;
  });
  const blocked = db.transaction().execute(async (trx) => {
    await sql`lock table batch in access exclusive mode`.execute(trx);
    await released;
  });
  await delay(50);
  const waiting = [post(1, 1), ...Array.from({ length: 6 }, (_, i) => post(2 + i * 30, 30))];

  expect(recorder.backlog).toBe(181);
  await expect((async () => post(500, 20))()).rejects.toMatchObject({
    type: "unavailable",
    detail: expect.stringMatching(/^181 readings wait .* Nothing of this request was taken/),
  });
  release();
  await blocked;
  await Promise.all(waiting);

  expect(recorder.backlog).toBe(0);
  const { rows } = await sql<{
    count: string;
  }>`select count(*) from reading where batch_id = ${batch.batch_id}`.execute(db);
  expect(rows).toEqual([{ count: "181" }]);
  expect(JSON.parse((await post(500, 1)).body).readings).toHaveLength(1);
});
