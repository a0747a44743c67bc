import type { Block, Cell, Printed } from "./blocks.js";
import { escapeText } from "./escape-text.js";
import { renderSvg } from "./svg.js";

const style = `
@page { size: A4 landscape; margin: 12mm; }
body { font: 10pt/1.35 system-ui, sans-serif; color: #000; background: #fff; margin: 1.5rem; }
h1 { font-size: 16pt; margin: 0; } h2 { font-size: 11.5pt; margin: 1.1rem 0 .3rem; break-after: avoid; }
p { margin: .25rem 0; max-width: 110ch; } .below { font-size: 11pt; }
dl { display: grid; grid-template-columns: max-content 1fr max-content 1fr; gap: .1rem .8rem; margin: .6rem 0; }
dt { font-weight: 600; } dd { margin: 0; overflow-wrap: anywhere; }
table { border-collapse: collapse; width: 100%; margin: .3rem 0 .8rem; font-size: 8.5pt; font-variant-numeric: tabular-nums; }
thead { display: table-header-group; } tr { break-inside: avoid; }
th, td { border: .5pt solid #888; padding: .12rem .3rem; text-align: left; vertical-align: top; overflow-wrap: anywhere; }
th { background: #eee; font-weight: 600; overflow-wrap: break-word; } th span { display: block; } .right { text-align: right; }
.dense { table-layout: fixed; } .dense td { overflow-wrap: normal; }
.bad { font-weight: 700; outline: 1.2pt solid #000; outline-offset: -1.2pt; } .unsure { text-decoration: underline; }
.pictures { display: grid; grid-template-columns: 1fr 1fr; gap: 1rem; margin: .5rem 0 .8rem; break-inside: avoid; }
figure { margin: 0; } figure svg { max-width: 100%; height: auto; }
.signatures { display: grid; grid-template-columns: repeat(3, 1fr); gap: 2rem; margin-top: 2.5rem; break-inside: avoid; }
.signatures div { border-top: .7pt solid #000; padding-top: .2rem; }
@media print { body { margin: 0; } }
@media screen and (max-width: 50rem) { .pictures { grid-template-columns: 1fr; } dl { grid-template-columns: max-content 1fr; } main { overflow-x: auto; } }
`;

/** A document as a page to be read and printed; nothing in it is fetched from elsewhere. */
export async function* renderHtml({ title, blocks }: Printed): AsyncGenerator<string> {
  yield `<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>${escapeText(title)}</title><style>${style}</style></head><body><main>\n`;
  for await (const block of blocks) yield render(block);
  yield "</main></body></html>\n";
}

function render(block: Block): string {
  switch (block.kind) {
    case "title":
      return `<h1>${escapeText(block.text)}</h1><p class="below">${escapeText(block.below)}</p>\n`;
    case "heading":
      return `<h2>${escapeText(block.text)}</h2>\n`;
    case "paragraph":
      return `<p>${escapeText(block.text)}</p>\n`;
    case "facts":
      return `<dl>${block.items.map(([label, value]) => `<dt>${escapeText(label)}</dt><dd>${escapeText(value)}</dd>`).join("")}</dl>\n`;
    case "signatures":
      return `<div class="signatures">${block.roles.map((role) => `<div>${escapeText(role)}: name, date, signature</div>`).join("")}</div>\n`;
    case "pictures":
      return `<div class="pictures">${block.pictures.map((picture) => `<figure>${renderSvg(picture)}</figure>`).join("")}</div>\n`;
    case "table": {
      const { columns, rows, dense } = block;
      const total = columns.reduce((sum, { width }) => sum + width, 0);
      const share = (width: number) => `style="width:${((100 * width) / total).toFixed(1)}%"`;
      // A few columns of numbers are not drawn out over the page.
      const all = dense
        ? ` class="dense" style="width:${Math.min(100, (100 * total) / 96).toFixed(1)}%"`
        : "";
      const head = columns.map(
        ({ title, align, width }) =>
          `<th scope="col" ${share(width)}${align === "right" ? ' class="right"' : ""}>${title.map((line) => `<span>${escapeText(line)}</span>`).join("")}</th>`,
      );
      const body = rows.map(
        (row) => `<tr>${row.map((cell, i) => renderCell(cell, columns[i]!.align === "right")).join("")}</tr>`,
      );
      return `<table${all}><thead><tr>${head.join("")}</tr></thead><tbody>\n${body.join("\n")}\n</tbody></table>\n`;
    }
  }
}

function renderCell({ text, mark }: Cell, isRight: boolean): string {
  const classes = [isRight && "right", mark].filter(Boolean).join(" ");
  return `<td${classes === "" ? "" : ` class="${classes}"`}>${escapeText(text)}</td>`;
}
