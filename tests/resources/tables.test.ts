import { sql } from "kysely";
import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { cellOf, plain, readTable } from "../support/read-table.js";
import { runningBatch } from "../support/running-batch.js";
import { create, gaugeBody } from "../support/shop.js";

const { api, db } = await createTestApp();

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;
type Shop = Awaited<ReturnType<typeof runningBatch>>;

const get = async (path: string): Promise<Answer> => {
  const response = await api.get(path);
  expect(response.status, response.text).toBe(200);
  return response.body;
};
const send = async (path: string, body: object): Promise<Answer> => {
  const response = await api.post(path).send(body);
  expect(response.status, response.text).toBeLessThan(300);
  return response.body;
};
const openBeside = (shop: Shop, name: string) =>
  create(api, "/v1/batches", { name, part_id: shop.part.part_id, machine_id: shop.machine.machine_id });
const count = (batchId: string, last_piece_cut: number) =>
  send(`/v1/batches/${batchId}/count`, { last_piece_cut });
const enter = (shop: Shop, body: object) =>
  create(api, `/v1/registers/${shop.registers.radial}/entries`, { batch_id: shop.batch.batch_id, ...body });

/** The table says of each item, in its order, what the list says: each flat member of it that is a column. */
function expectSame(rows: readonly Record<string, string>[], items: readonly Answer[]) {
  expect(rows).toHaveLength(items.length);
  for (const [index, item] of items.entries()) {
    for (const [column, cell] of Object.entries(rows[index]!)) {
      const value = item[column];
      if (value === undefined || (typeof value === "object" && value !== null)) continue;
      expect(typeof value === "string" ? plain(cell) : cell, column).toBe(cellOf(value));
    }
  }
}

/** Copies of a batch as it is, with the entries of its registers, which follow its own. */
async function copyBatch({ batch_id }: { batch_id: string }, copies: number) {
  await sql`
    with copy as (
      insert into batch (name, part_id, machine_id, last_piece_cut, start, created_at)
      select name || ' copy ' || n, part_id, machine_id, last_piece_cut, start, created_at
      from batch cross join generate_series(1, ${copies}::int) as n where batch_id = ${batch_id}
      returning batch_id
    )
    insert into register_entry (register_id, batch_id, from_piece, value_mm, origin, follows_entry_id)
    select register_id, copy.batch_id, from_piece, value_mm, origin, entry_id
    from copy cross join register_entry where register_entry.batch_id = ${batch_id}`.execute(db);
}

/** Every item of a list, page by page. */
async function listAll(path: string): Promise<Answer[]> {
  const items: Answer[] = [];
  for (let cursor: string | null = ""; cursor !== null; ) {
    const page: Answer = await get(`${path}${path.includes("?") ? "&" : "?"}limit=500${cursor}`);
    items.push(...page.items);
    cursor = page.next_cursor === null ? null : `&cursor=${page.next_cursor}`;
  }
  return items;
}

describe("pieces of an edge, a register or a correction, as a table", () => {
  it("says what the list says over all of its pages", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, 12.024);
    const { correction } = await shop.apply(2, { by: "-shift" });
    await count(shop.batch.batch_id, 9);
    await copyBatch(shop.batch, 1001);
    const { edge_id } = (await get(`/v1/tools/${shop.tool.tool_id}/edges`)).items[0];

    for (const [path, length] of [
      [`/v1/tools/${shop.tool.tool_id}/edges/${edge_id}/pieces`, 1002],
      [`/v1/registers/${shop.registers.radial}/pieces`, 2004],
      [`/v1/corrections/${correction.correction_id}/pieces`, 1002],
    ] as const) {
      const rows = await readTable(api, path);
      expect(rows, path).toHaveLength(length);
      expectSame(rows, await listAll(path));
    }
    const [, first] = await readTable(api, `/v1/registers/${shop.registers.radial}/pieces`);
    expect(first).toMatchObject({
      value: String(correction.value_set),
      correction_id: `'${correction.correction_id}`,
      by: "'-shift",
      to_cut: "",
    });
    expect(correction.value_set).toBeLessThan(0);
  });

  it("lets no name become a formula, a number or a date", async () => {
    const shop = await runningBatch(api);
    const names = ['=HYPERLINK("http://x")', "2-1", "+1", "@sum", "0012", 'a "b", c'];
    for (const name of names) await count((await openBeside(shop, name)).batch_id, 7);

    const rows = await readTable(api, `/v1/registers/${shop.registers.radial}/pieces?value=0`);

    expect(rows.map(({ batch }) => batch)).toEqual([
      ...names.slice(0, 5).map((name) => `'${name}`),
      'a "b", c',
    ]);
  });

  it("has its headers alone where there is nothing, and goes on from a cursor", async () => {
    const shop = await runningBatch(api);
    const path = `/v1/registers/${shop.registers.radial}/pieces`;
    expect(await readTable(api, path)).toEqual([]);
    await count(shop.batch.batch_id, 9);
    await enter(shop, { from_piece: 3, value: -0.01 });
    const { next_cursor } = await get(`${path}?limit=1`);

    const rows = await readTable(api, `${path}?cursor=${next_cursor}`);

    expect(rows).toMatchObject([{ value: "-0.01", from_piece: "3", to_piece: "9" }]);
  });

  it.each([
    ["/v1/registers/999999/pieces?format=csv", 404],
    ["/v1/gauges/999999/pieces?format=csv", 404],
    ["/v1/corrections/999999-1/pieces?format=csv", 404],
    ["/v1/tools/999999/edges/1/pieces?format=csv", 404],
    ["/v1/corrections?format=xlsx", 400],
    ["/v1/corrections?format=csv&cursor=zz", 400],
    ["/v1/readings?format=csv", 400],
  ])("answers %s with a problem, not with a table", async (path, status) => {
    const response = await api.get(path);
    expect(response.status).toBe(status);
    expect(response.headers["content-type"]).toContain("application/problem+json");
  });
});

