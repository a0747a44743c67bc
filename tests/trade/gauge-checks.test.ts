import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { sum, titleOf, tradeCase } from "../support/trade-cases.js";
import { type Answer, adviceOf, kindsOf, startJob } from "../support/trade-job.js";

const { api } = await createTestApp();

const x = { controls: "x", holds: "diameter" } as const;
const lathe = { kind: "lathe" };

describe("a gauge read on its master", () => {
  it(
    titleOf("NC-06", "the gauge is set afresh, not the machine, and what it measured is judged again"),
    async () => {
      const { given, expected } = tradeCase("NC-06");
      const job = await startJob(api, {
        machine: lathe,
        registers: [x],
        gauge: { kind: "bore_gauge", expanded_uncertainty: 0.002 },
        features: [{ kind: "internal", nominal: "20", lower_limit: 19.998, upper_limit: 20.018 }],
      });
      const before = await job.read(1, given("reading"));
      expect(kindsOf(before)).toEqual(["change"]);

      const check = await job.post(
        `/v1/gauges/${job.gaugeId}/checks`,
        { standard: given("ring_true"), reading: given("ring_reads"), unit: "mm", shift: true },
        201,
      );

      expect(check).toMatchObject({ state: "off", error: sum(given("ring_reads"), -given("ring_true")) });
      expect(check.in_doubt).toMatchObject({ readings: 1, batches: [{ first_piece: 1, last_piece: 1 }] });
      const { items } = await job.get(`/v1/gauges/${job.gaugeId}/checks/${check.gauge_check_id}/readings`);
      expect(items).toMatchObject([{ size_from: expected("true_size"), size_to: expected("true_size") }]);
      expect(await job.proposed()).toEqual([]);

      const again = await job.read(1, given("reading"));

      expect(again.readings[0]).toMatchObject({
        size: expected("true_size"),
        size_as_read: given("reading"),
        gauge_error: 0.006,
        flags: [],
      });
      expect(adviceOf(again, "leave_alone").change).toBe(expected("change"));
    },
  );

  it(titleOf("TE-08", "a chilled micrometer: not over the limit, no correction"), async () => {
    const { given, expected } = tradeCase("TE-08");
    const upper = 10.049;
    const job = await startJob(api, {
      machine: { ...lathe, unit: "inch", least_increment: 0.0001, largest_change: 0.01 },
      registers: [x],
      gauge: { unit: "inch", resolution: 0.0001, repeatability: 0.0001, expanded_uncertainty: 0.0003 },
      part: { unit: "inch" },
      features: [
        {
          kind: "internal",
          nominal: "10.048",
          lower_limit: sum(upper, -given("total_tolerance")),
          upper_limit: upper,
        },
      ],
    });
    const before = await job.read(1, sum(upper, given("reads_over_upper_limit_by")));
    expect(before.readings[0].verdict).toBe("nonconforming");

    const check = await job.post(
      `/v1/gauges/${job.gaugeId}/checks`,
      { standard: 10, reading: sum(10, given("gauge_reads_on_standard")), unit: "inch" },
      201,
    );

    const { items } = await job.get(`/v1/gauges/${job.gaugeId}/checks/${check.gauge_check_id}/readings`);
    expect(items).toMatchObject([
      { size_to: sum(upper, expected("really_over_upper_limit_by")), outcome: "turns" },
    ]);
    expect(check.in_doubt).toMatchObject({ readings: 1, turned: 1, open: 0 });
    expect(check.why).toContain("Set the gauge afresh, not the machine");
    expect((await job.proposed()).filter(({ change }: Answer) => change !== 0)).toEqual([]);
    expect(expected("change")).toBe(0);
    const next = await job.read(2, upper);
    expect(next.readings[0]).toMatchObject({ flags: ["gauge_in_doubt"], disposition: "remeasure" });
    expect(next.corrections.filter(({ change }: Answer) => change !== 0)).toEqual([]);
    expect(next.next.why).toContain("was found off by 0.0020 inch on its standard");
  });

  it(titleOf("GA-10", "found out either way: what lies too near a limit is measured again"), async () => {
    const { given, givenList, expected } = tradeCase("GA-10");
    const limits = { lower_limit: given("lower_limit"), upper_limit: given("upper_limit") };
    const job = await startJob(api, {
      machine: lathe,
      registers: [x],
      features: [{ kind: "internal", nominal: "20", ...limits }],
    });
    const sizes = givenList("readings");
    for (const [i, size] of sizes.entries()) await job.read(i + 1, size);

    const check = await job.post(
      `/v1/gauges/${job.gaugeId}/checks`,
      { largest_error: given("possible_error"), unit: "mm", note: "calibration" },
      201,
    );

    const { items } = await job.get(`/v1/gauges/${job.gaugeId}/checks/${check.gauge_check_id}/readings`);
    const suspect = items.filter(({ outcome }: Answer) => outcome !== "stands");
    expect(suspect.map(({ size }: Answer) => size)).toEqual([20.004, 20.017, 20.019]);
    for (const { size, outcome } of items) {
      const safe = size >= expected("safe_low") && size <= expected("safe_high");
      expect(outcome).toBe(safe ? "stands" : "open");
    }
    expect(check.in_doubt).toMatchObject({ readings: sizes.length, turned: 0, open: suspect.length });
  });
});

