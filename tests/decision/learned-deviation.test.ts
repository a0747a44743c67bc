import { describe, expect, it } from "vitest";
import { decideMeasured } from "../../src/decision/decide-measured.js";
import type { FeatureView } from "../../src/decision/feature-view.js";
import type { GaugeView } from "../../src/decision/gauge-view.js";
import { asJudged, sayLearned } from "../../src/decision/learned-deviation.js";
import type { Measured } from "../../src/decision/measured-value.js";

/** 30 ± 0.02 by a probe with u = 0.002 and U = 0.006, as in example K of the project's method note. */
const feature = {
  kind: "external",
  unit: "mm",
  lowerPm: 29.98e9,
  upperPm: 30.02e9,
  targetPm: 30e9,
  roomMm: 0.02,
  rule: "simple",
  guardBandFactor: 1,
  condition: undefined,
} as unknown as FeatureView;
const probe = { gaugeId: "5", variance: 4e-6, standardMm: 0.002, expandedPm: 6e6 } as unknown as GaugeView;
const sized = (sizePm: number) => ({ sizePm, state: null, result: null }) as unknown as Measured;

function judge(sizePm: number, deviationPm: number, standardPm: number, rule = "simple") {
  const read = { feature: { ...feature, rule } as FeatureView, gauge: probe, measured: sized(sizePm) };
  const judged = asJudged(read, { deviationPm, standardPm });
  const { verdict } = decideMeasured(judged.measured, judged.feature, judged.gauge.expandedPm);
  return { ...judged, verdict };
}

describe("asJudged", () => {
  it("judges a size less what the gauge reads beside the reference: on the limit it conforms", () => {
    expect(judge(30.032e9, 0.012e9, 1e6)).toMatchObject({ verdict: "conforming", unsure: false });
    expect(judge(30.032e9 + 1, 0.012e9, 1e6).verdict).toBe("nonconforming");
    expect(judge(29.97e9, -0.01e9, 1e6).verdict).toBe("conforming");
    expect(judge(29.97e9 - 1, -0.01e9, 1e6).verdict).toBe("nonconforming");
  });

  it("widens the guard band by what the deviation leaves unsure: U = √(0.006² + (2 × 0.004)²) = 0.010", () => {
    const onLimit = judge(30.022e9, 0.012e9, 4e6, "guarded_acceptance");

    expect(onLimit.gauge.expandedPm).toBe(10e6);
    expect(onLimit.verdict).toBe("conforming");
    expect(judge(30.022e9 + 1, 0.012e9, 4e6, "guarded_acceptance").verdict).toBe("uncertain");
  });

  it("goes by the feature's own rule up to u = T/4 of gauge and deviation together", () => {
    const most = Math.floor(Math.sqrt(0.005 ** 2 - 0.002 ** 2) * 1e9);

    expect(judge(30.02e9, 0, most)).toMatchObject({ unsure: false, verdict: "conforming" });
    expect(judge(30.02e9, 0, most + 1)).toMatchObject({ unsure: true, verdict: "uncertain" });
  });

  it("decides only what is beyond doubt before that: U = √(0.006² + 0.008²), and 0.010 from the limits", () => {
    const unsure = { ...probe, variance: 25e-6, standardMm: 0.005, expandedPm: 6e6 };
    const at = (sizePm: number) => {
      const judged = asJudged(
        { feature, gauge: unsure, measured: sized(sizePm) },
        { deviationPm: 0, standardPm: 4e6 },
      );
      return decideMeasured(judged.measured, judged.feature, judged.gauge.expandedPm).verdict;
    };

    expect([at(30.01e9), at(30.01e9 + 1), at(30.03e9), at(30.03e9 + 1)]).toEqual([
      "conforming",
      "uncertain",
      "uncertain",
      "nonconforming",
    ]);
  });

  it("takes twice the standard deviation of a gauge whose U nobody has entered", () => {
    const plain = { ...probe, expandedPm: undefined };
    const judged = asJudged(
      { feature, gauge: plain, measured: sized(30e9) },
      { deviationPm: 0, standardPm: 10e6 },
    );

    expect(judged.unsure).toBe(true);
    expect(judged.gauge.expandedPm).toBe(Math.round(Math.hypot(4e6, 20e6)));
  });

  it("leaves a reading alone of which no deviation is known", () => {
    const read = { feature, gauge: probe, measured: sized(30.01e9) };

    expect(asJudged(read, undefined)).toEqual({ ...read, unsure: false });
  });
});

describe("sayLearned", () => {
  it("says the arithmetic, whichever way the gauge is off", () => {
    const said = (deviationPm: number) =>
      sayLearned({ deviationPm, standardPm: 2e6 }, sized(30.031e9), feature, false).join(" ");

    expect(said(0.0125e9)).toBe(
      "Beside the reference gauge this one reads 0.0125 mm too large (± 0.004 mm). Size that is judged: 30.031 mm − 0.0125 mm = 30.0185 mm.",
    );
    expect(said(-0.004e9)).toMatch(/reads 0\.004 mm too small .* 30\.031 mm \+ 0\.004 mm = 30\.035 mm\./);
    expect(said(0)).toMatch(/taken to read right/);
  });
});
