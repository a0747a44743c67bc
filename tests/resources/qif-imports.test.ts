import { readdirSync } from "node:fs";
import { type AddressInfo, connect } from "node:net";
import { tmpdir } from "node:os";
import { sql } from "kysely";
import { describe, expect, it, vi } from "vitest";
import { createTestApp } from "../support/app.js";
import { millimetres, type QifParts, qifDocument } from "../support/qif-document.js";
import { runningBatch } from "../support/running-batch.js";
import { create, gaugeBody } from "../support/shop.js";

const { app, api, db } = await createTestApp();

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

const limits = { lower_deviation: -0.05, upper_deviation: 0.05 };
const bore = { name: "BORE_A", designator: "12", nominal: "12", lower: "11.95", upper: "12.05" };
const slot = { name: "SLOT_B", designator: "7", nominal: "6", lower: "5.95", upper: "6.05" };
const features = [
  { characteristic: "12", kind: "internal", nominal: "12", ...limits },
  { characteristic: "7", kind: "internal", nominal: "6", ...limits },
];

let layouts = 0;
async function setUp(layout: object = {}, shopOf: Answer[] = features) {
  const shop = await runningBatch(api, { features: shopOf });
  const { layout_id } = await create(api, "/v1/log-layouts", {
    name: `qif ${++layouts}`,
    format: "qif",
    piece_from: "serial",
    ...layout,
  });
  return {
    ...shop,
    layoutId: layout_id as string,
    query: `?layout_id=${layout_id}&batch_id=${shop.batch.batch_id}`,
  };
}

async function post(query: string, document: string, key?: string): Promise<Answer> {
  const request = api.post(`/v1/readings/imports${query}`).set("content-type", "application/xml");
  if (key !== undefined) request.set("idempotency-key", key);
  return request.send(document);
}

async function readings(batchId: string): Promise<Answer[]> {
  return (await api.get(`/v1/readings?batch_id=${batchId}&limit=200`)).body.items;
}

const twoPieces: QifParts = {
  characteristics: [bore, slot],
  pieces: [
    {
      serial: "0041",
      lot: "L-7",
      values: [
        { of: "BORE_A", value: "12.013" },
        { of: "SLOT_B", value: "5.991" },
      ],
    },
    {
      serial: "0042",
      values: [
        { of: "BORE_A", value: "12.081", status: "FAIL" },
        { of: "SLOT_B", value: "6.004" },
      ],
    },
  ],
};

