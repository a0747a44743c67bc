import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { sum, titleOf, tradeCase } from "../support/trade-cases.js";
import { expectChange, kindsOf, startJob } from "../support/trade-job.js";

const { api } = await createTestApp();

describe("what becomes of a piece that is out", () => {
  it(titleOf("DS-01", "a bore just under size has metal left: rework"), async () => {
    const { given, expected } = tradeCase("DS-01");
    const limits = { lower_limit: given("lower_limit"), upper_limit: given("upper_limit") };
    const target = sum(given("measured"), expected("needed_to_target"));
    const job = await startJob(api, {
      machine: { kind: "lathe" },
      registers: [{ controls: "x", holds: "diameter" }],
      features: [{ kind: "internal", nominal: "20", ...limits, target }],
    });

    const answer = await job.read(1, given("measured"));

    expect(answer.readings[0]).toMatchObject({
      verdict: "nonconforming",
      disposition: "rework",
      from_target: -expected("needed_to_target"),
    });
    expect(answer.readings[0].tolerance_used).toBeGreaterThan(1);
  });

  it(
    titleOf("DS-02", "a shaft under size is never accepted: scrap by the side it is on, and held"),
    async () => {
      const { given, expected } = tradeCase("DS-02");
      // The case gives the low limit only: 50 0/−0.025.
      const job = await startJob(api, {
        machine: { kind: "lathe" },
        registers: [{ controls: "x", holds: "diameter" }],
        features: [{ kind: "external", nominal: "50", lower_limit: given("lower_limit"), upper_limit: 50 }],
      });

      const answer = await job.read(1, given("measured"));

      const [reading] = answer.readings;
      expect(reading).toMatchObject({
        verdict: "nonconforming",
        disposition: "scrap",
        hold: { from_piece: 1, to_piece: 1 },
      });
      expect(sum(reading.lower_limit, -reading.size)).toBe(expected("under_by"));
    },
  );

  it(
    titleOf("DS-02", "nobody accepts it as it is without the customer or the design authority"),
    async () => {
      const { given } = tradeCase("DS-02");
      const job = await startJob(api, {
        machine: { kind: "lathe" },
        registers: [{ controls: "x", holds: "diameter" }],
        features: [{ kind: "external", nominal: "50", lower_limit: given("lower_limit"), upper_limit: 50 }],
      });
      await job.read(1, given("measured"));
      const path = `/v1/batches/${job.batchId}/pieces/1/decision`;

      const refused = await job.post(path, { decision: "use_as_is", by: "operator" }, 400);

      expect(refused.detail).toContain("the customer or the design authority has to allow it");
      expect((await job.get(`/v1/batches/${job.batchId}/holds`)).pieces_on_hold).toBe(1);
      await job.post(path, { decision: "use_as_is", authority: "customer, concession C-114" }, 201);
      expect((await job.get(`/v1/batches/${job.batchId}/holds`)).pieces_on_hold).toBe(0);
    },
  );

  it(titleOf("FQ-06", "a bad piece holds everything since the last good one"), async () => {
    const { given, expected } = tradeCase("FQ-06");
    const job = await startJob(api, {
      machine: { kind: "lathe" },
      registers: [{ controls: "x", holds: "diameter" }],
      features: [{ kind: "external", nominal: "50", lower_deviation: -0.025, upper_deviation: 0 }],
    });
    for (let piece = 10; piece <= given("last_good"); piece += 10) await job.read(piece, 49.987);

    const answer = await job.readSurely(given("bad"), 50.004);

    const { hold } = answer.readings[0];
    expect(hold).toMatchObject({ from_piece: expected("hold_from"), to_piece: expected("hold_to") });
    expect(hold.to_piece - hold.from_piece + 1).toBe(expected("parts_held"));
  });

  it(
    titleOf("FQ-06", "an answer that runs on or asks for the next piece names the pieces to hold"),
    async () => {
      const job = await startJob(api, {
        machine: { kind: "lathe" },
        registers: [{ controls: "x", holds: "diameter" }],
        features: [{ kind: "external", nominal: "50", lower_deviation: -0.025, upper_deviation: 0 }],
      });
      for (const piece of [10, 20, 30, 40]) await job.read(piece, 49.987);

      const { next } = await job.readSurely(50, 50.004);

      expect(next.why).toMatch(/41 to 50/);
    },
  );
});

describe("a piece that was reworked", () => {
  it(
    titleOf("DS-04", "is accepted after the bore and all that hangs on the new clamping are measured again"),
    async () => {
      const { given } = tradeCase("DS-04");
      const limits = { lower_limit: given("lower_limit"), upper_limit: given("upper_limit") };
      const job = await startJob(api, {
        machine: { kind: "lathe" },
        registers: [{ controls: "x", holds: "diameter" }],
        features: [
          { characteristic: "1", kind: "internal", nominal: "20", ...limits, target: 20.01 },
          {
            characteristic: "2",
            kind: "depth",
            nominal: "15",
            lower_deviation: -0.05,
            upper_deviation: 0.05,
            cut: null,
          },
        ],
      });
      const piece = () => job.get(`/v1/batches/${job.batchId}/pieces/1`);
      await job.read(1, { "1": 19.996, "2": 15.01 });
      const decision = { decision: "rework", nonconformance: "N-7", by: "quality" };
      await job.post(`/v1/batches/${job.batchId}/pieces/1/decision`, decision, 201);

      await job.read(1, { "1": given("measured") }, { cut: 2 });

      expect(await piece()).toMatchObject({ disposition: "rework", on_hold: true });
      const { reworks } = await job.get(`/v1/batches/${job.batchId}/holds`);
      expect(reworks[0].waiting_for).toMatchObject([{ characteristic: "2" }]);
      await job.read(1, { "2": 15.012 }, { cut: 2 });
      expect(await piece()).toMatchObject({ disposition: "accept", on_hold: false });
    },
  );
});

describe("a written number that was wrong", () => {
  it(titleOf("RC-04", "stays readable with who and why, and counts no more"), async () => {
    const { given } = tradeCase("RC-04");
    const job = await startJob(api, {
      registers: [{ controls: "radial", holds: "diameter" }],
      features: [{ kind: "internal", nominal: "20", lower_limit: 20, upper_limit: 20.021, target: 20.01 }],
    });
    const first = await job.read(1, given("written"));
    expect(kindsOf(first)).toEqual(["change"]);
    const { reading_id } = first.readings[0];

    const voided = await job.post(
      `/v1/readings/${reading_id}/void`,
      { reason: "read 20.041 for 20.014", by: "shift A" },
      200,
    );
    const right = await job.read(1, given("right"));

    expect(voided.corrections).toEqual([]);
    expect(right.readings[0]).toMatchObject({ size: given("right"), verdict: "conforming", flags: [] });
    // What is asked for comes from 20.014 alone: 0.004 too big, bored by a register on diameter.
    expectChange(right, sum(given("right"), -20.01));
    expect(await job.get(`/v1/readings/${reading_id}`)).toMatchObject({
      size: given("written"),
      voided: { reason: "read 20.041 for 20.014", by: "shift A" },
    });
  });
});
