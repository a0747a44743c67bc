import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create, featureBody, gaugeBody, machineBody, partBody, toolBody } from "../support/shop.js";

const { api } = await createTestApp();
const mill = await create(api, "/v1/machines", machineBody());
const lathe = await create(api, "/v1/machines", machineBody({ name: "lathe-1", kind: "lathe" }));
const endMill = await create(api, "/v1/tools", toolBody(mill.machine_id));
const reamer = await create(
  api,
  "/v1/tools",
  toolBody(mill.machine_id, { number: 20, name: "reamer 8 H7", kind: "reamer", registers: [] }),
);
const turning = await create(
  api,
  "/v1/tools",
  toolBody(lathe.machine_id, {
    number: 1,
    kind: "turning",
    registers: [
      { number: 1, label: "X1", controls: "x", holds: "diameter", value: 0 },
      { number: 1, label: "Z1", controls: "z", value: 0 },
    ],
  }),
);
const [radial, axial] = endMill.registers.map(({ register_id }: { register_id: string }) => register_id);
const [x, z] = turning.registers.map(({ register_id }: { register_id: string }) => register_id);
const micrometer = await create(api, "/v1/gauges", gaugeBody());

let count = 0;
function part(features: object[], change: object = {}) {
  count += 1;
  return partBody(features, { number: `P-${count}`, ...change });
}
const withoutLimits = { lower_deviation: undefined, upper_deviation: undefined };
const pointers = (body: { errors: { pointer: string }[] }) => body.errors.map(({ pointer }) => pointer);

