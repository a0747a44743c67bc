import { inverseForm } from "../statistics/quadratic-form.js";
import { fitCircle } from "./fit-circle.js";
import { centre, dot, frame, type NoFit, type Point2, type Point3, range, rootMeanSquare } from "./points.js";
import { principalAxes } from "./principal-axes.js";

export interface CylinderFit {
  /** The point of the axis nearest to the centroid of the points. */
  readonly axisPointMm: readonly number[];
  /** Unit vector, on the side of the direction that was sent. */
  readonly axis: readonly number[];
  readonly diameterMm: number;
  /** Signed distances from the cylinder, positive outside it. */
  readonly deviationsMm: readonly number[];
  /** Cylindricity about the least-squares cylinder: largest less smallest deviation. */
  readonly cylindricityMm: number;
  readonly rmsMm: number;
  /** Points beyond those that determine the cylinder. */
  readonly redundancy: number;
}

interface Cylinder {
  /** A point of the axis. */
  readonly point: readonly number[];
  readonly axis: readonly number[];
  readonly radius: number;
}

/**
 * Least-squares cylinder: the sum of the squares of the distances from the cylinder, at right angles to it, is least.
 * Levenberg-Marquardt in two shifts and two tilts of the axis and the radius, taken afresh about the axis of every round, so
 * that nothing depends on how it lies in space. It begins with the axis near which the cylinder is known to lie and the
 * circle of the points seen along it.
 * @param pointsMm n ≥ 5 points in mm, in two sections at least
 * @param near direction of the axis to within some 20°, of any length
 * @returns `undetermined` where the points leave the axis loose: in one section, or on too little of the wall
 * @throws {RangeError} if a coordinate is not finite, or `near` has no direction
 * @see ISO 12180-1:2011, least squares reference cylinder (from memory)
 */
export function fitCylinder(pointsMm: readonly Point3[], near: Point3): CylinderFit | NoFit {
  const length = Math.hypot(...near);
  if (!(length > 0 && Number.isFinite(length))) throw new RangeError("the axis needs a direction");
  if (pointsMm.length < 5) return "too_few_points";
  const { centroid, rows, rounding } = centre(pointsMm);
  const axis = near.map((x) => x / length);
  const [across, along] = frame(axis);
  const circle = fitCircle(rows.map((row): Point2 => [dot(row, across), dot(row, along)]));
  if (typeof circle === "string") return circle;
  const scale = circle.diameterMm / 2;
  const [cx, cy] = circle.centreMm;
  const points = rows.map((row) => row.map((x) => x / scale));
  const settled = settle(points, {
    point: across.map((x, i) => (x * cx + along[i]! * cy) / scale),
    axis,
    radius: 1,
  });
  if (!isDetermined(points, settled, rounding / scale)) return "undetermined";

  const foot = dot(settled.point, settled.axis);
  const deviationsMm = points.map((point) => scale * residual(point, settled).outside);
  return {
    axisPointMm: settled.point.map((x, i) => centroid[i]! + scale * (x - foot * settled.axis[i]!)),
    axis: settled.axis,
    diameterMm: 2 * settled.radius * scale,
    deviationsMm,
    cylindricityMm: range(deviationsMm),
    rmsMm: rootMeanSquare(deviationsMm),
    redundancy: pointsMm.length - 5,
  };
}

/** Signed distance, positive outside, and the parts of the way from the axis to the point. */
function residual(point: readonly number[], { point: from, axis, radius }: Cylinder) {
  const way = point.map((x, i) => x - from[i]!);
  const along = dot(way, axis);
  const away = way.map((x, i) => x - along * axis[i]!);
  const distance = Math.hypot(...away);
  return { outside: distance - radius, along, away, distance };
}

/** Derivatives of the distance by shifts of the axis across, by its tilts, and by the radius. */
function slopes(point: readonly number[], cylinder: Cylinder): number[] {
  const { along, away, distance } = residual(point, cylinder);
  const [u, v] = frame(cylinder.axis).map((side) => dot(away, side) / Math.max(distance, Number.EPSILON));
  return [-u!, -v!, -u! * along, -v! * along, -1];
}

function settle(points: readonly (readonly number[])[], from: Cylinder): Cylinder {
  const sum = (cylinder: Cylinder) =>
    points.reduce((squares, point) => squares + residual(point, cylinder).outside ** 2, 0);
  let cylinder = from;
  let squares = sum(cylinder);
  let damping = 1e-3;
  for (let round = 0; round < 200 && damping < 1e12; round++) {
    const step = stepOf(points, cylinder, damping);
    const next = moved(cylinder, step);
    const there = sum(next);
    // The last steps change the sum by less than its rounding: each distance is off by up to some ε.
    const slack = 8 * Number.EPSILON * Math.sqrt(points.length * (squares + Number.EPSILON ** 2));
    if (there <= squares + slack) {
      [cylinder, squares, damping] = [next, there, damping / 10];
      if (Math.max(...step.map(Math.abs)) < 1e-15) break;
    } else {
      damping = Math.max(damping, 1e-12) * 10;
    }
  }
  return cylinder;
}

function stepOf(points: readonly (readonly number[])[], cylinder: Cylinder, damping: number): number[] {
  const normal = unit.map((row) => row.map(() => 0));
  const gradient = unit.map(() => 0);
  for (const point of points) {
    const { outside } = residual(point, cylinder);
    const row = slopes(point, cylinder);
    for (let i = 0; i < row.length; i++) {
      gradient[i]! += row[i]! * outside;
      for (let j = 0; j < row.length; j++) normal[i]![j]! += row[i]! * row[j]!;
    }
  }
  // A trace of the unit matrix keeps it definite where the points leave the axis loose.
  const form = inverseForm(
    normal.map((row, i) => row.map((x, j) => (i === j ? x * (1 + damping) + 1e-14 * points.length : x))),
  );
  return unit.map((axis) => -form(axis, gradient));
}

const unit = [0, 1, 2, 3, 4].map((i) => [0, 1, 2, 3, 4].map((j) => (i === j ? 1 : 0)));

function moved({ point, axis, radius }: Cylinder, step: readonly number[]): Cylinder {
  const [across, along] = frame(axis);
  const [shiftU, shiftV, tiltU, tiltV, growth] = step as [number, number, number, number, number];
  const tilted = axis.map((x, i) => x + tiltU * across[i]! + tiltV * along[i]!);
  const length = Math.hypot(...tilted);
  return {
    point: point.map((x, i) => x + shiftU * across[i]! + shiftV * along[i]!),
    axis: tilted.map((x) => x / length),
    radius: radius + growth,
  };
}

/** No move of the cylinder leaves all distances as they are, to within what rounding hides. */
function isDetermined(points: readonly (readonly number[])[], cylinder: Cylinder, rounding: number): boolean {
  const axes = principalAxes(points.map((point) => slopes(point, cylinder)));
  const tightest = axes[0]!.extent;
  return axes.at(-1)!.extent > Math.max(1e-6, 1e3 * rounding) * tightest;
}
