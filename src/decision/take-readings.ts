import { toNumeric } from "../core/quantity.js";
import { isTooCoarse } from "../core/tolerance/gauge-fitness.js";
import type { JournalReading } from "../core/wear-offset/follow-block.js";
import type { Db } from "../db/client.js";
import { toThermalNumeric } from "../http/expansion.js";
import type { BatchView, FeatureView, GaugeView } from "./batch-view.js";
import { type BatchWork, straddlesChange, type Taken } from "./batch-work.js";
import { adviseGauge } from "./gauge-choice.js";
import { isNonconforming, judgeReading, type ShownReading, showReading } from "./judge-reading.js";
import type { FailedReading } from "./next-step.js";
import { type DrainLookup, listGoodNeighbours, type ReadingRow } from "./queries.js";
import { type Reduction, sayWarmth } from "./reduce-reading.js";
import type { ResolvedReading } from "./resolve-reading.js";
import { nameFeature, sayPm, saySize, upperFirst } from "./words.js";

/** What one drain has looked up, and its batches as they move on in memory. */
export interface Drain {
  db: Db;
  found: DrainLookup;
  works: Map<string, BatchWork>;
  gauges: Map<string, GaugeView>;
  /** Which gauge to take instead, by feature, gauge and day: asked once. */
  gaugeAdvice: Map<string, string>;
  /** Names that there are, for whoever named another. */
  names: Map<"batch" | "gauge", Promise<string[]>>;
  now: Date;
}

/** Clocks on a shop floor are a few minutes apart (common practice, no source). */
const clockToleranceMs = 5 * 60_000;

/** A reading with its batch, and its place in the request. */
export type Placed = ResolvedReading & { work: BatchWork; slot: number };

