interface Characteristic {
  /** Its element before "CharacteristicDefinition". */
  type?: string;
  name?: string;
  designator?: string;
  nominal?: string;
  lower?: string;
  upper?: string;
  zone?: string;
  /** How much of a profile's zone lies outside the material. */
  outside?: string;
  /** Features it is to be measured on, by name. */
  on?: string[];
}

interface Value {
  /** Name of a characteristic. */
  of: string;
  value?: string;
  /** Name of a unit of its own. */
  unit?: string;
  status?: string;
  /** The feature measured, by name. */
  on?: string;
  at?: string;
}

interface Piece {
  serial?: string;
  lot?: string;
  values: Value[];
}

export interface QifParts {
  qpid?: string;
  /** "" for none at all. */
  units?: string;
  part?: { number: string; version?: string };
  characteristics?: Characteristic[];
  device?: string;
  pieces?: Piece[];
  /** The characteristics stand in another document, as items of these ids by their names. */
  elsewhere?: { qpid: string; items: Record<string, string> };
}

export const millimetres = `<FileUnits><PrimaryUnits><LinearUnit><SIUnitName>meter</SIUnitName><UnitName>mm</UnitName>
<UnitConversion><Factor>0.001</Factor></UnitConversion></LinearUnit><AngularUnit><SIUnitName>radian</SIUnitName><UnitName>deg</UnitName>
<UnitConversion><Factor>0.017453292519943295</Factor></UnitConversion></AngularUnit></PrimaryUnits></FileUnits>`;

/**
 * A QIF 3.0 document (ISO 23952:2020) with what is asked for, each element where the standard has it; item ids are 300 and on in the
 * order of the characteristics.
 */
