import { addDecimals, multiplyDecimals, negateDecimal } from "../core/notation/decimal-text.js";
import { looksLikeAngle, readAngle } from "../core/notation/read-angle.js";
import { readInstant, type ZoneOffset } from "../core/notation/read-instant.js";
import { type Fault, type NumberNotation, readNumber, saysNoValue } from "../core/notation/read-number.js";
import { readRequirement } from "../core/notation/read-requirement.js";
import { type KeptUnit, type PrintedUnit, readUnit, toKeptUnit } from "../core/notation/read-unit.js";
import type { CompiledLayout } from "./compile-layout.js";
import type { FieldName, Fields } from "./fields.js";
import { agreeOnValue, conforms, type Quantity } from "./quantities.js";
import type { SourceRecord } from "./source-record.js";
import { zoneOffset } from "./time-zone.js";

/** What a record says, in our words; its piece may have to be worked out by who knows the batch. */
export interface ReadReading {
  characteristic?: string;
  part_number?: string;
  revision?: string;
  batch?: string;
  piece?: number;
  serial?: string;
  cut?: number;
  seat?: string;
  place?: string;
  /** Absent: it says offsets of a position, a result or a count. */
  value?: string;
  unit?: KeptUnit;
  dx?: string;
  dy?: string;
  dz?: string;
  size?: string;
  result?: Result;
  count?: number;
  gauge?: string;
  measured_at?: string;
  taken_by?: string;
  temperature_c?: string;
  gauge_temperature_c?: string;
  cut_with?: { register_number: number; value: string }[];
}

const results = ["pass", "fail", "go_refuses", "no_go_enters"] as const;
type Result = (typeof results)[number];

/** What the file says of the reading beside its value; nothing of it decides. */
export interface Said {
  /** The value as it was printed; of what has none, what stands for it. */
  value: string;
  nominal?: string;
  lower_limit?: string;
  upper_limit?: string;
  /** Unit of the three. */
  unit?: KeptUnit;
  /** What its own limits make of its own value. */
  within?: boolean;
  result?: "pass" | "fail";
  result_text?: string;
  measured_at?: string;
  tool?: string;
  channel?: string;
  record?: string;
  note?: string;
  notes?: string[];
}

export type Interpreted =
  | { kind: "reading"; reading: ReadReading; said: Said }
  | { kind: "unmeasured"; reason: string; fields: Fields }
  | { kind: "refused"; field: FieldName | "line"; reason: string };

const longestName = 100;
const names = [
  "characteristic",
  "part_number",
  "revision",
  "batch",
  "serial",
  "seat",
  "place",
  "gauge",
  "taken_by",
] as const;
const asSaid = ["tool", "channel", "record", "note"] as const;
const glued = /^([+-]?[\d.,' ]*\d[.,]?(?:[eE][+-]?\d{1,2})?)\s*([^\d\s.,'+-][^\d\s]{0,11})$/u;

type Content =
  | { value: Quantity | undefined; reading: ReadReading; printed: string }
  | { missing: string }
  | (Fault & { field: FieldName });

export interface Interpreter {
  (record: SourceRecord): Interpreted;
  /** A name in a record, translated; "" where it says none. */
  nameOf(field: "characteristic" | "serial", fields: Fields): string;
}

/** Limits that are kept for the lines after them: how many, and how long a text may be. */
const mostLimits = 1000;
const longestLimit = 80;

