import { LayoutShape } from "../../src/import/layout.js";

type LayoutInput = Parameters<typeof LayoutShape.parse>[0];
const table = (separator: string, columns: object, change: object = {}) => ({
  separator,
  columns,
  ...change,
});

/** One layout for each sample file: what its user would describe. Only `piece_from` is the same: none of them says a piece. */
const layouts: Record<string, LayoutInput> = {
  "dmis/two-pieces.dmo": { format: "dmis", time_zone: "Europe/Berlin", piece_from: "serial" },
  "dmis/plate-results.dmo": { format: "dmis", dmis: { names: "tolerance" } },
  "gauge/serial-decimal-comma.txt": { format: "gauge_lines", decimal_sign: "," },
  "gauge/serial-sign-unit.txt": { format: "gauge_lines" },
  "gauge/serial-status-lines.txt": {
    format: "gauge_lines",
    translate: { result: { OK: "pass", NOK: "fail" } },
    rules: [{ kind: "skip", pattern: "^(ERR|LOW BATTERY)" }],
  },
  "gauge/wedge-bare-numbers.txt": { format: "gauge_lines", unit: "mm" },
  "logs/macro-print-columns.txt": {
    format: "text",
    unit: "mm",
    time_zone: "Europe/Berlin",
    time_formats: ["YYYY/MM/DD HH:mm:ss"],
    marks: { "*OUT*": "fail" },
    rules: [
      { kind: "skip", pattern: "^(%|END|NO )" },
      { kind: "context", pattern: "^PROGRAM \\S+ +PART (?P<part_number>\\S+) REV (?P<revision>\\S+)" },
      { kind: "context", pattern: "^DATE (?P<date>\\S+) +TIME (?P<time>\\S+)" },
      {
        kind: "record",
        pattern: "^ *\\d+  ",
        columns: [
          { field: "record", from: 1, to: 2 },
          { field: "characteristic", from: 5, to: 14 },
          { field: "nominal", from: 15, to: 24 },
          { field: "value", from: 25, to: 34 },
          { field: "lower_deviation", from: 45, to: 54 },
          { field: "upper_deviation", from: 55, to: 64 },
          { field: "result", from: 65, to: 80 },
        ],
      },
    ],
  },
  "logs/macro-print-implied-decimals.txt": {
    format: "text",
    rules: [
      { kind: "context", pattern: "^UNITS OF (?P<scale>[.\\d]+) (?P<unit>MM|IN)" },
      { kind: "record", delimiter: "spaces", fields: ["characteristic", "value"] },
    ],
  },
  "logs/macro-print-key-value.txt": {
    format: "text",
    time_zone: "Europe/Berlin",
    rules: [
      {
        kind: "record",
        pattern:
          "^T(?P<tool>\\d\\d)\\d\\d F=(?P<characteristic>\\S+) NOM=(?P<nominal>\\S+) MEAS=(?P<value>\\S+) DEV=\\S+ UTOL=(?P<upper_deviation>\\S+) LTOL=(?P<lower_deviation>\\S+) U=(?P<unit>\\S+) SN=(?P<serial>\\S+) (?P<measured_at>\\S+)$",
      },
    ],
  },
  "logs/macro-print-multiline-records.txt": {
    format: "text",
    unit: "mm",
    time_zone: "Europe/Berlin",
    time_formats: ["DD.MM.YYYY HH:mm"],
    rules: [
      { kind: "begin", pattern: "^-+$" },
      { kind: "part", pattern: "^SERIAL +(?P<serial>\\S+)$" },
      { kind: "part", pattern: "^TIME +(?P<measured_at>.+)$" },
      { kind: "part", pattern: "^FEATURE +(?P<characteristic>.+)$" },
      { kind: "part", pattern: "^NOMINAL +(?P<nominal>\\S+)$" },
      { kind: "part", pattern: "^MEASURED +(?P<value>\\S+)$" },
      { kind: "part", pattern: "^ERROR " },
      { kind: "not_measured", pattern: "^ALARM" },
    ],
  },
  "logs/serial-capture-control-bytes.bin": {
    format: "text",
    unit: "mm",
    control_characters: "drop",
    rules: [
      { kind: "skip", pattern: "^%" },
      { kind: "record", pattern: "^(?P<characteristic>\\S+) (?P<value>[-+.\\d]+);? *$" },
    ],
  },
  "logs/machine-state-cleaned.txt": { format: "gauge_lines" },
  "logs/machine-state-hardwrapped-80.txt": { format: "gauge_lines" },
  "mtconnect/streams-feature-measurement.xml": { format: "mtconnect" },
  "tables/angles.csv": {
    format: "table",
    decimal_sign: "both",
    unit: "deg",
    table: table(";", { characteristic: "Feature", nominal: "Nominal", value: "Actual", tolerance: "Tol" }),
  },
  "tables/formula-cells.csv": {
    format: "table",
    unit: "mm",
    table: table(",", { characteristic: "Feature", value: "Actual", note: "Note" }),
  },
  "tables/gear-diameter.dat": {
    format: "table",
    unit: "inch",
    constants: { characteristic: "DIAMETER" },
    translate: {
      batch: Object.fromEntries(Array.from({ length: 10 }, (_, i) => [`${i + 1}.000`, `${i + 1}`])),
    },
    table: table("spaces", { value: "DIAMETER", batch: "BATCH" }),
  },
  "tables/inch-and-mm-columns.csv": {
    format: "table",
    table: table(",", {
      characteristic: "Feature",
      value: ["Actual (in)", "Actual (mm)"],
      lower_limit: "Min",
      upper_limit: "Max",
    }),
  },
  "tables/linewidth-check-standards.dat": {
    format: "table",
    unit: "µm",
    skip_lines: 22,
    table: table("spaces", { note: "DAY", characteristic: "POSITION", nominal: "X", value: "Y" }),
  },
  "tables/missing-values.csv": {
    format: "table",
    unit: "mm",
    no_value: ["9999.999"],
    table: table(",", {
      characteristic: "Feature",
      nominal: "Nominal",
      lower_limit: "LSL",
      upper_limit: "USL",
      value: "Actual",
    }),
  },
  "tables/mixed-units-per-row.csv": {
    format: "table",
    table: table(",", {
      characteristic: "feature",
      value: "value",
      unit: "unit",
      lower_limit: "lower",
      upper_limit: "upper",
    }),
  },
  "tables/out-of-tolerance-marks.csv": {
    format: "table",
    unit: "mm",
    marks: { "*": "fail", "()": "fail", OK: "pass", "!!": "fail" },
    table: table(",", {
      characteristic: "Feature",
      value: "Actual",
      lower_limit: "Low",
      upper_limit: "High",
    }),
  },
  "tables/plus-minus-text.csv": {
    format: "table",
    unit: "mm",
    decimal_sign: "both",
    table: table(";", { characteristic: "Feature", requirement: "Requirement", value: "Actual" }),
  },
  "tables/report-page-breaks.txt": {
    format: "text",
    unit: "mm",
    marks: { ">": "fail", "<": "fail" },
    rules: [
      { kind: "skip", pattern: "^ *INSPECTION REPORT" },
      { kind: "skip", pattern: "^NAME " },
      { kind: "skip", pattern: "OUT OF TOLERANCE$" },
      { kind: "context", pattern: "^PART (?P<part_number>\\S+) +DATE" },
      {
        kind: "record",
        columns: [
          { field: "characteristic", from: 1, to: 8 },
          { field: "nominal", from: 9, to: 15 },
          { field: "upper_deviation", from: 16, to: 24 },
          { field: "lower_deviation", from: 25, to: 33 },
          { field: "value", from: 34, to: 42 },
          { field: "result", from: 52, to: 54 },
        ],
      },
    ],
  },
  "tables/semicolon-comma-bom.csv": {
    format: "table",
    decimal_sign: ",",
    translate: { result: { "i.O.": "pass", "n.i.O.": "fail" } },
    table: table(";", {
      characteristic: "Merkmal",
      nominal: "Soll",
      upper_deviation: "OT",
      lower_deviation: "UT",
      value: "Ist",
      result: "Bew.",
    }),
  },
  "tables/spreadsheet-mangled-ids.csv": {
    format: "table",
    constants: { characteristic: "D1" },
    table: table(",", { part_number: "Part", serial: "Serial", value: "D1" }),
  },
  "tables/utf16le-tab.txt": {
    format: "table",
    table: table("tab", { characteristic: "Feature", nominal: "Nominal", value: "Actual", unit: "Unit" }),
  },
  "tables/wide-features-as-rows.csv": {
    format: "table",
    unit: "mm",
    decimal_sign: ",",
    table: table(
      ";",
      { characteristic: "Feature", nominal: "Nominal", upper_deviation: "+Tol", lower_tolerance: "-Tol" },
      { shape: "piece_per_column" },
    ),
  },
  "tables/wide-parts-as-rows.csv": {
    format: "table",
    unit: "mm",
    table: table(
      ",",
      { serial: "Serial" },
      {
        shape: "piece_per_row",
        limit_rows: { NOMINAL: "nominal", UPPER: "upper_deviation", LOWER: "lower_deviation" },
      },
    ),
  },
  "tables/windows1252-units.csv": {
    format: "table",
    decimal_sign: ",",
    table: table(";", { characteristic: "Merkmal", value: "Ist", unit: "Einheit", upper_limit: "Grenze" }),
  },
};

export function sampleLayout(file: string, change: object = {}) {
  const layout = layouts[file];
  if (!layout) throw new Error(`no layout for ${file}`);
  return LayoutShape.parse({ name: file, piece_from: "count", ...layout, ...change });
}
