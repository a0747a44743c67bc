import { buildApp } from "./app.js";
import type { Config } from "./config.js";
import { type Db, openDatabase } from "./db/client.js";
import { startEmbedded } from "./db/embedded.js";
import { migrate } from "./db/migrate.js";
import { deleteOldKeys } from "./http/idempotency.js";
import { KeyRing } from "./http/key-ring.js";

const patienceMs = 10_000; // for requests under way, and for listeners that never leave by themselves

export interface Log {
  info(message: string): void;
  warn(message: string): void;
}

export interface Service {
  readonly address: string;
  readonly db: Db;
  /** Finishes the requests under way, then closes the database; a second call waits for the first. */
  close(): Promise<void>;
}

/** The whole service: database, schema, HTTP. What was started is closed again when a later step fails. */
export async function startService(config: Config, { log = createLog(config) } = {}): Promise<Service> {
  const undo: (() => Promise<void>)[] = [];
  let closed: Promise<void> | undefined;
  const close = () => (closed ??= closeAll(undo));
  try {
    let url = config.databaseUrl;
    if (url === undefined) {
      const embedded = await startEmbedded({ dataDir: config.dataDir, log });
      undo.push(embedded.stop);
      url = embedded.url;
    }
    const db = openDatabase(url);
    undo.push(() => db.destroy());
    await migrate(db, log).catch(explainUnreachable);
    await deleteOldKeys(db);

    const app = buildApp({ db, config });
    undo.push(async () => {
      const impatience = setTimeout(() => app.server.closeAllConnections(), patienceMs);
      await app.close().finally(() => clearTimeout(impatience));
    });
    const { level } = app.log;
    app.log.level = "silent"; // its own word on the address comes late, and the address is to be the last line
    const address = await app.listen({ host: config.host, port: config.port }).catch(explainBusyPort);
    app.log.level = level;
    if (config.adminKey === undefined) log.info("without ONSIZE_ADMIN_KEY only this computer is served");
    if (!(await new KeyRing(db, config.adminKey).isLocked()))
      log.info("no key has been made: whoever uses this computer may do everything (npm run key makes keys)");
    return { address, db, close };
  } catch (error) {
    await close();
    throw error;
  }
}

/** On stderr, so that the address stays the last line of stdout. */
function createLog({ logLevel }: Config): Log {
  const say = (message: string) => void process.stderr.write(`${message}\n`);
  const hush = () => {};
  return {
    info: ["trace", "debug", "info"].includes(logLevel) ? say : hush,
    warn: ["error", "fatal", "silent"].includes(logLevel) ? hush : say,
  };
}

async function closeAll(undo: (() => Promise<void>)[]): Promise<void> {
  for (const step of undo.reverse()) await step();
}

function explainUnreachable(error: NodeJS.ErrnoException): never {
  const reasons: Record<string, string> = {
    ECONNREFUSED: "nothing answers at that address",
    ENOTFOUND: "its host name is unknown",
    "28P01": "user or password is wrong",
    "3D000": "that database does not exist",
  };
  const reason = reasons[error.code ?? ""];
  if (!reason) throw error;
  throw new Error(`DATABASE_URL leads to no database: ${reason}. Correct it, or start that server.`, {
    cause: error,
  });
}

function explainBusyPort(error: NodeJS.ErrnoException & { address?: string; port?: number }): never {
  if (error.code !== "EADDRINUSE") throw error;
  throw new Error(
    `PORT ${error.port} on ${error.address} is taken by another program: stop that one, or set PORT to another ` +
      "number (0 picks a free one).",
    { cause: error },
  );
}
