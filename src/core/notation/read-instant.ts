import type { Fault } from "./read-number.js";

const monthNames = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];
const tokens: Record<string, [pattern: string, part: string]> = {
  YYYY: ["(\\d{4})", "year"],
  YY: ["(\\d{2})", "shortYear"],
  MMM: ["([A-Za-z]{3})", "monthName"],
  MM: ["(\\d{2})", "month"],
  M: ["(\\d{1,2})", "month"],
  DD: ["(\\d{2})", "day"],
  D: ["(\\d{1,2})", "day"],
  HH: ["(\\d{2})", "hour"],
  H: ["(\\d{1,2})", "hour"],
  mm: ["(\\d{2})", "minute"],
  ss: ["(\\d{2}(?:[.,]\\d{1,9})?)", "second"],
  A: ["([AaPp][Mm])", "half"],
  Z: ["(Z|z|[+-]\\d{2}:?\\d{2})", "offset"],
};
const token = /YYYY|YY|MMM|MM|M|DD|D|HH|H|mm|ss|A|Z/g;

export interface TimeFormat {
  text: string;
  pattern: RegExp;
  parts: readonly string[];
}

/**
 * Compiles a notation of date and time such as "DD.MM.YYYY HH:mm:ss": YYYY YY, MMM (Mar) MM M, DD D, HH H, mm, ss (with or
 * without a fraction), A (am, pm), Z (offset); all else stands for itself, a space for one or more.
 */
export function compileTimeFormat(text: string): TimeFormat | Fault {
  const parts: string[] = [];
  let pattern = "";
  let at = 0;
  for (const match of text.matchAll(token)) {
    pattern += literal(text.slice(at, match.index));
    const [piece, part] = tokens[match[0]]!;
    if (parts.includes(part)) return { fault: `has the ${part} twice` };
    parts.push(part);
    pattern += piece;
    at = match.index + match[0].length;
  }
  pattern += literal(text.slice(at));
  const has = (...wanted: string[]) => wanted.some((part) => parts.includes(part));
  if (!has("year", "shortYear") || !has("month", "monthName") || !has("day")) {
    return { fault: "needs a year (YYYY), a month (MM) and a day (DD)" };
  }
  if (has("hour") !== has("minute")) return { fault: "needs hour (HH) and minute (mm), or neither" };
  return { text, pattern: new RegExp(`^${pattern}$`), parts };
}

function literal(text: string): string {
  return text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&").replace(/ +/g, " +");
}

const iso =
  /^(\d{4})-(\d{2})-(\d{2})(?:[T ](\d{2}):(\d{2})(?::(\d{2}(?:[.,]\d{1,9})?))?)?\s*(Z|z|[+-]\d{2}:?\d{2})?$/;
const isoFormat: TimeFormat = {
  text: "YYYY-MM-DD HH:mm:ss",
  pattern: iso,
  parts: ["year", "month", "day", "hour", "minute", "second", "offset"],
};

/** Offset from UTC of a time zone at an instant, both in milliseconds. */
export type ZoneOffset = (utcMs: number) => number;

/**
 * Reads date and time of day as an instant. A local time is one in `zone`; one that its clocks showed twice, or skipped,
 * is refused, and so is one without offset where no zone is known. Fractions beyond a millisecond are cut off.
 * @returns the instant in UTC, RFC 3339 with milliseconds
 */
export function readInstant(
  text: string,
  formats: readonly TimeFormat[],
  zone: ZoneOffset | undefined,
): { instant: string } | Fault {
  const bare = text.trim();
  if (bare.length > 60) return { fault: "is no date and time: it is too long" };
  for (const format of formats.length > 0 ? formats : [isoFormat]) {
    const match = format.pattern.exec(bare);
    if (!match) continue;
    const parts = new Map(format.parts.map((part, i) => [part, match[i + 1]]));
    return instantOf(parts, zone);
  }
  const known = formats.length > 0 ? formats.map((format) => `"${format.text}"`).join(", ") : "ISO 8601";
  return { fault: `is no date and time as the layout writes them (${known})` };
}

function instantOf(parts: ReadonlyMap<string, string | undefined>, zone: ZoneOffset | undefined) {
  const number = (part: string) => Number((parts.get(part) ?? "0").replace(",", "."));
  const year = parts.has("shortYear") ? 2000 + number("shortYear") : number("year");
  const month = parts.has("monthName")
    ? monthNames.indexOf(parts.get("monthName")!.toLowerCase()) + 1
    : number("month");
  const day = number("day");
  if (parts.get("hour") === undefined) return { fault: "says no time of day" };
  let hour = number("hour");
  const half = parts.get("half")?.toLowerCase();
  if (half !== undefined) {
    if (hour < 1 || hour > 12) return { fault: "is no time that there is" };
    hour = (hour % 12) + (half === "pm" ? 12 : 0);
  }
  const minute = number("minute");
  const second = number("second");
  const date = new Date(Date.UTC(year, month - 1, day));
  const exists =
    month >= 1 &&
    date.getUTCMonth() === month - 1 &&
    date.getUTCDate() === day &&
    hour < 24 &&
    minute < 60 &&
    second < 60;
  if (!exists) return { fault: "is no date and time that there is" };
  const localMs = date.getTime() + hour * 3_600_000 + minute * 60_000 + Math.floor(second * 1000 + 1e-6);
  const offset = parts.get("offset");
  if (offset !== undefined) return { instant: new Date(localMs - offsetMs(offset)).toISOString() };
  if (!zone) {
    return { fault: "has no offset from UTC: say in the layout which time zone it is in (time_zone)" };
  }
  const dayMs = 86_400_000;
  const offsets = [...new Set([zone(localMs - dayMs), zone(localMs + dayMs)])];
  const meant = offsets.map((ms) => localMs - ms).filter((utc) => zone(utc) === localMs - utc);
  const [only, other] = meant.map((utc) => new Date(utc).toISOString());
  if (only === undefined) return { fault: "is a time that the clocks skipped that day" };
  if (other !== undefined) {
    return { fault: `is a time that the clocks showed twice that day: ${[only, other].sort().join(" or ")}` };
  }
  return { instant: only };
}

function offsetMs(text: string): number {
  if (text === "Z" || text === "z") return 0;
  const [, sign, hours, minutes] = /^([+-])(\d{2}):?(\d{2})$/.exec(text)!;
  return (sign === "-" ? -1 : 1) * (Number(hours) * 60 + Number(minutes)) * 60_000;
}
