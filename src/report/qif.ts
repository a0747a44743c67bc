import { randomUUID } from "node:crypto";
import { multiplyDecimals, shiftDecimal } from "../core/notation/decimal-text.js";
import { looksLikeAngle, readAngle } from "../core/notation/read-angle.js";
import { escapeText } from "./escape-text.js";
import type { Characteristic, Report, ReportPiece, ReportResult } from "./report.js";

/** A results set: what was measured of a piece after one cut. */
interface SetOfPiece {
  piece: number;
  cut: number;
  serials: readonly string[];
  status: "PASS" | "FAIL" | "UNKNOWN";
  /** How many values it has, and how many features they were taken on. */
  values: number;
  features: number;
}

/** Zones by their elements (ISO 23952:2020) for the names of ISO 1101. */
const zoneTypes: Record<string, string> = {
  straightness: "Straightness",
  flatness: "Flatness",
  roundness: "Circularity",
  cylindricity: "Cylindricity",
  line_profile: "LineProfile",
  surface_profile: "SurfaceProfile",
  parallelism: "Parallelism",
  perpendicularity: "Perpendicularity",
  angularity: "Angularity",
  concentricity: "Concentricity",
  coaxiality: "Coaxiality",
  symmetry: "Symmetry",
  circular_run_out: "CircularRunout",
  total_run_out: "TotalRunout",
};
const sizeTypes: Record<string, string> = {
  external: "Width",
  internal: "Width",
  length: "Length",
  depth: "Depth",
  height: "Height",
  angle: "Angle",
  roughness: "UserDefinedLinear",
  go_no_go: "UserDefinedAttribute",
  visual: "UserDefinedAttribute",
};

/** What is found of a characteristic without a size, in the words of `resultText`. */
const attributeValues: Record<string, { pass: string[]; fail: string[] }> = {
  go_no_go: { pass: ["passes"], fail: ["GO refuses", "NO-GO enters"] },
  visual: { pass: ["passes"], fail: ["fails"] },
};
const levels: Record<string, string> = { key: "KEY", critical: "CRITICAL" };

const statuses = { conforming: "PASS", nonconforming: "FAIL", uncertain: "INDETERMINATE" } as const;
const linearUnits = { mm: ["mm", "0.001"], inch: ["inch", "0.0254"] } as const;

/** A characteristic with its own elements, and a feature for each place that it is measured at. */
interface Written {
  characteristic: Characteristic;
  type: string;
  isZone: boolean;
  /** Decimal places that its unit is smaller by than the document's: a roughness in µm of a document in mm. */
  shift: number;
  definitionId: number;
  nominalId: number;
  itemId: number;
  featureNominalId: number;
  /** Feature items by place; without places the one whose place is null. */
  features: Map<string | null, number>;
}

/**
 * A results document of QIF 3.0 (ISO 23952:2020): everything that was measured and counts, piece by piece, against the limits that
 * it was judged by, with gauge, time and verdict. Counts bear no unit of the standard's and are named in the header alone.
 * Nobody says what shape a feature has, so features are of no shape in particular; the places of a characteristic are features of
 * their own. Elements stand in the order of the standard.
 * @param of one piece alone; absent: all
 */
export async function* renderQif({ head, bands }: Report, of?: number): AsyncGenerator<string> {
  let lastId = 0;
  const id = () => ++lastId;
  const written = head.characteristics.map((characteristic) => prepare(characteristic, id));
  const devices = new Map(head.gauges.map(({ name }) => [name, id()]));
  const partId = id();
  const shapeId = id();
  // How many sets there are, and the greatest id, stand before the first one: the pieces are gone through twice.
  const sets = new Map<string, SetOfPiece>();
  const last = new Map<number, { componentId: number; set: SetOfPiece }>();
  for await (const pieces of bands()) {
    for (const piece of pieces) {
      if (of !== undefined && piece.piece !== of) continue;
      for (const set of setsOf(piece, written)) {
        sets.set(keyOf(set), set);
        last.set(set.piece, { componentId: last.get(set.piece)?.componentId ?? id(), set });
      }
    }
  }
  let idMax = lastId;
  for (const { values, features } of sets.values()) idMax += 1 + values + features;

  yield* documentHead({ head, written, devices, partId, shapeId, idMax });
  if (sets.size > 0) {
    yield `<Results>\n<MeasurementResultsSet n="${sets.size}">\n`;
    const due = new Map(sets);
    for await (const pieces of bands()) {
      for (const piece of pieces) {
        for (const { cut } of setsOf(piece, written)) {
          // What has come since the first time is for the next document.
          const set = due.get(keyOf({ piece: piece.piece, cut }));
          if (!set || !due.delete(keyOf(set))) continue;
          yield resultsOf(piece, set, last.get(piece.piece)!.componentId, written, devices, id);
        }
      }
    }
    // What was voided since keeps its place, empty.
    for (const set of due.values()) yield emptySet(id(), last.get(set.piece)!.componentId);
    yield `</MeasurementResultsSet>\n<ActualComponentSets n="1">\n<ActualComponentSet n="${last.size}">\n`;
    for (const [piece, { componentId, set }] of last) {
      const [serial, another] = set.serials;
      yield `<ActualComponent id="${componentId}">${serial === undefined || another !== undefined ? "" : element("SerialNumber", serial)}<Status>${element("InspectionStatusEnum", set.status)}</Status><Traceability>${element("SampleNumber", String(piece))}${element("LotNumber", head.batch.name)}</Traceability></ActualComponent>\n`;
    }
    yield "</ActualComponentSet>\n</ActualComponentSets>\n</Results>\n";
  }
  yield "</QIFDocument>\n";
}

