import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Block, shareOf } from "../../../src/core/wear-offset/block.js";
import { fromTarget } from "../../../src/core/wear-offset/forecast.js";
import {
  type ChangeLimits,
  movesTowardsWork,
  roundChange,
} from "../../../src/core/wear-offset/limit-change.js";
import {
  type JournalReading,
  type Progress,
  startProgress,
  takeJournal,
} from "../../../src/core/wear-offset/progress.js";
import { driftLead, proposeChanges } from "../../../src/core/wear-offset/propose-changes.js";
import {
  adviseBefore,
  type BlockSpec,
  blockOf,
  changeTo,
  follow,
  journalOf,
  pm,
  readingOf,
  readingsOf,
  ribBlock,
  wideLimits,
} from "../../support/blocks.js";
import { type TradeCase, tradeCase } from "../data/read-data.js";
import { lastPiece, runs, specs } from "./random-runs.js";

/** A state in which every feature's expected deviation from nominal is known and rests on two readings. */
function knownProgress(block: Block, deviations: number[], values: number[] = []): Progress {
  const progress = startProgress(block, journalOf(block, { values }));
  progress.estimate.covariance.fill(0);
  deviations.forEach((deviation, f) => {
    const held = block.features[f]!.effects.reduce((sum, effect, r) => sum + effect * (values[r] ?? 0), 0);
    progress.estimate.mean[2 * block.registers.length + f] = deviation - held;
  });
  for (const register of progress.registers) {
    Object.assign(register, { usedSinceChange: 2, usedSinceEdge: 2, readAtPm: register.valuePm });
  }
  return progress;
}

function propose(
  spec: BlockSpec,
  deviations: number[],
  limits: ChangeLimits = wideLimits,
  values: number[] = [],
) {
  const block = blockOf(spec);
  return proposeChanges(block, knownProgress(block, deviations, values), 1, limits);
}

describe("one feature and its register", () => {
  const feature = ({ inputs }: TradeCase, effect: number) => ({
    nominal: inputs.target!,
    lower: inputs.lower_limit!,
    upper: inputs.upper_limit!,
    target: inputs.target!,
    effects: [effect],
  });

  // Effects by the register conventions of the trade cases: radius register on two walls ±2, on one ±1; diameter ±1.
  it.each([
    ["ML-01", -2],
    ["ML-04", 2],
    ["ML-05", -2],
    ["ML-07", 1],
    ["TR-01", 1],
    ["TR-03", 1],
    ["TR-04", 1],
    ["TR-06", 1],
    ["LN-01", -1],
    ["LN-02", -1],
  ])("%s: the whole error, divided by the effect %d", (id, effect) => {
    const card = tradeCase(id);
    const { measured, target } = card.inputs;

    const { registers, after } = propose({ features: [feature(card, effect)] }, [measured! - target!]);

    expect(registers[0], card.source).toMatchObject({
      decision: "change",
      changePm: pm(card.expected.change!),
    });
    expect(after[0]!.expectedDeviation, card.source).toBeCloseTo(0, 12);
  });

  it("is left alone below a quarter of the way to the limit, corrected from there on", () => {
    const spec = { features: [{ nominal: 12, tolerance: 0.04, effects: [1] }] };

    expect(propose(spec, [0.00999]).registers[0]).toMatchObject({ decision: "leave_alone", changePm: 0 });
    expect(propose(spec, [0.01001]).registers[0]).toMatchObject({ decision: "change", changePm: pm(-0.01) });
    expect(propose(spec, [-0.00999]).registers[0]).toMatchObject({ decision: "leave_alone", changePm: 0 });
    expect(propose(spec, [-0.01001]).registers[0]).toMatchObject({ decision: "change", changePm: pm(0.01) });
  });

  it("measures a deviation by the limit on its side where the target stands off the middle", () => {
    const spec = { features: [{ nominal: 20, lower: 19.98, upper: 20.08, target: 20, effects: [1] }] };

    expect(propose(spec, [0.019]).registers[0]!.decision).toBe("leave_alone");
    expect(propose(spec, [0.021]).registers[0]!.decision).toBe("change");
    expect(propose(spec, [-0.006]).registers[0]!.decision).toBe("change");
  });

  it("aims at the target of a feature with one limit", () => {
    const spec = { features: [{ nominal: 3, lower: undefined, upper: 3.05, target: 3.01, effects: [1] }] };

    expect(propose(spec, [0.04]).registers[0]).toMatchObject({ decision: "change", changePm: pm(-0.03) });
    expect(propose(spec, [-0.02]).registers[0]).toMatchObject({ decision: "change", changePm: pm(0.03) });
  });

  it("moves nothing by less than half a step, though a step is coarse", () => {
    const spec = {
      features: [{ nominal: 12, tolerance: 0.01, effects: [1] }],
      registers: [{ increment: 0.01 }],
    };

    expect(propose(spec, [0.005]).registers[0]).toMatchObject({ decision: "leave_alone", changePm: 0 });
    expect(propose(spec, [0.006]).registers[0]).toMatchObject({ decision: "change", changePm: pm(-0.01) });
  });
});

