import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create } from "../support/shop.js";

const { api } = await createTestApp();

const workOffset = (change: object = {}) => ({ number: 54, label: "G54 X", controls: "work_x", ...change });

/** A length of 25 ± 0.03 that a tool and a work offset move, each by +1. */
async function shop(offset: object = {}, seats: string[] = []) {
  const running = await runningBatch(api);
  const { machine, registers, gauge } = running;
  const path = `/v1/machines/${machine.machine_id}/registers`;
  const register = await create(api, path, workOffset(offset));
  const part = await create(api, "/v1/parts", {
    number: `${machine.name}-length`,
    revision: "A",
    unit: "mm",
    features: [
      {
        characteristic: "1",
        kind: "length",
        nominal: "25",
        lower_deviation: -0.03,
        upper_deviation: 0.03,
        gauge_id: gauge.gauge_id,
        cut_by: [
          { register_id: registers.radial, effect: 1 },
          { register_id: register.register_id, plus_makes: "bigger" },
        ],
      },
    ],
  });
  const batch = await create(api, "/v1/batches", {
    name: `${machine.name}-length`,
    part_id: part.part_id,
    machine_id: machine.machine_id,
    seats,
  });
  await api.post(`/v1/batches/${running.batch.batch_id}/close`).send({});
  const read = (piece: number, value: number) =>
    create(api, "/v1/readings", {
      batch_id: batch.batch_id,
      feature_id: part.features[0].feature_id,
      piece,
      value,
      unit: "mm",
    });
  const enter = (from_piece: number, value: number, change: object = {}) =>
    api
      .post(`/v1/registers/${register.register_id}/entries`)
      .send({ batch_id: batch.batch_id, from_piece, value, ...change });
  return { ...running, path, register, part, batch, read, enter };
}

describe("POST /v1/machines/{machine_id}/registers", () => {
  it("sets up a work offset that no tool carries", async () => {
    const { register, machine } = await shop({ seat: "B", value: -312.5, largest_total: 0.2 });

    expect(register).toEqual({
      register_id: expect.stringMatching(/^\d+$/),
      machine_id: machine.machine_id,
      tool_id: null,
      number: 54,
      label: "G54 X",
      controls: "work_x",
      holds: null,
      sign: "normal",
      seat: "B",
      unit: "mm",
      start_value: -312.5,
      value_now: -312.5,
      largest_total: 0.2,
    });
  });

  it("holds 0 and acts on every piece where nothing else is said", async () => {
    const { register } = await shop();

    expect(register).toMatchObject({ start_value: 0, seat: null, largest_total: null });
  });

  it("takes one number for each axis, but refuses it and a label a second time", async () => {
    const { path } = await shop();

    expect((await api.post(path).send(workOffset({ label: "G54 Z", controls: "work_z" }))).status).toBe(201);
    expect((await api.post(path).send(workOffset({ label: "other" }))).status).toBe(409);
    expect((await api.post(path).send(workOffset({ number: 55 }))).status).toBe(409);
  });

  it.each([
    ["a wear register", { controls: "radial" }, "/controls"],
    ["what a radial register holds", { holds: "radius" }, "/holds"],
    ["an empty seat", { seat: "" }, "/seat"],
  ])("refuses %s", async (_, change, pointer) => {
    const { path } = await shop();

    const response = await api.post(path).send(workOffset({ number: 59, label: "G59 X", ...change }));

    expect(response.status).toBe(400);
    expect(response.body.errors[0].pointer).toBe(pointer);
  });

  it("returns 404 for a machine that there isn't", async () => {
    expect((await api.post("/v1/machines/987654/registers").send(workOffset())).status).toBe(404);
    expect((await api.get("/v1/machines/987654/registers")).status).toBe(404);
  });
});