function keyOf({ piece, cut }: { piece: number; cut: number }): string {
  return `${piece} ${cut}`;
}

function prepare(characteristic: Characteristic, id: () => number): Written | undefined {
  const { kind, geometric_characteristic, unit, places } = characteristic;
  const isZone = kind === "form" || kind === "position";
  const type =
    kind === "position"
      ? "Position"
      : kind === "form"
        ? zoneTypes[geometric_characteristic ?? ""]
        : sizeTypes[kind];
  if (type === undefined) return undefined;
  return {
    characteristic,
    type,
    isZone,
    shift: unit === "µm" ? 3 : unit === "µin" ? 6 : 0,
    definitionId: id(),
    nominalId: id(),
    itemId: id(),
    featureNominalId: id(),
    features: new Map((places ?? [null]).map((place) => [place, id()])),
  };
}

function* documentHead(parts: {
  head: Report["head"];
  written: readonly (Written | undefined)[];
  devices: ReadonlyMap<string, number>;
  partId: number;
  shapeId: number;
  idMax: number;
}): Generator<string> {
  const { head, written, devices, partId, shapeId, idMax } = parts;
  const { part, batch } = head;
  const mine = written.filter((one) => one !== undefined);
  const [linear, factor] = linearUnits[part.unit];
  const without = head.characteristics
    .filter((_, i) => !written[i])
    .map(({ characteristic }) => characteristic);
  const description = `Batch ${batch.name}, part ${part.number} revision ${part.revision}, as of ${head.made_at}. ${head.decision_rules.join(" ")}${without.length > 0 ? ` Not in it, since it has no unit here: ${without.join(", ")}.` : ""}`;
  yield `<?xml version="1.0" encoding="UTF-8"?>\n<QIFDocument xmlns="http://qifstandards.org/xsd/qif3" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance" xsi:schemaLocation="http://qifstandards.org/xsd/qif3 http://qifstandards.org/xsd/qif3/QIFDocument.xsd" versionQIF="3.0.0" idMax="${idMax}">\n`;
  yield `${element("QPId", randomUUID())}\n<Header><Application>${element("Name", "onsize")}${element("Organization", "onsize")}</Application>${element("Description", description)}${element("Scope", "Results")}</Header>\n`;
  yield `<FileUnits><PrimaryUnits><LinearUnit><SIUnitName>meter</SIUnitName>${element("UnitName", linear)}<UnitConversion>${element("Factor", factor)}</UnitConversion></LinearUnit><AngularUnit><SIUnitName>radian</SIUnitName><UnitName>degree</UnitName><UnitConversion><Factor>0.017453292519943295</Factor></UnitConversion></AngularUnit></PrimaryUnits></FileUnits>\n`;
  if (devices.size > 0) {
    yield `<MeasurementResources><MeasurementDevices n="${devices.size}">\n`;
    for (const [name, device] of devices)
      yield `<MeasurementDevice id="${device}">${element("Name", name)}</MeasurementDevice>\n`;
    yield "</MeasurementDevices></MeasurementResources>\n";
  }
  yield `<Product><PartSet n="1"><Part id="${partId}">${element("ModelNumber", part.number)}${element("Version", part.revision)}</Part></PartSet></Product>\n`;
  if (mine.length === 0) return;
  yield* featuresOf(mine, shapeId);
  yield `<Characteristics>\n<CharacteristicDefinitions n="${mine.length}">\n`;
  for (const one of mine) yield `${definitionOf(one)}\n`;
  yield `</CharacteristicDefinitions>\n<CharacteristicNominals n="${mine.length}">\n`;
  for (const one of mine) yield `${nominalOf(one)}\n`;
  yield `</CharacteristicNominals>\n<CharacteristicItems n="${mine.length}">\n`;
  for (const { type, nominalId, itemId, characteristic, features } of mine) {
    const level = levels[characteristic.importance];
    const criticality =
      level === undefined ? "" : `<Criticality>${element("LevelEnum", level)}</Criticality>`;
    yield `<${type}CharacteristicItem id="${itemId}">${element("Name", nameOf(characteristic))}<CharacteristicDesignator>${element("Designator", characteristic.characteristic)}${criticality}</CharacteristicDesignator>${listOf("FeatureItemIds", [...features.values()])}${element("CharacteristicNominalId", String(nominalId))}</${type}CharacteristicItem>\n`;
  }
  yield "</CharacteristicItems>\n</Characteristics>\n";
}

