import { sql } from "kysely";
import { type Db, openDatabase } from "../../src/db/client.js";
import { createGet, createPost, median, timeOf } from "./load.js";
import { createReadings, setUp } from "./running-shop.js";
import { BenchServers } from "./servers.js";

const say = (line: string) => void process.stdout.write(`${line}\n`);
const posted = 1000;
const readings = 100_000;
const rounds = 5;

/** What it costs to ask for the holds of a batch with 100,000 readings of two features, of which some failed or all. */
export async function benchHolds(): Promise<void> {
  const servers = await BenchServers.start(say);
  try {
    const service = await servers.launch("../../src/server.ts", "holds");
    const db = openDatabase(servers.urlOf("holds"), { max: 1 });
    for (const [name, failing, goal] of [
      ["1 in 1000 failing", "piece % 1000 = 500", 100],
      ["1 in 100 failing", "piece % 100 = 50", 300],
      ["every second one failing", "piece % 2 = 0", 3000],
      ["all failing", "true", 1000],
    ] as const) {
      const shop = await setUp(service, name);
      const next = createReadings(shop);
      await createPost(service)(JSON.stringify(Array.from({ length: posted }, () => next(0))));
      await addLater(db, shop.batchId, failing);
      const get = createGet(service);
      const costs: number[] = [];
      for (let round = 0; round < rounds; round++)
        costs.push(await timeOf(() => get(`/v1/batches/${shop.batchId}/holds`)));
      const cost = median(costs);
      say(
        `holds of ${readings} readings, ${name}: ${cost.toFixed(0)} ms, goal ${goal}: ${cost <= goal ? "met" : "NOT MET"}`,
      );
    }
    await db.destroy();
  } finally {
    await servers.stop();
  }
}

/** The readings that were posted again and again on later pieces, and some of all of them as they are kept where they fail. */
async function addLater(db: Db, batchId: string, failing: string): Promise<void> {
  const { rows } = await sql<{ list: string; shown: string }>`
    select string_agg(quote_ident(column_name), ', ') as list,
      string_agg(case column_name when 'reading_no' then ${`reading_no + n * ${posted}`}
        when 'piece' then ${`piece + n * ${posted / 2}`} else quote_ident(column_name) end, ', ') as shown
    from information_schema.columns where table_schema = 'public' and table_name = 'reading'
  `.execute(db);
  const [list, shown] = [sql.raw(rows[0]!.list), sql.raw(rows[0]!.shown)];
  await sql`
    insert into reading (${list}) select ${shown} from reading, generate_series(1, ${readings / posted - 1}::int) as n
    where batch_id = ${batchId}
  `.execute(db);
  await sql`
    update reading set value_mm = 12.05, verdict = 'nonconforming', disposition = 'rework', fails = true, proves = false
    where batch_id = ${batchId} and ${sql.raw(failing)}
  `.execute(db);
  await sql`
    update batch set reading_count = ${readings}, last_piece_cut = ${readings / 2}, version = version + 1
    where batch_id = ${batchId}
  `.execute(db);
  await sql`vacuum analyze reading`.execute(db);
}
