import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create, featureBody, machineBody, partBody } from "../support/shop.js";

const { api } = await createTestApp();
const mill = await create(api, "/v1/machines", machineBody());
const part = await create(
  api,
  "/v1/parts",
  partBody([
    featureBody({ characteristic: "12", operation: "20" }),
    featureBody({ characteristic: "13", operation: "30" }),
  ]),
);
const loosePart = await create(
  api,
  "/v1/parts",
  partBody([featureBody({ operation: "20" }), featureBody({ characteristic: "13", operation: undefined })], {
    number: "HB-2042",
  }),
);

const batchBody = (change: object = {}) => ({
  name: "B-118",
  part_id: part.part_id,
  machine_id: mill.machine_id,
  operation: "20",
  quantity: 200,
  ...change,
});
const post = (path: string, body: object) => api.post(path).send(body);

describe("POST /v1/batches", () => {
  it("opens a batch", async () => {
    const response = await post("/v1/batches", batchBody());

    expect(response.status).toBe(201);
    expect(response.body).toEqual({
      batch_id: expect.stringMatching(/^\d+$/),
      name: "B-118",
      part_id: part.part_id,
      machine_id: mill.machine_id,
      operation: "20",
      quantity: 200,
      seats: [],
      last_piece_cut: 0,
      created_at: expect.stringMatching(/Z$/),
      closed_at: null,
      closed_by: null,
    });
    expect((await api.get(`/v1/batches/${response.body.batch_id}`)).body).toEqual(response.body);
  });

  it("does without operation and quantity", async () => {
    const { part_id, machine_id } = batchBody();

    const response = await post("/v1/batches", { name: "all operations", part_id, machine_id });

    expect(response.status).toBe(201);
    expect(response.body).toMatchObject({ operation: null, quantity: null });
  });

  it("takes any operation where a feature of the part has none", async () => {
    const body = batchBody({ name: "loose", part_id: loosePart.part_id, operation: "40" });

    expect((await post("/v1/batches", body)).status).toBe(201);
  });

  it("answers the same request sent again as the first time", async () => {
    const send = () =>
      api
        .post("/v1/batches")
        .set("Idempotency-Key", "open-B-119")
        .send(batchBody({ name: "B-119" }));

    const [first, second] = [await send(), await send()];

    expect(second.status).toBe(201);
    expect(second.body).toEqual(first.body);
    expect(second.headers["idempotency-replayed"]).toBe("true");
  });

  it("returns 409 for a name that is taken", async () => {
    await post("/v1/batches", batchBody({ name: "taken" }));

    const response = await post("/v1/batches", batchBody({ name: "taken" }));

    expect(response.status).toBe(409);
    expect(response.body.errors).toEqual([
      { pointer: "/name", detail: expect.stringMatching(/"taken" exists already.*choose another name/) },
    ]);
  });

  it("returns 422 for a part and a machine that do not exist, pointing to both", async () => {
    const response = await post("/v1/batches", batchBody({ part_id: "999999", machine_id: "999998" }));

    expect(response.status).toBe(422);
    expect(response.body.errors).toEqual([
      { pointer: "/part_id", detail: "there is no part 999999: GET /v1/parts lists them" },
      { pointer: "/machine_id", detail: "there is no machine 999998: GET /v1/machines lists them" },
    ]);
  });

  it("returns 422 for an operation that no feature has, naming those that there are", async () => {
    const response = await post("/v1/batches", batchBody({ name: "wrong operation", operation: "25" }));

    expect(response.status).toBe(422);
    expect(response.body.errors).toEqual([
      {
        pointer: "/operation",
        detail:
          'part HB-2041 revision B has no feature in operation "25"; its operations are "20", "30": send one of them, or leave it out to run them all',
      },
    ]);
  });

  it.each([
    ["no part", { part_id: undefined }, "/part_id"],
    ["a quantity of 0", { quantity: 0 }, "/quantity"],
    ["half a piece", { quantity: 1.5 }, "/quantity"],
    ["an unknown member", { qty: 5 }, "/qty"],
    ["a part by number", { part_id: "HB-2041" }, "/part_id"],
  ])("returns 400 for %s", async (_, change, pointer) => {
    const response = await post("/v1/batches", batchBody({ name: "bad", ...change }));

    expect(response.status).toBe(400);
    expect(response.body.errors[0].pointer).toBe(pointer);
  });

  it("begins with what the registers hold after the batch before", async () => {
    const shop = await runningBatch(api);
    const entries = `/v1/registers/${shop.registers.radial}/entries`;
    await create(api, entries, { batch_id: shop.batch.batch_id, value: -0.013 });
    await post(`/v1/batches/${shop.batch.batch_id}/close`, {});

    const { batch_id } = await create(api, "/v1/batches", {
      name: "after it",
      part_id: shop.part.part_id,
      machine_id: shop.machine.machine_id,
    });

    expect(await create(api, entries, { batch_id, value: -0.02 })).toMatchObject({ value_before: -0.013 });
  });
});

