import { SaxesParser } from "saxes";

interface Element {
  name: string;
  attributes: Record<string, string>;
  text: string;
  children: Element[];
}

/*
 * What the standard (ISO 23952:2020, ANSI QIF 3.0) says of the structure, as far as it is known without its schema files: order
 * and presence of elements as in public classes that were generated from the schema files, and in published documents.
 */
const order: Record<string, string[]> = {
  QIFDocument: [
    "QPId",
    "Attributes",
    "Version",
    "Header",
    "ExternalQIFReferences",
    "StandardsDefinitions",
    "SoftwareDefinitions",
    "PreInspectionTraceability",
    "FileUnits",
    "DatumDefinitions",
    "DatumReferenceFrames",
    "MeasurementResources",
    "Product",
    "Features",
    "Characteristics",
    "Plan",
    "Results",
    "Statistics",
  ],
  Characteristics: [
    "FormalStandardId",
    "CharacteristicDefinitions",
    "CharacteristicNominals",
    "CharacteristicItems",
  ],
  Definition: [
    "Attributes",
    "Name",
    "StatisticalCharacteristic",
    "Tolerance",
    "NonTolerance",
    "ToleranceValue",
    "OuterDisposition",
    "DatumReferenceFrameId",
    "MaterialCondition",
    "ZoneShape",
    "Extent",
    "WhatToMeasure",
  ],
  Nominal: [
    "CharacteristicDefinitionId",
    "FeatureNominalIds",
    "Name",
    "CharacteristicDesignator",
    "TargetValue",
    "Direction",
    "AnalysisVector",
    "AnalysisMode",
  ],
  Item: [
    "Attributes",
    "Description",
    "Name",
    "CharacteristicDesignator",
    "KeyCharacteristic",
    "FeatureItemIds",
    "MeasurementDeviceIds",
    "CharacteristicNominalId",
    "LocationOnDrawing",
  ],
  Measurement: [
    "Status",
    "CharacteristicItemId",
    "TimeStamp",
    "FeatureMeasurementIds",
    "ActualComponentId",
    "MeasurementDeviceIds",
    "NonConformanceDesignator",
    "TypeOfCoordinates",
    "Value",
  ],
  MeasurementResults: [
    "InspectionTraceability",
    "ThisResultsInstanceQPId",
    "ExternalFileReferences",
    "MeasuredFeatures",
    "MeasuredCharacteristics",
    "InspectionStatus",
    "ActualComponentIds",
  ],
  Results: ["MeasurementResultsSet", "ActualComponentSets", "InspectionTraceability"],
  ActualComponent: ["SerialNumber", "AdditionalChanges", "Status", "Traceability", "AsmPathId"],
  Part: [
    "Attributes",
    "UUID",
    "QPId",
    "Header",
    "ModelNumber",
    "Version",
    "DefinitionExternal",
    "CharacteristicNominalIds",
    "Id",
  ],
};
const required: Record<string, string[]> = {
  QIFDocument: ["QPId"],
  Nominal: ["CharacteristicDefinitionId"],
  Item: ["CharacteristicNominalId"],
  Measurement: ["Status", "CharacteristicItemId"],
  MeasurementResults: ["InspectionStatus"],
  ActualComponent: ["Status"],
};
const statuses = [
  "PASS",
  "FAIL",
  "REWORK",
  "SYSERROR",
  "INDETERMINATE",
  "NOT_ANALYZED",
  "BASIC_OR_TED",
  "UNDEFINED",
];
/** Lists whose `n` counts what stands in them. */
const counted = /^(?!MeasurementsResults|MeasurementResults$|MeasuredCharacteristics$)\w+(s|Set)$/;

