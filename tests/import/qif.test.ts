import { Readable } from "node:stream";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { listCharacteristics } from "../../src/import/qif/characteristics.js";
import { createQifInterpreter, questionOf } from "../../src/import/qif/interpret-measurement.js";
import { readQifDecimal } from "../../src/import/qif/qif-number.js";
import { readDefinitions } from "../../src/import/qif/read-definitions.js";
import { readMeasurements } from "../../src/import/qif/read-measurements.js";

const inch = `<FileUnits><PrimaryUnits><LinearUnit><SIUnitName>meter</SIUnitName><UnitName>inch</UnitName>
  <UnitConversion><Factor>0.0254</Factor></UnitConversion></LinearUnit></PrimaryUnits></FileUnits>`;

/** A document of one characteristic, measured as often as there are values. */
function documentOf(
  of: {
    type?: string;
    units?: string;
    definition?: string;
    target?: string;
    values?: string[];
    extra?: string;
  } = {},
): string {
  const { type = "Diameter", units = inch, target = "", values = ["1"], extra = "" } = of;
  const { definition = "<ToleranceValue>0.2</ToleranceValue>" } = of;
  const measured = values.map(
    (
      value,
      i,
    ) => `<${type}CharacteristicMeasurement id="${100 + i}"><Status><CharacteristicStatusEnum>PASS</CharacteristicStatusEnum></Status>
      <CharacteristicItemId>3</CharacteristicItemId>${value}</${type}CharacteristicMeasurement>`,
  );
  return `<?xml version="1.0"?><QIFDocument xmlns="http://qifstandards.org/xsd/qif3" versionQIF="3.0.0" idMax="999">
    <QPId>A1</QPId>${units}${extra}
    <Characteristics><CharacteristicDefinitions n="1"><${type}CharacteristicDefinition id="1">${definition}</${type}CharacteristicDefinition></CharacteristicDefinitions>
    <CharacteristicNominals n="1"><${type}CharacteristicNominal id="2"><CharacteristicDefinitionId>1</CharacteristicDefinitionId>${target}</${type}CharacteristicNominal></CharacteristicNominals>
    <CharacteristicItems n="1"><${type}CharacteristicItem id="3"><Name>D1</Name><CharacteristicNominalId>2</CharacteristicNominalId></${type}CharacteristicItem></CharacteristicItems></Characteristics>
    <Results><MeasurementResultsSet n="1"><MeasurementResults id="50"><MeasuredCharacteristics><CharacteristicMeasurements n="${values.length}">
    ${measured.join("")}</CharacteristicMeasurements></MeasuredCharacteristics></MeasurementResults></MeasurementResultsSet></Results></QIFDocument>`;
}

const value = (text: string, attributes = "") => `<Value ${attributes}>${text}</Value>`;

async function read(text: string) {
  const document = await readDefinitions(Readable.from([Buffer.from(text)]));
  const interpret = createQifInterpreter(document);
  const readings = [];
  for await (const batch of readMeasurements(Readable.from([Buffer.from(text)]), document)) {
    readings.push(...batch.map(interpret));
  }
  return { document, readings, required: listCharacteristics(document)[0]! };
}

describe("readQifDecimal", () => {
  it("takes what a double prints for the decimal that was meant (IEEE 754:2019, clause 5.12.2)", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -999_999_999, max: 999_999_999 }),
        fc.integer({ min: 0, max: 9 }),
        (digits, places) => {
          const meant = Number(`${digits}e-${places}`);

          expect(Number(readQifDecimal(meant.toPrecision(17)))).toBe(meant);
          expect(readQifDecimal(meant.toPrecision(17))!.replace(/\D/g, "").length).toBeLessThanOrEqual(20);
        },
      ),
    );
    expect(readQifDecimal("25.399999999999999")).toBe("25.4");
    expect(readQifDecimal("1.2E-05")).toBe("0.000012");
    expect(readQifDecimal(" +.5 ")).toBe("0.5");
  });

  it.each(["", "INF", "NaN", "1,5", "0x1", "1e99", ".", "-"])("refuses %j", (text) => {
    expect(readQifDecimal(text)).toBeUndefined();
  });
});

