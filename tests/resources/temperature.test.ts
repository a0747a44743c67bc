import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create, gaugeBody, partBody } from "../support/shop.js";

const { api, db } = await createTestApp();

const warm = { temperature_c: 28, gauge_temperature_c: 28 };
const hot = { temperature_c: 35, gauge_temperature_c: 20 };
const shaft = (room: number) => ({ nominal: "100", lower_deviation: -room, upper_deviation: room });
const steel = { material: "steel" };
/** A shop of one 100 mm steel shaft, measured with a steel micrometer. */
const steelShop = (room = 0.01, change: object = {}) =>
  runningBatch(api, { features: [shaft(room)], part: steel, gauge: steel, ...change });

async function refuse(body: object | object[], status = 422) {
  const response = await api.post("/v1/readings").send(body);
  expect(response.status, response.text).toBe(status);
  return response.body.errors as { pointer: string; detail: string }[];
}

describe("POST /v1/readings with temperatures", () => {
  it("keeps value, size as read and size at 20 °C side by side, and lists them", async () => {
    const shop = await steelShop();

    const answer = await shop.read(1, "100.015", { ...hot, temperature_c: "35.0" });

    const [reading] = answer.readings;
    expect(reading).toMatchObject({
      value: 100.015,
      unit: "mm",
      size: 99.997750388,
      size_as_read: 100.015,
      temperature_c: 35,
      gauge_temperature_c: 20,
      temperature_correction: -0.017249612,
      expansion_coefficient: 11.5,
      gauge_expansion_coefficient: 11.5,
      deviation: -0.002249612,
      verdict: "conforming",
      flags: ["warm_part"],
    });
    const { items } = (await api.get(`/v1/readings?batch_id=${shop.batch.batch_id}`)).body;
    expect(items).toEqual([reading]);
    expect((await api.get(`/v1/readings/${reading.reading_id}`)).body).toEqual(reading);
  });

  it("leaves a reading without temperatures as it is", async () => {
    const shop = await steelShop();

    const answer = await shop.read(1, 100.001);

    expect(answer.readings[0]).toMatchObject({
      size: 100.001,
      size_as_read: 100.001,
      temperature_c: null,
      gauge_temperature_c: null,
      temperature_correction: null,
      temperature_correction_uncertainty: null,
      expansion_coefficient: null,
      gauge_expansion_coefficient: null,
      expanded_uncertainty: 0.003,
      flags: [],
    });
    expect(answer.next.why).not.toMatch(/°C/);
  });

  it("adds what the reduction leaves unsure to the uncertainty of the gauge, in quadrature", async () => {
    const shop = await steelShop();

    const { readings } = await shop.read(1, 100.015, hot);

    // u(α) of steel = √(1.6²/12 + 0.3²) = 0.551 µm/(m·K), u(t) = 1/√3 K; L = 100.015 mm, θ = 15 K and 0 K.
    const [a, u, t] = [11.5e-6, Math.hypot(1.6 / Math.sqrt(12), 0.3) * 1e-6, 1 / Math.sqrt(3)];
    const standard = 100.015 * Math.hypot(a * t, 15 * u, u * t, a * t, u * t);
    expect(readings[0].temperature_correction_uncertainty).toBeCloseTo(standard, 8);
    expect(readings[0].expanded_uncertainty).toBeCloseTo(2 * Math.hypot(0.0015, standard), 8);
    const row = await db
      .selectFrom("reading")
      .select(["gauge_variance", "gauge_fit"])
      .where("batch_id", "=", shop.batch.batch_id)
      .executeTakeFirstOrThrow();
    expect(row.gauge_variance).toBeCloseTo(0.0012 ** 2 + 0.001 ** 2 / 12 + standard ** 2, 14);
    expect(row.gauge_fit).toBe(true);
  });

  it("steers by the size at 20 °C, and rebuilds the same state from what is stored", async () => {
    const shop = await steelShop(0.02, { quantity: 40 });
    const cold = await steelShop(0.02, { quantity: 40 });

    const byWarm = await shop.read(1, 100.0345, { temperature_c: 35, gauge_temperature_c: 20 });
    const byCold = await cold.read(1, 100.0172, {});
    const late = await shop.read(2, 100.0345, { temperature_c: 35, gauge_temperature_c: 20 });
    await shop.read(1, 100.0345, { temperature_c: 35, gauge_temperature_c: 20 });

    const change = (answer: { corrections: { kind: string; change: number }[] }) =>
      answer.corrections.find(({ kind }) => kind === "change")?.change;
    expect(byWarm.readings[0].verdict).toBe("conforming");
    expect(change(byWarm)).toBeLessThan(0);
    expect(Math.abs(change(byWarm)! - change(byCold)!)).toBeLessThanOrEqual(0.001);
    expect(change(late)).toBeLessThan(0);
  });

  it("asks nothing of part and gauge of one material at one temperature", async () => {
    const shop = await steelShop();

    const { readings, next } = await shop.read(1, 100.002, warm);

    expect(readings[0]).toMatchObject({ size: 100.002, temperature_correction: 0, flags: [] });
    // Side by side they differ by less than two temperatures read apart.
    expect(readings[0].temperature_correction_uncertainty).toBeLessThan(0.0008);
    expect(readings[0].expanded_uncertainty).toBeGreaterThan(0.003);
    expect(next.why).not.toMatch(/°C/);
  });

  // A 100 mm part of 10 µm/(m·K) at 21 °C: a correction of 1 µm.
  it.each([
    ["at a tenth of the tolerance and below U", 0.01, 0.0012, []],
    ["just below a tenth of the tolerance, at U", 0.02, 0.001, []],
    ["just above a tenth of the tolerance", 0.0098, 0.0012, ["warm_part"]],
    ["just above U", 0.02, 0.00099, ["warm_part"]],
    ["above 2 u where U is not known", 0.02, null, []],
  ])(
    "flags a correction by tolerance and uncertainty: %s",
    async (_, tolerance, expanded_uncertainty, flags) => {
      const shop = await runningBatch(api, {
        features: [
          { nominal: "100", lower_limit: 100 - tolerance / 2, upper_limit: 100 + tolerance / 2 },
        ].map((feature) => ({ ...feature, lower_deviation: undefined, upper_deviation: undefined })),
        gauge: { resolution: 0.0001, repeatability: 0.0005, expanded_uncertainty, expansion_coefficient: 0 },
        part: { expansion_coefficient: 10, expansion_uncertainty: 0 },
      });

      const { readings } = await shop.read(1, 100.001, { temperature_c: 21, gauge_temperature_c: 20 });

      expect(readings[0].temperature_correction).toBe(-0.001);
      expect(readings[0].flags).toEqual(flags);
    },
  );

  it("finds a slip in what the gauge showed, not in what became of it", async () => {
    const shop = await runningBatch(api, {
      features: [{ nominal: "300", lower_deviation: -0.02, upper_deviation: 0.02 }],
      part: steel,
      gauge: steel,
    });

    const { readings } = await shop.read(1, 300.502, hot);

    expect(readings[0].flags).toContain("implausible");
    expect(readings[0].slip).toBe("two neighbouring digits may be exchanged (300.052 mm was probably meant)");
  });

  it("makes a cold part bigger than it reads", async () => {
    const shop = await steelShop();

    const { readings, next } = await shop.read(1, 99.994, { temperature_c: 12, gauge_temperature_c: 20 });

    expect(readings[0].temperature_correction).toBeCloseTo(0.0092, 4);
    expect(readings[0]).toMatchObject({ verdict: "conforming", flags: ["warm_part"] });
    expect(next.why).toMatch(/let the piece warm up/);
  });

  it("takes a gauge of which nothing is known where it was at 20 °C, and says so", async () => {
    const shop = await runningBatch(api, { features: [shaft(0.05)], part: steel });

    const { readings } = await shop.read(1, 100.015, hot);

    expect(readings[0]).toMatchObject({ size: 99.997750388, gauge_expansion_coefficient: null });
  });

  it("reckons in the part's unit, whatever the reading's", async () => {
    const inch = { machine: { unit: "inch" }, gauge: { ...steel, unit: "inch", resolution: 0.00005 } };
    const shop = await runningBatch(api, {
      ...inch,
      machine: {
        unit: "inch",
        least_increment: 0.0001,
        largest_change: 0.01,
        largest_change_towards_work: 0.01,
      },
      gauge: { ...inch.gauge, repeatability: null, expanded_uncertainty: 0.0001 },
      tool: {
        nominal_diameter: 0.5,
        registers: [{ number: 7, label: "D7", controls: "radial", holds: "radius", value: 0 }],
      },
      part: { ...steel, unit: "inch" },
      features: [{ nominal: "4.0000", lower_deviation: -0.001, upper_deviation: 0.001 }],
    });

    const { readings, next } = await shop.read(1, 101.6175, { unit: "mm", ...hot });

    expect(readings[0].size_as_read).toBeCloseTo(4.000689, 6);
    expect(readings[0].temperature_correction).toBeCloseTo(-0.00069, 6);
    expect(next.why).toMatch(/read 4\.00069 inch at 35 °C.* 4\.00000 inch ±/);
  });

  it("is sure of nothing where the warmth makes a fit gauge too coarse", async () => {
    const shop = await steelShop(0.007);

    const { readings, corrections, next } = await shop.read(1, 100.022, hot);

    expect(readings[0]).toMatchObject({ disposition: "remeasure", flags: ["warm_part"] });
    expect(corrections.filter(({ kind }: { kind: string }) => kind === "change")).toEqual([]);
    expect(next.why).toMatch(/let the piece cool and measure again: as it stands the verdict is not sure/);
  });

  it("guards acceptance by the uncertainty with the reduction", async () => {
    const guarded = { ...steel, decision_rule: "guarded_acceptance" };
    const shop = await steelShop(0.02, { part: guarded });

    const cool = await shop.read(1, 100.017);
    const reduced = await shop.read(2, 100.017, { temperature_c: 20, gauge_temperature_c: 20 });

    expect(cool.readings[0].verdict).toBe("conforming");
    expect(reduced.readings[0]).toMatchObject({ size: 100.017, verdict: "uncertain" });
  });

  it("asks whether degrees Fahrenheit were meant where a part would be too hot to hold", async () => {
    const shop = await steelShop();

    const { next } = await shop.read(1, 100.05, { temperature_c: 68, gauge_temperature_c: 20 });

    expect(next.why).toMatch(/If 68 was meant in °F, void it and send 20\.0\./);
  });

  it("names three warm readings and counts the rest", async () => {
    const shop = await steelShop();

    const { next } = await create(
      api,
      "/v1/readings",
      [1, 2, 3, 4, 5].map((piece) => shop.reading(piece, 100.017, hot)),
    );

    expect(next.why.match(/at 20 °C that is/g)).toHaveLength(3);
    expect(next.why).toMatch(/2 more readings are flagged as warm/);
  });

  it("tells readings apart that differ in temperature only, and knows the same one again", async () => {
    const shop = await steelShop();
    const taken = { measured_at: "2026-03-02T07:41:00Z" };

    const first = await shop.read(1, 100.015, { ...hot, ...taken });
    const warmer = await shop.read(1, 100.015, { ...hot, temperature_c: 36, ...taken });
    const again = await shop.read(1, 100.015, { ...hot, temperature_c: "35.00", ...taken });
    const none = await shop.read(1, 100.015, taken);

    expect(warmer.readings[0]).toMatchObject({ repeat: 2 });
    expect(again.readings[0].reading_id).toBe(first.readings[0].reading_id);
    expect(again.readings[0]).toMatchObject({ flags: ["warm_part", "duplicate"], size_as_read: 100.015 });
    expect(none.readings[0]).toMatchObject({ repeat: 3, temperature_c: null });
  });

  it("returns 422 where the gauge's temperature is missing, or the part's", async () => {
    const shop = await steelShop();

    const [gauge] = await refuse(shop.reading(1, 100, { temperature_c: 28 }));
    const [part] = await refuse([shop.reading(1, 100), shop.reading(2, 100, { gauge_temperature_c: 20 })]);

    expect(gauge).toEqual({
      pointer: "/gauge_temperature_c",
      detail: expect.stringMatching(/^is missing.*the same as temperature_c.*20 °C send 20$/),
    });
    expect(part).toMatchObject({ pointer: "/1/temperature_c", detail: expect.stringMatching(/^is missing/) });
  });

  it("returns 422 where the part's material is unknown or not said, until it is told", async () => {
    const part = { material: "stainless steel" };
    const shop = await runningBatch(api, { features: [shaft(0.05)], part, gauge: steel });
    const silent = await runningBatch(api, {
      features: [shaft(0.05)],
      part: { material: null },
      gauge: steel,
    });

    const [unknown] = await refuse(shop.reading(1, 100.015, hot));
    const [unsaid] = await refuse(silent.reading(1, 100.015, hot));
    await shop.read(1, 100.001);
    const path = `/v1/parts/${shop.part.part_id}`;
    const patched = await api.patch(path).send({ expansion_coefficient: 17.3, expansion_uncertainty: 0.3 });
    const { readings } = await shop.read(2, 100.015, hot);

    expect(unknown).toMatchObject({ pointer: "/temperature_c" });
    expect(unknown!.detail).toContain(`PATCH ${path} with its "expansion_coefficient"`);
    expect(unknown!.detail).toMatch(/near: .*"stainless steel 304"/);
    expect(unsaid!.detail).toMatch(/^cannot be used: it is not said what/);
    expect(patched.body).toMatchObject({ expansion_coefficient: 17.3, expansion_from: "given" });
    expect(readings[0]).toMatchObject({ expansion_coefficient: 17.3 });
    expect(readings[0].size).toBeCloseTo(100.015 / (1 + 15 * 17.3e-6), 9);
  });

  it("returns 422 where a warm gauge's material is unknown, until it is told", async () => {
    const shop = await runningBatch(api, { features: [shaft(0.05)], part: steel });

    const [unknown] = await refuse(shop.reading(1, 100.015, warm));
    const path = `/v1/gauges/${shop.gauge.gauge_id}`;
    await api.patch(path).send({ material: "steel" });
    const { readings } = await shop.read(1, 100.015, warm);

    expect(unknown).toMatchObject({ pointer: "/gauge_temperature_c" });
    expect(unknown!.detail).toContain(`PATCH ${path} with a "material"`);
    expect(readings[0]).toMatchObject({ size: 100.015, gauge_expansion_coefficient: 11.5 });
  });

  it.each([
    ["temperature_c", -40.1],
    ["temperature_c", 200.1],
    ["temperature_c", "warm"],
    ["temperature_c", null],
    ["temperature_c", "1e2"],
    ["gauge_temperature_c", 293],
    ["gauge_temperature_c", ""],
  ])("returns 400 for %s of %s", async (field, value) => {
    const shop = await steelShop();

    const [fault] = await refuse(shop.reading(1, 100, { ...hot, [field]: value }), 400);

    expect(fault).toMatchObject({ pointer: `/${field}` });
    expect(fault!.detail).toMatch(/from -40 to 200 °C/);
  });

  it.each([-40, 200])("takes %d °C", async (temperature_c) => {
    const shop = await steelShop();

    await shop.read(1, 100, { temperature_c, gauge_temperature_c: 20 });
  });
});