function nameOf({ name, characteristic }: Characteristic): string {
  return name ?? characteristic;
}

function* featuresOf(mine: readonly Written[], shapeId: number): Generator<string> {
  const items = mine.reduce((sum, { features }) => sum + features.size, 0);
  yield `<Features>\n<FeatureDefinitions n="1"><OtherShapeFeatureDefinition id="${shapeId}">${element("Description", "a feature of a shape that was not recorded")}</OtherShapeFeatureDefinition></FeatureDefinitions>\n<FeatureNominals n="${mine.length}">\n`;
  for (const { featureNominalId, characteristic } of mine)
    yield `<OtherShapeFeatureNominal id="${featureNominalId}">${element("Name", nameOf(characteristic))}${element("FeatureDefinitionId", String(shapeId))}</OtherShapeFeatureNominal>\n`;
  yield `</FeatureNominals>\n<FeatureItems n="${items}">\n`;
  for (const { featureNominalId, characteristic, features } of mine) {
    for (const [place, item] of features)
      yield `<OtherShapeFeatureItem id="${item}">${element("FeatureNominalId", String(featureNominalId))}${element("FeatureName", place ?? nameOf(characteristic))}<DeterminationMode><Checked/></DeterminationMode></OtherShapeFeatureItem>\n`;
  }
  yield "</FeatureItems>\n</Features>\n";
}

// A profile's zone lies half on either side of the nominal.
function definitionOf({ type, definitionId, isZone, shift, characteristic }: Written): string {
  const { lower_limit, upper_limit, name, characteristic: designator } = characteristic;
  const size = (text: string) => decimalOf(text, shift) ?? text;
  const zone = upper_limit ?? "0";
  const tolerance =
    type === "UserDefinedAttribute"
      ? ""
      : isZone
        ? `${element("ToleranceValue", type.endsWith("Profile") ? multiplyDecimals(zone, "2") : zone)}${zoneDetails[type] ?? ""}`
        : `<Tolerance>${upper_limit === null ? "" : element("MaxValue", size(upper_limit))}${lower_limit === null ? "" : element("MinValue", size(lower_limit))}<DefinedAsLimit>true</DefinedAsLimit></Tolerance>`;
  const what = type.startsWith("UserDefined")
    ? element("WhatToMeasure", name ?? `${characteristic.kind.replaceAll("_", " ")} ${designator}`)
    : "";
  return `<${type}CharacteristicDefinition id="${definitionId}">${tolerance}${what}</${type}CharacteristicDefinition>`;
}

const noCondition = "<MaterialCondition>NONE</MaterialCondition>";
const planar = `${noCondition}<ZoneShape><PlanarZone/></ZoneShape>`;
/** What has to stand behind the width of a zone, where something has to. */
const zoneDetails: Record<string, string> = {
  Position: `${noCondition}<ZoneShape><DiametricalZone/></ZoneShape>`,
  Coaxiality: "<ZoneShape><DiametricalZone/></ZoneShape>",
  Concentricity: "<ZoneShape><DiametricalZone/></ZoneShape>",
  Straightness: "<ZoneShape><NonDiametricalZone/></ZoneShape>",
  Perpendicularity: planar,
  Parallelism: planar,
  Angularity: planar,
};

function nominalOf({
  type,
  nominalId,
  definitionId,
  isZone,
  featureNominalId,
  characteristic,
}: Written): string {
  const { nominal, kind } = characteristic;
  const target = isZone || nominal === null ? "" : element("TargetValue", decimalOf(nominal, 0) ?? nominal);
  const { pass = [], fail = [] } = attributeValues[kind] ?? {};
  const values = [
    ["PassValues", pass],
    ["FailValues", fail],
  ] as const;
  const found = values
    .filter(([, texts]) => texts.length > 0)
    .map(
      ([list, texts]) =>
        `<${list} n="${texts.length}">${texts.map((text) => element("StringValue", text)).join("")}</${list}>`,
    );
  return `<${type}CharacteristicNominal id="${nominalId}">${element("CharacteristicDefinitionId", String(definitionId))}${listOf("FeatureNominalIds", [featureNominalId])}${target}${found.join("")}</${type}CharacteristicNominal>`;
}

