import { isAttribute, isSize } from "../core/feature-kind.js";
import { fromNumeric, toNumeric } from "../core/quantity.js";
import { isTooCoarse } from "../core/tolerance/gauge-fitness.js";
import type { Db } from "../db/client.js";
import { toThermalNumeric } from "../http/expansion.js";
import type { BatchView } from "./batch-view.js";
import type { BatchWork, Taken } from "./batch-work.js";
import { cureOf, tryStep } from "./cure.js";
import { decideMeasured } from "./decide-measured.js";
import type { FeatureView } from "./feature-view.js";
import type { KnownChecks } from "./gauge-checks.js";
import { adviseGauge } from "./gauge-choice.js";
import type { GaugeView } from "./gauge-view.js";
import { type DoubtRaised, holdPieces } from "./hold-pieces.js";
import { straddlesChange, toJournalReading } from "./journal-reading.js";
import { judgeReading, type ShownReading, showReading } from "./judge-reading.js";
import { asJudged, deviationColumns, type LearnedDeviation, learnedDeviation } from "./learned-deviation.js";
import { measuredColumns } from "./measured-value.js";
import type { FailedReading } from "./next-step.js";
import type { DrainLookup, ReadingRow } from "./queries.js";
import { type Reduction, sayWarmth } from "./reduce-reading.js";
import type { ResolvedReading } from "./resolve-reading.js";
import { flagTooAlike } from "./too-alike.js";
import { nameFeature, sayPm, saySize, upperFirst } from "./words.js";

/** What one drain has looked up, and its batches as they move on in memory. */
export interface Drain {
  db: Db;
  found: DrainLookup;
  works: Map<string, BatchWork>;
  gauges: Map<string, GaugeView>;
  checks: KnownChecks;
  /** Which gauge to take instead, by feature, gauge and day: asked once. */
  gaugeAdvice: Map<string, string>;
  now: Date;
}

/** Clocks on a shop floor are a few minutes apart (common practice, no source). */
const clockToleranceMs = 5 * 60_000;

/** A reading with its batch, and its place in the request. */
export type Placed = ResolvedReading & { work: BatchWork; slot: number };

/** What a person should know of readings beside what to do next. */
export interface Remarks {
  warm: string[];
  alike: string[];
}

/** Takes the fresh readings of one batch into its blocks, judges each and shows it. */
export async function takeInto(
  drain: Drain,
  work: BatchWork,
  items: readonly Placed[],
  failed: FailedReading[],
  remarks: Remarks,
): Promise<ShownReading[]> {
  const rows = await takeRows(drain, work, items, failed, remarks);
  const shown = rows.map(({ item, row }) => showReading(row, item.read.feature));
  rows.forEach(({ item, row }, i) => {
    const doubt = describeDoubt(item, row, shown[i]!);
    if (doubt) failed.push(doubt);
  });
  return shown;
}

