import { expect, it } from "vitest";
import { normalQuantile } from "../../src/core/statistics/normal-quantile.js";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { titleOf, tradeCase } from "../support/trade-cases.js";

const { api } = await createTestApp();

it(titleOf("FQ-07", "Cpk 1.67 and steady: less often, step by step, with a gauge that is fit"), async () => {
  const { given, expected } = tradeCase("FQ-07");
  const [lower_limit, upper_limit] = [given("lower_limit"), given("upper_limit")];
  const feature = {
    nominal: "20",
    lower_deviation: undefined,
    upper_deviation: undefined,
    lower_limit,
    upper_limit,
  };
  const shop = await runningBatch(api, { features: [feature] });
  // A normal sample of exactly this mean and standard deviation, in an order that does not drift.
  const n = 200;
  const scores = Array.from({ length: n }, (_, i) => normalQuantile((((i * 73) % n) + 0.5) / n));
  const s = Math.sqrt(scores.reduce((all, z) => all + z * z, 0) / (n - 1));
  const sizes = scores.map((z) => (given("mean") + (given("sigma") * z) / s).toFixed(6));

  const posted = await api.post("/v1/readings").send(sizes.map((value, i) => shop.reading(i + 1, value)));
  const answer = await api.get(`/v1/features/${shop.part.features[0].feature_id}/capability`);

  expect(posted.status).toBe(201);
  expect(answer.status).toBe(200);
  expect(answer.body.overall.ppk.value).toBe(expected("cpk"));
  expect(answer.body.steady).toBe(true);
  expect(answer.body.normality.normal).toBe(true);
  expect(answer.body.says[0]).toMatch(
    /steady: with a gauge that is fit you may measure less often, step by step/,
  );
});
