import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { readData } from "./read-data.js";

/** Which test takes the cases of a kind, by its path in this folder's parent; and how many cases a file holds. */
const files: Record<string, { cases: number; kinds: Record<string, string> }> = {
  "limits-and-fits.json": {
    cases: 204,
    kinds: {
      "it-table": "tolerance/fit.test.ts",
      "it-lookup": "tolerance/fit.test.ts",
      "limit-case": "tolerance/fit.test.ts",
      "deviation-table": "tolerance/fit.test.ts",
      "undefined-case": "tolerance/fit.test.ts",
      "fit-case": "tolerance/fit.test.ts",
    },
  },
  "general-tolerances.json": {
    cases: 77,
    kinds: {
      table: "tolerance/general-tolerance.test.ts",
      "linear-case": "tolerance/general-tolerance.test.ts",
      "undefined-case": "tolerance/general-tolerance.test.ts",
      "radius-case": "tolerance/general-tolerance.test.ts",
      "angle-case": "tolerance/general-tolerance.test.ts",
      "table-geometrical": "tolerance/general-tolerance.test.ts",
      "geometrical-case": "tolerance/general-tolerance.test.ts",
    },
  },
  "decision-rules.json": {
    cases: 47,
    kinds: {
      "zone-verdict": "tolerance/decide-conformity.test.ts",
      "conformance-probability": "tolerance/conformity-risk.test.ts",
      "global-risk": "tolerance/conformity-risk.test.ts",
      "guard-band": "tolerance/guard-band.test.ts",
      "guard-band-2percent": "tolerance/guard-band.test.ts",
      "measurement-capability": "tolerance/gauge-fitness.test.ts",
    },
  },
  "acceptance-sampling.json": {
    cases: 121,
    kinds: {
      table: "sampling/single-plans.test.ts",
      "code-letter": "sampling/single-plans.test.ts",
      "single-plan": "sampling/single-plans.test.ts",
      switching: "sampling/switching.test.ts",
      "switching-score": "sampling/switching.test.ts",
      oc: "sampling/operating-characteristic.test.ts",
      csp1: "sampling/continuous-plan.test.ts",
      "csp1-aoql": "sampling/continuous-plan.test.ts",
      "csp1-design": "sampling/continuous-plan.test.ts",
      "csp1-simulation": "sampling/continuous-plan.test.ts",
    },
  },
  "temperature.json": {
    cases: 50,
    kinds: {
      cte: "temperature/materials.test.ts",
      "length-at-20": "temperature/size-at-20.test.ts",
      differential: "temperature/size-at-20.test.ts",
      "temperature-uncertainty": "temperature/reduction-uncertainty.test.ts",
      "gum-end-gauge": "temperature/reduction-uncertainty.test.ts",
    },
  },
  "geometry.json": {
    cases: 35,
    kinds: {
      "true-position": "tolerance/position.test.ts",
      "bonus-tolerance": "tolerance/material-condition.test.ts",
      "circle-fit": "geometry/fit-circle.test.ts",
      "line-fit": "geometry/fit-line.test.ts",
      "plane-fit": "geometry/fit-plane.test.ts",
    },
  },
  "nist-strd.json": {
    cases: 10,
    kinds: {
      univariate: "statistics/nist-strd.test.ts",
      "linear-regression": "statistics/nist-strd.test.ts",
    },
  },
  "gauge-rr.json": {
    cases: 22,
    kinds: {
      "average-and-range": "gauge-study/crossed.test.ts",
      anova: "gauge-study/crossed.test.ts",
      "variance-components": "gauge-study/crossed.test.ts",
      constants: "gauge-study/crossed.test.ts",
      "percent-tolerance": "gauge-study/crossed.test.ts",
      "nested-gauge-study": "gauge-study/crossed.test.ts",
    },
  },
  "units.json": {
    cases: 55,
    kinds: {
      "inch-to-mm": "quantity.test.ts",
      "mm-to-inch": "quantity.test.ts",
      "toleranced-conversion": "quantity.test.ts",
      "inch-fraction": "angles-and-units.test.ts",
      "small-units": "angles-and-units.test.ts",
      "dms-to-degrees": "angles-and-units.test.ts",
      "degrees-to-dms": "angles-and-units.test.ts",
    },
  },
  "control-charts.json": {
    cases: 47,
    kinds: {
      constants: "control-chart/constants.test.ts",
      ewma: "control-chart/variables.test.ts",
      cusum: "control-chart/variables.test.ts",
      "cusum-arl": "control-chart/run-lengths.test.ts",
      individuals: "control-chart/variables.test.ts",
      xbar: "control-chart/variables.test.ts",
      attributes: "control-chart/attributes.test.ts",
      "run-rules": "control-chart/run-rules.test.ts",
      "false-alarm": "control-chart/run-rules.test.ts",
    },
  },
  "capability.json": {
    cases: 32,
    kinds: {
      indices: "performance/indices.test.ts",
      confidence: "performance/indices.test.ts",
      "indices-from-data": "performance/indices.test.ts",
      fallout: "performance/indices.test.ts",
    },
  },
  "exactness.json": {
    cases: 48,
    kinds: {
      "on-limit": "quantity.test.ts",
      "just-outside": "quantity.test.ts",
      "inch-drawing": "quantity.test.ts",
      "inch-reading": "quantity.test.ts",
      "accumulated-offset": "quantity.test.ts",
      rounding: "quantity.test.ts",
      "true-position-limit": "limit-of-exactness.test.ts",
      "angle-limit": "limit-of-exactness.test.ts",
    },
  },
};

/** Cases without a test of their own, each with the reason. */
const notApplicable: Record<string, string> = {
  zones: "states the zones in words, which the cases of zone-verdict put into numbers",
};

/** Sources of this folder's modules that a test imports. */
function helpersOf(source: string): string {
  return [...source.matchAll(/"[./]*data\/([\w-]+)\.js"/g)]
    .map(([, name]) => readFileSync(new URL(`${name}.ts`, import.meta.url), "utf8"))
    .join("");
}

describe.each(Object.entries(files))("%s", (file, { cases: count, kinds }) => {
  const cases = readData<{ id: string; kind: string }[]>(file);

  it("has every case in a test, or a reason why not", () => {
    expect(cases).toHaveLength(count);
    const left = cases.filter(({ id, kind }) => !(kind in kinds) && !(id in notApplicable));
    expect(left).toEqual([]);
  });

  it.each(Object.entries(kinds))("has its kind %s read by %s", (kind, test) => {
    const source = readFileSync(new URL(`../${test}`, import.meta.url), "utf8");

    const ids = cases.filter((each) => each.kind === kind).map(({ id }) => id);

    expect(ids).not.toEqual([]);
    expect(source + helpersOf(source)).toContain(`"${file}"`);
    expect([kind, ...ids].some((name) => source.includes(`"${name}"`))).toBe(true);
  });
});

it("gives a reason only for cases that exist and have no test", () => {
  const all = Object.entries(files).flatMap(([file, { kinds }]) =>
    readData<{ id: string; kind: string }[]>(file).map(({ id, kind }) => ({ id, tested: kind in kinds })),
  );
  for (const id of Object.keys(notApplicable)) expect(all).toContainEqual({ id, tested: false });
});
