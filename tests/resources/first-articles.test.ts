import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create, gaugeBody } from "../support/shop.js";

const { api } = await createTestApp();

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

let plugs = 0;

/** A part of three characteristics, the last of them a thread. */
async function articleShop() {
  const plug = await create(
    api,
    "/v1/gauges",
    gaugeBody({ name: `plug ${++plugs}`, kind: "thread_gauge", resolution: null, repeatability: null }),
  );
  const shop = await runningBatch(api, {
    features: [
      { characteristic: "1", name: "Width", importance: "key", drawing_zone: "sheet 2, B4" },
      { characteristic: "2", kind: "internal", nominal: "16", lower_deviation: -0.05, upper_deviation: 0.05 },
      {
        characteristic: "3",
        kind: "go_no_go",
        gauged: "internal_thread",
        thread_standard: "iso_metric",
        nominal: undefined,
        lower_deviation: undefined,
        upper_deviation: undefined,
        gauge_id: plug.gauge_id,
        cut_by: [],
      },
    ].map((feature) => ({ nominal: "12", lower_deviation: -0.03, upper_deviation: 0.03, ...feature })),
  });
  const [, slot, thread] = shop.part.features.map((feature: Answer) => feature.feature_id);
  const body = (change: object = {}) => ({
    part_id: shop.part.part_id,
    report_number: `FA-${shop.part.number}`,
    extent: "full",
    reason: "first_production",
    pieces: [{ batch_id: shop.batch.batch_id, piece: 1 }],
    ...change,
  });
  return {
    ...shop,
    slot,
    thread,
    body,
    passThread: (piece: number) =>
      create(api, "/v1/readings", {
        batch_id: shop.batch.batch_id,
        feature_id: thread,
        piece,
        result: "pass",
      }),
    due: async (query = ""): Promise<Answer> =>
      (await api.get(`/v1/parts/${shop.part.part_id}/first-article-due${query}`)).body,
  };
}

