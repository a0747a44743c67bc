import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create } from "../support/shop.js";

const { api } = await createTestApp();
type Shop = Awaited<ReturnType<typeof runningBatch>>;

/** A lathe that turns 50 mm, aim 49.988, limits 49.975 and 50.000; its register holds a diameter. */
function turningShop(value = 0, machine: object = {}) {
  return runningBatch(api, {
    machine: { kind: "lathe", largest_change: 0.2, ...machine },
    tool: {
      registers: [
        { number: 7, label: "X7 wear", controls: "x", holds: "diameter", value },
        { number: 8, label: "Z7 wear", controls: "z", value: 0 },
      ],
    },
    features: [
      {
        name: "Bearing seat",
        nominal: "50",
        lower_deviation: undefined,
        upper_deviation: undefined,
        lower_limit: 49.975,
        upper_limit: 50,
        target: 49.988,
        cut_by: [{ register: "radial", walls: 2 }],
      },
    ],
  });
}

const entriesOf = (shop: Shop, register: "radial" | "axial" = "radial") =>
  `/v1/registers/${shop.registers[register]}/entries`;
const post = (path: string, body: object) => api.post(path).send(body);
const enter = (shop: Shop, body: object) =>
  create(api, entriesOf(shop), { batch_id: shop.batch.batch_id, ...body });
const voidEntry = (shop: Shop, id: string, body: object = { reason: "not keyed" }) =>
  post(`${entriesOf(shop)}/${id}/void`, body);

/** Another open batch of the same part on the same machine. */
const openBeside = (shop: Shop, change: object = {}) =>
  create(api, "/v1/batches", {
    name: `${shop.batch.name} beside`,
    part_id: shop.part.part_id,
    machine_id: shop.machine.machine_id,
    ...change,
  });

