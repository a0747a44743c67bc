import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { create, gaugeBody } from "../support/shop.js";

const { api } = await createTestApp();

let count = 0;
const gauge = (change: object = {}) => {
  count += 1;
  return gaugeBody({ name: `gauge ${count}`, ...change });
};

describe("POST /v1/gauges", () => {
  it("keeps a gauge with its defaults", async () => {
    const response = await api.post("/v1/gauges").send(gaugeBody({ coverage_factor: undefined }));

    expect(response.status).toBe(201);
    expect(response.body).toEqual({
      gauge_id: expect.stringMatching(/^\d+$/),
      name: "micrometer 0-25 no. 3",
      kind: "micrometer",
      unit: "mm",
      resolution: 0.001,
      repeatability: 0.0012,
      expanded_uncertainty: 0.003,
      coverage_factor: 2,
      calibration_due: "2027-03-01",
      reference: true,
      reads: "size",
      master_size: null,
      sense: null,
      material: null,
      minutes_per_reading: null,
      expansion_coefficient: null,
      expansion_uncertainty: null,
      expansion_from: null,
      created_at: expect.stringMatching(/Z$/),
    });
    expect((await api.get(`/v1/gauges/${response.body.gauge_id}`)).body).toEqual(response.body);
  });

  it("takes a gauge of which only the resolution is known", async () => {
    const body = { name: "old calliper", kind: "calliper", unit: "inch", resolution: "0.0005" };

    expect(await create(api, "/v1/gauges", body)).toMatchObject({
      resolution: 0.0005,
      repeatability: null,
      expanded_uncertainty: null,
      calibration_due: null,
    });
  });

  it("makes a machine probe no reference, and returns 422 where it is to be one", async () => {
    expect(await create(api, "/v1/gauges", gauge({ kind: "machine_probe" }))).toMatchObject({
      reference: false,
    });

    const response = await api.post("/v1/gauges").send(gauge({ kind: "machine_probe", reference: true }));

    expect(response.status).toBe(422);
    expect(response.body.errors).toEqual([
      { pointer: "/reference", detail: expect.stringMatching(/proves no size/) },
    ]);
  });

  it("keeps the master of a gauge that shows a deviation", async () => {
    const plain = await create(
      api,
      "/v1/gauges",
      gauge({ kind: "bore_gauge", reads: "deviation", master_size: 25.003 }),
    );
    const reversed = await create(
      api,
      "/v1/gauges",
      gauge({ reads: "deviation", master_size: "25.003", sense: "reversed" }),
    );

    expect(plain).toMatchObject({ reads: "deviation", master_size: 25.003, sense: "normal" });
    expect(reversed).toMatchObject({ sense: "reversed" });
  });

  it.each([
    [{ reads: "deviation" }, "/master_size"],
    [{ master_size: 25 }, "/master_size"],
    [{ sense: "normal" }, "/sense"],
    [{ resolution: 0 }, "/resolution"],
    [{ resolution: undefined }, "/resolution"],
    [{ repeatability: -0.001 }, "/repeatability"],
    [{ coverage_factor: 0 }, "/coverage_factor"],
    [{ coverage_factor: "2" }, "/coverage_factor"],
    [{ calibration_due: "2027-02-30" }, "/calibration_due"],
    [{ calibration_due: "01.03.2027" }, "/calibration_due"],
    [{ kind: "ruler" }, "/kind"],
    [{ unit: "cm" }, "/unit"],
  ])("returns 400 for %j", async (change, pointer) => {
    const response = await api.post("/v1/gauges").send(gauge(change));

    expect(response.status).toBe(400);
    expect(response.body.errors.map((error: { pointer: string }) => error.pointer)).toEqual([pointer]);
  });

  it("returns 409 for a name that is taken", async () => {
    await create(api, "/v1/gauges", gauge({ name: "twice" }));

    const response = await api.post("/v1/gauges").send(gauge({ name: "twice" }));

    expect(response.status).toBe(409);
    expect(response.body.errors[0].detail).toMatch(/a gauge named "twice" exists/);
  });
});

describe("PATCH /v1/gauges/{gauge_id}", () => {
  it("changes what is sent and leaves the rest", async () => {
    const before = await create(api, "/v1/gauges", gauge());

    const response = await api.patch(`/v1/gauges/${before.gauge_id}`).send({
      calibration_due: "2028-03-01",
      expanded_uncertainty: 0.0025,
      coverage_factor: 3,
      repeatability: null,
      reference: false,
    });

    expect(response.status).toBe(200);
    expect(response.body).toEqual({
      ...before,
      calibration_due: "2028-03-01",
      expanded_uncertainty: 0.0025,
      coverage_factor: 3,
      repeatability: null,
      reference: false,
    });
    expect((await api.get(`/v1/gauges/${before.gauge_id}`)).body).toEqual(response.body);
  });

  it.each([[{}], [{ name: "other" }], [{ unit: "inch" }], [{ resolution: null }], [{ reads: "deviation" }]])(
    "returns 400 for %j",
    async (change) => {
      const { gauge_id } = await create(api, "/v1/gauges", gauge());

      expect((await api.patch(`/v1/gauges/${gauge_id}`).send(change)).status).toBe(400);
    },
  );

  it("returns 422 where a machine probe is to be a reference", async () => {
    const { gauge_id } = await create(api, "/v1/gauges", gauge({ kind: "machine_probe" }));

    expect((await api.patch(`/v1/gauges/${gauge_id}`).send({ reference: true })).status).toBe(422);
    expect((await api.patch(`/v1/gauges/${gauge_id}`).send({ reference: false })).status).toBe(200);
  });

  it("returns 404 for an unknown gauge", async () => {
    expect((await api.patch("/v1/gauges/987654").send({ reference: false })).status).toBe(404);
  });
});

describe("GET /v1/gauges", () => {
  it("lists them in pages", async () => {
    await create(api, "/v1/gauges", gauge());
    const page = await api.get("/v1/gauges?limit=1");
    const next = await api.get("/v1/gauges").query({ limit: 1, cursor: page.body.next_cursor });

    expect(page.body.items).toHaveLength(1);
    expect(Number(next.body.items[0].gauge_id)).toBeGreaterThan(Number(page.body.items[0].gauge_id));
  });
});
