/** Sizes of features that a tool cuts and a register may move. */
export const sizeKinds = ["external", "internal", "depth", "height", "length"] as const;
/** Characteristics that are measured as a number, of which no register is steered. */
const numberKinds = ["position", "angle", "form", "roughness", "count"] as const;
/** Characteristics that pass or fail. */
export const attributeKinds = ["go_no_go", "visual"] as const;
export const featureKinds = [...sizeKinds, ...numberKinds, ...attributeKinds] as const;

export type SizeKind = (typeof sizeKinds)[number];
export type AttributeKind = (typeof attributeKinds)[number];
export type FeatureKind = (typeof featureKinds)[number];

/** What is kept of a kind: lengths in mm, angles in arcseconds, what is counted as it is, nothing of an attribute. */
export type Quantity = "length" | "angle" | "count" | "attribute";

export function quantityOf(kind: FeatureKind): Quantity {
  if (kind === "angle" || kind === "count") return kind;
  return isAttribute(kind) ? "attribute" : "length";
}

/** True for a size: it may steer registers. Of every other kind only the verdict counts. */
export function isSize(kind: FeatureKind): kind is SizeKind {
  return (sizeKinds as readonly FeatureKind[]).includes(kind);
}

export function isAttribute(kind: FeatureKind): kind is AttributeKind {
  return (attributeKinds as readonly FeatureKind[]).includes(kind);
}

/** Unit in which sizes of a kind are shown: the part's, degrees, or for a roughness a thousandth or millionth of the part's. */
export type ShownUnit = "mm" | "inch" | "deg" | "µm" | "µin" | "1";

export function shownUnitOf(kind: FeatureKind, partUnit: "mm" | "inch"): ShownUnit {
  if (kind === "angle") return "deg";
  if (kind === "roughness") return partUnit === "mm" ? "µm" : "µin";
  return isSize(kind) || kind === "position" || kind === "form" ? partUnit : "1";
}

/** Symbols and characteristics of ISO 1101:2017, table 3, that come out as a single number. */
export const geometricCharacteristics = [
  "straightness",
  "flatness",
  "roundness",
  "cylindricity",
  "line_profile",
  "surface_profile",
  "parallelism",
  "perpendicularity",
  "angularity",
  "concentricity",
  "coaxiality",
  "symmetry",
  "circular_run_out",
  "total_run_out",
] as const;
export type GeometricName = (typeof geometricCharacteristics)[number];
