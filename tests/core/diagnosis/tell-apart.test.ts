import { describe, expect, it } from "vitest";
import { diagnose } from "../../../src/core/diagnosis/diagnose.js";
import type { Observation, Subject } from "../../../src/core/diagnosis/observation.js";
import { findTest, type Measurable } from "../../../src/core/diagnosis/tell-apart.js";
import { bracket, fromTarget, readPieces } from "./simulated-part.js";

const all: Measurable[] = bracket.features.map((facts, feature) => ({
  feature,
  component: facts.kind === "position" ? "x" : "size",
  gauge: 0,
  readingMm2: 0.0015 ** 2,
}));
const silent = { normal: () => 0 };

function testFor(
  features: number[],
  cause: (observation: Observation) => number,
  measurable = all,
  subject: Subject = bracket,
) {
  const observations = readPieces(subject, [1], cause, silent, { features });
  return findTest(subject, observations, diagnose(subject, observations, fromTarget), measurable);
}

describe("findTest", () => {
  it("names the feature for which the causes expect the most different sizes", () => {
    const observations = readPieces(bracket, [1], () => 0.06, silent, { features: [0] });
    const diagnosis = diagnose(bracket, observations, fromTarget);
    const test = findTest(bracket, observations, diagnosis, all)!;
    expect(test.do).toBe("measure_feature");
    expect(test.feature).not.toBe(0);
    expect(test.difference).toBeGreaterThanOrEqual(2);
    expect(test.expected[0]).not.toBe(test.expected[1]);
    const alone = all.filter(({ feature }) => feature === test.feature);
    expect(findTest(bracket, observations, diagnosis, alone)).toEqual(test);
  });

  it("asks for another gauge where a gauge is in question and nothing else is left to measure", () => {
    const onlyGauge: Subject = {
      ...bracket,
      features: bracket.features.map((f) => ({
        ...f,
        effects: new Map(),
        depthMm: undefined,
        direction: undefined,
        at: undefined,
        kind: f.kind,
      })),
    };
    const test = testFor([0], () => 0.06, [], onlyGauge);
    expect(test).toMatchObject({ do: "other_gauge", feature: 0 });
  });

  it("asks for nothing where one cause stands out, or none", () => {
    const effects = bracket.features.map(({ effects }) => effects.get(2) ?? 0);
    expect(testFor([3, 4, 0, 1], (o) => 0.08 * effects[o.feature]!)).toBeUndefined();
    expect(testFor([0, 1, 2], () => 0)).toBeUndefined();
  });

  it("lets a part cool or repeats a pass where only that tells", () => {
    const bare = (change: object): Subject => ({
      ...bracket,
      gauges: [],
      features: bracket.features.map((f) => ({
        ...f,
        kind: "external",
        effects: new Map(),
        at: undefined,
        direction: undefined,
        depthMm: undefined,
        ...change,
      })),
    });
    expect(testFor([0], () => 0.06, [], bare({}))).toMatchObject({
      do: "let_cool",
      expected: expect.any(Array),
    });
    const bends = bare({ kind: "other", effects: new Map([[0, 2]]), depthMm: 20 });
    expect(testFor([0], () => 0.06, [], bends)).toMatchObject({ do: "repeat_pass" });
  });
});
