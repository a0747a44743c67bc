import { divideHalfEven } from "../quantity.js";

/** How warm a part or a gauge is, and how it answers to that. */
export interface Warmth {
  /** α, whole 10⁻¹² per kelvin. */
  readonly coefficientPicoPerK: number;
  /** t, whole millionths of a degree Celsius. */
  readonly temperatureMicroC: number;
}

/** Reference temperature of sizes, 20 °C (ISO 1:2022), in millionths of a degree Celsius. */
export const referenceMicroC = 20e6;

const one = 10n ** 18n; // 10⁻¹² per kelvin times 10⁻⁶ K

/**
 * Size at 20 °C from what a gauge showed: the gauge has grown with its own warmth and shows too little, the part with its
 * own and is too big:
 *   L₂₀ = y · [1 + αs (ts − 20 °C)] / [1 + αp (tp − 20 °C)]
 * Inside and outside sizes alike: a hole grows with heat as if it were filled. Worked out in whole numbers without loss;
 * only the result is rounded, half to even, to a whole picometre. For a gauge set on a master, the warmth of the master when
 * the gauge was set takes the place of the gauge's.
 * @param readPm y, the size as it was read, whole picometres
 * @param part αp and tp; `gauge`: αs and ts
 * @returns L₂₀, whole picometres
 * @throws {RangeError} if an argument is no whole number, or a body would have shrunk to nothing
 * @see ISO 1:2022 (reference temperature; from memory); the formula is the definition of α applied twice
 */
export function sizeAt20(readPm: number, part: Warmth, gauge: Warmth): number {
  if (!Number.isSafeInteger(readPm)) throw new RangeError(`${readPm} is no whole number of picometres`);
  const dividend = BigInt(Math.abs(readPm)) * growth(gauge);
  const size = Number(divideHalfEven(dividend, growth(part)));
  if (!Number.isSafeInteger(size)) throw new RangeError(`${size} pm is beyond every size`);
  return readPm < 0 && size !== 0 ? -size : size;
}

/** 1 + α (t − 20 °C), times 10¹⁸. */
function growth({ coefficientPicoPerK, temperatureMicroC }: Warmth): bigint {
  if (!Number.isSafeInteger(coefficientPicoPerK) || !Number.isSafeInteger(temperatureMicroC)) {
    throw new RangeError(`${coefficientPicoPerK} and ${temperatureMicroC} must be whole numbers`);
  }
  const factor = one + BigInt(coefficientPicoPerK) * BigInt(temperatureMicroC - referenceMicroC);
  if (factor <= 0n) throw new RangeError("nothing would be left of it at this temperature");
  return factor;
}
