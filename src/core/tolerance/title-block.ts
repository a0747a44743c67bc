/** One line of a drawing's table of general tolerances by decimal places. */
export interface TitleBlockLine {
  /** Places after the decimal point with which a nominal size is written. */
  readonly places: number;
  readonly plusMinusPm: number;
}

/**
 * Places with which a decimal is written: those after its point, zeros at the end included ("0.500" has three).
 * Common practice of inch drawings, no source.
 */
export function writtenPlaces(decimal: string): number {
  const point = decimal.indexOf(".");
  return point < 0 ? 0 : decimal.length - point - 1;
}

/** The line for a nominal size as it is written, or undefined where the table has none for its places. */
export function findTitleBlockLine(
  nominal: string,
  titleBlock: readonly TitleBlockLine[],
): TitleBlockLine | undefined {
  const places = writtenPlaces(nominal);
  return titleBlock.find((line) => line.places === places);
}
