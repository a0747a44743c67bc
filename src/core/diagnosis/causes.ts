import type { Observation, Subject } from "./observation.js";
import {
  ballPattern,
  bendPattern,
  type Course,
  featurePattern,
  follow,
  gaugePattern,
  growthPattern,
  inSeat,
  type Pattern,
  registerPattern,
  shiftPattern,
  taperPattern,
  turnPattern,
} from "./patterns.js";

export const causeKinds = [
  "tool_size",
  "tool_wear",
  "deflection",
  "register_mistaken",
  "work_zero",
  "part_turned",
  "warmth",
  "gauge",
  "single_feature",
] as const;
export type CauseKind = (typeof causeKinds)[number];

/** What the size of a column of a cause is a size of. */
export type Amount =
  /** Register units, mm. */
  | { of: "register"; register: number }
  /** Register units per piece. */
  | { of: "wear"; register: number }
  /** Register units per mm of depth, or per mm along the axis. */
  | { of: "bend" | "taper"; register: number }
  /** mm along an axis. */
  | { of: "shift"; axis: 0 | 1 | 2 }
  /** Radian about an axis. */
  | { of: "turn"; axis: 0 | 1 | 2 }
  /** mm per mm; shift that fades: mm. */
  | { of: "growth" }
  | { of: "gauge" | "ball" }
  | { of: "deviation"; component: Observation["component"] };

/** One way in which a cause may show: columns whose sizes are fitted, or a fixed pattern. */
export interface Candidate {
  kind: CauseKind;
  tool?: number | undefined;
  registers?: readonly number[];
  gauge?: number;
  feature?: number;
  seat?: string;
  /** A change of the register came out as this many times what was believed. */
  factor?: number;
  /** The change went into this register instead. */
  into?: number;
  /** From the first piece after a start or a pause it fades within so many pieces. */
  fadesWithin?: number;
  columns: readonly { amount: Amount; pattern: Pattern }[];
  fixed?: Pattern;
}

/** A register as it was changed just before the deviations began. */
export interface KeyedChange {
  register: number;
  piece: number;
  changeMm: number;
}

export interface Circumstances {
  /** The piece from which on something is wrong; undefined: the deviations are from target, whenever they began. */
  since: number | undefined;
  /** Where the machine last began cold: the first piece, or the first after a stop. */
  coldFrom: number;
  changes: readonly KeyedChange[];
}

const slipFactors = [0.5, 0, -1, 2];
const warmUps = [3, 10, 30];
const axes = [0, 1, 2] as const;
/** The others deviate less, and can't be a better single cause. */
const mostFeatures = 50;

/** Every cause that could show in these observations, each in all its ways. */
export function listCandidates(
  subject: Subject,
  observations: readonly Observation[],
  circumstances: Circumstances,
): Candidate[] {
  const course: Course =
    circumstances.since === undefined ? { kind: "steady" } : { kind: "since", piece: circumstances.since };
  return [
    ...toolCauses(subject, course),
    ...(circumstances.since === undefined ? wearCauses(subject, observations) : []),
    ...mistakes(subject, circumstances),
    ...shifts(subject, observations, course),
    ...turns(subject, course),
    ...warmths(subject, observations, course, circumstances.coldFrom),
    ...gauges(subject, course),
    ...singleFeatures(subject, observations, course),
  ].filter(({ columns, fixed }) =>
    columns.length === 0
      ? fixed !== undefined
      : columns.every(({ pattern }) => observations.some((observation) => pattern(observation) !== 0)),
  );
}

/** The registers of each tool. */
function toolsOf({ registers }: Subject): [tool: number, registers: number[]][] {
  const tools = new Map<number, number[]>();
  registers.forEach(({ tool }, r) => {
    if (tool !== undefined) tools.set(tool, [...(tools.get(tool) ?? []), r]);
  });
  return [...tools];
}

