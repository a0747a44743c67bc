const width = 96;

const styles = { bold: "1", dim: "2", green: "32", yellow: "33", red: "31", cyan: "36" } as const;
export type Style = keyof typeof styles;

/** Prints the story: plain text of at most 96 columns, with colours on top where they are wanted. */
export class Teller {
  constructor(
    private readonly write: (text: string) => void,
    private readonly hasColour: boolean,
  ) {}

  style(style: Style, text: string): string {
    return this.hasColour ? `\u001b[${styles[style]}m${text}\u001b[0m` : text;
  }

  line(text = ""): void {
    this.write(`${text}\n`);
  }

  heading(title: string): void {
    this.line();
    this.line(this.style("bold", title));
    this.line(this.style("dim", "-".repeat(width)));
  }

  /** A paragraph of the story. */
  say(text: string): void {
    for (const row of wrap(text, width)) this.line(row);
  }

  /** A mark in the margin with what belongs to it, such as "next" and the step. */
  mark(mark: string, text: string, style: Style = "bold"): void {
    const margin = `  ${mark.padEnd(8)}`;
    wrap(text, width - margin.length).forEach((row, i) => {
      this.line((i === 0 ? this.style(style, margin) : " ".repeat(margin.length)) + row);
    });
  }

  /** Lines under each other, each with a bullet. */
  list(items: readonly string[]): void {
    for (const item of items) {
      wrap(item, width - 6).forEach((row, i) => {
        this.line(`    ${i === 0 ? "- " : "  "}${row}`);
      });
    }
  }

  /** Lines of a file as they are. */
  quote(rows: readonly string[]): void {
    for (const row of rows) this.line(this.style("dim", `    | ${row}`));
  }

  /** Columns as wide as their widest cell; a heading that begins with ">" is set to the right. */
  table(head: readonly string[], rows: readonly (readonly string[])[]): void {
    const titles = head.map((title) => title.replace(/^>/, ""));
    const widths = titles.map((title, i) =>
      Math.max(title.length, ...rows.map((row) => (row[i] ?? "").length)),
    );
    const lay = (row: readonly string[]) =>
      `    ${row
        .map((cell, i) => (head[i]?.startsWith(">") ? cell.padStart(widths[i]!) : cell.padEnd(widths[i]!)))
        .join("  ")}`.trimEnd();
    this.line(this.style("dim", lay(titles)));
    for (const row of rows) this.line(lay(row));
  }
}

function wrap(text: string, columns: number): string[] {
  const rows: string[] = [];
  let row = "";
  for (const word of text.split(" ")) {
    if (row !== "" && row.length + 1 + word.length > columns) {
      rows.push(row);
      row = word;
    } else {
      row = row === "" ? word : `${row} ${word}`;
    }
  }
  return [...rows, row];
}

/** A length with the places that its unit has on the shop floor, and one more where there is something to show. */
export function sayLength(value: number, unit: string, plus = false): string {
  const least = unit === "mm" ? 3 : unit === "inch" ? 4 : 0;
  const places = Number(value.toFixed(least)) === Number(value.toFixed(least + 1)) ? least : least + 1;
  return `${plus && value > 0 ? "+" : ""}${(value + 0).toFixed(places)} ${unit}`;
}
