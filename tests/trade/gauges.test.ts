import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { sum, titleOf, tradeCase } from "../support/trade-cases.js";
import { type Answer, expectChange, kindsOf, startJob } from "../support/trade-job.js";

const { api } = await createTestApp();

const x = { controls: "x", holds: "diameter" } as const;
const lathe = { kind: "lathe" };

describe("a gauge and the tolerance it is used on", () => {
  it(titleOf("GA-01", "a calliper on a tight bore: neither acceptance nor correction"), async () => {
    const { given, expected } = tradeCase("GA-01");
    const half = given("tolerance_width") / 2;
    const job = await startJob(api, {
      machine: lathe,
      registers: [x],
      // Display in hundredths, as callipers have it.
      gauge: { kind: "calliper", resolution: 0.01, repeatability: null, expanded_uncertainty: given("U") },
      features: [{ kind: "internal", nominal: "20", lower_deviation: -half, upper_deviation: half }],
    });

    const good = await job.read(1, 20);
    const bad = await job.read(2, 20.02);

    expect(given("tolerance_width") / (2 * given("U"))).toBeCloseTo(expected("ratio_tolerance_to_2U"), 2);
    for (const answer of [good, bad]) {
      expect(answer.readings[0]).toMatchObject({ disposition: "remeasure", flags: ["gauge_too_coarse"] });
      expect(answer.readings[0].gauge_advice).toMatch(/is too coarse for this tolerance \(0\.33 to 1/);
      expect(kindsOf(answer)).toEqual([]);
    }
    const { items } = await job.get(`/v1/features/${job.featureId()}/gauges`);
    const rating = items.find((item: Answer) => item.gauge_id === job.gaugeId);
    expect(rating.fitness).toBe("too_coarse");
    expect(rating.test_ratio).toBeCloseTo(expected("ratio_tolerance_to_2U"), 2);
    expect(rating.why).toMatch(/0\.33 to 1, too coarse: it neither proves a piece nor steers a register/);
    expect((await job.wear()).value_now).toBe(0);
  });

  it(titleOf("GA-02", "a micrometer better than ten to one is fit"), async () => {
    const { given, expected } = tradeCase("GA-02");
    const half = given("tolerance_width") / 2;
    const job = await startJob(api, {
      registers: [{ controls: "radial", holds: "radius" }],
      gauge: { expanded_uncertainty: given("U") },
      features: [{ kind: "external", nominal: "30", lower_deviation: -half, upper_deviation: half }],
    });

    const { readings } = await job.read(1, 30.01);

    expect(sum(given("tolerance_width") / (2 * given("U")))).toBe(expected("ratio_tolerance_to_2U"));
    expect(readings[0]).toMatchObject({ verdict: "conforming", disposition: "accept", flags: [] });
    expect(readings[0].probability_conforming).toBe(1);
    const { items } = await job.get(`/v1/features/${job.featureId()}/gauges`);
    const rating = items.find((item: Answer) => item.gauge_id === job.gaugeId);
    expect(rating).toMatchObject({ fitness: "ample", test_ratio: expected("ratio_tolerance_to_2U") });
    expect(rating.why).toContain("12.5 to 1, better than the rule of ten");
  });

  const guarded = [
    { name: "the reading of the case", size: tradeCase("GA-04").given("reading"), verdict: "uncertain" },
    {
      name: "the highest that is proved",
      size: tradeCase("GA-04").expected("accept_high"),
      verdict: "conforming",
    },
    {
      name: "the lowest that is proved",
      size: tradeCase("GA-04").expected("accept_low"),
      verdict: "conforming",
    },
    { name: "one step above", size: 20.0171, verdict: "uncertain" },
    { name: "one step below", size: 20.0039, verdict: "uncertain" },
    { name: "above the limit", size: 20.0211, verdict: "nonconforming" },
  ] as const;
  it.each(
    guarded.map((each) => ({
      ...each,
      title: titleOf("GA-04", `${each.name}: ${each.size} is ${each.verdict}`),
    })),
  )("$title", async ({ size, verdict }) => {
    const { given, expected } = tradeCase("GA-04");
    const limits = { lower_limit: given("lower_limit"), upper_limit: given("upper_limit") };
    const job = await startJob(api, {
      machine: lathe,
      registers: [x],
      gauge: { resolution: 0.0001, expanded_uncertainty: given("U") },
      part: { decision_rule: "guarded_acceptance" },
      features: [{ kind: "internal", nominal: "20", ...limits }],
    });

    const { readings } = await job.read(1, size);

    expect(readings[0].verdict).toBe(verdict);
    expect(readings[0]).toMatchObject({
      guard_band: given("U"),
      lower_acceptance_limit: expected("accept_low"),
      upper_acceptance_limit: expected("accept_high"),
    });
    if (verdict === "uncertain") {
      expect(readings[0].disposition).toBe("remeasure");
      expect(readings[0].why).toMatch(
        /not proved good: measure it with a finer gauge, or agree with the customer/,
      );
    }
  });

  const rejected = [
    { name: "the reading of the case", size: tradeCase("GA-05").given("reading"), verdict: "uncertain" },
    {
      name: "the last that is not proved bad",
      size: tradeCase("GA-05").expected("reject_from"),
      verdict: "uncertain",
    },
    { name: "one step above", size: 20.0251, verdict: "nonconforming" },
    { name: "on the limit", size: tradeCase("GA-05").given("upper_limit"), verdict: "conforming" },
  ] as const;
  it.each(
    rejected.map((each) => ({
      ...each,
      title: titleOf("GA-05", `${each.name}: ${each.size} is ${each.verdict}`),
    })),
  )("$title", async ({ size, verdict }) => {
    const { given, expected } = tradeCase("GA-05");
    const job = await startJob(api, {
      machine: lathe,
      registers: [x],
      gauge: { resolution: 0.0001, expanded_uncertainty: given("U") },
      part: { decision_rule: "guarded_rejection" },
      features: [{ kind: "internal", nominal: "20", lower_limit: 20, upper_limit: given("upper_limit") }],
    });

    const answer = await job.read(1, size);

    const [reading] = answer.readings;
    expect(reading).toMatchObject({ verdict, upper_rejection_limit: expected("reject_from") });
    if (verdict === "uncertain") {
      expect(reading.disposition).toBe("remeasure");
      expect(reading.why).toMatch(/above the upper limit, .* not proved bad/);
      expect(answer.next.why).toContain("Keep piece 1 apart");
    }
  });

  it(titleOf("GA-11", "overdue: no acceptance, but it may steer, and is marked"), async () => {
    const { given } = tradeCase("GA-11");
    const day = (date: number) => new Date(Date.UTC(2026, 2, date)).toISOString();
    const job = await startJob(api, {
      machine: lathe,
      registers: [x],
      gauge: { calibration_due: day(10).slice(0, 10) },
      features: [{ kind: "external", nominal: "50", lower_deviation: -0.025, upper_deviation: 0.025 }],
    });

    const overdue = await job.read(1, 50.02, { measured_at: day(10 + given("days_overdue")) });
    const inTime = await job.read(2, 50.02, { measured_at: day(10) });

    expect(overdue.readings[0]).toMatchObject({
      verdict: "conforming",
      disposition: "remeasure",
      flags: ["gauge_overdue"],
    });
    expectChange(overdue, -0.02);
    expect(inTime.readings[0]).toMatchObject({ disposition: "accept", flags: [] });
  });
});
