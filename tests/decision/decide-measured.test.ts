import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decideMeasured, disposeFailed } from "../../src/decision/decide-measured.js";
import type { RuledFeature } from "../../src/decision/feature-view.js";
import type { Measured } from "../../src/decision/measured-value.js";

const rules = ["simple", "guarded_acceptance", "guarded_rejection", "iso_14253"] as const;
const size = { kind: "internal", lowerPm: 10e9, upperPm: 10.2e9 } as const;
const feature: RuledFeature = {
  characteristic: "1",
  kind: "position",
  unit: "mm",
  nominalPm: 0,
  lowerPm: undefined,
  upperPm: 0.1e9,
  targetPm: 0,
  early: null,
  rule: "simple",
  guardBandFactor: 1,
  condition: { condition: "maximum", size, characteristic: null },
  gauged: null,
  threadStandard: null,
  geometric: null,
  rework: null,
};
const none: Measured = {
  sizePm: undefined,
  offsetsPm: undefined,
  featureSizePm: undefined,
  result: null,
  milliTurns: undefined,
  state: null,
};
const position = fc.integer({ min: 0, max: 0.5e9 });
const sizePm = fc.integer({ min: size.lowerPm, max: size.upperPm });
const condition = fc.constantFrom("maximum" as const, "least" as const);
const rule = fc.constantFrom(...rules);
const uncertainty = fc.integer({ min: 0, max: 0.02e9 });

const order = ["conforming", "uncertain", "nonconforming"];
const worse = (verdict: string) => order.indexOf(verdict);

describe("decideMeasured", () => {
  it("never gets better for a position that is further out", () => {
    fc.assert(
      fc.property(
        position,
        position,
        fc.option(sizePm, { nil: undefined }),
        condition,
        rule,
        uncertainty,
        (a, b, featureSizePm, at, by, u) => {
          const asked = { ...feature, rule: by, condition: { ...feature.condition!, condition: at } };
          const [near, far] = [Math.min(a, b), Math.max(a, b)].map((pm) =>
            decideMeasured({ ...none, sizePm: pm, featureSizePm }, asked, u),
          );

          expect(worse(far!.verdict)).toBeGreaterThanOrEqual(worse(near!.verdict));
          expect(far!.inside).toBe(far!.inside && near!.inside);
        },
      ),
    );
  });

  it("without a size decides only what every size inside its limits would", () => {
    fc.assert(
      fc.property(position, sizePm, condition, rule, uncertainty, (pm, featureSizePm, at, by, u) => {
        const asked = { ...feature, rule: by, condition: { ...feature.condition!, condition: at } };
        const open = decideMeasured({ ...none, sizePm: pm }, asked, u).verdict;
        const known = decideMeasured({ ...none, sizePm: pm, featureSizePm }, asked, u).verdict;

        if (open !== "uncertain") expect(known).toBe(open);
      }),
    );
  });

  it("never accepts more for a bonus than the stated tolerance and all of the size's", () => {
    fc.assert(
      fc.property(position, sizePm, condition, (pm, featureSizePm, at) => {
        const asked = { ...feature, condition: { ...feature.condition!, condition: at } };
        const { verdict, limits } = decideMeasured({ ...none, sizePm: pm, featureSizePm }, asked, undefined);

        expect(limits.upperPm).toBeLessThanOrEqual(0.3e9);
        expect(verdict === "conforming").toBe(pm <= limits.upperPm!);
      }),
    );
  });

  it("has no verdict where there is no number, whatever the kind", () => {
    for (const state of ["not_measured", "error", "over_range"] as const) {
      expect(decideMeasured({ ...none, state }, feature, undefined)).toMatchObject({
        verdict: "uncertain",
        inside: false,
      });
    }
  });
});

describe("disposeFailed", () => {
  it.each([
    ["count", null, "scrap"],
    ["count", "above", "rework"],
    ["count", "below", "scrap"],
    ["count", "either", "rework"],
    ["roughness", null, "rework"],
    ["roughness", "neither", "scrap"],
    ["form", null, "scrap"],
  ] as const)("of a %s above its limit with rework %s is %s", (kind, rework, fate) => {
    const asked = { ...feature, kind, rework, condition: undefined };
    const measured = { ...none, sizePm: 0.2e9 };

    expect(disposeFailed(measured, asked, decideMeasured(measured, asked, undefined))).toBe(fate);
  });
});
