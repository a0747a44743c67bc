import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { type MakePolicy, runLoop } from "../support/shop-simulator/closed-loop.js";
import { everyReading, neverAdjust, ruleOfThumb } from "../support/shop-simulator/comparison-policies.js";
import { type Scenario, scenarios } from "../support/shop-simulator/scenario.js";
import { ShopSimulator } from "../support/shop-simulator/simulator.js";

/** Taken once from the simulator as it was written, with Node 20, before it was ported. */
const checkNumbers = JSON.parse(
  readFileSync(new URL("../support/shop-simulator/check-numbers.json", import.meta.url), "utf8"),
) as { seeds: number[]; scenarios: Record<string, { shop: string[]; loop: string[] }> };

function digest(text: string): string {
  return createHash("sha256").update(text).digest("hex").slice(0, 16);
}

/** Everything that a shop which follows a fixed script does and sees, to 1e-9 mm. */
function scriptedShop(scenario: Scenario, seed: number): string {
  const sim = new ShopSimulator(scenario, seed);
  const seen: string[] = [];
  const note = (...items: (string | number | boolean)[]) =>
    seen.push(items.map((item) => (typeof item === "number" ? item.toFixed(9) : String(item))).join(" "));
  const measureAll = (k: number) => {
    for (const f of sim.featuresOf(k)) {
      for (const wanted of f.gauges ?? [f.gauge]) {
        const { gauge, reading } = sim.measure(f.id, { piece: sim.takenOut(k), gauge: wanted });
        note(k, f.id, gauge, reading);
      }
    }
  };
  const { registers, seats } = scenario;
  for (let k = 1; k <= scenario.pieces; k++) {
    for (const t of scenario.tools)
      if (sim.toolAge(t.id) >= t.plannedLife) sim.changeTool(t.id, { [registers[0]!.id]: 0.003 });
    sim.makePiece();
    measureAll(k);
    if (k % 7 === 0) measureAll(k);
    if (k % 11 === 0) {
      const entered = sim.changeRegister(registers[k % registers.length]!.id, ((k % 5) - 2) * 0.004);
      note(entered.applied, entered.value);
    }
    if (k % 13 === 0) {
      for (const register of seats?.registers ?? []) {
        const entered = sim.changeSeatRegister(register.id, (k % seats!.count) + 1, 0.005);
        note(entered.applied, entered.value);
      }
    }
    if (scenario.recut && k % 40 === 1) {
      sim.recut();
      measureAll(k);
    }
    if (k % 97 === 0) note(sim.inspect().join(","));
    note(sim.delayOf(k), sim.seatOf(k) ?? "none", sim.partOf(k) ?? "none");
  }
  for (const [k, piece] of sim.pieces)
    for (const [id, size] of Object.entries(piece.sizes)) note(k, id, size, piece.bad, piece.caught);
  const s = sim.score();
  note(s.outOfToleranceMade, s.outOfToleranceShipped, s.measurements, s.remeasurements, s.corrections);
  note(s.falseCorrections, s.falseInspections, s.meanAbsDeviationOverHalfTolerance, s.per1000.scrap);
  return seen.join("\n");
}

async function scoreOf(scenario: Scenario, seed: number, policy: MakePolicy): Promise<number[]> {
  const s = await runLoop(scenario, seed, policy);
  return [
    s.outOfToleranceMade,
    s.outOfToleranceShipped,
    s.measurements,
    s.corrections,
    s.falseCorrections,
    s.falseInspections,
    s.contained,
    Number(s.meanAbsDeviationOverHalfTolerance.toFixed(9)),
  ];
}

describe("the shop simulator", () => {
  it("has 26 scenarios, 10 of them added later", () => {
    expect(scenarios).toHaveLength(26);
    expect(scenarios.filter(({ added }) => added)).toHaveLength(10);
  });

  it.each(scenarios.map((scenario) => [scenario.name, scenario] as const))(
    "makes the same pieces and readings of %s as before it was ported",
    (name, scenario) => {
      const digests = checkNumbers.seeds.map((seed) => digest(scriptedShop(scenario, seed)));

      expect(digests).toEqual(checkNumbers.scenarios[name]!.shop);
    },
  );
});

describe("the closed loop", () => {
  it.each(scenarios.map((scenario) => [scenario.name, scenario] as const))(
    "scores the policies to compare with on %s as before it was ported",
    async (name, scenario) => {
      const seeds = checkNumbers.seeds.slice(0, 4);
      const digests: string[] = [];
      for (const seed of seeds) {
        const scores: number[][] = [];
        for (const policy of [neverAdjust, everyReading, ruleOfThumb])
          scores.push(await scoreOf(scenario, seed, policy));
        digests.push(digest(JSON.stringify(scores)));
      }

      expect(digests).toEqual(checkNumbers.scenarios[name]!.loop.slice(0, seeds.length));
    },
  );
});