function toolCauses(subject: Subject, course: Course): Candidate[] {
  return toolsOf(subject).flatMap(([tool, registers]): Candidate[] => {
    const sizes = registers.map((register) => ({
      amount: { of: "register", register } as const,
      pattern: follow(registerPattern(subject, register), course),
    }));
    const sideways = registers.filter((r) => ["radial", "x"].includes(subject.registers[r]!.controls));
    const bends = sideways.flatMap((register): Candidate[] => {
      const bend = (of: "bend" | "taper", pattern: Pattern) => ({
        amount: { of, register } as const,
        pattern: follow(pattern, course),
      });
      const whole = { kind: "deflection", tool, registers: [register] } as const;
      if (subject.registers[register]!.controls === "radial")
        return [{ ...whole, columns: [bend("bend", bendPattern(subject, register))] }];
      const taper = bend("taper", taperPattern(subject, register));
      const level = sizes[registers.indexOf(register)]!;
      return [
        { ...whole, columns: [bend("bend", bendPattern(subject, register))] },
        { ...whole, columns: [taper] },
        { ...whole, columns: [taper, level] },
      ];
    });
    return [
      ...sizes.map(
        (size, i): Candidate => ({ kind: "tool_size", tool, registers: [registers[i]!], columns: [size] }),
      ),
      ...(sizes.length > 1 ? [{ kind: "tool_size", tool, registers, columns: sizes } as const] : []),
      ...bends,
    ];
  });
}

function wearCauses(subject: Subject, observations: readonly Observation[]): Candidate[] {
  const first = Math.min(...observations.map(({ piece }) => piece));
  if (new Set(observations.map(({ piece }) => piece)).size < 3) return [];
  return toolsOf(subject).flatMap(([tool, registers]) =>
    registers.map((register): Candidate => {
      const pattern = registerPattern(subject, register);
      return {
        kind: "tool_wear",
        tool,
        registers: [register],
        columns: [
          { amount: { of: "wear", register }, pattern: follow(pattern, { kind: "growing", piece: first }) },
          { amount: { of: "register", register }, pattern },
        ],
      };
    }),
  );
}

/** A change that came out as another than the one believed, or in another register: nothing is left to fit. */
function mistakes(subject: Subject, { changes }: Circumstances): Candidate[] {
  return changes.flatMap(({ register, piece, changeMm }) => {
    const { tool } = subject.registers[register]!;
    const course: Course = { kind: "since", piece };
    const moved = registerPattern(subject, register);
    const about = { kind: "register_mistaken", tool, registers: [register], columns: [] } as const;
    const factors = slipFactors.map(
      (factor): Candidate => ({
        ...about,
        factor,
        fixed: follow((observation) => (factor - 1) * changeMm * moved(observation), course),
      }),
    );
    const others = subject.registers.flatMap((_, into): Candidate[] => {
      if (into === register) return [];
      const other = registerPattern(subject, into);
      return [
        {
          ...about,
          factor: 0,
          into,
          fixed: follow((observation) => changeMm * (other(observation) - moved(observation)), course),
        },
      ];
    });
    return [...factors, ...others];
  });
}

function shifts(subject: Subject, observations: readonly Observation[], course: Course): Candidate[] {
  const column = (axis: 0 | 1 | 2, seat?: string) => {
    const pattern = follow(shiftPattern(subject, axis), course);
    return {
      amount: { of: "shift", axis } as const,
      pattern: seat === undefined ? pattern : inSeat(pattern, seat),
    };
  };
  const seats = [...new Set(observations.flatMap(({ seat }) => seat ?? []))].sort();
  const places: (string | undefined)[] = seats.length > 1 ? [undefined, ...seats] : [undefined];
  const sets = [[0], [1], [2], [0, 1], [0, 2], [1, 2], [0, 1, 2]] as const;
  return places.flatMap((seat) =>
    sets.map(
      (set): Candidate => ({
        kind: "work_zero",
        ...(seat !== undefined && { seat }),
        columns: set.map((axis) => column(axis, seat)),
      }),
    ),
  );
}

