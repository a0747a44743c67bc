import { powerOf10, quotient, sum, toIntegers } from "./exact.js";

export interface Regression {
  /** b, one per column. */
  estimates: number[];
  /** Standard deviations of the estimates. */
  standardDeviations: number[];
  residualDegrees: number;
  residualSumOfSquares: number;
  /** s; of no degrees of freedom undefined. */
  residualStandardDeviation: number | undefined;
  regressionDegrees: number;
  regressionSumOfSquares: number;
  /** Undefined where y does not vary. */
  rSquared: number | undefined;
  /** (XᵀX)⁻¹. */
  inverse: number[][];
}

/**
 * Ordinary least squares y = X b. The normal equations are set up and solved in exact integers (fraction-free elimination of
 * Bareiss), so that what makes them notorious in doubles, the squared condition number, costs nothing.
 * @param columns p columns of n numbers each; a constant term is a column of ones
 * @param y n numbers
 * @param constant whether a constant term is among the columns: R² and the regression sum of squares are then about the mean
 * @throws {RangeError} if lengths differ, n < p, a value is not finite, or the columns are linearly dependent
 * @see NIST StRD, linear least squares (definitions); E. H. Bareiss, Math. Comp. 22 (1968) 565–578 (from memory)
 */
export function fitLinear(
  columns: readonly (readonly number[])[],
  y: readonly number[],
  constant: boolean,
): Regression {
  const p = columns.length;
  const n = y.length;
  if (p === 0 || n < p || columns.some((column) => column.length !== n)) {
    throw new RangeError(
      `needs columns of one length, at least as long as there are columns; got ${p} of ${n}`,
    );
  }
  const x = columns.map(toIntegers);
  const target = toIntegers(y);
  const dot = (a: readonly bigint[], b: readonly bigint[]) => sum(a.map((value, i) => value * b[i]!));
  const normal = x.map((a) => x.map((b) => dot(a.integers, b.integers)));
  const right = x.map((a) => dot(a.integers, target.integers));
  const { determinant, solved } = eliminate(normal, right);
  // b = solved / determinant, in steps of y over steps of x.
  const scale = (power: number) =>
    (power >= 0 ? [powerOf10(power), 1n] : [1n, powerOf10(-power)]) as [bigint, bigint];
  const scaled = (top: bigint, bottom: bigint, power: number) => {
    const [up, down] = scale(power);
    return quotient(top * up, bottom * down);
  };
  const estimates = x.map(({ places }, i) => scaled(solved[i]![p]!, determinant, places - target.places));
  const inverse = x.map((a, i) => x.map((b, j) => scaled(solved[i]![j]!, determinant, a.places + b.places)));
  const total = dot(target.integers, target.integers);
  const explained = right.reduce((all, value, i) => all + value * solved[i]![p]!, 0n);
  const residual = total * determinant - explained;
  const level = sum(target.integers);
  const count = BigInt(n);
  const about = constant ? count * total - level * level : count * total; // n times
  const steps = -2 * target.places;
  const residualSumOfSquares = scaled(residual, determinant, steps);
  const residualDegrees = n - p;
  const variance = residualDegrees === 0 ? undefined : residualSumOfSquares / residualDegrees;
  return {
    estimates,
    standardDeviations: inverse.map((row, i) => Math.sqrt(row[i]! * (variance ?? 0))),
    residualDegrees,
    residualSumOfSquares,
    residualStandardDeviation: variance === undefined ? undefined : Math.sqrt(variance),
    regressionDegrees: constant ? p - 1 : p,
    regressionSumOfSquares: scaled(about * determinant - count * residual, count * determinant, steps),
    rSquared:
      about === 0n ? undefined : quotient(about * determinant - count * residual, about * determinant),
    inverse,
  };
}

/** Solves A [Z | z] = det(A) [I | b] in integers; A is symmetric and not negative. */
function eliminate(matrix: readonly (readonly bigint[])[], right: readonly bigint[]) {
  const p = matrix.length;
  const rows = matrix.map((row, i) => [
    ...row,
    ...Array.from({ length: p }, (_, j) => (i === j ? 1n : 0n)),
    right[i]!,
  ]);
  let previous = 1n;
  for (let k = 0; k < p; k++) {
    const pivot = rows[k]![k]!;
    if (pivot === 0n) throw new RangeError("the columns are linearly dependent");
    for (let i = 0; i < p; i++) {
      if (i === k) continue;
      const factor = rows[i]![k]!;
      rows[i] = rows[i]!.map((value, j) => (pivot * value - factor * rows[k]![j]!) / previous);
    }
    previous = pivot;
  }
  return { determinant: previous, solved: rows.map((row) => row.slice(p)) };
}
