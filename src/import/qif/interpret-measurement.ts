import { compareDecimals } from "../../core/notation/decimal-text.js";
import type { PrintedUnit } from "../../core/notation/read-unit.js";
import { characteristicOf, type QifCharacteristic, quantityOfType } from "./characteristics.js";
import type { Inspection, QifDocument, QifMeasurement } from "./qif-document.js";

/** Units that a sender names for values of which the document says none. */
export interface DeclaredUnits {
  linear?: PrintedUnit | undefined;
  angular?: PrintedUnit | undefined;
}

/** A measured value with what it was measured of, in the document's unit. */
export interface QifReading {
  line: number;
  /** Undefined: what it was measured of is in a document that is not known. */
  characteristic: QifCharacteristic | undefined;
  /** What people call it. */
  name: string;
  /** The measured feature, where one item was measured on several. */
  place: string | undefined;
  decimal: string | undefined;
  unit: PrintedUnit | undefined;
  serial: string | undefined;
  lot: string | undefined;
  /** All pieces that the set names: more than one serial number leaves open which one was measured. */
  setId: string;
  device: string | undefined;
  operator: string | undefined;
  measuredAt: string | undefined;
  /** The document's own word, and what it means. */
  status: string | undefined;
  result: "pass" | "fail" | undefined;
  /** What the document's limits make of its value; undefined: there are none, or it has no value. */
  within: boolean | undefined;
  notes: string[];
}

/** Why a value can't be taken: in words for a person, who can answer the question where it is one. */
export interface QifQuestion {
  asks: "linear_unit" | "angular_unit";
  reason: string;
}

export type Interpreter = (measurement: QifMeasurement) => QifReading;

/**
 * Makes the function that says what measured values mean.
 * @param other characteristics of another document by the ids of their items, by its persistent id; nothing is opened
 */
export function createQifInterpreter(
  document: QifDocument,
  declared: DeclaredUnits = {},
  other: (qpid: string) => Readonly<Record<string, QifCharacteristic>> | undefined = () => undefined,
): Interpreter {
  const known = new Map<string, QifCharacteristic | undefined>();
  const find = ({ itemId, itemIn }: QifMeasurement): QifCharacteristic | undefined => {
    const key = `${itemIn ?? ""} ${itemId}`;
    if (!known.has(key)) {
      known.set(key, itemIn === undefined ? characteristicOf(document, itemId) : other(itemIn)?.[itemId]);
    }
    return known.get(key);
  };

  return (measurement) => {
    const { line, itemId, itemIn, value, setId } = measurement;
    const characteristic = find(measurement);
    const set = document.sets.get(setId);
    const notes = [...(characteristic?.notes ?? [])];
    const quantity = quantityOfType(characteristic?.type ?? measurement.type);
    const unit = unitOf(document, measurement, characteristic, declared, notes);
    const componentIds =
      measurement.componentIds.length > 0 ? measurement.componentIds : (set?.componentIds ?? []);
    const components = componentIds.flatMap((id) => document.components.get(id) ?? []);
    const serials = [...new Set(components.flatMap(({ serial }) => serial ?? []))];
    if (serials.length > 1)
      notes.push(`its set names the serial numbers ${serials.join(", ")}: none is taken`);
    const item = itemIn === undefined ? document.items.get(itemId) : undefined;
    const [component, another] = components;
    const own = another ? undefined : component;
    // Of the item it is what may be used, of the component what was.
    const deviceIds =
      [measurement.deviceIds, own?.deviceIds ?? []].find((ids) => ids.length > 0) ?? item?.deviceIds ?? [];
    if (deviceIds.length > 1) notes.push("several devices are named, not which of them measured it");
    const device = deviceIds.length === 1 ? document.devices.get(deviceIds[0]!) : undefined;
    const sameUnit = quantity === "other" || unit === undefined || (characteristic?.unit ?? unit) === unit;
    return {
      line,
      characteristic,
      name: characteristic?.name ?? characteristic?.designator ?? `xId ${itemId}`,
      place: placeOf(document, measurement),
      decimal: value?.decimal,
      unit,
      serial: serials.length === 1 ? serials[0] : undefined,
      lot: components.find(({ lot }) => lot !== undefined)?.lot ?? set?.lot ?? document.inspection.lot,
      setId,
      device: device?.name,
      operator: own?.operator ?? set?.operator ?? document.inspection.operator,
      measuredAt: measurement.measuredAt ?? timeOf(own) ?? timeOf(set),
      status: measurement.status,
      result: resultOf(measurement.status),
      within: sameUnit ? withinOf(value?.decimal, characteristic) : undefined,
      notes,
    };
  };
}