describe("several features of one register", () => {
  it.each(["ML-16", "TR-07"])("%s: the change that keeps both in and serves both best", (id) => {
    const { inputs, expected, source } = tradeCase(id);
    const [one, two] = id === "ML-16" ? ["bore", "boss"] : ["d1", "d2"];
    const limits = (name: string) => ({ lower: inputs[`${name}_lower`]!, upper: inputs[`${name}_upper`]! });
    const [first, second] = [inputs[`${one}_measured`]!, inputs[`${two}_measured`]!];
    const spec = {
      features: [
        { nominal: first, ...limits(one!), effects: [id === "ML-16" ? -1 : 1] },
        { nominal: second, ...limits(two!), effects: [1] },
      ],
    };

    const { registers, after } = propose(spec, [0, 0]);

    expect(registers[0], source).toMatchObject({ decision: "change", changePm: pm(expected.change!) });
    expect(first + after[0]!.expectedDeviation).toBeCloseTo(expected[`${one}_after`]!, 9);
    expect(second + after[1]!.expectedDeviation).toBeCloseTo(expected[`${two}_after`]!, 9);
  });

  it(`TR-09: the middle of the two ends (${tradeCase("TR-09").source})`, () => {
    const { end1, end2, target } = tradeCase("TR-09").inputs;
    const end = { nominal: 25, tolerance: 0.01, effects: [1] };

    const { registers } = propose({ features: [end, end] }, [end1! - target!, end2! - target!]);

    expect(registers[0]).toMatchObject({
      decision: "change",
      changePm: pm(tradeCase("TR-09").expected.change!),
    });
  });

  it(`ML-17: the middle of three that ask for nearly the same (${tradeCase("ML-17").source})`, () => {
    const wall = { nominal: 30, tolerance: 0.03, effects: [2] };

    const { registers } = propose({ features: [wall, wall, wall] }, [0.016, 0.02, 0.024]);

    expect(registers[0]).toMatchObject({
      decision: "change",
      changePm: pm(tradeCase("ML-17").expected.change!),
    });
  });

  it("proposes nothing where no value brings all inside, though one is far out", () => {
    const { registers } = propose(
      {
        features: [
          { nominal: 12, tolerance: 0.02, effects: [1] },
          { nominal: 20, tolerance: 0.02, effects: [1] },
        ],
      },
      [0.06, -0.01],
    );

    expect(registers[0]).toMatchObject({ decision: "features_disagree", changePm: 0 });
  });
});

