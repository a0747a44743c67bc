/**
 * Exact quantities: whole steps of 10⁻⁹ of a base unit in a JavaScript number. Lengths are whole picometres (base mm, safe up
 * to 9 km), angles whole nano-arcseconds (base arcsecond, safe up to 2500°), counts whole steps of 10⁻⁹. The one place where a
 * conversion factor is written. 1 inch = 25.4 mm exactly (NIST SP 811, table B.8), so a size in mm, µm, nm, inch or µin is
 * exact in picometres.
 */
export type LengthUnit = "mm" | "µm" | "nm" | "inch" | "µin";
export type AngleUnit = "deg" | "arcmin" | "arcsec" | "rad";
/** "1": of what is counted, which has no unit. */
export type MeasureUnit = LengthUnit | AngleUnit | "1";

const digitsAfterPointToPicometre: Record<LengthUnit, number> = { mm: 9, µm: 6, nm: 3, inch: 8, µin: 2 };
export const mmPerInch = 25.4;
const inchFactor = 254n; // 1 inch = 254 · 10⁸ pm, 1 µin = 254 · 10² pm
const powersOf10 = Array.from({ length: 15 }, (_, i) => 10 ** i);
/** Steps in one unit. */
const stepsPer: Record<MeasureUnit, number> = {
  mm: 1e9,
  µm: 1e6,
  nm: 1e3,
  inch: mmPerInch * 1e9,
  µin: mmPerInch * 1e3,
  deg: 3600e9,
  arcmin: 60e9,
  arcsec: 1e9,
  rad: (648_000 / Math.PI) * 1e9,
  "1": 1e9,
};
const angleFactor: Record<Exclude<AngleUnit, "rad">, bigint> = { deg: 3600n, arcmin: 60n, arcsec: 1n };
/** Nano-arcseconds in a radian, times 10³⁰: 648 000 / π arcseconds. */
const nanoArcsecPerRadian = 206264806247096_355156473357330778613196659701n;
const decimal = /^([+-]?)(\d+)(?:\.(\d+))?$/;
const decimalWithExponent = /^([+-]?)(\d+)(?:\.(\d+))?(?:[eE]([+-]?\d{1,3}))?$/;

/**
 * Reads a decimal as whole picometres; what is finer is rounded half to even.
 * @param text a JSON number, or a decimal string such as "12.0050" (no exponent, no thousands separator, no hex)
 * @returns picometres, or undefined when `text` is no such decimal or lies beyond 9 km
 */
export function parseLength(text: string | number, unit: LengthUnit): number | undefined {
  const isInch = unit === "inch" || unit === "µin";
  return parseScaled(text, digitsAfterPointToPicometre[unit], isInch ? inchFactor : 1n);
}

/** Reads a number of any unit as whole steps, angles in degrees also as degrees, minutes and seconds. */
export function parseMeasure(text: string | number, unit: MeasureUnit): number | undefined {
  switch (unit) {
    case "deg":
    case "arcmin":
    case "arcsec":
    case "rad":
      return parseAngle(text, unit);
    case "1":
      return parseDecimal(text, 9);
    default:
      return parseLength(text, unit);
  }
}

/**
 * Reads an angle as whole nano-arcseconds: 1° = 60' = 3600" (SI brochure, 9th edition, table 8). Decimals of degrees, minutes
 * and seconds are exact down to a nano-arcsecond; radians, 648 000 / π arcseconds each, are rounded half to even to one.
 * @param text a decimal as for a length; in degrees also `44°59'30"`, `44°59.5'`, `30'`, or `44 59 30`, with a sign before
 *   the whole, decimals in the last part only, and minutes and seconds below 60 where something larger stands before them
 * @returns nano-arcseconds, or undefined when `text` is no such angle or beyond 2500°
 */
export function parseAngle(text: string | number, unit: AngleUnit): number | undefined {
  if (unit === "rad") return parseScaled(text, -30, nanoArcsecPerRadian);
  const value = parseScaled(text, 9, angleFactor[unit]);
  return value === undefined && unit === "deg" && typeof text === "string" ? parseDms(text) : value;
}

const figure = "(\\d+(?:\\.\\d+)?)";
const marked = new RegExp(`^([+-]?)(?:${figure}°)?\\s?(?:${figure}['′’])?\\s?(?:${figure}["″”])?$`, "u");
const spaced = new RegExp(`^([+-]?)(\\d+) (\\d+) ${figure}$`);

