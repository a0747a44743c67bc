import { normalCdf } from "../statistics/normal.js";

/**
 * Guard band g that leaves a reading on the acceptance limit with the conformance probability p, flat prior:
 *   one limit: Φ(g/u) = p;  two limits, T apart: Φ(g/u) − Φ((g − T)/u) = p
 * @param probability p, above ½ and below 1
 * @param uncertainty u > 0; `width`: T > 0 in the unit of u, undefined with one limit
 * @returns g in the unit of u; undefined where not even a reading in the middle reaches p
 * @throws {RangeError} if an argument is out of its range
 * @see ISO 14253-1:2017 (default p = 95 %); JCGM 106:2012, 8.3 (both from memory)
 */
export function guardBandForProbability(
  probability: number,
  uncertainty: number,
  width: number | undefined,
): number | undefined {
  if (!(probability > 0.5 && probability < 1)) {
    throw new RangeError(`probability must lie between 0.5 and 1, got ${probability}`);
  }
  if (!(uncertainty > 0 && Number.isFinite(uncertainty))) {
    throw new RangeError(`uncertainty must be above 0, got ${uncertainty}`);
  }
  if (width !== undefined && !(width > 0 && Number.isFinite(width))) {
    throw new RangeError(`width must be above 0, got ${width}`);
  }
  const apart = width === undefined ? Number.POSITIVE_INFINITY : width / uncertainty;
  const conforming = (g: number) => normalCdf(g) - normalCdf(g - apart);
  // Rises up to the middle of the tolerance; beyond 39 standard deviations no double is below 1.
  let [low, high] = [0, Math.min(39, apart / 2)];
  if (conforming(high) < probability) return undefined;
  for (let middle = high / 2; middle > low && middle < high; middle = (low + high) / 2) {
    if (conforming(middle) < probability) low = middle;
    else high = middle;
  }
  return high * uncertainty;
}

/**
 * Factor r of the guard band r·U that keeps the share of false accepts at or below 2 % whatever the process:
 *   r = 1.04 − e^(0.38·ln(test ratio) − 0.54), 0 where that is negative
 * @param testRatio tolerance over 2U, above 0
 * @throws {RangeError} if the ratio is not above 0
 * @see Dobbert, A Guard-Band Strategy for Managing False-Accept Risk (2008), method 6 of ANSI/NCSL Z540.3 practice (from
 *      memory)
 */
export function managedGuardBandFactor(testRatio: number): number {
  if (!(testRatio > 0)) throw new RangeError(`test ratio must be above 0, got ${testRatio}`);
  return Math.max(0, 1.04 - Math.exp(0.38 * Math.log(testRatio) - 0.54));
}
