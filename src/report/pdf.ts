import { createRequire } from "node:module";
import { PassThrough, type Readable } from "node:stream";
import { setImmediate } from "node:timers/promises";
import PDFDocument from "pdfkit";
import type { Block, Cell, Printed, Table } from "./blocks.js";
import { inks, type Picture } from "./picture.js";

const require = createRequire(import.meta.url);
/** For what the fonts of every reader of PDF do not have: Greek, Cyrillic, mathematical signs. */
const wideFonts = {
  plain: require.resolve("dejavu-fonts-ttf/ttf/DejaVuSans.ttf"),
  bold: require.resolve("dejavu-fonts-ttf/ttf/DejaVuSans-Bold.ttf"),
};

export type Paper = "a4" | "letter";

const margin = 34; // points of 1/72 inch, about 12 mm
const footer = 16;
const padding = 3;
const grey = "#777777";

/** A document as PDF, written page by page: what has been written is not kept. */
export function renderPdf(printed: Printed, paper: Paper): Readable {
  const out = new PassThrough();
  const doc = new PDFDocument({
    size: paper,
    layout: "landscape",
    margin: 0,
    autoFirstPage: false,
    info: { Title: printed.title, CreationDate: new Date(printed.madeAt) },
  });
  doc.pipe(out);
  write(new Sheet(doc, printed.title), printed.blocks, out).then(
    () => doc.end(),
    (error: unknown) => out.destroy(error as Error),
  );
  return out;
}

async function write(sheet: Sheet, blocks: Printed["blocks"], out: PassThrough): Promise<void> {
  for await (const block of blocks) {
    sheet.add(block);
    await setImmediate(); // pages are packed and sent meanwhile
    if (out.writableNeedDrain) await emptied(out);
    if (out.destroyed) return; // nobody reads on
  }
  sheet.end();
}

/** Until what was written has been taken, or nobody will take it any more. */
function emptied(out: PassThrough): Promise<void> {
  return new Promise((resolve) => {
    const goOn = () => {
      out.off("drain", goOn).off("close", goOn);
      resolve();
    };
    out.on("drain", goOn).on("close", goOn);
  });
}

type Weight = keyof typeof wideFonts;

class Sheet {
  private y = 0;
  private page = 0;
  private readonly wide: Partial<Record<Weight, string>> = {};

  constructor(
    private readonly doc: PDFKit.PDFDocument,
    private readonly title: string,
  ) {}

  add(block: Block): void {
    switch (block.kind) {
      case "title":
        this.startPage();
        this.lines([block.text], 16, "bold");
        if (block.below !== "") this.lines(this.wrap(block.below, this.width, 11, "plain"), 11, "plain");
        this.skip(6);
        break;
      case "heading":
        this.skip(8);
        this.need(44);
        this.lines([block.text], 11.5, "bold");
        this.skip(2);
        break;
      case "paragraph":
        this.lines(this.wrap(block.text, this.width * 0.86, 9, "plain"), 9, "plain");
        this.skip(2);
        break;
      case "facts":
        this.facts(block.items);
        break;
      case "table":
        this.table(block);
        break;
      case "pictures":
        this.pictures(block.pictures);
        break;
      case "signatures":
        this.signatures(block.roles);
        break;
    }
  }

  end(): void {
    this.need(12);
    this.lines([`End of the report, ${this.page} ${this.page === 1 ? "page" : "pages"}.`], 8, "plain");
    this.closePage();
  }

  private get width(): number {
    return this.doc.page.width - 2 * margin;
  }
  private get bottom(): number {
    return this.doc.page.height - margin - footer;
  }

  private startPage(): void {
    if (this.page > 0) this.closePage();
    this.doc.addPage();
    this.page += 1;
    this.y = margin;
  }

  private closePage(): void {
    const y = this.doc.page.height - margin - 8;
    this.print(this.fit(this.title, this.width - 60, 7.5, "plain"), margin, y, 7.5, "plain");
    const number = `Page ${this.page}`;
    this.print(number, margin + this.width - this.measure(number, 7.5, "plain"), y, 7.5, "plain");
  }

  /** Begins another page where there is no room for this height. */
  private need(height: number): boolean {
    if (this.y + height <= this.bottom) return false;
    this.startPage();
    return true;
  }

  private skip(height: number): void {
    if (this.y > margin) this.y += height;
  }

  private lines(texts: readonly string[], size: number, weight: Weight): void {
    for (const text of texts) {
      this.need(size * 1.25);
      this.print(this.fit(text, this.width, size, weight), margin, this.y, size, weight);
      this.y += size * 1.25;
    }
  }

