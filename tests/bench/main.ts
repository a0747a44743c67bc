import { type ChildProcess, spawn } from "node:child_process";
import { fileURLToPath } from "node:url";
import { sql } from "kysely";
import { openDatabase } from "../../src/db/client.js";
import { startEmbedded } from "../../src/db/embedded.js";
import { createFolder, removeFolder } from "../support/folders.js";
import { createPost, measure } from "./load.js";
import { type Shop, setUp, tools } from "./shop.js";

/**
 * Readings per second of the service, verdict, state, correction and check plan included, against a bare route that only
 * inserts the same rows; both on one embedded Postgres with fsync on, in turns, so that the ratio is of one run.
 */
const say = (line: string) => void process.stdout.write(`${line}\n`);
const seconds = Number(process.env.BENCH_SECONDS ?? 4);
const rounds = 3;
const clients = 10;
const arrayLength = 1000;

const folder = await createFolder();
const server = await startEmbedded({ dataDir: folder, log: { info: () => {}, warn: say } });
const children: ChildProcess[] = [];
try {
  const service = await start("../../src/server.ts", await createDatabase("bench_service"));
  const bare = await start("bare-server.ts", await createDatabase("bench_bare"));
  await run(service, bare);
} finally {
  for (const child of children) child.kill("SIGTERM");
  await server.stop();
  await removeFolder(folder);
}

async function createDatabase(name: string): Promise<string> {
  const admin = openDatabase(server.url, { max: 1 });
  await sql.raw(`create database ${name}`).execute(admin);
  await admin.destroy();
  const url = new URL(server.url);
  url.pathname = name;
  return url.href;
}

/** Starts a server of its own process; its last line of output is its address. */
function start(file: string, url: string): Promise<string> {
  const path = fileURLToPath(new URL(file, import.meta.url));
  const env = { ...process.env, DATABASE_URL: url, PORT: "0", LOG_LEVEL: "warn" };
  const child = spawn(
    process.execPath,
    [
      ...(process.env.BENCH_PROFILE ? ["--cpu-prof", "--cpu-prof-dir=/tmp/prof"] : []),
      "--import",
      "tsx",
      path,
      url,
    ],
    {
      env,
      stdio: ["ignore", "pipe", "inherit"],
    },
  );
  children.push(child);
  return new Promise((resolve, reject) => {
    child.on("exit", (code) => reject(new Error(`${file} ended with ${code}`)));
    child.stdout.on("data", (chunk: Buffer) => {
      const address = /http:\/\/\S+/.exec(chunk.toString());
      if (address) resolve(address[0]);
    });
  });
}

/** Readings in cutting order that scatter a little about a slowly wearing size. */
function createReadings(shop: Shop) {
  const counts = shop.features.map(() => 0);
  let noise = 1;
  return (tool: number) => {
    const at = counts[tool]!++;
    noise = (noise * 16807) % 2147483647;
    const piece = (at >> 1) + 1;
    const side = at % 2 === 0 ? 1 : -1;
    const value = 12 + side * Math.min(0.006, piece * 1e-7) + (noise / 2147483647 - 0.5) * 0.012;
    return {
      batch_id: shop.batchId,
      feature_id: shop.features[tool]![at % 2]!,
      piece,
      value: Number(value.toFixed(3)),
      unit: "mm",
      gauge_id: shop.gaugeId,
    };
  };
}

async function run(service: string, bare: string): Promise<void> {
  const posts = { service: createPost(service), bare: createPost(bare) };
  const kinds = [
    {
      name: `single posts, ${clients} clients over ${tools} tools`,
      clients,
      tool: (client: number) => client % tools,
      length: 1,
    },
    { name: `single posts, ${clients} clients over one tool`, clients, tool: () => 0, length: 1 },
    { name: `arrays of ${arrayLength}, one client`, clients: 1, tool: () => 0, length: arrayLength },
    {
      name: `arrays of ${arrayLength}, three clients over three tools`,
      clients: 3,
      tool: (client: number) => client,
      length: arrayLength,
    },
  ];
  for (const [i, kind] of kinds.entries()) {
    const next = createReadings(await setUp(service, `bench-${i}`));
    const body = (client: number) => {
      const tool = kind.tool(client);
      const list = Array.from({ length: kind.length }, () => next(tool));
      return { body: JSON.stringify(kind.length === 1 ? list[0] : list), readings: kind.length };
    };
    const rates = { service: [] as number[], bare: [] as number[] };
    for (const who of ["service", "bare"] as const) await measure(posts[who], kind.clients, 1, body);
    for (let round = 0; round < rounds; round++) {
      for (const who of ["bare", "service"] as const)
        rates[who].push(await measure(posts[who], kind.clients, seconds, body));
    }
    const median = (list: number[]) => [...list].sort((a, b) => a - b)[list.length >> 1]!;
    const [ours, base] = [median(rates.service), median(rates.bare)];
    say(
      `${kind.name}: ${ours.toFixed(0)}/s against ${base.toFixed(0)}/s of the bare route: ratio ${(ours / base).toFixed(2)}`,
    );
  }
}
