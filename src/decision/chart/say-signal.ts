import type { RunRule } from "../../core/control-chart/run-rules.js";

/** What to look at, by what a pattern usually comes from (common practice, no source). */
const patterns: Record<string, string> = {
  "2 of 3": "two of three are far to one side: the size has probably moved",
  "4 of 5": "four of five lie to one side: the size has probably moved a little",
  "8 run": "eight in a row lie on one side: the size has moved",
  "9 run": "nine in a row lie on one side: the size has moved",
  "7 run": "seven in a row lie on one side: the size has moved",
  "6 steady": "six in a row rise or fall: wear, or something warming up",
  "7 steady": "seven in a row rise or fall: wear, or something warming up",
  alternating:
    "fourteen go up and down by turns: two seats, two gauges or two people take turns, or every reading is chased with a correction",
  hugging:
    "fifteen lie close to the middle: the limits are too wide for this process, or readings are copied",
  avoiding: "eight avoid the middle: two processes are mixed, such as two seats or two edges",
};

const names: Partial<Record<RunRule, keyof typeof patterns>> = {
  western_electric_2: "2 of 3",
  western_electric_3: "4 of 5",
  western_electric_4: "8 run",
  nelson_2: "9 run",
  nelson_3: "6 steady",
  nelson_4: "alternating",
  nelson_5: "2 of 3",
  nelson_6: "4 of 5",
  nelson_7: "hugging",
  nelson_8: "avoiding",
  iso_7870_2: "7 run",
  iso_7870_3: "7 steady",
};

/** A signal in a machinist's words. */
export function saySignal(
  rule: RunRule | "limits",
  point: { piece: number; value: string; lower: string | null; upper: string | null; above: boolean },
): string {
  const pattern = rule === "limits" ? undefined : names[rule];
  if (pattern !== undefined) return `Up to piece ${point.piece} ${patterns[pattern]}.`;
  const limit = point.above
    ? `above the upper control limit ${point.upper}`
    : `below the lower control limit ${point.lower}`;
  return `Piece ${point.piece}: ${point.value} is ${limit}: more than this process does by itself. Measure it again, then look for what changed.`;
}
