import type { Selectable } from "kysely";
import { type FeatureKind, type ShownUnit, shownUnitOf } from "../core/feature-kind.js";
import { formatMeasure, fromNumeric, type MeasureUnit, toUnit } from "../core/quantity.js";
import type { Database } from "../db/schema.js";
import { optionalPm } from "./stored-size.js";

/** The number alone: its unit stands beside it. */
export function textOf(steps: number | undefined, unit: MeasureUnit, plus = false): string | null {
  if (steps === undefined) return null;
  const text = formatMeasure(steps, unit, plus);
  return unit === "mm" || unit === "inch" || unit === "µm" || unit === "µin" || unit === "nm"
    ? text.slice(0, text.lastIndexOf(" "))
    : text;
}

/** What the drawing says of a feature, whole steps of its quantity. */
export interface Drawn {
  kind: FeatureKind;
  unit: ShownUnit;
  nominalPm: number;
  lowerPm: number | undefined;
  upperPm: number | undefined;
  gauged: string | null;
  geometric: string | null;
  roughness: string | null;
  condition: "maximum" | "least" | null;
  /** As it stands there, with its places. */
  nominal: string;
  limitsFrom: Row["limits_from"];
  fit: string | null;
  generalTolerance: string | null;
}

type Row = Selectable<Database["feature"]>;

/** The drawing's own limits, those of the last operation. */
export function drawnOf(row: Omit<Row, "part_id" | "position">, partUnit: "mm" | "inch"): Drawn {
  return {
    kind: row.kind,
    unit: shownUnitOf(row.kind, partUnit),
    nominalPm: fromNumeric(row.nominal_mm),
    lowerPm: optionalPm(row.lower_limit_mm),
    upperPm: optionalPm(row.upper_limit_mm),
    gauged: row.gauged,
    geometric: row.geometric_characteristic,
    roughness: row.roughness_parameter,
    condition: row.material_condition,
    nominal: row.nominal,
    limitsFrom: row.limits_from,
    fit: row.fit,
    generalTolerance: row.general_tolerance,
  };
}

/** What the drawing asks for, in words. */
export function sayRequirement(drawn: Drawn): string {
  const { kind, condition, fit, nominal } = drawn;
  const limits = sayLimits(drawn);
  switch (kind) {
    case "go_no_go":
      return `${(drawn.gauged ?? "size").replaceAll("_", " ")}: GO passes, NO-GO does not`;
    case "visual":
      return "by eye: passes";
    case "position":
      return `position, ${limits}${condition === null ? "" : ` at ${condition} material condition`}`;
    case "form":
      return `${(drawn.geometric ?? "form").replaceAll("_", " ")}, ${limits}`;
    case "roughness":
      return `${drawn.roughness ?? "roughness"}, ${limits}`;
    case "count":
      return `number, ${limits}`;
    default:
      if (drawn.limitsFrom === "limits") return limits;
      if (fit !== null) return `${nominal} ${fit} (${limits})`;
      return `${nominal}${degreeOf(drawn)} ${sayDeviations(drawn)}${drawn.generalTolerance === null ? "" : ` (general tolerance ${drawn.generalTolerance})`}`;
  }
}

/** An angle that the drawing gives in degrees, minutes and seconds has its signs in it. */
function degreeOf({ unit, nominal }: Pick<Drawn, "unit" | "nominal">): string {
  return unit === "deg" && /^[-+.\d]+$/.test(nominal) ? "°" : "";
}

function sayDeviations({ lowerPm, upperPm, nominalPm, unit }: Drawn): string {
  const degree = unit === "deg" ? "°" : "";
  if (lowerPm !== undefined && upperPm !== undefined && upperPm - nominalPm === nominalPm - lowerPm) {
    return `± ${toUnit(upperPm - nominalPm, unit)}${degree}`;
  }
  const deviations = [upperPm, lowerPm].flatMap((pm) =>
    pm === undefined ? [] : [`${pm > nominalPm ? "+" : ""}${toUnit(pm - nominalPm, unit)}${degree}`],
  );
  return deviations.join(" / ");
}

/** "5.950 to 6.050 mm", "at most 0.2 mm" */
export function sayLimits({ lowerPm, upperPm, unit }: Pick<Drawn, "lowerPm" | "upperPm" | "unit">): string {
  if (lowerPm === undefined) return `at most ${formatMeasure(upperPm!, unit)}`;
  if (upperPm === undefined) return `at least ${formatMeasure(lowerPm, unit)}`;
  if (lowerPm === upperPm) return formatMeasure(lowerPm, unit);
  return `${textOf(lowerPm, unit)} to ${formatMeasure(upperPm, unit)}`;
}
