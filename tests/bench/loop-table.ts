import type { LoopScore } from "../support/shop-simulator/closed-loop.js";
import { type Goals, goalsOf, meanGoals } from "./loop-goals.js";

/** Means over the seeds of one scenario under one policy. */
export interface Figures {
  runs: number;
  made: number;
  /** Standard error of `made`. */
  madeError: number;
  shipped: number;
  scrap: number;
  share: number;
  corrections: number;
  harmful: number;
  deviation: number;
  looks: number;
  needlessLooks: number;
  reference: number;
  recuts: number;
}

export function figuresOf(scores: readonly LoopScore[]): Figures {
  const mean = (pick: (score: LoopScore) => number) =>
    scores.reduce((sum, score) => sum + pick(score), 0) / scores.length;
  const per1000 = (pick: (score: LoopScore) => number) =>
    mean((score) => (1000 * pick(score)) / score.pieces);
  const made = mean((s) => s.per1000.made);
  const spread = mean((s) => (s.per1000.made - made) ** 2);
  return {
    runs: scores.length,
    made,
    madeError: Math.sqrt(spread / Math.max(1, scores.length - 1)),
    shipped: mean((s) => s.per1000.shipped),
    scrap: mean((s) => s.per1000.scrap),
    share: mean((s) => s.perFull),
    corrections: mean((s) => s.per1000.corrections),
    harmful: mean((s) => s.per1000.falseCorrections),
    deviation: mean((s) => s.meanAbsDeviationOverHalfTolerance),
    looks: mean((s) => s.inspections),
    needlessLooks: mean((s) => s.falseInspections),
    reference: per1000((s) => s.reference ?? 0),
    recuts: per1000((s) => s.recuts ?? 0),
  };
}

const columns: [keyof Figures & keyof Goals, string, number][] = [
  ["made", "made", 1],
  ["shipped", "shipped", 1],
  ["share", "share", 2],
  ["corrections", "corrections", 0],
  ["needlessLooks", "needless looks", 2],
  ["scrap", "scrap", 1],
  ["reference", "reference", 0],
  ["recuts", "second cuts", 0],
];

export const headline =
  "bad pieces made and shipped per 1000 (± standard error), measurements over those of measuring all, corrections and harmful ones per 1000, mean |deviation| / T, looks at the setup per run (needless)";

/** One policy on one scenario in a line. */
export function line(policy: string, f: Figures): string {
  return [
    `  ${policy.padEnd(14)}`,
    `made ${f.made.toFixed(1).padStart(6)} ± ${f.madeError.toFixed(1).padEnd(4)}`,
    `shipped ${f.shipped.toFixed(1).padStart(5)}`,
    `share ${f.share.toFixed(2)}`,
    `corrections ${f.corrections.toFixed(0).padStart(4)}`,
    `harmful ${f.harmful.toFixed(0).padStart(3)}`,
    `dev ${f.deviation.toFixed(3)}`,
    `looks ${f.looks.toFixed(2)} (${f.needlessLooks.toFixed(2)})`,
    ...(f.reference > 0 ? [`reference ${f.reference.toFixed(0)}`] : []),
    ...(f.recuts > 0 ? [`second cuts ${f.recuts.toFixed(0)} scrap ${f.scrap.toFixed(1)}`] : []),
  ].join("  ");
}

/** Every goal of a scenario with what was reached. */
export function goalLines(scenario: string, ours: Figures): { text: string; met: boolean }[] {
  const goals = goalsOf(scenario);
  return columns.flatMap(([key, name, places]) => {
    const goal = goals[key];
    return goal === undefined ? [] : [compare(name, ours[key], goal, places)];
  });
}

/** The goals for the mean over scenarios, with what was reached. */
export function meanGoalLines(
  ours: readonly Figures[],
  rule: readonly Figures[],
  perfect: readonly Figures[],
): { text: string; met: boolean }[] {
  const mean = (list: readonly Figures[], key: keyof Figures) =>
    list.reduce((sum, figures) => sum + figures[key], 0) / list.length;
  return [
    compare("made", mean(ours, "made"), meanGoals.made, 1),
    compare("shipped", mean(ours, "shipped"), meanGoals.shipped, 2),
    compare("share", mean(ours, "share"), meanGoals.share, 2),
    compare("needless looks per run", mean(ours, "needlessLooks"), meanGoals.needlessLooks, 2),
    compare(
      "corrections over the rule of thumb's",
      mean(ours, "corrections") / mean(rule, "corrections"),
      meanGoals.correctionsOfRule,
      2,
    ),
    compare(
      "mean |deviation| over the perfect policy's",
      mean(ours, "deviation") / mean(perfect, "deviation"),
      meanGoals.deviationOfPerfect,
      2,
    ),
  ];
}

function compare(name: string, reached: number, goal: number, places: number) {
  const met = reached <= goal;
  return { met, text: `${name} ${reached.toFixed(places)}, goal ${goal}: ${met ? "met" : "NOT MET"}` };
}
