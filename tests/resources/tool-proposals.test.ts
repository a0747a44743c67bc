import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create, machineBody } from "../support/shop.js";

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

const { api, db } = await createTestApp();
let machines = 0;

const newMachine = async (change: object = {}): Promise<string> =>
  (await create(api, "/v1/machines", machineBody({ name: `bare ${++machines}`, ...change }))).machine_id;
const upload = (machineId: string, body: string | Buffer, query = "", headers: Record<string, string> = {}) =>
  api
    .post(`/v1/machines/${machineId}/tool-documents${query}`)
    .set({ "content-type": "application/octet-stream", ...headers })
    .send(Buffer.from(body as string));
const accept = (id: string, choices: object[], change: object = {}) =>
  api.post(`/v1/tool-proposals/${id}/accept`).send({ choices, by: "shift A", ...change });
const proposalCount = async () =>
  Number(
    (
      await db
        .selectFrom("tool_proposal")
        .select((eb) => eb.fn.countAll().as("n"))
        .executeTakeFirstOrThrow()
    ).n,
  );

const diameter = (nominal: string, more = 'units="MILLIMETER"', value = nominal) =>
  `<Measurements><CuttingDiameterMax code="DC" nominal="${nominal}" ${more}>${value}</CuttingDiameterMax></Measurements>`;
const life = (limit: number, value = 0, more = "") =>
  `<ToolLife type="PART_COUNT" countDirection="UP" limit="${limit}" ${more}>${value}</ToolLife>`;
const asset = (
  inside: string,
  change: { number?: number | null; id?: string; serial?: string; more?: string } = {},
) => {
  const { number = 7, id = "EM10.1", serial = "1", more = "" } = change;
  const program = number === null ? "" : `<ProgramToolNumber>${number}</ProgramToolNumber>`;
  return `<CuttingTool assetId="${id}" toolId="EM10" serialNumber="${serial}" ${more}><Description>finishing end mill</Description><CuttingToolLifeCycle>${program}${inside}</CuttingToolLifeCycle></CuttingTool>`;
};
const offsets = (events: string) =>
  `<MTConnectStreams xmlns="urn:mtconnect.org:MTConnectStreams:2.0"><Streams><DeviceStream uuid="m"><ComponentStream componentId="p"><Events><ToolNumber dataItemId="t" sequence="1">7</ToolNumber>${events}</Events></ComponentStream></DeviceStream></Streams></MTConnectStreams>`;
const offset = (subType: string, value: string) =>
  `<ToolOffset dataItemId="o" subType="${subType}" sequence="2" timestamp="2026-03-11T06:00:00Z">${value}</ToolOffset>`;
const assets = (...inside: string[]) =>
  `<MTConnectAssets xmlns="urn:mtconnect.org:MTConnectAssets:1.4"><Assets>${inside.join("")}</Assets></MTConnectAssets>`;

const changesOf = (item: Answer) => item.changes.map(({ field, from, to }: Answer) => [field, from, to]);
const toolOf = async (shop: Answer) => (await api.get(`/v1/tools/${shop.tool.tool_id}`)).body;
const wearOf = async (shop: Answer) => (await api.get(`/v1/tools/${shop.tool.tool_id}/wear`)).body;

