import { describe, expect, it } from "vitest";
import { nextBlockCheck } from "../../../src/core/sampling/block-check.js";
import type { Block } from "../../../src/core/wear-offset/block.js";
import { rememberedPrior } from "../../../src/core/wear-offset/edge-memory.js";
import {
  advance,
  copyEstimate,
  type Estimate,
  expectedDeviation,
  plainPrior,
  sizeCovariance,
  startEstimate,
  takeReading,
} from "../../../src/core/wear-offset/estimate.js";
import { forecastFeature } from "../../../src/core/wear-offset/forecast.js";
import { testPiece } from "../../../src/core/wear-offset/joint-test.js";
import { roundChange } from "../../../src/core/wear-offset/limit-change.js";
import { type Progress, startProgress } from "../../../src/core/wear-offset/progress.js";
import { driftLead, proposeChanges } from "../../../src/core/wear-offset/propose-changes.js";
import {
  adviseBefore,
  blockOf,
  changeTo,
  follow,
  gaugeVariance,
  journalOf,
  pm,
  readingOf,
  readingsOf,
  ribBlock,
  wideLimits,
} from "../../support/blocks.js";
import { expectDigits, readData } from "../data/read-data.js";

interface WorkedPiece {
  piece: number;
  reading: number;
  e: string;
  S: string;
  z: string;
  a: string;
  v: string;
  b: string;
  R: string;
}

const [exampleA] = readData<[{ source: string; pieces: WorkedPiece[] }]>("offset-method.json");

/** A state that is known exactly: expected deviations as given, no spread but each feature's scatter. */
function knownProgress(
  block: Block,
  deviations: number[],
  change: Partial<Progress["estimate"]> = {},
): Progress {
  const progress = startProgress(block, journalOf(block));
  const { estimate } = progress;
  estimate.covariance.fill(0);
  deviations.forEach((deviation, f) => {
    estimate.mean[2 * block.registers.length + f] = deviation;
  });
  Object.assign(estimate, change);
  for (const register of progress.registers)
    Object.assign(register, { usedSinceChange: 2, usedSinceEdge: 2 });
  return progress;
}

