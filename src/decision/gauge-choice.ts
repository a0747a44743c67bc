import type { ShownUnit } from "../core/feature-kind.js";
import { toNumeric } from "../core/quantity.js";
import { type Fitness, type GaugeRating, rateGauge } from "../core/tolerance/gauge-fitness.js";
import { roomOf } from "../core/wear-offset/block.js";
import type { Db } from "../db/client.js";
import type { FeatureView } from "./feature-view.js";
import { listFinestGauges } from "./gauge-queries.js";
import { type GaugeView, gaugeView } from "./gauge-view.js";
import { sayPm } from "./words.js";

type Measured = Pick<FeatureView, "kind" | "nominalPm" | "lowerPm" | "upperPm" | "targetPm" | "condition">;
type GaugeRow = Parameters<typeof gaugeView>[0];

/** Which kinds of gauge can be brought to which kind of feature (common practice, no source). */
const anywhere = ["calliper", "machine_probe", "coordinate_machine", "other"];
const kindsFor: Record<Measured["kind"], readonly string[]> = {
  external: [...anywhere, "micrometer"],
  internal: [...anywhere, "bore_gauge"],
  depth: [...anywhere, "micrometer", "height_gauge"],
  height: [...anywhere, "micrometer", "height_gauge"],
  length: [...anywhere, "micrometer", "height_gauge"],
  position: ["coordinate_machine", "machine_probe", "height_gauge", "other"],
  angle: ["protractor", "coordinate_machine", "machine_probe", "other"],
  form: ["coordinate_machine", "form_tester", "height_gauge", "other"],
  roughness: ["roughness_tester", "other"],
  // Nobody rates what passes or fails, or the eye.
  count: [],
  go_no_go: [],
  visual: [],
};

/** Gauges of the shop that can be brought to a feature, the finest first. */
export function listGaugesFor(
  db: Db,
  feature: Measured,
  page: { offset: number; limit: number; provesOn?: string },
): Promise<GaugeRow[]> {
  return listFinestGauges(db, {
    kinds: kindsFor[feature.kind],
    angle: feature.kind === "angle",
    nominalMm: toNumeric(feature.nominalPm),
    ...page,
  });
}

/** How far a gauge is up to a feature. With one limit twice the way from the target to it counts as the tolerance. */
export function rateFor(feature: Measured, gauge: GaugeView): GaugeRating {
  const { lowerPm, upperPm, condition } = feature;
  // A position may have nothing but its bonus.
  const bonusPm = condition && upperPm === 0 ? condition.size.upperPm - condition.size.lowerPm : 0;
  const roomPm = Math.round(roomOf(feature).roomMm * 1e9) + bonusPm;
  return rateGauge({
    widthPm: lowerPm === undefined || upperPm === undefined ? 2 * roomPm : upperPm - lowerPm,
    roomPm,
    resolutionPm: gauge.resolutionPm,
    expandedUncertaintyPm: gauge.expandedPm,
    standardUncertaintyPm: gauge.standardMm * 1e9,
  });
}

/** A gauge's rating in a sentence or two. */
export function sayRating(rating: GaugeRating, gauge: GaugeView, unit: ShownUnit): string {
  const { fitness, resolutionRatio } = rating;
  const basis = goesByClaim(rating)
    ? `Tolerance over twice its expanded uncertainty of ${sayPm(gauge.expandedPm!, unit)}`
    : "Tolerance over four times the standard uncertainty that its repeatability and display leave";
  const steps =
    resolutionRatio < 10
      ? ` Its display has only ${sayRatio(resolutionRatio)} steps in the tolerance; 10 are the least to start with.`
      : "";
  return `${basis}: ${sayRatioOf(rating)}, ${meanings[fitness]}.${steps}`;
}

/** False where repeatability or display say clearly more than the uncertainty that is claimed. */
function goesByClaim({ testRatio, capabilityIndex }: GaugeRating): boolean {
  return testRatio !== undefined && testRatio < capabilityIndex * 1.05;
}

/** "12.5 to 1" */
function sayRatioOf(rating: GaugeRating): string {
  return `${sayRatio(goesByClaim(rating) ? rating.testRatio! : rating.capabilityIndex)} to 1`;
}

const meanings: Record<Fitness, string> = {
  ample: "better than the rule of ten",
  fit: "fit: 4 to 1 is the usual least",
  marginal: "only just good enough: measure what lies near a limit with a finer one",
  too_coarse: "too coarse: it neither proves a piece nor steers a register here",
};

function sayRatio(ratio: number): string {
  return String(Number(ratio.toFixed(ratio < 10 ? 2 : 1)));
}

/** Which gauge to take instead of one that is too coarse: the finest that may prove the feature on this day. */
export async function adviseGauge(
  db: Db,
  feature: Measured,
  coarse: GaugeView,
  onDay: string,
): Promise<string> {
  const rows = await listGaugesFor(db, feature, { offset: 0, limit: 1, provesOn: onDay });
  const found = rows.map(gaugeView)[0];
  const now = `${coarse.name} is too coarse for this tolerance (${sayRatioOf(rateFor(feature, coarse))}, 2 to 1 is the least)`;
  if (!found) return `${now}, and no gauge that may prove this feature is entered.`;
  const rating = rateFor(feature, found);
  const ratio = sayRatioOf(rating);
  if (rating.fitness === "too_coarse") {
    return `${now}, and so is the finest that may prove it, ${found.name} (${ratio}): a finer gauge is needed.`;
  }
  return `${now}: take ${found.name} (${ratio}), if it reaches the feature.`;
}