describe("POST /v1/machines/{machine_id}/tool-documents", () => {
  it("proposes what would be changed of a tool, from what to what, and changes nothing", async () => {
    const shop = await runningBatch(api);
    const before = await toolOf(shop);

    const { status, body } = await upload(
      shop.machine.machine_id,
      asset(life(400) + diameter("10.02", 'units="MILLIMETER" minimum="10" maximum="10.01"', "10.015")),
      "?source=mill",
    );

    expect(status).toBe(201);
    expect(body).toMatchObject({ status: "open", document: "cutting tool", source: "mill", by: null });
    expect(body.items).toHaveLength(1);
    expect(body.items[0]).toMatchObject({
      item: 1,
      about: "tool",
      tool_id: shop.tool.tool_id,
      tool_number: 7,
      matched_by: "program_number",
      says: "EM10.1, serial 1 is tool 7 10 mm finishing end mill: would set the nominal diameter and the life in pieces.",
      cautions: ["CuttingDiameterMax measures 10.015, which should be at least 10 and at most 10.01 mm."],
    });
    expect(changesOf(body.items[0])).toEqual([
      ["nominal_diameter", 10, 10.02],
      ["life_pieces", 120, 400],
    ]);
    expect(await toolOf(shop)).toEqual(before);
  });

  it("proposes nothing where all is as it stands", async () => {
    const shop = await runningBatch(api);

    const { body } = await upload(shop.machine.machine_id, asset(life(120) + diameter("10")));

    expect(body.items[0]).toMatchObject({
      changes: [],
      cautions: [],
      says: expect.stringContaining("nothing would change"),
    });
  });

  it("answers the same document, sent again while it waits, with the same proposal as things stand now", async () => {
    const shop = await runningBatch(api);
    const document = asset(life(400) + diameter("10.02"));
    const first = await upload(shop.machine.machine_id, document);
    const other = await upload(shop.machine.machine_id, asset(life(400)));
    await accept(other.body.proposal_id, [{ item: 1, fields: ["life_pieces"] }]);

    const again = await upload(shop.machine.machine_id, document);

    expect(again.status).toBe(200);
    expect(again.body.proposal_id).toBe(first.body.proposal_id);
    expect(changesOf(again.body.items[0])).toEqual([["nominal_diameter", 10, 10.02]]);
  });

  it("compares what the control reads with the ledger", async () => {
    const shop = await runningBatch(api);
    await create(api, `/v1/registers/${shop.tool.registers[0].register_id}/entries`, {
      batch_id: shop.batch.batch_id,
      value: -0.01,
    });

    const { body } = await upload(
      shop.machine.machine_id,
      offsets(offset("RADIAL", "-0.012") + offset("LENGTH", "0")),
    );

    expect(body.items.map(({ says }: Answer) => says)).toEqual([
      "The control reads -0.012 mm in D7 wear, the ledger says -0.010 mm.",
      "The control reads 0.000 mm in H57 wear, as the ledger says.",
    ]);
    expect(changesOf(body.items[0])).toEqual([["value_found", -0.01, -0.012]]);
    expect(body.items[0].changes[0].why).toBe("RADIAL offset with tool 7 in use, 2026-03-11T06:00:00Z");
    expect(body.items[1].changes).toEqual([]);
  });

  it.each([
    [
      "UNAVAILABLE",
      "RADIAL",
      "The control gives no value for the RADIAL offset (UNAVAILABLE), which is not 0.",
      undefined,
    ],
    ["188.1371", "LENGTH", "The control reads 188.1371 mm in H57 wear", "is no wear"],
    ["0.5", "LENGTH", "The control reads 0.500 mm in H57 wear", "allows 0.200 mm at a time"],
  ])("says what an offset of %s %s is and is not", async (value, subType, says, caution) => {
    const shop = await runningBatch(api);

    const { body } = await upload(shop.machine.machine_id, offsets(offset(subType, value)));

    expect(body.items[0].says).toContain(says);
    if (caution === undefined) expect(body.items[0].cautions).toEqual([]);
    else expect(body.items[0].cautions[0]).toContain(caution);
    expect(body.items[0].changes).toHaveLength(value === "0.5" ? 1 : 0);
  });

  it("does not guess a register: of no tool, of two, or one that holds a diameter", async () => {
    const two = await runningBatch(api, {
      tool: {
        registers: [
          { number: 7, label: "D7", controls: "radial", holds: "radius", value: 0 },
          { number: 8, label: "D8", controls: "radial", holds: "radius", value: 0 },
        ],
      },
    });
    const wide = await runningBatch(api, {
      tool: { registers: [{ number: 7, label: "D7", controls: "radial", holds: "diameter", value: 0 }] },
      features: [{ nominal: "12", lower_deviation: -0.03, upper_deviation: 0.03 }],
    });
    const unknown = offsets(offset("RADIAL", "0.01")).replace(/<ToolNumber.*?<\/ToolNumber>/, "");
    const table = offsets(
      '<ToolOffsetsTable dataItemId="o" sequence="3"><Entry key="8"><Cell key="RADIAL">0.01</Cell></Entry></ToolOffsetsTable>',
    );

    const ofTwo = await upload(two.machine.machine_id, offsets(offset("RADIAL", "0.01")));
    const ofNone = await upload(two.machine.machine_id, offsets(offset("LENGTH", "0.01")));
    const ofWide = await upload(wide.machine.machine_id, offsets(offset("RADIAL", "0.01")));
    const ofUnknown = await upload(two.machine.machine_id, unknown);
    const ofOther = await upload(
      two.machine.machine_id,
      unknown.replace("<Events>", '<Events><ToolNumber dataItemId="t" sequence="1">9</ToolNumber>'),
    );
    const byNumber = await upload(two.machine.machine_id, table);

    const cautions = [ofTwo, ofNone, ofWide, ofUnknown, ofOther].map(({ body }) => [
      body.items[0].changes.length,
      body.items[0].cautions[0],
    ]);
    expect(cautions).toEqual([
      [0, "It may be D7 and D8: enter it where it belongs."],
      [0, "No register of tool 7 here controls axial and z."],
      [0, expect.stringContaining("D7 holds a diameter")],
      [0, "Nothing says of which tool it is: the stream reports no tool number before it."],
      [0, expect.stringContaining("has no tool 9 here")],
    ]);
    expect(byNumber.body.items[0]).toMatchObject({ register_label: "D8", matched_by: "offset_number" });
    expect(byNumber.body.items[0].changes).toHaveLength(1);
  });

  it("asks for the unit where an inch machine's document bears none, and takes millimetres on a metric one", async () => {
    const inch = await newMachine({
      unit: "inch",
      least_increment: 0.0001,
      largest_change: 0.01,
      largest_change_towards_work: 0.004,
    });
    const mm = await newMachine();
    const document = asset(diameter("0.5", ""));

    const asked = await upload(inch, document);
    const declared = await upload(inch, document, "?unit=inch");
    const metric = await upload(mm, document);

    expect(changesOf(asked.body.items[0])).toEqual([["tool", null, "finishing end mill"]]);
    expect(asked.body.items[0].cautions).toContainEqual(
      expect.stringContaining("0.5 mm, as the standard means it, or 0.5 inch?"),
    );
    expect(changesOf(declared.body.items[0])[1]).toEqual(["nominal_diameter", null, 0.5]);
    expect(declared.body.unit).toBe("inch");
    expect(changesOf(metric.body.items[0])[1]).toEqual(["nominal_diameter", null, 0.5]);
    expect(metric.body.items[0].cautions).toContainEqual(expect.stringContaining("taken for millimetres"));
  });

  it("proposes no diameter that is the one known with inch and mm exchanged", async () => {
    const shop = await runningBatch(api);

    const { body } = await upload(shop.machine.machine_id, asset(diameter("0.3937", "")));

    expect(body.items[0].changes).toEqual([]);
    expect(body.items[0].cautions[0]).toMatch(/ is \d+\.\d+ (mm|inch) with inch and mm exchanged/);
  });

  it("says the state of life and edge, and proposes nothing for what is removed, an archetype or claimed twice", async () => {
    const shop = await runningBatch(api);
    const id = shop.machine.machine_id;
    const status = (word: string) => `<CutterStatus><Status>${word}</Status></CutterStatus>`;

    const broken = await upload(id, asset(status("BROKEN") + life(120, 120, 'warning="110"')));
    const warned = await upload(id, asset(life(120, 110, 'warning="110"')));
    const down = await upload(
      id,
      asset('<ToolLife type="MINUTES" countDirection="DOWN" initial="90" warning="10">9</ToolLife>'),
    );
    const gone = await upload(id, asset(life(400), { more: 'removed="true"' }));
    const twice = await upload(id, assets(asset(life(400)), asset(life(500), { id: "EM10.2", serial: "2" })));
    const archetype = await upload(
      id,
      '<CuttingToolArchetype assetId="A" toolId="EM10"><CuttingToolLifeCycle/></CuttingToolArchetype>',
    );

    expect(broken.body.items[0].cautions).toEqual([
      "The machine counts 120 parts on it, here edge 1 has cut 0.",
      expect.stringContaining("it is BROKEN: change it"),
      "Its life is at 120 parts, counting up: it has reached its end at 120.",
    ]);
    expect(warned.body.items[0].cautions[1]).toContain("has reached its warning at 110");
    expect(down.body.items[0].cautions[0]).toBe(
      "Its life is at 9 minutes, counting down: it has reached its warning at 10.",
    );
    for (const { body } of [gone, twice, archetype]) {
      for (const item of body.items) {
        expect(item.changes).toEqual([]);
        expect(item.cautions).toHaveLength(1);
      }
    }
    expect(twice.body.items[0].cautions[0]).toContain("EM10.2 says tool number 7 too");
  });

  it.each([
    ["", "there is nothing in it"],
    ["<CuttingTool assetId='a'><Measurements>", "Line 1, column"],
    [
      '<!DOCTYPE a [<!ENTITY x SYSTEM "file:///etc/hostname">]><CuttingTool assetId="&x;"/>',
      "document type declaration",
    ],
    ["PK\x03\x04 nothing", "archive"],
    ["no bars", "neither XML nor an adapter's line"],
    [assets(), "says nothing of cutting tools or offsets"],
    [
      offsets('<FeatureMeasurementTable dataItemId="f"><Entry key="B"/></FeatureMeasurementTable>'),
      "a layout of format mtconnect",
    ],
  ])("refuses %j and keeps nothing of it", async (document, detail) => {
    const machineId = await newMachine();
    const before = await proposalCount();

    const { status, body } = await upload(machineId, document);

    expect(status).toBe(422);
    expect(body.detail).toContain(detail);
    expect(await proposalCount()).toBe(before);
  });

  it("returns 404 for a machine that is not there, 415 for an encoded body and 400 for an unknown parameter", async () => {
    const machineId = await newMachine();

    expect((await upload("999999", asset(""))).status).toBe(404);
    expect((await upload(machineId, asset(""), "", { "content-encoding": "gzip" })).status).toBe(415);
    expect((await upload(machineId, asset(""), "?units=mm")).status).toBe(400);
  });

  it("answers a document, whatever it was made into, with a proposal or a 422 with its line", async () => {
    const machineId = await newMachine();
    const documents = [assets(asset(life(400) + diameter("10"))), offsets(offset("RADIAL", "0.01"))];
    const mutation = fc.tuple(
      fc.double({ min: 0, max: 0.999, noNaN: true }),
      fc.nat(20),
      fc.uint8Array({ maxLength: 4 }),
    );
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(...documents),
        fc.array(mutation, { minLength: 1, maxLength: 4 }),
        async (text, mutations) => {
          let bytes: Buffer = Buffer.from(text);
          for (const [place, removed, added] of mutations) {
            const at = Math.floor(place * bytes.length);
            bytes = Buffer.concat([bytes.subarray(0, at), added, bytes.subarray(at + removed)]);
          }
          const before = await proposalCount();

          const { status } = await upload(machineId, bytes);

          expect([200, 201, 422]).toContain(status);
          if (status !== 201) expect(await proposalCount()).toBe(before);
        },
      ),
      { numRuns: 60 },
    );
  }, 60_000);
});