/** Takes the fresh readings of one batch into its blocks and judges each. */
export async function takeRows(
  drain: Drain,
  work: BatchWork,
  items: readonly Placed[],
  failed: FailedReading[],
  remarks: Remarks,
): Promise<{ item: Judged; row: ReadingRow }[]> {
  const { view } = work;
  view.lastPieceCut = Math.max(view.lastPieceCut, ...items.map((item) => item.input.piece));
  const numbers = new Map(items.map((item) => [item, ++view.readingCount]));
  const measuredBefore = view.blocks.map((block) => block.cache.piece);
  const taken = new Map<number, Taken>();
  const telling = items.filter((item) => item.measured.state === null);
  for (const blockNo of new Set(telling.map((item) => item.feature.block))) {
    const mine = telling.filter((item) => item.feature.block === blockNo);
    taken.set(
      blockNo,
      await work.takeReadings(
        blockNo,
        mine.map((item) => toJournalReading(view, factsOf(item, numbers.get(item)!))),
      ),
    );
  }
  const rows: { item: Judged; row: ReadingRow; doubt: DoubtRaised }[] = [];
  const now = drain.now.toISOString();
  for (const item of items.map((read) => judgedBy(read, numbers.get(read)!, taken))) {
    const { input, feature, gauge, measured, reduction, read, learned } = item;
    const readingNo = numbers.get(read)!;
    const { questions, pieces, forecasts } = taken.get(feature.block) ?? nothingTaken;
    const { piece, cut = 1 } = input;
    const pieceReadings = pieces.get(piece) ?? [];
    const repeat = Math.max(
      1,
      pieceReadings.filter(
        (other) => other.feature === feature.index && other.cut === cut && other.readingNo <= readingNo,
      ).length,
    );
    const blockView = view.blocks[feature.block]!;
    const { effects } = blockView.block.features[feature.index]!;
    // Changes are kept in cutting order.
    const lastChange = blockView.journal.changes.findLast((change) => effects[change.register] !== 0);
    const superseded =
      lastChange !== undefined &&
      (lastChange.piece > piece || (lastChange.piece === piece && lastChange.cut > cut));
    const measuredAt = input.measured_at ?? now;
    const judged = judgeReading(view, feature, gauge, {
      readingNo,
      cut,
      measured,
      reduction,
      read: item.read,
      notCompared: item.unsure,
      valueGiven: item.valueGiven,
      unit: input.unit ?? null,
      late: piece < measuredBefore[feature.block]! || superseded,
      clockAhead: Date.parse(measuredAt) > drain.now.getTime() + clockToleranceMs,
      doubted: item.gaugeState.doubtPm !== undefined,
      overdue: isOverdue(gauge, measuredAt),
      unsure: straddlesChange(blockView, feature.index, piece, input.piece_within ?? null),
      questions: questions.filter((question) => question.piece === piece),
      forecast: forecasts.get(piece)?.find((forecast) => forecast.feature === feature.index),
      pieceReadings,
    });
    const fit = !judged.coarse;
    const row: ReadingRow = {
      batch_id: view.batchId,
      reading_no: readingNo,
      feature_id: feature.featureId,
      piece,
      cut,
      place: feature.place,
      spring_pass: input.spring_pass ?? false,
      gauge_error_mm: item.gaugeState.takenOffPm === 0 ? null : toNumeric(item.gaugeState.takenOffPm),
      rocked: input.rocked?.map(String) ?? null,
      gauge_doubt_mm: item.gaugeState.doubtPm === undefined ? null : toNumeric(item.gaugeState.doubtPm),
      repeat,
      ...measuredColumns(read.measured),
      ...deviationColumns(learned),
      bonus_mm: judged.bonusPm === null ? null : toNumeric(judged.bonusPm),
      value_given: measured.sizePm === undefined ? null : item.valueGiven,
      unit: measured.sizePm === undefined ? null : (input.unit ?? "1"),
      gauge_id: gauge.gaugeId,
      gauge_variance: gauge.variance,
      gauge_fit: fit,
      expanded_uncertainty_mm:
        read.gauge.expandedPm === undefined || isAttribute(feature.kind)
          ? null
          : toNumeric(read.gauge.expandedPm),
      measured_at: input.measured_at ?? null,
      taken_by: input.taken_by ?? null,
      key_name: input.key_name ?? null,
      serial: input.serial ?? null,
      source_id: input.source_id ?? null,
      identity: item.identity,
      piece_within: input.piece_within ?? null,
      known_piece: view.lastPieceCut,
      verdict: judged.verdict,
      disposition: judged.disposition,
      target_mm: toNumeric(feature.targetPm),
      probability_conforming: judged.probability,
      prior: judged.prior,
      gauge_advice: fit ? null : await betterGauge(drain, feature, read.gauge, measuredAt.slice(0, 10)),
      flags: judged.flags,
      slip: judged.slip,
      advice: judged.verdict === "nonconforming" ? tryStep(view, feature, measured, piece) : null,
      fit: item.points?.fit ?? null,
      hold_from: null,
      hold_to: null,
      fails: judged.fails,
      proves: judged.proves,
      ...temperatureColumns(reduction),
      seat: item.seat.seat,
      seat_given: item.seat.given,
      gauge_reference: gauge.reference,
    };
    if (reduction && judged.flags.includes("warm_part")) {
      const sure = row.gauge_fit && judged.verdict !== "uncertain";
      remarks.warm.push(upperFirst(sayWarmth(reduction, nameFeature(feature), piece, view.part.unit, sure)));
    }
    const ofFeature = pieceReadings.filter((other) => other.feature === feature.index);
    rows.push({ item, row, doubt: { pieceFailed: judged.pieceFailed, ofFeature } });
  }
  const alike = await flagTooAlike(drain.db, work, rows, measuredBefore);
  await holdPieces(drain.db, work, rows);
  remarks.alike.push(...alike);
  for (const { item, row } of rows) {
    work.readings.push(row);
    if (item.points) work.points.push({ row, sent: item.points.sent });
    if (row.identity !== null) work.byIdentity.set(row.identity, row);
  }
  for (const { item, row } of rows) {
    if (row.verdict === "nonconforming") failed.push(describeFailure(view, item, row));
    else if (row.hold_from !== null) failed.push(describeProvisional(row));
  }
  return rows;
}

