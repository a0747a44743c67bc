import { type PrintedUnit, toKeptUnit } from "../../core/notation/read-unit.js";
import type { Fields } from "../fields.js";
import type { Layout } from "../layout.js";
import type { Checkpoint, DeviationZone, Found, RecordReader } from "../source-record.js";
import { isProfile, type QifCharacteristic, quantityOfType } from "./characteristics.js";
import { createQifInterpreter, type QifReading, questionOf } from "./interpret-measurement.js";
import type { QifDocument, QifMeasurement } from "./qif-document.js";

/** Characteristics of another document, by the ids of its items. */
export type QifCharacteristics = Readonly<Record<string, QifCharacteristic>>;

/** A measured value by itself: all that has to be kept to read it again when the layout, or what it refers to, is there. */
export interface KeptMeasurement {
  reading: QifReading;
  type: string;
  part: { number?: string | undefined; revision?: string | undefined };
  /** Which piece of the document it is of, from 0. */
  nthPiece: number;
  /** Which one of those that say the very same of the same piece, from 1. */
  occurrence: number;
  /** The item and the document that it is in, as long as that one has not come. */
  waits_for?: { qpid: string; item: string };
}

/**
 * Makes the function that turns measured values, in the order of the document, into records.
 * @param others characteristics of documents that this one refers to, by their persistent ids
 */
export function createQifRecords(
  document: QifDocument,
  layout: Layout,
  others: ReadonlyMap<string, QifCharacteristics> = new Map(),
): (measurement: QifMeasurement) => Found {
  const interpret = createQifInterpreter(document, {}, (qpid) => others.get(qpid));
  const [only, more] = document.parts;
  const part = only && !more ? { number: only.number, revision: only.version } : {};
  const pieces = new Map<string, number>();
  let said = new Map<string, number>();
  let setId: string | undefined;

  return (measurement) => {
    const reading = interpret(measurement);
    if (measurement.setId !== setId) {
      setId = measurement.setId;
      said = new Map();
    }
    const [component, another] = measurement.componentIds;
    const piece =
      component !== undefined && another === undefined ? `component ${component}` : `set ${setId}`;
    if (!pieces.has(piece)) pieces.set(piece, pieces.size);
    const { itemId, itemIn, featureIds } = measurement;
    const same = JSON.stringify([piece, itemIn, itemId, featureIds, reading.decimal, reading.measuredAt]);
    const occurrence = (said.get(same) ?? 0) + 1;
    said.set(same, occurrence);
    return toFound(
      {
        reading,
        type: reading.characteristic?.type ?? measurement.type,
        part,
        nthPiece: pieces.get(piece)!,
        occurrence,
        ...(itemIn !== undefined &&
          reading.characteristic === undefined && { waits_for: { qpid: itemIn, item: itemId } }),
      },
      layout,
    );
  };
}

/** A reader of one measured value that was refused before: as it was kept, by the layout as it is now. */
export function readKeptMeasurement(from: Checkpoint | undefined, layout: Layout): RecordReader {
  const { parser } = (from?.state ?? {}) as { parser?: KeptMeasurement };
  return {
    read: () => [],
    pause: () => [],
    end: () => (parser ? [toFound(parser, layout)] : []),
    checkpoint: () => ({ offset: 0 }),
  };
}

/** A value that waited, with what has come since of the document that it waited for. */
export function joinMeasurement(
  kept: KeptMeasurement,
  others: ReadonlyMap<string, QifCharacteristics>,
): KeptMeasurement {
  const { waits_for, ...rest } = kept;
  const characteristic = waits_for && others.get(waits_for.qpid)?.[waits_for.item];
  if (!characteristic) return kept;
  const { reading } = kept;
  return {
    ...rest,
    type: characteristic.type,
    reading: {
      ...reading,
      characteristic,
      name: characteristic.name ?? characteristic.designator ?? reading.name,
      notes: [...reading.notes, ...characteristic.notes],
    },
  };
}

