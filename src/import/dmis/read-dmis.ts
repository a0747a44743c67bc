import type { CompiledLayout } from "../compile-layout.js";
import type { Line } from "../decode-lines.js";
import type { Fields } from "../fields.js";
import type { LineParser } from "../read-lines.js";
import { skipped } from "../read-text-log.js";
import { type Found, type SourceRecord, shown } from "../source-record.js";
import { type Actual, type Convention, measuredBy, toDecimal } from "./actual-size.js";
import {
  type Dimensions,
  dimensionsOf,
  isNumber,
  isToleranceKnown,
  sizeOf,
  type Tolerance,
  toleranceOf,
} from "./features.js";
import { readLabel, type Statement, splitStatement, unquoted, withoutComment } from "./split-statement.js";

/** What has been said so far that what follows rests on. */
interface State {
  length?: string;
  angle?: "deg" | "dms" | "rad";
  ids: Partial<
    Record<"part" | "revision" | "serial" | "lot" | "operation" | "device" | "date" | "time", string>
  >;
  /** By their labels in capitals, as everything here. */
  nominal: Map<string, Dimensions>;
  actual: Map<string, Dimensions>;
  tolerances: Map<string, Tolerance>;
  /** Which features a tolerance is reported on, by OUTPUT. */
  reportedOn: Map<string, string[]>;
  lastActual?: string;
  /** Of tolerances by whose label alone readings are named: on which feature each was seen first. */
  seenOn: Map<string, string>;
  convention?: Convention;
}

const mostLabels = 10_000;
const mostLines = 200;
const longest = 65_536;
const identities: Record<string, keyof State["ids"]> = {
  PARTID: "part",
  PARTRV: "revision",
  PARTSER: "serial",
  LOTID: "lot",
  OPERID: "operation",
  DMEID: "device",
};
const lengthUnits: Record<string, string> = { MM: "mm", CM: "cm", M: "m", INCH: "inch", FEET: "feet" };
const angleUnits: Record<string, NonNullable<State["angle"]>> = {
  ANGDEC: "deg",
  ANGDMS: "dms",
  ANGRAD: "rad",
};
/** Statements that say nothing of a reading, known by name; others are told as unknown. */
const silent = new Set(
  (
    "FILNAM ENDFIL DMISMN DMISMD ENDMES DATDEF DATSET DMESWI DMESWV DMESW MFGDEV PLANID PREVOP PROCID CLMPID CLMPSN FIXTID " +
    "REPORT TEXT TEMPC TEMPF TEMP MODE SNSDEF SNSLCT PTDATA PTMEAS RAWDAT WKPLAN DISPLY VFORM TRANS ROTATE LOCATE QISDEF"
  ).split(" "),
);

/**
 * DMIS output (ISO 22093, ANSI/DMIS 105.1; statement forms from memory): each reported tolerance, TA(…)=TOL/…, on the features
 * that OUTPUT names with it is a reading; nominal features and tolerances, actual features, units and identities give it its
 * limits and names.
 */
export class DmisParser implements LineParser {
  private readonly known: State;
  private open: { lines: Line[]; length: number } | undefined;
  private readonly options;

  constructor({ layout }: CompiledLayout, state: unknown) {
    this.known = fromJson(state as Json | undefined);
    this.options = {
      names: "feature_and_tolerance",
      actuals: "detect",
      lot: "note",
      ...layout.dmis,
    } as const;
  }

  take(lines: readonly Line[]): Found[] {
    return lines.flatMap((line) => this.takeLine(line));
  }

  end(): Found[] {
    if (!this.open) return [];
    const lines = this.open.lines;
    this.open = undefined;
    return [this.unreadable(lines, "is continued ($), but nothing comes after it")];
  }

  waiting() {
    return this.open && { line: this.open.lines[0]!, state: this.state() };
  }

  state(): Json {
    return toJson(this.known);
  }

