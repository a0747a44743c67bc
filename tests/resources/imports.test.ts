import { readFileSync } from "node:fs";
import { request } from "node:http";
import { connect } from "node:net";
import { text } from "node:stream/consumers";
import fc from "fast-check";
import { sql } from "kysely";
import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create } from "../support/shop.js";

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

const { api, db, app } = await createTestApp();
let layouts = 0;

const columns = {
  piece: "Piece",
  characteristic: "Feature",
  value: "Actual",
  lower_limit: "Low",
  upper_limit: "High",
  result: "Result",
};
const longTable = {
  format: "table",
  unit: "mm",
  table: { separator: ",", columns },
  translate: { characteristic: { WIDTH: "12", DEPTH: "13" } },
};
const features = [
  { characteristic: "12", nominal: "12", lower_deviation: -0.03, upper_deviation: 0.03 },
  { characteristic: "13", nominal: "5", lower_deviation: -0.05, upper_deviation: 0.05, cut_by: [] },
];
const header = "Piece,Feature,Actual,Low,High,Result\n";
const row = (piece: number, value: string, result = "pass", feature = "WIDTH") =>
  `${piece},${feature},${value},11.97,12.03,${result}\n`;
const threeRows = header + row(1, "12.003") + row(2, "12.004") + row(3, "12.005");

async function createLayout(layout: object): Promise<string> {
  const { layout_id } = await create(api, "/v1/log-layouts", { name: `layout ${++layouts}`, ...layout });
  return layout_id;
}

async function setUp(layout: object = longTable, options: object = {}) {
  const shop = await runningBatch(api, { features, ...options });
  const layout_id = await createLayout(layout);
  return { ...shop, layout_id, query: { layout_id, batch_id: shop.batch.batch_id as string } };
}

function send(path: string, body: string | Buffer, headers: Record<string, string> = {}) {
  return api
    .post(path)
    .set({ "content-type": "application/octet-stream", ...headers })
    .send(Buffer.from(body as string));
}
const post = (query: object, body: string | Buffer, headers: Record<string, string> = {}) =>
  send(`/v1/readings/imports?${new URLSearchParams(query as Record<string, string>)}`, body, headers);
const goOn = (importId: string, offset: number, body: string | Buffer, last = false) =>
  send(`/v1/imports/${importId}/content?offset=${offset}&last=${last}`, body);

async function readings(batchId: string): Promise<string[]> {
  const { body } = await api.get(`/v1/readings?batch_id=${batchId}&limit=500`);
  return body.items.map((item: Answer) =>
    [item.characteristic, item.piece, item.value, item.unit, item.serial, item.verdict].join(" "),
  );
}
const valuesOf = async (batchId: string) =>
  (await readings(batchId)).map((text) => text.split(" ").slice(0, 3).join(" "));
const linesOf = async (importId: string, state = "refused"): Promise<Answer[]> =>
  (await api.get(`/v1/imports/${importId}/lines?state=${state}`)).body.items;

