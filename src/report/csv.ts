import { csvCell } from "../core/notation/csv-cell.js";
import type { Report, ReportPiece, ReportResult } from "./report.js";

type Row = readonly (string | number | null)[];

const columns = [
  "piece",
  "serials",
  "seat",
  "outcome",
  "on_hold",
  "characteristic",
  "place",
  "cut",
  "result",
  "unit",
  "lower_limit",
  "upper_limit",
  "verdict",
  "counts",
  "value_given",
  "unit_given",
  "expanded_uncertainty",
  "gauge",
  "taken_by",
  "measured_at",
  "received_at",
  "flags",
  "reading_id",
  "proof",
  "why",
];

/**
 * One row for each reading, and one for each characteristic that was not measured on a piece: nothing is left out. RFC 4180,
 * with a byte order mark, since spreadsheets take UTF-8 for something else without.
 */
export async function* renderCsv({ head, bands }: Report): AsyncGenerator<string> {
  yield `\uFEFF${columns.join(",")}\r\n`;
  const units = head.characteristics.map(({ unit }) => unit);
  for await (const pieces of bands()) {
    yield pieces.flatMap((piece) => rowsOf(piece, units).map(writeRow)).join("");
  }
}

function rowsOf(piece: ReportPiece, units: readonly (string | null)[]): Row[] {
  const { disposition, on_hold, serials, seat } = piece;
  const about = [piece.piece, serials.join(" "), seat, disposition, on_hold ? "yes" : "no"];
  const measured = piece.results.map(
    (result): Row => [...about, ...cellsOf(result, units[result.of] ?? null)],
  );
  const missing = piece.not_measured.flatMap(({ characteristics, proof, why }) =>
    characteristics.map((name): Row => [...about, name, ...Array<null>(17).fill(null), proof, why]),
  );
  return [...measured, ...missing];
}

function cellsOf(result: ReportResult, unit: string | null): Row {
  return [
    result.characteristic,
    result.place,
    result.cut,
    result.result,
    unit,
    result.lower_limit,
    result.upper_limit,
    result.verdict,
    result.decides ? "yes" : "no",
    result.value,
    result.unit,
    result.expanded_uncertainty,
    result.gauge,
    result.taken_by,
    result.measured_at,
    result.received_at,
    result.flags.join(" "),
    result.reading_id,
    null,
    null,
  ];
}

/** A decimal stands as it is, digit for digit, below 0 too; what else begins like a formula is made a text. */
const decimal = /^-?\d+(\.\d+)?$/;

function writeRow(row: Row): string {
  const cells = row.map((cell) => (typeof cell === "string" && decimal.test(cell) ? cell : csvCell(cell)));
  return `${cells.join(",")}\r\n`;
}
