import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { inverseForm } from "../../../src/core/statistics/quadratic-form.js";
import type { Block } from "../../../src/core/wear-offset/block.js";
import { advance, copyEstimate, type Estimate } from "../../../src/core/wear-offset/estimate.js";
import type { Journal, JournalReading, Progress } from "../../../src/core/wear-offset/progress.js";
import { type BlockCache, emptyCache, followReadings } from "../../../src/decision/block-cache.js";
import {
  adviseBefore,
  type BlockSpec,
  blockOf,
  changeTo,
  follow,
  journalOf,
  pm,
  wideLimits,
} from "../../support/blocks.js";
import { lastPiece, runs } from "./random-runs.js";

/** What a cache knows, without the order in which readings came. */
function known(cache: BlockCache) {
  const { readings: _, ...rest } = cache;
  return rest;
}

/** Follows the readings one by one, each from the stored state, as they come in piece order. */
function followOneByOne(
  block: Block,
  journal: Journal,
  readings: readonly JournalReading[],
  countedFrom: number,
) {
  let cache = emptyCache(block, journal);
  for (const reading of readings) {
    const again = reading.piece === cache.piece;
    const from = again ? cache.before : cache.after;
    const list = again ? [...cache.readings, reading] : [reading];
    cache = JSON.parse(JSON.stringify(followReadings(block, journal, from, list, countedFrom).cache));
  }
  return cache;
}

/** Entries of a covariance by the standard deviations of their row and column. */
function correlations({ mean, covariance }: Estimate): number[][] {
  const size = mean.length;
  const deviation = mean.map((_, i) => Math.sqrt(covariance[i * (size + 1)]!));
  return mean.map((_, i) => mean.map((__, j) => covariance[i * size + j]! / (deviation[i]! * deviation[j]!)));
}

describe("followReadings", () => {
  it("does not depend on the order in which readings came", () => {
    const shuffledRuns = runs().chain((run) =>
      fc.record({
        run: fc.constant(run),
        shuffled: fc.shuffledSubarray(run.readings, { minLength: run.readings.length }),
      }),
    );
    fc.assert(
      fc.property(shuffledRuns, ({ run: { block, journal, readings }, shuffled }) => {
        const inOrder = follow(block, journal, readings);
        const asTheyCame = follow(block, journal, shuffled);

        expect(known(asTheyCame.cache)).toEqual(known(inOrder.cache));
        expect(asTheyCame.questions).toEqual(inOrder.questions);
        expect(asTheyCame.checkpoints).toEqual(inOrder.checkpoints);
      }),
      { numRuns: 300 },
    );
  });

  it("gives the same state when a reading is left out afterwards as if it had never been posted", () => {
    const voided = runs().chain((run) =>
      fc.record({ run: fc.constant(run), at: fc.nat({ max: run.readings.length - 1 }) }),
    );
    fc.assert(
      fc.property(voided, ({ run: { block, journal, readings }, at }) => {
        const wrong = readings[at]!;
        const upToIt = readings.filter((reading) => reading.piece <= wrong.piece);
        const fromIt = readings.filter((reading) => reading.piece >= wrong.piece && reading !== wrong);
        const rest = readings.filter((reading) => reading !== wrong);
        const { before } = follow(block, journal, upToIt, lastPiece).cache;
        follow(block, journal, readings);

        const replayed = followReadings(block, journal, before, fromIt, lastPiece).cache.after;

        expect(replayed).toEqual(follow(block, journal, rest, lastPiece).cache.after);
      }),
      { numRuns: 300 },
    );
  });

  it("gives the same cache reading by reading, each from the stored one, as all at once", () => {
    fc.assert(
      fc.property(runs(), ({ block, journal, readings }) => {
        const oneByOne = followOneByOne(block, journal, readings, lastPiece);
        const { before, countedBefore: _, ...rest } = follow(block, journal, readings, lastPiece).cache;

        expect(oneByOne).toEqual({
          ...rest,
          before: expect.toSatisfy(sameState(before)),
          countedBefore: lastPiece,
        });
      }),
      { numRuns: 200 },
    );
  });

  it("leaves a checkpoint before every 16th measured piece that gives the same state from there on", () => {
    const block = blockOf({ features: [{ nominal: 12, effects: [2] }] });
    const journal = journalOf(block, { changes: [changeTo(-0.004, 20)] });
    const readings = Array.from({ length: 40 }, (_, k) => ({
      readingNo: k + 1,
      feature: 0,
      piece: 2 * k + 1,
      cut: 1,
      sizePm: pm(12.002 + 0.0007 * (k % 5)),
      gaugeVariance: 1.5e-6,
      steers: true,
    }));
    const { cache, checkpoints } = follow(block, journal, readings, 80);

    expect(checkpoints.map(({ piece }) => piece)).toEqual([33, 65]);
    for (const { piece, progress } of checkpoints) {
      const rest = readings.filter((reading) => reading.piece >= piece);
      expect(followReadings(block, journal, progress, rest, 80).cache.after).toEqual(cache.after);
    }
  });
});