  private takeLine(line: Line): Found[] {
    const lines = [...(this.open?.lines ?? []), line];
    if (line.fault !== undefined) {
      this.open = undefined;
      return [this.unreadable(lines, line.fault)];
    }
    const bare = withoutComment(line.text).trimEnd();
    if (bare.endsWith("$")) {
      const length = (this.open?.length ?? 0) + line.text.length;
      if (lines.length < mostLines && length < longest) {
        this.open = { lines, length };
        return [];
      }
      this.open = undefined;
      return [this.unreadable(lines, `goes on over more than ${mostLines} lines or ${longest} characters`)];
    }
    this.open = undefined;
    const text = lines
      .map((one) => withoutComment(one.text).trimEnd().replace(/\$$/, ""))
      .join("")
      .trim();
    if (text === "") return bare === line.text.trimEnd() ? [] : [skipped(line, "is a comment")];
    if (text.length > longest) return [this.unreadable(lines, `is longer than ${longest} characters`)];
    const statement = splitStatement(text);
    if ("fault" in statement) return [this.unreadable(lines, statement.fault)];
    return this.takeStatement(statement, lines);
  }

  private takeStatement(statement: Statement, lines: readonly Line[]): Found[] {
    const { defines, major, args } = statement;
    const state = this.known;
    const told = (why: string): Found[] => [skipped(lines[0]!, why)];
    const kind = defines?.kind;
    const label = defines?.label.toUpperCase() ?? "";
    if (kind === "DATE" || kind === "TIME" || major === "DATE" || major === "TIME") {
      const name = kind === "DATE" || major === "DATE" ? "date" : "time";
      state.ids[name] = unquoted(args[0] ?? "");
      return told("says when");
    }
    if (kind === "TA" && major === "TOL") return this.takeActual(defines!.label, args, lines);
    if (kind === "F" && major === "FEAT") {
      keep(state.nominal, label, dimensionsOf(args));
      return told("is a nominal feature");
    }
    if (kind === "FA" && major === "FEAT") {
      keep(state.actual, label, dimensionsOf(args));
      state.lastActual = label;
      return told("is an actual feature");
    }
    if (kind === "T" && major === "TOL") {
      keep(state.tolerances, label, toleranceOf(args));
      return told("is a nominal tolerance");
    }
    if (major === "OUTPUT") {
      this.announce(args);
      return told("says what is reported");
    }
    const identity = identities[major];
    if (identity !== undefined) {
      state.ids[identity] = unquoted(args[0] ?? "").slice(0, 200);
      if (identity === "serial") this.forgetPiece();
      return told(`says the ${identity}`);
    }
    if (major === "UNITS") {
      for (const arg of args.map((text) => text.toUpperCase())) {
        if (lengthUnits[arg] !== undefined) state.length = lengthUnits[arg];
        if (angleUnits[arg] !== undefined) state.angle = angleUnits[arg];
      }
      return told("says the units");
    }
    if (major === "FILNAM") {
      state.ids = {};
      this.forgetPiece();
    }
    return told(silent.has(major) ? "tells nothing of a reading" : "is a statement that is not known here");
  }

  private forgetPiece(): void {
    this.known.actual.clear();
    this.known.reportedOn.clear();
    delete this.known.lastActual;
  }

  /** OUTPUT/FA(A),TA(1),TA(2),FA(B),TA(3): tolerances on the features named before them. */
  private announce(args: readonly string[]): void {
    let features: string[] = [];
    let wasTolerance = false;
    for (const arg of args) {
      const named = readLabel(arg);
      if (!named) continue;
      const label = named.label.toUpperCase();
      if (named.kind === "FA") {
        features = wasTolerance ? [label] : [...features, label].slice(-10);
        wasTolerance = false;
        // What an earlier piece had there is not what is reported now.
        this.known.actual.delete(label);
      }
      if (named.kind === "TA") {
        keep(this.known.reportedOn, label, features);
        wasTolerance = true;
      }
    }
  }

