import type { RuledFeature } from "./feature-view.js";

function sayDecisionRule(rule: RuledFeature["rule"], factor: number): string {
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

/** Each rule that counted, with the characteristics it counted for. */
export function sayRules(features: readonly RuledFeature[]): string[] {
  const byRule = new Map<string, string[]>();
  for (const feature of features) {
    if (feature.kind === "go_no_go" || feature.kind === "visual") continue;
    const said = sayDecisionRule(feature.rule, feature.guardBandFactor);
    byRule.set(said, [...(byRule.get(said) ?? []), feature.characteristic]);
  }
  if (byRule.size === 1) return [...byRule.keys()];
  return [...byRule].map(([said, of]) => `Characteristic ${of.join(", ")}: ${said}`);
}
