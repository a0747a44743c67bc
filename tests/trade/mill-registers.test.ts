import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { sum, titleOf, tradeCase } from "../support/trade-cases.js";
import { adviceOf, expectChange, overlapOf, startJob } from "../support/trade-job.js";

const { api } = await createTestApp();

const radius = { controls: "radial", holds: "radius" } as const;
const diameter = { controls: "radial", holds: "diameter" } as const;

function limitsOf(id: string) {
  const { given } = tradeCase(id);
  return { lower_limit: given("lower_limit"), upper_limit: given("upper_limit"), target: given("target") };
}

describe("cutter radius and diameter registers", () => {
  it(titleOf("ML-01", "a small bore: half the error into a radius register, minus; rework"), async () => {
    const { given, expected } = tradeCase("ML-01");
    const bore = { kind: "internal", nominal: "20", ...limitsOf("ML-01") } as const;
    const job = await startJob(api, { registers: [radius], features: [bore] });

    const answer = await job.read(1, given("measured"));

    const change = expectChange(answer, expected("change"));
    expect(answer.readings[0]).toMatchObject({ verdict: "nonconforming", disposition: "rework" });
    expect(answer.next).toMatchObject({ action: "set_offset", piece: 2 });
    // The next part's size, 20.010, stands in the case as text.
    expect(Math.abs(change.features[0].expected_after - given("target"))).toBeLessThanOrEqual(0.001);
    // (limit − size) ÷ effect, by hand: effect −2.
    expect(change.features[0]).toMatchObject({ effect: -2, window: { low: -0.0155, high: -0.005 } });
  });

  it(titleOf("ML-02", "the same bore: the whole error into a diameter register"), async () => {
    const { given, expected } = tradeCase("ML-02");
    const bore = { kind: "internal", nominal: "20", ...limitsOf("ML-02") } as const;
    const job = await startJob(api, { registers: [diameter], features: [bore] });

    const answer = await job.read(1, given("measured"));

    const change = expectChange(answer, expected("change"));
    expect(change.features[0]).toMatchObject({ effect: -1, window: { low: -0.031, high: -0.01 } });
    expect(answer.readings[0].disposition).toBe("rework");
  });

  it(titleOf("ML-04", "a small boss: plus, for the next part only; this one can't be re-cut"), async () => {
    const { given, expected } = tradeCase("ML-04");
    const boss = { kind: "external", nominal: "40", ...limitsOf("ML-04") } as const;
    const job = await startJob(api, { registers: [radius], features: [boss] });

    const answer = await job.read(1, given("measured"));

    expectChange(answer, expected("change"));
    expect(answer.readings[0]).toMatchObject({
      verdict: "nonconforming",
      disposition: "scrap",
      hold: { from_piece: 1, to_piece: 1 },
    });
  });

  it(titleOf("ML-04", "the one thing to do says too that this piece is set aside"), async () => {
    const { given } = tradeCase("ML-04");
    const boss = { kind: "external", nominal: "40", ...limitsOf("ML-04") } as const;
    const job = await startJob(api, { registers: [radius], features: [boss] });

    const { next } = await job.read(1, given("measured"));

    expect(next.action).toBe("set_offset");
    expect(next.why).toMatch(/piece 1 .*0\.010 mm below the lower limit of 39\.980 mm/);
    expect(next.why).toMatch(/set it aside/);
  });

  it(titleOf("ML-05", "a wide slot: plus is right for too big"), async () => {
    const { given, expected } = tradeCase("ML-05");
    const slot = { kind: "internal", nominal: "12", ...limitsOf("ML-05") } as const;
    const job = await startJob(api, { registers: [radius], features: [slot] });

    const answer = await job.read(1, given("measured"));

    expectChange(answer, expected("change"));
    expect(answer.readings[0]).toMatchObject({ verdict: "nonconforming", disposition: "scrap" });
  });

  it(titleOf("ML-07", "one wall: the whole error into a radius register; rework"), async () => {
    const { given, expected } = tradeCase("ML-07");
    const wall = { kind: "external", nominal: "55", ...limitsOf("ML-07"), cut: { walls: 1 } } as const;
    const job = await startJob(api, { registers: [radius], features: [wall] });

    const answer = await job.read(1, given("measured"));

    const change = expectChange(answer, expected("change"));
    expect(change.features[0]).toMatchObject({ effect: 1, window: { low: -0.078, high: -0.018 } });
    expect(answer.readings[0]).toMatchObject({ verdict: "nonconforming", disposition: "rework" });
  });

  it(titleOf("ML-08", "one wall: twice the error into a diameter register"), async () => {
    const { given, expected } = tradeCase("ML-08");
    // The case gives no limits: those of the same wall in ML-07.
    const limits = { lower_limit: 54.97, upper_limit: 55.03, target: given("target") };
    const wall = { kind: "external", nominal: "55", ...limits, cut: { walls: 1 } } as const;
    const job = await startJob(api, { registers: [diameter], features: [wall] });

    const answer = await job.read(1, given("measured"));

    const change = expectChange(answer, expected("change"));
    expect(change.features[0].effect).toBe(0.5);
  });

  const signs = [
    { sign: "reversed", name: "change", claim: "programs with reversed sign: plus makes the boss smaller" },
    { sign: "normal", name: "ordinary_convention_change", claim: "the ordinary sign: minus" },
  ] as const;
  it.each(signs.map((each) => ({ ...each, title: titleOf("ML-13", each.claim) })))(
    "$title",
    async ({ sign, name }) => {
      const { given, expected } = tradeCase("ML-13");
      // The case gives no limits: ±0.002 inch.
      const limits = { lower_deviation: -0.002, upper_deviation: 0.002, target: given("target") };
      const job = await startJob(api, {
        machine: { unit: "inch", least_increment: 0.0001, largest_change: 0.01 },
        registers: [{ ...diameter, sign }],
        gauge: { unit: "inch", resolution: 0.0001, repeatability: 0.00005, expanded_uncertainty: 0.0001 },
        part: { unit: "inch" },
        features: [{ kind: "external", nominal: "1.000", ...limits }],
      });

      const answer = await job.read(1, given("measured"));

      const change = expectChange(answer, expected(name), 0.0001);
      expect(change.unit).toBe("inch");
    },
  );
});