describe("POST /v1/registers/{register_id}/entries", () => {
  it("enters a value from the next piece on and says what to expect of it", async () => {
    const shop = await turningShop(-0.05);
    await shop.read(1, "49.996");

    const answer = await enter(shop, { value: -0.058, reason: "seat ran large", by: "shift A" });

    expect(answer).toEqual({
      entry_id: expect.stringMatching(/^\d+$/),
      register_id: shop.registers.radial,
      register_label: "X7 wear",
      batch_id: shop.batch.batch_id,
      from_piece: 2,
      from_cut: 1,
      value_before: -0.05,
      change: -0.008,
      value: -0.058,
      unit: "mm",
      expected: [
        {
          feature_id: shop.part.features[0].feature_id,
          characteristic: "12",
          size: expect.closeTo(49.988, 3),
          unit: "mm",
          place: null,
          from_latest_reading: 49.988,
        },
      ],
      warnings: [],
      also_in: [],
      next: { action: "measure", piece: 2, why: expect.stringMatching(/first piece after a change/) },
    });
    expect(await shop.proposals()).toEqual([]);
  });

  it("expects no size before anything was measured", async () => {
    const shop = await turningShop();

    const answer = await enter(shop, { value: 0.01 });

    expect(answer.expected).toMatchObject([{ size: null, from_latest_reading: null }]);
    expect(answer).toMatchObject({ from_piece: 1, warnings: [] });
  });

  it("names no feature where the register moves none, and still knows what it held", async () => {
    const shop = await turningShop();
    const path = entriesOf(shop, "axial");
    await create(api, path, { batch_id: shop.batch.batch_id, value: 0.012 });

    const answer = await create(api, path, { batch_id: shop.batch.batch_id, value: 0.02 });

    expect(answer).toMatchObject({ value_before: 0.012, change: 0.008, expected: [] });
  });

  it("knows what a register held that was set up after the batch was opened", async () => {
    const shop = await turningShop();
    const late = await create(api, "/v1/tools", {
      machine_id: shop.machine.machine_id,
      number: 9,
      name: "grooving tool",
      kind: "turning",
      registers: [{ number: 9, label: "X9 wear", controls: "x", holds: "diameter", value: 0.11 }],
    });

    const answer = await create(api, `/v1/registers/${late.registers[0].register_id}/entries`, {
      batch_id: shop.batch.batch_id,
      value: 0.1,
    });

    expect(answer).toMatchObject({ value_before: 0.11, change: -0.01 });
  });

  it("DB-03: -0.024 put in the place of -0.050 makes 50.012 mm into 50.038 mm, and warns", async () => {
    const shop = await turningShop(-0.05);
    await shop.read(1, "50.012");
    await shop.read(1, "50.012");

    const answer = await enter(shop, { value: -0.024 });

    expect(answer).toMatchObject({ change: 0.026, expected: [{ from_latest_reading: 50.038 }] });
    expect(answer.warnings).toEqual([
      expect.stringMatching(
        /^With this value 12 Bearing seat would come out at 50\.038 mm, 0\.038 mm above its upper limit of 50\.000 mm\. Look at the control before the next piece/,
      ),
    ]);
  });

  it("DB-04: -0.074 added to -0.050 makes 50.012 mm into 49.938 mm, and warns", async () => {
    const shop = await turningShop(-0.05);
    await shop.read(1, "50.012");
    await shop.read(1, "50.012");

    const answer = await enter(shop, { value: -0.124 });

    expect(answer).toMatchObject({ change: -0.074, expected: [{ from_latest_reading: 49.938 }] });
    expect(answer.warnings[0]).toMatch(/at 49\.938 mm, 0\.037 mm below its lower limit of 49\.975 mm/);
  });

  it("DB-06: -0.024 mm keyed into a control in inch is refused; confirmed it makes 50.012 mm into 49.4024 mm", async () => {
    const inch = {
      unit: "inch",
      least_increment: 0.0001,
      largest_change: 0.008,
      largest_change_towards_work: null,
    };
    const shop = await turningShop(0, inch);
    await shop.read(1, "50.012");
    await shop.read(1, "50.012");
    const body = { batch_id: shop.batch.batch_id, value: -0.024 };

    const refused = await post(entriesOf(shop), body);
    const answer = await enter(shop, { ...body, confirmed: true });

    expect(refused.status).toBe(422);
    expect(refused.body.errors).toEqual([
      {
        pointer: "/value",
        detail: expect.stringMatching(
          /^-0\.0240 inch is 0\.0240 inch away from the 0\.0000 inch that X7 wear holds there, and .* allows 0\.0080 inch at a time: .*with inch and mm exchanged -0\.0009 inch would fit\. .*"confirmed": true/,
        ),
      },
    ]);
    expect(answer).toMatchObject({
      change: -0.024,
      unit: "inch",
      expected: [{ unit: "mm", from_latest_reading: 49.4024 }],
    });
  });

  it("DB-07: +0.024 for -0.024 makes 50.012 mm into 50.036 mm where 49.988 mm was wanted", async () => {
    const shop = await turningShop();
    await shop.read(1, "50.012");
    await shop.read(1, "50.012");

    const wrong = await enter(shop, { value: 0.024 });
    const right = await enter(shop, { value: -0.024 });

    expect(wrong.expected).toMatchObject([{ from_latest_reading: 50.036 }]);
    expect(wrong.warnings[0]).toMatch(/0\.036 mm above its upper limit/);
    expect(right.expected).toMatchObject([{ from_latest_reading: 49.988 }]);
    expect(right.warnings).toEqual([]);
  });

  it.each([
    ["a decimal point", -1.2, /with the decimal point elsewhere -0\.120 mm would fit/],
    ["mm divided by inch", 3.81, /with inch and mm exchanged 0\.150 mm would fit/],
    ["something else", 77_777, /a slip of the decimal point or of inch and mm is the usual reason/],
  ])("returns 422 beyond the machine's largest change: %s", async (_, value, sentence) => {
    const shop = await turningShop();

    const response = await post(entriesOf(shop), { batch_id: shop.batch.batch_id, value });

    expect(response.status).toBe(422);
    expect(response.body.errors[0]).toMatchObject({
      pointer: "/value",
      detail: expect.stringMatching(sentence),
    });
    expect((await api.get(entriesOf(shop))).body.items).toEqual([]);
  });

  it("takes a change of the machine's largest change, and no thousandth more", async () => {
    const shop = await turningShop();

    expect((await post(entriesOf(shop), { batch_id: shop.batch.batch_id, value: 0.2 })).status).toBe(201);
    expect((await post(entriesOf(shop), { batch_id: shop.batch.batch_id, value: -0.001 })).status).toBe(422);
  });

  it("counts in the machine's other open batch from the piece after its last one cut, or as named", async () => {
    const shop = await turningShop();
    const beside = await openBeside(shop);
    await create(api, "/v1/readings", shop.reading(5, "49.989", { batch_id: beside.batch_id }));

    const first = await enter(shop, { value: -0.01 });
    const also_from = [{ batch_id: beside.batch_id, from_piece: 4 }];
    const second = await enter(shop, { from_piece: 3, value: -0.02, also_from });

    expect(first.also_in).toEqual([{ batch_id: beside.batch_id, from_piece: 6 }]);
    expect(second.also_in).toEqual(also_from);
    const { items } = (await api.get(entriesOf(shop))).body;
    expect(items).toMatchObject([
      { entry_id: first.entry_id, batch_id: shop.batch.batch_id, follows_entry_id: null, from_piece: 1 },
      { batch_id: beside.batch_id, from_piece: 6, value: -0.01, follows_entry_id: first.entry_id },
      { entry_id: second.entry_id, batch_id: shop.batch.batch_id, from_piece: 3 },
      { batch_id: beside.batch_id, from_piece: 4, value: -0.02, follows_entry_id: second.entry_id },
    ]);
    const third = await create(api, entriesOf(shop), { batch_id: beside.batch_id, from_piece: 5, value: 0 });
    expect(third).toMatchObject({ value_before: -0.02 });
  });

  it("does not count in closed batches and those of other machines", async () => {
    const shop = await turningShop();
    const closed = await openBeside(shop);
    await post(`/v1/batches/${closed.batch_id}/close`, {});
    await turningShop();

    expect((await enter(shop, { value: -0.01 })).also_in).toEqual([]);
  });

  it("says so where a later entry gives the pieces to come another value", async () => {
    const shop = await turningShop();
    await enter(shop, { from_piece: 1, value: 0.03 });

    const answer = await enter(shop, { from_piece: 1, value: 0.01 });
    await shop.read(5, "49.988");
    const earlier = await enter(shop, { from_piece: 6, value: 0.02 });
    const before = await enter(shop, { from_piece: 4, value: 0.015 });

    expect(answer).toMatchObject({ value_before: 0.03, warnings: [] });
    expect(earlier.warnings).toEqual([]);
    expect(before.warnings).toEqual([
      "A later entry stands already: on piece 6 X7 wear counts as 0.020 mm, not 0.015 mm. If that entry is wrong, void it.",
    ]);
  });

  it("gives the same state late as it gives in time", async () => {
    const inTime = await turningShop();
    const late = await turningShop();

    await inTime.read(1, "49.990");
    await enter(inTime, { from_piece: 2, value: 0.006 });
    await inTime.read(2, "49.996");
    await late.read(1, "49.990");
    await late.read(2, "49.996");
    await enter(late, { from_piece: 2, value: 0.006 });

    const plain = async (shop: Shop) =>
      (await shop.proposals()).map(({ change, value_now, value_after, features }) => ({
        change,
        value_now,
        value_after,
        expected: features[0].expected_before,
      }));
    expect(await plain(inTime)).toMatchObject([{ value_now: 0.006 }]);
    expect(await plain(late)).toEqual(await plain(inTime));
  });

  it("counts from a cut of a piece on", async () => {
    const shop = await turningShop();
    await shop.read(3, "49.99");

    const answer = await enter(shop, { from_piece: 3, from_cut: 2, value: -0.01 });
    const first = await enter(shop, { from_piece: 3, from_cut: 1, value: 0.002 });

    expect(answer).toMatchObject({ from_piece: 3, from_cut: 2, value_before: 0 });
    expect(first).toMatchObject({ value_before: 0 });
    expect(first.warnings).toHaveLength(1);
  });

  it("answers the same request sent again as the first time", async () => {
    const shop = await turningShop();
    const send = (value: number) =>
      api
        .post(entriesOf(shop))
        .set("Idempotency-Key", "entry-1")
        .send({ batch_id: shop.batch.batch_id, value });

    const [first, second] = [await send(0.01), await send(0.01)];

    expect(first.status).toBe(201);
    expect(second.body).toEqual(first.body);
    expect(second.headers["idempotency-replayed"]).toBe("true");
    expect((await api.get(entriesOf(shop))).body.items).toHaveLength(1);
    expect((await send(0.02)).status).toBe(422);
  });

  it("returns 409 for a closed batch", async () => {
    const shop = await turningShop();
    await post(`/v1/batches/${shop.batch.batch_id}/close`, {});

    const response = await post(entriesOf(shop), { batch_id: shop.batch.batch_id, value: 0.01 });

    expect(response.status).toBe(409);
    expect(response.body.detail).toMatch(/^Batch ".*" is closed: name the batch that is cut now/);
  });

  it("returns 422 for what cannot be, pointing to it", async () => {
    const shop = await runningBatch(api, { quantity: 20 });
    const beside = await openBeside(shop, { quantity: 10 });
    const other = await turningShop();
    const refusal = async (body: object) => {
      const response = await post(entriesOf(shop), {
        batch_id: shop.batch.batch_id,
        value: 0.01,
        ...body,
      });
      return { status: response.status, ...response.body.errors[0] };
    };

    expect(await refusal({ batch_id: "999999" })).toEqual({
      status: 422,
      pointer: "/batch_id",
      detail: "there is no batch 999999: GET /v1/batches lists them",
    });
    expect(await refusal({ batch_id: other.batch.batch_id })).toEqual({
      status: 422,
      pointer: "/batch_id",
      detail: expect.stringMatching(/^batch ".*" does not run on shop-\d+: send a batch that does/),
    });
    expect(await refusal({ from_piece: 21 })).toEqual({
      status: 422,
      pointer: "/from_piece",
      detail: expect.stringMatching(/^21 is beyond the 20 pieces of batch/),
    });
    expect(await refusal({ also_from: [{ batch_id: beside.batch_id, from_piece: 11 }] })).toEqual({
      status: 422,
      pointer: "/also_from/0/from_piece",
      detail: expect.stringMatching(/^11 is beyond the 10 pieces of batch/),
    });
    expect(await refusal({ also_from: [{ batch_id: other.batch.batch_id, from_piece: 1 }] })).toEqual({
      status: 422,
      pointer: "/also_from/0/batch_id",
      detail: "is no other open batch of this machine",
    });
  });

  it.each([
    ["no value", { value: undefined }, "/value"],
    ["no batch", { batch_id: undefined }, "/batch_id"],
    ["a comma for the point", { value: "0,01" }, "/value"],
    ["piece 0", { from_piece: 0 }, "/from_piece"],
    ["a change", { change: 0.01 }, "/change"],
    ["a confirmation that is none", { confirmed: false }, "/confirmed"],
    [
      "another batch twice",
      {
        also_from: [
          { batch_id: "1", from_piece: 1 },
          { batch_id: "1", from_piece: 2 },
        ],
      },
      "/also_from/1/batch_id",
    ],
  ])("returns 400 for %s", async (_, change, pointer) => {
    const shop = await turningShop();

    const response = await post(entriesOf(shop), { batch_id: shop.batch.batch_id, value: 0.01, ...change });

    expect(response.status).toBe(400);
    expect(response.body.errors[0].pointer).toBe(pointer);
  });

  it("returns 404 for a register that does not exist", async () => {
    const response = await post("/v1/registers/999999/entries", { batch_id: "1", value: 0 });

    expect(response.status).toBe(404);
    expect(response.body.detail).toMatch(/^There is no register 999999\./);
  });
});

