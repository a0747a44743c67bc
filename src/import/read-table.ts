import { parse } from "csv-parse/sync";
import { splitHeader } from "../core/notation/read-unit.js";
import { type CompiledLayout, splitBy } from "./compile-layout.js";
import type { Line } from "./decode-lines.js";
import type { FieldName, Fields } from "./fields.js";
import type { TableLayout } from "./layout.js";
import type { LineParser } from "./read-lines.js";
import { skipped } from "./read-text-log.js";
import { type Found, type SourceRecord, UnreadableSource } from "./source-record.js";

interface Row {
  first: Line;
  last: Line;
  text: string;
  cells: string[];
}

/** Where the columns are, once the header has been seen. */
interface Columns {
  header: string[];
  /** Index of each field's columns. */
  at: [FieldName, number[]][];
  /** Columns of a wide table that are a characteristic, or a piece. */
  wide: number[];
}

interface TableState {
  header: string[] | undefined;
  /** By kind of limit the row's cells. */
  limits: Record<string, string[]>;
}

const mostRowsBeforeHeader = 500;
const mostLinesOfRow = 50;
const mostBytesOfRow = 256 * 1024;
const ruling = /^[-=_+|. ]*$/;

/** Rows and columns: one reading per row, or one piece per row or column with a characteristic in the other direction. */
export class TableParser implements LineParser {
  private readonly table: TableLayout;
  private readonly separator: string;
  private readonly quote: string;
  private columns: Columns | undefined;
  private limits: TableState["limits"];
  private rowsBefore = 0;
  /** Lines of a row whose quotes are still open. */
  private begun: Line[] = [];

  constructor(
    private readonly compiled: CompiledLayout,
    state: unknown,
  ) {
    this.table = compiled.layout.table!;
    this.separator = this.table.separator === "tab" ? "\t" : this.table.separator;
    this.quote = this.table.quote ?? '"';
    const { header, limits = {} } = (state as TableState | undefined) ?? { header: undefined };
    this.limits = limits;
    if (header) this.columns = this.resolve(header, 1);
    else if (!this.table.header) this.columns = this.resolve([], 1);
  }

  take(lines: readonly Line[]): Found[] {
    const found: Found[] = [];
    let whole: { first: Line; last: Line; text: string }[] = [];
    const flush = () => {
      for (const row of this.split(whole, found)) found.push(...this.takeRow(row));
      whole = [];
    };
    const pending = [...lines];
    for (let i = 0; i < pending.length; i++) {
      const line = pending[i]!;
      if (line.fault !== undefined) {
        flush();
        pending.splice(i + 1, 0, ...this.giveUp(found, "is cut off inside quotes"));
        found.push(this.unreadable(line, line, line.text, line.fault));
        continue;
      }
      this.begun.push(line);
      const text = this.begun.map((part) => part.text).join("\n");
      if (this.endsInQuotes(text)) {
        if (this.begun.length < mostLinesOfRow && text.length < mostBytesOfRow) continue;
        flush();
        pending.splice(
          i + 1,
          0,
          ...this.giveUp(found, `opens a quote that ${this.begun.length} lines don't close`),
        );
        continue;
      }
      if (text.trim() !== "") whole.push({ first: this.begun[0]!, last: line, text });
      this.begun = [];
    }
    flush();
    return found;
  }

  end(): Found[] {
    const found: Found[] = [];
    const rest = this.giveUp(found, "opens a quote that nothing closes");
    if (rest.length > 0) found.push(...this.take(rest), ...this.end());
    else if (!this.columns && this.rowsBefore > 0) throw this.noHeader();
    return found;
  }

  waiting() {
    const [line] = this.begun;
    return line && { line, state: this.state() };
  }

  state(): TableState {
    return {
      header: this.columns && this.table.header ? this.columns.header : undefined,
      limits: this.limits,
    };
  }

  /** The first line of a row that never ends is refused; the others are given back, to be read afresh. */
  private giveUp(found: Found[], reason: string): Line[] {
    const [first, ...rest] = this.begun;
    this.begun = [];
    if (first) found.push(this.unreadable(first, first, first.text, reason));
    return rest;
  }