describe(`method A, one rib corrected once (${exampleA.source})`, () => {
  const block = ribBlock();
  const journal = journalOf(block, { changes: [changeTo(-0.012, 2)] });
  const readings = exampleA.pieces.map(({ piece, reading }) => readingOf(piece, reading));
  const upTo = (count: number) => follow(block, journal, readings.slice(0, count)).cache;

  it("starts from the standard deviations of the method", () => {
    const start = startEstimate(block, [plainPrior(block, 0)], [0]);

    expect(block.registers[0]!.halfMoveMm).toBeCloseTo(0.015, 15);
    expect(Math.sqrt(start.covariance[0]!)).toBeCloseTo(0.03, 12);
    expect(Math.sqrt(start.covariance[4]!)).toBeCloseTo(0.00025, 12);
    expect(Math.sqrt(start.covariance[8]!)).toBeCloseTo(0.006, 12);
    expectDigits(gaugeVariance, "1.523333e-6");
    expectDigits(start.scatter[0]! + gaugeVariance, "2.652333e-5");
  });

  it("gives every figure of the table to its last printed digit", () => {
    const estimate = startEstimate(block, [plainPrior(block, 0)], [0]);
    for (const { piece, reading, e, S, z, a, v, b, R } of exampleA.pieces) {
      advance(block, estimate, piece);

      const taken = takeReading(block, estimate, 0, reading - 12, gaugeVariance, [piece === 1 ? 0 : -0.012]);

      expectDigits(taken.surprise, e);
      expectDigits(taken.variance, S);
      expectDigits(taken.surprise / Math.sqrt(taken.variance), z);
      expectDigits(estimate.mean[0]!, a);
      expectDigits(estimate.mean[1]!, v);
      expectDigits(estimate.mean[2]!, b);
      expectDigits(estimate.scatter[0]! + gaugeVariance, R);
    }
  });

  it("reaches the same state through the journal of readings and changes", () => {
    const { estimate } = upTo(5).after;

    expect(estimate.piece).toBe(6);
    expectDigits(estimate.mean[0]!, "0.0139809");
    expectDigits(estimate.mean[1]!, "0.00004569");
    expectDigits(estimate.mean[2]!, "0.0003471");
    expectDigits(estimate.scatter[0]! + gaugeVariance, "1.863276e-5");
  });

  it("forecasts piece 2 from piece 1", () => {
    const { after } = upTo(1);

    const forecast = forecastFeature(block, after.estimate, 0, 1, [0]);

    expectDigits(12 + forecast.expectedDeviation, "12.0238285");
    expectDigits(forecast.meanDeviation, "0.0061221");
    expectDigits(forecast.pieceDeviation, "0.0077747");
    expectDigits(forecast.probabilityOut, "0.2137");
  });

  it("proposes -0.012 after piece 1: wanted -0.0119143, no lead, 0.794 of the way to 0.006", () => {
    const uncorrected = journalOf(block);
    const { after } = follow(block, uncorrected, readings.slice(0, 1)).cache;

    const [advice] = adviseBefore(block, uncorrected, after, 2).registers;

    expect(advice).toMatchObject({ decision: "change", changePm: pm(-0.012), leadMm: 0, clamped: undefined });
    expectDigits(advice!.wantedMm, "-0.0119143");
    expectDigits(advice!.worstShareBefore, "0.794");
    const left = forecastFeature(block, after.estimate, 0, 1, [-0.012]).expectedDeviation;
    expectDigits(Math.abs(left) / 0.03, "0.006");
  });

  it.each([2, 3, 4, 5])("leaves the register alone after measured piece no. %d", (count) => {
    const { after, piece } = upTo(count);

    const [advice] = adviseBefore(block, journal, after, piece + 1).registers;

    expect(advice).toMatchObject({ decision: "leave_alone", changePm: 0 });
    expect(advice!.worstShareBefore).toBeLessThan(0.25);
  });

  it("is 0.147 of the way to the limit after piece 6: below 0.25", () => {
    const { after } = upTo(5);

    expectDigits(adviseBefore(block, journal, after, 7).registers[0]!.worstShareBefore, "0.147");
  });

  it.each([
    [1, 2],
    [2, 4],
    [3, 7],
    [4, 10],
    [5, 13],
  ])("after measured piece no. %d measures piece %d next", (count, next) => {
    const { after, piece } = upTo(count);

    const check = nextBlockCheck({
      block,
      journal,
      progress: after,
      countedFrom: piece,
      questionOpen: false,
    });

    expect(check.piece).toBe(next);
  });

  it("names the jump rule as what sets piece 13: earned 8, drift and scatter as far as is asked, jumps 7", () => {
    const { after, piece } = upTo(5);

    const check = nextBlockCheck({
      block,
      journal,
      progress: after,
      countedFrom: piece,
      questionOpen: false,
    });

    expect(check).toMatchObject({
      every: 7,
      rule: "jumps",
      allowed: { earned: 8, risk: 7, jumps: 7, largest: 10, chance: 0.005 },
    });
  });
});

describe("method B, a late reading (worked twice by separate programs, the project's method note, section 6 B)", () => {
  const block = ribBlock();
  const journal = journalOf(block, { changes: [changeTo(-0.011, 4)] });
  const early = [readingOf(1, 12.02), readingOf(2, 12.021), readingOf(3, 12.022), readingOf(6, 12.004)];
  const late = readingOf(5, 12.003);

  it("stands at a = 0.0120351 before it comes", () => {
    expectDigits(follow(block, journal, early).cache.after.estimate.mean[0]!, "0.0120351");
  });

  it("takes it in as if it had come in order, and forecasts piece 7 at 12.0028947", () => {
    const { after } = follow(block, journal, [...early, late]).cache;
    const inOrder = follow(block, journal, [...early.slice(0, 3), late, early[3]!]).cache.after;

    expect(after).toEqual(inOrder);
    expectDigits(after.estimate.mean[0]!, "0.0122372");
    expectDigits(after.estimate.mean[1]!, "0.00005058");
    expectDigits(after.estimate.mean[2]!, "0.0003192");
    expectDigits(after.estimate.scatter[0]! + gaugeVariance, "1.852509e-5");
    expectDigits(12 + forecastFeature(block, after.estimate, 0, 1, [-0.011]).expectedDeviation, "12.0028947");
  });

  it("asks for nothing when 12.022 of piece 3 comes after piece 6: it is in the register already", () => {
    const { after } = follow(block, journal, [early[0]!, early[1]!, early[3]!, early[2]!]).cache;

    const [advice] = adviseBefore(block, journal, after, 7).registers;

    expect(advice).toMatchObject({ decision: "leave_alone", changePm: 0 });
  });
});