function sameState(expected: Progress) {
  return (actual: Progress) => {
    expect(actual).toEqual(JSON.parse(JSON.stringify(expected)));
    return true;
  };
}

describe("the estimate of any run", () => {
  it("keeps its covariance symmetric and positive semidefinite (to 1e-9 of its own size)", () => {
    fc.assert(
      fc.property(runs(), ({ block, journal, readings }) => {
        const { estimate } = follow(block, journal, readings).cache.after;
        const matrix = correlations(estimate);

        for (const [i, row] of matrix.entries()) {
          for (const [j, value] of row.entries())
            expect(Math.abs(value - matrix[j]![i]!)).toBeLessThan(1e-12);
        }
        expect(() =>
          inverseForm(matrix.map((row, i) => row.map((x, j) => x + (i === j ? 1e-9 : 0)))),
        ).not.toThrow();
      }),
    );
  });

  it("is carried over d pieces as over one piece d times (to 1e-12 of its own size: sums in another order)", () => {
    fc.assert(
      fc.property(runs(), fc.integer({ min: 1, max: 60 }), ({ block, journal, readings }, d) => {
        const { estimate } = follow(block, journal, readings).cache.after;
        const [atOnce, stepwise] = [copyEstimate(estimate), copyEstimate(estimate)];

        advance(block, atOnce, estimate.piece + d);
        for (let k = 1; k <= d; k++) advance(block, stepwise, estimate.piece + k);

        expect(atOnce.piece).toBe(stepwise.piece);
        const size = estimate.mean.length;
        const deviation = stepwise.mean.map((_, i) => Math.sqrt(stepwise.covariance[i * (size + 1)]!));
        stepwise.covariance.forEach((value, at) => {
          const scale = deviation[Math.floor(at / size)]! * deviation[at % size]!;
          expect(Math.abs(atOnce.covariance[at]! - value)).toBeLessThanOrEqual(1e-12 * scale);
        });
        stepwise.mean.forEach((value, i) => {
          expect(Math.abs(atOnce.mean[i]! - value)).toBeLessThanOrEqual(1e-12 * deviation[i]!);
        });
      }),
    );
  });

  it("keeps each scatter within 0.03 and 0.6 of its room", () => {
    fc.assert(
      fc.property(runs(), ({ block, journal, readings }) => {
        const { scatter, scatterWeight } = follow(block, journal, readings).cache.after.estimate;

        block.features.forEach(({ roomMm }, f) => {
          expect(Math.sqrt(scatter[f]!)).toBeGreaterThanOrEqual(0.03 * roomMm * (1 - 1e-12));
          expect(Math.sqrt(scatter[f]!)).toBeLessThanOrEqual(0.6 * roomMm * (1 + 1e-12));
          expect(scatterWeight[f]).toBeGreaterThanOrEqual(10);
          expect(scatterWeight[f]).toBeLessThanOrEqual(60);
        });
      }),
    );
  });
});

