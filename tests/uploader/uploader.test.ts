import { type ChildProcess, spawn } from "node:child_process";
import { appendFile, mkdir, readdir, readFile, rename, stat, truncate, writeFile } from "node:fs/promises";
import { createServer } from "node:net";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, afterEach, describe, expect, it } from "vitest";
import { bundleUploader } from "../../.bundle.mjs";
import { readSettings } from "../../src/uploader/settings.js";
import { createTestDatabase } from "../support/database.js";
import { createFolder, removeFolder } from "../support/folders.js";

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract in the tests of each resource
type Answer = any;

const { url } = await createTestDatabase();
const port = await freePort();
const address = `http://127.0.0.1:${port}`;
const children = new Set<ChildProcess>();
const folders: string[] = [];
let shops = 0;

let service = await startService();
afterEach(() => Promise.all([...children].filter((child) => child !== service).map(kill)));
afterAll(async () => {
  await Promise.all([...children].map(kill));
  await Promise.all(folders.map(removeFolder));
});

function freePort(): Promise<number> {
  return new Promise((resolve) => {
    const probe = createServer().listen(0, "127.0.0.1", () => {
      const { port: free } = probe.address() as { port: number };
      probe.close(() => resolve(free));
    });
  });
}

function launch(program: string, args: string[], env: object, limit = ""): ChildProcess {
  const path = fileURLToPath(new URL(`../../src/${program}`, import.meta.url));
  const command = [process.execPath, "--import", "tsx", path, ...args].map((word) => `'${word}'`).join(" ");
  const child = spawn("bash", ["-c", `${limit} exec ${command}`], {
    env: { ...process.env, ...env },
    stdio: ["ignore", "pipe", "pipe"],
  });
  children.add(child);
  child.once("exit", () => children.delete(child));
  return child;
}

function kill(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return Promise.resolve();
  const ended = new Promise<void>((resolve) => child.once("exit", () => resolve()));
  child.kill("SIGKILL");
  return ended;
}

async function startService(): Promise<ChildProcess> {
  const child = launch("server.ts", [], { DATABASE_URL: url, PORT: String(port), LOG_LEVEL: "error" });
  await new Promise<void>((resolve, reject) => {
    child.once("exit", (code) => reject(new Error(`the service ended with ${code}`)));
    child.stdout!.on("data", (chunk: Buffer) => /http:/.test(chunk.toString()) && resolve());
  });
  return child;
}

interface Upload {
  child: ChildProcess;
  said: () => string;
  ended: Promise<number | null>;
}

function upload(args: string[], limit = ""): Upload {
  const child = launch("uploader/main.ts", ["--to", address, "--poll", "0.1", ...args], {}, limit);
  let text = "";
  for (const stream of [child.stdout!, child.stderr!])
    stream.on("data", (chunk: Buffer) => (text += chunk.toString()));
  const ended = new Promise<number | null>((resolve) => child.once("exit", resolve));
  return { child, said: () => text, ended };
}

async function post(path: string, body: object): Promise<Answer> {
  const response = await fetch(new URL(path, address), {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(body),
  });
  if (!response.ok) throw new Error(await response.text());
  return await response.json();
}
const get = async (path: string): Promise<Answer> => (await fetch(new URL(path, address))).json();

/** A batch, a layout of a table for it, and a folder with a log. */
async function setUp() {
  const name = `uploader-${++shops}`;
  const machine = await post("/v1/machines", {
    name,
    kind: "mill",
    unit: "mm",
    least_increment: 0.001,
    largest_change: 0.2,
  });
  const gauge = await post("/v1/gauges", { name, kind: "micrometer", unit: "mm", resolution: 0.001 });
  const part = await post("/v1/parts", {
    number: name,
    revision: "A",
    unit: "mm",
    features: [
      {
        characteristic: "1",
        kind: "external",
        nominal: "12",
        lower_deviation: -0.03,
        upper_deviation: 0.03,
        gauge_id: gauge.gauge_id,
      },
    ],
  });
  const batch = await post("/v1/batches", { name, part_id: part.part_id, machine_id: machine.machine_id });
  await post("/v1/log-layouts", {
    name,
    format: "table",
    unit: "mm",
    constants: { characteristic: "1" },
    table: { separator: ",", columns: { piece: "Piece", value: "Actual" } },
  });
  const folder = await createFolder();
  folders.push(folder);
  const log = join(folder, "probe.csv");
  await writeFile(log, "Piece,Actual\n");
  const state = join(folder, "state");
  return { batch, folder, log, state, args: ["--layout", name, "--batch", name, "--state", state] };
}

