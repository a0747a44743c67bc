import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { compareDecimals } from "../../src/core/notation/decimal-text.js";
import { readUnit } from "../../src/core/notation/read-unit.js";
import { type LengthUnit, parseLength } from "../../src/core/quantity.js";
import { type ReadFile, readAll } from "./read-all.js";
import { sampleLayout } from "./sample-layouts.js";

/** What the right parse of each file is; read by hand or by a small reader of its own, see README.md beside it. */
interface Expected {
  count: number | null;
  checks: Check[];
}
interface Check {
  feature: string | null;
  value: string;
  unit?: string;
  value_mm?: string;
  nominal?: string;
  lower_limit?: string;
  upper_limit?: string;
  verdict?: "in" | "out";
  reported?: string;
  serial?: string;
  part?: string;
  batch?: string;
  day?: string;
}

const folder = new URL("./data/samples/", import.meta.url).pathname;
const expected: Record<string, Expected> = JSON.parse(
  readFileSync(new URL("./data/expected.json", import.meta.url), "utf8"),
);
const published = process.env.ONSIZE_SAMPLES;

/** Files of public origin are not kept here; the others are. */
function pathOf(file: string): string | undefined {
  const own = join(folder, file);
  if (existsSync(own)) return own;
  return published === undefined ? undefined : join(published, file);
}

function readSample(file: string, change: object = {}): ReadFile {
  return readAll(sampleLayout(file, change), [readFileSync(pathOf(file)!)]);
}

const files = Object.keys(expected).filter((file) => !file.startsWith("hostile/"));

describe("sample files", () => {
  it.each(files)("%s gives the measurements that it holds", (file) => {
    if (pathOf(file) === undefined) {
      process.stderr.write(
        `${file} is skipped: ONSIZE_SAMPLES does not name the folder of published samples\n`,
      );
      return;
    }
    const { count, checks } = expected[file]!;

    const { readings } = readSample(file);

    const isHeld = file === "tables/inch-and-mm-columns.csv" ? 1 : 0; // the row whose columns disagree, see below
    if (count !== null) expect(readings).toHaveLength(count - isHeld);
    for (const [at, check] of checks.entries()) {
      const found = readings.filter((item, i) => isMeant(item, check, at === i || check.feature !== null));
      expect(found, JSON.stringify(check)).not.toEqual([]);
    }
  });

  it("inch-and-mm-columns.csv: a row whose two columns disagree is refused with both values", () => {
    const { refused } = readSample("tables/inch-and-mm-columns.csv");

    expect(refused).toEqual([{ line: 3, reason: "is 0.5000 inch in one column and 12.80 mm in another" }]);
  });

  it("macro-print-multiline-records.txt: an alarm is no measurement, and the record that is cut off is refused", () => {
    const { refused, unmeasured } = readSample("logs/macro-print-multiline-records.txt");

    expect(unmeasured).toEqual([{ line: 15, reason: "ALARM: PROBE NOT READY" }]);
    expect(refused).toEqual([{ line: 21, reason: expect.stringContaining("incomplete") }]);
  });

  it("macro-print-implied-decimals.txt: without the scale all three are refused", () => {
    const { readings, refused } = readSample("logs/macro-print-implied-decimals.txt", {
      unit: "mm",
      rules: [
        { kind: "skip", pattern: "^UNITS" },
        { kind: "record", delimiter: "spaces", fields: ["characteristic", "value"] },
      ],
    });

    expect(readings).toEqual([]);
    expect(refused.map(({ line }) => line)).toEqual([2, 3, 4]);
    expect(refused[0]!.reason).toContain("249876, or 249.876");
  });

  it("serial-capture-control-bytes.bin: the NUL inside a number is noted where it is dropped, else its line is refused", () => {
    const dropped = readSample("logs/serial-capture-control-bytes.bin");
    const strict = readSample("logs/serial-capture-control-bytes.bin", { encoding: "utf-8" });
    const kept = readAll(
      sampleLayout("logs/serial-capture-control-bytes.bin", { control_characters: "refuse" }),
      [Buffer.from("D1 25.0021\nD2 12.3\x0045\nD3 1.5\nD4 1.6\n")],
    );

    expect(dropped.readings[2]).toMatchObject({
      reading: { characteristic: "D3", value: "12.345" },
      said: { notes: ["control characters were left out"] },
    });
    expect(strict.readings).toHaveLength(3);
    expect(kept.readings.map(({ reading }) => reading.value)).toEqual(["25.0021", "1.5", "1.6"]);
    expect(kept.refused).toEqual([{ line: 2, reason: expect.stringContaining("NUL") }]);
  });

  it("serial-status-lines.txt: dashes are no measurement, and what bears no unit is refused with both meanings", () => {
    const { refused, unmeasured } = readSample("gauge/serial-status-lines.txt");

    expect(unmeasured).toEqual([{ line: 3, reason: "the gauge sent dashes" }]);
    expect(refused).toEqual([{ line: 7, reason: expect.stringContaining("12.0 mm or 12.0 inch") }]);
  });

  it("missing-values.csv: 9999.999 is a value far out unless the layout says that it is none", () => {
    const { readings } = readSample("tables/missing-values.csv", { no_value: [] });

    expect(readings.map(({ reading }) => reading.characteristic)).toEqual(["A", "H", "I"]);
    expect(readings[2]!.said.within).toBe(false);
  });

  it("spreadsheet-mangled-ids.csv: ids stay the texts that they are", () => {
    const { readings } = readSample("tables/spreadsheet-mangled-ids.csv");

    expect(readings.map(({ reading }) => [reading.part_number, reading.serial])).toEqual([
      ["3-12", "000123"],
      ["12E5", "000124"],
      ["MAR1", "0x1F"],
      ["1/2-20", "1e3"],
    ]);
  });

  it("formula-cells.csv: a feature keeps its name, whatever a spreadsheet would make of it", () => {
    const { readings } = readSample("tables/formula-cells.csv");

    expect(readings.map(({ reading }) => reading.characteristic)).toEqual(["D1", "D2", "=cmd|' /C calc'!A0"]);
  });

  it.each(["logs/machine-state-cleaned.txt", "logs/machine-state-hardwrapped-80.txt"])(
    "%s gives no size by any layout of the other logs, save one that takes every bare number for a size",
    (file) => {
      const path = pathOf(file);
      if (path === undefined) {
        process.stderr.write(
          `${file} is skipped: ONSIZE_SAMPLES does not name the folder of published samples\n`,
        );
        return;
      }
      for (const other of files.filter(
        (name) => /^(logs|gauge)\//.test(name) && !/bare-numbers/.test(name),
      )) {
        const { readings } = readAll(sampleLayout(other), [readFileSync(path)]);
        expect(readings, other).toEqual([]);
      }
    },
  );

  it("external-entity.qif is refused as soon as its document type declaration is seen", () => {
    const bytes = readFileSync(join(folder, "hostile/external-entity.qif"));

    expect(() => readAll(sampleLayout("tables/utf16le-tab.txt"), [bytes])).toThrow(
      "document type declaration",
    );
  });
});

