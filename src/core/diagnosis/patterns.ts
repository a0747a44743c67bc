import type { Observation, Subject, SubjectFeature, Vector } from "./observation.js";

/** What a cause of size 1 does to an observation, in mm; 0: nothing, or not known to. */
export type Pattern = (observation: Observation) => number;

type Axis = 0 | 1 | 2;
const workControls = ["work_x", "work_y", "work_z"] as const;

/** A register off by 1: a worn tool acts like a larger value of it. */
export function registerPattern({ features }: Subject, register: number): Pattern {
  return ({ feature, component }) =>
    component === "size" ? (features[feature]!.effects.get(register) ?? 0) : 0;
}

/**
 * A cutter that bends by 1 mm in each mm of depth: what it leaves shows like a larger radius, the more the deeper the cut
 * is (a cantilever bends more than in proportion to its length, over the range of one part a line will do).
 */
export function bendPattern(subject: Subject, register: number): Pattern {
  const moved = registerPattern(subject, register);
  return (observation) => {
    const depth = observation.depthMm ?? subject.features[observation.feature]!.depthMm;
    return moved(observation) * (depth ?? 0);
  };
}

/** A turned part that bends, or a tailstock out of line: the cut is off by 1 mm in each mm along the axis. */
export function taperPattern(subject: Subject, register: number): Pattern {
  const moved = registerPattern(subject, register);
  return (observation) => moved(observation) * (subject.features[observation.feature]!.at?.[2] ?? 0);
}

/**
 * Everything that is cut stands 1 mm further along an axis than it should, against what was there before. Where a feature
 * says what a work offset along this axis does to it, that counts; else its direction; a diameter on a lathe takes an X
 * that counts in diameter, whatever its direction.
 */
export function shiftPattern(subject: Subject, axis: Axis): Pattern {
  const { features, registers, machineKind } = subject;
  const offsets = registers.flatMap(({ controls, seat }, r) =>
    controls === workControls[axis] ? { r, seat } : [],
  );
  return ({ feature, component, seat }) => {
    const facts = features[feature]!;
    if (component !== "size") return component === (["x", "y", "z"] as const)[axis] ? 1 : 0;
    for (const offset of offsets) {
      const effect = facts.effects.get(offset.r);
      if (effect !== undefined && (offset.seat === undefined || offset.seat === seat)) return effect;
    }
    if (facts.direction) return facts.direction[axis];
    const isDiameter = facts.kind === "external" || facts.kind === "internal";
    return machineKind === "lathe" && axis === 0 && isDiameter ? 1 : 0;
  };
}

/** The part turned about an axis through its zero by 1 radian, small angles: each point moves by θ × its place. */
export function turnPattern({ features }: Subject, axis: Axis): Pattern {
  return ({ feature, component }) => {
    const { at, direction } = features[feature]!;
    if (!at) return 0;
    const moved = cross(axis, at);
    if (component !== "size") return component === "x" ? moved[0] : moved[1];
    return direction ? direction[0] * moved[0] + direction[1] * moved[1] + direction[2] * moved[2] : 0;
  };
}

function cross(axis: Axis, [x, y, z]: Vector): Vector {
  if (axis === 0) return [0, -z, y];
  return axis === 1 ? [z, 0, -x] : [-y, x, 0];
}

/** Everything longer by 1 mm in each mm: sizes by their length, positions by their distance from the part's zero. */
export function growthPattern({ features }: Subject): Pattern {
  return ({ feature, component }) => {
    const { kind, nominalMm, at } = features[feature]!;
    if (component !== "size") return at?.[component === "x" ? 0 : 1] ?? 0;
    return isLength(kind) ? nominalMm : 0;
  };
}

function isLength(kind: SubjectFeature["kind"]): boolean {
  return kind !== "position" && kind !== "other";
}

/** A gauge that shows 1 mm too much, outside and inside alike. */
export function gaugePattern({ features }: Subject, gauge: number): Pattern {
  return (observation) =>
    observation.gauge === gauge &&
    observation.component === "size" &&
    isLength(features[observation.feature]!.kind)
      ? 1
      : 0;
}

/** A ball taken for 1 mm smaller than it is: outside reads bigger, inside smaller. */
export function ballPattern({ features }: Subject, gauge: number): Pattern {
  return ({ feature, component, gauge: by }) => {
    if (by !== gauge || component !== "size") return 0;
    const { kind } = features[feature]!;
    return kind === "external" ? 1 : kind === "internal" ? -1 : 0;
  };
}

/** One component of one feature off by 1 mm, by whatever gauge. */
export function featurePattern(feature: number, component: Observation["component"]): Pattern {
  return (observation) => (observation.feature === feature && observation.component === component ? 1 : 0);
}

/** The pattern in one seat only. */
export function inSeat(pattern: Pattern, seat: string): Pattern {
  return (observation) => (observation.seat === seat ? pattern(observation) : 0);
}

/** How a cause comes and goes from piece to piece. */
export type Course =
  | { kind: "steady" }
  /** From this piece on. */
  | { kind: "since"; piece: number }
  /** More by the same on every piece: 0 on `piece`, 1 on the next. */
  | { kind: "growing"; piece: number }
  /** 1 on `piece`, then fading: a share of exp(−1) is left after `pieces`. */
  | { kind: "fading"; piece: number; pieces: number };

export function follow(pattern: Pattern, course: Course): Pattern {
  switch (course.kind) {
    case "steady":
      return pattern;
    case "since":
      return (observation) => (observation.piece >= course.piece ? pattern(observation) : 0);
    case "growing":
      return (observation) => pattern(observation) * Math.max(0, observation.piece - course.piece);
    case "fading":
      return (observation) =>
        observation.piece >= course.piece
          ? pattern(observation) * Math.exp((course.piece - observation.piece) / course.pieces)
          : 0;
  }
}
