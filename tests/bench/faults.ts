import { killAtRandom } from "../support/kill-rounds.js";

const rounds = Number(process.env.FAULT_ROUNDS ?? 100);
const seed = Number(process.env.FAULT_SEED ?? 1);

/** Goal: nothing lost, doubled, half written or decided otherwise in 100 kills. */
export async function benchFaults(): Promise<void> {
  const { kills, acknowledged, faults } = await killAtRandom(rounds, seed);
  process.stdout.write(
    `${kills.service} kills of the service and ${kills.database} of Postgres under load (seed ${seed}); ` +
      `${acknowledged.requests} requests with ${acknowledged.readings} readings acknowledged; faults (goal 0): ${faults.length}\n`,
  );
  for (const fault of faults) process.stdout.write(`  ${fault}\n`);
}
