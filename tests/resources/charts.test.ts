import { describe, expect, it } from "vitest";
import { individualsChart } from "../../src/core/control-chart/variables.js";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create } from "../support/shop.js";

const { api } = await createTestApp();

type Shop = Awaited<ReturnType<typeof runningBatch>>;

/** Ten flow rates of NIST/SEMATECH e-Handbook 6.3.2.2, taken as µm about 12 mm. */
const handbook = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
const sizes = handbook.map((x) => (11.95 + x / 1000).toFixed(4));

async function post(shop: Shop, values: readonly (number | string)[], from = 1): Promise<void> {
  const body = values.map((value, i) => shop.reading(from + i, value));
  const { status } = await api.post("/v1/readings").send(body);
  expect(status).toBe(201);
}

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
async function ask(shop: Shop, path: string, status = 200): Promise<any> {
  const found = await api.get(`/v1/features/${shop.part.features[0].feature_id}/${path}`);
  expect(found.status, JSON.stringify(found.body)).toBe(status);
  return found.body;
}

describe("GET /features/{feature_id}/chart", () => {
  it("draws individuals as the e-Handbook 6.3.2.2 does, moved and scaled", async () => {
    const shop = await runningBatch(api);
    await post(shop, sizes);

    const chart = await ask(shop, "chart?kind=individuals");

    expect(chart.pieces).toBe(10);
    const [size, range] = chart.panels;
    expect(size.points.map(({ value }: { value: number }) => value)).toEqual(sizes.map(Number));
    // Printed there: mean 50.81, limits 55.8041 and 45.8159 with d2 rounded to 1.128.
    expect(size.points[0].centre).toBeCloseTo(11.95 + 0.05081, 9);
    expect(size.points[0].upper).toBeCloseTo(11.95 + 0.0558041, 5);
    expect(size.points[0].lower).toBeCloseTo(11.95 + 0.0458159, 5);
    expect(range.points).toHaveLength(9);
    expect(chart.signals).toEqual([]);
    expect(chart.says[0]).toMatch(/Leave it alone/);
  });

  it("names the piece beyond a limit and says what to do", async () => {
    const shop = await runningBatch(api, {
      features: [{ nominal: "12", lower_deviation: -0.5, upper_deviation: 0.5 }],
    });
    await post(shop, [...sizes, 12.1, ...sizes]);

    const chart = await ask(shop, "chart?kind=individuals&rules=");

    const signals = chart.signals.filter(({ panel }: { panel: string }) => panel === "size");
    expect(signals).toMatchObject([{ piece: 11, rule: "limits" }]);
    expect(signals[0].says).toMatch(/Piece 11: 12.1 mm is above the upper control limit .* Measure it again/);
  });

  it("says first what surprised and was not confirmed, and calls nothing steady", async () => {
    const shop = await runningBatch(api);
    await post(shop, [...sizes, 12.028]);

    const chart = await ask(shop, "chart?kind=individuals");
    const capability = await ask(shop, "capability");

    for (const answer of [chart, capability]) {
      expect(answer).toMatchObject({ pieces: 10, doubtful_pieces: [11] });
      expect(answer.says[0]).toMatch(/piece 11 at 12.028 mm.* measure again/);
    }
    expect(capability.says[1]).toMatch(/find out why before you trust an index/);
  });

  it("splits phases at an entry and at an edge, each with a centre of its own", async () => {
    const shop = await runningBatch(api);
    await post(shop, sizes);
    await api
      .post(`/v1/registers/${shop.registers.radial}/entries`)
      .send({ batch_id: shop.batch.batch_id, from_piece: 6, value: -0.01, reason: "trial", by: "A" })
      .expect(201);
    await api
      .post(`/v1/tools/${shop.tool.tool_id}/edges`)
      .send({
        batch_id: shop.batch.batch_id,
        from_piece: 9,
        reason: "worn",
        registers: shop.tool.registers.map(({ register_id }: { register_id: string }) => ({
          register_id,
          value: 0,
        })),
      })
      .expect(201);

    const chart = await ask(shop, "chart?kind=individuals");

    expect(chart.phases).toEqual([
      { number: 1, from_piece: 1, to_piece: 5, why: "start" },
      { number: 2, from_piece: 6, to_piece: 8, why: "correction" },
      { number: 3, from_piece: 9, to_piece: 10, why: "edge" },
    ]);
    const centres = chart.panels[0].points.map(({ centre }: { centre: number }) => centre);
    expect(centres[0]).toBeCloseTo(individualsChart(sizes.slice(0, 5).map(Number)).location.centre, 9);
    expect(new Set(centres).size).toBe(3);
    expect(chart.panels[1].points).toHaveLength(4 + 2 + 1);
  });

  it("shows what was not foreseen where wear alarms the chart of sizes", async () => {
    const shop = await runningBatch(api, {
      features: [{ nominal: "12", lower_deviation: -0.1, upper_deviation: 0.1 }],
    });
    const noise = [0, 1, -1, 2, 0, -2, 1, 0, -1, 1];
    const worn = Array.from({ length: 40 }, (_, i) => (12 + 0.001 * i + 0.0005 * noise[i % 10]!).toFixed(4));
    await post(shop, worn);

    const plain = await ask(shop, "chart?kind=individuals");
    const innovations = await ask(shop, "chart?kind=innovations");

    expect(plain.signals.length).toBeGreaterThan(5);
    expect(innovations.panels[0].points.length).toBeGreaterThan(20);
    expect(innovations.signals.filter(({ rule }: { rule: string }) => rule === "limits")).toEqual([]);
    const values = innovations.panels[0].points.map(({ value }: { value: number }) => Math.abs(value));
    expect(Math.max(...values)).toBeLessThan(3);
  });

  it("shows among what was not foreseen a piece that nobody has confirmed", async () => {
    const shop = await runningBatch(api);
    const noise = [0, 1, -1, 2, 0, -2, 1, 0, -1, 1];
    await post(shop, [...noise.map((x) => (12 + 0.001 * x).toFixed(3)), 12.028]);

    const chart = await ask(shop, "chart?kind=innovations");

    expect(chart.signals.at(-1)).toMatchObject({ piece: 11, rule: "limits", panel: "not_foreseen" });
    expect(chart.doubtful_pieces).toEqual([11]);
  });

  it("foresees the same from a state kept on the way as from the first piece", async () => {
    const shop = await runningBatch(api, {
      features: [{ nominal: "12", lower_deviation: -0.1, upper_deviation: 0.1 }],
    });
    const noise = [0, 1, -1, 2, 0, -2, 1, 0, -1, 1];
    await post(
      shop,
      Array.from({ length: 60 }, (_, i) => (12 + 0.0005 * i + 0.001 * noise[i % 10]!).toFixed(4)),
    );

    const all = await ask(shop, "chart?kind=innovations");
    const late = await ask(shop, "chart?kind=innovations&from_piece=50");

    const tail = all.panels[0].points.filter(({ piece }: { piece: number }) => piece >= 50);
    expect(late.panels[0].points.map(({ value }: { value: number }) => value)).toEqual(
      tail.map(({ value }: { value: number }) => value),
    );
  });

  it.each(["mean_range", "mean_s"])("draws %s of subgroups inside phases", async (kind) => {
    const shop = await runningBatch(api);
    await post(shop, [...sizes, ...sizes]);

    const chart = await ask(shop, `chart?kind=${kind}&subgroup_size=4`);

    expect(
      chart.panels[0].points.map(({ from_piece, piece }: { from_piece: number; piece: number }) => [
        from_piece,
        piece,
      ]),
    ).toEqual([
      [1, 4],
      [5, 8],
      [9, 12],
      [13, 16],
      [17, 20],
    ]);
  });

  it.each(["ewma", "cusum"])("finds with %s a small shift that no single piece shows", async (kind) => {
    const shop = await runningBatch(api, {
      features: [{ nominal: "12", lower_deviation: -0.1, upper_deviation: 0.1 }],
    });
    const noise = [0, 2, -2, 1, -1, 2, -1, 0, 1, -2];
    const shifted = Array.from({ length: 60 }, (_, i) =>
      (12 + 0.001 * noise[i % 10]! + (i < 30 ? 0 : 0.005)).toFixed(4),
    );
    await post(shop, shifted);

    const chart = await ask(shop, `chart?kind=${kind}`);

    expect(chart.signals.length).toBeGreaterThan(0);
    const plain = await ask(shop, "chart?kind=individuals&rules=");
    expect(plain.signals.filter(({ panel }: { panel: string }) => panel === "size")).toEqual([]);
  });

  it("charts what passes or fails, and counts", async () => {
    const seen = await runningBatch(api, {
      features: [
        {
          kind: "visual",
          nominal: undefined,
          lower_deviation: undefined,
          upper_deviation: undefined,
          cut_by: [],
        },
      ],
    });
    const results = Array.from({ length: 20 }, (_, i) => {
      const { value: _value, unit: _unit, ...rest } = seen.reading(i + 1, 0);
      return { ...rest, result: i % 5 === 0 ? "fail" : "pass" };
    });
    await api.post("/v1/readings").send(results).expect(201);

    const p = await ask(seen, "chart?kind=p&subgroup_size=5");

    expect(p.panels[0].points.map(({ value }: { value: number }) => value)).toEqual([0.2, 0.2, 0.2, 0.2]);
    expect(p.panels[0].points[0].upper).toBeCloseTo(0.2 + 3 * Math.sqrt((0.2 * 0.8) / 5), 9);
    await ask(seen, "chart?kind=individuals", 422);
    await ask(seen, "capability", 422);
  });

  it("charts numbers that failed and counts [by hand, 3 standard deviations of binomial and Poisson]", async () => {
    const seen = await runningBatch(api, {
      features: [
        {
          kind: "count",
          upper_limit: 9,
          nominal: undefined,
          lower_deviation: undefined,
          upper_deviation: undefined,
          cut_by: [],
        },
      ],
    });
    const counts = [2, 3, 1, 4, 2, 3, 2, 1, 3, 2, 2, 5];
    const rows = counts.map((count, i) => {
      const { value: _value, unit: _unit, ...rest } = seen.reading(i + 1, 0);
      return { ...rest, count };
    });
    await api.post("/v1/readings").send(rows).expect(201);

    const c = await ask(seen, "chart?kind=c");
    const u = await ask(seen, "chart?kind=u&subgroup_size=4");
    const np = await ask(seen, "chart?kind=np&subgroup_size=4");

    expect(c.panels[0].points.map(({ value }: { value: number }) => value)).toEqual(counts);
    expect(c.panels[0].points[0]).toMatchObject({
      centre: 2.5,
      upper: expect.closeTo(2.5 + 3 * Math.sqrt(2.5), 8),
    });
    expect(u.panels[0].points.map(({ value }: { value: number }) => value)).toEqual([2.5, 2, 3]);
    expect(u.panels[0].points[0].upper).toBeCloseTo(2.5 + 3 * Math.sqrt(2.5 / 4), 8);
    expect(np.panels[0].points.map(({ value }: { value: number }) => value)).toEqual([0, 0, 0]);
    await ask(seen, "chart?kind=individuals", 422);
  });

  it.each([
    ["chart", 400],
    ["chart?kind=pareto", 400],
    ["chart?kind=individuals&rules=nelson_9", 400],
    ["chart?kind=individuals&last=1", 400],
    ["chart?kind=individuals&from_piece=5&to_piece=4", 400],
    ["chart?kind=individuals&place=top", 422],
    ["chart?kind=c", 422],
    ["chart?kind=mean_range&subgroup_size=26", 422],
    ["chart?kind=mean_range&subgroup_size=11", 422],
    ["chart?kind=individuals&batch_id=999999", 404],
    ["chart?kind=individuals&from_piece=500", 404],
    ["capability?confidence=0.5", 400],
  ])("answers %s with %d", async (path, status) => {
    const shop = await runningBatch(api);
    await post(shop, sizes);

    const problem = await ask(shop, path, status);

    expect(problem.detail.length).toBeGreaterThan(10);
  });

  it("asks for a place where there are several", async () => {
    const shop = await runningBatch(api, {
      features: [{ nominal: "12", lower_deviation: -0.03, upper_deviation: 0.03, places: ["top", "bottom"] }],
    });
    const body = sizes.flatMap((value, i) =>
      ["top", "bottom"].map((place) => shop.reading(i + 1, value, { place })),
    );
    await api.post("/v1/readings").send(body).expect(201);

    expect((await ask(shop, "chart?kind=individuals", 422)).detail).toMatch(/top, bottom/);
    expect((await ask(shop, "chart?kind=individuals&place=top")).pieces).toBe(10);
  });
});

