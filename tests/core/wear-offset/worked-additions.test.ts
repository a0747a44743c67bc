import { describe, expect, it } from "vitest";
import { gaugeDeviation, mixtureOf } from "../../../src/core/wear-offset/estimate.js";
import { forecastFeature } from "../../../src/core/wear-offset/forecast.js";
import { type Journal, type JournalReading, offsetsOf } from "../../../src/core/wear-offset/progress.js";
import { proposeChanges } from "../../../src/core/wear-offset/propose-changes.js";
import {
  adviseBefore,
  blockOf,
  changeTo,
  follow,
  journalOf,
  pm,
  readingOf,
  wideLimits,
} from "../../support/blocks.js";
import { expectDigits } from "../data/read-data.js";

describe("method J, three seats (worked twice by separate programs, the project's method note, 9.9 J)", () => {
  const block = blockOf({ seats: 3, workOffsets: [[1]], features: [{ nominal: 25, effects: [1] }] });
  const journal = journalOf(block);
  const sizes = [25.01, 25.012, 25.031, 25.011, 25.01, 25.03];
  const readings = sizes.map((size, i) => readingOf(i + 1, size, { seat: i % 3 }));
  const state = (count: number) => follow(block, journal, readings.slice(0, count)).cache.after;
  const seatForecasts = (count: number) =>
    [0, 1, 2].map((seat) => {
      const { estimate } = state(count);
      return 25 + forecastFeature(block, estimate, 0, 1, [0, 0, 0, 0], seat).expectedDeviation;
    });

  it.each([
    [3, ["0.0176642", "0.0000233", "0.0001931", "-0.0061506", "-0.0047721", "0.0119632"]],
    [6, ["0.0166983", undefined, undefined, "-0.0060366", "-0.0057466", "0.0128179"]],
  ] as const)(
    "gives level, rate, common deviation and that of every seat after piece %d",
    (count, printed) => {
      const { mean } = state(count).estimate;

      printed.forEach((digits, i) => {
        if (digits !== undefined) expectDigits(mean[i]!, digits);
      });
    },
  );

  it.each([
    [3, ["25.0117300", "25.0131085", "25.0298439"]],
    [6, ["25.0108266", "25.0111165", "25.0296811"]],
  ] as const)("forecasts every seat after piece %d", (count, printed) => {
    seatForecasts(count).forEach((size, q) => {
      expectDigits(size, printed[q]!);
    });
  });

  it.each([
    [3, -0.017, -0.012],
    [6, -0.019, -0.011],
  ])("after piece %d moves the work offset of seat 3 by %d, then the tool by %d", (count, offset, tool) => {
    const { registers, workOffsets } = adviseBefore(block, journal, state(count), count + 1);

    expect(workOffsets!.map(({ decision, changePm }) => [decision, changePm])).toEqual([
      ["leave_alone", 0],
      ["leave_alone", 0],
      ["change", pm(offset)],
    ]);
    expect(registers[0]).toMatchObject({ decision: "change", changePm: pm(tool) });
  });

  it("finds seat 3 0.558 T off the median after piece 3", () => {
    expectDigits(adviseBefore(block, journal, state(3), 4).workOffsets![2]!.worstShareBefore, "0.558");
  });
});

describe("method K, probe and reference (worked twice by separate programs, the project's method note, 9.9 K)", () => {
  const block = blockOf({ features: [{ nominal: 30, tolerance: 0.02, effects: [1], hasReference: true }] });
  const journal = journalOf(block);
  const probe = { gaugeVariance: 4.083333e-6, gauge: { id: "probe", reference: false, expandedMm: 0.006 } };
  const reference = { gaugeVariance: 6.408333e-7, gauge: { id: "ref", reference: true, expandedMm: 0.002 } };
  const readings = [
    readingOf(1, 30.014, probe),
    readingOf(1, 30.0011, reference),
    readingOf(2, 30.015, probe),
    readingOf(3, 30.0012, reference),
    readingOf(4, 30.032, probe),
    readingOf(4, 30.008, reference),
  ];
  const run = (...list: JournalReading[]) => follow(block, journal, list);
  const bias = (list: JournalReading[]) =>
    gaugeDeviation(block, run(...list).cache.after.estimate, 0, probe.gauge);
  const ahead = (list: JournalReading[]) => {
    const { after } = run(...list).cache;
    return 30 + forecastFeature(block, after.estimate, 0, 1, offsetsOf(after)).expectedDeviation;
  };
  const mean = (list: JournalReading[]) => run(...list).cache.after.estimate.mean;

  it("piece 1 by the probe alone: forecast 30.0130705, g 0.0008080 (0.0097217)", () => {
    const alone = readings.slice(0, 1);

    expectDigits(ahead(alone), "30.0130705");
    expectDigits(bias(alone).mean, "0.0008080");
    expectDigits(Math.sqrt(bias(alone).variance), "0.0097217");
  });

  it("with the reference on the same piece: g 0.0123202 (0.0021240), a 0.0011586, forecast 30.0011703", () => {
    const both = readings.slice(0, 2);

    expectDigits(bias(both).mean, "0.0123202");
    expectDigits(Math.sqrt(bias(both).variance), "0.0021240");
    expectDigits(mean(both)[0]!, "0.0011586");
    expectDigits(ahead(both), "30.0011703");
  });

  it("piece 2 by the probe: a 0.0018641, g 0.0125021, forecast 30.0018913", () => {
    const three = readings.slice(0, 3);

    expectDigits(mean(three)[0]!, "0.0018641");
    expectDigits(bias(three).mean, "0.0125021");
    expectDigits(ahead(three), "30.0018913");
  });

  it("piece 3 by the reference: a 0.0014651, b 0.0000144, g 0.0125783 (0.0020776), V + u² of the probe 1.231098e-5", () => {
    const four = readings.slice(0, 4);

    expectDigits(mean(four)[0]!, "0.0014651");
    expectDigits(mean(four)[2]!, "0.0000144");
    expectDigits(bias(four).mean, "0.0125783");
    expectDigits(Math.sqrt(bias(four).variance), "0.0020776");
    expectDigits(run(...four).cache.after.estimate.scatter[0]! + probe.gaugeVariance, "1.231098e-5");
  });

  it("piece 4: the gauges differ by 0.024, and the reference has to measure again", () => {
    const { cache, questions } = run(...readings);

    expect(questions).toMatchObject([{ piece: 4, ask: 2, reference: "gauges_disagree" }]);
    expect(cache.after.gaugesOff).toBeUndefined();
    expect(cache.after.latest[0]!.piece).toBe(3);
  });

  it("the reference stands by it: the probe is off, and both readings are used", () => {
    const again = readingOf(4, 30.008, reference);
    const { cache, questions } = run(...readings, again);

    expect(questions).toEqual([]);
    expect(cache.after.gaugesOff).toMatchObject([{ feature: 0, gauge: "probe", piece: 4 }]);
    expectDigits(cache.after.gaugesOff![0]!.byMm, "0.0114217");
    expect(cache.after.latest[0]).toMatchObject({ piece: 4, sizePm: pm(30.008) });
    expect(bias([...readings, again]).mean).toBeGreaterThan(0.02);
  });

  it("does not depend on the order in which gauges came", () => {
    const turned = [readings[1]!, readings[0]!, readings[3]!, readings[2]!];

    expect(run(...turned).cache.after).toEqual(run(...readings.slice(0, 4)).cache.after);
  });
});