describe("limits of a change", () => {
  const bore = { features: [{ nominal: 20, tolerance: 0.1, effects: [-1], metal: -1 as const }] };

  it("holds a change back to the largest one, by the control's steps", () => {
    const limits = { largestChangePm: pm(0.0505), largestTowardsWorkPm: undefined };

    expect(propose(bore, [0.08], limits).registers[0]).toMatchObject({
      changePm: pm(0.05),
      clamped: "largest_change",
    });
  });

  it("holds back more where metal comes off: a bore that is too small", () => {
    const limits = { largestChangePm: pm(0.1), largestTowardsWorkPm: pm(0.03) };

    expect(propose(bore, [-0.08], limits).registers[0]).toMatchObject({
      changePm: pm(-0.03),
      clamped: "largest_towards_work",
    });
    expect(propose(bore, [0.08], limits).registers[0]).toMatchObject({
      changePm: pm(0.08),
      clamped: undefined,
    });
  });

  it("stops at the register's largest total, on both sides", () => {
    const held = { ...bore, registers: [{ largestTotal: 0.15 }] };

    const up = propose(held, [0.09], wideLimits, [0.1]).registers[0];
    const down = propose(held, [-0.09], wideLimits, [-0.1]).registers[0];

    expect(up).toMatchObject({ decision: "change", changePm: pm(0.05), clamped: "largest_total" });
    expect(down).toMatchObject({ decision: "change", changePm: pm(-0.05), clamped: "largest_total" });
  });

  it(`DR-08: gives no further change beyond the largest total, but one back from it (${tradeCase("DR-08").source})`, () => {
    const { total_wear, shop_limit } = tradeCase("DR-08").inputs;
    const held = { ...bore, registers: [{ largestTotal: shop_limit! }] };

    expect(propose(held, [-0.09], wideLimits, [total_wear!]).registers[0]).toMatchObject({
      decision: "largest_total_reached",
      changePm: tradeCase("DR-08").expected.change,
    });
    expect(propose(held, [0.09], wideLimits, [total_wear!]).registers[0]).toMatchObject({
      changePm: pm(0.09),
    });
  });

  it("counts the total of a whole length from its start value", () => {
    const held = { ...bore, registers: [{ largestTotal: 0.15 }] };
    const block = blockOf(held);
    const progress = knownProgress(block, [0.09]);
    Object.assign(progress.registers[0]!, { valuePm: pm(150.1), zeroPm: pm(150) });
    progress.estimate.mean[2] = 0.19;

    expect(proposeChanges(block, progress, 1, wideLimits).registers[0]).toMatchObject({
      changePm: pm(0.05),
      clamped: "largest_total",
    });
  });
});

describe("what a change must rest on", () => {
  const rib = ribBlock();

  it("is a second reading where a single one asks for more than 3 h", () => {
    const journal = journalOf(rib);
    const [one, two] = [readingOf(1, 12.11), readingOf(1, 12.111)];

    const single = follow(rib, journal, [one]).cache.after;
    const both = follow(rib, journal, [one, two]).cache.after;

    expect(adviseBefore(rib, journal, single, 2).registers[0]).toMatchObject({
      decision: "confirm_large_move",
      changePm: 0,
    });
    // By hand: 0.1105·(1 − R/S)/2 = 0.0549 with R and S of the method's example A, piece 1.
    expect(adviseBefore(rib, journal, both, 2).registers[0]).toMatchObject({
      decision: "change",
      changePm: pm(-0.055),
    });
  });

  it(`DB-01: a piece cut before the last change asks for nothing (${tradeCase("DB-01").source})`, () => {
    const shaft = blockOf({
      features: [{ nominal: 50, lower: 49.975, upper: 50, target: 49.988, effects: [1] }],
    });
    const { part13_measured, earlier_change, change_effective_from_part } = tradeCase("DB-01").inputs;
    const journal = journalOf(shaft, { changes: [changeTo(earlier_change!, change_effective_from_part!)] });
    const readings = [readingOf(12, 50.012), readingOf(13, part13_measured!)];

    const [advice] = adviseBefore(shaft, journal, follow(shaft, journal, readings).cache.after, 16).registers;

    expect(advice).toMatchObject({
      decision: "no_reading_since_change",
      changePm: tradeCase("DB-01").expected.change,
    });
  });

  it("never is a reading from before the last change", () => {
    const changed = runs({ maxChanges: 2 }).chain((run) =>
      fc.record({
        run: fc.constant(run),
        register: fc.nat({ max: 59 }),
        valueUm: fc.integer({ min: 41, max: 60 }),
      }),
    );
    fc.assert(
      fc.property(changed, ({ run: { block, journal, readings }, ...loose }) => {
        const register = loose.register % block.registers.length;
        const late = changeTo(loose.valueUm / 1000, lastPiece + 1, { register });
        const changes = [...journal.changes.filter(({ piece }) => piece <= lastPiece), late];
        const { after } = follow(block, { ...journal, changes }, readings).cache;

        const advice = adviseBefore(block, { ...journal, changes }, after, lastPiece + 2).registers[
          register
        ]!;

        expect(advice).toMatchObject({ decision: "no_reading_since_change", changePm: 0 });
      }),
    );
  });
});