/** Of a block in which nothing was measured. */
const nothingTaken: Taken = {
  questions: [],
  pieces: new Map(),
  forecasts: new Map(),
  deviations: new Map(),
};

/** A reading as it is judged, and as it was read. */
export type Judged = Placed & {
  read: Placed;
  learned: LearnedDeviation | undefined;
  /** True: what its gauge reads beside the reference is not known well enough. */
  unsure: boolean;
};

/** Takes off what the gauge is known to read beside the reference; the block is told what that makes of the reading. */
function judgedBy(read: Placed, readingNo: number, taken: ReadonlyMap<number, Taken>): Judged {
  const { feature, gauge, input } = read;
  const mine = taken.get(feature.block);
  const learned = mine && learnedDeviation(mine, input.piece, feature, gauge);
  const judged = { ...asJudged(read, learned), read, learned };
  const kept = learned && mine.pieces.get(input.piece)?.find((other) => other.readingNo === readingNo);
  if (kept) {
    const { verdict } = decideMeasured(judged.measured, judged.feature, judged.gauge.expandedPm);
    kept.fails = verdict === "nonconforming";
  }
  return judged;
}

async function betterGauge(
  drain: Drain,
  feature: FeatureView,
  coarse: GaugeView,
  onDay: string,
): Promise<string> {
  const asked = `${feature.featureId} ${coarse.gaugeId} ${onDay}`;
  const advice = drain.gaugeAdvice.get(asked) ?? (await adviseGauge(drain.db, feature, coarse, onDay));
  drain.gaugeAdvice.set(asked, advice);
  return advice;
}

function temperatureColumns(reduction: Reduction | undefined) {
  const micro = (value: number | undefined) => (value === undefined ? null : toThermalNumeric(value));
  return {
    size_as_read_mm: reduction ? toNumeric(reduction.sizeAsReadPm) : null,
    temperature_c: micro(reduction?.part.temperatureMicroC),
    gauge_temperature_c: micro(reduction?.gauge.temperatureMicroC),
    temperature_correction_uncertainty_mm: reduction
      ? toNumeric(Math.round(reduction.standardMm * 1e9))
      : null,
    expansion_coefficient: micro(reduction?.part.coefficientPicoPerK),
    gauge_expansion_coefficient: micro(reduction?.gauge.coefficientPicoPerK),
  };
}

function factsOf(item: ResolvedReading, readingNo: number) {
  const { feature, gauge, input, measured, seat } = item;
  return {
    readingNo,
    feature,
    piece: input.piece,
    cut: input.cut ?? 1,
    springPass: input.spring_pass ?? false,
    seat: seat.seat,
    pieceWithin: input.piece_within ?? null,
    measured,
    gaugeId: gauge.gaugeId,
    isReference: gauge.reference,
    gaugeVariance: gauge.variance,
    gaugeDoubtPm: item.gaugeState.doubtPm,
    gaugeFit: !isTooCoarse(gauge.standardMm, feature.roomMm),
    expandedPm: gauge.expandedPm,
  };
}

function isOverdue(gauge: GaugeView, at: string): boolean {
  return gauge.calibrationDue !== null && at.slice(0, 10) > gauge.calibrationDue;
}

