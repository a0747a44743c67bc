import { csvCell, csvSize } from "../core/notation/csv-cell.js";
import type { Report, ReportPiece, ReportResult } from "./report.js";

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
    yield pieces.flatMap((piece) => rowsOf(piece, units).map((row) => `${row.join(",")}\r\n`)).join("");
  }
}

/** Cells as they are written. Names and numbers of things stay texts: a serial number 0042 must not become 42. */
function rowsOf(piece: ReportPiece, units: readonly (string | null)[]): string[][] {
  const { disposition, on_hold, serials, seat } = piece;
  const about = [String(piece.piece), text(serials.join(" ")), text(seat), disposition, yesNo(on_hold)];
  const measured = piece.results.map((result) => [...about, ...cellsOf(result, units[result.of] ?? null)]);
  const missing = piece.not_measured.flatMap(({ characteristics, proof, why }) =>
    characteristics.map((name) => [...about, text(name), ...Array<string>(17).fill(""), proof, text(why)]),
  );
  return [...measured, ...missing];
}

function cellsOf(result: ReportResult, unit: string | null): string[] {
  return [
    text(result.characteristic),
    text(result.place),
    String(result.cut),
    csvSize(result.result),
    text(unit),
    csvSize(result.lower_limit),
    csvSize(result.upper_limit),
    result.verdict,
    yesNo(result.decides),
    csvSize(result.value),
    text(result.unit),
    csvSize(result.expanded_uncertainty),
    text(result.gauge),
    text(result.taken_by),
    text(result.measured_at),
    text(result.received_at),
    text(result.flags.join(" ")),
    text(result.reading_id),
    "",
    "",
  ];
}

function text(value: string | null): string {
  return csvCell(value, { keepText: true });
}

function yesNo(is: boolean): string {
  return is ? "yes" : "no";
}
