import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create, toolBody } from "../support/shop.js";

const { api, db } = await createTestApp();
type Shop = Awaited<ReturnType<typeof runningBatch>>;

const post = (path: string, body: object) => api.post(path).send(body);
const edgesOf = (shop: Shop) => `/v1/tools/${shop.tool.tool_id}/edges`;
const edgeBody = (shop: Shop, change: object = {}) => ({
  batch_id: shop.batch.batch_id,
  reason: "worn",
  registers: [
    { register_id: shop.registers.radial, value: 0 },
    { register_id: shop.registers.axial, value: 0 },
  ],
  ...change,
});
const changeEdge = (shop: Shop, change: object = {}) => create(api, edgesOf(shop), edgeBody(shop, change));
const voidEdge = (shop: Shop, id: string, body: object = { reason: "not changed" }) =>
  post(`${edgesOf(shop)}/${id}/void`, body);
const enter = (shop: Shop, body: object) =>
  create(api, `/v1/registers/${shop.registers.radial}/entries`, { batch_id: shop.batch.batch_id, ...body });

const openBeside = (shop: Shop) =>
  create(api, "/v1/batches", {
    name: `${shop.batch.name} beside`,
    part_id: shop.part.part_id,
    machine_id: shop.machine.machine_id,
  });

/** What is proposed, without what tells one piece of advice from another. */
const advice = async (shop: Shop) =>
  (await shop.proposals()).map(({ kind, change, value_now, value_after, features, why }) => ({
    kind,
    change,
    value_now,
    value_after,
    features: features.map(({ feature_id, ...feature }: { feature_id: string }) => feature),
    why,
  }));

