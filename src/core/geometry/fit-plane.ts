import { centre, dot, type NoFit, type Point3, range, rootMeanSquare } from "./points.js";
import { principalAxes } from "./principal-axes.js";

export interface PlaneFit {
  /** A point of the plane. */
  readonly centroidMm: readonly number[];
  /** Unit vector; its largest coordinate is positive. */
  readonly normal: readonly number[];
  /** Signed, positive on the side of the normal. */
  readonly deviationsMm: readonly number[];
  /** Flatness about the least-squares plane: largest less smallest deviation. */
  readonly flatnessMm: number;
  readonly rmsMm: number;
  /** Points beyond those that determine the plane. */
  readonly redundancy: number;
}

/**
 * Least-squares plane: the sum of the squares of the orthogonal distances is least. It runs through the centroid across the
 * shortest principal axis.
 * @param pointsMm n ≥ 3 points in mm
 * @throws {RangeError} if a coordinate is not finite
 * @see Pearson, On lines and planes of closest fit, Phil. Mag. 2 (1901); ISO 12781-1:2011, 3.3.3 (from memory)
 */
export function fitPlane(pointsMm: readonly Point3[]): PlaneFit | NoFit {
  if (pointsMm.length < 3) return "too_few_points";
  const { centroid, rows, rounding } = centre(pointsMm);
  const [longest, middle, shortest] = principalAxes(rows);
  const noise = rounding * Math.sqrt(rows.length);
  if (longest!.extent <= noise) return "all_equal";
  if (middle!.extent <= noise) return "collinear";
  const axis = shortest!.direction;
  const leading = axis.reduce((most, x) => (Math.abs(x) > Math.abs(most) ? x : most), 0);
  const normal = axis.map((x) => (leading < 0 ? -x : x) + 0);
  const deviationsMm = rows.map((row) => dot(row, normal));
  return {
    centroidMm: centroid,
    normal,
    deviationsMm,
    flatnessMm: range(deviationsMm),
    rmsMm: rootMeanSquare(deviationsMm),
    redundancy: pointsMm.length - 3,
  };
}
