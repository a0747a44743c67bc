import { sql } from "kysely";
import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";

const { api, db } = await createTestApp();

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;
type Shop = Awaited<ReturnType<typeof runningBatch>>;

const at = (minute: number) => `2026-03-02T07:${String(minute).padStart(2, "0")}:00.000Z`;

async function check(
  shop: Shop,
  minute: number,
  reading: number,
  change: object = {},
  status = 201,
): Promise<Answer> {
  const body = { at: at(minute), standard: 12, reading, unit: "mm", ...change };
  const response = await api.post(`/v1/gauges/${shop.gauge.gauge_id}/checks`).send(body);
  expect(response.status, response.text).toBe(status);
  return response.body;
}

async function readings(query: string): Promise<Answer[]> {
  const response = await api.get(`/v1/readings?${query}`);
  expect(response.status, response.text).toBe(200);
  return response.body.items;
}

const flagsOf = async (shop: Shop) =>
  (await readings(`batch_id=${shop.batch.batch_id}`)).map(({ piece, flags }) => [
    piece,
    flags.includes("gauge_in_doubt"),
  ]);

describe("POST /v1/gauges/{gauge_id}/checks", () => {
  it("says in a sentence that a gauge is fit, up to its expanded uncertainty", async () => {
    const shop = await runningBatch(api);

    const answer = await check(shop, 0, 12.003, { by: "shift A", note: "block 12" });

    expect(answer).toEqual({
      gauge_check_id: expect.stringMatching(/^\d+$/),
      gauge_id: shop.gauge.gauge_id,
      at: at(0),
      unit: "mm",
      standard: 12,
      standard_uncertainty: 0,
      reading: 12.003,
      error: 0.003,
      direction_known: true,
      allowed_error: 0.003,
      state: "fit",
      shift: false,
      why: `${shop.gauge.name} reads 0.003 mm too big on 12.000 mm; up to 0.003 mm is what its uncertainty leaves open: fit.`,
      note: "block 12",
      by: "shift A",
      created_at: expect.stringMatching(/Z$/),
      voided: null,
      in_doubt: { since: null, readings: 0, turned: 0, open: 0, batches: [], more_batches: 0 },
    });
  });

  it.each([
    [{ expanded_uncertainty: 0.003 }, { reading: 12.0031 }, "off", 0.003],
    [{ expanded_uncertainty: null }, { reading: 12.001 }, "fit", 0.001],
    [{ expanded_uncertainty: null }, { reading: "12.0011" }, "off", 0.001],
    [{ expanded_uncertainty: 0.003 }, { reading: 12.005, standard_uncertainty: 0.004 }, "fit", 0.005],
    [{ expanded_uncertainty: 0.003 }, { reading: 11.9949, standard_uncertainty: 0.004 }, "off", 0.005],
    [{ expanded_uncertainty: 0.003 }, { standard: 12000, reading: 12003, unit: "um" }, "fit", 3],
  ])("with %j and %j it is %s", async (gauge, change, state, allowed) => {
    const shop = await runningBatch(api, { gauge });

    expect(await check(shop, 0, 0, change)).toMatchObject({ state, allowed_error: allowed });
  });

  it("reads a gauge that shows a deviation against its master", async () => {
    const shop = await runningBatch(api, {
      gauge: { reads: "deviation", master_size: 12.002, sense: "reversed" },
    });

    const answer = await check(shop, 0, -0.004, { standard: 12.002 });

    expect(answer).toMatchObject({ error: 0.004, state: "off" });
  });

  it("doubts what was read since the last good check, and what comes until the next good one", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, 12, { measured_at: at(1) });
    await check(shop, 2, 12.002);
    await shop.read(2, 12, { measured_at: at(3) });
    await shop.read(3, 12.029, { measured_at: at(4) });

    const off = await check(shop, 5, 11.996);

    expect(off.in_doubt).toEqual({
      since: at(2),
      readings: 2,
      turned: 1,
      open: 0,
      batches: [
        {
          batch_id: shop.batch.batch_id,
          batch: shop.batch.name,
          part_number: shop.part.number,
          revision: shop.part.revision,
          readings: 2,
          pieces: 2,
          first_piece: 2,
          last_piece: 3,
          turned: 1,
          open: 0,
          closed: false,
        },
      ],
      more_batches: 0,
    });
    const later = await shop.read(4, 12, { measured_at: at(6) });
    expect(later.readings[0]).toMatchObject({
      flags: ["gauge_in_doubt"],
      gauge_doubt: 0.004,
      verdict: "conforming",
      disposition: "remeasure",
    });
    await check(shop, 7, 12);
    await shop.read(5, 12, { measured_at: at(8) });
    expect(await flagsOf(shop)).toEqual([
      [1, false],
      [2, true],
      [3, true],
      [4, true],
      [5, false],
    ]);
  });

  it("takes the error off what comes after it where somebody says so, and keeps what was read beside it", async () => {
    const shop = await runningBatch(api);
    await check(shop, 0, 12.006, { shift: true });

    const answer = await shop.read(1, 12.034, { measured_at: at(1) });

    // U of the reading: its own and that of the check, in quadrature: √(0.003² + (2·u_g)²), u_g² = 0.0012² + 0.001²/12.
    expect(answer.readings[0]).toMatchObject({
      value: 12.034,
      size_as_read: 12.034,
      size: 12.028,
      gauge_error: 0.006,
      gauge_doubt: null,
      verdict: "conforming",
      disposition: "accept",
      flags: [],
    });
    const expanded = Math.sqrt(0.003 ** 2 + 4 * (0.0012 ** 2 + 0.001 ** 2 / 12));
    expect(answer.readings[0].expanded_uncertainty).toBeCloseTo(expanded, 8);
    const change = answer.corrections.find(({ kind }: Answer) => kind === "change");
    expect(change.features[0].expected_before).toBeCloseTo(12.0278, 3);

    const same = await check(shop, 2, 12.008);
    expect(same.in_doubt.readings).toBe(0);
    expect((await check(shop, 3, 12.0)).in_doubt.readings).toBe(0);
    const [row] = await readings(`batch_id=${shop.batch.batch_id}`);
    expect(row).toMatchObject({ size: 12.028, size_as_read: 12.034, gauge_error: 0.006 });
  });

  it("goes by when a reading was taken, not by when it came", async () => {
    const shop = await runningBatch(api);
    await check(shop, 10, 12.006, { shift: true });

    const before = await shop.read(1, 12.01, { measured_at: at(9) });
    const after = await shop.read(2, 12.01, { measured_at: at(10) });

    expect(before.readings[0]).toMatchObject({ size: 12.01, gauge_error: null, flags: ["gauge_in_doubt"] });
    expect(after.readings[0]).toMatchObject({ size: 12.004, gauge_error: 0.006, flags: [] });
  });

  it("withdraws corrections that rest on readings too far off, and leaves small errors to the process", async () => {
    const far = await runningBatch(api);
    const near = await runningBatch(api);
    for (const shop of [far, near]) {
      await shop.read(1, 12.02, { measured_at: at(1) });
      expect(await shop.proposals()).toMatchObject([{ kind: "change" }]);
    }

    await check(far, 2, 12.0076);
    await check(near, 2, 12.0075);

    expect(await far.proposals()).toEqual([]);
    expect(await near.proposals()).toMatchObject([{ kind: "change" }]);
  });

  it("leaves no hold to a reading in doubt", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, 12.024, { measured_at: at(1) });
    await check(shop, 2, 12);
    await shop.read(3, 12.024, { measured_at: at(3) });
    await check(shop, 4, 12.004);
    await check(shop, 5, 12);

    const answer = await shop.read(5, 12.031, { measured_at: at(6) });

    expect(answer.readings[0].hold).toMatchObject({ from_piece: 2, to_piece: 5 });
  });

  it("gives all of it back when the check is voided, and answers what then stands", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, 12.02, { measured_at: at(1) });
    const off = await check(shop, 2, 12.02);
    expect(await flagsOf(shop)).toEqual([[1, true]]);
    const path = `/v1/gauges/${shop.gauge.gauge_id}/checks/${off.gauge_check_id}`;

    const voided = await api.post(`${path}/void`).send({ reason: "dirt on the block", by: "shift A" });
    const twice = await api.post(`${path}/void`).send({ reason: "again" });

    expect(voided.status).toBe(200);
    expect(voided.body).toMatchObject({ voided: { reason: "dirt on the block" }, in_doubt: { readings: 0 } });
    expect(twice.status).toBe(409);
    expect(await flagsOf(shop)).toEqual([[1, false]]);
    expect(await shop.proposals()).toMatchObject([{ kind: "change" }]);
    expect((await api.get(path)).body).toEqual(voided.body);
    expect((await api.get(`${path}/readings`)).body.items).toEqual([]);
  });

  it("lists checks and readings in doubt by pages", async () => {
    const shop = await runningBatch(api);
    for (let piece = 1; piece <= 5; piece++) await shop.read(piece, 12, { measured_at: at(piece) });
    const last = await check(shop, 6, 12.01);
    await check(shop, 0, 12);
    const path = `/v1/gauges/${shop.gauge.gauge_id}/checks`;

    const all = (await api.get(path)).body.items;
    const first = (await api.get(`${path}?limit=1`)).body;
    const second = (await api.get(`${path}?limit=1&cursor=${first.next_cursor}`)).body;
    expect(all.map((row: Answer) => row.at)).toEqual([at(6), at(0)]);
    expect([...first.items, ...second.items]).toEqual(all);

    const doubted = `${path}/${last.gauge_check_id}/readings?limit=2`;
    const pieces: number[] = [];
    for (let cursor = ""; ; ) {
      const { body } = await api.get(`${doubted}${cursor}`);
      pieces.push(...body.items.map(({ piece }: Answer) => piece));
      if (body.next_cursor === null) break;
      cursor = `&cursor=${body.next_cursor}`;
    }
    expect(pieces).toEqual([1, 2, 3, 4, 5]);
  });

  it.each([
    ["no standard", { standard: undefined }, 400, "/standard"],
    ["no reading", { reading: undefined }, 400, "/reading"],
    ["no unit", { unit: undefined }, 400, "/unit"],
    ["both ways", { largest_error: 0.01 }, 400, "/standard"],
    [
      "a shift either way",
      { standard: undefined, reading: undefined, largest_error: 0.01, shift: true },
      400,
      "/shift",
    ],
    ["a standard of 0", { standard: 0 }, 400, "/standard"],
    ["a check that lies ahead", { at: "2126-03-02T07:00:00Z" }, 422, "/at"],
    ["a reading beyond every size", { reading: 5e6, unit: "inch", standard: 1 }, 422, "/reading"],
  ])("refuses %s", async (_, change, status, pointer) => {
    const shop = await runningBatch(api);

    const { errors } = await check(shop, 0, 12, change, status);

    expect(errors.map((error: Answer) => error.pointer)).toContain(pointer);
  });

  it("returns 409 for a second check at the same instant, and 404 for gauges and checks that are not there", async () => {
    const shop = await runningBatch(api);
    await check(shop, 0, 12);

    const { errors } = await check(shop, 0, 12.001, {}, 409);

    expect(errors).toMatchObject([{ pointer: "/at" }]);
    const body = { standard: 12, reading: 12, unit: "mm" };
    expect((await api.post("/v1/gauges/999999/checks").send(body)).status).toBe(404);
    expect((await api.get("/v1/gauges/999999/checks")).status).toBe(404);
    expect((await api.get(`/v1/gauges/${shop.gauge.gauge_id}/checks/999999`)).status).toBe(404);
    expect((await api.get(`/v1/gauges/${shop.gauge.gauge_id}/checks/999999/readings`)).status).toBe(404);
  });
});