describe("two registers that share a feature", () => {
  const spec = specs[2]!;

  it("corrects the one that is off and leaves the other, whichever it is (slot and wall)", () => {
    // The wall belongs to register 0 alone: on size there, the slot's error is register 1's.
    expect(propose(spec, [-0.015, 0]).registers.map(({ changePm }) => changePm)).toEqual([0, pm(-0.015)]);
    // Both off by the same in register 0.
    expect(propose(spec, [-0.015, 0.015]).registers.map(({ changePm }) => changePm)).toEqual([pm(-0.015), 0]);
  });

  it("corrects each by what the state ascribes to it where both are off", () => {
    const block = blockOf(spec);
    const progress = knownProgress(block, [0, 0]);
    progress.estimate.mean.splice(0, 2, 0.02, 0.015);

    const { registers } = proposeChanges(block, progress, 1, wideLimits);

    expect(registers.map(({ changePm }) => changePm)).toEqual([pm(-0.02), pm(-0.015)]);
  });

  it("sweeps three times over both where the state ascribes the error to neither (by hand)", () => {
    // Slot −0.035, wall +0.020: −0.029 and −0.006, then −0.0254 and −0.0096, then −0.02324 and −0.01176.
    const { registers } = propose(spec, [-0.035, 0.02]);

    expect(registers.map(({ changePm }) => changePm)).toEqual([pm(-0.023), pm(-0.012)]);
    expect(registers[0]!.wantedMm).toBeCloseTo(-0.02324, 9);
    expect(registers[1]!.wantedMm).toBeCloseTo(-0.01176, 9);
  });

  it("keeps the earlier in the list where either would do", () => {
    const block = blockOf({ ...spec, features: [spec.features[0]!, { ...spec.features[0]!, nominal: 18 }] });
    const progress = knownProgress(block, [0, 0]);
    progress.estimate.mean.splice(0, 2, 0.01, 0.01);

    const { registers } = proposeChanges(block, progress, 1, wideLimits);

    expect(registers.map(({ changePm }) => changePm)).toEqual([pm(-0.02), 0]);
  });

  it("asks the other anew where one may not go all the way", () => {
    // The wall needs register 0 down by 0.029, and the slot then register 1 up by as much.
    const block = blockOf({ ...spec, registers: [{ tool: 0, largestTotal: 0.01 }, { tool: 1 }] });
    const progress = knownProgress(block, [0, 0]);
    progress.estimate.mean.splice(0, 2, 0.029, -0.029);

    const { registers, after } = proposeChanges(block, progress, 1, wideLimits);

    expect(registers[0]).toMatchObject({ changePm: pm(-0.01), clamped: "largest_total" });
    expect(registers[1]).toMatchObject({ decision: "change", changePm: pm(0.01) });
    expect(after[0]!.expectedDeviation).toBeCloseTo(0, 12);
  });

  it("moves neither while a large move of one has to be confirmed", () => {
    const block = blockOf(spec);
    const progress = knownProgress(block, [0, 0]);
    progress.estimate.mean.splice(0, 2, 0.01, 0.07);
    progress.registers[1]!.usedSinceEdge = 1;

    const { registers } = proposeChanges(block, progress, 1, wideLimits);

    expect(registers.map(({ decision, changePm }) => [decision, changePm])).toEqual([
      ["confirm_large_move", 0],
      ["confirm_large_move", 0],
    ]);
  });

  it("moves one alone only for a gain of a quarter of the way", () => {
    fc.assert(
      fc.property(runs({ of: [spec] }), ({ block, journal, readings }) => {
        const { after } = follow(block, journal, readings).cache;
        const { registers } = adviseBefore(block, journal, after, lastPiece + 1);
        const moved = registers.filter(({ changePm }) => changePm !== 0);
        const others = registers.filter(({ decision }) => decision === "features_disagree");

        if (moved.length === 1 && others.length === 0) {
          expect(moved[0]!.worstShareBefore - moved[0]!.worstShareAfter).toBeGreaterThanOrEqual(0.25 - 1e-9);
        }
      }),
      { numRuns: 500 },
    );
  });

  it("does not move a register that has no reading since its change", () => {
    const block = blockOf(spec);
    const progress = knownProgress(block, [-0.015, 0]);
    progress.registers[1]!.openChangeMm = 0.01;

    const { registers } = proposeChanges(block, progress, 1, wideLimits);

    expect(registers[1]).toMatchObject({ decision: "no_reading_since_change", changePm: 0 });
  });
});