describe("an entry made late", () => {
  it("leaves the machine's other batches with what the register holds now, unless they are named", async () => {
    const shop = await runningBatch(api);
    const other = await openBeside(shop);
    await enter(shop, { from_piece: 10, value: -0.03 });

    const late = await enter(shop, { from_piece: 5, value: 0.01 });
    const named = await enter(shop, {
      from_piece: 6,
      value: 0.02,
      also_from: [{ batch_id: other.batch_id, from_piece: 1 }],
    });

    const { body } = await api.get(entriesOf(shop));
    const beside = body.items.filter(({ batch_id }: { batch_id: string }) => batch_id === other.batch_id);
    expect(late.also_in).toEqual([]);
    expect(named.also_in).toEqual([{ batch_id: other.batch_id, from_piece: 1 }]);
    expect(beside.map(({ value }: { value: number }) => value)).toEqual([-0.03, 0.02]);
  });

  it("counts in the machine's other batches from no earlier than what was entered there before", async () => {
    const shop = await runningBatch(api);
    const other = await openBeside(shop);
    await enter(shop, { from_piece: 3, value: 0.011 });

    const { also_in } = await enter(shop, { batch_id: other.batch_id, from_piece: 1, value: 0.01 });

    expect(also_in).toEqual([{ batch_id: shop.batch.batch_id, from_piece: 3 }]);
    const { registers } = await shop.wear();
    const sum = registers[0].entries.reduce(
      (total: number, { change }: { change: number }) => total + change,
      0,
    );
    expect(registers[0].value_now).toBe(0.01);
    expect(sum).toBeCloseTo(0.01, 9);
  });

  it("does not carry an offset that a log prints late into the machine's other batches", async () => {
    const shop = await runningBatch(api);
    const other = await openBeside(shop);
    for (const piece of [1, 2, 3]) await shop.read(piece, 12.001);
    await enter(shop, { from_piece: 4, value: -0.003 });

    await shop.read(2, 12.001, { cut_with: [{ register_number: 7, value: 0.001 }] });

    const { body } = await api.get(entriesOf(shop));
    const beside = body.items.filter(({ batch_id }: { batch_id: string }) => batch_id === other.batch_id);
    expect(beside.map(({ value }: { value: number }) => value)).toEqual([-0.003]);
  });
});

