/**
 * Tests for patterns, each of which can be switched on by itself. z is the distance from the centre line in standard deviations;
 * "beyond" leaves the line itself out; where k of m count, the point that completes them is one of them.
 * @see Western Electric, Statistical Quality Control Handbook (1956); L. S. Nelson, J. Quality Technology 16 (1984) 237–239;
 *      ISO 7870-2:2013, pattern tests (all from memory)
 */
const rules = {
  western_electric_1: (z: Run) => z.outOf(1, 1, 3),
  western_electric_2: (z: Run) => z.outOf(2, 3, 2),
  western_electric_3: (z: Run) => z.outOf(4, 5, 1),
  western_electric_4: (z: Run) => z.outOf(8, 8, 0),
  nelson_1: (z: Run) => z.outOf(1, 1, 3),
  nelson_2: (z: Run) => z.outOf(9, 9, 0),
  nelson_3: (z: Run) => z.steady(6),
  nelson_4: (z: Run) => z.alternating(14),
  nelson_5: (z: Run) => z.outOf(2, 3, 2),
  nelson_6: (z: Run) => z.outOf(4, 5, 1),
  nelson_7: (z: Run) => z.last(15)?.every((x) => Math.abs(x) < 1) ?? false,
  nelson_8: (z: Run) => z.last(8)?.every((x) => Math.abs(x) > 1) ?? false,
  iso_7870_1: (z: Run) => z.outOf(1, 1, 3),
  iso_7870_2: (z: Run) => z.outOf(7, 7, 0),
  iso_7870_3: (z: Run) => z.steady(7),
};

export type RunRule = keyof typeof rules;
export const runRules = Object.keys(rules) as [RunRule, ...RunRule[]];

/**
 * Where patterns are completed.
 * @param z points of one phase in cutting order, in standard deviations from the centre line
 * @param wanted the tests that are switched on
 * @returns for each rule that fires, the index of the point that completes it
 */
export function findPatterns(
  z: readonly number[],
  wanted: readonly RunRule[],
): { rule: RunRule; at: number }[] {
  return z.flatMap((_, at) => {
    const run = new Run(z, at);
    return wanted.filter((rule) => rules[rule](run)).map((rule) => ({ rule, at }));
  });
}

/** The points up to one of them. */
class Run {
  constructor(
    private readonly z: readonly number[],
    private readonly at: number,
  ) {}

  /** The latest n points; undefined: there are fewer. */
  last(n: number): readonly number[] | undefined {
    return this.at + 1 < n ? undefined : this.z.slice(this.at + 1 - n, this.at + 1);
  }

  /** k of the latest m points, this one among them, beyond so many standard deviations on the side of this one. */
  outOf(k: number, m: number, sigmas: number): boolean {
    const now = this.z[this.at]!;
    if (!(Math.abs(now) > sigmas)) return false;
    const recent = this.z.slice(Math.max(0, this.at + 1 - m), this.at + 1);
    return recent.filter((x) => x * Math.sign(now) > sigmas).length >= k;
  }

  /** n points in a row rise, or fall; equal ones do neither. */
  steady(n: number): boolean {
    const steps = this.steps(n);
    return steps !== undefined && (steps.every((step) => step > 0) || steps.every((step) => step < 0));
  }

  /** n points in a row go up and down by turns. */
  alternating(n: number): boolean {
    const steps = this.steps(n);
    return steps?.every((step, i) => step !== 0 && (i === 0 || step * steps[i - 1]! < 0)) ?? false;
  }

  private steps(n: number): number[] | undefined {
    const run = this.last(n);
    return run?.slice(1).map((x, i) => x - run[i]!);
  }
}
