import { copyFile, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { sql } from "kysely";
import { afterAll, describe, expect, it } from "vitest";
import { openDatabase } from "../../src/db/client.js";
import { dumpSchema } from "../../src/db/dump.js";
import { migrate } from "../../src/db/migrate.js";
import { createEmptyDatabase } from "../support/database.js";

const migrations = new URL("../../db/migrations/", import.meta.url);
const schema = await readFile(new URL("../../db/schema.sql", import.meta.url), "utf8");
const names = (await readdir(migrations)).map((file) => file.replace(/\.sql$/, "")).sort();

const fromEmpty = await createEmptyDatabase();
const atOnce = await createEmptyDatabase();
const newer = await createEmptyDatabase();
const faulty = await createEmptyDatabase();
const older = await createEmptyDatabase();

const folder = await mkdtemp(join(tmpdir(), "onsize-migrations-"));
afterAll(() => rm(folder, { recursive: true }));

async function migrateAndListen(db = fromEmpty.db, from?: URL): Promise<string[]> {
  const words: string[] = [];
  await migrate(db, { info: (text) => void words.push(text) }, from);
  return words;
}

describe("migrate", () => {
  it("has files named NNNN-what-changes.sql, numbered without a gap", () => {
    expect(names.map((name) => name.replace(/-[a-z0-9-]+$/, ""))).toEqual(
      names.map((_, index) => String(index + 1).padStart(4, "0")),
    );
  });

  it("leads from an empty database to db/schema.sql, and a second time changes nothing", async () => {
    expect(await migrateAndListen()).toEqual(names.map((name) => `applied migration ${name}`));
    expect(await dumpSchema(fromEmpty.db)).toBe(schema);

    expect(await migrateAndListen()).toEqual([]);
    expect(await dumpSchema(fromEmpty.db)).toBe(schema);
  });

  it("applies each file once when several services start at once", async () => {
    const other = openDatabase(atOnce.url);

    const words = await Promise.all([
      migrateAndListen(atOnce.db),
      migrateAndListen(other),
      migrateAndListen(other),
    ]);
    await other.destroy();

    expect(words.flat().sort()).toEqual(names.map((name) => `applied migration ${name}`));
    expect(await dumpSchema(atOnce.db)).toBe(schema);
  });

  it("refuses a database that a newer version has written, naming the migration", async () => {
    await migrateAndListen(newer.db);
    await sql`insert into kysely_migration values ('9000-from-the-future', now()::text)`.execute(newer.db);

    await expect(migrateAndListen(newer.db)).rejects.toThrow(
      /newer than this version of onsize: .*"9000-from-the-future".* Start the version that wrote it/,
    );
  });

  it("0002 takes features from before for given by their limits", async () => {
    const first = await mkdtemp(join(folder, "first-"));
    await copyFile(new URL(`${names[0]}.sql`, migrations), join(first, `${names[0]}.sql`));
    await migrateAndListen(older.db, pathToFileURL(`${first}/`));
    await sql`
      insert into part (number, revision, unit, decision_rule) values ('P-1', 'A', 'mm', 'simple');
      insert into feature
        (part_id, position, characteristic, kind, nominal, nominal_mm, lower_limit_mm, target_mm, importance)
        values (1, 0, '1', 'length', '6', 6, 5.9, 6, 'ordinary')`.execute(older.db);

    await migrateAndListen(older.db);

    const { rows } = await sql`select limits_from, fit, general_tolerance, broken_edge from feature`.execute(
      older.db,
    );
    expect(rows).toEqual([{ limits_from: "limits", fit: null, general_tolerance: null, broken_edge: false }]);
  });

  it("undoes a file that fails, keeps those before it, and names it", async () => {
    for (const name of names) await copyFile(new URL(`${name}.sql`, migrations), join(folder, `${name}.sql`));
    await writeFile(join(folder, "9000-add-shift.sql"), "create table shift (name text); select 1 / 0;");

    await expect(migrateAndListen(faulty.db, pathToFileURL(`${folder}/`))).rejects.toThrow(
      'Migration "9000-add-shift" failed: division by zero',
    );

    expect(await dumpSchema(faulty.db)).toBe(schema);
    expect(await migrateAndListen(faulty.db)).toEqual([]);
  });
});