describe("a gauge that sticks", () => {
  it(titleOf("TY-07", "ten equal readings on a fine display are not believed"), async () => {
    const { given } = tradeCase("TY-07");
    // The estimator starts from a standard deviation of a sixth of the way from target to limit.
    const room = 6 * given("sigma");
    const job = await startJob(api, {
      machine: lathe,
      registers: [x],
      gauge: { resolution: given("resolution"), repeatability: given("resolution") },
      features: [
        { kind: "external", nominal: "20", lower_deviation: -room, upper_deviation: room, target: 20 },
      ],
    });

    const flags: boolean[] = [];
    let last: Answer;
    for (let piece = 1; piece <= given("readings"); piece++) {
      last = await job.read(piece, given("all_equal"));
      flags.push(last.readings[0].flags.includes("too_alike"));
    }

    expect(flags.slice(0, 3)).toEqual([false, false, false]);
    expect(flags.slice(5)).toEqual([true, true, true, true, true]);
    expect(last.readings[0].disposition).toBe("remeasure");
    expect(last.next.why).toMatch(/on 10 measured pieces in a row.*the gauge sticks, or numbers were copied/);
    expect(last.next.why).toContain("again with somebody looking on");
  });

  it("readings that scatter, repeats of one piece, and a display too coarse to show the scatter are believed", async () => {
    const limits = {
      kind: "external",
      nominal: "20",
      lower_deviation: -0.018,
      upper_deviation: 0.018,
    } as const;
    const fine = await startJob(api, { machine: lathe, registers: [x], features: [limits] });
    const coarse = await startJob(api, {
      machine: lathe,
      registers: [x],
      gauge: { resolution: 0.01 },
      features: [limits],
    });
    const flagged = (answer: Answer) =>
      answer.readings.some(({ flags }: Answer) => flags.includes("too_alike"));

    for (let piece = 1; piece <= 12; piece++) {
      expect(flagged(await fine.read(piece, piece % 3 === 0 ? 20.002 : 20))).toBe(false);
      expect(flagged(await fine.read(piece, piece % 3 === 0 ? 20.002 : 20))).toBe(false);
      expect(flagged(await coarse.read(piece, 20))).toBe(false);
    }
  });

  it("counts a run past a reading that comes with it, where pieces that were read before lie between", async () => {
    const job = await startJob(api, {
      machine: lathe,
      registers: [x],
      gauge: { resolution: 0.0001, repeatability: 0.0001 },
      features: [{ kind: "external", nominal: "20", lower_deviation: -0.018, upper_deviation: 0.018 }],
    });
    const read = (piece: number, value: number) => ({
      feature_id: job.featureId(),
      batch_id: job.batchId,
      piece,
      value,
      unit: "mm",
    });
    const flagged = async (list: object[]): Promise<boolean[]> => {
      const { readings } = await job.post("/v1/readings", list, 201);
      return readings.map(({ flags }: Answer) => flags.includes("too_alike"));
    };

    for (let piece = 5; piece <= 12; piece++) await job.read(piece, 20.001);

    expect(await flagged([read(4, 20.003), read(13, 20.001)])).toEqual([false, true]);
    expect(await flagged([read(14, 20.003), read(15, 20.001)])).toEqual([false, false]);
  });

  it("counts a run within one request too", async () => {
    const job = await startJob(api, {
      machine: lathe,
      registers: [x],
      gauge: { resolution: 0.0001, repeatability: 0.0001 },
      features: [{ kind: "external", nominal: "20", lower_deviation: -0.018, upper_deviation: 0.018 }],
    });
    const list = Array.from({ length: 8 }, (_, i) => ({
      feature_id: job.featureId(),
      batch_id: job.batchId,
      piece: i + 1,
      value: 20.001,
      unit: "mm",
    }));

    const { readings } = await job.post("/v1/readings", list, 201);

    expect(readings.map(({ flags }: Answer) => flags.includes("too_alike")).slice(-3)).toEqual([
      true,
      true,
      true,
    ]);
  });
});
