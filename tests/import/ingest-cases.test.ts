import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { csvCell } from "../../src/core/notation/csv-cell.js";
import { parseLength } from "../../src/core/quantity.js";
import { compileLayout } from "../../src/import/compile-layout.js";
import { LayoutShape } from "../../src/import/layout.js";
import { readAll } from "./read-all.js";

interface Case {
  id: string;
  kind: string;
  input: string;
  expected: string;
  source: string;
}
const cases: Case[] = JSON.parse(readFileSync(new URL("./data/ingest-cases.json", import.meta.url), "utf8"));

type LayoutInput = Partial<Parameters<typeof LayoutShape.parse>[0] & object>;

/** A layout of a table "Feature;Actual" in mm whose pieces are counted. */
function table(change: LayoutInput = {}, separator = ";") {
  return LayoutShape.parse({
    name: "cases",
    format: "table",
    unit: "mm",
    piece_from: "count",
    table: { separator, columns: { characteristic: "Feature", value: "Actual" } },
    ...change,
  });
}
const gauge = (change: LayoutInput = {}) =>
  LayoutShape.parse({ name: "cases", format: "gauge_lines", piece_from: "count", ...change });

const read = (layout: ReturnType<typeof table>, ...pieces: (string | Buffer)[]) =>
  readAll(
    layout,
    pieces.map((piece) => Buffer.from(piece as string)),
  );
const valuesOf = (file: ReturnType<typeof read>) => file.readings.map(({ reading }) => reading.value);
const rows = (...cells: string[]) => `Feature;Actual\n${cells.map((cell) => `D1;${cell}\n`).join("")}`;

