import { describe, expect, it } from "vitest";
import { goalsOf, meanGoals } from "../bench/loop-goals.js";
import { createTestApp } from "../support/app.js";
import { type LoopScore, runLoop } from "../support/shop-simulator/closed-loop.js";
import { scenarioNamed } from "../support/shop-simulator/scenario.js";
import { ServiceClient } from "../support/shop-simulator/service-client.js";
import { type ServicePolicy, servicePolicy } from "../support/shop-simulator/service-policy.js";

const { app } = await createTestApp();
const address = app.server.address();
const port = typeof address === "object" && address ? address.port : 0;

const seeds = [101, 102];

/**
 * The most bad pieces in a few hundred that a rate per 1000 still explains: mean + 3 standard deviations of a Poisson
 * number, and one more, since bad pieces come together (the goals are means of 24 seeds).
 */
function mostOf(per1000: number, pieces: number): number {
  const mean = (per1000 * pieces) / 1000;
  return mean + 3 * Math.sqrt(mean) + 1;
}

async function runAll(name: string) {
  const scores: LoopScore[] = [];
  const oddities: ServicePolicy["oddities"] = [];
  for (const seed of seeds) {
    const client = new ServiceClient(`http://127.0.0.1:${port}`);
    let asked: ServicePolicy | undefined;
    const policy = servicePolicy(client, `${name} ${seed}`, (made) => {
      asked = made;
    });
    scores.push(await runLoop(scenarioNamed(name), seed, policy));
    oddities.push(...(asked?.oddities ?? []));
  }
  const sum = (pick: (score: LoopScore) => number) => scores.reduce((total, score) => total + pick(score), 0);
  return { sum, oddities };
}

// Wear and warm-up on a mill, misreadings, a slot between two tools, first pieces that may be cut again.
describe.each(["mill-medium", "misread-gauges", "slot-two-tools", "recut-first-piece"])(
  "a shop that does what the service says: %s",
  (name) => {
    it("makes few bad pieces, ships hardly any, measures little and looks at the setup for a reason", {
      timeout: 30_000,
    }, async () => {
      const { sum, oddities } = await runAll(name);

      const pieces = sum((score) => score.pieces);
      expect(sum((score) => score.outOfToleranceMade)).toBeLessThanOrEqual(
        mostOf(goalsOf(name).made!, pieces),
      );
      expect(sum((score) => score.outOfToleranceShipped)).toBeLessThanOrEqual(
        mostOf(goalsOf(name).shipped ?? meanGoals.shipped, pieces),
      );
      expect(sum((score) => score.perFull) / seeds.length).toBeLessThanOrEqual(
        goalsOf(name).share ?? meanGoals.share,
      );
      expect(sum((score) => score.falseInspections)).toBeLessThanOrEqual(1);
      expect(oddities).toEqual([]);
    });
  },
);
