import { z } from "zod";
import { printedUnits } from "../core/notation/read-unit.js";
import { Name, strict } from "../http/types.js";
import { fieldNames, isFieldName } from "./fields.js";

const Field = z
  .string()
  .refine(
    (name): boolean => isFieldName(name),
    `is no field; fields are ${fieldNames.join(", ")}, and offset_7 for what register 7 held`,
  );
const Pattern = z.string().min(1).max(500);
const Cell = z.string().max(200);

const LineRule = strict({
  kind: z
    .enum(["record", "begin", "part", "end", "context", "not_measured", "skip"])
    .describe(
      "`record`: the line is a reading. `begin`, `part`, `end`: it begins, continues or ends one of several lines; without an `end` the next `begin` does. `context`: what it says holds for the readings after it. `not_measured`: it, or the reading it stands in, gave no number. `skip`: it tells nothing",
    ),
  pattern: Pattern.optional().describe(
    "A regular expression (RE2 syntax) that is looked for in the line; named groups (?P<value>…) are the fields",
  ),
  columns: z
    .array(
      strict({
        field: Field.describe("What stands there"),
        from: z.number().int().min(1).max(2000).describe("First column, from 1"),
        to: z.number().int().min(1).max(2000).describe("Last column"),
      }).refine(({ from, to }) => from <= to, "ends before it begins"),
    )
    .max(60)
    .optional()
    .describe("Fixed columns of the line, spaces around the text left off"),
  delimiter: z
    .string()
    .min(1)
    .max(6)
    .optional()
    .describe('What stands between the fields; "spaces": one space or more, "tab": a tabulator'),
  fields: z
    .array(Field.nullable())
    .max(100)
    .optional()
    .describe("The fields between the delimiters in their order; null: not wanted"),
});
export type LineRule = z.output<typeof LineRule>;

const Column = z.union([Cell.min(1), z.number().int().min(1).max(5000)]);
const Table = strict({
  separator: z
    .enum([",", ";", "tab", "|", "spaces"])
    .describe("What stands between the cells; `spaces`: one space or more"),
  quote: z.enum(['"', "'"]).nullish().describe('What stands around a cell that holds a separator; absent: "'),
  header: z
    .boolean()
    .default(true)
    .describe(
      "True: a row names the columns, and rows before it are skipped; false: columns are named by number",
    ),
  shape: z
    .enum(["reading_per_row", "piece_per_row", "piece_per_column"])
    .default("reading_per_row")
    .describe("What a row holds; with pieces in rows or columns the other direction is the characteristics"),
  columns: z
    .record(Field, z.union([Column, z.array(Column).min(1).max(4)]))
    .describe(
      "Which column is which field, by its header or its number from 1; several for one value in several units, which must agree",
    ),
  leave_out: z
    .array(Cell)
    .max(500)
    .default([])
    .describe("Columns of a wide table that are no characteristic and no piece"),
  limit_rows: z
    .record(
      Cell,
      z.enum([
        "nominal",
        "lower_limit",
        "upper_limit",
        "lower_deviation",
        "upper_deviation",
        "lower_tolerance",
      ]),
    )
    .default({})
    .describe(
      "Rows of a table with a piece per row that hold what the sizes should be, by what stands in the piece's column",
    ),
  skip_rows: z.array(Pattern).max(50).default([]).describe("Rows that match one of these tell nothing"),
});
export type TableLayout = z.output<typeof Table>;

const Dmis = strict({
  names: z
    .enum(["feature_and_tolerance", "tolerance"])
    .default("feature_and_tolerance")
    .describe(
      "Which characteristic a reported tolerance is, for `translate`: \"CIRC1 DIAM2\", in capitals but for the tolerance's label, or the tolerance's label alone, which then may stand on one feature only",
    ),
  actuals: z
    .enum(["detect", "size", "deviation"])
    .default("detect")
    .describe(
      "What a reported tolerance of size says: its size, or its deviation from the nominal size. `detect`: by the actual feature beside it and by INTOL and OUTOL; what could be both is refused. What the actual feature shows beats this",
    ),
  lot: z
    .enum(["note", "batch"])
    .default("note")
    .describe("What its lot is to us: a remark, or the batch's name"),
});

const Qif = strict({
  names: z
    .enum(["designator", "name"])
    .default("designator")
    .describe(
      'Which characteristic a value is of: the designator on the drawing (balloon number), or its name; the other one where there is none. For `translate`: an item that was measured on several features is also "NAME @ FEATURE", so that each may be a characteristic of its own; else the feature is the place',
    ),
  angle_unit: z
    .enum(["deg", "arcmin", "arcsec", "rad"])
    .nullish()
    .describe(
      "Unit of angles that bear none and of which the document says none; null: such values are refused",
    ),
});

