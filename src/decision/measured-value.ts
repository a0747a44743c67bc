import { isAttribute, isSize, quantityOf } from "../core/feature-kind.js";
import {
  fromNumeric,
  type LengthUnit,
  type MeasureUnit,
  parseDecimal,
  parseMeasure,
  toNumeric,
  toUnit,
} from "../core/quantity.js";
import { isThread, noGoMilliTurns } from "../core/tolerance/go-no-go.js";
import { positionDiameter } from "../core/tolerance/position.js";
import { turningPoint } from "../core/tolerance/turning-point.js";
import type { SentPoints } from "../db/schema.js";
import type { FeatureView, RuledFeature } from "./feature-view.js";
import { whyUnsuited } from "./gauge-suits.js";
import type { GaugeView } from "./gauge-view.js";
import { digestPoints, type PointsMeasured, readPoints } from "./measured-points.js";
import type { ReadingRow } from "./queries.js";
import { optionalPm } from "./stored-size.js";

/** What a reading says of its feature, as it was sent. */
export interface MeasuredInput {
  value?: string | number | undefined;
  rocked?: (string | number)[] | undefined;
  unit?: MeasureUnit | undefined;
  dx?: string | number | undefined;
  dy?: string | number | undefined;
  dz?: string | number | undefined;
  size?: string | number | undefined;
  result?: NonNullable<ReadingRow["result"]> | undefined;
  turns?: string | number | undefined;
  count?: number | undefined;
  state?: NonNullable<ReadingRow["state"]> | undefined;
  points?: SentPoints["points"] | undefined;
  ball_diameter?: string | number | undefined;
  true_position?: SentPoints["true_position"];
  /** Of a file that tells a profile by its deviations, with a sign: between which of them its zone lies. */
  zone?: { lower?: string | undefined; upper?: string | undefined; unit: MeasureUnit } | undefined;
}

/** What it amounts to: a number, a result or a state, and what goes with it. Whole steps of the feature's quantity. */
export interface Measured {
  /** The size, angle, position …; undefined: it passed or failed, or there is none. */
  sizePm: number | undefined;
  offsetsPm: { dx: number; dy: number; dz: number | undefined } | undefined;
  /** Size of the feature that earns the bonus. */
  featureSizePm: number | undefined;
  result: ReadingRow["result"];
  milliTurns: number | undefined;
  /** Why the gauge gave no number. */
  state: ReadingRow["state"];
}

export interface MeasuredFault {
  /** Member of the reading, or its place in a list: "rocked/2". */
  at: string;
  detail: string;
}

const nothing: Measured = {
  sizePm: undefined,
  offsetsPm: undefined,
  featureSizePm: undefined,
  result: null,
  milliTurns: undefined,
  state: null,
};

/** The largest that is kept of each quantity, in steps: 100 m, 360°, a million. Sums of them are still exact. */
const largest = { length: 1e14, angle: 360 * 3600e9, count: 1e15, attribute: 0 };

interface Read {
  measured: Measured;
  /** What a second sending of the same reading would show again. */
  shown: unknown;
  /** The value that counts, as it was typed; null: it came as something else. */
  valueGiven: string | null;
  points?: PointsMeasured;
}

/**
 * The one place where what was sent becomes what was measured: a plain value, the turning point of several, an angle in any of
 * its notations, the offsets of a position, a count, the result of a gauge, or the reason why there is none.
 */
