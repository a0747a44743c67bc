import { loadConfig } from "./config.js";
import { openDatabase } from "./db/client.js";
import { startEmbedded } from "./db/embedded.js";
import { migrate } from "./db/migrate.js";
import { runKeyCommand } from "./resources/keys/command.js";

const say = (message: string) => void process.stderr.write(`${message}\n`);
const undo: (() => Promise<unknown>)[] = [];
let status = 0;
try {
  const { databaseUrl, dataDir } = loadConfig({ ...process.env, HOST: "127.0.0.1" });
  const log = { info: () => {}, warn: say };
  let url = databaseUrl;
  if (url === undefined) {
    const embedded = await startEmbedded({ dataDir, log });
    undo.push(embedded.stop);
    url = embedded.url;
  }
  const db = openDatabase(url);
  undo.push(() => db.destroy());
  await migrate(db, log);
  process.stdout.write(`${await runKeyCommand(db, process.argv.slice(2))}\n`);
} catch (error) {
  say(`onsize key: ${error instanceof Error ? error.message : String(error)}`);
  status = 1;
}
for (const step of undo.reverse()) await step();
process.exit(status);
