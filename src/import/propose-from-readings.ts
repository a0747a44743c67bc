import type { FeatureKind } from "../core/feature-kind.js";
import { compareDecimals } from "../core/notation/decimal-text.js";
import type { KeptUnit, PrintedUnit } from "../core/notation/read-unit.js";
import { compileLayout } from "./compile-layout.js";
import { openReader } from "./formats.js";
import { createInterpreter, type Interpreter, type ReadReading, type Said } from "./interpret-record.js";
import type { Layout } from "./layout.js";
import { inUnit, middle, type ProposedFeature, type ProposedPart } from "./qif/propose-part.js";
import { type Found, type SourceRecord, shown, UnreadableSource } from "./source-record.js";

type Type = "size" | "angle" | "position" | "result" | "count";

/** What can be told of a kind by what was measured alone. */
const kindsOf: Record<Type, FeatureKind[]> = {
  size: ["external", "internal", "depth", "height", "length"],
  angle: ["angle"],
  position: ["position"],
  result: ["go_no_go", "visual"],
  count: ["count"],
};
/** What a length can be, too, where nothing says a nominal size. */
const withoutNominal: FeatureKind[] = ["position", "form", "roughness"];

interface Seen {
  type: Type;
  line: number;
  unit: KeptUnit | undefined;
  nominal: string | undefined;
  lower: string | undefined;
  upper: string | undefined;
  places: Set<string>;
  reason?: string;
}

const mostCharacteristics = 1000;
const mostUntold = 50;

/**
 * The part that a file's readings make, by what the file says each of them should be. A line without a value counts as well: a
 * plan has none. What differs from line to line, and what says no limits, is left out with its reason.
 * @param layout how the file is read; which piece a reading is of does not matter
 * @throws {UnreadableSource} where the file can't be read at all, or has more than 1000 characteristics
 */
export async function proposeFromReadings(
  source: AsyncIterable<Buffer>,
  layout: Layout,
  unit: PrintedUnit | undefined,
): Promise<ProposedPart> {
  const compiled = compileLayout({
    ...layout,
    unit: layout.unit ?? unit,
    piece_from: "count",
  });
  const reader = openReader(compiled);
  const part = new PartOfReadings(createInterpreter(compiled));
  for await (const bytes of source) part.take(reader.read(bytes));
  part.take(reader.end());
  return part.propose();
}

class PartOfReadings {
  private readonly seen = new Map<string, Seen>();
  private readonly untold = new Map<string, { line: number; reason: string }>();
  private readonly numbers = new Set<string>();
  private readonly revisions = new Set<string>();

  constructor(private readonly interpret: Interpreter) {}

  take(found: readonly Found[]): void {
    for (const item of found) {
      if (item.kind === "skipped") continue;
      if (item.kind === "unreadable") this.leaveOut(shown(item.text), item.line, item.reason);
      else this.takeRecord({ ...item, kind: "record" });
    }
  }

  private takeRecord(record: SourceRecord): void {
    const read = this.interpret(asRequired(record));
    const name = this.interpret.nameOf("characteristic", record.fields);
    if (read.kind === "reading") {
      this.takeReading(record.line, read.reading, read.said);
      return;
    }
    const reason =
      read.kind === "refused" && read.field !== "line" ? `${read.field} ${read.reason}` : read.reason;
    this.leaveOut(name || shown(record.text), record.line, reason);
  }

  private takeReading(line: number, reading: ReadReading, said: Said): void {
    const { characteristic, part_number, revision, place } = reading;
    if (part_number !== undefined) this.numbers.add(part_number);
    if (revision !== undefined) this.revisions.add(revision);
    if (characteristic === undefined) {
      this.leaveOut(`line ${line}`, line, "it names no characteristic");
      return;
    }
    const one: Seen = {
      type: typeOf(reading),
      line,
      unit: said.unit ?? reading.unit,
      nominal: said.nominal,
      lower: said.lower_limit,
      upper: said.upper_limit,
      places: new Set(place === undefined ? [] : [place]),
    };
    const known = this.seen.get(characteristic);
    if (known) join(known, one);
    else if (this.seen.size < mostCharacteristics) this.seen.set(characteristic, one);
    else
      throw new UnreadableSource(
        line,
        `Line ${line}: the file has more than ${mostCharacteristics} characteristics.`,
      );
  }

  private leaveOut(name: string, line: number, reason: string): void {
    if (this.untold.size < mostUntold && !this.untold.has(name)) this.untold.set(name, { line, reason });
  }

