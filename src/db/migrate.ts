import { readdir, readFile } from "node:fs/promises";
import { type Migration, type MigrationProvider, Migrator, sql } from "kysely";
import type { Db } from "./client.js";

interface Log {
  info(message: string): void;
}

const migrationsFolder = new URL("../../db/migrations/", import.meta.url);

/**
 * Brings the database to the newest schema; harmless when it is there already or when others do the same at once.
 * @throws {Error} if the database was written by a newer version, or a migration fails (that one leaves no trace)
 */
export async function migrate(db: Db, log: Log, folder: URL = migrationsFolder): Promise<void> {
  return migrateThrough(db, log, undefined, folder);
}

/** Likewise, but no further than the migration named `last`. */
export async function migrateThrough(
  db: Db,
  log: Log,
  last: string | undefined,
  folder: URL = migrationsFolder,
): Promise<void> {
  const all = await readMigrations(folder);
  const migrations = Object.fromEntries(
    Object.entries(all).filter(([name]) => last === undefined || name <= last),
  );
  const migrator = new Migrator({ db, provider: { getMigrations: async () => migrations } });
  // One step at a time, since the migrator's own `migrateToLatest` puts all files into one transaction.
  for (;;) {
    await refuseNewerDatabase(db, new Set(Object.keys(migrations)));
    const { error, results } = await migrator.migrateUp();
    const step = results?.[0];
    if (error) {
      const reason = error instanceof Error ? error.message : String(error);
      throw new Error(`Migration ${step ? `"${step.migrationName}" ` : ""}failed: ${reason}`, {
        cause: error,
      });
    }
    if (!step) return;
    log.info(`applied migration ${step.migrationName}`);
  }
}

async function readMigrations(folder: URL): ReturnType<MigrationProvider["getMigrations"]> {
  const migrations: Record<string, Migration> = {};
  for (const file of await readdir(folder)) {
    if (!file.endsWith(".sql")) continue;
    const text = await readFile(new URL(file, folder), "utf8");
    migrations[file.slice(0, -".sql".length)] = {
      up: async (db) => {
        await sql.raw(text).execute(db);
      },
    };
  }
  return migrations;
}

async function refuseNewerDatabase(db: Db, known: ReadonlySet<string>): Promise<void> {
  const exists = await sql<{
    found: boolean;
  }>`select to_regclass('kysely_migration') is not null as found`.execute(db);
  if (!exists.rows[0]?.found) return;
  const applied = await sql<{ name: string }>`select name from kysely_migration order by name`.execute(db);
  const unknown = applied.rows.find(({ name }) => !known.has(name));
  if (unknown) {
    throw new Error(
      `The database is newer than this version of onsize: it has the migration "${unknown.name}", which this version ` +
        "does not know. Start the version that wrote it, or a later one.",
    );
  }
}
