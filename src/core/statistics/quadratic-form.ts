/**
 * A symmetric positive definite matrix, decomposed once (Cholesky), for products a' M⁻¹ b.
 * @param matrix n rows of n numbers
 * @throws {RangeError} if the matrix is not positive definite
 */
export function inverseForm(
  matrix: readonly (readonly number[])[],
): (a: readonly number[], b: readonly number[]) => number {
  const n = matrix.length;
  const lower: number[][] = [];
  for (let i = 0; i < n; i++) {
    const row: number[] = [];
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i]![j]!;
      for (let k = 0; k < j; k++) sum -= row[k]! * (j === i ? row[k]! : lower[j]![k]!);
      if (j < i) row.push(sum / lower[j]![j]!);
      else if (sum > 0) row.push(Math.sqrt(sum));
      else throw new RangeError("matrix must be positive definite");
    }
    lower.push(row);
  }
  const solve = (vector: readonly number[]): number[] => {
    const out: number[] = [];
    for (let i = 0; i < n; i++) {
      let sum = vector[i]!;
      for (let k = 0; k < i; k++) sum -= lower[i]![k]! * out[k]!;
      out.push(sum / lower[i]![i]!);
    }
    return out;
  };
  return (a, b) => {
    const left = solve(a);
    const right = a === b ? left : solve(b);
    return left.reduce((sum, x, i) => sum + x * right[i]!, 0);
  };
}