describe("POST /v1/tool-proposals/{proposal_id}/accept", () => {
  it("changes what was chosen and nothing else, and says who", async () => {
    const shop = await runningBatch(api);
    const { body } = await upload(shop.machine.machine_id, asset(life(400) + diameter("10.02")));

    const accepted = await accept(body.proposal_id, [{ item: 1, fields: ["life_pieces"] }]);

    expect(accepted.status).toBe(200);
    expect(accepted.body).toMatchObject({
      status: "accepted",
      by: "shift A",
      done: [{ item: 1, field: "life_pieces", tool_id: shop.tool.tool_id, edge_id: null, entry_id: null }],
    });
    expect(await toolOf(shop)).toMatchObject({ life_pieces: 400, nominal_diameter: 10 });
  });

  it("sets a tool up with the registers that the person gives, and knows it by its asset from then on", async () => {
    const machineId = await newMachine();
    const document = assets(
      asset(life(400) + diameter("10.02"), { number: 3 }),
      asset(diameter("8"), { number: null, id: "X", serial: "9" }),
    );
    const { body } = await upload(machineId, document);
    const registers = [{ number: 3, label: "D3", controls: "radial", holds: "radius", value: -0.01 }];
    const choice = {
      item: 1,
      fields: ["tool", "nominal_diameter", "life_pieces"],
      tool: { kind: "end_mill", registers },
    };

    const unnumbered = await accept(body.proposal_id, [
      choice,
      { item: 2, fields: ["tool"], tool: { kind: "drill" } },
    ]);
    const none = (await api.get(`/v1/tools?machine_id=${machineId}`)).body.items;
    const accepted = await accept(body.proposal_id, [
      choice,
      { item: 2, fields: ["tool"], tool: { kind: "drill", number: 4, name: "8 mm drill" } },
    ]);
    const tools = (await api.get(`/v1/tools?machine_id=${machineId}`)).body.items;
    const again = await upload(machineId, asset(life(400), { number: 77 }));

    expect(unnumbered.status).toBe(422);
    expect(unnumbered.body.errors[0].pointer).toBe("/choices/1/tool/number");
    expect(none).toEqual([]);
    expect(accepted.status).toBe(200);
    expect(tools).toMatchObject([
      {
        number: 3,
        name: "finishing end mill",
        nominal_diameter: 10.02,
        life_pieces: 400,
        registers: [{ label: "D3" }],
      },
      { number: 4, name: "8 mm drill", nominal_diameter: null },
    ]);
    expect(again.body.items[0]).toMatchObject({ tool_number: 3, matched_by: "asset", changes: [] });
  });

  it("enters the value found at the control, in the ledger and in what is decided", async () => {
    const shop = await runningBatch(api);
    const { body } = await upload(shop.machine.machine_id, offsets(offset("RADIAL", "-0.012")));

    const accepted = await accept(body.proposal_id, [
      { item: 1, fields: ["value_found"], value_found: { batch_id: shop.batch.batch_id, from_piece: 4 } },
    ]);

    expect(accepted.status).toBe(200);
    expect(accepted.body.next).toMatchObject([{ batch_id: shop.batch.batch_id }]);
    const [radial] = (await wearOf(shop)).registers;
    expect(radial).toMatchObject({ value_now: -0.012 });
    expect(radial.entries[0]).toMatchObject({ value: -0.012, from_piece: 4, by: "shift A" });
    const entries = (await api.get(`/v1/registers/${radial.register_id}/entries`)).body.items;
    expect(entries[0]).toMatchObject({ entry_id: accepted.body.done[0].entry_id, origin: "found" });
  });

  it("takes a value beyond what the machine allows only where somebody confirms it", async () => {
    const shop = await runningBatch(api);
    const { body } = await upload(shop.machine.machine_id, offsets(offset("LENGTH", "0.5")));
    const choice = (more: object) => [
      { item: 1, fields: ["value_found"], value_found: { batch_id: shop.batch.batch_id, ...more } },
    ];

    const refused = await accept(body.proposal_id, choice({}));
    const taken = await accept(body.proposal_id, choice({ confirmed: true }));

    expect(refused.status).toBe(422);
    expect(refused.body.errors[0]).toMatchObject({
      pointer: "/choices/0/value_found",
      detail: expect.stringContaining("allows 0.200 mm at a time"),
    });
    expect(taken.status).toBe(200);
  });

  it("enters a fresh edge where another tool stands in the place of the one accepted", async () => {
    const shop = await runningBatch(api);
    const id = shop.machine.machine_id;
    const [d, h] = shop.tool.registers;
    const known = await upload(id, asset(life(400)));
    await accept(known.body.proposal_id, [{ item: 1, fields: ["life_pieces"] }]);
    const { body } = await upload(id, asset(life(400), { id: "EM10.2", serial: "2" }));
    const edge = (registers: object[]) => [
      {
        item: 1,
        fields: ["edge"],
        edge: { batch_id: shop.batch.batch_id, from_piece: 9, reason: "new_insert", registers },
      },
    ];
    const both = [
      { register_id: d.register_id, value: 0 },
      { register_id: h.register_id, value: 0.01 },
    ];

    const incomplete = await accept(body.proposal_id, edge(both.slice(0, 1)));
    const accepted = await accept(body.proposal_id, edge(both));
    const after = await upload(id, asset(life(400, 3), { id: "EM10.2", serial: "2" }));

    expect(body.items[0].changes).toMatchObject([
      { field: "edge", from: 1, to: 2, why: "EM10.2, serial 2, is in the place of EM10.1, serial 1" },
    ]);
    expect(incomplete.status).toBe(422);
    expect(incomplete.body.errors[0].pointer).toBe("/choices/0/edge/registers");
    expect(accepted.status).toBe(200);
    expect((await wearOf(shop)).edge).toMatchObject({ number: 2, edge_id: accepted.body.done[0].edge_id });
    expect(after.body.items[0].changes).toEqual([]);
  });

  it("proposes a fresh edge where the machine says NEW of one that has cut here", async () => {
    const shop = await runningBatch(api);
    await api.post(`/v1/batches/${shop.batch.batch_id}/count`).send({ last_piece_cut: 5 });

    const { body } = await upload(
      shop.machine.machine_id,
      asset("<CutterStatus><Status>NEW</Status></CutterStatus>"),
    );

    expect(body.items[0].changes).toMatchObject([
      { field: "edge", why: "it is NEW by the machine, and edge 1 has cut 5 pieces here" },
    ]);
  });

  it("refuses what has changed since it was proposed, and changes nothing of it", async () => {
    const shop = await runningBatch(api);
    const document = offsets(offset("RADIAL", "-0.012"));
    const tool = await upload(shop.machine.machine_id, asset(life(400) + diameter("10.02")));
    const value = await upload(shop.machine.machine_id, document);
    const other = await upload(shop.machine.machine_id, asset(life(500)));
    await accept(other.body.proposal_id, [{ item: 1, fields: ["life_pieces"] }]);
    await create(api, `/v1/registers/${shop.tool.registers[0].register_id}/entries`, {
      batch_id: shop.batch.batch_id,
      value: -0.02,
    });

    const stale = await accept(tool.body.proposal_id, [
      { item: 1, fields: ["nominal_diameter", "life_pieces"] },
    ]);
    const staleValue = await accept(value.body.proposal_id, [
      { item: 1, fields: ["value_found"], value_found: { batch_id: shop.batch.batch_id } },
    ]);
    const afresh = await upload(shop.machine.machine_id, document);

    expect(stale.status).toBe(409);
    expect(stale.body.errors).toEqual([
      {
        pointer: "/choices/0",
        detail: expect.stringContaining("life_pieces of item 1 is 500 by now, and was 120"),
      },
    ]);
    expect(await toolOf(shop)).toMatchObject({ nominal_diameter: 10, life_pieces: 500 });
    expect(staleValue.status).toBe(409);
    expect(changesOf(afresh.body.items[0])).toEqual([["value_found", -0.02, -0.012]]);
  });

  it("answers the same acceptance as the first time, and refuses another one", async () => {
    const shop = await runningBatch(api);
    const { body } = await upload(shop.machine.machine_id, asset(life(400) + diameter("10.02")));
    const choices = [{ item: 1, fields: ["life_pieces"] }];
    const first = await accept(body.proposal_id, choices);

    const again = await accept(body.proposal_id, choices);
    const other = await accept(body.proposal_id, [{ item: 1, fields: ["nominal_diameter"] }]);
    const declined = await api
      .post(`/v1/tool-proposals/${body.proposal_id}/decline`)
      .send({ reason: "late", by: "shift B" });

    expect(again.status).toBe(200);
    expect(again.body).toEqual(first.body);
    expect(other.status).toBe(409);
    expect(declined.status).toBe(409);
  });

  it.each([
    [[{ item: 3, fields: ["life_pieces"] }], "/choices/0/item", "1 to 2"],
    [
      [{ item: 1, fields: ["edge"] }],
      "/choices/0/fields/0",
      "is not proposed for item 1: that is nominal_diameter, life_pieces",
    ],
    [[{ item: 1, fields: ["life_pieces", "life_pieces"] }], "/choices/0/fields/1", "twice"],
    [
      [
        { item: 1, fields: ["life_pieces"] },
        { item: 1, fields: ["nominal_diameter"] },
      ],
      "/choices/1/item",
      "twice",
    ],
    [[{ item: 2, fields: ["tool"] }], "/choices/0/tool", "is missing"],
    [[{ item: 2, fields: ["nominal_diameter"] }], "/choices/0/fields", 'choose "tool" too'],
    [[{ item: 1, fields: ["life_pieces"], tool: { kind: "drill" } }], "/choices/0/tool", "of no use"],
  ])("refuses %j", async (choices, pointer, detail) => {
    const shop = await runningBatch(api);
    const { body } = await upload(
      shop.machine.machine_id,
      assets(asset(life(400) + diameter("10.02")), asset(diameter("3"), { number: 9, id: "D3" })),
    );

    const { status, body: problem } = await accept(body.proposal_id, choices);

    expect(status).toBe(422);
    expect(problem.errors[0]).toEqual({ pointer, detail: expect.stringContaining(detail) });
  });

  it("returns 404 for a proposal that is not there and 400 for nobody's yes", async () => {
    const shop = await runningBatch(api);
    const { body } = await upload(shop.machine.machine_id, asset(life(400)));

    expect((await accept("999999", [{ item: 1, fields: ["life_pieces"] }])).status).toBe(404);
    expect(
      (await accept(body.proposal_id, [{ item: 1, fields: ["life_pieces"] }], { by: undefined })).status,
    ).toBe(400);
    expect((await accept(body.proposal_id, [])).status).toBe(400);
  });
});

