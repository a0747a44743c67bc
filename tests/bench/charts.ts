import { sql } from "kysely";
import { type Db, openDatabase } from "../../src/db/client.js";
import { createGet, createPost, median, timeOf } from "./load.js";
import { createReadings, setUp } from "./running-shop.js";
import { BenchServers } from "./servers.js";

const say = (line: string) => void process.stdout.write(`${line}\n`);
const posted = 1000;
const rounds = 15;
const goal = 1.5;

/** A chart of the latest 100 pieces of a batch with 1,000 readings and of one with 100,000, and what that comes to. */
export async function benchCharts(): Promise<void> {
  const servers = await BenchServers.start(say);
  try {
    const service = await servers.launch("../../src/server.ts", "charts");
    const db = openDatabase(servers.urlOf("charts"), { max: 1 });
    const get = createGet(service);
    const paths: string[] = [];
    for (const [name, readings] of [
      ["1000 readings", posted],
      ["100000 readings", 100 * posted],
    ] as const) {
      const shop = await setUp(service, name);
      const next = createReadings(shop);
      await createPost(service)(JSON.stringify(Array.from({ length: posted }, () => next(0))));
      if (readings > posted) await addLater(db, shop.batchId, readings);
      const { rows } = await sql<{ feature_id: string }>`
        select feature_id from reading where batch_id = ${shop.batchId} order by feature_id limit 1
      `.execute(db);
      paths.push(`/v1/features/${rows[0]!.feature_id}/`);
    }
    for (const question of [
      "chart?kind=individuals",
      "chart?kind=ewma",
      "chart?kind=innovations",
      "capability?last=200",
    ]) {
      const costs: number[][] = [[], []];
      for (let round = 0; round < rounds; round++)
        for (const [i, path] of paths.entries()) costs[i]!.push(await timeOf(() => get(path + question)));
      const [few, many] = costs.map(median) as [number, number];
      const ratio = many / few;
      say(
        `${question}: ${few.toFixed(1)} ms of 1000 readings, ${many.toFixed(1)} ms of 100000, ratio ${ratio.toFixed(2)}, goal ${goal}: ${ratio <= goal ? "met" : "NOT MET"}`,
      );
    }
    await db.destroy();
  } finally {
    await servers.stop();
  }
}

/** The readings that were posted, again and again on later pieces, with the states kept on the way. */
async function addLater(db: Db, batchId: string, readings: number): Promise<void> {
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
    update batch set reading_count = ${readings}, last_piece_cut = ${readings / 2}, version = version + 1
    where batch_id = ${batchId}
  `.execute(db);
  // A state is kept at every 16th measured piece, as it would have been.
  await sql`
    insert into block_checkpoint (batch_id, block_key, piece, state)
    select batch_id, block_key, piece + n * ${posted / 2}, state from block_checkpoint, generate_series(1, ${readings / posted - 1}::int) as n
    where batch_id = ${batchId}
  `.execute(db);
  await sql`vacuum analyze reading`.execute(db);
}