const line = (piece: number) => `${piece},12.00${piece % 10}\n`;

async function pieces(batchId: string): Promise<number[]> {
  const found: number[] = [];
  for (let cursor = ""; ; ) {
    const page = await get(`/v1/readings?batch_id=${batchId}&limit=500${cursor}`);
    found.push(...page.items.map(({ piece }: Answer) => piece));
    if (page.next_cursor === null) return found.sort((a, b) => a - b);
    cursor = `&cursor=${page.next_cursor}`;
  }
}

const upTo = (last: number) => Array.from({ length: last }, (_, i) => i + 1);

async function until(what: () => Promise<boolean> | boolean, seconds = 30): Promise<void> {
  for (const end = Date.now() + seconds * 1000; Date.now() < end; ) {
    if (await what()) return;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  throw new Error(`it did not come about: ${what}`);
}
const untilRead = (batchId: string, count: number) =>
  until(async () => (await pieces(batchId)).length >= count);

/** How far the place of the log that is followed says that it was spooled. */
async function notedInSpool(state: string): Promise<number> {
  const name = (await readdir(state)).find((one) => /^[0-9a-f]+\.json$/.test(one));
  const text = name && (await readFile(join(state, name), "utf8").catch(() => ""));
  return text ? ((JSON.parse(text) as { spool?: { to: number } }).spool?.to ?? 0) : 0;
}

describe("onsize-upload", () => {
  it("follows a log as it grows, and waits for a line that is not whole", { timeout: 60_000 }, async () => {
    const { batch, log, args } = await setUp();
    const { said } = upload([log, ...args]);

    await appendFile(log, `${line(1)}${line(2)}3,12.0`);
    await untilRead(batch.batch_id, 2);
    await new Promise((resolve) => setTimeout(resolve, 500));
    expect(await pieces(batch.batch_id)).toEqual([1, 2]);
    await appendFile(log, "03\nx,12.001\n");
    await untilRead(batch.batch_id, 3);

    await until(() => said().includes("1 lines refused"));
    expect(said()).toContain("x is no number");
    expect(await pieces(batch.batch_id)).toEqual([1, 2, 3]);
  });

  it("gives each reading once when it is killed again and again while the log grows", {
    timeout: 120_000,
  }, async () => {
    const { batch, log, args } = await setUp();
    let written = 0;
    const writing = setInterval(() => {
      const lines = Array.from({ length: 7 }, () => line(++written)).join("");
      void appendFile(log, lines);
    }, 50);

    for (let round = 0; round < 4; round++) {
      const { child } = upload([log, ...args]);
      await new Promise((resolve) => setTimeout(resolve, 1200 + 300 * round));
      await kill(child);
    }
    clearInterval(writing);
    await new Promise((resolve) => setTimeout(resolve, 200));
    const end = upload([log, ...args, "--once"]);

    expect(await end.ended).toBe(0);
    expect(written).toBeGreaterThan(200);
    expect(await pieces(batch.batch_id)).toEqual(upTo(written));
  });

  it("gives each reading once when the service is killed in the middle and comes back", {
    timeout: 120_000,
  }, async () => {
    const { batch, log, args } = await setUp();
    const { said } = upload([log, ...args]);
    let written = 0;
    const writing = setInterval(() => {
      void appendFile(log, Array.from({ length: 40 }, () => line(++written)).join(""));
    }, 50);

    for (let round = 0; round < 3; round++) {
      await new Promise((resolve) => setTimeout(resolve, 700));
      await kill(service);
      await new Promise((resolve) => setTimeout(resolve, 300));
      service = await startService();
    }
    clearInterval(writing);
    await untilRead(batch.batch_id, written);

    expect(said()).toContain("It is tried again.");
    expect(await pieces(batch.batch_id)).toEqual(upTo(written));
  });

  it("reads a log to its end that is put aside and begun anew, also while it is not running", {
    timeout: 60_000,
  }, async () => {
    const { batch, folder, log, args } = await setUp();
    const first = upload([log, ...args]);
    await appendFile(log, upTo(5).map(line).join(""));
    await untilRead(batch.batch_id, 5);

    await appendFile(log, "6,12.006\n7,12.007"); // no end of the last line: nothing comes behind it
    await rename(log, join(folder, "probe.1"));
    await writeFile(log, `Piece,Actual\n${line(8)}`);
    await untilRead(batch.batch_id, 8);
    await kill(first.child);
    await appendFile(log, line(9) + line(10));
    await rename(log, join(folder, "probe.2"));
    await writeFile(log, `Piece,Actual\n${line(11)}`);
    const second = upload([log, ...args]);
    await untilRead(batch.batch_id, 11);
    await kill(second.child);

    expect(await pieces(batch.batch_id)).toEqual(upTo(11));
  });

  it("reads a log from its beginning that was emptied and written again", { timeout: 60_000 }, async () => {
    const { batch, log, args } = await setUp();
    upload([log, ...args]);
    await appendFile(log, upTo(20).map(line).join(""));
    await untilRead(batch.batch_id, 20);

    await truncate(log, 0);
    await writeFile(log, `Piece,Actual\n${line(20)}${line(21)}`);
    await untilRead(batch.batch_id, 21);

    expect(await pieces(batch.batch_id)).toEqual(upTo(21));
  });

  it("loses and doubles nothing where its place can't be noted, as on a full disk", {
    timeout: 60_000,
  }, async () => {
    const { batch, log, state, args } = await setUp();
    await appendFile(log, upTo(30).map(line).join(""));

    const full = upload([log, ...args], "ulimit -f 0;");
    await untilRead(batch.batch_id, 30);
    await until(() => full.said().includes("its place can't be noted"));
    await kill(full.child);
    await appendFile(log, line(31));
    const again = upload([log, ...args, "--once"]);

    expect(await again.ended).toBe(0);
    expect(again.said()).toContain("30 were there already");
    expect(await pieces(batch.batch_id)).toEqual(upTo(31));
    expect((await stat(state)).isDirectory()).toBe(true);
  });

  it("reads every file of a folder to its end and stops, and what has grown the next time", {
    timeout: 60_000,
  }, async () => {
    const { batch, folder, args } = await setUp();
    const reports = join(folder, "reports");
    const refused = join(folder, "refused.csv");
    await mkdir(reports);
    await writeFile(join(reports, "a.csv"), `Piece,Actual\n${line(1)}2,12.002`);
    await writeFile(join(reports, "b.csv"), `Piece,Actual\n3,=oops\n${line(4)}`);
    await writeFile(join(reports, "c.txt"), "not for us");
    const options = [reports, ...args, "--once", "--ending", ".csv", "--refused", refused];

    expect(await upload(options).ended).toBe(0);
    expect(await pieces(batch.batch_id)).toEqual([1, 2, 4]);
    expect(await readFile(refused, "utf8")).toMatch(/^b\.csv,\d+,2,"3,=oops",/);
    await appendFile(join(reports, "b.csv"), line(5));
    expect(await upload(options).ended).toBe(0);
    expect(await pieces(batch.batch_id)).toEqual([1, 2, 4, 5]);
  });

  it("says in a dry run what would be read, and keeps nothing", { timeout: 60_000 }, async () => {
    const { batch, log, args, state } = await setUp();
    await appendFile(log, `${line(1)}x,y\n`);

    const dry = upload([log, ...args, "--dry-run"]);

    expect(await dry.ended).toBe(0);
    expect(dry.said()).toContain("1 readings taken, 1 lines refused");
    expect(await pieces(batch.batch_id)).toEqual([]);
    await expect(stat(state)).rejects.toThrow();
  });

  it.each([
    [["--layout", "x"], "Say which file"],
    [["a", "b", "--layout", "x"], "second one"],
    [["a"], "--layout is the name"],
    [["a", "--layout", "x", "--poll", "soon"], "give seconds"],
    [["a", "--layout", "x", "--colour", "red"], "--colour"],
  ])("says what is wrong with %j", async (args, message) => {
    const wrong = upload(args);

    expect(await wrong.ended).toBe(2);
    expect(wrong.said()).toContain(message);
    expect(wrong.said()).toContain("onsize-upload PATH");
  });

  it("spools what the service does not take while it is away, and loses nothing of a log emptied meanwhile", {
    timeout: 60_000,
  }, async () => {
    const { batch, log, state, args } = await setUp();
    const first = upload([log, ...args]);
    await appendFile(log, upTo(5).map(line).join(""));
    await untilRead(batch.batch_id, 5);

    await kill(service);
    await appendFile(log, [6, 7, 8].map(line).join(""));
    await until(async () => (await readdir(state)).some((name) => name.endsWith(".spool")));
    await until(async () => (await notedInSpool(state)) >= (await stat(log)).size);
    await truncate(log, 0);
    await writeFile(log, `Piece,Actual\n${line(9)}`);
    await until(() => first.said().includes("is in the spool"));
    // What was not copied yet nobody can get back: emptied only once the place says that the line is in the spool.
    await until(async () => (await notedInSpool(state)) >= `Piece,Actual\n${line(9)}`.length);
    await truncate(log, 0); // emptied once more, and the machine's computer goes off
    await writeFile(log, `Piece,Actual\n${line(10)}${line(11)}`);
    await until(async () => (await readdir(state)).filter((name) => name.includes(".gone-")).length >= 4);
    await kill(first.child);
    service = await startService();
    const again = upload([log, ...args]);
    await untilRead(batch.batch_id, 11);

    expect(await pieces(batch.batch_id)).toEqual(upTo(11));
    await until(async () => (await readdir(state)).every((name) => !/spool|gone/.test(name)));
    expect(again.said()).not.toContain("by hand");
  });

  it("is one file that runs by itself, by one configuration file", { timeout: 60_000 }, async () => {
    const { batch, folder, log, args } = await setUp();
    await appendFile(log, upTo(3).map(line).join(""));
    const program = join(folder, "onsize-upload.mjs");
    bundleUploader(program);
    const name = args[1]!;
    const config = join(folder, "onsize-upload.json");
    await writeFile(
      config,
      JSON.stringify({ path: "probe.csv", to: address, layout: name, batch: name, once: true }),
    );
    const start = (more: string[], env: object = {}) => run(program, ["--config", config, ...more], env);

    const checked = await start(["--check"]);
    const unknown = await start(["--check", "--layout", "no such layout"]);
    const sent = await start([]);

    expect(checked.code, checked.said).toBe(0);
    expect(checked.said.match(/: good: /g)).toHaveLength(3);
    expect(unknown.code).toBe(1);
    expect(unknown.said).toMatch(/service: NOT GOOD: .*no such layout/);
    expect(sent.code, sent.said).toBe(0);
    expect(await pieces(batch.batch_id)).toEqual(upTo(3));
  });

  it.each([
    ["{", "can't be read as JSON"],
    ["[]", "one JSON object"],
    ['{"layot": "x"}', '"layot" is not known here'],
    ['{"once": "yes"}', '"once" has to be true or false'],
    ['{"layout": ["x"]}', '"layout" has to be a text or a number'],
    ['{"path": "x", "to": "ftp://x", "layout": "x"}', "--to is the service's address"],
  ])("says what is wrong with a configuration such as %s", async (text, message) => {
    const folder = await createFolder();
    folders.push(folder);
    const config = join(folder, "config.json");
    await writeFile(config, text);

    expect(() => readSettings(["--config", config], {})).toThrow(message);
  });
});

function run(program: string, args: string[], env: object): Promise<{ code: number | null; said: string }> {
  const child = spawn(process.execPath, [program, ...args], { env: { ...process.env, ...env } });
  let said = "";
  for (const stream of [child.stdout, child.stderr])
    stream.on("data", (chunk: Buffer) => (said += chunk.toString()));
  return new Promise((resolve) => child.once("exit", (code) => resolve({ code, said })));
}
