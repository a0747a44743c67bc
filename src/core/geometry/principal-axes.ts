import { dot } from "./points.js";

export interface PrincipalAxis {
  /** Unit vector. */
  readonly direction: readonly number[];
  /** Root of the sum of squares of the rows along it. */
  readonly extent: number;
}

/**
 * Principal axes of centred points, longest first: the singular values and right singular vectors of the n × m matrix of
 * their rows, by one-sided Jacobi rotations (Hestenes). The matrix is never squared, so that a face of 100 mm still shows a
 * tilt of 10⁻¹⁰.
 * @param rows n rows of m finite numbers
 * @see Golub and Van Loan, Matrix Computations, 4th ed., 8.6.3 (from memory)
 */
export function principalAxes(rows: readonly (readonly number[])[]): PrincipalAxis[] {
  const m = rows[0]!.length;
  const columns = Array.from({ length: m }, (_, j) => rows.map((row) => row[j]!));
  const axes = Array.from({ length: m }, (_, j) => Array.from({ length: m }, (_, i) => (i === j ? 1 : 0)));
  let turned = true;
  for (let sweep = 0; turned && sweep < 60; sweep++) {
    turned = false;
    for (let p = 0; p < m - 1; p++) {
      for (let q = p + 1; q < m; q++) {
        const [alpha, beta] = [dot(columns[p]!, columns[p]!), dot(columns[q]!, columns[q]!)];
        const gamma = dot(columns[p]!, columns[q]!);
        if (Math.abs(gamma) <= Number.EPSILON * Math.sqrt(alpha * beta)) continue;
        turned = true;
        const zeta = (beta - alpha) / (2 * gamma);
        const tangent = (zeta < 0 ? -1 : 1) / (Math.abs(zeta) + Math.hypot(1, zeta));
        turn(columns[p]!, columns[q]!, tangent);
        turn(axes[p]!, axes[q]!, tangent);
      }
    }
  }
  return axes
    .map((direction, j) => ({ direction, extent: Math.sqrt(dot(columns[j]!, columns[j]!)) }))
    .sort((a, b) => b.extent - a.extent);
}

function turn(a: number[], b: number[], tangent: number): void {
  const c = 1 / Math.hypot(1, tangent);
  const s = c * tangent;
  for (let i = 0; i < a.length; i++) {
    const [x, y] = [a[i]!, b[i]!];
    a[i] = c * x - s * y;
    b[i] = s * x + c * y;
  }
}
