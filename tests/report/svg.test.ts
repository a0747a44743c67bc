import fc from "fast-check";
import { SaxesParser } from "saxes";
import { describe, expect, it } from "vitest";
import { type ChartToDraw, drawChartPicture } from "../../src/report/draw-chart-picture.js";
import { renderSvg } from "../../src/report/svg.js";

interface Seen {
  name: string;
  attributes: Record<string, string>;
}

function elementsOf(svg: string): Seen[] {
  const seen: Seen[] = [];
  const parser = new SaxesParser();
  parser.on("error", (error) => {
    throw error;
  });
  parser.on("opentag", ({ name, attributes }) =>
    seen.push({ name, attributes: attributes as Record<string, string> }),
  );
  parser.write(svg).close();
  return seen;
}

const point = (piece: number, value: number, phase = 1) => ({
  piece,
  value,
  centre: 12,
  lower: 11.99,
  upper: 12.01,
  phase,
});
const chart: ChartToDraw = {
  title: "12 Bore",
  says: ["One point stands out."],
  panels: [
    {
      name: "size",
      unit: "mm",
      points: [point(1, 12.001), point(2, 12.004), point(4, 12.013), point(5, 12.002, 2)],
    },
  ],
  phases: [
    { number: 1, from_piece: 1, why: "start" },
    { number: 2, from_piece: 5, why: "edge" },
  ],
  signals: [{ panel: "size", piece: 4 }],
  limits: { lower: 11.95, upper: 12.05, target: 12 },
};

describe("a chart as SVG", () => {
  it("has a dot for each point, a square around what stands out, and a line where a phase begins", () => {
    const svg = renderSvg(drawChartPicture(chart));
    const elements = elementsOf(svg);

    expect(elements.filter(({ name }) => name === "circle")).toHaveLength(4);
    expect(
      elements.filter(({ name, attributes }) => name === "rect" && attributes.fill === "none"),
    ).toHaveLength(1);
    expect(svg).toContain(">edge</text>");
    expect(svg).toContain(">upper limit</text>");
    expect(elements[0]).toMatchObject({ name: "svg", attributes: { role: "img", "aria-label": "12 Bore" } });
    expect(svg).toContain("<desc>One point stands out.</desc>");
  });

  it("puts each point where its value belongs between the ticks", () => {
    const { shapes } = drawChartPicture(chart);
    const dots = shapes.flatMap((shape) => (shape.kind === "mark" && shape.of === "dot" ? [shape] : []));
    const [aim] = shapes.flatMap((shape) =>
      shape.kind === "text" && shape.text === "aim" ? [shape.y - 4] : [],
    );
    const [upper] = shapes.flatMap((shape) =>
      shape.kind === "text" && shape.text === "upper limit" ? [shape.y - 4] : [],
    );

    // 12.013 lies 13/50 of the way from the aim to the limit, 12.001 one fiftieth.
    expect((aim! - dots[2]!.y) / (aim! - upper!)).toBeCloseTo(13 / 50, 9);
    expect((aim! - dots[0]!.y) / (aim! - upper!)).toBeCloseTo(1 / 50, 9);
    expect((dots[2]!.x - dots[1]!.x) / (dots[1]!.x - dots[0]!.x)).toBeCloseTo(2, 9);
  });

  it("is well-formed, stays inside its frame and runs nothing, whatever names and values there are", () => {
    const value = fc.double({ min: -1e6, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(
        fc.string(),
        fc.array(fc.record({ value, centre: value, lower: fc.option(value), upper: fc.option(value) }), {
          minLength: 1,
          maxLength: 40,
        }),
        fc.constantFrom("size", "moving_range", "mean"),
        (title, values, name) => {
          const clean = title.replace(/[^\P{C}]/gu, "");
          const points = values.map((each, i) => ({ ...each, piece: i + 1, phase: 1 }));
          const drawn = drawChartPicture({
            ...chart,
            title: `${clean}<script>`,
            panels: [{ name, unit: "mm", points }],
            phases: [chart.phases[0]!],
          });
          const elements = elementsOf(renderSvg(drawn));
          expect(elements.map((element) => element.name)).not.toContain("script");
          for (const { attributes } of elements)
            for (const key of Object.keys(attributes)) expect(key).not.toMatch(/^on|href/);
          for (const shape of drawn.shapes) {
            const at = shape.kind === "line" ? shape.points : [[shape.x, shape.y] as const];
            for (const [x, y] of at) {
              expect(x).toBeGreaterThanOrEqual(0);
              expect(x).toBeLessThanOrEqual(drawn.width);
              expect(y).toBeGreaterThanOrEqual(0);
              expect(y).toBeLessThanOrEqual(drawn.height);
            }
          }
        },
      ),
    );
  });
});
