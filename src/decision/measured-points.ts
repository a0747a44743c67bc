import { createHash } from "node:crypto";
import {
  type CircleOfPoints,
  circleOfPoints,
  cylindricityOfPoints,
  flatnessOfPoints,
  type PointsFault,
  type PointsPm,
  straightnessOfPoints,
} from "../core/geometry/evaluate-points.js";
import { type LengthUnit, parseLength, toUnit } from "../core/quantity.js";
import { positionDiameter } from "../core/tolerance/position.js";
import type { FitOfPoints, SentPoints } from "../db/schema.js";
import type { RuledFeature } from "./feature-view.js";
import type { GaugeView } from "./gauge-view.js";
import { saySize } from "./words.js";

/** What the points say of their feature. */
export interface PointsMeasured {
  /** Diameter, form or position. */
  sizePm: number;
  /** Of a position. */
  offsetsPm: { dx: number; dy: number; dz: number | undefined } | undefined;
  /** Of a position at maximum or least material: the diameter of its feature. */
  featureSizePm: number | undefined;
  fit: FitOfPoints;
  sent: SentPoints;
}

interface Fault {
  /** Where in the reading. */
  at: string;
  detail: string;
}

/** What is found in points, by what a feature asks for. */
interface Method {
  /** What is put through the points, for people. */
  element: "circle" | "line" | "plane" | "cylinder";
  /** Fewest points that determine it. */
  least: number;
  find(points: PointsPm, ballPm: number | undefined): Found | PointsFault;
}
type Found = Pick<CircleOfPoints, "leastSquaresPm" | "minimumZonePm" | "redundancy"> & {
  sizePm: number;
  circle: CircleOfPoints | undefined;
  factor: number;
};

/** As far as a point may lie from the origin, 100 m: as any size. */
const largestPm = 1e14;

const circleMethod = (touched: "inside" | "outside"): Method => ({
  element: "circle",
  least: 3,
  find: (points, ballPm) => {
    const ball = ballPm === undefined ? undefined : { diameterPm: ballPm, touched };
    const circle = circleOfPoints(points, ball);
    if (typeof circle === "string") return circle;
    return { ...circle, sizePm: circle.diameterPm, circle, factor: Math.max(1, circle.diameterFactor) };
  },
});

const roundness: Method = {
  element: "circle",
  least: 3,
  find: (points) => {
    const circle = circleOfPoints(points, undefined);
    if (typeof circle === "string") return circle;
    if (circle.minimumZonePm === undefined) return "arc_too_short";
    return { ...circle, sizePm: circle.minimumZonePm, circle, factor: 1 };
  },
};

function formMethod(element: Method["element"], least: number, evaluate: typeof flatnessOfPoints): Method {
  return {
    element,
    least,
    find: (points) => {
      const form = evaluate(points);
      if (typeof form === "string") return form;
      return { ...form, sizePm: form.minimumZonePm ?? form.leastSquaresPm, circle: undefined, factor: 1 };
    },
  };
}

const forms: Partial<Record<NonNullable<RuledFeature["geometric"]>, Method>> = {
  roundness,
  flatness: formMethod("plane", 3, flatnessOfPoints),
  straightness: formMethod("line", 2, straightnessOfPoints),
  cylindricity: formMethod("cylinder", 5, cylindricityOfPoints),
};

function methodOf(feature: RuledFeature): Method | undefined {
  const { kind, geometric } = feature;
  if (kind === "position") return positionMethod(feature);
  if (kind === "internal") return circleMethod("inside");
  if (kind === "external") return circleMethod("outside");
  return geometric === null ? undefined : forms[geometric];
}

/** The centre is the same for the ball and the surface; only a bonus asks on which side the ball was. */
function positionMethod(feature: RuledFeature): Method {
  const side = feature.condition?.size.kind;
  const { find, ...method } = circleMethod(side === "external" ? "outside" : "inside");
  return {
    ...method,
    find: (points, ballPm) => {
      const found = find(points, side === undefined ? undefined : ballPm);
      // A position is twice the distance of the centre.
      return typeof found === "string"
        ? found
        : { ...found, factor: Math.max(1, 2 * found.circle!.centreFactor) };
    },
  };
}

