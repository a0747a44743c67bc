/**
 * Combined standard uncertainty of quantities that are independent and enter with a factor of 1 (in quadrature):
 *   u_c = √ Σ uᵢ²
 * @param standards standard uncertainties in one common unit
 * @see JCGM 100:2008, 5.1.2, equation 10 (from memory)
 */
export function combineStandards(standards: readonly number[]): number {
  return Math.hypot(...standards);
}

/**
 * Effective degrees of freedom of a combined standard uncertainty (Welch and Satterthwaite):
 *   ν_eff = u_c⁴ / Σ (uᵢ⁴ / νᵢ)
 * @param parts standard uncertainties in one common unit, each with its degrees of freedom above 0, Infinity for one that
 * is sure
 * @returns ν_eff, to be cut to a whole number before a table is entered; Infinity where all are sure
 * @throws {RangeError} if degrees of freedom are not above 0
 * @see JCGM 100:2008, G.4.1, equation G.2b (from memory)
 */
export function effectiveDegrees(parts: readonly { standard: number; degrees: number }[]): number {
  if (!parts.every(({ degrees }) => degrees > 0)) throw new RangeError("degrees of freedom are above 0");
  const combined = combineStandards(parts.map(({ standard }) => standard));
  const sum = parts.reduce((total, { standard, degrees }) => total + standard ** 4 / degrees, 0);
  return combined ** 4 / sum;
}
