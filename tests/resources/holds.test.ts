import { readFile } from "node:fs/promises";
import fc from "fast-check";
import { sql } from "kysely";
import { describe, expect, it } from "vitest";
import { findHolds, type ProofReading } from "../../src/core/containment/find-holds.js";
import { joinRanges } from "../../src/core/containment/piece-ranges.js";
import { showRanges } from "../../src/decision/hold-wire.js";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create, gaugeBody } from "../support/shop.js";

const { api, db } = await createTestApp();

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

async function get(path: string, status = 200): Promise<Answer> {
  const response = await api.get(path);
  expect(response.status, response.text).toBe(status);
  return response.body;
}
async function post(path: string, body: object, status: number): Promise<Answer> {
  const response = await api.post(path).send(body);
  expect(response.status, response.text).toBe(status);
  return response.body;
}

/** Good on 10, 20, 30 and 40, bad on 50: 12 ±0.03, one feature. */
async function heldBatch(options: Parameters<typeof runningBatch>[1] = {}) {
  const shop = await runningBatch(api, options);
  for (const piece of [10, 20, 30, 40]) await shop.read(piece, "12.001");
  await shop.read(50, "12.041");
  await shop.read(50, "12.041");
  const path = `/v1/batches/${shop.batch.batch_id}`;
  return {
    ...shop,
    path,
    holds: (query = "") => get(`${path}/holds${query}`),
    piece: (piece: number) => get(`${path}/pieces/${piece}`),
    decide: (piece: number, body: object, status = 201) =>
      post(`${path}/pieces/${piece}/decision`, body, status),
  };
}