describe("GET /features/{feature_id}/capability", () => {
  it("says that nine are too few, and gives one decimal of ten", async () => {
    const shop = await runningBatch(api);
    await post(shop, sizes.slice(0, 9));

    const few = await ask(shop, "capability");
    await post(shop, sizes.slice(9), 10);
    const ten = await ask(shop, "capability");

    expect(few).toMatchObject({ enough: false, overall: { pp: null, ppk: null } });
    expect(few.says[0]).toMatch(/9 pieces were read: too few/);
    expect(ten.enough).toBe(true);
    // s = 2.0539 is printed for the longer series; of these ten it is 1.9588 µm.
    expect(ten.overall.ppk.value).toBe(Number(ten.overall.ppk.value.toFixed(1)));
    expect(ten.overall.ppk.low).toBeLessThan(ten.overall.ppk.value);
  });

  it("tells the scatter about the wear from what was shipped", async () => {
    const shop = await runningBatch(api, {
      features: [{ nominal: "12", lower_deviation: -0.05, upper_deviation: 0.05 }],
    });
    const noise = [0, 1, -1, 2, 0, -2, 1, 0, -1, 1];
    await post(
      shop,
      Array.from({ length: 60 }, (_, i) => (11.97 + 0.001 * i + 0.001 * noise[i % 10]!).toFixed(4)),
    );

    const found = await ask(shop, "capability");

    expect(found.about_trend.trending).toBe(true);
    expect(found.about_trend.slope_per_piece).toBeCloseTo(0.001, 4);
    expect(found.about_trend.cpk.value).toBeGreaterThan(5 * found.shipped.ppk.value);
    expect(found.shipped).toMatchObject({ pieces: 60, outside: 0 });
    expect(found.says.join(" ")).toMatch(/moves by 0.001 mm per piece/);
  });

  it("leaves what was scrapped out of what was shipped", async () => {
    const shop = await runningBatch(api);
    await post(shop, [...sizes, 12.05]);
    await api
      .post(`/v1/batches/${shop.batch.batch_id}/pieces/11/decision`)
      .send({ decision: "scrap", by: "A" })
      .expect(201);

    const found = await ask(shop, "capability");

    expect(found.shipped).toMatchObject({ pieces: 10, outside: 0 });
  });

  it("is one-sided where one limit is missing", async () => {
    const shop = await runningBatch(api, {
      features: [
        {
          nominal: "12",
          lower_deviation: undefined,
          upper_deviation: undefined,
          upper_limit: 12.05,
          target: 12,
        },
      ],
    });
    await post(shop, [...sizes, ...sizes]);

    const { overall, lower_limit } = await ask(shop, "capability");

    expect(lower_limit).toBeNull();
    expect(overall).toMatchObject({ pp: null, cpm: null, ppkl: null });
    expect(overall.ppk.value).toBe(overall.ppku);
  });
});