export function readMeasured(
  input: MeasuredInput,
  feature: RuledFeature & Pick<FeatureView, "at">,
  gauge: GaugeView,
): Read | MeasuredFault {
  const { kind, characteristic } = feature;
  const { state } = input;
  if (state !== undefined) return { measured: { ...nothing, state }, shown: state, valueGiven: null };
  if (isAttribute(kind)) return readResult(input, feature);
  if (input.result !== undefined) {
    return {
      at: "result",
      detail: `is told of what passes or fails, and characteristic ${characteristic} is measured: send "value"`,
    };
  }
  const unsuited = whyUnsuited(feature, { ...gauge, showsNumber: gauge.resolutionPm > 0 });
  if (unsuited) return { at: "gauge_id", detail: unsuited };
  const stray = (["dx", "size"] as const).find((member) => input[member] !== undefined);
  if (stray && kind !== "position") {
    return {
      at: stray,
      detail: `belongs to a position, and characteristic ${characteristic} is of kind ${kind}: send "value" alone`,
    };
  }
  if (input.rocked && kind !== "internal" && kind !== "external") {
    return { at: "rocked", detail: `has no turning point on a ${kind}: send the one reading as "value"` };
  }
  if (kind === "count" || input.count !== undefined) return readCount(input, feature);
  const { unit } = input;
  if (unit === undefined || !suits(unit, feature)) return { at: "unit", detail: askForUnit(feature) };
  if (input.points !== undefined) return readTouched(input, unit as LengthUnit, feature, gauge);
  const size = readSize(input.size, unit, feature);
  if (typeof size === "object") return size;
  if (input.dx !== undefined) return readOffsets(input, unit, feature, size);
  if (input.zone !== undefined && kind === "form") return readDeviation(input, unit, feature);
  return readValues(input, unit, feature, gauge, size);
}

/** Size, form or position from points that were touched. */
function readTouched(
  { points, ball_diameter, true_position }: MeasuredInput,
  unit: LengthUnit,
  feature: RuledFeature & Pick<FeatureView, "at">,
  gauge: GaugeView,
): Read | MeasuredFault {
  if (gauge.reads === "deviation") {
    return {
      at: "gauge_id",
      detail: `"${gauge.name}" shows deviations from a master, and points are places: name what touched them`,
    };
  }
  const drawn = feature.kind === "position" ? feature.at?.slice(0, points![0]!.length) : undefined;
  const sent = {
    points: points!,
    unit,
    ball_diameter,
    true_position: true_position ?? drawn?.map((mm) => toUnit(Math.round(mm * 1e9), unit)),
  };
  const found = readPoints(sent, feature);
  if ("at" in found) return found;
  const { sizePm, offsetsPm, featureSizePm } = found;
  const measured = { ...nothing, sizePm, offsetsPm, featureSizePm };
  return { measured, shown: digestPoints(sent), valueGiven: null, points: found };
}

/** One value, or all that was shown while the gauge was rocked, of which the turning point counts. */
function readValues(
  { value, rocked }: MeasuredInput,
  unit: MeasureUnit,
  feature: RuledFeature,
  gauge: GaugeView,
  featureSizePm: number | undefined,
): Read | MeasuredFault {
  const { kind } = feature;
  const given = rocked ?? [value ?? ""];
  const sizes: number[] = [];
  for (const [i, text] of given.entries()) {
    const at = rocked ? `rocked/${i}` : "value";
    const shown = readSteps(text, unit, kind, at);
    if (typeof shown === "object") return shown;
    if (!isSize(kind) && kind !== "angle" && shown < 0) {
      return { at, detail: `${text} is below 0, and a ${kind} has no sign: check how it was read` };
    }
    sizes.push(isSize(kind) || kind === "angle" ? sizeShown(gauge, shown) : shown);
  }
  const counts = turningPoint(sizes, kind === "internal" ? "internal" : "external");
  const typed = given[counts]!;
  const shownPm = parseMeasure(typed, unit)!;
  return {
    measured: { ...nothing, sizePm: sizes[counts]!, featureSizePm },
    shown: featureSizePm === undefined ? shownPm : [shownPm, featureSizePm],
    valueGiven: String(typed),
  };
}

/**
 * How far a profile deviates, by the width of a zone that would just hold it (ISO 1101: it lies half to either side; from memory) or by
 * half of that, whichever of the two the part's limit is. A zone that lies unequally is taken from its middle.
 */
