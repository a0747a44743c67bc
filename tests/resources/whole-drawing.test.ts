import { describe, expect, it } from "vitest";
import { featureKinds } from "../../src/core/feature-kind.js";
import { createTestApp } from "../support/app.js";
import { create, gaugeBody, machineBody, partBody, toolBody } from "../support/shop.js";

const { api } = await createTestApp();

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

const gauges = {
  micrometer: { kind: "micrometer", expanded_uncertainty: 0.003 },
  calliper: { kind: "calliper", resolution: 0.01, repeatability: 0.006, expanded_uncertainty: 0.02 },
  machine: {
    kind: "coordinate_machine",
    resolution: 0.0001,
    repeatability: 0.0003,
    expanded_uncertainty: 0.001,
  },
  protractor: {
    kind: "protractor",
    unit: "deg",
    resolution: "1'",
    repeatability: "1'",
    expanded_uncertainty: "2'",
  },
  tester: { kind: "other", resolution: "0.00001", repeatability: "0.00002", expanded_uncertainty: "0.0001" },
  plug: { kind: "thread_gauge", resolution: null, repeatability: null, expanded_uncertainty: null },
} as const;

interface Line {
  feature: object;
  gauge?: keyof typeof gauges;
  /** What is posted, place by place. */
  sent: object[];
  /** What is answered, place by place. */
  answered: object[];
}

const mm = (value: string, more: object = {}) => ({ value, unit: "mm", ...more });
const good = { verdict: "conforming", disposition: "accept" };

/** One characteristic of each family; limits by hand from ISO 286 and ISO 2768, named beside them. */
const drawing: Record<string, Line> = {
  "steered by a register": {
    feature: {
      kind: "external",
      nominal: "12",
      lower_deviation: -0.03,
      upper_deviation: 0.03,
      cut_by: "radial",
    },
    gauge: "micrometer",
    sent: [mm("12.001")],
    answered: [{ ...good, lower_limit: 11.97, upper_limit: 12.03 }],
  },
  "a fit at two places": {
    // ISO 286-2: 20 f7 is −0.020 and −0.041.
    feature: { kind: "external", nominal: "20", fit: "f7", places: ["0°", "90°"] },
    gauge: "micrometer",
    sent: [mm("19.971", { place: "0°" }), mm("19.975", { place: "90°" })],
    answered: [
      { ...good, place: "0°", lower_limit: 19.959, upper_limit: 19.98 },
      { ...good, place: "90°" },
    ],
  },
  "a guard band": {
    feature: {
      kind: "internal",
      nominal: "16",
      lower_deviation: 0,
      upper_deviation: 0.018,
      decision_rule: "guarded_acceptance",
    },
    gauge: "micrometer",
    sent: [mm("16.0155")],
    answered: [{ verdict: "uncertain", disposition: "remeasure", upper_acceptance_limit: 16.015 }],
  },
  "a general tolerance": {
    // ISO 2768-1, table 1: m over 3 to 6 mm is ±0.1.
    feature: { kind: "depth", nominal: "5" },
    gauge: "calliper",
    sent: [mm("5.03")],
    answered: [{ ...good, lower_limit: 4.9, upper_limit: 5.1 }],
  },
  "a warm length": {
    feature: { kind: "length", nominal: "120", lower_deviation: -0.1, upper_deviation: 0.1 },
    gauge: "calliper",
    sent: [mm("120.02", { temperature_c: 29, gauge_temperature_c: 20 })],
    // Steel, 11.5 · 10⁻⁶ per K over 9 K: 12.4 µm.
    answered: [{ ...good, size: expect.closeTo(120.0076, 4), size_as_read: 120.02 }],
  },
  "a height in inches": {
    feature: { kind: "height", nominal: "25.4", lower_deviation: -0.05, upper_deviation: 0.05 },
    gauge: "micrometer",
    sent: [{ value: "1.0005", unit: "inch" }],
    answered: [{ ...good, size: 25.4127 }],
  },
  "a position with bonus": {
    feature: {
      kind: "position",
      upper_limit: 0.2,
      material_condition: "maximum",
      size_of: { kind: "internal", lower_limit: 5.4, upper_limit: 5.6 },
    },
    gauge: "machine",
    sent: [{ dx: 0.08, dy: 0.09, size: 5.54, unit: "mm" }],
    answered: [{ ...good, size: expect.closeTo(0.2408, 4), bonus: 0.14, upper_limit: 0.34 }],
  },
  "an angle": {
    // ISO 2768-1, table 3: m up to 10 mm is ±1°.
    feature: { kind: "angle", nominal: "30", shorter_leg: 3 },
    gauge: "protractor",
    sent: [{ value: "29°50'", unit: "deg" }],
    answered: [{ ...good, size: expect.closeTo(29.83333, 5), lower_limit: 29, upper_limit: 31 }],
  },
  "a roughness": {
    feature: { kind: "roughness", roughness_parameter: "Ra", upper_limit: 1.6 },
    gauge: "tester",
    sent: [{ value: 1.21, unit: "um" }],
    answered: [{ ...good, size: 1.21, size_unit: "µm" }],
  },
  "a form by points": {
    // ISO 2768-2, table 1: K over 30 to 100 mm is 0.2.
    feature: { kind: "form", geometric_characteristic: "flatness", toleranced_length: 60 },
    gauge: "machine",
    sent: [
      {
        points: [
          [0, 0, 5],
          [50, 0, 5],
          [0, 50, 5],
          [50, 50, 5],
          [25, 25, 5.012],
        ],
        unit: "mm",
      },
    ],
    answered: [{ ...good, size: 0.012, upper_limit: 0.2 }],
  },
  "a thread": {
    feature: { kind: "go_no_go", gauged: "internal_thread", thread_standard: "iso_metric" },
    gauge: "plug",
    sent: [{ result: "pass", turns: 1.5 }],
    answered: [{ ...good, result: "pass", turns: 1.5, size: null }],
  },
  "by eye": {
    feature: { kind: "visual" },
    sent: [{ result: "pass" }],
    answered: [{ ...good, gauge_id: null }],
  },
  counted: {
    feature: { kind: "count", lower_limit: 3, upper_limit: 3 },
    sent: [{ count: 3 }],
    answered: [{ ...good, size: 3 }],
  },
};

