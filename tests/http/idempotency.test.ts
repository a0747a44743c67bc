import { describe, expect, it } from "vitest";
import { deleteOldKeys } from "../../src/http/idempotency.js";
import { createTestApp } from "../support/app.js";
import { gaugeBody, machineBody } from "../support/shop.js";

const { api, db } = await createTestApp();

const post = (key: string, name: string) =>
  api.post("/v1/machines").set("Idempotency-Key", key).send(machineBody({ name }));

async function countMachines(name: string): Promise<number> {
  const rows = await db.selectFrom("machine").select("machine_id").where("name", "=", name).execute();
  return rows.length;
}

describe("Idempotency-Key", () => {
  it("answers the same request sent again as the first time", async () => {
    const first = await post("key-1", "replayed");
    const second = await post("key-1", "replayed");

    expect(first.status).toBe(201);
    expect(first.headers).not.toHaveProperty("idempotency-replayed");
    expect(second.status).toBe(201);
    expect(second.body).toEqual(first.body);
    expect(second.headers["idempotency-replayed"]).toBe("true");
    expect(await countMachines("replayed")).toBe(1);
  });

  it("takes the same members in another order and layout as the same request", async () => {
    await post("key-2", "reordered");
    const body = JSON.stringify(
      Object.fromEntries(Object.entries(machineBody({ name: "reordered" })).reverse()),
      null,
      4,
    );

    const response = await api
      .post("/v1/machines")
      .set("Idempotency-Key", "key-2")
      .set("content-type", "application/json")
      .send(body);

    expect(response.headers["idempotency-replayed"]).toBe("true");
  });

  it("returns 422 for a key that another request has used", async () => {
    await post("key-3", "first use");

    const response = await post("key-3", "second use");

    expect(response.status).toBe(422);
    expect(response.body).toMatchObject({ type: "urn:onsize:problem:idempotency-key-reused" });
    expect(await countMachines("second use")).toBe(0);
    expect((await api.post("/v1/gauges").set("Idempotency-Key", "key-3").send(gaugeBody())).status).toBe(422);
  });

  it("writes once when the same request comes many times at once", async () => {
    const responses = await Promise.all(Array.from({ length: 8 }, () => post("key-4", "at once")));

    const written = responses.filter(({ status }) => status === 201);
    const inFlight = responses.filter(({ status }) => status === 409);
    expect(written.length).toBeGreaterThan(0);
    expect(written.length + inFlight.length).toBe(8);
    expect(new Set(written.map(({ body }) => body.machine_id)).size).toBe(1);
    for (const { body } of inFlight) expect(body.type).toBe("urn:onsize:problem:idempotency-in-flight");
    expect(await countMachines("at once")).toBe(1);
  });

  it("does not keep a refusal: once the fault is mended the key may be used", async () => {
    await api.post("/v1/machines").send(machineBody({ name: "taken" }));

    expect((await post("key-5", "taken")).status).toBe(409);
    expect((await post("key-5", "not taken")).status).toBe(201);
  });

  it.each(["", " ", "with space", "ä", "x".repeat(256)])("returns 400 for the key %j", async (key) => {
    const response = await api
      .post("/v1/machines")
      .set("Idempotency-Key", Buffer.from(key).toString("latin1"))
      .send(machineBody({ name: "keyless" }));

    expect(response.status).toBe(400);
    expect(response.body.errors[0].pointer).toBe("idempotency-key");
  });

  it("is not needed", async () => {
    expect((await api.post("/v1/machines").send(machineBody({ name: "no key" }))).status).toBe(201);
  });
});

describe("deleteOldKeys", () => {
  it("forgets the keys older than 30 days and keeps the others", async () => {
    const days = { "aged-29": 29, "aged-31": 31 };
    for (const [key, age] of Object.entries(days)) {
      await post(key, key);
      const created_at = new Date(Date.now() - age * 86_400_000).toISOString();
      await db.updateTable("idempotency_key").set({ created_at }).where("key", "=", key).execute();
    }

    await deleteOldKeys(db);

    const kept = await db
      .selectFrom("idempotency_key")
      .select("key")
      .where("key", "like", "aged-%")
      .execute();
    expect(kept).toEqual([{ key: "aged-29" }]);
  });
});