describe("GET /v1/batches/{batch_id}/holds", () => {
  it("names the pieces in doubt, what caused it and what to measure next", async () => {
    const shop = await heldBatch();

    const holds = await shop.holds();

    expect(holds).toMatchObject({
      pieces_on_hold: 10,
      on_hold: [{ from_piece: 41, to_piece: 50 }],
      reworks: [],
    });
    expect(holds.items).toHaveLength(1);
    expect(holds.items[0]).toMatchObject({
      feature_id: shop.part.features[0].feature_id,
      state: "open",
      from_piece: 41,
      to_piece: 50,
      good_before: 40,
      good_after: null,
      bad: [{ from_piece: 50, to_piece: 50 }],
      because: [{ piece: 50, by_reference: true, reading_ids: [expect.any(String), expect.any(String)] }],
      measure_next: [{ piece: 45, rule: "halve", gauge_id: shop.gauge.gauge_id, at_most: 4 }],
    });
    expect(holds.items[0].measure_next[0].why).toContain(`Measure piece 45 with ${shop.gauge.name}`);
  });

  it("is released by good readings, from each back to the good ones before", async () => {
    const shop = await heldBatch();

    await shop.read(45, "12.002");
    await shop.read(51, "12.001");

    expect((await shop.holds()).on_hold).toEqual([{ from_piece: 46, to_piece: 50 }]);
    await shop.read(49, "12.003");
    expect((await shop.holds()).on_hold).toEqual([{ from_piece: 50, to_piece: 50 }]);
  });

  it("begins at once with what may be a misreading, as its answer says, and ends when two good ones outweigh it", async () => {
    const shop = await runningBatch(api);
    for (const piece of [10, 20, 30, 40]) await shop.read(piece, "12.001");
    const path = `/v1/batches/${shop.batch.batch_id}/holds`;

    const odd = await shop.read(50, "12.101");
    expect(odd.readings[0]).toMatchObject({
      verdict: "uncertain",
      flags: ["implausible"],
      hold: { from_piece: 41, to_piece: 50, provisional: true },
    });
    expect(odd.readings[0].hold.released_by).toContain(
      "Measure piece 50 again. With two good readings of it",
    );
    expect(odd.next).toMatchObject({ action: "measure", piece: 50 });
    expect(odd.next.why).toContain("Keep pieces 41 to 50 apart until it is settled");
    expect((await get(path)).on_hold).toEqual([{ from_piece: 41, to_piece: 50 }]);

    const second = await shop.read(50, "12.002");
    expect(second.readings[0].hold).toMatchObject({ from_piece: 41, to_piece: 50, provisional: true });
    expect(second.readings[0].hold.released_by).toContain("once more");
    expect((await get(path)).on_hold).toEqual([{ from_piece: 41, to_piece: 50 }]);

    const third = await shop.read(50, "12.001");
    expect(third.readings[0].hold).toMatchObject({ from_piece: 50, to_piece: 50, provisional: true });
    const held = await get(path);
    expect(held.on_hold).toEqual([{ from_piece: 50, to_piece: 50 }]);
    const ids = [second, third].map((answer) => answer.readings[0].reading_id);
    expect(held.items[0].because).toMatchObject([
      { reading_ids: [odd.readings[0].reading_id], contradicted_by: ids },
    ]);
    expect(held.items[0].why).toContain("void the misreading");

    await post(`/v1/readings/${odd.readings[0].reading_id}/void`, { reason: "burr" }, 200);
    expect((await get(path)).pieces_on_hold).toBe(0);
  });

  it("is final when the second reading of what surprised agrees with it", async () => {
    const shop = await runningBatch(api);
    for (const piece of [10, 20, 30, 40]) await shop.read(piece, "12.001");
    const odd = await shop.read(50, "12.101");

    const again = await shop.read(50, "12.102");

    expect(odd.readings[0].hold).toMatchObject({ provisional: true });
    expect(again.readings[0]).toMatchObject({
      verdict: "nonconforming",
      hold: { from_piece: 41, to_piece: 50, provisional: false, released_by: null },
    });
  });

  it("answers each reading with the hold that stands after it, whatever was read", async () => {
    const size = fc.constantFrom("12.001", "12.002", "12.041", "12.101");
    const anyReading = fc.record({ piece: fc.integer({ min: 1, max: 6 }), size });
    await fc.assert(
      fc.asyncProperty(fc.array(anyReading, { minLength: 1, maxLength: 8 }), async (readings) => {
        const shop = await runningBatch(api);
        for (const reading of readings) {
          const { readings: shown } = await shop.read(reading.piece, reading.size);
          const { items } = await get(`/v1/batches/${shop.batch.batch_id}/holds`);
          const mine = items.find(
            (hold: Answer) => hold.from_piece <= reading.piece && reading.piece <= hold.to_piece,
          );
          // Of a good piece inside a hold that others cause its own answer says nothing.
          const failed = mine?.because.some(({ piece }: Answer) => piece === reading.piece);
          if (!failed) expect(shown[0].hold).toBeNull();
          else
            expect([
              mine.from_piece <= shown[0].hold.from_piece,
              shown[0].hold.to_piece <= mine.to_piece,
            ]).toEqual([true, true]);
          if (failed && mine.because.length === 1)
            expect(shown[0].hold).toMatchObject({ from_piece: mine.from_piece, to_piece: mine.to_piece });
        }
      }),
      { numRuns: 25 },
    );
  });

  it("goes away with the reading that caused it, and stays while a failing one stands", async () => {
    const shop = await heldBatch();
    const [hold] = (await shop.holds()).items;
    const [first, second] = hold.because[0].reading_ids;

    await post(`/v1/readings/${first}/void`, { reason: "wrong piece" }, 200);
    expect((await shop.holds()).pieces_on_hold).toBe(10);
    await post(`/v1/readings/${second}/void`, { reason: "wrong piece" }, 200);

    expect(await shop.holds()).toMatchObject({ pieces_on_hold: 0, items: [] });
  });

  it("comes back when the good reading that ended it is voided", async () => {
    const shop = await heldBatch();
    const good = await shop.read(45, "12.002");

    await post(`/v1/readings/${good.readings[0].reading_id}/void`, { reason: "another piece" }, 200);

    expect((await shop.holds()).on_hold).toEqual([{ from_piece: 41, to_piece: 50 }]);
  });

  it("is neither released nor outvoted by a probe in the machine", async () => {
    const shop = await heldBatch();
    const probe = await create(
      api,
      "/v1/gauges",
      gaugeBody({ name: `${shop.gauge.name} probe`, kind: "machine_probe", reference: false }),
    );

    await shop.read(45, "12.002", { gauge_id: probe.gauge_id });
    await shop.read(51, "12.002", { gauge_id: probe.gauge_id });

    expect((await shop.holds()).on_hold).toEqual([{ from_piece: 41, to_piece: 51 }]);
  });

  it("asks for a reference gauge where only a probe has failed a piece", async () => {
    const shop = await runningBatch(api);
    const probe = await create(
      api,
      "/v1/gauges",
      gaugeBody({ name: `${shop.gauge.name} probe`, kind: "machine_probe", reference: false }),
    );
    await shop.read(1, "12.001");
    await shop.read(2, "12.041", { gauge_id: probe.gauge_id });

    const holds = await get(`/v1/batches/${shop.batch.batch_id}/holds`);

    expect(holds.items[0].measure_next).toMatchObject([
      { piece: 2, rule: "confirm", gauge_id: shop.gauge.gauge_id },
    ]);
  });

  it("lets a piece go that was cut again and is good, not the ones before it", async () => {
    const shop = await heldBatch();

    await shop.read(50, "12.001", { cut: 2 });

    expect((await shop.holds()).on_hold).toEqual([{ from_piece: 41, to_piece: 49 }]);
  });

  it("says how things stand: open, decided, released", async () => {
    const shop = await heldBatch();
    await shop.read(49, "12.001");
    await shop.read(51, "12.001");
    const states = async () => (await shop.holds()).items.map(({ state }: Answer) => state);
    expect(await states()).toEqual(["open"]);

    const { decisions } = await shop.decide(50, { decision: "scrap" });
    expect(await states()).toEqual(["decided"]);
    await post(`${shop.path}/decisions/${decisions[0].decision_id}/void`, { reason: "wrong piece" }, 200);
    await shop.read(50, "12.001", { cut: 2 });

    expect(await states()).toEqual(["released"]);
    expect((await shop.holds("?state=open")).items).toEqual([]);
  });

  it("pages through the holds in cutting order", async () => {
    const shop = await runningBatch(api);
    const list = Array.from({ length: 9 }, (_, i) => shop.reading(i + 1, i % 2 === 0 ? "12.001" : "12.041"));
    await create(api, "/v1/readings", list);
    const path = `/v1/batches/${shop.batch.batch_id}/holds`;

    const first = await get(`${path}?limit=3`);
    const second = await get(`${path}?limit=3&cursor=${first.next_cursor}`);

    expect([...first.items, ...second.items].map(({ from_piece }: Answer) => from_piece)).toEqual([
      2, 4, 6, 8,
    ]);
    expect(second.next_cursor).toBeNull();
  });

  it("are those of all readings together, though only the pieces around each doubt are looked up", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, "12.001");
    const { batch_id } = shop.batch;
    const { rows: columns } = await sql<{ list: string }>`
      select string_agg(quote_ident(column_name), ', ') as list from information_schema.columns
      where table_name = 'reading' and column_name not in
        ('reading_no', 'piece', 'cut', 'piece_within', 'fails', 'proves', 'verdict', 'gauge_reference',
          'gauge_deviation_mm', 'gauge_deviation_uncertainty_mm')`.execute(db);
    const same = sql.raw(columns[0]!.list);
    const anyReading = fc.record({
      piece: fc.integer({ min: 1, max: 30 }),
      cut: fc.constantFrom(1, 1, 1, 1, 2),
      within: fc.constantFrom(1, 1, 1, 1, 1, 3, 8),
      outcome: fc.constantFrom("good", "good", "bad", "bad", "probe_knows", "probe_bad", "unsure"),
    });
    await fc.assert(
      fc.asyncProperty(fc.array(anyReading, { maxLength: 40 }), async (drawn) => {
        const list = drawn.map((each, i) => ({
          ...each,
          within: Math.min(each.within, each.piece),
          no: i + 2,
        }));
        await sql`delete from reading where batch_id = ${batch_id} and reading_no > 1`.execute(db);
        await sql`
          insert into reading (${same}, reading_no, piece, cut, piece_within, fails, proves, verdict, gauge_reference,
            gauge_deviation_mm, gauge_deviation_uncertainty_mm)
          select ${same}, t.no, t.piece, t.cut, nullif(t.within, 1), t.outcome in ('bad', 'probe_bad'), t.outcome = 'good',
            case when t.outcome in ('bad', 'probe_bad') then 'nonconforming' when t.outcome = 'unsure' then 'uncertain'
              else 'conforming' end,
            not t.outcome like 'probe%', case when t.outcome like 'probe%' then 0.001 end,
            case when t.outcome like 'probe%' then 0.001 end
          from reading cross join jsonb_to_recordset(${JSON.stringify(list)}::jsonb)
            as t (no int, piece int, cut int, "within" int, outcome text)
          where batch_id = ${batch_id} and reading_no = 1`.execute(db);
        await sql`update batch set last_piece_cut = 31, version = version + 1 where batch_id = ${batch_id}`.execute(
          db,
        );
        const first = { no: 1, piece: 1, cut: 1, within: 1, outcome: "good" };
        const all = [first, ...list].map(
          ({ no, piece, cut, within, outcome }): ProofReading => ({
            readingNo: no,
            piece,
            earliest: piece - within + 1,
            cut,
            proves: outcome === "good",
            fails: outcome === "bad" || outcome === "probe_bad",
            byReference: !outcome.startsWith("probe"),
            vouches: outcome === "probe_knows",
          }),
        );

        const { items } = await get(`/v1/batches/${batch_id}/holds?limit=500`);

        const told = items.map((hold: Answer) => [
          hold.from_piece,
          hold.to_piece,
          hold.good_before,
          hold.good_after,
        ]);
        const expected = findHolds(all, 31).map((hold) => [
          hold.from,
          hold.to,
          hold.goodBefore ?? null,
          hold.goodAfter ?? null,
        ]);
        expect(told).toEqual(expected);
        expect(items.map((hold: Answer) => hold.bad)).toEqual(
          findHolds(all, 31).map(({ bad }) =>
            showRanges(joinRanges(bad.map(({ piece }) => ({ from: piece, to: piece })))),
          ),
        );
      }),
      { numRuns: 200 },
    );
  }, 60_000);

  it("returns 404 for a batch that does not exist", async () => {
    await get("/v1/batches/999999/holds", 404);
  });

  it("is the same whatever order the readings come in", async () => {
    const sizes: [number, string, object?][] = [
      [3, "12.002"],
      [6, "12.040"],
      [6, "12.004", { cut: 2 }],
      [8, "12.001"],
      [8, "12.041"],
      [11, "12.003"],
      [14, "11.960"],
      [15, "12.000"],
      [17, "12.033"],
    ];
    const holdsAfter = async (order: typeof sizes) => {
      const shop = await runningBatch(api);
      await post(`/v1/batches/${shop.batch.batch_id}/count`, { last_piece_cut: 20 }, 200);
      for (const [piece, size, more] of order) await shop.read(piece, size, more);
      const { on_hold, items } = await get(`/v1/batches/${shop.batch.batch_id}/holds`);
      return { on_hold, items: items.map(({ open, bad, state }: Answer) => ({ open, bad, state })) };
    };
    const inOrder = await holdsAfter(sizes);
    expect(inOrder.on_hold).toEqual([
      { from_piece: 4, to_piece: 5 },
      { from_piece: 7, to_piece: 10 },
      { from_piece: 12, to_piece: 14 },
      { from_piece: 16, to_piece: 20 },
    ]);

    await fc.assert(
      fc.asyncProperty(
        fc.shuffledSubarray(sizes, { minLength: sizes.length, maxLength: sizes.length }),
        async (order) => {
          expect(await holdsAfter(order)).toEqual(inOrder);
        },
      ),
      { numRuns: 12 },
    );
  }, 60_000);
});