  private takeActual(printedLabel: string, args: readonly string[], lines: readonly Line[]): Found[] {
    const state = this.known;
    const label = printedLabel.toUpperCase();
    const features =
      state.reportedOn.get(label) ?? (state.lastActual === undefined ? [] : [state.lastActual]);
    const parser = this.context(label, features);
    const refused = (reason: string): Found[] => [this.unreadable(lines, reason, parser)];
    const words = args.map((arg) => arg.toUpperCase());
    const type = words[0] ?? "";
    if (!isToleranceKnown(type))
      return refused(`reports a tolerance of type ${type.slice(0, 40)}, which is not read`);
    if (features.length === 0) return refused(`reports ${printedLabel}, but nothing says on which feature`);
    const at = words.findIndex((word) => word === "INTOL" || word === "OUTOL");
    const numbers = words.slice(1, at < 0 ? undefined : at).filter(isNumber);
    if (numbers.length === 0) return refused(`reports ${printedLabel} without a number`);
    const name = this.nameOf(printedLabel, features);
    if (typeof name !== "string") return refused(name.fault);
    const result = words[at];
    const isMinMax = numbers.length === 2 && (words.includes("MINMAX") || /^PROF/.test(type));
    const found = (isMinMax ? numbers : numbers.slice(0, 1)).map((printed, i): Found => {
      const of = { tolerance: this.toleranceOf(label, type, words), features, printed, result, isMinMax };
      const column = isMinMax ? (i === 0 ? "smallest" : "largest") : undefined;
      return this.record(name, of, lines, parser, column);
    });
    return found;
  }

  /** The tolerance as it was defined, or what its type alone says of it. */
  private toleranceOf(label: string, type: string, words: readonly string[]): Tolerance {
    const defined = this.known.tolerances.get(label);
    if (defined?.type === type) return defined;
    const { of, isAngle } = toleranceOf([type, ...words.slice(1).filter((word) => !isNumber(word))]);
    const notes = [`nothing says what ${label} allows`];
    return { type, ...(of !== undefined && { of }), ...(isAngle && { isAngle }), notes };
  }

  private nameOf(label: string, features: readonly string[]): string | { fault: string } {
    const on = features.join("-");
    if (this.options.names === "feature_and_tolerance") return `${on} ${label}`;
    const before = this.known.seenOn.get(label.toUpperCase());
    if (before !== undefined && before !== on) {
      return {
        fault: `is ${label} on ${on}, and it was on ${before} before: let the layout name readings by feature and tolerance (dmis.names)`,
      };
    }
    keep(this.known.seenOn, label.toUpperCase(), on);
    return label;
  }

  private record(
    characteristic: string,
    reported: {
      tolerance: Tolerance;
      features: readonly string[];
      printed: string;
      result: string | undefined;
      isMinMax: boolean;
    },
    lines: readonly Line[],
    parser: unknown,
    column: string | undefined,
  ): Found {
    const { tolerance, features, printed, result, isMinMax } = reported;
    const state = this.known;
    const isAngle = tolerance.isAngle || tolerance.of === "angle";
    const unit = isAngle ? (state.angle ?? undefined) : state.length;
    let noNumber: string | undefined;
    const decimal = (text: string | undefined) => {
      if (text === undefined) return undefined;
      const read = text.includes(":") && !isAngle ? undefined : toDecimal(text);
      if (read === undefined) noNumber ??= text;
      return read;
    };
    const one = features.length === 1 ? features[0]! : undefined;
    const { of } = tolerance;
    const dimension = (dimensions: Map<string, Dimensions>) =>
      of === undefined || one === undefined ? undefined : sizeOf(dimensions.get(one), of);
    const nominal = decimal(tolerance.nominal ?? dimension(state.nominal));
    const actual: Actual = {
      printed: decimal(printed) ?? "0",
      nominal,
      onFeature: isMinMax ? undefined : decimal(dimension(state.actual)),
      featureName: features.join("-"),
      lowerDeviation: decimal(tolerance.lowerDeviation),
      upperDeviation: decimal(tolerance.upperDeviation),
      lowerLimit: decimal(tolerance.lowerLimit),
      upperLimit: decimal(tolerance.upperLimit),
      isIn: result === undefined ? undefined : result === "INTOL",
    };
    if (noNumber !== undefined)
      return this.unreadable(lines, `says ${noNumber}, which is no ${isAngle ? "angle" : "size"}`, parser);
    const isSize = of !== undefined || /^(DISTB|DISTWRT|ANGLB|ANGLWRT)$/.test(tolerance.type);
    const measured = isSize
      ? measuredBy(actual, this.options.actuals === "detect" ? state.convention : this.options.actuals)
      : { value: actual.printed };
    if ("fault" in measured) return this.unreadable(lines, measured.fault, parser);
    if (measured.proves !== undefined) state.convention = measured.proves;
    const { ids } = state;
    const isLot = this.options.lot === "batch";
    const note = [
      ids.lot !== undefined && !isLot && `lot ${ids.lot}`,
      ids.operation !== undefined && `operation ${ids.operation}`,
      ids.device !== undefined && `device ${ids.device}`,
    ].filter((text) => typeof text === "string");
    const limits: Fields = {
      ...(nominal !== undefined && { nominal }),
      ...(actual.lowerDeviation !== undefined && { lower_deviation: actual.lowerDeviation }),
      ...(actual.upperDeviation !== undefined && { upper_deviation: actual.upperDeviation }),
      ...(actual.lowerLimit !== undefined && { lower_limit: actual.lowerLimit }),
      ...(actual.upperLimit !== undefined && { upper_limit: actual.upperLimit }),
    };
    const fields: Fields = {
      characteristic,
      value: measured.value,
      ...limits,
      ...(unit !== undefined && { unit: unit === "dms" ? "deg" : unit }),
      ...(result !== undefined && { result }),
      ...(column !== undefined && { place: column }),
      ...(ids.part !== undefined && { part_number: ids.part }),
      ...(ids.revision !== undefined && { revision: ids.revision }),
      ...(ids.serial !== undefined && { serial: ids.serial }),
      ...(ids.lot !== undefined && isLot && { batch: ids.lot }),
      ...(ids.date !== undefined &&
        ids.time !== undefined && { measured_at: `${ids.date.replaceAll("/", "-")} ${ids.time}` }),
      ...(note.length > 0 && { note: note.join(", ").slice(0, 500) }),
    };
    const notes = [
      ...(tolerance.notes ?? []),
      ...(measured.note === undefined ? [] : [measured.note]),
      ...(lines.some(({ dropped }) => dropped) ? ["control characters were left out"] : []),
    ];
    const record: SourceRecord = {
      kind: "record",
      line: lines[0]!.no,
      lastLine: lines.at(-1)!.no,
      text: textOf(lines),
      fields,
      parser,
    };
    if (column !== undefined) record.column = column;
    if (unit !== undefined) {
      const named = unit === "dms" ? "deg" : unit;
      record.unitOf = Object.fromEntries(Object.keys(limits).map((name) => [name, named]));
    }
    if (notes.length > 0) record.notes = notes;
    return record;
  }

