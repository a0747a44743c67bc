import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { titleOf, tradeCase } from "../support/trade-cases.js";
import { type Answer, adviceOf, expectLeftAlone, kindsOf, startJob } from "../support/trade-job.js";

const { api } = await createTestApp();

const bore = {
  kind: "internal",
  nominal: "20",
  lower_limit: 20,
  upper_limit: 20.021,
  target: 20.01,
} as const;

function startBore(more: { quantity?: number; importance?: "key" | "critical" } = {}) {
  const { quantity, importance } = more;
  return startJob(api, {
    machine: { kind: "lathe" },
    registers: [{ controls: "x", holds: "diameter" }],
    features: [{ ...bore, ...(importance ? { importance } : {}) }],
    batch: quantity === undefined ? {} : { quantity },
  });
}

type Job = Awaited<ReturnType<typeof startBore>>;

const checksThatEarnTen = [1, 2, 4, 8, 14, 22];

async function earnTrust(job: Job, pieces: readonly number[] = checksThatEarnTen): Promise<Answer> {
  let answer: Answer;
  for (const piece of pieces) {
    answer = await job.read(piece, 20.01);
    expect(kindsOf(answer)).toEqual([]);
  }
  return answer;
}

describe("how often", () => {
  it(titleOf("FQ-01", "five good first pieces: the run may start, and checks become rarer"), async () => {
    const { givenList, expected } = tradeCase("FQ-01");
    const job = await startBore();

    const answers: Answer[] = [];
    for (const [i, size] of givenList("readings").entries()) {
      expect(size).toBeGreaterThan(expected("middle_low"));
      expect(size).toBeLessThan(expected("middle_high"));
      answers.push(await job.read(i + 1, size));
    }

    expect(answers.every((answer) => kindsOf(answer).length === 0)).toBe(true);
    expect(answers[0].next).toMatchObject({ action: "measure", piece: 2 });
    // Trust alone would allow 8; of a run this young nobody knows yet how often it jumps.
    expect(answers.at(-1).next).toMatchObject({ action: "run_on", piece: 12 });
    expect(await job.interval()).toMatchObject({ every: 7, next_piece: 12, rule: "jumps" });
  });

  it(titleOf("FQ-15", "earned step by step: 1, 1, 2, 4, 6 pieces, then as far as jumps allow"), async () => {
    const { given } = tradeCase("FQ-15");
    const job = await startBore();

    const intervals: number[] = [];
    let piece = 1;
    for (let check = 1; check <= given("checks_in_a_row") + 2; check++) {
      await job.read(piece, 20.01);
      const { every, next_piece, rule, why } = await job.interval();
      intervals.push(every);
      if (rule === "earned") expect(why).toContain("each further one adds 2");
      expect(next_piece).toBe(piece + every);
      piece = next_piece;
    }

    // √(2·(pieces + 500)/20) is 7 until piece 140, 8 until 310, 9 until 500 (the project's method note, section 4).
    expect(intervals).toEqual([1, 2, 4, 6, 7, 7, 7, 7]);
    await job.read(310, 20.01);
    expect(await job.interval()).toMatchObject({ every: 9, rule: "jumps" });
    await job.read(500, 20.01);
    const { every, rule, why } = await job.interval();
    expect([every, rule]).toEqual([10, "largest_interval"]);
    expect(why).toContain("good checks in a row: the largest interval of 10 pieces");
    expect(why).toContain("the part may allow a larger one");
  });

  it(titleOf("FQ-15", "lost at once by a piece out of limits"), async () => {
    const job = await startBore();
    await earnTrust(job);

    await job.readSurely(32, 20.023);

    expect(await job.interval()).toMatchObject({ every: 1, next_piece: 33 });
  });

  it(titleOf("FQ-15", "a correction and a fresh edge bring the next piece forward"), async () => {
    const job = await startBore();
    await earnTrust(job);

    await job.enter({ from_piece: 23, value: -0.003 });
    expect(await job.interval()).toMatchObject({ next_piece: 23, rule: "after_change" });
    await job.read(23, 20.007);
    await job.freshEdge(24, "worn", [0]);

    expect(await job.interval()).toMatchObject({ next_piece: 24, rule: "fresh_edge" });
    await job.read(24, 20.01);
    expect(await job.interval()).toMatchObject({ every: 1, next_piece: 25, rule: "start" });
  });

  it.each(
    (["key", "critical"] as const).map((importance) => ({
      importance,
      title: titleOf("FQ-09", `marked ${importance}: on every piece, however good the run`),
    })),
  )("$title", async ({ importance }) => {
    const job = await startBore({ importance });
    await earnTrust(job);

    for (const piece of [23, 24, 31]) {
      expect((await job.checks(piece)).features).toMatchObject([{ characteristic: "1", rule: importance }]);
    }
    expect(await job.interval()).toMatchObject({ every: 1, next_piece: 23, rule: importance });
  });

  it(titleOf("FQ-10", "an order of eight: all of them"), async () => {
    const { given, expected } = tradeCase("FQ-10");
    const job = await startBore({ quantity: given("order") });

    const measured: number[] = [];
    for (let piece = 1; piece <= given("order"); piece++) {
      const plan = await job.checks();
      expect(plan.piece).toBe(piece);
      if (plan.features.length > 0) {
        measured.push(piece);
        await job.read(piece, 20.01);
      } else await job.post(`/v1/batches/${job.batchId}/count`, { last_piece_cut: piece }, 200);
    }

    expect(measured).toHaveLength(expected("check_all"));
  });

  it(titleOf("FQ-13", "the last piece of a batch is measured, between checks too"), async () => {
    const { given, expected } = tradeCase("FQ-13");
    const job = await startBore({ quantity: given("batch") });
    await earnTrust(job, [...checksThatEarnTen, given("last_check")]);

    const last = await job.checks(expected("must_check"));
    expect(last.features).toMatchObject([{ characteristic: "1", rule: "last_piece" }]);
    expect((await job.checks(expected("must_check") - 3)).features).toEqual([]);
    // A check that does not fall on the last piece by its interval: 194 + 8 lies beyond the batch.
    const answer = await job.read(194, 20.01);
    expect(answer.next).toMatchObject({ action: "run_on", piece: expected("must_check") });
    expect(expected("must_check") - given("last_check")).toBe(expected("unproved_if_skipped"));
  });
});

