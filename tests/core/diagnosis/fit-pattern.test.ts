import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fitPattern } from "../../../src/core/diagnosis/fit-pattern.js";
import { type Observation, productOf, type Subject } from "../../../src/core/diagnosis/observation.js";
import { inverseForm } from "../../../src/core/statistics/quadratic-form.js";
import { readData } from "../data/read-data.js";
import { feature } from "./simulated-part.js";

interface Regression {
  id: string;
  source: string;
  inputs: { y: number[]; x: number[][] };
  certified: { estimates: string[]; sd_of_estimates: string[]; residual_sd: string };
}

const regressions = readData<Regression[]>("linear-regression.json");

const some = fc.double({ min: -2, max: 2, noNaN: true });
const looseObservation = fc.record({
  feature: fc.nat(2),
  component: fc.constantFrom("x", "y"),
  piece: fc.integer({ min: 1, max: 3 }),
  gauge: fc.nat(1),
  readingMm2: fc.double({ min: 1e-3, max: 1, noNaN: true }),
}) as fc.Arbitrary<Pick<Observation, "feature" | "component" | "piece" | "gauge" | "readingMm2">>;

const cases = fc.record({
  list: fc.array(fc.tuple(looseObservation, some, some, some), { minLength: 4, maxLength: 14 }),
  features: fc.array(
    fc.record({
      scatterMm2: fc.double({ min: 0, max: 1, noNaN: true }),
      ownMm2: fc.double({ min: 0, max: 4, noNaN: true }),
    }),
    {
      minLength: 3,
      maxLength: 3,
    },
  ),
});

function build({
  list,
  features,
}: {
  list: [Partial<Observation>, number, number, number][];
  features: { scatterMm2: number; ownMm2: number }[];
}) {
  const subject: Subject = {
    machineKind: "mill",
    registers: [],
    gauges: [],
    features: features.map((variances) => feature("position", 0, variances)),
  };
  const observations = list.map(
    ([loose]) => ({ ...loose, seat: undefined, depthMm: undefined, deviationMm: 0 }) as Observation,
  );
  const covariance = observations.map((a, i) =>
    observations.map((b, j) => {
      const own = a.feature === b.feature && a.component === b.component;
      const { scatterMm2, ownMm2 } = subject.features[a.feature]!;
      return (own ? ownMm2 + (a.piece === b.piece ? scatterMm2 : 0) : 0) + (i === j ? a.readingMm2 : 0);
    }),
  );
  const columns = [1, 2].map((at) => list.map((item) => item[at] as number));
  return { subject, observations, covariance, y: list.map((item) => item[3]), columns };
}

describe("productOf", () => {
  it("is a' S⁻¹ b with the whole covariance written out", () => {
    fc.assert(
      fc.property(cases, (loose) => {
        const { subject, observations, covariance, y, columns } = build(loose as never);
        const slow = inverseForm(covariance)(y, columns[0]!);
        const fast = productOf(subject, observations)(y, columns[0]!);
        expect(fast).toBeCloseTo(slow, 6);
      }),
    );
  });

  it.each([{ readingMm2: 0 }, { readingMm2: Number.NaN }])(
    "refuses a reading without variance: %o",
    (wrong) => {
      const observation = {
        feature: 0,
        component: "size",
        piece: 1,
        gauge: 0,
        seat: undefined,
        depthMm: undefined,
        deviationMm: 0,
        ...wrong,
      } as const;
      const subject: Subject = {
        machineKind: "mill",
        registers: [],
        gauges: [],
        features: [feature("length", 1)],
      };
      expect(() => productOf(subject, [observation])).toThrow(RangeError);
    },
  );

  it("refuses a variance of a feature below 0", () => {
    const observation = {
      feature: 0,
      component: "size",
      piece: 1,
      gauge: 0,
      seat: undefined,
      depthMm: undefined,
      deviationMm: 0,
      readingMm2: 1,
    } as const;
    for (const wrong of [{ ownMm2: -1 }, { scatterMm2: -1 }]) {
      const subject: Subject = {
        machineKind: "mill",
        registers: [],
        gauges: [],
        features: [feature("length", 1, wrong)],
      };
      expect(() => productOf(subject, [observation])).toThrow(RangeError);
    }
  });
});