describe("material and expansion of parts and gauges", () => {
  let parts = 0;
  const part = (change: object) => {
    parts += 1;
    return partBody(undefined, { number: `H-${parts}`, ...change });
  };

  it("takes the coefficient of a material that is known, unless one is given", async () => {
    const known = await create(api, "/v1/parts", part({ material: "Aluminum 6061" }));
    const given = await create(api, "/v1/parts", part({ material: "steel", expansion_coefficient: "12.1" }));
    const unknown = await create(api, "/v1/parts", part({ material: "unobtainium" }));

    expect(known).toMatchObject({
      material: "Aluminum 6061",
      expansion_coefficient: 23.6,
      expansion_from: "material",
    });
    expect(given).toMatchObject({
      expansion_coefficient: 12.1,
      expansion_uncertainty: Number((1.21 / Math.sqrt(3)).toFixed(4)),
      expansion_from: "given",
    });
    expect(unknown).toMatchObject({
      material: "unobtainium",
      expansion_coefficient: null,
      expansion_uncertainty: null,
      expansion_from: null,
    });
    expect((await api.get(`/v1/parts/${given.part_id}`)).body).toEqual(given);
  });

  it("keeps those of a gauge, and takes them away again", async () => {
    const gauge = await create(
      api,
      "/v1/gauges",
      gaugeBody({
        name: "master of carbide",
        material: "carbide",
        expansion_coefficient: 5,
        expansion_uncertainty: 0,
      }),
    );
    const path = `/v1/gauges/${gauge.gauge_id}`;

    const byMaterial = await api.patch(path).send({ expansion_coefficient: null });
    const unknown = await api.patch(path).send({ material: null });

    expect(gauge).toMatchObject({
      expansion_coefficient: 5,
      expansion_uncertainty: 0,
      expansion_from: "given",
    });
    expect(byMaterial.body).toMatchObject({ expansion_coefficient: 5, expansion_from: "material" });
    expect(unknown.body).toMatchObject({ material: null, expansion_coefficient: null, expansion_from: null });
  });

  it.each([
    [{ expansion_coefficient: 11.5e-6 }, "expansion_coefficient", /for 11\.5 · 10⁻⁶ per kelvin send 11\.5/],
    [{ expansion_coefficient: 301 }, "expansion_coefficient", /from -5 to 300/],
    [{ expansion_coefficient: "steel" }, "expansion_coefficient", /from -5 to 300/],
    [{ expansion_coefficient: 11.5, expansion_uncertainty: -1 }, "expansion_uncertainty", /from 0 to 100/],
    [{ expansion_uncertainty: 1 }, "expansion_uncertainty", /belongs to an expansion_coefficient/],
  ])("returns 400 for %j of a part and of a gauge", async (change, field, detail) => {
    const ofPart = await api.post("/v1/parts").send(part(change));
    const ofGauge = await api.post("/v1/gauges").send(gaugeBody({ name: "refused", ...change }));

    for (const { status, body } of [ofPart, ofGauge]) {
      expect(status).toBe(400);
      expect(body.errors).toEqual([{ pointer: `/${field}`, detail: expect.stringMatching(detail) }]);
    }
  });

  it("changes no reading that was taken before", async () => {
    const shop = await steelShop(0.05);
    const { readings } = await shop.read(1, 100.015, hot);

    await api.patch(`/v1/parts/${shop.part.part_id}`).send({ material: "aluminium" });

    const { body } = await api.get(`/v1/readings/${readings[0].reading_id}`);
    expect(body).toEqual(readings[0]);
    expect((await shop.read(2, 100.015, hot)).readings[0].expansion_coefficient).toBe(23);
  });
});

