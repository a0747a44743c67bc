import { type ChildProcess, spawn } from "node:child_process";
import { randomUUID } from "node:crypto";
import { once } from "node:events";
import { access } from "node:fs/promises";
import { type AddressInfo, createServer } from "node:net";
import { join } from "node:path";
import { setTimeout as delay } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { sql } from "kysely";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { openDatabase } from "../src/db/client.js";
import { createEmptyDatabase } from "./support/database.js";
import { createFolder, removeFolder } from "./support/folders.js";

const program = fileURLToPath(new URL("../src/server.ts", import.meta.url));
const { url: databaseUrl } = await createEmptyDatabase();
let dataDir = "";
const running: Run[] = [];

interface Run {
  child: ChildProcess;
  stdout: string;
  stderr: string;
  ended: Promise<unknown>;
}

function run(settings: NodeJS.ProcessEnv): Run {
  const { PATH, HOME, TMPDIR } = process.env;
  const child = spawn(process.execPath, ["--import", "tsx", program], {
    env: { PATH, HOME, TMPDIR, PORT: "0", ONSIZE_DATA_DIR: dataDir, ...settings },
    stdio: ["ignore", "pipe", "pipe"],
  });
  const process_: Run = { child, stdout: "", stderr: "", ended: once(child, "exit") };
  child.stdout.on("data", (text) => (process_.stdout += text));
  child.stderr.on("data", (text) => (process_.stderr += text));
  running.push(process_);
  return process_;
}

async function addressOf(service: Run): Promise<string> {
  while (service.child.exitCode === null && service.child.signalCode === null) {
    if (service.stdout.endsWith("\n")) return service.stdout.trimEnd();
    await delay(20);
  }
  throw new Error(service.stderr);
}

beforeAll(async () => {
  dataDir = await createFolder();
});
afterEach(async () => {
  for (const { child, ended } of running.splice(0)) {
    child.kill("SIGTERM");
    await ended;
  }
});
afterAll(() => removeFolder(dataDir));

describe("server", () => {
  it.each(["SIGINT", "SIGTERM"] as const)("serves with its own database until %s", async (signal) => {
    const service = run({});
    const address = await addressOf(service);
    expect(address).toMatch(/^http:\/\/127\.0\.0\.1:\d+$/);
    expect((await fetch(`${address}/readyz`)).status).toBe(200);

    service.child.kill(signal);
    await service.ended;

    expect(service.child.exitCode).toBe(0);
    await expect(fetch(`${address}/readyz`)).rejects.toThrow();
    expect(service.stderr).toContain("only this computer is served");
  });

  it("finishes what it took before it stops, and is ready no more", async () => {
    const service = run({ DATABASE_URL: databaseUrl, LOG_LEVEL: "warn" });
    const address = await addressOf(service);
    const db = openDatabase(databaseUrl);
    const blocker = await db.startTransaction().execute();
    await sql`lock table machine in access exclusive mode`.execute(blocker);
    const name = `mill ${randomUUID()}`;
    const posted = fetch(`${address}/v1/machines`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify({ name, kind: "mill", unit: "mm", least_increment: 0.001, largest_change: 0.2 }),
    });
    const waits = sql<{ waits: boolean }>`select exists(
      select from pg_locks where not granted and relation = 'machine'::regclass) as waits`;
    while (!(await waits.execute(db)).rows[0]?.waits) await delay(10);

    service.child.kill("SIGTERM");
    while (
      await fetch(`${address}/healthz`).then(
        ({ ok }) => ok,
        () => false,
      )
    )
      await delay(10);
    await blocker.commit().execute();

    expect((await posted).status).toBe(201);
    await service.ended;
    expect(service.child.exitCode).toBe(0);
    expect(await db.selectFrom("machine").select("name").where("name", "=", name).execute()).toEqual([
      { name },
    ]);
    await db.destroy();
  });

  it("starts again after it was killed", async () => {
    const killed = run({});
    await addressOf(killed);
    killed.child.kill("SIGKILL");
    await killed.ended;

    const address = await addressOf(run({}));

    expect((await fetch(`${address}/readyz`)).status).toBe(200);
  });

  it("uses the database that it is told", async () => {
    const address = await addressOf(run({ DATABASE_URL: databaseUrl, ONSIZE_DATA_DIR: "/proc/never-used" }));

    expect((await fetch(`${address}/readyz`)).status).toBe(200);
  });

  it("is told to stop while its database starts, and stops in order", async () => {
    const folder = await createFolder();
    const service = run({ ONSIZE_DATA_DIR: folder });
    const isThere = (name: string) =>
      access(join(folder, "postgres", name)).then(
        () => true,
        () => false,
      );
    while (!(await isThere("postmaster.pid"))) await delay(5);

    service.child.kill("SIGTERM");
    await service.ended;

    expect(service.child.exitCode).toBe(0);
    expect(await isThere("postmaster.pid")).toBe(false);
    await removeFolder(folder);
  });

  it.each([
    ["a wrong setting", { PORT: "eighty" }, 'onsize: PORT is "eighty": give a whole number from 0 to 65535'],
    [
      "an open address without a key",
      { HOST: "0.0.0.0" },
      'onsize: HOST is "0.0.0.0", which other computers',
    ],
    [
      "a database that is not there",
      { DATABASE_URL: "postgres://a:b@127.0.0.1:1/c" },
      "onsize: DATABASE_URL leads to no database: nothing answers at that address.",
    ],
    [
      "a database that does not exist",
      { DATABASE_URL: databaseUrl.replace(/test_\w+/, "nowhere") },
      "onsize: DATABASE_URL leads to no database: that database does not exist.",
    ],
  ])("ends with one clear line for %s", async (_, settings, line) => {
    const service = run(settings);
    await service.ended;

    expect(service.child.exitCode).toBe(1);
    expect(service.stderr.trimEnd()).not.toContain("\n");
    expect(service.stderr).toContain(line);
    expect(service.stdout).toBe("");
  });

  it("ends with one clear line for a port that is taken", async () => {
    const neighbour = createServer().listen(0, "127.0.0.1");
    await once(neighbour, "listening");
    const { port } = neighbour.address() as AddressInfo;

    const service = run({ PORT: String(port), DATABASE_URL: databaseUrl, LOG_LEVEL: "warn" });
    await service.ended;
    neighbour.close();

    expect(service.child.exitCode).toBe(1);
    expect(service.stderr).toBe(
      `onsize: PORT ${port} on 127.0.0.1 is taken by another program: stop that one, or set PORT to another number ` +
        "(0 picks a free one).\n",
    );
  });
});
