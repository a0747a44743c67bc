/**
 * Exact lengths: whole picometres in a JavaScript number, safe up to 9 km. The one place where a conversion factor is
 * written. 1 inch = 25.4 mm exactly (NIST SP 811, table B.8), so a size in mm, µm or inch is exact in picometres.
 */
export type LengthUnit = "mm" | "µm" | "inch";

const digitsAfterPointToPicometre: Record<LengthUnit, number> = { mm: 9, µm: 6, inch: 8 };
export const mmPerInch = 25.4;
const picometresPer: Record<LengthUnit, number> = { mm: 1e9, µm: 1e6, inch: mmPerInch * 1e9 };
const inchFactor = 254n; // 1 inch = 254 · 10⁸ pm
const powersOf10 = Array.from({ length: 15 }, (_, i) => 10 ** i);
const decimal = /^([+-]?)(\d+)(?:\.(\d+))?$/;
const decimalWithExponent = /^([+-]?)(\d+)(?:\.(\d+))?(?:[eE]([+-]?\d{1,3}))?$/;

/**
 * Reads a decimal as whole picometres; what is finer is rounded half to even.
 * @param text a JSON number, or a decimal string such as "12.0050" (no exponent, no thousands separator, no hex)
 * @returns picometres, or undefined when `text` is no such decimal or lies beyond 9 km
 */
export function parseLength(text: string | number, unit: LengthUnit): number | undefined {
  return parseScaled(text, digitsAfterPointToPicometre[unit], unit === "inch" ? inchFactor : 1n);
}

/**
 * Reads a decimal as a whole number of 10⁻ᵖˡᵃᶜᵉˢ; what is finer is rounded half to even.
 * @param text as for a length
 * @returns the whole number, or undefined when `text` is no such decimal or the number is not safe
 */
export function parseDecimal(text: string | number, places: number): number | undefined {
  return parseScaled(text, places, 1n);
}

function parseScaled(text: string | number, places: number, factor: bigint): number | undefined {
  const match =
    typeof text === "number"
      ? decimalWithExponent.exec(String(text))
      : text.length <= 60
        ? decimal.exec(text)
        : null;
  if (!match) return undefined;
  const [, sign, whole = "", fraction = "", exponent] = match;
  const shift = places - fraction.length + Number(exponent ?? 0);
  const digits = whole + fraction;
  if (digits.length + shift > 20 && /[1-9]/.test(digits)) return undefined;
  const magnitude = scaleQuickly(digits, shift, factor) ?? scaleExactly(digits, shift, factor);
  if (magnitude > Number.MAX_SAFE_INTEGER) return undefined;
  const pm = Number(magnitude);
  return sign === "-" && pm !== 0 ? -pm : pm;
}

/** Without big integers. Up to 15 digits are exact in a double; so is the product, where it comes out as a safe integer. */
function scaleQuickly(digits: string, shift: number, factor: bigint): number | undefined {
  if (shift < 0 || digits.length + shift > 15) return undefined;
  const magnitude = Number(digits) * powersOf10[shift]! * Number(factor);
  return Number.isSafeInteger(magnitude) ? magnitude : undefined;
}

function scaleExactly(digits: string, shift: number, factor: bigint): bigint {
  const scaled = BigInt(digits) * factor;
  return shift >= 0 ? scaled * 10n ** BigInt(shift) : divideHalfEven(scaled, 10n ** BigInt(-shift));
}

/** Quotient of two whole numbers, neither below 0, rounded half to even. */
export function divideHalfEven(value: bigint, divisor: bigint): bigint {
  const quotient = value / divisor;
  const twice = (value % divisor) * 2n;
  return twice > divisor || (twice === divisor && quotient % 2n === 1n) ? quotient + 1n : quotient;
}

/**
 * Rounds a decimal to `places` digits after the point, half to even (ISO 80000-1 annex B rule A; ASTM E29).
 * @param text a decimal string
 * @throws {RangeError} if `text` is no decimal
 */
export function roundDecimal(text: string, places: number): string {
  const match = decimal.exec(text);
  if (!match) throw new RangeError(`no decimal: ${text}`);
  const [, sign = "", whole = "", fraction = ""] = match;
  const shift = places - fraction.length;
  const digits = BigInt(whole + fraction);
  const kept = shift >= 0 ? digits * 10n ** BigInt(shift) : divideHalfEven(digits, 10n ** BigInt(-shift));
  const padded = kept.toString().padStart(places + 1, "0");
  const point = padded.length - places;
  return (
    (sign === "-" && kept !== 0n ? "-" : "") +
    padded.slice(0, point) +
    (places > 0 ? `.${padded.slice(point)}` : "")
  );
}

/** Picometres as a JSON number in `unit`: exact in mm and µm; in inch the nearest double where it is no finite decimal. */
export function toUnit(pm: number, unit: LengthUnit): number {
  return pm / picometresPer[unit];
}

/** Picometres as an unrounded double in mm, for statistics. */
export function toMm(pm: number): number {
  return pm / 1e9;
}

/** A computed length in mm (a statistic) as a JSON number in `unit`, rounded for show to 0.1 µm or 0.00001 inch. */
export function showMm(mm: number, unit: LengthUnit): number {
  const places = { mm: 4, µm: 1, inch: 5 }[unit];
  const value = (mm * 1e9) / picometresPer[unit];
  return Number(value.toFixed(places)) + 0;
}

/** Picometres as the decimal in mm that the database takes, for example "6.040000000". */
export function toNumeric(pm: number): string {
  const magnitude = Math.abs(pm);
  const whole = Math.floor(magnitude / 1e9);
  const fraction = magnitude - whole * 1e9;
  return `${pm < 0 ? "-" : ""}${whole}.${String(fraction).padStart(9, "0")}`;
}

/** The database's decimal in mm as picometres. @throws {RangeError} if it is no decimal in mm */
export function fromNumeric(text: string): number {
  const pm = parseLength(text, "mm");
  if (pm === undefined) throw new RangeError(`no length: ${text}`);
  return pm;
}

/**
 * A length for people, with its unit: at least `places` digits, more where the value needs them, up to the exact value.
 * Signed with + on request, as a change is read out.
 */
export function formatLength(
  pm: number,
  unit: LengthUnit,
  options: { places?: number; plus?: boolean } = {},
): string {
  const value = toUnit(Math.abs(pm), unit);
  const least = options.places ?? (unit === "inch" ? 4 : unit === "mm" ? 3 : 1);
  const most = unit === "mm" ? 9 : unit === "µm" ? 6 : 7;
  let text = value.toFixed(most);
  while (text.endsWith("0") && text.length - text.indexOf(".") - 1 > least) text = text.slice(0, -1);
  const sign = pm < 0 ? "-" : options.plus && pm > 0 ? "+" : "";
  return `${sign}${text} ${unit}`;
}