describe("method C, misreadings and a safe first cut (the project's method note, section 6 C)", () => {
  const block = ribBlock();
  const journal = journalOf(block, { changes: [changeTo(-0.012, 2)] });
  const before = [readingOf(1, 12.024), readingOf(2, 12.001)];
  const inA = exampleA.pieces[2]!;

  it.each([12.24, 120.03])("asks for a second measurement of %d", (typed) => {
    const typo = readingOf(3, typed);
    const untouched = copyEstimate(follow(block, journal, before).cache.after.estimate);

    const { cache, questions } = follow(block, journal, [...before, typo]);

    expect(questions).toMatchObject([{ feature: 0, piece: 3, ask: 2, readingNos: [typo.readingNo] }]);
    advance(block, untouched, 3);
    expect(cache.after.estimate).toEqual(untouched);
  });

  it("finds 12.240 34.5 standard deviations from what was expected", () => {
    const { estimate } = follow(block, journal, before).cache.after;
    advance(block, estimate, 3);

    const spread = Math.sqrt(sizeCovariance(block, estimate, 0, 0) + estimate.scatter[0]! + gaugeVariance);

    expectDigits((0.24 - expectedDeviation(block, estimate, 0, [-0.012])) / spread, "34.5");
  });

  it("asks for a third when the second differs by more than 0.00698, and uses the middle one", () => {
    const two = [...before, readingOf(3, 12.24), readingOf(3, 12.003)];
    const three = [...two, readingOf(3, 12.002)];

    const asked = follow(block, journal, two);
    const settled = follow(block, journal, three);

    expect(asked.questions).toMatchObject([{ piece: 3, ask: 3 }]);
    expect(settled.questions).toEqual([]);
    expect(settled.cache.after.latest[0]!.sizePm).toBe(pm(12.003));
    expectDigits(settled.cache.after.estimate.mean[0]!, inA.a);
    expectDigits(settled.cache.after.estimate.mean[1]!, inA.v);
    expectDigits(settled.cache.after.estimate.mean[2]!, inA.b);
    expectDigits(settled.cache.after.estimate.scatter[0]! + gaugeVariance, inA.R);
  });

  it("takes a safe first cut for no surprise and brings it in with one move, +0.100 to -0.006", () => {
    const safe = journalOf(block, { values: [0.1] });

    const { cache, questions } = follow(block, safe, [readingOf(1, 12.212)]);
    const [advice] = adviseBefore(block, safe, cache.after, 2).registers;

    expect(questions).toEqual([]);
    expectDigits(cache.after.estimate.mean[0]!, "0.0058975");
    expectDigits(cache.after.estimate.mean[1]!, "0.00000041");
    expectDigits(cache.after.estimate.mean[2]!, "0.0001185");
    expectDigits(advice!.wantedMm, "-0.1059572");
    expect(advice).toMatchObject({ decision: "change", changePm: pm(-0.106) });
  });
});

