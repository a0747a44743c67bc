import { resolve } from "node:path";
import { loadConfig } from "../config.js";
import { startEmbedded } from "./embedded.js";

type Work = (url: string, file: string) => Promise<Record<string, number>>;

/** `npm run backup -- <file>` and its like: on the database that the service itself would use, while it runs or not. */
export async function runUpkeep(command: string, work: Work, done: string): Promise<void> {
  const say = (text: string) => void process.stderr.write(`${text}\n`);
  try {
    const [file, ...more] = process.argv.slice(2);
    if (file === undefined || more.length > 0) throw new Error(`name one file: npm run ${command} -- <file>`);
    const { databaseUrl, dataDir } = loadConfig(process.env);
    const embedded =
      databaseUrl === undefined
        ? await startEmbedded({ dataDir, log: { info: () => {}, warn: say } })
        : undefined;
    try {
      const rows = await work(databaseUrl ?? embedded!.url, resolve(file));
      for (const [table, count] of Object.entries(rows))
        if (count > 0) say(`${String(count).padStart(12)}  ${table}`);
      const total = Object.values(rows).reduce((sum, count) => sum + count, 0);
      process.stdout.write(`${total} rows ${done} ${resolve(file)}\n`);
    } finally {
      await embedded?.stop();
    }
    process.exit(0);
  } catch (error) {
    say(`onsize: ${error instanceof Error ? error.message || String(error) : String(error)}`);
    process.exit(1);
  }
}