/** True where a text writes an angle as degrees, minutes and seconds. */
export function isDms(text: string): boolean {
  return parseDms(text) !== undefined;
}

function parseDms(text: string): number | undefined {
  if (text.length > 60) return undefined;
  const [, sign, ...parts] = marked.exec(text) ?? spaced.exec(text) ?? [];
  const given = parts.flatMap((part, i) => (part === undefined ? [] : [{ part, i }]));
  if (given.length === 0) return undefined;
  let sum = 0;
  for (const [nth, { part, i }] of given.entries()) {
    if (part.includes(".") && nth < given.length - 1) return undefined;
    if (nth > 0 && Number(part) >= 60) return undefined;
    const steps = parseScaled(part, 9, angleFactor[(["deg", "arcmin", "arcsec"] as const)[i]!]);
    if (steps === undefined) return undefined;
    sum += steps;
  }
  if (!Number.isSafeInteger(sum)) return undefined;
  return sign === "-" && sum !== 0 ? -sum : sum;
}

export interface Dms {
  sign: "+" | "-";
  degrees: number;
  minutes: number;
  /** With `places` decimals. */
  seconds: string;
}

/**
 * An angle in degrees, minutes and seconds, the seconds rounded half to even to `places` decimals; rounding carries, so that
 * there are never 60 of anything.
 * @param nanoArcsec whole nano-arcseconds
 * @param places 0 to 9
 */
export function toDms(nanoArcsec: number, places: number): Dms {
  const scale = 10n ** BigInt(places);
  const seconds = divideHalfEven(BigInt(Math.abs(nanoArcsec)), 10n ** BigInt(9 - places));
  const whole = seconds / scale;
  const fraction = places === 0 ? "" : `.${(seconds % scale).toString().padStart(places, "0")}`;
  return {
    sign: nanoArcsec < 0 && seconds !== 0n ? "-" : "+",
    degrees: Number(whole / 3600n),
    minutes: Number((whole / 60n) % 60n),
    seconds: `${whole % 60n}${fraction}`,
  };
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

/**
 * Whole steps (picometres, nano-arcseconds) as a JSON number in `unit`: exact in mm, µm, nm and arcseconds; elsewhere the
 * nearest double where it is no finite decimal.
 */
export function toUnit(steps: number, unit: MeasureUnit): number {
  return steps / stepsPer[unit];
}

/** Picometres as an unrounded double in mm, for statistics. */
export function toMm(pm: number): number {
  return pm / 1e9;
}

/** A computed length in mm (a statistic) as a JSON number in `unit`, rounded for show to 0.1 µm or 0.00001 inch. */
export function showMm(mm: number, unit: LengthUnit): number {
  const places = { mm: 4, µm: 1, nm: 0, inch: 5, µin: 0 }[unit];
  const value = (mm * 1e9) / stepsPer[unit];
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

/** Digits after the point: at least, at most. */
const placesShown: Record<LengthUnit, readonly [number, number]> = {
  mm: [3, 9],
  µm: [1, 6],
  nm: [0, 3],
  inch: [4, 7],
  µin: [0, 4],
};

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
  const [usual, most] = placesShown[unit];
  const least = options.places ?? usual;
  let text = value.toFixed(most);
  while (text.endsWith("0") && text.length - text.indexOf(".") - 1 > least) text = text.slice(0, -1);
  if (text.endsWith(".")) text = text.slice(0, -1);
  const sign = pm < 0 ? "-" : options.plus && pm > 0 ? "+" : "";
  return `${sign}${text} ${unit}`;
}

/** A quantity for people: a length as `formatLength`, an angle in degrees, minutes and seconds, a count as it is. */
export function formatMeasure(steps: number, unit: MeasureUnit, plus = false): string {
  switch (unit) {
    case "deg":
    case "arcmin":
    case "arcsec":
    case "rad": {
      const { sign, degrees, minutes, seconds } = toDms(steps, 9);
      const shown = `${degrees}°${minutes}'${seconds.replace(/\.?0+$/, "")}"`;
      return (sign === "-" ? "-" : plus && steps > 0 ? "+" : "") + shown;
    }
    case "1":
      return `${plus && steps > 0 ? "+" : ""}${toUnit(steps, "1")}`;
    default:
      return formatLength(steps, unit, { plus });
  }
}
