import { randomUUID } from "node:crypto";
import { multiplyDecimals, shiftDecimal } from "../core/notation/decimal-text.js";
import { looksLikeAngle, readAngle } from "../core/notation/read-angle.js";
import type { Characteristic, Report, ReportPiece, ReportResult } from "./report.js";

/** A results set: what was measured of a piece after one cut. */
interface SetOfPiece {
  piece: number;
  cut: number;
  serials: readonly string[];
  status: "PASS" | "FAIL" | "UNKNOWN";
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
};

const statuses = { conforming: "PASS", nonconforming: "FAIL", uncertain: "INDETERMINATE" } as const;
const linearUnits = { mm: ["mm", "0.001"], inch: ["inch", "0.0254"] } as const;

/** A characteristic with its own elements: each place of it is an item of its own. */
interface Written {
  characteristic: Characteristic;
  type: string;
  isZone: boolean;
  /** Decimal places that its unit is smaller by than the document's: a roughness in µm of a document in mm. */
  shift: number;
  definitionId: number;
  nominalId: number;
  items: Map<string | null, number>;
}

/**
 * A results document of QIF 3.0 (ISO 23952:2020): every size that was measured and counts, piece by piece, against the limits that
 * it was judged by, with gauge, time and verdict. Attributes (go, no go, visual, counts) have no size and are named in the header
 * alone. Elements stand in the order of the standard; what could not be checked without its schema files: the lists of
 * allowed words.
 * @param of one piece alone; absent: all
 */
export async function* renderQif({ head, bands }: Report, of?: number): AsyncGenerator<string> {
  let lastId = 0;
  const id = () => ++lastId;
  const written = head.characteristics.map((characteristic) => prepare(characteristic, id));
  const devices = new Map(head.gauges.map(({ name }) => [name, id()]));
  const partId = id();
  // How many sets there are stands before the first one, so the pieces are gone through twice.
  const sets: SetOfPiece[] = [];
  for await (const pieces of bands()) {
    for (const piece of pieces)
      if (of === undefined || piece.piece === of) sets.push(...setsOf(piece, written));
  }
  const components = new Map<number, number>();
  for (const { piece } of sets) if (!components.has(piece)) components.set(piece, id());

  yield* documentHead({ head, written, devices, partId });
  if (sets.length > 0) {
    yield `<Results>\n<MeasurementResultsSet n="${sets.length}">\n`;
    const known = new Set(sets.map(({ piece, cut }) => `${piece} ${cut}`));
    const traced = new Map(sets.map((set) => [`${set.piece} ${set.cut}`, set]));
    for await (const pieces of bands()) {
      for (const piece of pieces) {
        for (const set of setsOf(piece, written)) {
          // What has come since the first time is for the next document.
          const key = `${set.piece} ${set.cut}`;
          if (!known.delete(key)) continue;
          yield resultsOf(piece, traced.get(key)!, components.get(piece.piece)!, written, devices, id);
        }
      }
    }
    yield `</MeasurementResultsSet>\n<ActualComponentSets n="1">\n<ActualComponentSet n="${components.size}">\n`;
    for (const [piece, component] of components) {
      const mine = sets.filter((set) => set.piece === piece);
      const { serials } = mine.at(-1)!;
      yield `<ActualComponent id="${component}">${element("SerialNumber", serials.length === 1 ? serials[0]! : `piece ${piece}`)}<Status>${element("InspectionStatusEnum", mine.at(-1)!.status)}</Status></ActualComponent>\n`;
    }
    yield "</ActualComponentSet>\n</ActualComponentSets>\n</Results>\n";
  }
  yield "</QIFDocument>\n";
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
  const definitionId = id();
  const nominalId = id();
  return {
    characteristic,
    type,
    isZone,
    shift: unit === "µm" ? 3 : unit === "µin" ? 6 : 0,
    definitionId,
    nominalId,
    items: new Map((places ?? [null]).map((place) => [place, id()])),
  };
}