describe("pieces of a gauge, as a table", () => {
  it("has one row for what goes on from one page to the next", async () => {
    const shop = await runningBatch(api);
    const beside = await openBeside(shop, `${shop.batch.name}-beside`);
    const at = (second: number) => new Date(Date.UTC(2026, 2, 2) + second * 1000).toISOString();
    const list = Array.from({ length: 5200 }, (_, i) =>
      shop.reading(1 + Math.floor(i / 2), 12, {
        source_id: `s${i}`,
        measured_at: at(i),
        ...(i < 3 && { batch_id: beside.batch_id }),
      }),
    );
    for (const part of [list.slice(0, 2600), list.slice(2600)])
      await create(api, "/v1/readings", part as never);
    const path = `/v1/gauges/${shop.gauge.gauge_id}/pieces`;

    const rows = await readTable(api, path);

    expect(rows).toMatchObject([
      { batch_id: beside.batch_id, readings: "3", first_at: at(0), last_at: at(2) },
      {
        batch_id: shop.batch.batch_id,
        from_piece: "2",
        to_piece: "2600",
        readings: "5197",
        first_at: at(3),
        last_at: at(5199),
      },
    ]);
    const within = `${path}?from=${at(100)}&to=${at(200)}`;
    expectSame(await readTable(api, within), (await get(within)).items);
  });
});

describe("GET /v1/corrections as a history", () => {
  /** One change applied and taken back by others, one applied, one declined, and what is open. */
  async function history() {
    const shop = await runningBatch(api);
    await shop.read(1, 12.024);
    const first = (await shop.apply(2, { by: "anna" })).correction;
    await shop.read(2, 12.001);
    const voided = await send(`/v1/corrections/${first.correction_id}/void`, {
      reason: "=keyed elsewhere",
      by: "ben",
    });
    expect(voided.correction.status).toBe("superseded");
    const [open] = (await shop.proposals()).filter(({ kind }) => kind === "change");
    if (open)
      await send(`/v1/corrections/${open.correction_id}/decline`, { reason: "tool change", by: "cleo" });
    return { shop, first };
  }

  it("says by whom, when, why, from which piece, what was predicted and what was set", async () => {
    const { shop, first } = await history();
    const path = `/v1/corrections?tool_id=${shop.tool.tool_id}`;

    const rows = await readTable(api, path);

    const { items } = await get(path);
    expectSame(rows, items);
    const [feature] = items[0].features;
    expect(rows[0]).toMatchObject({
      correction_id: `'${first.correction_id}`,
      batch: shop.batch.name,
      tool: shop.tool.name,
      status: "superseded",
      applied_by: "anna",
      by: "ben",
      reason: "'=keyed elsewhere",
      from_piece: "2",
      value_set: String(first.value_set),
      change: String(first.change),
      expected_before: String(feature.expected_before),
      expected_after: String(feature.expected_after),
      feature_unit: "mm",
    });
    expect(items[0]).toMatchObject({ applied_by: "anna", applied_at: first.ended_at ?? expect.any(String) });
  });

  it("gives what one that counts has promised, and what was found", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, 12.024);
    await shop.apply(2);
    await shop.read(2, 12.003);
    const path = `/v1/corrections?batch_id=${shop.batch.batch_id}&status=applied`;

    const [row] = await readTable(api, path);

    const { outcome } = (await get(path)).items[0];
    const { promised, first_size, mean_size, off_promise, pieces } = outcome.features[0];
    expect(row).toMatchObject({
      promised: String(promised),
      first_size: String(first_size),
      mean_size: String(mean_size),
      off_promise: String(off_promise),
      pieces: pieces.join(" "),
      first_piece: "2",
      until_piece: "",
    });
  });

  it("goes by who did something, and by when that was", async () => {
    const { shop, first } = await history();
    const path = `/v1/corrections?batch_id=${shop.batch.batch_id}`;
    const ids = async (query: string) =>
      (await get(`${path}${query}`)).items.map(({ correction_id }: Answer) => correction_id);
    const id = first.correction_id;

    expect(await ids("&by=anna")).toEqual([id]);
    expect(await ids("&by=ben")).toEqual([id]);
    expect(await ids("&by=nobody")).toEqual([]);
    const [, no] = id.split("-");
    await sql`
      update register_entry set created_at = '2026-03-02T08:00:00Z'
      where batch_id = ${shop.batch.batch_id} and correction_no = ${Number(no)}`.execute(db);
    await sql`
      update correction set ended_at = '2026-04-02T08:00:00Z'
      where batch_id = ${shop.batch.batch_id} and correction_no = ${Number(no)}`.execute(db);
    const march = "&from=2026-03-02T08:00:00Z&to=2026-03-02T08:00:00.001Z";
    const april = "&from=2026-04-02T08:00:00Z&to=2026-04-03T00:00:00Z";
    expect(await ids(march)).toEqual([id]);
    expect(await ids(april)).toEqual([id]);
    expect(await ids(`${march}&by=anna`)).toEqual([id]);
    expect(await ids(`${march}&by=ben`)).toEqual([]);
    expect(await ids(`${april}&by=ben`)).toEqual([id]);
    expect(await ids("&from=2026-03-02T08:00:00.001Z&to=2026-04-02T08:00:00Z")).toEqual([]);
    expect((await readTable(api, `${path}${march}`)).map((row) => row.applied_at)).toEqual([
      "2026-03-02T08:00:00.000Z",
    ]);
  });

  it("goes on beyond the largest page", async () => {
    const { shop } = await history();
    const { batch_id } = shop.batch;
    await sql`
      insert into correction (batch_id, correction_no, kind, status, subject, tool_id, piece, change_mm, reading_nos,
        features, why, arithmetic, cautions, reason)
      select ${batch_id}, 1000 + n, 'measure_again', 'superseded', 's' || n, ${shop.tool.tool_id}, n, 0, '{1}', '[]', '-why', '{}',
        '{}', n::text
      from generate_series(1, 1200) as n`.execute(db);
    const path = `/v1/corrections?batch_id=${batch_id}`;

    const rows = await readTable(api, path);

    const items = await listAll(path);
    expect(items.length).toBeGreaterThan(1200);
    expectSame(rows, items);
    expect(rows.at(-1)).toMatchObject({ piece: "1200", why: "'-why", feature_id: "", promised: "" });
  });
});

