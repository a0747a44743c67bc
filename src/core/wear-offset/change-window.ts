import type { BlockFeature } from "./block.js";

/** Changes of a register, in picometres, that keep a feature inside its limits; an end is absent with its limit. */
export interface ChangeWindow {
  lowPm: number | undefined;
  highPm: number | undefined;
}

/**
 * Window of changes from one reading, referred to the register value that its piece was cut with:
 *   size now = size + effect·(value now − value then);  (limit − size now) / effect.
 * Exact while the effect is a power of two; otherwise rounded inward to whole picometres.
 */
export function changeWindow(
  feature: Pick<BlockFeature, "lowerPm" | "upperPm">,
  effect: number,
  sizePm: number,
  valueThenPm: number,
  valueNowPm: number,
): ChangeWindow {
  const sizeNow = sizePm + effect * (valueNowPm - valueThenPm);
  const toLower = feature.lowerPm === undefined ? undefined : (feature.lowerPm - sizeNow) / effect;
  const toUpper = feature.upperPm === undefined ? undefined : (feature.upperPm - sizeNow) / effect;
  const [low, high] = effect > 0 ? [toLower, toUpper] : [toUpper, toLower];
  const exact = Number.isInteger(Math.log2(Math.abs(effect)));
  return {
    lowPm: low === undefined || exact ? low : Math.ceil(low),
    highPm: high === undefined || exact ? high : Math.floor(high),
  };
}

/** Changes that suit all windows; undefined: there is none. */
export function overlapOf(windows: readonly ChangeWindow[]): ChangeWindow | undefined {
  const lows = windows.flatMap(({ lowPm }) => lowPm ?? []);
  const highs = windows.flatMap(({ highPm }) => highPm ?? []);
  const lowPm = lows.length > 0 ? Math.max(...lows) : undefined;
  const highPm = highs.length > 0 ? Math.min(...highs) : undefined;
  return lowPm !== undefined && highPm !== undefined && lowPm > highPm ? undefined : { lowPm, highPm };
}
