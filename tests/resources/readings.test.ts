import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create, gaugeBody } from "../support/shop.js";

const { api, db } = await createTestApp();

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

async function countReadings(batchId: string): Promise<number> {
  const row = await db
    .selectFrom("reading")
    .select((eb) => eb.fn.countAll<string>().as("count"))
    .where("batch_id", "=", batchId)
    .executeTakeFirstOrThrow();
  return Number(row.count);
}

describe("POST /v1/readings", () => {
  it("answers the one thing to do first, then the verdict with limits and rule, the correction and the next check", async () => {
    const shop = await runningBatch(api);

    const answer = await shop.read(1, "12.024");

    expect(Object.keys(answer)).toEqual(["next", "readings", "places", "corrections", "next_checks"]);
    expect(answer.next.action).toBe("set_offset");
    expect(answer.readings[0]).toMatchObject({
      verdict: "conforming",
      disposition: "accept",
      deviation: 0.024,
      from_target: 0.024,
      tolerance_used: 0.8,
      lower_limit: 11.97,
      upper_limit: 12.03,
      decision_rule: "simple",
      expanded_uncertainty: 0.003,
      repeat: 1,
    });
    expect(answer.corrections[0]).toMatchObject({
      kind: "change",
      status: "proposed",
      register_label: "D7 wear",
      value_now: 0,
      change: -0.012,
      value_after: -0.012,
    });
    expect(answer.next_checks[0]).toMatchObject({ piece: 2 });
  });

  it("takes names instead of ids, and mixes mm, µm and inch", async () => {
    const shop = await runningBatch(api);
    const named = {
      part_number: shop.part.number,
      revision: "B",
      characteristic: "12",
      batch: shop.batch.name,
    };

    const answer = await create(api, "/v1/readings", [
      { ...named, gauge: shop.gauge.name, piece: 1, value: "0.4724409448818897637795", unit: "in" },
      { ...named, gauge: shop.gauge.name, piece: 2, value: 12001, unit: "um" },
    ]);

    expect(answer.readings.map((reading: { size: number }) => reading.size)).toEqual([12, 12.001]);
    expect(answer.readings.map((reading: { unit: string }) => reading.unit)).toEqual(["inch", "µm"]);
  });

  it("reads a gauge that shows a deviation from its master, with its sense", async () => {
    const shop = await runningBatch(api);
    const bore = await create(
      api,
      "/v1/gauges",
      gaugeBody({
        name: "bore gauge 12",
        kind: "bore_gauge",
        reads: "deviation",
        master_size: 12.003,
        sense: "reversed",
      }),
    );

    const answer = await shop.read(1, -0.004, { gauge_id: bore.gauge_id });

    expect(answer.readings[0]).toMatchObject({ value: -0.004, size: 12.007 });
  });

  it.each([
    ["an unknown feature", { feature_id: "999999" }, "/feature_id"],
    ["an unknown gauge", { gauge_id: "999999" }, "/gauge_id"],
    ["an unknown batch", { batch_id: "999999" }, "/batch_id"],
    ["a piece beyond the batch", { piece: 201 }, "/piece"],
    ["more pieces back than there are", { piece: 2, piece_within: 3 }, "/piece_within"],
    ["a time more than a day ahead", { measured_at: "2199-01-01T00:00:00Z" }, "/measured_at"],
  ])("refuses %s with 422 and stores nothing", async (_, change, pointer) => {
    const shop = await runningBatch(api, { quantity: 200 });

    const response = await api.post("/v1/readings").send(shop.reading(1, 12, change));

    expect(response.status).toBe(422);
    expect(response.body.errors[0].pointer).toBe(pointer);
    expect(await countReadings(shop.batch.batch_id)).toBe(0);
  });

  it.each([
    ["piece 0", { piece: 0 }],
    ["a missing unit", { unit: undefined }],
    ["a missing value", { value: undefined }],
    ["an empty value", { value: "" }],
    ["a thousands separator", { value: "12,004" }],
    ["hex", { value: "0x1F" }],
    ["NaN", { value: "NaN" }],
    ["a member that is not known", { spindle: "A" }],
    ["NUL in a name", { taken_by: "a\u0000b" }],
    ["two names for one thing", { batch: "B-118" }],
  ])("refuses %s with 400", async (_, change) => {
    const shop = await runningBatch(api);

    const response = await api.post("/v1/readings").send({ ...shop.reading(1, 12), ...change });

    expect(response.status).toBe(400);
    expect(response.body.detail).not.toBe("");
  });

  it("names near matches for a characteristic, a batch and a gauge that are not known", async () => {
    const shop = await runningBatch(api);
    const named = {
      part_number: shop.part.number,
      characteristic: "12",
      batch: shop.batch.name,
      piece: 1,
      value: 12,
      unit: "mm",
    };
    const detail = async (change: object) =>
      (await api.post("/v1/readings").send({ ...named, ...change })).body.detail;

    expect(await detail({ characteristic: "13" })).toContain('near: "12"');
    expect(await detail({ batch: `${shop.batch.name}x` })).toContain(`"${shop.batch.name}"`);
    expect(await detail({ gauge: `${shop.gauge.name}s` })).toContain(`"${shop.gauge.name}"`);
  });

  it("takes an array whole or not at all, with a pointer for each bad item", async () => {
    const shop = await runningBatch(api);

    const response = await api
      .post("/v1/readings")
      .send([
        shop.reading(1, 12),
        shop.reading(2, 12, { gauge_id: "999999" }),
        shop.reading(3, 12, { feature_id: "999999" }),
      ]);

    expect(response.status).toBe(422);
    expect(response.body.errors.map((error: { pointer: string }) => error.pointer)).toEqual([
      "/1/gauge_id",
      "/2/feature_id",
    ]);
    expect(await countReadings(shop.batch.batch_id)).toBe(0);
  });

  it("answers a second sending with the same source_id, or the same everything and time, as a duplicate", async () => {
    const shop = await runningBatch(api);
    const bySource = { source_id: "log-1:4" };
    const byTime = { measured_at: "2026-03-02T07:41:00Z" };

    const first = [await shop.read(1, 12.01, bySource), await shop.read(2, 12.011, byTime)];
    const second = [await shop.read(1, 12.01, bySource), await shop.read(2, 12.011, byTime)];

    expect(second.map((answer) => answer.readings[0].reading_id)).toEqual(
      first.map((answer) => answer.readings[0].reading_id),
    );
    expect(second.map((answer) => answer.readings[0].flags)).toEqual([["duplicate"], ["duplicate"]]);
    expect(second[0].readings[0].verdict).toBe(first[0].readings[0].verdict);
    expect(await countReadings(shop.batch.batch_id)).toBe(2);
  });

  it("answers the same Idempotency-Key with the very same body, and refuses it for another", async () => {
    const shop = await runningBatch(api);
    const send = (value: number) =>
      api.post("/v1/readings").set("idempotency-key", "k-1").send(shop.reading(1, value));

    const first = await send(12.01);
    const again = await send(12.01);
    const other = await send(12.02);

    expect(again.text).toBe(first.text);
    expect(again.headers["idempotency-replayed"]).toBe("true");
    expect(other.status).toBe(422);
    expect(await countReadings(shop.batch.batch_id)).toBe(1);
  });

  it("numbers repeats; two that agree steer by their mean", async () => {
    const shop = await runningBatch(api);

    await shop.read(1, 12.024);
    const second = await shop.read(1, 12.026);

    expect(second.readings[0]).toMatchObject({ repeat: 2, disposition: "accept" });
    expect(second.corrections[0]).toMatchObject({ kind: "change", status: "proposed" });
    expect(second.corrections[0].arithmetic[0]).toContain("12.025 mm");
  });

  it("flags a slipped decimal point, gives no size verdict and no correction, and asks again", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, 12.001);

    const answer = await shop.read(2, 120.03);

    expect(answer.next).toMatchObject({ action: "measure", piece: 2 });
    expect(answer.readings[0]).toMatchObject({
      verdict: "uncertain",
      disposition: "remeasure",
      flags: ["implausible"],
    });
    expect(answer.readings[0].slip).toContain("decimal point");
    expect(answer.corrections.map((row: { kind: string }) => row.kind)).toEqual(["measure_again"]);
  });

  it("lets the middle one of three steer, and keeps the piece from accept while a failing one stands", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, 12.001);
    await shop.read(2, 12.24);
    const second = await shop.read(2, 12.003);
    const third = await shop.read(2, 12.002);

    expect(second.next).toMatchObject({ action: "measure", piece: 2 });
    expect(second.readings[0].flags).toContain("readings_disagree");
    expect(third.readings[0]).toMatchObject({ verdict: "conforming", disposition: "remeasure" });
    expect(third.readings[0].flags).toContain("earlier_reading_failed");
    expect(await shop.proposals()).toEqual([]);
  });

  it("counts a piece whose misreading was voided as good again", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, 12.001);
    const slip = await shop.read(2, 12.24);

    const voided = await api
      .post(`/v1/readings/${slip.readings[0].reading_id}/void`)
      .send({ reason: "typed 12.24 for 12.024", by: "shift A" });
    const right = await shop.read(2, 12.002);

    expect(voided.status).toBe(200);
    expect(voided.body.reading.voided).toMatchObject({ reason: "typed 12.24 for 12.024", by: "shift A" });
    expect(right.readings[0]).toMatchObject({ verdict: "conforming", disposition: "accept", flags: [] });
  });

  it("gives the state that the right order would have given, for late readings and voided ones", async () => {
    const sizes = [12.02, 12.021, 12.019, 12.022, 12.02, 12.023, 12.021, 12.024, 12.022, 12.025];
    const [ordered, shuffled] = [await runningBatch(api), await runningBatch(api)];
    for (const [i, size] of sizes.entries()) await ordered.read(i + 1, size);
    const wrong = await shuffled.read(4, 12.001);
    for (const i of [9, 2, 0, 7, 4, 1, 8, 3, 6, 5]) await shuffled.read(i + 1, sizes[i]!);
    await api.post(`/v1/readings/${wrong.readings[0].reading_id}/void`).send({ reason: "other piece" });

    const states = await Promise.all(
      [ordered, shuffled].map(async ({ batch }) => {
        const row = await db
          .selectFrom("block_state")
          .selectAll()
          .where("batch_id", "=", batch.batch_id)
          .executeTakeFirstOrThrow();
        return JSON.parse(row.state).after.estimate;
      }),
    );

    expect(states[1]).toEqual(states[0]);
  });

  it("gives the same state for readings one by one, in one array, and after a late one far back", async () => {
    const sizes = Array.from({ length: 60 }, (_, i) => 12 + 0.0001 * i + (i % 3) * 0.002);
    const [single, array, late] = [await runningBatch(api), await runningBatch(api), await runningBatch(api)];
    for (const [i, size] of sizes.entries()) await single.read(i + 1, size.toFixed(4));
    await create(
      api,
      "/v1/readings",
      sizes.map((size, i) => array.reading(i + 1, size.toFixed(4))),
    );
    for (const [i, size] of sizes.entries()) if (i !== 4) await late.read(i + 1, size.toFixed(4));
    const answer = await late.read(5, sizes[4]!.toFixed(4));

    const states = await Promise.all(
      [single, array, late].map(async ({ batch }) => {
        const row = await db
          .selectFrom("block_state")
          .selectAll()
          .where("batch_id", "=", batch.batch_id)
          .executeTakeFirstOrThrow();
        return JSON.parse(row.state).after;
      }),
    );

    expect(answer.readings[0].flags).toContain("late");
    expect(states[1].estimate).toEqual(states[0].estimate);
    expect(states[2].estimate).toEqual(states[0].estimate);
    expect(states[1].goodInARow).toBe(states[0].goodInARow);
  });

  it("gives the same state for late readings that one write takes in, whatever order they come in", async () => {
    const sizes = Array.from({ length: 60 }, (_, i) => 12 + 0.0001 * i + (i % 3) * 0.002);
    const shop = await runningBatch(api);
    const late = [5, 16, 40];
    const reading = (piece: number) => shop.reading(piece, sizes[piece - 1]!.toFixed(4));
    await create(
      api,
      "/v1/readings",
      sizes.flatMap((_, i) => (late.includes(i + 1) || i > 54 ? [] : [reading(i + 1)])),
    );
    const learned = async () => {
      const row = await db
        .selectFrom("block_state")
        .select("state")
        .where("batch_id", "=", shop.batch.batch_id)
        .executeTakeFirstOrThrow();
      const { estimate, goodInARow, measuredPieces } = JSON.parse(row.state).after;
      return { estimate, goodInARow, measuredPieces };
    };

    // The first keeps the service busy, so that the others wait and share one write.
    await Promise.all(
      [56, 60, 5, 58, 40, 16, 59, 57].map((piece) => create(api, "/v1/readings", reading(piece))),
    );
    const live = await learned();
    const again = await create(api, "/v1/readings", shop.reading(50, 12.001));
    await api.post(`/v1/readings/${again.readings[0].reading_id}/void`).send({ reason: "other piece" });
    const fromCheckpoint = await learned();
    await db.deleteFrom("block_state").where("batch_id", "=", shop.batch.batch_id).execute();
    await db.deleteFrom("block_checkpoint").where("batch_id", "=", shop.batch.batch_id).execute();
    await api.patch(`/v1/features/${shop.part.features[0].feature_id}`).send({ target: 12 });

    expect(live.measuredPieces).toBe(60);
    expect(fromCheckpoint).toEqual(live);
    expect(await learned()).toEqual(live);
  });

  it("goes on from the readings where the stored state is gone", async () => {
    const shop = await runningBatch(api);
    for (let piece = 1; piece <= 6; piece++) await shop.read(piece, 12.001);
    await db.deleteFrom("block_state").where("batch_id", "=", shop.batch.batch_id).execute();
    await db
      .updateTable("batch")
      .set((eb) => ({ version: eb("version", "+", 1) }))
      .where("batch_id", "=", shop.batch.batch_id)
      .execute();

    await shop.read(7, 12.001);

    const { features } = await shop.checks(8);
    expect(features).toEqual([]);
  });

  it("keeps the trust of the pieces before when the reading at a checkpoint is voided", async () => {
    const shop = await runningBatch(api);
    const answers: Answer[] = [];
    for (let piece = 1; piece <= 17; piece++) answers.push(await shop.read(piece, 12.001));

    const voided = await api
      .post(`/v1/readings/${answers[16].readings[0].reading_id}/void`)
      .send({ reason: "other piece" });

    const { state } = await db
      .selectFrom("block_state")
      .select("state")
      .where("batch_id", "=", shop.batch.batch_id)
      .executeTakeFirstOrThrow();
    expect(voided.status).toBe(200);
    expect(JSON.parse(state)).toMatchObject({ piece: 16, after: { goodInARow: 16, measuredPieces: 16 } });
    expect(await shop.checks(17)).toMatchObject({ state: "relaxed" });
  });

  it("says that a duplicate was voided, and leaves it so", async () => {
    const shop = await runningBatch(api);
    const first = await shop.read(1, 12.024, { source_id: "log-2:1" });
    await api.post(`/v1/readings/${first.readings[0].reading_id}/void`).send({ reason: "typed wrongly" });

    const again = await shop.read(1, 12.024, { source_id: "log-2:1" });

    expect(again.readings[0]).toMatchObject({ flags: ["duplicate"], voided: { reason: "typed wrongly" } });
    expect(await shop.proposals()).toEqual([]);
  });

  it("enters nothing from a line of a log that is sent again, whatever the history says by now", async () => {
    const shop = await runningBatch(api);
    const line = { source_id: "log-3:1", cut_with: [{ register_number: 7, value: 0.01 }] };
    await shop.read(1, 12.02, line);
    const { body } = await api.get(`/v1/registers/${shop.registers.radial}/entries`);
    const path = `/v1/registers/${shop.registers.radial}/entries/${body.items[0].entry_id}/void`;
    await api.post(path).send({ reason: "the log prints another register" });

    await shop.read(1, 12.02, line);

    expect((await shop.wear()).registers[0]).toMatchObject({ value_now: 0, entries: [] });
  });

  it("remembers an Idempotency-Key of readings that were all duplicates", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, 12.001, { source_id: "log-4:1" });
    const send = (value: number) =>
      api
        .post("/v1/readings")
        .set("idempotency-key", "k-4")
        .send(shop.reading(1, value, { source_id: "log-4:1" }));

    const first = await send(12.001);
    const again = await send(12.001);
    const other = await send(12.002);

    expect(again.text).toBe(first.text);
    expect(again.headers["idempotency-replayed"]).toBe("true");
    expect(other.status).toBe(422);
  });

  it("never corrects from a reading cut before the last change", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, 12.024);
    await shop.apply(4);

    const late = await shop.read(3, 12.025);

    expect(late.corrections.filter((row: { kind: string }) => row.kind === "change")).toEqual([]);
    expect(late.next.action).not.toBe("set_offset");
    expect(late.corrections[0].why).toContain("twice");
  });

  it("corrects a safe first cut in one move, and asks for nothing twice after the second cut", async () => {
    const shop = await runningBatch(api);
    await create(api, `/v1/registers/${shop.registers.radial}/entries`, {
      batch_id: shop.batch.batch_id,
      from_piece: 1,
      value: 0.1,
      reason: "safe first cut",
    });

    const first = await shop.read(1, 12.212);
    const applied = await shop.apply(1, { from_cut: 2 });
    const second = await shop.read(1, 12.001, { cut: 2 });

    expect(first.readings[0]).toMatchObject({ verdict: "nonconforming", disposition: "rework" });
    expect(first.corrections[0]).toMatchObject({ kind: "change", change: -0.106, value_after: -0.006 });
    expect(applied.correction.status).toBe("applied");
    expect(second.readings[0]).toMatchObject({ cut: 2, verdict: "conforming", disposition: "accept" });
    expect(await shop.proposals()).toEqual([]);
    expect(second.next).toMatchObject({ action: "measure", piece: 2 });
  });

  it("gives a piece that may be from before or after a change a verdict only", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, 12.024);
    await shop.apply(3);

    const unsure = await shop.read(4, 12.023, { piece_within: 3 });

    expect(unsure.readings[0]).toMatchObject({ verdict: "conforming", flags: ["piece_unsure"] });
    expect(await shop.proposals()).toEqual([]);
  });

  it("puts the history right where a log prints another offset than was believed", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, 12.024);
    await shop.apply(2);

    const printed = await shop.read(2, 12.023, { cut_with: [{ register_number: 7, value: 0 }] });

    expect((await shop.wear()).registers[0]).toMatchObject({ value_now: 0 });
    expect((await shop.wear()).registers[0].entries[0]).toMatchObject({
      value: 0,
      reason: "printed by the log",
      from_piece: 2,
    });
    expect(printed.corrections[0]).toMatchObject({ kind: "change", value_now: 0 });
    expect(printed.corrections[0].change).toBeCloseTo(-0.012, 3);
  });

  it("keeps one consistent history and one open proposal when two clients post to one tool at once", async () => {
    const shop = await runningBatch(api);
    const values = [12.02, 12.024, 12.022, 12.026];

    for (let round = 0; round < 20; round++) {
      const piece = 2 * round + 1;
      await Promise.all([
        shop.read(piece, values[round % 4]!),
        shop.read(piece + 1, values[(round + 1) % 4]!),
      ]);
      const open = await shop.proposals();
      expect(open.filter((row) => row.kind === "change").length).toBeLessThanOrEqual(1);
      if (open.length === 0) continue;
      const apply = () =>
        api.post(`/v1/corrections/${open[0].correction_id}/apply`).send({ from_piece: piece + 2 });
      const statuses = (await Promise.all([apply(), apply()])).map((response) => response.status).sort();
      expect(statuses).toEqual([200, 409]);
    }

    const { registers } = await shop.wear();
    const entries = [...registers[0].entries].reverse();
    const total = entries.reduce(
      (sum: number, entry: { change: number }) => sum + Math.round(entry.change * 1e6),
      0,
    );
    expect(total).toBe(Math.round(registers[0].value_now * 1e6));
    expect(await countReadings(shop.batch.batch_id)).toBe(40);
  });

  it("names the pieces on hold since the last good reading by a gauge that may prove it", async () => {
    const shop = await runningBatch(api);
    const probe = await create(api, "/v1/gauges", gaugeBody({ name: "probe", kind: "machine_probe" }));
    for (const piece of [1, 2, 3]) await shop.read(piece, 12.001);
    await shop.read(5, 12.001, { gauge_id: probe.gauge_id });

    const bad = await shop.read(8, 12.035);
    const again = await shop.read(8, 12.035);

    expect(bad.readings[0].flags).toEqual(["implausible"]);
    expect(again.readings[0]).toMatchObject({
      verdict: "nonconforming",
      hold: { from_piece: 4, to_piece: 8 },
    });
  });

  it("says what is wrong with a piece also where the rest of it has to be measured first", async () => {
    const limits = { nominal: "12", lower_deviation: -0.03, upper_deviation: 0.03 };
    const shop = await runningBatch(api, {
      features: [
        { ...limits, name: "Rib" },
        { ...limits, name: "Slot", characteristic: "13", kind: "internal" },
      ],
    });

    const answer = await shop.read(1, 12.035);

    expect(answer.next).toMatchObject({ action: "measure", piece: 1 });
    expect(answer.next.why).toMatch(
      /^12 Rib of piece 1 is 0.005 mm above the upper limit of 12.030 mm.*13 Slot/,
    );
  });

  it("marks readings of an overdue gauge: they may steer, but prove nothing", async () => {
    const shop = await runningBatch(api, { gauge: { calibration_due: "2020-01-01" } });

    const answer = await shop.read(1, 12.024);

    expect(answer.readings[0]).toMatchObject({
      verdict: "conforming",
      disposition: "remeasure",
      flags: ["gauge_overdue"],
    });
    expect(answer.corrections[0].kind).toBe("change");
  });
});

describe("GET /v1/readings", () => {
  it("pages through a batch in the order the readings came, and filters", async () => {
    const shop = await runningBatch(api);
    for (const piece of [1, 2, 3]) await shop.read(piece, 12.001);
    const get = async (query: string) =>
      (await api.get(`/v1/readings?batch_id=${shop.batch.batch_id}${query}`)).body;

    const first = await get("&limit=2");
    const second = await get(`&limit=2&cursor=${first.next_cursor}`);
    const one = await get("&piece=2");

    expect(first.items.map((item: { piece: number }) => item.piece)).toEqual([1, 2]);
    expect(second).toMatchObject({ next_cursor: null });
    expect(second.items.map((item: { piece: number }) => item.piece)).toEqual([3]);
    expect(one.items).toHaveLength(1);
  });
});
