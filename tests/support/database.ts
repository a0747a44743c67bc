import { randomBytes } from "node:crypto";
import { sql } from "kysely";
import { afterAll, inject } from "vitest";
import { type Db, openDatabase } from "../../src/db/client.js";

export interface TestDatabase {
  readonly db: Db;
  readonly url: string;
}

/** A database of the test file's own, migrated; call it at the top level of the file. Dropped when the file is done. */
export async function createTestDatabase(): Promise<TestDatabase> {
  return createDatabase("onsize_template");
}

/** Likewise, but without any table. */
export async function createEmptyDatabase(): Promise<TestDatabase> {
  return createDatabase("template0");
}

async function createDatabase(template: string): Promise<TestDatabase> {
  const name = `test_${randomBytes(8).toString("hex")}`;
  const url = new URL(inject("serverUrl"));
  await administer(url.href, `create database ${name} template ${template}`);
  url.pathname = name;
  const db = openDatabase(url.href);
  afterAll(async () => {
    await db.destroy();
    await administer(inject("serverUrl"), `drop database ${name} with (force)`);
  });
  return { db, url: url.href };
}

async function administer(serverUrl: string, statement: string): Promise<void> {
  const admin = openDatabase(serverUrl, { max: 1 });
  await sql
    .raw(statement)
    .execute(admin)
    .finally(() => admin.destroy());
}