function isMeant(item: ReadFile["readings"][number], check: Check, isInPlace: boolean): boolean {
  const { reading, said } = item;
  const isFeature = check.feature === null ? isInPlace : reading.characteristic === check.feature;
  return (
    isFeature &&
    isValue(reading.value!, reading.unit!, check) &&
    isLimit(said.nominal, check.nominal) &&
    isLimit(said.lower_limit, check.lower_limit) &&
    isLimit(said.upper_limit, check.upper_limit) &&
    (check.verdict === undefined || said.within === (check.verdict === "in")) &&
    (check.reported === undefined ||
      said.result === (/^(ok|PASS)$/.test(check.reported) ? "pass" : "fail")) &&
    (check.serial === undefined || reading.serial === check.serial) &&
    (check.batch === undefined || reading.batch === check.batch) &&
    (check.day === undefined || said.note === check.day) &&
    (check.part === undefined ||
      [reading.part_number, String(reading.piece), item.record.fields.piece].includes(check.part))
  );
}

function isValue(value: string, unit: string, check: Check): boolean {
  const checkUnit = check.unit === undefined ? undefined : readUnit(check.unit);
  if (
    check.value_mm !== undefined &&
    parseLength(value, unit as LengthUnit) !== parseLength(check.value_mm, "mm")
  )
    return false;
  if (checkUnit === "deg" && check.value.includes("."))
    return Number(value).toFixed(check.value.split(".")[1]!.length) === check.value;
  if (checkUnit !== undefined && checkUnit !== unit) {
    return checkUnit === "mm" && parseLength(value, unit as LengthUnit) === parseLength(check.value, "mm");
  }
  return compareDecimals(value, check.value) === 0;
}

function isLimit(said: string | undefined, wanted: string | undefined): boolean {
  if (wanted === undefined) return true;
  if (said === undefined) return false;
  return compareDecimals(said, wanted) === 0;
}