describe("any proposed change", () => {
  const limit = fc.integer({ min: 1, max: 80 });
  const cases = fc.record({
    run: runs(),
    largest: limit,
    towards: fc.option(limit, { nil: undefined }),
    total: fc.option(limit, { nil: undefined }),
    incrementUm: fc.constantFrom(1, 2, 5),
  });

  /** The advice with limits of its own, and what it was given. */
  function adviseWithin({
    run,
    largest,
    towards,
    total,
    incrementUm,
  }: typeof cases extends fc.Arbitrary<infer T> ? T : never) {
    const registers = run.block.registers.map((register) => ({
      ...register,
      leastIncrementPm: incrementUm * 1e6,
      largestTotalPm: total === undefined ? undefined : total * 1e6,
    }));
    const block: Block = { ...run.block, registers };
    const limits: ChangeLimits = {
      largestChangePm: largest * 1e6,
      largestTowardsWorkPm: towards === undefined ? undefined : towards * 1e6,
    };
    const { after } = follow(block, run.journal, run.readings).cache;
    return {
      block,
      limits,
      progress: after,
      advice: adviseBefore(block, run.journal, after, lastPiece + 1, limits),
    };
  }

  it("is a multiple of the control's step and within every limit", () => {
    fc.assert(
      fc.property(cases, (given) => {
        const { block, limits, advice } = adviseWithin(given);

        for (const { register: r, changePm, valueNowPm, decision } of advice.registers) {
          const { leastIncrementPm, largestTotalPm } = block.registers[r]!;
          expect(Math.abs(changePm % leastIncrementPm)).toBe(0);
          expect(decision === "change").toBe(changePm !== 0);
          expect(Math.abs(changePm)).toBeLessThanOrEqual(limits.largestChangePm);
          if (limits.largestTowardsWorkPm !== undefined && movesTowardsWork(block, r, changePm)) {
            expect(Math.abs(changePm)).toBeLessThanOrEqual(limits.largestTowardsWorkPm);
          }
          if (largestTotalPm !== undefined && changePm !== 0) {
            const most = Math.max(largestTotalPm, Math.abs(valueNowPm));
            expect(Math.abs(valueNowPm + changePm)).toBeLessThanOrEqual(most);
          }
        }
      }),
      { numRuns: 300 },
    );
  });

  it("never makes the worst feature worse, but for half a step of rounding and the leads of further registers", () => {
    fc.assert(
      fc.property(cases, (given) => {
        const { block, advice } = adviseWithin(given);
        const worst = (list: typeof advice.before) =>
          Math.max(
            ...block.features.map((feature, f) =>
              Math.abs(shareOf(fromTarget(block, f, list[f]!.expectedDeviation), feature)),
            ),
          );
        const halfSteps = block.registers.reduce(
          (sum, { leastIncrementPm, halfMoveMm }) => sum + leastIncrementPm / 2e9 / halfMoveMm,
          0,
        );
        // A quarter of gain covers the lead of one register; those of others that move the same feature come on top.
        const leads = advice.registers.map(({ register, changePm, leadMm }) =>
          changePm === 0 ? 0 : Math.abs(leadMm) / block.registers[register]!.halfMoveMm,
        );
        const furtherLeads = leads.reduce((sum, lead) => sum + lead, 0) - Math.max(...leads);

        if (advice.registers.some(({ changePm }) => changePm !== 0)) {
          expect(worst(advice.after)).toBeLessThanOrEqual(
            worst(advice.before) + halfSteps + furtherLeads + 1e-9,
          );
        }
      }),
      { numRuns: 1000 },
    );
  });

  it("is judged by the state at the piece before it is cut, whatever was asked in between", () => {
    fc.assert(
      fc.property(runs(), ({ block, journal, readings }) => {
        const { after } = follow(block, journal, readings).cache;
        const untouched = JSON.stringify(after);

        const first = adviseBefore(block, journal, after, lastPiece + 1);
        adviseBefore(block, journal, after, lastPiece + 9);

        expect(JSON.stringify(after)).toBe(untouched);
        expect(adviseBefore(block, journal, after, lastPiece + 1)).toEqual(first);
      }),
      { numRuns: 50 },
    );
  });
});

