import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { pipeline } from "node:stream/promises";
import { createGunzip, type Gunzip } from "node:zlib";
import pg from "pg";
import { from as copyFrom } from "pg-copy-streams";
import {
  type BackupEnd,
  type BackupHead,
  type BackupTable,
  endMark,
  endOfRows,
  mark,
  tableMark,
} from "./backup-format.js";
import { openDatabase } from "./client.js";
import { migrate, migrateThrough } from "./migrate.js";

const silent = { info: () => {} };
const newline = 0x0a;
const lastLine = Buffer.from(`\n${endOfRows}\n`);

/**
 * Brings the database to what a backup holds: all of it, or nothing. Then it is brought to the newest schema.
 * @returns how many rows of each table were restored
 * @throws {Error} if the database holds anything yet, or the file is no whole backup, or of a newer version
 */
export async function restoreBackup(url: string, file: string): Promise<Record<string, number>> {
  const text = new BackupText(file);
  const head = readMarked<BackupHead>(await text.line(), mark);
  if (!head) throw new Error(`${file} is no backup that this version can read.`);
  const db = openDatabase(url, { max: 2 });
  const client = new pg.Client({ connectionString: url, application_name: "onsize restore" });
  await client.connect();
  try {
    await refuseUsed(client);
    await migrateThrough(db, silent, head.migration);
    await refuseNewer(client, head);
    await client.query("begin");
    const rows = await fill(client, head, text);
    await client.query("commit");
    await migrate(db, silent);
    await client.query("analyze");
    return rows;
  } finally {
    text.close();
    await client.end();
    await db.destroy();
  }
}

async function listTables(client: pg.Client): Promise<string[]> {
  const { rows } = await client.query<{ name: string }>(`
    select relname as name from pg_class
    where relnamespace = 'public'::regnamespace and relkind in ('r', 'p') and not relispartition
      and relname not like 'kysely\\_%'`);
  return rows.map(({ name }) => name);
}

/** Fresh tables may hold what migrations put there; a table that people or programs write to must be empty. */
async function refuseUsed(client: pg.Client): Promise<void> {
  for (const table of (await listTables(client)).filter((name) => name !== "upkeep")) {
    const { rowCount } = await client.query(`select from ${pg.escapeIdentifier(table)} limit 1`);
    if (rowCount)
      throw new Error(
        `The database is not empty (table ${table}), and nothing in it is ever written over: restore into a new one, ` +
          "by DATABASE_URL or ONSIZE_DATA_DIR.",
      );
  }
}

async function refuseNewer(client: pg.Client, { migration }: BackupHead): Promise<void> {
  const { rows } = await client.query<{ newest: string }>("select max(name) as newest from kysely_migration");
  const newest = rows[0]?.newest ?? "";
  if (newest < migration)
    throw new Error(
      `The backup is of a newer version of onsize: it has the migration "${migration}", which this version does not know. ` +
        "Restore it with the version that wrote it, or a later one.",
    );
  if (newest > migration)
    throw new Error(
      `The database has been brought further (${newest}) than the backup is (${migration}): restore into a new one.`,
    );
}

async function fill(client: pg.Client, head: BackupHead, text: BackupText): Promise<Record<string, number>> {
  const tables = await listTables(client);
  const asItWas = await setRulesAside(client, tables);
  await client.query(`truncate ${tables.map((name) => pg.escapeIdentifier(name)).join(", ")}`);
  for (const low of head.partitions) await client.query("select ensure_reading_partition($1)", [low]);

  const counts: Record<string, number> = {};
  let digest = text.digest();
  let line = await text.line();
  for (; !line.startsWith(endMark); line = await text.line()) {
    const found = readMarked<BackupTable>(line, tableMark);
    if (!found) throw text.broken();
    const names = found.columns.map((name) => pg.escapeIdentifier(name)).join(", ");
    const rows = client.query(copyFrom(`copy ${pg.escapeIdentifier(found.table)} (${names}) from stdin`));
    await pipeline(text.rows(), rows);
    counts[found.table] = rows.rowCount;
    digest = text.digest();
  }
  const end = readMarked<BackupEnd>(line, endMark);
  if (end?.sha256 !== digest || JSON.stringify(end.rows) !== JSON.stringify(counts)) throw text.broken();
  for (const [name, last] of Object.entries(head.sequences)) {
    if (last !== "0") await client.query("select setval($1, $2)", [pg.escapeIdentifier(name), last]);
  }
  for (const statement of asItWas) await client.query(statement);
  return counts;
}