/** Turned about the part's zero, or about any other point: that is a shift besides. */
function turns(subject: Subject, course: Course): Candidate[] {
  const turn = (axis: 0 | 1 | 2) => ({
    amount: { of: "turn", axis } as const,
    pattern: follow(turnPattern(subject, axis), course),
  });
  const shift = (axis: 0 | 1 | 2) => ({
    amount: { of: "shift", axis } as const,
    pattern: follow(shiftPattern(subject, axis), course),
  });
  const ways = [
    ...axes.map((axis) => [turn(axis)]),
    [turn(2), shift(0)],
    [turn(2), shift(1)],
    [turn(2), shift(0), shift(1)],
    [turn(0), shift(2)],
    [turn(1), shift(2)],
    [turn(0), turn(1)],
    [turn(0), turn(1), shift(2)],
  ];
  return ways.map((columns) => ({ kind: "part_turned", columns }));
}

/** Warm parts are longer; a machine that warms up moves its zero, most at first. */
function warmths(
  subject: Subject,
  observations: readonly Observation[],
  course: Course,
  coldFrom: number,
): Candidate[] {
  const growth = growthPattern(subject);
  const steady: Candidate = {
    kind: "warmth",
    columns: [{ amount: { of: "growth" }, pattern: follow(growth, course) }],
  };
  if (new Set(observations.map(({ piece }) => piece)).size < 3) return [steady];
  const axis = subject.machineKind === "lathe" ? ([0, 2] as const) : ([2] as const);
  const fading = warmUps.flatMap((pieces): Candidate[] => {
    const fades: Course = { kind: "fading", piece: coldFrom, pieces };
    return [
      {
        kind: "warmth",
        fadesWithin: pieces,
        columns: [{ amount: { of: "growth" }, pattern: follow(growth, fades) }],
      },
      ...axis.map(
        (a): Candidate => ({
          kind: "warmth",
          fadesWithin: pieces,
          columns: [{ amount: { of: "shift", axis: a }, pattern: follow(shiftPattern(subject, a), fades) }],
        }),
      ),
    ];
  });
  return [steady, ...fading];
}

function gauges(subject: Subject, course: Course): Candidate[] {
  return subject.gauges.flatMap(({ touchesWithBall }, gauge): Candidate[] => {
    const about = { kind: "gauge", gauge } as const;
    const plain: Candidate = {
      ...about,
      columns: [{ amount: { of: "gauge" }, pattern: follow(gaugePattern(subject, gauge), course) }],
    };
    if (!touchesWithBall) return [plain];
    return [
      plain,
      {
        ...about,
        columns: [{ amount: { of: "ball" }, pattern: follow(ballPattern(subject, gauge), course) }],
      },
    ];
  });
}

function singleFeatures(subject: Subject, observations: readonly Observation[], course: Course): Candidate[] {
  const furthest = new Map<number, number>();
  for (const { feature, deviationMm } of observations) {
    const share = Math.abs(deviationMm) / subject.features[feature]!.roomMm;
    furthest.set(feature, Math.max(share, furthest.get(feature) ?? 0));
  }
  const worst = [...furthest].sort(([f, a], [g, b]) => b - a || f - g).slice(0, mostFeatures);
  return worst.flatMap(([feature]): Candidate[] => {
    const components = [
      ...new Set(observations.filter((o) => o.feature === feature).map(({ component }) => component)),
    ].sort();
    const columns = components.map((component) => ({
      amount: { of: "deviation", component } as const,
      pattern: follow(featurePattern(feature, component), course),
    }));
    const ways = columns.length > 1 ? [...columns.map((column) => [column]), columns] : [columns];
    return ways.map((way) => ({ kind: "single_feature", feature, columns: way }));
  });
}