describe("PATCH /v1/parts/{part_id}", () => {
  it("returns 404 for a part that there isn't", async () => {
    const response = await api.patch("/v1/parts/999999").send({ material: "steel" });

    expect(response.status).toBe(404);
  });

  it.each([{}, { number: "X" }, { unit: "inch" }])("returns 400 for %j", async (change) => {
    const { part } = await steelShop();

    expect((await api.patch(`/v1/parts/${part.part_id}`).send(change)).status).toBe(400);
  });
});

describe("GET /v1/materials", () => {
  it("lists every material, page by page", async () => {
    const names: string[] = [];
    let path = "/v1/materials?limit=20";
    for (;;) {
      const { status, body } = await api.get(path);
      expect(status).toBe(200);
      names.push(...body.items.map(({ name }: { name: string }) => name));
      if (body.next_cursor === null) break;
      path = `/v1/materials?limit=20&cursor=${body.next_cursor}`;
    }

    expect(names).toHaveLength(31);
    expect(new Set(names).size).toBe(31);
    expect(names).toContain("aluminium 7075");
  });

  it("shows a material with its range", async () => {
    const { body } = await api.get("/v1/materials");

    expect(body.items[0]).toEqual({
      name: "steel",
      aliases: ["carbon or alloy steel", "mild steel"],
      expansion_coefficient: 11.5,
      lowest: 11,
      highest: 12.6,
      expansion_uncertainty: 0.5508,
    });
  });
});
