import { escapeText } from "./escape-text.js";
import { inks, type Picture, type Shape } from "./picture.js";

/** A picture as SVG 1.1 (W3C 2011): of itself alone, without script, style sheet or anything from elsewhere. */
export function renderSvg({ width, height, title, description, shapes }: Picture): string {
  const body = shapes.map(render).join("\n");
  return `<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="${escapeText(title)}" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" font-family="system-ui, sans-serif">
<title>${escapeText(title)}</title>
<desc>${escapeText(description)}</desc>
<rect width="${width}" height="${height}" fill="#ffffff"/>
${body}
</svg>
`;
}

function render(shape: Shape): string {
  const ink = inks[shape.ink];
  switch (shape.kind) {
    case "line": {
      const points = shape.points.map(([x, y]) => `${round(x)},${round(y)}`).join(" ");
      const dash = shape.dash ? ` stroke-dasharray="${shape.dash.join(" ")}"` : "";
      return `<polyline points="${points}" fill="none" stroke="${ink}" stroke-width="${shape.width}"${dash}/>`;
    }
    case "mark": {
      const { x, y, size } = shape;
      if (shape.of === "square")
        return `<rect x="${round(x - size)}" y="${round(y - size)}" width="${2 * size}" height="${2 * size}" fill="none" stroke="${ink}" stroke-width="1.5"/>`;
      const fill = shape.of === "dot" ? `fill="${ink}"` : `fill="none" stroke="${ink}" stroke-width="1.5"`;
      return `<circle cx="${round(x)}" cy="${round(y)}" r="${size}" ${fill}/>`;
    }
    case "text":
      return `<text x="${round(shape.x)}" y="${round(shape.y)}" font-size="${shape.size}" text-anchor="${shape.anchor}" fill="${ink}">${escapeText(shape.text)}</text>`;
  }
}

function round(value: number): number {
  return Number(value.toFixed(2)) + 0;
}
