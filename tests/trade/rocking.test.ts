import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { titleOf, tradeCase } from "../support/trade-cases.js";
import { startJob } from "../support/trade-job.js";

const { api } = await createTestApp();

describe("a gauge that is rocked", () => {
  const job = (kind: "internal" | "external" | "depth", gauge: object = {}) =>
    startJob(api, { gauge, features: [{ kind, nominal: "20", lower_limit: 20, upper_limit: 20.021 }] });

  it(titleOf("GA-08", "the smallest size in a bore is square to it"), async () => {
    const { givenList, expected } = tradeCase("GA-08");
    const { post, featureId, batchId } = await job("internal");
    const reading = {
      feature_id: featureId(),
      batch_id: batchId,
      piece: 1,
      rocked: givenList("readings"),
      unit: "mm",
    };

    const answer = await post("/v1/readings", reading, 201);

    expect(answer.readings[0]).toMatchObject({
      size: expected("size"),
      value: expected("size"),
      rocked: givenList("readings"),
      verdict: "conforming",
    });
    const { body } = await api.get(`/v1/readings/${answer.readings[0].reading_id}`);
    expect(body).toEqual(answer.readings[0]);
  });

  it("the largest size counts over a shaft, and the turning point of the size where a gauge shows deviations reversed", async () => {
    const shaft = await job("external");
    const bore = await job("internal", { reads: "deviation", master_size: 20, sense: "reversed" });
    const rocked = (of: typeof shaft, list: number[]) =>
      of.post(
        "/v1/readings",
        { feature_id: of.featureId(), batch_id: of.batchId, piece: 1, rocked: list, unit: "mm" },
        201,
      );

    expect((await rocked(shaft, [20.011, 20.014, 20.012])).readings[0]).toMatchObject({ size: 20.014 });
    expect((await rocked(bore, [-0.018, -0.012, -0.015])).readings[0]).toMatchObject({
      value: -0.012,
      size: 20.012,
    });
  });

  it.each([
    ["depth", { rocked: [20.01, 20.011] }, 422, "/rocked"],
    ["internal", { rocked: [20.01, 20.011], value: 20.01 }, 400, "/rocked"],
    ["internal", { rocked: [20.01] }, 400, "/rocked"],
    ["internal", { rocked: [20.01, 5e6], unit: "inch" }, 422, "/rocked/1"],
    ["internal", {}, 400, "/value"],
  ] as const)("refuses on a feature of kind %s %j with %i", async (kind, change, status, pointer) => {
    const { post, featureId, batchId } = await job(kind);

    const { errors } = await post(
      "/v1/readings",
      { feature_id: featureId(), batch_id: batchId, piece: 1, unit: "mm", ...change },
      status,
    );

    expect(errors).toMatchObject([{ pointer }]);
  });
});
