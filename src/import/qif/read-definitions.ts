import { type PrintedUnit, readUnit } from "../../core/notation/read-unit.js";
import { UnreadableSource } from "../source-record.js";
import type { Inspection, QifDocument, ResultsSet } from "./qif-document.js";
import { child, idsOf, type QifNode, type QifStep, QifWalk, textOf } from "./qif-nodes.js";
import { numberOf, readQifDecimal } from "./qif-number.js";

/** What is kept of a document for as long as it is read; a drawing has hundreds, a large lot some ten thousand sets. */
const mostKept = 500_000;
const lotName = /^(\w*Lot|Lot\w*|\w*Lot(Number|Id|Code))$/;

/**
 * Reads all of a document but its measured values: what they are of stands before and behind them. So the whole document has
 * been read, and found well-formed, before the first value counts.
 * @throws {UnreadableSource} with line and column
 */
export async function readDefinitions(bytes: AsyncIterable<Uint8Array>): Promise<QifDocument> {
  const scan = new DefinitionScan();
  const walk = new QifWalk();
  for await (const chunk of bytes) scan.take(walk.read(chunk));
  scan.take(walk.end());
  return scan.document;
}

class DefinitionScan {
  readonly document: QifDocument = {
    qpid: undefined,
    version: "",
    units: { linear: undefined, angular: undefined, named: new Map() },
    externals: new Map(),
    definitions: new Map(),
    nominals: new Map(),
    items: new Map(),
    features: new Map(),
    devices: new Map(),
    components: new Map(),
    parts: [],
    sets: new Map(),
    inspection: {},
    measuredOn: new Map(),
    counts: { measurements: 0, statistics: 0, planSteps: 0 },
    notes: [],
  };
  private set: ResultsSet | undefined;
  private readonly itemOfFeature = new Map<string, string>();
  private counting: "statistics" | "planSteps" | undefined;
  private kept = 0;

  take(steps: readonly QifStep[]): void {
    for (const step of steps) {
      if (step.kind === "node") this.takeNode(step.node, step.within);
      else if (step.kind === "leave") {
        this.counting = undefined;
        if (step.name === "MeasurementResults") {
          this.set = undefined;
          this.itemOfFeature.clear();
        }
      } else this.enter(step.name, step.attributes, step.line);
    }
  }

  private enter(name: string, attributes: Readonly<Record<string, string>>, line: number): void {
    const { document } = this;
    if (name === "QIFDocument") document.version = attributes.versionQIF ?? "";
    else if (this.counting === "statistics") {
      if (name.endsWith("CharacteristicStats")) document.counts.statistics += 1;
    } else if (this.counting === "planSteps") {
      if (/^(Measure|Evaluate)/.test(name)) document.counts.planSteps += 1;
    } else if (name === "Statistics") this.counting = "statistics";
    else if (name === "Plan" || name === "Plans" || name === "MeasurementPlan") this.counting = "planSteps";
    else if (name === "MeasurementResults") {
      this.set = { componentIds: [] };
      this.keep(document.sets, attributes.id ?? `line ${line}`, this.set, line);
    }
  }

