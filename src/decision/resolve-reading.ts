import { isAttribute, isSize } from "../core/feature-kind.js";
import type { GaugeState } from "../core/tolerance/gauge-check.js";
import { nearMatches } from "../http/near-matches.js";
import type { FieldError } from "../http/problem.js";
import { type BatchView, featureAt } from "./batch-view.js";
import type { FeatureView } from "./feature-view.js";
import { gaugeStateAt, type KnownChecks, withCheck } from "./gauge-checks.js";
import type { GaugeView } from "./gauge-view.js";
import { gaugeOfPoints, type PointsMeasured } from "./measured-points.js";
import { type Measured, type MeasuredInput, readMeasured } from "./measured-value.js";
import { type Reduction, reduceReading, widenGauge } from "./reduce-reading.js";
import { type KnownSeats, resolveSeat, type Seat } from "./seats.js";
import { sayList } from "./words.js";

/** One reading as it was posted; ids and names are alternatives. */
export interface ReadingInput extends MeasuredInput {
  feature_id?: string | undefined;
  part_number?: string | undefined;
  revision?: string | undefined;
  characteristic?: string | undefined;
  batch_id?: string | undefined;
  batch?: string | undefined;
  piece: number;
  cut?: number | undefined;
  place?: string | undefined;
  spring_pass?: boolean | undefined;
  gauge_id?: string | undefined;
  gauge?: string | undefined;
  measured_at?: string | undefined;
  taken_by?: string | undefined;
  /** Name of the key that it came with. */
  key_name?: string | undefined;
  serial?: string | undefined;
  source_id?: string | undefined;
  /** Of a record in a file: what tells it apart from one that says the same; the same words in both make it a duplicate. */
  record?: string | undefined;
  piece_within?: number | undefined;
  seat?: string | undefined;
  temperature_c?: string | number | undefined;
  gauge_temperature_c?: string | number | undefined;
  cut_with?: CutWith[] | undefined;
}
export interface CutWith {
  register_id?: string | undefined;
  register_number?: number | undefined;
  value: string | number;
}

/** What was posted at once: taken whole or not at all. */
export interface RecordRequest {
  readings: readonly ReadingInput[];
  /** False: the body was one object, and pointers don't start with an index. */
  isArray: boolean;
  key?: string | undefined;
  fingerprint?: string | undefined;
}

export interface ResolvedReading {
  input: ReadingInput;
  feature: FeatureView;
  /** With what a reduction leaves unsure added to its uncertainty. */
  gauge: GaugeView;
  /** What the gauge showed, as it came; of one that was rocked, at the turning point. */
  valueGiven: string | null;
  /** At 20 °C where the reading says how warm it was. */
  measured: Measured;
  /** The points that it was worked out from; undefined: it came as a value. */
  points: PointsMeasured | undefined;
  reduction: Reduction | undefined;
  /** What checks of the gauge on a standard say of it when it took the reading. */
  gaugeState: GaugeState;
  seat: Seat;
  identity: string | null;
}

/** Finds what a reading's names mean inside its batch; faults are added to `errors` at `pointer`. */
export function resolveReading(
  input: ReadingInput,
  view: BatchView,
  gauges: {
    byId: ReadonlyMap<string, GaugeView>;
    byName: ReadonlyMap<string, GaugeView>;
    checks: KnownChecks;
    now: Date;
  },
  seats: KnownSeats | undefined,
  pointer: string,
  errors: FieldError[],
): ResolvedReading | undefined {
  const fault = (at: string, detail: string) => {
    errors.push({ pointer: `${pointer}/${at}`, detail });
    return undefined;
  };
  const { part } = view;
  if (input.part_number !== undefined && input.part_number !== part.number) {
    return fault(
      "part_number",
      `is not the part of batch "${view.name}", which is ${part.number} revision ${part.revision}`,
    );
  }
  if (input.revision !== undefined && input.revision !== part.revision) {
    return fault(
      "revision",
      `is not that of batch "${view.name}": it runs ${part.number} at revision ${part.revision}`,
    );
  }
  const named = input.feature_id
    ? view.featureById.get(input.feature_id)
    : view.featureByCharacteristic.get(input.characteristic ?? "");
  if (!named) {
    if (input.feature_id) {
      return fault(
        "feature_id",
        `is no feature of ${part.number} revision ${part.revision} in this operation: GET /v1/parts/${part.partId} lists them`,
      );
    }
    const names = [...view.featureByCharacteristic.keys()];
    if (input.characteristic === undefined)
      return fault(
        "characteristic",
        'is missing: send "feature_id", or the balloon number as "characteristic"',
      );
    return fault(
      "characteristic",
      `"${input.characteristic}" is not on ${part.number} revision ${part.revision} in this operation; ${nearOrAll(input.characteristic, names)}`,
    );
  }
  const feature = resolvePlace(named, input.place, view, fault);
  if (!feature) return undefined;
  if (input.spring_pass && (input.cut ?? 1) < 2) {
    return fault(
      "spring_pass",
      'is a further cut at the same value: send "cut": 2 or more with it, or leave it out',
    );
  }
  const gaugeId = input.gauge_id ?? (input.gauge === undefined ? feature.gaugeId : null);
  const found = gaugeId === null ? gauges.byName.get(input.gauge ?? "") : gauges.byId.get(gaugeId);
  const itself = found ?? (needsNoGauge(input, feature) ? noGauge : undefined);
  if (!itself) {
    if (input.gauge_id)
      return fault("gauge_id", `there is no gauge ${input.gauge_id}: GET /v1/gauges lists them`);
    if (input.gauge === undefined)
      return fault(
        "gauge_id",
        `say which gauge took it ("gauge_id" or "gauge"), or give characteristic ${feature.characteristic} one`,
      );
    return undefined; // named by the caller, who knows the names near
  }
  const { quantity } = view;
  if (quantity !== undefined && input.piece > quantity) {
    return fault(
      "piece",
      `${input.piece} is beyond the ${quantity} pieces of batch "${view.name}": check the number, or the batch`,
    );
  }
  if (input.piece_within !== undefined && input.piece_within > input.piece) {
    return fault("piece_within", `${input.piece_within} pieces back from piece ${input.piece} there is none`);
  }
  const seat = resolveSeat(input, view, seats);
  if (typeof seat === "string") return fault("seat", seat);
  const read = readMeasured(input, feature, itself);
  if ("at" in read) return fault(read.at, read.detail);
  const takenAt = input.measured_at === undefined ? gauges.now.getTime() : Date.parse(input.measured_at);
  const known = gaugeStateAt(gauges.checks, itself.gaugeId, takenAt);
  // What a gauge is off by is taken off sizes and angles; a form, a roughness or a position is a difference.
  const shifts = isSize(feature.kind) || feature.kind === "angle";
  const gaugeState = shifts ? known : { ...known, takenOffPm: 0, variance: 0 };
  const { points } = read;
  const point = withCheck(itself, gaugeState);
  const checked = points ? gaugeOfPoints(point, points.fit) : point;
  const identity = identityOf(input, feature, itself, read.shown);
  const gauge = feature.kind === "count" || isAttribute(feature.kind) ? withoutDoubt(checked) : checked;
  const { sizePm } = read.measured;
  const asRead =
    sizePm === undefined ? read.measured : { ...read.measured, sizePm: sizePm - gaugeState.takenOffPm };
  const both = { input, feature, valueGiven: read.valueGiven, points, gaugeState, seat, identity };
  const plain = { ...both, gauge, measured: asRead, reduction: undefined };
  if (asRead.sizePm === undefined || !isSize(feature.kind)) {
    if (input.temperature_c === undefined) return plain;
    return fault(
      "temperature_c",
      "brings a size to 20 °C, and this is none: leave it out, and let the piece cool before it is measured",
    );
  }
  const reduction = reduceReading(input, asRead.sizePm, part, gauge);
  if (reduction === undefined) return plain;
  if ("at" in reduction) return fault(reduction.at, reduction.detail);
  const widened = widenGauge(gauge, reduction.standardMm);
  return { ...both, gauge: widened, measured: { ...asRead, sizePm: reduction.sizePm }, reduction };
}

