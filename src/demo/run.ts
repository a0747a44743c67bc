import { join } from "node:path";
import pg from "pg";
import { type Config, loadConfig } from "../config.js";
import { startEmbedded } from "../db/embedded.js";
import { startService } from "../service.js";
import { Client } from "./client.js";
import { LiveShift } from "./live-shift.js";
import { tellStory } from "./story.js";
import { Teller } from "./tell.js";

/** One demo at a time on a data folder. */
const demoLock = 730_118;
const database = "demo";

const undo: (() => Promise<unknown>)[] = [];
const log = {
  info: () => {},
  warn: (message: string) => void process.stderr.write(`${message}\n`),
};

/** The whole demo until `interrupted`; what it started is stopped again. @returns the exit code */
export async function runDemo(interrupted: AbortSignal): Promise<number> {
  return play(interrupted)
    .catch((error) => (interrupted.aborted ? 0 : explain(error)))
    .finally(closeAll);
}

async function play(interrupted: AbortSignal): Promise<number> {
  const tell = createTeller();
  tell.line("Starting the service on a database of the demo's own ...");
  const config = readConfig();
  const databaseUrl = await createDatabase(join(config.dataDir, "demo"));
  if (interrupted.aborted) return 0;
  const service = await listen({ ...config, databaseUrl }, tell);
  if (interrupted.aborted) return 0;
  const { address } = service;
  await tellStory(address, tell, { key: config.adminKey, signal: interrupted });
  tell.line();
  if (process.argv.includes("--once")) return 0;
  tell.line(`The service goes on at  ${address}, with the page for the people at the machines`);
  tell.line(`Its documentation is at ${address}/docs`);
  tell.say(
    "On mill 2 a simulated shift goes on, a piece every few seconds; advice stands a while before it is followed, so that you may answer it first at the page.",
  );
  tell.line("Stop it with Ctrl-C; the next demo begins with an empty shop.");
  const shift = await LiveShift.begin(new Client(address, { key: config.adminKey, signal: interrupted }));
  await shift.run(interrupted, { pieceMs: 5000, adviceMs: 12_000 }, log.warn);
  return 0;
}

function createTeller(): Teller {
  const hasColour = process.stdout.isTTY === true && !process.env.NO_COLOR;
  return new Teller((text) => void process.stdout.write(text), hasColour);
}

/** The settings of the service, but never its database: the demo has one of its own. */
function readConfig(): Config {
  const { DATABASE_URL, ...env } = process.env;
  return loadConfig({ ...env, LOG_LEVEL: env.LOG_LEVEL || "warn" });
}

/** An empty database, on a Postgres that the demo keeps apart from the shop's. */
async function createDatabase(dataDir: string): Promise<string> {
  const embedded = await startEmbedded({ dataDir, log });
  undo.push(embedded.stop);
  const admin = new pg.Client({ connectionString: embedded.url }); // holds the lock for as long as it lives
  admin.on("error", () => {});
  await admin.connect();
  undo.push(() => admin.end());
  const { rows } = await admin.query("select pg_try_advisory_lock($1) as free", [demoLock]);
  if (!rows[0].free) {
    throw new Error(
      `another demo runs on ${dataDir}: stop it with Ctrl-C, or set ONSIZE_DATA_DIR to another folder for this one.`,
    );
  }
  await admin.query(`drop database if exists ${database} with (force)`);
  await admin.query(`create database ${database}`);
  const url = new URL(embedded.url);
  url.pathname = database;
  return url.href;
}

/** On the port asked for; where nobody asked for one and the usual one is taken, on a free one. */
async function listen(config: Config, tell: Teller) {
  const start = async (port: number) => {
    const service = await startService({ ...config, port }, { log });
    undo.push(service.close);
    return service;
  };
  try {
    return await start(config.port);
  } catch (error) {
    const cause = error instanceof Error ? (error.cause as NodeJS.ErrnoException | undefined) : undefined;
    if (process.env.PORT || cause?.code !== "EADDRINUSE") throw error;
    tell.line(`Port ${config.port} is taken by another program, so the demo takes a free one.`);
    return start(0);
  }
}

function explain(error: unknown): number {
  const message = error instanceof Error ? error.message || String(error) : String(error);
  process.stderr.write(`\nonsize demo: ${message}\n`);
  return 1;
}

async function closeAll(): Promise<void> {
  for (const step of undo.reverse()) {
    await step().catch((error) => process.stderr.write(`onsize demo: ${error}\n`));
  }
}
