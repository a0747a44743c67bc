import type { RunRule } from "../../core/control-chart/run-rules.js";
import { shownUnitOf } from "../../core/feature-kind.js";
import { fromNumeric, toUnit } from "../../core/quantity.js";
import type { Db } from "../../db/client.js";
import { ProblemError } from "../../http/problem.js";
import { type BatchView, featureAt } from "../batch-view.js";
import type { FeatureView } from "../feature-view.js";
import { foresee } from "../innovations.js";
import type { ChartKind, Drawn } from "./chart.js";
import { drawChart, drawInnovations, type Measured, type Phase, splitPhases } from "./draw-chart.js";
import { listPhaseStarts, listPieces, type MeasuredPiece, type Window } from "./queries.js";

export type Weighed = Measured & {
  batchId: string;
  sizeMm: number;
  gaugeVariance: number;
  implausible: boolean;
};

export interface MeasuredFeature {
  unit: ReturnType<typeof shownUnitOf>;
  /** In the order in which they were cut, batch by batch. */
  pieces: Weighed[];
  /** What surprised and nobody has confirmed: said, not counted. */
  doubtful: Weighed[];
  phases: Phase[];
}

/**
 * What was measured of a feature, in stretches between batches, edges and corrections.
 * @throws {ProblemError} `not-found` where nothing was
 */
export async function measureFeature(
  db: Db,
  view: BatchView,
  feature: FeatureView,
  window: Window,
  kind: ChartKind,
): Promise<MeasuredFeature> {
  const unit = shownUnitOf(feature.kind, view.part.unit);
  const usable = kind === "p" || kind === "np" ? () => true : (row: MeasuredPiece) => row.value_mm !== null;
  const rows = await listPieces(db, window, false);
  const all = toMeasured(rows, unit, usable);
  const doubtful = all.filter(({ implausible }) => implausible);
  const pieces = all.filter(({ implausible }) => !implausible);
  if (pieces.length === 0)
    throw new ProblemError("not-found", `Feature ${feature.characteristic} has not been measured there.`);
  const starts = await listPhaseStarts(db, window);
  const phases: Phase[] = [];
  for (const batchId of window.batchIds) {
    const mine = pieces.filter((piece) => piece.batchId === batchId);
    const first = phases.length === 0 ? ("start" as const) : ("batch" as const);
    const own = starts.filter(({ batch_id }) => batch_id === batchId);
    phases.push(...splitPhases(mine, own, { number: phases.length + 1, why: first }));
  }
  return { unit, pieces, doubtful, phases };
}

/** Panels and signals of a chart; undefined: too little was measured for one. */
export async function drawFeature(
  db: Db,
  view: BatchView,
  feature: FeatureView,
  { unit, phases, pieces, doubtful }: MeasuredFeature,
  chart: { kind: ChartKind; size: number; rules: readonly RunRule[] },
): Promise<Drawn | undefined> {
  return chart.kind === "innovations"
    ? await drawForeseen(db, view, feature, phases, [...pieces, ...doubtful], chart.rules)
    : drawChart(chart.kind, phases, { unit, size: chart.size, rules: chart.rules });
}

async function drawForeseen(
  db: Db,
  view: BatchView,
  feature: FeatureView,
  phases: readonly Phase[],
  pieces: readonly Weighed[],
  rules: readonly RunRule[],
) {
  // What surprised belongs here, confirmed or not: these limits do not follow from the readings.
  const order = [...pieces].sort((a, b) => a.piece - b.piece);
  const foreseen = await foresee(db, view, feature, order[0]!.piece, order.at(-1)!.piece);
  const phaseOf = (piece: number) =>
    phases.findLast(({ pieces: [first] }) => first!.piece <= piece)?.number ?? 1;
  const surprises = order.flatMap(({ piece, sizeMm, gaugeVariance }) => {
    const forecast = foreseen.get(piece);
    if (!forecast) return [];
    const doubt = Math.sqrt(forecast.deviationMm ** 2 + gaugeVariance);
    return [{ piece, phase: phaseOf(piece), value: (sizeMm - forecast.meanMm) / doubt }];
  });
  return surprises.length === 0 ? undefined : drawInnovations(surprises, rules);
}

/** Where a feature is measured. @throws {ProblemError} where places are to be named, or none is to be */
export function placeOf(view: BatchView, featureId: string, place: string | undefined): FeatureView {
  const first = view.featureById.get(featureId);
  if (!first)
    throw new ProblemError("not-found", `Batch ${view.name} has no feature ${featureId} in its operation.`);
  const found = featureAt(view, featureId, place ?? null);
  if (found && (place !== undefined) === (first.places !== null)) return found;
  const places = first.places?.join(", ");
  throw new ProblemError(
    "unprocessable",
    places === undefined
      ? `Feature ${first.characteristic} has no places: leave "place" out.`
      : `Feature ${first.characteristic} is measured at several places, each with a chart of its own: name one of ${places}.`,
  );
}

/** Sizes in the unit shown. */
export function toMeasured(
  rows: readonly MeasuredPiece[],
  unit: Parameters<typeof toUnit>[1],
  usable: (row: MeasuredPiece) => boolean,
): Weighed[] {
  return rows.filter(usable).map((row) => {
    const pm = row.value_mm === null ? 0 : fromNumeric(row.value_mm);
    return {
      batchId: row.batch_id,
      piece: row.piece,
      size: toUnit(pm, unit),
      sizeMm: pm / 1e9,
      gaugeVariance: row.gauge_variance,
      implausible: row.implausible,
      fails: row.fails,
    };
  });
}