describe("GET /v1/readings as a table", () => {
  it("lists what was voided with what it said, who voided it, when and why", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, "12.001");
    const slip = (await shop.read(2, "12.24", { taken_by: "@anna", serial: "0012" })).readings[0];
    await send(`/v1/readings/${slip.reading_id}/void`, { reason: "=12.24 for 12.024", by: "-ben" });
    await shop.read(2, "12.024");
    const path = `/v1/readings?batch_id=${shop.batch.batch_id}`;

    const { items } = await get(`${path}&voided=true`);
    const rows = await readTable(api, `${path}&voided=true`);

    expect(items).toMatchObject([
      {
        reading_id: slip.reading_id,
        size: 12.24,
        verdict: slip.verdict,
        disposition: slip.disposition,
        voided: { at: expect.any(String), by: "-ben", reason: "=12.24 for 12.024" },
      },
    ]);
    expectSame(rows, items);
    expect(rows[0]).toMatchObject({
      reading_id: `'${slip.reading_id}`,
      batch: shop.batch.name,
      gauge: shop.gauge.name,
      serial: "'0012",
      size: "12.24",
      verdict: slip.verdict,
      taken_by: "'@anna",
      voided_at: items[0].voided.at,
      voided_by: "'-ben",
      void_reason: "'=12.24 for 12.024",
    });
    const others = await get(`${path}&voided=false`);
    expect(others.items.map(({ size }: Answer) => size)).toEqual([12.001, 12.024]);
    expect((await get(path)).items).toHaveLength(3);
    expect(await readTable(api, `/v1/readings?gauge_id=${shop.gauge.gauge_id}&voided=true`)).toEqual(rows);
    expect((await api.get(`${path}&voided=yes`)).status).toBe(400);
  });

  it("says what the list says over all of its pages, of a batch and of a gauge, numbers below 0 as numbers", async () => {
    const other = await runningBatch(api);
    const gauge = await create(api, "/v1/gauges", gaugeBody({ name: `${other.batch.name} second` }));
    const list = Array.from({ length: 1100 }, (_, i) =>
      other.reading(1 + i, 12 - (i % 7) / 1000, {
        source_id: `s${i}`,
        gauge_id: gauge.gauge_id,
        measured_at: "2026-03-02T08:00:00Z",
      }),
    );
    await create(api, "/v1/readings", list as never);

    for (const path of [
      `/v1/readings?batch_id=${other.batch.batch_id}`,
      `/v1/readings?gauge_id=${gauge.gauge_id}`,
    ]) {
      const rows = await readTable(api, path);
      expect(rows).toHaveLength(1100);
      expectSame(rows, await listAll(path));
    }
    const [, second] = await readTable(api, `/v1/readings?batch_id=${other.batch.batch_id}`);
    expect(second).toMatchObject({ deviation: "-0.001", source_id: "s1", voided_at: "" });
  });
});