describe("several features of one cutter", () => {
  it(titleOf("ML-14", "boss big and bore small by the same: one correction mends both"), async () => {
    const { given, expected } = tradeCase("ML-14");
    // The case gives errors only: a boss 40 and a bore 20, both ±0.03.
    const within = { lower_deviation: -0.03, upper_deviation: 0.03 };
    const job = await startJob(api, {
      registers: [radius],
      features: [
        { characteristic: "boss", kind: "external", nominal: "40", ...within },
        { characteristic: "bore", kind: "internal", nominal: "20", ...within },
      ],
    });

    const answer = await job.read(1, {
      boss: sum(40, given("boss_error")),
      bore: sum(20, given("bore_error")),
    });

    const change = expectChange(answer, expected("change"));
    for (const feature of change.features) {
      const nominal = feature.feature_id === job.featureId("boss") ? 40 : 20;
      expect(Math.abs(feature.expected_after - nominal)).toBeLessThanOrEqual(0.002);
    }
  });

  it(titleOf("ML-16", "two tight features: the change lies in the overlap of their windows"), async () => {
    const { given, expected } = tradeCase("ML-16");
    const job = await startJob(api, {
      registers: [diameter],
      features: [
        {
          characteristic: "bore",
          kind: "internal",
          nominal: "20",
          lower_limit: given("bore_lower"),
          upper_limit: given("bore_upper"),
        },
        {
          characteristic: "boss",
          kind: "external",
          nominal: "40",
          lower_limit: given("boss_lower"),
          upper_limit: given("boss_upper"),
        },
      ],
    });

    const answer = await job.read(1, { bore: given("bore_measured"), boss: given("boss_measured") });

    const change = expectChange(answer, expected("change"));
    expect(overlapOf(change)).toEqual({
      low: expected("allowed_change_low"),
      high: expected("allowed_change_high"),
    });
    // What the readings themselves come out at; the forecast takes part of their contradiction for scatter.
    const bore = sum(given("bore_measured"), -change.change);
    const boss = sum(given("boss_measured"), change.change);
    expect(Math.abs(bore - expected("bore_after"))).toBeLessThanOrEqual(0.001 + 1e-9);
    expect(Math.abs(boss - expected("boss_after"))).toBeLessThanOrEqual(0.001 + 1e-9);
  });

  it(titleOf("ML-16", "with one of the two measured the other is asked for first"), async () => {
    const { given } = tradeCase("ML-16");
    const job = await startJob(api, {
      registers: [diameter],
      features: [
        { characteristic: "bore", kind: "internal", nominal: "20", lower_limit: 20, upper_limit: 20.021 },
        { characteristic: "boss", kind: "external", nominal: "40", lower_limit: 39.99, upper_limit: 40.01 },
      ],
    });

    const { next } = await job.read(1, { boss: given("boss_measured") });

    expect(next).toMatchObject({ action: "measure", piece: 1 });
    expect(next.why).toContain("bore");
  });

  it(titleOf("ML-17", "three features that nearly agree: the middle of what they ask"), async () => {
    const { given, givenList, expected } = tradeCase("ML-17");
    const half = given("tolerance_half");
    const names = ["a", "b", "c"];
    const job = await startJob(api, {
      registers: [radius],
      features: names.map((characteristic) => ({
        characteristic,
        kind: "external",
        nominal: "30",
        lower_deviation: -half,
        upper_deviation: half,
      })),
    });

    // Bosses, two walls: the error is twice what each asks of the radius, sign turned.
    const sizes = givenList("asked").map((asked) => sum(30, -2 * asked));
    const answer = await job.read(1, Object.fromEntries(names.map((name, i) => [name, sizes[i]!])));

    const change = expectChange(answer, expected("change"));
    expect(sum(Math.max(...givenList("asked")), -Math.min(...givenList("asked")))).toBe(expected("spread"));
    expect(change.features).toHaveLength(3);
    expect(adviceOf(answer, "change").arithmetic.join(" ")).toMatch(/keep all of them inside/);
  });
});
