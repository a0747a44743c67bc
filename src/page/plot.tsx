import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { show } from "./words.js";

/** Where things are drawn: pieces along, values up; sizes in the pixels of the picture. */
export interface Frame {
  left: number;
  right: number;
  top: number;
  bottom: number;
  x: (piece: number) => number;
  y: (value: number) => number;
}

interface PlotProps {
  /** What the picture shows, for who does not see it. */
  label: string;
  pieces: readonly [number, number];
  values: readonly number[];
  unit: string;
  /** Name of the axis along. */
  along: string;
  /** Values that are written beside the axis, each with its word; those too near a former one are left out. */
  marks: readonly { at: number; word: string }[];
  /** Points that the arrow keys go to: where they are and what is said of them. */
  points: readonly { piece: number; value: number; says: string }[];
  children: (frame: Frame) => ComponentChildren;
}

const left = 92;
const right = 12;
const top = 10;
const bottom = 40;
const textHeight = 15;

/** A frame with its axes, as wide as there is room, and a cursor that arrow keys or the pointer move from point to point. */
export function Plot({ label, pieces, values, unit, along, marks, points, children }: PlotProps) {
  const box = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(340);
  const [at, setAt] = useState<number>();
  useEffect(() => {
    const watch = new ResizeObserver(([entry]) => setWidth(Math.max(280, entry?.contentRect.width ?? 0)));
    watch.observe(box.current!);
    return () => watch.disconnect();
  }, []);
  const height = Math.round(Math.min(420, Math.max(240, width * 0.42)));
  const [first, last] = pieces;
  const low = Math.min(...values);
  const high = Math.max(...values);
  const room = (high - low || Math.abs(high) || 1) * 0.08;
  const x = (piece: number) => left + ((piece - first) / Math.max(1, last - first)) * (width - left - right);
  const y = (value: number) =>
    top + ((high + room - value) / (high - low + 2 * room)) * (height - top - bottom);
  const written: { at: number; word: string }[] = [];
  for (const mark of marks)
    if (written.every((other) => Math.abs(y(other.at) - y(mark.at)) >= textHeight)) written.push(mark);
  const here = at === undefined ? undefined : points[Math.min(at, points.length - 1)];
  const go = (to: number) => setAt(Math.max(0, Math.min(points.length - 1, to)));
  const keys: Record<string, () => void> = {
    ArrowRight: () => go((at ?? -1) + 1),
    ArrowLeft: () => go((at ?? points.length) - 1),
    Home: () => go(0),
    End: () => go(points.length - 1),
    Escape: () => setAt(undefined),
  };
  const pick = (event: PointerEvent & { currentTarget: Element }) => {
    const from = event.clientX - event.currentTarget.getBoundingClientRect().left;
    let nearest = 0;
    points.forEach(({ piece }, i) => {
      if (Math.abs(x(piece) - from) < Math.abs(x(points[nearest]!.piece) - from)) nearest = i;
    });
    if (points.length > 0) setAt(nearest);
  };
  return (
    <div class="plot" ref={box}>
      <section
        aria-label={`${label}. Arrow keys go from piece to piece; the table below holds the same.`}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: the arrow keys go from point to point
        tabIndex={0}
        onKeyDown={(event) => {
          const key = keys[event.key];
          if (!key || points.length === 0) return;
          event.preventDefault();
          key();
        }}
        onPointerMove={pick}
        onPointerLeave={() => setAt(undefined)}
      >
        <svg width={width} height={height} viewBox={`0 0 ${width} ${height}`} aria-hidden="true">
          <path class="axis" d={`M${left} ${top}V${height - bottom}H${width - right}`} />
          {written.map((mark) => (
            <g key={mark.word}>
              <text x={left - 6} y={y(mark.at) - 1} text-anchor="end">
                {mark.word}
              </text>
              <text class="number" x={left - 6} y={y(mark.at) + 12} text-anchor="end">
                {show(mark.at)}
              </text>
            </g>
          ))}
          {ticksOf(first, last, width).map((piece) => (
            <g key={piece}>
              <path class="axis" d={`M${x(piece)} ${height - bottom}v5`} />
              <text x={x(piece)} y={height - bottom + 18} text-anchor="middle">
                {show(piece)}
              </text>
            </g>
          ))}
          <text x={width - right} y={height - 6} text-anchor="end">
            {along}
          </text>
          <text x={0} y={height - 6}>
            {unit}
          </text>
          {children({ left, right: width - right, top, bottom: height - bottom, x, y })}
          {here && (
            <path
              class="cursor"
              d={`M${x(here.piece)} ${top}V${height - bottom}M${x(here.piece) - 7} ${y(here.value)}h14`}
            />
          )}
        </svg>
      </section>
      <p class="here" aria-live="polite">
        {here?.says ?? " "}
      </p>
    </div>
  );
}

function ticksOf(first: number, last: number, width: number): number[] {
  const wanted = Math.max(2, Math.floor((width - left) / 90));
  const rough = Math.max(1, (last - first) / wanted);
  const ten = 10 ** Math.floor(Math.log10(rough));
  const step = Math.max(1, [1, 2, 5, 10].map((n) => n * ten).find((n) => n >= rough) ?? rough);
  const ticks: number[] = [];
  for (let at = Math.ceil(first / step) * step; at <= last; at += step) ticks.push(at);
  return ticks;
}

/** A line through points; nothing where there is none. */
export function pathOf(points: readonly (readonly [number, number])[]): string {
  return points.map(([x, y], i) => `${i === 0 ? "M" : "L"}${x.toFixed(1)} ${y.toFixed(1)}`).join("");
}
