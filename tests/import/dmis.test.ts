import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { compileLayout } from "../../src/import/compile-layout.js";
import { type Layout, LayoutShape } from "../../src/import/layout.js";
import { readAll } from "./read-all.js";

const layout = (change: object = {}): Layout =>
  LayoutShape.parse({ name: "a measuring room", format: "dmis", piece_from: "count", ...change });
const read = (text: string, change: object = {}) => readAll(layout(change), [Buffer.from(text)]);

const twoPieces = readFileSync(new URL("./data/samples/dmis/two-pieces.dmo", import.meta.url));
const head = "UNITS/MM,ANGDEC\nF(C)=FEAT/CIRCLE,INNER,CART,1,2,3,0,0,1,6.35\nT(D)=TOL/DIAM,-0.05,0.15\n";
const reported = (diameter: string, number: string, word = "INTOL") =>
  `${head}OUTPUT/FA(C),TA(D)\nFA(C)=FEAT/CIRCLE,INNER,CART,1,2,3,0,0,1,${diameter}\nTA(D)=TOL/DIAM,${number},${word}\n`;

describe("DMIS output (ISO 22093; statement forms from memory)", () => {
  const { readings, refused, found } = readAll(layout({ time_zone: "Europe/Berlin" }), [twoPieces]);

  it("gives each tolerance on the features that OUTPUT names with it", () => {
    const told = readings.map(({ reading, said }) => [
      reading.serial,
      reading.characteristic,
      reading.place,
      reading.value,
      reading.unit,
      said.nominal,
      said.lower_limit,
      said.upper_limit,
      said.within,
      said.result,
    ]);

    expect(told).toEqual([
      ["000123", "BORE1 DIAM", undefined, "12.5073", "mm", "12.500", "12.500", "12.518", true, "pass"],
      ["000123", "BORE1 XPOS", undefined, "40.0125", "mm", "40.000", "39.950", "40.050", true, "pass"],
      ["000123", "SLOT1 WIDE", undefined, "8.0250", "mm", "8.000", "7.980", "8.020", false, "fail"],
      ["000123", "CONE1 ANG", undefined, "89.808333333", "deg", "90", "89.5", "90.5", true, "pass"],
      ["000123", "TOP PROF", "smallest", "-0.031", "mm", "0", "-0.1", "0.1", true, "fail"],
      ["000123", "TOP PROF", "largest", "0.104", "mm", "0", "-0.1", "0.1", false, "fail"],
      ["000123", "TOP FLT", undefined, "0.022", "mm", undefined, undefined, "0.05", true, "pass"],
      ["000123", "BORE1-SLOT1 GAP", undefined, "30.012", "mm", "30.000", "29.900", "30.100", true, "pass"],
      ["000124", "BORE1 DIAM", undefined, "12.519", "mm", "12.500", "12.500", "12.518", false, "fail"],
      ["000124", "TOP FLT", undefined, "0.051", "mm", undefined, undefined, "0.05", false, "fail"],
    ]);
  });

  it("says part, revision, time and, as a remark, lot, operation and device", () => {
    expect(readings[0]).toMatchObject({
      reading: { part_number: "HB-2041", revision: "B", measured_at: "2026-03-11T05:42:17.000Z" },
      said: { note: "lot lot 7, operation 20, device measuring machine 2" },
    });
    expect(readings[8]!.reading.measured_at).toBe("2026-03-11T05:47:30.000Z");
  });

  it("keeps what can't be read with its line, and passes over statements that it does not know", () => {
    expect(refused).toEqual([
      { line: 49, reason: "reports FLT without a number" },
      { line: 52, reason: "has a text that is not closed (')" },
    ]);
    expect(found).toContainEqual({
      kind: "skipped",
      line: 50,
      text: "SOMENEW/WORD,1",
      why: "is a statement that is not known here",
    });
  });

  it("takes a deviation for what it is where the actual feature shows so, and says how", () => {
    const { readings } = read(reported("6.2", "-0.15", "OUTOL"));

    expect(readings[0]).toMatchObject({
      reading: { value: "6.20", unit: "mm" },
      said: { within: false, notes: ["the size is the nominal 6.35 with the deviation -0.15"] },
    });
  });

  it("refuses a number that is neither the actual feature's size nor its deviation", () => {
    expect(read(reported("6.36", "6.2")).refused).toEqual([
      { line: 6, reason: "says 6.2, which is neither the size 6.36 of C nor its deviation from 6.35" },
    ]);
  });

  it.each([
    ["6.4", "INTOL", "6.4", "the size is inside, the deviation would not be"],
    ["0.02", "INTOL", "6.37", "the deviation is inside, the size would not be"],
  ])("takes %s %s for the size %s without an actual feature: %s", (number, word, size) => {
    const { readings } = read(`${head}OUTPUT/FA(C),TA(D)\nTA(D)=TOL/DIAM,${number},${word}\n`);

    expect(readings.map(({ reading }) => reading.value)).toEqual([size]);
  });

  it("refuses with both meanings what could be both, until the file has shown what it means or the layout says it", () => {
    const open = `${head}OUTPUT/FA(C),TA(D)\nTA(D)=TOL/DIAM,6.2,OUTOL\n`;
    const shown = `${reported("6.4", "6.4")}OUTPUT/FA(C),TA(D)\nTA(D)=TOL/DIAM,6.2,OUTOL\n`;

    expect(read(open).refused).toEqual([
      {
        line: 5,
        reason: "says 6.2: the size, or the deviation from 6.35? Say it in the layout (dmis.actuals)",
      },
    ]);
    expect(read(open, { dmis: { actuals: "size" } }).readings[0]!.reading.value).toBe("6.2");
    expect(read(open, { dmis: { actuals: "deviation" } }).readings[0]!.reading.value).toBe("12.55");
    expect(read(shown).readings.map(({ reading }) => reading.value)).toEqual(["6.4", "6.2"]);
  });

  it("does not take what an earlier piece had for what is reported now", () => {
    const { refused } = read(`${reported("6.4", "6.4")}PS(2)=PARTSER/'2'\nTA(D)=TOL/DIAM,6.2,OUTOL\n`);

    expect(refused).toEqual([{ line: 8, reason: "reports D, but nothing says on which feature" }]);
  });

  it("asks for the unit where the file says none", () => {
    const text = reported("6.4", "6.4").replace("UNITS/MM,ANGDEC\n", "");

    expect(read(text).refused[0]!.reason).toContain("6.4 mm or 6.4 inch?");
    expect(read(text, { unit: "inch" }).readings[0]!.reading).toMatchObject({ value: "6.4", unit: "inch" });
  });

  it("refuses a tolerance on a second feature where readings bear the tolerance's name alone", () => {
    const text = `${head}F(E)=FEAT/CIRCLE,INNER,CART,9,2,3,0,0,1,6.35\nFA(C)=FEAT/CIRCLE,INNER,CART,1,2,3,0,0,1,6.4\nTA(D)=TOL/DIAM,6.4,INTOL\nFA(E)=FEAT/CIRCLE,INNER,CART,1,2,3,0,0,1,6.4\nTA(D)=TOL/DIAM,6.4,INTOL\n`;

    const { readings, refused } = read(text, { dmis: { names: "tolerance" } });

    expect(readings).toHaveLength(1);
    expect(refused).toEqual([
      { line: 8, reason: expect.stringContaining("is D on E, and it was on C before") },
    ]);
    expect(read(text).readings.map(({ reading }) => reading.characteristic)).toEqual(["C D", "E D"]);
  });

  it("names the batch by the lot where the layout says so", () => {
    const { readings } = readAll(layout({ time_zone: "UTC", dmis: { lot: "batch" } }), [twoPieces]);

    expect(readings[0]!.reading.batch).toBe("lot 7");
  });

  it.each([
    ["TA(D)=TOL/USETOL,'ours',1.2", "reports a tolerance of type USETOL, which is not read"],
    ["TA(D)=TOL/DIAM,6.4,INTOL $", "is continued ($), but nothing comes after it"],
    ["TA(D=TOL/DIAM,6.4", "defines something whose label can't be read"],
  ])("keeps %s with the reason", (statement, reason) => {
    expect(read(`${head}OUTPUT/FA(C),TA(D)\n${statement}`).refused).toEqual([{ line: 5, reason }]);
  });

  it.each([
    [{ decimal_sign: "," }, "decimal_sign"],
    [{ scale: "0.001" }, "scale"],
    [{ rules: [{ kind: "skip", pattern: "x" }] }, "rules"],
    [{ time_formats: ["DD.MM.YYYY"] }, "time_formats"],
    [{ format: "gauge_lines", dmis: {} }, "dmis"],
  ])("takes no layout with %j", (change, field) => {
    expect(compileLayout(layout(change)).faults.map(({ path }) => path[0])).toContain(field);
  });

  it("never fails, whatever a file was made into", () => {
    const bytes = fc.uint8Array({ minLength: 1, maxLength: 6 });
    const mutation = fc.tuple(fc.nat(twoPieces.length - 1), fc.nat(40), bytes);
    fc.assert(
      fc.property(fc.array(mutation, { minLength: 1, maxLength: 8 }), (mutations) => {
        let file = twoPieces;
        for (const [at, removed, added] of mutations) {
          file = Buffer.concat([file.subarray(0, at), added, file.subarray(at + removed)]);
        }
        const { found } = readAll(layout({ time_zone: "UTC" }), [file]);
        expect(found.length).toBeGreaterThan(0);
      }),
      { numRuns: 300 },
    );
  });

  it("finds what was measured, whether a writer gives sizes or deviations", () => {
    const thousandths = fc.integer({ min: -999, max: 999 });
    fc.assert(
      fc.property(
        fc.integer({ min: 2000, max: 900_000 }),
        thousandths,
        fc.boolean(),
        (nominal, off, asSize) => {
          const mm = (whole: number) => (whole / 1000).toFixed(3);
          const text = reported(mm(nominal + off), mm(asSize ? nominal + off : off), "OUTOL");

          const { readings } = read(text.replace("6.35", mm(nominal)));

          expect(Number(readings[0]!.reading.value)).toBeCloseTo((nominal + off) / 1000, 9);
        },
      ),
    );
  });
});