describe("a first article", () => {
  it("shows every characteristic with zone, designator, requirement, result, tooling and status", async () => {
    const shop = await articleShop();
    await shop.read(1, "12.0100");
    await shop.read(1, "16.004", { feature_id: shop.slot });
    await shop.passThread(1);

    const article = await create(
      api,
      "/v1/first-articles",
      shop.body({
        remarks: [{ characteristic: "3", tooling: "thread plug TP-8" }],
        fields: { purchase_order: "PO-881" },
      }),
    );

    expect(article).toMatchObject({
      complete: true,
      why: "Complete: 3 of 3 characteristics conform.",
      still_open: [],
    });
    expect(article.characteristics).toEqual([
      expect.objectContaining({
        characteristic: "1",
        drawing_zone: "sheet 2, B4",
        designator: "key",
        requirement: "12 ± 0.03",
        unit: "mm",
        results: [expect.objectContaining({ result: "12.0100", verdict: "conforming" })],
        status: "conforming",
      }),
      expect.objectContaining({ characteristic: "2", designator: null, status: "conforming" }),
      expect.objectContaining({
        characteristic: "3",
        requirement: "internal thread: GO passes, NO-GO does not",
        results: [expect.objectContaining({ result: "passes" })],
        tooling: "thread plug TP-8",
      }),
    ]);
    expect(article.fields).toMatchObject({ purchase_order: "PO-881", part_type: "detail" });
  });

  it("lists what was not measured, and is not complete without it", async () => {
    const shop = await articleShop();
    await shop.read(1, "12.0100");

    const article = await create(api, "/v1/first-articles", shop.body());

    expect(article).toMatchObject({ complete: false, still_open: ["2", "3"] });
    expect(article.why).toContain("2 and 3 not measured");
    expect(article.characteristics.map((line: Answer) => line.status)).toEqual([
      "conforming",
      "not_measured",
      "not_measured",
    ]);
    const { text } = await api.get(`/v1/first-articles/${article.first_article_id}?format=html`);
    expect(text.match(/NOT MEASURED/g)).toHaveLength(2);
  });

  it("does not take a neighbour's good reading for its own: what the check plan covers is not measured", async () => {
    const shop = await articleShop();
    for (const piece of [1, 2, 3, 4]) await shop.read(piece, "12.0010");
    await shop.read(6, "12.0010");

    const article = await create(
      api,
      "/v1/first-articles",
      shop.body({ pieces: [{ batch_id: shop.batch.batch_id, piece: 5 }] }),
    );

    expect(article.characteristics[0]).toMatchObject({ status: "not_measured", results: [] });
  });

  it("is completed by a later partial one that builds on it, and opened again where that is voided", async () => {
    const shop = await articleShop();
    await shop.read(1, "12.0010");
    await shop.read(1, "16.001", { feature_id: shop.slot });
    const full = await create(api, "/v1/first-articles", shop.body());
    await shop.read(2, "12.0010");
    await shop.passThread(2);

    const partial = await create(
      api,
      "/v1/first-articles",
      shop.body({
        report_number: `${full.report_number}-1`,
        extent: "partial",
        reason: "corrective_action",
        baseline_id: full.first_article_id,
        characteristics: ["3"],
        pieces: [{ batch_id: shop.batch.batch_id, piece: 2 }],
      }),
    );
    const path = `/v1/first-articles/${full.first_article_id}`;
    const completed = (await api.get(path)).body;
    await api.post(`/v1/first-articles/${partial.first_article_id}/void`).send({ reason: "wrong piece" });
    const opened = (await api.get(path)).body;

    expect(partial).toMatchObject({
      complete: true,
      characteristics: [expect.objectContaining({ characteristic: "3" })],
    });
    expect(completed).toMatchObject({
      complete: true,
      followed_by: [{ first_article_id: partial.first_article_id, report_number: partial.report_number }],
    });
    expect(completed.why).toContain(`the others on ${partial.report_number}`);
    expect(opened).toMatchObject({ complete: false, still_open: ["3"], followed_by: [] });
  });

  it("is printed in all forms, with signatures as the customer's revision of the standard wants them", async () => {
    const shop = await articleShop();
    await shop.read(1, "12.0100");
    const article = await create(api, "/v1/first-articles", shop.body({ fields: { comments: "=1+1 <i>" } }));
    const path = `/v1/first-articles/${article.first_article_id}`;

    const [b, c, csv, pdf] = await Promise.all([
      api.get(`${path}?format=html&edition=b`),
      api.get(`${path}?format=html`),
      api.get(`${path}?format=csv`),
      api.get(`${path}?format=pdf`).responseType("blob"),
    ]);

    expect(b.text.match(/class="signatures"/g)).toHaveLength(2);
    expect(c.text.match(/class="signatures"/g)).toHaveLength(1);
    expect(c.text).toContain("=1+1 &lt;i&gt;");
    expect(csv.text).toContain(",12.0100,mm,conforming,conforming,");
    expect(pdf.body.subarray(0, 5).toString()).toBe("%PDF-");
  });

  it.each([
    ["a piece that is not cut", { pieces: [{ batch_id: "own", piece: 9 }] }, "/pieces/0/piece"],
    ["a batch that there is not", { pieces: [{ batch_id: "999999", piece: 1 }] }, "/pieces/0/batch_id"],
    [
      "a characteristic that there is not",
      { remarks: [{ characteristic: "77", tooling: "x" }] },
      "/remarks/0/characteristic",
    ],
    ["a part that there is not", { part_id: "999999" }, "/part_id"],
  ])("is refused with %s", async (_, change: Answer, pointer) => {
    const shop = await articleShop();
    await shop.read(1, "12.0010");
    const body = shop.body(change);
    for (const piece of body.pieces) if (piece.batch_id === "own") piece.batch_id = shop.batch.batch_id;

    const response = await api.post("/v1/first-articles").send(body);

    expect(response.status, response.text).toBe(422);
    expect(response.body.errors[0].pointer).toBe(pointer);
  });

  it.each([
    [
      "a partial one without its characteristics",
      { extent: "partial", baseline_id: "1" },
      "/characteristics",
    ],
    ["a partial one that builds on nothing", { extent: "partial", characteristics: ["1"] }, "/baseline_id"],
    ["a full one of some characteristics", { characteristics: ["1"] }, "/characteristics"],
    ["another reason without a note", { reason: "other" }, "/note"],
  ])("is refused with %s", async (_, change: Answer, pointer) => {
    const shop = await articleShop();

    const { status, body } = await api.post("/v1/first-articles").send(shop.body(change));

    expect(status).toBe(400);
    expect(body.errors.map((error: Answer) => error.pointer)).toContain(pointer);
  });

  it("has a number of its own", async () => {
    const shop = await articleShop();
    await shop.read(1, "12.0010");
    await create(api, "/v1/first-articles", shop.body());

    const { status, body } = await api.post("/v1/first-articles").send(shop.body());

    expect(status).toBe(409);
    expect(body.errors[0].pointer).toBe("/report_number");
  });

  it("is listed by part, voided ones too", async () => {
    const shop = await articleShop();
    await shop.read(1, "12.0010");
    const article = await create(api, "/v1/first-articles", shop.body());
    await api
      .post(`/v1/first-articles/${article.first_article_id}/void`)
      .send({ reason: "typed wrong", by: "quality" });

    const { body } = await api.get(`/v1/first-articles?part_id=${shop.part.part_id}`);
    const again = await api.post(`/v1/first-articles/${article.first_article_id}/void`).send({ reason: "x" });

    expect(body.items).toEqual([
      expect.objectContaining({
        report_number: article.report_number,
        voided: expect.objectContaining({ by: "quality" }),
      }),
    ]);
    expect(again.status).toBe(409);
  });
});

