import { loadConfig } from "../src/config.js";
import { openDatabase } from "../src/db/client.js";
import { startEmbedded } from "../src/db/embedded.js";
import { migrate } from "../src/db/migrate.js";

const say = (message: string) => void process.stdout.write(`${message}\n`);
const log = { info: say, warn: say };
const { databaseUrl, dataDir } = loadConfig(process.env);
const embedded = databaseUrl === undefined ? await startEmbedded({ dataDir, log }) : undefined;
const db = openDatabase(databaseUrl ?? embedded?.url ?? "");
try {
  await migrate(db, log);
} finally {
  await db.destroy();
  await embedded?.stop();
}
