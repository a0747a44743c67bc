import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { sum, titleOf, tradeCase } from "../support/trade-cases.js";
import { expectChange, startJob } from "../support/trade-job.js";

const { api } = await createTestApp();

const length = { controls: "axial" } as const;

function limitsOf(id: string) {
  const { given } = tradeCase(id);
  return { lower_limit: given("lower_limit"), upper_limit: given("upper_limit"), target: given("target") };
}

describe("tool lengths of a mill", () => {
  it(titleOf("LN-01", "a pocket too deep: plus lifts the tool; this piece can't be re-cut"), async () => {
    const { given, expected } = tradeCase("LN-01");
    const floor = { kind: "depth", nominal: "10", ...limitsOf("LN-01") } as const;
    const job = await startJob(api, { registers: [length], features: [floor] });

    const answer = await job.read(1, given("measured"));

    const change = expectChange(answer, expected("change"));
    expect(change.features[0].effect).toBe(-1);
    expect(answer.readings[0]).toMatchObject({ verdict: "nonconforming", disposition: "scrap" });
  });

  it(
    titleOf("LN-02", "a pocket too shallow: minus; rework, with the warning for a move into the work"),
    async () => {
      const { given, expected } = tradeCase("LN-02");
      const floor = { kind: "depth", nominal: "10", ...limitsOf("LN-02") } as const;
      const job = await startJob(api, { registers: [length], features: [floor] });

      const answer = await job.read(1, given("measured"));

      const change = expectChange(answer, expected("change"));
      expect(answer.readings[0]).toMatchObject({ verdict: "nonconforming", disposition: "rework" });
      expect(change.cautions.join(" ")).toMatch(/towards the work/);
    },
  );

  it(
    titleOf("LN-02", "a smaller limit for moves into the work holds the change back and says so"),
    async () => {
      const { given } = tradeCase("LN-02");
      const floor = { kind: "depth", nominal: "10", ...limitsOf("LN-02") } as const;
      const machine = { largest_change_towards_work: 0.05 };
      const job = await startJob(api, { machine, registers: [length], features: [floor] });

      const change = expectChange(await job.read(1, given("measured")), -0.05);

      expect(change.change).toBe(-0.05);
      expect(change.why).toMatch(/towards the work/);
    },
  );

  it(
    titleOf("LN-04", "a big negative length: plus still lifts the tool and makes it less negative"),
    async () => {
      const { given, expected } = tradeCase("LN-04");
      // The case gives no limits: the floor of LN-01, 10 ±0.05.
      const floor = { kind: "depth", nominal: "10", lower_deviation: -0.05, upper_deviation: 0.05 } as const;
      const job = await startJob(api, {
        registers: [{ ...length, value: given("register_now") }],
        features: [floor],
      });

      const change = expectChange(await job.read(1, sum(10, given("too_deep_by"))), expected("change"));

      expect(change.value_now).toBe(given("register_now"));
      expect(Math.abs(change.value_after - expected("new_value"))).toBeLessThanOrEqual(0.03 * 0.06);
    },
  );
});

describe("Z registers of a lathe", () => {
  it(titleOf("TR-06", "a long piece: minus moves the face towards the chuck; rework"), async () => {
    const { given, expected } = tradeCase("TR-06");
    const overall = { kind: "length", nominal: "80", ...limitsOf("TR-06") } as const;
    const job = await startJob(api, {
      machine: { kind: "lathe" },
      registers: [{ controls: "z" }],
      features: [{ ...overall, cut: { plus_makes: "bigger" } }],
    });

    const answer = await job.read(1, given("measured"));

    expectChange(answer, expected("change"));
    expect(answer.readings[0]).toMatchObject({ verdict: "nonconforming", disposition: "rework" });
  });
});
