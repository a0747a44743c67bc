import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Observation, Subject, Vector } from "../../../src/core/diagnosis/observation.js";
import {
  ballPattern,
  bendPattern,
  featurePattern,
  follow,
  gaugePattern,
  growthPattern,
  inSeat,
  registerPattern,
  shiftPattern,
  taperPattern,
  turnPattern,
} from "../../../src/core/diagnosis/patterns.js";
import { bracket, feature, registers } from "./simulated-part.js";

const seen = (change: Partial<Observation> = {}): Observation => ({
  feature: 0,
  component: "size",
  piece: 1,
  gauge: 0,
  seat: undefined,
  depthMm: undefined,
  deviationMm: 0,
  readingMm2: 1e-6,
  ...change,
});
const part = (features: Subject["features"], change: Partial<Subject> = {}): Subject => ({
  ...bracket,
  features,
  ...change,
});

describe("what causes do to sizes", () => {
  it("a register moves what it moves by its effect, and no position", () => {
    expect(registerPattern(bracket, 0)(seen())).toBe(2);
    expect(registerPattern(bracket, 0)(seen({ feature: 1 }))).toBe(-2);
    expect(registerPattern(bracket, 0)(seen({ feature: 3 }))).toBe(0);
    expect(registerPattern(bracket, 0)(seen({ feature: 9, component: "x" }))).toBe(0);
  });

  it("a bending cutter leaves more the deeper it cuts; a place has a depth of its own", () => {
    expect(bendPattern(bracket, 0)(seen())).toBe(50);
    expect(bendPattern(bracket, 0)(seen({ depthMm: 5 }))).toBe(10);
    expect(bendPattern(part([feature("external", 10, { effects: new Map([[0, 2]]) })]), 0)(seen())).toBe(0);
  });

  it("a taper grows along the axis, and is nothing where nobody said where the feature is", () => {
    const shaft = (at: Vector | undefined) =>
      part([feature("external", 20, { effects: new Map([[0, 1]]), at })]);
    expect(taperPattern(shaft([0, 0, -80]), 0)(seen())).toBe(-80);
    expect(taperPattern(shaft(undefined), 0)(seen())).toBe(0);
  });

  it("a shift moves holes as it is, sizes along their direction, and leaves widths alone", () => {
    expect(shiftPattern(bracket, 0)(seen({ feature: 9, component: "x" }))).toBe(1);
    expect(shiftPattern(bracket, 1)(seen({ feature: 9, component: "x" }))).toBe(0);
    expect(shiftPattern(bracket, 2)(seen({ feature: 9, component: "y" }))).toBe(0);
    expect(shiftPattern(bracket, 2)(seen({ feature: 5 }))).toBe(-1);
    expect(shiftPattern(bracket, 2)(seen({ feature: 7 }))).toBe(1);
    expect([0, 1, 2].map((axis) => shiftPattern(bracket, axis as 0)(seen()))).toEqual([0, 0, 0]);
  });

  it("a shift goes by what a feature says of the work offset, in its seat", () => {
    const offsets = [...registers, { tool: undefined, controls: "work_x", seat: "B" } as const];
    const subject = part([feature("length", 40, { effects: new Map([[5, -1]]), direction: [1, 0, 0] })], {
      registers: offsets,
    });
    expect(shiftPattern(subject, 0)(seen({ seat: "B" }))).toBe(-1);
    expect(shiftPattern(subject, 0)(seen({ seat: "A" }))).toBe(1);
  });

  it("a lathe's X zero moves all diameters alike", () => {
    const lathe = part([feature("external", 40), feature("internal", 20), feature("length", 60)], {
      machineKind: "lathe",
    });
    expect([0, 1, 2].map((f) => shiftPattern(lathe, 0)(seen({ feature: f })))).toEqual([1, 1, 0]);
    expect(shiftPattern(lathe, 2)(seen())).toBe(0);
  });

  it("a turned part moves opposite at opposite ends, and at right angles to the way out", () => {
    fc.assert(
      fc.property(
        fc.tuple(...[0, 1, 2].map(() => fc.integer({ min: -200, max: 200 }))),
        fc.constantFrom(0, 1, 2),
        (place, axis) => {
          const at = place as unknown as Vector;
          const back: Vector = [-at[0], -at[1], -at[2]];
          const subject = (where: Vector) =>
            part(
              (
                [
                  [1, 0, 0],
                  [0, 1, 0],
                  [0, 0, 1],
                ] as Vector[]
              ).map((direction) => feature("length", 10, { at: where, direction })),
            );
          const moves = (where: Vector) =>
            [0, 1, 2].map((f) => turnPattern(subject(where), axis as 0)(seen({ feature: f })));
          const moved = moves(at);
          expect(moves(back)).toEqual(moved.map((value) => -value + 0));
          expect(moved.reduce((sum, value, i) => sum + value * at[i]!, 0) + 0).toBe(0);
          expect(moved[axis]! + 0).toBe(0);
        },
      ),
    );
  });

  it("a part turned to the left moves a hole on +X up, one on +Y to the left", () => {
    const holes = part([
      feature("position", 0, { at: [50, 0, 0] }),
      feature("position", 0, { at: [0, 30, 0] }),
    ]);
    expect(turnPattern(holes, 2)(seen({ component: "y" }))).toBe(50);
    expect(turnPattern(holes, 2)(seen({ feature: 1, component: "x" }))).toBe(-30);
    expect(turnPattern(part([feature("position", 0)]), 2)(seen({ component: "x" }))).toBe(0);
    expect(turnPattern(part([feature("depth", 5, { at: [1, 1, 1] })]), 2)(seen())).toBe(0);
  });

  it("warmth makes sizes grow by their length and holes by their distance, and no angle", () => {
    const subject = part([
      feature("external", 120),
      feature("position", 0, { at: [55, -35, 0] }),
      feature("other", 45),
    ]);
    expect(growthPattern(subject)(seen())).toBe(120);
    expect(growthPattern(subject)(seen({ feature: 1, component: "y" }))).toBe(-35);
    expect(growthPattern(subject)(seen({ feature: 2 }))).toBe(0);
    expect(growthPattern(part([feature("position", 0)]))(seen({ component: "x" }))).toBe(0);
  });

  it("a gauge off shows outside and inside alike, its ball the other way round, and only what it read", () => {
    expect([0, 1, 5].map((f) => gaugePattern(bracket, 0)(seen({ feature: f })))).toEqual([1, 1, 1]);
    expect([0, 1, 5].map((f) => ballPattern(bracket, 0)(seen({ feature: f })))).toEqual([1, -1, 0]);
    expect(gaugePattern(bracket, 1)(seen())).toBe(0);
    expect(ballPattern(bracket, 1)(seen())).toBe(0);
    expect(gaugePattern(bracket, 0)(seen({ feature: 9, component: "x" }))).toBe(0);
  });

  it("a single feature is off by itself", () => {
    expect(featurePattern(0, "size")(seen())).toBe(1);
    expect(featurePattern(0, "size")(seen({ feature: 1 }))).toBe(0);
    expect(featurePattern(9, "x")(seen({ feature: 9, component: "y" }))).toBe(0);
  });

  it("acts in one seat only where it is a seat's", () => {
    const pattern = inSeat(() => 3, "A");
    expect([pattern(seen({ seat: "A" })), pattern(seen({ seat: "B" })), pattern(seen())]).toEqual([3, 0, 0]);
  });

  it("comes and goes from piece to piece", () => {
    const on = (course: Parameters<typeof follow>[1], pieces: number[]) =>
      pieces.map((piece) => follow(() => 2, course)(seen({ piece })));
    expect(on({ kind: "steady" }, [1, 9])).toEqual([2, 2]);
    expect(on({ kind: "since", piece: 5 }, [4, 5, 6])).toEqual([0, 2, 2]);
    expect(on({ kind: "growing", piece: 3 }, [2, 3, 4, 6])).toEqual([0, 0, 2, 6]);
    expect(on({ kind: "fading", piece: 2, pieces: 10 }, [1, 2, 12])).toEqual([0, 2, 2 / Math.E]);
  });
});
