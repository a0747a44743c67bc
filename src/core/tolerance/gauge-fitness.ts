/** How far a gauge is up to a tolerance, best first. */
export type Fitness = "ample" | "fit" | "marginal" | "too_coarse";

export interface GaugeAndTolerance {
  /** T: width of the tolerance; with one limit twice the way from target to limit. Whole picometres. */
  widthPm: number;
  /** From target to the nearer limit. */
  roomPm: number;
  resolutionPm: number;
  /** U; undefined: not known. */
  expandedUncertaintyPm: number | undefined;
  /** u: the larger of what the gauge shows by itself (repeatability, resolution) and U/k. */
  standardUncertaintyPm: number;
}

export interface GaugeRating {
  fitness: Fitness;
  /** Steps of the display in the tolerance: T over resolution. */
  resolutionRatio: number;
  /** T/(2U); undefined: U is not known, or given as 0, which says nothing. */
  testRatio: number | undefined;
  /** C_m = T/(4u): what the rating goes by and gauges are compared by. */
  capabilityIndex: number;
}

/** Too coarse for a tolerance: u above a quarter of the way from target to the nearer limit. */
export function isTooCoarse(standardUncertainty: number, room: number): boolean {
  return standardUncertainty > room / 4;
}

/**
 * Rates a gauge for a tolerance by the measurement capability index C_m = T/(4u), which is the test ratio T/(2U) where
 * U = 2u: `ample` from 10, `fit` from 4, `marginal` below it, `too_coarse` where `isTooCoarse` (with the target in the
 * middle: below 2). Fewer than 10 steps of the display in the tolerance make it at most `marginal`.
 * @throws {RangeError} if a length or u is not above 0, or U is below 0
 * @see JCGM 106:2012, 7.6.3 (C_m, from memory). 10 to 1 and 4 to 1: common practice, no source. 2 to 1: U of a quarter of
 *      the tolerance, the coarsest grade of GB/T 3177 (from a summary)
 */
export function rateGauge(gauge: GaugeAndTolerance): GaugeRating {
  const { widthPm, roomPm, resolutionPm, expandedUncertaintyPm, standardUncertaintyPm } = gauge;
  for (const length of [widthPm, roomPm, resolutionPm, standardUncertaintyPm]) {
    if (!(length > 0 && Number.isFinite(length))) throw new RangeError(`must be above 0, got ${length}`);
  }
  if (expandedUncertaintyPm !== undefined && !(expandedUncertaintyPm >= 0)) {
    throw new RangeError(`expanded uncertainty must be 0 or more, got ${expandedUncertaintyPm}`);
  }
  const resolutionRatio = widthPm / resolutionPm;
  const capabilityIndex = widthPm / (4 * standardUncertaintyPm);
  return {
    fitness: fitnessBy(capabilityIndex, resolutionRatio, isTooCoarse(standardUncertaintyPm, roomPm)),
    resolutionRatio,
    testRatio: expandedUncertaintyPm ? widthPm / (2 * expandedUncertaintyPm) : undefined,
    capabilityIndex,
  };
}

function fitnessBy(capabilityIndex: number, resolutionRatio: number, tooCoarse: boolean): Fitness {
  if (tooCoarse) return "too_coarse";
  if (capabilityIndex < 4 || resolutionRatio < 10) return "marginal";
  return capabilityIndex < 10 ? "fit" : "ample";
}
