import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { combineStandards, effectiveDegrees } from "../../../src/core/statistics/combine-standards.js";
import { coverageFactor } from "../../../src/core/statistics/coverage-factor.js";
import {
  reductionStandard,
  type ThermalBody,
  thermalShares,
} from "../../../src/core/temperature/reduction-uncertainty.js";
import { readData } from "../data/read-data.js";

interface Case {
  id: string;
  kind: string;
  what: string;
  source: string;
  inputs: Record<string, string>;
  expected: Record<string, number>;
}
const cases = readData<Case[]>("temperature.json");

describe("thermalShares", () => {
  it.each(cases.filter(({ kind }) => kind === "temperature-uncertainty"))(
    "$id: $what [$source]",
    ({ inputs, expected }) => {
      const number = (name: string) => Number(inputs[name]);

      const shares = thermalShares(number("length_mm") * 1e3, {
        coefficientPerK: number("cte_1e6") * 1e-6,
        coefficientStandardPerK: number("u_cte_1e6") * 1e-6,
        from20K: number("T_minus_20"),
        temperatureStandardK: number("u_temperature_K"),
      });

      // Tolerance of the reference: 10⁻⁸ µm.
      expect(shares.ofTemperature).toBeCloseTo(expected.u_from_temperature_um!, 8);
      expect(shares.ofCoefficient).toBeCloseTo(expected.u_from_cte_um!, 8);
      expect(combineStandards([shares.ofTemperature, shares.ofCoefficient])).toBeCloseTo(
        expected.u_combined_um!,
        8,
      );
    },
  );

  const body = { coefficientPerK: 1e-5, coefficientStandardPerK: 1e-6, from20K: 5, temperatureStandardK: 1 };
  it.each([
    ["a length that is not finite", Number.NaN, body],
    ["a coefficient that is not finite", 1, { ...body, coefficientPerK: Number.POSITIVE_INFINITY }],
    ["a temperature that is not finite", 1, { ...body, from20K: Number.NaN }],
    ["an uncertainty below 0", 1, { ...body, coefficientStandardPerK: -1e-9 }],
    ["an uncertainty that is NaN", 1, { ...body, temperatureStandardK: Number.NaN }],
  ])("throws for %s", (_, length, wrong) => {
    expect(() => thermalShares(length, wrong)).toThrow(RangeError);
  });
});

interface EndGauge {
  id: string;
  source: string;
  inputs: {
    lS_mm: number;
    d_nm: number;
    alpha_S: number;
    theta_bar_C: number;
    u_components_nm: Record<"lS" | "d" | "delta_alpha" | "delta_theta", number>;
    dof: Record<"lS" | "d" | "delta_alpha" | "delta_theta", number>;
  };
  expected: Record<string, number> & { recomputed: Record<string, number> };
}

