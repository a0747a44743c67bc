import type { Block } from "./block.js";
import type { Estimate, Prior } from "./estimate.js";
import { fromTarget } from "./forecast.js";
import { bestMove } from "./joint-moves.js";

/** Start values of a register for a fresh edge, mm from the register's zero. */
export interface StartValues {
  /** The value whose worst feature is expected nearest its target. */
  aimedMm: number;
  /** The value that leaves metal on, for who measures and cuts again. */
  safeMm: number;
}

/**
 * Start values for a fresh edge whose level is expected at the prior's mean.
 *   safe = aimed + sign(s·m)·1.645·sd, sd² = var(a) + V_f/s², of the feature with the smallest T/|s|; m is the side on which
 * metal is left. One edge in twenty would still cut too deep.
 * @param prior what earlier edges let expect of a fresh one, mm
 * @param estimate what is known of the features and of the block's other registers
 * @param offsets what the other registers hold, mm
 * @throws {RangeError} if no feature answers to the register
 */
export function startValues(
  block: Block,
  register: number,
  prior: Prior,
  estimate: Estimate,
  offsets: readonly number[],
): StartValues {
  const levels = estimate.mean.slice(0, block.registers.length);
  levels[register] = prior.level;
  const held = offsets.map((offset, r) => (r === register ? 0 : offset));
  const cells = block.features.map(({ effects }, feature) => {
    const own = estimate.mean[2 * block.registers.length + feature]!;
    const expected = effects.reduce((sum, effect, r) => sum + effect * (levels[r]! + held[r]!), own);
    return { feature, seat: undefined, deviation: fromTarget(block, feature, expected) };
  });
  const aimedMm = bestMove(
    block,
    register,
    cells,
    block.registers.map(() => 0),
  );
  const room = (f: number) => block.features[f]!.roomMm / Math.abs(block.features[f]!.effects[register]!);
  const answering = block.features.map((_, f) => f).filter((f) => block.features[f]!.effects[register] !== 0);
  if (answering.length === 0) throw new RangeError("no feature answers to this register");
  const tightest = answering.reduce((best, f) => (room(f) < room(best) ? f : best));
  const { effects, metal } = block.features[tightest]!;
  const effect = effects[register]!;
  const sd = Math.sqrt(prior.levelVariance + estimate.scatter[tightest]! / effect ** 2);
  return { aimedMm, safeMm: aimedMm + Math.sign(effect * metal) * 1.645 * sd };
}