describe("method D, aim (by hand, the project's method note, section 6 D)", () => {
  const block = blockOf({
    features: [
      { nominal: 12, tolerance: 0.03, effects: [2] },
      { nominal: 8, tolerance: 0.03, effects: [-2] },
      { nominal: 20, tolerance: 0.05, effects: [1] },
    ],
  });

  it("moves the register so that rib and slot stand equally well: -0.007, worst share 0.5333 to 0.0667", () => {
    const progress = knownProgress(block, [0.012, -0.016, 0.01]);

    const advice = proposeChanges(block, progress, 1, wideLimits);

    expect(advice.registers[0]).toMatchObject({ decision: "change", changePm: pm(-0.007) });
    expectDigits(advice.registers[0]!.worstShareBefore, "0.5333");
    expectDigits(advice.registers[0]!.worstShareAfter, "0.0667");
    expect(advice.after.map((feature) => feature.expectedDeviation)).toEqual([
      expect.closeTo(-0.002, 12),
      expect.closeTo(-0.002, 12),
      expect.closeTo(0.003, 12),
    ]);
  });
});

describe("method E, features in conflict (by hand, the project's method note, section 6 E)", () => {
  const block = blockOf({
    features: [
      { nominal: 12, tolerance: 0.02, effects: [2] },
      { nominal: 3, tolerance: 0.02, effects: [1] },
    ],
  });
  const progressAtAge = (age: number, goodInARow = 2) => {
    const known = { scatter: [0.004 ** 2, 0.004 ** 2], piece: 200, edgeFrom: [200 - age] };
    return { ...knownProgress(block, [0.004, 0.02], known), goodInARow };
  };

  it("leaves both at 0.6 of their room with the best move, P(out) 0.02275 each", () => {
    const { registers, after } = proposeChanges(block, progressAtAge(10), 200, wideLimits);

    expect(registers[0]).toMatchObject({ decision: "change", changePm: pm(-0.008) });
    expectDigits(registers[0]!.worstShareAfter, "0.6");
    expectDigits(after[0]!.probabilityOut, "0.02275");
    expectDigits(after[1]!.probabilityOut, "0.02275");
  });

  it("asks for a new edge past half its life, not before, and not while trust is missing", () => {
    const decide = (progress: Progress) => proposeChanges(block, progress, 200, wideLimits).registers[0];

    expect(decide(progressAtAge(61))).toMatchObject({ decision: "edge_worn", changePm: 0 });
    expect(decide(progressAtAge(60))).toMatchObject({ decision: "change" });
    expect(decide(progressAtAge(61, 1))).toMatchObject({ decision: "change" });
  });

  it("asks for none while the worse feature's mean is not known to 0.15 of its room", () => {
    const spreadOf = (share: number) => {
      const progress = progressAtAge(61);
      for (const at of [10, 15]) progress.estimate.covariance[at] = (share * 0.02) ** 2;
      return proposeChanges(block, progress, 200, wideLimits).registers[0]!.decision;
    };

    expect([spreadOf(0.149), spreadOf(0.151)]).toEqual(["edge_worn", "change"]);
  });

  it("names a conflict and proposes nothing where the best move leaves a feature outside", () => {
    const { registers } = proposeChanges(block, knownProgress(block, [-0.03, 0.03]), 1, wideLimits);

    expect(registers[0]).toMatchObject({ decision: "features_disagree", changePm: 0 });
  });
});

describe("method F, one jump or none (the project's method note, section 6 F)", () => {
  const block = blockOf({
    features: [
      { nominal: 12, effects: [2] },
      { nominal: 8, effects: [-2] },
      { nominal: 20, effects: [1] },
    ],
  });
  const estimate: Estimate = startEstimate(block, [plainPrior(block, 0)], [0]);
  estimate.covariance.fill(0);
  estimate.covariance[0] = 0.001 ** 2;
  estimate.scatter.fill(0.0045 ** 2);
  const test = (...surprises: number[]) => {
    const readings = surprises.map((deviation, feature) => ({
      feature,
      deviation,
      gaugeVariance: 0,
      readingNos: [],
    }));
    return testPiece(block, estimate, [0], readings, [undefined]);
  };

  it("finds no register behind 0.001, 0, 0.035: best jump 0.00411", () => {
    const result = test(0.001, 0, 0.035);

    expect(result).toMatchObject({ odd: true, beyond: [2], explained: false, certain: false });
    expectDigits(result.jumpMm, "0.00411");
  });

  it("finds one register behind 0.025, -0.023, 0.013, beyond doubt: jump 0.01211", () => {
    const result = test(0.025, -0.023, 0.013);

    expect(result).toMatchObject({ odd: true, beyond: [0, 1], register: 0, explained: true, certain: true });
    expectDigits(result.jumpMm, "0.01211");
  });
});

