import { type FeatureKind, quantityOf } from "../core/feature-kind.js";

/** What a gauge lacks to measure a feature, if anything; of what is counted, or passes or fails, nobody asks. */
export function whyUnsuited(
  { kind, characteristic }: { kind: FeatureKind; characteristic: string },
  gauge: { name: string; unit: "mm" | "inch" | "deg"; showsNumber: boolean },
): string | undefined {
  const quantity = quantityOf(kind);
  if (quantity === "count" || quantity === "attribute") return undefined;
  if (!gauge.showsNumber) {
    return `"${gauge.name}" has no resolution, so it shows no number, and characteristic ${characteristic} is measured: name another gauge`;
  }
  if ((quantity === "angle") === (gauge.unit === "deg")) return undefined;
  return quantity === "angle"
    ? `"${gauge.name}" is entered in ${gauge.unit}, so how sure it is of an angle is not known: name one whose unit is "deg"; what measures lengths and angles is entered once for each`
    : `"${gauge.name}" measures angles, and characteristic ${characteristic} is none: name another gauge`;
}
