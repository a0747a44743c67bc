import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create, gaugeBody } from "../support/shop.js";

const { api } = await createTestApp();

/** Points of the surface round a centre, with one that stands out by 4 µm. */
const around = (x: number, y: number, radius: number, degrees: readonly number[], stands = 0.004) =>
  degrees.map((d, i) => {
    const r = radius + (i === 1 ? stands : 0);
    const at = (d * Math.PI) / 180;
    return [(x + r * Math.cos(at)).toFixed(6), (y + r * Math.sin(at)).toFixed(6)];
  });
const allRound = [0, 45, 90, 135, 180, 225, 270, 315];

const noRegister = { cut_by: [] };
const bore = {
  ...noRegister,
  characteristic: "1",
  name: "Bore",
  kind: "internal",
  nominal: "30",
  lower_deviation: 0,
  upper_deviation: 0.021,
};
const form = (characteristic: string, geometric_characteristic: string, upper_limit: number) => ({
  ...noRegister,
  characteristic,
  name: geometric_characteristic,
  kind: "form",
  geometric_characteristic,
  nominal: undefined,
  lower_deviation: undefined,
  upper_deviation: undefined,
  upper_limit,
});

const position = {
  ...noRegister,
  kind: "position",
  name: "Bore position",
  nominal: undefined,
  lower_deviation: undefined,
  upper_deviation: undefined,
  upper_limit: 0.05,
};

async function probed() {
  const shop = await runningBatch(api, {
    features: [
      bore,
      {
        ...bore,
        characteristic: "2",
        name: "Boss",
        kind: "external",
        lower_deviation: -0.021,
        upper_deviation: 0,
      },
      form("3", "roundness", 0.01),
      form("4", "flatness", 0.01),
      form("5", "straightness", 0.01),
      form("6", "cylindricity", 0.01),
      { ...bore, characteristic: "7", name: "Depth", kind: "depth", nominal: "5" },
      form("8", "perpendicularity", 0.01),
      { ...position, characteristic: "9" },
      { ...position, characteristic: "11", at: { x: 40, y: 25, z: -3 } },
      { ...position, characteristic: "10", material_condition: "maximum", size_of: { characteristic: "1" } },
    ],
    gauge: {
      kind: "coordinate_machine",
      resolution: 0.0001,
      repeatability: 0.0005,
      expanded_uncertainty: 0.002,
    },
  });
  const post = (characteristic: string, body: object) =>
    api
      .post("/v1/readings")
      .send({ batch_id: shop.batch.batch_id, characteristic, piece: 1, unit: "mm", ...body });
  return { ...shop, post };
}

