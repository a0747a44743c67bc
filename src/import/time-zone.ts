import type { ZoneOffset } from "../core/notation/read-instant.js";

const quarterMs = 15 * 60_000;
const mostKept = 2000;

/** Offsets of an IANA time zone by the platform's tables; they change on quarters of an hour, so that one is asked once. */
export function zoneOffset(timeZone: string): ZoneOffset {
  const format = new Intl.DateTimeFormat("en-US", {
    timeZone,
    hourCycle: "h23",
    year: "numeric",
    month: "numeric",
    day: "numeric",
    hour: "numeric",
    minute: "numeric",
    second: "numeric",
  });
  const kept = new Map<number, number>();
  return (utcMs) => {
    const quarter = Math.floor(utcMs / quarterMs);
    const known = kept.get(quarter);
    if (known !== undefined) return known;
    const part = Object.fromEntries(
      format.formatToParts(quarter * quarterMs).map(({ type, value }) => [type, Number(value)]),
    );
    const localMs = Date.UTC(part.year!, part.month! - 1, part.day, part.hour, part.minute, part.second);
    const offset = localMs - quarter * quarterMs;
    if (kept.size >= mostKept) kept.clear();
    kept.set(quarter, offset);
    return offset;
  };
}
