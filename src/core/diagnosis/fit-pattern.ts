import type { Product } from "./observation.js";

export interface PatternFit {
  /** Sizes of the columns that explain the deviations best (generalized least squares). */
  amounts: number[];
  /** Their standard uncertainties. */
  deviations: number[];
  /** χ² of what is left over. */
  rest: number;
  /** Number of columns. */
  columns: number;
  /** 2 ln of the Bayes factor against no cause at all; above 0: the cause is more believable than chance. */
  evidence: number;
}

/**
 * Fits a cause to deviations y with covariance S and weighs it against no cause:
 *   amounts   θ = (X'S⁻¹X)⁻¹ X'S⁻¹y,  covariance (X'S⁻¹X)⁻¹
 *   rest      (y − f − Xθ)' S⁻¹ (y − f − Xθ)
 *   evidence  2 ln p(y | cause) / p(y | no cause), with θᵢ ~ N(0, priorᵢ²) before anything is read:
 *             y'S⁻¹y − e'S⁻¹e + c'(I + G)⁻¹c − ln det(I + G),  e = y − f, G = A X'S⁻¹X A, c = A X'S⁻¹e, A = diag(prior)
 * The determinant is what a column costs: a cause that could explain anything is believed less for the same fit.
 * @param columns X, each a number per observation
 * @param priors standard deviation of each column's size before anything is read
 * @param fixed f: what the cause does whatever its columns, such as a change that came out with the other sign
 * @returns undefined where the columns cannot be told from each other
 * @see marginal likelihood of a linear model with a Gaussian prior: textbooks of Bayesian statistics (from memory)
 */
export function fitPattern(
  product: Product,
  y: readonly number[],
  columns: readonly (readonly number[])[],
  priors: readonly number[],
  fixed?: readonly number[],
): PatternFit | undefined {
  const left = fixed ? y.map((value, i) => value - fixed[i]!) : y;
  const scaled = columns.map((column, j) => column.map((value) => value * priors[j]!));
  const lower = scaled.map((a, i) => scaled.slice(0, i + 1).map((b) => product(a, b)));
  const gram = scaled.map((_, i) => scaled.map((__, j) => (j <= i ? lower[i]![j]! : lower[j]![i]!)));
  const drop = scaled.map((a) => product(a, left));
  const whole = product(left, left);
  const gained = fixed ? product(y, y) - whole : 0;
  const plain = decompose(gram);
  const damped = decompose(gram.map((row, i) => row.map((value, j) => value + (i === j ? 1 : 0))));
  if (!plain || !damped) return undefined;
  const amounts = solve(plain, drop);
  const believed = solve(damped, drop);
  const determinant = damped.reduce((sum, row, i) => sum + 2 * Math.log(row[i]!), 0);
  return {
    amounts: amounts.map((amount, j) => amount * priors[j]!),
    deviations: columns.map((_, j) => {
      const unit = columns.map((__, i) => (i === j ? 1 : 0));
      return Math.sqrt(solve(plain, unit)[j]!) * priors[j]!;
    }),
    rest: Math.max(0, whole - dot(drop, amounts)),
    columns: columns.length,
    evidence: gained + dot(drop, believed) - determinant,
  };
}

const leastPivot = 1e-9;

/** Cholesky's lower triangle; undefined where the matrix is singular to within rounding. */
function decompose(matrix: readonly (readonly number[])[]): number[][] | undefined {
  const lower: number[][] = [];
  for (const [i, source] of matrix.entries()) {
    const row: number[] = [];
    for (let j = 0; j <= i; j++) {
      let sum = source[j]!;
      for (let k = 0; k < j; k++) sum -= row[k]! * (j === i ? row[k]! : lower[j]![k]!);
      if (j < i) row.push(sum / lower[j]![j]!);
      else if (sum > leastPivot * source[i]! && sum > 0) row.push(Math.sqrt(sum));
      else return undefined;
    }
    lower.push(row);
  }
  return lower;
}

function solve(lower: readonly (readonly number[])[], vector: readonly number[]): number[] {
  const n = lower.length;
  const out = [...vector];
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) out[i]! -= lower[i]![k]! * out[k]!;
    out[i]! /= lower[i]![i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) out[i]! -= lower[k]![i]! * out[k]!;
    out[i]! /= lower[i]![i]!;
  }
  return out;
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, value, i) => sum + value * b[i]!, 0);
}