describe("POST /v1/parts", () => {
  it("keeps a part with its features in the order they came", async () => {
    const body = part([
      featureBody({
        cut_by: [{ register_id: radial, walls: 2 }],
        gauge_id: micrometer.gauge_id,
        pattern: { name: "tongues", order: 1, of: 2 },
        importance: "key",
        at: { x: 40, z: "-12.5" },
        axis: "-x",
        depth: 12,
        drawing_zone: "sheet 2, B4",
      }),
      featureBody({
        characteristic: "3",
        name: null,
        operation: null,
        pattern: { name: "tongues", order: 2, of: 2 },
      }),
    ]);

    const response = await api.post("/v1/parts").send(body);

    expect(response.status).toBe(201);
    expect(response.body).toMatchObject({
      number: body.number,
      revision: "B",
      unit: "mm",
      decision_rule: "simple",
      general_tolerance: null,
      title_block: null,
      guard_band_factor: 1,
      risk: 0.005,
      largest_interval: 10,
    });
    expect(response.body.features).toEqual([
      {
        feature_id: expect.stringMatching(/^\d+$/),
        part_id: response.body.part_id,
        characteristic: "12",
        name: "Tongue width",
        kind: "external",
        operation: "20",
        unit: "mm",
        nominal: "6",
        limits_from: "deviations",
        fit: null,
        general_tolerance: null,
        broken_edge: false,
        lower_deviation: -0.05,
        upper_deviation: 0.05,
        lower_limit: 5.95,
        upper_limit: 6.05,
        target: 6,
        importance: "key",
        decision_rule: null,
        guard_band_factor: null,
        cut_by: [
          {
            tool_id: endMill.tool_id,
            register_id: radial,
            walls: 2,
            plus_makes: null,
            effect: 2,
            step: null,
          },
        ],
        gauge_id: micrometer.gauge_id,
        places: null,
        reference_gauge_id: null,
        pattern: { name: "tongues", order: 1, of: 2 },
        at: { x: 40, y: 0, z: -12.5 },
        axis: "-x",
        depth: 12,
        drawing_zone: "sheet 2, B4",
        operation_limits: [],
        geometric_characteristic: null,
        roughness_parameter: null,
        gauged: null,
        thread_standard: null,
        material_condition: null,
        size_of: null,
        shorter_leg: null,
        toleranced_length: null,
        rework: null,
      },
      expect.objectContaining({
        characteristic: "3",
        name: null,
        operation: null,
        importance: "ordinary",
        cut_by: [],
        gauge_id: null,
        at: null,
        axis: null,
        depth: null,
      }),
    ]);
    expect((await api.get(`/v1/parts/${response.body.part_id}`)).body).toEqual(response.body);
    expect((await api.get(`/v1/features/${response.body.features[0].feature_id}`)).body).toEqual(
      response.body.features[0],
    );
  });

  it.each([
    ["0.500", "0.500", 0.499, 0.501, 0.5],
    [0.5, "0.5", 0.499, 0.501, 0.5],
    ["10.3", "10.3", 10.299, 10.301, 10.3],
    ["0.0625", "0.0625", 0.0615, 0.0635, 0.0625],
  ])(
    "keeps the inch nominal %j as given, and its limits exact",
    async (nominal, text, lower, upper, target) => {
      const feature = featureBody({ nominal, lower_deviation: "-0.001", upper_deviation: 0.001 });

      const { features } = await create(api, "/v1/parts", part([feature], { unit: "inch" }));

      expect(features[0]).toMatchObject({ nominal: text, lower_limit: lower, upper_limit: upper, target });
    },
  );

  it("takes limits of size, and aims at their middle, half a picometre to even", async () => {
    const feature = featureBody({
      ...withoutLimits,
      nominal: 20,
      lower_limit: "20",
      upper_limit: "20.021000001",
    });

    const { features } = await create(api, "/v1/parts", part([feature]));

    expect(features[0]).toMatchObject({
      lower_limit: 20,
      upper_limit: 20.021000001,
      target: 20.0105,
      lower_deviation: 0,
    });
  });

  it("takes a single limit with a target", async () => {
    const lower = featureBody({ ...withoutLimits, lower_limit: 5.9, target: 6 });
    const upper = featureBody({
      ...withoutLimits,
      characteristic: "13",
      upper_limit: 6.1,
      lower_limit: null,
      target: "6.0",
    });

    const { features } = await create(api, "/v1/parts", part([lower, upper]));

    expect(features[0]).toMatchObject({
      lower_limit: 5.9,
      upper_limit: null,
      upper_deviation: null,
      target: 6,
    });
    expect(features[1]).toMatchObject({ lower_limit: null, upper_limit: 6.1, target: 6 });
  });

  it("takes limits that leave the nominal outside, as many fits do", async () => {
    const feature = featureBody({ nominal: 6, lower_deviation: -0.012, upper_deviation: -0.004 });

    expect((await create(api, "/v1/parts", part([feature]))).features[0]).toMatchObject({ target: 5.992 });
  });

  it.each([
    ["both ways of limits", { lower_limit: 5.9 }, "lower_limit", /a second way/],
    ["both ways of limits, upper", { upper_limit: 6.1 }, "upper_limit", /a second way/],
    ["one deviation only", { upper_deviation: undefined }, "upper_deviation", /come as a pair/],
    [
      "no limits",
      withoutLimits,
      "lower_deviation",
      /send lower_deviation and upper_deviation, or.*give the part a general_tolerance or a title_block/,
    ],
    ["a fit beside deviations", { fit: "h7" }, "fit", /a second way/],
    ["a general tolerance beside deviations", { general_tolerance: "m" }, "general_tolerance", /second way/],
    ["a fit beside a limit", { ...withoutLimits, lower_limit: 5.9, fit: "h7" }, "fit", /a second way/],
    [
      "a fit beside a general tolerance",
      { ...withoutLimits, fit: "h7", general_tolerance: "m" },
      "general_tolerance",
      /a second way/,
    ],
    [
      "a class that ISO 2768-1 does not have",
      { ...withoutLimits, general_tolerance: "mX" },
      "general_tolerance",
      /"f", "m", "c", "v"/,
    ],
    [
      "a broken edge with a fit",
      { ...withoutLimits, fit: "h7", broken_edge: true },
      "broken_edge",
      /has no fit/,
    ],
    ["one limit without a target", { ...withoutLimits, lower_limit: 5.9 }, "target", /size to aim at/],
    [
      "a pattern beyond its end",
      { pattern: { name: "p", order: 11, of: 10 } },
      "pattern/order",
      /11 is above "of", 10/,
    ],
    ["a kind that is not known", { kind: "thread" }, "kind", /"external", "internal"/],
    ["a single place", { places: ["0°"] }, "places", /at least 2/],
    ["a place twice", { places: ["top", "bottom", "top"] }, "places/2", /"top" stands here twice/],
    [
      "a rule that is not known",
      { decision_rule: "guarded" },
      "decision_rule",
      /one of "simple", "guarded_acceptance"/,
    ],
    [
      "a guard band of nothing",
      { decision_rule: "iso_14253", guard_band_factor: 0 },
      "guard_band_factor",
      /above 0/,
    ],
    [
      "a guard band beyond 10 U",
      { decision_rule: "iso_14253", guard_band_factor: 10.5 },
      "guard_band_factor",
      /at most 10/,
    ],
    [
      "a guard band under the part's rule simple",
      { guard_band_factor: 1 },
      "guard_band_factor",
      /says nothing under the rule "simple"/,
    ],
    ["no nominal", { nominal: undefined }, "nominal", /is missing/],
    ["a nominal with a unit", { nominal: "6 mm" }, "nominal", /no decimal/],
    ["a cut by nothing", { cut_by: [{ walls: 2 }] }, "cut_by/0/register_id", /is missing/],
    [
      "walls of a tool alone",
      { cut_by: [{ tool_id: "1", walls: 2 }] },
      "cut_by/0/walls",
      /register_id as well/,
    ],
    [
      "the same register twice",
      {
        cut_by: [
          { register_id: "1", walls: 2 },
          { register_id: "1", walls: 1 },
        ],
      },
      "cut_by/1/register_id",
      /twice/,
    ],
    ["three walls", { cut_by: [{ register_id: "1", walls: 3 }] }, "cut_by/0/walls", /one of 1, 2/],
    ["an effect of 0", { cut_by: [{ register_id: "1", effect: 0 }] }, "cut_by/0/effect", /must not be 0/],
    [
      "an effect beyond 10",
      { cut_by: [{ register_id: "1", effect: -10.5 }] },
      "cut_by/0/effect",
      /at least -10/,
    ],
  ])("returns 400 for %s", async (_, change, field, detail) => {
    const response = await api.post("/v1/parts").send(part([featureBody(change)]));

    expect(response.status).toBe(400);
    expect(response.body.errors).toContainEqual({
      pointer: `/features/0/${field}`,
      detail: expect.stringMatching(detail),
    });
  });

  it("returns 400 for a characteristic or a place in a pattern that stands twice, and for no features", async () => {
    const twice = await api.post("/v1/parts").send(part([featureBody(), featureBody({ nominal: 7 })]));
    const pattern = { name: "p", order: 1, of: 2 };
    const samePlace = await api
      .post("/v1/parts")
      .send(part([featureBody({ pattern }), featureBody({ characteristic: "13", pattern })]));
    const none = await api.post("/v1/parts").send(part([]));

    expect(twice.status).toBe(400);
    expect(pointers(twice.body)).toEqual(["/features/1/characteristic"]);
    expect(pointers(samePlace.body)).toEqual(["/features/1/pattern/order"]);
    expect(none.body.errors).toEqual([{ pointer: "/features", detail: "must list at least 1" }]);
  });

  it.each([
    [
      "upper below lower",
      { lower_deviation: 0.05, upper_deviation: -0.05 },
      "upper_deviation",
      "5.950 mm is not above the lower limit 6.050 mm",
    ],
    [
      "upper equal to lower",
      { ...withoutLimits, lower_limit: 6, upper_limit: "6.000" },
      "upper_limit",
      "6.000 mm is not above the lower limit 6.000 mm",
    ],
    [
      "a target on a limit",
      { target: 6.05 },
      "target",
      "6.050 mm is no size to aim at: send one between 5.950 mm and 6.050 mm",
    ],
    [
      "a target outside",
      { ...withoutLimits, lower_limit: 6, target: 5.9 },
      "target",
      "5.900 mm is no size to aim at: send one above 6.000 mm",
    ],
    ["a size of 0", { nominal: 0 }, "nominal", "0.000 mm is no size"],
    ["an unknown gauge", { gauge_id: "987654" }, "gauge_id", "there is no gauge 987654"],
    ["an unknown tool", { cut_by: [{ tool_id: "987654" }] }, "cut_by/0/tool_id", "there is no tool 987654"],
    [
      "an unknown register",
      { cut_by: [{ register_id: "987654", walls: 2 }] },
      "cut_by/0/register_id",
      "there is no register 987654",
    ],
  ])("returns 422 for %s", async (_, change, field, detail) => {
    const response = await api.post("/v1/parts").send(part([featureBody(change)]));

    expect(response.status).toBe(422);
    expect(response.body.errors).toEqual([
      { pointer: `/features/0/${field}`, detail: expect.stringContaining(detail) },
    ]);
  });

  it("keeps a decision rule for the part, and another one for a feature", async () => {
    const body = part(
      [
        featureBody({ decision_rule: "iso_14253", guard_band_factor: 0.825 }),
        featureBody({ characteristic: "13", guard_band_factor: 2 }),
        featureBody({ characteristic: "14", decision_rule: "simple" }),
      ],
      { decision_rule: "guarded_rejection", guard_band_factor: 1.5 },
    );

    const { features, ...kept } = await create(api, "/v1/parts", body);

    expect(kept).toMatchObject({ decision_rule: "guarded_rejection", guard_band_factor: 1.5 });
    expect(features).toMatchObject([
      { decision_rule: "iso_14253", guard_band_factor: 0.825 },
      { decision_rule: null, guard_band_factor: 2 },
      { decision_rule: "simple", guard_band_factor: null },
    ]);
    expect((await api.get(`/v1/parts/${kept.part_id}`)).body).toEqual({ ...kept, features });
  });

  it("lists the faults of all features at once", async () => {
    const response = await api
      .post("/v1/parts")
      .send(
        part([
          featureBody({ target: 7 }),
          featureBody({ characteristic: "13", cut_by: [{ register_id: "987654" }], gauge_id: "987654" }),
        ]),
      );

    expect(response.status).toBe(422);
    expect(pointers(response.body)).toEqual([
      "/features/0/target",
      "/features/1/cut_by/0/register_id",
      "/features/1/gauge_id",
    ]);
    expect(response.body.detail).toMatch(/And 2 more/);
  });

  it("returns 409 for a revision that exists, and takes the next one", async () => {
    const body = part([featureBody()]);
    await create(api, "/v1/parts", body);

    const response = await api.post("/v1/parts").send(body);

    expect(response.status).toBe(409);
    expect(response.body.errors).toEqual([
      { pointer: "/revision", detail: expect.stringMatching(/revision "B" exists already/) },
    ]);
    expect((await api.post("/v1/parts").send({ ...body, revision: "C" })).status).toBe(201);
  });
});