describe("roundChange", () => {
  it("is the nearest step, halves toward zero, for either sign", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -1e9, max: 1e9 }),
        fc.constantFrom(1e5, 1e6, 254e3, 5e6),
        (wanted, step) => {
          const rounded = roundChange(wanted, step);

          expect(Math.abs(rounded % step)).toBe(0);
          expect(Math.abs(rounded - wanted)).toBeLessThanOrEqual(step / 2);
          expect(roundChange(-wanted, step) + 0).toBe(-rounded + 0);
          if ((2 * Math.abs(wanted)) % step === 0)
            expect(Math.abs(rounded)).toBeLessThanOrEqual(Math.abs(wanted));
        },
      ),
    );
  });
});

describe("driftLead", () => {
  it("is nothing without drift, and for a drift less sure than it is large", () => {
    expect(driftLead(0, 1e-8, 0.015)).toBe(0);
    expect(driftLead(1e-4, 1.0001e-8, 0.015)).toBe(0);
  });

  it("goes with the drift, for 20 pieces at most and a quarter of h at most", () => {
    expect(driftLead(1e-4, 0, 0.015)).toBeCloseTo(1e-3, 15);
    expect(driftLead(-1e-4, 0, 0.015)).toBeCloseTo(-1e-3, 15);
    expect(driftLead(1e-2, 0, 0.015)).toBeCloseTo(0.25 * 0.015, 15);
  });

  it("is led through a proposal: the register goes further than the deviation asks", () => {
    const block = ribBlock();
    const progress = knownProgress(block, [0.024]);
    progress.estimate.mean[1] = 0.0002;
    progress.estimate.covariance[4] = 0.00008 ** 2;

    const [advice] = proposeChanges(block, progress, 0, wideLimits).registers;

    // The project's method, section 6 H.
    expect(advice).toMatchObject({ decision: "change", changePm: pm(-0.014) });
    expect(advice!.leadMm).toBeCloseTo(0.00168, 8);
  });
});

describe("takeJournal", () => {
  it("takes a change into account from its piece and cut on, not before", () => {
    const block = ribBlock();
    const journal = journalOf(block, { changes: [changeTo(0.01, 5), changeTo(0.02, 5, { cut: 2 })] });
    const valueAt = (piece: number, cut: number) => {
      const progress = startProgress(block, journal);
      takeJournal(block, journal, progress, piece, cut);
      return progress.registers[0]!.valuePm;
    };

    expect([valueAt(4, 1), valueAt(4, 3), valueAt(5, 1), valueAt(5, 2), valueAt(6, 1)]).toEqual([
      0,
      0,
      pm(0.01),
      pm(0.02),
      pm(0.02),
    ]);
  });

  it("lets a later entry of the same piece and cut stand", () => {
    const block = ribBlock();
    const journal = journalOf(block, { changes: [changeTo(0.01, 5), changeTo(-0.03, 5)] });
    const progress = startProgress(block, journal);

    takeJournal(block, journal, progress, 5);

    expect(progress.registers[0]!.valuePm).toBe(pm(-0.03));
  });
});