export function qifDocument(parts: QifParts): string {
  const { qpid = "fd43400a-29bf-4ec6-b96c-e2f846eb6ff6", units = millimetres } = parts;
  const { part, characteristics = [], device, pieces = [], elsewhere } = parts;
  const list = (name: string, items: readonly string[]) =>
    items.length === 0 ? "" : `<${name} n="${items.length}">${items.join("\n")}</${name}>`;
  const optional = (name: string, text: string | undefined) =>
    text === undefined ? "" : `<${name}>${text}</${name}>`;
  const features = [...new Set(characteristics.flatMap(({ on = [] }) => on))];
  const featureId = (name: string) => 500 + features.indexOf(name);
  const typeOf = ({ type = "Diameter" }: Characteristic) => type;
  const designatorOf = (designator: string | undefined) =>
    designator === undefined
      ? ""
      : `<CharacteristicDesignator><Designator>${designator}</Designator></CharacteristicDesignator>`;

  const definitions = characteristics.map((each, i) => {
    const { lower, upper, zone, outside } = each;
    const limits =
      zone !== undefined
        ? `<ToleranceValue>${zone}</ToleranceValue>${optional("OuterDisposition", outside)}`
        : `<Tolerance>${optional("MaxValue", upper)}${optional("MinValue", lower)}<DefinedAsLimit>true</DefinedAsLimit></Tolerance>`;
    return `<${typeOf(each)}CharacteristicDefinition id="${100 + i}">${limits}</${typeOf(each)}CharacteristicDefinition>`;
  });
  const nominals = characteristics.map(
    (each, i) =>
      `<${typeOf(each)}CharacteristicNominal id="${200 + i}"><CharacteristicDefinitionId>${100 + i}</CharacteristicDefinitionId>${optional("TargetValue", each.nominal)}</${typeOf(each)}CharacteristicNominal>`,
  );
  const items = characteristics.map((each, i) => {
    const ids = each.on?.map((name) => `<Id>${featureId(name)}</Id>`) ?? [];
    return `<${typeOf(each)}CharacteristicItem id="${300 + i}">${optional("Name", each.name)}${designatorOf(each.designator)}${list("FeatureItemIds", ids)}<CharacteristicNominalId>${200 + i}</CharacteristicNominalId></${typeOf(each)}CharacteristicItem>`;
  });
  let id = 10_000;
  const sets = pieces.map(({ values }, i) => {
    const measured = values.map(({ of, value, unit, status = "PASS", on, at }) => {
      const found = characteristics.findIndex(({ name, designator }) => name === of || designator === of);
      const type = found < 0 ? "Diameter" : typeOf(characteristics[found]!);
      const item =
        elsewhere === undefined
          ? `<CharacteristicItemId>${300 + found}</CharacteristicItemId>`
          : `<CharacteristicItemId xId="${elsewhere.items[of]}">1</CharacteristicItemId>`;
      const featureIds =
        on === undefined
          ? ""
          : `<FeatureMeasurementIds n="1"><Id>${20_000 + 100 * i + features.indexOf(on)}</Id></FeatureMeasurementIds>`;
      return `<${type}CharacteristicMeasurement id="${id++}"><Status><CharacteristicStatusEnum>${status}</CharacteristicStatusEnum></Status>${item}${optional("TimeStamp", at)}${featureIds}${device === undefined ? "" : '<MeasurementDeviceIds n="1"><Id>40</Id></MeasurementDeviceIds>'}${unit === undefined ? optional("Value", value) : `<Value linearUnit="${unit}">${value}</Value>`}</${type}CharacteristicMeasurement>`;
    });
    const measuredFeatures = features
      .filter((name) => values.some(({ on }) => on === name))
      .map(
        (name) =>
          `<CylinderFeatureMeasurement id="${20_000 + 100 * i + features.indexOf(name)}"><FeatureItemId>${featureId(name)}</FeatureItemId></CylinderFeatureMeasurement>`,
      );
    return `<MeasurementResults id="${9000 + i}">
      ${measuredFeatures.length > 0 ? list("MeasuredFeatures", measuredFeatures) : ""}
      <MeasuredCharacteristics>${list("CharacteristicMeasurements", measured)}</MeasuredCharacteristics>
      <InspectionStatus><InspectionStatusEnum>PASS</InspectionStatusEnum></InspectionStatus>
      <ActualComponentIds n="1"><Id>${8000 + i}</Id></ActualComponentIds></MeasurementResults>`;
  });
  const components = pieces.map(
    ({ serial, lot }, i) =>
      `<ActualComponent id="${8000 + i}">${optional("SerialNumber", serial)}${optional("LotNumber", lot)}<Status><InspectionStatusEnum>PASS</InspectionStatusEnum></Status></ActualComponent>`,
  );
  return `<?xml version="1.0" encoding="UTF-8"?>
<QIFDocument xmlns="http://qifstandards.org/xsd/qif3" versionQIF="3.0.0" idMax="99999">
${qpid === "" ? "" : `<QPId>${qpid}</QPId>`}
${elsewhere === undefined ? "" : `<ExternalQIFReferences n="1"><ExternalQIFDocument id="1"><QPId>${elsewhere.qpid}</QPId></ExternalQIFDocument></ExternalQIFReferences>`}
${units}
${device === undefined ? "" : `<MeasurementResources><MeasurementDevices n="1"><MeasurementDevice id="40"><Name>${device}</Name></MeasurementDevice></MeasurementDevices></MeasurementResources>`}
${part === undefined ? "" : `<Product><PartSet n="1"><Part id="50"><ModelNumber>${part.number}</ModelNumber>${optional("Version", part.version)}</Part></PartSet></Product>`}
${
  features.length > 0
    ? `<Features>${list(
        "FeatureItems",
        features.map(
          (name) =>
            `<CylinderFeatureItem id="${featureId(name)}"><FeatureName>${name}</FeatureName></CylinderFeatureItem>`,
        ),
      )}</Features>`
    : ""
}
${characteristics.length > 0 ? `<Characteristics>${list("CharacteristicDefinitions", definitions)}${list("CharacteristicNominals", nominals)}${list("CharacteristicItems", items)}</Characteristics>` : ""}
${pieces.length > 0 ? `<Results>${list("MeasurementResultsSet", sets)}${list("ActualComponentSets", [list("ActualComponentSet", components)])}</Results>` : ""}
</QIFDocument>
`;
}