/** Makes the function that works out what records mean by a layout. */
export function createInterpreter(compiled: CompiledLayout): Interpreter {
  const { layout, timeFormats } = compiled;
  const zone = layout.time_zone ? zoneOffset(layout.time_zone) : undefined;
  const notation: NumberNotation = {
    decimalSign: layout.decimal_sign,
    groupingSign: layout.grouping_sign ?? undefined,
  };
  const noValue = new Set(layout.no_value.map((text) => text.trim()));
  // The longest first: "**" is another mark than "*".
  const marks = Object.entries(layout.marks).sort(([a], [b]) => b.length - a.length);
  const constants = Object.entries(layout.constants) as [FieldName, string][];
  const offsets = new Map<string, number>();
  const limits = new Map<string, ReturnType<typeof readQuantity>>();

  function translated(field: FieldName, text: string): string {
    const map = layout.translate[field as keyof typeof layout.translate];
    return map && Object.hasOwn(map, text) ? map[text]! : text;
  }

  return Object.assign(interpret, {
    nameOf(field: "characteristic" | "serial", fields: Fields) {
      const text = (fields[field] || layout.constants[field as keyof typeof layout.constants] || "").trim();
      return translated(field, text.normalize("NFC"));
    },
  });

  function interpret(record: SourceRecord): Interpreted {
    const fields: Fields = { ...record.fields };
    for (const [field, text] of constants) if (!fields[field]) fields[field] = text;
    const refuse = (field: FieldName | "line", reason: string): Interpreted => ({
      kind: "refused",
      field,
      reason,
    });

    const marked = stripMarks((fields.value ?? "").trim(), marks);
    const content = readContent(record, marked.text, fields);
    if ("fault" in content) return refuse(content.field, content.fault);
    if ("missing" in content) {
      return { kind: "unmeasured", reason: `it says "${content.missing}" where a value would be`, fields };
    }
    const { value, reading, printed } = content;
    for (const field of names) {
      const text = fields[field]?.trim().normalize("NFC");
      if (!text) continue;
      const name = translated(field, text);
      if (name.length > longestName) return refuse(field, `is longer than ${longestName} characters`);
      reading[field] = name;
    }
    const piece = wholeNumber("piece", fields.piece, 10_000_000);
    if (piece && "fault" in piece) return refuse("piece", piece.fault);
    if (layout.piece_from === "field") {
      if (!piece)
        return refuse("piece", "says no piece: name its field, or let the layout count (piece_from)");
      reading.piece = piece.whole;
    } else if (layout.piece_from === "serial" && reading.serial === undefined) {
      return refuse("serial", "says no serial number, by which the layout tells pieces apart");
    }
    const cut = wholeNumber("cut", fields.cut, 99);
    if (cut && "fault" in cut) return refuse("cut", cut.fault);
    if (cut) reading.cut = cut.whole;

    const said: Said = { value: printed };
    const notes = [...(record.notes ?? [])];
    const time = readTime(fields);
    if (time && "fault" in time) {
      if (time.fault !== "says no time of day") return refuse("measured_at", time.fault);
      notes.push(`${time.text} ${time.fault}`);
    }
    if (time) said.measured_at = time.text;
    if (time && "instant" in time) reading.measured_at = time.instant;

    for (const field of ["temperature_c", "gauge_temperature_c"] as const) {
      const text = fields[field]?.trim().replace(/\s*°?\s*C$/, "");
      if (!text) continue;
      const read = readNumber(text, notation);
      if ("fault" in read) return refuse(field, `${text} ${read.fault}`);
      if (Number(read.decimal) < -40 || Number(read.decimal) > 200)
        return refuse(field, `${text} is beyond -40 to 200 °C`);
      reading[field] = read.decimal;
    }
    const cutWith = readOffsets(fields);
    if ("fault" in cutWith) return refuse(cutWith.field, cutWith.fault);
    if (cutWith.values.length > 0) reading.cut_with = cutWith.values;

    for (const field of asSaid) if (fields[field]) said[field] = fields[field];
    sayResult(said, fields.result?.trim() ?? "", marked.result);
    if (value) sayLimits(said, record, fields, value, notes);
    if (notes.length > 0) said.notes = notes;
    return { kind: "reading", reading, said };
  }

  /** The one thing that a record says: a value, the offsets of a position, a count, or a result alone. */
  function readContent(record: SourceRecord, text: string, fields: Fields): Content {
    const isSaid = (field: FieldName) => (fields[field]?.trim() ?? "") !== "";
    if (fields.value === undefined && (fields.dx !== undefined || fields.dy !== undefined)) {
      return readPosition(record, fields);
    }
    if (fields.value === undefined && isSaid("count")) {
      const count = wholeNumber("count", fields.count, 1_000_000, 0);
      if (!count || "fault" in count) return { fault: count?.fault ?? "says no count", field: "count" };
      return { value: undefined, reading: { count: count.whole }, printed: fields.count! };
    }
    if (fields.value === undefined && isSaid("result")) {
      const printed = fields.result!.trim();
      const word = translated("result", printed).toLowerCase();
      const result = results.find((name) => name === word);
      if (result) return { value: undefined, reading: { result }, printed };
      return {
        fault: `"${printed}" is no result: let the layout translate it to ${results.join(", ")} (translate)`,
        field: "result",
      };
    }
    if (saysNoValue(text) || noValue.has(text)) {
      if (fields.value === undefined) return { fault: "is incomplete: it says no value", field: "value" };
      return { missing: fields.value };
    }
    const value = readValue(record, text, fields);
    if ("fault" in value) return value;
    return { value, reading: { value: value.decimal, unit: value.unit }, printed: fields.value ?? "" };
  }

  function readPosition(record: SourceRecord, fields: Fields): Content {
    const reading: ReadReading = {};
    const unit = fields.unit?.trim();
    for (const field of ["dx", "dy", "dz", "size"] as const) {
      const text = fields[field]?.trim() ?? "";
      if (text === "" && (field === "dz" || field === "size")) continue;
      if (saysNoValue(text) || noValue.has(text)) return { missing: text };
      const named = [unit ? translated("unit", unit) : undefined, record.unitOf?.[field]];
      const quantity = readQuantity(text, named, fields.scale);
      if ("fault" in quantity) return { fault: quantity.fault, field: quantity.about ?? field };
      if (reading.unit !== undefined && reading.unit !== quantity.unit) {
        return { fault: `is in ${quantity.unit}, the others in ${reading.unit}`, field };
      }
      reading[field] = quantity.decimal;
      reading.unit = quantity.unit;
    }
    const printed = [fields.dx, fields.dy, fields.dz].filter((text) => text !== undefined).join("; ");
    return { value: undefined, reading, printed };
  }

  function readValue(
    record: SourceRecord,
    text: string,
    fields: Fields,
  ): Quantity | (Fault & { field: FieldName }) {
    if (record.values) {
      const read: Quantity[] = [];
      for (const { text: one, unit } of record.values) {
        const bare = stripMarks(one.trim(), marks).text;
        if (saysNoValue(bare) || noValue.has(bare)) continue;
        const quantity = readQuantity(bare, [unit, fields.unit], fields.scale);
        if ("fault" in quantity) return { fault: quantity.fault, field: "value" };
        read.push(quantity);
      }
      const agreed = agreeOnValue(read);
      return "fault" in agreed ? { fault: agreed.fault, field: "value" } : agreed;
    }
    const unit = fields.unit?.trim();
    const quantity = readQuantity(
      text,
      [unit ? translated("unit", unit) : undefined, record.unitOf?.value],
      fields.scale,
    );
    return "fault" in quantity ? { fault: quantity.fault, field: quantity.about ?? "value" } : quantity;
  }

  /** A number with its unit: the one glued to it, the first of those named, or the layout's. */
  function readQuantity(
    text: string,
    named: readonly (string | undefined)[],
    scaleText: string | undefined,
  ): Quantity | (Fault & { about?: FieldName }) {
    if (looksLikeAngle(text)) {
      const angle = readAngle(text, notation);
      return "fault" in angle
        ? { fault: `${text} ${angle.fault}` }
        : { decimal: angle.degrees, unit: "deg", printedUnit: "deg", places: 9 };
    }
    const [, figure = text, suffix] =
      glued.exec(text.length > 80 ? "" : text.replaceAll("\u2212", "-")) ?? [];
    const own = suffix === undefined ? undefined : readUnit(suffix);
    if (suffix !== undefined && own === undefined) {
      return {
        fault: `${text} has "${suffix}" beside its number: a unit that is not known here, or a mark (marks)?`,
      };
    }
    const number = readNumber(figure, notation);
    if ("fault" in number) return { fault: `${text} ${number.fault}` };
    const units: PrintedUnit[] = own === undefined ? [] : [own];
    for (const name of named) {
      if (!name) continue;
      const unit = readUnit(name);
      if (unit === undefined) return { fault: `"${name}" is no unit that is known here`, about: "unit" };
      units.push(unit);
    }
    const [unit = layout.unit ?? undefined, other] = units;
    if (unit === undefined) {
      const decimal = number.decimal;
      return {
        fault: `${text} bears no unit: ${decimal} mm or ${decimal} inch? Say it in the layout (unit)`,
        about: "unit",
      };
    }
    if (other !== undefined && other !== unit) {
      return { fault: `${text} is said to be in ${unit} and in ${other}`, about: "unit" };
    }
    const scaled = scale(number, figure, scaleText);
    if ("fault" in scaled) return { fault: `${text} ${scaled.fault}`, about: "scale" };
    const kept = toKeptUnit(scaled.decimal, unit);
    return { ...kept, printedUnit: unit, places: placesOf(kept.decimal) };
  }

  function scale(
    number: { decimal: string; padded: boolean },
    figure: string,
    scaleText: string | undefined,
  ): { decimal: string } | Fault {
    const isWhole = !/[.,]/.test(figure);
    const factor = scaleText?.trim() || layout.scale;
    if (!isWhole) return number;
    if (factor) {
      const read = readNumber(factor, notation);
      const plain = "fault" in read ? readNumber(factor, { decimalSign: "." }) : read;
      if ("fault" in plain) return { fault: `goes with the scale ${factor}, which ${plain.fault}` };
      return { decimal: multiplyDecimals(number.decimal, plain.decimal) };
    }
    if (!number.padded) return number;
    const short = number.decimal;
    return {
      fault: `has no decimal sign, but zeros in front: ${short}, or ${multiplyDecimals(short, "0.001")}, or another scale? Say it in the layout (scale; 1 if it is whole)`,
    };
  }

  function readTime(
    fields: Fields,
  ): { text: string; instant: string } | (Fault & { text: string }) | undefined {
    const text = [fields.measured_at, fields.date, fields.time]
      .flatMap((part) => part?.trim() || [])
      .join(" ");
    if (text === "") return undefined;
    const read = readInstant(text, timeFormats, zone as ZoneOffset | undefined);
    return "fault" in read
      ? { text, fault: read.fault === "says no time of day" ? read.fault : `${text} ${read.fault}` }
      : { text, ...read };
  }

  function readOffsets(
    fields: Fields,
  ): { values: { register_number: number; value: string }[] } | (Fault & { field: FieldName }) {
    const values: { register_number: number; value: string }[] = [];
    for (const name of Object.keys(fields)) {
      if (!name.startsWith("offset_")) continue;
      const field = name as FieldName;
      const text = fields[field]?.trim();
      if (!text || saysNoValue(text)) continue;
      const read = readNumber(text, notation);
      if ("fault" in read) return { field, fault: `${text} ${read.fault}` };
      const number = offsets.get(name) ?? Number(name.slice("offset_".length));
      offsets.set(name, number);
      values.push({ register_number: number, value: read.decimal });
    }
    return { values };
  }

  function sayResult(said: Said, text: string, ofMark: "pass" | "fail" | undefined): void {
    if (text !== "") said.result_text = text;
    const word = translated("result", text);
    const mark = layout.marks[text];
    const means = /^(pass|intol)$/i.test(word)
      ? "pass"
      : /^(fail|outol)$/i.test(word)
        ? "fail"
        : mark === "ignore"
          ? undefined
          : mark;
    const result = means ?? ofMark;
    if (result) said.result = result;
  }

  /** A file says the same few limits on every line. */
  function readLimit(text: string, unit: string, scaleText: string | undefined) {
    const bare = text.replace(/^\u00b1\s*/, "");
    if (scaleText !== undefined || text.length + unit.length > longestLimit) {
      return readQuantity(bare, [unit], scaleText);
    }
    const said = `${unit.length} ${unit}${text}`;
    const before = limits.get(said);
    if (before) return before;
    const quantity = readQuantity(bare, [unit], undefined);
    if (limits.size === mostLimits) limits.clear();
    limits.set(said, quantity);
    return quantity;
  }

  /** What the size should be by the file; what can't be read of it is noted, for it decides nothing. */
  function sayLimits(
    said: Said,
    record: SourceRecord,
    fields: Fields,
    value: Quantity,
    notes: string[],
  ): void {
    let unit: KeptUnit | undefined;
    const note = (field: FieldName, fault: string) => void notes.push(`its ${field} ${fault}`);
    const read = (field: FieldName): string | undefined => {
      const text = fields[field]?.trim();
      if (!text || saysNoValue(text)) return undefined;
      const quantity = readLimit(text, record.unitOf?.[field] ?? value.printedUnit, fields.scale);
      if ("fault" in quantity) {
        note(field, quantity.fault);
        return undefined;
      }
      unit ??= quantity.unit;
      if (unit === quantity.unit) return quantity.decimal;
      note(field, `is in ${quantity.unit}, others in ${unit}`);
      return undefined;
    };
    const nominal = read("nominal");
    let lower = read("lower_limit");
    let upper = read("upper_limit");
    if (nominal !== undefined) {
      const below = read("lower_deviation");
      const above = read("upper_deviation");
      const beneath = read("lower_tolerance");
      const around = read("tolerance");
      if (below !== undefined) lower ??= addDecimals(nominal, below);
      if (above !== undefined) upper ??= addDecimals(nominal, above);
      if (beneath?.startsWith("-"))
        note("lower_tolerance", "goes without a sign: name it lower_deviation where it has one");
      else if (beneath !== undefined) lower ??= addDecimals(nominal, negateDecimal(beneath));
      if (around !== undefined) {
        lower ??= addDecimals(nominal, negateDecimal(around));
        upper ??= addDecimals(nominal, around);
      }
    }
    let aim = nominal;
    const text = fields.requirement?.trim();
    if (text) {
      const required = readRequirement(text, notation, value.printedUnit);
      if ("fault" in required) note("requirement", `${text} ${required.fault}`);
      else {
        const kept = (decimal: string | undefined) =>
          decimal && toKeptUnit(decimal, value.printedUnit).decimal;
        aim ??= kept(required.nominal);
        lower ??= kept(required.lower);
        upper ??= kept(required.upper);
        unit ??= value.unit;
      }
    }
    if (aim !== undefined) said.nominal = aim;
    if (lower !== undefined) said.lower_limit = lower;
    if (upper !== undefined) said.upper_limit = upper;
    if (unit !== undefined) said.unit = unit;
    const within = conforms(value, lower, upper, unit ?? value.unit);
    if (within !== undefined) said.within = within;
  }

  function wholeNumber(
    field: "piece" | "cut" | "count",
    text: string | undefined,
    most: number,
    least = 1,
  ): { whole: number } | Fault | undefined {
    const bare = text?.trim();
    if (!bare) return undefined;
    const read = readNumber(translated(field, bare), notation);
    if ("fault" in read) return { fault: `${bare} ${read.fault}` };
    const [whole = "", fraction = ""] = read.decimal.split(".");
    const number = Number(whole);
    if (/[1-9]/.test(fraction) || number < least || number > most) {
      return { fault: `${bare} is no whole number from ${least} to ${most}` };
    }
    return { whole: number };
  }
}

function placesOf(decimal: string): number {
  const point = decimal.indexOf(".");
  return point < 0 ? 0 : decimal.length - point - 1;
}

/** Takes the layout's marks off a value; several may stand there. */
function stripMarks(
  text: string,
  marks: readonly (readonly [string, "pass" | "fail" | "ignore"])[],
): { text: string; result: "pass" | "fail" | undefined } {
  let bare = text;
  let result: "pass" | "fail" | undefined;
  for (let found = true; found && bare !== ""; ) {
    found = false;
    for (const [mark, means] of marks) {
      const before = bare;
      if (mark === "()") {
        if (bare.startsWith("(") && bare.endsWith(")")) bare = bare.slice(1, -1).trim();
      } else if (bare !== mark && bare.endsWith(mark)) bare = bare.slice(0, -mark.length).trim();
      else if (bare !== mark && bare.startsWith(mark)) bare = bare.slice(mark.length).trim();
      if (bare === before) continue;
      found = true;
      if (means !== "ignore") result = means;
    }
  }
  return { text: bare, result };
}
