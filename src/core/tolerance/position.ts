/**
 * Diameter of the smallest zone around the true position that holds the axis or point found: 2·√(dx² + dy² + dz²), rounded up
 * to a whole picometre. Since a limit is a whole picometre too, the rounded value is within it exactly where the true one is:
 * it is the least whole n with n² ≥ 4·(dx² + dy² + dz²), found in whole numbers.
 * @param offsetsPm deviations from the true position along the axes, whole picometres
 * @returns whole picometres
 * @throws {RangeError} if an offset is no safe whole number, or there is none
 * @see ISO 1101:2017, 17.12 (position); ASME Y14.5-2018, 10.3.1 (both from memory)
 */
export function positionDiameter(offsetsPm: readonly number[]): number {
  if (offsetsPm.length === 0 || !offsetsPm.every(Number.isSafeInteger)) {
    throw new RangeError(`needs offsets in whole picometres, got ${offsetsPm.join(", ")}`);
  }
  return Number(rootUp(4n * offsetsPm.reduce((sum, offset) => sum + BigInt(offset) ** 2n, 0n)));
}

/** The least whole number whose square is not below `square`, by Newton's steps from above. */
function rootUp(square: bigint): bigint {
  if (square < 2n) return square;
  let root = 1n << BigInt(Math.ceil(square.toString(2).length / 2));
  for (;;) {
    const next = (root + square / root) / 2n;
    if (next >= root) break;
    root = next;
  }
  return root * root === square ? root : root + 1n;
}