function toFound(kept: KeptMeasurement, layout: Layout): Found {
  const { reading, type, waits_for } = kept;
  const { line, characteristic } = reading;
  const name = nameOf(reading, layout);
  const unit = unitOf(reading, type, layout);
  const text = `${name}${reading.place === undefined ? "" : ` at ${reading.place}`}: ${reading.decimal ?? "no value"}${unit ? ` ${unit}` : ""}${reading.status ? ` ${reading.status}` : ""}`;
  const place = { line, lastLine: line, text, parser: kept };
  const fields: Fields = { ...fieldsOf(kept, name, unit, layout) };
  if (reading.decimal === undefined)
    return {
      kind: "unmeasured",
      ...place,
      fields,
      reason: `it has no value${reading.status ? `, but the status ${reading.status}` : ""}`,
    };
  if (waits_for) {
    const reason = `what it was measured of stands in another document (${waits_for.qpid}, item ${waits_for.item}): import that one, and it is read by itself`;
    return { kind: "unreadable", ...place, reason };
  }
  if (!characteristic)
    return { kind: "unreadable", ...place, reason: "the document does not say what it was measured of" };
  const question = unit === undefined ? questionOf({ ...reading, unit }, type) : undefined;
  if (question) {
    const [where, here] =
      question.asks === "linear_unit"
        ? ["unit", "unit=mm or unit=m"]
        : ["qif.angle_unit", "angle_unit=deg or angle_unit=rad"];
    const reason = `${question.reason}: by ${here} when it is sent or read again (POST …/retry), or for every document in the layout (${where})`;
    return { kind: "unreadable", ...place, reason };
  }
  if (unit === undefined)
    return {
      kind: "unreadable",
      ...place,
      reason: `a value of kind "${type}" without a unit is not read here`,
    };
  // A value may bear another unit than what is required of it.
  const limitUnit = characteristic.unit ?? unit;
  return {
    kind: "record",
    ...place,
    fields,
    nthPiece: kept.nthPiece,
    unitOf: { nominal: limitUnit, lower_limit: limitUnit, upper_limit: limitUnit },
    ...(isProfile(characteristic.type) && { zone: zoneOf(characteristic, limitUnit) }),
    ...(reading.notes.length > 0 && { notes: reading.notes }),
  };
}

function zoneOf({ lower, upper }: QifCharacteristic, unit: PrintedUnit): DeviationZone {
  const kept = (decimal: string | undefined) => decimal && toKeptUnit(decimal, unit).decimal;
  return { lower: kept(lower), upper: kept(upper), unit: toKeptUnit("0", unit).unit };
}

function fieldsOf(
  kept: KeptMeasurement,
  name: string,
  unit: PrintedUnit | undefined,
  layout: Layout,
): Fields {
  const { reading, part, occurrence } = kept;
  const { characteristic, place, serial, lot, device, operator, measuredAt, status, result } = reading;
  const atPlace = place === undefined ? undefined : `${name} @ ${place}`;
  const isTranslated = atPlace !== undefined && Object.hasOwn(layout.translate.characteristic ?? {}, atPlace);
  const said: { [name in keyof Fields]: string | undefined } = {
    characteristic: isTranslated ? atPlace : name,
    place: isTranslated ? undefined : place,
    part_number: part.number,
    revision: part.number === undefined ? undefined : part.revision,
    value: reading.decimal,
    unit,
    nominal: characteristic?.nominal,
    lower_limit: characteristic?.lower,
    upper_limit: characteristic?.upper,
    serial,
    gauge: device,
    taken_by: operator,
    measured_at: measuredAt,
    result: result ?? status,
    note: lot === undefined ? undefined : `lot ${lot}`,
    record: occurrence > 1 ? `reading ${occurrence} of the same` : undefined,
  };
  return Object.fromEntries(Object.entries(said).filter(([, text]) => text !== undefined)) as Fields;
}

function nameOf({ characteristic, name }: QifReading, layout: Layout): string {
  const { designator, name: ownName } = characteristic ?? {};
  return (layout.qif?.names === "name" ? (ownName ?? designator) : (designator ?? ownName)) ?? name;
}

function unitOf(reading: QifReading, type: string, layout: Layout): PrintedUnit | undefined {
  if (reading.unit !== undefined) return reading.unit;
  const quantity = quantityOfType(type);
  if (quantity === "angle") return layout.qif?.angle_unit ?? undefined;
  return quantity === "length" ? (layout.unit ?? undefined) : undefined;
}
