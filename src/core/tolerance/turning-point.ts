/**
 * Which of the sizes seen while a gauge is rocked or turned is the reading: in a bore the smallest, where the gauge stands
 * square to the axis; over a shaft the largest, where it lies across the diameter.
 * @param sizesPm at least one, in whole picometres
 * @returns the place of the first such size
 * @throws {RangeError} if there is none
 * @see common practice, no source (bore gauges: the smallest reading while rocking)
 */
export function turningPoint(sizesPm: readonly number[], side: "external" | "internal"): number {
  if (sizesPm.length === 0) throw new RangeError("needs at least one size");
  return sizesPm.indexOf(side === "internal" ? Math.min(...sizesPm) : Math.max(...sizesPm));
}
