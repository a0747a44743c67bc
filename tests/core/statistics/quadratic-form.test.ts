import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { inverseForm } from "../../../src/core/statistics/quadratic-form.js";

/** a' M⁻¹ b the slow way: M x = b by Gauss elimination with pivots. */
function byElimination(matrix: number[][], a: number[], b: number[]): number {
  const n = matrix.length;
  const rows = matrix.map((row, i) => [...row, b[i]!]);
  for (let i = 0; i < n; i++) {
    let pivot = i;
    for (let k = i + 1; k < n; k++) if (Math.abs(rows[k]![i]!) > Math.abs(rows[pivot]![i]!)) pivot = k;
    [rows[i], rows[pivot]] = [rows[pivot]!, rows[i]!];
    for (let k = i + 1; k < n; k++) {
      const factor = rows[k]![i]! / rows[i]![i]!;
      for (let j = i; j <= n; j++) rows[k]![j]! -= factor * rows[i]![j]!;
    }
  }
  const x: number[] = new Array(n).fill(0);
  for (let i = n - 1; i >= 0; i--) {
    let sum = rows[i]![n]!;
    for (let j = i + 1; j < n; j++) sum -= rows[i]![j]! * x[j]!;
    x[i] = sum / rows[i]![i]!;
  }
  return a.reduce((sum, value, i) => sum + value * x[i]!, 0);
}

const number = fc.double({ min: -1, max: 1, noNaN: true });
const vector = (n: number) => fc.array(number, { minLength: n, maxLength: n });

/** B B' + I: symmetric, positive definite and never near a singular one. */
const problem = fc.integer({ min: 1, max: 6 }).chain((n) =>
  fc.record({
    matrix: fc
      .array(vector(n), { minLength: n, maxLength: n })
      .map((b) =>
        b.map((row, i) =>
          b.map((other, j) => row.reduce((sum, x, k) => sum + x * other[k]!, i === j ? 1 : 0)),
        ),
      ),
    a: vector(n),
    b: vector(n),
  }),
);

describe("inverseForm", () => {
  // By hand: the inverse of [[2, −1, 0], [−1, 2, −1], [0, −1, 2]] is ¼ [[3, 2, 1], [2, 4, 2], [1, 2, 3]].
  it.each([
    [[1, 0, 0], [1, 0, 0], 0.75],
    [[1, 0, 0], [0, 0, 1], 0.25],
    [[0, 1, 0], [0, 1, 0], 1],
    [[1, 2, 3], [1, 1, 1], 10],
    [[0, 0, 0], [1, 2, 3], 0],
  ])("of %j and %j is %d with a matrix inverted by hand", (a, b, expected) => {
    const form = inverseForm([
      [2, -1, 0],
      [-1, 2, -1],
      [0, -1, 2],
    ]);

    expect(form(a, b)).toBeCloseTo(expected, 13);
  });

  it("gives χ² of two pieces (worked twice by separate programs, the project's method, section 6 F)", () => {
    const effects = [2, -2, 1];
    const matrix = effects.map((a, i) => effects.map((b, j) => a * b * 1e-6 + (i === j ? 0.0045 ** 2 : 0)));
    const form = inverseForm(matrix);
    const chi2 = (e: number[]) => form(e, e);
    const rest = (e: number[]) => chi2(e) - form(effects, e) ** 2 / form(effects, effects);

    expect(chi2([0.001, 0, 0.035])).toBeCloseTo(58.23, 2);
    expect(rest([0.001, 0, 0.035])).toBeCloseTo(53.03, 2);
    expect(chi2([0.025, -0.023, 0.013])).toBeCloseTo(45.27, 2);
    expect(rest([0.025, -0.023, 0.013])).toBeCloseTo(0.143, 3);
  });

  it("agrees with Gauss elimination to 1e-12 (matrices with a condition below 1e2 lose two digits)", () => {
    fc.assert(
      fc.property(problem, ({ matrix, a, b }) => {
        const slow = byElimination(matrix, a, b);

        expect(Math.abs(inverseForm(matrix)(a, b) - slow)).toBeLessThan(1e-12 * Math.max(1, Math.abs(slow)));
      }),
    );
  });

  it("is symmetric, and positive for one vector twice", () => {
    fc.assert(
      fc.property(problem, ({ matrix, a, b }) => {
        const form = inverseForm(matrix);

        expect(Math.abs(form(a, b) - form(b, a))).toBeLessThan(1e-12);
        expect(form(a, a)).toBeGreaterThanOrEqual(0);
      }),
    );
  });

  it.each([
    ["zero", [[0]]],
    ["negative", [[-1]]],
    [
      "singular",
      [
        [1, 1],
        [1, 1],
      ],
    ],
    [
      "indefinite",
      [
        [1, 2],
        [2, 1],
      ],
    ],
    ["no number", [[Number.NaN]]],
  ])("refuses a matrix that is %s", (_, matrix) => {
    expect(() => inverseForm(matrix)).toThrow(RangeError);
  });
});
