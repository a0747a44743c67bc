import { parseLength, toNumeric } from "../quantity.js";
import { limitDeviations, readToleranceClass } from "../tolerance/fit.js";
import { addDecimals, compareDecimals, negateDecimal } from "./decimal-text.js";
import { type Fault, type NumberNotation, readNumber } from "./read-number.js";
import type { PrintedUnit } from "./read-unit.js";

/** What a file says that a size should be, as decimals in one unit; what it doesn't say is absent. */
export interface PrintedRequirement {
  nominal?: string;
  lower?: string;
  upper?: string;
}

const longest = 80;
const figure = "[+-]?(?:\\d[\\d.,]*|[.,]\\d+)";
const symbol = "(?:S?[ØøΦφ⌀]|S?R|[A-Z][a-z]{1,2})?";
const unit = "(?:mm|µm|μm|um|in|inch|rad|deg|°)?";
const of = (pattern: string) => new RegExp(`^${pattern}$`, "u");
const plusMinus = of(`${symbol} ?(${figure}) ?${unit} ?(?:±|\\+/-|\\+-) ?(${figure}) ?${unit}`);
const twoSided = of(
  `${symbol} ?(${figure}) ?${unit} ?([+-]${figure.slice(5)}) ?/? ?([+-]${figure.slice(5)}) ?${unit}`,
);
const fitted = of(`${symbol} ?(${figure}) ?([A-Za-z]{1,2}\\d{1,2})`);
const range = of(`${symbol} ?(${figure}) ?(?: - |\\.\\.\\.?|…| to | bis ) ?(${figure}) ?${unit}`);
const most = of(
  `(?:max\\.? ?|<= ?|≤ ?)${symbol} ?(${figure}) ?${unit}|${symbol} ?(${figure}) ?${unit} ?max\\.?`,
);
const least = of(
  `(?:min\\.? ?|>= ?|≥ ?)${symbol} ?(${figure}) ?${unit}|${symbol} ?(${figure}) ?${unit} ?min\\.?`,
);
const roughness = of(`(?:R[a-z]{1,3}|W[a-z]) ?(${figure}) ?${unit}`);
const bare = of(`${symbol} ?(${figure}) ?${unit}`);

/**
 * Reads a requirement as drawings and tables write it: 10 ±0.05; 25.4 +0.021/-0; Ø12 H7 (ISO 286-1); 8.02 - 8.05;
 * R0.8 MAX; Ra 1.6, whose figure is the largest allowed (ISO 21920-1, the usual 16 % or max rule left aside).
 */
export function readRequirement(
  text: string,
  notation: NumberNotation,
  inUnit: PrintedUnit = "mm",
): PrintedRequirement | Fault {
  if (text.length > longest) return { fault: `is longer than ${longest} characters` };
  const tidy = text.trim().replaceAll("\u2212", "-").replace(/\s+/g, " ");
  const spaced = tidy.replace(/ [\u2013\u2014] /g, " - ");
  const lower = spaced.replace(/\bMAX\b/gi, "max").replace(/\bMIN\b/gi, "min");
  const read = (figures: readonly (string | undefined)[]): string[] | Fault => {
    const decimals: string[] = [];
    for (const part of figures) {
      if (part === undefined) continue;
      const value = readNumber(part, notation);
      if ("fault" in value) return { fault: `has ${part}, which ${value.fault}` };
      decimals.push(value.decimal);
    }
    return decimals;
  };
  const using = (
    pattern: RegExp,
    make: (decimals: string[], match: RegExpExecArray) => PrintedRequirement | Fault,
    count = 2,
  ): PrintedRequirement | Fault | undefined => {
    const match = pattern.exec(lower);
    if (!match) return undefined;
    const decimals = read(match.slice(1, count + 1));
    return "fault" in decimals ? decimals : make(decimals, match);
  };
  return (
    using(plusMinus, ([nominal = "", width = ""]) => ({
      nominal,
      lower: addDecimals(nominal, negateDecimal(width)),
      upper: addDecimals(nominal, width),
    })) ??
    using(
      twoSided,
      ([nominal = "", one = "", other = ""]) => {
        const [low, high] = compareDecimals(one, other) < 0 ? [one, other] : [other, one];
        return { nominal, lower: addDecimals(nominal, low), upper: addDecimals(nominal, high) };
      },
      3,
    ) ??
    using(range, ([one = "", other = ""]) =>
      compareDecimals(one, other) <= 0
        ? { lower: one, upper: other }
        : { fault: `runs down from ${one} to ${other}` },
    ) ??
    using(fitted, ([nominal = ""], match) => limitsOfFit(nominal, match[2]!, inUnit), 1) ??
    using(most, ([upper = ""]) => ({ upper })) ??
    using(least, ([low = ""]) => ({ lower: low })) ??
    using(roughness, ([upper = ""]) => ({ upper }), 1) ??
    using(bare, ([nominal = ""]) => ({ nominal }), 1) ?? { fault: "is no requirement that is known here" }
  );
}

function limitsOfFit(nominal: string, name: string, unit: PrintedUnit): PrintedRequirement | Fault {
  if (unit !== "mm") return { fault: `has the class ${name}, which ISO 286 gives for mm only` };
  const nominalPm = parseLength(nominal, "mm");
  if (nominalPm === undefined) return { fault: `has the size ${nominal}, which is beyond every size` };
  const read = readToleranceClass(name, nominalPm);
  const deviations = "fault" in read ? read : limitDeviations(read, nominalPm);
  if ("fault" in deviations) return { fault: `has the class ${name}: ${deviations.why}` };
  return {
    nominal,
    lower: plain(nominalPm + deviations.lowerDeviationPm),
    upper: plain(nominalPm + deviations.upperDeviationPm),
  };
}

function plain(pm: number): string {
  return toNumeric(pm).replace(/\.?0+$/, "");
}
