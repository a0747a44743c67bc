import { RE2JS } from "re2js";
import { compileTimeFormat, type TimeFormat } from "../core/notation/read-instant.js";
import { type FieldName, type Fields, isFieldName } from "./fields.js";
import type { Layout, LineRule } from "./layout.js";

/** A pattern of a user on an engine whose time is linear in the text. */
export interface LinePattern {
  /** Steps that it may take for each character. */
  size: number;
  test(text: string): boolean;
  /** The named groups that took part; undefined: the pattern does not fit. */
  groups(text: string): Fields | undefined;
}

export interface CompiledRule {
  kind: LineRule["kind"];
  size: number;
  /** Which fields the line says; undefined: the rule does not fit. A text: it fits, but why it can't be read. */
  read(text: string): Fields | string | undefined;
}

export interface CompiledLayout {
  layout: Layout;
  rules: CompiledRule[];
  skipRows: LinePattern[];
  timeFormats: TimeFormat[];
}

interface LayoutFault {
  path: (string | number)[];
  message: string;
}

const isFigure = /[\d.,+-]/;
const isInside = /[\d.,]/;
/** Steps that all patterns of a layout may have for a character: with the longest text it bounds the time. */
const largestProgram = 2000;
export const longestMatched = 8192;

/** Everything of a layout that can be made ready once, and everything that is wrong with it. */
export function compileLayout(layout: Layout): CompiledLayout & { faults: LayoutFault[] } {
  const faults: LayoutFault[] = [];
  const rules = layout.rules.flatMap((rule, i) => compileRule(rule, ["rules", i], faults) ?? []);
  const skipRows = (layout.table?.skip_rows ?? []).flatMap(
    (pattern, i) => compilePattern(pattern, ["table", "skip_rows", i], faults) ?? [],
  );
  const timeFormats = layout.time_formats.flatMap((text, i) => {
    const format = compileTimeFormat(text);
    if (!("fault" in format)) return [format];
    faults.push({ path: ["time_formats", i], message: format.fault });
    return [];
  });
  const steps = [...rules, ...skipRows].reduce((sum, { size }) => sum + size, 0);
  if (steps > largestProgram && faults.length === 0) {
    faults.push({
      path: ["rules"],
      message: `are too much together: their patterns come to ${steps} steps for a character, ${largestProgram} are allowed. Shorten their repetitions`,
    });
  }
  faults.push(...contradictions(layout));
  return { layout, rules, skipRows, timeFormats, faults };
}

function contradictions(layout: Layout): LayoutFault[] {
  const { scale, time_formats } = layout;
  const { format, rules, table, decimal_sign, grouping_sign, constants, piece_from, dmis, qif } = layout;
  const faults: LayoutFault[] = [];
  const add = (path: string, message: string) => faults.push({ path: path.split("."), message });
  if (
    grouping_sign &&
    (decimal_sign === grouping_sign || (decimal_sign === "both" && /[.,]/.test(grouping_sign)))
  ) {
    add("grouping_sign", "is the decimal sign already: what stands between thousands must be another one");
  }
  if (format === "text" && !rules.some(({ kind }) => kind === "record" || kind === "begin")) {
    add("rules", 'have none of kind "record" or "begin", so that nothing would be read');
  }
  if (format !== "text" && rules.some(({ kind }) => kind !== "skip")) {
    add("rules", `are of format "text"; "${format}" takes only those of kind "skip"`);
  }
  if ((format === "table") !== Boolean(table)) {
    add(
      "table",
      format === "table"
        ? "is missing: say its separator and columns"
        : `belongs to format "table", not "${format}"`,
    );
  }
  if (dmis && format !== "dmis") add("dmis", `belongs to format "dmis", not "${format}"`);
  if (qif && format !== "qif") add("qif", `belongs to format "qif", not "${format}"`);
  if (format === "qif") {
    if (decimal_sign !== ".") add("decimal_sign", "is a point in QIF");
    if (rules.length > 0)
      add("rules", 'are of no use to format "qif": elements say themselves what they are');
    if (scale) add("scale", "is of no use to QIF: a number without a point is whole");
    if (time_formats.length > 0) add("time_formats", "are of no use to QIF: it writes ISO 8601");
    if (piece_from === "field")
      add(
        "piece_from",
        'must be "serial" or "count": QIF numbers no pieces, it has serial numbers and sets of results',
      );
  }
  if (format === "mtconnect" && rules.length > 0) add("rules", 'are of no use to format "mtconnect"');
  if (format === "dmis") {
    if (decimal_sign !== ".") add("decimal_sign", "is a point in DMIS");
    if (rules.length > 0)
      add("rules", 'are of no use to format "dmis": statements say themselves what they are');
    if (scale) add("scale", "is of no use to DMIS: a number without a point is whole");
    if (time_formats.length > 0) add("time_formats", "are of no use to DMIS: it writes year, month, day");
  }
  if (table) {
    const { shape, columns, header } = table;
    const wanted: FieldName[] = {
      reading_per_row: ["value"],
      piece_per_row: [],
      piece_per_column: ["characteristic"],
    }[shape] as FieldName[];
    for (const field of wanted) {
      if (!(field in columns)) add("table.columns", `name no column for "${field}"`);
    }
    if (shape !== "reading_per_row" && !header)
      add("table.header", "is needed: it names the characteristics or pieces");
    if (shape !== "reading_per_row" && "value" in columns) {
      add("table.columns.value", "is every column that is no other field, in a wide table: leave it out");
    }
    if (
      shape === "piece_per_row" &&
      !("serial" in columns) &&
      !("piece" in columns) &&
      piece_from !== "count"
    ) {
      add("table.columns", 'name no column for "serial" or "piece"');
    }
    if (
      !header &&
      Object.values(columns)
        .flat()
        .some((column) => typeof column === "string")
    ) {
      add("table.columns", "are named by header, but the table has none: give their numbers");
    }
  }
  if (constants.value !== undefined) add("constants.value", "would make every reading the same");
  return faults;
}

