import { UnreadableSource } from "../source-record.js";
import { type XmlEvent, XmlReader } from "../xml/read-xml.js";

/** A small element with all that is in it. */
export interface QifNode {
  name: string;
  attributes: Readonly<Record<string, string>>;
  text: string;
  children: QifNode[];
  line: number;
}

/** What a walk through a document meets. */
export type QifStep =
  | { kind: "enter"; name: string; attributes: Readonly<Record<string, string>>; line: number }
  | { kind: "leave"; name: string }
  | { kind: "node"; node: QifNode; within: string };

const namespace = /^http:\/\/qifstandards\.org\/xsd\/qif[23](\/|$)/;
const sections = new Set([
  "QIFDocument",
  "ExternalQIFReferences",
  "FileUnits",
  "PrimaryUnits",
  "OtherUnits",
  "MeasurementResources",
  "MeasurementDevices",
  "Product",
  "PartSet",
  "Features",
  "FeatureItems",
  "Characteristics",
  "CharacteristicDefinitions",
  "CharacteristicNominals",
  "CharacteristicItems",
  "Results",
  "MeasurementsResults",
  "MeasurementResultsSet",
  "MeasurementResults",
  "MeasuredFeatures",
  "FeatureMeasurements",
  "FeatureActuals",
  "MeasuredCharacteristics",
  "CharacteristicMeasurements",
  "CharacteristicActuals",
  "ActualComponentSets",
  "ActualComponentSet",
]);
/** What is counted, and read no further. */
const counted = new Set(["Statistics", "Plan", "Plans", "MeasurementPlan"]);
const mostInside = 2000;
const longestText = 4000;

/**
 * Walks through a QIF document: sections are entered and left, and what stands in one comes as a whole, small element. Of an
 * element beyond 2000 parts, such as a feature with its measured points, the first are kept.
 */
export class QifWalk {
  private readonly reader = new XmlReader();
  private readonly open: string[] = [];
  private stack: QifNode[] = [];
  private inside = 0;
  /** Depth inside of what is only counted. */
  private passed = 0;

  read(bytes: Uint8Array): QifStep[] {
    return this.take(this.reader.read(bytes));
  }

  end(): QifStep[] {
    return this.take(this.reader.end());
  }

  private take(events: readonly XmlEvent[]): QifStep[] {
    const steps: QifStep[] = [];
    for (const event of events) {
      if (event.kind === "open") this.enter(event, steps);
      else if (event.kind === "close") this.leave(event.name, steps);
      else {
        const node = this.stack.at(-1);
        if (node && node.text.length < longestText) node.text += event.text.slice(0, longestText);
      }
    }
    return steps;
  }

  private enter(event: Extract<XmlEvent, { kind: "open" }>, steps: QifStep[]): void {
    const { name, attributes, line } = event;
    if (this.open.length === 0) {
      if (name !== "QIFDocument" || !namespace.test(event.uri)) {
        throw new UnreadableSource(
          line,
          `Line ${line}: this is no QIF document of version 2 or 3 but "${name}" of ${event.uri || "no namespace"}.`,
        );
      }
    }
    if (this.passed > 0) {
      this.passed += 1;
      steps.push({ kind: "enter", name, attributes, line });
      return;
    }
    if (this.stack.length === 0 && counted.has(name)) {
      this.passed = 1;
      steps.push({ kind: "enter", name, attributes, line });
      return;
    }
    if (this.stack.length === 0 && sections.has(name)) {
      this.open.push(name);
      steps.push({ kind: "enter", name, attributes, line });
      return;
    }
    const node: QifNode = { name, attributes, text: "", children: [], line };
    if (this.stack.length === 0) this.inside = 0;
    this.inside += 1;
    if (this.inside <= mostInside) this.stack.at(-1)?.children.push(node);
    this.stack.push(node);
  }

  private leave(name: string, steps: QifStep[]): void {
    if (this.passed > 0) {
      this.passed -= 1;
      if (this.passed === 0) steps.push({ kind: "leave", name });
      return;
    }
    const node = this.stack.pop();
    if (node === undefined) {
      this.open.pop();
      steps.push({ kind: "leave", name });
    } else if (this.stack.length === 0) {
      steps.push({ kind: "node", node, within: this.open.at(-1)! });
    }
  }
}

export function child(node: QifNode | undefined, ...path: string[]): QifNode | undefined {
  let found = node;
  for (const name of path) found = found?.children.find((item) => item.name === name);
  return found;
}

/** The text of a child, blanks around it left off; undefined: there is none. */
export function textOf(node: QifNode | undefined, ...path: string[]): string | undefined {
  return child(node, ...path)?.text.trim() || undefined;
}

/** Ids in a list of them. */
export function idsOf(node: QifNode | undefined, ...path: string[]): string[] {
  return (child(node, ...path)?.children ?? []).flatMap((item) =>
    item.name === "Id" && item.text.trim() ? [item.text.trim()] : [],
  );
}