/** What each case comes to here; the service's own are tested over HTTP, and named there by their id. */
const elsewhere = ["nul-01", "skew-01", "retry-01", "idem-01", "idem-02"];
const checks: Record<string, () => void> = {
  "dec-01": () => expect(valuesOf(read(table({ decimal_sign: "," }), rows("9,99")))).toEqual(["9.99"]),
  "dec-02": () =>
    expect(
      valuesOf(read(table({ decimal_sign: ",", grouping_sign: "." }), rows("0,75", "1.234,56", "260,00"))),
    ).toEqual(["0.75", "1234.56", "260.00"]),
  "dec-03": () => {
    const file = read(table(), rows("4,0"));
    expect(file.readings).toEqual([]);
    expect(file.refused[0]!.reason).toContain("4,0 may mean 4.0 with a decimal comma");
  },
  "bom-01": () => {
    const bytes = Buffer.concat([
      Buffer.from([0xef, 0xbb, 0xbf]),
      Buffer.from("Feature;Actual\r\nD1;10,001\r\n"),
    ]);
    expect(valuesOf(read(table({ decimal_sign: "," }), bytes))).toEqual(["10.001"]);
  },
  "u16-01": () => {
    const hex = "FF FE 46 00 2C 00 41 00 0A 00 44 00 31 00 2C 00 31 00 2E 00 35 00 0A 00".replaceAll(" ", "");
    const layout = table({ table: { separator: ",", columns: { characteristic: "F", value: "A" } } });
    const file = read(layout, Buffer.from(hex, "hex"));
    expect(file.readings.map(({ reading }) => [reading.characteristic, reading.value])).toEqual([
      ["D1", "1.5"],
    ]);
    expect(JSON.stringify(file.readings)).not.toContain("\\u0000");
  },
  "emp-01": () => {
    const file = read(table(), rows(""));
    expect([file.readings, file.refused]).toEqual([[], []]);
    expect(file.unmeasured).toHaveLength(1);
  },
  "neg-01": () =>
    expect(valuesOf(read(table({ decimal_sign: "," }), rows("\u22120,012")))).toEqual(["-0.012"]),
  "mu-01": () => {
    const file = read(gauge(), "0.8 \u00b5m\n0.8 \u03bcm\n0.8 um\n");
    expect(file.readings.map(({ reading }) => [reading.value, reading.unit])).toEqual(
      Array.from({ length: 3 }, () => ["0.8", "µm"]),
    );
    expect(parseLength("0.8", "µm")).toBe(parseLength("0.0008", "mm"));
  },
  "hdr-01": () =>
    expect(() => read(table({}, ","), "Feature,Actual,Actual\nD1,10.001,10.003\n")).toThrow(
      'The column "Actual" stands 2 times in the header (columns 2, 3)',
    ),
  "tol-01": () => {
    const layout = table({
      table: {
        separator: ";",
        columns: { characteristic: "Feature", nominal: "Nom", tolerance: "Tol", value: "Actual" },
      },
    });
    const file = read(layout, "Feature;Nom;Tol;Actual\nD1;10;\u00b10.05;10.05\nD1;10;\u00b10.05;9.95\n");
    expect(file.readings.map(({ said }) => said.within)).toEqual([true, true]);
    expect(10.05 - 10 <= 0.05).toBe(false); // what doubles would say
  },
  "tol-02": () => {
    // Rule: sizes are compared in whole picometres, to which a value is rounded; its text is kept.
    const layout = table({
      table: {
        separator: ";",
        columns: { characteristic: "Feature", lower_limit: "Low", upper_limit: "High", value: "Actual" },
      },
    });
    const [item] = read(layout, "Feature;Low;High;Actual\nD1;25.25;25.39;25.390000000000001\n").readings;
    expect(item!.said).toMatchObject({ within: true, value: "25.390000000000001" });
  },
  "time-01": () => {
    const layout = table({
      time_zone: "Europe/Berlin",
      table: { separator: ";", columns: { characteristic: "Feature", value: "Actual", measured_at: "Time" } },
    });
    const [item] = read(layout, "Feature;Actual;Time\nD1;10;2026-03-11T06:42:17\n").readings;
    expect(item!.reading.measured_at).toBe("2026-03-11T05:42:17.000Z");
    expect(item!.said.measured_at).toBe("2026-03-11T06:42:17");
  },
  "re-01": () => {
    const layout = LayoutShape.parse({
      name: "hostile",
      format: "text",
      unit: "mm",
      rules: [{ kind: "record", pattern: "^(a+)+$" }],
    });
    const file = read(layout, `${"a".repeat(30)}!\n${"a".repeat(100_000)}!\n`);
    expect(file.readings).toEqual([]);
    expect(file.refused).toHaveLength(2);
  },
  "xml-01": () =>
    expect(() => read(table(), '<!DOCTYPE d [<!ENTITY x SYSTEM "file:///etc/hostname">]><d>&x;</d>')).toThrow(
      "document type declaration",
    ),
  "csv-01": () => expect(csvCell("=cmd|' /C calc'!A0")).toBe(`"'=cmd|' /C calc'!A0"`),
  "csv-02": () => expect(csvCell(-0.02)).toBe("-0.02"),
  "id-01": () => {
    const ids = ["3-12", "MAR1", "12E5", "000123"];
    expect(ids.map((id) => csvCell(id))).toEqual(ids);
    expect(ids.map((id) => csvCell(id, { keepText: true }))).toEqual(ids.map((id) => `"'${id}"`));
    const layout = table({
      table: { separator: ";", columns: { characteristic: "Feature", value: "Actual", serial: "Serial" } },
    });
    const file = read(layout, `Feature;Actual;Serial\n${ids.map((id) => `D1;10.0;${id}\n`).join("")}`);
    expect(file.readings.map(({ reading }) => reading.serial)).toEqual(ids);
  },
  "ser-01": () =>
    expect(valuesOf(read(gauge(), "12.3", "45 mm\r\n12.3", "46 mm\r\n"))).toEqual(["12.345", "12.346"]),
};

describe("cases of what goes wrong when files are read", () => {
  it.each(cases.filter(({ id }) => !elsewhere.includes(id)))("$id, $kind: $expected ($source)", ({ id }) => {
    expect(checks).toHaveProperty(id);
    checks[id]!();
  });

  it("are all looked at, here or over HTTP", () => {
    const overHttp = readFileSync(new URL("../resources/imports.test.ts", import.meta.url), "utf8");

    for (const id of elsewhere) expect(overHttp).toContain(id);
    expect([...Object.keys(checks), ...elsewhere].sort()).toEqual(cases.map(({ id }) => id).sort());
  });

  it("refuse patterns that no linear engine can take, and fields that there are not", () => {
    const pattern = (text: string) =>
      compileLayout(
        LayoutShape.parse({ name: "x", format: "text", rules: [{ kind: "record", pattern: text }] }),
      ).faults.map(({ message }) => message);

    expect(pattern("(?=a)b")[0]).toContain("no look-around");
    expect(pattern("(a)\\1")[0]).toContain("no back-references");
    expect(pattern("(")[0]).toContain("no regular expression");
    expect(pattern("(?P<colour>x)")[0]).toContain('group "colour"');
    expect(pattern("((a{1,1000}){1,1000}){1,1000}")[0]).toContain("no regular expression");
    expect(pattern("\\pL{900}".repeat(3))[0]).toContain("too much");
  });
});
