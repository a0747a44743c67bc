import { isAttribute, isSize } from "../core/feature-kind.js";
import {
  type Disposition,
  decideConformity,
  disposeNonconforming,
  isWithin,
  metalSide,
  type Requirement,
  type Verdict,
} from "../core/tolerance/decide-conformity.js";
import { disposeGauged, isGaugedGood } from "../core/tolerance/go-no-go.js";
import { type Bonus, bonusTolerance, gainsByCutting } from "../core/tolerance/material-condition.js";
import type { RuledFeature } from "./feature-view.js";
import type { Measured } from "./measured-value.js";

/** What a reading's number, result or state says by the rule of its feature, whatever else is known of the reading. */
export interface Decided {
  verdict: Verdict;
  /** Inside the limits whatever the rule: what trust goes by. */
  inside: boolean;
  /** Limits that counted, a bonus in the upper one. */
  limits: { lowerPm: number | undefined; upperPm: number | undefined };
  /** Undefined: the tolerance has no bonus, or the size that earns it is not known. */
  bonus: Bonus | undefined;
}

/** @param expandedPm U of the reading; undefined: not known */
export function decideMeasured(
  measured: Measured,
  feature: RuledFeature,
  expandedPm: number | undefined,
): Decided {
  const { condition, lowerPm, upperPm } = feature;
  const { sizePm } = measured;
  const plain = { limits: { lowerPm, upperPm }, bonus: undefined };
  if (measured.state !== null) return { verdict: "uncertain", inside: false, ...plain };
  if (isAttribute(feature.kind)) {
    const good =
      feature.gauged === null
        ? measured.result === "pass"
        : isGaugedGood(
            measured.result as "pass" | "go_refuses" | "no_go_enters",
            measured.milliTurns,
            feature.threadStandard ?? undefined,
          );
    return { verdict: good ? "conforming" : "nonconforming", inside: good, ...plain };
  }
  const by = (limits: { lowerPm: number | undefined; upperPm: number | undefined }) => ({
    verdict: decideConformity(sizePm!, requirementOf({ ...feature, ...limits }, expandedPm)),
    inside: isWithin(sizePm!, limits),
    limits,
  });
  if (!condition) return { ...by({ lowerPm, upperPm }), bonus: undefined };
  const { size } = condition;
  const most = upperPm! + size.upperPm - size.lowerPm;
  if (measured.featureSizePm === undefined) {
    // Without the size only what needs no bonus is sure, and what the largest would not save.
    const stated = by({ lowerPm, upperPm });
    if (stated.verdict === "conforming") return { ...stated, bonus: undefined };
    const { verdict } = by({ lowerPm, upperPm: most });
    return { ...stated, verdict: verdict === "nonconforming" ? verdict : "uncertain", bonus: undefined };
  }
  const bonus = bonusTolerance(measured.featureSizePm, size, condition.condition);
  if (bonus.sizeOut) return { verdict: "nonconforming", inside: false, ...plain, bonus };
  return { ...by({ lowerPm, upperPm: upperPm! + bonus.bonusPm! }), bonus };
}

export function requirementOf(
  feature: Pick<RuledFeature, "lowerPm" | "upperPm" | "rule" | "guardBandFactor">,
  expandedUncertaintyPm: number | undefined,
): Requirement {
  const { lowerPm, upperPm, rule, guardBandFactor } = feature;
  return { lowerPm, upperPm, rule, guardBandFactor, expandedUncertaintyPm };
}

/**
 * What becomes of a piece that failed. A position is not moved by cutting again; only at maximum material more may be taken
 * off while the size allows it, which earns the missing bonus. `scrap` of any other kind says that nobody has said how it
 * could be reworked.
 */
export function disposeFailed(
  measured: Measured,
  feature: RuledFeature,
  { limits, bonus }: Decided,
): Extract<Disposition, "rework" | "scrap"> {
  const { kind, condition, rework } = feature;
  const { sizePm, result } = measured;
  if (isSize(kind)) return disposeNonconforming(sizePm!, limits.upperPm, metalSide[kind]);
  if (kind === "go_no_go") return disposeGauged(result as "go_refuses" | "no_go_enters");
  if (kind === "position") {
    if (!condition) return "scrap";
    const { size } = condition;
    if (bonus?.sizeOut) {
      return disposeNonconforming(measured.featureSizePm!, size.upperPm, metalSide[size.kind]);
    }
    const most = feature.upperPm! + size.upperPm - size.lowerPm;
    return gainsByCutting(condition.condition) && sizePm! <= most ? "rework" : "scrap";
  }
  const side =
    kind === "visual"
      ? "either"
      : limits.upperPm !== undefined && sizePm! > limits.upperPm
        ? "above"
        : "below";
  const allowed = rework ?? (kind === "roughness" ? "above" : "neither");
  return allowed === side || allowed === "either" ? "rework" : "scrap";
}
