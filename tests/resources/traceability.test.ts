import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create, gaugeBody } from "../support/shop.js";

const { api } = await createTestApp();
type Shop = Awaited<ReturnType<typeof runningBatch>>;

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

const get = async (path: string): Promise<Answer> => {
  const response = await api.get(path);
  expect(response.status, response.text).toBe(200);
  return response.body;
};
const openBeside = (shop: Shop, name: string) =>
  create(api, "/v1/batches", {
    name: `${shop.batch.name} ${name}`,
    part_id: shop.part.part_id,
    machine_id: shop.machine.machine_id,
  });
const changeEdge = (shop: Shop, body: object) =>
  create(api, `/v1/tools/${shop.tool.tool_id}/edges`, {
    batch_id: shop.batch.batch_id,
    reason: "worn",
    registers: [
      { register_id: shop.registers.radial, value: 0 },
      { register_id: shop.registers.axial, value: 0 },
    ],
    ...body,
  });
const enter = (shop: Shop, body: object) =>
  create(api, `/v1/registers/${shop.registers.radial}/entries`, { batch_id: shop.batch.batch_id, ...body });
const count = async (batchId: string, last_piece_cut: number) => {
  const response = await api.post(`/v1/batches/${batchId}/count`).send({ last_piece_cut });
  expect(response.status, response.text).toBeLessThan(300);
};
/** What says which pieces, without what the batch is of. */
const ranges = (answer: Answer) =>
  answer.items.map(({ batch_id, from_piece, to_piece }: Answer) => [batch_id, from_piece, to_piece]);
const firstEdge = async (shop: Shop) => (await get(`/v1/tools/${shop.tool.tool_id}/edges`)).items[0].edge_id;

describe("GET /v1/tools/{tool_id}/edges/{edge_id}/pieces", () => {
  it("goes from an edge to the pieces it cut, over the batches that it was brought into", async () => {
    const shop = await runningBatch(api);
    const own = shop.batch.batch_id;
    await count(own, 40);
    const start = await firstEdge(shop);
    const { edge_id: second } = await changeEdge(shop, { from_piece: 21 });
    const beside = await openBeside(shop, "later");
    await count(beside.batch_id, 12);
    const third = await changeEdge(shop, { from_piece: 41, reason: "chipped" });
    await count(own, 50);
    await count(beside.batch_id, 15);
    const path = (edge: string) => `/v1/tools/${shop.tool.tool_id}/edges/${edge}/pieces`;

    expect(ranges(await get(path(start)))).toEqual([[own, 1, 20]]);
    expect(ranges(await get(path(second)))).toEqual([
      [own, 21, 40],
      [beside.batch_id, 1, 12],
    ]);
    expect(ranges(await get(path(third.edge_id)))).toEqual([
      [own, 41, 50],
      [beside.batch_id, 13, 15],
    ]);
    const page = await get(`${path(second)}?limit=1`);
    expect(ranges(page)).toEqual([[own, 21, 40]]);
    const next = await get(`${path(second)}?limit=1&cursor=${page.next_cursor}`);
    expect(ranges(next)).toEqual([[beside.batch_id, 1, 12]]);
    expect(next.next_cursor).toBeNull();
    expect((await get(path(start))).items[0]).toMatchObject({
      batch: shop.batch.name,
      part_number: shop.part.number,
      revision: shop.part.revision,
    });
  });

  it("gives the pieces back to the edge before when one is voided", async () => {
    const shop = await runningBatch(api);
    await count(shop.batch.batch_id, 10);
    const start = await firstEdge(shop);
    const { edge_id } = await changeEdge(shop, { from_piece: 5 });
    const path = `/v1/tools/${shop.tool.tool_id}/edges`;
    await api.post(`${path}/${edge_id}/void`).send({ reason: "not changed" });
    expect(ranges(await get(`${path}/${edge_id}/pieces`))).toEqual([]);
    expect(ranges(await get(`${path}/${start}/pieces`))).toEqual([[shop.batch.batch_id, 1, 10]]);
  });

  it("returns 404 for an edge of another tool", async () => {
    const shop = await runningBatch(api);
    const other = await runningBatch(api);
    const { status } = await api.get(`/v1/tools/${shop.tool.tool_id}/edges/${await firstEdge(other)}/pieces`);
    expect(status).toBe(404);
  });
});