describe("POST /v1/readings/imports", () => {
  it("takes features in that a machine has measured and publishes, and nothing of a document that breaks off", async () => {
    const { query, batch } = await setUp({
      format: "mtconnect",
      piece_from: "count",
      translate: { characteristic: { SLOT: "12" } },
    });
    const document = (cells: string) =>
      `<MTConnectStreams xmlns="urn:mtconnect.org:MTConnectStreams:2.0"><Streams><DeviceStream uuid="m"><ComponentStream componentId="c"><Events><FeatureMeasurementTable dataItemId="f" sequence="4" timestamp="2026-03-11T05:59:59Z">
<Entry key="SLOT">${cells}</Entry>
<Entry key="OTHER"><Cell key="MEASUREMENT_VALUE">1.5</Cell></Entry></FeatureMeasurementTable></Events></ComponentStream></DeviceStream></Streams></MTConnectStreams>`;
    const whole = document(
      '<Cell key="MEASUREMENT_VALUE">12.0312</Cell><Cell key="MEASUREMENT_UNITS">MILLIMETER</Cell><Cell key="CHARACTERISTIC_STATUS">PASS</Cell>',
    );

    const broken = await post({ ...query, first_piece: 1 }, whole.slice(0, whole.indexOf("</Events>")));
    const { status, body } = await post({ ...query, first_piece: 1 }, whole);
    const again = await post({ ...query, first_piece: 1 }, whole);
    const retried = await api.post(`/v1/imports/${body.import_id}/retry`);

    expect(broken.status).toBe(422);
    expect(broken.body.detail).toMatch(/Line 3, column \d+: unclosed tag/);
    expect(status).toBe(201);
    expect(body).toMatchObject({ accepted: 1, results_differ: 1, refused: [{ line: 3 }] });
    expect(await readings(batch.batch_id)).toEqual(["12 1 12.0312 mm  nonconforming"]);
    expect(again.body).toMatchObject({ accepted: 0, duplicates: 1 });
    expect(retried.status).toBe(200);
    expect(retried.body.refused).toMatchObject([
      { line: 3, reason: expect.stringContaining("1.5 mm or 1.5 inch") },
    ]);
  });

  it("takes DMIS output in, each reported tolerance by the name that the layout translates", async () => {
    const { query, batch } = await setUp({
      format: "dmis",
      piece_from: "serial",
      translate: { characteristic: { "SLOT1 WIDTH": "12" } },
    });
    const file = [
      "UNITS/MM,ANGDEC",
      "F(SLOT1)=FEAT/PARPLN,INNER,MIDPL,CART,10,0,-3,0,1,0,12.000",
      "T(WIDTH)=TOL/WIDTH,-0.03,0.03",
      "PS(1)=PARTSER/'0007'",
      "OUTPUT/FA(SLOT1),TA(WIDTH)",
      "FA(SLOT1)=FEAT/PARPLN,INNER,MIDPL,CART,10,0,-3,0,1,0,12.0312",
      "TA(WIDTH)=TOL/WIDTH,0.0312,OUTOL",
      "TA(OTHER)=TOL/WIDTH,'none'",
      "PS(2)=PARTSER/'0008'",
      "FA(SLOT1)=FEAT/PARPLN,INNER,MIDPL,CART,10,0,-3,0,1,0,12.0120",
      "OUTPUT/FA(SLOT1),TA(WIDTH)",
      "TA(WIDTH)=TOL/WIDTH,0.0120, $",
      "  INTOL",
      "ENDFIL",
    ].join("\n");

    const { status, body } = await post(query, file);
    const { body: again } = await post(query, file);

    expect(status).toBe(201);
    expect(body).toMatchObject({ accepted: 2, refused: [{ line: 8 }] });
    expect(await readings(batch.batch_id)).toEqual([
      "12 1 12.0312 mm 0007 nonconforming",
      "12 2 12.012 mm 0008 conforming",
    ]);
    expect(again).toMatchObject({ accepted: 0, duplicates: 2 });
  });

  it("takes each reading of a table in, with what the file says beside our verdict", async () => {
    const { query, batch } = await setUp();

    const { status, body } = await post(
      query,
      header + row(1, "12.031", "pass") + row(2, "12.029") + row(3, "12.028"),
    );

    expect(status).toBe(201);
    expect(body).toMatchObject({
      status: "complete",
      accepted: 3,
      duplicates: 0,
      refused_count: 0,
      lines: 4,
    });
    expect(body.verdicts).toEqual({ conforming: 2, nonconforming: 1, uncertain: 0 });
    expect(body.results_differ).toBe(1);
    expect(body.limits_differ).toBe(0);
    expect(body.next_checks).toHaveLength(1);
    expect(await valuesOf(batch.batch_id)).toEqual(["12 1 12.031", "12 2 12.029", "12 3 12.028"]);
    const beside = await api.get(`/v1/imports/${body.import_id}/readings`);
    expect(beside.body.items[0]).toMatchObject({
      line: 2,
      verdict: "nonconforming",
      upper_limit: 12.03,
      said: { upper_limit: "12.03", within: false, result: "pass" },
    });
  });

  it("notes with the last reading that its line has no end", async () => {
    const { query } = await setUp();

    const { body } = await post(query, `${header}${row(1, "12.003")}2,WIDTH,12.0,11.97,12.03,pass`);

    const { items } = (await api.get(`/v1/imports/${body.import_id}/readings`)).body;
    expect(items.map(({ said }: Answer) => said.notes)).toEqual([
      [],
      ["its line has no end: the file may be cut off there"],
    ]);
  });

  it("decides and advises as the same readings posted one by one would have", async () => {
    const [imported, posted] = [await setUp(), await setUp()];
    const values = [12.001, 12.012, 12.014, 12.013, 12.015, 12.014];

    const { body } = await post(
      imported.query,
      header + values.map((value, i) => row(i + 1, value.toFixed(3))).join(""),
    );
    let last: Answer;
    for (const [i, value] of values.entries()) last = await posted.read(i + 1, value);

    const withoutIds = ({ change, value_after, why, arithmetic }: Answer) => ({
      change,
      value_after,
      why,
      arithmetic,
    });
    expect(body.corrections.filter((c: Answer) => c.status === "proposed").map(withoutIds)).toEqual(
      last.corrections.filter((c: Answer) => c.status === "proposed").map(withoutIds),
    );
    expect(body.next.action).toBe(last.next.action);
    expect((await readings(imported.batch.batch_id)).length).toBe(values.length);
    expect(await readings(imported.batch.batch_id)).toEqual(await readings(posted.batch.batch_id));
  });

  it("gives each reading once for the same file, the file grown by ten lines and overlapping files", async () => {
    const { query, batch } = await setUp();
    const rows = Array.from({ length: 30 }, (_, i) => row(i + 1, `12.00${i % 7}`));
    const file = (from: number, to: number) => header + rows.slice(from, to).join("");

    const counts: number[][] = [];
    for (const body of [file(0, 15), file(0, 15), file(0, 25), file(20, 30), file(10, 30)]) {
      const answer = await post(query, body);
      counts.push([answer.body.accepted, answer.body.duplicates, answer.body.refused_count]);
    }

    expect(counts).toEqual([
      [15, 0, 0],
      [0, 15, 0],
      [10, 15, 0],
      [5, 5, 0],
      [0, 20, 0],
    ]);
    expect(await readings(batch.batch_id)).toHaveLength(30);
  });

  it("keeps lines that can't be read or taken, numbered and with the reason, and takes the others", async () => {
    const { query, batch } = await setUp(longTable, { quantity: 10 });
    const body = `${header}1,WIDTH,12.003,,,\n2,WIDTH,"12,004",,,\n3,WIDHT,12.005,,,\n11,WIDTH,12.001,,,\nx,WIDTH,12.001,,,\n4,WIDTH,n/a,,,\n5,WIDTH,12.006,,,\n`;

    const answer = await post(query, body);

    expect(answer.body).toMatchObject({ accepted: 2, refused_count: 4, not_measured: 1 });
    expect(answer.body.refused.map(({ line, reason }: Answer) => [line, reason])).toEqual([
      [3, expect.stringContaining("12.004 with a decimal comma")],
      [4, expect.stringContaining('"WIDHT" is not on')],
      [5, expect.stringContaining("beyond the 10 pieces")],
      [6, expect.stringContaining("x is no number")],
    ]);
    expect(answer.body.refused[0].text).toBe('2,WIDTH,"12,004",,,');
    expect(await linesOf(answer.body.import_id)).toEqual(answer.body.refused);
    expect((await linesOf(answer.body.import_id, "not_measured")).map(({ line }) => line)).toEqual([7]);
    expect(await valuesOf(batch.batch_id)).toEqual(["12 1 12.003", "12 5 12.006"]);
  });

  it("reads the refused lines again by the mended layout, each once", async () => {
    const { query, batch, layout_id } = await setUp();
    const body = `${header}1,WIDTH,12.003,,,\n2,WIDTH,"12,004",,,\n3,BREADTH,12.005,,,\n4,WIDTH,12.006,,,\n5,WIDTH,oops,,,\n`;
    const { body: first } = await post(query, body);
    const { layout } = (await api.get(`/v1/log-layouts/${layout_id}`)).body;
    const mended = {
      ...layout,
      decimal_sign: "both",
      translate: { characteristic: { WIDTH: "12", BREADTH: "12" } },
    };
    await api.put(`/v1/log-layouts/${layout_id}`).send(mended).expect(200);

    const retried = await api.post(`/v1/imports/${first.import_id}/retry`);
    const again = await api.post(`/v1/imports/${first.import_id}/retry`);

    expect(first).toMatchObject({ accepted: 2, refused_count: 3 });
    expect(retried.status).toBe(200);
    expect(retried.body).toMatchObject({ accepted: 4, refused_count: 1, duplicates: 0 });
    expect(retried.body.refused.map(({ line }: Answer) => line)).toEqual([6]);
    expect(again.body).toMatchObject({ accepted: 4, refused_count: 1, duplicates: 0 });
    expect((await linesOf(first.import_id, "mended")).map(({ line }) => line)).toEqual([3, 4]);
    expect(await valuesOf(batch.batch_id)).toEqual([
      "12 1 12.003",
      "12 4 12.006",
      "12 2 12.004",
      "12 3 12.005",
    ]);
    expect((await post(query, body)).body).toMatchObject({ accepted: 0, duplicates: 4, refused_count: 1 });
  });

  it("says in a dry run what would be, and keeps nothing", async () => {
    const { query, batch } = await setUp();

    const dry = await post({ ...query, dry_run: "true" }, `${threeRows}4,WIDTH,oops,,,\n`);
    const real = await post(query, `${threeRows}4,WIDTH,oops,,,\n`);

    expect(dry.status).toBe(200);
    expect(dry.body).toMatchObject({ import_id: null, accepted: 3, refused_count: 1, next: null });
    for (const count of ["accepted", "refused_count", "verdicts", "lines", "refused"])
      expect(dry.body[count]).toEqual(real.body[count]);
    expect(await readings(batch.batch_id)).toHaveLength(3);
    expect((await api.get(`/v1/imports?batch_id=${batch.batch_id}`)).body.items).toHaveLength(1);
  });

  it("counts equal lines without a time once and lists them, unless they have a number of their own", async () => {
    const [plain, numbered] = [
      await setUp(),
      await setUp({ ...longTable, table: { separator: ",", columns: { ...columns, record: "No" } } }),
    ];

    const once = await post(plain.query, header + row(1, "12.003") + row(1, "12.003") + row(1, "12.004"));
    const both = await post(
      numbered.query,
      `No,${header}1,${row(1, "12.003")}2,${row(1, "12.003")}3,${row(1, "12.004")}`,
    );

    expect(once.body).toMatchObject({ accepted: 2, repeated: 1 });
    expect(
      (await linesOf(once.body.import_id, "repeated")).map(({ line, reason }) => [line, reason]),
    ).toEqual([[3, expect.stringContaining("the very same as line 2")]]);
    expect(both.body).toMatchObject({ accepted: 3, repeated: 0 });
    expect((await post(numbered.query, `No,${header}2,${row(1, "12.003")}`)).body).toMatchObject({
      accepted: 0,
      duplicates: 1,
    });
  });

  it("knows a reading that was posted with its time before", async () => {
    const { query, batch, read } = await setUp({
      ...longTable,
      time_zone: "Europe/Berlin",
      table: { separator: ",", columns: { ...columns, measured_at: "Time" } },
    });
    await read(1, 12.003, { measured_at: "2026-03-02T07:41:00Z" });

    const { body } = await post(
      query,
      `Time,${header}2026-03-02 08:41:00,${row(1, "12.003")}2026-03-02 08:42:00,${row(2, "12.003")}`,
    );

    expect(body).toMatchObject({ accepted: 1, duplicates: 1 });
    expect(await readings(batch.batch_id)).toHaveLength(2);
  });

  it("numbers pieces by their serial numbers in the order of the file, refused and unmeasured ones too", async () => {
    const layout = {
      format: "table",
      unit: "mm",
      piece_from: "serial",
      table: { separator: ";", columns: { serial: "SN", characteristic: "Feature", value: "Actual" } },
    };
    const { query, batch } = await setUp(layout);

    await post(query, "SN;Feature;Actual\nA-7;12;12.001\nA-9;12;oops\nA-8;12;\nA-6;12;12.002\n");
    await post(query, "SN;Feature;Actual\nA-9;12;12.003\nA-5;12;12.004\nA-7;13;5.001\n");

    expect(await readings(batch.batch_id)).toEqual([
      "12 1 12.001 mm A-7 conforming",
      "12 4 12.002 mm A-6 conforming",
      "12 2 12.003 mm A-9 conforming",
      "12 5 12.004 mm A-5 conforming",
      "13 1 5.001 mm A-7 conforming",
    ]);
  });

  it("counts a gauge's bare numbers from the piece named on, and stops counting at a line that may be one", async () => {
    const layout = {
      format: "gauge_lines",
      unit: "mm",
      piece_from: "count",
      constants: { characteristic: "12" },
    };
    const { query, batch, layout_id } = await setUp(layout);

    const missing = await post(query, "12.001\r12.002\r");
    const { body } = await post(
      { ...query, first_piece: "5" },
      "12.001\r12.002\r---\r12.003\rgarbled\r12.004\r",
    );
    const mended = { ...layout, name: `mended ${layout_id}`, rules: [{ kind: "skip", pattern: "^garbled" }] };
    await api.put(`/v1/log-layouts/${layout_id}`).send(mended).expect(200);
    const retried = await api.post(`/v1/imports/${body.import_id}/retry`);

    expect(missing.status).toBe(422);
    expect(missing.body.errors[0].pointer).toBe("first_piece");
    expect(body).toMatchObject({ accepted: 3, not_measured: 1, refused_count: 2 });
    expect(body.refused[1].reason).toContain("line 5 can't be read, and may have been a piece");
    expect(retried.body).toMatchObject({ accepted: 4, refused_count: 0 });
    expect(await valuesOf(batch.batch_id)).toEqual([
      "12 5 12.001",
      "12 6 12.002",
      "12 8 12.003",
      "12 9 12.004",
    ]);
  });

  it("enters offsets that a log prints in the history, and refuses a line whose register there isn't", async () => {
    const layout = {
      format: "text",
      unit: "mm",
      rules: [
        {
          kind: "record",
          pattern:
            "^P(?P<piece>\\d+) (?P<characteristic>\\d+) (?P<value>\\S+) D7=(?P<offset_7>\\S+) D99=(?P<offset_99>\\S*)$",
        },
      ],
    };
    const { query, batch, wear } = await setUp(layout);

    const { body } = await post(
      query,
      "P1 12 12.001 D7=0.000 D99=\nP2 12 12.002 D7=-0.010 D99=\nP3 12 12.001 D7=-0.010 D99=1.5\n",
    );

    expect(body).toMatchObject({ accepted: 2, refused_count: 1 });
    expect(body.refused[0]).toMatchObject({ line: 3, reason: expect.stringContaining("no register 99") });
    expect((await wear()).registers[0]).toMatchObject({ value_now: -0.01 });
    expect(await readings(batch.batch_id)).toHaveLength(2);
  });

  it("takes places, seats and the batch by its name from the file", async () => {
    const layout = {
      format: "json_lines",
      translate: { batch: { RUN1: "nothing" } },
      members: {
        batch: "job",
        piece: "part.no",
        characteristic: "feature",
        value: "size.value",
        unit: "size.unit",
        place: "at",
      },
    };
    const shop = await runningBatch(api, { features: [{ ...features[0], places: ["top", "bottom"] }] });
    const layout_id = await createLayout(layout);
    const line = (at: string | null, value: number, job = shop.batch.name) =>
      `${JSON.stringify({ job, part: { no: 1 }, feature: "12", size: { value, unit: "mm" }, at })}\n`;

    const { body } = await post(
      { layout_id },
      line("top", 12.001) + line("bottom", 12.002) + line(null, 12.003) + line("top", 12.004, "elsewhere"),
    );

    expect(body).toMatchObject({ accepted: 2, refused_count: 2 });
    expect(body.refused.map(({ faults }: Answer) => faults[0].field)).toEqual(["place", "batch"]);
    const inAnother = await setUp();
    const mixed = await post({ ...inAnother.query, layout_id }, line("top", 12.001));
    expect(mixed.body.refused[0].reason).toContain(`says batch "${shop.batch.name}"`);
  });

  it("nul-01: stores no NUL, whether it comes in a name of JSON or in a line", async () => {
    const { query, batch } = await setUp({ format: "json_lines", unit: "mm" });

    const { status, body } = await post(
      query,
      '{"characteristic":"1\\u00002","piece":1,"value":12.001}\n{"characteristic":"12","piece":1,"value":12.001}\n{"characteristic":"12\0","piece":2,"value":12.001}\n',
    );

    expect(status).toBe(201);
    expect(body).toMatchObject({ accepted: 1, refused_count: 2 });
    expect(await readings(batch.batch_id)).toHaveLength(1);
  });

  it("skew-01: keeps a time two hours ahead beside that of its arrival, and flags it", async () => {
    const { query, batch } = await setUp({ format: "json_lines", unit: "mm" });
    const ahead = new Date(Date.now() + 2 * 3_600_000).toISOString();
    const line = (piece: number, measured_at: string) =>
      `${JSON.stringify({ characteristic: "12", piece, value: 12.001, measured_at })}\n`;

    await post(query, line(1, ahead) + line(2, new Date(Date.now() - 60_000).toISOString()));

    const { body } = await api.get(`/v1/readings?batch_id=${batch.batch_id}`);
    expect(body.items.map(({ piece, flags }: Answer) => [piece, flags.includes("clock_ahead")])).toEqual([
      [1, true],
      [2, false],
    ]);
    expect(body.items[0].measured_at).toBe(ahead);
    const { rows } = await sql<{ early: boolean }>`
      select received_at < measured_at as early from reading where batch_id = ${batch.batch_id} and piece = 1`.execute(
      db,
    );
    expect(rows[0]!.early).toBe(true);
  });

  it("retry-01: answers the same upload as the first time, and takes nothing twice", async () => {
    const { query, batch } = await setUp();

    const first = await post(query, threeRows, { "idempotency-key": "upload-1" });
    const second = await post(query, threeRows, { "idempotency-key": "upload-1" });

    expect(second.status).toBe(201);
    expect(second.body).toEqual(first.body);
    expect(second.headers["idempotency-replayed"]).toBe("true");
    expect(await readings(batch.batch_id)).toHaveLength(3);
  });

  it("idem-01: refuses another file under the same key, and stores nothing of it", async () => {
    const { query, batch } = await setUp();
    await post(query, threeRows, { "idempotency-key": "upload-2" });

    const other = await post(query, header + row(4, "12.001"), { "idempotency-key": "upload-2" });

    expect(other.status).toBe(422);
    expect(other.body.type).toBe("urn:onsize:problem:idempotency-key-reused");
    expect(await readings(batch.batch_id)).toHaveLength(3);
  });

  it("idem-02: takes one of twenty identical requests at the same moment", async () => {
    const { query, batch } = await setUp();

    const answers = await Promise.all(
      Array.from({ length: 20 }, () => post(query, threeRows, { "idempotency-key": "upload-3" })),
    );

    const taken = answers.filter(({ status }) => status === 201);
    const waiting = answers.filter(({ status }) => status === 409);
    expect(taken.length).toBeGreaterThan(0);
    expect(taken.length + waiting.length).toBe(20);
    expect(waiting.every(({ headers }) => headers["retry-after"] === "1")).toBe(true);
    expect(new Set(taken.map(({ text }) => text)).size).toBe(1);
    expect(await readings(batch.batch_id)).toHaveLength(3);
    expect((await api.get(`/v1/imports?batch_id=${batch.batch_id}`)).body.items).toHaveLength(1);
  });

  it.each([
    ["an unknown layout", { layout_id: "999999" }, 422, "layout_id"],
    ["an unknown layout's name", { layout_id: undefined, layout: "layuot 1" }, 422, "layout"],
    ["an unknown batch", { batch_id: "999999" }, 422, "batch_id"],
    ["no layout", { layout_id: undefined }, 400, "layout_id"],
    ["a layout named twice", { layout: "x" }, 400, "layout"],
    ["an unknown parameter", { colour: "red" }, 400, "colour"],
    ["a piece that is none", { first_piece: "0" }, 400, "first_piece"],
    ["a dry run that stays open", { dry_run: "true", open: "true" }, 400, "open"],
  ])("refuses %s", async (_, change, status, pointer) => {
    const { query } = await setUp();
    const asked = Object.fromEntries(
      Object.entries({ ...query, ...change }).filter(([, value]) => value !== undefined),
    );

    const answer = await post(asked, threeRows);

    expect(answer.status).toBe(status);
    expect(answer.body.errors[0].pointer).toContain(pointer);
  });

  it("refuses a closed batch, a body that is packed, and a file of another kind", async () => {
    const { query, batch } = await setUp();

    const packed = await post(query, threeRows, { "content-encoding": "gzip" });
    const binary = await post(query, Buffer.concat([Buffer.from("504b0304", "hex"), Buffer.alloc(5000)]));
    const other = await post(query, "Part;Size\nA;1\n");
    const { body } = await api.get(`/v1/imports?batch_id=${batch.batch_id}`);
    await api.post(`/v1/batches/${batch.batch_id}/close`).send({}).expect(200);
    const closed = await post(query, threeRows);

    expect(packed.status).toBe(415);
    expect(binary.status).toBe(422);
    expect(binary.body.detail).toContain("workbook");
    expect(other.status).toBe(422);
    expect(other.body.detail).toContain('names the columns "Piece"');
    expect(body.items.map(({ status }: Answer) => status)).toEqual(["failed", "failed"]);
    expect(closed.status).toBe(422);
  });

  it("gives up on a file that fits neither layout nor batch after a thousand lines", async () => {
    const { query } = await setUp();
    const rows = Array.from({ length: 6000 }, (_, i) => row(i + 1, "12.001", "pass", "NOWHERE")).join("");

    const { status, body } = await post(query, header + rows);

    expect(status).toBe(422);
    expect(body.detail).toContain("is it the right layout, and the right batch?");
  });
});

