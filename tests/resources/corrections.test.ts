import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create } from "../support/shop.js";

const { api } = await createTestApp();

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;
type Shop = Awaited<ReturnType<typeof runningBatch>>;

async function proposed(shop: Shop): Promise<Answer> {
  const open = (await shop.proposals()).filter(({ kind }) => kind === "change");
  expect(open).toHaveLength(1);
  return open[0];
}

const apply = (correction: Answer, body: object) =>
  api.post(`/v1/corrections/${correction.correction_id}/apply`).send(body);

function secondBatch(shop: Shop): Promise<Answer> {
  const { part, machine } = shop;
  return create(api, "/v1/batches", {
    name: `${machine.name}-second`,
    part_id: part.part_id,
    machine_id: machine.machine_id,
  });
}

describe("POST /v1/corrections/{correction_id}/apply", () => {
  it("takes a further cut without a piece for one of the last piece, and proposes nothing twice", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, 12.024);

    const { body } = await apply(await proposed(shop), { from_cut: 2 });

    expect(body.correction).toMatchObject({ status: "applied", from_piece: 1, from_cut: 2 });
    expect(body.corrections).toEqual([]);
    expect(await shop.proposals()).toEqual([]);
  });

  it("proposes nothing twice where it counts from a further cut of a piece to come", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, 12.024);

    const { body } = await apply(await proposed(shop), { from_piece: 2, from_cut: 2 });

    expect(body.next.action).toBe("measure");
    expect(await shop.proposals()).toEqual([]);
  });

  it.each([
    ["the value advised", { value_found: -0.012 }, -0.012],
    ["another one, which is left", { value_found: -0.01, value_after: -0.01 }, -0.01],
  ])(
    "counts %s that is found keyed already from the next piece on, not as the old one",
    async (_, body, value) => {
      const shop = await runningBatch(api);
      await shop.read(1, 12.024);

      const answer = (await apply(await proposed(shop), { from_piece: 2, ...body })).body;

      expect(answer.flags).toEqual(["found_keyed"]);
      expect(answer.correction).toMatchObject({ status: "applied", from_piece: 2, value_set: value });
      expect(await shop.proposals()).toEqual([]);
      expect((await shop.wear()).registers[0].entries).toMatchObject([{ from_piece: 2, value }]);
    },
  );

  it("puts the history of the machine's other open batches right too where the control shows another value", async () => {
    const shop = await runningBatch(api);
    const other = await secondBatch(shop);
    await create(api, "/v1/readings", shop.reading(1, 12.024, { batch_id: other.batch_id }));
    await shop.read(1, 12.024);

    const { body } = await apply(await proposed(shop), { value_found: 0.005 });
    await create(api, "/v1/readings", shop.reading(2, 12.024, { batch_id: other.batch_id }));

    expect(body.flags).toEqual(["value_found_differs"]);
    expect(body.corrections).toMatchObject([{ kind: "change", value_now: 0.005, change: -0.012 }]);
    const { body: open } = await api.get(`/v1/corrections?status=proposed&batch_id=${other.batch_id}`);
    expect(open.items).toMatchObject([{ kind: "change", value_now: 0.005, change: -0.012 }]);
  });

  it("refuses a value found that is further off than the machine's largest change, unless confirmed", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, 12.024);
    const open = await proposed(shop);

    const refused = await apply(open, { value_found: 0.5 });
    const confirmed = await apply(open, { value_found: 0.5, confirmed: true });

    expect(refused.status).toBe(422);
    expect(refused.body.errors[0].pointer).toBe("/value_found");
    expect(refused.body.errors[0].detail).toContain("0.500 mm away from the 0.000 mm");
    expect(confirmed.status).toBe(200);
  });

  it("refuses what an entry for a piece still to be cut would end, and takes it once that is voided", async () => {
    const shop = await runningBatch(api);
    const entries = `/v1/registers/${shop.registers.radial}/entries`;
    const { entry_id } = await create(api, entries, {
      batch_id: shop.batch.batch_id,
      from_piece: 2,
      value: 0,
    });
    await shop.read(1, 12.024);
    const open = await proposed(shop);

    const refused = await apply(open, { from_piece: 1, from_cut: 2 });
    await api.post(`${entries}/${entry_id}/void`).send({ reason: "not keyed" });
    const taken = await apply(open, { from_piece: 1, from_cut: 2 });

    expect(refused.status).toBe(409);
    expect(refused.body.detail).toContain(
      `Entry ${entry_id} says that from piece 2 on D7 wear holds 0.000 mm`,
    );
    expect(taken.status).toBe(200);
    expect(await shop.proposals()).toEqual([]);
  });

  it("refuses a piece beyond the batch", async () => {
    const shop = await runningBatch(api, { quantity: 20 });
    await shop.read(1, 12.024);

    const response = await apply(await proposed(shop), { from_piece: 21 });

    expect(response.status).toBe(422);
    expect(response.body.errors[0].pointer).toBe("/from_piece");
  });

  it("says what the other register of a feature has done since its latest reading, in the window too", async () => {
    const shop = await runningBatch(api, {
      features: [
        {
          characteristic: "1",
          nominal: "12",
          lower_deviation: -0.03,
          upper_deviation: 0.03,
          cut_by: [
            { register: "radial", walls: 1, effect: 1 },
            { register: "axial", effect: 1 },
          ],
        },
      ],
    });
    for (const piece of [1, 2]) await shop.read(piece, 12.02);
    const enter = (value: number, from_piece: number) =>
      create(api, `/v1/registers/${shop.registers.axial}/entries`, {
        batch_id: shop.batch.batch_id,
        from_piece,
        value,
      });

    const { expected } = await enter(0.02, 3);
    const radial = await create(api, `/v1/registers/${shop.registers.radial}/entries`, {
      batch_id: shop.batch.batch_id,
      from_piece: 3,
      value: 0,
    });

    expect(expected[0].from_latest_reading).toBe(12.04);
    expect(radial.expected[0].from_latest_reading).toBe(12.04);
    expect(radial.warnings[0]).toContain("12.040 mm, 0.010 mm above its upper limit");
  });
});