describe("holds by seat, place and gauge", () => {
  it("let no seat of the fixture speak for another", async () => {
    const shop = await runningBatch(api, { seats: ["A", "B"] });
    for (const piece of [1, 2, 7, 8, 15]) await shop.read(piece, "12.001");
    await shop.read(16, "12.041");
    for (const piece of [17, 18]) await shop.read(piece, "12.001");

    const holds = await get(`/v1/batches/${shop.batch.batch_id}/holds`);

    const pieces = [10, 12, 14, 16].map((piece) => ({ from_piece: piece, to_piece: piece }));
    expect(holds).toMatchObject({ pieces_on_hold: 4, on_hold: pieces });
    expect(holds.items).toMatchObject([{ seat: "B", good_before: 8, good_after: 18, open: pieces }]);
  });

  it("doubt the other seats too, as long as they have no good piece in between", async () => {
    const shop = await runningBatch(api, { seats: ["A", "B"] });
    for (const piece of [1, 2]) await shop.read(piece, "12.001");
    await shop.read(6, "12.041");
    await shop.read(8, "12.001", { seat: "A" });

    const holds = await get(`/v1/batches/${shop.batch.batch_id}/holds`);

    // Piece 8 sat in A, whatever its number says: it ends the doubt about A.
    expect(holds.on_hold).toEqual([{ from_piece: 3, to_piece: 7 }]);
    expect(holds.items.map(({ seat, open }: Answer) => [seat, open.length])).toEqual([
      ["A", 3],
      ["B", 2],
    ]);
  });

  it("hold a piece for the place that failed, until that place is good", async () => {
    const shop = await runningBatch(api, {
      features: [{ nominal: "12", lower_deviation: -0.03, upper_deviation: 0.03, places: ["top", "bottom"] }],
    });
    const both = (piece: number, top: string, bottom: string) =>
      create(api, "/v1/readings", [
        shop.reading(piece, top, { place: "top" }),
        shop.reading(piece, bottom, { place: "bottom" }),
      ]);
    await both(1, "12.001", "12.002");
    await both(4, "12.001", "12.041");
    await shop.read(5, "12.001", { place: "top" });
    const path = `/v1/batches/${shop.batch.batch_id}`;

    const holds = await get(`${path}/holds`);
    const piece = await get(`${path}/pieces/4`);

    expect(holds.items).toMatchObject([{ place: "bottom", from_piece: 2, to_piece: 5 }]);
    expect(piece.features).toMatchObject([
      { place: "top", proof: "measured", disposition: "accept" },
      { place: "bottom", proof: "measured", disposition: "remeasure" }, // once only, and a surprise
    ]);
    await shop.read(5, "12.001", { place: "bottom" });
    await shop.read(3, "12.001", { place: "bottom" });
    expect((await get(`${path}/holds`)).on_hold).toEqual([{ from_piece: 4, to_piece: 4 }]);
  });

  it("stand for what passes or fails, is counted or lies somewhere, as for sizes", async () => {
    const plain = { nominal: undefined, lower_deviation: undefined, upper_deviation: undefined, cut_by: [] };
    const shop = await runningBatch(api, {
      features: [
        { nominal: "12", lower_deviation: -0.03, upper_deviation: 0.03 },
        {
          ...plain,
          characteristic: "2",
          kind: "go_no_go",
          gauged: "internal_thread",
          thread_standard: "iso_metric",
        },
        { ...plain, characteristic: "3", kind: "visual", gauge_id: null },
        { ...plain, characteristic: "4", kind: "count", lower_limit: 8, upper_limit: 8, gauge_id: null },
        { ...plain, characteristic: "5", kind: "position", upper_limit: 0.1 },
      ],
    });
    const unsized = { resolution: null, repeatability: null, expanded_uncertainty: null };
    const gauges = [
      gaugeBody({ name: `${shop.gauge.name} plug`, kind: "thread_gauge", ...unsized }),
      gaugeBody({ name: `${shop.gauge.name} machine`, kind: "coordinate_machine", resolution: 0.0001 }),
    ];
    const [plug, machine] = await Promise.all(gauges.map((gauge) => create(api, "/v1/gauges", gauge)));
    const about = (piece: number, place: number, rest: object) => ({
      batch_id: shop.batch.batch_id,
      feature_id: shop.part.features[place].feature_id,
      piece,
      ...rest,
    });
    for (const [piece, isGood] of [
      [1, true],
      [4, false],
    ] as const) {
      await create(api, "/v1/readings", [
        about(piece, 1, { result: isGood ? "pass" : "no_go_enters", gauge_id: plug.gauge_id }),
        about(piece, 2, { result: isGood ? "pass" : "fail" }),
        about(piece, 3, { count: isGood ? 8 : 7 }),
        about(piece, 4, { value: isGood ? 0.04 : 0.3, unit: "mm", gauge_id: machine.gauge_id }),
      ]);
    }
    const path = `/v1/batches/${shop.batch.batch_id}`;

    const holds = await get(`${path}/holds`);
    const piece = await get(`${path}/pieces/4`);
    const query = `machine_id=${shop.machine.machine_id}&quantity=20`;
    const ahead = await get(`/v1/parts/${shop.part.part_id}/outlook?${query}`);

    expect(holds.on_hold).toEqual([{ from_piece: 2, to_piece: 4 }]);
    expect(holds.items.map(({ characteristic }: Answer) => characteristic)).toEqual(["2", "3", "4", "5"]);
    expect(piece).toMatchObject({ disposition: "scrap", on_hold: true });
    expect(ahead.features.map(({ characteristic }: Answer) => characteristic)).toEqual(["12"]);
  });

  it("are not released by a gauge that a check shows off", async () => {
    const shop = await runningBatch(api);
    const when = (minute: number) => ({ measured_at: `2026-03-02T07:${minute}:00.000Z` });
    await shop.read(1, "12.001", when(10));
    await shop.read(4, "12.041", when(20));
    await shop.read(3, "12.001", when(30));
    const held = async () => (await get(`/v1/batches/${shop.batch.batch_id}/holds`)).on_hold;
    expect(await held()).toEqual([{ from_piece: 4, to_piece: 4 }]);

    await post(
      `/v1/gauges/${shop.gauge.gauge_id}/checks`,
      { at: "2026-03-02T07:40:00.000Z", standard: 12, reading: 11.98, unit: "mm" },
      201,
    );

    expect(await held()).toEqual([{ from_piece: 1, to_piece: 4 }]);
  });
});

