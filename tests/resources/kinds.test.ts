import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { create, gaugeBody, machineBody, partBody, toolBody } from "../support/shop.js";

const { api } = await createTestApp();

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

let shops = 0;

/** A part with features of any kind, gauges that go with them, and an open batch. */
async function shop(features: object[], part: object = {}, quantity?: number) {
  const name = `kinds-${++shops}`;
  const machine = await create(api, "/v1/machines", machineBody({ name }));
  const tool = await create(api, "/v1/tools", toolBody(machine.machine_id, { nominal_diameter: 6 }));
  const [coordinate, protractor, plug, roughness, micrometer] = await Promise.all(
    [
      { kind: "coordinate_machine", resolution: 0.0001, repeatability: 0.0005, expanded_uncertainty: 0.002 },
      { kind: "protractor", unit: "deg", resolution: `1'`, repeatability: `30"`, expanded_uncertainty: `2'` },
      { kind: "thread_gauge", resolution: null, repeatability: null, expanded_uncertainty: null },
      {
        kind: "roughness_tester",
        resolution: 0.00001,
        repeatability: 0.00001,
        expanded_uncertainty: 0.00004,
      },
      { kind: "micrometer" },
    ].map((gauge) => create(api, "/v1/gauges", gaugeBody({ name: `${name} ${gauge.kind}`, ...gauge }))),
  );
  const created = await create(
    api,
    "/v1/parts",
    partBody(
      features.map((feature, i) => ({ characteristic: String(i + 1), ...feature })),
      { number: name, ...part },
    ),
  );
  const batch = await create(api, "/v1/batches", {
    name,
    part_id: created.part_id,
    machine_id: machine.machine_id,
    ...(quantity !== undefined && { quantity }),
  });
  const gauges = { coordinate, protractor, plug, roughness, micrometer };
  const post = (list: object[]) =>
    api
      .post("/v1/readings")
      .send(list.map((reading) => ({ batch_id: batch.batch_id, characteristic: "1", piece: 1, ...reading })));
  return {
    part: created,
    batch,
    tool,
    gauges,
    feature: (characteristic: string) =>
      created.features.find((feature: Answer) => feature.characteristic === characteristic),
    post,
    read: async (...list: object[]): Promise<Answer> => {
      const response = await post(list);
      if (response.status !== 201) throw new Error(response.text);
      return response.body;
    },
  };
}
const byGauge = (gauge: Answer) => ({ gauge_id: gauge.gauge_id });

const bore = { kind: "internal", nominal: "10", lower_limit: 10, upper_limit: 10.2 };
const atMaximum = {
  kind: "position",
  upper_limit: 0.1,
  material_condition: "maximum",
  size_of: { kind: "internal", lower_limit: 10, upper_limit: 10.2 },
};