describe("GET /v1/batches", () => {
  it("lists them page by page, oldest first", async () => {
    const shop = await runningBatch(api);
    const second = await create(api, "/v1/batches", {
      name: "second of its part",
      part_id: shop.part.part_id,
      machine_id: shop.machine.machine_id,
    });
    const path = `/v1/batches?part_id=${shop.part.part_id}&limit=1`;

    const { body: first } = await api.get(path);
    const { body: last } = await api.get(`${path}&cursor=${first.next_cursor}`);

    expect(first.items).toEqual([shop.batch]);
    expect(last).toEqual({ items: [second], next_cursor: null });
  });

  it("lists those of a machine, and the open or the closed ones", async () => {
    const shop = await runningBatch(api);
    const { machine_id, part_id } = shop.batch;
    const open = await create(api, "/v1/batches", { name: "stays open", part_id, machine_id });
    await post(`/v1/batches/${shop.batch.batch_id}/close`, { by: "shift A" });
    const names = async (query: string) =>
      (await api.get(`/v1/batches?machine_id=${machine_id}${query}`)).body.items.map(
        ({ name }: { name: string }) => name,
      );

    expect(await names("")).toEqual([shop.batch.name, open.name]);
    expect(await names("&open=true")).toEqual([open.name]);
    expect(await names("&open=false")).toEqual([shop.batch.name]);
  });

  it("returns 400 for another word than true or false", async () => {
    const response = await api.get("/v1/batches?open=yes");

    expect(response.status).toBe(400);
    expect(response.body.detail).toBe('open: must be "true" or "false".');
  });

  it("returns 404 for a batch that does not exist", async () => {
    const response = await api.get("/v1/batches/999999");

    expect(response.status).toBe(404);
    expect(response.body.detail).toBe("There is no batch 999999. GET /v1/batches lists them.");
  });
});

describe("POST /v1/batches/{batch_id}/close", () => {
  it("closes it: its advice is withdrawn and it takes nothing more", async () => {
    const shop = await runningBatch(api);
    const { batch_id } = shop.batch;
    await shop.read(1, "12.024");
    expect(await shop.proposals()).toHaveLength(1);

    const response = await post(`/v1/batches/${batch_id}/close`, { by: "shift A" });

    expect(response.status).toBe(200);
    expect(response.body).toMatchObject({ batch_id, last_piece_cut: 1, closed_at: expect.any(String) });
    expect(await shop.proposals()).toEqual([]);
    expect((await post("/v1/readings", shop.reading(2, 12))).status).toBe(422);
    for (const [path, body] of [
      ["close", {}],
      ["count", { last_piece_cut: 3 }],
      ["interruptions", { kind: "stop" }],
    ] as const) {
      const refused = await post(`/v1/batches/${batch_id}/${path}`, body);
      expect(refused.status).toBe(409);
      expect(refused.body.detail).toMatch(/was closed at .*Z\. Open a new batch/);
    }
  });

  it("answers the same request sent again as the first time", async () => {
    const shop = await runningBatch(api);
    const close = () =>
      api.post(`/v1/batches/${shop.batch.batch_id}/close`).set("Idempotency-Key", "close").send({});

    const [first, second] = [await close(), await close()];

    expect(second.status).toBe(200);
    expect(second.body).toEqual(first.body);
  });

  it("returns 404 for a batch that does not exist", async () => {
    expect((await post("/v1/batches/999999/close", {})).status).toBe(404);
  });
});