  private unreadable(lines: readonly Line[], reason: string, parser: unknown = this.context("", [])): Found {
    return {
      kind: "unreadable",
      line: lines[0]!.no,
      lastLine: lines.at(-1)!.no,
      text: shown(textOf(lines)),
      reason,
      parser,
    };
  }

  /** What a single statement has to know to be read again by itself. */
  private context(label: string, features: readonly string[]): Json {
    const { known } = this;
    const only = <Value>(all: Map<string, Value>, wanted: readonly string[]) =>
      new Map(wanted.flatMap((name) => (all.has(name) ? [[name, all.get(name)!]] : [])));
    return toJson({
      ...known,
      nominal: only(known.nominal, features),
      actual: only(known.actual, features),
      tolerances: only(known.tolerances, [label]),
      reportedOn: only(known.reportedOn, [label]),
      seenOn: only(known.seenOn, [label]),
    });
  }
}

type Json = {
  [Name in keyof State]: State[Name] extends Map<string, infer Value> ? [string, Value][] : State[Name];
};

function toJson(state: State): Json {
  return {
    ...state,
    ids: { ...state.ids },
    nominal: [...state.nominal],
    actual: [...state.actual],
    tolerances: [...state.tolerances],
    reportedOn: [...state.reportedOn],
    seenOn: [...state.seenOn],
  };
}

function fromJson(json: Json | undefined): State {
  return {
    ...json,
    ids: { ...json?.ids },
    nominal: new Map(json?.nominal),
    actual: new Map(json?.actual),
    tolerances: new Map(json?.tolerances),
    reportedOn: new Map(json?.reportedOn),
    seenOn: new Map(json?.seenOn),
  };
}

/** The latest labels; the oldest one goes where there would be too many. */
function keep<Value>(all: Map<string, Value>, label: string, value: Value): void {
  all.delete(label);
  all.set(label, value);
  if (all.size > mostLabels) all.delete(all.keys().next().value!);
}

function textOf(lines: readonly Line[]): string {
  return lines.map(({ text }) => text).join("\n");
}