describe("POST /v1/corrections/{correction_id}/decline", () => {
  it("leaves the correction declined whatever is read afterwards", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, 12.024);
    const { correction_id } = await proposed(shop);

    const declined = await api
      .post(`/v1/corrections/${correction_id}/decline`)
      .send({ reason: "new edge first" });
    await shop.read(2, 12.001);

    expect(declined.body.corrections).toEqual([]);
    expect((await api.get(`/v1/corrections/${correction_id}`)).body).toMatchObject({
      status: "declined",
      reason: "new edge first",
    });
  });
});

describe("what a correction did", () => {
  const outcomeOf = async (id: string): Promise<Answer> =>
    (await api.get(`/v1/corrections/${id}`)).body.outcome;

  it("sets the promise beside what the next pieces read, up to the next change of the register", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, 12.024);
    const open = await proposed(shop);
    expect(await outcomeOf(open.correction_id)).toBeNull();
    const { body } = await apply(open, { from_piece: 2, by: "shift A" });
    const [feature] = open.features;

    expect(await outcomeOf(open.correction_id)).toEqual({
      from_piece: 2,
      until_piece: null,
      features: [
        {
          feature_id: feature.feature_id,
          place: null,
          unit: "mm",
          expected_before: feature.expected_before,
          promised: feature.expected_after,
          first_piece: null,
          first_size: null,
          pieces: [],
          mean_size: null,
          off_promise: null,
        },
      ],
    });

    await shop.read(2, "12.001");
    await shop.read(3, "12.003");
    await shop.read(4, "12.002");
    await create(api, `/v1/registers/${shop.registers.radial}/entries`, {
      batch_id: shop.batch.batch_id,
      from_piece: 4,
      value: -0.02,
    });
    const { body: shown } = await api.get(`/v1/corrections/${open.correction_id}`);
    expect(shown).toMatchObject({
      by: "shift A",
      piece: 1,
      outcome: {
        from_piece: 2,
        until_piece: 3,
        features: [{ first_piece: 2, first_size: 12.001, pieces: [2, 3], mean_size: 12.002 }],
      },
    });
    expect(shown.outcome.features[0].off_promise).toBeCloseTo(12.002 - feature.expected_after, 4);
    expect(Date.parse(shown.ended_at)).toBeGreaterThanOrEqual(Date.parse(shown.proposed_at));
    const { body: list } = await api.get(`/v1/corrections?batch_id=${shop.batch.batch_id}&status=applied`);
    expect(list.items).toEqual([shown]);
    expect(body.correction.correction_id).toBe(open.correction_id);
  });

  it("promises what the value really set was to bring, and nothing once it is voided", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, 12.024);
    const open = await proposed(shop);
    await apply(open, { from_piece: 2, value_after: open.value_after - 0.002 });
    const [feature] = open.features;
    expect((await outcomeOf(open.correction_id)).features[0].promised).toBeCloseTo(
      feature.expected_after - 0.004,
      4,
    );
    await api.post(`/v1/corrections/${open.correction_id}/void`).send({ reason: "not keyed" });
    expect(await outcomeOf(open.correction_id)).toBeNull();
  });

  it("goes by the second cut of a piece that was cut again, and leaves voided readings out", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, 12.024);
    const open = await proposed(shop);
    await apply(open, { from_piece: 1, from_cut: 2 });
    await shop.read(1, "12.002", { cut: 2 });
    const { readings } = await shop.read(2, "12.004");
    const found = async () => (await outcomeOf(open.correction_id)).features[0];
    expect(await found()).toMatchObject({ first_piece: 1, first_size: 12.002, pieces: [1, 2] });
    await api.post(`/v1/readings/${readings[0].reading_id}/void`).send({ reason: "wrong piece" });
    expect(await found()).toMatchObject({ pieces: [1] });
  });

  it("is in the part's unit on a machine in the other", async () => {
    const shop = await runningBatch(api, {
      machine: {
        unit: "inch",
        least_increment: 0.00005,
        largest_change: 0.01,
        largest_change_towards_work: null,
      },
    });
    await shop.read(1, 12.024);
    const open = await proposed(shop);
    await apply(open, { from_piece: 2 });
    await shop.read(2, "12.001");
    expect((await outcomeOf(open.correction_id)).features[0]).toMatchObject({
      unit: "mm",
      promised: open.features[0].expected_after,
      first_size: 12.001,
    });
  });
});