/** What may turn out to be a misreading is asked about by itself; until then the pieces stay where they are. */
function describeProvisional(row: ReadingRow): FailedReading {
  const one = row.hold_from === row.hold_to;
  const pieces = one ? `piece ${row.hold_from}` : `pieces ${row.hold_from} to ${row.hold_to}`;
  return {
    featureId: row.feature_id,
    piece: row.piece,
    cut: row.cut,
    outside: false,
    rework: false,
    text: `Keep ${pieces} apart until it is settled what piece ${row.piece} measures.`,
  };
}

function describeFailure(view: BatchView, item: Placed, row: ReadingRow): FailedReading {
  const { feature } = item;
  const fate = {
    rework: "metal is left, rework is possible",
    scrap: isSize(feature.kind) ? "too much is gone: set it aside" : "set it aside",
    accept: "",
    remeasure: "measure it again",
  };
  const hold =
    row.hold_from !== null && row.hold_from < row.piece
      ? ` Hold pieces ${row.hold_from} to ${row.hold_to}.`
      : "";
  const said = `${nameFeature(feature)} of piece ${row.piece} ${sayFailed(item)}: ${fate[row.disposition]}.`;
  return {
    featureId: row.feature_id,
    piece: row.piece,
    cut: row.cut,
    outside: true,
    rework: row.disposition === "rework",
    text: upperFirst(`${said}${hold}`),
    cure: cureOf(view, item.feature, item.measured, row.piece),
  };
}

function sayFailed({ feature, measured, gauge }: Placed): string {
  const { unit } = feature;
  const { sizePm, result } = measured;
  const { limits, bonus } = decideMeasured(measured, feature, gauge.expandedPm);
  if (result === "go_refuses") return "is refused by GO";
  if (result === "no_go_enters") return "lets NO-GO in";
  if (result !== null) return "fails";
  if (bonus?.sizeOut) return "fails by its size, which is out of limits itself";
  const tooBig = limits.upperPm !== undefined && sizePm! > limits.upperPm;
  const limit = tooBig ? limits.upperPm! : limits.lowerPm!;
  return `is ${saySize(Math.abs(sizePm! - limit), unit)} ${tooBig ? "above the upper" : "below the lower"} limit of ${sayPm(limit, unit)}${sayEarly(feature, sizePm!)}`;
}

function sayGaugeDoubt({ gauge, feature }: Placed, row: ReadingRow): string | null {
  if (row.gauge_doubt_mm === null) return null;
  return `${gauge.name} was found off by ${sayPm(fromNumeric(row.gauge_doubt_mm), gauge.unit)} on its standard: set it afresh and check it again, or enter the check with "shift": true so that the error is taken off, then measure ${nameFeature(feature)} again.`;
}

/** That other limits than the drawing's were used, and what the size comes to. */
function sayEarly({ early, unit }: FeatureView, sizePm: number): string {
  if (early === null) return "";
  const reason = early.reason === null ? "" : `, ${early.reason}`;
  const after =
    early.growthPm === undefined
      ? ""
      : `; after plating it would measure ${saySize(sizePm + early.growthPm, unit)}`;
  return ` in operation ${early.operation}${reason}${after}`;
}

/** A piece that its rule or its gauge leaves undecided: it is neither out nor good. */
function describeDoubt(item: Placed, row: ReadingRow, shown: ShownReading): FailedReading | undefined {
  // A misreading is asked again by itself, and what is out has been said.
  if (row.verdict === "nonconforming" || row.flags.includes("implausible")) return undefined;
  // A verdict may have its reason without being in doubt, as a thread that lets NO-GO in by less than it may.
  const why = row.verdict === "uncertain" ? shown.why : null;
  const reasons = [why, shown.gauge_advice, sayGaugeDoubt(item, row)].filter((reason) => reason !== null);
  if (reasons.length === 0) return undefined;
  return {
    featureId: row.feature_id,
    piece: row.piece,
    cut: row.cut,
    outside: false,
    rework: false,
    text: `Keep piece ${row.piece} apart, ${nameFeature(item.feature)} is not decided. ${reasons.join(" ")}`,
  };
}
