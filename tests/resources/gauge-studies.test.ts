import { describe, expect, it } from "vitest";
import { readData } from "../core/data/read-data.js";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create, gaugeBody } from "../support/shop.js";

const { api, db } = await createTestApp();

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

let count = 0;
async function newGauge(change: object = {}): Promise<string> {
  count += 1;
  return (await create(api, "/v1/gauges", gaugeBody({ name: `studied ${count}`, ...change }))).gauge_id;
}

async function post(gauge: string, body: object, status = 201): Promise<Answer> {
  const response = await api.post(`/v1/gauges/${gauge}/studies`).send(body);
  expect(response.status, response.text).toBe(status);
  return response.body;
}

async function act(
  gauge: string,
  study: string,
  verb: "accept" | "void",
  body: object,
  status = 200,
): Promise<Answer> {
  const response = await api.post(`/v1/gauges/${gauge}/studies/${study}/${verb}`).send(body);
  expect(response.status, response.text).toBe(status);
  return response.body;
}

const { inputs, expected } = readData<Answer[]>("gauge-rr.json").find(({ id }) => id === "grr-anova-pooled");
const handbook = (inputs.data_part_appraiser_trial as number[][][]).flatMap((part, i) =>
  part.flatMap((cell, j) =>
    cell.map((value, k) => ({
      part: `part ${i + 1}`,
      operator: "ABC"[j],
      trial: k + 1,
      value: Number((value / 100 + 5).toFixed(4)),
    })),
  ),
);
const onePart = [25.001, 25.002, 25.001, 25.003, 25.002, 25.001].map((value) => ({ value }));

const inInch = { nominal: "0.4724", lower_deviation: -0.0012, upper_deviation: 0.0012 };

