import { type FeatureKind, type GeometricName, quantityOf } from "../../core/feature-kind.js";
import {
  addDecimals,
  compareDecimals,
  multiplyDecimals,
  negateDecimal,
} from "../../core/notation/decimal-text.js";
import { type PrintedUnit, toKeptUnit } from "../../core/notation/read-unit.js";
import { type LengthUnit, parseLength, toUnit } from "../../core/quantity.js";
import { isProfile, listCharacteristics, type QifCharacteristic, trimmed } from "./characteristics.js";
import { placesOf } from "./interpret-measurement.js";
import type { QifDocument } from "./qif-document.js";

type PartUnit = "mm" | "inch";

/** A characteristic of a document as a feature of a part. */
export interface ProposedFeature {
  item: string;
  /** As the document calls it: "Diameter". */
  type: string;
  characteristic: string;
  name: string | null;
  /** Null: the document leaves open which of `kinds` it is. */
  kind: FeatureKind | null;
  kinds: FeatureKind[];
  geometric_characteristic: GeometricName | null;
  /** Names of the features that it was measured on; absent: on one alone. */
  places?: string[];
  /** In the part's unit, an angle in degrees. */
  nominal: string | null;
  lower_limit: string | null;
  upper_limit: string | null;
  /** What a person has to say before it can be a feature. */
  missing: ("kind" | "limits")[];
  notes: string[];
}

export interface ProposedPart {
  number: string | null;
  revision: string | null;
  name: string | null;
  /** Persistent id of the part; null: the document gives none. */
  qpid: string | null;
  unit: PartUnit;
  features: ProposedFeature[];
  /** What can't be a feature, and why. */
  left_out: { item: string; type: string; name: string; reason: string }[];
}

/** Why no part can be proposed: in words for a person, who answers by the unit asked for. */
export interface PartQuestion {
  asks: "unit" | "angle_unit";
  reason: string;
}

/** Sizes whose element says what they are; one of several where a drawing shows what the element does not (ISO 23952:2020). */
const sizeKinds: [RegExp, FeatureKind[]][] = [
  [/^(Diameter|Radius|Width)$/, ["external", "internal"]],
  [/^(Thickness|SphericalDiameter|SphericalRadius)$/, ["external"]],
  [/^Depth$/, ["depth"]],
  [/^Height$/, ["height"]],
  [/^(Length|Distance(Between|From|With)?\w*|LinearCoordinate|Chord|UserDefinedLinear)$/, ["length"]],
  [/^(Angle(Between|From)?|AngularCoordinate|ConicalAngle|UserDefinedAngle|UserDefinedAngular)$/, ["angle"]],
];

/** Zones by the names of ISO 1101:2017, table 3. */
const zones: Record<string, GeometricName> = {
  Straightness: "straightness",
  Flatness: "flatness",
  Circularity: "roundness",
  Cylindricity: "cylindricity",
  LineProfile: "line_profile",
  PointProfile: "line_profile",
  SurfaceProfile: "surface_profile",
  Parallelism: "parallelism",
  Perpendicularity: "perpendicularity",
  Angularity: "angularity",
  Concentricity: "concentricity",
  Coaxiality: "coaxiality",
  Symmetry: "symmetry",
  CircularRunout: "circular_run_out",
  TotalRunout: "total_run_out",
};

/**
 * The part that a document's characteristics make. Nothing is guessed: what the document leaves open is asked of a person.
 * @param declared units that a sender names, for values of which the document says none
 */
export function proposePart(
  document: QifDocument,
  declared: { unit?: PrintedUnit | undefined; angle_unit?: PrintedUnit | undefined } = {},
): ProposedPart | PartQuestion {
  const linear = document.units.linear ?? declared.unit;
  const angular = document.units.angular ?? declared.angle_unit;
  const all = listCharacteristics(document);
  const sample = all.find((each) => each.quantity === "length" && (each.nominal ?? each.upper) !== undefined);
  if (linear === undefined && sample) {
    const size = sample.nominal ?? sample.upper;
    return {
      asks: "unit",
      reason: `The document says no unit of length: ${nameOf(sample)} is ${size}, which by the standard means ${size} m, and with many who write no unit ${size} mm. Say which one it is`,
    };
  }
  const cone = all.find((each) => each.quantity === "angle" && (each.nominal ?? each.upper) !== undefined);
  if (angular === undefined && cone) {
    const angle = cone.nominal ?? cone.upper;
    return {
      asks: "angle_unit",
      reason: `The document says no unit of angles: ${nameOf(cone)} is ${angle}, which by the standard means ${angle} radians, and with many who write no unit ${angle} degrees. Say which one it is`,
    };
  }
  const unit: PartUnit = linear === "inch" || linear === "mil" || linear === "µin" ? "inch" : "mm";
  const [only, another] = document.parts;
  const part = only && !another ? only : undefined;
  const proposed: ProposedPart = {
    number: part?.number ?? null,
    revision: part?.version ?? null,
    name: part?.name ?? null,
    qpid: part?.qpid ?? null,
    unit,
    features: [],
    left_out: [],
  };
  const taken = new Set<string>();
  for (const each of all) {
    const found = proposeFeature(each, unit, { linear, angular });
    const reason = typeof found === "string" ? found : doubled(found.characteristic, taken);
    const places = placesOf(document, each.id);
    if (places !== undefined && typeof found !== "string") found.places = places;
    if (reason !== undefined)
      proposed.left_out.push({ item: each.id, type: each.type, name: nameOf(each), reason });
    else proposed.features.push(found as ProposedFeature);
  }
  return proposed;
}

