import { divideHalfEven } from "../quantity.js";
import { multiplyDecimals } from "./decimal-text.js";
import { type Fault, type NumberNotation, readNumber } from "./read-number.js";

const number = "[\\d.,]+";
const dms = new RegExp(
  `^([+-]?)\\s*(?:(${number})\\s*°)?\\s*(?:(${number})\\s*['′’])?\\s*(?:(${number})\\s*(?:"|″|''|”))?$`,
  "u",
);

/** True where a text writes an angle with signs for degrees, minutes or seconds. */
export function looksLikeAngle(text: string): boolean {
  return /[°'′’]/u.test(text);
}

/**
 * Reads degrees, minutes and seconds, 44° 59' 30", as a decimal of degrees: minutes are a 60th, seconds a 3600th of a
 * degree (SI brochure, 9th edition, table 8). Whole nano-arcseconds are kept, so that a degree has nine exact decimals
 * and a minute is rounded half to even only beyond them.
 */
export function readAngle(text: string, notation: NumberNotation): { degrees: string } | Fault {
  if (text.length > 60) return { fault: "is no angle: it is too long" };
  const match = dms.exec(text.trim().replaceAll("\u2212", "-"));
  const [, sign = "", ...parts] = match ?? [];
  if (!match || parts.every((part) => part === undefined)) return { fault: "is no angle" };
  const read: string[] = [];
  for (const part of parts) {
    const value = part === undefined ? { decimal: "0" } : readNumber(part, notation);
    if ("fault" in value) return value;
    read.push(value.decimal);
  }
  const [degrees = "0", minutes = "0", seconds = "0"] = read;
  const isWhole = (decimal: string) => !decimal.includes(".");
  const finer = [parts[1], parts[2]];
  if ((!isWhole(degrees) && finer.some((part) => part !== undefined)) || (!isWhole(minutes) && parts[2])) {
    return { fault: "is no angle: only its last part may have decimals" };
  }
  if (
    (parts[0] !== undefined && Number(minutes) >= 60) ||
    (parts[1] !== undefined && Number(seconds) >= 60)
  ) {
    return { fault: "is no angle: minutes and seconds stay below 60" };
  }
  const nano = nanoArcseconds(degrees, "3600") + nanoArcseconds(minutes, "60") + nanoArcseconds(seconds, "1");
  const billionths = divideHalfEven(nano, 3600n);
  const digits = billionths.toString().padStart(10, "0");
  const fraction = digits.slice(-9).replace(/0+$/, "");
  const value = digits.slice(0, -9) + (fraction ? `.${fraction}` : "");
  return { degrees: sign === "-" && billionths !== 0n ? `-${value}` : value };
}

function nanoArcseconds(decimal: string, arcseconds: string): bigint {
  const [whole = "", fraction = ""] = multiplyDecimals(decimal, arcseconds).split(".");
  return BigInt(whole + fraction.slice(0, 9).padEnd(9, "0"));
}