/** What breaks the structure of a QIF 3.0 document; nothing where all that is checked holds. */
export function checkQif(text: string): string[] {
  const faults: string[] = [];
  const root = parse(text);
  if (root.name !== "QIFDocument") return [`the root is ${root.name}`];
  if (root.attributes.xmlns !== "http://qifstandards.org/xsd/qif3")
    faults.push(`namespace ${root.attributes.xmlns}`);
  if (!root.attributes.versionQIF?.startsWith("3.0")) faults.push("versionQIF is not 3.0");
  const ids = new Map<string, Element>();
  const references: { from: string; id: string }[] = [];
  walk(root, (element) => {
    const { name, attributes, children } = element;
    const { id } = attributes;
    if (id !== undefined) {
      if (!/^[1-9]\d*$/.test(id)) faults.push(`${name} has the id "${id}"`);
      if (Number(id) > Number(root.attributes.idMax)) faults.push(`${name}: id ${id} is above idMax`);
      if (ids.has(id)) faults.push(`${name}: id ${id} is given twice`);
      ids.set(id, element);
    }
    const isReference =
      name === "Id" ||
      /^(Characteristic(Definition|Nominal|Item)|FeatureItem|ActualComponent|MeasurementDevice)Id$/.test(
        name,
      );
    if (isReference && children.length === 0 && attributes.xId === undefined)
      references.push({ from: name, id: element.text.trim() });
    const kind = kindOf(name);
    const wanted = order[kind];
    if (wanted) {
      const names = children.map((child) => child.name);
      const places = names.map((one) => wanted.indexOf(one));
      for (const [i, place] of places.entries()) {
        if (place === -1 && kind !== "Definition" && kind !== "Nominal" && kind !== "Measurement")
          faults.push(`${name} holds ${names[i]}`);
        const before = places
          .slice(0, i)
          .filter((one) => one !== -1)
          .at(-1);
        if (place !== -1 && before !== undefined && before > place)
          faults.push(`${name}: ${names[i]} stands behind ${wanted[before]}`);
      }
    }
    for (const child of required[kind] ?? []) {
      if (!children.some((one) => one.name === child)) faults.push(`${name} has no ${child}`);
    }
    if (attributes.n !== undefined && counted.test(name)) {
      const items = children.filter((child) => child.name !== "Attributes").length;
      if (Number(attributes.n) !== items) faults.push(`${name}: n is ${attributes.n}, but it holds ${items}`);
      if (items === 0) faults.push(`${name} is empty`);
    }
    if (name === "CharacteristicStatusEnum" && !statuses.includes(element.text))
      faults.push(`status ${element.text}`);
    if (name === "Value" && !/^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/.test(element.text.trim()))
      faults.push(`value "${element.text}"`);
    if (name === "TimeStamp" && Number.isNaN(Date.parse(element.text))) faults.push(`time ${element.text}`);
  });
  for (const { from, id } of references) if (!ids.has(id)) faults.push(`${from} ${id} leads nowhere`);
  walk(root, (element) => {
    const target =
      element.name === "CharacteristicItemId" && element.attributes.xId === undefined
        ? ids.get(element.text.trim())
        : undefined;
    if (target && !target.name.endsWith("CharacteristicItem"))
      faults.push(`an item id leads to ${target.name}`);
  });
  return faults;
}

function kindOf(name: string): string {
  const [, kind] = /^\w+Characteristic(Definition|Nominal|Item|Measurement)$/.exec(name) ?? [];
  return kind ?? name;
}

function walk(element: Element, visit: (element: Element) => void): void {
  visit(element);
  for (const child of element.children) walk(child, visit);
}

function parse(text: string): Element {
  const parser = new SaxesParser();
  const stack: Element[] = [{ name: "", attributes: {}, text: "", children: [] }];
  parser.on("error", (error) => {
    throw error;
  });
  parser.on("opentag", ({ name, attributes }) => {
    const element = { name, attributes: attributes as Record<string, string>, text: "", children: [] };
    stack.at(-1)!.children.push(element);
    stack.push(element);
  });
  parser.on("text", (piece) => {
    stack.at(-1)!.text += piece;
  });
  parser.on("closetag", () => stack.pop());
  parser.write(text.replace(/^\uFEFF/, "")).close();
  return stack[0]!.children[0]!;
}
