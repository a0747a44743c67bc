import { isAttribute, shownUnitOf } from "../../core/feature-kind.js";
import { fromNumeric, toUnit } from "../../core/quantity.js";
import type { Db } from "../../db/client.js";
import { type BatchView, type FeatureView, featureAt } from "../../decision/batch-view.js";
import { foresee } from "../../decision/innovations.js";
import { ViewReader } from "../../decision/view-reader.js";
import { answer, ProblemError, problemAt, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { type Assessed, readingsForIndices, study } from "./assess.js";
import {
  cusumInterval,
  cusumSlack,
  drawChart,
  drawInnovations,
  ewmaWeight,
  type Measured,
  round,
  splitPhases,
} from "./draw-chart.js";
import { findLatestBatch, listPhaseStarts, listPieces, type MeasuredPiece, type Window } from "./queries.js";
import { sayStudy } from "./say-study.js";
import { Capability, CapabilityQuery, Chart, type ChartKind, ChartQuery, FeaturePath } from "./schemas.js";

const usualPieces = 100;
const usualReadings = 1000;
const largestMeans = 25;
const farthest = 99_999_999;

export async function chartRoutes(app: App, { db }: { db: Db }) {
  const views = new ViewReader(db);

  app.get("/features/:feature_id/chart", {
    schema: {
      operationId: "getChart",
      summary: "A control chart of a feature: points, limits, and what they say",
      description:
        "Of each piece its first cut as it was read last. Centre lines are those of each phase, from one edge or correction to the next; spread and limits are pooled over the phases. For a process that wears and is corrected, `innovations` shows what the wear model did not foresee: a chart of the sizes would only find the wear.",
      tags: ["charts"],
      params: FeaturePath,
      querystring: ChartQuery,
      response: {
        200: answer("The chart", Chart),
        ...problems({
          404: "The feature has not been measured, or there is no such batch, or it is not measured there",
          422: "This kind of chart cannot be drawn of what was measured",
        }),
      },
    },
    handler: async ({ params, query }) => {
      const { view, feature, window } = await find(params.feature_id, query, usualPieces);
      refuseKind(query.kind, feature, query.subgroup_size);
      const { unit, phases, pieces, doubtful } = await measure(view, feature, window, query.kind);
      const size = query.subgroup_size ?? (query.kind.startsWith("mean") ? 5 : 20);
      const drawn =
        query.kind === "innovations"
          ? await drawForeseen(view, feature, phases, [...pieces, ...doubtful], query.rules)
          : drawChart(query.kind, phases, { unit, size, rules: query.rules });
      if (!drawn)
        throw new ProblemError(
          "unprocessable",
          `${pieces.length} measured pieces in ${phases.length} stretches between corrections are too few for this chart: widen the window, or take a smaller subgroup_size.`,
        );
      return {
        feature_id: feature.featureId,
        characteristic: feature.characteristic,
        batch_id: view.batchId,
        kind: query.kind,
        unit,
        pieces: pieces.length,
        rules: query.rules,
        phases: phases.map(({ number, why, pieces: list }) => ({
          number,
          from_piece: list[0]!.piece,
          to_piece: list.at(-1)!.piece,
          why,
        })),
        ...drawn,
        doubtful_pieces: doubtful.map(({ piece }) => piece),
        says: [...sayDoubtful(doubtful, unit), ...sayChart(query.kind, drawn.signals, query.rules.length)],
      };
    },
  });

  app.get("/features/:feature_id/capability", {
    schema: {
      operationId: "getCapability",
      summary: "Capability and performance of a feature, with confidence limits and what they rest on",
      description:
        "Words of ISO 22514-2. `within` and `about_trend` speak of the machine, `overall` and `shipped` of the pieces. Indices carry no more decimals than the number of readings bears.",
      tags: ["charts"],
      params: FeaturePath,
      querystring: CapabilityQuery,
      response: {
        200: answer("The indices", Capability),
        ...problems({
          404: "The feature has not been measured, or there is no such batch, or it is not measured there",
          422: "It has no size, or places of which none was named",
        }),
      },
    },
    handler: async ({ params, query }) => {
      const { view, feature, window } = await find(params.feature_id, query, usualReadings);
      if (isAttribute(feature.kind))
        throw new ProblemError(
          "unprocessable",
          `Feature ${feature.characteristic} passes or fails: it has no size to form an index of. Ask for its chart with kind p.`,
        );
      const { unit, phases, pieces, doubtful } = await measure(view, feature, window, "individuals");
      const shipped = toMeasured(await listPieces(db, window, true), unit, (row) => row.value_mm !== null);
      const limit = (pm: number | undefined) => (pm === undefined ? undefined : toUnit(pm, unit));
      const tolerance = {
        lower: limit(feature.lowerPm),
        upper: limit(feature.upperPm),
        target: toUnit(feature.targetPm, unit),
      };
      const confidence = Number(query.confidence ?? "0.95");
      const found = study(phases, shipped, tolerance, confidence);
      const { normality, quantiles, trend, aboutTrend } = found;
      return {
        feature_id: feature.featureId,
        characteristic: feature.characteristic,
        batch_id: view.batchId,
        unit,
        lower_limit: tolerance.lower ?? null,
        upper_limit: tolerance.upper ?? null,
        target: tolerance.target,
        pieces: pieces.length,
        enough: pieces.length >= readingsForIndices,
        confidence,
        within: found.within ? showCapability(found.within) : null,
        overall: found.overall ? showPerformance(found.overall) : null,
        about_trend:
          trend && aboutTrend
            ? { slope_per_piece: round(trend.slope), trending: found.trending, ...showCapability(aboutTrend) }
            : null,
        shipped: found.shipped
          ? {
              pieces: shipped.length,
              outside: countOutside(shipped, tolerance),
              ...showPerformance(found.shipped),
            }
          : null,
        normality: normality
          ? {
              statistic: Number(normality.statistic.toFixed(4)),
              p: Number(normality.p.toPrecision(2)),
              normal: normality.p >= 0.05,
            }
          : null,
        by_quantiles: quantiles
          ? {
              pp: quantiles.spread === undefined ? null : Number(quantiles.spread.toFixed(2)),
              ppk: Number(quantiles.smaller.toFixed(2)),
            }
          : null,
        steady: found.steady,
        doubtful_pieces: doubtful.map(({ piece }) => piece),
        says: [
          ...sayDoubtful(doubtful, unit),
          ...sayStudy(found, { pieces: pieces.length, unit, confidence, doubtful: doubtful.length }),
        ],
      };
    },
  });

  async function find(featureId: string, query: CapabilityQuery | ChartQuery, usual: number) {
    const { from_piece: fromPiece = 1, to_piece: toPiece = farthest } = query;
    if (fromPiece > toPiece)
      throw problemAt("validation", [{ pointer: "to_piece", detail: `is before from_piece ${fromPiece}` }]);
    const batchId = query.batch_id ?? (await findLatestBatch(db, featureId));
    if (batchId === undefined)
      throw new ProblemError("not-found", `There is no feature ${featureId} that has been measured.`);
    const view = await views.read(batchId);
    if (!view)
      throw new ProblemError("not-found", `There is no batch ${batchId}: GET /v1/batches lists them.`);
    const feature = placeOf(view, featureId, query.place);
    const window: Window = {
      batchId,
      featureId,
      place: feature.place,
      seat: query.seat,
      gaugeId: query.gauge_id,
      fromPiece,
      toPiece,
      last: query.last ?? usual,
    };
    return { view, feature, window };
  }

  async function measure(view: BatchView, feature: FeatureView, window: Window, kind: ChartKind) {
    const unit = shownUnitOf(feature.kind, view.part.unit);
    const usable = kind === "p" || kind === "np" ? () => true : (row: MeasuredPiece) => row.value_mm !== null;
    const all = toMeasured(await listPieces(db, window, false), unit, usable);
    const doubtful = all.filter(({ implausible }) => implausible);
    const pieces = all.filter(({ implausible }) => !implausible);
    if (pieces.length === 0)
      throw new ProblemError("not-found", `Feature ${feature.characteristic} has not been measured there.`);
    const [fromPiece, toPiece] = [pieces[0]!.piece, pieces.at(-1)!.piece];
    const starts = await listPhaseStarts(db, { ...window, fromPiece, toPiece });
    return { unit, pieces, doubtful, phases: splitPhases(pieces, starts) };
  }

  async function drawForeseen(
    view: BatchView,
    feature: FeatureView,
    phases: ReturnType<typeof splitPhases>,
    pieces: readonly Weighed[],
    rules: ChartQuery["rules"],
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
}

function placeOf(view: BatchView, featureId: string, place: string | undefined): FeatureView {
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

function refuseKind(kind: ChartKind, feature: FeatureView, size: number | undefined): void {
  const refuse = (why: string) => {
    throw new ProblemError("unprocessable", `Feature ${feature.characteristic} ${why}`);
  };
  const ofSizes = !["p", "np", "c", "u"].includes(kind);
  if (isAttribute(feature.kind) && kind !== "p" && kind !== "np")
    refuse("passes or fails: kind p or np charts that.");
  if ((kind === "c" || kind === "u") && feature.kind !== "count")
    refuse("is not counted: c and u are charts of counts.");
  if (ofSizes && feature.kind === "count") refuse("is counted: kind c or u charts that.");
  if (kind === "innovations" && !feature.movable)
    refuse("is moved by no register, so that no wear is foreseen: kind individuals charts it.");
  if (kind.startsWith("mean") && size !== undefined && size > largestMeans)
    refuse(`can't have means of more than ${largestMeans} pieces: send a smaller subgroup_size.`);
}

type Weighed = Measured & { sizeMm: number; gaugeVariance: number; implausible: boolean };

function toMeasured(
  rows: readonly MeasuredPiece[],
  unit: Parameters<typeof toUnit>[1],
  usable: (row: MeasuredPiece) => boolean,
): Weighed[] {
  return rows.filter(usable).map((row) => {
    const pm = row.value_mm === null ? 0 : fromNumeric(row.value_mm);
    return {
      piece: row.piece,
      size: toUnit(pm, unit),
      sizeMm: pm / 1e9,
      gaugeVariance: row.gauge_variance,
      implausible: row.implausible,
      fails: row.fails,
    };
  });
}

function countOutside(
  pieces: readonly Measured[],
  { lower, upper }: { lower?: number | undefined; upper?: number | undefined },
) {
  return pieces.filter(({ size }) => size < (lower ?? size) || size > (upper ?? size)).length;
}

function showBasis({ mean, spread }: Assessed) {
  return {
    mean: round(mean),
    standard_deviation: round(spread.s),
    degrees_of_freedom: Number(spread.degrees.toFixed(1)),
  };
}

function showCapability(found: Assessed) {
  return { ...showBasis(found), cp: found.index, cpk: found.smaller, cpkl: found.lower, cpku: found.upper };
}

function showPerformance(found: Assessed) {
  const { index, smaller, lower, upper, aboutTarget } = found;
  return { ...showBasis(found), pp: index, ppk: smaller, ppkl: lower, ppku: upper, cpm: aboutTarget };
}

const methods: Record<ChartKind, string> = {
  individuals: "Limits: mean of the phase and 3 standard deviations from moving ranges of two (ISO 7870-2).",
  mean_range: "Limits: mean of the phase and 3 standard deviations of a mean, from ranges (ISO 7870-2).",
  mean_s:
    "Limits: mean of the phase and 3 standard deviations of a mean, from standard deviations (ISO 7870-2).",
  ewma: `Weight of the latest reading ${ewmaWeight}, begun afresh at the mean of each phase, 3 standard deviations (Roberts 1959).`,
  cusum: `Sums of what lies more than ${cusumSlack} standard deviations from the mean of the phase, alarm at ${cusumInterval} (Page 1954).`,
  innovations:
    "Each point is reading less forecast over the standard deviation of both; the forecast knows wear, edges and corrections. Pieces of which nothing could be foreseen yet are left out.",
  p: "Limits: share that failed, 3 standard deviations of the binomial distribution (ISO 7870-2).",
  np: "Limits: number that failed, 3 standard deviations of the binomial distribution (ISO 7870-2).",
  c: "Limits: mean count, 3 standard deviations of the Poisson distribution (ISO 7870-2).",
  u: "Limits: mean count per piece, 3 standard deviations of the Poisson distribution (ISO 7870-2).",
};

/** What surprised and was never repeated comes first: it is no typing error until somebody has looked. */
function sayDoubtful(doubtful: readonly Measured[], unit: string): string[] {
  if (doubtful.length === 0) return [];
  const shown = doubtful.slice(-5).map(({ piece, size }) => `piece ${piece} at ${round(size)} ${unit}`);
  const more = doubtful.length > 5 ? ` and ${doubtful.length - 5} before them` : "";
  return [
    `Surprising and not confirmed by a repeat: ${shown.join(", ")}${more}. Limits and indices go without; measure again, since it may be real.`,
  ];
}

function sayChart(kind: ChartKind, signals: readonly { says: string }[], rules: number): string[] {
  const first =
    signals.length === 0
      ? "Of what counts here nothing stands out: what is seen is the scatter of a process that stays as it is. Leave it alone."
      : `${signals.length === 1 ? "1 point stands" : `${signals.length} points stand`} out. The latest: ${signals.at(-1)!.says}`;
  const alarms =
    rules > 1
      ? [
          "Several tests are on: even of a process that stays as it is, one of them speaks up about once in 90 points (Champ and Woodall 1987, for the four of Western Electric).",
        ]
      : [];
  return [first, methods[kind], ...alarms];
}
