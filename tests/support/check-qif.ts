import { SaxesParser } from "saxes";

interface Element {
  name: string;
  attributes: Record<string, string>;
  text: string;
  children: Element[];
}

/*
 * What the standard (ISO 23952:2020, ANSI QIF 3.0) says of the structure: names, order and presence of elements of the types that
 * our documents use, as its schema files have them. Of all other types only ids, references and counts are held to.
 */
const order: Record<string, string[]> = {
  QIFDocument: [
    "QPId",
    "Attributes",
    "VersionHistory",
    "Version",
    "Header",
    "ValidationCounts",
    "ProductDataQuality",
    "ExternalQIFReferences",
    "StandardsDefinitions",
    "SoftwareDefinitions",
    "AlgorithmDefinitions",
    "PreInspectionTraceability",
    "FileUnits",
    "DatumDefinitions",
    "DatumTargetDefinitions",
    "Transforms",
    "CoordinateSystems",
    "DatumReferenceFrames",
    "MeasurementResources",
    "ThreadSpecifications",
    "Product",
    "Features",
    "FeatureZones",
    "Characteristics",
    "Plan",
    "Results",
    "Statistics",
    "ManufacturingProcessTraceabilities",
    "Rules",
    "UserDataXML",
    "Signature",
  ],
  DocumentHeader: ["Application", "Author", "ApplicationSource", "Description", "Scope"],
  Features: ["FeatureDefinitions", "FeatureNominals", "FeatureItems"],
  FeatureNominal: ["Attributes", "Name", "UUID", "FeatureDefinitionId", "ParentFeatureNominalId"],
  FeatureItem: [
    "Attributes",
    "FeatureNominalId",
    "ParentFeatureItemId",
    "FeatureName",
    "UUID",
    "NotableEventIds",
    "CoordinateSystemId",
    "PointList",
    "SubstituteFeatureAlgorithm",
    "VirtualMeasurement",
    "DeterminationMode",
  ],
  FeatureMeasurement: [
    "Attributes",
    "FeatureItemId",
    "FeatureName",
    "TimeStamp",
    "ActualComponentId",
    "ManufacturingProcessId",
    "MeasurementDeviceIds",
    "ActualTransformId",
    "NotedEventIds",
    "PointList",
    "SubstituteFeatureAlgorithm",
    "ProxyMeasurementId",
  ],
  Characteristics: [
    "FormalStandardId",
    "CharacteristicDefinitions",
    "CharacteristicNominals",
    "CharacteristicItems",
  ],
  Definition: [
    "Attributes",
    "Description",
    "Name",
    "CharacteristicDesignator",
    "FreeState",
    "StatisticalCharacteristic",
    "CommonZone",
    "CommonTolerance",
    "MedianFeature",
    "EnvelopeRequirement",
    "Independency",
    "UnitedOrContinuousFeature",
    "SeparateZone",
    "DimensionType",
    "DimensionModifiers",
    "Tolerance",
    "LimitsAndFitsSpecification",
    "NonTolerance",
    "ToleranceValue",
    "ToleranceDualValue",
    "OuterDisposition",
    "UnequallyDisposedZone",
    "DatumReferenceFrameId",
    "MaterialCondition",
    "SizeCharacteristicDefinitionId",
    "ZoneShape",
    "TangentPlane",
    "MaximumToleranceValue",
    "Extent",
    "WhatToMeasure",
  ],
  Nominal: [
    "Attributes",
    "Description",
    "CharacteristicDefinitionId",
    "FeatureNominalIds",
    "SubstituteFeatureAlgorithm",
    "FeatureZoneIds",
    "EntityInternalIds",
    "EntityExternalIds",
    "Name",
    "CharacteristicDesignator",
    "TargetValue",
    "PassValues",
    "FailValues",
  ],
  Item: [
    "Attributes",
    "Description",
    "Name",
    "CharacteristicDesignator",
    "FeatureItemIds",
    "SubstituteFeatureAlgorithm",
    "NotableEventIds",
    "MeasurementDeviceIds",
    "CharacteristicNominalId",
    "LocationOnDrawing",
    "VirtualMeasurement",
  ],
  CharacteristicDesignator: ["Designator", "UUID", "Criticality", "Balloon"],
  Measurement: [
    "Attributes",
    "Description",
    "Status",
    "CharacteristicItemId",
    "TimeStamp",
    "FeatureMeasurementIds",
    "SubstituteFeatureAlgorithm",
    "ActualComponentId",
    "MeasurementDeviceIds",
    "ManufacturingProcessId",
    "NotedEventIds",
    "NonConformanceDesignator",
    "TypeOfCoordinates",
    "Value",
    "MaxValue",
    "MinValue",
  ],
  MeasurementResults: [
    "Attributes",
    "InspectionTraceability",
    "ThisResultsInstanceQPId",
    "ExternalFileReferences",
    "MeasuredFeatures",
    "MeasuredPointSets",
    "MeasuredCharacteristics",
    "ActualTransforms",
    "CoordinateSystemActualTransformAssociations",
    "InspectionStatus",
    "ActualComponentIds",
  ],
  Results: ["Version", "MeasurementResultsSet", "ActualComponentSets", "InspectionTraceability"],
  ActualComponent: ["Attributes", "SerialNumber", "AdditionalChanges", "Status", "Traceability", "AsmPathId"],
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
/** Types of which ours are a few: another element of theirs is none of the standard's only where ours would never stand. */
const isOpen =
  /^(Definition|Nominal|Measurement|FeatureNominal|FeatureItem|FeatureMeasurement|Features|Part)$/;
const required: Record<string, string[]> = {
  QIFDocument: ["QPId"],
  FeatureNominal: ["FeatureDefinitionId"],
  FeatureItem: ["FeatureNominalId", "FeatureName"],
  Nominal: ["CharacteristicDefinitionId"],
  Item: ["CharacteristicNominalId"],
  CharacteristicDesignator: ["Designator"],
  Measurement: ["Status", "CharacteristicItemId"],
  MeasurementResults: ["InspectionStatus"],
  Results: ["MeasurementResultsSet"],
  ActualComponent: ["Status"],
};
/** What a characteristic's definition has to say, and the zone shapes that may stand in it. */
const ofType: Record<string, { has: string[]; shapes?: string[] }> = {
  Position: { has: ["ToleranceValue", "MaterialCondition", "ZoneShape"] },
  Straightness: { has: ["ZoneShape"], shapes: ["DiametricalZone", "NonDiametricalZone"] },
  Perpendicularity: {
    has: ["ToleranceValue", "MaterialCondition", "ZoneShape"],
    shapes: ["DiametricalZone", "PlanarZone"],
  },
  Parallelism: {
    has: ["ToleranceValue", "MaterialCondition", "ZoneShape"],
    shapes: ["DiametricalZone", "PlanarZone"],
  },
  Angularity: {
    has: ["ToleranceValue", "MaterialCondition", "ZoneShape"],
    shapes: ["DiametricalZone", "PlanarZone"],
  },
  Coaxiality: { has: ["ToleranceValue", "ZoneShape"], shapes: ["DiametricalZone", "NonDiametricalZone"] },
  Concentricity: {
    has: ["ToleranceValue", "ZoneShape"],
    shapes: ["SphericalZone", "DiametricalZone", "NonDiametricalZone"],
  },
  LineProfile: { has: ["ToleranceValue"] },
  SurfaceProfile: { has: ["ToleranceValue"] },
  UserDefinedLinear: { has: ["WhatToMeasure"] },
  UserDefinedAttribute: { has: ["WhatToMeasure"] },
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
const number = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/;
/** Lists whose `n` counts what stands in them. */
const counted = /^(?!MeasurementsResults|MeasurementResults$|MeasuredCharacteristics$)\w+(s|Set)$/;

/** What breaks the structure of a QIF 3.0 document; nothing where all that is checked holds. */
export function checkQif(text: string): string[] {
  const faults: string[] = [];
  const root = parse(text);
  if (root.name !== "QIFDocument") return [`the root is ${root.name}`];
  if (root.attributes.xmlns !== "http://qifstandards.org/xsd/qif3")
    faults.push(`namespace ${root.attributes.xmlns}`);
  if (root.attributes.versionQIF !== "3.0.0") faults.push("versionQIF is not 3.0.0");
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
      /^((Characteristic|Feature)(Definition|Nominal|Item)|ActualComponent|MeasurementDevice)Id$/.test(name);
    if (isReference && children.length === 0 && attributes.xId === undefined)
      references.push({ from: name, id: element.text.trim() });
    const kind = root.children.includes(element) && name === "Header" ? "DocumentHeader" : kindOf(name);
    const wanted = order[kind];
    if (wanted) {
      const names = children.map((child) => child.name);
      const places = names.map((one) => wanted.indexOf(one));
      for (const [i, place] of places.entries()) {
        if (place === -1 && !isOpen.test(kind)) faults.push(`${name} holds ${names[i]}`);
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
    const type = kind === "Definition" ? ofType[name.replace(/Characteristic.*$/, "")] : undefined;
    for (const child of type?.has ?? []) {
      if (!children.some((one) => one.name === child)) faults.push(`${name} has no ${child}`);
    }
    const shape = children.find((child) => child.name === "ZoneShape")?.children[0]?.name;
    if (type?.shapes && shape !== undefined && !type.shapes.includes(shape))
      faults.push(`${name} has the shape ${shape}`);
    const value = kind === "Measurement" && children.find((child) => child.name === "Value")?.text.trim();
    if (typeof value === "string" && !name.startsWith("UserDefinedAttribute") && !number.test(value))
      faults.push(`value "${value}"`);
    if (name === "TimeStamp" && Number.isNaN(Date.parse(element.text))) faults.push(`time ${element.text}`);
  });
  for (const { from, id } of references) if (!ids.has(id)) faults.push(`${from} ${id} leads nowhere`);
  walk(root, ({ name, attributes, text }) => {
    const [, kind] =
      /^((?:Characteristic|Feature)(?:Definition|Nominal|Item)|ActualComponent)Id$/.exec(name) ?? [];
    const target = kind !== undefined && attributes.xId === undefined ? ids.get(text.trim()) : undefined;
    if (target && !target.name.endsWith(kind!)) faults.push(`${name} ${text} leads to ${target.name}`);
  });
  return faults;
}

function kindOf(name: string): string {
  const [, kind] =
    /^\w+(?:Characteristic(Definition|Nominal|Item|Measurement))$/.exec(name) ??
    /^\w+(Feature(?:Nominal|Item|Measurement))$/.exec(name) ??
    [];
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