function readDeviation(
  { value, zone }: MeasuredInput,
  unit: MeasureUnit,
  { kind, characteristic, upperPm }: RuledFeature,
): Read | MeasuredFault {
  const shown = readSteps(value ?? "", unit, kind, "value");
  if (typeof shown === "object") return shown;
  const { lower = "", upper = "", unit: zoneUnit } = zone!;
  const [lowerPm, highestPm] = [parseMeasure(lower, zoneUnit), parseMeasure(upper, zoneUnit)];
  if (lowerPm === undefined || highestPm === undefined) {
    return {
      at: "value",
      detail: `${value} ${unit} deviates to one side of a profile, and the document does not say how wide its zone is: it can't be told whether characteristic ${characteristic} is good`,
    };
  }
  const widthPm = highestPm - lowerPm;
  const needed = Math.abs(2 * shown - lowerPm - highestPm);
  if (upperPm !== widthPm && upperPm !== widthPm / 2) {
    const ours = upperPm === undefined ? "no limit" : `${toUnit(upperPm, zoneUnit)} ${zoneUnit}`;
    return {
      at: "value",
      detail: `deviates from a profile whose zone is ${toUnit(widthPm, zoneUnit)} ${zoneUnit} wide in the document, from ${lower} to ${upper}; characteristic ${characteristic} has ${ours} here, which is neither that width nor half of it: put the wrong one of them right`,
    };
  }
  const sizePm = upperPm === widthPm ? needed : Math.ceil(needed / 2);
  return { measured: { ...nothing, sizePm }, shown, valueGiven: String(value) };
}

/**
 * The size that a gauge shows, which may show how far off its master it is. A form, a roughness or a position is a difference
 * by itself, and never told from a master.
 */
export function sizeShown(
  { reads, masterPm, sense }: Pick<GaugeView, "reads" | "masterPm" | "sense">,
  shownPm: number,
): number {
  return reads === "size" ? shownPm : masterPm! + (sense === "reversed" ? -shownPm : shownPm);
}

function readOffsets(
  { dx, dy, dz }: MeasuredInput,
  unit: MeasureUnit,
  { kind }: RuledFeature,
  featureSizePm: number | undefined,
): Read | MeasuredFault {
  const offsets: number[] = [];
  for (const [at, text] of [["dx", dx] as const, ["dy", dy] as const, ["dz", dz] as const]) {
    if (text === undefined) continue;
    const steps = readSteps(text, unit, kind, at);
    if (typeof steps === "object") return steps;
    offsets.push(steps);
  }
  const sizePm = positionDiameter(offsets);
  if (sizePm > largest.length) {
    return { at: "dx", detail: "lies beyond every size: check the unit and the decimal point" };
  }
  return {
    measured: {
      ...nothing,
      sizePm,
      offsetsPm: { dx: offsets[0]!, dy: offsets[1]!, dz: offsets[2] },
      featureSizePm,
    },
    shown: [...offsets, featureSizePm ?? null],
    valueGiven: null,
  };
}

/** The size that comes with a position at maximum or least material. */
function readSize(
  size: string | number | undefined,
  unit: MeasureUnit,
  { kind, condition, characteristic }: RuledFeature,
): number | undefined | MeasuredFault {
  if (size === undefined) return undefined;
  if (!condition) {
    return {
      at: "size",
      detail: `is of use at maximum or least material only, and characteristic ${characteristic} has no material_condition: leave it out`,
    };
  }
  const steps = readSteps(size, unit, kind, "size");
  return steps === 0 || (typeof steps === "number" && steps < 0)
    ? { at: "size", detail: "must be above 0: it is the size of the feature" }
    : steps;
}

function readSteps(
  given: string | number,
  unit: MeasureUnit,
  kind: RuledFeature["kind"],
  at: string,
): number | MeasuredFault {
  const steps = parseMeasure(given, unit);
  if (steps !== undefined && Math.abs(steps) <= largest[quantityOf(kind)]) return steps;
  const what = kind === "angle" ? "is no angle that there is" : "is beyond every size";
  return { at, detail: `${given} ${unit} ${what}: check the unit and the decimal point` };
}

