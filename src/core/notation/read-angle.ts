import { divideHalfEven, parseAngle } from "../quantity.js";
import { type Fault, type NumberNotation, readNumber } from "./read-number.js";

const part = /(\d[\d.,]*)\s*(['′’°"″”])/gu;

/** True where a text writes an angle with signs for degrees or minutes. */
export function looksLikeAngle(text: string): boolean {
  return /[°'′’]/u.test(text);
}

/**
 * Reads degrees, minutes and seconds, 44° 59' 30", as `parseAngle` does, with the decimal sign of the notation.
 * @returns degrees with at most nine decimals, beyond which they are rounded half to even
 */
export function readAngle(text: string, notation: NumberNotation): { degrees: string } | Fault {
  if (text.length > 60) return { fault: "is no angle: it is too long" };
  let fault: Fault | undefined;
  const tidy = text
    .trim()
    .replaceAll("\u2212", "-")
    .replace(part, (_, figure: string, sign: string) => {
      const read = readNumber(figure, notation);
      if ("fault" in read) {
        fault ??= { fault: `has ${figure}, which ${read.fault}` };
        return "";
      }
      return `${read.decimal}${sign}`;
    });
  if (fault) return fault;
  const nanoArcseconds = parseAngle(tidy.replace(/^([+-]) /, "$1"), "deg");
  if (nanoArcseconds === undefined) {
    return {
      fault: "is no angle: only its last part may have decimals, and minutes and seconds stay below 60",
    };
  }
  const billionths = divideHalfEven(BigInt(Math.abs(nanoArcseconds)), 3600n);
  const digits = billionths.toString().padStart(10, "0");
  const fraction = digits.slice(-9).replace(/0+$/, "");
  const value = digits.slice(0, -9) + (fraction ? `.${fraction}` : "");
  return { degrees: nanoArcseconds < 0 && billionths !== 0n ? `-${value}` : value };
}