/** What is looked at or counted needs no gauge, nor does what was not measured. */
function needsNoGauge(input: ReadingInput, { kind }: FeatureView): boolean {
  if (input.gauge_id !== undefined || input.gauge !== undefined) return false;
  return kind === "visual" || kind === "count" || input.state !== undefined;
}

const noGauge: GaugeView = {
  gaugeId: null,
  name: "",
  unit: "mm",
  resolutionPm: 0,
  variance: 0,
  standardMm: 0,
  expandedPm: undefined,
  coverageFactor: 2,
  expansion: undefined,
  calibrationDue: null,
  reference: true,
  reads: "size",
  masterPm: undefined,
  sense: "normal",
};

/** What is counted is exact, and of what passes or fails no uncertainty is known. */
function withoutDoubt(gauge: GaugeView): GaugeView {
  return { ...gauge, variance: 0, standardMm: 0, expandedPm: 0 };
}

/** The feature at the place that a reading names; the fault says what is missing or not there. */
function resolvePlace(
  feature: FeatureView,
  place: string | undefined,
  view: BatchView,
  fault: (at: string, detail: string) => undefined,
): FeatureView | undefined {
  const { characteristic, places } = feature;
  if (place === undefined) {
    if (places === null) return feature;
    return fault(
      "place",
      `is missing: characteristic ${characteristic} is measured at ${sayList(places.map(quote))}, and each reading says at which of them`,
    );
  }
  if (places === null) {
    return fault(
      "place",
      `"${place}" is none of characteristic ${characteristic}, which has no places: leave it out, or give the feature places (PATCH /v1/features/${feature.featureId})`,
    );
  }
  const found = featureAt(view, feature.featureId, place);
  return (
    found ??
    fault("place", `"${place}" is none of characteristic ${characteristic}; ${nearOrAll(place, places)}`)
  );
}

const quote = (name: string) => `"${name}"`;

/** What makes a second sending of the same reading a duplicate: the sender's own identity, or everything with its time. */
function identityOf(
  input: ReadingInput,
  feature: FeatureView,
  gauge: GaugeView,
  shown: unknown,
): string | null {
  if (input.source_id !== undefined) return `source ${input.source_id}`;
  const { record } = input;
  if (input.measured_at === undefined && record === undefined) return null;
  const { piece, cut = 1, measured_at, taken_by = "", serial = "", piece_within = 1 } = input;
  const { temperature_c, gauge_temperature_c } = input;
  const places = feature.place === null ? [] : [feature.place];
  const warmth = temperature_c === undefined ? [] : [Number(temperature_c), Number(gauge_temperature_c)];
  return JSON.stringify([
    feature.featureId,
    piece,
    cut,
    gauge.gaugeId,
    shown,
    measured_at ?? "",
    taken_by,
    serial,
    piece_within,
    ...warmth,
    ...places,
    ...(record ? [record] : []),
  ]);
}

export function nearOrAll(unknown: string, names: readonly string[]): string {
  const near = nearMatches(unknown, names);
  const list = (items: readonly string[]) => items.map(quote).join(", ");
  if (near.length > 0) return `near: ${list(near)}`;
  if (names.length === 0) return "there are none yet";
  return names.length <= 12 ? `there are ${list(names)}` : `there are ${names.length} others`;
}
