import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { agreementPm, combineRepeats } from "../../../src/core/wear-offset/combine-repeats.js";
import { gaugeVariance, pm } from "../../support/blocks.js";

// The project's method, section 2: two readings agree within 4·√2·u_g, 0.00698 mm for this gauge.
const settled = (mm: number) => ({ settled: true, sizePm: pm(mm) });

describe("combineRepeats", () => {
  it("counts a single reading, unless it surprised", () => {
    expect(combineRepeats([pm(12)], gaugeVariance, false)).toEqual(settled(12));
    expect(combineRepeats([pm(12)], gaugeVariance, true)).toEqual({ settled: false, ask: 2 });
  });

  it("takes the mean of two that agree, however much the first surprised", () => {
    expect(combineRepeats([pm(12.24), pm(12.236)], gaugeVariance, true)).toEqual(settled(12.238));
  });

  it("asks for a third where two differ by more than 4·√2·u_g", () => {
    expect(combineRepeats([pm(12.0), pm(12.006)], gaugeVariance, false)).toEqual(settled(12.003));
    expect(combineRepeats([pm(12.0), pm(12.007)], gaugeVariance, false)).toEqual({ settled: false, ask: 3 });
  });

  it("draws the line exactly there", () => {
    const apart = Math.floor(agreementPm(gaugeVariance));

    expect(agreementPm(gaugeVariance) / 1e9).toBeCloseTo(0.00698, 5);
    expect(combineRepeats([0, apart], gaugeVariance, false).settled).toBe(true);
    expect(combineRepeats([0, apart + 1], gaugeVariance, false).settled).toBe(false);
  });

  it("takes the middle one of three that disagree, the mean of three that agree", () => {
    expect(combineRepeats([pm(12.24), pm(12.003), pm(12.002)], gaugeVariance, true)).toEqual(settled(12.003));
    expect(combineRepeats([pm(12.001), pm(12.003), pm(12.002)], gaugeVariance, true)).toEqual(
      settled(12.002),
    );
  });

  it("takes the middle two of four", () => {
    expect(combineRepeats([pm(12.24), pm(12.003), pm(12.001), pm(11)], gaugeVariance, true)).toEqual(
      settled(12.002),
    );
  });

  it("needs a reading", () => {
    expect(() => combineRepeats([], gaugeVariance, false)).toThrow(RangeError);
  });

  it("does not care in which order they came, and stays between the smallest and the largest", () => {
    const sizes = fc.array(fc.integer({ min: 0, max: 2e7 }), { minLength: 1, maxLength: 5 });
    fc.assert(
      fc.property(sizes, fc.boolean(), (list, surprising) => {
        const combined = combineRepeats(list, gaugeVariance, surprising);

        expect(combineRepeats([...list].reverse(), gaugeVariance, surprising)).toEqual(combined);
        if (combined.settled) {
          expect(combined.sizePm).toBeGreaterThanOrEqual(Math.min(...list));
          expect(combined.sizePm).toBeLessThanOrEqual(Math.max(...list));
        }
      }),
    );
  });

  it("always settles three", () => {
    const three = fc.array(fc.integer({ min: 0, max: 1e9 }), { minLength: 3, maxLength: 3 });
    fc.assert(fc.property(three, (sizes) => combineRepeats(sizes, gaugeVariance, true).settled));
  });
});