const lines = Object.entries(drawing);

async function wholeDrawing() {
  const machine = await create(api, "/v1/machines", machineBody({ name: "mill of the whole drawing" }));
  const tool = await create(api, "/v1/tools", toolBody(machine.machine_id));
  const ids: Record<string, string> = {};
  for (const [name, body] of Object.entries(gauges)) {
    const gauge = await create(
      api,
      "/v1/gauges",
      gaugeBody({ name: `${name} of the whole drawing`, ...body }),
    );
    ids[name] = gauge.gauge_id;
  }
  const radial = [{ register_id: tool.registers[0].register_id, walls: 2 }];
  const part = await create(
    api,
    "/v1/parts",
    partBody(
      lines.map(([name, { feature, gauge }], i) => ({
        characteristic: String(i + 1),
        name,
        ...(gauge && { gauge_id: ids[gauge] }),
        ...feature,
        cut_by: (feature as Answer).cut_by ? radial : [],
      })),
      { number: "WD-1", material: "steel", general_tolerance: "mK" },
    ),
  );
  const batch = await create(api, "/v1/batches", {
    name: "WD-1-1",
    part_id: part.part_id,
    machine_id: machine.machine_id,
  });
  return { part, batch };
}

describe("a whole drawing as one part", () => {
  it("has a characteristic of every kind", () => {
    expect(new Set(lines.map(([, { feature }]) => (feature as { kind: string }).kind))).toEqual(
      new Set(featureKinds),
    );
  });

  it("is measured in one post, and read back whole", async () => {
    const { part, batch } = await wholeDrawing();
    const readings = lines.flatMap(([, { sent }], i) =>
      sent.map((body) => ({ batch_id: batch.batch_id, characteristic: String(i + 1), piece: 1, ...body })),
    );

    const { status, body } = await api.post("/v1/readings").send(readings);

    expect(status).toBe(201);
    expect(body.readings).toMatchObject(lines.flatMap(([, { answered }]) => answered));
    // Only the guarded bore is left open: nothing that passed is held back.
    expect(body.next.action).toBe("measure");
    expect(body.next.why.match(/Keep piece 1 apart/g)).toHaveLength(1);
    expect(body.next.why).toContain("3 a guard band is not decided");

    const list = await api.get(`/v1/readings?batch_id=${batch.batch_id}`);
    expect(list.body.items).toEqual(body.readings);
    for (const reading of body.readings) {
      expect((await api.get(`/v1/readings/${reading.reading_id}`)).body).toEqual(reading);
    }
    const shown = await api.get(`/v1/parts/${part.part_id}`);
    expect(shown.body).toEqual(part);
    expect(part.features).toHaveLength(lines.length);
  });
});