/** On which side of the surface the points or the ball lay; undefined: it is not known, and so is the diameter. */
function sideOf({ kind, condition }: RuledFeature, ballPm: number | undefined) {
  if (ballPm === undefined) return "surface";
  return kind === "position" ? condition?.size.kind : kind === "form" ? undefined : kind;
}

/** From the true position to the centre, along the coordinates of the section. */
function offsetsFrom(truePm: readonly number[], { centrePm, axes }: CircleOfPoints) {
  const along = (axis: number) => (axes.includes(axis) ? centrePm[axis]! - truePm[axis]! : 0);
  return { dx: along(0), dy: along(1), dz: axes.includes(2) ? along(2) : undefined };
}

/**
 * Size or form of a feature from points that were touched on it. Diameters are those of the least-squares circle; a form is
 * that of the minimum zone, but for a cylinder, of which the least-squares one counts.
 */
export function readPoints(sent: SentPoints, feature: RuledFeature): PointsMeasured | Fault {
  const method = methodOf(feature);
  const isPosition = feature.kind === "position";
  if (!method) {
    return {
      at: "points",
      detail: `tell the diameter of a round internal or external feature, its position, or the flatness, straightness, roundness or cylindricity of a form, and characteristic ${feature.characteristic} is none of these: send "value"`,
    };
  }
  if (isPosition !== (sent.true_position !== undefined)) {
    return {
      at: "true_position",
      detail: isPosition
        ? 'is missing: send where the centre should be, in the coordinates of the points, or give the feature its place ("at")'
        : `belongs to a position, and characteristic ${feature.characteristic} is of kind ${feature.kind}: leave it out`,
    };
  }
  const truePm = sent.true_position?.map((x) => parseLength(x, sent.unit) ?? Number.POSITIVE_INFINITY);
  if (truePm && (truePm.length !== sent.points[0]!.length || truePm.some((x) => Math.abs(x) > largestPm))) {
    return {
      at: "true_position",
      detail: `must have as many coordinates as the points, ${sent.points[0]!.length}, in the same unit`,
    };
  }
  const pointsPm: number[][] = [];
  for (const [i, point] of sent.points.entries()) {
    const pm = point.map((x) => parseLength(x, sent.unit) ?? Number.POSITIVE_INFINITY);
    const far = pm.findIndex((x) => Math.abs(x) > largestPm);
    if (far >= 0) {
      return {
        at: `points/${i}/${far}`,
        detail: `${point[far]} ${sent.unit} lies beyond every machine: check the unit and the decimal point`,
      };
    }
    pointsPm.push(pm);
  }
  const ballPm = sent.ball_diameter === undefined ? undefined : parseLength(sent.ball_diameter, sent.unit);
  const found = method.find(pointsPm, ballPm);
  if (typeof found === "string") return explainFault(found, method, sent);
  const { circle } = found;
  const offsetsPm = truePm && offsetsFrom(truePm, circle!);
  const sizePm = offsetsPm ? positionDiameter([offsetsPm.dx, offsetsPm.dy, offsetsPm.dz ?? 0]) : found.sizePm;
  return {
    sizePm,
    offsetsPm,
    featureSizePm: isPosition && feature.condition ? circle!.diameterPm : undefined,
    sent,
    fit: {
      points: pointsPm.length,
      redundancy: found.redundancy,
      ball_diameter_pm: ballPm ?? null,
      diameter_pm: circle && sideOf(feature, ballPm) !== undefined ? circle.diameterPm : null,
      centre_pm: circle?.centrePm ?? null,
      arc_deg: circle ? Number(circle.arcDeg.toFixed(3)) : null,
      least_squares_pm: found.leastSquaresPm,
      minimum_zone_pm: found.minimumZonePm ?? null,
      uncertainty_factor: Number(found.factor.toPrecision(6)),
    },
  };
}

