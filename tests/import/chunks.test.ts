import { readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { compileLayout } from "../../src/import/compile-layout.js";
import { openReader } from "../../src/import/formats.js";
import type { Layout } from "../../src/import/layout.js";
import type { Checkpoint, Found } from "../../src/import/source-record.js";
import { longestLine } from "../../src/import/split-lines.js";
import { readAll } from "./read-all.js";
import { sampleLayout } from "./sample-layouts.js";

const folder = new URL("./data/samples/", import.meta.url).pathname;
const files = [
  "dmis/plate-results.dmo",
  "dmis/two-pieces.dmo",
  "gauge/serial-sign-unit.txt",
  "gauge/wedge-bare-numbers.txt",
  "logs/macro-print-columns.txt",
  "logs/macro-print-multiline-records.txt",
  "logs/serial-capture-control-bytes.bin",
  "tables/plus-minus-text.csv",
  "tables/semicolon-comma-bom.csv",
  "tables/utf16le-tab.txt",
  "tables/wide-parts-as-rows.csv",
  "tables/windows1252-units.csv",
];
const quoted = Buffer.from('Feature,Actual\n"two\nlines, ""quoted""",10.001\nD2,10.002\n"cut\noff');
const quotedLayout = sampleLayout("tables/formula-cells.csv", {
  table: { separator: ",", columns: { characteristic: "Feature", value: "Actual" } },
});

const sources = [
  ...files.map((file) => ({
    name: file,
    layout: sampleLayout(file),
    bytes: readFileSync(join(folder, file)),
  })),
  { name: "a table with cells of several lines", layout: quotedLayout, bytes: quoted },
];

/** Everything found, without what is only for reading a line again. */
function shown(found: readonly Found[]) {
  return found.map((item) => ({ ...item, parser: undefined }));
}

/** Reads from a checkpoint on as an import does that is broken off: what is sent begins wherever the sender likes before it. */
function takeUp(
  layout: Layout,
  bytes: Buffer,
  from: Checkpoint,
  to: number,
  last: boolean,
): [Found[], Checkpoint] {
  const reader = openReader(compileLayout(layout), JSON.parse(JSON.stringify(from)));
  const found = reader.read(bytes.subarray(from.offset, Math.max(from.offset, to)));
  found.push(...(last ? reader.end() : reader.pause()));
  return [found, reader.checkpoint()];
}

describe.each(sources)("$name", ({ layout, bytes }) => {
  const whole = shown(readAll(layout, [bytes]).found);

  it("is read the same at whatever bytes it is cut", () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.nat(bytes.length), { maxLength: 12 }), (cuts) => {
        const at = [0, ...cuts.sort((a, b) => a - b), bytes.length];
        const pieces = at.slice(1).map((end, i) => bytes.subarray(at[i], end));

        expect(shown(readAll(layout, pieces).found)).toEqual(whole);
      }),
      { numRuns: 60 },
    );
  });

  it("is read the same byte by byte", () => {
    const pieces = Array.from(bytes, (_, i) => bytes.subarray(i, i + 1));

    expect(shown(readAll(layout, pieces).found)).toEqual(whole);
  });

  it("is read the same when it is taken up anew at its checkpoint, however often, and grows in between", () => {
    fc.assert(
      fc.property(fc.array(fc.nat(bytes.length), { maxLength: 8 }), (stops) => {
        let at: Checkpoint = { offset: 0 };
        const found: Found[] = [];
        // A stop before the checkpoint is a piece sent again: nothing in it is new.
        for (const stop of stops) {
          const [more, next] = takeUp(layout, bytes, at, stop, false);
          found.push(...more);
          expect(next.offset).toBeGreaterThanOrEqual(at.offset);
          at = next;
        }
        found.push(...takeUp(layout, bytes, at, bytes.length, true)[0]);

        expect(shown(found)).toEqual(whole);
      }),
      { numRuns: 80 },
    );
  });
});

