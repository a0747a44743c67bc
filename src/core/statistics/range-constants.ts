import { normalCdf } from "./normal.js";

const step = 0.02;
const reach = 8;
const widest = 16;
const known = new Map<number, { d2: number; d3: number }>();
let table: number[] | undefined;

/**
 * Mean d₂ and standard deviation d₃ of the range of n normal quantities of standard deviation 1, integrated:
 *   P(W ≤ w) = n ∫ φ(x) [Φ(x + w) − Φ(x)]ⁿ⁻¹ dx,  d₂ = ∫ 1 − P dw,  d₂² + d₃² = 2 ∫ w (1 − P) dw
 * @param n a whole number from 2 on
 * @throws {RangeError} for anything else
 * @see L. H. C. Tippett, Biometrika 17 (1925) 364–387 (from memory); constants of ISO 7870-2, table of factors
 */
export function rangeConstants(n: number): { d2: number; d3: number } {
  if (!Number.isInteger(n) || n < 2) throw new RangeError(`a range needs at least 2 values, got ${n}`);
  const found = known.get(n) ?? integrate(n);
  known.set(n, found);
  return found;
}

function integrate(n: number): { d2: number; d3: number } {
  const from = -reach / step;
  const to = (reach + widest) / step;
  table ??= Array.from({ length: to - from + 1 }, (_, i) => normalCdf((from + i) * step));
  const cdf = table;
  const density = Array.from(
    { length: (2 * reach) / step + 1 },
    (_, i) => Math.exp(-0.5 * ((from + i) * step) ** 2) / Math.sqrt(2 * Math.PI),
  );
  let [first, second] = [0, 0];
  const last = widest / step;
  for (let k = 0; k <= last; k++) {
    const within =
      density.reduce((all, phi, i) => all + phi * (cdf[i + k]! - cdf[i]!) ** (n - 1), 0) * n * step;
    const weight = (k === 0 || k === last ? 1 : k % 2 === 1 ? 4 : 2) * (step / 3); // Simpson
    first += weight * (1 - within);
    second += weight * 2 * k * step * (1 - within);
  }
  return { d2: first, d3: Math.sqrt(second - first ** 2) };
}

/**
 * 1 / d₂*, which turns the mean of g ranges of n values into a standard deviation: d₂* = √(d₂² + d₃² / g). Of one range (g = 1)
 * these are the constants K₂ and K₃ of the average and range method.
 * @see A. J. Duncan, Quality Control and Industrial Statistics, table D3 (from memory)
 */
export function rangeFactor(n: number, ranges = Number.POSITIVE_INFINITY): number {
  const { d2, d3 } = rangeConstants(n);
  return 1 / Math.sqrt(d2 ** 2 + d3 ** 2 / ranges);
}
