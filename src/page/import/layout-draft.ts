import type { components } from "../../../openapi/openapi.js";

/** A layout as it is sent, and as the service has it out. */
export type LayoutSent = components["schemas"]["LogLayoutCreate"];
export type LayoutKept = components["schemas"]["LogLayout"];
export type Format = LayoutSent["format"];
type Table = NonNullable<LayoutSent["table"]>;
export type Shape = NonNullable<Table["shape"]>;
export type Separator = Table["separator"];
type Rule = NonNullable<LayoutSent["rules"]>[number];

export const formatWords: Record<Format, string> = {
  table: "a table: rows and columns",
  text: "a text log: lines that look alike",
  gauge_lines: "what a gauge's cable sends",
  json_lines: "one JSON object per line",
  dmis: "DMIS output of a measuring machine",
  mtconnect: "an MTConnect document",
  qif: "a QIF results document",
};

export const separatorWords: Record<Separator, string> = {
  ";": "semicolon ;",
  ",": "comma ,",
  tab: "tab",
  "|": "bar |",
  spaces: "spaces",
};

/** The fields that a shop's files say most, in the order in which they are offered. */
export const fieldWords: Record<string, string> = {
  characteristic: "feature (balloon number)",
  value: "size read",
  piece: "piece",
  serial: "serial number",
  unit: "unit",
  place: "place on the feature",
  cut: "cut",
  seat: "seat",
  measured_at: "date and time",
  date: "date",
  time: "time",
  gauge: "gauge",
  taken_by: "who",
  nominal: "nominal size",
  lower_limit: "lower limit",
  upper_limit: "upper limit",
  lower_deviation: "lower deviation",
  upper_deviation: "upper deviation",
  result: "the file's own verdict",
  batch: "job",
  part_number: "part number",
  revision: "revision",
  dx: "deviation along x",
  dy: "deviation along y",
  count: "count",
  temperature_c: "temperature of the part, °C",
  tool: "tool",
  record: "its own record number",
  note: "remark",
};

/** One rule of a text log, as it stands in the form. */
export interface RuleDraft {
  kind: Rule["kind"];
  how: "pattern" | "delimiter" | "columns";
  pattern: string;
  delimiter: string;
  /** Fields in their order, parted by commas; of fixed columns each with its place: "value 13-22". */
  fields: string;
}

/** A new layout says nothing that nobody has said: only the format and the separator are chosen. */
export function newLayout(format: Format): LayoutSent {
  const base = { name: "", format };
  if (format === "table") return { ...base, table: { separator: ";", columns: {} } };
  if (format === "text") return { ...base, rules: [] };
  return format === "qif" || format === "mtconnect" ? { ...base, piece_from: "serial" } : base;
}

export function toRuleDraft(rule: Rule): RuleDraft {
  const { kind, pattern = "", delimiter = "", fields = [], columns } = rule;
  return {
    kind,
    how: columns ? "columns" : rule.delimiter === undefined ? "pattern" : "delimiter",
    pattern,
    delimiter,
    fields: columns
      ? columns.map(({ field, from, to }) => `${field} ${from}-${to}`).join(", ")
      : fields.map((field) => field ?? "").join(", "),
  };
}

export function toRule({ kind, how, pattern, delimiter, fields }: RuleDraft): Rule {
  const named = fields.split(",").map((field) => field.trim());
  const base = { kind, ...(pattern !== "" && { pattern }) };
  if (how === "delimiter") return { ...base, delimiter, fields: named.map((field) => field || null) };
  if (how === "pattern") return base;
  return {
    ...base,
    columns: named.flatMap((text) => {
      const [, field = "", from, to] = /^(\w+)\s+(\d+)\s*[-–]\s*(\d+)$/.exec(text) ?? [];
      return from === undefined ? [] : [{ field, from: Number(from), to: Number(to) }];
    }),
  };
}

/** The columns of a table by what can name them, and what stands first in each: from the lines at the head of the file. */
export function columnsOf(text: string, { skip_lines = 0, table }: LayoutSent) {
  if (!table) return [];
  const rows = text
    .split(/\r?\n/)
    .slice(skip_lines, skip_lines + 30)
    .map((line) => cells(line, table.separator, table.quote ?? '"'))
    .filter((row) => row.some((cell) => cell !== ""));
  const most = Math.max(0, ...rows.map((row) => row.length));
  const head = rows.findIndex((row) => row.length === most);
  const hasHeader = table.header ?? true;
  const first = rows[hasHeader ? head + 1 : head] ?? [];
  return (rows[head] ?? []).map((title, index) => ({
    name: hasHeader ? title : index + 1,
    title: hasHeader ? title || `(column ${index + 1})` : `column ${index + 1}`,
    example: first[index] ?? "",
  }));
}

function cells(line: string, separator: Separator, quote: string): string[] {
  if (separator === "spaces") return line.trim().split(/\s+/);
  const sign = separator === "tab" ? "\t" : separator;
  const found: string[] = [""];
  let isQuoted = false;
  for (const char of line) {
    if (char === quote) isQuoted = !isQuoted;
    else if (char === sign && !isQuoted) found.push("");
    else found[found.length - 1] += char;
  }
  return found.map((cell) => cell.trim());
}

/** What a refused line asks to be decided: what each answer changes in the layout, in words with the numbers of the line. */
export function choicesIn(why: string): { words: string; change: Partial<LayoutSent> }[] {
  const unit = /bears no unit: (\S+) mm or \S+ inch/.exec(why);
  if (unit) {
    return (["mm", "inch"] as const).map((name) => ({
      words: `${unit[1]} is in ${name}`,
      change: { unit: name },
    }));
  }
  const decimal = /(\S+) with a decimal (comma|point)/.exec(why);
  const grouped = /(\S+) with a (comma|point|space|apostrophe) between thousands/.exec(why);
  const signs = { comma: ",", point: ".", space: " ", apostrophe: "'" } as const;
  const choices: ReturnType<typeof choicesIn> = [];
  if (decimal) {
    const sign = signs[decimal[2] as "comma" | "point"];
    choices.push({
      words: `it is ${decimal[1]}: the ${decimal[2]} is the decimal sign`,
      change: { decimal_sign: sign, grouping_sign: null },
    });
  }
  if (grouped) {
    const sign = signs[grouped[2] as keyof typeof signs];
    choices.push({
      words: `it is ${grouped[1]}: the ${grouped[2]} stands between thousands`,
      change: { grouping_sign: sign, decimal_sign: sign === "." ? "," : "." },
    });
  }
  return choices;
}
