import type { Ink, Picture, Shape } from "./picture.js";

/** What a picture of a chart is made of: the chart as the service answers it. */
export interface ChartToDraw {
  title: string;
  /** The chart in plain words. */
  says: readonly string[];
  panels: readonly {
    name: string;
    unit: string;
    points: readonly {
      piece: number;
      value: number;
      centre: number;
      lower: number | null;
      upper: number | null;
      phase: number;
    }[];
  }[];
  phases: readonly { number: number; from_piece: number; why: string }[];
  signals: readonly { panel: string; piece: number }[];
  /** Limits of size and aim, shown beside sizes; null: none. */
  limits: { lower: number | null; upper: number | null; target: number | null };
}

const width = 760;
const margin = { left: 74, right: 92, top: 40, gap: 34, bottom: 30 };
const upperHeight = 230;
const lowerHeight = 110;
const whys: Record<string, string> = { edge: "edge", correction: "offset", batch: "job" };

/**
 * Draws a control chart: points joined within a phase, control limits stepped and dashed, limits of size dotted, signals in a square,
 * what began a phase named at its line.
 */
export function drawChartPicture(chart: ChartToDraw): Picture {
  const shapes: Shape[] = [text(margin.left, 22, chart.title, 14, "black", "start")];
  const pieces = chart.panels.flatMap(({ points }) => points.map(({ piece }) => piece));
  const [first, last] = [Math.min(...pieces), Math.max(...pieces)];
  const right = width - margin.right;
  const x = (piece: number) =>
    last === first
      ? (margin.left + right) / 2
      : margin.left + 8 + ((piece - first) / (last - first)) * (right - margin.left - 16);
  let top = margin.top;
  for (const [i, panel] of chart.panels.entries()) {
    const height = i === 0 ? upperHeight : lowerHeight;
    shapes.push(...drawPanel(chart, panel, { top, height, right, x, isFirst: i === 0 }));
    top += height + margin.gap;
  }
  const bottom = top - margin.gap;
  for (const piece of ticks(first, last, 10).filter(Number.isInteger)) {
    shapes.push({
      kind: "line",
      points: [
        [x(piece), bottom],
        [x(piece), bottom + 4],
      ],
      ink: "black",
      width: 1,
    });
    shapes.push(text(x(piece), bottom + 16, String(piece), 11, "black", "middle"));
  }
  shapes.push(text(right + 6, bottom + 16, "piece", 11, "black", "start"));
  return {
    width,
    height: bottom + margin.bottom,
    title: chart.title,
    description: chart.says.join(" "),
    shapes,
  };
}

type Panel = ChartToDraw["panels"][number];
interface Frame {
  top: number;
  height: number;
  right: number;
  x: (piece: number) => number;
  isFirst: boolean;
}