  private endsInQuotes(text: string): boolean {
    const { quote, separator } = this;
    if (separator === "spaces" || !text.includes(quote)) return false;
    let at = 0;
    for (;;) {
      if (text.startsWith(quote, at)) {
        let close = text.indexOf(quote, at + 1);
        while (close >= 0 && text[close + 1] === quote) close = text.indexOf(quote, close + 2);
        if (close < 0) return true;
        at = close + 1;
      }
      const next = text.indexOf(separator, at);
      if (next < 0) return false;
      at = next + separator.length;
    }
  }

  private unreadable(first: Line, last: Line, text: string, reason: string): Found {
    return { kind: "unreadable", line: first.no, lastLine: last.no, text, reason, parser: this.state() };
  }

  private split(rows: readonly Omit<Row, "cells">[], found: Found[]): Row[] {
    if (rows.length === 0) return [];
    if (this.separator === "spaces")
      return rows.map((row) => ({ ...row, cells: splitBy(row.text, "spaces") }));
    const all = this.parse(rows.map(({ text }) => text).join("\n"));
    if (all?.length === rows.length) return rows.map((row, i) => ({ ...row, cells: all[i]! }));
    // One of them has quotes that mean nothing: the others must not suffer for it.
    return rows.flatMap((row) => {
      const alone = this.parse(row.text);
      if (alone?.length === 1) return [{ ...row, cells: alone[0]! }];
      found.push(this.unreadable(row.first, row.last, row.text, "has quotes in the middle of a cell"));
      return [];
    });
  }

  private parse(text: string): string[][] | undefined {
    try {
      return parse(text, {
        delimiter: this.separator,
        quote: this.quote,
        escape: this.quote,
        record_delimiter: "\n",
        relax_column_count: true,
        relax_quotes: true,
        trim: true,
      });
    } catch {
      return undefined;
    }
  }

  private takeRow(row: Row): Found[] {
    const { first, last, text, cells } = row;
    if (this.compiled.skipRows.some((pattern) => pattern.test(text))) {
      return [skipped(first, "a pattern says that it tells nothing")];
    }
    if (cells.every((cell) => ruling.test(cell)) && !cells.some((cell) => cell === "-" || cell === "."))
      return [skipped(first, "is a ruling")];
    if (!this.columns) return [this.takeHeader(row)];
    const { columns } = this;
    if (this.table.header && isSame(cells, columns.header)) return [skipped(first, "is the header again")];
    const width = cells.findLastIndex((cell) => cell !== "") + 1;
    if (this.table.header && width > columns.header.length) {
      return [
        this.unreadable(
          first,
          last,
          text,
          `has ${width} cells under ${columns.header.length} headers${this.separator === "," ? ": a decimal comma without quotes?" : ""}`,
        ),
      ];
    }
    if (this.table.shape === "reading_per_row") return [this.readingOf(row, columns)];
    return this.readingsOf(row, columns);
  }

  private takeHeader(row: Row): Found {
    const missing = this.missingIn(row.cells);
    if (missing.length > 0) {
      this.rowsBefore += 1;
      if (this.rowsBefore > mostRowsBeforeHeader) throw this.noHeader();
      return skipped(row.first, "stands before the header");
    }
    this.columns = this.resolve(row.cells, row.first.no);
    return skipped(row.first, "is the header");
  }

  private noHeader(): UnreadableSource {
    const names = this.wantedNames()
      .map((name) => `"${name}"`)
      .join(", ");
    return new UnreadableSource(
      this.rowsBefore,
      `None of the first ${this.rowsBefore} rows names the columns ${names}: is it the right layout, and the right separator?`,
    );
  }

  private wantedNames(): string[] {
    return Object.values(this.table.columns)
      .flat()
      .filter((column) => typeof column === "string");
  }

  private missingIn(cells: readonly string[]): string[] {
    const known = new Set(cells.flatMap((cell) => [cell, splitHeader(cell).name]));
    return this.wantedNames().filter((name) => !known.has(name));
  }