describe("POST /v1/tools/{tool_id}/edges", () => {
  it("begins a fresh edge from the next piece on, with what the control holds now", async () => {
    const shop = await runningBatch(api);
    for (const piece of [1, 2, 3]) await shop.read(piece, 12.001);

    const answer = await changeEdge(shop, { by: "shift A" });

    expect(answer).toEqual({
      edge_id: expect.stringMatching(/^\d+$/),
      tool_id: shop.tool.tool_id,
      number: 2,
      reason: "worn",
      batch_id: shop.batch.batch_id,
      from_piece: 4,
      registers: [
        { register_id: shop.registers.radial, value: 0 },
        { register_id: shop.registers.axial, value: 0 },
      ],
      unit: "mm",
      also_in: [],
      next: { action: "measure", piece: 4, why: expect.stringMatching(/first piece of a fresh edge/) },
    });
    expect(await shop.wear()).toMatchObject({ edge: { edge_id: answer.edge_id, number: 2 } });
  });

  it("expects nothing of the readings that the edge before has cut", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, 12.001);
    await changeEdge(shop);

    const entry = await enter(shop, { value: 0.05 });

    expect(entry).toMatchObject({ warnings: [], expected: [{ from_latest_reading: null }] });
  });

  it("counts in the machine's other open batch from the piece after its last one cut, or as named", async () => {
    const shop = await runningBatch(api);
    const beside = await openBeside(shop);
    await create(api, "/v1/readings", shop.reading(5, 12, { batch_id: beside.batch_id }));

    const second = await changeEdge(shop);
    const also_from = [{ batch_id: beside.batch_id, from_piece: 9 }];
    const third = await changeEdge(shop, { reason: "chipped", from_piece: 8, also_from });

    expect(second.also_in).toEqual([{ batch_id: beside.batch_id, from_piece: 6 }]);
    expect(third).toMatchObject({ number: 3, also_in: also_from });
    const { items } = (await api.get(edgesOf(shop))).body;
    expect(items[1].in_batches).toEqual([
      { batch_id: shop.batch.batch_id, from_piece: 1 },
      { batch_id: beside.batch_id, from_piece: 6 },
    ]);
    const { items: entries } = (await api.get(`/v1/registers/${shop.registers.axial}/entries`)).body;
    expect(entries).toMatchObject([
      { origin: "edge", edge_id: second.edge_id, batch_id: shop.batch.batch_id },
      { origin: "edge", edge_id: second.edge_id, batch_id: beside.batch_id, from_piece: 6 },
      { origin: "edge", edge_id: third.edge_id, from_piece: 8 },
      { origin: "edge", edge_id: third.edge_id, batch_id: beside.batch_id, from_piece: 9 },
    ]);
  });

  it("settles the advice to change the tool", async () => {
    const shop = await runningBatch(api, {
      tool: {
        registers: [
          {
            number: 7,
            label: "D7 wear",
            controls: "radial",
            holds: "radius",
            value: -0.05,
            largest_total: 0.05,
          },
          { number: 57, label: "H57 wear", controls: "axial", value: 0 },
        ],
      },
    });
    await shop.read(1, 12.026);
    await shop.read(1, 12.026);
    expect((await shop.proposals()).map(({ kind }) => kind)).toEqual(["change_tool"]);

    const answer = await changeEdge(shop);

    expect(await shop.proposals()).toEqual([]);
    const { body } = await api.get(`/v1/corrections?batch_id=${shop.batch.batch_id}&status=settled`);
    expect(body.items).toContainEqual(expect.objectContaining({ kind: "change_tool" }));
    expect(answer.next).toMatchObject({ action: "measure", piece: 2 });
  });

  it("gives the same state late as it gives in time, with a later edge after it", async () => {
    const inTime = await runningBatch(api);
    const late = await runningBatch(api);
    const read = async (shop: Shop, from: number, to: number, size: number) => {
      for (let piece = from; piece <= to; piece++) await shop.read(piece, size + 0.001 * (piece % 2));
    };

    await read(inTime, 1, 2, 12.004);
    await changeEdge(inTime, { from_piece: 3 });
    await read(inTime, 3, 4, 12.002);
    await changeEdge(inTime, { from_piece: 5 });
    await read(inTime, 5, 6, 12.02);
    await read(late, 1, 2, 12.004);
    await read(late, 3, 4, 12.002);
    await changeEdge(late, { from_piece: 3 });
    await read(late, 5, 6, 12.02);
    await changeEdge(late, { from_piece: 5 });

    expect(await advice(inTime)).toMatchObject([{ kind: "change", value_now: 0 }]);
    expect(await advice(late)).toEqual(await advice(inTime));
    expect(await late.checks()).toMatchObject({ piece: 7, state: (await inTime.checks()).state });
  });

  it("takes a tool that has no registers", async () => {
    const shop = await runningBatch(api);
    const reamer = await create(
      api,
      "/v1/tools",
      toolBody(shop.machine.machine_id, { number: 8, name: "6 H7 reamer", kind: "reamer", registers: [] }),
    );

    const answer = await create(api, `/v1/tools/${reamer.tool_id}/edges`, edgeBody(shop, { registers: [] }));

    expect(answer).toMatchObject({ number: 2, registers: [] });
  });

  it("answers the same request sent again as the first time", async () => {
    const shop = await runningBatch(api);
    const send = () => api.post(edgesOf(shop)).set("Idempotency-Key", "edge-1").send(edgeBody(shop));

    const [first, second] = [await send(), await send()];

    expect(first.status).toBe(201);
    expect(second.body).toEqual(first.body);
    expect((await api.get(edgesOf(shop))).body.items).toHaveLength(2);
  });

  it("returns 422 for registers left out, with what they hold now", async () => {
    const shop = await runningBatch(api);
    await enter(shop, { value: -0.012 });

    const response = await post(edgesOf(shop), edgeBody(shop, { registers: [] }));

    expect(response.status).toBe(422);
    expect(response.body.errors).toEqual([
      {
        pointer: "/registers",
        detail: `D7 wear (register ${shop.registers.radial}, holding -0.012 mm so far) and H57 wear (register ${shop.registers.axial}, holding 0.000 mm so far) are missing: list every register of tool 7 10 mm finishing end mill with what the control shows in it now, unchanged ones too`,
      },
    ]);
    expect((await api.get(edgesOf(shop))).body.items).toHaveLength(1);
  });

  it("returns 422 for registers of another tool, naming those of this one", async () => {
    const shop = await runningBatch(api);
    const other = await runningBatch(api);
    const registers = [
      ...edgeBody(shop).registers,
      { register_id: other.registers.radial, value: 0 },
      { register_id: "999999", value: 0 },
    ];

    const response = await post(edgesOf(shop), edgeBody(shop, { registers }));

    expect(response.status).toBe(422);
    expect(response.body.errors).toEqual([
      {
        pointer: "/registers/2/register_id",
        detail: `register ${other.registers.radial} is not one of tool 7 10 mm finishing end mill; it has D7 wear (${shop.registers.radial}) and H57 wear (${shop.registers.axial})`,
      },
      { pointer: "/registers/3/register_id", detail: expect.stringMatching(/^register 999999 is not one/) },
    ]);
  });

  it("returns 422 for a batch that is not there or not on the tool's machine", async () => {
    const shop = await runningBatch(api);
    const other = await runningBatch(api);

    const unknown = await post(edgesOf(shop), edgeBody(shop, { batch_id: "999999" }));
    const elsewhere = await post(edgesOf(shop), edgeBody(shop, { batch_id: other.batch.batch_id }));

    expect(unknown.status).toBe(422);
    expect(unknown.body.detail).toMatch(/^\/batch_id: there is no batch 999999/);
    expect(elsewhere.status).toBe(422);
    expect(elsewhere.body.detail).toMatch(/^\/batch_id: batch ".*" does not run on/);
  });

  it("returns 409 for a closed batch", async () => {
    const shop = await runningBatch(api);
    await post(`/v1/batches/${shop.batch.batch_id}/close`, {});

    expect((await post(edgesOf(shop), edgeBody(shop))).status).toBe(409);
  });

  it.each([
    ["no reason", { reason: undefined }, "/reason"],
    ["the reason that only the first edge has", { reason: "start" }, "/reason"],
    ["no registers", { registers: undefined }, "/registers"],
    ["a register without its value", { registers: [{ register_id: "1" }] }, "/registers/0/value"],
    [
      "a register twice",
      {
        registers: [
          { register_id: "1", value: 0 },
          { register_id: "1", value: 0 },
        ],
      },
      "/registers/1/register_id",
    ],
    ["a number of its own", { number: 5 }, "/number"],
  ])("returns 400 for %s", async (_, change, pointer) => {
    const shop = await runningBatch(api);

    const response = await post(edgesOf(shop), edgeBody(shop, change));

    expect(response.status).toBe(400);
    expect(response.body.errors[0].pointer).toBe(pointer);
  });

  it("returns 404 for a tool that does not exist", async () => {
    const response = await post("/v1/tools/999999/edges", {
      batch_id: "1",
      reason: "worn",
      registers: [],
    });

    expect(response.status).toBe(404);
    expect(response.body.detail).toBe("There is no tool 999999. GET /v1/tools lists them.");
  });
});

