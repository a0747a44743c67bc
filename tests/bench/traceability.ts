import { sql } from "kysely";
import { type Db, openDatabase } from "../../src/db/client.js";
import { createGet, median, timeOf } from "./load.js";
import { setUp } from "./running-shop.js";
import { BenchServers } from "./servers.js";

const say = (line: string) => void process.stdout.write(`${line}\n`);
const sizes = [30, 3000];
const rounds = 50;
const goal = 1.3;

/** What it costs to ask which pieces were cut with a value of a register, early in the life of a machine and late. */
export async function benchTraceability(): Promise<void> {
  const servers = await BenchServers.start(say);
  try {
    const running = [];
    for (const batches of sizes) {
      const database = `trace_${batches}`;
      const service = await servers.launch("../../src/server.ts", database);
      const shop = await setUp(service, "trace");
      const db = openDatabase(servers.urlOf(database), { max: 1 });
      await addBatches(db, shop.batchId, batches);
      const { rows } = await sql<{
        register_id: string;
      }>`select min(register_id)::text as register_id from register`.execute(db);
      await db.destroy();
      running.push({
        batches,
        get: createGet(service),
        path: `/v1/registers/${rows[0]!.register_id}/pieces`,
      });
    }
    for (const [what, query] of [
      ["all values", ""],
      ["a value that most batches began with", "?value=0"],
      ["a value of one batch", "?value=-0.777"],
    ] as const) {
      const costs = running.map(() => [] as number[]);
      for (let round = 0; round < rounds; round++) {
        for (const [i, { get, path }] of running.entries())
          costs[i]!.push(await timeOf(() => get(path + query)));
      }
      const [few, many] = costs.map(median) as [number, number];
      say(
        `pieces of a register, ${what}: ${few.toFixed(1)} ms after ${sizes[0]} batches, ${many.toFixed(1)} ms after ${sizes[1]}: ratio ${(many / few).toFixed(2)}, goal ${goal}: ${many <= goal * few ? "met" : "NOT MET"}`,
      );
    }
  } finally {
    await servers.stop();
  }
}

/** Batches like the first one, each with ten entries of every register; one value occurs in the middle one only. */
async function addBatches(db: Db, batchId: string, batches: number): Promise<void> {
  const { rows } = await sql<{ list: string; shown: string }>`
    select string_agg(quote_ident(column_name), ', ') as list,
      string_agg(case column_name when 'name' then 'name || n' when 'last_piece_cut' then '100'
        when 'closed_at' then 'now()' else quote_ident(column_name) end, ', ') as shown
    from information_schema.columns
    where table_schema = 'public' and table_name = 'batch' and column_name <> 'batch_id'
  `.execute(db);
  await sql`
    insert into batch (${sql.raw(rows[0]!.list)}) select ${sql.raw(rows[0]!.shown)} from batch, generate_series(2, ${batches}::int) as n
    where batch_id = ${batchId}
  `.execute(db);
  await sql`
    insert into register_entry (register_id, batch_id, from_piece, from_cut, value_mm, origin, reason)
    select register_id, batch_id, n * 9, 1, case when n = 5 and batch_id = (select max(batch_id) / 2 from batch) then -0.777
      else -0.001 * n end, 'person', 'bench' from register, batch, generate_series(1, 10) as n
  `.execute(db);
  await sql`vacuum analyze`.execute(db);
}
