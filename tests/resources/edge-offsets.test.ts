import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create } from "../support/shop.js";

const { api } = await createTestApp();
type Shop = Awaited<ReturnType<typeof runningBatch>>;

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

const offsetsOf = async (shop: Shop, edgeId?: string): Promise<Answer> => {
  const path = `/v1/tools/${shop.tool.tool_id}`;
  const edge = edgeId ?? (await api.get(`${path}/wear`)).body.edge.edge_id;
  const response = await api.get(`${path}/edges/${edge}/offsets`);
  expect(response.status, response.text).toBe(200);
  return response.body;
};
const enter = (shop: Shop, body: object) =>
  create(api, `/v1/registers/${shop.registers.radial}/entries`, { batch_id: shop.batch.batch_id, ...body });
const steps = (answer: Answer) =>
  answer.registers[0].values.map(({ pieces_cut, value }: Answer) => [pieces_cut, value]);

describe("GET /v1/tools/{tool_id}/edges/{edge_id}/offsets", () => {
  it("tells what an offset held by the pieces that the edge had cut, over its batches", async () => {
    const shop = await runningBatch(api);
    await enter(shop, { from_piece: 5, value: -0.002, by: "shift A" });
    await enter(shop, { from_piece: 9, value: -0.004 });
    const wrong = await enter(shop, { from_piece: 12, value: 0.04 });
    await api
      .post(`/v1/registers/${shop.registers.radial}/entries/${wrong.entry_id}/void`)
      .send({ reason: "a slip of the point" });
    await api.post(`/v1/batches/${shop.batch.batch_id}/count`).send({ last_piece_cut: 20 });
    const later = await create(api, "/v1/batches", {
      name: `${shop.batch.name} later`,
      part_id: shop.part.part_id,
      machine_id: shop.machine.machine_id,
    });
    await api.post(`/v1/batches/${later.batch_id}/count`).send({ last_piece_cut: 10 });
    await create(api, `/v1/registers/${shop.registers.radial}/entries`, {
      batch_id: later.batch_id,
      from_piece: 4,
      value: -0.007,
    });

    const answer = await offsetsOf(shop);

    expect(answer).toMatchObject({ in_use: true, pieces_cut: 30, planned_life: 120, unit: "mm" });
    expect(answer.batches.map(({ pieces_cut }: Answer) => pieces_cut)).toEqual([0, 20]);
    const mine = answer.registers[0].values.filter(
      ({ batch_id }: Answer) => batch_id === shop.batch.batch_id,
    );
    expect(mine.slice(0, 3)).toMatchObject([
      { pieces_cut: 0, value: 0, by: null },
      { pieces_cut: 4, value: -0.002, by: "shift A" },
      { pieces_cut: 8, value: -0.004 },
    ]);
    expect(steps(answer)).toContainEqual([20, -0.004]);
    expect(steps(answer)).toContainEqual([23, -0.007]);
    expect(steps(answer).some(([, value]: number[]) => value === 0.04)).toBe(false);
  });

  it("ends an edge where the next one was put in, and starts the next with what was keyed for it", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, "12.001");
    const first = (await shop.wear()).edge.edge_id;
    await enter(shop, { from_piece: 6, value: -0.002 });
    await create(api, `/v1/tools/${shop.tool.tool_id}/edges`, {
      batch_id: shop.batch.batch_id,
      from_piece: 11,
      reason: "worn",
      registers: [
        { register_id: shop.registers.radial, value: 0.003 },
        { register_id: shop.registers.axial, value: 0 },
      ],
    });
    await api.post(`/v1/batches/${shop.batch.batch_id}/count`).send({ last_piece_cut: 15 });

    const [before, after] = [await offsetsOf(shop, first), await offsetsOf(shop)];

    expect(before).toMatchObject({ in_use: false, pieces_cut: 10, reason: "start" });
    expect(steps(before)).toEqual([
      [0, 0],
      [5, -0.002],
    ]);
    expect(before.registers[0].forecast).toBeNull();
    expect(after).toMatchObject({ in_use: true, number: 2, pieces_cut: 5, reason: "worn" });
    expect(steps(after)).toEqual([[0, 0.003]]);
    // Nothing has been measured with it yet.
    expect(after.registers[0].forecast).toBeNull();
  });

  it("foresees what wear will ask, wider the farther ahead, and agrees with the pieces to the limit", async () => {
    const shop = await runningBatch(api);
    for (let piece = 1; piece <= 24; piece += 1) await shop.read(piece, (12 + 0.0008 * piece).toFixed(4));

    const answer = await offsetsOf(shop);
    const { registers } = await shop.wear();

    const [radial, axial] = answer.registers;
    expect(axial.forecast).toBeNull();
    const { ahead, rate_per_piece, value_now } = radial.forecast;
    expect(value_now).toBe(0);
    // A rib's size moves twice as much as its radius register: 0.0008 a piece asks for −0.0004 in the end; after 24 pieces
    // an edge's first 24 may still be taken for a part of it.
    expect(rate_per_piece).toBe(registers[0].wear_rate_per_piece);
    expect(rate_per_piece).toBeGreaterThan(-0.0004);
    expect(rate_per_piece).toBeLessThan(-0.0002);
    expect(ahead[0]).toMatchObject({ piece: 25, pieces_cut: 24 });
    expect(ahead.at(-1).pieces_cut).toBe(120);
    const widths = ahead.map(({ low, high }: Answer) => high - low);
    expect(widths.every((width: number, i: number) => i === 0 || width >= widths[i - 1] - 1e-9)).toBe(true);
    const left = ahead.find(({ limit_high }: Answer) => value_now > limit_high);
    const limitPiece = 24 + registers[0].pieces_to_limit;
    expect(left.piece).toBeGreaterThanOrEqual(limitPiece);
    expect(ahead[ahead.indexOf(left) - 1].piece).toBeLessThan(limitPiece);
  });

  it("returns 404 for an edge that the tool does not have, or that was voided", async () => {
    const shop = await runningBatch(api);
    const path = `/v1/tools/${shop.tool.tool_id}/edges`;
    expect((await api.get(`${path}/999999/offsets`)).status).toBe(404);
    const fresh = await create(api, path, {
      batch_id: shop.batch.batch_id,
      reason: "chipped",
      registers: [
        { register_id: shop.registers.radial, value: 0 },
        { register_id: shop.registers.axial, value: 0 },
      ],
    });
    expect((await api.get(`${path}/${fresh.edge_id}/offsets`)).status).toBe(200);
    await api.post(`${path}/${fresh.edge_id}/void`).send({ reason: "the other tool was changed" });

    expect((await api.get(`${path}/${fresh.edge_id}/offsets`)).status).toBe(404);
    expect((await offsetsOf(shop)).in_use).toBe(true);
  });
});
