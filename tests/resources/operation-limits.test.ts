import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { create, featureBody, machineBody, partBody } from "../support/shop.js";

const { api } = await createTestApp();

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

let count = 0;
const bore = {
  kind: "internal",
  nominal: "25",
  fit: "H7",
  lower_deviation: undefined,
  upper_deviation: undefined,
};

async function post(feature: object, change: object = {}, status = 201): Promise<Answer> {
  const body = partBody([featureBody({ operation: "40", ...feature })], {
    number: `OP-${++count}`,
    ...change,
  });
  const response = await api.post("/v1/parts").send(body);
  expect(response.status, response.text).toBe(status);
  return response.body;
}

const limitsOf = (part: Answer) => part.features[0].operation_limits;

describe("POST /v1/parts with limits per operation", () => {
  it("takes them every way that limits are given, in the order they came", async () => {
    const part = await post({
      ...bore,
      operation_limits: [
        { operation: "10", nominal: "24.5", lower_deviation: -0.1, upper_deviation: 0.1 },
        { operation: "20", lower_limit: 24.7, upper_limit: 24.8, target: 24.72, reason: "before grinding" },
        { operation: "30", nominal: "24.9", fit: "H8" },
        { operation: "35", general_tolerance: "f" },
        { operation: "38", upper_limit: 25.01, target: 25 },
        { operation: "39", plating: { thickness: 0.005, plus_minus: 0.001, surfaces: 2 } },
      ],
    });

    expect(part.features[0]).toMatchObject({ lower_limit: 25, upper_limit: 25.021, operation: "40" });
    expect(limitsOf(part)).toEqual([
      {
        operation: "10",
        nominal: "24.5",
        lower_limit: 24.4,
        upper_limit: 24.6,
        target: 24.5,
        limits_from: "deviations",
        fit: null,
        general_tolerance: null,
        plating: null,
        reason: null,
      },
      expect.objectContaining({ operation: "20", nominal: "25", target: 24.72, reason: "before grinding" }),
      // IT8 over 18 to 30 mm is 33 µm (ISO 286-1:2010, table 1).
      expect.objectContaining({ limits_from: "fit", fit: "H8", lower_limit: 24.9, upper_limit: 24.933 }),
      // Class f over 6 to 30 mm is ±0.1 (ISO 2768-1, table 1).
      expect.objectContaining({ limits_from: "general_tolerance", lower_limit: 24.9, upper_limit: 25.1 }),
      expect.objectContaining({ lower_limit: null, upper_limit: 25.01, target: 25 }),
      expect.objectContaining({
        limits_from: "plating",
        lower_limit: 25.012,
        upper_limit: 25.029,
        target: 25.0205,
        plating: {
          thickness: 0.005,
          plus_minus: 0.001,
          surfaces: 2,
          thread_angle: null,
          share: 1,
          growth: -0.01,
        },
      }),
    ]);
    expect((await api.get(`/v1/features/${part.features[0].feature_id}`)).body).toEqual(part.features[0]);
  });

  const plating = { thickness: 0.005, surfaces: 2 };
  it.each([
    ["no limits", {}, 400, "/lower_limit", /is missing/],
    ["limits two ways", { fit: "H8", plating }, 400, "/plating", /second way/],
    ["one deviation", { lower_deviation: 0 }, 400, "/upper_deviation", /pair/],
    ["one limit without an aim", { upper_limit: 25 }, 400, "/target", /no middle/],
    ["a nominal beside plating", { plating, nominal: "24" }, 400, "/nominal", /leave it out/],
    [
      "plating without surfaces",
      { plating: { thickness: 0.005 } },
      400,
      "/plating/surfaces",
      /only one of them/,
    ],
    [
      "surfaces and an angle",
      { plating: { ...plating, thread_angle: 60 } },
      400,
      "/plating/surfaces",
      /only one/,
    ],
    [
      "a layer of none",
      { plating: { ...plating, plus_minus: 0.005 } },
      400,
      "/plating/plus_minus",
      /no layer/,
    ],
    ["crossed limits", { lower_limit: 25, upper_limit: 24 }, 422, "/upper_limit", /not above/],
    ["a fit of the other side", { fit: "h8" }, 422, "/fit", /shaft/],
    [
      "a layer that leaves nothing",
      { plating: { thickness: 0.02, plus_minus: 0.006, surfaces: 2 } },
      422,
      "/plating/plus_minus",
      /leaves nothing/,
    ],
    ["an aim outside", { plating, target: 24 }, 422, "/target", /no size to aim at/],
  ])("refuses %s", async (_, limits, status, field, detail) => {
    const { errors } = await post(
      { ...bore, operation_limits: [{ operation: "20", ...limits }] },
      {},
      status,
    );

    expect(errors).toContainEqual({
      pointer: `/features/0/operation_limits/0${field}`,
      detail: expect.stringMatching(detail),
    });
  });

  it("refuses an operation twice, and plating of a depth", async () => {
    const twice = [
      { operation: "20", fit: "H8" },
      { operation: "20", fit: "H9" },
    ];
    const depth = { kind: "depth", operation_limits: [{ operation: "20", plating }] };

    expect((await post({ ...bore, operation_limits: twice }, {}, 400)).errors).toMatchObject([
      { pointer: "/features/0/operation_limits/1/operation" },
    ]);
    expect((await post(depth, {}, 422)).errors).toMatchObject([
      {
        pointer: "/features/0/operation_limits/0/plating",
        detail: expect.stringContaining("which of its faces"),
      },
    ]);
  });
});

describe("a batch of an operation with limits of its own", () => {
  it("measures the feature there, though another operation finishes it, and lists readings by those limits", async () => {
    const limits = [
      { operation: "20", nominal: "24.7", lower_limit: 24.7, upper_limit: 24.8, reason: "before grinding" },
    ];
    const part = await post({ ...bore, operation_limits: limits });
    const machine = await create(api, "/v1/machines", machineBody({ name: "operation mill" }));
    const gauge = await create(api, "/v1/gauges", {
      name: "bore gauge",
      kind: "bore_gauge",
      unit: "mm",
      resolution: 0.001,
    });
    const open = (name: string, operation: string) =>
      create(api, "/v1/batches", { name, part_id: part.part_id, machine_id: machine.machine_id, operation });
    const early = await open("early", "20");
    const last = await open("last", "40");
    const read = async (batch: Answer, value: number) =>
      create(api, "/v1/readings", {
        batch_id: batch.batch_id,
        characteristic: "12",
        piece: 1,
        value,
        unit: "mm",
        gauge_id: gauge.gauge_id,
      });

    const before = (await read(early, 24.78)).readings[0];
    const after = (await read(last, 25.01)).readings[0];

    expect(before).toMatchObject({
      verdict: "conforming",
      lower_limit: 24.7,
      upper_limit: 24.8,
      target: 24.75,
      deviation: 0.08,
      operation_limits: {
        operation: "20",
        reason: "before grinding",
        final_lower_limit: 25,
        final_upper_limit: 25.021,
        size_after_plating: null,
      },
    });
    expect(after).toMatchObject({ lower_limit: 25, upper_limit: 25.021, operation_limits: null });
    expect((await api.get(`/v1/readings/${before.reading_id}`)).body).toEqual(before);
    expect((await api.get(`/v1/readings/${after.reading_id}`)).body).toMatchObject({ lower_limit: 25 });
    const other = await api
      .post("/v1/batches")
      .send({ name: "none", part_id: part.part_id, machine_id: machine.machine_id, operation: "30" });
    expect(other.status).toBe(422);
    expect(other.body.errors[0].detail).toContain('its operations are "20", "40"');
  });
});