describe("a part with one of each kind", () => {
  const features = [
    { characteristic: "1", ...bore },
    {
      characteristic: "2",
      kind: "position",
      upper_limit: "0.1",
      material_condition: "maximum",
      size_of: { characteristic: "1" },
    },
    { characteristic: "3", kind: "angle", nominal: `44°30'0"`, general_tolerance: "m", shorter_leg: 25 },
    { characteristic: "4", kind: "form", geometric_characteristic: "perpendicularity", upper_limit: 0.05 },
    { characteristic: "5", kind: "roughness", roughness_parameter: "Ra", upper_limit: 0.8 },
    { characteristic: "6", kind: "count", lower_limit: 8, upper_limit: 8, name: "holes" },
    { characteristic: "7", kind: "go_no_go", gauged: "internal_thread", thread_standard: "iso_metric" },
    { characteristic: "8", kind: "visual", name: "no burrs" },
  ];

  it("is shown as it was sent, each kind with what it has", async () => {
    const { part } = await shop(features, { general_tolerance: "m" });

    expect(part.features).toMatchObject([
      { kind: "internal", unit: "mm" },
      {
        kind: "position",
        unit: "mm",
        nominal: "0",
        lower_limit: null,
        upper_limit: 0.1,
        target: 0,
        lower_deviation: null,
        general_tolerance: null,
        material_condition: "maximum",
        size_of: { characteristic: "1", kind: "internal", lower_limit: 10, upper_limit: 10.2 },
      },
      {
        kind: "angle",
        unit: "deg",
        nominal: `44°30'0"`,
        limits_from: "general_tolerance",
        // ISO 2768-1 table 3, class m, shorter leg over 10 up to 50 mm: ±30'
        lower_limit: 44,
        upper_limit: 45,
        target: 44.5,
        lower_deviation: -0.5,
        shorter_leg: 25,
        material_condition: null,
      },
      {
        kind: "form",
        geometric_characteristic: "perpendicularity",
        unit: "mm",
        upper_limit: 0.05,
        target: 0,
      },
      {
        kind: "roughness",
        roughness_parameter: "Ra",
        unit: "µm",
        nominal: null,
        upper_limit: 0.8,
        target: 0,
      },
      { kind: "count", unit: null, nominal: null, lower_limit: 8, upper_limit: 8, target: 8 },
      {
        kind: "go_no_go",
        gauged: "internal_thread",
        thread_standard: "iso_metric",
        limits_from: null,
        target: null,
      },
      { kind: "visual", unit: null, limits_from: null, lower_limit: null, upper_limit: null },
    ]);
    expect((await api.get(`/v1/parts/${part.part_id}`)).body).toEqual(part);
  });

  async function measureAll() {
    const it = await shop(features, { general_tolerance: "m" });
    const { coordinate, protractor, plug, roughness } = it.gauges;
    const answer = await it.read(
      { characteristic: "2", dx: 0.06, dy: "-0.08", unit: "mm", ...byGauge(coordinate) },
      { characteristic: "1", value: 10.12, unit: "mm", ...byGauge(coordinate) },
      { characteristic: "3", value: `44°59'30"`, unit: "deg", ...byGauge(protractor) },
      { characteristic: "4", value: 12, unit: "um", ...byGauge(coordinate) },
      { characteristic: "5", value: 25, unit: "uin", ...byGauge(roughness) },
      { characteristic: "6", count: 8 },
      { characteristic: "7", result: "pass", ...byGauge(plug) },
      { characteristic: "8", result: "pass" },
    );
    return { ...it, answer };
  }

  it("is measured, decided and read back", async () => {
    const { answer, batch } = await measureAll();

    expect(answer.readings).toMatchObject([
      // 2·√(0.06² + 0.08²) = 0.2 of 0.1 + (10.12 − 10) allowed; the size came after it in the same request
      { value: 0.2, dx: 0.06, dy: -0.08, dz: null, feature_size: 10.12, bonus: 0.12, upper_limit: 0.22 },
      { value: 10.12 },
      { value: 44.99166666666667, unit: "deg", size: 44.99166666666667, size_unit: "deg", upper_limit: 45 },
      { value: 12, unit: "µm", size: 0.012, size_unit: "mm", from_target: 0.012, tolerance_used: 0.24 },
      { value: 25, unit: "µin", size: 0.635, size_unit: "µm", deviation: null },
      {
        value: 8,
        unit: null,
        size: 8,
        size_unit: null,
        probability_conforming: null,
        expanded_uncertainty: 0,
      },
      {
        value: null,
        result: "pass",
        size: null,
        decision_rule: null,
        probability_conforming: null,
        risk: null,
      },
      { value: null, result: "pass", gauge_id: null, target: null },
    ]);
    for (const { verdict, disposition, flags } of answer.readings) {
      expect([verdict, disposition, flags]).toEqual(["conforming", "accept", []]);
    }
    const list = (await api.get(`/v1/readings?batch_id=${batch.batch_id}`)).body.items;
    // The position was taken in after the size that it goes by.
    const [position, ...others] = answer.readings;
    expect(list).toEqual([...others, position]);
    for (const reading of answer.readings) {
      expect((await api.get(`/v1/readings/${reading.reading_id}`)).body).toEqual(reading);
    }
  });

  it("is planned like any other, and moves no register", async () => {
    const { answer, batch } = await measureAll();
    expect(answer.corrections).toEqual([]);
    expect(answer.next).toMatchObject({ action: "measure", piece: 2 });
    const plan = (await api.get(`/v1/batches/${batch.batch_id}/checks?piece=2`)).body;
    expect(plan.features.map(({ characteristic }: Answer) => characteristic)).toEqual([
      ...["1", "2", "3", "4", "5", "6", "7", "8"],
    ]);
  });

  it("answers every question about its batch, what failed and what gave nothing included", async () => {
    const { part, batch, tool, gauges, feature, read } = await measureAll();
    const { coordinate, protractor, plug, roughness } = gauges;
    await read(
      { characteristic: "2", dx: 0.2, dy: 0.1, unit: "mm", ...byGauge(coordinate) },
      { characteristic: "3", value: 50, unit: "deg", ...byGauge(protractor) },
      { characteristic: "4", state: "over_range", ...byGauge(coordinate) },
      { characteristic: "5", value: 3, unit: "um", ...byGauge(roughness) },
      { characteristic: "6", count: 7 },
      { characteristic: "7", result: "no_go_enters", turns: 5, ...byGauge(plug) },
      { characteristic: "8", result: "fail" },
    );
    const paths = [
      ...["", "/checks", "/checks?piece=3", "/holds", "/diagnosis", "/pieces/1", "/decisions"].map(
        (path) => `/v1/batches/${batch.batch_id}${path}`,
      ),
      ...part.features.flatMap(({ feature_id }: Answer) => [
        `/v1/features/${feature_id}`,
        `/v1/features/${feature_id}/gauges`,
        `/v1/features/${feature_id}/interval?batch_id=${batch.batch_id}`,
      ]),
      ...[coordinate, protractor, plug].flatMap(({ gauge_id }: Answer) => [
        `/v1/gauges/${gauge_id}`,
        `/v1/gauges/${gauge_id}/pieces`,
        `/v1/readings?gauge_id=${gauge_id}`,
      ]),
      `/v1/readings?batch_id=${batch.batch_id}&feature_id=${feature("8").feature_id}`,
      `/v1/corrections?batch_id=${batch.batch_id}`,
      ...["wear", "edges", "edge-life"].map((path) => `/v1/tools/${tool.tool_id}/${path}`),
      `/v1/parts/${part.part_id}/outlook?machine_id=${batch.machine_id}&quantity=50`,
    ];

    const answers = await Promise.all(paths.map(async (path) => [path, (await api.get(path)).status]));

    expect(answers).toEqual(paths.map((path) => [path, 200]));
    const { body } = await api.get(`/v1/batches/${batch.batch_id}/pieces/1`);
    expect(
      body.features.map(({ characteristic, disposition }: Answer) => [characteristic, disposition]),
    ).toEqual([
      ["1", "accept"],
      ["2", "scrap"],
      ["3", "scrap"],
      ["4", "accept"],
      ["5", "rework"],
      ["6", "scrap"],
      ["7", "scrap"],
      ["8", "scrap"],
    ]);
    const outlook = (await api.get(paths.at(-1)!)).body;
    expect(outlook.features.map(({ characteristic }: Answer) => characteristic)).toEqual(["1"]);
  });

  it("earns trust by good pieces and loses it by a bad one", async () => {
    const it = await shop([{ kind: "visual" }]);
    const every = async () =>
      (await api.get(`/v1/features/${it.feature("1").feature_id}/interval?batch_id=${it.batch.batch_id}`))
        .body.every;
    await it.read({ piece: 1, result: "pass" });
    expect(await every()).toBe(1);
    await it.read({ piece: 2, result: "pass" });
    await it.read({ piece: 3, result: "pass" });
    const earned = await every();

    const { readings, next } = await it.read({ piece: 4, result: "fail" });

    expect(earned).toBeGreaterThan(1);
    expect(readings[0]).toMatchObject({
      verdict: "nonconforming",
      disposition: "scrap",
      hold: { from_piece: 4 },
    });
    expect(next).toMatchObject({ action: "stop", piece: 5 });
    expect(await every()).toBe(1);
  });
});