describe("the end gauge of JCGM 100:2008, H.1", () => {
  const { inputs, expected } = readData<EndGauge[]>("temperature.json").find(({ id }) => id === "gum-h1")!;
  const { u_components_nm: u, dof } = inputs;
  const names = ["lS", "d", "delta_alpha", "delta_theta"] as const;
  const parts = names.map((name) => ({ standard: u[name], degrees: dof[name] }));
  // H.1.3.4 to H.1.3.6 (from memory): u(δα) of ±1 and u(δθ) of ±0.05, u(α) of ±2, all rectangular; u(θ) = 0.41.
  const difference = {
    coefficientPerK: inputs.alpha_S,
    coefficientStandardPerK: 1e-6 / Math.sqrt(3),
    from20K: inputs.theta_bar_C,
    temperatureStandardK: 0.05 / Math.sqrt(3),
  };
  const lengthNm = inputs.lS_mm * 1e6;

  it("has the length of the standard and the difference (H.1.1)", () => {
    expect((lengthNm + inputs.d_nm) / 1e6).toBeCloseTo(expected.l_mm!, 6);
  });

  it("has the printed shares of the difference of the coefficients and of the temperatures (H.1.3)", () => {
    const { ofCoefficient, ofTemperature } = thermalShares(lengthNm, difference);

    expect(ofCoefficient.toFixed(1)).toBe(u.delta_alpha.toFixed(1));
    expect(ofTemperature.toFixed(1)).toBe(u.delta_theta.toFixed(1));
  });

  it("has the combined standard uncertainty (H.1.4)", () => {
    const combined = combineStandards(parts.map(({ standard }) => standard));

    expect(combined).toBeCloseTo(expected.recomputed.u_c_nm!, 5);
    expect(Math.round(combined)).toBe(expected.u_c_nm);
  });

  it("has the combined standard uncertainty with the terms of second order (H.1.7)", () => {
    const ofDifference = thermalShares(lengthNm, { ...difference, temperatureStandardK: 0.4062 });
    const ofStandard = thermalShares(lengthNm, {
      ...difference,
      coefficientStandardPerK: 2e-6 / Math.sqrt(3),
    });

    const combined = combineStandards([
      ...parts.map(({ standard }) => standard),
      ofDifference.ofBoth,
      ofStandard.ofBoth,
    ]);

    expect([ofDifference.ofBoth.toFixed(1), ofStandard.ofBoth.toFixed(1)]).toEqual(["11.7", "1.7"]);
    expect(Math.round(combined)).toBe(expected.u_c_with_second_order_nm);
  });

  it("has the effective degrees of freedom, cut to a whole number (H.1.6)", () => {
    const degrees = effectiveDegrees(parts);

    expect(degrees).toBeCloseTo(expected.recomputed.nu_eff_from_unrounded_uc!, 5);
    expect(Math.floor(degrees)).toBe(expected.nu_used);
    // Printed with u_c rounded to 32 before.
    const fromRounded = degrees * (32 / combineStandards(parts.map(({ standard }) => standard))) ** 4;
    expect(fromRounded).toBeCloseTo(expected.recomputed.nu_eff_from_32!, 5);
  });

  it("has the coverage factors and the expanded uncertainty (H.1.6)", () => {
    const k99 = coverageFactor(0.99, expected.nu_used!);
    const k95 = coverageFactor(0.95, expected.nu_used!);

    expect(k99).toBeCloseTo(expected.recomputed.t99_16!, 6);
    expect(k95).toBeCloseTo(expected.recomputed.k95_16!, 6);
    expect(k95.toFixed(2)).toBe(String(expected.k95));
    expect(k99.toFixed(2)).toBe(String(expected.t99));
    expect(Math.round(expected.t99! * expected.u_c_nm!)).toBe(expected.U99_nm);
  });
});

const body = fc.record({
  coefficientPerK: fc.double({ min: -5e-6, max: 3e-4, noNaN: true }),
  coefficientStandardPerK: fc.double({ min: 0, max: 1e-5, noNaN: true }),
  from20K: fc.double({ min: -60, max: 180, noNaN: true }),
  temperatureStandardK: fc.double({ min: 0, max: 3, noNaN: true }),
});
const within = fc.double({ min: 0, max: 1, noNaN: true });

describe("reductionStandard", () => {
  it("is all shares in quadrature where the temperatures are independent", () => {
    fc.assert(
      fc.property(body, body, (part, gauge) => {
        const shares = [thermalShares(100, part), thermalShares(100, gauge)].flatMap((each) =>
          Object.values(each),
        );
        expect(reductionStandard(100, part, gauge, 0)).toBeCloseTo(combineStandards(shares), 12);
      }),
    );
  });

  it("leaves nothing of a common temperature where the coefficients are equal and known", () => {
    const steel: ThermalBody = {
      coefficientPerK: 11.5e-6,
      coefficientStandardPerK: 0,
      from20K: 8,
      temperatureStandardK: 0.5,
    };

    expect(reductionStandard(100, steel, steel, 1)).toBe(0);
    expect(reductionStandard(100, steel, { ...steel, coefficientPerK: 0 }, 1)).toBeCloseTo(
      100 * 11.5e-6 * 0.5,
      15,
    );
  });

  it("is the larger the longer the part, and 0 only where nothing is unsure", () => {
    fc.assert(
      fc.property(body, body, within, (part, gauge, correlation) => {
        const one = reductionStandard(1, part, gauge, correlation);
        expect(one).toBeGreaterThanOrEqual(0);
        expect(reductionStandard(-3, part, gauge, correlation)).toBeCloseTo(3 * one, 9);
      }),
    );
    const sure = { coefficientPerK: 1e-5, coefficientStandardPerK: 0, from20K: 9, temperatureStandardK: 0 };
    expect(reductionStandard(1, sure, sure, 0)).toBe(0);
  });

  it.each([-0.1, 1.1, Number.NaN])("throws for a correlation of %d", (correlation) => {
    const any = { coefficientPerK: 1e-5, coefficientStandardPerK: 0, from20K: 9, temperatureStandardK: 1 };
    expect(() => reductionStandard(1, any, any, correlation)).toThrow(RangeError);
  });
});