describe("a QIF document", () => {
  it("gives each piece its readings by designator and serial number, with what the document says beside ours", async () => {
    const { query, batch } = await setUp();

    const { status, body } = await post(query, qifDocument(twoPieces));

    expect(status).toBe(201);
    expect(body).toMatchObject({
      status: "complete",
      accepted: 4,
      refused_count: 0,
      results_differ: 0,
      limits_differ: 0,
    });
    expect(body.verdicts).toEqual({ conforming: 3, nonconforming: 0, uncertain: 1 });
    expect(
      (await readings(batch.batch_id)).map(({ characteristic, piece, serial, value, unit }) => [
        characteristic,
        piece,
        serial,
        value,
        unit,
      ]),
    ).toEqual([
      ["12", 1, "0041", 12.013, "mm"],
      ["7", 1, "0041", 5.991, "mm"],
      ["12", 2, "0042", 12.081, "mm"],
      ["7", 2, "0042", 6.004, "mm"],
    ]);
    const told = (await api.get(`/v1/imports/${body.import_id}/readings`)).body.items;
    expect(told[2].said).toMatchObject({
      value: "12.081",
      nominal: "12",
      upper_limit: "12.05",
      within: false,
      result: "fail",
      result_text: "fail",
    });
    expect(told[0].said.note).toBe("lot L-7");
  });

  it("changes nothing when it is sent again, or written anew with more pieces", async () => {
    const { query, batch } = await setUp();
    await post(query, qifDocument(twoPieces));

    const again = await post(query, qifDocument(twoPieces));
    const third = { serial: "0043", values: [{ of: "BORE_A", value: "12.002" }] };
    const grown = await post(
      query,
      qifDocument({
        ...twoPieces,
        qpid: "99999999-29bf-4ec6-b96c-e2f846eb6ff6",
        pieces: [third, ...twoPieces.pieces!],
      }),
    );

    expect(again.body).toMatchObject({ accepted: 0, duplicates: 4 });
    expect(grown.body).toMatchObject({ accepted: 1, duplicates: 4 });
    expect(await readings(batch.batch_id)).toHaveLength(5);
  });

  it("keeps a value that was measured twice alike, and one item on several features apart", async () => {
    const holes = {
      name: "HOLES",
      designator: "12",
      nominal: "12",
      lower: "11.95",
      upper: "12.05",
      on: ["hole 1", "hole 2"],
    };
    const document = qifDocument({
      characteristics: [holes],
      pieces: [
        {
          serial: "1",
          values: [
            { of: "HOLES", value: "12.001", on: "hole 1" },
            { of: "HOLES", value: "12.001", on: "hole 2" },
            { of: "HOLES", value: "12.001", on: "hole 2" },
          ],
        },
      ],
    });
    const byPlace = await setUp({}, [{ ...features[0], places: ["hole 1", "hole 2"] }]);
    const apart = await setUp(
      { translate: { characteristic: { "12 @ hole 1": "12", "12 @ hole 2": "7" } } },
      [features[0], { ...features[0], characteristic: "7" }],
    );

    expect((await post(byPlace.query, document)).body).toMatchObject({ accepted: 3, refused_count: 0 });
    expect((await readings(byPlace.batch.batch_id)).map(({ place, repeat }) => [place, repeat])).toEqual([
      ["hole 1", 1],
      ["hole 2", 1],
      ["hole 2", 2],
    ]);
    expect((await post(apart.query, document)).body).toMatchObject({ accepted: 3 });
    expect(
      (await readings(apart.batch.batch_id)).map(({ characteristic, place }) => [characteristic, place]),
    ).toEqual([
      ["12", null],
      ["7", null],
      ["7", null],
    ]);
    expect((await post(byPlace.query, document)).body).toMatchObject({ accepted: 0, duplicates: 3 });
  });

  it("numbers pieces by their sets where they bear no serial number and a first piece is named", async () => {
    const { query, batch } = await setUp({ piece_from: "count" });
    const pieces = twoPieces.pieces!.map(({ values }, i) => ({ values: i === 0 ? values.slice(1) : values }));

    const { body } = await post(`${query}&first_piece=5`, qifDocument({ ...twoPieces, pieces }));

    expect(body).toMatchObject({ accepted: 3 });
    expect(
      (await readings(batch.batch_id)).map(({ characteristic, piece }) => [characteristic, piece]),
    ).toEqual([
      ["7", 5],
      ["12", 6],
      ["7", 6],
    ]);
  });

  it("asks for a unit that nothing says, with both meanings, and reads again when it is said", async () => {
    const cone = { type: "Angle", name: "CONE", designator: "9", nominal: "0.5", lower: "0.4", upper: "0.6" };
    const protractor = await create(
      api,
      "/v1/gauges",
      gaugeBody({
        name: "protractor",
        kind: "other",
        unit: "deg",
        resolution: 0.001,
        repeatability: 0.001,
        expanded_uncertainty: 0.01,
      }),
    );
    const { query, layoutId, batch } = await setUp({}, [
      ...features,
      {
        characteristic: "9",
        kind: "angle",
        nominal: "30",
        lower_deviation: -1,
        upper_deviation: 1,
        cut_by: [],
        gauge_id: protractor.gauge_id,
      },
    ]);
    const document = qifDocument({
      units: "",
      characteristics: [bore, cone],
      pieces: [
        {
          serial: "1",
          values: [
            { of: "BORE_A", value: "12.013" },
            { of: "CONE", value: "0.5235" },
          ],
        },
      ],
    });

    const asked = await post(query, document);
    const [length, angle] = asked.body.refused.map(({ reason }: Answer) => reason);
    const before = await readings(batch.batch_id);
    const { layout } = (await api.get(`/v1/log-layouts/${layoutId}`)).body;
    const put = await api
      .put(`/v1/log-layouts/${layoutId}`)
      .send({ ...layout, unit: "mm", qif: { angle_unit: "rad" } });
    expect(put.status, put.text).toBe(200);
    const retried = await api.post(`/v1/imports/${asked.body.import_id}/retry`);

    expect(asked.body).toMatchObject({ accepted: 0, refused_count: 2 });
    expect(length).toMatch(/12\.013 m, and many .* 12\.013 mm.*\(unit\)/);
    expect(angle).toMatch(/0\.5235 radians, and many .* 0\.5235 degrees.*\(qif\.angle_unit\)/);
    expect(before).toEqual([]);
    expect(retried.body.refused).toEqual([]);
    expect(retried.body).toMatchObject({ accepted: 2, refused_count: 0 });
    expect((await readings(batch.batch_id)).map(({ value, unit }) => [value, unit])).toEqual([
      [12.013, "mm"],
      [0.5235, "rad"],
    ]);
  });

  it("takes a unit that is said for this document alone, when it is sent or afterwards", async () => {
    const { query, layoutId, batch } = await setUp();
    const document = qifDocument({ ...twoPieces, units: "" });

    const asked = await post(query, document);
    const said = await api.post(`/v1/imports/${asked.body.import_id}/retry?unit=mm`);
    const again = await post(`${query}&unit=mm`, document);
    const metres = await post(`${query}&unit=m&dry_run=true`, document);
    const other = await post(query, qifDocument({ ...twoPieces, units: "", qpid: "" }));

    expect(asked.body).toMatchObject({ accepted: 0, refused_count: 4 });
    expect(asked.body.refused[0].reason).toMatch(/unit=mm or unit=m .*retry/);
    expect(said.status, said.text).toBe(200);
    expect(said.body).toMatchObject({ accepted: 4, refused_count: 0 });
    expect(again.body).toMatchObject({ accepted: 0, duplicates: 4 });
    expect(metres.body).toMatchObject({ accepted: 4, verdicts: { conforming: 0 } });
    expect(other.body).toMatchObject({ accepted: 0, refused_count: 4 });
    expect((await readings(batch.batch_id)).map(({ value }) => value)).toEqual([
      12.013, 5.991, 12.081, 6.004,
    ]);
    expect((await api.get(`/v1/log-layouts/${layoutId}`)).body.layout.unit ?? null).toBeNull();
  });

  it("asks for a unit of angles of a QIF document only", async () => {
    const { batch } = await setUp();
    const { layout_id } = await create(api, "/v1/log-layouts", {
      name: "json of angles",
      format: "json_lines",
    });
    const { status, body } = await post(
      `?layout_id=${layout_id}&batch_id=${batch.batch_id}&angle_unit=deg`,
      "{}",
    );

    expect(status).toBe(422);
    expect(body.errors).toMatchObject([
      { pointer: "angle_unit", detail: expect.stringContaining("json_lines") },
    ]);
  });

  it("says who measured a piece, when and with what where its component does", async () => {
    const { query, batch } = await setUp();
    await create(api, "/v1/gauges", gaugeBody({ name: "bench micrometer 3" }));
    const traceability = `<Traceability><LotNumber>L-9</LotNumber><InspectionStart>2026-03-11T05:58:00Z</InspectionStart><InspectionEnd>2026-03-11T06:04:00Z</InspectionEnd>
      <InspectionOperator><Name>R. Stone</Name></InspectionOperator><MeasurementDeviceIds n="1"><Id>40</Id></MeasurementDeviceIds></Traceability>`;
    const [one] = twoPieces.pieces!;
    const document = qifDocument({
      ...twoPieces,
      pieces: [{ serial: "0041", values: one!.values }],
      device: "bench micrometer 3",
    })
      .replaceAll('<MeasurementDeviceIds n="1"><Id>40</Id></MeasurementDeviceIds>', "")
      .replace("</ActualComponent>", `${traceability}</ActualComponent>`)
      .replace(
        "</Results>",
        "<InspectionTraceability><InspectionEnd>2026-03-12T10:00:00Z</InspectionEnd></InspectionTraceability></Results>",
      );

    const { body } = await post(query, document);

    expect(body, JSON.stringify(body.refused)).toMatchObject({ accepted: 2 });
    const [first] = await readings(batch.batch_id);
    expect(first).toMatchObject({ taken_by: "R. Stone", measured_at: "2026-03-11T06:04:00.000Z" });
    const told = (await api.get(`/v1/imports/${body.import_id}/readings`)).body.items;
    expect(told[0].said.note).toBe("lot L-9");
  });

  it("goes on with a document that was cut off on its way, and keeps nothing of the part that came", async () => {
    const { query, batch } = await setUp();
    const { port } = app.server.address() as AddressInfo;
    const whole = Buffer.from(qifDocument(twoPieces));
    const key = `cut-${batch.batch_id}`;
    const cut = connect(port, "127.0.0.1");
    cut.on("error", () => undefined);
    cut.write(
      `POST /v1/readings/imports${query} HTTP/1.1\r\nhost: x\r\ncontent-type: application/xml\r\nidempotency-key: ${key}\r\ncontent-length: ${whole.length}\r\n\r\n`,
    );
    cut.write(whole.subarray(0, whole.length - 200));
    const open = await vi.waitFor(async () => {
      const found = (await api.get(`/v1/imports?batch_id=${batch.batch_id}&status=open`)).body.items;
      expect(found).toHaveLength(1);
      return found[0];
    });
    cut.destroy();

    const between = await readings(batch.batch_id);
    const { status, body } = await vi.waitFor(async () => {
      const answer = await post(query, whole.toString(), key);
      expect(answer.status).not.toBe(409);
      return answer;
    });

    expect(between).toEqual([]);
    expect(status, JSON.stringify(body)).toBe(201);
    expect(body).toMatchObject({ import_id: open.import_id, status: "complete", accepted: 4 });
    expect(await readings(batch.batch_id)).toHaveLength(4);
  });

  it.each([
    ["results before their plan", true],
    ["the plan before its results", false],
  ])("joins what refers to another document: %s", async (_, isFirst) => {
    const { query, batch } = await setUp();
    const qpid = isFirst ? "6558f196-d952-4b80-8054-0a0756d60526" : "6558f196-d952-4b80-8054-0a0756d60527";
    const plan = qifDocument({ qpid: qpid.toUpperCase(), characteristics: [bore, slot] });
    const results = qifDocument({
      qpid: `${qpid.slice(0, -1)}${isFirst ? "a" : "b"}`,
      elsewhere: { qpid, items: { BORE_A: "300", SLOT_B: "301" } },
      pieces: twoPieces.pieces!,
    });

    const sent: Answer[] = [];
    for (const document of isFirst ? [results, plan] : [plan, results])
      sent.push((await post(query, document)).body);

    if (isFirst) {
      expect(sent[0]).toMatchObject({ accepted: 0, refused_count: 4, joined: 0 });
      expect(sent[0].refused[0].reason).toContain(`another document (${qpid}, item 300)`);
      expect(sent[1]).toMatchObject({ accepted: 0, joined: 4 });
      expect(sent[1].next).not.toBeNull();
      const first = (await api.get(`/v1/imports/${sent[0].import_id}`)).body;
      expect(first).toMatchObject({ accepted: 4, refused_count: 0 });
    } else {
      expect(sent[1]).toMatchObject({ accepted: 4, refused_count: 0, joined: 0 });
    }
    expect(
      (await readings(batch.batch_id)).map(({ characteristic, piece, value }) => [
        characteristic,
        piece,
        value,
      ]),
    ).toEqual([
      ["12", 1, 12.013],
      ["7", 1, 5.991],
      ["12", 2, 12.081],
      ["7", 2, 6.004],
    ]);
  });

  it("leaves what has no value out, and refuses what is not known with near names", async () => {
    const { query } = await setUp();
    const other = { ...bore, designator: "13", name: "BORE_C" };
    const { body } = await post(
      query,
      qifDocument({
        characteristics: [bore, other],
        device: "micrometer 0-25 no. 9",
        pieces: [
          {
            serial: "1",
            values: [
              { of: "BORE_A", status: "NOT_MEASURED" },
              { of: "BORE_C", value: "12.001" },
            ],
          },
        ],
      }),
    );

    expect(body).toMatchObject({ accepted: 0, not_measured: 1, refused_count: 1 });
    expect(body.refused[0].reason).toMatch(/13/);
  });

  it("is of its own part alone", async () => {
    const { query, part } = await setUp();
    const wrong = await post(query, qifDocument({ ...twoPieces, part: { number: "another-9" } }));
    const right = await post(
      query,
      qifDocument({ ...twoPieces, part: { number: part.number, version: part.revision } }),
    );

    expect(wrong.body).toMatchObject({ accepted: 0, refused_count: 4 });
    expect(wrong.body.refused[0].reason).toContain("is not the part of batch");
    expect(right.body).toMatchObject({ accepted: 4 });
  });

  it("is told with zones as they count: a profile by half on either side, a position in full, a negative one noted", async () => {
    const { query } = await setUp({}, [
      {
        characteristic: "1",
        kind: "form",
        geometric_characteristic: "surface_profile",
        upper_limit: 0.2,
        cut_by: [],
        nominal: undefined,
        lower_deviation: undefined,
        upper_deviation: undefined,
      },
    ]);
    const profile = { type: "SurfaceProfile", name: "P", designator: "1", zone: "-0.2" };
    const { body } = await post(
      query,
      qifDocument({
        characteristics: [profile],
        pieces: [{ serial: "1", values: [{ of: "P", value: "0.03" }] }],
      }),
    );
    const told = (await api.get(`/v1/imports/${body.import_id}/readings`)).body.items[0].said;

    expect(body.refused).toEqual([]);
    expect(told).toMatchObject({ lower_limit: "-0.1", upper_limit: "0.1", within: true });
    expect(told.notes.join()).toContain("-0.2");
  });

  const form = (upper_limit: number) => ({
    characteristic: "1",
    kind: "form",
    geometric_characteristic: "surface_profile",
    upper_limit,
    cut_by: [],
    nominal: undefined,
    lower_deviation: undefined,
    upper_deviation: undefined,
  });
  // SN5802802 of the QIF community's sheet of six parts: 0.264537055091804 is out of a zone of 0.5, since that is half to either side.
  it.each([
    ["half to the outside, too far", { zone: "0.5" }, "0.264537055091804", "nonconforming"],
    ["half to the inside, too far", { zone: "0.5" }, "-0.264537055091804", "nonconforming"],
    ["on the limit to the inside", { zone: "0.5" }, "-0.25", "conforming"],
    ["a picometre beyond it", { zone: "0.5" }, "-0.250000001", "nonconforming"],
    ["within", { zone: "0.5" }, "0.249", "conforming"],
    [
      "to the smaller side of one that lies unequally",
      { zone: "0.5", outside: "0.4" },
      "-0.11",
      "nonconforming",
    ],
    ["to its larger side", { zone: "0.5", outside: "0.4" }, "0.39", "conforming"],
    ["beyond its larger side", { zone: "0.5", outside: "0.4" }, "0.41", "nonconforming"],
  ])(
    "a profile's deviation %s is judged by the zone's width and by half of it alike",
    async (_, zone, value, verdict) => {
      const profile = { type: "SurfaceProfile", name: "P", designator: "1", ...zone };
      const document = qifDocument({
        characteristics: [profile],
        pieces: [
          { serial: "1", values: [{ of: "P", value, status: verdict === "conforming" ? "PASS" : "FAIL" }] },
        ],
      });
      for (const upper of [0.5, 0.25]) {
        const { query, batch } = await setUp({}, [form(upper)]);
        const { body } = await post(query, document);

        expect(body, JSON.stringify(body.refused)).toMatchObject({
          accepted: 1,
          results_differ: 0,
          limits_differ: 0,
        });
        const [told] = (await api.get(`/v1/imports/${body.import_id}/readings`)).body.items;
        expect(told).toMatchObject({ value, verdict, said: { within: verdict === "conforming" } });
        expect((await post(query, document)).body).toMatchObject({ accepted: 0, duplicates: 1 });
        expect(await readings(batch.batch_id)).toHaveLength(1);
      }
    },
  );

  it("a profile's deviation is refused where the part's limit is neither the zone's width nor half of it, or there is no zone", async () => {
    const { query } = await setUp({}, [form(0.3)]);
    const send = async (zone: object) =>
      (
        await post(
          query,
          qifDocument({
            characteristics: [{ type: "SurfaceProfile", name: "P", designator: "1", ...zone }],
            pieces: [{ serial: "1", values: [{ of: "P", value: "0.2" }] }],
          }),
        )
      ).body;

    const other = await send({ zone: "0.5" });
    const none = await send({});

    expect(other).toMatchObject({ accepted: 0, refused_count: 1 });
    expect(other.refused[0].reason).toMatch(
      /zone is 0\.5 mm wide .* -0\.25 to 0\.25; characteristic 1 has 0\.3 mm/,
    );
    expect(none).toMatchObject({ accepted: 0, refused_count: 1 });
    expect(none.refused[0].reason).toContain("does not say how wide its zone is");
  });

  it("is told with its limits in their own unit where a value bears another one", async () => {
    const { query } = await setUp();
    const inch = millimetres.replace(
      "</FileUnits>",
      "<OtherUnits><LinearUnit><SIUnitName>meter</SIUnitName><UnitName>inch</UnitName><UnitConversion><Factor>0.0254</Factor></UnitConversion></LinearUnit></OtherUnits></FileUnits>",
    );
    const { body } = await post(
      query,
      qifDocument({
        units: inch,
        characteristics: [bore],
        pieces: [{ serial: "1", values: [{ of: "BORE_A", value: "0.4730", unit: "inch" }] }],
      }),
    );

    expect(body).toMatchObject({ accepted: 1, results_differ: 0, limits_differ: 0 });
    const [told] = (await api.get(`/v1/imports/${body.import_id}/readings`)).body.items;
    expect(told).toMatchObject({ value: "0.4730", unit: "inch" });
    expect(told.said).toMatchObject({ unit: "mm", lower_limit: "11.95", upper_limit: "12.05", within: true });
  });

  it("with a wrong nominal that every piece bears alike proposes no correction, and says where to look", async () => {
    // As the radius of the 20 plates of the NIST smart manufacturing test bed, 0.7 mm off on each of them.
    const { query, batch } = await setUp();
    const offsets = [0.7035, 0.7012, 0.7051, 0.7027, 0.704, 0.7019];
    const pieces = offsets.map((off, i) => ({
      serial: `A${i + 1}`,
      values: [
        { of: "BORE_A", value: (12 + off).toFixed(4), status: "FAIL" },
        { of: "SLOT_B", value: "6.001" },
      ],
    }));

    const { body } = await post(query, qifDocument({ characteristics: [bore, slot], pieces }));
    const open = (await api.get(`/v1/corrections?status=proposed&batch_id=${batch.batch_id}`)).body.items;

    expect(body).toMatchObject({ accepted: 12 });
    expect(open.map(({ kind, change }: Answer) => [kind, change])).toEqual([["find_cause", 0]]);
    expect(open[0].why).toMatch(/from piece 1 on, the first one measured.* nominal size and limits/);
    expect(body.next).toMatchObject({ action: "stop" });
  });

  it("is tried without keeping anything, by a dry run and by a trial of its layout", async () => {
    const { query, batch } = await setUp();

    const dry = await post(`${query}&dry_run=true`, qifDocument(twoPieces));
    const trial = await api
      .post("/v1/log-layouts/trials")
      .send({ layout: { name: "x", format: "qif", piece_from: "serial" }, sample: qifDocument(twoPieces) });

    expect(dry.body).toMatchObject({ accepted: 4, import_id: null });
    expect(await readings(batch.batch_id)).toEqual([]);
    expect(trial.status, trial.text).toBe(200);
    expect(trial.body.lines.map(({ becomes }: Answer) => becomes)).toEqual(Array(4).fill("reading"));
    expect(trial.body.lines[0].reading).toMatchObject({
      characteristic: "12",
      value: "12.013",
      unit: "mm",
      serial: "0041",
    });
  });

  const whole = qifDocument(twoPieces);
  it.each([
    ["that is cut off", whole.slice(0, -30), /line \d+/i],
    ["with an element that is never closed", whole.replace("</Results>", ""), /line \d+.*column \d+/i],
    [
      "with a document type",
      whole.replace("<QIFDocument", "<!DOCTYPE QIFDocument>\n<QIFDocument"),
      /line 2/i,
    ],
    [
      "with entities that expand",
      whole.replace(
        "<QIFDocument",
        '<!DOCTYPE q [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;">]>\n<QIFDocument',
      ),
      /line 2/i,
    ],
    ["with an entity that nobody declared", whole.replace("BORE_A", "&bore;"), /line \d+/i],
    ["that is none", "<html><body/></html>", /no QIF document/],
    ["whose unit is not what it says", whole.replace("<Factor>0.001<", "<Factor>0.01<"), /which it is not/],
  ])("%s is refused, and nothing of it is kept", async (_, document, message) => {
    const { query, batch } = await setUp();
    const counts = async () =>
      (
        await sql`select (select count(*) from reading) as readings, (select count(*) from import_line) as lines,
          (select count(*) from qif_document) as documents, (select count(*) from piece_serial) as serials`.execute(
          db,
        )
      ).rows;
    const before = await counts();

    const { status, body } = await post(query, document);

    expect(status).toBe(422);
    expect(body.detail).toMatch(message);
    expect(body.detail).toMatch(/[.?] It is kept as import \d+; 0 readings /);
    expect(await counts()).toEqual(before);
    expect(await readings(batch.batch_id)).toEqual([]);
  });

  it("is sent as a whole", async () => {
    const { query } = await setUp();
    const { status, body } = await post(`${query}&open=true`, whole);

    expect(status).toBe(422);
    expect(body.errors[0]).toMatchObject({ pointer: "open" });
  });

  it("answers the same key as the first time, and leaves no file behind", async () => {
    const { query, batch } = await setUp();
    const first = await post(query, whole, `key-${batch.batch_id}`);
    const second = await post(query, whole, `key-${batch.batch_id}`);

    expect(second.body).toEqual(first.body);
    expect(second.headers["idempotency-replayed"]).toBe("true");
    expect(readdirSync(tmpdir()).filter((name) => /^onsize-[A-Za-z0-9]{6}$/.test(name))).toEqual([]);
  });

  it("takes a long one in pieces", async () => {
    const { query, batch } = await setUp();
    const pieces = Array.from({ length: 1500 }, (_, i) => ({
      serial: String(i + 1).padStart(5, "0"),
      values: [
        { of: "BORE_A", value: (12 + (i % 9) * 0.001).toFixed(3) },
        { of: "SLOT_B", value: "6.001" },
      ],
    }));
    const document = qifDocument({ characteristics: [bore, slot], pieces, units: millimetres });
    const { body } = await post(query, document);

    expect(body).toMatchObject({
      accepted: 3000,
      refused_count: 0,
      next_offset: Buffer.byteLength(document),
    });
    const { rows } =
      await sql`select count(*) as n, max(piece) as piece from reading where batch_id = ${batch.batch_id}`.execute(
        db,
      );
    expect(rows).toEqual([{ n: "3000", piece: 1500 }]);
  });
});