/**
 * What to ask about a value before it can be taken. Without units the standard means metres and radians (ISO 23952, the default
 * of FileUnits), and most who leave them out mean millimetres and degrees: a file can't tell which.
 */
export function questionOf(reading: QifReading, type: string): QifQuestion | undefined {
  const { decimal, unit } = reading;
  if (decimal === undefined || unit !== undefined) return undefined;
  const quantity = quantityOfType(type);
  if (quantity === "other") return undefined;
  const [usual, standard] = quantity === "length" ? ["mm", "m"] : ["degrees", "radians"];
  return {
    asks: quantity === "length" ? "linear_unit" : "angular_unit",
    reason: `${decimal} without a unit: the standard then means ${decimal} ${standard}, and many who write no unit mean ${decimal} ${usual}. Say which one it is`,
  };
}

function timeOf(inspection: Inspection | undefined): string | undefined {
  return inspection?.endedAt ?? inspection?.startedAt;
}

function unitOf(
  document: QifDocument,
  { value, type }: QifMeasurement,
  characteristic: QifCharacteristic | undefined,
  declared: DeclaredUnits,
  notes: string[],
): PrintedUnit | undefined {
  if (value?.unit !== undefined) {
    const unit = document.units.named.get(value.unit);
    if (unit === undefined)
      notes.push(`it bears the unit "${value.unit}", which the document does not define`);
    return unit;
  }
  const quantity = quantityOfType(characteristic?.type ?? type);
  if (quantity === "other") return undefined;
  const kind = quantity === "angle" ? "angular" : "linear";
  return document.units[kind] ?? declared[kind];
}

/** Of an item that is, or was measured, on more features than one value is of, their names; else there is nothing to tell apart. */
function placeOf(document: QifDocument, { itemId, itemIn, featureIds }: QifMeasurement): string | undefined {
  if (itemIn !== undefined || featureIds.length === 0) return undefined;
  const measured = document.measuredOn.get(itemId)?.size ?? 0;
  const required = document.items.get(itemId)?.featureIds.length ?? 0;
  if (measured < 2 && required <= featureIds.length) return undefined;
  return nameFeatures(document, featureIds);
}

function nameFeatures(document: QifDocument, featureIds: readonly string[]): string {
  return featureIds.map((id) => document.features.get(id) ?? `feature ${id}`).join(" to ");
}

/** The places of an item that is measured on several features, as its values name them; undefined: on one alone, or never yet. */
export function placesOf(document: QifDocument, itemId: string): string[] | undefined {
  const measured = [...(document.measuredOn.get(itemId) ?? [])];
  const required = document.items.get(itemId)?.featureIds ?? [];
  if (measured.length === 0) return undefined;
  const isEach = measured.every((ids) => !ids.includes(" "));
  const all = isEach ? [...new Set([...required, ...measured])] : measured;
  return all.length < 2 ? undefined : all.map((ids) => nameFeatures(document, ids.split(" ")));
}

function resultOf(status: string | undefined): "pass" | "fail" | undefined {
  if (status === "PASS") return "pass";
  return status === "FAIL" ? "fail" : undefined;
}

function withinOf(
  decimal: string | undefined,
  characteristic: QifCharacteristic | undefined,
): boolean | undefined {
  const { lower, upper } = characteristic ?? {};
  if (decimal === undefined || (lower === undefined && upper === undefined)) return undefined;
  const isLow = lower !== undefined && compareDecimals(decimal, lower) < 0;
  return !isLow && !(upper !== undefined && compareDecimals(decimal, upper) > 0);
}
