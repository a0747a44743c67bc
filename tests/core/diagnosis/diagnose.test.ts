import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type Candidate,
  type CauseKind,
  type Circumstances,
  causeKinds,
  listCandidates,
} from "../../../src/core/diagnosis/causes.js";
import { diagnose, nameOf } from "../../../src/core/diagnosis/diagnose.js";
import type { Observation, Subject } from "../../../src/core/diagnosis/observation.js";
import { shiftPattern } from "../../../src/core/diagnosis/patterns.js";
import { acting, bracket, chance, feature, fromTarget, readPieces } from "./simulated-part.js";

const runsPerKind = 40;
const changed: Circumstances = {
  since: 7,
  coldFrom: 1,
  changes: [{ register: 0, piece: 7, changeMm: -0.03 }],
};
/** What every feature has of its own is as open as can be: only what changes from piece to piece counts. */
const fromBefore: Subject = {
  ...bracket,
  features: bracket.features.map((facts) => ({ ...facts, ownMm2: (2 * facts.roomMm) ** 2 })),
};

interface Planted {
  subject: Subject;
  truth: Candidate;
  circumstances: Circumstances;
  observations: Observation[];
}

/** A cause drawn by chance that moves its worst feature by 1 to 2.5 times its room, and what is then read. */
function plant(kind: CauseKind, seed: number): Planted {
  const random = chance(seed);
  const keyed = kind === "register_mistaken";
  const manyPieces = kind === "tool_wear" || (kind === "warmth" && random.uniform() < 0.5);
  const pieces = keyed ? [3, 4, 5, 6, 7, 8] : manyPieces ? [1, 2, 3, 4, 5, 6, 8, 10, 12, 14] : [1];
  const circumstances = keyed ? changed : fromTarget;
  const silent = readPieces(bracket, pieces, () => 0, { normal: () => 0 });
  const ways = listCandidates(bracket, silent, circumstances).filter(
    (candidate) =>
      candidate.kind === kind && (kind !== "warmth" || !manyPieces || candidate.fadesWithin !== undefined),
  );
  const truth = ways[Math.floor(random.uniform() * ways.length)]!;
  const amounts = truth.columns.map(({ pattern }) => {
    const shares = silent.map((o) => Math.abs(pattern(o)) / bracket.features[o.feature]!.roomMm);
    return ((random.uniform() < 0.5 ? -1 : 1) * (1 + 1.5 * random.uniform())) / Math.max(...shares);
  });
  const observations = readPieces(bracket, pieces, acting(truth, amounts), random);
  return { subject: keyed ? fromBefore : bracket, truth, circumstances, observations };
}

