import { describe, expect, it } from "vitest";
import { type Estimate, plainPrior, startEstimate } from "../../../src/core/wear-offset/estimate.js";
import { testPiece } from "../../../src/core/wear-offset/joint-test.js";
import {
  type Journal,
  type JournalReading,
  type RegisterChange,
  startProgress,
} from "../../../src/core/wear-offset/progress.js";
import { followReadings } from "../../../src/decision/block-cache.js";
import { blockOf, changeTo, gaugeVariance, journalOf, readingOf, ribBlock } from "../../support/blocks.js";

const rib = ribBlock();

/** A state whose forecast of the rib is exactly 12 ± 0.001. */
function known(): Estimate {
  const estimate = startEstimate(rib, [plainPrior(rib, 0)], [0]);
  estimate.covariance.fill(0);
  estimate.scatter[0] = 0.001 ** 2;
  return estimate;
}

/** The rib reads `surprise` off what is expected after a change of `changeMm`. */
function test(surprise: number, changeMm?: number) {
  const reading = { feature: 0, deviation: surprise, gaugeVariance: 0, readingNos: [1] };
  return testPiece(rib, known(), [0], [reading], [changeMm]);
}

describe("testPiece", () => {
  it("calls one reading odd beyond 3.5 standard deviations, on either side", () => {
    expect([0.00349, -0.00349].map((e) => test(e).odd)).toEqual([false, false]);
    expect([0.00351, -0.00351].map((e) => test(e).odd)).toEqual([true, true]);
  });

  it("finds the jump of a single reading, but nothing certain", () => {
    const result = test(0.01);

    expect(result).toMatchObject({ odd: true, beyond: [0], register: 0, explained: true, certain: false });
    expect(result.jumpMm).toBeCloseTo(0.005, 12);
  });

  it("blames no register for a feature that none moves", () => {
    const fixed = blockOf({
      features: [{ nominal: 5, effects: [], tool: undefined }],
      lives: [],
      registers: [],
    });
    const estimate = startEstimate(fixed, [], []);

    const result = testPiece(
      fixed,
      estimate,
      [],
      [{ feature: 0, deviation: 0.1, gaugeVariance, readingNos: [1] }],
      [],
    );

    expect(result).toMatchObject({ odd: true, beyond: [0], explained: false, certain: false });
    expect(result.register).toBeUndefined();
  });

  // A change of 0.01 moves the rib by 0.02 = 20 standard deviations: each factor lies far from the next.
  it.each([
    [0.5, -0.01],
    [0, -0.02],
    [-1, -0.04],
    [2, 0.02],
  ])("names factor %d of a change by what the rib reads", (factor, surprise) => {
    expect(test(surprise, 0.01).slip).toMatchObject({ register: 0, changeMm: 0.01, factors: [factor] });
    expect(test(-surprise, -0.01).slip).toMatchObject({ register: 0, changeMm: -0.01, factors: [factor] });
  });

  it("names no factor without a change, nor where none fits", () => {
    expect(test(-0.02).slip).toBeUndefined();
    expect(test(-0.03, 0.01).slip).toBeUndefined();
    expect(test(0.008, 0.01).slip).toBeUndefined();
  });

  // The project's method, section 9.8: 12 for the evidence, 4 for the lead of one name over the next.
  it("names a factor from 12 of χ² on", () => {
    const surprise = (chi2: number) => -0.001 * Math.sqrt(chi2);

    expect(test(surprise(11.9), -surprise(11.9) / 2).slip).toBeUndefined();
    expect(test(surprise(12.1), -surprise(12.1) / 2).slip).toBeDefined();
  });

  it("names two factors, the likelier first, where they lie too close together", () => {
    // A move of the rib by 0.0038: half of it lies 1.9² = 3.6 from none of it.
    expect(test(-0.0038, 0.0019).slip?.factors).toEqual([0, 0.5]);
    expect(test(-0.0042, 0.0021).slip?.factors).toEqual([0]);
  });

  it("raises no false alarm in ordinary runs: below 1 % of 2,000 changes (0.27 % in the project's study, 9.8)", () => {
    const { changes, alarms } = runShop(2000);

    expect(changes).toBe(2000);
    expect(alarms).toBeLessThan(20);
  });

  it("finds a change that was never keyed in most cases where it is large against the spread", () => {
    const { changes, alarms } = runShop(300, { keyed: 0, least: 0.02, largest: 0.03 });

    expect(alarms / changes).toBeGreaterThan(0.5);
  });
});

/** Deterministic numbers between 0 and 1. */
function randomFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

interface Shop {
  /** Share of each change that really reaches the register. */
  keyed: number;
  /** Size of the changes, mm. */
  least: number;
  largest: number;
}

/**
 * Ordinary runs of a rib until so many changes were made: a tool some hundredths off that wears, pieces that scatter by
 * T/6, a gauge, a change of the register before every fifth piece. What surprises is measured a second time.
 */
function runShop(wanted: number, shop: Shop = { keyed: 1, least: 0.003, largest: 0.02 }) {
  const random = randomFrom(20);
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  let changes = 0;
  let alarms = 0;

  const runBatch = () => {
    const journal: Journal = journalOf(rib);
    const entered: RegisterChange[] = [];
    let progress = startProgress(rib, journal);
    let [level, value, real] = [0.03 * normal(), 0, 0];
    const rate = 0.00025 * normal();
    for (let piece = 1; piece <= 60 && changes < wanted; piece++) {
      level += rate + 0.0003 * normal();
      if (piece % 5 === 0) {
        const move = (shop.least + (shop.largest - shop.least) * random()) * (random() < 0.5 ? -1 : 1);
        value += move;
        real += shop.keyed * move;
        entered.push(changeTo(value, piece));
        changes += 1;
      }
      const size = 12 + 2 * (level + real) + 0.005 * normal();
      const measure = () => readingOf(piece, size + 0.0012 * normal());
      const [first, second] = [measure(), measure()];
      const judge = (list: JournalReading[]) =>
        followReadings(rib, { ...journal, changes: entered }, progress, list, piece);
      const once = judge([first]);
      const { after } = (once.questions.length > 0 ? judge([first, second]) : once).cache;
      if (after.cause?.slip) alarms += 1;
      if (after.cause) return;
      progress = after;
    }
  };

  while (changes < wanted) runBatch();
  return { changes, alarms };
}