describe("limits of POST /v1/parts", () => {
  async function featuresOf(features: object[], change: object = {}) {
    const bodies = features.map((feature, i) =>
      featureBody({ ...withoutLimits, characteristic: `${i + 1}`, ...feature }),
    );
    return (await create(api, "/v1/parts", part(bodies, change))).features;
  }

  it.each([
    ["internal", "20", "H7", 0, 0.021, 20.0105],
    ["external", "20", "g6", -0.02, -0.007, 19.9865],
    ["internal", 30, "JS6", -0.0065, 0.0065, 30],
    ["external", "40", "zc8", 0.274, 0.313, 40.2935],
    ["internal", "300", "M6", -0.041, -0.009, 299.975],
  ])("takes %s %s %s as a fit (ISO 286-2)", async (kind, nominal, fit, lower, upper, target) => {
    const [feature] = await featuresOf([{ kind, nominal, fit }]);

    expect(feature).toMatchObject({
      limits_from: "fit",
      fit,
      general_tolerance: null,
      lower_deviation: lower,
      upper_deviation: upper,
      target,
    });
    expect((await api.get(`/v1/features/${feature.feature_id}`)).body).toEqual(feature);
  });

  it("keeps a target of one's own with a fit", async () => {
    const [feature] = await featuresOf([{ kind: "internal", nominal: "20", fit: "H7", target: "20.008" }]);

    expect(feature).toMatchObject({ lower_limit: 20, upper_limit: 20.021, target: 20.008 });
  });

  it.each([
    ["a hole's class outside", "external", "20", "H7", /"H7" is the class of a hole.*external: "h7" is that/],
    [
      "a shaft's class inside",
      "internal",
      "20",
      "js6",
      /"js6" is the class of a shaft.*: "JS6" is that of a/,
    ],
    ["a depth", "depth", "20", "H7", /a depth has no fit/],
    ["a height", "height", "20", "H7", /a height has no fit/],
    ["a length", "length", "20", "h7", /a length has no fit/],
    ["a letter that is not", "internal", "20", "Q7", /gives no "Q7" for 20.000 mm.*are "P7", "R7"/],
    ["a grade that is not", "internal", "20", "H19", /no grade 19.*the nearest are "H18"/],
    [
      "an empty cell",
      "external",
      "20",
      "t6",
      /t is given over 24 up to 3150 mm only; the nearest are "s6", "u6"/,
    ],
    ["a size beyond the standard", "internal", "3151", "H7", /ends at 3150 mm; send deviations or limits/],
    ["a fit of two", "internal", "20", "H7/g6", /a fit of two features.*"H7", "g6"/],
    ["a blank in it", "internal", "20", "H 7", /not a letter and a grade.*the nearest are "H7"/],
  ])("returns 422 for %s", async (_, kind, nominal, fit, detail) => {
    const response = await api
      .post("/v1/parts")
      .send(part([featureBody({ ...withoutLimits, kind, nominal, fit })]));

    expect(response.status).toBe(422);
    expect(response.body.errors).toEqual([
      { pointer: "/features/0/fit", detail: expect.stringMatching(detail) },
    ]);
  });

  it("takes a general tolerance of the feature before that of the part (ISO 2768-1, table 1)", async () => {
    const features = await featuresOf(
      [
        { nominal: "30", kind: "length" },
        { nominal: "30", kind: "depth", general_tolerance: "f" },
        { nominal: "30.001", kind: "height" },
        { nominal: "30", lower_deviation: -0.01, upper_deviation: 0 },
        { nominal: "30", lower_limit: 29, target: 30 },
        { nominal: "30", fit: "h9" },
      ],
      { general_tolerance: "m" },
    );

    expect(
      features.map((feature: Record<string, unknown>) => [
        feature.limits_from,
        feature.general_tolerance,
        feature.lower_deviation,
        feature.upper_deviation,
      ]),
    ).toEqual([
      ["general_tolerance", "m", -0.2, 0.2],
      ["general_tolerance", "f", -0.1, 0.1],
      ["general_tolerance", "m", -0.3, 0.3],
      ["deviations", null, -0.01, 0],
      ["limits", null, -1, null],
      ["fit", null, -0.052, 0],
    ]);
  });

  it("has another table for radii and chamfers (ISO 2768-1, table 2)", async () => {
    const features = await featuresOf(
      [
        { nominal: "1", kind: "length" },
        { nominal: "1", kind: "length", broken_edge: true },
        { nominal: "6.5", kind: "length", broken_edge: true, general_tolerance: "v" },
      ],
      { general_tolerance: "m" },
    );

    expect(features.map(({ upper_deviation }: { upper_deviation: number }) => upper_deviation)).toEqual([
      0.1, 0.2, 2,
    ]);
    expect(features[1]).toMatchObject({ broken_edge: true, general_tolerance: "m" });
  });

  it.each([
    [
      { nominal: "0.4" },
      { general_tolerance: "m" },
      "nominal",
      /"m" for 0.400 mm: ISO 2768-1 begins at 0.5 mm/,
    ],
    [{ nominal: "3", general_tolerance: "v" }, {}, "general_tolerance", /v over 3 up to 4000 mm only/],
    [{ nominal: "4000.1" }, { general_tolerance: "c" }, "nominal", /Send deviations or limits of this/],
    [
      { nominal: "0.0150" },
      { general_tolerance: "m", unit: "inch" },
      "nominal",
      /for 0.0150 inch \(0.381 mm\): ISO 2768-1 begins/,
    ],
  ])("returns 422 where ISO 2768-1 says nothing: %j, %j", async (feature, change, field, detail) => {
    const response = await api
      .post("/v1/parts")
      .send(part([featureBody({ ...withoutLimits, ...feature })], change));

    expect(response.status).toBe(422);
    expect(response.body.errors).toEqual([
      { pointer: `/features/0/${field}`, detail: expect.stringMatching(detail) },
    ]);
  });

  const titleBlock = [
    { places: 1, plus_minus: 0.2 },
    { places: 2, plus_minus: "0.10" },
    { places: 3, plus_minus: 0.005 },
  ];

  it("goes by the places a nominal is written with where the part has a title block", async () => {
    const created = await create(
      api,
      "/v1/parts",
      part(
        ["12.5", "12.50", "12.500", 12.5, "12.500"].map((nominal, i) =>
          featureBody({
            ...withoutLimits,
            characteristic: `${i + 1}`,
            nominal,
            ...(i === 4 && { lower_deviation: 0, upper_deviation: 0.001 }),
          }),
        ),
        { title_block: titleBlock },
      ),
    );

    expect(created.title_block).toEqual([
      { places: 1, plus_minus: 0.2 },
      { places: 2, plus_minus: 0.1 },
      { places: 3, plus_minus: 0.005 },
    ]);
    expect(
      created.features.map((feature: Record<string, unknown>) => [
        feature.nominal,
        feature.limits_from,
        feature.lower_limit,
        feature.upper_limit,
      ]),
    ).toEqual([
      ["12.5", "title_block", 12.3, 12.7],
      ["12.50", "title_block", 12.4, 12.6],
      ["12.500", "title_block", 12.495, 12.505],
      ["12.5", "title_block", 12.3, 12.7],
      ["12.500", "deviations", 12.5, 12.501],
    ]);
  });

  it("has a title block in inch", async () => {
    const [feature] = await featuresOf([{ nominal: "0.500" }], {
      unit: "inch",
      title_block: [{ places: 3, plus_minus: "0.005" }],
    });

    expect(feature).toMatchObject({ lower_limit: 0.495, upper_limit: 0.505, target: 0.5 });
  });

  it.each([
    ["12", /12 is written with 0 decimal places.*lines for 1, 2, 3/],
    ["12.5000", /with 4 decimal places/],
  ])("returns 422 for %s, whose places the title block lacks", async (nominal, detail) => {
    const response = await api
      .post("/v1/parts")
      .send(part([featureBody({ ...withoutLimits, nominal })], { title_block: titleBlock }));

    expect(response.status).toBe(422);
    expect(response.body.errors).toEqual([
      { pointer: "/features/0/nominal", detail: expect.stringMatching(detail) },
    ]);
  });

  it("returns 422 for a part with both a general tolerance and a title block", async () => {
    const response = await api
      .post("/v1/parts")
      .send(part([featureBody()], { general_tolerance: "m", title_block: titleBlock }));

    expect(response.status).toBe(422);
    expect(response.body.errors).toEqual([
      { pointer: "/title_block", detail: expect.stringMatching(/leave one out/) },
    ]);
  });

  it.each([
    ["no lines", [], "/title_block"],
    ["the same places twice", [titleBlock[0], titleBlock[0]], "/title_block/1/places"],
    ["a tolerance of 0", [{ places: 1, plus_minus: 0 }], "/title_block/0/plus_minus"],
    ["half a place", [{ places: 1.5, plus_minus: 1 }], "/title_block/0/places"],
  ])("returns 400 for a title block with %s", async (_, title_block, pointer) => {
    const response = await api.post("/v1/parts").send(part([featureBody()], { title_block }));

    expect(response.status).toBe(400);
    expect(pointers(response.body)).toEqual([pointer]);
  });

  it("takes fits and general tolerances of an inch part by the nominal in mm, exactly", async () => {
    const features = await featuresOf(
      [
        { kind: "internal", nominal: "0.7500", fit: "H7" }, // 19.05 mm: band over 18 up to 30, IT7 21 µm
        { kind: "internal", nominal: "0.7086", fit: "H7" }, // 17.99844 mm: band over 10 up to 18, IT7 18 µm
        { kind: "internal", nominal: "0.7087", fit: "H7" }, // 18.00098 mm: band over 18 up to 30
        { kind: "length", nominal: "1.1811" }, // 29.99994 mm: ±0.2 mm
        { kind: "length", nominal: "1.1812" }, // 30.00248 mm: ±0.3 mm
      ],
      { unit: "inch", general_tolerance: "m" },
    );

    expect(
      features.map(({ lower_limit, upper_limit }: { lower_limit: number; upper_limit: number }) =>
        [lower_limit, upper_limit].map((inch) => Number((inch * 25.4).toFixed(9))),
      ),
    ).toEqual([
      [19.05, 19.071],
      [17.99844, 18.01644],
      [18.00098, 18.02198],
      [29.79994, 30.19994],
      [29.70248, 30.30248],
    ]);
  });

  it("shows the defaults of a part in the list too", async () => {
    const body = part([featureBody()], { general_tolerance: "c" });
    await create(api, "/v1/parts", body);

    const { items } = (await api.get("/v1/parts").query({ number: body.number })).body;

    expect(items).toEqual([expect.objectContaining({ general_tolerance: "c", title_block: null })]);
  });

  it.each([
    ["20.021", "conforming", "accept"],
    ["20.022", "nonconforming", "scrap"],
    ["20.000", "conforming", "accept"],
    ["19.999", "nonconforming", "rework"],
  ])("decides by it: a bore 20 H7 read as %s is %s", async (value, verdict, disposition) => {
    const shop = await runningBatch(api, {
      features: [{ kind: "internal", nominal: "20", ...withoutLimits, fit: "H7" }],
    });

    const { readings } = await shop.read(1, value);

    expect(readings[0]).toMatchObject({ verdict, disposition, lower_limit: 20, upper_limit: 20.021 });
  });
});

