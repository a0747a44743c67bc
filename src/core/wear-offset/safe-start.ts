import type { Block } from "./block.js";
import type { Prior } from "./estimate.js";

/**
 * Start value of a register for a fresh edge that leaves metal on:
 *   −mean + sign(s·m)·1.645·sd, sd² = var(a) + V_f/s², of the feature with the smallest T/|s|; m is the side on which metal
 * is left. One edge in twenty would still cut too deep.
 * @param prior what earlier edges let expect of a fresh one, mm
 * @param scatter V_f of every feature, mm²
 * @returns mm, as the register would hold it
 */
export function safeStartMm(
  block: Block,
  register: number,
  prior: Prior,
  scatter: readonly number[],
): number {
  let tightest: number | undefined;
  block.features.forEach((feature, f) => {
    const effect = feature.effects[register]!;
    if (effect === 0) return;
    const room = (g: number) => block.features[g]!.roomMm / Math.abs(block.features[g]!.effects[register]!);
    if (tightest === undefined || room(f) < room(tightest)) tightest = f;
  });
  if (tightest === undefined) throw new RangeError("no feature answers to this register");
  const { effects, metal } = block.features[tightest]!;
  const effect = effects[register]!;
  const sd = Math.sqrt(prior.levelVariance + scatter[tightest]! / effect ** 2);
  return -prior.level + Math.sign(effect * metal) * 1.645 * sd;
}
