import { centre, dot, type NoFit, type Point2, type Point3, range, rootMeanSquare } from "./points.js";
import { principalAxes } from "./principal-axes.js";

export interface LineFit {
  /** A point of the line. */
  readonly centroidMm: readonly number[];
  /** Unit vector; its first coordinate that is not 0 is positive. */
  readonly direction: readonly number[];
  /** In a plane: signed, positive to the left of the direction. In space: distance from the line, never below 0. */
  readonly deviationsMm: readonly number[];
  /** Straightness about the least-squares line: in a plane largest less smallest deviation; in space the diameter of the
   * cylinder about the line that holds every point. */
  readonly straightnessMm: number;
  readonly rmsMm: number;
  /** Points beyond those that determine the line. */
  readonly redundancy: number;
}

/**
 * Least-squares line: the sum of the squares of the orthogonal distances is least. It runs through the centroid along the
 * longest principal axis.
 * @param pointsMm n ≥ 2 points in mm, all in a plane or all in space
 * @throws {RangeError} if a coordinate is not finite
 * @see Pearson, On lines and planes of closest fit, Phil. Mag. 2 (1901); ISO 12780-1:2011, 3.3.3 (from memory)
 */
export function fitLine(pointsMm: readonly Point2[] | readonly Point3[]): LineFit | NoFit {
  if (pointsMm.length < 2) return "too_few_points";
  const { centroid, rows, rounding } = centre(pointsMm);
  const axis = principalAxes(rows)[0]!;
  if (axis.extent <= rounding * Math.sqrt(rows.length)) return "all_equal";
  const leading = axis.direction.find((x) => Math.abs(x) > Number.EPSILON)!;
  const direction = axis.direction.map((x) => (leading < 0 ? -x : x) + 0);
  const deviationsMm = rows.map((row) => deviation(row, direction));
  return {
    centroidMm: centroid,
    direction,
    deviationsMm,
    straightnessMm:
      direction.length === 2
        ? range(deviationsMm)
        : 2 * deviationsMm.reduce((most, x) => Math.max(most, x), 0),
    rmsMm: rootMeanSquare(deviationsMm),
    redundancy: pointsMm.length - 2,
  };
}

function deviation(row: readonly number[], direction: readonly number[]): number {
  if (direction.length === 2) return direction[0]! * row[1]! - direction[1]! * row[0]!;
  const along = dot(row, direction);
  return Math.hypot(...row.map((x, i) => x - along * direction[i]!));
}
