import { type LengthUnit, mmPerInch } from "../quantity.js";

export type SlipKind =
  | "decimal_point"
  | "inch_for_mm"
  | "mm_for_inch"
  | "digits_swapped"
  | "thimble_turn"
  | "deviation_for_size"
  | "digit_lost";

export interface TypingSlip {
  kind: SlipKind;
  /** The size that was probably meant. */
  sizePm: number;
}

/** One turn of a micrometer's thimble: 0.5 mm, or 0.025 inch (common practice, from memory). */
const thimbleTurnPm: Record<"mm" | "inch", number> = { mm: 0.5e9, inch: 0.025 * mmPerInch * 1e9 };

/**
 * Which slip of hand or eye would turn an absurd reading into a plausible one: a decimal point moved, the other unit,
 * two neighbouring digits exchanged, one turn of the thimble, the deviation typed for the size, a digit lost.
 * @param text the value as it was typed, in `unit`
 * @param sizePm the size read from it
 * @param expectedPm what was expected; `withinPm`: how far a plausible size may lie from it
 * @param parse reads a decimal in `unit` as picometres
 * @returns the slip that comes closest to what was expected, or undefined when none fits
 */
export function findSlip(
  typed: { text: string; unit: LengthUnit; sizePm: number },
  expectedPm: number,
  nominalPm: number,
  withinPm: number,
  parse: (text: string, unit: LengthUnit) => number | undefined,
): TypingSlip | undefined {
  const { text, unit, sizePm } = typed;
  const candidates: TypingSlip[] = [];
  const add = (kind: SlipKind, size: number | undefined) => {
    if (size !== undefined && size !== sizePm) candidates.push({ kind, sizePm: size });
  };
  for (const factor of [10, 100, 1000]) {
    add("decimal_point", sizePm / factor);
    add("decimal_point", sizePm * factor);
  }
  if (unit === "inch") add("mm_for_inch", sizePm / mmPerInch);
  else add("inch_for_mm", parse(text, "inch"));
  const turn = thimbleTurnPm[unit === "inch" ? "inch" : "mm"];
  add("thimble_turn", sizePm + turn);
  add("thimble_turn", sizePm - turn);
  add("deviation_for_size", nominalPm + sizePm);
  for (const other of exchangedDigits(text)) add("digits_swapped", parse(other, unit));
  for (const other of insertedDigits(text)) add("digit_lost", parse(other, unit));
  let best: TypingSlip | undefined;
  for (const candidate of candidates) {
    const off = Math.abs(candidate.sizePm - expectedPm);
    if (off > withinPm) continue;
    // A simple slip is believed before one that takes a lucky digit.
    const rank = (slip: TypingSlip) =>
      Math.abs(slip.sizePm - expectedPm) + (slip.kind === "digit_lost" ? withinPm : 0);
    if (!best || rank(candidate) < rank(best)) best = candidate;
  }
  return best;
}

function* exchangedDigits(text: string): Generator<string> {
  const places = [...text].flatMap((char, i) => (/\d/.test(char) ? [i] : []));
  for (let j = 1; j < places.length; j++) {
    const [a, b] = [places[j - 1]!, places[j]!];
    if (text[a] === text[b]) continue;
    const chars = [...text];
    [chars[a], chars[b]] = [chars[b]!, chars[a]!];
    yield chars.join("");
  }
}

function* insertedDigits(text: string): Generator<string> {
  for (let at = text.search(/\d/); at >= 0 && at <= text.length; at++) {
    for (let digit = 0; digit <= 9; digit++) yield `${text.slice(0, at)}${digit}${text.slice(at)}`;
  }
}