describe("diagnose", () => {
  it("finds planted causes among noise, by name or among those that it says cannot be told apart", {
    timeout: 30_000,
  }, () => {
    const table = causeKinds.map((kind, k) => {
      const row = { kind, named: 0, among: 0, wrong: 0, silent: 0, explains: 0 };
      for (let run = 0; run < runsPerKind; run++) {
        const { subject, truth, circumstances, observations } = plant(kind, 1000 * k + run);
        const { causes, alike } = diagnose(subject, observations, circumstances);
        const best = causes.slice(0, alike).map(({ candidate }) => nameOf(candidate));
        if (alike === 0) row.silent += 1;
        else if (!best.includes(nameOf(truth))) row.wrong += 1;
        else if (alike === 1) row.named += 1;
        else row.among += 1;
        if (causes[0]!.explains) row.explains += 1;
      }
      return row;
    });
    const shown = table.map((row) => JSON.stringify(row)).join("\n");

    for (const { kind, named, among, wrong, explains } of table) {
      expect(named + among, `${kind} found\n${shown}`).toBeGreaterThanOrEqual(0.93 * runsPerKind);
      expect(wrong, `${kind} taken for another\n${shown}`).toBeLessThanOrEqual(0.05 * runsPerKind);
      expect(explains, `${kind} explained\n${shown}`).toBeGreaterThanOrEqual(0.97 * runsPerKind);
    }
    // Deflection looks like a tool of another size where all its cuts are about as deep, and a register that moves a
    // single feature like that feature: there no rule could name one.
    const clear = table.filter(({ kind }) => !["deflection", "tool_size", "single_feature"].includes(kind));
    for (const { kind, named } of clear)
      expect(named, `${kind} named\n${shown}`).toBeGreaterThanOrEqual(0.93 * runsPerKind);
  });

  it("names a cause on at most 5 pieces of 100 where nothing is wrong", () => {
    let named = 0;
    for (let run = 0; run < 300; run++) {
      const observations = readPieces(bracket, [1], () => 0, chance(99_000 + run));
      if (diagnose(bracket, observations, fromTarget).alike > 0) named += 1;
    }
    expect(named).toBeLessThanOrEqual(15);
  });

  it("says the same of readings in any order", () => {
    const shuffled = fc
      .tuple(fc.constantFrom(...causeKinds), fc.nat(1e6))
      .map(([kind, seed]) => plant(kind, seed))
      .chain((planted) =>
        fc.record({
          planted: fc.constant(planted),
          other: fc.shuffledSubarray(planted.observations, { minLength: planted.observations.length }),
        }),
      );
    fc.assert(
      fc.property(shuffled, ({ planted: { subject, observations, circumstances }, other }) => {
        const one = summary(diagnose(subject, observations, circumstances));
        const two = summary(diagnose(subject, other, circumstances));
        expect(two.names).toEqual(one.names);
        expect(two.alike).toBe(one.alike);
        expect(two.evidence).toEqual(one.evidence.map((value) => expect.closeTo(value, 6)));
      }),
      { numRuns: 25 },
    );
  });

  it("turns every size with the sign of the deviations, and believes the same", () => {
    fc.assert(
      fc.property(fc.constantFrom(...causeKinds), fc.nat(1e6), (kind, seed) => {
        const { subject, observations, circumstances } = plant(kind, seed);
        const turned = observations.map((o) => ({ ...o, deviationMm: -o.deviationMm }));
        const changes = circumstances.changes.map((change) => ({ ...change, changeMm: -change.changeMm }));
        const one = diagnose(subject, observations, circumstances);
        const two = diagnose(subject, turned, { ...circumstances, changes });
        expect(summary(two).names).toEqual(summary(one).names);
        expect(summary(two).evidence).toEqual(summary(one).evidence.map((value) => expect.closeTo(value, 6)));
        expect(two.causes[0]!.fit.amounts).toEqual(
          one.causes[0]!.fit.amounts.map((amount) => expect.closeTo(-amount, 9)),
        );
      }),
      { numRuns: 25 },
    );
  });

  it("believes the same of a part that is all larger, with its tolerances and scatter", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...causeKinds),
        fc.nat(1e6),
        fc.constantFrom(0.5, 25.4, 1000),
        (kind, seed, scale) => {
          const { subject, observations, circumstances } = plant(kind, seed);
          const larger: Subject = {
            ...subject,
            features: subject.features.map((f) => ({
              ...f,
              nominalMm: scale * f.nominalMm,
              roomMm: scale * f.roomMm,
              scatterMm2: scale ** 2 * f.scatterMm2,
              ownMm2: scale ** 2 * f.ownMm2,
              at: f.at && [scale * f.at[0], scale * f.at[1], scale * f.at[2]],
              depthMm: f.depthMm === undefined ? undefined : scale * f.depthMm,
            })),
          };
          const read = observations.map((o) => ({
            ...o,
            deviationMm: scale * o.deviationMm,
            readingMm2: scale ** 2 * o.readingMm2,
          }));
          const changes = circumstances.changes.map((change) => ({
            ...change,
            changeMm: scale * change.changeMm,
          }));
          const one = summary(diagnose(subject, observations, circumstances));
          const two = summary(diagnose(larger, read, { ...circumstances, changes }));
          expect(two.alike).toBe(one.alike);
          expect(two.names[0]).toEqual(one.names[0]);
          expect(two.evidence).toEqual(one.evidence.map((value) => expect.closeTo(value, 5)));
        },
      ),
      { numRuns: 25 },
    );
  });

  it("shares belief out among causes and none", () => {
    fc.assert(
      fc.property(fc.constantFrom(...causeKinds), fc.nat(1e6), (kind, seed) => {
        const { subject, observations, circumstances } = plant(kind, seed);
        const { causes } = diagnose(subject, observations, circumstances);
        const sum = causes.reduce((total, { weight }) => total + weight, 0);
        expect(sum).toBeGreaterThan(0);
        expect(sum).toBeLessThanOrEqual(1 + 1e-9);
        for (const { fit, degrees } of causes) {
          expect(degrees).toBe(observations.length - fit.columns);
          expect(fit.rest).toBeGreaterThanOrEqual(0);
        }
      }),
      { numRuns: 25 },
    );
  });

  it("finds two causes at once where one does not explain the deviations", () => {
    let found = 0;
    for (let run = 0; run < 40; run++) {
      const random = chance(5000 + run);
      const tool = (o: Observation) => 0.04 * (bracket.features[o.feature]!.effects.get(0) ?? 0);
      const shift = (o: Observation) => 0.12 * shiftPattern(bracket, 0)(o);
      const observations = readPieces(bracket, [1], (o) => tool(o) + shift(o), random);
      const { pair } = diagnose(bracket, observations, fromTarget);
      const kinds = pair?.map(({ candidate }) => candidate.kind).sort();
      if (kinds?.[0] === "tool_size" && kinds[1] === "work_zero") found += 1;
    }
    expect(found).toBeGreaterThanOrEqual(36);
  });

  it("cannot tell causes apart by a single feature, and says which ones they are", () => {
    const observations = readPieces(bracket, [1], () => 0.06, { normal: () => 0 }, { features: [3] });
    const { causes, alike } = diagnose(bracket, observations, fromTarget);
    const kinds = causes.slice(0, alike).map(({ candidate }) => candidate.kind);
    expect(new Set(kinds)).toEqual(
      new Set(["tool_size", "deflection", "work_zero", "part_turned", "warmth", "gauge", "single_feature"]),
    );
  });

  it("has nothing to say of no readings, or of readings on target", () => {
    const none = { chi2: 0, stands: false, alike: 0, pair: undefined };
    expect(diagnose(bracket, [], fromTarget)).toEqual({ ...none, causes: [] });
    const onTarget = readPieces(bracket, [1], () => 0, { normal: () => 0 });
    expect(diagnose(bracket, onTarget, fromTarget)).toMatchObject(none);
  });

  it("refuses a deviation that is no number", () => {
    const [observation] = readPieces(bracket, [1], () => 0, { normal: () => 0 });
    expect(() => diagnose(bracket, [{ ...observation!, deviationMm: Number.NaN }], fromTarget)).toThrow(
      RangeError,
    );
  });
});

