import type { ChartKind } from "./chart.js";
import { cusumInterval, cusumSlack, ewmaWeight, type Measured, round } from "./draw-chart.js";

const methods: Record<ChartKind, string> = {
  individuals: "Limits: mean of the phase and 3 standard deviations from moving ranges of two (ISO 7870-2).",
  mean_range: "Limits: mean of the phase and 3 standard deviations of a mean, from ranges (ISO 7870-2).",
  mean_s:
    "Limits: mean of the phase and 3 standard deviations of a mean, from standard deviations (ISO 7870-2).",
  ewma: `Weight of the latest reading ${ewmaWeight}, begun afresh at the mean of each phase, 3 standard deviations (Roberts 1959).`,
  cusum: `Sums of what lies more than ${cusumSlack} standard deviations from the mean of the phase, alarm at ${cusumInterval} (Page 1954).`,
  innovations:
    "Each point is reading less forecast over the standard deviation of both; the forecast knows wear, edges and corrections. Pieces of which nothing could be foreseen yet are left out.",
  p: "Limits: share that failed, 3 standard deviations of the binomial distribution (ISO 7870-2).",
  np: "Limits: number that failed, 3 standard deviations of the binomial distribution (ISO 7870-2).",
  c: "Limits: mean count, 3 standard deviations of the Poisson distribution (ISO 7870-2).",
  u: "Limits: mean count per piece, 3 standard deviations of the Poisson distribution (ISO 7870-2).",
};

/** What surprised and was never repeated comes first: it is no typing error until somebody has looked. */
export function sayDoubtful(doubtful: readonly Measured[], unit: string): string[] {
  if (doubtful.length === 0) return [];
  const shown = doubtful.slice(-5).map(({ piece, size }) => `piece ${piece} at ${round(size)} ${unit}`);
  const more = doubtful.length > 5 ? ` and ${doubtful.length - 5} before them` : "";
  return [
    `Surprising and not confirmed by a repeat: ${shown.join(", ")}${more}. Limits and indices go without; measure again, since it may be real.`,
  ];
}

/** A chart in plain words: what stands out first. */
export function sayChart(kind: ChartKind, signals: readonly { says: string }[], rules: number): string[] {
  const first =
    signals.length === 0
      ? "Of what counts here nothing stands out: what is seen is the scatter of a process that stays as it is. Leave it alone."
      : `${signals.length === 1 ? "1 point stands" : `${signals.length} points stand`} out. The latest: ${signals.at(-1)!.says}`;
  const alarms =
    rules > 1
      ? [
          "Several tests are on: even of a process that stays as it is, one of them speaks up about once in 90 points (Champ and Woodall 1987, for the four of Western Electric).",
        ]
      : [];
  return [first, methods[kind], ...alarms];
}