describe("an edge entered late", () => {
  it("is refused where a later one counts already, and taken once that is voided", async () => {
    const shop = await runningBatch(api);
    const later = await changeEdge(shop, { from_piece: 10 });

    const refused = await post(edgesOf(shop), edgeBody(shop, { from_piece: 5 }));
    await voidEdge(shop, later.edge_id);
    const taken = await post(edgesOf(shop), edgeBody(shop, { from_piece: 5 }));

    expect(refused.status).toBe(409);
    expect(refused.body.detail).toContain("Edge 2 of tool 7");
    expect(refused.body.detail).toContain(`from piece 10 of batch "${shop.batch.name}"`);
    expect(taken.status).toBe(201);
  });
});

describe("GET /v1/tools/{tool_id}/edges", () => {
  it("lists them page by page, from the one that the tool was set up with", async () => {
    const shop = await runningBatch(api);
    const { edge_id } = await changeEdge(shop, { reason: "broken", by: "shift A" });

    const { body: page } = await api.get(`${edgesOf(shop)}?limit=1`);
    const { body: rest } = await api.get(`${edgesOf(shop)}?limit=1&cursor=${page.next_cursor}`);

    expect(page.items).toMatchObject([{ number: 1, reason: "start", in_batches: [], by: null }]);
    expect(rest).toEqual({
      items: [
        {
          edge_id,
          tool_id: shop.tool.tool_id,
          number: 2,
          reason: "broken",
          in_batches: [{ batch_id: shop.batch.batch_id, from_piece: 1 }],
          by: "shift A",
          created_at: expect.stringMatching(/Z$/),
          voided: null,
          in_use: true,
          ended_by: null,
          ended_at: null,
          pieces_cut: 0,
          unit: "mm",
          registers: [],
        },
      ],
      next_cursor: null,
    });
  });

  it("returns 404 for a tool that does not exist", async () => {
    expect((await api.get("/v1/tools/999999/edges")).status).toBe(404);
  });

  it("says of each how many pieces it has cut, why it was taken out and what was corrected meanwhile", async () => {
    const shop = await runningBatch(api);
    const count = (last_piece_cut: number) =>
      post(`/v1/batches/${shop.batch.batch_id}/count`, { last_piece_cut });
    await count(10);
    await enter(shop, { from_piece: 4, value: -0.01 });
    await enter(shop, { from_piece: 9, value: -0.02 });
    await changeEdge(shop, { from_piece: 11, reason: "worn" });
    await count(15);
    await enter(shop, { from_piece: 14, value: 0.004 });
    const beside = await openBeside(shop);
    await post(`/v1/batches/${beside.batch_id}/count`, { last_piece_cut: 5 });

    const { items } = (await api.get(edgesOf(shop))).body;

    expect(items[0]).toMatchObject({
      in_use: false,
      ended_by: "worn",
      ended_at: items[1].created_at,
      pieces_cut: 10,
      registers: [
        {
          register_id: shop.registers.radial,
          value_at_start: 0,
          value_at_end: -0.02,
          cumulative_change: -0.02,
          change_per_piece: -0.002,
        },
        { register_id: shop.registers.axial, cumulative_change: 0, change_per_piece: 0 },
      ],
    });
    expect(items[1]).toMatchObject({ in_use: true, ended_by: null, ended_at: null, pieces_cut: 10 });
    expect(items[1].registers[0]).toMatchObject({ value_at_start: 0, value_at_end: 0.004 });
    const { body: wear } = await api.get(`/v1/tools/${shop.tool.tool_id}/wear`);
    expect(wear.edge).toMatchObject({ pieces_cut: items[1].pieces_cut, number: 2 });
  });
});

