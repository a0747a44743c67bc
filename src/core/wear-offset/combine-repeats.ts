/** What several readings of one feature on one piece amount to. Sizes in picometres. */
export type Combined =
  | { settled: true; sizePm: number }
  /** `ask`: how many readings there will be once the question is answered. */
  | { settled: false; ask: 2 | 3 };

/**
 * Two readings that agree within 4·√2·u_g: their mean. Two that don't: a third is asked. Three and more: the mean where
 * they agree, else the middle one. A single reading settles itself unless it surprised.
 * @param sizesPm at least one reading, in any order
 * @param gaugeVariance u_g² of the coarser gauge, mm²
 * @param surprising true when a single reading has to be confirmed before it may count
 */
export function combineRepeats(
  sizesPm: readonly number[],
  gaugeVariance: number,
  surprising: boolean,
): Combined {
  if (sizesPm.length === 0) throw new RangeError("needs at least one reading");
  const sorted = [...sizesPm].sort((a, b) => a - b);
  const lowest = sorted[0]!;
  const highest = sorted.at(-1)!;
  if (sorted.length === 1) return surprising ? { settled: false, ask: 2 } : { settled: true, sizePm: lowest };
  if (highest - lowest <= agreementPm(gaugeVariance)) {
    return {
      settled: true,
      sizePm: sorted.reduce((sum, size) => sum + size - lowest, 0) / sorted.length + lowest,
    };
  }
  if (sorted.length === 2) return { settled: false, ask: 3 };
  const middle = sorted.length >> 1;
  return {
    settled: true,
    sizePm: sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2,
  };
}

/** How far two readings of one thing may lie apart: 4·√2·u_g, in picometres. */
export function agreementPm(gaugeVariance: number): number {
  return 4 * Math.SQRT2 * Math.sqrt(gaugeVariance) * 1e9;
}
