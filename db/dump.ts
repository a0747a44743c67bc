import { writeFile } from "node:fs/promises";
import { openDatabase } from "../src/db/client.js";
import { dumpSchema } from "../src/db/dump.js";
import { startEmbedded } from "../src/db/embedded.js";
import { migrate } from "../src/db/migrate.js";
import { createFolder, removeFolder } from "../tests/support/folders.js";

const log = { info: () => {}, warn: (message: string) => void process.stderr.write(`${message}\n`) };
const folder = await createFolder();
const server = await startEmbedded({ dataDir: folder, log });
const db = openDatabase(server.url);
try {
  await migrate(db, log);
  await writeFile(new URL("schema.sql", import.meta.url), await dumpSchema(db));
} finally {
  await db.destroy();
  await server.stop();
  await removeFolder(folder);
}
