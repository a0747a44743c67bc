import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create } from "../support/shop.js";
import { titleOf, tradeCase } from "../support/trade-cases.js";

const { api } = await createTestApp();

function monthsBefore(instant: Date, months: number): Date {
  const at = new Date(instant);
  at.setUTCMonth(at.getUTCMonth() - months);
  return at;
}

describe("records of first articles", () => {
  it(titleOf("RC-01", "two years without production: the first article is to be updated"), async () => {
    const { given } = tradeCase("RC-01");
    const restart = new Date("2026-03-16T08:00:00Z");
    const shop = await runningBatch(api);
    const made = (months: number) => ({ measured_at: monthsBefore(restart, months).toISOString() });
    await shop.read(1, "12.001", made(given("months_since_last_production")));
    await create(api, "/v1/first-articles", {
      part_id: shop.part.part_id,
      report_number: "FA-RC-01",
      extent: "full",
      reason: "first_production",
      pieces: [{ batch_id: shop.batch.batch_id, piece: 1 }],
    });
    const due = async (at: Date) =>
      (await api.get(`/v1/parts/${shop.part.part_id}/first-article-due?at=${at.toISOString()}`)).body;
    const limit = new Date(made(given("months_since_last_production")).measured_at);
    limit.setUTCMonth(limit.getUTCMonth() + given("limit"));

    const late = await due(restart);
    const justInTime = await due(new Date(limit.getTime() - 1));
    const atTheLimit = await due(limit);

    expect(late).toMatchObject({
      due: true,
      extent: "partial",
      reasons: [{ reason: "lapse_in_production" }],
    });
    expect(late.reasons[0].why).toContain(`${given("months_since_last_production")} months before`);
    expect(late.reasons[0].why).toContain("the characteristics that the pause may affect");
    expect(justInTime.due).toBe(false);
    expect(atTheLimit.due).toBe(true);
  });

  it(
    titleOf("RC-03", "a characteristic that fails is recorded with its number; a partial one closes it"),
    async () => {
      const { given } = tradeCase("RC-03");
      const characteristics = given("characteristics");
      const shop = await runningBatch(api, {
        features: Array.from({ length: characteristics }, (_, i) => ({
          characteristic: String(i + 1),
          nominal: "12",
          lower_deviation: -0.03,
          upper_deviation: 0.03,
          cut_by: [],
        })),
      });
      const readAll = (piece: number, failed: number) =>
        create(
          api,
          "/v1/readings",
          // Twice, since a surprising reading decides nothing before a second one agrees.
          [...shop.part.features, ...shop.part.features.slice(0, failed)].map(
            ({ feature_id }: { feature_id: string }, i: number) =>
              shop.reading(piece, i % characteristics < failed ? "12.051" : "12.001", { feature_id }),
          ),
        );
      await readAll(1, given("failed"));
      const decided = await api
        .post(`/v1/batches/${shop.batch.batch_id}/pieces/1/decision`)
        .send({ decision: "scrap", nonconformance: "N-12", by: "quality" });
      expect(decided.status, decided.text).toBe(201);
      const body = (change: object) => ({
        part_id: shop.part.part_id,
        report_number: "FA-RC-03",
        extent: "full",
        reason: "first_production",
        pieces: [{ batch_id: shop.batch.batch_id, piece: 1 }],
        ...change,
      });

      const failed = await create(api, "/v1/first-articles", body({}));
      await readAll(2, 0);
      await create(
        api,
        "/v1/first-articles",
        body({
          report_number: "FA-RC-03-1",
          extent: "partial",
          reason: "corrective_action",
          baseline_id: failed.first_article_id,
          characteristics: ["1"],
          pieces: [{ batch_id: shop.batch.batch_id, piece: 2 }],
        }),
      );
      const closed = (await api.get(`/v1/first-articles/${failed.first_article_id}`)).body;

      expect(failed.characteristics).toHaveLength(characteristics);
      expect(failed.characteristics[0]).toMatchObject({
        status: "nonconforming",
        results: [{ result: "12.051", verdict: "nonconforming" }],
        nonconformance: "N-12",
      });
      expect(failed).toMatchObject({ complete: false, still_open: ["1"] });
      expect(failed.why).toContain(
        `${characteristics - given("failed")} of ${characteristics} characteristics conform`,
      );
      expect(closed).toMatchObject({ complete: true, still_open: [] });
      expect(closed.characteristics[0]).toMatchObject({ status: "nonconforming" }); // the record stays
    },
  );
});
