import { readFile, stat, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { gunzipSync, gzipSync } from "node:zlib";
import { sql } from "kysely";
import { afterAll, describe, expect, it } from "vitest";
import { buildApp } from "../../src/app.js";
import type { Db } from "../../src/db/client.js";
import { openDatabase } from "../../src/db/client.js";
import { dumpSchema } from "../../src/db/dump.js";
import { restoreBackup } from "../../src/db/restore-backup.js";
import { writeBackup } from "../../src/db/write-backup.js";
import { createTestApp } from "../support/app.js";
import { createEmptyDatabase } from "../support/database.js";
import { createFolder, removeFolder } from "../support/folders.js";
import { runningBatch } from "../support/running-batch.js";

const { api, db, url } = await createTestApp();
const folder = await createFolder();
afterAll(() => removeFolder(folder));

async function tables(of: Db): Promise<string[]> {
  const { rows } = await sql<{ name: string }>`select relname as name from pg_class
    where relnamespace = 'public'::regnamespace and relkind in ('r', 'p') and not relispartition
      and relname not in ('upkeep', 'kysely_migration', 'kysely_migration_lock') order by 1`.execute(of);
  return rows.map(({ name }) => name);
}

/** Every row of every table as text. */
async function contents(of: Db): Promise<Record<string, string[]>> {
  const entries: [string, string[]][] = [];
  for (const table of await tables(of)) {
    const { rows } = await sql<{
      row: string;
    }>`select t::text as row from ${sql.table(table)} t order by 1`.execute(of);
    entries.push([table, rows.map(({ row }) => row)]);
  }
  return Object.fromEntries(entries);
}

async function shopWithHistory() {
  const shop = await runningBatch(api);
  for (let piece = 1; piece <= 12; piece++) {
    await shop.read(piece, (12 + 0.004 * piece).toFixed(3), {
      taken_by: 'Zoë\\t "N" \\N',
      serial: `S-${piece}`,
    });
  }
  return shop;
}

describe("a backup", () => {
  it("restores every row of every table, and the service goes on from there", async () => {
    const shop = await shopWithHistory();
    const file = join(folder, "whole");
    const { db: fresh, url: freshUrl } = await createEmptyDatabase();

    const written = await writeBackup(url, file);
    const restored = await restoreBackup(freshUrl, file);

    expect(written.reading).toBeGreaterThanOrEqual(12);
    expect(restored).toEqual(written);
    expect(await contents(fresh)).toEqual(await contents(db));
    expect(await dumpSchema(fresh)).toBe(await dumpSchema(db));
    expect((await stat(file)).mode & 0o077).toBe(0);

    const app = buildApp({ db: fresh, config: { logLevel: "silent", adminKey: undefined } });
    const payload = shop.reading(13, "12.05");
    const there = await app.inject({ method: "POST", url: "/v1/readings", payload });
    const here = await api.post("/v1/readings").send(payload);
    const machine = { name: "next", kind: "mill", unit: "mm", least_increment: 0.001, largest_change: 0.2 };
    const next = await app.inject({ method: "POST", url: "/v1/machines", payload: machine });
    await app.close();

    expect(there.statusCode).toBe(201);
    expect(there.json().readings[0].verdict).toBe(here.body.readings[0].verdict);
    expect(there.json().next).toEqual(here.body.next);
    expect(next.statusCode).toBe(201);
  });

  it("is taken of one moment while readings come in", async () => {
    const shop = await runningBatch(api);
    const posts = (async () => {
      for (let piece = 1; piece <= 60; piece++) await shop.read(piece, "12.001");
    })();
    const file = join(folder, "moment");
    await writeBackup(url, file);
    await posts;
    const { db: fresh, url: freshUrl } = await createEmptyDatabase();
    await restoreBackup(freshUrl, file);

    const { rows } = await sql<{ readings: string; counted: number }>`
      select (select count(*) from reading where batch_id = ${shop.batch.batch_id}) as readings, reading_count as counted
      from batch where batch_id = ${shop.batch.batch_id}`.execute(fresh);
    expect(rows[0]?.counted).toBe(Number(rows[0]?.readings));
  });

  it("tells when the last one was taken", async () => {
    const before = Date.now();
    await writeBackup(url, join(folder, "told"));
    const { text } = await api.get("/metrics");

    const at = Number(/^onsize_last_backup_timestamp_seconds (\S+)$/m.exec(text)?.[1]);
    expect(at * 1000).toBeGreaterThanOrEqual(before - 5);
  });

  it("is never written over", async () => {
    const file = join(folder, "there");
    await writeFile(file, "mine");

    await expect(writeBackup(url, file)).rejects.toThrow(/exists already/);
    expect(await readFile(file, "utf8")).toBe("mine");
  });

  it("is refused of a database that is not ours", async () => {
    const { url: empty } = await createEmptyDatabase();
    await expect(writeBackup(empty, join(folder, "none"))).rejects.toThrow(/nothing of onsize/);
  });
});

describe("restoring", () => {
  it.each([
    ["cut short", (packed: Buffer) => packed.subarray(0, packed.length / 2), /is not whole/],
    [
      "without its end",
      (packed: Buffer) => {
        const text = gunzipSync(packed);
        return gzipSync(text.subarray(0, text.lastIndexOf("end ")));
      },
      /is not whole/,
    ],
    [
      "changed by one digit",
      (packed: Buffer) => {
        const text = gunzipSync(packed);
        const at = text.indexOf("12.004");
        text[at + 5] = "5".charCodeAt(0);
        return gzipSync(text);
      },
      /is not whole/,
    ],
    ["of something else", () => gzipSync("id,name\n"), /no backup that this version can read/],
    ["that is not packed", () => Buffer.from("onsize backup 1 {}\n"), /is not whole/],
    [
      "of a newer version",
      (packed: Buffer) =>
        gzipSync(
          gunzipSync(packed)
            .toString("latin1")
            .replace(/"migration":"\d{4}/, '"migration":"9999'),
          { level: 1 },
        ),
      /newer version/,
    ],
  ])("refuses a file %s, and leaves nothing behind", async (_, damage, message) => {
    await shopWithHistory();
    const whole = join(folder, `whole-${crypto.randomUUID()}`);
    await writeBackup(url, whole);
    const file = `${whole}-damaged`;
    await writeFile(file, damage(await readFile(whole)));
    const { db: fresh, url: freshUrl } = await createEmptyDatabase();

    await expect(restoreBackup(freshUrl, file)).rejects.toThrow(message);

    expect(Object.values(await contents(fresh)).flat()).toEqual([]);
    await restoreBackup(freshUrl, whole);
    expect(await contents(fresh)).toEqual(await contents(db));
  });

  it("writes over nothing", async () => {
    await runningBatch(api);
    const file = join(folder, "over");
    await writeBackup(url, file);

    await expect(restoreBackup(url, file)).rejects.toThrow(/not empty/);
  });

  it("says that a file is not there", async () => {
    const { url: empty } = await createEmptyDatabase();
    await expect(restoreBackup(empty, join(folder, "nowhere"))).rejects.toThrow(/nowhere/);
    const untouched = openDatabase(empty, { max: 1 });
    expect(await tables(untouched)).toEqual([]);
    await untouched.destroy();
  });
});
