import fc from "fast-check";
import { expect, it } from "vitest";
import { countsChart, nonconformingChart } from "../../../src/core/control-chart/attributes.js";
import { readData } from "../data/read-data.js";

// biome-ignore lint/suspicious/noExplicitAny: each case has a shape of its own
const cards = readData<any[]>("control-charts.json");

it("counts agree with NIST/SEMATECH e-Handbook 6.3.3.1; a count on the limit is inside", () => {
  const { inputs, expected } = cards.find((one) => one.id === "c-nist");

  const { values, lines } = countsChart(
    inputs.counts,
    inputs.counts.map(() => 1),
  );

  expect(lines[0]).toEqual({ centre: expected.centre, lower: expected.lcl, upper: expected.ucl });
  const out = values.flatMap((value, i) => (value > lines[i]!.upper || value < lines[i]!.lower ? i + 1 : []));
  expect(out).toEqual(expected.signals);
});

it("p and np say the same of equal subgroups, and no limit leaves 0 to 1", () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 0, max: 20 }), { minLength: 1, maxLength: 30 }), (counts) => {
      const sizes = counts.map(() => 20);
      const p = nonconformingChart("p", counts, sizes);
      const np = nonconformingChart("np", counts, sizes);
      p.lines.forEach((line, i) => {
        expect(np.lines[i]!.upper).toBeCloseTo(20 * line.upper, 9);
        expect(line.lower).toBeGreaterThanOrEqual(0);
        expect(line.upper).toBeLessThanOrEqual(1);
      });
    }),
  );
});

it("u of several pieces is c per piece with limits as far apart as √n allows", () => {
  const u = countsChart([8, 4], [4, 4]);
  expect(u.values).toEqual([2, 1]);
  expect(u.lines[0]!.upper).toBeCloseTo(1.5 + 3 * Math.sqrt(1.5 / 4), 12);
});

it("refuses what can't be", () => {
  expect(() => nonconformingChart("p", [], [])).toThrow(RangeError);
  expect(() => nonconformingChart("p", [3], [2])).toThrow(RangeError);
  expect(() => countsChart([-1], [1])).toThrow(RangeError);
  expect(() => countsChart([], [])).toThrow(RangeError);
});