describe("readings of before holds were kept", () => {
  it.each(["simple", "guarded_acceptance", "guarded_rejection", "iso_14253"])(
    "are judged by the migration as the service judges them: %s",
    async (decision_rule) => {
      const shop = await runningBatch(api, { part: { decision_rule } });
      const sizes = [
        "11.966",
        "11.968",
        "11.970",
        "11.972",
        "11.974",
        "12",
        "12.027",
        "12.03",
        "12.033",
        "12.034",
      ];
      for (const [i, size] of sizes.entries()) await shop.read(i + 1, size);
      const read = async () =>
        (
          await sql<{ fails: boolean; proves: boolean }>`select piece, fails, proves from reading
            where batch_id = ${shop.batch.batch_id} order by reading_no`.execute(db)
        ).rows;
      const judged = await read();
      const migration = await readFile(
        new URL("../../db/migrations/0013-add-holds.sql", import.meta.url),
        "utf8",
      );
      const statement = /with judged as[^;]*;/.exec(migration)![0];

      await sql`update reading set fails = not fails, proves = not proves`.execute(db);
      await sql.raw(statement).execute(db);

      expect(await read()).toEqual(judged);
      expect(new Set(judged.map(({ fails, proves }) => `${fails} ${proves}`)).size).toBeGreaterThan(1);
    },
  );
});

