import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create } from "../support/shop.js";

const { api } = await createTestApp();

let batches = 0;

/** A batch with two seats on a shop of its own, unless said otherwise. */
async function seatedBatch(seats: string[] | undefined = ["A", "B"]) {
  const shop = await runningBatch(api);
  const batch = await create(api, "/v1/batches", {
    name: `seated-${++batches}`,
    part_id: shop.part.part_id,
    machine_id: shop.machine.machine_id,
    ...(seats && { seats }),
  });
  const reading = (piece: number, change: object = {}) =>
    shop.reading(piece, 12, { batch_id: batch.batch_id, ...change });
  const post = (body: object) => api.post("/v1/readings").send(body);
  const seatOf = async (piece: number, change: object = {}) => {
    const response = await post(reading(piece, change));
    if (response.status !== 201) throw new Error(response.text);
    const { seat, seat_given } = response.body.readings[0];
    return { seat, seat_given };
  };
  return { ...shop, batch, reading, post, seatOf };
}

describe("POST /v1/batches with seats", () => {
  it("keeps them in their order", async () => {
    const { batch } = await seatedBatch(["front", "back"]);

    expect(batch.seats).toEqual(["front", "back"]);
    expect((await api.get(`/v1/batches/${batch.batch_id}`)).body.seats).toEqual(["front", "back"]);
  });

  it("has none where none are named", async () => {
    expect((await seatedBatch([])).batch.seats).toEqual([]);
  });

  it("refuses a seat that stands there twice", async () => {
    const { part, machine } = await seatedBatch();

    const response = await api.post("/v1/batches").send({
      name: "twice",
      part_id: part.part_id,
      machine_id: machine.machine_id,
      seats: ["A", "B", "A"],
    });

    expect(response.status).toBe(400);
    expect(response.body.errors).toEqual([
      { pointer: "/seats/2", detail: '"A" stands here twice: leave one out' },
    ]);
  });
});

describe("POST /v1/readings in a batch with seats", () => {
  it("takes the seat that a reading says", async () => {
    const { seatOf } = await seatedBatch();

    expect(await seatOf(1, { seat: "B" })).toEqual({ seat: "B", seat_given: true });
  });

  it.each([
    [1, "A"],
    [2, "B"],
    [3, "C"],
    [4, "A"],
    [9, "C"],
  ])("finds the seat of piece %i of three by its number", async (piece, seat) => {
    const { seatOf } = await seatedBatch(["A", "B", "C"]);

    expect(await seatOf(piece)).toEqual({ seat, seat_given: false });
  });

  it("takes it from another reading of the piece that said it, before or in the same request", async () => {
    const { seatOf, post, reading } = await seatedBatch();
    await seatOf(1, { seat: "B" });

    expect(await seatOf(1)).toEqual({ seat: "B", seat_given: true });
    const { body } = await post([reading(3), reading(3, { seat: "B" })]);
    expect(body.readings.map(({ seat }: { seat: string }) => seat)).toEqual(["B", "B"]);
  });

  it("knows no seat of a piece that is only known to be one of several, unless it is said", async () => {
    const { seatOf } = await seatedBatch();

    expect(await seatOf(6, { piece_within: 4 })).toEqual({ seat: null, seat_given: false });
    expect(await seatOf(6, { piece_within: 4, seat: "A" })).toEqual({ seat: "A", seat_given: true });
    expect(await seatOf(6)).toEqual({ seat: "B", seat_given: false });
  });

  it("refuses a seat that the batch does not have", async () => {
    const { post, reading } = await seatedBatch();

    const response = await post([reading(1), reading(2, { seat: "C" })]);

    expect(response.status).toBe(422);
    expect(response.body.errors).toEqual([
      {
        pointer: "/1/seat",
        detail: expect.stringMatching(/^"C" is no seat of batch .* its seats are "A", "B"$/),
      },
    ]);
  });

  it("refuses a seat in a batch without seats", async () => {
    const { post, reading } = await seatedBatch([]);

    const response = await post(reading(1, { seat: "A" }));

    expect(response.status).toBe(422);
    expect(response.body.errors[0]).toMatchObject({
      pointer: "/seat",
      detail: expect.stringContaining('was opened without "seats"'),
    });
  });

  it("refuses a second seat for one piece, whether the first was said or followed from its number", async () => {
    const { post, reading, seatOf } = await seatedBatch();
    await seatOf(1, { seat: "A" });
    await seatOf(2);

    const said = await post(reading(1, { seat: "B" }));
    const counted = await post(reading(2, { seat: "A" }));
    const both = await post([reading(3, { seat: "A" }), reading(3, { seat: "B" })]);

    expect(said.body.errors[0].detail).toContain('piece 1 sat in "A" by another reading of the same cut');
    expect(counted.body.errors[0].detail).toContain('piece 2 counts as cut in "B", as its number says');
    expect(both.body.errors[0]).toMatchObject({ pointer: "/1/seat" });
  });

  it("keeps the seat for a further cut of the piece, unless that says it was clamped elsewhere", async () => {
    const { seatOf } = await seatedBatch();
    await seatOf(1, { seat: "B" });

    expect(await seatOf(1, { cut: 2 })).toEqual({ seat: "B", seat_given: true });
    expect(await seatOf(1, { cut: 3, seat: "A" })).toEqual({ seat: "A", seat_given: true });
    expect(await seatOf(1)).toEqual({ seat: "B", seat_given: true });
  });

  it("takes another seat once the reading that was wrong is voided", async () => {
    const { post, reading, seatOf } = await seatedBatch();
    const { body } = await post(reading(1));
    await api.post(`/v1/readings/${body.readings[0].reading_id}/void`).send({ reason: "seat left out" });

    expect(await seatOf(1, { seat: "B" })).toEqual({ seat: "B", seat_given: true });
  });

  it("shows the seat in the list of readings and in the check plan", async () => {
    const { batch, seatOf } = await seatedBatch();
    await seatOf(1, { seat: "B" });

    const { body } = await api.get(`/v1/readings?batch_id=${batch.batch_id}`);
    const plan = await api.get(`/v1/batches/${batch.batch_id}/checks?piece=2`);

    expect(body.items[0]).toMatchObject({ seat: "B", seat_given: true });
    expect(plan.body.seat).toBe("B");
  });
});
