import { countsChart, nonconformingChart } from "../../core/control-chart/attributes.js";
import { chartConstants } from "../../core/control-chart/constants.js";
import { findPatterns, type RunRule } from "../../core/control-chart/run-rules.js";
import {
  cusumChart,
  ewmaChart,
  individualsChart,
  type Lines,
  mean,
  meanAndDeviationChart,
  meanAndRangeChart,
  movingRanges,
} from "../../core/control-chart/variables.js";
import type { ChartKind, Drawn, Point, Signal } from "./chart.js";
import { saySignal } from "./say-signal.js";

/** One measured piece: its size in the unit shown; of what passes or fails 0. */
export interface Measured {
  piece: number;
  size: number;
  fails: boolean;
}

export interface Phase {
  number: number;
  why: "start" | "edge" | "correction" | "batch";
  pieces: Measured[];
}

/** Splits pieces where another edge or value came; stretches of which nothing was measured fall away. */
export function splitPhases(
  pieces: readonly Measured[],
  starts: readonly { piece: number; why: "edge" | "correction" }[],
  first: Pick<Phase, "number" | "why"> = { number: 1, why: "start" },
): Phase[] {
  const phases: Phase[] = [{ ...first, pieces: [] }];
  let next = 0;
  for (const piece of pieces) {
    let why: Phase["why"] | undefined;
    for (; next < starts.length && starts[next]!.piece <= piece.piece; next++)
      if (why !== "edge") why = starts[next]!.why;
    if (why !== undefined && phases.at(-1)!.pieces.length > 0)
      phases.push({ number: first.number + phases.length, why, pieces: [] });
    phases.at(-1)!.pieces.push(piece);
  }
  return phases.filter((phase) => phase.pieces.length > 0);
}

/** A panel without patterns, as one of spreads, is only tested against its limits. */
interface Panel {
  name: string;
  unit: string;
  points: Point[];
  patterns: boolean;
}

export const ewmaWeight = 0.2;
export const cusumSlack = 0.5;
export const cusumInterval = 5;

/** Panels, signals and σ of a chart of sizes or counts; undefined where too little was measured for it. */
export function drawChart(
  kind: Exclude<ChartKind, "innovations">,
  phases: readonly Phase[],
  { unit, size, rules }: { unit: string; size: number; rules: readonly RunRule[] },
): Drawn | undefined {
  switch (kind) {
    case "mean_range":
    case "mean_s":
      return drawMeans(kind, phases, unit, size, rules);
    case "p":
    case "np":
    case "c":
    case "u":
      return drawAttributes(kind, phases, kind === "c" ? 1 : size, rules);
    default:
      return drawSingles(kind, phases, unit, rules);
  }
}

function drawSingles(
  kind: "individuals" | "ewma" | "cusum",
  phases: readonly Phase[],
  unit: string,
  rules: readonly RunRule[],
): Drawn | undefined {
  const ranges = phases.flatMap(({ pieces }) => movingRanges(pieces.map(({ size }) => size)));
  if (ranges.length === 0) return undefined;
  const typical = mean(ranges);
  const sigma = typical / chartConstants(2).d2;
  const upper: Point[] = [];
  const lower: Point[] = [];
  for (const { number, pieces } of phases) {
    const sizes = pieces.map((piece) => piece.size);
    const chart = individualsChart(sizes, typical);
    const target = chart.location.centre;
    if (kind === "individuals") {
      pieces.forEach(({ piece, size }, i) => {
        upper.push(pointOf(piece, piece, size, chart.location, number));
        if (i > 0) lower.push(pointOf(piece, piece, chart.spreads[i - 1]!, chart.spread, number));
      });
    } else if (kind === "ewma") {
      const { values, halves } = ewmaChart(sizes, { target, sigma, lambda: ewmaWeight });
      pieces.forEach(({ piece }, i) => {
        const lines = { centre: target, lower: target - halves[i]!, upper: target + halves[i]! };
        upper.push(pointOf(piece, piece, values[i]!, lines, number));
      });
    } else {
      const h = cusumInterval * sigma;
      const { above, below } = cusumChart(sizes, { target, k: cusumSlack * sigma, h });
      pieces.forEach(({ piece }, i) => {
        upper.push({
          ...pointOf(piece, piece, above[i]!, { centre: 0, lower: 0, upper: h }, number),
          lower: null,
        });
        lower.push({
          ...pointOf(piece, piece, below[i]!, { centre: 0, lower: 0, upper: h }, number),
          lower: null,
        });
      });
    }
  }
  const names = {
    individuals: ["size", "moving_range"],
    ewma: ["weighted_mean", ""],
    cusum: ["sum_above", "sum_below"],
  } as const;
  const panels = [
    { name: names[kind][0], unit, points: upper, patterns: kind === "individuals" },
    { name: names[kind][1], unit, points: lower, patterns: false },
  ].filter(({ name }) => name !== "");
  return finish(panels, sigma, rules);
}