describe("positions", () => {
  const plain = { kind: "position", upper_limit: "0.1" };

  it.each([
    ["0.03", "0.04", 0.1, "conforming"], // on the limit: 2 · 0.05
    ["0.03", "0.040000001", 0.100000002, "nonconforming"],
    ["0.05", "0", 0.1, "conforming"],
    ["0.035355339", "0.035355339", 0.1, "conforming"], // 2·√2·0.035355339 = 0.09999999994…
    ["0.03535534", "0.03535534", 0.100000003, "nonconforming"],
  ])("decides %s and %s exactly", async (dx, dy, value, verdict) => {
    const it = await shop([plain]);

    const { readings } = await it.read({ dx, dy, unit: "mm", ...byGauge(it.gauges.coordinate) });

    expect(readings[0]).toMatchObject({ value, verdict, dx: Number(dx), dy: Number(dy) });
    if (verdict === "nonconforming") expect(readings[0].disposition).toBe("scrap");
  });

  it("takes a third offset, other units, and a diameter that was worked out elsewhere", async () => {
    const it = await shop([plain]);
    const gauge = byGauge(it.gauges.coordinate);

    const { readings } = await it.read(
      { dx: 20, dy: 30, dz: 60, unit: "um", ...gauge },
      { piece: 2, value: 0.14, unit: "mm", ...gauge },
    );

    expect(readings[0]).toMatchObject({ value: 140, unit: "µm", dz: 60, size: 0.14 });
    expect(readings[0].arithmetic).toEqual(["Position: 2 × √(0.02² + 0.03² + 0.06²) = 0.140 mm."]);
    expect(readings[1]).toMatchObject({ value: 0.14, dx: null, verdict: "nonconforming", arithmetic: [] });
  });

  it("tells the arithmetic of a bonus, and that a datum shift is not included", async () => {
    const it = await shop([atMaximum]);

    const { readings } = await it.read({
      dx: 0.06,
      dy: 0.08,
      size: 10.12,
      unit: "mm",
      ...byGauge(it.gauges.coordinate),
    });

    expect(readings[0].arithmetic.slice(0, 3)).toEqual([
      "Position: 2 × √(0.06² + 0.08²) = 0.200 mm.",
      "Bonus: from the maximum material size of 10.000 mm to the size of 10.120 mm it is 0.120 mm.",
      "Allowed: 0.100 mm + 0.120 mm = 0.220 mm.",
    ]);
    expect(readings[0].arithmetic[3]).toMatch(/datum .* not included/);
  });

  it("takes the latest size of the same piece and cut, and no other", async () => {
    const it = await shop([bore, { ...atMaximum, size_of: { characteristic: "1" } }]);
    const gauge = { unit: "mm", ...byGauge(it.gauges.coordinate) };
    await it.read({ value: 10.05, ...gauge }, { piece: 2, value: 10.08, ...gauge });
    await it.read({ value: 10.06, ...gauge });

    const { readings } = await it.read(
      { characteristic: "2", value: 0.15, ...gauge },
      { characteristic: "2", piece: 2, value: 0.15, ...gauge },
      { characteristic: "2", piece: 3, value: 0.15, ...gauge },
    );

    expect(readings.map(({ bonus }: Answer) => bonus)).toEqual([0.06, 0.08, null]);
  });

  it("is open without a size where only the bonus could save it, and decided where nothing or anything could", async () => {
    const it = await shop([atMaximum]);
    const gauge = { unit: "mm", ...byGauge(it.gauges.coordinate) };

    const { readings } = await it.read(
      { piece: 1, value: 0.1, ...gauge },
      { piece: 2, value: "0.300000001", ...gauge },
      { piece: 3, value: 0.3, ...gauge },
    );
    const { next } = await it.read({ piece: 3, value: 0.25, ...gauge });

    expect(readings.map(({ verdict, disposition }: Answer) => [verdict, disposition])).toEqual([
      ["conforming", "accept"],
      ["nonconforming", "scrap"],
      ["uncertain", "remeasure"],
    ]);
    expect(readings[2].why).toMatch(/nobody knows the bonus/);
    for (const { flags } of readings) expect(flags).toContain("size_not_known");
    expect(next.why).toMatch(/Keep piece 3 apart/);
  });

  it("is not saved by a bonus where the size itself is out, and says so", async () => {
    const it = await shop([atMaximum]);
    const gauge = { unit: "mm", ...byGauge(it.gauges.coordinate) };

    const { readings } = await it.read(
      { piece: 1, value: 0.05, size: 9.99, ...gauge },
      { piece: 2, value: 0.05, size: 10.21, ...gauge },
    );

    expect(readings[0]).toMatchObject({
      value: 0.05,
      verdict: "nonconforming",
      disposition: "rework", // the hole is small: opening it brings it back
      bonus: null,
      upper_limit: 0.1,
      flags: ["size_out"],
    });
    expect(readings[0].why).toMatch(/size itself, 9\.990 mm, is below its lower limit of 10\.000 mm/);
    expect(readings[1]).toMatchObject({ verdict: "nonconforming", disposition: "scrap" });
  });

  it("may have 0 and nothing but the bonus", async () => {
    const it = await shop([{ ...atMaximum, upper_limit: 0 }]);
    const gauge = { unit: "mm", ...byGauge(it.gauges.coordinate) };

    const { readings } = await it.read(
      { piece: 1, value: 0.05, size: 10.05, ...gauge },
      { piece: 2, value: "0.050000001", size: 10.05, ...gauge },
    );

    expect(readings.map(({ verdict }: Answer) => verdict)).toEqual(["conforming", "nonconforming"]);
    expect(
      (await api.get(`/v1/features/${it.feature("1").feature_id}/gauges`)).body.items.length,
    ).toBeGreaterThan(0);
  });

  it("can be reworked while opening the hole may earn the bonus that is missing", async () => {
    const it = await shop([atMaximum]);
    const gauge = { unit: "mm", ...byGauge(it.gauges.coordinate) };

    const { readings } = await it.read(
      { piece: 1, value: 0.3, size: 10.1, ...gauge },
      { piece: 2, value: 0.31, size: 10.1, ...gauge },
    );

    expect(readings.map(({ disposition }: Answer) => disposition)).toEqual(["rework", "scrap"]);
  });

  it("uses the uncertainty of the reading by its rule", async () => {
    const it = await shop([{ ...plain, decision_rule: "guarded_acceptance" }]);
    const gauge = { unit: "mm", ...byGauge(it.gauges.coordinate) }; // U = 0.002

    const { readings } = await it.read(
      { dx: 0, dy: 0.049, ...gauge },
      { piece: 2, dx: 0, dy: "0.0495", ...gauge },
    );

    expect(readings.map(({ verdict }: Answer) => verdict)).toEqual(["conforming", "uncertain"]);
    expect(readings[0].upper_acceptance_limit).toBe(0.098);
  });

  it("keeps a piece that failed before from accept", async () => {
    const it = await shop([plain]);
    const gauge = { unit: "mm", ...byGauge(it.gauges.coordinate) };
    await it.read({ dx: 0.1, dy: 0, ...gauge });

    const { readings } = await it.read({ dx: 0.01, dy: 0, ...gauge });

    expect(readings[0]).toMatchObject({
      repeat: 2,
      flags: ["earlier_reading_failed"],
      disposition: "remeasure",
    });
  });

  it("is the same when it is sent again", async () => {
    const it = await shop([plain]);
    const reading = {
      dx: 0.01,
      dy: 0.02,
      unit: "mm",
      measured_at: "2026-03-02T07:41:00Z",
      ...byGauge(it.gauges.coordinate),
    };
    const first = await it.read(reading);

    const again = await it.read(reading);
    const other = await it.read({ ...reading, dy: -0.02 });

    expect(again.readings[0]).toEqual({ ...first.readings[0], flags: ["duplicate"] });
    expect(other.readings[0].reading_id).not.toBe(first.readings[0].reading_id);
  });
});