describe("cases of the trade", () => {
  const flat = (features: Subject["features"], more: Partial<Subject> = {}): Subject => ({
    machineKind: "mill",
    registers: [],
    gauges: [{ touchesWithBall: false }],
    features,
    ...more,
  });
  const read = (list: [feature: number, component: Observation["component"], deviationMm: number][]) =>
    list.map(
      ([f, component, deviationMm]): Observation => ({
        feature: f,
        component,
        piece: 1,
        gauge: 0,
        seat: undefined,
        depthMm: undefined,
        deviationMm,
        readingMm2: 0.002 ** 2,
      }),
    );

  it("four holes off the same way: the work zero [common practice, no source]", () => {
    const corners = [
      [50, 30],
      [-50, 30],
      [-50, -30],
      [50, -30],
    ] as const;
    const subject = flat(corners.map(([x, y]) => feature("position", 0, { at: [x, y, 0], roomMm: 0.05 })));
    const offs = [
      [0.08, -0.03],
      [0.07, -0.03],
      [0.09, -0.04],
      [0.08, -0.02],
    ] as const;
    const { causes, alike } = diagnose(
      subject,
      read(
        offs.flatMap(([dx, dy], f) => [
          [f, "x", dx],
          [f, "y", dy],
        ]),
      ),
      fromTarget,
    );
    expect(alike).toBe(1);
    expect(causes[0]).toMatchObject({ explains: true, candidate: { kind: "work_zero" } });
    expect(causes[0]!.fit.amounts[0]).toBeCloseTo(0.08, 9);
    expect(causes[0]!.fit.amounts[1]).toBeCloseTo(-0.03, 9);
  });

  it("opposite at the ends: the part is turned [common practice, no source]", () => {
    const subject = flat([50, -50].map((x) => feature("position", 0, { at: [x, 0, 0], roomMm: 0.05 })));
    const { causes, alike } = diagnose(
      subject,
      read([
        [0, "x", 0],
        [0, "y", 0.05],
        [1, "x", 0],
        [1, "y", -0.05],
      ]),
      fromTarget,
    );
    expect(alike).toBe(1);
    expect(causes[0]).toMatchObject({ explains: true, candidate: { kind: "part_turned" } });
    expect((causes[0]!.fit.amounts[0]! * 180) / Math.PI).toBeCloseTo(0.0573, 4);
  });

  it("in proportion to distance: warmth or scale [ISO 1; common practice, no source]", () => {
    const subject = flat([100, 200, 300].map((nominal) => feature("length", nominal, { roomMm: 0.02 })));
    const { causes, alike } = diagnose(
      subject,
      read([
        [0, "size", 0.01],
        [1, "size", 0.02],
        [2, "size", 0.03],
      ]),
      fromTarget,
    );
    expect(causes[0]).toMatchObject({ explains: true, candidate: { kind: "warmth" } });
    expect(causes[0]!.fit.amounts[0]).toBeCloseTo(100e-6, 12);
    expect(alike).toBeGreaterThanOrEqual(1);
  });
});

function summary({ causes, alike }: ReturnType<typeof diagnose>) {
  return {
    names: causes.slice(0, alike).map(({ candidate }) => nameOf(candidate)),
    evidence: causes.slice(0, alike).map(({ fit }) => fit.evidence),
    alike,
  };
}
