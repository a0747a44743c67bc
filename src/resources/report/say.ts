import type { BatchView } from "../../decision/batch-view.js";

/** What a report says in words. */

export const cautions = [
  "Values stand as they were measured and are not rounded. A size on a limit conforms.",
  "This is a record of measurements. Safety-critical parts are released by qualified inspection, not by this document alone.",
];

/** The rules by which it was decided what is measured on which piece: the proof for what was not measured. */
export function sayPlan({ features, part, quantity }: BatchView, smallLot: number): string[] {
  const of = (importance: string) =>
    [...new Set(features.filter((f) => f.importance === importance).map((f) => f.characteristic))].join(", ");
  const [critical, key, ordinary] = [of("critical"), of("key"), of("ordinary")];
  const lines: string[] = [];
  if (critical !== "") lines.push(`Critical, measured on every piece: ${critical}.`);
  if (key !== "") lines.push(`Key, measured on every piece: ${key}.`);
  if (ordinary !== "") {
    const percent = Number((part.risk * 100).toPrecision(3));
    lines.push(
      `Ordinary: ${ordinary}. On the first and the last piece, on the first one after every change of an offset or an edge and after every interruption, and every piece until checks have been good in a row; from there on at intervals that keep the chance of a piece outside a limit unmeasured below ${percent} %, and of at most ${part.largestInterval} pieces.`,
    );
    if (quantity !== undefined && quantity < smallLot) {
      lines.push(`Fewer than ${smallLot} pieces: every piece is measured.`);
    }
  }
  lines.push(
    "A feature that was not due on a piece counts as good on it where the pieces measured before and after it are good and nothing between them failed.",
  );
  return lines;
}