describe("GET /v1/registers/{register_id}/pieces", () => {
  it("says what was cut with each value, from cut to cut, and finds a value again", async () => {
    const shop = await runningBatch(api);
    const batch_id = shop.batch.batch_id;
    await count(batch_id, 30);
    await enter(shop, { from_piece: 11, value: -0.01, by: "shift A" });
    await enter(shop, { from_piece: 20, from_cut: 2, value: -0.015 });
    await enter(shop, { from_piece: 25, value: -0.01 });
    const path = `/v1/registers/${shop.registers.radial}/pieces`;

    const all = (await get(path)).items;
    expect(
      all.map((item: Answer) => [item.value, item.from_piece, item.from_cut, item.to_piece, item.to_cut]),
    ).toEqual([
      [0, 1, 1, 10, null],
      [-0.01, 11, 1, 20, 1],
      [-0.015, 20, 2, 24, null],
      [-0.01, 25, 1, 30, null],
    ]);
    expect(all[0]).toMatchObject({ entry_id: null, by: null, entered_at: null, correction_id: null });
    expect(all[1]).toMatchObject({ by: "shift A", unit: "mm", entry_id: expect.any(String) });
    expect(ranges(await get(`${path}?value=-0.010`))).toEqual([
      [batch_id, 11, 20],
      [batch_id, 25, 30],
    ]);
    expect(ranges(await get(`${path}?value=-0.02`))).toEqual([]);
    expect(ranges(await get(`${path}?batch_id=${batch_id}&value=0`))).toEqual([[batch_id, 1, 10]]);
    const paged: Answer[] = [];
    let cursor = "";
    do {
      const page = await get(`${path}?limit=1${cursor}`);
      paged.push(...page.items);
      cursor = page.next_cursor === null ? "" : `&cursor=${page.next_cursor}`;
    } while (cursor !== "");
    expect(paged).toEqual(all);
  });

  it("leaves out what was overridden before a piece was cut, and pieces still to come", async () => {
    const shop = await runningBatch(api);
    await count(shop.batch.batch_id, 10);
    await enter(shop, { from_piece: 6, value: -0.01 });
    await enter(shop, { from_piece: 6, value: -0.012 });
    await enter(shop, { from_piece: 11, value: -0.02 });
    const { items } = await get(`/v1/registers/${shop.registers.radial}/pieces`);
    expect(items.map(({ value }: Answer) => value)).toEqual([0, -0.012]);
  });

  it.each(["value=x", "value=", "limit=0", "cursor=zz"])("refuses ?%s", async (query) => {
    const shop = await runningBatch(api);
    expect((await api.get(`/v1/registers/${shop.registers.radial}/pieces?${query}`)).status).toBe(400);
  });

  it("returns 404 for a register that there is not", async () => {
    expect((await api.get("/v1/registers/999999/pieces")).status).toBe(404);
  });
});