  private resolve(header: string[], line: number): Columns {
    const at = Object.entries(this.table.columns).map(([field, named]): [FieldName, number[]] => [
      field as FieldName,
      [named].flat().map((column) => {
        if (typeof column === "number") return column - 1;
        const whole = indexesOf(header, (cell) => cell === column);
        const found =
          whole.length > 0 ? whole : indexesOf(header, (cell) => splitHeader(cell).name === column);
        if (found.length > 1) {
          throw new UnreadableSource(
            line,
            `The column "${column}" stands ${found.length} times in the header (columns ${found.map((i) => i + 1).join(", ")}): name the one that is meant by its number.`,
          );
        }
        return found[0]!;
      }),
    ]);
    const taken = new Set(at.flatMap(([, indexes]) => indexes));
    const leaveOut = new Set(this.table.leave_out);
    const wide =
      this.table.shape === "reading_per_row"
        ? []
        : header.flatMap((cell, i) => (cell === "" || taken.has(i) || leaveOut.has(cell) ? [] : [i]));
    const names = wide.map((i) => header[i]!);
    const doubled = names.find((name, i) => names.indexOf(name) !== i);
    if (doubled !== undefined) {
      throw new UnreadableSource(
        line,
        `The column "${doubled}" stands twice in the header: rename one of them, or leave it out (leave_out).`,
      );
    }
    return { header, at, wide };
  }

  private readingOf(row: Row, columns: Columns): Found {
    const { first, last, text, cells } = row;
    const record: SourceRecord = {
      kind: "record",
      line: first.no,
      lastLine: last.no,
      text,
      fields: {},
      parser: this.state(),
    };
    const unitOf: NonNullable<SourceRecord["unitOf"]> = {};
    for (const [field, indexes] of columns.at) {
      const [index = 0] = indexes;
      if (field === "value" && indexes.length > 1) {
        record.values = indexes.map((i) => ({ text: cells[i] ?? "", unit: headerUnit(columns.header[i]) }));
        record.fields.value = record.values.find((value) => value.text !== "")?.text ?? "";
        continue;
      }
      record.fields[field] = cells[index] ?? "";
      const unit = headerUnit(columns.header[index]);
      if (unit !== undefined) unitOf[field] = unit;
    }
    if (Object.keys(unitOf).length > 0) record.unitOf = unitOf;
    if (first.dropped || last.dropped) record.notes = ["control characters were left out"];
    return record;
  }

  private readingsOf(row: Row, columns: Columns): Found[] {
    const { first, last, cells } = row;
    const shared: Fields = {};
    for (const [field, [index = 0]] of columns.at) shared[field] = cells[index] ?? "";
    const perRow = this.table.shape === "piece_per_row";
    if (perRow) {
      const label = shared.serial ?? shared.piece ?? "";
      const limit = this.table.limit_rows[label];
      if (limit !== undefined) {
        this.limits = { ...this.limits, [limit]: cells };
        return [skipped(first, `holds the ${limit.replace("_", " ")} of each column`)];
      }
    }
    const parser = this.state();
    return columns.wide.map((i): Found => {
      const { name, unit } = splitHeader(columns.header[i]!);
      const asked = Object.fromEntries(
        Object.entries(this.limits).map(([limit, row]) => [limit, row[i] ?? ""]),
      );
      const own: Fields = perRow
        ? { ...asked, characteristic: name }
        : { [this.compiled.layout.piece_from === "serial" ? "serial" : "piece"]: name };
      const value = cells[i] ?? "";
      return {
        kind: "record",
        line: first.no,
        lastLine: last.no,
        column: columns.header[i]!,
        text: row.text,
        parser,
        fields: { ...shared, ...own, value },
        ...(unit !== undefined && { unitOf: { value: unit } }),
        ...(first.dropped && { notes: ["control characters were left out"] }),
      };
    });
  }
}

function headerUnit(header: string | undefined): string | undefined {
  return header === undefined ? undefined : splitHeader(header).unit;
}

function indexesOf(cells: readonly string[], fits: (cell: string) => boolean): number[] {
  return cells.flatMap((cell, i) => (fits(cell) ? [i] : []));
}

function isSame(cells: readonly string[], header: readonly string[]): boolean {
  return cells.length === header.length && cells.every((cell, i) => cell === header[i]);
}