describe("POST /v1/batches/{batch_id}/count", () => {
  it("raises the last piece cut and says what to do next", async () => {
    const shop = await runningBatch(api, { quantity: 200 });
    const path = `/v1/batches/${shop.batch.batch_id}`;

    const response = await post(`${path}/count`, { last_piece_cut: 57 });

    expect(response.status).toBe(200);
    expect(response.body).toEqual({
      batch_id: shop.batch.batch_id,
      last_piece_cut: 57,
      next: { action: "measure", piece: expect.any(Number), why: expect.any(String) },
    });
    expect((await api.get(path)).body.last_piece_cut).toBe(57);
  });

  it("lets open advice refer to the piece that is cut next", async () => {
    const shop = await runningBatch(api);
    expect((await shop.read(1, "12.024")).next).toMatchObject({ action: "set_offset", piece: 2 });

    const { body } = await post(`/v1/batches/${shop.batch.batch_id}/count`, { last_piece_cut: 4 });

    expect(body.next).toMatchObject({ action: "set_offset", piece: 5 });
    expect(await shop.proposals()).toHaveLength(1);
    expect((await shop.apply(5)).correction).toMatchObject({ status: "applied", from_piece: 5 });
  });

  it("takes readings after it as before", async () => {
    const shop = await runningBatch(api);
    await post(`/v1/batches/${shop.batch.batch_id}/count`, { last_piece_cut: 4 });

    await shop.read(3, "12.001");

    expect((await api.get(`/v1/batches/${shop.batch.batch_id}`)).body.last_piece_cut).toBe(4);
  });

  it("takes the same number again, and returns 409 for less than a reading proves", async () => {
    const shop = await runningBatch(api);
    const path = `/v1/batches/${shop.batch.batch_id}/count`;
    await shop.read(12, "12.001");

    expect((await post(path, { last_piece_cut: 12 })).status).toBe(200);
    const response = await post(path, { last_piece_cut: 11 });

    expect(response.status).toBe(409);
    expect(response.body.detail).toMatch(
      /^\/last_piece_cut: piece 12 is known to be cut by a reading: send 12 or more/,
    );
  });

  it("puts a miscount right, down to what readings prove", async () => {
    const shop = await runningBatch(api);
    const path = `/v1/batches/${shop.batch.batch_id}/count`;
    await shop.read(12, "12.001");
    await post(path, { last_piece_cut: 570 });

    const response = await post(path, { last_piece_cut: 57 });

    expect(response.status).toBe(200);
    expect(response.body.next).toMatchObject({ action: "measure", piece: 57 });
  });

  it("returns 422 beyond the quantity", async () => {
    const shop = await runningBatch(api, { quantity: 20 });
    const path = `/v1/batches/${shop.batch.batch_id}/count`;

    const response = await post(path, { last_piece_cut: 21 });

    expect(response.status).toBe(422);
    expect(response.body.detail).toMatch(/21 is beyond the 20 pieces of batch/);
    expect((await post(path, { last_piece_cut: 20 })).body.next).toMatchObject({ piece: 20 });
  });

  it.each([[{}], [{ last_piece_cut: 0 }], [{ last_piece_cut: "57" }], [{ last_piece_cut: 1, by: "x" }]])(
    "returns 400 for %j",
    async (body) => {
      const shop = await runningBatch(api);

      expect((await post(`/v1/batches/${shop.batch.batch_id}/count`, body)).status).toBe(400);
    },
  );

  it("returns 404 for a batch that does not exist", async () => {
    expect((await post("/v1/batches/999999/count", { last_piece_cut: 1 })).status).toBe(404);
  });
});