describe("cut_by of POST /v1/parts", () => {
  it.each<[string, object, object]>([
    [
      "a slot",
      { kind: "internal", cut_by: [{ register_id: radial, walls: 2 }] },
      { effect: -2, tool_id: endMill.tool_id },
    ],
    ["one wall outside", { cut_by: [{ register_id: radial, walls: 1 }] }, { effect: 1 }],
    [
      "one wall inside",
      { kind: "internal", cut_by: [{ register_id: radial, walls: 1, plus_makes: "smaller" }] },
      { effect: -1, plus_makes: "smaller" },
    ],
    ["a depth", { kind: "depth", cut_by: [{ register_id: axial }] }, { effect: -1, walls: null }],
    ["a height", { kind: "height", cut_by: [{ register_id: axial }] }, { effect: 1 }],
    [
      "a turned bore",
      { kind: "internal", cut_by: [{ register_id: x }] },
      { effect: 1, tool_id: turning.tool_id },
    ],
    ["a length on z", { kind: "length", cut_by: [{ register_id: z, plus_makes: "bigger" }] }, { effect: 1 }],
    ["an explicit effect", { kind: "length", cut_by: [{ register_id: z, effect: -0.7 }] }, { effect: -0.7 }],
    [
      "a reamer",
      { kind: "internal", cut_by: [{ tool_id: reamer.tool_id }] },
      { register_id: null, effect: null, tool_id: reamer.tool_id },
    ],
  ])("says how %s moves", async (_, change, expected) => {
    const { features } = await create(api, "/v1/parts", part([featureBody(change)]));

    expect(features[0].cut_by).toEqual([expect.objectContaining(expected)]);
  });

  it.each([
    [
      "one wall inside",
      { kind: "internal", cut_by: [{ register_id: radial, walls: 1 }] },
      "plus_makes",
      /"plus_makes": "bigger"/,
    ],
    ["a length on z", { kind: "length", cut_by: [{ register_id: z }] }, "plus_makes", /Z1/],
    ["no walls", { cut_by: [{ register_id: radial }] }, "walls", /"walls": 2/],
    [
      "a contradiction",
      { cut_by: [{ register_id: radial, walls: 2, plus_makes: "smaller" }] },
      "plus_makes",
      /D7 wear.*\+2/,
    ],
    [
      "effect against plus_makes",
      { cut_by: [{ register_id: radial, effect: 1, plus_makes: "smaller" }] },
      "effect",
      /smaller/,
    ],
    [
      "a register of another tool",
      { cut_by: [{ register_id: radial, tool_id: reamer.tool_id, walls: 2 }] },
      "tool_id",
      /belongs to tool/,
    ],
  ])("returns 422 for %s", async (_, change, field, detail) => {
    const response = await api.post("/v1/parts").send(part([featureBody(change)]));

    expect(response.status).toBe(422);
    expect(response.body.errors).toEqual([
      { pointer: `/features/0/cut_by/0/${field}`, detail: expect.stringMatching(detail) },
    ]);
  });

  it("lets registers of several machines stand side by side", async () => {
    const { features } = await create(
      api,
      "/v1/parts",
      part([featureBody({ cut_by: [{ register_id: radial, walls: 2 }, { register_id: x }] })]),
    );

    expect(features[0].cut_by.map(({ effect }: { effect: number }) => effect)).toEqual([2, 1]);
  });
});

