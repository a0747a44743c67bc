import { createPost, measure, median, timeOf } from "./load.js";
import { createReadings, setUp, toolCount } from "./running-shop.js";
import { BenchServers } from "./servers.js";

const say = (line: string) => void process.stdout.write(`${line}\n`);
const seconds = Number(process.env.BENCH_SECONDS ?? 4);
const rounds = 3;
const clients = 10;
const arrayLength = 1000;

/**
 * Readings per second of the service, verdict, state, correction and check plan included, against a bare route that only
 * inserts the same rows; both on one embedded Postgres with fsync on, in turns, so that the ratio is of one run.
 */
export async function benchReadings(): Promise<void> {
  const servers = await BenchServers.start(say);
  try {
    const service = await servers.launch("../../src/server.ts", "bench_service");
    await run(service, await servers.launch("bare-server.ts", "bench_bare"));
    await compareAges(service);
  } finally {
    await servers.stop();
  }
}

async function run(service: string, bare: string): Promise<void> {
  const posts = { service: createPost(service), bare: createPost(bare) };
  const kinds = [
    {
      name: `single posts, ${clients} clients over ${toolCount} tools`,
      clients,
      tool: (client: number) => client % toolCount,
      length: 1,
    },
    { name: `single posts, ${clients} clients over one tool`, clients, tool: () => 0, length: 1 },
    { name: `arrays of ${arrayLength}, one client`, clients: 1, tool: () => 0, length: arrayLength },
    {
      name: `arrays of ${arrayLength}, three clients over three tools`,
      clients: 3,
      tool: (client: number) => client,
      length: arrayLength,
    },
  ];
  for (const [i, kind] of kinds.entries()) {
    const next = createReadings(await setUp(service, `bench-${i}`));
    const body = (client: number) => {
      const tool = kind.tool(client);
      const list = Array.from({ length: kind.length }, () => next(tool));
      return { body: JSON.stringify(kind.length === 1 ? list[0] : list), readings: kind.length };
    };
    const rates = { service: [] as number[], bare: [] as number[] };
    for (const who of ["service", "bare"] as const) await measure(posts[who], kind.clients, 1, body);
    for (let round = 0; round < rounds; round++) {
      for (const who of ["bare", "service"] as const)
        rates[who].push(await measure(posts[who], kind.clients, seconds, body));
    }
    const [ours, base] = [median(rates.service), median(rates.bare)];
    say(
      `${kind.name}: ${ours.toFixed(0)}/s against ${base.toFixed(0)}/s of the bare route: ratio ${(ours / base).toFixed(2)}`,
    );
  }
}

const readingsBefore = 100_000;
const timed = 200;

/** What one reading in cutting order costs early in the life of a tool and late: it must not grow with the history. */
async function compareAges(service: string): Promise<void> {
  const post = createPost(service);
  const old = createReadings(await setUp(service, "bench-old"));
  for (let posted = 0; posted < readingsBefore; posted += arrayLength)
    await post(JSON.stringify(Array.from({ length: arrayLength }, () => old(0))));
  const costs = { early: [] as number[], late: [] as number[] };
  for (let round = 0; round < rounds; round++) {
    const fresh = createReadings(await setUp(service, `bench-fresh-${round}`));
    for (let i = 0; i < 9; i++) await post(JSON.stringify(fresh(0)));
    // In turns, so that both meet the same moments of the machine.
    for (let i = 0; i < timed; i++) {
      costs.early.push(await timeOf(() => post(JSON.stringify(fresh(0)))));
      costs.late.push(await timeOf(() => post(JSON.stringify(old(0)))));
    }
  }
  const [early, late] = [median(costs.early), median(costs.late)];
  const ratio = late / early;
  say(
    `one reading in order, from the 10th on ${early.toFixed(2)} ms, after ${readingsBefore} readings of its tool ${late.toFixed(2)} ms: ratio ${ratio.toFixed(2)}, goal 1.2: ${ratio <= 1.2 ? "met" : "NOT MET"}`,
  );
}