describe("decisions about pieces", () => {
  it("settles a range of pieces at once, and says what is left", async () => {
    const shop = await heldBatch();

    const answer = await post(
      `${shop.path}/decisions`,
      { pieces: [{ from_piece: 41, to_piece: 49 }], decision: "scrap", nonconformance: "N-7", by: "quality" },
      201,
    );

    expect(answer.decisions).toMatchObject([
      { from_piece: 41, to_piece: 49, decision: "scrap", nonconformance: "N-7", by: "quality", voided: null },
    ]);
    expect(answer).toMatchObject({ pieces_on_hold: 1, on_hold: [{ from_piece: 50, to_piece: 50 }] });
  });

  it.each(["use_as_is", "repair"])("lets %s only pass with an authority", async (decision) => {
    const shop = await heldBatch();

    const refused = await shop.decide(50, { decision }, 400);
    expect(refused.errors[0]).toMatchObject({ pointer: "/authority" });
    expect(refused.errors[0].detail).toContain("customer or the design authority");
    await shop.decide(50, { decision, authority: "customer, concession C-114" });

    expect((await shop.holds()).on_hold).toEqual([{ from_piece: 41, to_piece: 49 }]);
    expect(await shop.piece(50)).toMatchObject({ disposition: decision, on_hold: false });
  });

  it("opens a use as is again for a piece that fails once more", async () => {
    const shop = await heldBatch();
    await shop.decide(50, { decision: "use_as_is", authority: "customer" });

    await shop.read(50, "12.045");

    expect(await shop.piece(50)).toMatchObject({ disposition: "rework", on_hold: true });
  });

  it("wants a reworked piece measured again, by a repeat or another cut", async () => {
    for (const cut of [1, 2]) {
      const shop = await heldBatch();
      for (const piece of [49, 51]) await shop.read(piece, "12.001");
      await shop.decide(50, { decision: "rework", nonconformance: "N-7" });
      expect(await shop.holds()).toMatchObject({
        on_hold: [{ from_piece: 50, to_piece: 50 }],
        reworks: [{ pieces: [{ from_piece: 50, to_piece: 50 }] }],
      });
      expect((await shop.piece(50)).features[0]).toMatchObject({
        proof: "rework_due",
        disposition: "rework",
      });

      await shop.read(50, "12.002", { cut });

      expect(await shop.holds()).toMatchObject({ pieces_on_hold: 0, reworks: [] });
      expect(await shop.piece(50)).toMatchObject({ disposition: "accept", on_hold: false });
    }
  });

  it("does not take a reading of before the rework for one after it", async () => {
    const shop = await heldBatch();
    for (const piece of [49, 51]) await shop.read(piece, "12.001");
    await shop.decide(50, { decision: "rework" });

    await shop.read(50, "12.002", { measured_at: "2026-01-02T07:41:00Z" });

    expect((await shop.holds()).on_hold).toEqual([{ from_piece: 50, to_piece: 50 }]);
  });

  it("does not let a reworked piece speak for its neighbours", async () => {
    const shop = await heldBatch();
    await shop.decide(45, { decision: "rework" });

    await shop.read(45, "12.002");

    expect((await shop.holds()).on_hold).toEqual([
      { from_piece: 41, to_piece: 44 },
      { from_piece: 46, to_piece: 50 },
    ]);
  });

  it("keeps the history: the last one counts, a voided one no more, and both stay readable", async () => {
    const shop = await heldBatch();
    await shop.decide(50, { decision: "scrap", by: "shift A" });
    const { decisions } = await shop.decide(50, { decision: "use_as_is", authority: "customer" });
    expect((await shop.piece(50)).disposition).toBe("use_as_is");
    const path = `${shop.path}/decisions/${decisions[0].decision_id}/void`;

    const voided = await post(path, { reason: "meant piece 51", by: "quality" }, 200);
    const again = await post(path, { reason: "once more" }, 409);

    expect(voided.decisions[0].voided).toMatchObject({ reason: "meant piece 51", by: "quality" });
    expect(again.detail).toContain("was voided at");
    const piece = await shop.piece(50);
    expect(piece.disposition).toBe("scrap");
    expect(piece.decisions).toHaveLength(2);
    const listed = await get(`${shop.path}/decisions`);
    expect(listed.items.map(({ decision }: Answer) => decision)).toEqual(["scrap", "use_as_is"]);
  });

  it.each([
    ["a piece not yet cut", { pieces: [{ from_piece: 50, to_piece: 51 }] }, 422, "/pieces/0/to_piece"],
    ["a range the wrong way round", { pieces: [{ from_piece: 9, to_piece: 8 }] }, 400, "/pieces/0/to_piece"],
    [
      "a piece named twice",
      {
        pieces: [
          { from_piece: 5, to_piece: 8 },
          { from_piece: 8, to_piece: 9 },
        ],
      },
      400,
      "/pieces/1",
    ],
    ["no piece", { pieces: [] }, 400, "/pieces"],
    ["an unknown decision", { decision: "ship" }, 400, "/decision"],
    ["a feature of another part", { decision: "rework", measure_again: ["999999"] }, 422, "/measure_again/0"],
    ["what is measured again without a rework", { measure_again: ["1"] }, 400, "/measure_again"],
    ["a day ahead", { decided_at: "2100-01-01T00:00:00Z" }, 422, "/decided_at"],
  ])("refuses %s", async (_, change, status, pointer) => {
    const shop = await heldBatch();
    const body = { pieces: [{ from_piece: 50, to_piece: 50 }], decision: "scrap", ...change };

    const refused = await post(`${shop.path}/decisions`, body, status);

    expect(refused.errors[0].pointer).toBe(pointer);
    expect((await get(`${shop.path}/decisions`)).items).toEqual([]);
  });

  it("refuses a rework that leaves out what failed", async () => {
    const shop = await heldBatch({
      features: [
        { characteristic: "1", nominal: "12", lower_deviation: -0.03, upper_deviation: 0.03 },
        { characteristic: "2", nominal: "20", lower_deviation: -0.1, upper_deviation: 0.1 },
      ],
    });
    const [failed, other] = shop.part.features;
    const body = { decision: "rework", measure_again: [other.feature_id] };

    const refused = await shop.decide(50, body, 422);

    expect(refused.errors[0].detail).toContain(`characteristic 1 failed`);
    await shop.decide(50, { ...body, measure_again: [failed.feature_id] });
  });

  it("returns 404 for a batch or decision that does not exist", async () => {
    const shop = await heldBatch();

    await post(
      "/v1/batches/999999/decisions",
      { pieces: [{ from_piece: 1, to_piece: 1 }], decision: "scrap" },
      404,
    );
    await post(`${shop.path}/decisions/999999/void`, { reason: "x" }, 404);
    await get("/v1/batches/999999/decisions", 404);
  });
});