const shape = {
  name: Name.describe("What people call it"),
  format: z
    .enum(["text", "table", "json_lines", "gauge_lines", "dmis", "mtconnect", "qif"])
    .describe(
      "`text`: lines read by `rules`. `table`: rows and columns. `json_lines`: one JSON object per line. `gauge_lines`: what a gauge's cable sends, a line per value: channel, sign, digits, unit, status. `dmis`: output of a measuring machine in DMIS (ISO 22093). `mtconnect`: features that a machine has measured and publishes in an MTConnect stream. `qif`: results in the Quality Information Framework (ISO 23952), version 2 or 3; read as a whole",
    ),
  encoding: z
    .enum(["detect", "utf-8", "utf-16le", "utf-16be", "windows-1252"])
    .default("detect")
    .describe(
      "`detect`: by a byte order mark, else UTF-8, or Windows-1252 where the first accented letter is no UTF-8",
    ),
  control_characters: z
    .enum(["refuse", "drop"])
    .default("refuse")
    .describe(
      "What becomes of NUL and other control characters: the line is refused, or they are left out and it is noted",
    ),
  skip_lines: z
    .number()
    .int()
    .min(0)
    .max(10_000)
    .default(0)
    .describe("How many lines at the beginning tell nothing"),
  decimal_sign: z
    .enum([".", ",", "both"])
    .default(".")
    .describe("`both`: point and comma are decimal signs alike"),
  grouping_sign: z
    .enum([".", ",", " ", "'"])
    .nullish()
    .describe("What stands between thousands; null: nothing"),
  unit: z
    .enum(printedUnits)
    .nullish()
    .describe("Unit of values that bear none; null: such values are refused"),
  scale: z
    .string()
    .regex(/^\d{1,6}(\.\d{1,12})?$/, 'is no factor: send a decimal such as "0.0001"')
    .nullish()
    .describe(
      "What a number printed without a decimal sign is multiplied by; null: one with zeros in front is refused, and from a gauge's cable any",
    ),
  time_zone: z
    .string()
    .max(60)
    .refine(isTimeZone, 'is no time zone; send one of the IANA names, such as "Europe/Berlin"')
    .nullish()
    .describe("Zone of times without an offset; null: such times are refused"),
  time_formats: z
    .array(z.string().min(1).max(60))
    .max(10)
    .default([])
    .describe('How date and time are written, such as "DD.MM.YYYY HH:mm:ss"; none: ISO 8601'),
  rules: z
    .array(LineRule)
    .max(50)
    .default([])
    .describe("Format `text`: what each line is; the first rule that fits counts"),
  other_lines: z
    .enum(["refuse", "skip"])
    .default("refuse")
    .describe("Lines that no rule fits: kept and reported, or passed over"),
  table: Table.nullish().describe("Format `table`: rows and columns"),
  dmis: Dmis.nullish().describe("Format `dmis`: what such files leave open"),
  qif: Qif.nullish().describe("Format `qif`: what such documents leave open"),
  members: z
    .record(Field, Cell.min(1))
    .default({})
    .describe(
      'Format `json_lines`: which member is which field, "result.size" for one inside another; absent: of the same name',
    ),
  constants: z
    .record(Field, Cell)
    .default({})
    .describe("Fields that the file does not say, the same for all of it"),
  translate: z
    .record(Field, z.record(Cell, Cell))
    .default({})
    .describe(
      'Names of the file to ours, by field: { "characteristic": { "BORE D": "12" } }; `result` to `pass` or `fail`',
    ),
  marks: z
    .record(z.string().min(1).max(10), z.enum(["pass", "fail", "ignore"]))
    .default({})
    .describe('Marks beside a value and what they say: { "*": "fail" }; "()" for parentheses around it'),
  no_value: z
    .array(Cell)
    .max(50)
    .default([])
    .describe("What else a file writes where there is no value, such as 9999.999"),
  piece_from: z
    .enum(["field", "serial", "count"])
    .default("field")
    .describe(
      "Where the piece's number comes from. `serial`: a serial number new to the batch is its next piece, so that pieces stand in the file as they were cut. `count`: the next reading of a characteristic is of the next piece",
    ),
};

function isTimeZone(name: string): boolean {
  try {
    new Intl.DateTimeFormat("en", { timeZone: name });
    return true;
  } catch {
    return false;
  }
}

/** A layout by itself; whether its parts fit together is for `compileLayout`. */
export const LayoutShape = strict(shape);
export type Layout = z.output<typeof LayoutShape>;