  propose(): ProposedPart {
    const lengths = [...this.seen.values()].find(({ type, unit }) => type === "size" && unit !== undefined);
    const unit = lengths?.unit === "inch" || lengths?.unit === "µin" ? "inch" : "mm";
    const proposed: ProposedPart = {
      number: only(this.numbers),
      revision: only(this.revisions),
      name: null,
      qpid: null,
      unit,
      features: [],
      left_out: [],
    };
    for (const [characteristic, one] of this.seen) {
      const feature = featureOf(characteristic, one, unit);
      if (typeof feature === "string")
        proposed.left_out.push({
          item: characteristic,
          type: one.type,
          name: characteristic,
          reason: feature,
        });
      else proposed.features.push(feature);
    }
    for (const [name, { line, reason }] of this.untold) {
      if (!this.seen.has(name)) proposed.left_out.push({ item: `line ${line}`, type: "line", name, reason });
    }
    return proposed;
  }
}

/** As if it had been measured at its nominal size, where nothing was measured: what it should be counts here alone. */
function asRequired(record: SourceRecord): SourceRecord {
  const { fields, unitOf } = record;
  const { nominal, upper_limit, lower_limit, value, dx, result, count } = fields;
  const isMeasured = [value, dx, result, count].some((text) => (text?.trim() ?? "") !== "") || record.values;
  const size = nominal ?? upper_limit ?? lower_limit;
  if (isMeasured || size === undefined) return record;
  const unit = unitOf?.nominal ?? unitOf?.value;
  return {
    ...record,
    fields: { ...fields, value: size },
    ...(unit !== undefined && { unitOf: { ...unitOf, value: unit } }),
  };
}

function typeOf({ value, dx, count, unit }: ReadReading): Type {
  if (dx !== undefined) return "position";
  if (count !== undefined) return "count";
  if (value === undefined) return "result";
  return isAngle(unit) ? "angle" : "size";
}

function isAngle(unit: KeptUnit | undefined): boolean {
  return unit === "deg" || unit === "arcmin" || unit === "arcsec" || unit === "rad";
}

/** Takes in another reading of the same characteristic: what it should be must not change. */
function join(known: Seen, one: Seen): void {
  for (const place of one.places) known.places.add(place);
  if (known.reason !== undefined) return;
  if (known.type !== one.type) {
    known.reason = `line ${known.line} says a ${known.type}, line ${one.line} a ${one.type}`;
    return;
  }
  for (const side of ["nominal", "lower", "upper"] as const) {
    const [before, now] = [known[side], one[side]];
    if (before === undefined) known[side] = now;
    else if (now !== undefined && (known.unit !== one.unit || compareDecimals(before, now) !== 0)) {
      known.reason = `${words[side]} is ${before} ${known.unit} on line ${known.line}, and ${now} ${one.unit} on line ${one.line}: which one is it?`;
      return;
    }
  }
}

const words = { nominal: "its nominal size", lower: "its lower limit", upper: "its upper limit" };

function featureOf(characteristic: string, one: Seen, unit: "mm" | "inch"): ProposedFeature | string {
  const { type, places, reason } = one;
  if (reason !== undefined) return reason;
  const isMeasure = type === "size" || type === "angle";
  const target = type === "angle" ? "deg" : unit;
  const convert = (decimal: string | undefined) =>
    decimal === undefined || one.unit === undefined ? null : inUnit(decimal, one.unit, target);
  const sizes = [one.nominal, one.lower, one.upper].map(convert);
  if (sizes.some((size) => size === undefined))
    return `its sizes in ${one.unit} can't be written exactly in ${target}`;
  const [said = null, lower_limit = null, upper_limit = null] = sizes as (string | null)[];
  const isOpen = type === "size" && (said === null || compareDecimals(said, "0") === 0);
  const nominal = said ?? (isMeasure ? middle(lower_limit, upper_limit) : null);
  if (isMeasure && nominal === null && upper_limit === null)
    return "the file says neither a nominal size nor limits of it";
  const kinds = [...kindsOf[type], ...(isOpen ? withoutNominal : [])];
  const missing: ProposedFeature["missing"] = kinds.length > 1 ? ["kind"] : [];
  if (type !== "result" && lower_limit === null && upper_limit === null) missing.push("limits");
  const notes =
    places.size > 0 ? [`it was measured at ${[...places].join(", ")}: name its places (places)`] : [];
  return {
    item: characteristic,
    type,
    characteristic,
    name: null,
    kind: kinds.length === 1 ? kinds[0]! : null,
    kinds,
    geometric_characteristic: null,
    nominal: isMeasure ? nominal : null,
    lower_limit,
    upper_limit,
    missing,
    notes,
  };
}

function only(names: ReadonlySet<string>): string | null {
  const [name = null] = names;
  return names.size === 1 ? name : null;
}