function drawPanel(chart: ChartToDraw, panel: Panel, { top, height, right, x, isFirst }: Frame): Shape[] {
  const { points, name, unit } = panel;
  const { limits } = chart;
  const isSize = name === "size" || name === "mean";
  const drawn = isSize ? [limits.lower, limits.upper, limits.target] : [];
  const values = points.flatMap(({ value, lower, upper, centre }) => [value, lower, upper, centre]);
  const seen = [...values, ...drawn].filter((value): value is number => value !== null);
  const [least, most] = [Math.min(...seen), Math.max(...seen)];
  const room = most > least ? (most - least) * 0.06 : Math.max(1e-9, Math.abs(most) * 1e-3);
  const [low, high] = [least - room, most + room];
  const y = (value: number) => top + height - ((value - low) / (high - low)) * height;
  const shapes: Shape[] = [];
  const across = (value: number, ink: Ink, label: string, dash: readonly number[]) => {
    shapes.push({
      kind: "line",
      points: [
        [margin.left, y(value)],
        [right, y(value)],
      ],
      ink,
      width: 1.2,
      dash,
    });
    shapes.push(text(right + 6, y(value) + 4, label, 11, ink, "start"));
  };
  shapes.push({
    kind: "line",
    points: [
      [margin.left, top],
      [margin.left, top + height],
      [right, top + height],
    ],
    ink: "black",
    width: 1,
  });
  for (const value of ticks(low, high, isFirst ? 6 : 3)) {
    shapes.push({
      kind: "line",
      points: [
        [margin.left - 4, y(value)],
        [margin.left, y(value)],
      ],
      ink: "black",
      width: 1,
    });
    shapes.push(text(margin.left - 7, y(value) + 4, say(value), 11, "black", "end"));
  }
  shapes.push(
    text(
      margin.left - 66,
      top - 6,
      `${name.replaceAll("_", " ")}${unit === "1" ? "" : `, ${unit}`}`,
      11,
      "black",
      "start",
    ),
  );
  if (isSize) {
    if (limits.upper !== null) across(limits.upper, "black", "upper limit", [2, 3]);
    if (limits.lower !== null) across(limits.lower, "black", "lower limit", [2, 3]);
    if (limits.target !== null) across(limits.target, "grey", "aim", [1, 4]);
  }
  for (const { number, why } of chart.phases) {
    const mine = points.filter(({ phase }) => phase === number);
    const [begin] = mine;
    if (!begin) continue;
    const from = x(begin.piece);
    if (number > 1) {
      shapes.push({
        kind: "line",
        points: [
          [from - 4, top],
          [from - 4, top + height],
        ],
        ink: "grey",
        width: 1,
        dash: [4, 2],
      });
      if (isFirst && whys[why]) shapes.push(text(from - 1, top + 10, whys[why], 10, "grey", "start"));
    }
    for (const side of ["centre", "lower", "upper"] as const) {
      const line = mine.flatMap((point): (readonly [number, number])[] =>
        point[side] === null ? [] : [[x(point.piece), y(point[side])]],
      );
      if (line.length === 0) continue;
      const wide =
        line.length === 1
          ? [[line[0]![0] - 6, line[0]![1]] as const, [line[0]![0] + 6, line[0]![1]] as const]
          : line;
      shapes.push(
        side === "centre"
          ? { kind: "line", points: wide, ink: "green", width: 1.4 }
          : { kind: "line", points: wide, ink: "vermillion", width: 1.2, dash: [7, 3] },
      );
    }
    shapes.push({
      kind: "line",
      points: mine.map((point) => [x(point.piece), y(point.value)] as const),
      ink: "blue",
      width: 1,
    });
  }
  for (const point of points)
    shapes.push({
      kind: "mark",
      x: x(point.piece),
      y: y(point.value),
      of: "dot",
      size: points.length > 150 ? 1.6 : 2.6,
      ink: "blue",
    });
  const out = new Set(chart.signals.filter((signal) => signal.panel === name).map(({ piece }) => piece));
  for (const point of points)
    if (out.has(point.piece))
      shapes.push({
        kind: "mark",
        x: x(point.piece),
        y: y(point.value),
        of: "square",
        size: 6,
        ink: "vermillion",
      });
  return shapes;
}

function text(
  x: number,
  y: number,
  words: string,
  size: number,
  ink: Ink,
  anchor: "start" | "middle" | "end",
): Shape {
  return { kind: "text", x, y, text: words, size, ink, anchor };
}

/** At most `most` round values from `low` to `high`: steps of 1, 2 or 5 times a power of ten. */
function ticks(low: number, high: number, most: number): number[] {
  const span = high - low;
  if (!(span > 0)) return [low];
  const rough = span / most;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((factor) => factor * power).find((size) => span / size <= most)!;
  const first = Math.ceil(low / step - 1e-9);
  const found: number[] = [];
  for (let i = first; i * step <= high + 1e-9 * step; i++) found.push(Number((i * step).toPrecision(12)));
  return found;
}

function say(value: number): string {
  return String(Number(value.toPrecision(10)));
}