describe("method G, probabilities ahead (the project's method note, section 6 G)", () => {
  it.each([
    [1, "0.00118"],
    [2, "0.00199"],
    [3, "0.00326"],
    [4, "0.00523"],
    [5, "0.00820"],
  ])(
    "is out %d pieces ahead with probability %s: 0.004 off in 0.02, 0.0008 per piece, spread 0.005",
    (ahead, out) => {
      const plain = blockOf({ features: [{ nominal: 12, tolerance: 0.02, effects: [1] }] });
      // h = 0 takes the process noise out, so that the spread stays the same as in the example.
      const block: Block = {
        ...plain,
        registers: plain.registers.map((register) => ({ ...register, halfMoveMm: 0 })),
      };
      const { estimate } = knownProgress(block, [0.004], { scatter: [0.005 ** 2] });
      estimate.mean[1] = 0.0008;

      expectDigits(forecastFeature(block, estimate, 0, ahead, [0]).probabilityOut, out);
    },
  );
});

describe("method H, lead and edge memory (the project's method note, section 6 H)", () => {
  it("leads a drift of 0.0002 ± 0.00008 by 0.00168, which makes -0.012 a move of -0.014", () => {
    const lead = driftLead(0.0002, 0.00008 ** 2, 0.015);

    expectDigits(lead, "0.00168");
    expect(roundChange(pm(-0.024 / 2 - lead), pm(0.001))).toBe(pm(-0.014));
  });

  // The note prints 0.0173869; in exact arithmetic √((0.0009 + Σ)/3) is 0.01738677.
  it("expects the next edge at 0.0104348 ± 0.0173868 after edges at 0.011 and 0.013: start register -0.010", () => {
    const plain = { level: 0, levelVariance: 0.03 ** 2, rate: 0, covariance: 0, rateVariance: 0.00025 ** 2 };

    const prior = rememberedPrior({ levels: [0.011, 0.013], rates: [] }, plain);

    expectDigits(prior.level, "0.0104348");
    expectDigits(Math.sqrt(prior.levelVariance), "0.0173868");
    expect(roundChange(pm(-prior.level), pm(0.001))).toBe(pm(-0.01));
  });
});

describe("method I, rounding and clamping (the project's method note, section 6 I)", () => {
  it.each([
    [0.0075, 0.001, 0.007],
    [0.0076, 0.001, 0.008],
    [-0.0125, 0.001, -0.012],
    [0.0005, 0.001, 0],
    [0.005, 0.01, 0],
  ])("rounds %d in steps of %d to %d, halves toward zero", (wanted, increment, rounded) => {
    expect(roundChange(pm(wanted), pm(increment))).toBe(pm(rounded));
  });

  it("holds a wanted 0.060 back to the machine's largest change of 0.050 and says so", () => {
    const block = blockOf({ features: [{ nominal: 12, tolerance: 0.1, effects: [1] }] });

    const { registers } = proposeChanges(block, knownProgress(block, [-0.06]), 1, {
      largestChangePm: pm(0.05),
      largestTowardsWorkPm: undefined,
    });

    expect(registers[0]).toMatchObject({ decision: "change", changePm: pm(0.05), clamped: "largest_change" });
    expectDigits(registers[0]!.wantedMm, "0.060");
  });
});

