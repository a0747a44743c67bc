import { parseLength } from "../../src/core/quantity.js";
import { type DecisionRule, decideConformity } from "../../src/core/tolerance/decide-conformity.js";
import { limitsFromDeviations } from "../../src/core/tolerance/limits.js";

const rounds = 7;
const count = 500_000;
const mask = 4095;

const nominal = 10.1;
const deviation = 0.2;
/** Readings as a gauge sends them, in steps of a micrometre: some of them out, some on a limit. */
const texts = Array.from({ length: mask + 1 }, (_, i) =>
  (nominal + (((i * 7919) % 471) - 235) / 1000).toFixed(3),
);
const numbers = texts.map(Number);

/**
 * Verdicts per second of the core on one core of the machine: a decimal read as whole picometres, limits from nominal size
 * and deviations, verdict by a decision rule; against the same in doubles, which gets some readings on a limit wrong.
 */
export function benchCore(): void {
  for (const [what, readings] of [
    ["decimal strings", texts],
    ["JSON numbers", numbers],
  ] as const) {
    for (const rule of ["simple", "iso_14253"] as const) compare(`${what}, ${rule}`, readings, rule);
  }
}

function compare(what: string, readings: readonly (string | number)[], rule: DecisionRule): void {
  const rates = { exact: [] as number[], naive: [] as number[] };
  let [conforming, naively] = [0, 0];
  for (let round = 0; round < rounds; round++) {
    conforming = timed(rates.exact, () => countExact(readings, rule));
    naively = timed(rates.naive, () => countNaive(readings, rule));
  }
  const [exact, naive] = [median(rates.exact), median(rates.naive)];
  process.stdout.write(
    `verdicts from ${what}: ${(exact / 1e6).toFixed(2)} million/s against ${(naive / 1e6).toFixed(2)} in doubles: ` +
      `ratio ${(exact / naive).toFixed(2)}; doubles get ${Math.abs(conforming - naively)} of ${count} wrong\n`,
  );
}

function countExact(readings: readonly (string | number)[], rule: DecisionRule): number {
  const [nominalPm, deviationPm] = [parseLength(nominal, "mm")!, parseLength(deviation, "mm")!];
  const expandedUncertaintyPm = parseLength("0.003", "mm");
  let conforming = 0;
  for (let i = 0; i < count; i++) {
    const sizePm = parseLength(readings[i & mask]!, "mm")!;
    const { lowerPm, upperPm } = limitsFromDeviations(nominalPm, -deviationPm, deviationPm);
    const verdict = decideConformity(sizePm, {
      lowerPm,
      upperPm,
      rule,
      guardBandFactor: 1,
      expandedUncertaintyPm,
    });
    if (verdict === "conforming") conforming++;
  }
  return conforming;
}

function countNaive(readings: readonly (string | number)[], rule: DecisionRule): number {
  const guardBand = rule === "simple" ? 0 : 0.003;
  let conforming = 0;
  for (let i = 0; i < count; i++) {
    const size = Number(readings[i & mask]);
    if (size >= nominal - deviation + guardBand && size <= nominal + deviation - guardBand) conforming++;
  }
  return conforming;
}

/** Does the work and notes how many of it would fit into a second. */
function timed(rates: number[], work: () => number): number {
  const begun = performance.now();
  const answer = work();
  rates.push((count / (performance.now() - begun)) * 1000);
  return answer;
}

function median(list: readonly number[]): number {
  return [...list].sort((a, b) => a - b)[list.length >> 1]!;
}
