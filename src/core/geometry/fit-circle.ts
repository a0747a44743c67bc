import { inverseForm } from "../statistics/quadratic-form.js";
import { centre, type NoFit, type Point2, range, rootMeanSquare } from "./points.js";
import { principalAxes } from "./principal-axes.js";

export interface CircleFit {
  readonly centreMm: Point2;
  readonly diameterMm: number;
  /** Signed distances from the circle, positive outside it. */
  readonly deviationsMm: readonly number[];
  /** Roundness about the least-squares circle: largest less smallest deviation. */
  readonly roundnessMm: number;
  readonly rmsMm: number;
  /** Points beyond those that determine the circle. */
  readonly redundancy: number;
  /** What is left of the full circle beside its widest gap between points. */
  readonly arcDeg: number;
  /** Standard uncertainty of the diameter, and of the centre where it is worst, per that of one point. */
  readonly diameterFactor: number;
  readonly centreFactor: number;
}

/** A circle by its apex, the unit vector from there to its centre, and its curvature; a straight line has curvature 0. */
interface Bow {
  readonly apex: Point2;
  readonly inward: Point2;
  readonly curvature: number;
}

/**
 * Least-squares circle: the sum of the squares of the distances from the circle, at right angles to it, is least. Algebraic
 * start (Kåsa), then Levenberg-Marquardt in apex, direction and curvature, which stay well determined where centre and
 * radius run off together: on a short arc.
 * @param pointsMm n ≥ 3 points in mm
 * @returns `arc_too_short` where the curvature is less than three of its standard uncertainties away from a straight line
 * @throws {RangeError} if a coordinate is not finite
 * @see ISO 12181-1:2011, 3.3.1.2, least squares reference circle (from memory); Gander, Golub and Strebel, BIT 34 (1994)
 */
export function fitCircle(pointsMm: readonly Point2[]): CircleFit | NoFit {
  if (pointsMm.length < 3) return "too_few_points";
  const { centroid, rows, rounding } = centre(pointsMm);
  const [longer, shorter] = principalAxes(rows);
  const noise = rounding * Math.sqrt(rows.length);
  if (longer!.extent <= noise) return "all_equal";
  if (shorter!.extent <= noise) return "collinear";

  const scale = longer!.extent / Math.sqrt(rows.length);
  const points = rows.map(([x, y]): Point2 => [x! / scale, y! / scale]);
  const bow = settle(points, start(points));
  const { squares, normal } = normalEquations(points, bow);
  const redundancy = points.length - 3;
  const spread = Math.max(redundancy > 0 ? Math.sqrt(squares / redundancy) : 0, rounding / scale);
  const form = inverseForm(normal);
  if (Math.abs(bow.curvature) <= 3 * spread * Math.sqrt(form(unit[2], unit[2]))) return "arc_too_short";

  const radius = 1 / bow.curvature;
  const middle = bow.apex.map((x, i) => x + bow.inward[i]! * radius);
  const sign = Math.sign(bow.curvature);
  const deviationsMm = points.map((point) => -sign * scale * distance(point, bow).inside);
  return {
    centreMm: [centroid[0]! + middle[0]! * scale, centroid[1]! + middle[1]! * scale],
    diameterMm: 2 * Math.abs(radius) * scale,
    deviationsMm,
    roundnessMm: range(deviationsMm),
    rmsMm: rootMeanSquare(deviationsMm),
    redundancy,
    arcDeg: arcCovered(points.map(([x, y]) => Math.atan2(y - middle[1]!, x - middle[0]!))),
    diameterFactor: 2 * radius ** 2 * Math.sqrt(form(unit[2], unit[2])),
    centreFactor: centreFactor(form, radius),
  };
}

const unit = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
] as const;

/** Kåsa: Σ (x² + y² − 2ax − 2by − c)² is least, about the centroid. */
function start(points: readonly Point2[]): Bow {
  let [xx, xy, yy, xz, yz, zz] = [0, 0, 0, 0, 0, 0];
  for (const [x, y] of points) {
    const z = x * x + y * y;
    xx += x * x;
    xy += x * y;
    yy += y * y;
    xz += x * z;
    yz += y * z;
    zz += z;
  }
  const determinant = 2 * (xx * yy - xy * xy);
  const a = (xz * yy - yz * xy) / determinant;
  const b = (yz * xx - xz * xy) / determinant;
  const radius = Math.sqrt(a * a + b * b + zz / points.length);
  const away = Math.hypot(a, b);
  const inward: Point2 = away > 0 ? [a / away, b / away] : [1, 0];
  return { apex: [a - inward[0] * radius, b - inward[1] * radius], inward, curvature: 1 / radius };
}