function explainFault(fault: PointsFault, { element, least }: Method, sent: SentPoints): Fault {
  const words: Record<PointsFault, string> = {
    too_few_points: `are ${sent.points.length}, and a ${element} takes at least ${least}: touch it in more`,
    all_equal: "are all the same: check how they were logged",
    collinear: `lie on one line, which determines no ${element}: touch it in points farther apart`,
    arc_too_short:
      "reach round too short an arc to tell: touch it farther round, for roundness at least halfway",
    undetermined: `leave the axis of the ${element} loose: touch it all round in two sections at least`,
    ball_too_large: `leave nothing of an outside diameter when a ball of ${sent.ball_diameter} ${sent.unit} is taken off: check the diameter of the ball`,
    not_in_a_plane:
      "lie in space and share no coordinate: send [x, y] of a section, or points of which one coordinate is the same",
    not_in_space: `have two coordinates, and a ${element} takes three: send [x, y, z]`,
    not_round: `are off the ${element} by more than a tenth of its diameter, so they lie on none: of a width between two walls send "value"`,
  };
  return { at: fault === "ball_too_large" ? "ball_diameter" : "points", detail: words[fault] };
}

/** What a second sending of the same points would show again, of a length that an index takes. */
export function digestPoints(sent: SentPoints): string {
  return createHash("sha256").update(JSON.stringify(sent)).digest("base64url");
}

/**
 * The gauge's uncertainty is that of one point; the fit carries it over to the size. Many points don't make it smaller, as
 * the ball and the scales are the same for all of them.
 */
export function gaugeOfPoints(gauge: GaugeView, { uncertainty_factor: factor }: FitOfPoints): GaugeView {
  return {
    ...gauge,
    variance: gauge.variance * factor ** 2,
    standardMm: gauge.standardMm * factor,
    expandedPm: gauge.expandedPm === undefined ? undefined : Math.round(gauge.expandedPm * factor),
  };
}

/** A fit as the wire shows it, in the unit of the feature. */
export function showFit(fit: FitOfPoints | null, unit: LengthUnit) {
  if (fit === null) return null;
  const length = (pm: number | null) => (pm === null ? null : toUnit(pm, unit));
  return {
    points: fit.points,
    redundancy: fit.redundancy,
    ball_diameter: length(fit.ball_diameter_pm),
    diameter: length(fit.diameter_pm),
    centre: fit.centre_pm?.map((pm) => toUnit(pm, unit)) ?? null,
    arc_deg: fit.arc_deg,
    form_least_squares: toUnit(fit.least_squares_pm, unit),
    form_minimum_zone: length(fit.minimum_zone_pm),
    uncertainty_factor: fit.uncertainty_factor,
  };
}

/** How the size came about from the points, line by line. */
export function sayFit(fit: FitOfPoints, { kind, geometric, condition, unit }: RuledFeature): string[] {
  const say = (pm: number) => saySize(pm, unit);
  const { points, ball_diameter_pm: ballPm, diameter_pm: diameterPm, minimum_zone_pm: zonePm } = fit;
  const lines: string[] = [];
  if (diameterPm !== null) {
    const arc = `over an arc of ${Math.round(fit.arc_deg!)}°`;
    const sign = (condition?.size.kind ?? kind) === "internal" ? 1 : -1;
    lines.push(
      ballPm === null
        ? `Least-squares circle through ${points} points ${arc}: diameter ${say(diameterPm)}.`
        : `Least-squares circle through ${points} centres of the ball ${arc}: diameter ${say(diameterPm - sign * ballPm)} ${sign > 0 ? "+" : "−"} ball ${say(ballPm)} = ${say(diameterPm)}.`,
    );
  }
  const name = geometric ?? "roundness";
  const zone = zonePm === null ? "" : `, by the minimum zone ${say(zonePm)}`;
  lines.push(`Form of the ${points} points (${name}): ${say(fit.least_squares_pm)} by least squares${zone}.`);
  if (fit.redundancy === 0) lines.push("No point is left over to show an error: touch it in more.");
  if (fit.uncertainty_factor > 1) {
    lines.push(
      `The points determine the ${kind === "position" ? "centre" : "diameter"} ${fit.uncertainty_factor.toFixed(1)} times less well than a single one is known.`,
    );
  }
  return lines;
}