describe("GET /v1/registers/{register_id}/entries", () => {
  it("lists them page by page, oldest first", async () => {
    const shop = await turningShop();
    const first = await enter(shop, { from_piece: 9, value: 0.01, reason: "large", by: "shift A" });
    await enter(shop, { from_piece: 4, value: 0.02 });

    const { body: page } = await api.get(`${entriesOf(shop)}?limit=1`);
    const { body: rest } = await api.get(`${entriesOf(shop)}?limit=1&cursor=${page.next_cursor}`);

    expect(page.items).toEqual([
      {
        entry_id: first.entry_id,
        register_id: shop.registers.radial,
        batch_id: shop.batch.batch_id,
        from_piece: 9,
        from_cut: 1,
        value: 0.01,
        unit: "mm",
        origin: "person",
        reason: "large",
        correction_id: null,
        edge_id: null,
        follows_entry_id: null,
        by: "shift A",
        created_at: expect.stringMatching(/Z$/),
        voided: null,
      },
    ]);
    expect(rest).toMatchObject({ items: [{ from_piece: 4 }], next_cursor: null });
  });

  it("returns 404 for a register that does not exist", async () => {
    expect((await api.get("/v1/registers/999999/entries")).status).toBe(404);
  });
});

describe("POST /v1/registers/{register_id}/entries/{entry_id}/void", () => {
  it("gives the value before back, in this batch and where the entry was followed", async () => {
    const shop = await turningShop();
    const beside = await openBeside(shop);
    await enter(shop, { value: 0.01 });
    await shop.read(1, "49.998");
    const stood = await shop.proposals();
    const wrong = await enter(shop, { value: 0.1 });
    expect(await shop.proposals()).not.toEqual(stood);

    const response = await voidEntry(shop, wrong.entry_id, { reason: "other tool", by: "shift A" });

    expect(response.status).toBe(200);
    expect(response.body).toMatchObject({
      entry_id: wrong.entry_id,
      value: 0.1,
      value_now: 0.01,
      voided: { at: expect.stringMatching(/Z$/), reason: "other tool", by: "shift A" },
      also_in: [{ batch_id: beside.batch_id, from_piece: 1 }],
      next: { action: "set_offset", piece: 2 },
    });
    expect(await shop.proposals()).toMatchObject(
      stood.map(({ change, value_now, features }) => ({ change, value_now, features })),
    );
    const { items } = (await api.get(entriesOf(shop))).body;
    expect(items.map(({ voided }: { voided: object | null }) => voided !== null)).toEqual([
      false,
      false,
      true,
      true,
    ]);
    expect(await enter(shop, { value: 0.02 })).toMatchObject({ value_before: 0.01 });
    const there = await create(api, entriesOf(shop), { batch_id: beside.batch_id, from_piece: 1, value: 0 });
    expect(there).toMatchObject({ value_before: 0.02 });
  });

  it("voids an entry of a closed batch in the open one that it was followed in", async () => {
    const shop = await turningShop();
    const beside = await openBeside(shop);
    const wrong = await enter(shop, { value: 0.05 });
    await post(`/v1/batches/${shop.batch.batch_id}/close`, {});

    const response = await voidEntry(shop, wrong.entry_id);

    expect(response.status).toBe(200);
    expect(response.body.next.why).toBe(`Batch "${shop.batch.name}" is closed.`);
    expect(
      await create(api, entriesOf(shop), { batch_id: beside.batch_id, from_piece: 1, value: 0.01 }),
    ).toMatchObject({ value_before: 0 });
  });

  it("returns 409 for one that is voided already", async () => {
    const shop = await turningShop();
    const { entry_id } = await enter(shop, { value: 0.01 });
    await voidEntry(shop, entry_id, { reason: "typed twice" });

    const response = await voidEntry(shop, entry_id);

    expect(response.status).toBe(409);
    expect(response.body.detail).toMatch(/was voided at .*Z already \(typed twice\)\.$/);
  });

  it("returns 409 for one that follows another, naming that one", async () => {
    const shop = await turningShop();
    await openBeside(shop);
    const { entry_id } = await enter(shop, { value: 0.01 });
    const { items } = (await api.get(entriesOf(shop))).body;

    const response = await voidEntry(shop, items[1].entry_id);

    expect(response.status).toBe(409);
    expect(response.body.detail).toMatch(new RegExp(`follows entry ${entry_id} of batch .*void that one`));
  });

  it("returns 409 for one that a correction made, naming the correction, in every batch", async () => {
    const shop = await turningShop();
    await openBeside(shop);
    await shop.read(1, "49.998");
    const { correction } = await shop.apply(2);
    const { items } = (await api.get(entriesOf(shop))).body;

    expect(items).toHaveLength(2);
    for (const { entry_id, correction_id } of items) {
      expect(correction_id).toBe(correction.correction_id);
      const response = await voidEntry(shop, entry_id);
      expect(response.status).toBe(409);
      expect(response.body.detail).toContain(`POST /v1/corrections/${correction_id}/void`);
    }
  });

  it("returns 409 for one that came with an edge", async () => {
    const shop = await turningShop();
    const edge = await create(api, `/v1/tools/${shop.tool.tool_id}/edges`, {
      batch_id: shop.batch.batch_id,
      reason: "worn",
      registers: Object.values(shop.registers).map((register_id) => ({ register_id, value: 0 })),
    });
    const { items } = (await api.get(entriesOf(shop))).body;

    const response = await voidEntry(shop, items[0].entry_id);

    expect(items[0]).toMatchObject({ origin: "edge", edge_id: edge.edge_id });
    expect(response.status).toBe(409);
    expect(response.body.detail).toMatch(/void the edge, and it goes with it/);
  });

  it("answers the same request sent again as the first time", async () => {
    const shop = await turningShop();
    const { entry_id } = await enter(shop, { value: 0.01 });
    const send = () =>
      api
        .post(`${entriesOf(shop)}/${entry_id}/void`)
        .set("Idempotency-Key", "void-1")
        .send({ reason: "typed twice" });

    const [first, second] = [await send(), await send()];

    expect(second.status).toBe(200);
    expect(second.body).toEqual(first.body);
  });

  it.each([[{}], [{ reason: "" }], [{ reason: "typed twice", who: "A" }]])(
    "returns 400 for %j",
    async (body) => {
      const shop = await turningShop();
      const { entry_id } = await enter(shop, { value: 0.01 });

      expect((await voidEntry(shop, entry_id, body)).status).toBe(400);
    },
  );

  it("returns 404 for an entry that the register does not have", async () => {
    const shop = await turningShop();
    const { entry_id } = await enter(shop, { value: 0.01 });

    const response = await post(`${entriesOf(shop, "axial")}/${entry_id}/void`, { reason: "no" });

    expect(response.status).toBe(404);
    expect(response.body.detail).toMatch(/has no entry/);
    expect((await voidEntry(shop, "999999")).status).toBe(404);
  });
});