describe("POST /v1/batches/{batch_id}/close with pieces on hold", () => {
  it("returns 409 and lists them, until each is released or settled", async () => {
    const shop = await heldBatch();

    const refused = await post(`${shop.path}/close`, {}, 409);

    expect(refused.detail).toContain("10 pieces on hold: 41 to 50");
    expect(refused.errors[0].detail).toContain("pieces 41 to 50 are on hold");
    expect((await get(shop.path)).closed_at).toBeNull();
    await shop.read(49, "12.001");
    await shop.decide(50, { decision: "rework" });
    const waiting = await post(`${shop.path}/close`, {}, 409);
    expect(waiting.errors.map(({ detail }: Answer) => detail).join()).toContain("given to rework");
    await shop.read(50, "12.001", { cut: 2 });
    await post(`${shop.path}/close`, { by: "shift A" }, 200);
  });
});

describe("GET /v1/batches/{batch_id}/pieces/{piece}", () => {
  it("shows a measured piece with its readings, registers and edges", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, "12.024", { serial: "S-1" });
    await shop.apply(2);
    await shop.read(2, "12.001");

    const [first, second] = [1, 2].map((piece) => get(`/v1/batches/${shop.batch.batch_id}/pieces/${piece}`));

    expect(await first).toMatchObject({
      serials: ["S-1"],
      cuts: 1,
      disposition: "accept",
      on_hold: false,
      features: [{ proof: "measured", readings: [{ size: 12.024, verdict: "conforming" }], good_after: 2 }],
      registers: [{ register_id: shop.registers.radial, value: 0, from_piece: null }],
      edges: [{ tool_id: shop.tool.tool_id, number: 1, pieces_cut: 1 }],
      decisions: [],
    });
    expect(await second).toMatchObject({
      registers: [{ register_id: shop.registers.radial, value: -0.012, from_piece: 2, from_cut: 1 }],
    });
  });

  it("says that good pieces on both sides cover one that the plan left out, and by which rule", async () => {
    const shop = await runningBatch(api);
    for (const piece of [1, 2]) await shop.read(piece, "12.001");
    const due = (await shop.checks()).next_pieces;
    await shop.read(4, "12.001");

    const third = await get(`/v1/batches/${shop.batch.batch_id}/pieces/3`);

    expect(due).toContain(4);
    expect(third).toMatchObject({ disposition: "accept" });
    expect(third.features[0]).toMatchObject({
      proof: "covered",
      good_before: 2,
      good_after: 4,
      due: 4,
      rule: "earned",
      readings: [],
    });
    expect(third.features[0].why).toContain("2 good checks in a row: every 2 pieces");
  });

  it("says when a piece was due and not measured, or when nothing closes the gap yet", async () => {
    const shop = await runningBatch(api);
    for (const piece of [1, 2, 7]) await shop.read(piece, "12.001");
    await post(`/v1/batches/${shop.batch.batch_id}/count`, { last_piece_cut: 8 }, 200);
    const proofOf = async (piece: number) =>
      (await get(`/v1/batches/${shop.batch.batch_id}/pieces/${piece}`)).features[0];

    expect(await proofOf(3)).toMatchObject({ proof: "covered", due: 4 });
    expect(await proofOf(5)).toMatchObject({ proof: "missed", due: 4, disposition: "accept" });
    expect(await proofOf(8)).toMatchObject({ proof: "not_closed", disposition: "open", good_after: null });
  });

  it("leaves a critical feature that nobody measured open", async () => {
    const shop = await runningBatch(api, {
      features: [{ nominal: "12", lower_deviation: -0.03, upper_deviation: 0.03, importance: "critical" }],
    });
    for (const piece of [1, 2, 4]) await shop.read(piece, "12.001");

    const third = await get(`/v1/batches/${shop.batch.batch_id}/pieces/3`);

    expect(third).toMatchObject({ disposition: "open", on_hold: false });
    expect(third.features[0]).toMatchObject({ proof: "missed", rule: "critical" });
  });

  it("keeps a piece in doubt from being accepted, and names the worst of its features", async () => {
    const shop = await heldBatch();

    expect(await shop.piece(45)).toMatchObject({
      disposition: "remeasure",
      on_hold: true,
      features: [{ proof: "in_doubt" }],
    });
    expect(await shop.piece(50)).toMatchObject({
      disposition: "rework",
      on_hold: true,
      features: [{ proof: "measured", disposition: "rework" }],
    });
    expect(await shop.piece(40)).toMatchObject({ disposition: "accept", on_hold: false });
  });

  it("returns 404 for a piece that is not known to be cut", async () => {
    const shop = await heldBatch();

    const missing = await get(`${shop.path}/pieces/51`, 404);

    expect(missing.detail).toContain("the last one is 50");
    await get("/v1/batches/999999/pieces/1", 404);
    await get(`${shop.path}/pieces/0`, 404);
  });
});

