import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create, featureBody, gaugeBody, partBody } from "../support/shop.js";

const { api } = await createTestApp();

// The shop's gauges, from fine to coarse for a tolerance of 0.1 mm.
const shopGauges = [
  { name: "bore gauge 6", kind: "bore_gauge", resolution: 0.001, expanded_uncertainty: 0.002 },
  { name: "micrometer 0-25", kind: "micrometer", resolution: 0.001, expanded_uncertainty: 0.004 },
  { name: "machine probe", kind: "machine_probe", resolution: 0.001, expanded_uncertainty: 0.01 },
  { name: "micrometer, old", kind: "micrometer", resolution: 0.01, expanded_uncertainty: null },
  { name: "calliper 150", kind: "calliper", resolution: 0.01, expanded_uncertainty: 0.03 },
  { name: "go and no-go 6", kind: "plug_gauge", resolution: 0.001, expanded_uncertainty: 0.001 },
];
const ids = new Map<string, string>();
for (const gauge of shopGauges) {
  const { gauge_id } = await create(api, "/v1/gauges", gaugeBody({ repeatability: null, ...gauge }));
  ids.set(gauge.name, gauge_id);
}

let count = 0;
async function feature(change: object = {}, part: object = {}): Promise<string> {
  count += 1;
  const body = partBody([featureBody({ operation: undefined, ...change })], {
    number: `G-${count}`,
    ...part,
  });
  return (await create(api, "/v1/parts", body)).features[0].feature_id;
}
const rated = async (id: string, query = "") => (await api.get(`/v1/features/${id}/gauges${query}`)).body;

describe("GET /v1/features/{feature_id}/gauges", () => {
  it("rates the gauges that can be brought to an outside size, the finest first, with a sentence each", async () => {
    const { items, next_cursor } = await rated(await feature());

    expect(items.map((item: { name: string; fitness: string }) => [item.name, item.fitness])).toEqual([
      ["micrometer 0-25", "ample"],
      ["machine probe", "fit"],
      ["micrometer, old", "marginal"],
      ["calliper 150", "too_coarse"],
    ]);
    expect(next_cursor).toBeNull();
    expect(items[0]).toMatchObject({ test_ratio: 12.5, resolution_ratio: 100, reference: true });
    expect(items[1]).toMatchObject({ test_ratio: 5, reference: false });
    expect(items[2]).toMatchObject({ test_ratio: null, resolution_ratio: 10 });
    expect(items.map((item: { why: string }) => item.why)).toEqual([
      "Tolerance over twice its expanded uncertainty of 0.004 mm: 12.5 to 1, better than the rule of ten.",
      "Tolerance over twice its expanded uncertainty of 0.010 mm: 5 to 1, fit: 4 to 1 is the usual least.",
      "Tolerance over four times the standard uncertainty that its repeatability and display leave: 2.4 to 1, only just good enough: measure what lies near a limit with a finer one.",
      "Tolerance over twice its expanded uncertainty of 0.030 mm: 1.67 to 1, too coarse: it neither proves a piece nor steers a register here.",
    ]);
  });

  it("says where a display has too few steps", async () => {
    const { items } = await rated(await feature({ lower_deviation: -0.02, upper_deviation: 0.02 }));

    const old = items.find((item: { name: string }) => item.name === "micrometer, old");
    expect(old.why).toContain("Its display has only 4 steps in the tolerance; 10 are the least");
  });

  it("takes a bore gauge to a bore, and one that is set to a master only to sizes near it", async () => {
    const setting = gaugeBody({
      name: "comparator 7",
      kind: "other",
      reads: "deviation",
      master_size: 7,
      repeatability: 0.0002,
      expanded_uncertainty: 0.0008,
      resolution: 0.0002,
    });
    await create(api, "/v1/gauges", setting);
    const names = async (id: string) => (await rated(id)).items.map((item: { name: string }) => item.name);

    const bore = await names(await feature({ kind: "internal" }));
    const shaft = await names(await feature({ nominal: "8.1" }));

    expect(bore.slice(0, 2)).toEqual(["comparator 7", "bore gauge 6"]);
    expect(bore).not.toContain("micrometer 0-25");
    expect(shaft).not.toContain("comparator 7");
  });

  it("takes twice the way from target to the only limit as the tolerance", async () => {
    const id = await feature({
      lower_deviation: undefined,
      upper_deviation: undefined,
      upper_limit: 6.05,
      target: 6,
    });

    const { items } = await rated(id);

    expect(items.find((item: { name: string }) => item.name === "micrometer 0-25").test_ratio).toBe(12.5);
  });

  it("pages, and answers every gauge once", async () => {
    const id = await feature();
    const whole = (await rated(id)).items;
    const pages: unknown[] = [];
    let cursor: string | null = "";
    while (cursor !== null) {
      const page = await rated(id, `?limit=2${cursor && `&cursor=${cursor}`}`);
      expect(page.items.length).toBeLessThanOrEqual(2);
      pages.push(...page.items);
      cursor = page.next_cursor;
    }

    expect(pages).toEqual(whole);
  });

  it("returns 404 for an unknown feature and 400 for a limit of 0", async () => {
    expect((await api.get("/v1/features/987654/gauges")).status).toBe(404);
    expect((await api.get(`/v1/features/${await feature()}/gauges?limit=0`)).status).toBe(400);
  });
});

