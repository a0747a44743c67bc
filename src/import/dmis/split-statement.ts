import type { Fault } from "../../core/notation/read-number.js";

/** A statement of DMIS in its parts: `label=MAJOR/first,second`. */
export interface Statement {
  /** What is defined: the letters of its kind, F, FA, T or TA, and its label. */
  defines?: { kind: string; label: string };
  /** In capitals; "" where what is defined is a value, as of DATE=. */
  major: string;
  /** Between the commas, without spaces around them. */
  args: string[];
}

const defined = /^([A-Za-z]{1,10})\s*(?:\(\s*([^()]{1,200}?)\s*\))?$/;
const named = /^([A-Za-z]{1,2})\s*\(\s*([^()]{1,200}?)\s*\)$/;

/** A line without its comment, which begins at $$ outside a text. */
export function withoutComment(line: string): string {
  const at = indexOutside(line, (char, next) => char === "$" && next === "$");
  return at < 0 ? line : line.slice(0, at);
}

/** A label and its kind, `FA(CIRC1)`; undefined: it is none. Capitals in a label mean nothing. */
export function readLabel(text: string): { kind: string; label: string } | undefined {
  const [, kind, label] = named.exec(text) ?? [];
  return kind === undefined || label === undefined ? undefined : { kind: kind.toUpperCase(), label };
}

/** A text without its quotes, or a word as it is. */
export function unquoted(text: string): string {
  return text.startsWith("'") && text.endsWith("'") && text.length > 1
    ? text.slice(1, -1).replaceAll("''", "'")
    : text;
}

/**
 * Takes a whole statement apart, its continued lines joined (ISO 22093, structure of a statement, from memory): a label before
 * "=", the major word before "/", minor words, numbers, labels and 'texts' between commas.
 */
export function splitStatement(text: string): Statement | Fault {
  if (indexOutside(text, () => false) === -2) return { fault: "has a text that is not closed (')" };
  const equals = indexOutside(text, (char) => char === "=");
  const slash = indexOutside(text, (char) => char === "/");
  const isDefinition = equals >= 0 && (slash < 0 || equals < slash);
  const whole = (isDefinition ? text.slice(equals + 1) : text).trim();
  if (!isDefinition) return { ...majorOf(whole) };
  const [, word, label] = defined.exec(text.slice(0, equals).trim()) ?? [];
  if (word === undefined) return { fault: "defines something whose label can't be read" };
  const kind = word.toUpperCase();
  if (label === undefined) return { defines: { kind, label: "" }, major: "", args: [whole] };
  return { defines: { kind, label }, ...majorOf(whole) };
}

function majorOf(text: string): { major: string; args: string[] } {
  const slash = indexOutside(text, (char) => char === "/");
  if (slash < 0) return { major: text.toUpperCase(), args: [] };
  const args: string[] = [];
  let from = slash + 1;
  for (;;) {
    const rest = text.slice(from);
    const comma = indexOutside(rest, (char, _next, depth) => char === "," && depth === 0);
    args.push((comma < 0 ? rest : rest.slice(0, comma)).trim());
    if (comma < 0) break;
    from += comma + 1;
  }
  return { major: text.slice(0, slash).trim().toUpperCase(), args };
}

/** Where the first character outside 'texts' is that is looked for; -1: nowhere, -2: a text is not closed. */
function indexOutside(text: string, isIt: (char: string, next: string, depth: number) => boolean): number {
  let inText = false;
  let depth = 0;
  for (let at = 0; at < text.length; at += 1) {
    const char = text[at]!;
    if (char === "'") inText = !inText;
    else if (!inText) {
      if (isIt(char, text[at + 1] ?? "", depth)) return at;
      if (char === "(") depth += 1;
      if (char === ")") depth -= 1;
    }
  }
  return inText ? -2 : -1;
}
