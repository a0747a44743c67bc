import { setTimeout as delay } from "node:timers/promises";
import { sql } from "kysely";
import { expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { killAtRandom } from "../support/kill-rounds.js";
import { ShopUnderFire, seeded } from "../support/shop-under-fire.js";

it("loses, doubles and half-writes nothing while service and database are killed at random", async () => {
  const { kills, acknowledged, faults } = await killAtRandom(10, 20_261);

  expect(faults).toEqual([]);
  expect(kills.service).toBeGreaterThan(0);
  expect(kills.database).toBeGreaterThan(0);
  expect(acknowledged.readings).toBeGreaterThan(100);
}, 120_000);

it.each([
  ["a lost reading", "delete from reading where reading_no = 5", /acknowledged readings lost/],
  [
    "a reading that nobody sent",
    `update reading set source_id = 'nobody' where reading_no = 5`,
    /1 acknowledged readings lost/,
  ],
  ["a lost answer", "delete from idempotency_key", /is answered otherwise/],
])("would tell %s", async (_, damage, message) => {
  const { app, db } = await createTestApp();
  const at = app.server.address();
  const shop = new ShopUnderFire(
    () => `http://127.0.0.1:${typeof at === "object" ? at?.port : ""}`,
    seeded(1),
  );
  await shop.open(1);
  shop.run();
  while ((shop.acknowledged[0]?.length ?? 0) < 8) await delay(10);
  await shop.end();
  expect(await shop.findFaults(db)).toEqual([]);

  await sql.raw(damage).execute(db);

  expect((await shop.findFaults(db)).join("\n")).toMatch(message);
});
