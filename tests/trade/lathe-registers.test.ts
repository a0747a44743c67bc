import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { sum, titleOf, tradeCase } from "../support/trade-cases.js";
import { expectChange, kindsOf, overlapOf, startJob } from "../support/trade-job.js";

const { api } = await createTestApp();

const lathe = { kind: "lathe" };
const x = { controls: "x", holds: "diameter" } as const;

function limitsOf(id: string) {
  const { given } = tradeCase(id);
  return { lower_limit: given("lower_limit"), upper_limit: given("upper_limit"), target: given("target") };
}

describe("X registers", () => {
  const single = [
    {
      id: "TR-01",
      kind: "external",
      nominal: "50",
      fate: "rework",
      claim: "a big shaft: the whole error, minus",
    },
    {
      id: "TR-03",
      kind: "internal",
      nominal: "30",
      fate: "rework",
      claim: "a small bore: plus, outside and inside",
    },
    {
      id: "TR-04",
      kind: "internal",
      nominal: "30",
      fate: "scrap",
      claim: "a big bore: minus, for the next part only",
    },
  ] as const;
  it.each(single.map((each) => ({ ...each, title: titleOf(each.id, each.claim) })))(
    "$title",
    async ({ id, kind, nominal, fate }) => {
      const { given, expected } = tradeCase(id);
      const feature = { kind, nominal, ...limitsOf(id) };
      const job = await startJob(api, { machine: lathe, registers: [x], features: [feature] });

      const answer = await job.read(1, given("measured"));

      const change = expectChange(answer, expected("change"));
      expect(change.features[0].effect).toBe(1);
      expect(answer.readings[0]).toMatchObject({ verdict: "nonconforming", disposition: fate });
    },
  );

  it(titleOf("TR-01", "the window is exact"), async () => {
    const { given } = tradeCase("TR-01");
    const feature = { kind: "external", nominal: "50", ...limitsOf("TR-01") } as const;
    const job = await startJob(api, { machine: lathe, registers: [x], features: [feature] });

    const change = expectChange(await job.read(1, given("measured")), -0.024);

    expect(change.features[0].window).toEqual({
      low: sum(given("lower_limit"), -given("measured")),
      high: sum(given("upper_limit"), -given("measured")),
    });
  });

  it(titleOf("TR-07", "two diameters of one tool: the overlap serves both"), async () => {
    const { given, expected } = tradeCase("TR-07");
    const job = await startJob(api, {
      machine: lathe,
      registers: [x],
      features: [
        {
          characteristic: "d1",
          kind: "external",
          nominal: "50",
          lower_limit: given("d1_lower"),
          upper_limit: given("d1_upper"),
        },
        {
          characteristic: "d2",
          kind: "external",
          nominal: "40",
          lower_limit: given("d2_lower"),
          upper_limit: given("d2_upper"),
        },
      ],
    });

    const answer = await job.read(1, { d1: given("d1_measured"), d2: given("d2_measured") });

    const change = expectChange(answer, expected("change"));
    expect(overlapOf(change)).toEqual({
      low: expected("allowed_change_low"),
      high: expected("allowed_change_high"),
    });
    expect(change.change).toBeGreaterThanOrEqual(expected("allowed_change_low"));
    expect(change.change).toBeLessThanOrEqual(expected("allowed_change_high"));
    expect(answer.readings.map((reading: { disposition: string }) => reading.disposition)).toEqual([
      "rework",
      "accept",
    ]);
  });
});

describe("a safe first cut", () => {
  it(
    titleOf("TR-10", "the allowance comes out by itself, in one move; cut 2 of the piece proves it"),
    async () => {
      const { given, expected } = tradeCase("TR-10");
      // The case gives no limits: those of the shaft in TR-01.
      const shaft = { kind: "external", nominal: "50", lower_limit: 49.975, upper_limit: 50 } as const;
      const job = await startJob(api, {
        machine: lathe,
        registers: [{ ...x, value: given("register_now") }],
        features: [{ ...shaft, target: given("target") }],
      });

      const first = await job.read(1, given("measured"));

      const change = expectChange(first, expected("change"));
      expect(change.value_now).toBe(given("register_now"));
      expect(Math.abs(change.value_after - expected("new_value"))).toBeLessThanOrEqual(0.03 * 0.105);
      expect(first.readings[0]).toMatchObject({ verdict: "nonconforming", disposition: "rework" });

      await job.apply(change, { from_piece: 1, from_cut: 2 });
      const second = await job.read(1, sum(given("measured"), change.change), { cut: 2 });

      expect(second.readings[0]).toMatchObject({
        piece: 1,
        cut: 2,
        repeat: 1,
        verdict: "conforming",
        disposition: "accept",
      });
      expect(kindsOf(second)).toEqual([]);
      expect(second.next).toMatchObject({ action: "measure", piece: 2 });
    },
  );
});