describe("POST /v1/parts/trials", () => {
  it("shows limits and effects and keeps nothing", async () => {
    const body = part([
      featureBody({ characteristic: "1", kind: "external", cut_by: [{ register_id: radial, walls: 2 }] }),
      // ISO 286-2:2010, table 2: 20 H7 is 0 to +0.021.
      featureBody({
        characteristic: "2",
        kind: "internal",
        nominal: "20",
        ...withoutLimits,
        fit: "H7",
        cut_by: [{ register_id: radial, walls: 2 }],
      }),
    ]);
    const { status, body: trial } = await api.post("/v1/parts/trials").send(body);

    expect(status).toBe(200);
    expect(trial.features.map((one: { cut_by: { effect: number }[] }) => one.cut_by[0]?.effect)).toEqual([
      2, -2,
    ]);
    expect(trial.features[1]).toMatchObject({ limits_from: "fit", lower_limit: 20, upper_limit: 20.021 });
    const { body: kept } = await api.get(`/v1/parts?number=${body.number}`);
    expect(kept.items).toEqual([]);
  });

  it("shows neither limits nor a target of what passes or fails", async () => {
    const body = part([{ characteristic: "1", kind: "visual" }]);
    const { body: trial } = await api.post("/v1/parts/trials").send(body);

    expect(trial.features).toEqual([
      {
        characteristic: "1",
        unit: null,
        limits_from: null,
        lower_limit: null,
        upper_limit: null,
        target: null,
        cut_by: [],
      },
    ]);
  });

  it("refuses what setting the part up would refuse, with the same pointers", async () => {
    const body = part([featureBody({ target: 99, cut_by: [{ register_id: "999999", walls: 2 }] })]);
    const [trial, kept] = [
      await api.post("/v1/parts/trials").send(body),
      await api.post("/v1/parts").send(body),
    ];

    expect([trial.status, kept.status]).toEqual([422, 422]);
    expect(pointers(trial.body)).toEqual(pointers(kept.body));
    expect(pointers(trial.body)).toContain("/features/0/cut_by/0/register_id");
  });
});

