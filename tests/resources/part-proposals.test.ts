import { createReadStream, existsSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { proposePart } from "../../src/import/qif/propose-part.js";
import { readDefinitions } from "../../src/import/qif/read-definitions.js";
import { createTestApp } from "../support/app.js";
import { type QifParts, qifDocument } from "../support/qif-document.js";
import { create, machineBody, toolBody } from "../support/shop.js";

const { api } = await createTestApp();

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

let qpids = 0;
function plan(change: Partial<QifParts> = {}): string {
  const qpid = `6558f196-d952-4b80-8054-${String(++qpids).padStart(12, "0")}`;
  return qifDocument({
    qpid,
    part: { number: `HB-${qpids}`, version: "B" },
    characteristics: [
      { name: "BORE_A", designator: "12", nominal: "12", lower: "11.95", upper: "12.05" },
      { type: "Length", name: "LEN", nominal: "80", lower: "79.8", upper: "80.2" },
      { type: "Flatness", name: "FLAT", zone: "0.05" },
      { type: "Position", name: "POS", zone: "0.2" },
      { type: "SurfaceProfile", name: "PROF", zone: "-0.5" },
      { type: "Angle", name: "CONE", nominal: "30", lower: "29.5", upper: "30.5" },
      { type: "Thread", name: "M6" },
      { type: "Diameter", name: "LOOSE", nominal: "5" },
    ],
    ...change,
  });
}

async function propose(document: string | Buffer, query = ""): Promise<Answer> {
  return api.post(`/v1/part-proposals${query}`).set("content-type", "application/xml").send(document);
}

const accept = (id: string, body: object) =>
  api.post(`/v1/part-proposals/${id}/accept`).send({ by: "R. Stone", ...body });

describe("a part proposed from a QIF document", () => {
  it("has the features that the document tells, and asks for what it leaves open", async () => {
    const { status, body } = await propose(plan());

    expect(status).toBe(201);
    expect(body).toMatchObject({ status: "open", unit: "mm", revision: "B", known_part: null });
    expect(
      body.features.map((one: Answer) => [
        one.characteristic,
        one.kind,
        one.nominal,
        one.lower_limit,
        one.upper_limit,
        one.missing,
      ]),
    ).toEqual([
      ["12", null, "12", "11.95", "12.05", ["kind"]],
      ["LEN", "length", "80", "79.8", "80.2", []],
      ["FLAT", "form", null, null, "0.05", []],
      ["POS", "position", null, null, "0.2", []],
      ["PROF", "form", null, null, "0.25", []],
      ["CONE", "angle", "30", "29.5", "30.5", []],
      ["LOOSE", null, "5", null, null, ["kind", "limits"]],
    ]);
    expect(body.features[0]).toMatchObject({ name: "BORE_A", kinds: ["external", "internal"] });
    expect(body.features[4].notes.join(" ")).toMatch(/written -0\.5.*half of it/);
    expect(body.left_out).toMatchObject([{ type: "Thread", name: "M6" }]);
  });

  it("is made by a person's yes, with what only the person knows", async () => {
    const machine = await create(api, "/v1/machines", machineBody({ name: "mill of proposals" }));
    const tool = await create(api, "/v1/tools", toolBody(machine.machine_id));
    const { body: proposal } = await propose(plan());
    const open = await accept(proposal.proposal_id, {});
    const items = Object.fromEntries(proposal.features.map((one: Answer) => [one.characteristic, one.item]));

    const { status, body } = await accept(proposal.proposal_id, {
      name: "Hinge bracket",
      features: [
        {
          item: items["12"],
          kind: "internal",
          operation: "20",
          cut_by: [{ register_id: tool.registers[0].register_id, walls: 2 }],
        },
        { item: items.LOOSE, leave_out: true },
      ],
    });

    expect(open.status).toBe(422);
    expect(open.body.errors.map(({ detail }: Answer) => detail).join("\n")).toMatch(
      /12 .*external or internal\?.*\n.*LOOSE/,
    );
    expect(status).toBe(201);
    expect(body.part).toMatchObject({
      number: proposal.number,
      revision: "B",
      name: "Hinge bracket",
      unit: "mm",
    });
    expect(body.part.features.map(({ characteristic }: Answer) => characteristic)).toEqual([
      "12",
      "LEN",
      "FLAT",
      "POS",
      "PROF",
      "CONE",
    ]);
    expect(body.part.features[0]).toMatchObject({
      kind: "internal",
      lower_limit: 11.95,
      upper_limit: 12.05,
      cut_by: [{ effect: -2 }],
    });
    expect(body.proposal).toMatchObject({ status: "accepted", by: "R. Stone", part_id: body.part.part_id });
    expect(body.proposal.known_part.differs).toEqual([
      { characteristic: "LOOSE", what: "the part has no such feature" },
    ]);
    expect((await accept(proposal.proposal_id, {})).status).toBe(409);
  });

  it("has places where one item was measured on several features, by the names that its readings bear", async () => {
    const holes = { name: "HOLES", nominal: "6", lower: "5.9", upper: "6.1", on: ["hole 1", "hole 2"] };
    const document = qifDocument({
      qpid: "",
      part: { number: "HB-places", version: "A" },
      characteristics: [holes, { ...holes, name: "SLOT", on: ["slot"] }],
      pieces: [{ serial: "1", values: [{ of: "HOLES", value: "6.001", on: "hole 1" }] }],
    });
    const { body: proposal } = await propose(document);
    const { status, body } = await accept(proposal.proposal_id, {
      features: proposal.features.map(({ item }: Answer) => ({ item, kind: "internal", cut_by: [] })),
    });

    expect(proposal.features.map(({ places }: Answer) => places)).toEqual([["hole 1", "hole 2"], undefined]);
    expect(status).toBe(201);
    expect(body.part.features.map(({ places }: Answer) => places)).toEqual([["hole 1", "hole 2"], null]);
  });

  it("says where the part can't be so, at the feature it concerns", async () => {
    const { body: proposal } = await propose(plan());
    const [bore, length, , , , , loose] = proposal.features;
    const { status, body } = await accept(proposal.proposal_id, {
      features: [
        { item: bore.item, kind: "internal", fit: "H7", colour: "red" },
        { item: length.item, importance: "very" },
        { item: loose.item, kind: "internal" },
        { item: "999" },
      ],
    });
    const again = await accept(proposal.proposal_id, {
      features: [
        { item: bore.item, kind: "internal", fit: "H7", colour: "red" },
        { item: length.item, importance: "very" },
        { item: loose.item, kind: "internal" },
      ],
    });

    expect(status).toBe(422);
    expect(body.errors).toEqual([{ pointer: "/features/3/item", detail: '"999" is not proposed here' }]);
    expect(again.status).toBe(422);
    expect(again.body.errors.map(({ pointer }: Answer) => pointer)).toEqual(
      expect.arrayContaining(["/features/0/", "/features/1/importance"]),
    );
    const got = await api.get(`/v1/part-proposals/${proposal.proposal_id}`);
    expect(got.body.status).toBe("open");
  });

  it("is found again by its number, and says what differs", async () => {
    const document = plan({
      characteristics: [{ name: "A", type: "Length", nominal: "80", lower: "79.8", upper: "80.2" }],
    });
    const { body: first } = await propose(document);
    const made = await accept(first.proposal_id, {});
    const same = await propose(document);
    const other = await propose(
      document.replace("<MaxValue>80.2<", "<MaxValue>80.1<").replace(/<QPId>.*?</, "<QPId>aa<"),
    );

    expect(made.status, made.text).toBe(201);
    expect(same.status).toBe(201);
    expect(same.body.known_part).toMatchObject({
      part_id: made.body.part.part_id,
      found_by: "number",
      differs: [],
    });
    expect(other.body.known_part.differs).toEqual([
      {
        characteristic: "A",
        what: "upper_limit 80.1 mm in the document, 80.2 mm in the part: limits change with a new revision",
      },
    ]);
    expect((await accept(other.body.proposal_id, {})).status).toBe(409);
    expect((await accept(other.body.proposal_id, { revision: "C" })).body.part).toMatchObject({
      revision: "C",
    });
  });

  it("is found again by its characteristics where it has no number", async () => {
    const unnamed = (value: string) =>
      qifDocument({
        qpid: "",
        characteristics: [
          { name: `ONLY ${qpids}`, type: "Length", nominal: "8", lower: "7.9", upper: "8.1" },
        ],
        pieces: [{ serial: "1", values: [{ of: `ONLY ${qpids}`, value }] }],
      });
    const { body: first } = await propose(unnamed("8.01"));
    const nameless = await accept(first.proposal_id, {});
    const made = await accept(first.proposal_id, { number: `X-${qpids}`, revision: "A" });
    const next = await propose(unnamed("8.02"));

    expect(nameless.status).toBe(422);
    expect(nameless.body.errors.map(({ pointer }: Answer) => pointer)).toEqual(["/number", "/revision"]);
    expect(next.body.known_part).toMatchObject({
      part_id: made.body.part.part_id,
      found_by: "earlier_document",
      differs: [],
    });
  });

  it("waits once, however often the same document comes, and can be declined", async () => {
    const document = plan();
    const first = await propose(document, "?source=measuring%20room");
    const second = await propose(document);
    const declined = await api
      .post(`/v1/part-proposals/${first.body.proposal_id}/decline`)
      .send({ reason: "another revision is valid", by: "R. Stone" });

    expect(second.status).toBe(200);
    expect(second.body.proposal_id).toBe(first.body.proposal_id);
    expect(declined.body).toMatchObject({
      status: "declined",
      reason: "another revision is valid",
      source: "measuring room",
    });
    const list = await api.get("/v1/part-proposals?status=declined");
    expect(list.body.items.map(({ proposal_id }: Answer) => proposal_id)).toEqual([first.body.proposal_id]);
    expect((await propose(document)).status).toBe(201);
  });

  it("asks for the unit that nothing says, with both meanings", async () => {
    const document = plan({ units: "" });
    const length = await propose(document);
    const angle = await propose(document, "?unit=mm");
    const both = await propose(document, "?unit=mm&angle_unit=deg");

    expect(length.status).toBe(422);
    expect(length.body.errors[0]).toMatchObject({
      pointer: "unit",
      detail: expect.stringMatching(/12 m, .* 12 mm/),
    });
    expect(angle.body.errors[0]).toMatchObject({
      pointer: "angle_unit",
      detail: expect.stringMatching(/30 radians, .* 30 degrees/),
    });
    expect(both.status).toBe(201);
  });

  it.each([
    ["cut off", (text: string) => text.slice(0, 900), 422, /line \d+/i],
    [
      "with a document type",
      (text: string) => text.replace("<QIFDocument", "<!DOCTYPE q><QIFDocument"),
      422,
      /line 2/i,
    ],
    ["without characteristics", () => qifDocument({}), 422, /no characteristic/],
  ])("is not made of a document %s", async (_, damage, wanted, message) => {
    const { status, body } = await propose(damage(plan()));
    expect(status).toBe(wanted);
    expect(body.detail).toMatch(message);
  });

  it("reads a packed body not at all", async () => {
    const { status } = await api
      .post("/v1/part-proposals")
      .set("content-encoding", "gzip")
      .set("content-type", "application/xml")
      .send("x");
    expect(status).toBe(415);
  });
});

describe("published documents", () => {
  const folder = process.env.ONSIZE_SAMPLES;
  // Counts and sizes as the description of the published files gives them.
  it.each([
    [
      "qif/pmi-only-14-characteristics-cut.v30.qif",
      14,
      [
        ["Linear Size.1", "35", "34.8", "35"],
        ["Linear Size.3", "20", "19.9", "20.05"],
      ],
    ],
    ["qif/sphere-plan.v30.qif", 2, []],
    ["qif/plate-20-parts-incoming.v21.qif", undefined, [["RADIUS1", "2.5", "2.246", "2.754"]]],
  ] as const)("%s", async (file, count, features) => {
    const path = folder === undefined ? undefined : join(folder, file);
    if (path === undefined || !existsSync(path)) {
      process.stderr.write(
        `${file} is skipped: ONSIZE_SAMPLES does not name the folder of published samples\n`,
      );
      return;
    }
    const proposed = proposePart(await readDefinitions(createReadStream(path)), {
      unit: "mm",
      angle_unit: "deg",
    });
    if ("asks" in proposed) throw new Error(proposed.reason);

    if (count !== undefined) expect(proposed.features.length + proposed.left_out.length).toBe(count);
    for (const [name, ...sizes] of features) {
      const found = proposed.features.find((one) => one.characteristic === name || one.name === name);
      expect([found?.nominal, found?.lower_limit, found?.upper_limit]).toEqual(sizes);
    }
    const { status, body } = await propose(await readFile(path), "?unit=mm&angle_unit=deg");
    expect(status === 201 || status === 200 ? body.features.length : body.detail).toEqual(
      proposed.features.length > 0 ? proposed.features.length : expect.stringMatching(/no characteristic/),
    );
  });
});

describe("a part proposed from a file that a layout reads", () => {
  let layouts = 0;
  const layoutOf = async (body: object) =>
    (await create(api, "/v1/log-layouts", { name: `proposing ${++layouts}`, ...body })).layout_id;
  const send = (file: string | Buffer, query: string) =>
    api.post(`/v1/part-proposals?${query}`).set("content-type", "text/plain").send(file);
  const table = (change: object = {}) => ({
    format: "table",
    table: {
      separator: ",",
      columns: {
        characteristic: "no",
        nominal: "nominal",
        lower_deviation: "minus",
        upper_deviation: "plus",
        unit: "unit",
        value: "actual",
      },
    },
    ...change,
  });

  it("is what the tolerances of DMIS output say, and a person says the rest", async () => {
    const file = await readFile(new URL("../import/data/samples/dmis/two-pieces.dmo", import.meta.url));
    const id = await layoutOf({ format: "dmis", time_zone: "Europe/Berlin", piece_from: "serial" });

    const { status, body } = await send(file, `layout_id=${id}`);

    expect(status).toBe(201);
    expect(body).toMatchObject({ number: "HB-2041", revision: "B", unit: "mm", known_part: null });
    expect(
      body.features.map((one: Answer) => [
        one.characteristic,
        one.kind,
        one.nominal,
        one.lower_limit,
        one.upper_limit,
      ]),
    ).toEqual([
      ["BORE1 DIAM", null, "12.500", "12.500", "12.518"],
      ["BORE1 XPOS", null, "40.000", "39.950", "40.050"],
      ["SLOT1 WIDE", null, "8.000", "7.980", "8.020"],
      ["CONE1 ANG", "angle", "90", "89.5", "90.5"],
      ["TOP PROF", null, "0", "-0.1", "0.1"],
      ["TOP FLT", null, null, null, "0.05"],
      ["BORE1-SLOT1 GAP", null, "30.000", "29.900", "30.100"],
    ]);
    expect(body.features[4].notes).toEqual([
      "it was measured at smallest, largest: name its places (places)",
    ]);
    expect(body.left_out.map(({ reason }: Answer) => reason)).toContain("reports FLT without a number");

    const open = await accept(body.proposal_id, { features: [] });
    expect(open.status).toBe(422);
    const made = await accept(body.proposal_id, {
      features: [
        { item: "BORE1 DIAM", kind: "internal" },
        { item: "BORE1 XPOS", kind: "length" },
        { item: "SLOT1 WIDE", kind: "internal" },
        {
          item: "TOP PROF",
          kind: "form",
          geometric_characteristic: "surface_profile",
          places: ["smallest", "largest"],
        },
        { item: "TOP FLT", kind: "form", geometric_characteristic: "flatness" },
        { item: "BORE1-SLOT1 GAP", leave_out: true },
      ],
    });
    expect(made.status, made.text).toBe(201);
    expect(
      made.body.part.features.map((one: Answer) => [one.characteristic, one.kind, one.upper_limit]),
    ).toEqual([
      ["BORE1 DIAM", "internal", 12.518],
      ["BORE1 XPOS", "length", 40.05],
      ["SLOT1 WIDE", "internal", 8.02],
      ["CONE1 ANG", "angle", 90.5],
      ["TOP PROF", "form", 0.1],
      ["TOP FLT", "form", 0.05],
    ]);
    const again = await send(file, `layout_id=${id}`);
    expect(again.body.known_part).toMatchObject({ number: "HB-2041", found_by: "number" });
  });

  it("is read from a table without values, and tells lines that contradict each other", async () => {
    const id = await layoutOf(table());
    const file =
      "no,nominal,minus,plus,unit,actual\n1,12,-0.05,0.05,mm,\n2,80,-0.2,0.2,mm,80.01\n3,5,,,mm,\n4,6,-0.1,0.1,mm,\n4,6,-0.2,0.1,mm,\n5,1,-0.1,0.1,lightyear,1\n";

    const { body } = await send(file, `layout_id=${id}`);

    expect(
      body.features.map((one: Answer) => [one.characteristic, one.lower_limit, one.upper_limit, one.missing]),
    ).toEqual([
      ["1", "11.95", "12.05", ["kind"]],
      ["2", "79.8", "80.2", ["kind"]],
      ["3", null, null, ["kind", "limits"]],
    ]);
    expect(body.left_out.map((one: Answer) => [one.name, one.reason])).toEqual([
      ["4", "its lower limit is 5.9 mm on line 5, and 5.8 mm on line 6: which one is it?"],
      ["5", expect.stringContaining('"lightyear" is no unit that is known here')],
    ]);
  });

  it("asks for the unit that neither file nor layout says, with both meanings", async () => {
    const id = await layoutOf(table());
    const file = "no,nominal,minus,plus,unit,actual\n1,12,-0.05,0.05,,12.01\n";

    const asked = await send(file, `layout_id=${id}`);
    const said = await send(file, `layout_id=${id}&unit=inch`);

    expect(asked.status).toBe(422);
    expect(asked.body.detail).toContain("12.01 bears no unit: 12.01 mm or 12.01 inch?");
    expect(said.body).toMatchObject({ unit: "inch", features: [{ nominal: "12", upper_limit: "12.05" }] });
  });

  it("refuses a layout that there is not, and a file of readings alone", async () => {
    const id = await layoutOf(table());
    const bare = "no,nominal,minus,plus,unit,actual\n1,,,,mm,12.01\n";

    const none = await send(bare, `layout_id=${id}`);
    expect(none.status).toBe(422);
    expect(none.body.detail).toContain("the file says neither a nominal size nor limits of it");
    expect((await send(bare, "layout_id=999999")).body.errors[0]).toMatchObject({
      pointer: "layout_id",
      detail: "there is no layout 999999: GET /v1/log-layouts lists them",
    });
    expect((await send(bare, "layout=no%20such")).body.errors[0].pointer).toBe("layout");
    expect((await send(bare, `layout_id=${id}&layout=x`)).status).toBe(400);
  });
});
