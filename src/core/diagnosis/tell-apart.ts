import { type Diagnosis, explainedBy, type FittedCause } from "./diagnose.js";
import type { Observation, Subject } from "./observation.js";

/** Something that can be done to tell two causes apart, and what each of them lets expect of it. */
export type Test = { difference: number } & (
  | {
      do: "measure_feature";
      feature: number;
      component: Observation["component"];
      expected: [number, number];
    }
  | {
      do: "other_gauge" | "let_cool" | "repeat_pass";
      feature: number;
      component: Observation["component"];
      expected: [number, number];
    }
);

/** What could be measured besides: one observation of each feature, with the gauge that it would be measured by. */
export type Measurable = Pick<Observation, "feature" | "component" | "gauge" | "readingMm2">;

const leastDifference = 2;

/**
 * What to do to tell the first of the causes that are alike from the others: of all that could be measured that for which
 * the first cause and the next best expect the most different sizes, in standard deviations of such a reading. Another
 * feature comes before another gauge, that before waiting for the part to cool, that before cutting air.
 * @returns undefined where nothing at hand tells them apart by 2 standard deviations
 */
export function findTest(
  subject: Subject,
  observations: readonly Observation[],
  { causes, alike }: Diagnosis,
  measurable: readonly Measurable[],
): Test | undefined {
  const [first, second] = causes;
  if (alike < 2 || !first || !second || observations.length === 0) return undefined;
  const last = observations.reduce((latest, observation) =>
    observation.piece > latest.piece ? observation : latest,
  );
  const known = new Set(observations.map(({ feature, component }) => `${feature} ${component}`));
  const tests: Test[] = measurable
    .filter(({ feature, component }) => !known.has(`${feature} ${component}`))
    .flatMap((item) => {
      const next = { ...item, piece: last.piece, seat: last.seat, depthMm: undefined, deviationMm: 0 };
      return compare("measure_feature", next, [by(first, next), by(second, next)]);
    });
  for (const observation of observations) {
    const sizes: [number, number] = [by(first, observation), by(second, observation)];
    const without = (kind: FittedCause["candidate"]["kind"]): [number, number] => [
      first.candidate.kind === kind ? 0 : sizes[0],
      second.candidate.kind === kind ? 0 : sizes[1],
    ];
    if (first.candidate.kind === "gauge" || second.candidate.kind === "gauge")
      tests.push(...compare("other_gauge", observation, without("gauge")));
    if (first.candidate.kind === "warmth" || second.candidate.kind === "warmth")
      tests.push(...compare("let_cool", observation, without("warmth")));
    if (first.candidate.kind === "deflection" || second.candidate.kind === "deflection")
      tests.push(...compare("repeat_pass", observation, without("deflection")));
  }
  const order = ["measure_feature", "other_gauge", "let_cool", "repeat_pass"];
  tests.sort(
    (a, b) =>
      order.indexOf(a.do) - order.indexOf(b.do) || b.difference - a.difference || a.feature - b.feature,
  );
  return tests[0];

  function by({ candidate, fit }: FittedCause, observation: Observation): number {
    return explainedBy(candidate, [observation], fit.amounts)[0]!;
  }

  function compare(what: Test["do"], at: Observation, expected: [number, number]): Test[] {
    const { scatterMm2, ownMm2 } = subject.features[at.feature]!;
    // A second look at what was read shares the piece and the feature with the first.
    const shared = what === "measure_feature" ? scatterMm2 + ownMm2 : at.readingMm2;
    const difference = Math.abs(expected[0] - expected[1]) / Math.sqrt(shared + at.readingMm2);
    if (difference < leastDifference) return [];
    return [{ do: what, feature: at.feature, component: at.component, expected, difference }];
  }
}
