import { createHash } from "node:crypto";
import { once } from "node:events";
import { createWriteStream } from "node:fs";
import { access, open, rename, rm } from "node:fs/promises";
import { finished, pipeline } from "node:stream/promises";
import { createGzip } from "node:zlib";
import pg from "pg";
import { to as copyTo } from "pg-copy-streams";
import {
  type BackupEnd,
  type BackupHead,
  type BackupTable,
  endMark,
  endOfRows,
  mark,
  tableMark,
} from "./backup-format.js";

const largestChunk = 1 << 16;

/**
 * Writes all that the database holds at one moment into `file`, while services go on working with it. The file has its name
 * only when it is whole and on the disk.
 * @returns how many rows of each table it holds
 * @throws {Error} if there is a file of that name, or the database is none of onsize
 */
export async function writeBackup(url: string, file: string): Promise<Record<string, number>> {
  await refuseExisting(file);
  const client = new pg.Client({ connectionString: url, application_name: "onsize backup" });
  await client.connect();
  const draft = `${file}.part`;
  try {
    await client.query("begin isolation level repeatable read");
    const head = await readHead(client);
    const rows = await writeFile(client, head, draft);
    await rename(draft, file);
    await client.query("commit");
    await client.query("update upkeep set backed_up_at = $1", [head.taken_at]);
    return rows;
  } catch (error) {
    await rm(draft, { force: true });
    throw error;
  } finally {
    await client.end();
  }
}

async function refuseExisting(file: string): Promise<void> {
  const exists = await access(file).then(
    () => true,
    () => false,
  );
  if (exists)
    throw new Error(`${file} exists already, and a backup is never written over: choose another name.`);
}

async function readHead(client: pg.Client): Promise<BackupHead> {
  const known = await client.query<{ known: boolean }>(
    "select to_regclass('kysely_migration') is not null as known",
  );
  if (!known.rows[0]?.known) throw new Error("This database holds nothing of onsize: check DATABASE_URL.");
  const { rows } = await client.query<BackupHead>(`
    select
      to_char(clock_timestamp() at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"') as taken_at,
      (select max(name) from kysely_migration) as migration,
      array(select substring(pg_get_expr(relpartbound, oid) from 'FROM \\(''?(-?\\d+)''?\\)')
        from pg_class where relispartition and relkind = 'r' order by 1) as partitions,
      (select coalesce(json_object_agg(sequencename, coalesce(last_value, 0)::text), '{}')
        from pg_sequences where schemaname = 'public') as sequences`);
  return rows[0]!;
}

async function listTables(client: pg.Client): Promise<BackupTable[]> {
  const { rows } = await client.query<BackupTable>(`
    select c.relname as table, array_agg(a.attname::text order by a.attnum) as columns
    from pg_class c join pg_attribute a on a.attrelid = c.oid
    where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p') and not c.relispartition
      and c.relname not like 'kysely\\_%' and a.attnum > 0 and not a.attisdropped and a.attgenerated = ''
    group by c.relname order by c.relname collate "C"`);
  return rows;
}

async function writeFile(
  client: pg.Client,
  head: BackupHead,
  draft: string,
): Promise<Record<string, number>> {
  const hash = createHash("sha256");
  const gzip = createGzip();
  const written = pipeline(gzip, createWriteStream(draft, { mode: 0o600 }));
  written.catch(() => {}); // told at the end, or by the next write
  const say = async (chunk: string | Buffer) => {
    hash.update(chunk);
    if (!gzip.write(chunk)) await Promise.race([once(gzip, "drain"), written]);
  };
  const counts: Record<string, number> = {};
  await say(`${mark}${JSON.stringify(head)}\n`);
  for (const { table, columns } of await listTables(client)) {
    await say(`${tableMark}${JSON.stringify({ table, columns } satisfies BackupTable)}\n`);
    const names = columns.map((name) => pg.escapeIdentifier(name)).join(", ");
    const rows = client.query(
      copyTo(`copy (select ${names} from ${pg.escapeIdentifier(table)}) to stdout`, {
        highWaterMark: largestChunk,
      }),
    );
    for await (const chunk of rows) await say(chunk as Buffer);
    counts[table] = rows.rowCount;
    await say(`${endOfRows}\n`);
  }
  const end: BackupEnd = { rows: counts, sha256: hash.digest("hex") };
  gzip.end(`${endMark}${JSON.stringify(end)}\n`);
  await finished(gzip);
  await written;
  const onDisk = await open(draft, "r");
  await onDisk.sync().finally(() => onDisk.close());
  return counts;
}