describe("gauge_advice of a reading", () => {
  const coarse = () =>
    runningBatch(api, {
      features: [{ nominal: "5.5", lower_deviation: -0.05, upper_deviation: 0.05 }],
      gauge: { repeatability: null, resolution: 0.01, expanded_uncertainty: 0.06 },
    });

  it("names the finest gauge that may prove the feature, and says so next", async () => {
    const shop = await coarse();

    const { readings, next } = await shop.read(1, 5.5, { measured_at: "2026-03-02T07:41:00Z" });

    expect(readings[0].flags).toEqual(["gauge_too_coarse"]);
    expect(readings[0].gauge_advice).toMatch(
      /micrometer is too coarse for this tolerance \(0\.83 to 1, 2 to 1 is the least\): take micrometer 0-25 \(12\.5 to 1\), if it reaches the feature\./,
    );
    expect(next.why).toContain("take micrometer 0-25");
    expect((await api.get(`/v1/readings/${readings[0].reading_id}`)).body).toEqual(readings[0]);
  });

  it("names none whose calibration has run out on the day", async () => {
    const shop = await coarse();
    await api.patch(`/v1/gauges/${ids.get("micrometer 0-25")}`).send({ calibration_due: "2026-03-01" });

    const after = await shop.read(1, 5.5, { measured_at: "2026-03-02T07:41:00Z" });
    const before = await shop.read(1, 5.5, { measured_at: "2026-03-01T07:41:00Z" });

    expect(after.readings[0].gauge_advice).not.toContain("micrometer 0-25");
    expect(before.readings[0].gauge_advice).toContain("take micrometer 0-25");
  });

  it("says where the shop has no gauge that is fine enough", async () => {
    const shop = await runningBatch(api, {
      features: [{ nominal: "120", lower_deviation: -0.0005, upper_deviation: 0.0005 }],
    });

    const { readings } = await shop.read(1, 120);

    expect(readings[0].gauge_advice).toMatch(
      /and so is the finest that may prove it, .*: a finer gauge is needed\./,
    );
  });

  it("is silent about a gauge that is fit", async () => {
    const shop = await runningBatch(api);

    expect((await shop.read(1, 12)).readings[0].gauge_advice).toBeNull();
  });
});

describe("GET /v1/features/{feature_id}/gauges of a feature with limits of an operation", () => {
  const wide = { operation: "10", lower_deviation: -0.5, upper_deviation: 0.5 };
  const ofMicrometer = async (change: object, query = "") => {
    const { items } = await rated(await feature(change), query);
    return items.find((item: { name: string }) => item.name === "micrometer 0-25").test_ratio;
  };

  it("rates by those of the operation asked for, else by those of the one that it is made in, else by the drawing's", async () => {
    const limited = { operation: "20", operation_limits: [wide] };

    expect(await ofMicrometer(limited, "?operation=10")).toBe(125);
    expect(await ofMicrometer(limited)).toBe(12.5);
    expect(await ofMicrometer(limited, "?operation=30")).toBe(12.5);
    expect(await ofMicrometer({ operation: "10", operation_limits: [wide] })).toBe(125);
  });
});
