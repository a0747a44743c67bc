import type { IncomingMessage, Server, ServerResponse } from "node:http";
import type { FastifyBaseLogger, FastifyInstance } from "fastify";
import type { ZodTypeProvider } from "fastify-type-provider-zod";
import { z } from "zod";
import { isDms, parseAngle, parseLength } from "../core/quantity.js";
import { nearMatches } from "./near-matches.js";

/** What a route module is given to register its routes on. */
export type App = FastifyInstance<
  Server,
  IncomingMessage,
  ServerResponse,
  FastifyBaseLogger,
  ZodTypeProvider
>;

/** An object that refuses unknown members and says which known ones are near. */
export function strict<Shape extends z.core.$ZodLooseShape>(shape: Shape) {
  return z.strictObject(shape, {
    error: (issue) => {
      if (issue.code !== "unrecognized_keys") return undefined;
      return issue.keys.map((key) => explainUnknownKey(key, Object.keys(shape))).join("; ");
    },
  });
}

function explainUnknownKey(key: string, known: readonly string[]): string {
  const near = nearMatches(key, known).map((name) => `"${name}"`);
  return `"${key}" is not known here; ${near.length > 0 ? `near: ${near.join(", ")}` : "leave it out"}`;
}

// Cc: NUL, line breaks and other controls. Cs: half of a surrogate pair, which is no character.
const noText = /[\p{Cc}\p{Cs}]/u;

function text(longest: number) {
  return z
    .string()
    .normalize("NFC")
    .min(1)
    .max(longest)
    .refine(
      (value) => !noText.test(value),
      "holds a control character, such as NUL or a line break: leave it out",
    )
    .refine((value) => value.trim() === value, "begins or ends with a space: leave it off");
}

/** A short text by which people know a thing. */
export const Name = text(100);
/** A sentence or two. */
export const Text = text(1000);

const idPattern = /^[1-9]\d{0,17}$/;
/** The identity of a record, opaque to clients. */
export const Id = z.string().regex(idPattern, "is no id; send one that this service has given out, as text");

/** A point in time with its offset; kept in UTC to the millisecond. */
export const Instant = z.iso
  .datetime({
    offset: true,
    abort: true,
    error: 'is no instant; send RFC 3339 with an offset, such as "2026-03-02T07:41:00Z"',
  })
  .refine((value) => !Number.isNaN(Date.parse(value)), "is no instant that there is; check day and offset");

export const Day = z.iso.date('is no date; send year, month and day, such as "2027-03-01"');

/** The units in which drawings, controls and gauges are kept. */
export const Unit = z.enum(["mm", "inch"]);

const largestLength = 100_000;

const decimalPattern = /^[+-]?\d+(\.\d+)?$/;
const explained = { error: ({ input }: { input?: unknown }) => explainDecimal(input) };
const decimal = z.union([z.number(), z.string().regex(decimalPattern, explained)], explained);

/** A size in the unit that goes with it: a JSON number, or a decimal string where its places matter. */
export const Length = decimal.refine(isLength, explained);
export type Length = z.infer<typeof Length>;

const decimalOrDms = z.union(
  [z.number(), z.string().refine((text) => decimalPattern.test(text) || isDms(text), explained)],
  explained,
);

/** What a gauge shows: as long as any length, in µm or nm too. Whether it may be an angle, its unit says. */
export const ReadingValue = decimalOrDms.refine(
  (value) => !(Math.abs(parsed(value)) > 1e6 * largestLength * 1e9),
  {
    error: ({ input }) => explainDecimal(input, 1e6 * largestLength),
  },
);

/**
 * A size, or an angle, which may also be written as degrees, minutes and seconds. Whether it is an angle is known beside the kind
 * or the unit only: see `refuseDms`.
 */
export const Measure = decimalOrDms.refine(isLength, explained);
export const PositiveMeasure = Measure.refine((value) => !(signed(value) <= 0), "must be above 0");
export const MeasureFromZero = Measure.refine((value) => !(signed(value) < 0), "must not be below 0");

/** Refuses members that are written as an angle where none belongs. */
export function refuseDms(
  members: object,
  names: readonly string[],
  refuse: (field: string, message: string) => void,
): void {
  for (const name of names) {
    const value = (members as Record<string, unknown>)[name];
    if (typeof value === "string" && !decimalPattern.test(value)) refuse(name, explainDecimal(value));
  }
}

export const LengthFromZero = Length.refine((value) => !(parsed(value) < 0), "must not be below 0");
export const PositiveLength = Length.refine((value) => !(parsed(value) <= 0), "must be above 0");

/** A plain decimal from `low` to `high` in a unit of its own: a JSON number or a decimal string. */
export function decimalBetween(low: number, high: number, unit: string, example: number) {
  const within = { error: () => `must be a decimal from ${low} to ${high} ${unit}, such as ${example}` };
  return (
    z
      .union([z.number(), z.string().max(40, within).regex(decimalPattern, within)], within)
      // What is no decimal has been refused before, and compares as false.
      .refine((value) => !(Number(value) < low || Number(value) > high), within)
  );
}
export type Decimal = string | number;

function isLength(value: string | number): boolean {
  return !(Math.abs(parsed(value)) > largestLength * 1e9);
}

/** As picometres if it were in mm; NaN: no decimal at all, which has been refused before. */
function parsed(value: string | number): number {
  const isDecimal = typeof value === "number" ? Number.isFinite(value) : decimalPattern.test(value);
  return isDecimal ? (parseLength(value, "mm") ?? Number.POSITIVE_INFINITY) : Number.NaN;
}

/** Its sign, and 0 for 0, of an angle too; NaN: neither. */
function signed(value: string | number): number {
  return typeof value === "string" && !decimalPattern.test(value)
    ? (parseAngle(value, "deg") ?? Number.NaN)
    : parsed(value);
}

const sendDecimal = 'send a decimal such as 12.005 or "12.005"';

function explainDecimal(value: unknown, largest = largestLength): string {
  if (value === undefined) return `is missing: ${sendDecimal}`;
  if (typeof value === "number") {
    return Number.isFinite(value)
      ? `${value} is beyond ${largest}: check the unit and the decimal point`
      : `is beyond every size: ${sendDecimal}`;
  }
  if (typeof value !== "string") return `is no size: ${sendDecimal}`;
  if (value.trim() === "") return `is empty: ${sendDecimal}`;
  const shown = value.length > 40 ? `${value.slice(0, 40)}…` : value;
  if (decimalPattern.test(value))
    return `"${shown}" is beyond ${largest}: check the unit and the decimal point`;
  if (/^[+-]?[\d.,' ]+$/.test(value))
    return `"${shown}" is no decimal: write a decimal point and no thousands separator`;
  return `"${shown}" is no decimal: ${sendDecimal}`;
}

/** A reading's identity: batch and number in it. */
export const ReadingId = z
  .string()
  .regex(
    /^[1-9]\d{0,17}-[1-9]\d{0,8}$/,
    'is no id of a reading; send one that this service has given out, such as "3-17"',
  );
