import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create, gaugeBody } from "../support/shop.js";

const { api } = await createTestApp();

let count = 0;
/** A batch whose pieces were read with its micrometer and with another gauge: sizes in mm by piece. */
async function bothRead(mine: (number | string)[], theirs: (number | string)[], change: object = {}) {
  count += 1;
  const shop = await runningBatch(api);
  const other = await create(
    api,
    "/v1/gauges",
    gaugeBody({ name: `room ${count}`, kind: "coordinate_machine", ...change }),
  );
  const post = async (piece: number, value: number | string, gauge_id: string) => {
    const response = await api.post("/v1/readings").send(shop.reading(piece, value, { gauge_id }));
    expect(response.status, response.text).toBe(201);
    return response.body.readings[0];
  };
  for (const [i, value] of mine.entries()) await post(i + 1, value, shop.gauge.gauge_id);
  for (const [i, value] of theirs.entries()) await post(i + 1, value, other.gauge_id);
  const compare = async (query = "", status = 200) => {
    const response = await api.get(
      `/v1/gauges/${shop.gauge.gauge_id}/comparison?with=${other.gauge_id}${query}`,
    );
    expect(response.status, response.text).toBe(status);
    return response.body;
  };
  return { shop, other, post, compare };
}

describe("GET /v1/gauges/{gauge_id}/comparison", () => {
  it("gives bias and limits of agreement from the pieces that both have read", async () => {
    const { shop, other, compare } = await bothRead(
      [12.004, 12.003, 12.006, 12.003, 12.001],
      [12.001, 12.001, 12.002, 12],
    );

    const answer = await compare();

    // Differences 3, 2, 4 and 3 µm: mean 3, s = √(2/3) = 0.8165; t(0.975; 3) = 3.182446 (common tables); by hand
    expect(answer).toMatchObject({
      gauge_id: shop.gauge.gauge_id,
      with: other.gauge_id,
      unit: "mm",
      pairs: 4,
      left_out: 0,
      bias: 0.003,
    });
    expect(answer.standard_deviation).toBeCloseTo(0.00081649658, 10);
    expect(answer.lower_limit_of_agreement).toBeCloseTo(0.003 - 1.96 * 0.00081649658, 10);
    expect(answer.upper_limit_of_agreement).toBeCloseTo(0.003 + 1.96 * 0.00081649658, 10);
    expect(answer.bias_limits[0]).toBeCloseTo(0.003 - (3.182446 * 0.00081649658) / 2, 9);
    expect(answer.why).toContain(
      `reads 0.003 mm more than ${other.name} in the mean of 4 pieces, more than chance makes`,
    );
    expect(answer.why).toContain("4 pieces are few");
    expect(answer.by_size.slope_chance).toBeGreaterThan(0.05);
  });

  it("turns its sign with the gauges", async () => {
    const { shop, other, compare } = await bothRead([12.003, 12.002, 12.004], [12, 12, 12]);
    const one = await compare();
    const turned = (await api.get(`/v1/gauges/${other.gauge_id}/comparison?with=${shop.gauge.gauge_id}`))
      .body;
    expect(turned.bias).toBe(-one.bias);
    expect(turned.why).toContain("reads 0.003 mm less");
  });

  it("takes the mean of repeats, and leaves voided readings out", async () => {
    const { post, other, compare } = await bothRead([12.002, 12.002], [12, 12]);
    const again = await post(1, 12.002, other.gauge_id);

    expect((await compare()).bias).toBe(0.0015);
    await api.post(`/v1/readings/${again.reading_id}/void`).send({ reason: "typed twice" }).expect(200);
    expect((await compare()).bias).toBe(0.002);
  });

  it("compares by feature and time, and says where nothing is to be compared", async () => {
    const { shop, compare } = await bothRead([12.002, 12.002], [12, 12]);
    const [feature] = shop.part.features;

    expect((await compare(`&feature_id=${feature.feature_id}`)).pairs).toBe(2);
    expect((await compare("&feature_id=999999")).pairs).toBe(0);
    expect((await compare("&from=2020-01-01T00:00:00Z")).pairs).toBe(2);
    const none = await compare("&to=2020-01-01T00:00:00Z");
    expect(none).toMatchObject({ pairs: 0, bias: null, bias_limits: null, by_size: null });
    expect(none.why).toContain("Fewer than 2 pieces have been read with both");
  });

  it("refuses the gauge itself, an angle beside a length, and gauges that there are not", async () => {
    const { shop } = await bothRead([], []);
    const protractor = await create(
      api,
      "/v1/gauges",
      gaugeBody({ name: "protractor x", kind: "protractor", unit: "deg" }),
    );
    const ask = (query: string) => api.get(`/v1/gauges/${shop.gauge.gauge_id}/comparison${query}`);

    expect((await ask(`?with=${shop.gauge.gauge_id}`)).status).toBe(422);
    expect((await ask(`?with=${protractor.gauge_id}`)).status).toBe(422);
    expect((await ask("?with=999999")).status).toBe(404);
    expect((await ask("")).status).toBe(400);
  });
});
