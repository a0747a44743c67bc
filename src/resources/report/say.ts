import { formatMeasure, type MeasureUnit, toUnit } from "../../core/quantity.js";
import type { BatchView, FeatureView } from "../../decision/batch-view.js";
import type { listRequirements } from "./queries.js";

/** What a report says in words. */

export const cautions = [
  "Values stand as they were measured and are not rounded. A size on a limit conforms.",
  "This is a record of measurements. Safety-critical parts are released by qualified inspection, not by this document alone.",
];

/** The number alone: its unit stands beside it. */
export function textOf(steps: number | undefined, unit: MeasureUnit, plus = false): string | null {
  if (steps === undefined) return null;
  const text = formatMeasure(steps, unit, plus);
  return unit === "mm" || unit === "inch" || unit === "µm" || unit === "µin" || unit === "nm"
    ? text.slice(0, text.lastIndexOf(" "))
    : text;
}

export function sayDecisionRule(rule: FeatureView["rule"], factor: number): string {
  const band = factor === 1 ? "the expanded uncertainty" : `${factor} × the expanded uncertainty`;
  switch (rule) {
    case "simple":
      return "Simple acceptance: a size inside or on its limits conforms, whatever the uncertainty of the gauge (ISO 14253-1 wants that agreed; JCGM 106).";
    case "guarded_acceptance":
      return `Guarded acceptance: a size conforms only where it is inside its limits by at least ${band} (JCGM 106).`;
    case "guarded_rejection":
      return `Guarded rejection: a size is nonconforming only where it is outside its limits by more than ${band} (JCGM 106).`;
    case "iso_14253":
      return `ISO 14253-1: a size conforms where it is inside its limits by at least ${band}, is nonconforming where it is outside by more than that, and is uncertain in between.`;
  }
}

type Requirement = Awaited<ReturnType<typeof listRequirements>>[number];

/** What the drawing asks for, with the limits that count in the batch's operation. */
export function sayRequirement(feature: FeatureView, drawing: Requirement): string {
  const { unit, nominalPm, lowerPm, upperPm, kind, condition } = feature;
  const size = (pm: number) => formatMeasure(pm, unit);
  const limits = sayLimits(feature);
  switch (kind) {
    case "go_no_go":
      return `${(feature.gauged ?? "size").replaceAll("_", " ")}: GO passes, NO-GO does not`;
    case "visual":
      return "by eye: passes";
    case "position": {
      const at = condition ? ` at ${condition.condition} material condition` : "";
      return `position, at most ${size(upperPm!)}${at}`;
    }
    case "form":
      return `${(feature.geometric ?? "form").replaceAll("_", " ")}, ${limits}`;
    case "roughness":
      return `${drawing.roughness_parameter ?? "roughness"}, ${limits}`;
    case "count":
      return `number, ${limits}`;
    default: {
      if (feature.early !== null)
        return `${limits} (${feature.early.reason ?? `operation ${feature.early.operation}`})`;
      const nominal = drawing.nominal;
      if (drawing.limits_from === "limits") return limits;
      if (drawing.fit !== null) return `${nominal} ${drawing.fit} (${limits})`;
      const [low, high] = [lowerPm, upperPm].map((pm) =>
        pm === undefined ? undefined : `${pm > nominalPm ? "+" : ""}${toUnit(pm - nominalPm, unit)}`,
      );
      const deviations =
        lowerPm !== undefined && upperPm !== undefined && upperPm - nominalPm === nominalPm - lowerPm
          ? `± ${toUnit(upperPm - nominalPm, unit)}`
          : [high, low].filter((text) => text !== undefined).join(" / ");
      const by =
        drawing.general_tolerance === null ? "" : ` (general tolerance ${drawing.general_tolerance})`;
      return `${nominal} ${deviations}${by}`;
    }
  }
}

function sayLimits({ lowerPm, upperPm, unit }: FeatureView): string {
  if (lowerPm === undefined) return `at most ${formatMeasure(upperPm!, unit)}`;
  if (upperPm === undefined) return `at least ${formatMeasure(lowerPm, unit)}`;
  if (lowerPm === upperPm) return formatMeasure(lowerPm, unit);
  return `${textOf(lowerPm, unit)} to ${formatMeasure(upperPm, unit)}`;
}

/** The rules by which it was decided what is measured on which piece: the proof for what was not measured. */
export function sayPlan({ features, part, quantity }: BatchView, smallLot: number): string[] {
  const of = (importance: string) =>
    [...new Set(features.filter((f) => f.importance === importance).map((f) => f.characteristic))].join(", ");
  const [critical, key, ordinary] = [of("critical"), of("key"), of("ordinary")];
  const lines: string[] = [];
  if (critical !== "") lines.push(`Critical, measured on every piece: ${critical}.`);
  if (key !== "") lines.push(`Key, measured on every piece: ${key}.`);
  if (ordinary !== "") {
    const percent = Number((part.risk * 100).toPrecision(3));
    lines.push(
      `Ordinary: ${ordinary}. On the first and the last piece, on the first one after every change of an offset or an edge and after every interruption, and every piece until checks have been good in a row; from there on at intervals that keep the chance of a piece outside a limit unmeasured below ${percent} %, and of at most ${part.largestInterval} pieces.`,
    );
    if (quantity !== undefined && quantity < smallLot) {
      lines.push(`Fewer than ${smallLot} pieces: every piece is measured.`);
    }
  }
  lines.push(
    "A feature that was not due on a piece counts as good on it where the pieces measured before and after it are good and nothing between them failed.",
  );
  return lines;
}