describe("GET /v1/tools/{tool_id}/edge-life", () => {
  it("says too little is known before five edges have failed", async () => {
    const shop = await runningBatch(api);
    await post(`/v1/batches/${shop.batch.batch_id}/count`, { last_piece_cut: 30 });
    await changeEdge(shop, { from_piece: 21, reason: "worn" });

    const { body } = await api.get(`/v1/tools/${shop.tool.tool_id}/edge-life`);

    expect(body).toMatchObject({
      planned_life: 120,
      pieces_cut_in_use: 10,
      edges_ended: 1,
      edges_failed: 1,
      pieces: { least: 20, median: 20, most: 20 },
      by_reason: [{ reason: "worn", edges: 1 }],
      failed_by: { one_in_ten: null, half: null },
      advised_life: null,
      why: "1 edge is known to have ended worn, broken or chipped; 5 are needed before they say what life to plan with.",
    });
  });

  it("advises the life by which one edge in ten has failed; those taken out early count as having lasted", async () => {
    const shop = await runningBatch(api);
    const lived: [pieces: number, reason: string][] = [
      [80, "worn"],
      [100, "worn"],
      [60, "indexed"],
      [110, "chipped"],
      [90, "worn"],
      [70, "broken"],
    ];
    await post(`/v1/batches/${shop.batch.batch_id}/count`, { last_piece_cut: 540 });
    let from_piece = 1;
    for (const [pieces, reason] of lived) {
      from_piece += pieces;
      await changeEdge(shop, { from_piece, reason });
    }

    const { body } = await api.get(`/v1/tools/${shop.tool.tool_id}/edge-life`);

    // At risk when the first fails, at 70: the five others with 70 and more, one fails: S = 4/5 (worked out by hand).
    expect(body).toMatchObject({
      pieces_cut_in_use: 30,
      edges_ended: 6,
      edges_failed: 5,
      pieces: { least: 60, median: 85, most: 110 },
      failed_by: { one_in_ten: 70, half: 90 },
      advised_life: 70,
    });
    expect(
      body.by_reason.map(({ reason, edges }: { reason: string; edges: number }) => [reason, edges]),
    ).toEqual([
      ["broken", 1],
      ["chipped", 1],
      ["indexed", 1],
      ["worn", 3],
    ]);
    expect(body.why).toMatch(
      /By 70 pieces one edge in ten has ended.*half of them by 90.*Planned are 120: plan 70/,
    );
  });

  it("returns 404 for a tool that does not exist", async () => {
    expect((await api.get("/v1/tools/999999/edge-life")).status).toBe(404);
  });
});