describe("POST /v1/batches/{batch_id}/interruptions", () => {
  it("enters one from the next piece on, which is then measured; voided it is as if it had not been", async () => {
    const shop = await runningBatch(api);
    const path = `/v1/batches/${shop.batch.batch_id}/interruptions`;
    for (const piece of [1, 2, 3]) await shop.read(piece, 12);
    const before = await shop.checks();
    expect(before.features).toEqual([]);

    const response = await post(path, { kind: "person_change", note: "shift B", by: "shift B" });

    expect(response.status).toBe(201);
    const { next, ...interruption } = response.body;
    expect(interruption).toEqual({
      interruption_id: expect.stringMatching(/^\d+$/),
      batch_id: shop.batch.batch_id,
      from_piece: 4,
      kind: "person_change",
      note: "shift B",
      by: "shift B",
      created_at: expect.stringMatching(/Z$/),
      voided: null,
    });
    expect(next).toMatchObject({ action: "measure", piece: 4 });
    expect(next.why).toMatch(/first piece after an interruption/);

    const voidPath = `${path}/${interruption.interruption_id}/void`;
    const voided = await post(voidPath, { reason: "was for another machine", by: "shift A" });

    expect(voided.status).toBe(200);
    expect(voided.body.voided).toEqual({
      at: expect.stringMatching(/Z$/),
      reason: "was for another machine",
      by: "shift A",
    });
    expect(voided.body.next.action).toBe("run_on");
    expect(await shop.checks()).toEqual(before);
    const again = await post(voidPath, { reason: "again" });
    expect(again.status).toBe(409);
    expect(again.body.detail).toMatch(/was voided at .*Z already \(was for another machine\)/);
  });

  it("gives the same state late as it gives in time", async () => {
    const inTime = await runningBatch(api);
    const late = await runningBatch(api);
    const upset = { from_piece: 3, kind: "fixture_change" };
    const path = (shop: typeof late) => `/v1/batches/${shop.batch.batch_id}/interruptions`;

    for (const piece of [1, 2]) await inTime.read(piece, 12.004);
    await post(path(inTime), upset);
    for (const piece of [3, 4]) await inTime.read(piece, 12.02);
    for (const piece of [1, 2]) await late.read(piece, 12.004);
    for (const piece of [3, 4]) await late.read(piece, 12.02);
    await post(path(late), upset);

    const plain = async (shop: typeof late) =>
      (await shop.proposals()).map(({ kind, change, value_after, features }) => ({
        kind,
        change,
        value_after,
        expected: features.map((feature: { expected_before: number }) => feature.expected_before),
      }));
    expect(await plain(late)).toEqual(await plain(inTime));
  });

  it("answers the same request sent again as the first time", async () => {
    const shop = await runningBatch(api);
    const send = () =>
      api
        .post(`/v1/batches/${shop.batch.batch_id}/interruptions`)
        .set("Idempotency-Key", "interruption")
        .send({ kind: "stop" });

    const [first, second] = [await send(), await send()];

    expect(second.body).toEqual(first.body);
    const { body } = await api.get(`/v1/batches/${shop.batch.batch_id}/interruptions`);
    expect(body.items).toHaveLength(1);
  });

  it("returns 422 for a piece beyond the batch", async () => {
    const shop = await runningBatch(api, { quantity: 20 });

    const response = await post(`/v1/batches/${shop.batch.batch_id}/interruptions`, {
      from_piece: 21,
      kind: "stop",
    });

    expect(response.status).toBe(422);
    expect(response.body.errors[0].pointer).toBe("/from_piece");
  });

  it.each([
    ["no kind", { from_piece: 3 }, "/kind"],
    ["an unknown kind", { kind: "coffee" }, "/kind"],
    ["piece 0", { kind: "stop", from_piece: 0 }, "/from_piece"],
  ])("returns 400 for %s", async (_, body, pointer) => {
    const shop = await runningBatch(api);

    const response = await post(`/v1/batches/${shop.batch.batch_id}/interruptions`, body);

    expect(response.status).toBe(400);
    expect(response.body.errors[0].pointer).toBe(pointer);
  });

  it("returns 404 for a batch or an interruption that does not exist", async () => {
    const shop = await runningBatch(api);
    const other = await runningBatch(api);
    const made = await create(api, `/v1/batches/${other.batch.batch_id}/interruptions`, { kind: "stop" });
    const voidIn = (batchId: string, id: string) =>
      post(`/v1/batches/${batchId}/interruptions/${id}/void`, { reason: "no" });

    expect((await post("/v1/batches/999999/interruptions", { kind: "stop" })).status).toBe(404);
    expect((await api.get("/v1/batches/999999/interruptions")).status).toBe(404);
    expect((await voidIn(shop.batch.batch_id, made.interruption_id)).status).toBe(404);
    expect((await voidIn("999999", made.interruption_id)).status).toBe(404);
    expect((await voidIn(other.batch.batch_id, "none")).status).toBe(404);
  });
});

describe("GET /v1/batches/{batch_id}/interruptions", () => {
  it("lists them page by page, voided ones among them", async () => {
    const shop = await runningBatch(api);
    const path = `/v1/batches/${shop.batch.batch_id}/interruptions`;
    const first = await create(api, path, { kind: "stop", from_piece: 9 });
    await create(api, path, { kind: "material_change", from_piece: 4 });
    await post(`${path}/${first.interruption_id}/void`, { reason: "typed twice" });

    const { body: page } = await api.get(`${path}?limit=1`);
    const { body: rest } = await api.get(`${path}?limit=1&cursor=${page.next_cursor}`);

    expect(page.items).toMatchObject([{ from_piece: 9, voided: { reason: "typed twice", by: null } }]);
    expect(rest).toMatchObject({ items: [{ from_piece: 4, voided: null }], next_cursor: null });
  });
});
