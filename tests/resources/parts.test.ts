import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
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
      guard_band_factor: 1,
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
        lower_deviation: -0.05,
        upper_deviation: 0.05,
        lower_limit: 5.95,
        upper_limit: 6.05,
        target: 6,
        importance: "key",
        decision_rule: null,
        guard_band_factor: null,
        cut_by: [{ tool_id: endMill.tool_id, register_id: radial, walls: 2, plus_makes: null, effect: 2 }],
        gauge_id: micrometer.gauge_id,
        pattern: { name: "tongues", order: 1, of: 2 },
      },
      expect.objectContaining({
        characteristic: "3",
        name: null,
        operation: null,
        importance: "ordinary",
        cut_by: [],
        gauge_id: null,
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
    ["no limits", withoutLimits, "lower_deviation", /send lower_deviation and upper_deviation, or/],
    ["one limit without a target", { ...withoutLimits, lower_limit: 5.9 }, "target", /size to aim at/],
    [
      "a pattern beyond its end",
      { pattern: { name: "p", order: 11, of: 10 } },
      "pattern/order",
      /11 is above "of", 10/,
    ],
    ["a kind that is not known", { kind: "position" }, "kind", /"external", "internal"/],
    ["a fit", { fit: "H7" }, "fit", /not known here/],
    ["places", { places: ["0°"] }, "places", /not known here/],
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
        { tool_id: endMill.tool_id, register_id: radial, walls: 1, plus_makes: null, effect: 1 },
        { tool_id: reamer.tool_id, register_id: null, walls: null, plus_makes: null, effect: null },
      ],
    });
    expect((await api.get(`/v1/features/${before.feature_id}`)).body).toEqual(response.body);
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
});