/** One set for each cut of a piece that was measured; a size that does not decide any more stays in it. */
function setsOf(piece: ReportPiece, written: readonly (Written | undefined)[]): SetOfPiece[] {
  const cuts = new Map<number, ReportResult[]>();
  for (const result of piece.results) {
    if (!written[result.of]) continue;
    const mine = cuts.get(result.cut) ?? [];
    mine.push(result);
    cuts.set(result.cut, mine);
  }
  return [...cuts]
    .sort(([a], [b]) => a - b)
    .map(([cut, results]) => ({
      piece: piece.piece,
      cut,
      serials: piece.serials,
      status: statusOf(results),
      values: results.length,
      features: new Set(results.map((result) => featureOf(result, written))).size,
    }));
}

function featureOf({ of, place }: ReportResult, written: readonly (Written | undefined)[]): number {
  const { features } = written[of]!;
  return features.get(place) ?? [...features.values()][0]!;
}

function statusOf(results: readonly ReportResult[]): SetOfPiece["status"] {
  if (results.some(({ verdict, decides }) => decides && verdict === "nonconforming")) return "FAIL";
  return results.every(({ verdict }) => verdict === "conforming") ? "PASS" : "UNKNOWN";
}

function resultsOf(
  piece: ReportPiece,
  set: SetOfPiece,
  componentId: number,
  written: readonly (Written | undefined)[],
  devices: ReadonlyMap<string, number>,
  id: () => number,
): string {
  // No more than there were the first time, so that no id lies above the greatest.
  const results = piece.results.filter(({ of, cut }) => written[of] && cut === set.cut).slice(0, set.values);
  const setId = id();
  const measuredOn = new Map<number, number>();
  for (const result of results) {
    const feature = featureOf(result, written);
    if (!measuredOn.has(feature) && measuredOn.size < set.features) measuredOn.set(feature, id());
  }
  const features = [...measuredOn].map(
    ([item, measured]) =>
      `<OtherShapeFeatureMeasurement id="${measured}">${element("FeatureItemId", String(item))}</OtherShapeFeatureMeasurement>`,
  );
  const measured = results.map((result) =>
    measurementOf(
      result,
      written[result.of]!,
      { feature: measuredOn.get(featureOf(result, written)), device: devices.get(result.gauge ?? "") },
      id,
    ),
  );
  return `<MeasurementResults id="${setId}"><MeasuredFeatures n="${features.length}">\n${features.join("\n")}\n</MeasuredFeatures><MeasuredCharacteristics><CharacteristicMeasurements n="${measured.length}">\n${measured.join("\n")}\n</CharacteristicMeasurements></MeasuredCharacteristics>${endOfSet(statusOf(results), componentId)}`;
}

function emptySet(setId: number, componentId: number): string {
  return `<MeasurementResults id="${setId}">${endOfSet("UNKNOWN", componentId)}`;
}

function endOfSet(status: SetOfPiece["status"], componentId: number): string {
  return `<InspectionStatus>${element("InspectionStatusEnum", status)}</InspectionStatus>${listOf("ActualComponentIds", [componentId])}</MeasurementResults>\n`;
}

const decimal = /^-?\d+(\.\d+)?$/;

/** A size as a plain decimal in the document's unit; undefined: it is none, as a result that passed. */
function decimalOf(text: string, shift: number): string | undefined {
  if (decimal.test(text)) return shiftDecimal(text, -shift);
  const angle = looksLikeAngle(text) ? readAngle(text, { decimalSign: "." }) : undefined;
  return angle && "degrees" in angle ? angle.degrees : undefined;
}

function measurementOf(
  { result, verdict, measured_at }: ReportResult,
  { type, shift, itemId, characteristic }: Written,
  by: { feature: number | undefined; device: number | undefined },
  id: () => number,
): string {
  const { pass, fail } = attributeValues[characteristic.kind] ?? {};
  const value = pass && fail ? [...pass, ...fail].find((word) => word === result) : decimalOf(result, shift);
  const status = value === undefined ? "NOT_ANALYZED" : statuses[verdict];
  return `<${type}CharacteristicMeasurement id="${id()}"><Status>${element("CharacteristicStatusEnum", status)}</Status>${element("CharacteristicItemId", String(itemId))}${measured_at === null ? "" : element("TimeStamp", measured_at)}${by.feature === undefined ? "" : listOf("FeatureMeasurementIds", [by.feature])}${by.device === undefined ? "" : listOf("MeasurementDeviceIds", [by.device])}${value === undefined ? "" : element("Value", value)}</${type}CharacteristicMeasurement>`;
}

function listOf(name: string, ids: readonly number[]): string {
  return `<${name} n="${ids.length}">${ids.map((one) => `<Id>${one}</Id>`).join("")}</${name}>`;
}

function element(name: string, text: string): string {
  return `<${name}>${escapeText(text)}</${name}>`;
}