  private takeNode(node: QifNode, within: string): void {
    const { document } = this;
    const { name, line } = node;
    const id = node.attributes.id ?? "";
    if (within === "QIFDocument") {
      if (name === "QPId") document.qpid = node.text.trim().toLowerCase() || undefined;
    } else if (within === "ExternalQIFReferences") {
      const qpid = textOf(node, "QPId")?.toLowerCase();
      if (qpid !== undefined) this.keep(document.externals, id, qpid, line);
    } else if (within === "PrimaryUnits" || within === "OtherUnits") {
      this.takeUnit(node, within === "PrimaryUnits");
    } else if (within === "MeasurementDevices") {
      const device = { name: textOf(node, "Name"), serial: textOf(node, "SerialNumber") };
      this.keep(document.devices, id, device, line);
    } else if (within === "PartSet") {
      this.takePart(node);
    } else if (within === "FeatureItems") {
      const feature = textOf(node, "FeatureName") ?? textOf(node, "Name");
      if (feature !== undefined) this.keep(document.features, id, feature, line);
    } else if (name.endsWith("CharacteristicDefinition")) {
      this.takeDefinition(node, id);
    } else if (name.endsWith("CharacteristicNominal")) {
      const nominal = {
        type: name.slice(0, -"CharacteristicNominal".length),
        definitionId: textOf(node, "CharacteristicDefinitionId"),
        target: numberOf(child(node, "TargetValue")),
        name: textOf(node, "Name"),
        designator: designatorOf(node),
      };
      this.keep(document.nominals, id, nominal, line);
    } else if (name.endsWith("CharacteristicItem")) {
      const item = {
        type: name.slice(0, -"CharacteristicItem".length),
        nominalId: textOf(node, "CharacteristicNominalId"),
        name: textOf(node, "Name"),
        designator: designatorOf(node),
        description: textOf(node, "Description"),
        featureIds: idsOf(node, "FeatureItemIds"),
        deviceIds: idsOf(node, "MeasurementDeviceIds"),
      };
      this.keep(document.items, id, item, line);
    } else if (name === "ActualComponent") {
      const component = {
        serial: textOf(node, "SerialNumber"),
        ...inspectionOf(child(node, "Traceability")),
        lot: lotOf(node) ?? lotOf(child(node, "Traceability")),
        deviceIds: idsOf(node, "Traceability", "MeasurementDeviceIds"),
        status: textOf(node, "Status", "InspectionStatusEnum"),
      };
      this.keep(document.components, id, component, line);
    } else if (within === "Results" && name === "InspectionTraceability") {
      document.inspection = inspectionOf(node);
    } else if (this.set && within === "MeasurementResults") {
      this.takeOfSet(node, this.set);
    } else if (isMeasurement(node)) {
      this.takeMeasured(node);
    } else if (this.set) {
      const item = textOf(node, "FeatureItemId");
      if (item !== undefined) this.keep(this.itemOfFeature, id, item, line);
    }
  }

  private takeUnit(node: QifNode, isPrimary: boolean): void {
    const { units, notes } = this.document;
    const kind = /Angular/.test(node.name) ? "angular" : node.name === "LinearUnit" ? "linear" : undefined;
    if (kind === undefined) return;
    const name = textOf(node, "UnitName") ?? textOf(node, "SIUnitName") ?? "";
    const unit = readUnit(name) ?? (name === "" ? undefined : unitOfFactor(kind, node));
    if (unit === undefined) {
      notes.push(`line ${node.line}: "${name}" is no unit that is known here`);
      return;
    }
    const factor = textOf(node, "UnitConversion", "Factor");
    if (factor !== undefined && !isFactorOf(unit, factor)) {
      throw new UnreadableSource(
        node.line,
        `Line ${node.line}: unit "${name}" is said to be ${factor} ${kind === "linear" ? "m" : "rad"}, which it is not. Have the document written with its true unit.`,
      );
    }
    units.named.set(name, unit);
    if (isPrimary && (node.name !== "PMIAngularUnit" || units.angular === undefined)) units[kind] = unit;
  }

  private takePart(node: QifNode): void {
    if (node.name !== "Part") return;
    const qpid = textOf(node, "QPId") ?? textOf(node, "UUID");
    this.document.parts.push({
      qpid: qpid?.toLowerCase(),
      number: textOf(node, "ModelNumber"),
      name: textOf(node, "Header", "Name") ?? textOf(node, "Name"),
      version: textOf(node, "Version"),
    });
  }

  private takeDefinition(node: QifNode, id: string): void {
    const tolerance = child(node, "Tolerance");
    const condition = textOf(node, "MaterialCondition");
    this.keep(
      this.document.definitions,
      id,
      {
        type: node.name.slice(0, -"CharacteristicDefinition".length),
        max: numberOf(child(tolerance, "MaxValue")),
        min: numberOf(child(tolerance, "MinValue")),
        areLimits: /^(true|1)$/.test(textOf(tolerance, "DefinedAsLimit") ?? ""),
        zone: numberOf(child(node, "ToleranceValue")),
        outside: numberOf(child(node, "OuterDisposition")),
        without: textOf(node, "NonTolerance"),
        condition: condition === "MAXIMUM" ? "maximum" : condition === "LEAST" ? "least" : undefined,
      },
      node.line,
    );
  }

