import { sql } from "kysely";
import { type Db, openDatabase } from "../../src/db/client.js";
import { createGet, createPost, median, timeOf } from "./load.js";
import { type BenchShop, create, createReadings, setUp, toolCount } from "./running-shop.js";
import { BenchServers } from "./servers.js";

const say = (line: string) => void process.stdout.write(`${line}\n`);
const goal = 1.3;
const rounds = Number(process.env.BENCH_ROUNDS ?? 300);
const posted = 1000;
const history = 1_000_000;
const features = 2 * toolCount;

/**
 * What the check plan costs after a thousand readings and after a million: in the same batch, and in other batches of the
 * same part and machine. Asked while nothing has changed, and right after a reading.
 */
export async function benchChecks(): Promise<void> {
  const servers = await BenchServers.start(say);
  try {
    const service = "../../src/server.ts";
    const [few, many] = [await servers.launch(service, "few"), await servers.launch(service, "many")];
    const young = await runBatch(few, await setUp(few, "young"), 1);
    const old = await runBatch(many, await setUp(many, "old"), history / features - posted / features + 1);
    const db = openDatabase(servers.urlOf("many"), { max: 1 });
    await addEarlier(db, old.shop.batchId);
    await db.destroy();
    const next = await create(many, "/v1/batches", {
      name: "next",
      part_id: old.shop.partId,
      machine_id: old.shop.machineId,
    });
    const beside = await runBatch(many, { ...old.shop, batchId: next.batch_id }, 1);
    await compare(young, { "of its own": old, "of another batch of its part and machine": beside });
  } finally {
    await servers.stop();
  }
}

interface Running {
  shop: BenchShop;
  ask: () => Promise<string>;
  read: () => Promise<string>;
}

/** Posts the last thousand readings of a batch, from a piece on: every feature of each piece. */
async function runBatch(address: string, shop: BenchShop, firstPiece: number): Promise<Running> {
  const [post, get] = [createPost(address), createGet(address)];
  const create = createReadings(shop, firstPiece);
  let at = 0;
  const next = () => create((at++ >> 1) % toolCount);
  await post(JSON.stringify(Array.from({ length: posted }, next)));
  return {
    shop,
    ask: () => get(`/v1/batches/${shop.batchId}/checks`),
    read: () => post(JSON.stringify(next())),
  };
}

/** The pieces before those that were posted: the same readings again and again, with the states that were kept of them. */
async function addEarlier(db: Db, batchId: string): Promise<void> {
  const times = history / posted - 1;
  const pieces = posted / features;
  await sql`create temporary table earlier as select * from reading where batch_id = ${batchId}`.execute(db);
  const columns = await sql<{ list: string; shown: string }>`
    select string_agg(quote_ident(column_name), ', ') as list,
      string_agg(case column_name when 'reading_no' then 'reading_no + n * ${sql.raw(String(posted))}'
        when 'piece' then 'piece - n * ${sql.raw(String(pieces))}'
        when 'known_piece' then 'known_piece - n * ${sql.raw(String(pieces))}'
        when 'identity' then 'null' else quote_ident(column_name) end, ', ') as shown
    from information_schema.columns where table_schema = 'public' and table_name = 'reading'
  `.execute(db);
  const { list, shown } = columns.rows[0]!;
  await sql`
    insert into reading (${sql.raw(list)}) select ${sql.raw(shown)} from earlier, generate_series(1, ${times}::int) as n
  `.execute(db);
  await sql`
    insert into block_checkpoint (batch_id, block_key, piece, state)
    select batch_id, block_key, piece - n * ${pieces}::int, state from block_checkpoint, generate_series(1, ${times}::int) as n
    where batch_id = ${batchId}
  `.execute(db);
  await sql`update batch set reading_count = ${history}, version = version + 1 where batch_id = ${batchId}`.execute(
    db,
  );
  await sql`vacuum analyze`.execute(db);
}

async function compare(young: Running, old: Record<string, Running>): Promise<void> {
  const all = { young, ...old };
  for (const [when, before] of [
    ["while nothing has changed", (running: Running) => running.ask()],
    ["right after a reading", (running: Running) => running.read()],
  ] as const) {
    const costs = new Map(Object.keys(all).map((name) => [name, [] as number[]]));
    for (let round = 0; round < rounds; round++) {
      // In turns, so that all meet the same moments of the machine.
      for (const [name, running] of Object.entries(all)) {
        await before(running);
        costs.get(name)!.push(await timeOf(running.ask));
      }
    }
    const base = median(costs.get("young")!);
    for (const name of Object.keys(old)) {
      const cost = median(costs.get(name)!);
      const ratio = cost / base;
      say(
        `check plan ${when}: ${base.toFixed(2)} ms after ${posted} readings, ${cost.toFixed(2)} ms after ${history} ${name}: ratio ${ratio.toFixed(2)}, goal ${goal}: ${ratio <= goal ? "met" : "NOT MET"}`,
      );
    }
  }
}
