import { isAttribute } from "../core/feature-kind.js";
import { formatMeasure, toUnit } from "../core/quantity.js";
import type { DecisionLimits } from "../core/tolerance/decide-conformity.js";
import type { noGoMilliTurns } from "../core/tolerance/go-no-go.js";
import type { Decided } from "./decide-measured.js";
import type { RuledFeature } from "./feature-view.js";
import type { Measured } from "./measured-value.js";
import type { ReadingRow } from "./queries.js";
import { inBrackets, sayDoubt } from "./words.js";

const stateWords: Record<NonNullable<Measured["state"]>, string> = {
  not_measured: "It was not measured",
  error: "The gauge gave an error",
  over_range: "It is beyond what the gauge can show",
};

/** Why a verdict is open, or where it follows from more than the number. */
export function sayWhy(
  row: Pick<ReadingRow, "verdict" | "flags">,
  measured: Measured,
  feature: RuledFeature,
  decided: Decided,
  limits: DecisionLimits,
): string | null {
  const { unit, condition, threadStandard, gauged } = feature;
  const { state, sizePm, milliTurns } = measured;
  if (state !== null) {
    return `${stateWords[state]}, so there is no verdict: measure the piece again before it goes on.`;
  }
  if (decided.bonus?.sizeOut) {
    const { size } = condition!;
    const below = decided.bonus.sizeOut === "below";
    const limit = formatMeasure(below ? size.lowerPm : size.upperPm, unit);
    return `The size itself, ${formatMeasure(measured.featureSizePm!, unit)}, is ${below ? "below its lower" : "above its upper"} limit of ${limit}: it fails whatever the position, and earns no bonus.`;
  }
  if (isAttribute(feature.kind)) {
    if (gauged === null || threadStandard === null || milliTurns === undefined) return null;
    return sayTurns(milliTurns, threadStandard, decided.inside);
  }
  if (row.verdict !== "uncertain") return null;
  if (condition && measured.featureSizePm === undefined && decided.verdict === "uncertain") {
    const name =
      condition.characteristic === null ? "the feature" : `characteristic ${condition.characteristic}`;
    return `Without the size of ${name} on this piece nobody knows the bonus: measure it, then send this reading again, or send it with "size".`;
  }
  return sayDoubt(row.flags, sizePm!, decided.limits, limits, unit);
}

function sayTurns(milliTurns: number, standard: keyof typeof noGoMilliTurns, good: boolean): string {
  const rule = {
    iso_metric: "by ISO 1502 it may go in by not more than 2",
    unified: "on a unified thread it has to drag definitely on or before the 3rd",
  };
  return `NO-GO went in by ${milliTurns / 1000} turns, and ${rule[standard]}: ${good ? "that is allowed" : "that is too far"}.`;
}

/** How a position and what is allowed for it come about, line by line; nothing where the number is what was read. */
export function sayMeasured(measured: Measured, feature: RuledFeature, { limits, bonus }: Decided): string[] {
  if (feature.kind !== "position" || measured.sizePm === undefined) return [];
  const { unit, condition } = feature;
  const { sizePm, offsetsPm, featureSizePm } = measured;
  const lines: string[] = [];
  const say = (pm: number) => formatMeasure(pm, unit);
  const bare = (pm: number) => inBrackets(String(toUnit(pm, unit)));
  if (offsetsPm) {
    const list = [offsetsPm.dx, offsetsPm.dy, ...(offsetsPm.dz === undefined ? [] : [offsetsPm.dz])];
    lines.push(`Position: 2 × √(${list.map((pm) => `${bare(pm)}²`).join(" + ")}) = ${say(sizePm)}.`);
  }
  if (!condition) return lines;
  const name = condition.condition === "maximum" ? "maximum" : "least";
  if (bonus?.bonusPm !== undefined) {
    lines.push(
      `Bonus: from the ${name} material size of ${say(bonus.atPm)} to the size of ${say(featureSizePm!)} it is ${say(bonus.bonusPm)}.`,
      `Allowed: ${say(feature.upperPm!)} + ${say(bonus.bonusPm)} = ${say(limits.upperPm!)}.`,
    );
  } else if (bonus) {
    lines.push(`Allowed: ${say(feature.upperPm!)}; a size outside its limits earns no bonus.`);
  } else {
    lines.push(`Allowed: ${say(feature.upperPm!)} without a bonus, since the size is not known.`);
  }
  lines.push(
    "The size that counts is that of the largest pin or smallest ring that fits square to the datums: a leaning hole earns less than its two-point size says. A shift of a datum that is a feature of size is not included.",
  );
  return lines;
}