describe("fitPattern", () => {
  it.each(regressions)(
    "agrees with NIST StRD $id in estimates, their deviations and the rest [$source]",
    (stored) => {
      const { y, x } = stored.inputs;
      const through = stored.certified.estimates.length === 1;
      const columns = [...(through ? [] : [y.map(() => 1)]), x.map((row) => row[0]!)];
      const s = Number(stored.certified.residual_sd);
      const product = (a: readonly number[], b: readonly number[]) =>
        a.reduce((sum, v, i) => sum + v * b[i]!, 0) / s ** 2;

      const fit = fitPattern(
        product,
        y,
        columns,
        columns.map(() => 1),
      )!;

      // 15 certified digits; the normal equations cost some of them.
      fit.amounts.forEach((amount, j) => {
        expect(amount / Number(stored.certified.estimates[j])).toBeCloseTo(1, 8);
        expect(fit.deviations[j]! / Number(stored.certified.sd_of_estimates[j])).toBeCloseTo(1, 8);
      });
      expect(fit.rest).toBeCloseTo(y.length - columns.length, 5);
    },
  );

  it("weighs a cause as the density of the deviations with it against without it, both written out", () => {
    fc.assert(
      fc.property(cases, fc.double({ min: 0.1, max: 3, noNaN: true }), (loose, prior) => {
        const { subject, observations, covariance, y, columns } = build(loose as never);
        const priors = [prior, 2 * prior];
        const fit = fitPattern(productOf(subject, observations), y, columns, priors);
        fc.pre(fit !== undefined);
        const withCause = covariance.map((row, i) =>
          row.map(
            (value, j) =>
              value +
              columns.reduce(
                (sum, column, c) => sum + priors[c]! * column[i]! * (priors[c]! * column[j]!),
                0,
              ),
          ),
        );
        const slow = twiceLogDensity(withCause, y) - twiceLogDensity(covariance, y);
        expect(fit!.evidence).toBeCloseTo(slow, 4);
      }),
    );
  });

  it("weighs a fixed pattern by what it leaves over alone", () => {
    const product = (a: readonly number[], b: readonly number[]) =>
      a.reduce((sum, v, i) => sum + v * b[i]!, 0);
    const fit = fitPattern(product, [3, 4], [], [], [3, 3])!;
    expect(fit).toEqual({ amounts: [], deviations: [], rest: 1, columns: 0, evidence: 24 });
  });

  it("gives nothing where columns cannot be told from each other", () => {
    const product = (a: readonly number[], b: readonly number[]) =>
      a.reduce((sum, v, i) => sum + v * b[i]!, 0);
    expect(
      fitPattern(
        product,
        [1, 2],
        [
          [1, 1],
          [2, 2],
        ],
        [1, 1],
      ),
    ).toBeUndefined();
    expect(fitPattern(product, [1, 2], [[0, 0]], [1])).toBeUndefined();
  });

  it("leaves nothing over of what follows the columns", () => {
    fc.assert(
      fc.property(cases, some, some, (loose, a, b) => {
        const { subject, observations, columns } = build(loose as never);
        const y = columns[0]!.map((value, i) => a * value + b * columns[1]![i]!);
        const fit = fitPattern(productOf(subject, observations), y, columns, [1, 1]);
        fc.pre(fit?.deviations.every((deviation) => deviation < 1e3) === true);
        expect(fit!.rest).toBeLessThan(1e-6);
        expect(fit!.amounts[0]).toBeCloseTo(a, 3);
        expect(fit!.amounts[1]).toBeCloseTo(b, 3);
      }),
    );
  });
});

/** 2 ln of the normal density without its constant, by Gauss's elimination. */
function twiceLogDensity(matrix: readonly (readonly number[])[], y: readonly number[]): number {
  const rows = matrix.map((row) => [...row]);
  let log = 0;
  rows.forEach((row, k) => {
    log += Math.log(row[k]!);
    for (let i = k + 1; i < rows.length; i++) {
      const factor = rows[i]![k]! / row[k]!;
      for (let j = k; j < rows.length; j++) rows[i]![j]! -= factor * row[j]!;
    }
  });
  return -inverseForm(matrix)(y, y) - log;
}