describe("whether a first article is due", () => {
  it("says so for a part that has none, and not after a complete one", async () => {
    const shop = await articleShop();
    const before = await shop.due();
    await shop.read(1, "12.0010");
    await shop.read(1, "16.001", { feature_id: shop.slot });
    await shop.passThread(1);
    await create(api, "/v1/first-articles", shop.body());

    expect(before).toMatchObject({ due: true, extent: "full", reasons: [{ reason: "first_production" }] });
    expect(await shop.due()).toMatchObject({ due: false, extent: null, reasons: [] });
  });

  it("says so for what happened since: a programme, a machine", async () => {
    const shop = await articleShop();
    await shop.read(1, "12.0010");
    await shop.read(1, "16.001", { feature_id: shop.slot });
    await shop.passThread(1);
    await create(api, "/v1/first-articles", shop.body());
    await create(api, `/v1/batches/${shop.batch.batch_id}/interruptions`, {
      from_piece: 2,
      kind: "program_change",
      note: "new post-processor",
    });
    const other = await runningBatch(api);
    await create(api, "/v1/batches", {
      name: `${shop.part.number}-other`,
      part_id: shop.part.part_id,
      machine_id: other.machine.machine_id,
    });

    const due = await shop.due();

    expect(due.reasons.map(({ reason }: Answer) => reason).sort()).toEqual([
      "process_change",
      "program_change",
    ]);
    expect(due.reasons.map(({ why }: Answer) => why).join(" ")).toContain("new post-processor");
  });

  it("says so for a revision without one", async () => {
    const shop = await articleShop();
    await shop.read(1, "12.0010");
    await create(api, "/v1/first-articles", shop.body());
    const next = await create(api, "/v1/parts", {
      number: shop.part.number,
      revision: "next",
      unit: "mm",
      features: [
        {
          characteristic: "1",
          kind: "external",
          nominal: "12",
          lower_deviation: -0.03,
          upper_deviation: 0.03,
        },
      ],
    });

    const { body } = await api.get(`/v1/parts/${next.part_id}/first-article-due`);

    expect(body).toMatchObject({ due: true, extent: "full", reasons: [{ reason: "design_change" }] });
  });
});

describe("a position at maximum material", () => {
  it("stands in a first article with what is allowed with the bonus of its piece [ISO 2692: 0.1 and 0.05 of the bore]", async () => {
    const sizeless = {
      nominal: undefined,
      lower_deviation: undefined,
      upper_deviation: undefined,
      cut_by: [],
    };
    const shop = await runningBatch(api, {
      features: [
        { characteristic: "1", kind: "internal", nominal: "10", lower_deviation: 0, upper_deviation: 0.2 },
        {
          characteristic: "2",
          kind: "position",
          ...sizeless,
          upper_limit: 0.1,
          material_condition: "maximum",
          size_of: { characteristic: "1" },
        },
      ],
    });
    const { batch_id } = shop.batch;
    const { value: _, ...position } = shop.reading(1, 0, { feature_id: shop.part.features[1].feature_id });
    await shop.read(1, "10.05");
    await create(api, "/v1/readings", { ...position, dx: 0.06, dy: 0.04 });
    await shop.read(2, "10.03");
    await create(api, "/v1/readings", { ...position, piece: 2, dx: 0.06, dy: 0.04 });
    const article = (piece: number) =>
      create(api, "/v1/first-articles", {
        part_id: shop.part.part_id,
        report_number: `FA-MMC-${piece}`,
        extent: "full",
        reason: "first_production",
        pieces: [{ batch_id, piece }],
      });

    const [within, beyond] = [await article(1), await article(2)];

    // 2·√(0.06² + 0.04²) = 0.1442: inside 0.1 + 0.05, outside 0.1 + 0.03.
    expect(within.complete).toBe(true);
    expect(within.characteristics[1].results[0]).toMatchObject({
      verdict: "conforming",
      allowed: expect.stringContaining("0.15"),
    });
    expect(Number.parseFloat(within.characteristics[1].results[0].result)).toBeCloseTo(0.1442, 4);
    expect(beyond.still_open).toEqual(["2"]);
    expect(beyond.characteristics[1].results[0]).toMatchObject({
      verdict: "nonconforming",
      allowed: expect.stringContaining("0.13"),
    });
  });
});
