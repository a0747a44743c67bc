import type { QifDocument, QifMeasurement } from "./qif-document.js";
import { child, idsOf, type QifNode, type QifStep, QifWalk, textOf } from "./qif-nodes.js";
import { numberOf } from "./qif-number.js";
import { isMeasurement, measuredFeatures } from "./read-definitions.js";

/**
 * The measured values of a document that has been read before, in its order, in batches.
 * @throws {UnreadableSource} if the document has changed in between
 */
export async function* readMeasurements(
  bytes: AsyncIterable<Uint8Array>,
  document: QifDocument,
): AsyncGenerator<QifMeasurement[], void, undefined> {
  const walk = new QifWalk();
  const scan = new MeasurementScan(document);
  for await (const chunk of bytes) {
    const found = scan.take(walk.read(chunk));
    if (found.length > 0) yield found;
  }
  const found = scan.take(walk.end());
  if (found.length > 0) yield found;
}

class MeasurementScan {
  private setId = "";
  private readonly itemOfFeature = new Map<string, string>();

  constructor(private readonly document: QifDocument) {}

  take(steps: readonly QifStep[]): QifMeasurement[] {
    const found: QifMeasurement[] = [];
    for (const step of steps) {
      if (step.kind === "enter" && step.name === "MeasurementResults") {
        this.setId = step.attributes.id ?? `line ${step.line}`;
      } else if (step.kind === "leave" && step.name === "MeasurementResults") {
        this.setId = "";
        this.itemOfFeature.clear();
      } else if (step.kind === "node") {
        if (isMeasurement(step.node)) found.push(this.measured(step.node));
        else if (this.setId !== "") this.takeFeature(step.node);
      }
    }
    return found;
  }

  private takeFeature(node: QifNode): void {
    const { id } = node.attributes;
    const item = textOf(node, "FeatureItemId");
    if (id !== undefined && item !== undefined) this.itemOfFeature.set(id, item);
  }

  private measured(node: QifNode): QifMeasurement {
    const { document, setId } = this;
    const reference = child(node, "CharacteristicItemId");
    const { xId } = reference?.attributes ?? {};
    const own = reference?.text.trim() ?? "";
    return {
      line: node.line,
      id: node.attributes.id ?? "",
      setId,
      type: node.name.replace(/Characteristic(Measurement|Actual)$/, ""),
      itemId: xId ?? own,
      itemIn: xId === undefined ? undefined : (document.externals.get(own) ?? `reference ${own}`),
      featureIds: measuredFeatures(node).flatMap((id) => this.itemOfFeature.get(id) ?? []),
      componentIds: [
        ...idsOf(node, "ActualComponentIds"),
        ...[textOf(node, "ActualComponentId")].flatMap((id) => id ?? []),
      ],
      deviceIds: [
        ...idsOf(node, "MeasurementDeviceIds"),
        ...[textOf(node, "MeasurementDeviceId")].flatMap((id) => id ?? []),
      ],
      status: textOf(node, "Status", "CharacteristicStatusEnum"),
      value: numberOf(child(node, "Value")),
      measuredAt: textOf(node, "TimeStamp") ?? textOf(node, "DateTime"),
    };
  }
}
