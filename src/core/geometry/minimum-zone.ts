import { fitCircle } from "./fit-circle.js";
import { fitPlane } from "./fit-plane.js";
import { type Height, leastSlab } from "./least-slab.js";
import { centre, dot, frame, type NoFit, type Point2, type Point3, range } from "./points.js";

export interface RoundnessZone {
  /** Common centre of the two circles. */
  readonly centreMm: Point2;
  readonly roundnessMm: number;
}

/**
 * Straightness by the minimum zone: least distance of two parallel lines that hold every point, exact. One of the lines runs
 * along an edge of the convex hull.
 * @param pointsMm n ≥ 2 points of a plane, in mm
 * @throws {RangeError} if a coordinate is not finite
 * @see ISO 12780-1:2011, minimum zone reference lines (from memory)
 */
export function minimumZoneStraightness(pointsMm: readonly Point2[]): number | NoFit {
  if (pointsMm.length < 2) return "too_few_points";
  const { rows, rounding } = centre(pointsMm);
  if (rows.every(([x, y]) => Math.hypot(x!, y!) <= rounding)) return "all_equal";
  const hull = convexHull(rows as readonly Point2[]);
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < hull.length; i++) {
    const [a, b] = [hull[i]!, hull[(i + 1) % hull.length]!];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    // Corners that rounding has parted give no direction, and make heights rise and fall by turns: all are looked at.
    if (length <= rounding) continue;
    let height = 0;
    for (const corner of hull) height = Math.max(height, area(a, b, corner) / length);
    least = Math.min(least, height);
  }
  return least;
}

/** Corners of the convex hull, anticlockwise (monotone chain). */
function convexHull(points: readonly Point2[]): Point2[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const chain = (list: readonly Point2[]) => {
    const kept: Point2[] = [];
    for (const point of list) {
      while (kept.length > 1 && area(kept.at(-2)!, kept.at(-1)!, point) <= 0) kept.pop();
      kept.push(point);
    }
    return kept.slice(0, -1);
  };
  return [...chain(sorted), ...chain(sorted.reverse())];
}

/** Twice the area of a triangle, positive where c lies to the left of the way from a to b. */
function area(a: Point2, b: Point2, c: Point2): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}

/**
 * Flatness by the minimum zone: least distance of two parallel planes that hold every point. Heights over the least-squares
 * plane are enclosed in the slab of least height, then heights over that slab, until it tilts no more. A plane that leans
 * by s from there has at least the width w·√(1 + s²)⁻¹, and s < 2w / (W − w) for a zone of width w or less, W being the least
 * width of the face: what is found is the minimum to within 2w³/W², 0.02 nm for 10 µm on a strip of 10 mm.
 * @param pointsMm n ≥ 3 points of a face, in mm
 * @throws {RangeError} if a coordinate is not finite
 * @see ISO 12781-1:2011, minimum zone reference planes (from memory)
 */
export function minimumZoneFlatness(pointsMm: readonly Point3[]): number | NoFit {
  const plane = fitPlane(pointsMm);
  if (typeof plane === "string") return plane;
  const { rows } = centre(pointsMm);
  let normal = plane.normal;
  let least = plane.flatnessMm;
  for (;;) {
    const [across, along] = frame(normal);
    const slab = leastSlab(rows.map((row): Height => [dot(row, across), dot(row, along), dot(row, normal)]));
    const length = Math.hypot(slab.a, slab.b, 1);
    normal = normal.map((x, i) => (x - slab.a * across[i]! - slab.b * along[i]!) / length);
    const flatness = range(rows.map((row) => dot(row, normal)));
    if (!(flatness < least * (1 - 1e-12))) return Math.min(flatness, least);
    least = flatness;
  }
}

/**
 * Roundness by the minimum zone: least difference in radius of two concentric circles with every point between them.
 * Starts from the least-squares circle; in every round the radii are taken as straight in the move of the centre, the best
 * move is found exactly, and it is halved until the real zone is narrower. It ends where four points touch the two circles
 * and no move narrows the zone.
 * @param pointsMm n ≥ 3 points in mm, on an arc of at least 180°: on less the centre may run off
 * @returns `arc_too_short` below 180°
 * @throws {RangeError} if a coordinate is not finite
 * @see ISO 12181-1:2011, minimum zone reference circles (from memory)
 */
export function minimumZoneRoundness(pointsMm: readonly Point2[]): RoundnessZone | NoFit {
  const circle = fitCircle(pointsMm);
  if (typeof circle === "string") return circle;
  if (circle.arcDeg < 180) return "arc_too_short";
  const { centroid, rows } = centre(pointsMm);
  const radiiFrom = ([x, y]: Point2) => rows.map((row) => Math.hypot(row[0]! - x, row[1]! - y));
  let middle: Point2 = [circle.centreMm[0] - centroid[0]!, circle.centreMm[1] - centroid[1]!];
  let least = range(radiiFrom(middle));
  for (;;) {
    const radii = radiiFrom(middle);
    const { a, b } = leastSlab(
      rows.map(
        // A point at the centre itself has no direction: its radius counts as fixed in this round.
        ([x, y], i): Height => [
          (x! - middle[0]) / (radii[i]! || 1),
          (y! - middle[1]) / (radii[i]! || 1),
          radii[i]!,
        ],
      ),
    );
    let better: Point2 | undefined;
    for (let part = 1; part > 1e-9 && !better; part /= 2) {
      const tried: Point2 = [middle[0] + a * part, middle[1] + b * part];
      if (range(radiiFrom(tried)) < least * (1 - 1e-12)) better = tried;
    }
    if (!better) break;
    [middle, least] = [better, range(radiiFrom(better))];
  }
  return { centreMm: [centroid[0]! + middle[0], centroid[1]! + middle[1]], roundnessMm: least };
}
