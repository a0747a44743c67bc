import { isAttribute, isSize, quantityOf } from "../core/feature-kind.js";
import { fromNumeric, type MeasureUnit, parseDecimal, parseMeasure, toNumeric } from "../core/quantity.js";
import { isThread, noGoMilliTurns } from "../core/tolerance/go-no-go.js";
import { positionDiameter } from "../core/tolerance/position.js";
import { type GaugeView, optionalPm, type RuledFeature } from "./batch-view.js";
import type { ReadingRow } from "./queries.js";

/** What a reading says of its feature, as it was sent. */
export interface MeasuredInput {
  value?: string | number | undefined;
  unit?: MeasureUnit | undefined;
  dx?: string | number | undefined;
  dy?: string | number | undefined;
  dz?: string | number | undefined;
  size?: string | number | undefined;
  result?: NonNullable<ReadingRow["result"]> | undefined;
  turns?: string | number | undefined;
  count?: number | undefined;
  state?: NonNullable<ReadingRow["state"]> | undefined;
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
  at: keyof MeasuredInput | "gauge_id";
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

/**
 * The one place where what was sent becomes what was measured: a plain value, an angle in any of its notations, the offsets of
 * a position, the result of a gauge, or the reason why there is none.
 * @returns with `shown`, what a second sending of the same reading would show again; or what cannot be about it
 */
export function readMeasured(
  input: MeasuredInput,
  feature: RuledFeature,
  gauge: GaugeView,
): { measured: Measured; shown: unknown } | MeasuredFault {
  const fault = (at: MeasuredFault["at"], detail: string): MeasuredFault => ({ at, detail });
  const { kind } = feature;
  if (input.state !== undefined) {
    return { measured: { ...nothing, state: input.state }, shown: input.state };
  }
  if (isAttribute(kind)) return readResult(input, feature);
  if (input.result !== undefined) {
    return fault(
      "result",
      `is told of what passes or fails, and characteristic ${feature.characteristic} is measured: send "value"`,
    );
  }
  const unsuited = checkGauge(feature, gauge);
  if (unsuited) return fault("gauge_id", unsuited);
  if (input.dx !== undefined || input.size !== undefined) {
    if (kind !== "position") {
      return fault(
        input.dx === undefined ? "size" : "dx",
        `belongs to a position, and characteristic ${feature.characteristic} is of kind ${kind}: send "value" alone`,
      );
    }
  }
  if (kind === "count" || input.count !== undefined) return readCount(input, feature);
  const { unit } = input;
  if (unit === undefined || !suits(unit, feature)) return fault("unit", askForUnit(feature));
  const read = (at: "value" | "dx" | "dy" | "dz" | "size"): number | undefined | MeasuredFault => {
    const given = input[at];
    if (given === undefined) return undefined;
    const steps = parseMeasure(given, unit);
    if (steps !== undefined && Math.abs(steps) <= largest[quantityOf(kind)]) return steps;
    return fault(
      at,
      `${given} ${unit} is no ${kind === "angle" ? "angle" : "size"} that there is: check the unit and the decimal point`,
    );
  };
  const [value, dx, dy, dz, size] = [read("value"), read("dx"), read("dy"), read("dz"), read("size")];
  for (const part of [value, dx, dy, dz, size]) if (typeof part === "object") return part;
  const numbers = { value, dx, dy, dz, size } as Record<
    "value" | "dx" | "dy" | "dz" | "size",
    number | undefined
  >;
  if (numbers.size !== undefined) {
    if (!feature.condition) {
      return fault(
        "size",
        `is of use at maximum or least material only, and characteristic ${feature.characteristic} has no material_condition: leave it out`,
      );
    }
    if (numbers.size <= 0) return fault("size", "must be above 0: it is the size of the feature");
  }
  if (numbers.dx !== undefined) {
    const offsets = { dx: numbers.dx, dy: numbers.dy!, dz: numbers.dz };
    const sizePm = positionDiameter([offsets.dx, offsets.dy, offsets.dz ?? 0]);
    if (sizePm > largest.length)
      return fault("dx", "lies beyond every size: check the unit and the decimal point");
    return {
      measured: { ...nothing, sizePm, offsetsPm: offsets, featureSizePm: numbers.size },
      shown: [offsets.dx, offsets.dy, offsets.dz ?? null, numbers.size ?? null],
    };
  }
  const shownPm = numbers.value!;
  if (!isSize(kind) && kind !== "angle" && shownPm < 0) {
    return fault("value", `${input.value} is below 0, and a ${kind} has no sign: check how it was read`);
  }
  return {
    measured: { ...nothing, sizePm: sizeOf(shownPm, feature, gauge), featureSizePm: numbers.size },
    shown: numbers.size === undefined ? shownPm : [shownPm, numbers.size],
  };
}

/** A form, a roughness or a position is what the gauge shows; only a size or an angle is told as a deviation from a master. */
function sizeOf(shownPm: number, { kind }: RuledFeature, gauge: GaugeView): number {
  if (gauge.reads === "size" || !(isSize(kind) || kind === "angle")) return shownPm;
  return gauge.masterPm! + (gauge.sense === "reversed" ? -shownPm : shownPm);
}

function readCount(
  { count }: MeasuredInput,
  { kind, characteristic }: RuledFeature,
): { measured: Measured; shown: unknown } | MeasuredFault {
  if (kind !== "count") {
    return {
      at: "count",
      detail: `is of what is counted, and characteristic ${characteristic} is measured: send "value"`,
    };
  }
  if (count === undefined) {
    return { at: "value", detail: `characteristic ${characteristic} is counted: send "count" instead` };
  }
  return { measured: { ...nothing, sizePm: count * 1e9 }, shown: count };
}

function readResult(
  input: MeasuredInput,
  feature: RuledFeature,
): { measured: Measured; shown: unknown } | MeasuredFault {
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
  if (input.turns === undefined) return { measured: { ...nothing, result }, shown: result };
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
  return { measured: { ...nothing, result, milliTurns }, shown: [result, milliTurns] };
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

/** What a gauge lacks to measure a feature, if anything. */
function checkGauge({ kind, characteristic }: RuledFeature, gauge: GaugeView): string | undefined {
  const quantity = quantityOf(kind);
  if (quantity === "count" || gauge.gaugeId === null) return undefined;
  if (gauge.resolutionPm === 0) {
    return `"${gauge.name}" has no resolution, so it shows no number, and characteristic ${characteristic} is measured: name another gauge`;
  }
  if ((quantity === "angle") === (gauge.unit === "deg")) return undefined;
  return quantity === "angle"
    ? `"${gauge.name}" is entered in ${gauge.unit}, so how sure it is of an angle is not known: name one whose unit is "deg"; what measures lengths and angles is entered once for each`
    : `"${gauge.name}" measures angles, and characteristic ${characteristic} is none: name another gauge`;
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