function drawMeans(
  kind: "mean_range" | "mean_s",
  phases: readonly Phase[],
  unit: string,
  size: number,
  rules: readonly RunRule[],
): Drawn | undefined {
  const grouped = phases.map((phase) => ({ number: phase.number, groups: groupsOf(phase.pieces, size) }));
  const used = grouped.filter(({ groups }) => groups.length > 0);
  if (used.length === 0) return undefined;
  const draw = kind === "mean_range" ? meanAndRangeChart : meanAndDeviationChart;
  const sizesOf = (groups: readonly Measured[][]) => groups.map((group) => group.map((piece) => piece.size));
  const all = draw(sizesOf(used.flatMap(({ groups }) => groups)));
  const upper: Point[] = [];
  const lower: Point[] = [];
  for (const { number, groups } of used) {
    const chart = draw(sizesOf(groups), all.spread.centre);
    groups.forEach((group, i) => {
      const [from, to] = [group[0]!.piece, group.at(-1)!.piece];
      upper.push(pointOf(to, from, chart.values[i]!, chart.location, number));
      lower.push(pointOf(to, from, chart.spreads[i]!, chart.spread, number));
    });
  }
  const panels = [
    { name: "mean", unit, points: upper, patterns: true },
    { name: kind === "mean_range" ? "range" : "standard_deviation", unit, points: lower, patterns: false },
  ];
  return finish(panels, all.sigma, rules);
}

function drawAttributes(
  kind: "p" | "np" | "c" | "u",
  phases: readonly Phase[],
  size: number,
  rules: readonly RunRule[],
): Drawn | undefined {
  const groups = groupsOf(
    phases.flatMap(({ pieces }) => pieces),
    size,
  );
  if (groups.length === 0) return undefined;
  const sizes = groups.map((group) => group.length);
  const chart =
    kind === "p" || kind === "np"
      ? nonconformingChart(
          kind,
          groups.map((group) => group.filter(({ fails }) => fails).length),
          sizes,
        )
      : countsChart(
          groups.map((group) => group.reduce((all, piece) => all + piece.size, 0)),
          sizes,
        );
  const points = groups.map((group, i) =>
    pointOf(group.at(-1)!.piece, group[0]!.piece, chart.values[i]!, chart.lines[i]!, 1),
  );
  const names = { p: "share_failed", np: "failed", c: "count", u: "count_per_piece" };
  return finish([{ name: names[kind], unit: "1", points, patterns: true }], null, rules);
}

/** What was not foreseen, in standard deviations of the forecast and the gauge together. */
export function drawInnovations(
  surprises: readonly { piece: number; phase: number; value: number }[],
  rules: readonly RunRule[],
): Drawn {
  const lines = { centre: 0, lower: -3, upper: 3 };
  const points = surprises.map(({ piece, phase, value }) => pointOf(piece, piece, value, lines, phase));
  // The forecast knows of edges and corrections: nothing breaks a run here.
  return finish([{ name: "not_foreseen", unit: "1", points, patterns: true }], 1, rules, true);
}

function finish(
  panels: readonly Panel[],
  sigma: number | null,
  rules: readonly RunRule[],
  oneRun = false,
): Drawn {
  const signals = panels.flatMap((panel) => {
    const numbers = oneRun ? [undefined] : [...new Set(panel.points.map(({ phase }) => phase))];
    const runs = numbers.map((n) => panel.points.filter(({ phase }) => n === undefined || phase === n));
    return runs.flatMap((points) => signalsOf(panel, points, rules));
  });
  return {
    panels: panels.map(({ name, unit, points }) => ({ name, unit, points: points.map(rounded) })),
    signals: signals.sort((a, b) => a.piece - b.piece),
    sigma: sigma === null ? null : round(sigma),
  };
}

const limitTests: readonly RunRule[] = ["western_electric_1", "nelson_1", "iso_7870_1"];

function signalsOf(panel: Panel, points: readonly Point[], rules: readonly RunRule[]): Signal[] {
  const show = (value: number) => `${round(value)}${panel.unit === "1" ? "" : ` ${panel.unit}`}`;
  const say = (rule: RunRule | "limits", { piece, value, lower, upper, centre }: Point) => ({
    panel: panel.name,
    piece,
    rule,
    says: saySignal(rule, {
      piece,
      value: show(value),
      lower: lower === null ? null : show(lower),
      upper: upper === null ? null : show(upper),
      above: value > centre,
    }),
  });
  // Limits are always tested: they may lie unequally apart, as where one stops at 0.
  const beyond = points.filter(
    ({ value, lower, upper }) => value > upper! || (lower !== null && value < lower),
  );
  const found = beyond.map((point) => say("limits", point));
  if (!panel.patterns) return found;
  const z = points.map(({ value, centre, upper }) =>
    upper! > centre ? (3 * (value - centre)) / (upper! - centre) : 0,
  );
  const wanted = rules.filter((rule) => !limitTests.includes(rule));
  return [...found, ...findPatterns(z, wanted).map(({ rule, at }) => say(rule, points[at]!))];
}

function groupsOf(pieces: readonly Measured[], size: number): Measured[][] {
  return Array.from({ length: Math.floor(pieces.length / size) }, (_, i) =>
    pieces.slice(i * size, (i + 1) * size),
  );
}

function pointOf(
  piece: number,
  from_piece: number,
  value: number,
  { centre, lower, upper }: Lines,
  phase: number,
): Point {
  return { piece, from_piece, value, centre, lower, upper, phase };
}

function rounded(point: Point): Point {
  const { value, centre, lower, upper } = point;
  return {
    ...point,
    value: round(value),
    centre: round(centre),
    lower: lower === null ? null : round(lower),
    upper: upper === null ? null : round(upper),
  };
}

/** As shown: nine decimals, so a picometre of a mm. */
export function round(value: number): number {
  return Number(value.toFixed(9)) + 0;
}
