import { sql } from "kysely";
import type { TestProject } from "vitest/node";
import { openDatabase } from "../../src/db/client.js";
import { startEmbedded } from "../../src/db/embedded.js";
import { migrate } from "../../src/db/migrate.js";
import { createFolder, removeFolder } from "./folders.js";

declare module "vitest" {
  interface ProvidedContext {
    serverUrl: string;
  }
}

const log = { info: () => {}, warn: (message: string) => void process.stderr.write(`${message}\n`) };

/** One Postgres per run, with one migrated template database that every test file clones. */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const folder = await createFolder();
  const overrides = ["fsync=off", "synchronous_commit=off", "full_page_writes=off", "max_connections=200"];
  const server = await startEmbedded({ dataDir: folder, log, overrides });

  const admin = openDatabase(server.url, { max: 1 });
  await sql`create database onsize_template`.execute(admin);
  await admin.destroy();
  const template = openDatabase(withDatabase(server.url, "onsize_template"));
  await migrate(template, log);
  await template.destroy();

  project.provide("serverUrl", server.url);
  return async () => {
    await server.stop();
    await removeFolder(folder);
  };
}

function withDatabase(serverUrl: string, name: string): string {
  const url = new URL(serverUrl);
  url.pathname = name;
  return url.href;
}
