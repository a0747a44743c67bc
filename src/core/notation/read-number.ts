import { shiftDecimal } from "./decimal-text.js";

/** `both`: point and comma are decimal signs alike, and nothing stands between thousands. */
export type DecimalSign = "." | "," | "both";

export interface NumberNotation {
  decimalSign: DecimalSign;
  /** What stands between thousands; undefined: nothing may. */
  groupingSign?: "." | "," | " " | "'" | undefined;
}

export interface Fault {
  /** Why it can't be read, and what to do; goes on after the text that it is about. */
  fault: string;
}

export interface PrintedNumber {
  /** "-12.0050": a point, at least one digit before it, no plus sign, the places as printed. */
  decimal: string;
  /** Printed without a decimal sign but with zeros in front: it may leave out where its point is. */
  padded: boolean;
}

const printed = /^([+-]?) {0,3}(\d[\d.,' ]*|[.,]\d+)(?:[eE]([+-]?\d{1,2}))?$/;
const longest = 60;

/**
 * Reads a number as gauges, control systems and tables print it: leading plus, zeros in front, no digit before or after the
 * decimal sign, the minus sign of typography (U+2212), an exponent. What could mean two things is refused with both.
 * @param text without its unit and its marks
 */
export function readNumber(text: string, notation: NumberNotation): PrintedNumber | Fault {
  const bare = text.trim().replaceAll("\u2212", "-").replace(/\s/g, " ");
  if (bare.length > longest) return { fault: `is longer than ${longest} characters: no number is` };
  const match = printed.exec(bare);
  if (!match) return { fault: "is no number" };
  const [, sign = "", body = "", exponent] = match;
  const plain = withoutGroups(body.trim(), notation);
  if (typeof plain !== "string") return plain;
  const [whole = "", fraction] = plain.split(".");
  const digits = whole.replace(/^0+(?=\d)/, "") || "0";
  const unsigned = fraction ? `${digits}.${fraction}` : digits;
  const isZero = !/[1-9]/.test(unsigned);
  const decimal = `${sign === "-" && !isZero ? "-" : ""}${unsigned}`;
  return {
    decimal: exponent === undefined ? decimal : shiftDecimal(decimal, Number(exponent)),
    padded: fraction === undefined && plain === whole && /^0\d/.test(whole),
  };
}

/** With a point for the decimal sign and nothing between thousands. */
function withoutGroups(body: string, { decimalSign, groupingSign }: NumberNotation): string | Fault {
  let rest = body;
  if (groupingSign !== undefined && rest.includes(groupingSign)) {
    const signs = decimalSign === "both" ? ".," : decimalSign;
    const at = [...rest].findIndex((char) => signs.includes(char) && char !== groupingSign);
    const groups = (at < 0 ? rest : rest.slice(0, at)).split(groupingSign);
    const fits = groups.every((group, i) => (i === 0 ? /^\d{1,3}$/ : /^\d{3}$/).test(group));
    const tail = at < 0 ? "" : rest.slice(at);
    if (!fits || tail.includes(groupingSign)) {
      return { fault: `has "${groupingSign}" where no group of three digits begins` };
    }
    rest = groups.join("") + tail;
  }
  const signs = [...rest].filter((char) => !/\d/.test(char));
  if (signs.length === 0) return rest;
  const [only] = signs;
  const isDecimalSign = decimalSign === "both" ? only === "." || only === "," : only === decimalSign;
  if (signs.length === 1 && isDecimalSign) return rest.replace(",", ".");
  return { fault: twoMeanings(rest, signs, decimalSign) };
}

function twoMeanings(body: string, signs: readonly string[], decimalSign: DecimalSign): string {
  const names: Record<string, string> = { ".": "point", ",": "comma", "'": "apostrophe", " ": "space" };
  const [first = "", second] = [...new Set(signs)];
  const declared = decimalSign === "both" ? "a point or a comma" : `a ${names[decimalSign]}`;
  const groups = body.split(first);
  const mayGroup = groups.every((group, i) => (i === 0 ? /^\d{1,3}$/ : /^\d{3}$/).test(group));
  const mayBeDecimal = signs.length === 1 && (first === "." || first === ",");
  const meanings = [
    ...(mayBeDecimal ? [`${body.replace(first, ".")} with a decimal ${names[first]}`] : []),
    ...(mayGroup ? [`${groups.join("")} with a ${names[first]} between thousands`] : []),
  ];
  if (second !== undefined || meanings.length === 0) return "is no number: its signs fit no notation";
  return (
    `may mean ${meanings.join(", or ")}, but the decimal sign here is ${declared} and nothing stands between thousands: ` +
    "say it in the layout (decimal_sign, grouping_sign)"
  );
}

const noValue = new Set([
  "",
  "n/a",
  "na",
  "n.a.",
  "n.m.",
  "nm",
  "nan",
  "null",
  "none",
  "#n/a",
  "#div/0!",
  "#value!",
  "#ref!",
  "#num!",
  "#name?",
  "#null!",
]);

/** Whether a cell says that there is no value: empty, dashes, or what spreadsheets and gauges write. Never a zero. */
export function saysNoValue(text: string): boolean {
  const bare = text.trim().toLowerCase();
  return noValue.has(bare) || /^[-\u2013\u2014\u2212_]+$/.test(bare);
}