describe("what no layout can be for", () => {
  const counted = async (batchId: string) =>
    Number(
      (await sql<{ n: string }>`select count(*) as n from reading where batch_id = ${batchId}`.execute(db))
        .rows[0]?.n,
    );

  it("stops where hardly a line can be read, keeps what was read, and knows it when the mended layout comes", async () => {
    const { query, batch, layout_id } = await setUp();
    const noise = Array.from({ length: 40_000 }, (_, i) => `alarm ${i},WIDTH,12.0x,11.97,12.03,pass\n`).join(
      "",
    );
    const file = header + row(1, "12.003") + row(2, "12.004") + noise + row(3, "12.005");

    const stopped = await post(query, file);
    const { items } = (await api.get(`/v1/imports?batch_id=${batch.batch_id}`)).body;
    const kept = await sql<{
      n: string;
    }>`select count(*) as n from import_line where import_id = ${items[0].import_id}`.execute(db);
    const mended = { ...longTable, table: { ...longTable.table, skip_rows: ["^alarm"] } };
    await api
      .put(`/v1/log-layouts/${layout_id}`)
      .send({ ...mended, name: `layout ${layouts} mended` })
      .expect(200);
    const again = await post(query, file);

    expect(stopped.status).toBe(422);
    expect(stopped.body.detail).toMatch(
      /^Only 2 of the first \d+ lines gave a reading.*log-layouts\/trials.*skip.*2 readings before that place were taken/s,
    );
    expect(items[0]).toMatchObject({ status: "failed", accepted: 2 });
    expect(Number(kept.rows[0]?.n)).toBeLessThan(5000);
    expect(again.body).toMatchObject({ status: "complete", accepted: 1, duplicates: 2, refused_count: 0 });
    expect(await counted(batch.batch_id)).toBe(3);
  });

  it("refuses a line of 50 MB with its number, holds no more of it than its beginning, and reads the next", async () => {
    const { query, batch } = await setUp();
    const long = "9".repeat(50 * 1024 * 1024);

    const { status, body } = await post(query, `${header}${long}\n${row(1, "12.003")}`);

    expect(status).toBe(201);
    expect(body).toMatchObject({ accepted: 1, refused_count: 1 });
    expect(body.refused[0]).toMatchObject({ line: 2, reason: expect.stringContaining("longer than") });
    const { rows } = await sql<{
      longest: number;
    }>`select max(length(text)) as longest from import_line where import_id = ${body.import_id}`.execute(db);
    expect(rows[0]?.longest).toBeLessThan(2000);
    expect(await counted(batch.batch_id)).toBe(1);
  });

  const zipped = Buffer.concat([Buffer.from("504b0304140000000800", "hex"), Buffer.alloc(200_000, 0x5a)]);
  it.each([
    ["20 MB of zeros", Buffer.alloc(20 * 1024 * 1024), /control characters/],
    ["a packed workbook", zipped, /workbook/],
    ["a PDF", Buffer.from(`%PDF-1.7\n${"x".repeat(5000)}`), /no text but/],
    [
      "XML with a document type",
      Buffer.from('<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "c">]><a>&b;</a>'),
      /document type declaration/,
    ],
  ])("refuses %s as a whole, and keeps nothing of it", async (_, file, message) => {
    const { query, batch } = await setUp();
    const before = await sql`select count(*) as n from import_line`.execute(db);

    const { status, body } = await post(query, file);

    expect(status).toBe(422);
    expect(body.detail).toMatch(message);
    expect(await counted(batch.batch_id)).toBe(0);
    expect(await sql`select count(*) as n from import_line`.execute(db)).toEqual(before);
  });

  it("lets a client send the whole of a file that is refused at its beginning, so that it finds the answer", async () => {
    const { query } = await setUp();
    const { port } = app.server.address() as { port: number };
    const length = 20 * 1024 * 1024;
    const head = `POST /v1/readings/imports?${new URLSearchParams(query)} HTTP/1.1\r\nhost: a\r\nconnection: close\r\ncontent-type: text/csv\r\ncontent-length: ${length}\r\n\r\n`;
    const socket = connect(port, "127.0.0.1");
    const write = (bytes: string | Buffer) =>
      new Promise<void>((resolve, reject) =>
        socket.write(bytes, (error) => (error ? reject(error) : resolve())),
      );

    await write(head);
    for (let sent = 0; sent < length; sent += 1024 * 1024) await write(Buffer.alloc(1024 * 1024));
    const answer = await text(socket);

    expect(answer).toMatch(/^HTTP\/1\.1 422 /);
    expect(answer).toContain("control characters");
  });

  const utf16 = (text: string, mark: boolean) =>
    Buffer.concat([mark ? Buffer.from([0xff, 0xfe]) : Buffer.alloc(0), Buffer.from(text, "utf16le")]);
  it.each([
    ["UTF-16 with its mark", utf16(threeRows, true)],
    ["UTF-16 without it", utf16(threeRows, false)],
    ["UTF-8 with a mark", Buffer.concat([Buffer.from([0xef, 0xbb, 0xbf]), Buffer.from(threeRows)])],
    ["Windows-1252", Buffer.from(threeRows.replace("pass\n", "pass Stück\n"), "latin1")],
  ])("reads %s as it is meant", async (_, file) => {
    const { query, batch } = await setUp();
    const { body } = await post(query, file);
    expect(body).toMatchObject({ accepted: 3, refused_count: 0 });
    expect(await counted(batch.batch_id)).toBe(3);
  });

  it("refuses lines in another encoding than the layout says, one by one", async () => {
    const { query } = await setUp({ ...longTable, encoding: "utf-8" });
    const { body } = await post(
      query,
      Buffer.from(threeRows.replace("12.004,11.97,12.03,pass", "12.004,11.97,12.03,gut f\u00fcr"), "latin1"),
    );
    expect(body).toMatchObject({ accepted: 2, refused_count: 1 });
    expect(body.refused[0]).toMatchObject({ line: 3, reason: expect.stringContaining("no UTF-8") });
  });

  it("takes an upload that broke off as far as it came, and the same upload to its end, each reading once", async () => {
    const { query, batch } = await setUp();
    const many = header + Array.from({ length: 5000 }, (_, i) => row(i + 1, "12.001")).join("");
    const key = `cut-${batch.batch_id}`;
    const at = app.server.address() as { port: number };
    await new Promise<void>((resolve) => {
      const sent = request(
        {
          port: at.port,
          method: "POST",
          path: `/v1/readings/imports?${new URLSearchParams(query)}`,
          headers: { "content-type": "text/csv", "content-length": many.length, "idempotency-key": key },
        },
        () => {},
      );
      sent.on("error", () => resolve());
      sent.write(many.slice(0, many.length * 0.7), () => setTimeout(() => sent.destroy(), 300));
      sent.on("close", () => resolve());
    });
    let answer = await post(query, many, { "idempotency-key": key });
    while (answer.status === 409) answer = await post(query, many, { "idempotency-key": key });

    expect(answer.body).toMatchObject({ status: "complete", refused_count: 0 });
    expect(await counted(batch.batch_id)).toBe(5000);
  });
});