describe("holds of long batches", () => {
  // Collected and sorted instead of walked to, the nearest good pieces would take minutes here.
  it("take time by what failed, however many readings there are and whatever is expected of them", async () => {
    for (const analyzed of [false, true]) {
      const shop = await runningBatch(api);
      await shop.read(1, "12.001");
      await sql`
        insert into reading (batch_id, reading_no, feature_id, piece, cut, repeat, value_mm, value_given, unit, gauge_id,
          gauge_variance, gauge_fit, gauge_reference, known_piece, verdict, disposition, target_mm, probability_conforming,
          flags, spring_pass, fails, proves)
        select ${shop.batch.batch_id}, n, ${shop.part.features[0].feature_id}, n, 1, 1, 12, '12', 'mm',
          ${shop.gauge.gauge_id}, 1e-6, true, true, n, 'conforming', 'accept', 12, 1, '{}', false, n % 50 = 0, n % 50 <> 0
        from generate_series(2, 40000) as n`.execute(db);
      await post(`/v1/batches/${shop.batch.batch_id}/count`, { last_piece_cut: 40_001 }, 200);
      if (analyzed) await sql`analyze reading`.execute(db);

      const holds = await get(`/v1/batches/${shop.batch.batch_id}/holds?limit=1`);

      expect(holds.pieces_on_hold).toBe(801); // 800 that failed, and the last one after them
    }
  }, 60_000);
});
