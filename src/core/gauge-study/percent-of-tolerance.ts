/**
 * Share of the tolerance that a gauge's spread takes up: 100 · 6 σ / T.
 * @param standardDeviation, tolerance in one common unit; tolerance above 0
 * @param spread how many standard deviations count, usually 6 (older editions of the handbook: 5.15)
 * @throws {RangeError} for a tolerance or spread that is not above 0
 * @see measurement systems analysis handbook, 4th edition, chapter III (from memory)
 */
export function percentOfTolerance(standardDeviation: number, tolerance: number, spread = 6): number {
  if (!(tolerance > 0 && spread > 0)) throw new RangeError("tolerance and spread are above 0");
  return (100 * spread * standardDeviation) / tolerance;
}

export type GaugeVerdict = "fit" | "conditional" | "unfit";

/**
 * A share of tolerance or study spread by two limits: up to the first fit, up to the second conditional, above it unfit.
 * @param percent from 0 on
 * @param limits first and second, usually 10 and 30 (common practice; measurement systems analysis handbook, 4th edition)
 */
export function judgePercent(percent: number, limits: { fit: number; conditional: number }): GaugeVerdict {
  if (percent <= limits.fit) return "fit";
  return percent <= limits.conditional ? "conditional" : "unfit";
}
