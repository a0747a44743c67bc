import type { Block } from "./block.js";
import type { Estimate } from "./estimate.js";
import { forecastFeature, fromTarget } from "./forecast.js";
import { bestMove } from "./joint-moves.js";

/** What wear asks of a register on a piece to come, all from the register's zero, mm. */
export interface RegisterForecast {
  /** The value whose worst feature would be expected nearest its target there. */
  aimedMm: number;
  /** Standard deviation of that value: the expected size's, of the feature with the smallest T/|s|, over |s|. */
  deviationMm: number;
  /** Between these values every feature is expected inside its limits there; undefined: no limit on that side. */
  lowMm: number | undefined;
  highMm: number | undefined;
}

/**
 * The value that a register would need `ahead` pieces on, and the room it has there, the other registers left as they are.
 * Each feature f that it moves by s per +1 is expected at m_f on that piece (`forecastFeature`); it stays within its limits
 * [l, u] while the value lies between u_r + (l − m_f)/s and u_r + (u − m_f)/s. The room is where all of them agree.
 * @param register number of the register in the block
 * @param offsets register values u_r as they stand, mm from their zeros
 * @param ahead pieces after the one that the state stands at, ≥ 0
 * @throws {RangeError} if no feature answers to the register
 */
export function forecastRegister(
  block: Block,
  estimate: Estimate,
  register: number,
  offsets: readonly number[],
  ahead: number,
): RegisterForecast {
  const value = offsets[register]!;
  const moved = block.features.flatMap((feature, f) => {
    const effect = feature.effects[register]!;
    return effect === 0 ? [] : { feature, f, effect, ...forecastFeature(block, estimate, f, ahead, offsets) };
  });
  if (moved.length === 0) throw new RangeError("no feature answers to this register");
  const cells = moved.map(({ f, expectedDeviation }) => ({
    feature: f,
    seat: undefined,
    deviation: fromTarget(block, f, expectedDeviation),
  }));
  const still = block.registers.map(() => 0);
  const room = ({ feature, effect }: (typeof moved)[number]) => feature.roomMm / Math.abs(effect);
  const tightest = moved.reduce((best, one) => (room(one) < room(best) ? one : best));
  const ends = moved.map(({ feature, effect, expectedDeviation }) => {
    const reach = (limitPm: number | undefined) =>
      limitPm === undefined
        ? undefined
        : value + ((limitPm - feature.programmedPm) / 1e9 - expectedDeviation) / effect;
    const [lower, upper] = [reach(feature.lowerPm), reach(feature.upperPm)];
    return effect > 0 ? { low: lower, high: upper } : { low: upper, high: lower };
  });
  const lows = ends.flatMap(({ low }) => low ?? []);
  const highs = ends.flatMap(({ high }) => high ?? []);
  return {
    aimedMm: value + bestMove(block, register, cells, still),
    deviationMm: tightest.meanDeviation / Math.abs(tightest.effect),
    lowMm: lows.length > 0 ? Math.max(...lows) : undefined,
    highMm: highs.length > 0 ? Math.min(...highs) : undefined,
  };
}