describe("POST /v1/gauges/{gauge_id}/studies", () => {
  it("answers the printed figures of a crossed study, in the unit sent, whatever the order", async () => {
    const gauge = await newGauge();

    const study = await post(gauge, {
      unit: "mm",
      tolerance: 0.04,
      readings: handbook,
      by: "measuring room",
    });
    const turned = await post(gauge, { unit: "mm", tolerance: 0.04, readings: handbook.toReversed() });

    const { analysis_of_variance: figures } = study.crossed;
    expect(figures.gauge).toBeCloseTo(expected.sd.GRR / 100, 9);
    expect(figures.repeatability).toBeCloseTo(expected.sd.EV / 100, 9);
    expect(figures.percent_of_study).toBeCloseTo(expected.percent_study.GRR, 5);
    expect(figures.percent_of_tolerance).toBeCloseTo((100 * 6 * expected.sd.GRR) / 100 / 0.04, 4);
    expect(study).toMatchObject({
      kind: "crossed",
      verdict: "unfit",
      readings: 90,
      accepted: null,
      voided: null,
    });
    expect(study.crossed).toMatchObject({ parts: 10, operators: 3, trials: 3, pooled: true });
    expect(study.crossed.table.interaction).toMatchObject({ degrees: 18 });
    expect(study.why).toContain("The gauge takes up 45.4 % of the tolerance; above 30 % is too much");
    expect(study.why).toContain("It tells 4 classes of these parts apart; 5 are the usual least.");
    expect(turned.crossed).toEqual(study.crossed);
  });

  it("judges by other limits, and by the spread of the parts without a tolerance", async () => {
    const gauge = await newGauge();

    const study = await post(gauge, {
      unit: "mm",
      readings: handbook,
      limits: { fit: 29, conditional: 30 },
      interaction: "kept",
    });
    const strict = await post(gauge, { unit: "mm", readings: handbook });

    expect(study).toMatchObject({ verdict: "fit", tolerance: null, crossed: { pooled: false } });
    expect(strict).toMatchObject({ verdict: "conditional" });
    expect(strict.why).toContain("27.9 % of the spread of these parts");
  });

  it("gives bias, Cg and Cgk of one part", async () => {
    const study = await post(await newGauge(), {
      kind: "one_part",
      unit: "mm",
      tolerance: 0.05,
      reference: "25.0000",
      readings: onePart,
    });

    // mean 25.0016667, s = 0.00081650: Cg = 0.2 T / 6 s, Cgk = (0.1 T - bias) / 3 s, by hand
    expect(study.bias).toBeCloseTo(0.0016666667, 9);
    expect(study.repeatability).toBeCloseTo(0.00081649658, 9);
    expect(study.one_part.cg).toBeCloseTo(2.0412, 3);
    expect(study.one_part.cgk).toBeCloseTo(1.3608, 3);
    expect(study.verdict).toBe("fit");
    expect(study.why).toContain("6 readings are few");
  });

  it.each([
    [0.04, "conditional", "set it afresh"],
    [0.02, "unfit", "take a finer gauge"],
    [undefined, null, "Without a tolerance"],
  ])("of one part and a tolerance of %s says %s", async (tolerance, verdict, words) => {
    const study = await post(await newGauge(), {
      kind: "one_part",
      unit: "mm",
      tolerance,
      reference: 25,
      readings: onePart,
    });
    expect(study.verdict).toBe(verdict);
    expect(study.why).toContain(words);
  });

  it("finds an error that grows with the size", async () => {
    const readings = [5, 10, 15, 20, 25].flatMap((reference) =>
      [0, 0.001, -0.001].map((noise) => ({
        reference,
        value: Number((reference * 1.0004 + noise).toFixed(4)),
      })),
    );

    const study = await post(await newGauge(), { kind: "linearity", unit: "mm", tolerance: 0.05, readings });

    expect(study.linearity.slope).toBeCloseTo(0.0004, 9);
    expect(study.linearity.points).toHaveLength(5);
    expect(study).toMatchObject({ verdict: "conditional", repeatability: 0.001 });
    expect(study.why).toContain("Its error changes with the size");
    expect(study.why).toContain("20 % of the tolerance");
  });

  it.each([
    ["a missing reading", { readings: handbook.slice(1) }, 422, "/readings"],
    ["one part", { readings: handbook.filter(({ part }) => part === "part 1") }, 422, "/readings"],
    ["one trial", { readings: handbook.filter(({ trial }) => trial === 1) }, 422, "/readings"],
    ["a trial twice", { readings: [...handbook, handbook[0]] }, 400, "/readings/90/trial"],
    ["a reading without a part", { readings: [{ value: 1 }, { value: 2 }] }, 400, "/readings/0/part"],
    ["no reference", { kind: "one_part", readings: onePart }, 400, "/reference"],
    [
      "one standard",
      { kind: "linearity", readings: [1, 2, 3].map((value) => ({ reference: 1, value })) },
      422,
      "/readings",
    ],
    [
      "limits the wrong way round",
      { readings: handbook, limits: { fit: 40, conditional: 30 } },
      400,
      "/limits",
    ],
    ["degrees", { unit: "deg", readings: handbook }, 422, "/unit"],
    [
      "no number",
      {
        readings: [
          { part: "a", value: "NaN" },
          { part: "b", value: 1 },
        ],
      },
      400,
      "/readings/0/value",
    ],
  ])("refuses %s", async (_, change, status, pointer) => {
    const problem = await post(await newGauge(), { unit: "mm", ...change }, status);
    expect(problem.errors.map((error: Answer) => error.pointer)).toContain(pointer);
  });

  it("takes stored readings by their ids, each piece a part and who took it the operator", async () => {
    const shop = await runningBatch(api, { part: { unit: "inch" }, features: [inInch] });
    const sizes = [
      ["shift A", 1, "12.001"],
      ["shift A", 1, "12.002"],
      ["shift A", 2, "12.010"],
      ["shift A", 2, "12.008"],
      ["shift B", 1, "12.003"],
      ["shift B", 1, "12.004"],
      ["shift B", 2, "12.011"],
      ["shift B", 2, "12.013"],
    ] as const;
    const ids: string[] = [];
    for (const [taken_by, piece, value] of sizes) {
      const { readings } = await shop.read(piece, value, {
        unit: "mm",
        taken_by,
        gauge_id: shop.gauge.gauge_id,
      });
      ids.push(readings[0].reading_id);
    }
    const about = { unit: "mm", tolerance: 0.06 };

    const stored = await post(shop.gauge.gauge_id, {
      ...about,
      readings: ids.map((reading_id) => ({ reading_id })),
    });
    const typed = await post(shop.gauge.gauge_id, {
      ...about,
      readings: sizes.map(([operator, part, value]) => ({ operator, part: `piece ${part}`, value })),
    });

    expect(stored.crossed).toMatchObject({ parts: 2, operators: 2, trials: 2 });
    expect(stored.crossed).toEqual(typed.crossed);
    expect([stored.verdict, stored.why]).toEqual([typed.verdict, typed.why]);
  });

  it("refuses stored readings that can't stand in a study, each where it stands", async () => {
    const shop = await runningBatch(api, {});
    const gauge_id = shop.gauge.gauge_id;
    const id = async (piece: number, change: object = { gauge_id }) =>
      (await shop.read(piece, "12.001", change)).readings[0].reading_id;
    const good = await id(1);
    const voided = await id(2);
    await api.post(`/v1/readings/${voided}/void`).send({ reason: "typed wrong", by: "A" }).expect(200);
    const others = await id(3, { gauge_id: await newGauge() });
    const unsure = await id(6, { gauge_id, piece_within: 3 });
    const readings = [good, voided, others, unsure, "999999-1"].map((reading_id) => ({ reading_id }));

    const problem = await post(gauge_id, { unit: "mm", readings }, 422);
    const twice = await post(
      gauge_id,
      { unit: "mm", readings: [good, good].map((reading_id) => ({ reading_id })) },
      400,
    );
    const both = await post(
      gauge_id,
      { unit: "mm", readings: [{ reading_id: good, value: 1, part: "a" }, { part: "a" }] },
      400,
    );

    expect(problem.errors).toEqual([
      { pointer: "/readings/1/reading_id", detail: `reading ${voided} is voided` },
      { pointer: "/readings/2/reading_id", detail: expect.stringContaining("was not taken with") },
      { pointer: "/readings/3/reading_id", detail: expect.stringContaining("nobody knows which piece") },
      { pointer: "/readings/4/reading_id", detail: expect.stringContaining("there is no reading 999999-1") },
    ]);
    expect(twice.errors[0].pointer).toBe("/readings/1/reading_id");
    expect(both.errors.map((error: Answer) => error.pointer)).toEqual([
      "/readings/0/value",
      "/readings/1/value",
    ]);
  });

  it("refuses a gauge that shows no number, and knows no other", async () => {
    const plug = await newGauge({
      kind: "plug_gauge",
      resolution: null,
      repeatability: null,
      expanded_uncertainty: null,
    });
    expect((await post(plug, { unit: "mm", readings: handbook }, 422)).errors[0].detail).toContain(
      "shows no number",
    );
    await post("999999", { unit: "mm", readings: handbook }, 404);
  });
});

