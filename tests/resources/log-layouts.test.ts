import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { sampleLayout } from "../import/sample-layouts.js";
import { createTestApp } from "../support/app.js";

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

const { api } = await createTestApp();
const sample = (file: string) => readFileSync(new URL(`../import/data/samples/${file}`, import.meta.url));

const probe = {
  name: "probe print",
  format: "text",
  unit: "mm",
  rules: [
    { kind: "skip", pattern: "^%" },
    { kind: "record", pattern: "^(?P<characteristic>\\S+) +(?P<value>[-+.,\\d]+)$" },
  ],
  marks: { "**": "fail", "*": "ignore" },
};

describe("POST /v1/log-layouts", () => {
  it("keeps a layout with its defaults, in the order in which it was written", async () => {
    const { status, body } = await api.post("/v1/log-layouts").send(probe);

    expect(status).toBe(201);
    expect(body).toMatchObject({
      version: 1,
      layout: { ...probe, decimal_sign: ".", other_lines: "refuse", encoding: "detect" },
    });
    expect((await api.get(`/v1/log-layouts/${body.layout_id}`)).body).toEqual(body);
    expect(Object.keys(body.layout.marks)).toEqual(["**", "*"]);
    expect((await api.post("/v1/log-layouts").send(probe)).status).toBe(409);
  });

  it.each([
    [{ rules: [{ kind: "record", pattern: "(" }] }, "/rules/0/pattern"],
    [{ rules: [{ kind: "record", pattern: "(?=a)(?P<value>b)" }] }, "/rules/0/pattern"],
    [{ rules: [{ kind: "record", pattern: "(?P<colour>b)" }] }, "/rules/0/pattern"],
    [{ rules: [{ kind: "record", pattern: "\\pL{900}\\pL{900}\\pL{900}" }] }, "/rules"],
    [{ rules: [{ kind: "record" }] }, "/rules/0"],
    [{ rules: [{ kind: "record", delimiter: ";" }] }, "/rules/0/delimiter"],
    [{ rules: [{ kind: "record", columns: [{ field: "value", from: 5, to: 2 }] }] }, "/rules/0/columns/0"],
    [
      { rules: [{ kind: "record", columns: [{ field: "colour", from: 1, to: 2 }] }] },
      "/rules/0/columns/0/field",
    ],
    [{ rules: [{ kind: "skip", pattern: "x" }] }, "/rules"],
    [{ decimal_sign: ",", grouping_sign: "," }, "/grouping_sign"],
    [{ decimal_sign: "both", grouping_sign: "." }, "/grouping_sign"],
    [{ time_zone: "Mars/Olympus" }, "/time_zone"],
    [{ time_formats: ["HH:mm"] }, "/time_formats/0"],
    [{ scale: "1e-4" }, "/scale"],
    [{ format: "table" }, "/table"],
    [{ format: "gauge_lines" }, "/rules"],
    [{ constants: { value: "12" } }, "/constants/value"],
    [
      { format: "table", rules: [], table: { separator: ";", columns: { characteristic: "A" } } },
      "/table/columns",
    ],
    [
      { format: "table", rules: [], table: { separator: ";", header: false, columns: { value: "A" } } },
      "/table/columns",
    ],
    [
      {
        format: "table",
        rules: [],
        table: { separator: ";", shape: "piece_per_row", columns: { value: "A" } },
      },
      "/table/columns/value",
    ],
  ])("refuses %j at %s", async (change, pointer) => {
    const { status, body } = await api.post("/v1/log-layouts").send({ ...probe, name: "refused", ...change });

    expect(status).toBe(400);
    expect(body.errors.map((error: Answer) => error.pointer)).toContain(pointer);
  });
});

describe("PUT /v1/log-layouts/{layout_id}", () => {
  it("replaces a layout and counts its version", async () => {
    const { body } = await api.post("/v1/log-layouts").send({ ...probe, name: "to be mended" });

    const mended = await api
      .put(`/v1/log-layouts/${body.layout_id}`)
      .send({ ...probe, name: "mended", unit: "inch" });

    expect(mended.status).toBe(200);
    expect(mended.body).toMatchObject({ version: 2, layout: { name: "mended", unit: "inch" } });
    expect((await api.put(`/v1/log-layouts/${body.layout_id}`).send({ ...probe })).status).toBe(409);
    expect((await api.put("/v1/log-layouts/999999").send({ ...probe, name: "nobody" })).status).toBe(404);
  });
});

