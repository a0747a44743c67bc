import { type LoopScore, type MakePolicy, runLoop } from "../support/shop-simulator/closed-loop.js";
import { everyReading, neverAdjust, ruleOfThumb } from "../support/shop-simulator/comparison-policies.js";
import { perfect } from "../support/shop-simulator/perfect-policy.js";
import { type Scenario, scenarioNamed, scenarios } from "../support/shop-simulator/scenario.js";
import { ServiceClient } from "../support/shop-simulator/service-client.js";
import { type ServicePolicy, servicePolicy } from "../support/shop-simulator/service-policy.js";
import { type Figures, figuresOf, goalLines, headline, line, meanGoalLines } from "./loop-table.js";
import { BenchServers } from "./servers.js";

/**
 * The service in a closed loop with the simulated shop, as an ordinary HTTP client sees it, beside policies that need no
 * service. LOOP_SCENARIOS: names, comma between; LOOP_SEEDS: 101..124 or 101,105; LOOP_PARALLEL: shops at once;
 * LOOP_ADDRESS: of a service that is running already; LOOP_ONLY_SERVICE: without the policies to compare with.
 */
const say = (text: string) => void process.stdout.write(`${text}\n`);
const tell = (text: string) => void process.stderr.write(`${text}\n`);

const {
  LOOP_SCENARIOS,
  LOOP_SEEDS = "101..124",
  LOOP_PARALLEL = "6",
  LOOP_ADDRESS,
  LOOP_ONLY_SERVICE,
} = process.env;
const chosen = LOOP_SCENARIOS ? LOOP_SCENARIOS.split(",").map(scenarioNamed) : scenarios;
const seeds = readSeeds(LOOP_SEEDS);
const comparisons: [string, MakePolicy][] = LOOP_ONLY_SERVICE
  ? []
  : [
      ["never adjust", neverAdjust],
      ["every reading", everyReading],
      ["rule of thumb", ruleOfThumb],
      ["perfect", perfect],
    ];

const servers = LOOP_ADDRESS ? undefined : await BenchServers.start(tell);
try {
  const address = LOOP_ADDRESS ?? (await servers!.launch("../../src/server.ts", "bench_loop"));
  process.exitCode = await compareAll(address);
} finally {
  await servers?.stop();
}

async function compareAll(address: string): Promise<number> {
  const jobs = chosen.flatMap((scenario) => seeds.map((seed) => ({ scenario, seed })));
  const scores = new Map<Scenario, LoopScore[]>(chosen.map((scenario) => [scenario, []]));
  const failures: string[] = [];
  const oddities = new Map<string, number>();
  const begun = performance.now();
  let done = 0;
  let requests = 0;
  const work = async () => {
    for (let job = jobs.shift(); job; job = jobs.shift()) {
      const { scenario, seed } = job;
      const client = new ServiceClient(address);
      const name = `${scenario.name} ${seed} ${Date.now().toString(36)}`;
      let asked: ServicePolicy | undefined;
      const policy = servicePolicy(client, name, (made) => {
        asked = made;
      });
      try {
        scores.get(scenario)!.push(await runLoop(scenario, seed, policy));
      } catch (error) {
        failures.push(`${scenario.name}, seed ${seed}: ${error instanceof Error ? error.message : error}`);
        tell(failures.at(-1)!);
      }
      for (const { what, piece } of asked?.oddities ?? []) {
        const kind = `${scenario.name}: ${what.replace(/[\d.+-]+/g, "#").slice(0, 160)}`;
        if (!oddities.has(kind)) tell(`${scenario.name}, seed ${seed}, piece ${piece}: ${what}`);
        oddities.set(kind, (oddities.get(kind) ?? 0) + 1);
      }
      requests += client.requests;
      const seconds = (performance.now() - begun) / 1000;
      tell(
        `${++done} of ${chosen.length * seeds.length} runs, ${scenario.name} ${seed}, ${seconds.toFixed(0)} s, ${(requests / seconds).toFixed(0)} requests/s`,
      );
    }
  };
  await Promise.all(Array.from({ length: Number(LOOP_PARALLEL) }, work));
  await print(scores);
  for (const failure of failures) say(`FAILED ${failure}`);
  for (const [kind, count] of oddities) say(`odd, ${count} times: ${kind}`);
  return failures.length > 0 ? 1 : 0;
}

async function print(scores: ReadonlyMap<Scenario, LoopScore[]>): Promise<void> {
  say(`${headline}; seeds ${LOOP_SEEDS}`);
  const all = new Map<string, Figures[]>();
  let missed = 0;
  for (const [scenario, ours] of scores) {
    if (ours.length === 0) continue;
    say(scenario.name);
    const keep = (policy: string, list: readonly LoopScore[]) => {
      const figures = figuresOf(list);
      say(line(policy, figures));
      if (!scenario.added) all.set(policy, [...(all.get(policy) ?? []), figures]);
      return figures;
    };
    for (const [policy, make] of comparisons) {
      const list: LoopScore[] = [];
      for (const seed of seeds) list.push(await runLoop(scenario, seed, make));
      keep(policy, list);
    }
    const goals = goalLines(scenario.name, keep("service", ours));
    say(`    ${goals.map(({ text }) => text).join("; ")}`);
    missed += goals.filter(({ met }) => !met).length;
  }
  const [ours, rule, best] = [all.get("service"), all.get("rule of thumb"), all.get("perfect")];
  if (ours && rule && best) {
    say(`mean over ${ours.length} of the first sixteen scenarios`);
    const goals = meanGoalLines(ours, rule, best);
    for (const { text } of goals) say(`    ${text}`);
    missed += goals.filter(({ met }) => !met).length;
  }
  say(`${missed} goals not met`);
}

function readSeeds(text: string): number[] {
  const range = /^(\d+)\.\.(\d+)$/.exec(text);
  if (!range) return text.split(",").map(Number);
  const [from, to] = [Number(range[1]), Number(range[2])];
  return Array.from({ length: to - from + 1 }, (_, i) => from + i);
}