describe("the other paths of /v1/tool-proposals", () => {
  it("lists, shows and declines", async () => {
    const machineId = await newMachine();
    const first = await upload(machineId, asset(life(400)));
    const second = await upload(machineId, asset(life(500)));
    const decline = () =>
      api
        .post(`/v1/tool-proposals/${first.body.proposal_id}/decline`)
        .send({ reason: "an old export", by: "shift A" });

    const declined = await decline();
    const page = await api.get(`/v1/tool-proposals?machine_id=${machineId}&limit=1`);
    const rest = await api.get(
      `/v1/tool-proposals?machine_id=${machineId}&limit=1&cursor=${page.body.next_cursor}`,
    );
    const open = await api.get(`/v1/tool-proposals?machine_id=${machineId}&status=open`);
    const one = await api.get(`/v1/tool-proposals/${first.body.proposal_id}`);

    expect(declined.body).toMatchObject({ status: "declined", by: "shift A", reason: "an old export" });
    expect((await decline()).status).toBe(409);
    expect(page.body.items).toEqual([second.body]);
    expect(rest.body.items).toEqual([declined.body]);
    expect(open.body.items).toEqual([second.body]);
    expect(one.body).toEqual(declined.body);
    expect((await api.get("/v1/tool-proposals/999999")).status).toBe(404);
  });
});

describe("published sample documents", () => {
  const published = process.env.ONSIZE_SAMPLES;

  it.each([
    ["cutting-tool-24-inserts.xml", 201, []],
    ["cutting-tool-measured.xml", 201, ["tool", "nominal_diameter", "life_pieces"]],
    ["asset-lines-pipe.txt", 201, ["tool"]],
    ["streams-feature-measurement.xml", 201, []],
    ["cutting-tool-malformed.xml", 422, undefined],
  ])("%s", async (file, wanted, fields) => {
    const path = published && join(published, "mtconnect", file);
    if (!path || !existsSync(path)) {
      process.stderr.write(
        `${file} is skipped: ONSIZE_SAMPLES does not name the folder of published samples\n`,
      );
      return;
    }

    const { status, body } = await upload(await newMachine(), readFileSync(path));

    expect(status).toBe(wanted);
    if (fields) expect(body.items[0].changes.map(({ field }: Answer) => field)).toEqual(fields);
  });
});