describe("POST /v1/readings with points", () => {
  it("answers the diameter of the least-squares circle, its centre and its form", async () => {
    const { post } = await probed();

    const { status, body } = await post("1", { points: around(40, 25, 15.005, allRound) });

    expect(status).toBe(201);
    const [reading] = body.readings;
    // One of eight points out by e: radius + e/8, centre moved by e/4 towards it (to first order in e).
    expect(reading.size).toBeCloseTo(30.01 + 0.008 / 8, 5);
    expect(reading.fit.centre[0]).toBeCloseTo(40 + 0.001 * Math.SQRT1_2, 5);
    expect(reading.fit.centre[1]).toBeCloseTo(25 + 0.001 * Math.SQRT1_2, 5);
    expect(reading).toMatchObject({
      verdict: "conforming",
      unit: "mm",
      expanded_uncertainty: 0.002,
      fit: {
        points: 8,
        redundancy: 5,
        ball_diameter: null,
        arc_deg: expect.closeTo(315, 1),
        uncertainty_factor: 1,
      },
    });
    expect(reading.value).toBe(reading.size);
    expect(reading.fit.form_least_squares).toBeGreaterThanOrEqual(reading.fit.form_minimum_zone);
    expect(reading.arithmetic[0]).toMatch(
      /^Least-squares circle through 8 points over an arc of 315°: diameter 30\.011/,
    );
  });

  it("adds the ball inside and takes it off outside", async () => {
    const { post } = await probed();

    const inside = await post("1", { points: around(0, 0, 12.005, allRound), ball_diameter: 6 });
    const outside = await post("2", { points: around(0, 0, 17.994, allRound), ball_diameter: "6" });

    expect(inside.body.readings[0].size).toBeCloseTo(30.011, 5);
    expect(inside.body.readings[0].fit).toMatchObject({ ball_diameter: 6 });
    expect(inside.body.readings[0].arithmetic[0]).toContain("+ ball 6.000 mm = 30.011");
    expect(outside.body.readings[0].size).toBeCloseTo(29.989, 5);
    expect(outside.body.readings[0].verdict).toBe("conforming");
  });

  it("takes points in inches for a part in mm", async () => {
    const { post } = await probed();
    const inches = around(0, 0, 15.005, allRound).map((point) =>
      point.map((x) => (Number(x) / 25.4).toFixed(9)),
    );

    const { body } = await post("1", { points: inches, unit: "inch" });

    expect(body.readings[0]).toMatchObject({ unit: "inch", size_unit: "mm" });
    expect(body.readings[0].size).toBeCloseTo(30.011, 5);
    expect(body.readings[0].value).toBeCloseTo(30.011 / 25.4, 6);
  });

  it("judges form by the minimum zone", async () => {
    const { post } = await probed();

    const round = await post("3", { points: around(0, 0, 15, allRound) });
    const face = [
      [0, 0, 5],
      [50, 0, 5],
      [0, 50, 5],
      [50, 50, 5],
      [25, 25, 5.012],
    ];
    const flat = await post("4", { points: face });
    const straight = await post("5", {
      points: [
        [0, 0],
        [50, 0.004],
        [100, 0],
      ],
    });
    const rings = [0, 10, 20].flatMap((z) => around(0, 0, 15, allRound).map(([x, y]) => [x, y, z]));
    const cylinder = await post("6", { points: rings });

    expect(round.body.readings[0].size).toBeLessThanOrEqual(0.004);
    expect(round.body.readings[0].size).toBe(round.body.readings[0].fit.form_minimum_zone);
    // By hand: the corners leave no tilt, so that the zone is as high as the middle stands out.
    expect(flat.body.readings[0]).toMatchObject({
      size: 0.012,
      verdict: "nonconforming",
      fit: { diameter: null },
    });
    expect(straight.body.readings[0]).toMatchObject({ size: 0.004, verdict: "conforming" });
    expect(cylinder.body.readings[0]).toMatchObject({ fit: { redundancy: 19, form_minimum_zone: null } });
  });

  it("answers a position from the centre of the circle, and its bonus from the diameter", async () => {
    const { post } = await probed();
    // The centre lies 0.02 and 0.015 mm off: 2 × 0.025 = 0.05.
    const at = {
      points: around(40.02, 25.015, 12.005, allRound, 0),
      ball_diameter: 6,
      true_position: [40, "25"],
    };

    const plain = await post("9", at);
    const bonus = await post("10", { ...at, true_position: [39.995, 25] });

    const [reading] = plain.body.readings;
    expect(reading.dx).toBeCloseTo(0.02, 6);
    expect(reading.dy).toBeCloseTo(0.015, 6);
    expect(reading.size).toBeCloseTo(0.05, 5);
    expect(reading.fit).toMatchObject({ diameter: null, uncertainty_factor: 1 });
    // 30.01 is 0.01 above the maximum material size of 30; the position is 2 × √(0.025² + 0.015²) = 0.0583.
    expect(bonus.body.readings[0]).toMatchObject({ verdict: "conforming", dz: null });
    expect(bonus.body.readings[0].feature_size).toBeCloseTo(30.01, 5);
    expect(bonus.body.readings[0].upper_limit).toBeCloseTo(0.06, 5);
    expect(bonus.body.readings[0].size).toBeCloseTo(0.0583, 4);
  });

  it("goes by the place of the feature on the drawing where no true position is sent", async () => {
    const { post } = await probed();
    const points = around(40.01, 25, 15, allRound, 0);
    const inches = points.map((point) => point.map((x) => (Number(x) / 25.4).toFixed(9)));

    const metric = await post("11", { points });
    const imperial = await post("11", { points: inches, unit: "inch" });

    for (const { body } of [metric, imperial]) {
      expect(body.readings[0]).toMatchObject({ verdict: "conforming", size: expect.closeTo(0.02, 5) });
    }
    const kept = await api.get(`/v1/readings/${metric.body.readings[0].reading_id}/points`);
    expect(kept.body.true_position).toEqual([40, 25]);
  });

  it("takes a position in a section of x and z", async () => {
    const { post } = await probed();
    const points = around(10.01, 5, 8, allRound, 0).map(([x, z]) => [x, 3, z]);

    const { body } = await post("9", { points, true_position: [10, 77, 5.01] });

    expect(body.readings[0].dx).toBeCloseTo(0.01, 6);
    expect(body.readings[0].dy).toBe(0);
    expect(body.readings[0].dz).toBeCloseTo(-0.01, 6);
    const shown = await api.get(`/v1/readings/${body.readings[0].reading_id}/points`);
    expect(shown.body).toMatchObject({ true_position: [10, 77, 5.01], fit: body.readings[0].fit });
  });

  it("says how little a short arc tells, and does not take it as proof", async () => {
    const { post, gauge } = await probed();

    const { body } = await post("1", {
      points: around(0, 0, 15.005, [0, 4, 8, 12, 16, 20]).map(([x, y]) => [x, y]),
    });

    const [reading] = body.readings;
    expect(reading.fit.uncertainty_factor).toBeGreaterThan(50);
    expect(reading.expanded_uncertainty).toBeCloseTo(
      gauge.expanded_uncertainty * reading.fit.uncertainty_factor,
      3,
    );
    expect(reading.flags).toContain("gauge_too_coarse");
    expect(reading.disposition).toBe("remeasure");
  });

  it.each([
    [
      "1",
      {
        points: [
          [0, 0],
          [1, 1],
        ],
      },
      "/points",
      "are 2, and a circle takes at least 3",
    ],
    [
      "1",
      {
        points: [
          [0, 0],
          [0, 0],
          [0, 0],
        ],
      },
      "/points",
      "are all the same",
    ],
    [
      "1",
      {
        points: [
          [0, 0],
          [1, 1],
          [2, 2],
          [5, 5],
        ],
      },
      "/points",
      "lie on one line",
    ],
    [
      "1",
      {
        points: [
          [0, 0.001],
          [10, 0],
          [20, 0.001],
          [30, 0],
          [40, 0.001],
        ],
      },
      "/points",
      "too short an arc",
    ],
    [
      "1",
      {
        points: [
          [0, 0, 0],
          [10, 0, 1],
          [0, 10, 2],
        ],
      },
      "/points",
      "share no coordinate",
    ],
    [
      "1",
      {
        points: [-20, 0, 20].flatMap((x) => [
          [x, 0],
          [x, 10],
        ]),
      },
      "/points",
      'send "value"',
    ],
    ["2", { points: around(0, 0, 2, allRound), ball_diameter: 6 }, "/ball_diameter", "leave nothing"],
    ["3", { points: around(0, 0, 15, [0, 30, 60, 90]) }, "/points", "at least halfway"],
    [
      "4",
      {
        points: [
          [0, 0],
          [1, 0],
          [0, 1],
        ],
      },
      "/points",
      "a plane takes three",
    ],
    ["6", { points: around(0, 0, 15, allRound).map(([x, y]) => [x, y, 3]) }, "/points", "two sections"],
    [
      "7",
      {
        points: [
          [0, 0],
          [1, 0],
          [0, 1],
        ],
      },
      "/points",
      "characteristic 7 is none",
    ],
    [
      "8",
      {
        points: [
          [0, 0, 1],
          [1, 0, 1],
          [0, 1, 1],
        ],
      },
      "/points",
      "characteristic 8 is none",
    ],
    [
      "1",
      {
        points: [
          [0, 0],
          [1, "200000000000"],
          [0, 1],
        ],
      },
      "/points/1/1",
      "check the unit",
    ],
    [
      "1",
      { points: around(0, 0, 15, allRound), true_position: [0, 0] },
      "/true_position",
      "belongs to a position",
    ],
    ["9", { points: around(0, 0, 15, allRound) }, "/true_position", "is missing"],
    [
      "9",
      { points: around(0, 0, 15, allRound), true_position: [0, 0, 0] },
      "/true_position",
      "as many coordinates",
    ],
  ])("refuses on %s %j", async (characteristic, body, pointer, detail) => {
    const { post } = await probed();

    const response = await post(characteristic, body);

    expect([400, 422]).toContain(response.status);
    expect(response.body.errors).toEqual([{ pointer, detail: expect.stringContaining(detail) }]);
  });

  it.each([
    [{ points: [] }, "/points"],
    [{ points: [[1]] }, "/points/0"],
    [{ points: [[1, 2, 3, 4]] }, "/points/0"],
    [
      {
        points: [
          [1, 2],
          [1, 2, 3],
        ],
      },
      "/points/1",
    ],
    [{ points: [[1, "x"]] }, "/points/0/1"],
    [{ points: Array.from({ length: 501 }, () => [1, 2]) }, "/points"],
    [{ points: [[1, 2]], value: 3 }, "/points"],
    [{ points: [[1, 2]], size: 3 }, "/size"],
    [{ points: [[1, 2]], unit: undefined }, "/unit"],
    [{ value: 3, ball_diameter: 6 }, "/ball_diameter"],
    [{ points: [[1, 2]], ball_diameter: 0 }, "/ball_diameter"],
    [{ points: [[1, 2]], unit: "deg" }, "/unit"],
  ])("refuses the body %j at %s", async (body, pointer) => {
    const { post } = await probed();

    const response = await post("1", body);

    expect([400, 422]).toContain(response.status);
    expect(response.body.errors.map((error: { pointer: string }) => error.pointer)).toContain(pointer);
  });

  it("refuses more points in one request than it takes", async () => {
    const { batch } = await probed();
    const points = Array.from({ length: 500 }, (_, i) => [i, (i * i) % 997]);
    const readings = Array.from({ length: 41 }, (_, i) => ({
      batch_id: batch.batch_id,
      characteristic: "1",
      piece: i + 1,
      unit: "mm",
      points,
    }));

    const { status, body } = await api.post("/v1/readings").send(readings);

    expect(status).toBe(400);
    expect(body.errors[0]).toEqual({ pointer: "/40/points", detail: expect.stringContaining("20000") });
  });

  it("refuses points by a gauge that shows deviations", async () => {
    const { post } = await probed();
    const dial = await create(
      api,
      "/v1/gauges",
      gaugeBody({
        name: "ring-set bore gauge of the points",
        kind: "bore_gauge",
        reads: "deviation",
        master_size: 30,
      }),
    );

    const { status, body } = await post("1", { points: around(0, 0, 15, allRound), gauge_id: dial.gauge_id });

    expect(status).toBe(422);
    expect(body.errors[0].pointer).toBe("/gauge_id");
  });

  it("knows the same points at the same instant again, and others as others", async () => {
    const { post } = await probed();
    const points = around(0, 0, 15.005, allRound);
    const at = { measured_at: "2026-03-02T07:41:00Z" };
    const first = await post("1", { points, ...at });

    const again = await post("1", { points, ...at });
    const moved = await post("1", { points: around(0, 0, 15.006, allRound), ...at });

    expect(again.body.readings[0].flags).toContain("duplicate");
    expect(again.body.readings[0]).toEqual({ ...first.body.readings[0], flags: ["duplicate"] });
    expect(moved.body.readings[0].repeat).toBe(2);
  });
});

describe("GET /v1/readings/{reading_id}/points", () => {
  it("gives the points as they were sent, and evaluates them again", async () => {
    const { post, batch } = await probed();
    const points = around(40, 25, 12.005, allRound);
    const { body } = await post("1", { points, ball_diameter: "6.000" });
    const [reading] = body.readings;

    const shown = await api.get(`/v1/readings/${reading.reading_id}/points`);

    expect(shown.body).toEqual({
      reading_id: reading.reading_id,
      points,
      unit: "mm",
      ball_diameter: "6.000",
      true_position: null,
      fit: reading.fit,
    });
    const stored = await api.get(`/v1/readings/${reading.reading_id}`);
    expect(stored.body).toEqual(reading);
    const list = await api.get(`/v1/readings?batch_id=${batch.batch_id}`);
    expect(list.body.items).toEqual([reading]);
  });

  it("answers 404 for a reading that came as a value, and for none", async () => {
    const { post } = await probed();
    const { body } = await post("1", { value: 30.01 });

    expect(body.readings[0].fit).toBeNull();
    expect((await api.get(`/v1/readings/${body.readings[0].reading_id}/points`)).status).toBe(404);
    expect((await api.get("/v1/readings/999999-1/points")).status).toBe(404);
  });
});