describe("GET /v1/parts", () => {
  it("lists the revisions of a number, without features", async () => {
    const body = part([featureBody()]);
    const { features, ...first } = await create(api, "/v1/parts", body);
    const { features: _, ...second } = await create(api, "/v1/parts", { ...body, revision: "C" });

    const response = await api.get("/v1/parts").query({ number: body.number });

    expect(features).toHaveLength(1);
    expect(response.body).toEqual({ items: [first, second], next_cursor: null });
  });

  it("returns 404 for an unknown part and an unknown feature", async () => {
    expect((await api.get("/v1/parts/987654")).body.detail).toMatch(/no part 987654/);
    expect((await api.get("/v1/features/987654")).body.detail).toMatch(/no feature 987654/);
  });
});

describe("how closely a part is checked", () => {
  it("is kept, and can be changed later", async () => {
    const made = await api
      .post("/v1/parts")
      .send({ ...part([featureBody()]), risk: 0.01, largest_interval: 25 });
    const path = `/v1/parts/${made.body.part_id}`;

    const changed = await api.patch(path).send({ risk: 0.001 });

    expect(made.body).toMatchObject({ risk: 0.01, largest_interval: 25 });
    expect(changed.body).toEqual({ ...made.body, risk: 0.001 });
    expect((await api.get(path)).body).toEqual(changed.body);
  });

  it.each([
    ["risk", 0],
    ["risk", 0.5],
    ["risk", null],
    ["largest_interval", 0],
    ["largest_interval", 1001],
    ["largest_interval", 2.5],
  ])("refuses %s %j", async (field, value) => {
    const { body } = await api.post("/v1/parts").send(part([featureBody()]));

    const made = await api.post("/v1/parts").send({ ...part([featureBody()]), [field]: value });
    const changed = await api.patch(`/v1/parts/${body.part_id}`).send({ [field]: value });

    expect([made.status, changed.status]).toEqual([400, 400]);
    expect(pointers(made.body)).toEqual([`/${field}`]);
  });

  it.each([
    ["risk", 0.499],
    ["largest_interval", 1],
    ["largest_interval", 1000],
  ])("takes %s %j", async (field, value) => {
    const { body, status } = await api.post("/v1/parts").send({ ...part([featureBody()]), [field]: value });

    expect([status, body[field]]).toEqual([201, value]);
  });
});