describe("GET /v1/machines/{machine_id}/registers", () => {
  it("lists tools' registers and work offsets with what they hold now, page by page", async () => {
    const { path, enter, tool } = await shop();
    await enter(1, 0.012);

    const all = (await api.get(path)).body.items;
    const first = (await api.get(`${path}?limit=2`)).body;
    const second = (await api.get(`${path}?limit=2&cursor=${first.next_cursor}`)).body;

    expect(all).toMatchObject([
      { label: "D7 wear", tool_id: tool.tool_id, value_now: 0 },
      { label: "H57 wear", tool_id: tool.tool_id, value_now: 0 },
      { label: "G54 X", tool_id: null, start_value: 0, value_now: 0.012 },
    ]);
    expect([...first.items, ...second.items]).toEqual(all);
    expect(second.next_cursor).toBeNull();
  });
});

describe("a feature that a work offset moves", () => {
  it("shows it among what cuts it, without a tool", async () => {
    const { part, register } = await shop();

    expect(part.features[0].cut_by[1]).toEqual({
      tool_id: null,
      register_id: register.register_id,
      walls: null,
      plus_makes: "bigger",
      effect: 1,
      step: null,
    });
  });

  it.each([
    ["neither effect nor plus_makes", {}, "/cut_by/0/plus_makes"],
    ["both walls", { walls: 2, plus_makes: "bigger" }, "/cut_by/0/walls"],
    ["a tool beside it", { tool: true, plus_makes: "bigger" }, "/cut_by/0/tool_id"],
  ])(
    "is refused with %s",
    async (_, { tool, ...cut }: { tool?: boolean; [more: string]: unknown }, pointer) => {
      const made = await shop();

      const response = await api.patch(`/v1/features/${made.part.features[0].feature_id}`).send({
        cut_by: [
          { register_id: made.register.register_id, ...(tool && { tool_id: made.tool.tool_id }), ...cut },
        ],
      });

      expect(response.status).toBe(422);
      expect(response.body.errors[0].pointer).toBe(pointer);
    },
  );

  it("is expected smaller by what the work offset was lowered, so that nothing is corrected twice", async () => {
    const { read, enter, batch } = await shop();
    const open = async () =>
      (await api.get(`/v1/corrections?batch_id=${batch.batch_id}&status=proposed`)).body.items;
    await read(1, 25.02);
    expect(await open()).toMatchObject([{ kind: "change", change: -0.02 }]);

    const entry = await enter(2, -0.02);

    expect(entry.status).toBe(201);
    expect(entry.body).toMatchObject({ change: -0.02, next: { action: "measure", piece: 2 } });
    expect(await open()).toEqual([]);
    const { next, corrections, readings } = await read(2, 25.001);
    expect(readings[0].flags).toEqual([]);
    expect(corrections).toMatchObject([{ kind: "leave_alone", change: 0 }]);
    expect(next.action).not.toBe("stop");
  });

  it("goes back to what it was when the entry is voided", async () => {
    const { read, enter, batch, register } = await shop();
    await read(1, 25.02);
    const { body } = await enter(2, -0.02);

    const path = `/v1/registers/${register.register_id}/entries/${body.entry_id}/void`;
    expect((await api.post(path).send({ reason: "keyed for another machine" })).status).toBe(200);

    const { body: open } = await api.get(`/v1/corrections?batch_id=${batch.batch_id}&status=proposed`);
    expect(open.items).toMatchObject([{ kind: "change", change: -0.02 }]);
  });

  it("is measured on after an entry that acts in one seat only", async () => {
    const { read, enter, batch } = await shop({ seat: "B" }, ["A", "B"]);
    await read(1, 25);
    await read(2, 25.02);

    expect((await enter(4, -0.02)).status).toBe(201);

    const plan = await api.get(`/v1/batches/${batch.batch_id}/checks?piece=4`);
    expect(plan.body).toMatchObject({ seat: "B", features: [{ rule: "after_change" }] });
    expect((await read(4, 25.001)).readings[0]).toMatchObject({ seat: "B", flags: [] });
  });

  it("asks before it takes a value further away than the machine allows", async () => {
    const { enter } = await shop();

    expect((await enter(1, -312.5)).status).toBe(422);
    expect((await enter(1, -312.5, { confirmed: true })).status).toBe(201);
  });
});