function compileRule(
  rule: LineRule,
  path: (string | number)[],
  faults: LayoutFault[],
): CompiledRule | undefined {
  const { kind, pattern: text, columns, delimiter, fields } = rule;
  const pattern = text === undefined ? undefined : compilePattern(text, [...path, "pattern"], faults);
  if (text !== undefined && !pattern) return undefined;
  if ((delimiter === undefined) !== (fields === undefined)) {
    faults.push({ path: [...path, "delimiter"], message: "and fields go together" });
    return undefined;
  }
  if (!pattern && !columns && !fields) {
    faults.push({
      path,
      message: "says nothing of the line: give a pattern, columns, or a delimiter with fields",
    });
    return undefined;
  }
  if (columns && fields) {
    faults.push({ path: [...path, "columns"], message: "and fields exclude each other" });
    return undefined;
  }
  return {
    kind,
    size: pattern?.size ?? 0,
    read(line) {
      const named = pattern ? pattern.groups(line) : {};
      if (!named) return undefined;
      if (columns) {
        const fixed = readColumns(line, columns);
        return typeof fixed === "string" ? fixed : { ...named, ...fixed };
      }
      if (!fields) return named;
      const between = readDelimited(line, delimiter!, fields);
      return between && { ...named, ...between };
    },
  };
}

/** Columns that cut through a number would misread it: then the line is not what the layout describes. */
function readColumns(line: string, columns: NonNullable<LineRule["columns"]>): Fields | string {
  const found: Fields = {};
  for (const { field, from, to } of columns) {
    for (const edge of [from - 1, to]) {
      if (isFigure.test(line[edge - 1] ?? "") && isInside.test(line[edge] ?? "")) {
        return `has a number that column ${edge} cuts in two ("${line.slice(Math.max(0, edge - 8), edge + 8).trim()}")`;
      }
    }
    found[field as FieldName] = line.slice(from - 1, to).trim();
  }
  return found;
}

function readDelimited(line: string, delimiter: string, fields: readonly (string | null)[]) {
  const parts = splitBy(line, delimiter);
  if (parts.length < fields.length) return undefined;
  const found: Fields = {};
  fields.forEach((field, i) => {
    if (field !== null) found[field as FieldName] = parts[i]!.trim();
  });
  return found;
}

export function splitBy(line: string, delimiter: string): string[] {
  if (delimiter === "spaces") return line.trim().split(/[ \t]+/);
  return line.split(delimiter === "tab" ? "\t" : delimiter);
}

function compilePattern(
  text: string,
  path: (string | number)[],
  faults: LayoutFault[],
): LinePattern | undefined {
  try {
    const compiled = RE2JS.compile(text);
    const names = Object.keys(compiled.namedGroups());
    const unknown = names.find((name) => !isFieldName(name));
    if (unknown !== undefined) {
      faults.push({ path, message: `names the group "${unknown}", which is no field` });
      return undefined;
    }
    return {
      size: compiled.programSize(),
      test: (line) => compiled.matcher(line.slice(0, longestMatched)).find(),
      groups(line) {
        const matcher = compiled.matcher(line);
        if (!matcher.find()) return undefined;
        const found: Fields = {};
        for (const name of names) {
          const value = matcher.group(name);
          if (value !== null) found[name as FieldName] = value.trim();
        }
        return found;
      },
    };
  } catch (error) {
    const reason = error instanceof Error ? error.message.replace(/^error parsing regexp: /, "") : "";
    faults.push({
      path,
      message: `is no regular expression (RE2 syntax: no look-around, no back-references): ${reason}`,
    });
    return undefined;
  }
}
