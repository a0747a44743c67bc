import {
  addDecimals,
  compareDecimals,
  multiplyDecimals,
  negateDecimal,
} from "../../core/notation/decimal-text.js";
import type { PrintedUnit } from "../../core/notation/read-unit.js";
import type { QifDocument, QifNumber } from "./qif-document.js";

/** What a characteristic measures, so that a unit can be told. */
export type QifQuantity = "length" | "angle" | "other";

/** A characteristic as the document requires it, in its own unit. */
export interface QifCharacteristic {
  /** Of the item, or of the nominal that no item takes up. */
  id: string;
  type: string;
  quantity: QifQuantity;
  name: string | undefined;
  designator: string | undefined;
  /** Undefined: the document does not say. */
  unit: PrintedUnit | undefined;
  nominal?: string;
  lower?: string;
  upper?: string;
  /** A zone: it has no size, and nothing to correct. */
  isZone: boolean;
  condition?: "maximum" | "least";
  without?: string;
  notes: string[];
}

/**
 * Zones of form, orientation, location and run-out (ISO 1101); all but those of profiles are given in full, and what is measured
 * in them is a width from 0 up.
 */
const zones = new Set([
  "Straightness",
  "Flatness",
  "Circularity",
  "Cylindricity",
  "Sphericity",
  "Conicity",
  "OtherForm",
  "Parallelism",
  "Perpendicularity",
  "Angularity",
  "Position",
  "Concentricity",
  "Coaxiality",
  "Symmetry",
  "CircularRunout",
  "TotalRunout",
]);

export function isProfile(type: string): boolean {
  return type.endsWith("Profile") || type === "ProfileOfALine" || type === "ProfileOfASurface";
}

export function quantityOfType(type: string): QifQuantity {
  if (/Ang(le|ular)(?!ity)/.test(type)) return "angle";
  return /^(UserDefinedUnit|UserDefinedAttribute|Attribute|Thread|Weld|CountOf|Surface(Texture)?$)/.test(type)
    ? "other"
    : "length";
}

/** All characteristics of a document: its items, and nominals that no item takes up. */
export function listCharacteristics(document: QifDocument): QifCharacteristic[] {
  const taken = new Set([...document.items.values()].map(({ nominalId }) => nominalId));
  const items = [...document.items.keys()].map((id) => characteristicOf(document, id)!);
  const others = [...document.nominals.keys()]
    .filter((id) => !taken.has(id))
    .map((id) => requirement(document, id, id));
  return [...items, ...others];
}

/** What the item of an id requires; undefined: the document has no such item. */
export function characteristicOf(document: QifDocument, itemId: string): QifCharacteristic | undefined {
  const item = document.items.get(itemId);
  if (!item) return undefined;
  const required = requirement(document, itemId, item.nominalId);
  return {
    ...required,
    type: item.type,
    quantity: quantityOfType(item.type),
    name: item.name ?? required.name,
    designator: item.designator ?? required.designator,
  };
}

function requirement(document: QifDocument, id: string, nominalId: string | undefined): QifCharacteristic {
  const nominal = nominalId === undefined ? undefined : document.nominals.get(nominalId);
  const definition =
    nominal?.definitionId === undefined ? undefined : document.definitions.get(nominal.definitionId);
  const type = definition?.type ?? nominal?.type ?? document.items.get(id)?.type ?? "";
  const quantity = quantityOfType(type);
  const notes: string[] = [];
  if (nominalId !== undefined && !nominal) notes.push(`nominal ${nominalId} is not in the document`);
  if (nominal && !definition) notes.push(`definition ${nominal.definitionId ?? ""} is not in the document`);
  const found: QifCharacteristic = {
    id,
    type,
    quantity,
    name: nominal?.name,
    designator: nominal?.designator,
    unit: quantity === "other" ? undefined : document.units[quantity === "angle" ? "angular" : "linear"],
    isZone: definition?.zone !== undefined || zones.has(type) || isProfile(type),
    notes,
  };
  if (definition?.condition) found.condition = definition.condition;
  if (definition?.without) found.without = definition.without;
  const say = (number: QifNumber | undefined): string | undefined => {
    if (number?.unit === undefined) return number?.decimal;
    const unit = document.units.named.get(number.unit);
    if (unit !== undefined && (found.unit === undefined || unit === found.unit)) found.unit = unit;
    else notes.push(`${number.decimal} bears the unit "${number.unit}", the others ${found.unit ?? "none"}`);
    return number.decimal;
  };
  const target = say(nominal?.target);
  if (target !== undefined) found.nominal = target;
  if (!definition) return found;
  const zone = say(definition.zone);
  if (zone !== undefined) return withZone(found, zone, say(definition.outside));
  const [max, min] = [say(definition.max), say(definition.min)];
  const limit = (decimal: string | undefined, side: "above" | "below"): string | undefined => {
    if (decimal === undefined || definition.areLimits) return decimal;
    if (target === undefined) {
      notes.push(`a deviation of ${decimal} ${side}, but no nominal size`);
      return undefined;
    }
    return addDecimals(target, decimal);
  };
  const [upper, lower] = [limit(max, "above"), limit(min, "below")];
  if (upper !== undefined && lower !== undefined && compareDecimals(lower, upper) > 0) {
    notes.push(`its lower limit ${lower} is above its upper limit ${upper}: neither counts`);
    return found;
  }
  if (upper !== undefined) found.upper = upper;
  if (lower !== undefined) found.lower = lower;
  return found;
}

/** A profile's zone lies half on either side of the nominal, or as much of it outside as is said; others count in full. */
function withZone(found: QifCharacteristic, width: string, outside: string | undefined): QifCharacteristic {
  let zone = width;
  if (width.startsWith("-") && compareDecimals(width, "0") < 0) {
    zone = negateDecimal(width);
    found.notes.push(`its zone is written ${width}, which no zone is: taken as ${zone}`);
  }
  if (!isProfile(found.type)) return { ...found, upper: zone };
  const upper = outside ?? multiplyDecimals(zone, "0.5");
  return { ...found, upper: trimmed(upper), lower: trimmed(addDecimals(upper, negateDecimal(zone))) };
}

export function trimmed(decimal: string): string {
  return decimal.includes(".") ? decimal.replace(/\.?0+$/, "") : decimal;
}
