import { fitCircle } from "./fit-circle.js";
import { fitCylinder } from "./fit-cylinder.js";
import { fitLine } from "./fit-line.js";
import { fitPlane } from "./fit-plane.js";
import { minimumZoneFlatness, minimumZoneRoundness, minimumZoneStraightness } from "./minimum-zone.js";
import type { NoFit, Point2, Point3 } from "./points.js";
import { diameterOfSurface } from "./probe-ball.js";

/** Points in whole picometres, all of two or all of three coordinates. */
export type PointsPm = readonly (readonly number[])[];

/**
 * `not_in_a_plane`: points in space of which no coordinate stays the same, where a section is asked for; `not_in_space`: points
 * of a plane, where a face is asked for; `not_round`: the points are as far off the circle as a tenth of its diameter.
 */
export type PointsFault = NoFit | "not_in_a_plane" | "not_in_space" | "not_round";

/** Form error by the least-squares element and by the minimum zone; undefined: the points don't determine it. */
interface Form {
  readonly leastSquaresPm: number;
  readonly minimumZonePm: number | undefined;
  readonly redundancy: number;
}

export interface CircleOfPoints extends Form {
  readonly diameterPm: number;
  /** As many coordinates as the points have. */
  readonly centrePm: readonly number[];
  /** The coordinates in which the section lies, by their numbers. */
  readonly axes: readonly number[];
  readonly arcDeg: number;
  /** Standard uncertainty of diameter and centre per that of a point. */
  readonly diameterFactor: number;
  readonly centreFactor: number;
}

/**
 * Least-squares circle of points that were touched in one section, with its form error.
 * @param ball centres of a ball were sent, not points of the surface; undefined: points of the surface
 * @throws {RangeError} if a coordinate is not finite
 * @see `fitCircle`, `minimumZoneRoundness`, `diameterOfSurface`
 */
export function circleOfPoints(
  pointsPm: PointsPm,
  ball: { diameterPm: number; touched: "inside" | "outside" } | undefined,
): CircleOfPoints | PointsFault {
  const section = sectionOf(pointsPm);
  if (section === undefined) return "not_in_a_plane";
  const circle = fitCircle(section.points);
  if (typeof circle === "string") return circle;
  if (circle.roundnessMm > circle.diameterMm / 10) return "not_round";
  const diameterMm = ball
    ? diameterOfSurface(circle.diameterMm, ball.diameterPm / pmPerMm, ball.touched)
    : circle.diameterMm;
  if (typeof diameterMm === "string") return diameterMm;
  const zone = minimumZoneRoundness(section.points);
  const centrePm = pointsPm[0]!.map((x, axis) => x + toPm(circle.centreMm[section.axes.indexOf(axis)] ?? 0));
  return {
    diameterPm: toPm(diameterMm),
    centrePm,
    axes: section.axes,
    leastSquaresPm: toPm(circle.roundnessMm),
    minimumZonePm: typeof zone === "string" ? undefined : toPm(zone.roundnessMm),
    redundancy: circle.redundancy,
    arcDeg: circle.arcDeg,
    diameterFactor: circle.diameterFactor,
    centreFactor: circle.centreFactor,
  };
}

/** Flatness of a face touched in points. */
export function flatnessOfPoints(pointsPm: PointsPm): Form | PointsFault {
  if (pointsPm[0]?.length === 2) return "not_in_space";
  const points = fromFirst(pointsPm) as unknown as Point3[];
  const plane = fitPlane(points);
  if (typeof plane === "string") return plane;
  return {
    leastSquaresPm: toPm(plane.flatnessMm),
    minimumZonePm: toPm(minimumZoneFlatness(points) as number),
    redundancy: plane.redundancy,
  };
}

/** Straightness of a line touched in points of one section. */
export function straightnessOfPoints(pointsPm: PointsPm): Form | PointsFault {
  const section = sectionOf(pointsPm);
  if (section === undefined) return "not_in_a_plane";
  const line = fitLine(section.points);
  if (typeof line === "string") return line;
  return {
    leastSquaresPm: toPm(line.straightnessMm),
    minimumZonePm: toPm(minimumZoneStraightness(section.points) as number),
    redundancy: line.redundancy,
  };
}

/**
 * Cylindricity of a bore or boss touched in points of several sections, about the least-squares cylinder. Its axis is looked
 * for near each of the coordinates' axes, as machines cut; the best fit counts.
 */
export function cylindricityOfPoints(pointsPm: PointsPm): Form | PointsFault {
  if (pointsPm[0]?.length === 2) return "not_in_space";
  const points = fromFirst(pointsPm) as unknown as Point3[];
  const fits = coordinateAxes.map((axis) => fitCylinder(points, axis));
  const [best] = fits.filter((fit) => typeof fit !== "string").sort((a, b) => a.rmsMm - b.rmsMm);
  if (best === undefined) return fits[0] as NoFit;
  if (best.cylindricityMm > best.diameterMm / 10) return "not_round";
  return {
    leastSquaresPm: toPm(best.cylindricityMm),
    minimumZonePm: undefined,
    redundancy: best.redundancy,
  };
}

const coordinateAxes: readonly Point3[] = [
  [0, 0, 1],
  [0, 1, 0],
  [1, 0, 0],
];
const pmPerMm = 1e9;

function toPm(mm: number): number {
  return Math.round(mm * pmPerMm) + 0;
}

/** In mm from the first of them, which is taken off in whole picometres. */
function fromFirst(pointsPm: PointsPm): number[][] {
  const first = pointsPm[0] ?? [];
  return pointsPm.map((point) => point.map((x, i) => (x - first[i]!) / pmPerMm));
}

/** The two coordinates that make the section; undefined: none of three stays the same. */
function sectionOf(pointsPm: PointsPm): { points: Point2[]; axes: readonly number[] } | undefined {
  const points = fromFirst(pointsPm);
  const dropped =
    points[0]?.length === 3 ? [2, 1, 0].find((axis) => points.every((point) => point[axis] === 0)) : 2;
  if (dropped === undefined) return undefined;
  const axes = [0, 1, 2].filter((axis) => axis !== dropped) as [number, number];
  return { points: points.map((point): Point2 => [point[axes[0]]!, point[axes[1]]!]), axes };
}
