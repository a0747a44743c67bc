import { toUnit } from "../../core/quantity.js";
import type { Db } from "../../db/client.js";
import type { BatchView } from "../batch-view.js";
import type { FeatureView } from "../feature-view.js";
import { type Assessed, readingsForIndices, study } from "./assess.js";
import { type Measured, round } from "./draw-chart.js";
import { measureFeature, toMeasured } from "./measure-feature.js";
import { listPieces, type Window } from "./queries.js";
import { sayDoubtful } from "./say-chart.js";
import { sayStudy } from "./say-study.js";

/** Capability and performance of a feature over a window of one or several batches, in numbers and words. */
export async function assessFeature(
  db: Db,
  view: BatchView,
  feature: FeatureView,
  window: Window,
  confidence: number,
) {
  const { unit, phases, pieces, doubtful } = await measureFeature(db, view, feature, window, "individuals");
  const shipped = toMeasured(await listPieces(db, window, true), unit, (row) => row.value_mm !== null);
  const limit = (pm: number | undefined) => (pm === undefined ? undefined : toUnit(pm, unit));
  const tolerance = {
    lower: limit(feature.lowerPm),
    upper: limit(feature.upperPm),
    target: toUnit(feature.targetPm, unit),
  };
  const found = study(phases, shipped, tolerance, confidence);
  const { normality, quantiles, trend, aboutTrend } = found;
  return {
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