function* documentHead(parts: {
  head: Report["head"];
  written: readonly (Written | undefined)[];
  devices: ReadonlyMap<string, number>;
  partId: number;
}): Generator<string> {
  const { head, written, devices, partId } = parts;
  const { part, batch } = head;
  const mine = written.filter((one) => one !== undefined);
  const [linear, factor] = linearUnits[part.unit];
  const without = head.characteristics
    .filter((_, i) => !written[i])
    .map(({ characteristic }) => characteristic);
  const scope = `Batch ${batch.name}, part ${part.number} revision ${part.revision}, as of ${head.made_at}. ${head.decision_rules.join(" ")}${without.length > 0 ? ` Without a size, and so not in it: ${without.join(", ")}.` : ""}`;
  yield `<?xml version="1.0" encoding="UTF-8"?>\n<QIFDocument xmlns="http://qifstandards.org/xsd/qif3" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance" xsi:schemaLocation="http://qifstandards.org/xsd/qif3 http://qifstandards.org/xsd/qif3/QIFDocument.xsd" versionQIF="3.0.0" idMax="${idMax}">\n`;
  yield `${element("QPId", randomUUID())}\n<Header><Application>${element("Name", "onsize")}${element("Organization", "onsize")}</Application></Header>\n`;
  yield `<!-- ${comment(scope)} -->\n`;
  yield `<FileUnits><PrimaryUnits><LinearUnit><SIUnitName>meter</SIUnitName>${element("UnitName", linear)}<UnitConversion>${element("Factor", factor)}</UnitConversion></LinearUnit><AngularUnit><SIUnitName>radian</SIUnitName><UnitName>degree</UnitName><UnitConversion><Factor>0.017453292519943295</Factor></UnitConversion></AngularUnit></PrimaryUnits></FileUnits>\n`;
  if (devices.size > 0) {
    yield `<MeasurementResources><MeasurementDevices n="${devices.size}">\n`;
    for (const [name, device] of devices)
      yield `<MeasurementDevice id="${device}">${element("Name", name)}</MeasurementDevice>\n`;
    yield "</MeasurementDevices></MeasurementResources>\n";
  }
  yield `<Product><PartSet n="1"><Part id="${partId}">${element("ModelNumber", part.number)}${element("Version", part.revision)}</Part></PartSet></Product>\n`;
  if (mine.length === 0) return;
  yield `<Characteristics>\n<CharacteristicDefinitions n="${mine.length}">\n`;
  for (const one of mine) yield `${definitionOf(one)}\n`;
  yield `</CharacteristicDefinitions>\n<CharacteristicNominals n="${mine.length}">\n`;
  for (const { type, nominalId, definitionId, isZone, characteristic } of mine) {
    const target =
      isZone || characteristic.nominal === null
        ? ""
        : element("TargetValue", decimalOf(characteristic.nominal, 0) ?? characteristic.nominal);
    yield `<${type}CharacteristicNominal id="${nominalId}">${element("CharacteristicDefinitionId", String(definitionId))}${target}</${type}CharacteristicNominal>\n`;
  }
  yield `</CharacteristicNominals>\n<CharacteristicItems n="${mine.reduce((sum, { items }) => sum + items.size, 0)}">\n`;
  for (const { type, nominalId, characteristic, items } of mine) {
    const { name, characteristic: designator } = characteristic;
    for (const [place, item] of items) {
      const called = place === null ? (name ?? designator) : `${name ?? designator} @ ${place}`;
      yield `<${type}CharacteristicItem id="${item}">${element("Name", called)}<CharacteristicDesignator>${element("Designator", designator)}</CharacteristicDesignator>${element("CharacteristicNominalId", String(nominalId))}</${type}CharacteristicItem>\n`;
    }
  }
  yield "</CharacteristicItems>\n</Characteristics>\n";
}

/** Above every id that a document of ours can have. */
const idMax = 2_147_483_647;