describe("limits of a QIF characteristic (zones: ISO 1101)", () => {
  const deviations = (max: string, min: string, areLimits: boolean) =>
    `<Tolerance><MaxValue>${max}</MaxValue><MinValue>${min}</MinValue><DefinedAsLimit>${areLimits}</DefinedAsLimit></Tolerance>`;
  const zone = (width: string, more = "") => `<ToleranceValue>${width}</ToleranceValue>${more}`;
  const target = "<TargetValue>0.5</TargetValue>";

  it.each([
    [
      "deviations",
      { definition: deviations("0.002", "-0.001", false), target },
      { lower: "0.499", upper: "0.502" },
    ],
    ["limits", { definition: deviations("0.502", "0.499", true) }, { lower: "0.499", upper: "0.502" }],
    ["a position in full", { type: "Position", definition: zone("0.25") }, { upper: "0.25", isZone: true }],
    [
      "a profile half to either side",
      { type: "SurfaceProfile", definition: zone("0.5") },
      { lower: "-0.25", upper: "0.25" },
    ],
    [
      "a profile that lies unequally",
      { type: "LineProfile", definition: zone("1.5", "<OuterDisposition>1</OuterDisposition>") },
      { lower: "-0.5", upper: "1" },
    ],
    [
      "a negative zone, which is told",
      { type: "Flatness", definition: zone("-0.13") },
      { upper: "0.13", notes: [expect.stringContaining("-0.13")] },
    ],
    [
      "no tolerance",
      { definition: "<NonTolerance>SET</NonTolerance>", target },
      { without: "SET", nominal: "0.5" },
    ],
    [
      "deviations without a nominal, which is told",
      { definition: deviations("0.1", "-0.1", false) },
      { notes: [expect.stringContaining("no nominal"), expect.stringContaining("no nominal")] },
    ],
    [
      "crossed limits, which are told",
      { definition: deviations("1", "2", true) },
      { notes: [expect.stringContaining("above")] },
    ],
  ])("are those of %s", async (_, of, wanted) => {
    const { required } = await read(documentOf(of));

    expect(required).toMatchObject(wanted);
    for (const side of ["lower", "upper"] as const) {
      if (!(side in wanted)) expect(required[side]).toBeUndefined();
    }
  });

  it("hold on the limit, and not a step beyond", async () => {
    const { readings } = await read(
      documentOf({
        definition: deviations("0.502", "0.499", true),
        values: ["0.499", "0.502", "0.4989", "0.5021"].map((text) => value(text)),
      }),
    );

    expect(readings.map(({ within }) => within)).toEqual([true, true, false, false]);
  });
});

describe("units of a QIF document", () => {
  it("are those of the file, or those that a value bears", async () => {
    const { readings } = await read(
      documentOf({ values: [value("1"), value("1", 'linearUnit="inch"'), value("1", 'linearUnit="cubit"')] }),
    );

    expect(readings.map(({ unit }) => unit)).toEqual(["inch", "inch", undefined]);
    expect(readings[2]!.notes.join()).toContain("cubit");
  });

  it.each([
    ["Diameter", "linear_unit", "1 m,", "1 mm"],
    ["Angle", "angular_unit", "1 radians", "1 degrees"],
    ["Angularity", "linear_unit", "1 m,", "1 mm"],
  ])("are asked for where a %s has none, with both meanings", async (type, asks, standard, usual) => {
    const { readings } = await read(documentOf({ type, units: "", values: [value("1")] }));

    const question = questionOf(readings[0]!, type)!;
    expect(question.asks).toBe(asks);
    expect(question.reason).toContain(standard);
    expect(question.reason).toContain(usual);
  });

  it("are not asked for where they are said, or there is no value", async () => {
    const { readings } = await read(documentOf({ values: [value("1"), ""] }));

    expect(readings.map((reading) => questionOf(reading, "Diameter"))).toEqual([undefined, undefined]);
    expect(readings[1]!.decimal).toBeUndefined();
  });

  it("are refused where name and factor contradict each other", async () => {
    await expect(read(documentOf({ units: inch.replace("0.0254", "0.001") }))).rejects.toThrow(
      /Line 2.*inch.*0\.001/,
    );
  });

  it("never come from the other units", async () => {
    const other = inch.replaceAll("PrimaryUnits", "OtherUnits");
    const { readings } = await read(
      documentOf({ units: other, values: [value("1"), value("1", 'linearUnit="inch"')] }),
    );

    expect(readings.map(({ unit }) => unit)).toEqual([undefined, "inch"]);
  });
});

describe("a QIF document", () => {
  it("is refused where an id is given twice, or it is something else", async () => {
    const twice =
      '<MeasurementResources><MeasurementDevices><MeasurementDevice id="1"/><MeasurementDevice id="1"/></MeasurementDevices></MeasurementResources>';
    await expect(read(documentOf({ extra: twice }))).rejects.toThrow(/id 1 is given twice/);
    await expect(read("<table/>")).rejects.toThrow(/no QIF document/);
    await expect(read(documentOf().replace("xsd/qif3", "xsd/qif9"))).rejects.toThrow(/no QIF document/);
  });

  it("leaves out what nobody said", async () => {
    const { readings } = await read(documentOf({ values: [value("1").replace(/^/, "")] }));

    expect(readings[0]).toMatchObject({
      serial: undefined,
      measuredAt: undefined,
      device: undefined,
      place: undefined,
    });
  });
});