describe("pictures and several batches", () => {
  it("answers a chart as SVG of itself alone, with names as they are", async () => {
    const shop = await runningBatch(api, {
      features: [{ name: "Bore <b> & co", nominal: "12", lower_deviation: -0.03, upper_deviation: 0.03 }],
    });
    await post(shop, [12.001, 12.004, 12.002, 12.003, 12.001, 12.002]);

    const path = `/v1/features/${shop.part.features[0].feature_id}/chart?kind=individuals`;
    const response = await api.get(`${path}&format=svg`).buffer(true);
    const json = await api.get(path);
    const asked = await api.get(path).set("accept", "image/svg+xml,image/*").buffer(true);
    const either = await api.get(path).set("accept", "application/json, image/svg+xml");

    expect(asked.body.toString()).toBe(response.body.toString());
    expect(either.body).toEqual(json.body);
    expect(asked.headers.vary).toContain("accept");
    expect(response.status).toBe(200);
    expect(response.headers["content-type"]).toBe("image/svg+xml; charset=utf-8");
    expect(response.headers["content-security-policy"]).toContain("default-src 'none'");
    const svg = response.body.toString();
    expect(svg).toContain("12 Bore &lt;b&gt; &amp; co, individuals");
    expect(svg.match(/<circle/g)).toHaveLength(
      json.body.panels.flatMap((panel: { points: unknown[] }) => panel.points).length,
    );
    expect(json.body).toMatchObject({ lower_limit: 11.97, upper_limit: 12.03, target: 12 });
  });

  it("forms indices over the latest batches: from piece to piece within each, and all together", async () => {
    const shop = await runningBatch(api);
    const second = await create(api, "/v1/batches", {
      name: `${shop.batch.name} b`,
      part_id: shop.part.part_id,
      machine_id: shop.machine.machine_id,
    });
    const cycle = [0, 0.002, 0.001, 0.003, 0.001, 0.002, 0, 0.001, 0.002, 0.003, 0.001, 0.002];
    const both = [
      { batch_id: shop.batch.batch_id, off: -0.008 },
      { batch_id: second.batch_id, off: 0.008 },
    ];
    for (const { batch_id, off } of both)
      for (const [i, size] of cycle.entries())
        await shop.read(i + 1, (12 + off + size).toFixed(3), { batch_id });
    const path = `/v1/features/${shop.part.features[0].feature_id}/capability`;

    const one = (await api.get(path)).body;
    const two = (await api.get(`${path}?batches=5`)).body;
    const wrong = await api.get(`${path}?batches=2&batch_id=${second.batch_id}`);

    expect(one).toMatchObject({ pieces: 12, batch_ids: [second.batch_id] });
    expect(two).toMatchObject({ pieces: 24, batch_ids: [shop.batch.batch_id, second.batch_id] });
    // Moving ranges do not reach over from one batch to the next; what lies between batches is in Ppk alone.
    expect(two.within.standard_deviation).toBeCloseTo(one.within.standard_deviation, 9);
    expect(two.overall.standard_deviation).toBeGreaterThan(5 * one.overall.standard_deviation);
    expect(wrong.status).toBe(400);
  });
});