/**
 * Signed distance, positive on the side of the centre, and its derivatives by a move of the apex inward, by a turn about it
 * and by curvature. With u along the circle, v inward, κ curvature and k = κ·(distance from the centre):
 *   d = (2v − κ(u² + v²)) / (1 + k),  k² = 1 − 2κv + κ²(u² + v²)
 * Nothing in it cancels as κ → 0.
 */
function distance([x, y]: Point2, { apex, inward, curvature: κ }: Bow) {
  const [dx, dy] = [x - apex[0], y - apex[1]];
  const u = dx * -inward[1] + dy * inward[0];
  const v = dx * inward[0] + dy * inward[1];
  const s = u * u + v * v;
  const k = Math.max(Math.hypot(κ * u, κ * v - 1), Number.EPSILON); // 0 at the centre itself
  const inside = (2 * v - κ * s) / (1 + k);
  const byCurvature = -(s + (v * (κ * s - 2 * v)) / (1 + k)) / (k * (1 + k));
  return { inside, slopes: [(κ * v - 1) / k, u / k, byCurvature] as const };
}

function normalEquations(points: readonly Point2[], bow: Bow) {
  const normal = [
    [0, 0, 0],
    [0, 0, 0],
    [0, 0, 0],
  ];
  const gradient = [0, 0, 0];
  let squares = 0;
  for (const point of points) {
    const { inside, slopes } = distance(point, bow);
    squares += inside * inside;
    for (let i = 0; i < 3; i++) {
      gradient[i]! += slopes[i]! * inside;
      for (let j = 0; j < 3; j++) normal[i]![j]! += slopes[i]! * slopes[j]!;
    }
  }
  return { squares, normal, gradient };
}

function settle(points: readonly Point2[], from: Bow): Bow {
  let bow = from;
  let at = normalEquations(points, bow);
  let damping = 1e-3;
  for (let round = 0; round < 300 && damping < 1e12; round++) {
    const form = inverseForm(
      at.normal.map((row, i) => row.map((value, j) => (i === j ? value * (1 + damping) : value))),
    );
    const step = unit.map((axis) => -form(axis, at.gradient));
    const next = moved(bow, step);
    const there = normalEquations(points, next);
    // The last steps change the sum by less than its rounding: each distance is off by up to some ε.
    const slack = 8 * Number.EPSILON * Math.sqrt(points.length * (at.squares + Number.EPSILON ** 2));
    if (there.squares <= at.squares + slack) {
      [bow, at, damping] = [next, there, damping / 10];
      if (Math.max(...step.map(Math.abs)) < 1e-15) break;
    } else {
      damping = Math.max(damping, 1e-12) * 10;
    }
  }
  return bow;
}

function moved({ apex, inward, curvature }: Bow, [shift = 0, turn = 0, bend = 0]: readonly number[]): Bow {
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return {
    apex: [apex[0] + inward[0] * shift, apex[1] + inward[1] * shift],
    inward: [c * inward[0] - s * inward[1], c * inward[1] + s * inward[0]],
    curvature: curvature + bend,
  };
}

/** The centre moves inward by shift − R²·bend and along by R·turn: root of the larger principal variance. */
function centreFactor(form: ReturnType<typeof inverseForm>, radius: number): number {
  const inward = [1, 0, -(radius ** 2)];
  const along = [0, radius, 0];
  const [a, b, c] = [form(inward, inward), form(along, along), form(inward, along)];
  return Math.sqrt((a + b) / 2 + Math.hypot((a - b) / 2, c));
}

function arcCovered(angles: readonly number[]): number {
  const sorted = [...angles].sort((a, b) => a - b);
  const gaps = sorted.map((angle, i) => (sorted[i + 1] ?? sorted[0]! + 2 * Math.PI) - angle);
  return 360 - (Math.max(...gaps) * 180) / Math.PI;
}