describe("POST /v1/tools/{tool_id}/edges/{edge_id}/void", () => {
  it("makes it as if the edge had not been changed, in every batch", async () => {
    const shop = await runningBatch(api);
    const beside = await openBeside(shop);
    await enter(shop, { value: -0.004 });
    for (const piece of [1, 2, 3]) await shop.read(piece, 12.018);
    const before = { advice: await advice(shop), checks: await shop.checks(), wear: await shop.wear() };
    const { edge_id } = await changeEdge(shop, { from_piece: 2 });
    expect(await advice(shop)).not.toEqual(before.advice);

    const response = await voidEdge(shop, edge_id, { reason: "tool 8 was changed", by: "shift A" });

    expect(response.status).toBe(200);
    expect(response.body).toMatchObject({
      edge_id,
      number: 2,
      voided: { at: expect.stringMatching(/Z$/), reason: "tool 8 was changed", by: "shift A" },
      next: [
        { batch_id: shop.batch.batch_id, next: { action: "set_offset", piece: 4 } },
        { batch_id: beside.batch_id, next: { action: "measure", piece: 1 } },
      ],
    });
    expect(await advice(shop)).toEqual(before.advice);
    expect(await shop.checks()).toEqual(before.checks);
    const { edge } = await shop.wear();
    expect(edge).toMatchObject({ number: 1 });
    expect(await enter(shop, { value: 0 })).toMatchObject({ value_before: -0.004 });
    const rows = await db.selectFrom("register_entry").selectAll().where("edge_id", "=", edge_id).execute();
    expect(rows).toHaveLength(4);
    expect(rows.every(({ voided_at }) => voided_at !== null)).toBe(true);
  });

  it("gives its number to no other edge", async () => {
    const shop = await runningBatch(api);
    const second = await changeEdge(shop);
    await voidEdge(shop, second.edge_id);

    const third = await changeEdge(shop);

    expect(third.number).toBe(3);
    expect((await voidEdge(shop, third.edge_id)).status).toBe(200);
  });

  it("returns 409 for one that is not the latest, is the first or is voided already", async () => {
    const shop = await runningBatch(api);
    const { edge_id: first } = (await api.get(edgesOf(shop))).body.items[0];
    const second = await changeEdge(shop);
    const third = await changeEdge(shop);
    const refusal = async (id: string) => {
      const response = await voidEdge(shop, id);
      expect(response.status).toBe(409);
      return response.body.detail;
    };

    expect(await refusal(second.edge_id)).toBe(
      `Edge 2 of tool 7 10 mm finishing end mill is not the latest: void edge 3 (edge_id ${third.edge_id}) first.`,
    );
    expect(await refusal(first)).toMatch(/is the one it was set up with: enter a fresh edge instead\.$/);
    await voidEdge(shop, third.edge_id, { reason: "typed twice" });
    expect(await refusal(third.edge_id)).toMatch(/was voided at .*Z already \(typed twice\)\.$/);
  });

  it("answers the same request sent again as the first time", async () => {
    const shop = await runningBatch(api);
    const { edge_id } = await changeEdge(shop);
    const send = () =>
      api
        .post(`${edgesOf(shop)}/${edge_id}/void`)
        .set("Idempotency-Key", "void-edge-1")
        .send({ reason: "typed twice" });

    const [first, second] = [await send(), await send()];

    expect(second.status).toBe(200);
    expect(second.body).toEqual(first.body);
  });

  it("returns 400 without a reason", async () => {
    const shop = await runningBatch(api);
    const { edge_id } = await changeEdge(shop);

    expect((await voidEdge(shop, edge_id, { by: "shift A" })).status).toBe(400);
  });

  it("returns 404 for an edge that the tool does not have", async () => {
    const shop = await runningBatch(api);
    const other = await runningBatch(api);
    const { edge_id } = await changeEdge(other);

    expect((await voidEdge(shop, edge_id)).status).toBe(404);
    expect((await voidEdge(shop, "999999")).status).toBe(404);
  });
});
