import { expect, it } from "vitest";
import { type ChartConstants, c4Of, chartConstants } from "../../../src/core/control-chart/constants.js";
import { readData } from "../data/read-data.js";

interface Constants {
  kind: string;
  source: string;
  inputs: { n: number };
  expected: { exact: Record<string, number>; published_rounded: Record<string, number> };
  abs_or_rel_tolerance: { abs_exact: number; abs_published: number };
}

const cases = readData<Constants[]>("control-charts.json").filter(({ kind }) => kind === "constants");

it.each(cases.map((card) => [card.inputs.n, card.source, card] as const))(
  "factors of subgroups of %d agree with %s",
  (n, _, { expected, abs_or_rel_tolerance: bounds }) => {
    const found: Record<string, number> = { ...chartConstants(n) };
    found.E2 = 3 / found.d2!;
    for (const [name, value] of Object.entries(expected.exact)) {
      expect(Math.abs(found[name]! - value), name).toBeLessThanOrEqual(bounds.abs_exact);
      expect(Math.abs(found[name]! - expected.published_rounded[name]!), name).toBeLessThanOrEqual(
        bounds.abs_published,
      );
    }
  },
);

it("the factors of a range grow less variable beside its mean with every reading more", () => {
  const share = ({ d2, d3 }: ChartConstants) => d3 / d2;
  for (let n = 2; n < 25; n++) {
    expect(share(chartConstants(n + 1))).toBeLessThan(share(chartConstants(n)));
    expect(c4Of(n + 1)).toBeGreaterThan(c4Of(n));
  }
});

it.each([1, 0, 2.5, Number.NaN])("refuses subgroups of %d", (n) => {
  expect(() => chartConstants(n)).toThrow(RangeError);
  expect(() => c4Of(n)).toThrow(RangeError);
});
