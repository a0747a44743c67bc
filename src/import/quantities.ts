import type { Fault } from "../core/notation/read-number.js";
import type { KeptUnit, PrintedUnit } from "../core/notation/read-unit.js";
import { type LengthUnit, parseLength, parseMeasure } from "../core/quantity.js";

export interface Quantity {
  decimal: string;
  unit: KeptUnit;
  /** As the file has it. */
  printedUnit: PrintedUnit;
  /** Digits behind its point. */
  places: number;
}

export function isLength(unit: KeptUnit): unit is LengthUnit {
  return unit !== "deg" && unit !== "arcmin" && unit !== "arcsec" && unit !== "rad";
}

/**
 * One value of several that should be the same in different units: they may differ by half a digit of the coarser one. The
 * finest counts.
 */
export function agreeOnValue(values: readonly Quantity[]): Quantity | Fault {
  const [first] = values;
  if (!first) return { fault: "says no value" };
  const sizes = values.map((value) => {
    const unit = isLength(value.unit) ? value.unit : undefined;
    const whole = unit && parseLength(value.decimal, unit);
    const digit =
      unit && parseLength(value.places === 0 ? "1" : `0.${"1".padStart(value.places, "0")}`, unit);
    return { value, whole, digit };
  });
  let finest = sizes[0]!;
  for (const size of sizes) {
    if (size.whole === undefined || size.digit === undefined)
      return { fault: "is given in units that are no lengths" };
    const apart = Math.abs(size.whole - finest.whole!);
    if (2 * apart > Math.max(size.digit, finest.digit!)) {
      const [a, b] = [finest.value, size.value];
      return { fault: `is ${a.decimal} ${a.unit} in one column and ${b.decimal} ${b.unit} in another` };
    }
    if (size.digit < finest.digit!) finest = size;
  }
  return finest.value;
}

/**
 * Whether a value is inside limits, at the resolution in which readings are kept (a picometre, a nano-arcsecond): a value on a
 * limit is. Undefined: there is no limit, or units that can't be compared.
 */
export function conforms(
  value: Pick<Quantity, "decimal" | "unit">,
  lower: string | undefined,
  upper: string | undefined,
  unit: KeptUnit,
): boolean | undefined {
  if (lower === undefined && upper === undefined) return undefined;
  if (isLength(unit) !== isLength(value.unit)) return undefined;
  const size = parseMeasure(value.decimal, value.unit);
  if (size === undefined) return undefined;
  const low = lower === undefined ? undefined : parseMeasure(lower, unit);
  const high = upper === undefined ? undefined : parseMeasure(upper, unit);
  return size >= (low ?? size) && size <= (high ?? size);
}