describe("angles", () => {
  const angle = { kind: "angle", nominal: "45", lower_deviation: `-0°10'`, upper_deviation: `10'` };

  it.each([
    [`45°10'0"`, "deg", "conforming"],
    [`45°10'0.000000001"`, "deg", "nonconforming"],
    ["44 50 0", "deg", "conforming"],
    ["2710", "arcmin", "conforming"],
    ["2710.000001", "arcmin", "nonconforming"],
    [162600, "arcsec", "conforming"],
    // 45°10' = 2710·π/10800 rad = 0.788307045484105…
    ["0.788307045484105", "rad", "conforming"],
    ["0.788307045484108", "rad", "nonconforming"],
  ])("decides %s %s exactly: %s", async (value, unit, verdict) => {
    const it = await shop([angle]);

    const { readings } = await it.read({ value, unit, ...byGauge(it.gauges.protractor) });

    expect(readings[0]).toMatchObject({ verdict, size_unit: "deg" });
  });

  it("says how it fails in degrees, minutes and seconds", async () => {
    const it = await shop([angle]);

    const { readings, next } = await it.read({
      value: "45.25",
      unit: "deg",
      ...byGauge(it.gauges.protractor),
    });

    expect(readings[0]).toMatchObject({ disposition: "scrap", deviation: 0.25 });
    expect(next.why).toMatch(/0°5'0" above the upper limit of 45°10'0"/);
  });

  it("can be reworked on the side that the drawing's reader names", async () => {
    const it = await shop([{ ...angle, rework: "above" }]);
    const gauge = { unit: "deg", ...byGauge(it.gauges.protractor) };

    const { readings } = await it.read({ value: "45.25", ...gauge }, { piece: 2, value: "44.75", ...gauge });

    expect(readings.map(({ disposition }: Answer) => disposition)).toEqual(["rework", "scrap"]);
  });

  it("is guarded by the uncertainty of its gauge, in degrees", async () => {
    const it = await shop([{ ...angle, decision_rule: "guarded_acceptance" }]); // U = 2'

    const { readings } = await it.read({ value: `45°8'1"`, unit: "deg", ...byGauge(it.gauges.protractor) });

    expect(readings[0]).toMatchObject({ verdict: "uncertain", guard_band: 2 / 60 });
  });

  it("takes the general tolerance only with the length of its shorter leg", async () => {
    const response = await api.post("/v1/parts").send(
      partBody([{ characteristic: "1", kind: "angle", nominal: "30" }], {
        number: "leg",
        general_tolerance: "m",
      }),
    );

    expect(response.status).toBe(422);
    expect(response.body.errors).toEqual([
      { pointer: "/features/0/shorter_leg", detail: expect.stringMatching(/depends on the length/) },
    ]);
  });

  it("rates its gauges in degrees", async () => {
    const it = await shop([angle]);

    const { items } = (await api.get(`/v1/features/${it.feature("1").feature_id}/gauges`)).body;

    expect(items.every(({ kind }: Answer) => kind === "protractor")).toBe(true);
    // 20' over twice 2'
    expect(items.find(({ gauge_id }: Answer) => gauge_id === it.gauges.protractor.gauge_id)).toMatchObject({
      test_ratio: 5,
    });
  });
});

describe("roughness and form", () => {
  it("keeps a roughness in µm or µin whatever unit it came in", async () => {
    const it = await shop([{ kind: "roughness", roughness_parameter: "Ra", upper_limit: 32 }], {
      unit: "inch",
    });

    const { readings } = await it.read(
      { value: "0.8128", unit: "um", ...byGauge(it.gauges.roughness) },
      { piece: 2, value: "812.9", unit: "nm", ...byGauge(it.gauges.roughness) },
    );

    expect(readings[0]).toMatchObject({ size: 32, size_unit: "µin", verdict: "conforming" });
    expect(readings[1]).toMatchObject({ verdict: "nonconforming", disposition: "rework" });
  });

  it("may have a lower limit too", async () => {
    const it = await shop([{ kind: "roughness", roughness_parameter: "Rz", lower_limit: 2, upper_limit: 6 }]);
    const gauge = { unit: "um", ...byGauge(it.gauges.roughness) };

    const { readings } = await it.read({ value: 2, ...gauge }, { piece: 2, value: "1.999", ...gauge });

    expect(readings.map(({ verdict, disposition }: Answer) => [verdict, disposition])).toEqual([
      ["conforming", "accept"],
      ["nonconforming", "scrap"],
    ]);
  });

  it("decides a form on its limit, at 0 and beyond", async () => {
    const it = await shop([{ kind: "form", geometric_characteristic: "flatness", upper_limit: 0.05 }]);
    const gauge = { unit: "mm", ...byGauge(it.gauges.coordinate) };

    const { readings } = await it.read(
      { piece: 1, value: 0, ...gauge },
      { piece: 2, value: 0.05, ...gauge },
      { piece: 3, value: "0.050000001", ...gauge },
    );

    expect(readings.map(({ verdict }: Answer) => verdict)).toEqual([
      "conforming",
      "conforming",
      "nonconforming",
    ]);
  });

  it("reads a form off a gauge that shows deviations from a master as it is", async () => {
    const it = await shop([
      { kind: "form", geometric_characteristic: "circular_run_out", upper_limit: 0.05 },
    ]);
    const indicator = await create(
      api,
      "/v1/gauges",
      gaugeBody({ name: `indicator ${shops}`, kind: "other", reads: "deviation", master_size: 25 }),
    );

    const { readings } = await it.read({ value: 0.02, unit: "mm", ...byGauge(indicator) });

    expect(readings[0]).toMatchObject({ size: 0.02, verdict: "conforming" });
  });

  it("does not judge by a gauge that is too coarse for it", async () => {
    const it = await shop([{ kind: "form", geometric_characteristic: "flatness", upper_limit: 0.001 }]);

    const { readings } = await it.read({ value: 0, unit: "mm", ...byGauge(it.gauges.micrometer) });

    expect(readings[0]).toMatchObject({ flags: ["gauge_too_coarse"], disposition: "remeasure" });
    expect(readings[0].gauge_advice).toMatch(/too coarse for this tolerance/);
  });
});

describe("what is gauged", () => {
  it.each([
    ["iso_metric", 2, "conforming", "accept"],
    ["iso_metric", "2.001", "nonconforming", "scrap"],
    ["unified", 3, "conforming", "accept"],
    ["unified", "3.001", "nonconforming", "scrap"],
  ])(
    "on a thread of %s where NO-GO enters %s turns is %s",
    async (thread_standard, turns, verdict, disposition) => {
      const it = await shop([{ kind: "go_no_go", gauged: "external_thread", thread_standard }]);

      const { readings } = await it.read({ result: "no_go_enters", turns, ...byGauge(it.gauges.plug) });

      expect(readings[0]).toMatchObject({
        verdict,
        disposition,
        turns: Number(turns),
        result: "no_go_enters",
      });
      expect(readings[0].why).toMatch(/NO-GO went in by/);
    },
  );

  async function milledThread() {
    const name = `thread mill ${++shops}`;
    const machine = await create(api, "/v1/machines", machineBody({ name }));
    const mill = await create(
      api,
      "/v1/tools",
      toolBody(machine.machine_id, {
        number: 9,
        registers: [{ number: 9, label: "D9 wear", controls: "radial", holds: "radius", value: -0.01 }],
      }),
    );
    const plug = await create(
      api,
      "/v1/gauges",
      gaugeBody({ name: `${name} plug`, kind: "thread_gauge", resolution: null }),
    );
    const cut = { register_id: mill.registers[0].register_id };
    const part = await create(
      api,
      "/v1/parts",
      partBody(
        [
          {
            characteristic: "1",
            kind: "go_no_go",
            gauged: "internal_thread",
            gauge_id: plug.gauge_id,
            cut_by: [{ ...cut, step: 0.02 }],
          },
          {
            characteristic: "2",
            kind: "form",
            geometric_characteristic: "roundness",
            upper_limit: 0.02,
            cut_by: [cut],
          },
        ],
        { number: name },
      ),
    );
    const batch = await create(api, "/v1/batches", {
      name,
      part_id: part.part_id,
      machine_id: machine.machine_id,
    });
    const read = (piece: number, result: string): Promise<Answer> =>
      create(api, "/v1/readings", { batch_id: batch.batch_id, characteristic: "1", piece, result });
    return { mill, part, batch, read, register: cut.register_id };
  }

  it("gives a step to try where GO refuses, the right way, and no correction", async () => {
    const it = await milledThread();
    expect(it.part.features[0].cut_by[0]).toMatchObject({ effect: -2, step: 0.02 });
    expect(it.part.features[1].cut_by[0]).toMatchObject({ effect: null, step: null });

    const { readings, corrections, next } = await it.read(1, "go_refuses");

    // Inside: the thread has to grow, and a larger wear value makes it smaller.
    expect(readings[0].advice).toMatch(
      /D9 wear of tool 9 by -0\.020 mm, from -0\.010 mm to -0\.030 mm; cut piece 1 again/,
    );
    expect(readings[0].advice).toMatch(/no measured size stands behind/);
    expect(readings[0].advice).toMatch(/Check sign, register and decimal point/);
    expect(readings[0]).toMatchObject({ disposition: "rework" });
    expect(corrections).toEqual([]);
    expect(next).toMatchObject({ action: "stop" });
    expect(next.why).toMatch(/never force a gauge/);
    const kept = (await api.get(`/v1/readings/${readings[0].reading_id}`)).body;
    expect(kept).toEqual(readings[0]);
  });

  it("gives it the other way where NO-GO enters, for the next piece", async () => {
    const it = await milledThread();

    const { readings } = await it.read(1, "no_go_enters");

    expect(readings[0].advice).toMatch(
      /by \+0\.020 mm, from -0\.010 mm to 0\.010 mm; from the next piece on/,
    );
    expect(readings[0].disposition).toBe("scrap");
  });

  it("is looked at again after a change of the register it names, and after a fresh edge", async () => {
    const it = await milledThread();
    for (const piece of [1, 2, 3, 4]) await it.read(piece, "pass");
    const due = async (piece: number) =>
      (await api.get(`/v1/batches/${it.batch.batch_id}/checks?piece=${piece}`)).body.features.map(
        ({ characteristic, rule }: Answer) => [characteristic, rule],
      );
    expect(await due(5)).not.toContainEqual(["1", expect.anything()]);

    await create(api, `/v1/registers/${it.register}/entries`, {
      batch_id: it.batch.batch_id,
      from_piece: 5,
      value: -0.02,
    });
    expect(await due(5)).toContainEqual(["1", "after_change"]);

    await it.read(5, "pass");
    await create(api, `/v1/tools/${it.mill.tool_id}/edges`, {
      batch_id: it.batch.batch_id,
      from_piece: 6,
      reason: "worn",
      registers: [{ register_id: it.register, value: 0 }],
    });
    expect(await due(6)).toContainEqual(["1", "fresh_edge"]);
  });
});

describe("counts", () => {
  it.each([
    [{ lower_limit: 8, upper_limit: 8 }, 8, "conforming"],
    [{ lower_limit: 8, upper_limit: 8 }, 7, "nonconforming"],
    [{ upper_limit: 0 }, 0, "conforming"],
    [{ upper_limit: 0 }, 1, "nonconforming"],
    [{ lower_limit: 2 }, 2, "conforming"],
    [{ lower_limit: 2 }, 1, "nonconforming"],
  ])("by %j says of %d: %s", async (limits, count, verdict) => {
    const it = await shop([{ kind: "count", ...limits }]);

    const { readings } = await it.read({ count });

    expect(readings[0]).toMatchObject({ value: count, verdict, gauge_id: null });
  });
});

describe("readings without a number", () => {
  it.each(["not_measured", "error", "over_range"])("keeps %s as it was told, and no 0", async (state) => {
    const it = await shop([bore, { kind: "visual" }]);

    const { readings, next } = await it.read({ state, ...byGauge(it.gauges.micrometer) });

    expect(readings[0]).toMatchObject({
      state,
      value: null,
      size: null,
      unit: null,
      verdict: "uncertain",
      disposition: "remeasure",
      flags: ["no_value"],
      probability_conforming: null,
    });
    expect(readings[0].why).toMatch(/measure the piece again/);
    expect(next).toMatchObject({ action: "measure", piece: 1 });
    expect(next.why).toMatch(/Measure .*1 .*on piece 1/);
    expect((await api.get(`/v1/readings/${readings[0].reading_id}`)).body).toEqual(readings[0]);
  });

  it("leaves what has been learned as it was, and is followed by a reading like any first one", async () => {
    const it = await shop([bore]);
    const gauge = byGauge(it.gauges.micrometer);
    await it.read({ piece: 1, state: "error", ...gauge });

    const { readings } = await it.read({ piece: 1, value: 10.1, unit: "mm", ...gauge });

    expect(readings[0]).toMatchObject({ verdict: "conforming", disposition: "accept", repeat: 1, flags: [] });
  });

  it("can be voided, and so can the result of a gauge", async () => {
    const it = await shop([{ kind: "visual" }]);
    const { readings } = await it.read({ state: "error" }, { piece: 1, result: "fail" });

    for (const { reading_id } of readings) {
      const response = await api.post(`/v1/readings/${reading_id}/void`).send({ reason: "wrong piece" });
      expect(response.status, response.text).toBe(200);
      expect(response.body.reading.voided.reason).toBe("wrong piece");
    }
    const again = await it.read({ piece: 1, result: "pass" });
    expect(again.readings[0]).toMatchObject({ repeat: 1, flags: [], disposition: "accept" });
  });
});

describe("readings that come late", () => {
  it("leave the plan as the right order would have left it", async () => {
    const results = ["pass", "fail", "pass", "pass", "pass", "pass"];
    const plan = async (order: number[]) => {
      const it = await shop([
        { kind: "visual" },
        { kind: "roughness", roughness_parameter: "Ra", upper_limit: 0.8 },
      ]);
      for (const piece of order) {
        await it.read(
          { piece, result: results[piece - 1] },
          { characteristic: "2", piece, value: 0.1 * piece, unit: "um", ...byGauge(it.gauges.roughness) },
        );
      }
      const intervals = await Promise.all(
        ["1", "2"].map((characteristic) =>
          api.get(
            `/v1/features/${it.feature(characteristic).feature_id}/interval?batch_id=${it.batch.batch_id}`,
          ),
        ),
      );
      return intervals.map(({ body: { every, next_piece, rule } }) => ({ every, next_piece, rule }));
    };

    const inOrder = await plan([1, 2, 3, 4, 5, 6]);

    expect(await plan([4, 1, 6, 2, 5, 3])).toEqual(inOrder);
    expect(inOrder[0]!.every).toBeGreaterThan(1);
  });

  it("leave a piece on hold until what failed is proved good again", async () => {
    const it = await shop([{ kind: "go_no_go", gauged: "bore" }]);
    const gauge = byGauge(it.gauges.plug);
    expect((await api.get(`/v1/features/${it.feature("1").feature_id}/gauges`)).body.items).toEqual([]);
    for (const piece of [1, 2, 3]) await it.read({ piece, result: "pass", ...gauge });
    await it.read({ piece: 6, result: "no_go_enters", ...gauge });
    const holds = async () =>
      (await api.get(`/v1/batches/${it.batch.batch_id}/holds`).expect(200)).body.items.map(
        ({ open }: Answer) => open,
      );

    expect(await holds()).toEqual([[{ from_piece: 4, to_piece: 6 }]]);
    await it.read({ piece: 5, result: "pass", ...gauge });
    expect(await holds()).toEqual([[{ from_piece: 6, to_piece: 6 }]]);
  });
});

describe("places", () => {
  it("have their verdicts for a roughness and for what the eye says, and no form between them", async () => {
    const it = await shop([
      { kind: "roughness", roughness_parameter: "Ra", upper_limit: 0.8, places: ["top", "bottom"] },
      { kind: "visual", places: ["top", "bottom"] },
    ]);
    const gauge = { unit: "um", ...byGauge(it.gauges.roughness) };

    const { places } = await it.read(
      { place: "top", value: 0.5, ...gauge },
      { place: "bottom", value: 0.9, ...gauge },
      { characteristic: "2", place: "top", result: "fail" },
      { characteristic: "2", place: "bottom", result: "pass" },
    );

    expect(places).toMatchObject([
      {
        verdict: "nonconforming",
        disposition: "rework",
        worst_place: "bottom",
        unit: "µm",
        difference: null,
      },
      { verdict: "nonconforming", disposition: "scrap", worst_place: "top", unit: null, shape: null },
    ]);
  });

  it("of a hole give a position the bonus of the one that earns least", async () => {
    const it = await shop([
      { ...bore, places: ["top", "bottom"] },
      { ...atMaximum, size_of: { characteristic: "1" } },
    ]);
    const gauge = { unit: "mm", ...byGauge(it.gauges.coordinate) };

    const { readings } = await it.read(
      { place: "top", value: 10.12, ...gauge },
      { place: "bottom", value: 10.08, ...gauge },
      { characteristic: "2", value: 0.15, ...gauge },
    );

    expect(readings[2]).toMatchObject({ feature_size: 10.08, bonus: 0.08, verdict: "conforming" });
  });
});

describe("gauges", () => {
  it("of angles are checked in angles, and what they leave in doubt is told so", async () => {
    const it = await shop([{ kind: "angle", nominal: "45", lower_deviation: -0.5, upper_deviation: 0.5 }]);
    const path = `/v1/gauges/${it.gauges.protractor.gauge_id}/checks`;
    const reading = {
      value: "45.45",
      unit: "deg",
      measured_at: "2026-03-02T08:00:00Z",
      ...byGauge(it.gauges.protractor),
    };
    await it.read(reading);

    const check = await create(api, path, {
      at: "2026-03-02T09:00:00Z",
      standard: 45,
      reading: "44.9",
      unit: "deg",
    });

    expect(check).toMatchObject({
      unit: "deg",
      error: -0.1,
      state: "off",
      in_doubt: { readings: 1, turned: 1 },
    });
    expect(check.why).toMatch(/reads 0°6'0" too small on 45°0'0"/);
    const { items } = (await api.get(`${path}/${check.gauge_check_id}/readings`)).body;
    expect(items).toMatchObject([{ unit: "deg", size: 45.45, size_from: 45.55, outcome: "turns" }]);
    const wrong = await api.post(path).send({ standard: 25, reading: 25, unit: "mm" });
    expect(wrong.status).toBe(422);
    expect(wrong.body.errors[0]).toMatchObject({
      pointer: "/unit",
      detail: expect.stringMatching(/measures angles/),
    });
  });

  it("that pass or refuse have no error to be checked for", async () => {
    const it = await shop([{ kind: "visual" }]);

    const response = await api
      .post(`/v1/gauges/${it.gauges.plug.gauge_id}/checks`)
      .send({ largest_error: 0.01, unit: "mm" });

    expect(response.status).toBe(422);
    expect(response.body.errors[0].detail).toMatch(/shows no number/);
  });
});

describe("PATCH /v1/features/{feature_id} of these kinds", () => {
  it.each([
    [{ kind: "angle", nominal: "45", lower_deviation: -1, upper_deviation: 1 }, `45°30'`, 200],
    [{ kind: "angle", nominal: "45", lower_deviation: -1, upper_deviation: 1 }, 47, 422],
    [{ kind: "roughness", roughness_parameter: "Ra", upper_limit: 0.8 }, 0.4, 200],
    [{ kind: "roughness", roughness_parameter: "Ra", upper_limit: 0.8 }, `30'`, 422],
    [{ kind: "visual" }, 1, 422],
  ])("of %j takes the target %s with %d", async (feature, target, status) => {
    const it = await shop([feature]);

    const response = await api.patch(`/v1/features/${it.feature("1").feature_id}`).send({ target });

    expect(response.status, response.text).toBe(status);
  });
});

describe("what is refused", () => {
  const features = [
    bore,
    { kind: "position", upper_limit: 0.1 },
    { kind: "angle", nominal: "45", lower_deviation: -1, upper_deviation: 1 },
    { kind: "go_no_go", gauged: "bore" },
    { kind: "visual" },
    { kind: "count", upper_limit: 3 },
    { kind: "form", geometric_characteristic: "flatness", upper_limit: 0.05 },
    { kind: "go_no_go", gauged: "internal_thread", thread_standard: "iso_metric" },
  ];
  const it1 = shop(features);
  it.each([
    ["nothing at all", 400, {}, "value", /is missing/],
    ["two things", 400, { value: 1, unit: "mm", result: "pass" }, "result", /says what "value" says already/],
    ["a value without its unit", 400, { value: 1 }, "unit", /must be "mm"/],
    ["one offset", 400, { characteristic: "2", dx: 0.1, unit: "mm" }, "dy", /two offsets/],
    ["dy alone", 400, { characteristic: "2", dy: 0.1, unit: "mm" }, "dx", /"dx" and "dy"/],
    ["turns of a value", 400, { value: 1, unit: "mm", turns: 1 }, "turns", /does not go with "value"/],
    ["a unit of a result", 400, { characteristic: "5", result: "pass", unit: "mm" }, "unit", /does not go/],
    ["half a thing", 400, { characteristic: "6", count: 1.5 }, "count", /whole number/],
    ["offsets of a size", 422, { dx: 0.1, dy: 0, unit: "mm" }, "dx", /belongs to a position/],
    [
      "a size beside no condition",
      422,
      { characteristic: "2", dx: 0, dy: 0, size: 10, unit: "mm" },
      "size",
      /no material_condition/,
    ],
    ["degrees of a size", 422, { value: 10, unit: "deg" }, "unit", /no angle/],
    [
      "mm of an angle",
      422,
      { characteristic: "3", value: 45, unit: "mm", gauge: "protractor" },
      "unit",
      /is an angle/,
    ],
    [
      "minutes that are none",
      400,
      { characteristic: "3", value: `45°60'`, unit: "deg" },
      "value",
      /no decimal/,
    ],
    [
      "an angle by a micrometer",
      422,
      { characteristic: "3", value: 45, unit: "deg" },
      "gauge_id",
      /whose unit is "deg"/,
    ],
    [
      "a size by a protractor",
      422,
      { value: 10, unit: "mm", gauge: "protractor" },
      "gauge_id",
      /measures angles/,
    ],
    ["a size by a thread gauge", 422, { value: 10, unit: "mm", gauge: "plug" }, "gauge_id", /no resolution/],
    ["a value of a visual", 422, { characteristic: "5", value: 1, unit: "mm" }, "result", /passes or fails/],
    [
      "a fail of a gauge",
      422,
      { characteristic: "4", result: "fail", gauge: "plug" },
      "result",
      /"go_refuses"/,
    ],
    ["a result of a size", 422, { result: "pass" }, "result", /is measured/],
    [
      "turns of a bore",
      422,
      { characteristic: "4", result: "no_go_enters", turns: 1, gauge: "plug" },
      "turns",
      /thread gauge/,
    ],
    [
      "turns of GO",
      422,
      { characteristic: "8", result: "go_refuses", turns: 1, gauge: "plug" },
      "turns",
      /GO has refused/,
    ],
    [
      "a pass with too many",
      422,
      { characteristic: "8", result: "pass", turns: 2.5, gauge: "plug" },
      "turns",
      /more than the 2/,
    ],
    ["a form below 0", 422, { characteristic: "7", value: -0.01, unit: "mm" }, "value", /has no sign/],
    ["a count of a size", 422, { count: 3 }, "count", /is measured/],
    ["a value of a count", 422, { characteristic: "6", value: 3, unit: "mm" }, "value", /send "count"/],
    [
      "a warm position",
      422,
      { characteristic: "2", dx: 0, dy: 0, unit: "mm", temperature_c: 25, gauge_temperature_c: 25 },
      "temperature_c",
      /this is none/,
    ],
    [
      "more than a turn",
      422,
      { characteristic: "3", value: 361, unit: "deg", gauge: "protractor" },
      "value",
      /no angle that there is/,
    ],
  ])("%s: %d", async (_, status, reading: Answer, pointer, detail) => {
    const it = await it1;
    const kinds: Answer = { protractor: it.gauges.protractor, plug: it.gauges.plug };
    const { gauge, ...rest } = reading;
    const gauge_id = (gauge ? kinds[gauge] : it.gauges.micrometer).gauge_id;

    const response = await it.post([{ ...rest, gauge_id }]);

    expect(response.status, response.text).toBe(status);
    expect(response.body.errors).toContainEqual({
      pointer: `/0/${pointer}`,
      detail: expect.stringMatching(detail),
    });
  });

  it.each([
    ["a position with a fit", { kind: "position", upper_limit: 0.1, fit: "H7" }, 400, "fit"],
    ["a position without a limit", { kind: "position" }, 400, "upper_limit"],
    ["a position from below", { kind: "position", lower_limit: 0.1 }, 400, "lower_limit"],
    ["a position with a nominal", { kind: "position", nominal: "5", upper_limit: 0.1 }, 400, "nominal"],
    ["a position of 0", { kind: "position", upper_limit: 0 }, 422, "upper_limit"],
    [
      "a condition without a size",
      { kind: "position", upper_limit: 0.1, material_condition: "least" },
      400,
      "size_of",
    ],
    [
      "a size without a condition",
      { kind: "position", upper_limit: 0.1, size_of: { characteristic: "9" } },
      400,
      "size_of",
    ],
    [
      "a size that is no feature",
      { kind: "position", upper_limit: 0.1, material_condition: "least", size_of: { characteristic: "9" } },
      422,
      "size_of/characteristic",
    ],
    [
      "half a size",
      {
        kind: "position",
        upper_limit: 0.1,
        material_condition: "least",
        size_of: { kind: "internal", lower_limit: 9 },
      },
      400,
      "size_of/upper_limit",
    ],
    [
      "a size that is crossed",
      {
        kind: "position",
        upper_limit: 0.1,
        material_condition: "least",
        size_of: { kind: "internal", lower_limit: 9, upper_limit: 8 },
      },
      422,
      "size_of/upper_limit",
    ],
    ["a form without its name", { kind: "form", upper_limit: 0.1 }, 400, "geometric_characteristic"],
    [
      "a form below 0",
      { kind: "form", geometric_characteristic: "flatness", upper_limit: -0.1 },
      422,
      "upper_limit",
    ],
    [
      "a roughness without its parameter",
      { kind: "roughness", upper_limit: 0.8 },
      400,
      "roughness_parameter",
    ],
    [
      "a roughness with a general tolerance",
      { kind: "roughness", roughness_parameter: "Ra", general_tolerance: "m" },
      400,
      "general_tolerance",
    ],
    ["a roughness without limits", { kind: "roughness", roughness_parameter: "Ra" }, 400, "upper_limit"],
    ["half a hole", { kind: "count", upper_limit: 0.5 }, 422, "upper_limit"],
    ["counts that are crossed", { kind: "count", lower_limit: 3, upper_limit: 2 }, 422, "upper_limit"],
    ["a gauge into nothing", { kind: "go_no_go" }, 400, "gauged"],
    [
      "a thread standard of a bore",
      { kind: "go_no_go", gauged: "bore", thread_standard: "unified" },
      400,
      "thread_standard",
    ],
    ["a rule for the eye", { kind: "visual", decision_rule: "iso_14253" }, 400, "decision_rule"],
    ["limits of the eye", { kind: "visual", upper_limit: 1 }, 400, "upper_limit"],
    [
      "an angle without a nominal",
      { kind: "angle", lower_deviation: -1, upper_deviation: 1 },
      400,
      "nominal",
    ],
    [
      "an angle beyond a turn",
      { kind: "angle", nominal: "360", lower_deviation: -1, upper_deviation: 1 },
      422,
      "upper_limit",
    ],
    [
      "a size in degrees",
      { kind: "length", nominal: `45°`, lower_deviation: -1, upper_deviation: 1 },
      400,
      "nominal",
    ],
    ["a shorter leg of a length", { kind: "length", nominal: "4", shorter_leg: 3 }, 400, "shorter_leg"],
  ])("as a feature: %s", async (_, feature: object, status, pointer) => {
    const body = partBody([{ characteristic: "1", ...feature }], {
      number: "refused",
      general_tolerance: "m",
    });

    const response = await api.post("/v1/parts").send(body);

    expect(response.status, response.text).toBe(status);
    expect(response.body.errors.map((error: Answer) => error.pointer)).toContain(`/features/0/${pointer}`);
  });

  it("as what cuts it: an effect or a step where no register is steered by it", async () => {
    const machine = await create(api, "/v1/machines", machineBody({ name: "refusing" }));
    const tool = await create(api, "/v1/tools", toolBody(machine.machine_id));
    const register_id = tool.registers[0].register_id;
    const roundness = {
      characteristic: "1",
      kind: "form",
      geometric_characteristic: "roundness",
      upper_limit: 0.1,
    };
    for (const [cut, member] of [
      [{ register_id, effect: 1 }, "effect"],
      [{ register_id, walls: 2 }, "walls"],
      [{ register_id, step: 0.01 }, "step"],
    ] as const) {
      const response = await api
        .post("/v1/parts")
        .send(partBody([{ ...roundness, cut_by: [cut] }], { number: "refused" }));
      expect(response.status).toBe(422);
      expect(response.body.errors[0].pointer).toBe(`/features/0/cut_by/0/${member}`);
    }
  });

  it("as the gauge of a feature: one that cannot measure it", async () => {
    const { gauges } = await it1;
    for (const [feature, gauge] of [
      [bore, gauges.protractor],
      [bore, gauges.plug],
      [{ kind: "angle", nominal: "45", lower_deviation: -1, upper_deviation: 1 }, gauges.micrometer],
    ]) {
      const body = partBody([{ characteristic: "1", ...feature, ...byGauge(gauge) }], { number: "refused" });
      const response = await api.post("/v1/parts").send(body);
      expect(response.status).toBe(422);
      expect(response.body.errors[0].pointer).toBe("/features/0/gauge_id");
    }
  });

  it("as a gauge: an angle in mm, and no resolution of a micrometer", async () => {
    for (const [change, pointer] of [
      [{ resolution: `5'` }, "/resolution"],
      [{ resolution: null }, "/resolution"],
      [{ kind: "protractor", unit: "deg", resolution: `-5'` }, "/resolution"],
    ] as const) {
      const response = await api.post("/v1/gauges").send(gaugeBody({ name: "refused", ...change }));
      expect(response.status, response.text).toBe(400);
      expect(response.body.errors[0].pointer).toBe(pointer);
    }
    const it = await it1;
    const response = await api
      .patch(`/v1/gauges/${it.gauges.micrometer.gauge_id}`)
      .send({ resolution: `5'` });
    expect(response.status).toBe(422);
  });
});