describe("method P, a piece that is one of six (worked twice by separate programs, the project's method note, 9.9 P)", () => {
  const apart = [0.012, 0.012, 0.012, 0, 0, 0];

  it("gives the three cut before the change 0.9890131, m_o 0.0118682, used e 0.0001318, v_o 1.564737e-6", () => {
    const { weights, mean, used, spread } = mixtureOf(0.012, 1.6e-5, apart);

    expectDigits(
      weights.slice(0, 3).reduce((sum, w) => sum + w, 0),
      "0.9890131",
    );
    expectDigits(mean, "0.0118682");
    expectDigits(used, "0.0001318");
    expectDigits(spread, "1.564737e-6");
  });

  const block = blockOf({ features: [{ nominal: 20, tolerance: 0.02, effects: [1] }] });
  const known = [1, 2, 3, 4].map((piece) => readingOf(piece, 20.012 + 0.0001 * piece));
  const late = (more: Partial<JournalReading>) => readingOf(10, 20.0125, { pieceFrom: 5, ...more });
  const levelAfter = (journal: Journal, list: JournalReading[]) =>
    follow(block, journal, list).cache.after.estimate.mean[0]!;

  it("takes a piece from before the change as such: the level hardly moves, and nothing is odd", () => {
    const journal = journalOf(block, { changes: [changeTo(-0.012, 8)] });
    const before = levelAfter(journal, known);

    const { cache, questions } = follow(block, journal, [...known, late({})]);

    expect(questions).toEqual([]);
    expect(cache.after.suspect).toBeNull();
    expect(Math.abs(cache.after.estimate.mean[0]! - before)).toBeLessThan(0.012 / 5);
    const sure = levelAfter(journal, [...known, late({ pieceFrom: undefined })]);
    expect(sure - before).toBeGreaterThan(0.012 / 2);
  });

  it("does not take it as proof of the change", () => {
    const journal = journalOf(block, { changes: [changeTo(-0.012, 8)] });
    const { after } = follow(block, journal, [...known, late({})]).cache;

    expect(after.registers[0]).toMatchObject({ openChangeMm: -0.012, proven: false });
    expect(adviseBefore(block, journal, after, 11).registers[0]!.decision).toBe("no_reading_since_change");
  });

  it("takes it as the last piece where no change lies in the range", () => {
    const journal = journalOf(block);

    expect(levelAfter(journal, [...known, late({})])).toBe(
      levelAfter(journal, [...known, late({ pieceFrom: undefined })]),
    );
  });
});

describe("corrections with seats", () => {
  const spec = { seats: 2, features: [{ nominal: 25, effects: [1] }] };
  const readings = (...sizes: number[]) => sizes.map((size, i) => readingOf(i + 1, size, { seat: i % 2 }));

  it("never ask for a new edge because of seats, and centre the tool between them", () => {
    const block = blockOf(spec);
    const journal = journalOf(block);
    const list = readings(25.025, 24.995, 25.025, 24.995, 25.025, 24.995);

    const advice = proposeChanges(block, follow(block, journal, list).cache.after, 7, wideLimits);

    expect(advice.workOffsets).toBeUndefined();
    expect(advice.registers[0]!.decision).toBe("change");
    expect(advice.registers[0]!.changePm).toBeLessThan(pm(-0.008));
    const [one, other] = advice.seats!;
    expect(advice.before[0]).toEqual(one!.before);
    expect(one!.after.expectedDeviation).toBeCloseTo(-other!.after.expectedDeviation, 2);
  });

  it("say that no register suits where seats stand further apart than the limits", () => {
    const block = blockOf(spec);
    const list = readings(25.06, 24.98, 25.061, 24.98, 25.06, 24.981, 25.06, 24.98, 25.06, 24.98);

    const { after } = follow(block, journalOf(block), list).cache;

    expect(adviseBefore(block, journalOf(block), after, 11).registers[0]!.decision).toBe("features_disagree");
  });
});