describe("readings of several features on one piece", () => {
  it("speak for their registers together: the wall tells the tools apart", () => {
    const block = blockOf(specs[2]!);
    const journal = journalOf(block);
    const readings = [
      ...readingsOf(1, 15.98, 8.02),
      ...readingsOf(2, 15.981, 8.02),
      ...readingsOf(3, 15.98, 8.021),
    ];

    const advice = adviseBefore(block, journal, follow(block, journal, readings).cache.after, 4);

    expect(advice.registers[0]!.changePm / 1e9).toBeCloseTo(-0.02, 2);
    expect(advice.registers[1]!.changePm).toBe(0);
  });
});

describe("a feature that was not measured since every size may have moved", () => {
  const block = blockOf({
    features: [
      { nominal: 12, tolerance: 0.03, effects: [2] },
      { nominal: 6, tolerance: 0.04, effects: [1] },
    ],
  });
  const journal = journalOf(block, { values: [0.007], events: [{ kind: "upset", piece: 1 }] });
  const decisionAfter = (...readings: ReturnType<typeof readingOf>[]) =>
    adviseBefore(block, journal, follow(block, journal, readings).cache.after, 2).registers[0]!.decision;

  it("keeps its register from being moved by what others read", () => {
    expect(decisionAfter(readingOf(1, 6, { feature: 1 }))).toBe("feature_unknown");
  });

  it("no longer does once it is measured", () => {
    expect(decisionAfter(...readingsOf(1, 12, 6))).toBe("leave_alone");
    expect(decisionAfter(...readingsOf(1, 12.016, 6.008))).toBe("change");
  });
});

describe("widths of one register that drift apart", () => {
  const widths = blockOf({
    features: [
      { nominal: 12, tolerance: 0.02, effects: [2] },
      { nominal: 14, tolerance: 0.02, effects: [2] },
    ],
  });
  const scatter = [0.002, -0.001, -0.002, 0.001, 0];
  /** Ten even pieces, then 0.03 T apart each way with every piece: beyond the limits from piece 44 on. */
  const apart = (piece: number) => Math.max(0, piece - 10) * 0.03 * 0.02;
  const sizes = (piece: number, off = apart(piece)) => {
    const noise = scatter[piece % 5]!;
    return readingsOf(piece, 12 + off + noise, 14 - off - noise / 2);
  };
  const decisionAfter = (last: number, more: JournalReading[] = [], start = journalOf(widths)) => {
    const list = Array.from({ length: last }, (_, i) => sizes(i + 1)).flat();
    const { after } = follow(widths, start, [...list, ...more]).cache;
    return adviseBefore(widths, start, after, Math.max(last, after.estimate.piece) + 1).registers[0]!
      .decision;
  };

  it("disagree as soon as the sizes do, where the state alone would say so some 15 pieces later", () => {
    const decisions = Array.from({ length: 60 }, (_, i) => decisionAfter(i + 1));
    const first = decisions.indexOf("features_disagree") + 1;

    expect(first).toBeGreaterThan(40);
    expect(first).toBeLessThan(48);
  });

  it("do not by one piece while they run near their targets", () => {
    expect(decisionAfter(14, sizes(15, 0.0205))).not.toBe("features_disagree");
  });

  it("are a dull edge's where it has cut more than half its life", () => {
    const worn = journalOf(widths, { piecesCut: [60] });

    expect(decisionAfter(48)).toBe("features_disagree");
    expect(decisionAfter(48, [], worn)).toBe("edge_worn");
  });
});