describe("what does not matter", () => {
  it("is a register entered and taken back to the same value before any piece was cut", () => {
    const taken = fc.record({
      run: runs(),
      piece: fc.integer({ min: 1, max: lastPiece + 1 }),
      register: fc.nat({ max: 59 }),
      value: fc.integer({ min: -50, max: 50 }),
    });
    fc.assert(
      fc.property(taken, ({ run: { block, journal, readings }, piece, ...change }) => {
        const register = change.register % block.registers.length;
        // After every other entry of that piece's first cut, so that the value taken back to is the one in force.
        const at = journal.changes.filter(
          (other) => other.piece < piece || (other.piece === piece && other.cut === 1),
        ).length;
        const now =
          journal.changes.slice(0, at).findLast((other) => other.register === register)?.valuePm ?? 0;
        const there = changeTo(now / 1e9 + change.value / 1000, piece, { register });
        const changes = journal.changes.toSpliced(at, 0, there, { ...there, valuePm: now });

        const known = (entries: Journal["changes"]) =>
          withoutCounts(follow(block, { ...journal, changes: entries }, readings).cache.after);

        expect(known(changes)).toEqual(known(journal.changes));
        const advice = adviseBefore(
          block,
          { ...journal, changes },
          follow(block, { ...journal, changes }, readings).cache.after,
          lastPiece + 1,
        );
        expect(advice).toEqual(
          adviseBefore(block, journal, follow(block, journal, readings).cache.after, lastPiece + 1),
        );
      }),
      { numRuns: 300 },
    );
  });

  it("is where sizes count from: nominal sizes, limits and readings shifted by the same length", () => {
    fc.assert(
      fc.property(runs(), fc.integer({ min: -5e9, max: 500e9 }), ({ block, journal, readings }, shift) => {
        const moved: Block = {
          ...block,
          features: block.features.map((feature) => ({
            ...feature,
            programmedPm: feature.programmedPm + shift,
            lowerPm: feature.lowerPm! + shift,
            upperPm: feature.upperPm! + shift,
            targetPm: feature.targetPm + shift,
          })),
        };
        const movedReadings = readings.map((reading) => ({ ...reading, sizePm: reading.sizePm + shift }));

        const { after } = follow(block, journal, readings).cache;
        const shifted = follow(moved, journal, movedReadings).cache.after;

        // The mean of three readings is no whole picometre, and rounds elsewhere at another size.
        for (const [i, mean] of shifted.estimate.mean.entries())
          expect(mean).toBeCloseTo(after.estimate.mean[i]!, 12);
        for (const [i, p] of shifted.estimate.covariance.entries()) {
          expect(p).toBeCloseTo(after.estimate.covariance[i]!, 15);
        }
        const decided = (b: Block, progress: Progress) =>
          adviseBefore(b, journal, progress, lastPiece + 1).registers.map(({ decision, changePm }) => [
            decision,
            changePm,
          ]);
        expect(decided(moved, shifted)).toEqual(decided(block, after));
      }),
    );
  });

  it("is the unit: all lengths doubled double the advice (h is far above the prior's floor of 0.02)", () => {
    fc.assert(
      fc.property(runs(), ({ spec, journal, readings }) => {
        const [small, large] = [blockOf(spec), blockOf(scaled(spec, 2))];
        const doubled: Journal = {
          ...journal,
          changes: journal.changes.map((change) => ({ ...change, valuePm: 2 * change.valuePm })),
        };
        const largeReadings = readings.map((reading) => ({
          ...reading,
          sizePm: 2 * reading.sizePm,
          gaugeVariance: 4 * reading.gaugeVariance,
        }));

        const { after } = follow(small, journal, readings).cache;
        const twice = follow(large, doubled, largeReadings).cache.after;

        expect(twice.estimate.mean).toEqual(after.estimate.mean.map((x) => 2 * x));
        expect(twice.estimate.covariance).toEqual(after.estimate.covariance.map((x) => 4 * x));
        const advice = adviseBefore(small, journal, after, lastPiece + 1);
        const limits = { largestChangePm: 2 * wideLimits.largestChangePm, largestTowardsWorkPm: undefined };
        const adviceTwice = adviseBefore(large, doubled, twice, lastPiece + 1, limits);
        expect(adviceTwice.registers).toEqual(
          advice.registers.map((register) => ({
            ...register,
            valueNowPm: 2 * register.valueNowPm,
            changePm: 2 * register.changePm,
            wantedMm: 2 * register.wantedMm,
            leadMm: 2 * register.leadMm,
          })),
        );
      }),
    );
  });

  it("is the sign of the world: sizes and register values mirrored mirror the advice", () => {
    fc.assert(
      fc.property(runs(), ({ spec, journal, readings }) => {
        const { advice, mirrored } = adviseMirrored(spec, journal, readings, { sizes: -1, registers: -1 });

        expect(mirrored.map(({ decision }) => decision)).toEqual(advice.map(({ decision }) => decision));
        expect(mirrored.map(({ changePm }) => changePm + 0)).toEqual(
          advice.map(({ changePm }) => -changePm + 0),
        );
      }),
    );
  });

  it("is the sign of an effect: effects and sizes mirrored ask for the same change", () => {
    fc.assert(
      fc.property(runs(), ({ spec, journal, readings }) => {
        const { advice, mirrored } = adviseMirrored(spec, journal, readings, { sizes: -1, effects: -1 });

        expect(mirrored.map(({ decision, changePm }) => [decision, changePm])).toEqual(
          advice.map(({ decision, changePm }) => [decision, changePm]),
        );
      }),
    );
  });

  it("is which way a register counts: effects and register values mirrored mirror the change", () => {
    fc.assert(
      fc.property(runs(), ({ spec, journal, readings }) => {
        const { advice, mirrored } = adviseMirrored(spec, journal, readings, { effects: -1, registers: -1 });

        expect(mirrored.map(({ decision }) => decision)).toEqual(advice.map(({ decision }) => decision));
        expect(mirrored.map(({ changePm }) => changePm + 0)).toEqual(
          advice.map(({ changePm }) => -changePm + 0),
        );
      }),
    );
  });
});

