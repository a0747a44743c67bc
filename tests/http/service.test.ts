import { sql } from "kysely";
import { describe, expect, it, vi } from "vitest";
import { buildApp } from "../../src/app.js";
import { openDatabase } from "../../src/db/client.js";
import { createTestApp } from "../support/app.js";

const { api } = await createTestApp();

describe("GET /healthz and /readyz", () => {
  it("answer ok", async () => {
    expect((await api.get("/healthz")).body).toEqual({ status: "ok" });
    expect((await api.get("/readyz")).body).toEqual({ status: "ok" });
  });

  it("tell a service that runs from one that reaches its database", async () => {
    const db = openDatabase("postgres://nobody@127.0.0.1:1/nothing");
    const app = buildApp({ db, config: { logLevel: "silent", adminKey: undefined } });

    const health = await app.inject("/healthz");
    const readiness = await app.inject("/readyz");
    await app.close();
    await db.destroy();

    expect(health.statusCode).toBe(200);
    expect(readiness.statusCode).toBe(503);
    expect(readiness.headers).toMatchObject({
      "retry-after": "1",
      "content-type": expect.stringMatching("problem"),
    });
    expect(readiness.json()).toMatchObject({ type: "urn:onsize:problem:unavailable" });
  });
});

describe("GET /readyz", () => {
  it("is ready only where the database can be written to", async () => {
    const { app, db: writable, url } = await createTestApp();
    await app.close();
    await sql`alter role current_user in database ${sql.id(new URL(url).pathname.slice(1))} set default_transaction_read_only = on`.execute(
      writable,
    );
    const db = openDatabase(url);
    const readOnly = buildApp({ db, config: { logLevel: "silent", adminKey: undefined } });

    const health = await readOnly.inject("/healthz");
    const readiness = await readOnly.inject("/readyz");
    await readOnly.close();
    await db.destroy();

    expect(health.statusCode).toBe(200);
    expect(readiness.statusCode).toBe(503);
    expect(readiness.json().detail).toContain("cannot write to its database");
  });

  it("writes once for many who ask at once", async () => {
    const { api: asked, db } = await createTestApp();
    const written = () =>
      sql<{ n: string }>`select n_tup_upd as n from pg_stat_user_tables where relname = 'upkeep'`;
    await Promise.all(Array.from({ length: 20 }, () => asked.get("/readyz").expect(200)));
    await sql`select pg_stat_force_next_flush()`.execute(db);

    await vi.waitFor(async () => expect((await written().execute(db)).rows).toEqual([{ n: "1" }]), 5000);
  });
});

describe("GET /docs", () => {
  it("shows the contract without any outside address", async () => {
    const page = await api.get("/docs/");
    const settings = await api.get("/docs/static/swagger-initializer.js");

    expect(page.status).toBe(200);
    expect(settings.status).toBe(200);
    expect(page.text).not.toMatch(/(src|href)="(https?:)?\/\//);
    expect(settings.text).toMatch(/const config = .*"validatorUrl":null/);
  });
});

describe("every answer", () => {
  it("carries an id that the log has too", async () => {
    expect((await api.get("/healthz")).headers["request-id"]).toMatch(/^[0-9a-f-]{36}$/);
    expect((await api.get("/nowhere")).headers["request-id"]).toMatch(/^[0-9a-f-]{36}$/);
  });
});