  private takeOfSet(node: QifNode, set: ResultsSet): void {
    if (node.name === "ActualComponentIds") set.componentIds = idsOfSelf(node);
    else if (node.name === "InspectionStatus") set.status = textOf(node, "InspectionStatusEnum");
    else if (node.name === "InspectionTraceability") Object.assign(set, inspectionOf(node));
  }

  private takeMeasured(node: QifNode): void {
    this.document.counts.measurements += 1;
    const itemId = textOf(node, "CharacteristicItemId");
    if (itemId === undefined || child(node, "CharacteristicItemId")!.attributes.xId !== undefined) return;
    const ids = measuredFeatures(node).flatMap((id) => this.itemOfFeature.get(id) ?? []);
    if (ids.length === 0) return;
    const key = ids.join(" ");
    const known = this.document.measuredOn.get(itemId);
    if (known) known.add(key);
    else this.keep(this.document.measuredOn, itemId, new Set([key]), node.line);
  }

  private keep<T>(map: Map<string, T>, id: string, value: T, line: number): void {
    if (id === "") return;
    if (map.has(id) && map !== (this.itemOfFeature as Map<string, unknown>)) {
      throw new UnreadableSource(line, `Line ${line}: id ${id} is given twice.`);
    }
    this.kept += 1;
    if (this.kept > mostKept) {
      throw new UnreadableSource(
        line,
        `Line ${line}: the document defines more than ${mostKept} things. Send it in parts.`,
      );
    }
    map.set(id, value);
  }
}

export function isMeasurement(node: QifNode): boolean {
  return /Characteristic(Measurement|Actual)$/.test(node.name);
}

/** Ids of the measured features, each of one set. */
export function measuredFeatures(node: QifNode): string[] {
  return [...idsOf(node, "FeatureMeasurementIds"), ...idsOf(node, "FeatureActualIds")];
}

function idsOfSelf(node: QifNode): string[] {
  return node.children.flatMap((item) => (item.name === "Id" ? [item.text.trim()] : []));
}

function designatorOf(node: QifNode): string | undefined {
  return (
    textOf(node, "CharacteristicDesignator", "Designator") ?? textOf(node, "KeyCharacteristic", "Designator")
  );
}

/** Names as in Traceability.xsd and QIFResults.xsd of QIF 3.0, the schemas published with the standard. */
function inspectionOf(node: QifNode | undefined): Inspection {
  return {
    startedAt: textOf(node, "InspectionStart"),
    endedAt: textOf(node, "InspectionEnd"),
    operator: textOf(node, "InspectionOperator", "Name"),
    lot: lotOf(node),
  };
}

function lotOf(node: QifNode | undefined): string | undefined {
  return node?.children.find(({ name, text }) => lotName.test(name) && text.trim() !== "")?.text.trim();
}

/** Metres and radians in a unit. */
const siOf: Partial<Record<PrintedUnit, number>> = {
  mm: 1e-3,
  µm: 1e-6,
  nm: 1e-9,
  cm: 1e-2,
  m: 1,
  inch: 0.0254,
  µin: 2.54e-8,
  mil: 2.54e-5,
  deg: Math.PI / 180,
  arcmin: Math.PI / 10_800,
  arcsec: Math.PI / 648_000,
  rad: 1,
};

function isFactorOf(unit: PrintedUnit, factor: string): boolean {
  const decimal = readQifDecimal(factor);
  return decimal !== undefined && Math.abs(Number(decimal) / siOf[unit]! - 1) < 1e-6;
}

/** A unit of a name of its own, by what it says to be in metres or radians. */
function unitOfFactor(kind: "linear" | "angular", node: QifNode): PrintedUnit | undefined {
  const factor = textOf(node, "UnitConversion", "Factor");
  if (factor === undefined) return undefined;
  const units: PrintedUnit[] = kind === "linear" ? ["mm", "inch", "µm", "cm", "m"] : ["deg", "rad"];
  return units.find((unit) => isFactorOf(unit, factor));
}