/** What is known, without how many changes were read on the way to it. */
function withoutCounts({ changesTaken: _, ifReal, ...known }: Progress): unknown {
  return ifReal ? { ...known, ifReal: withoutCounts(ifReal) } : known;
}

function scaled(spec: BlockSpec, by: number): BlockSpec {
  const up = (mm: number | undefined) => (mm === undefined ? undefined : by * mm);
  return {
    ...spec,
    registers: (spec.registers ?? [{}]).map((register) => ({ ...register, increment: 0.001 * by })),
    features: spec.features.map(({ nominal, tolerance, lower, upper, target, ...rest }) => ({
      ...rest,
      nominal: by * nominal,
      ...(tolerance === undefined ? { lower: up(lower), upper: up(upper) } : { tolerance: by * tolerance }),
      ...(target === undefined ? {} : { target: by * target }),
    })),
  };
}

/** The advice on a run and on its mirror image: sizes about the nominal, effects, register values with the other sign. */
function adviseMirrored(
  spec: BlockSpec,
  journal: Journal,
  readings: readonly JournalReading[],
  turned: { sizes?: -1; effects?: -1; registers?: -1 },
) {
  const { sizes = 1, effects = 1, registers = 1 } = turned;
  const block = blockOf(spec);
  const mirror: { -readonly [K in keyof Block]: Block[K] } = {
    ...block,
    features: block.features.map((feature) => {
      const about = (pico: number) => feature.programmedPm + sizes * (pico - feature.programmedPm);
      const [one, other] = [about(feature.lowerPm!), about(feature.upperPm!)];
      const { roomAboveMm, roomBelowMm } = feature;
      return {
        ...feature,
        lowerPm: Math.min(one, other),
        upperPm: Math.max(one, other),
        targetPm: about(feature.targetPm),
        effects: feature.effects.map((effect) => effects * effect),
        roomAboveMm: sizes === 1 ? roomAboveMm : roomBelowMm,
        roomBelowMm: sizes === 1 ? roomBelowMm : roomAboveMm,
      };
    }),
  };
  if (block.workOffsets) {
    const turn = (effect: number) => effects * effect + 0;
    mirror.workOffsets = block.workOffsets.map((offset) => ({
      ...offset,
      effects: offset.effects.map(turn),
    }));
  }
  const mirrorJournal: Journal = {
    ...journal,
    changes: journal.changes.map((change) => ({ ...change, valuePm: registers * change.valuePm })),
  };
  const mirrorReadings = readings.map((reading) => {
    const { programmedPm } = block.features[reading.feature]!;
    return { ...reading, sizePm: programmedPm + sizes * (reading.sizePm - programmedPm) };
  });
  const advise = (b: Block, j: Journal, list: readonly JournalReading[]) =>
    adviseBefore(b, j, follow(b, j, list).cache.after, lastPiece + 1).registers;
  return {
    advice: advise(block, journal, readings),
    mirrored: advise(mirror, mirrorJournal, mirrorReadings),
  };
}
