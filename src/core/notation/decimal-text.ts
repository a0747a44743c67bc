/**
 * Decimals as text, "-12.0050": exact whatever their length, with the places they were written with. For what files print,
 * before a unit makes it a size.
 */
const decimal = /^([+-]?)(\d+)(?:\.(\d+))?$/;

interface Parts {
  /** All digits as a whole number, with its sign. */
  whole: bigint;
  places: number;
}

function partsOf(text: string): Parts {
  const match = decimal.exec(text);
  if (!match) throw new RangeError(`no decimal: ${text}`);
  const [, sign, whole = "", fraction = ""] = match;
  const digits = BigInt(whole + fraction);
  return { whole: sign === "-" ? -digits : digits, places: fraction.length };
}

function textOf({ whole, places }: Parts): string {
  const digits = (whole < 0n ? -whole : whole).toString().padStart(places + 1, "0");
  const point = digits.length - places;
  const sign = whole < 0n ? "-" : "";
  return sign + digits.slice(0, point) + (places > 0 ? `.${digits.slice(point)}` : "");
}

function aligned(a: Parts, b: Parts): [bigint, bigint, number] {
  const places = Math.max(a.places, b.places);
  return [a.whole * 10n ** BigInt(places - a.places), b.whole * 10n ** BigInt(places - b.places), places];
}

/** Sum of two decimals, with the places of the finer one. @throws {RangeError} if one of them is no decimal */
export function addDecimals(a: string, b: string): string {
  const [left, right, places] = aligned(partsOf(a), partsOf(b));
  return textOf({ whole: left + right, places });
}

/** Below 0, 0 or above 0, as for a sort. @throws {RangeError} if one of them is no decimal */
export function compareDecimals(a: string, b: string): number {
  const [left, right] = aligned(partsOf(a), partsOf(b));
  return left < right ? -1 : left > right ? 1 : 0;
}

/** @throws {RangeError} if it is no decimal */
export function negateDecimal(text: string): string {
  const { whole, places } = partsOf(text);
  return textOf({ whole: -whole, places });
}

/** Product of two decimals, with the places of both. @throws {RangeError} if one of them is no decimal */
export function multiplyDecimals(a: string, b: string): string {
  const [left, right] = [partsOf(a), partsOf(b)];
  return textOf({ whole: left.whole * right.whole, places: left.places + right.places });
}

/** Times 10 to the power of `exponent`, exactly. @throws {RangeError} if it is no decimal */
export function shiftDecimal(text: string, exponent: number): string {
  const { whole, places } = partsOf(text);
  const left = places - exponent;
  return left >= 0
    ? textOf({ whole, places: left })
    : textOf({ whole: whole * 10n ** BigInt(-left), places: 0 });
}
