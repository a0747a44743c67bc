import { parseLength } from "../core/quantity.js";
import { nearMatches } from "../http/near-matches.js";
import type { FieldError } from "../http/problem.js";
import type { BatchView, FeatureView, GaugeView } from "./batch-view.js";
import { type Reduction, reduceReading, widenGauge } from "./reduce-reading.js";

/** One reading as it was posted; ids and names are alternatives. */
export interface ReadingInput {
  feature_id?: string | undefined;
  part_number?: string | undefined;
  revision?: string | undefined;
  characteristic?: string | undefined;
  batch_id?: string | undefined;
  batch?: string | undefined;
  piece: number;
  cut?: number | undefined;
  value: string | number;
  unit: "mm" | "µm" | "inch";
  gauge_id?: string | undefined;
  gauge?: string | undefined;
  measured_at?: string | undefined;
  taken_by?: string | undefined;
  serial?: string | undefined;
  source_id?: string | undefined;
  /** Of a record in a file: what tells it apart from one that says the same; the same words in both make it a duplicate. */
  record?: string | undefined;
  piece_within?: number | undefined;
  temperature_c?: string | number | undefined;
  gauge_temperature_c?: string | number | undefined;
  cut_with?: CutWith[] | undefined;
}
export interface CutWith {
  register_id?: string | undefined;
  register_number?: number | undefined;
  value: string | number;
}

/** 100 m: sums of such sizes are still exact. */
const largestSizePm = 1e14;

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
  /** At 20 °C where the reading says how warm it was. */
  sizePm: number;
  reduction: Reduction | undefined;
  identity: string | null;
}

/** Finds what a reading's names mean inside its batch; faults are added to `errors` at `pointer`. */
export function resolveReading(
  input: ReadingInput,
  view: BatchView,
  gauges: ReadonlyMap<string, GaugeView>,
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
  const feature = input.feature_id
    ? view.featureById.get(input.feature_id)
    : view.featureByCharacteristic.get(input.characteristic ?? "");
  if (!feature) {
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
  const gaugeId = input.gauge_id ?? (input.gauge === undefined ? feature.gaugeId : null);
  const gauge = gaugeId === null ? findByName(gauges, input.gauge) : gauges.get(gaugeId);
  if (!gauge) {
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
  const shownPm = parseLength(input.value, input.unit);
  if (shownPm === undefined || Math.abs(shownPm) > largestSizePm) {
    return fault(
      "value",
      `${input.value} ${input.unit} is beyond every size: check the unit and the decimal point`,
    );
  }
  const asReadPm =
    gauge.reads === "size" ? shownPm : gauge.masterPm! + (gauge.sense === "reversed" ? -shownPm : shownPm);
  const identity = identityOf(input, feature, gauge, shownPm);
  const reduction = reduceReading(input, asReadPm, part, gauge);
  if (reduction === undefined) return { input, feature, gauge, sizePm: asReadPm, reduction, identity };
  if ("at" in reduction) return fault(reduction.at, reduction.detail);
  const widened = widenGauge(gauge, reduction.standardMm);
  return { input, feature, gauge: widened, sizePm: reduction.sizePm, reduction, identity };
}

function findByName(gauges: ReadonlyMap<string, GaugeView>, name: string | undefined): GaugeView | undefined {
  for (const gauge of gauges.values()) if (gauge.name === name) return gauge;
  return undefined;
}

/** What makes a second sending of the same reading a duplicate: the sender's own identity, or everything with its time. */
function identityOf(
  input: ReadingInput,
  feature: FeatureView,
  gauge: GaugeView,
  shownPm: number,
): string | null {
  if (input.source_id !== undefined) return `source ${input.source_id}`;
  const { record } = input;
  if (input.measured_at === undefined && record === undefined) return null;
  const { piece, cut = 1, measured_at, taken_by = "", serial = "", piece_within = 1 } = input;
  const { temperature_c, gauge_temperature_c } = input;
  const warmth = temperature_c === undefined ? [] : [Number(temperature_c), Number(gauge_temperature_c)];
  return JSON.stringify([
    feature.featureId,
    piece,
    cut,
    gauge.gaugeId,
    shownPm,
    measured_at ?? "",
    taken_by,
    serial,
    piece_within,
    ...warmth,
    ...(record ? [record] : []),
  ]);
}

export function nearOrAll(unknown: string, names: readonly string[]): string {
  const near = nearMatches(unknown, names);
  const list = (items: readonly string[]) => items.map((name) => `"${name}"`).join(", ");
  if (near.length > 0) return `near: ${list(near)}`;
  if (names.length === 0) return "there are none yet";
  return names.length <= 12 ? `there are ${list(names)}` : `there are ${names.length} others`;
}
