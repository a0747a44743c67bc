import { readNumber } from "../../core/notation/read-number.js";
import { attributeOf, childrenOf, type Element, textOf } from "./element-tree.js";

/** Where and when an observation of a stream stands. */
export interface Observed {
  /** The component that it is of, within its device. */
  component: string;
  dataItemId: string;
  /** As the document has it. */
  timestamp?: string;
  sequence: number;
  line: number;
}

/** What the control reports of an offset. */
export interface OffsetObservation extends Observed {
  subType: "LENGTH" | "RADIAL";
  /** The number of the offset, where the control reports a table of them. */
  offsetNumber?: number;
  /** The tool that was in use, as far as the stream says. */
  toolNumber?: number;
  /** Decimal, in mm; absent: UNAVAILABLE, which is no value and not 0. */
  value?: string;
}

/** What the machine has measured of a feature. */
export interface FeatureMeasurement extends Observed {
  feature: string;
  text: string;
  type?: string;
  /** As printed; absent: UNAVAILABLE. */
  value?: string;
  unit?: string;
  status?: string;
}

const unavailable = /^unavailable$/i;
const units: Record<string, string> = {
  MILLIMETER: "mm",
  INCH: "inch",
  MICROMETER: "µm",
  CENTIMETER: "cm",
  METER: "m",
  DEGREE: "deg",
  RADIAN: "rad",
};

/** Names of the observations of a stream that are looked at. */
export const observations = new Set([
  "ToolNumber",
  "ToolOffset",
  "ToolOffsetsTable",
  "ToolOffsetsDataSet",
  "FeatureMeasurementTable",
]);

/** Offsets of one observation, that of the tool in use or a table of them; those that are no LENGTH or RADIAL are left out. */
export function offsetsOf(element: Element, observed: Observed): OffsetObservation[] {
  if (element.name === "ToolOffset") {
    const subType = attributeOf(element, "subType");
    if (subType !== "LENGTH" && subType !== "RADIAL") return [];
    return [{ ...observed, subType, ...decimalIn(element.text) }];
  }
  return childrenOf(element, "Entry").flatMap((entry) => {
    const key = attributeOf(entry, "key") ?? "";
    if (!/^\d{1,8}$/.test(key)) return [];
    return childrenOf(entry, "Cell").flatMap((cell): OffsetObservation[] => {
      const subType = attributeOf(cell, "key")?.toUpperCase();
      if (subType !== "LENGTH" && subType !== "RADIAL") return [];
      return [{ ...observed, line: cell.line, subType, offsetNumber: Number(key), ...decimalIn(cell.text) }];
    });
  });
}

function decimalIn(text: string): { value?: string } {
  const read = readNumber(text.trim(), { decimalSign: "." });
  return "fault" in read ? {} : { value: read.decimal };
}

/** The features of a table of measurements. */
export function measurementsOf(element: Element, observed: Observed): FeatureMeasurement[] {
  return childrenOf(element, "Entry").map((entry) => {
    const cells = new Map(
      childrenOf(entry, "Cell").map((cell) => [attributeOf(cell, "key") ?? "", textOf(cell)]),
    );
    const known = (key: string) => {
      const text = cells.get(key);
      return text === undefined || unavailable.test(text) ? undefined : text;
    };
    const feature = attributeOf(entry, "key") ?? "";
    const measurement: FeatureMeasurement = {
      ...observed,
      line: entry.line,
      feature,
      text: [feature, ...[...cells].map(([key, text]) => `${key}=${text ?? ""}`)].join(" ").slice(0, 500),
    };
    const type = known("MEASUREMENT_TYPE");
    const value = known("MEASUREMENT_VALUE");
    const unit = known("MEASUREMENT_UNITS");
    const status = known("CHARACTERISTIC_STATUS");
    if (type !== undefined) measurement.type = type;
    if (value !== undefined) measurement.value = value;
    if (unit !== undefined) measurement.unit = units[unit.toUpperCase()] ?? unit;
    if (status !== undefined) measurement.status = status;
    return measurement;
  });
}

/**
 * The latest of each offset, with the tool that was in use when it was observed: by the tool number that the same component
 * reported last before it.
 */
export function latestOffsets(
  offsets: readonly OffsetObservation[],
  toolNumbers: readonly (Observed & { tool?: number })[],
): OffsetObservation[] {
  const inOrder = [...toolNumbers].sort((a, b) => a.sequence - b.sequence);
  const latest = new Map<string, OffsetObservation>();
  for (const offset of [...offsets].sort((a, b) => a.sequence - b.sequence)) {
    const before =
      offset.offsetNumber === undefined
        ? inOrder.findLast(
            ({ component, sequence }) => component === offset.component && sequence <= offset.sequence,
          )
        : undefined;
    const found = before?.tool === undefined ? offset : { ...offset, toolNumber: before.tool };
    const key = [found.component, found.subType, found.offsetNumber ?? "", found.toolNumber ?? ""].join("\n");
    latest.set(key, found);
  }
  return [...latest.values()];
}