describe("PATCH /v1/features/{feature_id}", () => {
  async function feature(change: object = {}) {
    return (
      await create(
        api,
        "/v1/parts",
        part([featureBody({ cut_by: [{ register_id: radial, walls: 2 }], ...change })]),
      )
    ).features[0];
  }

  it("changes what is sent and leaves the rest", async () => {
    const before = await feature();

    const response = await api.patch(`/v1/features/${before.feature_id}`).send({
      target: "6.01",
      importance: "critical",
      gauge_id: micrometer.gauge_id,
      cut_by: [{ register_id: radial, walls: 1 }, { tool_id: reamer.tool_id }],
    });

    expect(response.status).toBe(200);
    expect(response.body).toEqual({
      ...before,
      target: 6.01,
      importance: "critical",
      gauge_id: micrometer.gauge_id,
      cut_by: [
        { tool_id: endMill.tool_id, register_id: radial, walls: 1, plus_makes: null, effect: 1, step: null },
        {
          tool_id: reamer.tool_id,
          register_id: null,
          walls: null,
          plus_makes: null,
          effect: null,
          step: null,
        },
      ],
    });
    expect((await api.get(`/v1/features/${before.feature_id}`)).body).toEqual(response.body);
  });

  it("sets a reference gauge and takes it away", async () => {
    const probe = await create(api, "/v1/gauges", gaugeBody({ name: "probe", kind: "machine_probe" }));
    const before = await feature({ gauge_id: probe.gauge_id });
    const path = `/v1/features/${before.feature_id}`;

    const set = await api.patch(path).send({ reference_gauge_id: micrometer.gauge_id });
    const taken = await api.patch(path).send({ reference_gauge_id: null });

    expect(set.body).toEqual({ ...before, reference_gauge_id: micrometer.gauge_id });
    expect(taken.body).toEqual(before);
  });

  it("refuses a reference gauge that may not prove a size, or that there isn't", async () => {
    const probe = await create(api, "/v1/gauges", gaugeBody({ name: "probe 2", kind: "machine_probe" }));
    const { feature_id } = await feature();
    const path = `/v1/features/${feature_id}`;

    const unfit = await api.patch(path).send({ reference_gauge_id: probe.gauge_id });
    const unknown = await api.patch(path).send({ reference_gauge_id: "987654" });

    expect(unfit.status).toBe(422);
    expect(unfit.body.errors).toEqual([
      { pointer: "/reference_gauge_id", detail: expect.stringContaining("may not prove a size") },
    ]);
    expect(unknown.body.errors[0].detail).toContain("there is no gauge 987654");
  });

  it("takes cut_by as GET shows it", async () => {
    const before = await feature();

    const response = await api.patch(`/v1/features/${before.feature_id}`).send({ cut_by: before.cut_by });

    expect(response.body).toEqual(before);
  });

  it("takes the gauge and the cuts away", async () => {
    const before = await feature({ gauge_id: micrometer.gauge_id });

    const response = await api
      .patch(`/v1/features/${before.feature_id}`)
      .send({ gauge_id: null, cut_by: [] });

    expect(response.body).toEqual({ ...before, gauge_id: null, cut_by: [] });
  });

  it.each([
    [{}],
    [{ nominal: 7 }],
    [{ lower_limit: 5 }],
    [{ fit: "h7" }],
    [{ general_tolerance: "m" }],
    [{ decision_rule: "simple" }],
    [{ guard_band_factor: 1 }],
    [{ kind: "depth" }],
    [{ target: null }],
    [{ cut_by: null }],
  ])("returns 400 for %j", async (change) => {
    const { feature_id } = await feature();

    expect((await api.patch(`/v1/features/${feature_id}`).send(change)).status).toBe(400);
  });

  it.each([
    [{ target: 6.05 }, "/target"],
    [{ target: 5.9 }, "/target"],
    [{ gauge_id: "987654" }, "/gauge_id"],
    [{ cut_by: [{ register_id: axial }] }, "/cut_by/0/plus_makes"],
    [{ cut_by: [{ register_id: "987654" }] }, "/cut_by/0/register_id"],
  ])("returns 422 for %j and changes nothing", async (change, pointer) => {
    const before = await feature();

    const response = await api
      .patch(`/v1/features/${before.feature_id}`)
      .send({ importance: "key", ...change });

    expect(response.status).toBe(422);
    expect(pointers(response.body)).toEqual([pointer]);
    expect((await api.get(`/v1/features/${before.feature_id}`)).body).toEqual(before);
  });

  it("returns 404 for an unknown feature", async () => {
    expect((await api.patch("/v1/features/987654").send({ target: 6 })).status).toBe(404);
  });

  it("withdraws the advice of a block that a change of cut_by makes part of another", async () => {
    const limits = { lower_deviation: -0.03, upper_deviation: 0.03 };
    const shop = await runningBatch(api, {
      features: [
        { characteristic: "1", nominal: "12", ...limits },
        { characteristic: "2", nominal: "5", kind: "depth", ...limits, cut_by: [] },
      ],
    });
    const drill = await create(
      api,
      "/v1/tools",
      toolBody(shop.machine.machine_id, {
        number: 8,
        registers: [{ number: 8, label: "H8 wear", controls: "axial", value: 0 }],
      }),
    );
    const depth = `/v1/features/${shop.part.features[1].feature_id}`;
    const own = { register_id: drill.registers[0].register_id };
    await api.patch(depth).send({ cut_by: [own] });
    await shop.read(1, 12.001);
    await shop.read(1, 5.024, { feature_id: shop.part.features[1].feature_id });
    const [before] = await shop.proposals();

    const changed = await api.patch(depth).send({ cut_by: [own, { register_id: shop.registers.axial }] });

    const { body } = await api.get(`/v1/corrections/${before.correction_id}`);
    const open = await shop.proposals();
    expect(changed.status).toBe(200);
    expect(body.status).toBe("superseded");
    expect(open.filter(({ kind }: { kind: string }) => kind === "change").length).toBeLessThanOrEqual(1);
  });

  it("lets a batch that was closed before the change be corrected, and a new one begin from it", async () => {
    const shop = await runningBatch(api);
    for (let piece = 1; piece <= 19; piece++) await shop.read(piece, 12.001);
    await api.post(`/v1/batches/${shop.batch.batch_id}/close`).send({});
    const second = await create(
      api,
      "/v1/tools",
      toolBody(shop.machine.machine_id, {
        number: 8,
        registers: [{ number: 8, label: "D8 wear", controls: "radial", holds: "radius", value: 0 }],
      }),
    );
    const cut_by = [second.registers[0].register_id, shop.registers.radial].map((register_id) => ({
      register_id,
      walls: 1,
      plus_makes: "bigger",
    }));
    await api.patch(`/v1/features/${shop.part.features[0].feature_id}`).send({ cut_by });

    const next = await api.post("/v1/batches").send({
      name: `${shop.batch.name}-next`,
      part_id: shop.part.part_id,
      machine_id: shop.machine.machine_id,
    });
    const voided = await api
      .post(`/v1/readings/${shop.batch.batch_id}-18/void`)
      .send({ reason: "other piece" });

    expect([next.status, voided.status]).toEqual([201, 200]);
    const { body } = await api.get(`/v1/tools/${second.tool_id}/wear?batch_id=${shop.batch.batch_id}`);
    expect(body.registers[0].wear_rate_per_piece).not.toBeNull();
  });
});
