import { startEmbedded } from "../../src/db/embedded.js";

// A service reduced to its database, as a process of its own that tests can kill.
const [dataDir = ""] = process.argv.slice(2);
const say = (line: string) => process.stdout.write(`${line}\n`);
const embedded = await startEmbedded({ dataDir, log: { info: say, warn: say } });
process.on("SIGINT", () => say("interrupted"));
process.on("SIGTERM", async () => {
  await embedded.stop();
  process.exit(0);
});
say(embedded.url);