/** Takes the fresh readings of one batch into its blocks, judges each and shows it. */
export async function takeInto(
  drain: Drain,
  work: BatchWork,
  items: readonly Placed[],
  failed: FailedReading[],
  warm: string[],
): Promise<ShownReading[]> {
  const { view } = work;
  const rows = await takeRows(drain, work, items, failed, warm);
  const shown = rows.map(({ item, row }) => showReading(row, item.sizePm, item.feature, view.part.unit));
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
  warm: string[],
): Promise<{ item: Placed; row: ReadingRow }[]> {
  const { view } = work;
  view.lastPieceCut = Math.max(view.lastPieceCut, ...items.map((item) => item.input.piece));
  const numbers = new Map(items.map((item) => [item, ++view.readingCount]));
  const measuredBefore = view.blocks.map((block) => block.cache.piece);
  const taken = new Map<number, Taken>();
  for (const blockNo of new Set(items.map((item) => item.feature.block))) {
    const mine = items.filter((item) => item.feature.block === blockNo);
    taken.set(
      blockNo,
      await work.takeReadings(
        blockNo,
        mine.map((item) => toJournal(view, item, numbers.get(item)!)),
      ),
    );
  }
  const rows: { item: Placed; row: ReadingRow }[] = [];
  const now = drain.now.toISOString();
  for (const item of items) {
    const { input, feature, gauge, sizePm, reduction } = item;
    const readingNo = numbers.get(item)!;
    const { questions, pieces, forecasts } = taken.get(feature.block)!;
    const { piece, cut = 1 } = input;
    const pieceReadings = pieces.get(piece) ?? [];
    const repeat = pieceReadings.filter(
      (other) => other.feature === feature.index && other.cut === cut && other.readingNo <= readingNo,
    ).length;
    const blockView = view.blocks[feature.block]!;
    const { effects } = blockView.block.features[feature.index]!;
    const superseded = blockView.journal.changes.some(
      (change) =>
        effects[change.register] !== 0 &&
        (change.piece > piece || (change.piece === piece && change.cut > cut)),
    );
    const judged = judgeReading(view, feature, gauge, {
      readingNo,
      cut,
      sizePm,
      reduction,
      valueGiven: String(input.value),
      unit: input.unit,
      late: piece < measuredBefore[feature.block]! || superseded,
      clockAhead: Date.parse(input.measured_at ?? now) > drain.now.getTime() + clockToleranceMs,
      overdue: isOverdue(gauge, input.measured_at ?? now),
      unsure: straddlesChange(blockView, feature.index, piece, input.piece_within ?? null),
      questions: questions.filter((question) => question.piece === piece),
      forecast: forecasts.get(piece)?.find((forecast) => forecast.feature === feature.index),
      pieceReadings,
    });
    const fit = !isTooCoarse(gauge.standardMm, blockView.block.features[feature.index]!.roomMm);
    const measuredAt = input.measured_at ?? now;
    const row: ReadingRow = {
      batch_id: view.batchId,
      reading_no: readingNo,
      feature_id: feature.featureId,
      piece,
      cut,
      repeat,
      value_mm: toNumeric(sizePm),
      value_given: String(input.value),
      unit: input.unit,
      gauge_id: gauge.gaugeId,
      gauge_variance: gauge.variance,
      gauge_fit: fit,
      expanded_uncertainty_mm: gauge.expandedPm === undefined ? null : toNumeric(gauge.expandedPm),
      measured_at: input.measured_at ?? null,
      taken_by: input.taken_by ?? null,
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
      gauge_advice: fit ? null : await betterGauge(drain, feature, gauge, measuredAt.slice(0, 10)),
      flags: judged.flags,
      slip: judged.slip,
      hold_from: null,
      hold_to: null,
      ...temperatureColumns(reduction),
    };
    if (reduction && judged.flags.includes("warm_part")) {
      const sure = row.gauge_fit && judged.verdict !== "uncertain";
      warm.push(upperFirst(sayWarmth(reduction, nameFeature(feature), piece, view.part.unit, sure)));
    }
    rows.push({ item, row });
  }
  await holdPieces(drain, work, rows);
  for (const { row } of rows) {
    work.readings.push(row);
    if (row.identity !== null) work.byIdentity.set(row.identity, row);
  }
  for (const { item, row } of rows)
    if (row.verdict === "nonconforming") failed.push(describeFailure(view, item, row));
  return rows;
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

function toJournal(view: BatchView, item: ResolvedReading, readingNo: number): JournalReading {
  const { feature, gauge, input, sizePm } = item;
  const blockView = view.blocks[feature.block]!;
  return {
    readingNo,
    feature: feature.index,
    piece: input.piece,
    cut: input.cut ?? 1,
    sizePm,
    gaugeVariance: gauge.variance,
    fails: isNonconforming(sizePm, feature, gauge.expandedPm),
    steers:
      !isTooCoarse(gauge.standardMm, blockView.block.features[feature.index]!.roomMm) &&
      !straddlesChange(blockView, feature.index, input.piece, input.piece_within ?? null),
  };
}

function isOverdue(gauge: GaugeView, at: string): boolean {
  return gauge.calibrationDue !== null && at.slice(0, 10) > gauge.calibrationDue;
}

/** Pieces in doubt: since the last good reading by a gauge that may prove a size, up to the next one or the last piece cut. */
async function holdPieces(
  drain: Drain,
  work: BatchWork,
  rows: readonly { item: Placed; row: ReadingRow }[],
): Promise<void> {
  const bad = rows.filter(({ row }) => row.verdict === "nonconforming");
  if (bad.length === 0) return;
  const { batchId, lastPieceCut } = work.view;
  const stored = await listGoodNeighbours(
    drain.db,
    bad.map(({ row }) => ({ batchId, featureId: row.feature_id, piece: row.piece })),
  );
  const good = new Map<string, number[]>();
  const note = (row: ReadingRow) => {
    if (row.disposition !== "accept" || !drain.gauges.get(row.gauge_id)?.reference) return;
    const pieces = good.get(row.feature_id);
    if (pieces) pieces.push(row.piece);
    else good.set(row.feature_id, [row.piece]);
  };
  for (const row of work.readings) note(row);
  for (const { row } of rows) note(row);
  for (const pieces of good.values()) pieces.sort((a, b) => a - b);
  bad.forEach(({ row }, i) => {
    const pieces = good.get(row.feature_id) ?? [];
    const at = lowerBound(pieces, row.piece);
    const before = Math.max(stored[i]!.before ?? 0, pieces[at - 1] ?? 0);
    const after = Math.min(
      stored[i]!.after ?? Number.POSITIVE_INFINITY,
      pieces[lowerBound(pieces, row.piece + 1)] ?? Number.POSITIVE_INFINITY,
    );
    row.hold_from = before + 1;
    row.hold_to = Math.max(row.piece, Math.min(after - 1, lastPieceCut));
  });
}

/** Index of the first of the sorted numbers that is not below `value`. */
function lowerBound(sorted: readonly number[], value: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return low;
}

function describeFailure(view: BatchView, item: Placed, row: ReadingRow): FailedReading {
  const { feature, sizePm } = item;
  const { unit } = view.part;
  const tooBig = feature.upperPm !== undefined && sizePm > feature.upperPm;
  const limit = tooBig ? feature.upperPm! : feature.lowerPm!;
  const beyond = `${saySize(Math.abs(sizePm - limit), unit)} ${tooBig ? "above the upper" : "below the lower"} limit of ${sayPm(limit, unit)}`;
  const fate = {
    rework: "metal is left, rework is possible",
    scrap: "too much is gone: set it aside",
    accept: "",
    remeasure: "measure it again",
  };
  const hold =
    row.hold_from !== null && row.hold_from < row.piece
      ? ` Hold pieces ${row.hold_from} to ${row.hold_to}.`
      : "";
  return {
    featureId: row.feature_id,
    piece: row.piece,
    cut: row.cut,
    outside: true,
    rework: row.disposition === "rework",
    text: upperFirst(
      `${nameFeature(feature)} of piece ${row.piece} is ${beyond}: ${fate[row.disposition]}.${hold}`,
    ),
  };
}

/** A piece that its rule or its gauge leaves undecided: it is neither out nor good. */
function describeDoubt(item: Placed, row: ReadingRow, shown: ShownReading): FailedReading | undefined {
  // A misreading is asked again by itself, and what is out has been said.
  if (row.verdict === "nonconforming" || row.flags.includes("implausible")) return undefined;
  const reasons = [shown.why, shown.gauge_advice].filter((reason) => reason !== null);
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
