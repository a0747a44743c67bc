import { expect, it } from "vitest";
import { cusumChart } from "../../../src/core/control-chart/variables.js";
import { normalCdf } from "../../../src/core/statistics/normal.js";
import { readData } from "../data/read-data.js";

interface Card {
  kind: string;
  source: string;
  inputs: { k_sigma: number; h_sigma: number; shift_sigma: number };
  expected: { arl_one_sided: number; published_two_sided: number; arl_two_sided: number };
  abs_or_rel_tolerance: { rel_exact: number; rel_published: number };
}

const cards = readData<Card[]>("control-charts.json").filter(({ kind }) => kind === "cusum-arl");
const states = 201;

/**
 * Readings until the upper sum passes h, by a Markov chain whose steps are taken by `cusumChart` itself: each state is the middle of
 * a band of the sum, and a band is reached by the readings that the chart carries into it.
 */
function runLength(shift: number, k: number, h: number): number {
  const width = (2 * h) / (2 * states - 1);
  const step = (sum: number, x: number) => cusumChart([sum + k, x], { target: 0, k, h }).above[1]!; // the first reading brings the sum to `sum`
  const rows = Array.from({ length: states }, (_, i) => {
    const from = i * width;
    const offset = step(from, 10) - 10; // from − k
    expect(offset).toBeCloseTo(from - k, 12);
    return Array.from({ length: states }, (_, j) => {
      const upper = normalCdf((j + 0.5) * width - offset - shift);
      return j === 0 ? upper : upper - normalCdf((j - 0.5) * width - offset - shift);
    });
  });
  return solve(rows);
}

/** First entry of (I − Q)⁻¹ 1, by elimination. */
function solve(q: number[][]): number {
  const a = q.map((row, i) => [...row.map((x, j) => (i === j ? 1 : 0) - x), 1]);
  const n = a.length;
  for (let i = n - 1; i > 0; i--) {
    for (let r = 0; r < i; r++) {
      const factor = a[r]![i]! / a[i]![i]!;
      if (factor === 0) continue;
      for (let c = 0; c < i; c++) a[r]![c]! -= factor * a[i]![c]!;
      a[r]![n]! -= factor * a[i]![n]!;
    }
  }
  return a[0]![n]! / a[0]![0]!;
}

it.each(cards.map((card) => [card.inputs.h_sigma, card.inputs.shift_sigma, card.source, card] as const))(
  "average run length, h = %d σ, shift %d σ: %s",
  (h, shift, _, { inputs, expected, abs_or_rel_tolerance: bounds }) => {
    const up = runLength(shift, inputs.k_sigma, h);
    const down = runLength(-shift, inputs.k_sigma, h);
    const both = 1 / (1 / up + 1 / down);

    expect(Math.abs(up / expected.arl_one_sided - 1)).toBeLessThan(bounds.rel_exact);
    expect(Math.abs(both / expected.arl_two_sided - 1)).toBeLessThan(bounds.rel_exact);
    expect(Math.abs(both / expected.published_two_sided - 1)).toBeLessThan(bounds.rel_published);
  },
);