function readCount({ count }: MeasuredInput, { kind, characteristic }: RuledFeature): Read | MeasuredFault {
  if (kind !== "count") {
    return {
      at: "count",
      detail: `is of what is counted, and characteristic ${characteristic} is measured: send "value"`,
    };
  }
  if (count === undefined) {
    return { at: "value", detail: `characteristic ${characteristic} is counted: send "count" instead` };
  }
  return { measured: { ...nothing, sizePm: count * 1e9 }, shown: count, valueGiven: String(count) };
}

function readResult(input: MeasuredInput, feature: RuledFeature): Read | MeasuredFault {
  const { kind, gauged, threadStandard, characteristic } = feature;
  const allowed = kind === "visual" ? ["pass", "fail"] : ["pass", "go_refuses", "no_go_enters"];
  const { result } = input;
  const list = allowed.map((name) => `"${name}"`).join(", ");
  if (result === undefined || !allowed.includes(result)) {
    const said = result === undefined ? "is missing" : `"${result}" is no result of it`;
    return {
      at: "result",
      detail: `${said}: characteristic ${characteristic} passes or fails, so send one of ${list}`,
    };
  }
  if (input.turns === undefined) return { measured: { ...nothing, result }, shown: result, valueGiven: null };
  const milliTurns = parseDecimal(input.turns, 3)!;
  if (gauged === null || !isThread(gauged))
    return { at: "turns", detail: "belong to a thread gauge: leave them out" };
  if (threadStandard === null) {
    return {
      at: "turns",
      detail: `say nothing while it is not known by which standard: give characteristic ${characteristic} its thread_standard with the next revision, or leave them out and send whether the gauge passes`,
    };
  }
  if (result === "go_refuses") {
    return { at: "turns", detail: "are counted of the NO-GO side, and GO has refused: leave them out" };
  }
  const most = noGoMilliTurns[threadStandard];
  if (result === "pass" && milliTurns > most) {
    return {
      at: "turns",
      detail: `${milliTurns / 1000} are more than the ${most / 1000} that NO-GO may go in by this standard: send "no_go_enters", or count again`,
    };
  }
  return { measured: { ...nothing, result, milliTurns }, shown: [result, milliTurns], valueGiven: null };
}

const angleUnits: readonly MeasureUnit[] = ["deg", "arcmin", "arcsec", "rad"];

function suits(unit: MeasureUnit, { kind }: RuledFeature): boolean {
  return angleUnits.includes(unit) === (kind === "angle");
}

function askForUnit({ kind, characteristic }: RuledFeature): string {
  return kind === "angle"
    ? `must be "deg", "arcmin", "arcsec" or "rad": characteristic ${characteristic} is an angle`
    : `must be "mm", "um", "nm", "inch" or "uin": characteristic ${characteristic} is no angle`;
}

/** Columns of a reading that keep what was measured. */
export function measuredColumns({ sizePm, offsetsPm, featureSizePm, result, milliTurns, state }: Measured) {
  const numeric = (pm: number | undefined) => (pm === undefined ? null : toNumeric(pm));
  return {
    value_mm: numeric(sizePm),
    dx_mm: numeric(offsetsPm?.dx),
    dy_mm: numeric(offsetsPm?.dy),
    dz_mm: numeric(offsetsPm?.dz),
    size_mm: numeric(featureSizePm),
    result,
    turns: milliTurns === undefined ? null : String(milliTurns / 1000),
    state,
  };
}

/** The same, back from its columns. */
export function measuredOf(
  row: Pick<ReadingRow, "value_mm" | "dx_mm" | "dy_mm" | "dz_mm" | "size_mm" | "result" | "turns" | "state">,
): Measured {
  return {
    sizePm: optionalPm(row.value_mm),
    offsetsPm:
      row.dx_mm === null
        ? undefined
        : { dx: fromNumeric(row.dx_mm), dy: fromNumeric(row.dy_mm!), dz: optionalPm(row.dz_mm) },
    featureSizePm: optionalPm(row.size_mm),
    result: row.result,
    milliTurns: row.turns === null ? undefined : parseDecimal(row.turns, 3),
    state: row.state,
  };
}
