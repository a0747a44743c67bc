import { type ChildProcess, spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { request } from "node:http";
import { availableParallelism, loadavg } from "node:os";
import { Readable } from "node:stream";
import { fileURLToPath } from "node:url";
import { sql } from "kysely";
import { type Db, openDatabase } from "../../src/db/client.js";
import { startEmbedded } from "../../src/db/embedded.js";
import { createFolder, removeFolder } from "../support/folders.js";
import { type BenchShop as Shop, setUp } from "./running-shop.js";

/*
 * A long table of IMPORT_LINES lines (1,000,000) is read in: rate, peak memory of the service. Then once more into another
 * batch, with the service killed IMPORT_KILLS times (3) on the way and the import gone on with where it stood; both tables of
 * readings must be the same. Embedded Postgres with fsync on.
 */
const say = (line: string) => void process.stdout.write(`${line}\n`);
const lines = Number(process.env.IMPORT_LINES ?? 1_000_000);
const kills = Number(process.env.IMPORT_KILLS ?? 3);
const header = "Piece,Feature,Actual,Low,High,Result\n";

let child: ChildProcess | undefined;

export async function benchImport(): Promise<void> {
  const folder = await createFolder();
  const server = await startEmbedded({ dataDir: folder, log: { info: () => {}, warn: say } });
  try {
    const url = new URL(server.url);
    const admin = openDatabase(server.url, { max: 1 });
    await sql.raw("create database bench_import").execute(admin);
    await admin.destroy();
    url.pathname = "bench_import";
    await run(url.href);
  } finally {
    child?.kill("SIGTERM");
    await server.stop();
    await removeFolder(folder);
  }
}

/** The file from byte `offset` on; the same bytes each time. */
function* file(offset: number): Generator<Buffer> {
  let noise = 1;
  let at = 0;
  let held = header;
  for (let line = 0; line <= lines; line++) {
    if (line > 0) {
      const piece = Math.floor((line - 1) / 20) + 1;
      const feature = ((line - 1) % 20) + 1;
      noise = (noise * 16807) % 2147483647;
      const value =
        12 + (feature % 2 ? 1 : -1) * Math.min(0.006, piece * 1e-7) + (noise / 2147483647 - 0.5) * 0.012;
      held += `${piece},${feature},${value.toFixed(3)},11.970,12.030,pass\n`;
    }
    if (held.length < 64 * 1024 && line < lines) continue;
    const bytes = Buffer.from(held);
    held = "";
    if (at + bytes.length > offset) yield bytes.subarray(Math.max(0, offset - at));
    at += bytes.length;
  }
}

async function run(url: string): Promise<void> {
  let address = await start(url);
  const layout = await json(address, "/v1/log-layouts", {
    name: "long table",
    format: "table",
    unit: "mm",
    table: {
      separator: ",",
      columns: {
        piece: "Piece",
        characteristic: "Feature",
        value: "Actual",
        lower_limit: "Low",
        upper_limit: "High",
        result: "Result",
      },
    },
  });
  const db = openDatabase(url, { max: 2 });
  const straight = await setUp(address, "straight");
  const idle = await peakMb();
  const begun = performance.now();
  const query = (shop: Shop) => `?layout_id=${layout.layout_id}&batch_id=${shop.batchId}`;
  const whole = await send(address, `/v1/readings/imports${query(straight)}`, 0);
  const seconds = (performance.now() - begun) / 1000;
  say(
    `${lines} lines: ${whole.accepted} accepted in ${seconds.toFixed(1)} s, ${(lines / seconds).toFixed(0)}/s, peak memory ${Number(await peakMb()) - Number(idle)} MB above the ${idle} MB of the idle service (aim 150), load of the machine ${loadavg()[0]!.toFixed(1)} on ${availableParallelism()} cores`,
  );
  const copied = await copyRate(db, straight);
  say(
    `COPY of the same rows: ${copied.toFixed(0)}/s; ratio ${(lines / seconds / copied).toFixed(2)} (aim 0.25)`,
  );
  const again = performance.now();
  const second = await send(address, `/v1/readings/imports${query(straight)}`, 0);
  say(
    `the same file again: ${second.accepted} accepted, ${second.duplicates} duplicates, ${(lines / ((performance.now() - again) / 1000)).toFixed(0)}/s`,
  );

  const broken = await setUp(address, "broken");
  const killAt = Array.from({ length: kills }, (_, i) => ((seconds * (i + 0.7)) / (kills + 1)) * 1000);
  let importId: string | undefined;
  const since = performance.now();
  for (const ms of killAt) {
    const sent =
      importId === undefined
        ? send(address, `/v1/readings/imports${query(broken)}`, 0)
        : goOn(address, importId);
    const result = sent.then(
      () => "through",
      () => "broken off",
    );
    await new Promise((resolve) => setTimeout(resolve, Math.max(0, ms - (performance.now() - since))));
    child!.kill("SIGKILL");
    const outcome = await result;
    address = await start(url);
    importId ??= (await json(address, `/v1/imports?batch_id=${broken.batchId}`)).items[0].import_id;
    const { accepted, next_offset } = await json(address, `/v1/imports/${importId}`);
    say(`killed: ${outcome} at ${accepted} readings, byte ${next_offset}`);
  }
  const end =
    kills > 0
      ? await goOn(address, importId!)
      : await send(address, `/v1/readings/imports${query(broken)}`, 0);
  say(
    `gone on with: ${end.status}, ${end.accepted} accepted, ${end.duplicates} duplicates, peak RSS ${await peakMb()} MB`,
  );
  const [a, b] = [await digest(db, straight), await digest(db, broken)];
  say(a === b ? "both tables of readings are the same" : `NOT THE SAME: ${a} ${b}`);
  await db.destroy();
  if (a !== b) process.exitCode = 1;
}

/** Rows per second of COPY into a table with the same columns, checks and indexes: the same rows that were imported. */
async function copyRate(db: Db, { batchId }: Shop): Promise<number> {
  const file = await sql<{
    path: string;
  }>`select setting || '/rows.bin' as path from pg_settings where name = 'data_directory'`.execute(db);
  const path = sql.lit(file.rows[0]!.path);
  await sql`copy (select * from reading where batch_id = ${sql.lit(Number(batchId))}) to ${path} (format binary)`.execute(
    db,
  );
  await sql`create table copied (like reading including all)`.execute(db);
  const begun = performance.now();
  await sql`copy copied from ${path} (format binary)`.execute(db);
  const seconds = (performance.now() - begun) / 1000;
  await sql`drop table copied`.execute(db);
  return lines / seconds;
}

async function goOn(address: string, importId: string) {
  const { next_offset } = await json(address, `/v1/imports/${importId}`);
  return await send(address, `/v1/imports/${importId}/content?offset=${next_offset}&last=true`, next_offset);
}

/** Everything of the readings that is not by chance, ids of features by their order. */
async function digest(db: Db, shop: Shop): Promise<string> {
  const hash = createHash("sha256");
  for (let after = 0; ; ) {
    const { rows } = await sql<{ text: string; reading_no: number }>`
      select reading_no, concat_ws('|', feature.position, piece, cut, repeat, value_mm, verdict, disposition, probability_conforming,
        prior, flags, line, said) as text
      from reading join feature using (feature_id) left join import_reading using (batch_id, reading_no)
      where batch_id = ${shop.batchId} and reading_no > ${after} order by reading_no limit 20000
    `.execute(db);
    if (rows.length === 0) return hash.digest("hex");
    for (const { text } of rows) hash.update(`${text}\n`);
    after = rows.at(-1)!.reading_no;
  }
}

async function peakMb(): Promise<string> {
  const status = await readFile(`/proc/${child!.pid}/status`, "utf8");
  return (Number(/VmHWM:\s+(\d+)/.exec(status)?.[1]) / 1024).toFixed(0);
}

function start(url: string): Promise<string> {
  const path = fileURLToPath(new URL("../../src/server.ts", import.meta.url));
  const env = { ...process.env, DATABASE_URL: url, PORT: "0", LOG_LEVEL: "warn" };
  const profile = process.env.BENCH_PROFILE
    ? ["--cpu-prof", `--cpu-prof-dir=${process.env.BENCH_PROFILE}`]
    : [];
  child = spawn(process.execPath, [...profile, "--import", "tsx", path], {
    env,
    stdio: ["ignore", "pipe", "inherit"],
  });
  return new Promise((resolve) => {
    child!.stdout!.on("data", (chunk: Buffer) => {
      const address = /http:\/\/\S+/.exec(chunk.toString());
      if (address) resolve(address[0]);
    });
  });
}

// biome-ignore lint/suspicious/noExplicitAny: a bench, not a client
async function json(address: string, path: string, body?: object): Promise<any> {
  const response = await fetch(new URL(path, address), {
    method: body ? "POST" : "GET",
    ...(body && { headers: { "content-type": "application/json" }, body: JSON.stringify(body) }),
  });
  if (!response.ok) throw new Error(await response.text());
  return await response.json();
}

// biome-ignore lint/suspicious/noExplicitAny: a bench, not a client
function send(address: string, path: string, offset: number): Promise<any> {
  return new Promise((resolve, reject) => {
    const sent = request(
      new URL(path, address),
      { method: "POST", headers: { "content-type": "text/csv" } },
      (response) => {
        let text = "";
        response.on("data", (chunk: Buffer) => (text += chunk.toString()));
        response.on("end", () =>
          response.statusCode! < 300 ? resolve(JSON.parse(text)) : reject(new Error(text.slice(0, 500))),
        );
        response.on("error", reject);
      },
    );
    sent.on("error", reject);
    Readable.from(file(offset)).pipe(sent);
  });
}
