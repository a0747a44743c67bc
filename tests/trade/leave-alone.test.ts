import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { sum, titleOf, tradeCase } from "../support/trade-cases.js";
import {
  type Answer,
  adviceOf,
  expectChange,
  expectLeftAlone,
  kindsOf,
  startJob,
} from "../support/trade-job.js";

const { api } = await createTestApp();

const x = { controls: "x", holds: "diameter" } as const;
const lathe = { kind: "lathe" };
const within = (half: number) => ({ lower_deviation: -half, upper_deviation: half });

describe("what no register should be moved for", () => {
  it(titleOf("NC-01", "one reading inside the noise of part and gauge"), async () => {
    const { given, expected } = tradeCase("NC-01");
    const job = await startJob(api, {
      machine: lathe,
      registers: [x],
      gauge: { expanded_uncertainty: given("U") },
      features: [{ kind: "external", nominal: "50", ...within(given("tolerance_half")) }],
    });

    const answer = await job.read(1, sum(50, given("error")));

    const alone = expectLeftAlone(answer);
    expect(alone.change).toBe(expected("change"));
    expect(alone.why).toMatch(/noise/);
  });

  it(titleOf("NC-03", "a reamed hole: no register, and where to look instead"), async () => {
    const { given } = tradeCase("NC-03");
    // The case gives no limits: 10 H7.
    const job = await startJob(api, {
      tool: { kind: "reamer", name: "reamer 10" },
      features: [{ kind: "internal", nominal: "10", lower_limit: 10, upper_limit: 10.015, cut: null }],
    });

    const answer = await job.readSurely(1, sum(10.015, given("error")));

    expect(kindsOf(answer)).toEqual([]);
    expect(answer.readings[0]).toMatchObject({ verdict: "nonconforming", disposition: "scrap" });
    expect(answer.next.action).toBe("stop");
    expect(answer.next.why).toMatch(/no register/);
    expect(answer.next.why).toMatch(/runout, alignment, allowance and coolant/);
  });

  it(
    titleOf(
      "NC-07",
      "scatter: the pieces that do not fit are asked again, left out, and nothing is corrected on them",
    ),
    async () => {
      const { given, givenList, expected } = tradeCase("NC-07");
      const job = await startJob(api, {
        machine: lathe,
        registers: [x],
        features: [{ kind: "external", nominal: "50", ...within(given("tolerance_half")) }],
      });
      const sizes = givenList("errors").map((error) => sum(50, error));

      for (const odd of [2, 4]) {
        await job.read(odd - 1, sizes[odd - 2]!);
        expect(kindsOf(await job.read(odd, sizes[odd - 1]!))).toEqual(["measure_again"]);
        const again = await job.read(odd, sizes[odd - 1]!);
        const alone = expectLeftAlone(again);
        expect(alone.change).toBe(expected("change"));
        expect(alone.why).toMatch(/does not fit/);
        expect(again.next).toMatchObject({ action: "measure", piece: odd + 1 });
        expect(await job.proposed()).toEqual([]);
      }
    },
  );

  it(titleOf("DR-08", "a register walked beyond the shop's limit: look at the tool"), async () => {
    const { given, expected } = tradeCase("DR-08");
    const job = await startJob(api, {
      machine: lathe,
      registers: [{ ...x, value: given("total_wear"), largest_total: given("shop_limit") }],
      // The case gives no limits: ±0.1, for so much wear was kept in.
      features: [{ kind: "external", nominal: "50", ...within(0.1) }],
    });

    const answer = await job.readSurely(1, 50.08);

    expect(kindsOf(answer)).toEqual(["change_tool"]);
    const advice = adviceOf(answer, "change_tool");
    expect(advice.change).toBe(expected("change"));
    expect(advice.why).toMatch(/-0\.310 mm/);
    expect(advice.why).toMatch(/0\.250 mm/);
    expect(answer.next.action).toBe("stop");
  });
});

describe("how much to believe", () => {
  it(titleOf("DR-01", "set-up: the first error in full, later small ones are left alone"), async () => {
    const { givenList } = tradeCase("DR-01");
    const [first, second, third] = givenList("errors") as [number, number, number];
    // The case gives no limits: ±0.025.
    const job = await startJob(api, {
      machine: lathe,
      registers: [x],
      features: [{ kind: "external", nominal: "50", ...within(0.025) }],
    });

    const change = expectChange(await job.read(1, sum(50, first)), -first);
    await job.apply(change);
    const two = await job.read(2, sum(50, second));
    const three = await job.read(3, sum(50, third));

    // By half and by a third of the error: the expected size moves by a part of it, and that is below a quarter of the tolerance.
    expect(expectLeftAlone(two).features[0].expected_before).toBeLessThan(sum(50, second));
    const expected = expectLeftAlone(three).features[0].expected_before;
    expect(expected).toBeGreaterThan(sum(50, third));
    expect(expected).toBeLessThan(sum(50, second));
  });

  it(titleOf("DR-07", "the mean of five pieces is real: corrected as a whole"), async () => {
    const { given, expected } = tradeCase("DR-07");
    // Five deviations with the case's mean 0.012 and a spread near its 0.004; limits ±0.025, as in NC-01.
    const deviations = [0.008, 0.016, 0.013, 0.009, 0.014];
    expect(deviations).toHaveLength(given("n_parts"));
    expect(sum(...deviations) / 5).toBeCloseTo(given("mean_error"), 9);
    const job = await startJob(api, {
      machine: lathe,
      registers: [x],
      features: [{ kind: "external", nominal: "50", ...within(0.025) }],
    });

    let answer: Answer;
    for (const [i, deviation] of deviations.entries()) answer = await job.read(i + 1, sum(50, deviation));

    expectChange(answer, expected("change"));
  });

  it(
    titleOf("CS-01", "errors that fade: each piece takes back the advice before it, and asks for less"),
    async () => {
      const { given, givenList } = tradeCase("CS-01");
      const errors = givenList("errors");
      const job = await startJob(api, {
        machine: lathe,
        registers: [x],
        features: [{ kind: "external", nominal: "50", ...within(given("tolerance_half")) }],
      });
      let before = expectChange(await job.read(1, sum(50, errors[0]!)), given("change_after_part_1"));

      for (const [i, error] of errors.entries()) {
        if (i === 0) continue;
        const answer = await job.readSurely(i + 1, sum(50, error));
        expect(answer.corrections).toContainEqual(
          expect.objectContaining({ correction_id: before.correction_id, status: "superseded" }),
        );
        const now = adviceOf(answer, "change");
        expect(Math.abs(now.change)).toBeLessThan(Math.abs(before.change));
        before = now;
      }

      // The first advice, keyed after all, would have made the warm piece what the case says.
      expect(sum(errors.at(-1)!, given("change_after_part_1"))).toBe(
        tradeCase("CS-01").expected("part_6_error"),
      );
      const { window } = before.features[0];
      expect(given("change_after_part_1")).toBeLessThan(window.low);
    },
  );
});
