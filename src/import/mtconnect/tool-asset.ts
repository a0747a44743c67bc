import { compareDecimals } from "../../core/notation/decimal-text.js";
import { readNumber } from "../../core/notation/read-number.js";
import { attributeOf, childOf, childrenOf, type Element, textOf } from "./element-tree.js";

/** A measurement of a cutting tool or of one of its edges; decimals. */
export interface ToolMeasurement {
  /** CuttingDiameterMax, FunctionalLength ... */
  name: string;
  /** Of ISO 13399, such as DC or LF. */
  code?: string;
  /** As measured; absent: UNAVAILABLE, or nothing was said. */
  value?: string;
  nominal?: string;
  minimum?: string;
  maximum?: string;
  /** mm or degree where the document says so; absent: it does not, and the standard means mm and degrees. */
  unit?: "mm" | "inch" | "deg";
  /** Whether the value is inside minimum and maximum, a value on one of them being so; absent: nothing to tell it by. */
  within?: boolean;
}

export interface ToolLife {
  type: "MINUTES" | "PART_COUNT" | "WEAR";
  counts: "up" | "down";
  /** Absent: UNAVAILABLE. */
  value?: string;
  /** What a fresh tool has. */
  initial?: string;
  /** What it may come to: counting up the most, counting down the least. */
  limit?: string;
  /** From here on it is to be changed soon. */
  warning?: string;
}

/** One or several cutting edges or inserts of a tool. */
export interface CuttingItem {
  /** "1", "1-4". */
  indices: string;
  /** How many edges that is. */
  count: number;
  itemId?: string;
  grade?: string;
  /** Where on the tool. */
  locus?: string;
  statuses: string[];
  lives: ToolLife[];
  measurements: ToolMeasurement[];
}

/** A cutting tool as a machine publishes it (ANSI/MTC1.4, assets: cutting tools). */
export interface ToolAsset {
  assetId: string;
  toolId?: string;
  serial?: string;
  /** The number by which a program calls it. */
  programNumber?: number;
  /** An archetype says what such tools are like and is none itself. */
  isArchetype: boolean;
  /** It is no longer there. */
  removed: boolean;
  /** As the document has it. */
  timestamp?: string;
  description?: string;
  /** NEW, USED, BROKEN ... */
  statuses: string[];
  location?: { type?: string; value: string };
  lives: ToolLife[];
  measurements: ToolMeasurement[];
  /** How many edges the tool is said to have. */
  itemCount?: number;
  items: CuttingItem[];
  /** What can't be read of it. */
  notes: string[];
  line: number;
}

const unavailable = /^unavailable$/i;
const units: Record<string, ToolMeasurement["unit"]> = {
  MILLIMETER: "mm",
  INCH: "inch",
  DEGREE: "deg",
};
const angles = new Set("SIG KAPR PSIR LAMS GAMF GAMO RAR LAR CDX ANGLE".split(" "));

/** A CuttingTool or CuttingToolArchetype element in our words. */
export function toToolAsset(element: Element): ToolAsset {
  const notes: string[] = [];
  const cycle = childOf(element, "CuttingToolLifeCycle");
  const serial = attributeOf(element, "serialNumber");
  const toolId = attributeOf(element, "toolId");
  const assetId = attributeOf(element, "assetId") ?? (toolId && serial ? `${toolId}.${serial}` : undefined);
  const number = textOf(childOf(cycle, "ProgramToolNumber"));
  const items = childOf(cycle, "CuttingItems");
  const location = childOf(cycle, "Location");
  const place = textOf(location);
  const asset: ToolAsset = {
    assetId: assetId ?? "",
    isArchetype: element.name === "CuttingToolArchetype",
    removed: element.attributes.removed === "true",
    statuses: statusesOf(cycle),
    lives: livesOf(cycle, notes),
    measurements: measurementsOf(cycle, notes),
    items: childrenOf(items, "CuttingItem").map((item) => toItem(item, notes)),
    notes,
    line: element.line,
  };
  const timestamp = attributeOf(element, "timestamp");
  const description = textOf(childOf(element, "Description"));
  if (toolId !== undefined) asset.toolId = toolId;
  if (serial !== undefined) asset.serial = serial;
  if (timestamp !== undefined) asset.timestamp = timestamp;
  if (description !== undefined) asset.description = description;
  if (number !== undefined && !unavailable.test(number)) {
    if (/^\d{1,8}$/.test(number)) asset.programNumber = Number(number);
    else notes.push(`its program tool number "${number}" is no number`);
  }
  if (place !== undefined && !unavailable.test(place)) {
    const type = attributeOf(location, "type");
    asset.location = { ...(type !== undefined && { type }), value: place };
  }
  const count = attributeOf(items, "count");
  if (count !== undefined && /^\d{1,5}$/.test(count)) asset.itemCount = Number(count);
  const named = asset.items.reduce((sum, item) => sum + item.count, 0);
  if (asset.itemCount !== undefined && named > asset.itemCount) {
    notes.push(`it says ${asset.itemCount} edges and names ${named}`);
  }
  return asset;
}