describe("POST /v1/gauges/{gauge_id}/studies/{gauge_study_id}/accept", () => {
  it("gives the gauge the repeatability found for what is read from then on", async () => {
    const shop = await runningBatch(api, { gauge: { expanded_uncertainty: null, repeatability: 0.0012 } });
    const { gauge_id } = shop.gauge;
    await shop.read(1, 12);
    const study = await post(gauge_id, {
      kind: "one_part",
      unit: "mm",
      tolerance: 0.05,
      reference: 25,
      readings: onePart,
    });
    expect((await api.get(`/v1/gauges/${gauge_id}`)).body.repeatability).toBe(0.0012);

    const accepted = await act(gauge_id, study.gauge_study_id, "accept", { by: "measuring room" });

    expect(accepted.accepted).toMatchObject({ by: "measuring room", repeatability_before: 0.0012 });
    expect((await api.get(`/v1/gauges/${gauge_id}`)).body.repeatability).toBeCloseTo(0.00081649658, 9);
    await shop.read(2, 12);
    const read = await db
      .selectFrom("reading")
      .select("gauge_variance")
      .where("batch_id", "=", shop.batch.batch_id)
      .orderBy("piece")
      .execute();
    const display = 0.001 ** 2 / 12;
    expect(read[0]?.gauge_variance).toBeCloseTo(0.0012 ** 2 + display, 14);
    // The gauge keeps whole picometres.
    expect(read[1]?.gauge_variance).toBeCloseTo(0.000816497 ** 2 + display, 14);
    await act(gauge_id, study.gauge_study_id, "accept", { by: "measuring room" }, 409);
    expect((await api.get(`/v1/gauges/${gauge_id}/studies/${study.gauge_study_id}`)).body).toEqual(accepted);

    await act(gauge_id, study.gauge_study_id, "void", { reason: "wrong gauge", by: "measuring room" });
    expect((await api.get(`/v1/gauges/${gauge_id}`)).body.repeatability).toBe(0.0012);
    await act(gauge_id, study.gauge_study_id, "void", { reason: "again" }, 409);
    await act(gauge_id, study.gauge_study_id, "accept", { by: "x" }, 409);
  });

  it("leaves a gauge alone that has been given another repeatability since", async () => {
    const gauge = await newGauge();
    const study = await post(gauge, { kind: "one_part", unit: "mm", reference: 25, readings: onePart });
    await act(gauge, study.gauge_study_id, "accept", { by: "measuring room" });
    await api.patch(`/v1/gauges/${gauge}`).send({ repeatability: 0.002 }).expect(200);

    await act(gauge, study.gauge_study_id, "void", { reason: "wrong gauge" });

    expect((await api.get(`/v1/gauges/${gauge}`)).body.repeatability).toBe(0.002);
  });
});

describe("GET /v1/gauges/{gauge_id}/studies", () => {
  it("lists the latest first, page by page, and says what there is not", async () => {
    const gauge = await newGauge();
    const body = { kind: "one_part", unit: "mm", reference: 25, readings: onePart };
    const ids = [await post(gauge, body), await post(gauge, body)].map(
      ({ gauge_study_id }) => gauge_study_id,
    );

    const first = (await api.get(`/v1/gauges/${gauge}/studies?limit=1`)).body;
    const second = (await api.get(`/v1/gauges/${gauge}/studies?limit=1&cursor=${first.next_cursor}`)).body;

    expect([...first.items, ...second.items].map(({ gauge_study_id }) => gauge_study_id)).toEqual(
      ids.toReversed(),
    );
    expect(second.next_cursor).toBeNull();
    await api.get("/v1/gauges/999999/studies").expect(404);
    await api.get(`/v1/gauges/${gauge}/studies/999999`).expect(404);
  });
});