describe("method L, a slot between two tools (worked twice by separate programs, the project's method note, 9.9 L)", () => {
  // Registers in the order B, A.
  const block = blockOf({
    lives: [110, 70],
    registers: [{ tool: 0 }, { tool: 1 }],
    features: [
      { nominal: 16, tolerance: 0.02, effects: [-1, -1], tool: 0, metal: -1 },
      { nominal: 8, tolerance: 0.03, effects: [1, 0], tool: 0 },
    ],
  });
  const journal = journalOf(block, { events: [{ kind: "fresh_edge", piece: 3, tool: 1 }] });
  const first = [...readingsOf(1, 16.001, 8.001), ...readingsOf(2, 16.002, 8)];

  it("moves nothing after pieces 1 and 2", () => {
    for (const readings of [first.slice(0, 2), first]) {
      const { after, piece } = follow(block, journal, readings).cache;
      const advice = adviseBefore(block, journalOf(block), after, piece + 1);

      expect(advice.registers.map((register) => register.changePm)).toEqual([0, 0]);
    }
  });

  it("ascribes 15.985 to the fresh edge of A: A -0.015, B none", () => {
    const { after } = follow(block, journal, [...first, ...readingsOf(3, 15.985, 8.001)]).cache;

    const advice = adviseBefore(block, journal, after, 4);

    expectDigits(after.estimate.mean[1]!, "0.0138351");
    expectDigits(after.estimate.mean[0]!, "0.0009615");
    expectDigits(16 + advice.before[0]!.expectedDeviation, "15.9850891");
    expectDigits(8 + advice.before[1]!.expectedDeviation, "8.0007267");
    expect(advice.registers).toMatchObject([
      { decision: "leave_alone", changePm: 0 },
      { decision: "change", changePm: pm(-0.015) },
    ]);
  });
});

describe("method M, another part on the same edge (worked twice by separate programs, the project's method note, 9.9 M)", () => {
  const block = blockOf({ features: [{ nominal: 30, tolerance: 0.02, effects: [1] }] });

  it("carries 0.0140 + 5 × 0.00005 over, with (2h)² added: 0.01425 ± 0.0400556", () => {
    // The example leaves the process noise of the five pieces out: h = 0.
    const still: Block = {
      ...block,
      registers: block.registers.map((register) => ({ ...register, halfMoveMm: 0 })),
    };
    const known = { level: 0.014, rate: 0.00005, levelVariance: 4e-6, covariance: 2e-8, rateVariance: 1e-8 };
    const worn = startEstimate(still, [known], [40]);
    advance(still, worn, 5);
    const { mean, covariance } = worn;
    const carried = {
      level: mean[0]!,
      rate: mean[1]!,
      levelVariance: covariance[0]! + (2 * 0.02) ** 2,
      covariance: covariance[1]!,
      rateVariance: covariance[4]!,
    };

    const { estimate } = startProgress(block, journalOf(block, { starts: [{ carried }], piecesCut: [45] }));

    expect(estimate.mean[0]).toBeCloseTo(0.01425, 15);
    expect(estimate.mean[1]).toBe(0.00005);
    expectDigits(Math.sqrt(estimate.covariance[0]!), "0.0400556");
    expect(estimate.covariance[1]).toBeCloseTo(7e-8, 18);
    expect(estimate.covariance[3]).toBe(estimate.covariance[1]);
    expect(Math.sqrt(estimate.covariance[4]!)).toBeCloseTo(0.0001, 15);
    expect(estimate.edgeFrom).toEqual([-44]);
  });
});

describe("method N, a safe start register (worked twice by separate programs, the project's method note, 9.9 N)", () => {
  it("brings 12.112 cut at +0.050 in with -0.056", () => {
    const block = ribBlock();
    const journal = journalOf(block, { values: [0.05] });

    const { after } = follow(block, journal, [readingOf(1, 12.112)]).cache;
    const advice = adviseBefore(block, journal, after, 2);

    expectDigits(after.estimate.mean[0]!, "0.0058975");
    expectDigits(12 + advice.before[0]!.expectedDeviation, "12.1119143");
    expect(advice.registers[0]).toMatchObject({
      decision: "change",
      valueNowPm: pm(0.05),
      changePm: pm(-0.056),
    });
  });
});