function statusesOf(cycle: Element | undefined): string[] {
  return childrenOf(childOf(cycle, "CutterStatus"), "Status").flatMap(
    (status) => textOf(status)?.toUpperCase() ?? [],
  );
}

function livesOf(cycle: Element | undefined, notes: string[]): ToolLife[] {
  return [...childrenOf(cycle, "ToolLife"), ...childrenOf(cycle, "ItemLife")].flatMap(
    (element): ToolLife[] => {
      const type = attributeOf(element, "type");
      if (type !== "MINUTES" && type !== "PART_COUNT" && type !== "WEAR") {
        notes.push(`a life of type "${type ?? ""}" is not known`);
        return [];
      }
      const counts = element.attributes.countDirection === "DOWN" ? "down" : "up";
      const attribute = (name: string) => decimalOf(element.attributes[name], `${name} of its life`, notes);
      const value = decimalOf(element.text, "its life", notes);
      // Versions before 1.3 have "maximum" for what the limit came to be. A limit or beginning of 0 says that there is none.
      const initial =
        none(attribute("initial")) ?? (counts === "down" ? none(attribute("maximum")) : undefined);
      const limit =
        counts === "down" ? attribute("limit") : (none(attribute("limit")) ?? none(attribute("maximum")));
      const warning = none(attribute("warning"));
      return [
        {
          type,
          counts,
          ...(value !== undefined && { value }),
          ...(initial !== undefined && { initial }),
          ...(limit !== undefined && { limit }),
          ...(warning !== undefined && { warning }),
        },
      ];
    },
  );
}

function measurementsOf(owner: Element | undefined, notes: string[]): ToolMeasurement[] {
  return (childOf(owner, "Measurements")?.children ?? []).map((element) => {
    const { name } = element;
    const measurement: ToolMeasurement = { name };
    const code = attributeOf(element, "code");
    if (code !== undefined) measurement.code = code;
    const value = decimalOf(element.text, name, notes);
    const attribute = (of: string) => decimalOf(element.attributes[of], `${of} of ${name}`, notes);
    const nominal = attribute("nominal");
    // Adapters write 0 for what they don't know: a size of 0 with a nominal of 0 was never measured.
    const isUnknown = isZero(value) && (nominal === undefined || isZero(nominal)) && !/angle/i.test(name);
    if (value !== undefined && !isUnknown) measurement.value = value;
    if (nominal !== undefined && !isUnknown) measurement.nominal = nominal;
    const [minimum, maximum] = [none(attribute("minimum")), none(attribute("maximum"))];
    if (minimum !== undefined) measurement.minimum = minimum;
    if (maximum !== undefined) measurement.maximum = maximum;
    const said = attributeOf(element, "units") ?? attributeOf(element, "nativeUnits");
    const unit = said === undefined ? undefined : units[said];
    if (unit !== undefined) measurement.unit = unit;
    else if (said !== undefined) notes.push(`the unit "${said}" of ${name} is not known`);
    if (unit === undefined && code !== undefined && angles.has(code.replace(/\d+$/, "")))
      measurement.unit = "deg";
    if (measurement.value !== undefined && (minimum !== undefined || maximum !== undefined)) {
      measurement.within =
        (minimum === undefined || compareDecimals(measurement.value, minimum) >= 0) &&
        (maximum === undefined || compareDecimals(measurement.value, maximum) <= 0);
    }
    return measurement;
  });
}

function toItem(element: Element, notes: string[]): CuttingItem {
  const indices = attributeOf(element, "indices") ?? "";
  const item: CuttingItem = {
    indices,
    count: countOf(indices),
    statuses: statusesOf(element),
    lives: livesOf(element, notes),
    measurements: measurementsOf(element, notes),
  };
  const [itemId, grade, locus] = [
    attributeOf(element, "itemId"),
    attributeOf(element, "grade"),
    textOf(childOf(element, "Locus")),
  ];
  if (itemId !== undefined) item.itemId = itemId;
  if (grade !== undefined) item.grade = grade;
  if (locus !== undefined) item.locus = locus;
  return item;
}

/** How many edges indices name: "1-4,7" is 5. */
function countOf(indices: string): number {
  let count = 0;
  for (const part of indices.split(",")) {
    const [, first, last = first] = /^\s*(\d{1,5})\s*(?:-\s*(\d{1,5}))?\s*$/.exec(part) ?? [];
    if (first !== undefined && Number(last) >= Number(first)) count += Number(last) - Number(first) + 1;
  }
  return count;
}

function decimalOf(text: string | undefined, what: string, notes: string[]): string | undefined {
  const bare = text?.trim() ?? "";
  if (bare === "" || unavailable.test(bare)) return undefined;
  const read = readNumber(bare, { decimalSign: "." });
  if (!("fault" in read)) return read.decimal;
  notes.push(`${what} "${bare.slice(0, 40)}" ${read.fault}`);
  return undefined;
}

function isZero(decimal: string | undefined): boolean {
  return decimal !== undefined && !/[1-9]/.test(decimal);
}

function none(decimal: string | undefined): string | undefined {
  return isZero(decimal) ? undefined : decimal;
}