describe("after something has happened", () => {
  it(titleOf("FQ-12", "new hands: the first piece they make is measured"), async () => {
    const { given, expected } = tradeCase("FQ-12");
    const job = await startBore();
    await earnTrust(job, [...checksThatEarnTen, 50, 70, given("last_check"), 85]);
    expect((await job.checks(expected("must_check"))).features).toEqual([]);

    const { next } = await job.interrupt(given("shift_change_after_part") + 1, "person_change");

    const plan = await job.checks(expected("must_check"));
    expect(plan.features).toMatchObject([{ characteristic: "1", rule: "interruption", sure_piece: true }]);
    expect(next).toMatchObject({ piece: expected("must_check") });
  });

  it(titleOf("CS-02", "a stop: the first piece after it in full, caught at the machine"), async () => {
    const { given } = tradeCase("CS-02");
    const half = given("tolerance_half");
    const within = { lower_deviation: -half, upper_deviation: half };
    const job = await startJob(api, {
      machine: { kind: "lathe" },
      registers: [{ controls: "x", holds: "diameter" }],
      features: [
        { characteristic: "1", kind: "external", nominal: "50", ...within },
        { characteristic: "2", kind: "external", nominal: "40", ...within },
      ],
    });
    for (const piece of checksThatEarnTen) await job.read(piece, { "1": 50, "2": 40 });
    expect((await job.checks(23)).features).toEqual([]);

    const { next } = await job.interrupt(23, "stop");

    expect(next).toMatchObject({ action: "measure", piece: 23 });
    const plan = await job.checks(23);
    expect(plan.left_out).toEqual([]);
    expect(plan.features.map((feature: Answer) => [feature.rule, feature.sure_piece])).toEqual([
      ["interruption", true],
      ["interruption", true],
    ]);
    expect(plan.wait_for_result).toBe(false);
  });
});

describe("twelve holes by one drill", () => {
  it(titleOf("PS-10", "the first pieces in full, then the last hole speaks for all"), async () => {
    const { given, expected } = tradeCase("PS-10");
    const holes = given("holes");
    const names = Array.from({ length: holes }, (_, i) => `hole ${i + 1}`);
    const job = await startJob(api, {
      tool: { kind: "drill" },
      features: names.map((characteristic, i) => ({
        characteristic,
        kind: "internal",
        nominal: "6",
        lower_deviation: -0.05,
        upper_deviation: 0.05,
        pattern: { name: "bolt holes", order: i + 1, of: holes },
        cut: null,
      })),
    });
    expect((await job.checks(1)).features).toHaveLength(holes);
    const all = Object.fromEntries(names.map((name) => [name, 6]));
    await job.read(1, all);
    await job.read(2, all);

    const plan = await job.checks(4);

    expect(plan.features.map((feature: Answer) => feature.characteristic)).toEqual([
      `hole ${expected("check_hole_number")}`,
    ]);
    expect(plan.left_out).toHaveLength(holes - 1);
    expect(plan.left_out[0].why).toContain("hole 12");
    const done = await job.read(4, { "hole 12": 6 });
    expect(done.next).toMatchObject({ action: "run_on", piece: 8 });
    // A fresh drill: all of them again.
    await job.freshEdge(5, "broken", []);
    expect((await job.checks(5)).features).toHaveLength(holes);
  });
});

describe("limits to one side of the nominal size", () => {
  it(
    titleOf("PS-10", "a drilled hole in the middle of +0.1/0 is no surprise on the first piece"),
    async () => {
      const job = await startJob(api, {
        tool: { kind: "drill" },
        features: [{ kind: "internal", nominal: "6", lower_limit: 6, upper_limit: 6.1, cut: null }],
      });

      const answer = await job.read(1, 6.05);

      expect(answer.readings[0]).toMatchObject({ verdict: "conforming", disposition: "accept", flags: [] });
      expect(kindsOf(answer)).toEqual([]);
    },
  );
});

describe("two pieces in the outer quarters", () => {
  // Outer quarters of 20.000..20.021: below 20.00525 and above 20.01575.
  async function startRun() {
    const job = await startBore();
    await earnTrust(job, [1, 2, 3]);
    return job;
  }

  it(titleOf("FQ-04", "both high: corrected towards the middle"), async () => {
    const job = await startRun();

    await job.readSurely(5, 20.019);
    const answer = await job.readSurely(6, 20.0185);

    const change = adviceOf(answer, "change");
    expect(change.change).toBeLessThan(0);
    expect(change.features[0].expected_after).toBeGreaterThan(20.00525);
    expect(change.features[0].expected_after).toBeLessThan(20.01575);
  });

  it(titleOf("FQ-03", "one high, one low: no change is offered"), async () => {
    const job = await startRun();

    await job.readSurely(5, 20.017);
    const answer = await job.readSurely(6, 20.004);

    expectLeftAlone(answer);
  });
});