  private facts(items: readonly (readonly [string, string])[]): void {
    const half = Math.ceil(items.length / 2);
    const column = this.width / 2;
    const top = this.y;
    let lowest = top;
    items.forEach(([label, value], i) => {
      if (i === half) this.y = top;
      const x = margin + (i < half ? 0 : column);
      this.print(label, x, this.y, 9, "bold");
      for (const line of this.wrap(value, column - 100, 9, "plain")) {
        this.print(line, x + 88, this.y, 9, "plain");
        this.y += 11.5;
      }
      lowest = Math.max(lowest, this.y);
    });
    this.y = lowest + 4;
  }

  private table(table: Table): void {
    const size = table.dense ? 7.5 : 8;
    const total = table.columns.reduce((sum, { width }) => sum + width, 0);
    const most = table.dense ? this.width * Math.min(1, total / 96) : this.width;
    const widths = table.columns.map(({ width }) => (width / total) * most);
    const inner = widths.map((width) => width - 2 * padding);
    const head = table.columns.map(({ title }, c) =>
      title.flatMap((text) => this.wrapAtMost(2, text, inner[c]!, size, "bold")),
    );
    const rows = table.rows.map((row) =>
      row.map(({ text }, c) =>
        table.dense ? [this.fit(text, inner[c]!, size, "plain")] : this.wrap(text, inner[c]!, size, "plain"),
      ),
    );
    const height = (cells: readonly (readonly string[])[]) =>
      Math.max(...cells.map(({ length }) => length), 1) * size * 1.2 + 3;
    const headHeight = height(head);
    const putHead = () => this.row(table, head, widths, headHeight, size, "bold");
    const whole = rows.reduce((sum, row) => sum + height(row), headHeight);
    const first = rows[0] ? Math.min(height(rows[0]), 60) : 0;
    // Rows that are read side by side stay on one page where they can.
    this.need(table.dense && whole <= this.bottom - margin ? whole : headHeight + first);
    putHead();
    rows.forEach((cells, r) => {
      let left = cells;
      // A row higher than what is left of the page goes on over it, line by line.
      for (;;) {
        const room = Math.floor((this.bottom - this.y - 3) / (size * 1.2));
        const lines = Math.max(...left.map(({ length }) => length), 1);
        if (lines <= room) break;
        if (lines <= Math.floor((this.bottom - margin - headHeight - 3) / (size * 1.2)) || room < 1) {
          this.startPage();
          putHead();
          continue;
        }
        const now = left.map((cell) => cell.slice(0, room));
        this.row(table, now, widths, height(now), size, "plain", table.rows[r]);
        left = left.map((cell) => cell.slice(room));
        this.startPage();
        putHead();
      }
      this.row(table, left, widths, height(left), size, "plain", table.rows[r]);
    });
    this.skip(7);
  }

  private row(
    { columns }: Table,
    cells: readonly (readonly string[])[],
    widths: readonly number[],
    height: number,
    size: number,
    weight: Weight,
    marked?: readonly Cell[],
  ): void {
    const { doc } = this;
    const all = widths.reduce((sum, width) => sum + width, 0);
    if (weight === "bold") doc.rect(margin, this.y, all, height).fill("#ebebeb").fillColor("black");
    doc.lineWidth(0.4).strokeColor(grey).rect(margin, this.y, all, height).stroke();
    let x = margin;
    cells.forEach((lines, c) => {
      const width = widths[c]!;
      if (c > 0)
        doc
          .moveTo(x, this.y)
          .lineTo(x, this.y + height)
          .stroke();
      const mark = marked?.[c]?.mark;
      const bold: Weight = mark === "bad" ? "bold" : weight;
      lines.forEach((line, i) => {
        const text = mark === "bad" ? this.fit(line, width - 2 * padding, size, "bold") : line;
        const length = columns[c]!.align === "right" || mark ? this.measure(text, size, bold) : 0;
        const at = columns[c]!.align === "right" ? x + width - padding - length : x + padding;
        const y = this.y + 2 + i * size * 1.2;
        this.print(text, at, y, size, bold);
        if (mark === "unsure")
          doc
            .lineWidth(0.5)
            .strokeColor("black")
            .moveTo(at, y + size)
            .lineTo(at + length, y + size)
            .stroke();
      });
      if (mark === "bad") {
        doc
          .lineWidth(1)
          .strokeColor("black")
          .rect(x + 0.8, this.y + 0.8, width - 1.6, height - 1.6)
          .stroke();
      }
      doc.lineWidth(0.4).strokeColor(grey);
      x += width;
    });
    this.y += height;
  }

  /** Each as wide as half the page, or as high as one has room for. */
  private pictures(pictures: readonly Picture[]): void {
    const half = this.width / 2;
    const scales = pictures.map(({ width, height }) =>
      Math.min((half - 8) / width, (this.bottom - margin) / height),
    );
    const height = Math.max(...pictures.map((picture, i) => picture.height * scales[i]!));
    this.need(height);
    pictures.forEach((picture, i) => {
      this.picture(picture, margin + i * half, scales[i]!);
    });
    this.y += height + 6;
  }

