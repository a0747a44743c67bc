import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { titleOf, tradeCase } from "../support/trade-cases.js";
import { expectChange, startJob } from "../support/trade-job.js";

const { api } = await createTestApp();

const lathe = { kind: "lathe" };
const x = { controls: "x", holds: "diameter" } as const;

describe("limits before plating", () => {
  it(titleOf("DS-05", "good by the drawing now, out after plating: it is cut again before"), async () => {
    const { given, expected } = tradeCase("DS-05");
    const plating = { thickness: given("plating_per_side"), surfaces: 2 };
    const job = await startJob(api, {
      machine: lathe,
      registers: [x],
      features: [
        {
          kind: "external",
          nominal: "20",
          lower_limit: given("after_lower"),
          upper_limit: given("after_upper"),
          operation_limits: [{ operation: "20", plating, reason: "before plating" }],
        },
      ],
      batch: { operation: "20" },
    });

    const answer = await job.read(1, given("measured_before"));

    expect(answer.readings[0]).toMatchObject({
      lower_limit: expected("before_lower"),
      upper_limit: expected("before_upper"),
      verdict: "nonconforming",
      disposition: "rework",
      operation_limits: {
        operation: "20",
        reason: "before plating",
        final_lower_limit: given("after_lower"),
        final_upper_limit: given("after_upper"),
        size_after_plating: expected("size_after"),
      },
    });
    expect(answer.next.why).toContain(
      "in operation 20, before plating; after plating it would measure 20.006 mm",
    );
    expectChange(answer, -0.0165);
  });

  it(titleOf("DS-05", "the drawing's limits hold in every other batch"), async () => {
    const { given, expected } = tradeCase("DS-05");
    const plating = { thickness: given("plating_per_side"), surfaces: 2 };
    const job = await startJob(api, {
      machine: lathe,
      registers: [x],
      features: [
        {
          kind: "external",
          nominal: "20",
          lower_limit: given("after_lower"),
          upper_limit: given("after_upper"),
          operation_limits: [{ operation: "20", plating }],
        },
      ],
    });

    const answer = await job.read(1, expected("size_after"));

    expect(answer.readings[0]).toMatchObject({
      upper_limit: given("after_upper"),
      verdict: "nonconforming",
      operation_limits: null,
    });
  });

  it(
    titleOf("DS-07", "a 60° thread: four times the layer on the pitch diameter, twice on the major"),
    async () => {
      const { given, expected } = tradeCase("DS-07");
      const layer = { thickness: given("growth_per_surface") };
      const limits = { lower_deviation: -0.1, upper_deviation: 0 };
      const job = await startJob(api, {
        machine: lathe,
        features: [
          {
            characteristic: "pitch",
            kind: "external",
            nominal: "9.026",
            ...limits,
            operation_limits: [{ operation: "20", plating: { ...layer, thread_angle: 60 } }],
          },
          {
            characteristic: "major",
            kind: "external",
            nominal: "10",
            ...limits,
            operation_limits: [{ operation: "20", plating: { ...layer, surfaces: 2 } }],
          },
        ],
        batch: { operation: "20" },
      });

      const features = (await job.get(`/v1/features/${job.featureId("pitch")}`)).operation_limits;
      const answer = await job.read(1, { pitch: 9, major: 9.95 });

      expect(features).toMatchObject([
        { plating: { growth: expected("pitch_diameter_growth") }, target: 8.956 },
      ]);
      expect(answer.readings).toMatchObject([
        { upper_limit: 9.006, lower_limit: 8.906, target: 8.956 },
        { upper_limit: 9.99, operation_limits: { size_after_plating: 9.96 } },
      ]);
      expect(expected("major_diameter_growth")).toBeCloseTo(9.96 - 9.95, 12);
    },
  );
});
