const written = /^(-?)(\d+)(?:\.(\d+))?(?:e([+-]\d+))?$/;
const longest = 400;

/**
 * Numbers as the decimals that they are written with, all in whole steps of 10⁻ᵖˡᵃᶜᵉˢ: sums and products of these are exact, so
 * that no statistic hangs on the order of its values or loses digits to a large mean.
 * @param values finite numbers
 * @throws {RangeError} if a value is not finite
 */
export function toIntegers(values: readonly number[]): { integers: bigint[]; places: number } {
  const parts = values.map((value) => {
    const match = written.exec(String(value));
    if (!match) throw new RangeError(`values must be finite, got ${value}`);
    const [, sign, whole = "", fraction = "", exponent] = match;
    return { digits: BigInt(`${sign}${whole}${fraction}`), places: fraction.length - Number(exponent ?? 0) };
  });
  const places = parts.reduce((most, part) => Math.max(most, part.digits === 0n ? 0 : part.places), 0);
  return {
    integers: parts.map(({ digits, places: own }) =>
      digits === 0n ? 0n : digits * 10n ** BigInt(places - own),
    ),
    places,
  };
}

/** 10ⁿ as an exact integer. @param n a whole number from 0 on */
export function powerOf10(n: number): bigint {
  return 10n ** BigInt(n);
}

export function sum(values: readonly bigint[]): bigint {
  return values.reduce((total, value) => total + value, 0n);
}

/**
 * A quotient of integers as the nearest double, or one beside it.
 * @throws {RangeError} if the divisor is 0
 */
export function quotient(numerator: bigint, divisor: bigint): number {
  if (divisor === 0n) throw new RangeError("the divisor is 0");
  const negative = numerator < 0n !== divisor < 0n;
  const [top, bottom] = [absolute(numerator), absolute(divisor)];
  if (top === 0n) return 0;
  // 80 bits of quotient carry every digit of a double.
  const shift = 80 - (bits(top) - bits(bottom));
  const whole = shift >= 0 ? (top << BigInt(shift)) / bottom : top / (bottom << BigInt(-shift));
  let size = Number(whole);
  let left = shift;
  for (; left > longest; left -= longest) size /= 2 ** longest;
  for (; left < -longest; left += longest) size *= 2 ** longest;
  size /= 2 ** left;
  return negative ? -size : size;
}

function absolute(value: bigint): bigint {
  return value < 0n ? -value : value;
}

function bits(value: bigint): number {
  return value.toString(16).length * 4;
}