describe("GET /v1/log-layouts", () => {
  it("lists layouts in pages", async () => {
    await api.post("/v1/log-layouts").send({ ...probe, name: "one more" });

    const first = (await api.get("/v1/log-layouts?limit=1")).body;
    const second = (await api.get(`/v1/log-layouts?limit=1&cursor=${first.next_cursor}`)).body;

    expect(first.items).toHaveLength(1);
    expect(second.items[0].layout_id).not.toBe(first.items[0].layout_id);
    expect((await api.get("/v1/log-layouts/999999")).status).toBe(404);
  });
});

describe("POST /v1/log-layouts/trials", () => {
  it("shows line by line what would be read, and keeps nothing", async () => {
    const { status, body } = await api.post("/v1/log-layouts/trials").send({
      layout: { ...probe, name: "tried", piece_from: "count" },
      sample: "%\nBORE 12.003\nBORE 12,003\nwhat is this\nBORE -\n",
    });

    expect(status).toBe(200);
    expect(body).toMatchObject({ readings: 1, refused: 2, not_measured: 1, unreadable: null });
    expect(body.lines.map(({ line, becomes }: Answer) => [line, becomes])).toEqual([
      [1, "skipped"],
      [2, "reading"],
      [3, "refused"],
      [4, "refused"],
      [5, "not_measured"],
    ]);
    expect(body.lines[1].reading).toMatchObject({
      characteristic: "BORE",
      value: "12.003",
      unit: "mm",
      piece: null,
    });
    expect(body.lines[2].why).toContain("12003 with a comma between thousands");
    expect(body.lines[3].why).toContain("fits none of the layout's rules");
    expect(
      (await api.get("/v1/log-layouts")).body.items.map(({ layout }: Answer) => layout.name),
    ).not.toContain("tried");
  });

  it("takes bytes, and a layout that is kept", async () => {
    const file = "tables/utf16le-tab.txt";
    const created = await api.post("/v1/log-layouts").send(sampleLayout(file));
    expect(created.status).toBe(201);

    const { body } = await api
      .post("/v1/log-layouts/trials")
      .send({ layout_id: created.body.layout_id, sample_base64: sample(file).toString("base64") });

    expect(
      body.lines
        .filter(({ becomes }: Answer) => becomes === "reading")
        .map(({ reading }: Answer) => reading.characteristic),
    ).toEqual(["Ø bore", "Depth"]);
    expect(body.lines[1].said.nominal).toBe("20.000");
  });

  it("says why a sample can't be read at all", async () => {
    const { body } = await api.post("/v1/log-layouts/trials").send({
      layout: { ...probe, name: "tried" },
      sample: "<!DOCTYPE d [<!ENTITY x SYSTEM 'file:///etc/hostname'>]><d>&x;</d>",
    });

    expect(body).toMatchObject({
      readings: 0,
      lines: [],
      unreadable: expect.stringContaining("document type declaration"),
    });
  });

  it.each([
    [{ sample: "x" }, 400],
    [{ layout_id: "1", layout: probe, sample: "x" }, 400],
    [{ layout_id: "1" }, 400],
    [{ layout_id: "1", sample: "x", sample_base64: "eA==" }, 400],
    [{ layout_id: "1", sample_base64: "no base64!" }, 400],
    [{ layout_id: "999999", sample: "x" }, 404],
  ])("refuses %j", async (body, status) => {
    expect((await api.post("/v1/log-layouts/trials").send(body)).status).toBe(status);
  });

  it("answers whatever the pattern and the line, where other engines would hang", async () => {
    const rules = ["^(a+)+$", "(x+x+)+y", "\\pL{900}\\d", "(.*)(.*)(.*)(.*)z"].map((pattern) => ({
      kind: "record",
      pattern,
    }));
    const line = `${"a".repeat(8000)}!\n`;

    const { status, body } = await api
      .post("/v1/log-layouts/trials")
      .send({ layout: { ...probe, name: "hostile", rules }, sample: line.repeat(20) });

    expect(status).toBe(200);
    expect(body.refused).toBe(20);
  });
});