  private picture({ shapes }: Picture, left: number, scale: number): void {
    const at = (x: number, y: number) => [left + x * scale, this.y + y * scale] as const;
    const { doc } = this;
    for (const shape of shapes) {
      const ink = inks[shape.ink];
      if (shape.kind === "text") {
        const size = shape.size * scale;
        const room = this.measure(shape.text, size, "plain");
        const [x, y] = at(shape.x, shape.y);
        const back = shape.anchor === "start" ? 0 : shape.anchor === "end" ? room : room / 2;
        doc.fillColor(ink);
        this.print(shape.text, x - back, y - size * 0.8, size, "plain");
        doc.fillColor("black");
        continue;
      }
      doc
        .save()
        .lineWidth((shape.kind === "line" ? shape.width : 1.5) * scale)
        .strokeColor(ink)
        .fillColor(ink);
      if (shape.kind === "line") {
        const [first, ...rest] = shape.points;
        if (shape.dash)
          doc.dash(shape.dash[0]! * scale, { space: (shape.dash[1] ?? shape.dash[0]!) * scale });
        doc.moveTo(...at(...first!));
        for (const point of rest) doc.lineTo(...at(...point));
        doc.stroke();
      } else {
        const [x, y] = at(shape.x, shape.y);
        const size = shape.size * scale;
        if (shape.of === "square") doc.rect(x - size, y - size, 2 * size, 2 * size).stroke();
        else if (shape.of === "ring") doc.circle(x, y, size).stroke();
        else doc.circle(x, y, size).fill();
      }
      doc.restore();
    }
  }

  private signatures(roles: readonly string[]): void {
    this.need(90); // with the line that ends the report
    this.y += 44;
    const gap = 24;
    const width = (this.width - gap * (roles.length - 1)) / roles.length;
    roles.forEach((role, i) => {
      const x = margin + i * (width + gap);
      this.doc
        .lineWidth(0.7)
        .strokeColor("black")
        .moveTo(x, this.y)
        .lineTo(x + width, this.y)
        .stroke();
      this.print(`${role}: name, date, signature`, x, this.y + 3, 8.5, "plain");
    });
    this.y += 22;
  }

  private print(text: string, x: number, y: number, size: number, weight: Weight): void {
    if (text === "") return;
    this.font(text, weight).fontSize(size).fillColor("black");
    this.doc.text(text, x, y, { lineBreak: false });
  }

  private measure(text: string, size: number, weight: Weight): number {
    return this.font(text, weight).fontSize(size).widthOfString(text);
  }

  /** The fonts that every reader has where they suffice, for they are quick and need not be carried along. */
  private font(text: string, weight: Weight): PDFKit.PDFDocument {
    if (isPlain(text)) return this.doc.font(weight === "bold" ? "Helvetica-Bold" : "Helvetica");
    const name = `wide-${weight}`;
    if (this.wide[weight] === undefined) {
      this.doc.registerFont(name, wideFonts[weight]);
      this.wide[weight] = name;
    }
    return this.doc.font(name);
  }

  /** Lines no wider than this; a word that is, is divided. */
  private wrap(text: string, width: number, size: number, weight: Weight): string[] {
    if (this.measure(text, size, weight) <= width) return [text];
    const lines: string[] = [];
    let line = "";
    for (const word of text.split(" ")) {
      const longer = line === "" ? word : `${line} ${word}`;
      if (this.measure(longer, size, weight) <= width) {
        line = longer;
        continue;
      }
      if (line !== "") lines.push(line);
      line = word;
      while (this.measure(line, size, weight) > width && line.length > 1) {
        const part = this.fit(line, width, size, weight, "");
        lines.push(part);
        line = line.slice(part.length);
      }
    }
    return [...lines, line];
  }

  private wrapAtMost(most: number, text: string, width: number, size: number, weight: Weight): string[] {
    const lines = this.wrap(text, width, size, weight);
    if (lines.length <= most) return lines;
    return [...lines.slice(0, most - 1), this.fit(lines.slice(most - 1).join(" "), width, size, weight)];
  }

  /** What of a text fits on a line, with a sign that there was more. */
  private fit(text: string, width: number, size: number, weight: Weight, more = "…"): string {
    if (this.measure(text, size, weight) <= width) return text;
    let [low, high] = [1, text.length];
    while (low < high) {
      const middle = Math.ceil((low + high) / 2);
      if (this.measure(text.slice(0, middle) + more, size, weight) <= width) low = middle;
      else high = middle - 1;
    }
    return text.slice(0, low) + more;
  }
}

/** Latin-1, and what Windows-1252 adds of dashes, quotes and dots. */
function isPlain(text: string): boolean {
  return /^[\x20-\x7e\xa0-\xff–—‘’“”•…€]*$/.test(text);
}
