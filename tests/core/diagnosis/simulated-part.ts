import type { Candidate, Circumstances } from "../../../src/core/diagnosis/causes.js";
import type {
  Observation,
  Subject,
  SubjectFeature,
  Vector,
} from "../../../src/core/diagnosis/observation.js";

/** A small repeatable source of chance (mulberry32, public domain). */
export function chance(seed: number) {
  let state = seed >>> 0;
  const uniform = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  return { uniform, normal };
}

/** Registers: 0 and 1 radius and length of an end mill, 2 and 3 of a second one, 4 the length of a drill. */
export const registers: Subject["registers"] = [
  { tool: 0, controls: "radial", seat: undefined },
  { tool: 0, controls: "axial", seat: undefined },
  { tool: 1, controls: "radial", seat: undefined },
  { tool: 1, controls: "axial", seat: undefined },
  { tool: 2, controls: "axial", seat: undefined },
];

export function feature(
  kind: SubjectFeature["kind"],
  nominalMm: number,
  more: Partial<SubjectFeature> = {},
): SubjectFeature {
  const roomMm = more.roomMm ?? 0.03;
  return {
    kind,
    nominalMm,
    roomMm,
    scatterMm2: (roomMm / 6) ** 2,
    ownMm2: (0.2 * roomMm) ** 2,
    at: undefined,
    direction: undefined,
    depthMm: undefined,
    effects: new Map(),
    ...more,
  };
}

const up: Vector = [0, 0, 1];
const down: Vector = [0, 0, -1];
const of = (...effects: [number, number][]) => new Map(effects);
const hole = (x: number, y: number) => feature("position", 0, { at: [x, y, -10], roomMm: 0.05 });

/** A milled bracket whose features tell all causes apart. */
export const bracket: Subject = {
  machineKind: "mill",
  registers,
  gauges: [{ touchesWithBall: false }, { touchesWithBall: false }, { touchesWithBall: true }],
  features: [
    feature("external", 30, { effects: of([0, 2]), depthMm: 25, at: [20, 0, -12] }),
    feature("internal", 8, { effects: of([0, -2]), depthMm: 4, at: [-20, 10, -2] }),
    feature("external", 120, { effects: of([0, 1]), depthMm: 15, at: [60, 0, -7], direction: [1, 0, 0] }),
    feature("external", 80, { effects: of([2, 1]), depthMm: 10, at: [0, 40, -5], direction: [0, 1, 0] }),
    feature("internal", 20, { effects: of([2, -2]), depthMm: 18, at: [0, -20, -9] }),
    feature("depth", 25, { effects: of([1, -1]), at: [20, 0, -25], direction: down }),
    feature("depth", 10, { effects: of([3, -1]), at: [-50, 30, -10], direction: down }),
    feature("height", 40, { effects: of([3, 1]), at: [50, -30, 40], direction: up }),
    feature("depth", 15, { effects: of([4, -1]), at: [0, 35, -15], direction: down }),
    hole(55, 35),
    hole(-55, 35),
    hole(-55, -35),
    hole(55, -35),
  ],
};

/** Which gauge measures which feature of the bracket: outside, inside and depth, and a machine for the holes. */
const gaugeOf = [0, 0, 0, 1, 1, 1, 0, 1, 0, 2, 2, 2, 2];
const readingMm2 = 0.0015 ** 2;

export const fromTarget: Circumstances = { since: undefined, coldFrom: 1, changes: [] };

/** Pieces of the bracket as they would be read with a cause at work: `cause` says what it does to an observation. */
export function readPieces(
  subject: Subject,
  pieces: readonly number[],
  cause: (observation: Observation) => number,
  { normal }: Pick<ReturnType<typeof chance>, "normal">,
  { features = subject.features.map((_, f) => f), gauges = gaugeOf, noise = 1 } = {},
): Observation[] {
  const components = features.flatMap((f): [number, Observation["component"]][] =>
    subject.features[f]!.kind === "position"
      ? [
          [f, "x"],
          [f, "y"],
        ]
      : [[f, "size"]],
  );
  const own = new Map(
    components.map(([f, c]) => [`${f}${c}`, noise * Math.sqrt(subject.features[f]!.ownMm2) * normal()]),
  );
  return pieces.flatMap((piece) =>
    components.map(([f, component]) => {
      const plain = {
        feature: f,
        component,
        piece,
        gauge: gauges[f]!,
        seat: undefined,
        depthMm: undefined,
        readingMm2,
      };
      const { scatterMm2 } = subject.features[f]!;
      const scatter = noise * (Math.sqrt(scatterMm2) * normal() + Math.sqrt(readingMm2) * normal());
      const observation = { ...plain, deviationMm: 0 };
      return { ...observation, deviationMm: cause(observation) + own.get(`${f}${component}`)! + scatter };
    }),
  );
}

/** What a cause of the list does, with sizes of our own. */
export function acting({ columns, fixed }: Pick<Candidate, "columns" | "fixed">, amounts: readonly number[]) {
  return (observation: Observation) =>
    columns.reduce(
      (sum, { pattern }, j) => sum + amounts[j]! * pattern(observation),
      fixed?.(observation) ?? 0,
    );
}
