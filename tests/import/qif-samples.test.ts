import { createReadStream, existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { Readable } from "node:stream";
import { describe, expect, it } from "vitest";
import { compareDecimals } from "../../src/core/notation/decimal-text.js";
import { listCharacteristics } from "../../src/import/qif/characteristics.js";
import {
  createQifInterpreter,
  type QifReading,
  questionOf,
} from "../../src/import/qif/interpret-measurement.js";
import type { QifDocument } from "../../src/import/qif/qif-document.js";
import { readDefinitions } from "../../src/import/qif/read-definitions.js";
import { readMeasurements } from "../../src/import/qif/read-measurements.js";
import { UnreadableSource } from "../../src/import/source-record.js";

interface Check {
  feature: string;
  value: string | null;
  unit?: string;
  nominal?: string;
  lower_limit?: string;
  upper_limit?: string;
  verdict?: "in" | "out";
  serial?: string;
  device?: string;
}
const expected: Record<string, { count: number; checks: Check[] }> = JSON.parse(
  readFileSync(new URL("./data/expected-qif.json", import.meta.url), "utf8"),
);
const published = process.env.ONSIZE_SAMPLES;

/** All of these are of public origin and not kept here. */
function pathOf(file: string): string | undefined {
  const path = published === undefined ? undefined : join(published, file);
  if (path !== undefined && existsSync(path)) return path;
  process.stderr.write(`${file} is skipped: ONSIZE_SAMPLES does not name the folder of published samples\n`);
  return undefined;
}

interface Read {
  document: QifDocument;
  readings: QifReading[];
}

async function readFile(path: string, other?: (qpid: string) => QifDocument | undefined): Promise<Read> {
  const document = await readDefinitions(createReadStream(path));
  const interpret = createQifInterpreter(document, {}, (qpid) => {
    const holder = other?.(qpid);
    return holder && Object.fromEntries(listCharacteristics(holder).map((each) => [each.id, each]));
  });
  const readings: QifReading[] = [];
  for await (const batch of readMeasurements(createReadStream(path), document)) {
    for (const measurement of batch) readings.push(interpret(measurement));
  }
  return { document, readings };
}

describe("QIF samples", () => {
  it.each(Object.keys(expected))("%s gives what it holds", async (file) => {
    const path = pathOf(file);
    if (path === undefined) return;
    const { count, checks } = expected[file]!;

    const { document, readings } = await readFile(path);

    expect(readings).toHaveLength(count);
    expect(document.counts.measurements).toBe(count);
    for (const check of checks) {
      if (check.value === null) {
        expect(
          listCharacteristics(document).filter((item) => requires(item, check.feature, check)),
        ).toHaveLength(1);
      } else {
        expect(
          readings.filter((reading) => isMeant(reading, check)),
          JSON.stringify(check),
        ).not.toEqual([]);
      }
    }
  });

  it("plate-20-parts-incoming: 31 of each piece, four of them one item on four holes; a negative zone is told", async () => {
    const path = pathOf("qif/plate-20-parts-incoming.v21.qif");
    if (path === undefined) return;
    const { document, readings } = await readFile(path);

    expect(document.sets.size).toBe(20);
    expect([...document.sets.values()].every(({ status }) => status === "FAIL")).toBe(true);
    const [first] = document.sets.keys();
    const holes = readings.filter(({ name, setId }) => name === "DIAMETER4" && setId === first);
    expect(new Set(holes.map(({ place }) => place)).size).toBe(4);
    expect(holes[0]).toMatchObject({ place: "CYLINDER1", result: "pass" });
    const identities = readings.map(({ name, place, setId }) => `${setId} ${name} ${place}`);
    expect(new Set(identities).size).toBe(620);
    const square = listCharacteristics(document).find(({ name }) => name === "PERPENDICULARITY1")!;
    expect(square).toMatchObject({ upper: "0.13", notes: [expect.stringContaining("-0.13")] });
    expect(readings.at(-1)!.serial).toBeUndefined();
    expect(readings.every(({ measuredAt }) => measuredAt === undefined)).toBe(true);
  });

  it.each(["plate-20-parts-first-article", "cover-20-parts-first-article"])(
    "%s: a value without a unit is a question with both meanings",
    async (name) => {
      const path = pathOf(`qif/${name}-no-units.v21.qif`);
      if (path === undefined) return;
      const { document, readings } = await readFile(path);

      expect(document.units).toMatchObject({ linear: undefined, angular: undefined });
      const distance = readings.find(({ name }) => name.startsWith("Distance"))!;
      const question = questionOf(distance, distance.characteristic!.type)!;
      expect(question.asks).toBe("linear_unit");
      expect(question.reason).toContain(`${distance.decimal} m,`);
      expect(question.reason).toContain(`${distance.decimal} mm`);
      const cone = readings.find(({ name }) => name.startsWith("Cone Angle"));
      if (cone) expect(questionOf(cone, cone.characteristic!.type)!.reason).toContain("radians");
    },
  );

  it("results-13-measurements: a profile twice, basic sizes without a verdict", async () => {
    const path = pathOf("qif/results-13-measurements.v30.qif");
    if (path === undefined) return;
    const { document, readings } = await readFile(path);

    expect(listCharacteristics(document)).toHaveLength(11);
    expect(readings.filter(({ status }) => status === "BASIC_OR_TED")).toMatchObject([
      { within: undefined, result: undefined },
      { within: undefined, result: undefined },
    ]);
    const byName = (name: string) => readings.filter((reading) => reading.name === name);
    expect(byName("5").map(({ characteristic }) => characteristic)).toMatchObject([
      { lower: "-2", upper: "2" },
      { lower: "-2", upper: "2" },
    ]);
    // Its designer's remark reads +1.0/-0.5: of 1.5, one lies outside the material.
    expect(byName("4")[0]).toMatchObject({ characteristic: { lower: "-0.5", upper: "1" }, within: false });
    expect(byName("3")[0]).toMatchObject({ decimal: "944.84", within: true });
  });

  it("sheet-6-parts-serials: sets 1, 4 and 5 pass", async () => {
    const path = pathOf("qif/sheet-6-parts-serials.v30.qif");
    if (path === undefined) return;
    const { document, readings } = await readFile(path);

    expect([...document.sets.values()].map(({ status }) => status)).toEqual([
      "PASS",
      "FAIL",
      "FAIL",
      "PASS",
      "PASS",
      "FAIL",
    ]);
    expect(new Set(readings.map(({ serial }) => serial))).toEqual(
      new Set([1, 2, 3, 4, 5, 6].map((no) => `SN580280${no}`)),
    );
    // A profile is written as its highest and its lowest deviation; where one of them is out, both are called so.
    const alike = (read: QifReading) =>
      readings.filter(({ name, setId }) => name === read.name && setId === read.setId);
    const differ = readings.filter(
      (read) => alike(read).some(({ within }) => within === false) !== (read.result === "fail"),
    );
    // 0.11 µm beyond its zone, and called good by its writer, who rounds.
    expect(differ.map(({ name, decimal }) => `${name} ${decimal}`)).toEqual([
      "W1RISMRA13V -0.500113560341811",
      "W1RISMRA13V 0",
    ]);
  });

  it("sphere-2-results: statistics are counted and are no measurements", async () => {
    const path = pathOf("qif/sphere-2-results-no-units.v30.qif");
    if (path === undefined) return;
    const { document } = await readFile(path);

    expect(document.counts).toEqual({ measurements: 4, statistics: 2, planSteps: 1 });
    expect(listCharacteristics(document)[0]).toMatchObject({
      nominal: "25.4",
      lower: "25.15",
      upper: "25.65",
    });
  });

  it("sphere-results-external-plan: unresolved alone, joined when the plan is known", async () => {
    const path = pathOf("qif/sphere-results-external-plan.v30.qif");
    const plan = pathOf("qif/sphere-plan.v30.qif");
    if (path === undefined || plan === undefined) return;
    const { readings: alone } = await readFile(path);
    const { document } = await readFile(plan);
    const { readings } = await readFile(path, (qpid) => (qpid === document.qpid ? document : undefined));

    expect(alone.map(({ characteristic }) => characteristic)).toEqual([undefined, undefined]);
    expect(alone.map(({ result }) => result)).toEqual(["fail", "fail"]);
    expect(readings).toMatchObject([
      { name: "SphericalDiameter1", within: false },
      { name: "Sphericity1", within: false },
    ]);
  });

  it("pmi-only: 14 characteristics, the angle's unit as the model says", async () => {
    const path = pathOf("qif/pmi-only-14-characteristics-cut.v30.qif");
    if (path === undefined) return;
    const { document } = await readFile(path);

    const counts: Record<string, number> = {};
    for (const { type } of listCharacteristics(document)) counts[type] = (counts[type] ?? 0) + 1;
    expect(counts).toEqual({
      Position: 2,
      SurfaceProfile: 2,
      Perpendicularity: 1,
      Flatness: 1,
      Diameter: 7,
      Angle: 1,
    });
    expect(document.units).toMatchObject({ linear: "mm", angular: "deg" });
  });
});

describe("a document with an external entity", () => {
  it("is refused for its document type declaration", async () => {
    const path =
      pathOf("hostile/external-entity.qif") ??
      new URL("./data/samples/hostile/external-entity.qif", import.meta.url).pathname;

    await expect(readDefinitions(createReadStream(path))).rejects.toThrow(/document type declaration/);
  });
});

describe("a QIF document cut off anywhere", () => {
  it("is refused before any value of it counts", async () => {
    const path = pathOf("qif/plate-7-measurements.v30.qif");
    if (path === undefined) return;
    const bytes = readFileSync(path);
    for (let at = 0; at < bytes.length - 20; at += 97) {
      await expect(readDefinitions(Readable.from([bytes.subarray(0, at)])), `${at}`).rejects.toThrow(
        UnreadableSource,
      );
    }
  });
});

function requires(
  item: {
    name: string | undefined;
    nominal?: string;
    lower?: string;
    upper?: string;
    unit: string | undefined;
  },
  name: string,
  check: Check,
): boolean {
  const isSame = (a: string | undefined, b: string | undefined) =>
    b === undefined || (a !== undefined && compareDecimals(a, b) === 0);
  return (
    item.name === name &&
    isSame(item.nominal, check.nominal) &&
    isSame(item.lower, check.lower_limit) &&
    isSame(item.upper, check.upper_limit) &&
    (check.unit === undefined || check.unit === item.unit)
  );
}

function isMeant(reading: QifReading, check: Check): boolean {
  const { characteristic, within, result } = reading;
  if (compareDecimals(reading.decimal!, check.value!) !== 0 || reading.name !== check.feature) return false;
  if (check.serial !== undefined && reading.serial !== check.serial) return false;
  if (check.device !== undefined && reading.device !== check.device) return false;
  const verdict = within ?? (result && result === "pass");
  if (check.verdict !== undefined && verdict !== (check.verdict === "in")) return false;
  return (
    characteristic === undefined || requires({ ...characteristic, name: reading.name }, check.feature, check)
  );
}