function doubled(characteristic: string, taken: Set<string>): string | undefined {
  if (taken.has(characteristic)) return `another one is called ${characteristic}, too`;
  taken.add(characteristic);
  return undefined;
}

function proposeFeature(
  each: QifCharacteristic,
  unit: PartUnit,
  units: { linear: PrintedUnit | undefined; angular: PrintedUnit | undefined },
): ProposedFeature | string {
  const { type, isZone, nominal, lower, upper } = each;
  const characteristic = each.designator ?? each.name;
  if (characteristic === undefined) return "it has neither a designator nor a name";
  if (characteristic.length > 100) return "its name is longer than 100 characters";
  const kinds: FeatureKind[] | undefined =
    type === "Position"
      ? ["position"]
      : zones[type] !== undefined
        ? ["form"]
        : sizeKinds.find(([pattern]) => pattern.test(type))?.[1];
  if (!kinds) return `a characteristic of type ${type} has no kind here`;
  if (each.without !== undefined) return `it has no tolerance: ${each.without}`;
  const isAngle = quantityOf(kinds[0]!) === "angle";
  const from = each.unit ?? (isAngle ? units.angular : units.linear);
  if (from === undefined) return "it bears no unit";
  const convert = (decimal: string | undefined) =>
    decimal === undefined ? null : inUnit(decimal, from, isAngle ? "deg" : unit);
  const width =
    isProfile(type) && lower !== undefined && upper !== undefined
      ? trimmed(addDecimals(upper, negateDecimal(lower)))
      : undefined;
  const sizes = {
    nominal: convert(nominal),
    lower_limit: convert(lower),
    upper_limit: convert(width === undefined ? upper : trimmed(multiplyDecimals(width, "0.5"))),
  };
  if (Object.values(sizes).some((size) => size === undefined))
    return `its sizes in ${from} can't be written exactly in ${isAngle ? "degrees" : unit}`;
  const notes = [...each.notes];
  if (each.condition)
    notes.push(
      `it is given at ${each.condition} material: say which size widens it (size_of, material_condition)`,
    );
  if (width !== undefined)
    notes.push(
      compareDecimals(upper!, negateDecimal(lower!)) === 0
        ? `a profile: its zone of ${width} lies on either side of the nominal, so a deviation may be half of it`
        : `a profile: its zone of ${width} lies unequally, from ${lower} to ${upper}, so half of it may be between a deviation and the middle of the zone`,
    );
  const hasNominal = !isZone && kinds[0] !== "position" && kinds[0] !== "form";
  // A form has no lower limit: what deviates the other way is as large.
  if (kinds[0] === "form") sizes.lower_limit = null;
  const missing: ProposedFeature["missing"] = [];
  if (kinds.length > 1) missing.push("kind");
  const isOneSided = (sizes.lower_limit === null) !== (sizes.upper_limit === null);
  if (sizes.lower_limit === null && sizes.upper_limit === null) missing.push("limits");
  else if (hasNominal && isOneSided) notes.push("one limit alone: its target is the nominal size");
  if (hasNominal && sizes.nominal === null)
    sizes.nominal = middle(sizes.lower_limit ?? null, sizes.upper_limit ?? null);
  if (hasNominal && sizes.nominal === null) return "it has no nominal size and no two limits";
  return {
    item: each.id,
    type,
    characteristic,
    name: each.name === characteristic ? null : (each.name ?? null),
    kind: kinds.length === 1 ? kinds[0]! : null,
    kinds,
    geometric_characteristic: zones[type] ?? null,
    nominal: hasNominal ? (sizes.nominal as string) : null,
    lower_limit: sizes.lower_limit as string | null,
    upper_limit: sizes.upper_limit as string | null,
    missing,
    notes,
  };
}

/** A length or an angle in another unit, exactly or not at all. */
export function inUnit(decimal: string, from: PrintedUnit, to: PartUnit | "deg"): string | undefined {
  const kept = toKeptUnit(decimal, from);
  if (kept.unit === to) return kept.decimal;
  if (
    to === "deg" ||
    kept.unit === "deg" ||
    kept.unit === "rad" ||
    kept.unit === "arcmin" ||
    kept.unit === "arcsec"
  )
    return undefined;
  const pm = parseLength(kept.decimal, kept.unit as LengthUnit);
  if (pm === undefined) return undefined;
  const back = String(toUnit(pm, to));
  return /e/.test(back) || parseLength(back, to) !== pm ? undefined : back;
}

/** The size in the middle of two limits of one unit; null: there are no two, or none of whole picometres. */
export function middle(lower: string | null, upper: string | null): string | null {
  if (lower === null || upper === null || compareDecimals(lower, upper) > 0) return null;
  const [low, high] = [parseLength(lower, "mm"), parseLength(upper, "mm")];
  return low === undefined || high === undefined || (low + high) % 2 !== 0
    ? null
    : String(toUnit((low + high) / 2, "mm"));
}

function nameOf({ id, name, designator }: QifCharacteristic): string {
  return name ?? designator ?? `item ${id}`;
}