/** Rules between rows of several tables hold again, and are checked, when all rows are there. */
async function setRulesAside(client: pg.Client, tables: readonly string[]): Promise<string[]> {
  const { rows } = await client.query<{ table: string; name: string; rule: string }>(
    `select c.relname as table, o.conname as name, pg_get_constraintdef(o.oid) as rule
     from pg_constraint o join pg_class c on c.oid = o.conrelid
     where o.contype = 'f' and o.conparentid = 0 and c.relname = any($1)`,
    [tables],
  );
  const asItWas: string[] = [];
  for (const { table, name, rule } of rows) {
    const owner = `alter table ${pg.escapeIdentifier(table)}`;
    await client.query(`${owner} drop constraint ${pg.escapeIdentifier(name)}`);
    asItWas.push(`${owner} add constraint ${pg.escapeIdentifier(name)} ${rule}`);
  }
  for (const table of tables) {
    await client.query(`alter table ${pg.escapeIdentifier(table)} disable trigger user`);
    asItWas.push(`alter table ${pg.escapeIdentifier(table)} enable trigger user`);
  }
  return asItWas;
}

function readMarked<T>(line: string, wanted: string): T | undefined {
  if (!line.startsWith(wanted)) return undefined;
  try {
    return JSON.parse(line.slice(wanted.length)) as T;
  } catch {
    return undefined;
  }
}

/** The text of a backup as it is unpacked: lines of ours, and between them rows that are not ours to read. */
class BackupText {
  private readonly unpacked: Gunzip;
  private readonly chunks: AsyncIterator<Buffer>;
  private readonly hash = createHash("sha256");
  private rest: Buffer = Buffer.alloc(0);

  constructor(private readonly file: string) {
    this.unpacked = createGunzip();
    const source = createReadStream(file);
    source.on("error", (error) => this.unpacked.destroy(error));
    this.unpacked.on("close", () => source.destroy());
    source.pipe(this.unpacked);
    this.chunks = this.unpacked[Symbol.asyncIterator]();
  }

  /** The next line without its end. */
  async line(): Promise<string> {
    let at = this.rest.indexOf(newline);
    for (; at === -1; at = this.rest.indexOf(newline)) await this.more();
    return this.take(at + 1)
      .toString()
      .slice(0, -1);
  }

  /** All lines up to the one that ends them, many at a time. */
  async *rows(): AsyncGenerator<Buffer> {
    const onlyLine = lastLine.subarray(1);
    for (;;) {
      while (this.rest.indexOf(newline) === -1) await this.more();
      if (this.rest.subarray(0, onlyLine.length).equals(onlyLine)) break;
      const at = this.rest.indexOf(lastLine);
      yield this.take((at === -1 ? this.rest.lastIndexOf(newline) : at) + 1);
    }
    this.take(onlyLine.length);
  }

  /** Of all that was read so far. */
  digest(): string {
    return this.hash.copy().digest("hex");
  }

  broken(cause?: unknown): Error {
    return new Error(
      `${this.file} is not whole: it was cut short or changed since it was written. Nothing was restored; take an older backup.`,
      { cause },
    );
  }

  close(): void {
    this.unpacked.destroy();
  }

  private take(length: number): Buffer {
    const taken = this.rest.subarray(0, length);
    this.rest = this.rest.subarray(length);
    this.hash.update(taken);
    return taken;
  }

  private async more(): Promise<void> {
    const next = await this.chunks.next().catch((error: NodeJS.ErrnoException) => {
      throw error.code?.startsWith("Z_") ? this.broken(error) : error;
    });
    if (next.done) throw this.broken();
    this.rest = this.rest.length > 0 ? Buffer.concat([this.rest, next.value]) : next.value;
  }
}
