/** A point in mm: [x, y] or [x, y, z]. */
export type Point2 = readonly [number, number];
export type Point3 = readonly [number, number, number];

/**
 * Why points give no answer. `too_few_points`: fewer than the element has unknowns; `all_equal`, `collinear`: to within the
 * rounding of their coordinates; `arc_too_short`: a straight line fits them as well; `undetermined`: the axis of a cylinder is
 * loose; `ball_too_large`: nothing is left of a boss when the ball is taken off.
 */
export type NoFit =
  | "too_few_points"
  | "all_equal"
  | "collinear"
  | "arc_too_short"
  | "undetermined"
  | "ball_too_large";

/** Points about their own middle, which keeps what is small beside a large distance from the origin. */
export interface Centred {
  readonly centroid: readonly number[];
  readonly rows: readonly (readonly number[])[];
  /** What the coordinates may be off by their rounding to doubles. */
  readonly rounding: number;
}

/**
 * Points less their centroid. The first point is taken off before the mean is formed, so that nothing is lost where all of
 * them lie far from the origin.
 * @param points at least one, in one unit, all of two or all of three coordinates
 * @throws {RangeError} if a coordinate is not finite or the points differ in their number of coordinates
 */
export function centre(points: readonly (readonly number[])[]): Centred {
  const first = points[0];
  if (first === undefined) throw new RangeError("needs at least one point");
  let largest = 0;
  for (const point of points) {
    if (point.length !== first.length) throw new RangeError("points differ in their number of coordinates");
    for (const x of point) {
      if (!Number.isFinite(x)) throw new RangeError(`a coordinate must be finite, got ${x}`);
      largest = Math.max(largest, Math.abs(x));
    }
  }
  const near = points.map((point) => point.map((x, i) => x - first[i]!));
  const mean = first.map((_, i) => near.reduce((sum, row) => sum + row[i]!, 0) / near.length);
  return {
    centroid: first.map((x, i) => x + mean[i]!),
    rows: near.map((row) => row.map((x, i) => x - mean[i]!)),
    rounding: 4 * Number.EPSILON * largest,
  };
}

/** Product of two vectors. */
export function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, x, i) => sum + x * b[i]!, 0);
}

/** Largest less smallest; 0 of nothing. */
export function range(values: readonly number[]): number {
  let [low, high] = [values[0] ?? 0, values[0] ?? 0];
  for (const value of values) {
    if (value < low) low = value;
    else if (value > high) high = value;
  }
  return high - low;
}

/** Root of the mean square. */
export function rootMeanSquare(values: readonly number[]): number {
  return Math.sqrt(dot(values, values) / values.length);
}

/** Two unit vectors at right angles to a unit vector and to each other. */
export function frame(normal: readonly number[]): [number[], number[]] {
  const [x, y, z] = [normal[0]!, normal[1]!, normal[2]!];
  const across = Math.abs(x) < 0.6 ? [0, z, -y] : [-z, 0, x];
  const length = Math.hypot(...across);
  const [a, b, c] = across.map((value) => value / length) as [number, number, number];
  return [
    [a, b, c],
    [y * c - z * b, z * a - x * c, x * b - y * a],
  ];
}
