import { combineStandards } from "../statistics/combine-standards.js";

/** One of the two bodies of a reduction to 20 °C, with what is not known of it. */
export interface ThermalBody {
  /** α and its standard uncertainty, per kelvin. */
  readonly coefficientPerK: number;
  readonly coefficientStandardPerK: number;
  /** θ = t − 20 °C, and the standard uncertainty of t, kelvin. */
  readonly from20K: number;
  readonly temperatureStandardK: number;
}

/** Parts of the standard uncertainty that one body brings into a reduction, in the unit of the length. */
export interface ThermalShares {
  /** L · α · u(t) */
  readonly ofTemperature: number;
  /** L · |θ| · u(α) */
  readonly ofCoefficient: number;
  /** L · u(α) · u(t): all that is left when θ and α are small. */
  readonly ofBoth: number;
}

/**
 * What the warmth of one body leaves unsure in a length: shares of the standard uncertainty of L · α · θ, with the term of
 * second order that counts where θ is small.
 * @param length L, in any unit
 * @returns shares in the unit of `length`, each 0 or more
 * @throws {RangeError} if an uncertainty is below 0 or a figure is not finite
 * @see JCGM 100:2008, 5.1.2 with its note, and the example H.1 (from memory)
 */
export function thermalShares(length: number, body: ThermalBody): ThermalShares {
  const { coefficientPerK, coefficientStandardPerK, from20K, temperatureStandardK } = body;
  if (![length, coefficientPerK, from20K].every(Number.isFinite))
    throw new RangeError("needs finite figures");
  if (!(coefficientStandardPerK >= 0 && temperatureStandardK >= 0)) {
    throw new RangeError("an uncertainty is not below 0");
  }
  const size = Math.abs(length);
  return {
    ofTemperature: size * Math.abs(coefficientPerK) * temperatureStandardK,
    ofCoefficient: size * Math.abs(from20K) * coefficientStandardPerK,
    ofBoth: size * coefficientStandardPerK * temperatureStandardK,
  };
}

/**
 * Standard uncertainty of the reduction of a reading to 20 °C, from both bodies, to be added in quadrature to that of the
 * gauge. The coefficients are taken as independent; the two temperatures may go together, as where part and gauge lay side
 * by side and only their common temperature is unsure:
 *   u² = Σ shares² − 2 r · (L αp u(tp)) · (L αs u(ts))
 * @param length L, in any unit
 * @param correlation r of the two temperatures, 0 to 1
 * @returns u in the unit of `length`
 * @throws {RangeError} if `correlation` is not from 0 to 1
 * @see JCGM 100:2008, 5.2.2, equation 13 (correlated input quantities), and H.1 (from memory)
 */
export function reductionStandard(
  length: number,
  part: ThermalBody,
  gauge: ThermalBody,
  correlation: number,
): number {
  if (!(correlation >= 0 && correlation <= 1)) throw new RangeError("a correlation here is from 0 to 1");
  const p = thermalShares(length, part);
  const s = thermalShares(length, gauge);
  const alike = part.coefficientPerK * gauge.coefficientPerK >= 0 ? correlation : -correlation;
  const separate = combineStandards([p.ofCoefficient, p.ofBoth, s.ofCoefficient, s.ofBoth]);
  const temperatures =
    p.ofTemperature ** 2 + s.ofTemperature ** 2 - 2 * alike * p.ofTemperature * s.ofTemperature;
  return combineStandards([separate, Math.sqrt(Math.max(0, temperatures))]);
}