describe("POST /v1/imports/{import_id}/content", () => {
  it("reads a file on as it grows, and waits for a line that is not whole", async () => {
    const { query, batch } = await setUp();
    const { body: opened } = await post(
      { ...query, open: "true", source: "mill-2/probe.csv" },
      threeRows.slice(0, -5),
    );

    const more = `${threeRows.slice(opened.next_offset)}${row(4, "12.006")}5,WIDTH,12.00`;
    const grown = await goOn(opened.import_id, opened.next_offset, more);
    const ended = await goOn(opened.import_id, grown.body.next_offset, "5,WIDTH,12.001,,,", true);

    expect(opened).toMatchObject({ status: "open", accepted: 2, source: "mill-2/probe.csv" });
    expect(grown.body).toMatchObject({ status: "open", accepted: 4 });
    expect(ended.body).toMatchObject({ status: "complete", accepted: 5, refused_count: 0, lines: 6 });
    expect(await valuesOf(batch.batch_id)).toEqual(
      [1, 2, 3, 4, 5].map((piece) => `12 ${piece} 12.00${[3, 4, 5, 6, 1][piece - 1]}`),
    );
    expect((await goOn(opened.import_id, 0, threeRows)).status).toBe(409);
  });

  it("refuses a gap, and says where to go on", async () => {
    const { query } = await setUp();
    const { body } = await post({ ...query, open: "true" }, threeRows);

    const gap = await goOn(body.import_id, body.next_offset + 1, "4,");

    expect(gap.status).toBe(409);
    expect(gap.body.detail).toContain(`go on at offset ${body.next_offset}`);
    expect((await goOn("999999", 0, "x")).status).toBe(404);
  });

  it("gives the same table of readings for any file cut at any bytes into pieces that repeat and overlap", async () => {
    const file = readFileSync(
      new URL("../import/data/samples/tables/wide-parts-as-rows.csv", import.meta.url),
    );
    const layout = {
      format: "table",
      unit: "mm",
      piece_from: "serial",
      table: {
        separator: ",",
        shape: "piece_per_row",
        columns: { serial: "Serial" },
        limit_rows: { NOMINAL: "nominal", UPPER: "upper_deviation", LOWER: "lower_deviation" },
      },
      translate: { characteristic: { D1: "1", D2: "2", L1: "3" } },
    };
    const sized = [32, 18, 75].map((nominal, i) => ({
      characteristic: String(i + 1),
      nominal: String(nominal),
      lower_deviation: -0.1,
      upper_deviation: 0.1,
      cut_by: [],
    }));
    const layout_id = await createLayout(layout);
    const whole = await runningBatch(api, { features: sized });
    await post({ layout_id, batch_id: whole.batch.batch_id }, file);
    const expected = await readings(whole.batch.batch_id);
    expect(expected).toHaveLength(11);

    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(fc.nat(file.length), fc.nat(file.length), fc.boolean()), { maxLength: 6 }),
        async (pieces) => {
          const { batch } = await runningBatch(api, { features: sized });
          const query = { layout_id, batch_id: batch.batch_id as string };
          let { body } = await post({ ...query, open: "true" }, "");
          for (const [back, length, afresh] of pieces) {
            // Now and then another upload of the same file from its beginning comes in between.
            if (afresh) await post({ ...query, open: "true" }, file.subarray(0, length));
            const from = Math.max(0, body.next_offset - back);
            const answer = await goOn(body.import_id, from, file.subarray(from, from + length));
            expect(answer.status).toBe(200);
            body = answer.body;
          }
          const end = await goOn(body.import_id, body.next_offset, file.subarray(body.next_offset), true);

          expect(end.body).toMatchObject({ status: "complete", refused_count: 0, repeated: 0 });
          expect((await readings(batch.batch_id)).sort()).toEqual([...expected].sort());
        },
      ),
      { numRuns: 12 },
    );
  }, 60_000);
});

describe("GET /v1/imports", () => {
  it("lists imports, newest first, in pages, by batch, source and status", async () => {
    const { query, batch } = await setUp();
    const ids: string[] = [];
    for (const source of ["a.csv", "b.csv", "a.csv"])
      ids.unshift((await post({ ...query, source }, threeRows)).body.import_id);

    const path = `/v1/imports?batch_id=${batch.batch_id}`;
    const first = (await api.get(`${path}&limit=2`)).body;
    const second = (await api.get(`${path}&limit=2&cursor=${first.next_cursor}`)).body;

    expect([...first.items, ...second.items].map(({ import_id }: Answer) => import_id)).toEqual(ids);
    expect(second.next_cursor).toBeNull();
    expect((await api.get(`${path}&source=a.csv&status=complete`)).body.items).toHaveLength(2);
    expect((await api.get(`/v1/imports/${ids[0]}`)).body).toMatchObject({ duplicates: 3 });
    expect((await api.get("/v1/imports/999999")).status).toBe(404);
    expect((await api.get("/v1/imports/999999/lines")).status).toBe(404);
    expect((await api.get("/v1/imports/999999/readings")).status).toBe(404);
    expect((await api.post("/v1/imports/999999/retry")).status).toBe(404);
  });
});
