/** What a spreadsheet would run or turn into a number or a date when it opens a table. */
const formula = /^[=+\-@\t\r]/;
const convertible =
  /^(?:0\d+|\d+[eE]\d+|0[xX][\dA-Fa-f]+|\d{1,4}[-/.]\d{1,2}(?:[-/.]\d{1,4})?|\d{1,2}[-/]\d{1,4}|[A-Za-z]{3}[- ]?\d{1,4})$/;

/**
 * One cell of a comma-separated table (RFC 4180). A text that a spreadsheet would run as a formula begins with an
 * apostrophe; a number, below 0 too, stays a number.
 * @param keepText also texts that a spreadsheet would take for a number or a date begin with an apostrophe
 */
export function csvCell(value: string | number | null, { keepText = false } = {}): string {
  if (value === null) return "";
  if (typeof value === "number") return String(value);
  const guarded = formula.test(value) || (keepText && convertible.test(value)) ? `'${value}` : value;
  return /[",\r\n]/.test(guarded) || guarded !== value ? `"${guarded.replaceAll('"', '""')}"` : guarded;
}

const plainDecimal = /^-?\d+(\.\d+)?$/;

/** A size as a cell: digit for digit as it stands where it is a number, also below 0; any other text is guarded. */
export function csvSize(size: string | null): string {
  return size !== null && plainDecimal.test(size) ? size : csvCell(size, { keepText: true });
}
