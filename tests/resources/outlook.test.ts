import { sql } from "kysely";
import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";

const { api, db } = await createTestApp();

type Shop = Awaited<ReturnType<typeof runningBatch>>;

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
async function outlook(shop: Shop, query = "quantity=100", status = 200): Promise<any> {
  const path = `/v1/parts/${shop.part.part_id}/outlook?machine_id=${shop.machine.machine_id}&${query}`;
  const response = await api.get(path);
  expect(response.status, response.text).toBe(status);
  return response.body;
}
async function post(path: string, body: object) {
  const response = await api.post(path).send(body);
  expect(response.status, response.text).toBeLessThan(300);
  return response.body;
}
const freshEdge = (shop: Shop, from_piece: number, reason = "worn") =>
  post(`/v1/tools/${shop.tool.tool_id}/edges`, {
    batch_id: shop.batch.batch_id,
    from_piece,
    reason,
    registers: [
      { register_id: shop.registers.radial, value: 0 },
      { register_id: shop.registers.axial, value: 0 },
    ],
  });

describe("GET /v1/parts/{part_id}/outlook", () => {
  it("knows the plan of a part that never ran, and says what it does not know", async () => {
    const shop = await runningBatch(api);

    const found = await outlook(shop);

    expect(found.rests_on).toEqual({ batches: [], pieces: 0, readings: 0, edges_ended: 0 });
    expect(found.unknown).toEqual([
      `Part ${shop.part.number} has not run on ${shop.machine.name} before.`,
      `Nobody has said how long a reading with ${shop.gauge.name} takes.`,
    ]);
    expect(found.first_check.features).toMatchObject([{ rule: "first_piece" }]);
    expect(found.intervals).toEqual({ first: 1, largest: 10, usual: null });
    // 1, 2, 4, 8, 14, 21, 28, … 98, 100: jumps allow 7 until 140 pieces have run without one (by hand)
    expect(found.measuring).toMatchObject({
      basis: "plan",
      readings: 18,
      minutes: null,
      assumed_minutes: null,
    });
    expect(found.in_doubt).toMatchObject({ pieces: null, holds_seen: 0 });
    expect(found.registers).toMatchObject([
      { value_now: 0, fresh_edge_start: 0, edge_known: false, edges_remembered: 0 },
    ]);
    expect(found.features).toMatchObject([{ expected_size: 12, chance_outside: expect.any(Number) }]);
  });

  it("takes minutes from the gauges, and those of the request only where nobody has said", async () => {
    const shop = await runningBatch(api, { gauge: { minutes_per_reading: 0.5 } });

    expect((await outlook(shop)).measuring).toMatchObject({
      readings: 18,
      minutes: 9,
      assumed_minutes: null,
    });
    expect((await outlook(shop, "quantity=100&minutes_per_reading=3")).measuring.minutes).toBe(9);
    await api.patch(`/v1/gauges/${shop.gauge.gauge_id}`).send({ minutes_per_reading: null });
    const assumed = await outlook(shop, "quantity=100&minutes_per_reading=3");
    expect(assumed.measuring).toMatchObject({ minutes: 54, assumed_minutes: 3 });
    expect(assumed.unknown.join()).toContain("Nobody has said how long");
  });

  it("goes by what earlier batches took of the plan", async () => {
    const shop = await runningBatch(api, { gauge: { minutes_per_reading: 2 } });
    for (const piece of [1, 2, 4, 8, 14]) await shop.read(piece, "12.001");
    await post(`/v1/batches/${shop.batch.batch_id}/count`, { last_piece_cut: 20 });

    const found = await outlook(shop);

    expect(found.rests_on).toMatchObject({ batches: [shop.batch.batch_id], pieces: 20, readings: 5 });
    // 5 of the 6 that the plan wanted of 20 pieces (1, 2, 4, 8, 14, 20), and of 18 in 100 (by hand).
    expect(found.measuring).toMatchObject({ basis: "history", readings: 15, minutes: 30 });
    expect(found.intervals.usual).toBe(4);
    expect(found.in_doubt).toMatchObject({ pieces: 0, why: "In 20 pieces none was held." });
  });

  it("adds by the piece what earlier batches took beyond the plan, and no more than each piece once", async () => {
    const shop = await runningBatch(api);
    for (const piece of [1, 2, 3, 4, 6, 8, 9, 11, 14, 20]) await shop.read(piece, "12.001");

    // 10 where the plan wanted 6 of 20 pieces: 4 more in 20, so 20 more than 18 in 100 (by hand).
    expect((await outlook(shop)).measuring.readings).toBe(38);
    expect((await outlook(shop, "quantity=10")).measuring.readings).toBeLessThanOrEqual(10);
  });

  it("counts on pieces in doubt as often as they were held", async () => {
    const shop = await runningBatch(api);
    for (const piece of [10, 20]) await shop.read(piece, "12.001");
    for (let i = 0; i < 2; i += 1) await shop.read(25, "12.041");

    const { in_doubt } = await outlook(shop);

    // 21 to 25: 5 in 25 pieces.
    expect(in_doubt).toMatchObject({ holds_seen: 1, pieces_seen: 5, pieces: 20 });
  });

  it("plans edges by the planned life, less what the one in use has cut", async () => {
    const shop = await runningBatch(api, { tool: { life_pieces: 120 } });
    await post(`/v1/batches/${shop.batch.batch_id}/count`, { last_piece_cut: 100 });
    const toolOf = async (quantity: number) => (await outlook(shop, `quantity=${quantity}`)).tools[0];

    expect(await toolOf(20)).toMatchObject({
      pieces_cut: 100,
      life: 120,
      life_from: "planned",
      changes: 0,
      edges: 1,
    });
    expect(await toolOf(21)).toMatchObject({ changes: 1, edges: 2 });
    expect(await toolOf(141)).toMatchObject({ changes: 2 });
    expect((await toolOf(141)).why).toBe(
      "An edge is planned for 120 pieces; the one in use has cut 100: 2 changes.",
    );
  });

  it("plans edges by how long earlier ones lasted, and starts a fresh one where they began", async () => {
    const shop = await runningBatch(api);
    for (let edge = 0; edge < 5; edge += 1) {
      const from = 1 + 40 * edge;
      // Each edge cuts 0.010 too big when fresh: 0.005 in the radius register.
      for (const piece of [from, from + 1, from + 3, from + 7]) await shop.read(piece, "12.010");
      await freshEdge(shop, from + 40);
    }

    const found = await outlook(shop);

    expect(found.tools).toMatchObject([{ life: 40, life_from: "edges", edges_ended: 5 }]);
    expect(found.registers[0].edges_remembered).toBeGreaterThanOrEqual(4);
    expect(found.registers[0].fresh_edge_start).toBeLessThanOrEqual(-0.004);
    expect(found.registers[0].fresh_edge_start).toBeGreaterThanOrEqual(-0.006);
    expect(found.registers[0].safe_start).toBeGreaterThan(found.registers[0].fresh_edge_start);
  });

  it("says what is not known of a tool without a life", async () => {
    const shop = await runningBatch(api, { tool: { life_pieces: null } });

    const found = await outlook(shop);

    expect(found.tools).toMatchObject([{ life: null, life_from: null, changes: null, edges: null }]);
    expect(found.unknown.join()).toContain("How long an edge of tool 7");
  });

  it("measures every piece where it is a key feature or a small lot", async () => {
    const shop = await runningBatch(api, {
      features: [{ nominal: "12", lower_deviation: -0.03, upper_deviation: 0.03, importance: "key" }],
    });
    const small = await runningBatch(api);

    expect((await outlook(shop)).measuring.readings).toBe(100);
    expect((await outlook(small, "quantity=8")).measuring.readings).toBe(8);
  });

  it("changes nothing by asking", async () => {
    const shop = await runningBatch(api);
    const count = async () =>
      (await sql<{ n: number }>`select count(*)::int as n from batch`.execute(db)).rows[0]!.n;
    const before = await count();

    await outlook(shop);

    expect(await count()).toBe(before);
  });

  it("refuses what there is not", async () => {
    const shop = await runningBatch(api);

    expect(
      (await api.get(`/v1/parts/999999/outlook?machine_id=${shop.machine.machine_id}&quantity=5`)).status,
    ).toBe(404);
    const machine = await api.get(`/v1/parts/${shop.part.part_id}/outlook?machine_id=999999&quantity=5`);
    expect(machine.status).toBe(422);
    expect(machine.body.errors[0].pointer).toBe("machine_id");
    expect((await outlook(shop, "quantity=0", 400)).errors[0].pointer).toBe("quantity");
    expect((await outlook(shop, "quantity=5&minutes_per_reading=0", 400)).errors[0].pointer).toBe(
      "minutes_per_reading",
    );
    const other = await runningBatch(api, {
      features: [{ nominal: "12", lower_deviation: -0.03, upper_deviation: 0.03, operation: "20" }],
    });
    expect((await outlook(other, "quantity=5&operation=30", 422)).errors[0].pointer).toBe("operation");
  });
});