describe("GET /v1/readings by gauge", () => {
  it("answers what a gauge measured between two instants, whatever the batch, in the order it was taken", async () => {
    const one = await runningBatch(api);
    const two = await runningBatch(api);
    const by = { gauge_id: one.gauge.gauge_id };
    await one.read(1, 12.001, { measured_at: at(5), ...by });
    await two.read(1, 12.002, { measured_at: at(3), ...by });
    await one.read(2, 12.003, { measured_at: at(9), ...by });
    await two.read(2, 12.004, { measured_at: at(4) });
    const query = `gauge_id=${one.gauge.gauge_id}&from=${at(3)}&to=${at(9)}`;

    const all = await readings(query);

    expect(all.map(({ value, batch_id }) => [value, batch_id])).toEqual([
      [12.002, two.batch.batch_id],
      [12.001, one.batch.batch_id],
    ]);
    const first = (await api.get(`/v1/readings?${query}&limit=1`)).body;
    const second = (await api.get(`/v1/readings?${query}&limit=1&cursor=${first.next_cursor}`)).body;
    expect([...first.items, ...second.items]).toEqual(all);
    expect(second.next_cursor).toBeNull();
  });

  it("asks for a batch or a gauge", async () => {
    const response = await api.get("/v1/readings");

    expect(response.status).toBe(400);
    expect(response.body.errors).toMatchObject([{ pointer: "batch_id" }]);
  });

  it("goes by an index of gauge and time, and not by all readings", async () => {
    const { rows } = await sql<{ "QUERY PLAN": string }>`
      explain select * from reading where gauge_id = 1
        and coalesce(measured_at, received_at) >= '2026-03-01' and coalesce(measured_at, received_at) < '2026-04-01'
      order by coalesce(measured_at, received_at), batch_id, reading_no limit 51`.execute(db);

    expect(rows.map((row) => row["QUERY PLAN"]).join("\n")).toMatch(/Index Scan using reading\w*gauge/);
  });
});