// A profile's zone lies half on either side of the nominal.
function definitionOf({ type, definitionId, isZone, shift, characteristic }: Written): string {
  const { lower_limit, upper_limit, name, characteristic: designator } = characteristic;
  const size = (text: string) => decimalOf(text, shift) ?? text;
  const limits = isZone
    ? `${element("ToleranceValue", type.endsWith("Profile") ? multiplyDecimals(upper_limit ?? "0", "2") : (upper_limit ?? "0"))}${zoneDetails(type)}`
    : `<Tolerance>${upper_limit === null ? "" : element("MaxValue", size(upper_limit))}${lower_limit === null ? "" : element("MinValue", size(lower_limit))}<DefinedAsLimit>true</DefinedAsLimit></Tolerance>${type === "UserDefinedLinear" ? element("WhatToMeasure", name ?? `roughness ${designator}`) : ""}`;
  return `<${type}CharacteristicDefinition id="${definitionId}">${limits}</${type}CharacteristicDefinition>`;
}

function zoneDetails(type: string): string {
  if (type === "SurfaceProfile") return "<Extent><ExtentEnum>UNDEFINED</ExtentEnum></Extent>";
  const shape = type === "Position" ? "DiametricalZone" : "NonDiametricalZone";
  return ["Position", "Perpendicularity", "Parallelism", "Angularity"].includes(type)
    ? `<MaterialCondition>NONE</MaterialCondition><ZoneShape><${shape}/></ZoneShape>`
    : "";
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
    }));
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
  const results = piece.results.filter(({ of, cut }) => written[of] && cut === set.cut);
  const setId = id();
  const measured = results.map((result) => measurementOf(result, written[result.of]!, devices, id));
  return `<MeasurementResults id="${setId}"><MeasuredCharacteristics><CharacteristicMeasurements n="${measured.length}">\n${measured.join("\n")}\n</CharacteristicMeasurements></MeasuredCharacteristics><InspectionStatus>${element("InspectionStatusEnum", statusOf(results))}</InspectionStatus><ActualComponentIds n="1"><Id>${componentId}</Id></ActualComponentIds></MeasurementResults>\n`;
}

const decimal = /^-?\d+(\.\d+)?$/;

/** A size as a plain decimal in the document's unit; undefined: it is none, as a result that passed. */
function decimalOf(text: string, shift: number): string | undefined {
  if (decimal.test(text)) return shiftDecimal(text, -shift);
  const angle = looksLikeAngle(text) ? readAngle(text, { decimalSign: "." }) : undefined;
  return angle && "degrees" in angle ? angle.degrees : undefined;
}

function measurementOf(
  { place, result, verdict, gauge, measured_at }: ReportResult,
  { type, shift, items }: Written,
  devices: ReadonlyMap<string, number>,
  id: () => number,
): string {
  const value = decimalOf(result, shift);
  const item = items.get(place) ?? [...items.values()][0]!;
  const device = gauge === null ? undefined : devices.get(gauge);
  return `<${type}CharacteristicMeasurement id="${id()}"><Status>${element("CharacteristicStatusEnum", value === undefined ? "NOT_ANALYZED" : statuses[verdict])}</Status>${element("CharacteristicItemId", String(item))}${measured_at === null ? "" : element("TimeStamp", measured_at)}${device === undefined ? "" : `<MeasurementDeviceIds n="1"><Id>${device}</Id></MeasurementDeviceIds>`}${value === undefined ? "" : element("Value", value)}</${type}CharacteristicMeasurement>`;
}

function element(name: string, text: string): string {
  return `<${name}>${escaped(text)}</${name}>`;
}

const entities: Record<string, string> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&apos;",
};

function escaped(text: string): string {
  return text.replace(/[&<>"']/g, (character) => entities[character]!);
}

/** Two hyphens would end a comment. */
function comment(text: string): string {
  return escaped(text).replaceAll("--", "- -");
}