describe("hostile sources", () => {
  const layouts = files.map((file) => [file, sampleLayout(file)] as const);

  it.each(layouts)("a line of 10 MB is refused by the layout of %s, and the next one read", (_, layout) => {
    const long = Buffer.concat([Buffer.from("x".repeat(10 * longestLine)), Buffer.from("\n12.5 mm\n")]);

    const outcome = attempt(() => readAll(layout, slices(long)).refused.map(({ line }) => line));

    if (outcome instanceof Error) expect(outcome.message).toMatch(/columns/);
    else expect(outcome).toContain(1);
  });

  it("keeps no more of a line of 10 MB than its beginning", () => {
    const layout = sampleLayout("gauge/serial-sign-unit.txt");
    const { refused, readings } = readAll(
      layout,
      slices(Buffer.from(`${"9".repeat(10 * longestLine)}\n12.5 mm\n`)),
    );

    expect(refused).toEqual([
      { line: 1, reason: `is longer than ${longestLine} bytes, which no line of a log is` },
    ]);
    expect(readings.map(({ reading }) => reading.value)).toEqual(["12.5"]);
  });

  it.each([
    ["an archive", Buffer.from("504b0304140000000800", "hex"), "workbook"],
    ["a document", Buffer.from("%PDF-1.7\n%binary"), "PDF"],
    [
      "random bytes",
      Buffer.from(Array.from({ length: 5000 }, (_, i) => (i * 7919) % 31)),
      "control characters",
    ],
    ["XML", Buffer.from('<?xml version="1.0"?><a/>'), "XML"],
  ])("%s is refused as a whole, with what it is", (_, bytes, reason) => {
    expect(() => readAll(sampleLayout("gauge/serial-sign-unit.txt"), slices(bytes))).toThrow(reason);
  });

  it("never throws but to refuse a source, whatever its bytes are", () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 600 }), fc.constantFrom(...layouts), (bytes, [, layout]) => {
        const outcome = attempt(() => readAll(layout, [Buffer.from(bytes)]));

        if (outcome instanceof Error) expect(outcome.constructor.name).toBe("UnreadableSource");
        else expect(JSON.stringify(outcome)).not.toContain("\\u0000");
      }),
      { numRuns: 300 },
    );
  });

  it("gives up on quotes that never close after 50 lines, and reads what stands behind the first", () => {
    const rows = Array.from({ length: 200 }, (_, i) => `D${i},10.00${i % 10}`).join("\n");
    const { readings, refused } = readAll(quotedLayout, [Buffer.from(`Feature,Actual\n"open,1\n${rows}\n`)]);

    expect(refused).toEqual([{ line: 2, reason: expect.stringContaining("opens a quote") }]);
    expect(readings).toHaveLength(200);
  });

  it("refuses columns that cut a number in two", () => {
    const layout = sampleLayout("tables/report-page-breaks.txt", {
      rules: [
        {
          kind: "record",
          columns: [
            { field: "characteristic", from: 1, to: 4 },
            { field: "value", from: 5, to: 10 },
          ],
        },
      ],
    });
    const { readings, refused } = readAll(layout, [Buffer.from("D1   12.00\nD1   12.005\n")]);

    expect(readings.map(({ reading }) => reading.value)).toEqual(["12.00"]);
    expect(refused).toEqual([{ line: 2, reason: expect.stringContaining("cuts in two") }]);
  });

  it("refuses a row with more cells than headers: a decimal comma would shift them", () => {
    const { readings, refused } = readAll(quotedLayout, [Buffer.from("Feature,Actual\nD1,10,007\n")]);

    expect(readings).toEqual([]);
    expect(refused[0]!.reason).toContain("decimal comma");
  });
});

function slices(bytes: Buffer): Buffer[] {
  const size = 64 * 1024;
  return Array.from({ length: Math.ceil(bytes.length / size) }, (_, i) =>
    bytes.subarray(i * size, (i + 1) * size),
  );
}

function attempt<T>(work: () => T): T | Error {
  try {
    return work();
  } catch (error) {
    return error as Error;
  }
}