describe("GET /v1/corrections/{correction_id}/pieces", () => {
  it("goes from a correction to the pieces cut with it, in the machine's other batches too", async () => {
    const shop = await runningBatch(api);
    const own = shop.batch.batch_id;
    const beside = await openBeside(shop, "beside");
    await count(beside.batch_id, 7);
    await shop.read(1, 12.024);
    const { correction } = await shop.apply(2);
    const path = `/v1/corrections/${correction.correction_id}/pieces`;
    expect(ranges(await get(path))).toEqual([]);
    await count(own, 9);
    await count(beside.batch_id, 20);
    await enter(shop, { from_piece: 8, value: -0.02 });
    const { items } = await get(path);
    expect(ranges({ items })).toEqual([
      [own, 2, 7],
      [beside.batch_id, 8, 20],
    ]);
    for (const item of items)
      expect(item).toMatchObject({ correction_id: correction.correction_id, value: correction.value_set });
    const held = await get(`/v1/registers/${shop.registers.radial}/pieces?batch_id=${beside.batch_id}`);
    expect(held.items.map(({ correction_id }: Answer) => correction_id)).toEqual([
      null,
      correction.correction_id,
    ]);
  });

  it("names no pieces of one that was voided, and returns 404 for one that there is not", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, 12.024);
    const { correction } = await shop.apply(2);
    await count(shop.batch.batch_id, 9);
    await api.post(`/v1/corrections/${correction.correction_id}/void`).send({ reason: "keyed elsewhere" });
    expect((await get(`/v1/corrections/${correction.correction_id}/pieces`)).items).toEqual([]);
    expect((await api.get("/v1/corrections/999999-1/pieces")).status).toBe(404);
    expect((await api.get("/v1/corrections/x/pieces")).status).toBe(404);
  });
});

describe("GET /v1/gauges/{gauge_id}/pieces", () => {
  it("goes from a gauge to the pieces measured with it between two instants", async () => {
    const shop = await runningBatch(api);
    const other = await create(api, "/v1/gauges", gaugeBody({ name: `${shop.batch.name} other` }));
    const at = (day: number) => ({ measured_at: `2026-03-0${day}T08:00:00Z` });
    for (const [piece, day] of [
      [1, 1],
      [4, 2],
      [9, 3],
      [12, 4],
    ] as const)
      await shop.read(piece, 12.001, at(day));
    await shop.read(14, 12.001, { ...at(3), gauge_id: other.gauge_id });
    const path = `/v1/gauges/${shop.gauge.gauge_id}/pieces`;

    expect((await get(path)).items).toMatchObject([
      {
        batch_id: shop.batch.batch_id,
        feature_id: shop.part.features[0].feature_id,
        characteristic: shop.part.features[0].characteristic,
        from_piece: 1,
        to_piece: 12,
        readings: 4,
        first_at: "2026-03-01T08:00:00.000Z",
        last_at: "2026-03-04T08:00:00.000Z",
      },
    ]);
    const between = await get(`${path}?from=2026-03-02T08:00:00Z&to=2026-03-04T08:00:00Z`);
    expect(between).toMatchObject({
      items: [{ from_piece: 4, to_piece: 9, readings: 2 }],
      next_cursor: null,
    });
    expect((await get(`${path}?from=2027-01-01T00:00:00Z`)).items).toEqual([]);
    expect(ranges(await get(`/v1/gauges/${other.gauge_id}/pieces`))).toEqual([[shop.batch.batch_id, 14, 14]]);
  });

  it("pages by readings, each once", async () => {
    const shop = await runningBatch(api);
    const list = Array.from({ length: 5200 }, (_, i) =>
      shop.reading(1 + Math.floor(i / 2), 12, { source_id: `s${i}`, measured_at: "2026-03-02T08:00:00Z" }),
    );
    for (const part of [list.slice(0, 2600), list.slice(2600)])
      await create(api, "/v1/readings", part as never);
    const path = `/v1/gauges/${shop.gauge.gauge_id}/pieces`;
    const first = await get(path);
    const second = await get(`${path}?cursor=${first.next_cursor}`);
    expect([first.items[0].readings, second.items[0].readings, second.next_cursor]).toEqual([
      5000,
      200,
      null,
    ]);
    expect(second.items[0].to_piece).toBe(2600);
  });

  it("returns 404 for a gauge that there is not", async () => {
    expect((await api.get("/v1/gauges/999999/pieces")).status).toBe(404);
  });
});
