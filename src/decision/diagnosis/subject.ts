import type { Observation, Subject, SubjectFeature, Vector } from "../../core/diagnosis/observation.js";
import { isSize } from "../../core/feature-kind.js";
import { placeOrder } from "../../core/tolerance/places.js";
import { type BatchView, valueAt } from "../batch-view.js";
import type { FeatureView } from "../feature-view.js";

export interface KnownGauge {
  gauge_id: string;
  name: string;
  kind: string;
}

/** A batch as a diagnosis sees it: features in the order of the view, registers and gauges in the order of the lists. */
export interface DiagnosedBatch {
  view: BatchView;
  subject: Subject;
  registerIds: readonly string[];
  gauges: readonly KnownGauge[];
}

const vectors: Record<"x" | "y" | "z" | "-x" | "-y" | "-z", Vector> = {
  x: [1, 0, 0],
  y: [0, 1, 0],
  z: [0, 0, 1],
  "-x": [-1, 0, 0],
  "-y": [0, -1, 0],
  "-z": [0, 0, -1],
};
const ballKinds = ["machine_probe", "coordinate_machine"];
/** Share of its room that a feature may always be off by on its own account, as the estimator has it. */
const ownShare = 0.2;
/** The same where only what has changed from piece to piece counts: anything. */
const openShare = 2;

/**
 * @param against `target`: deviations are from target; `before`: only what has changed since earlier pieces counts
 */
export function diagnosedBatch(
  view: BatchView,
  gauges: readonly KnownGauge[],
  against: "target" | "before",
): DiagnosedBatch {
  const registerIds = [...view.registers.keys()];
  const numberOf = new Map(registerIds.map((id, r) => [id, r]));
  const tools = [...view.tools.keys()];
  const depthKnown = view.features.some(({ depthPm }) => depthPm !== undefined);
  const subject: Subject = {
    machineKind: view.machine.kind,
    registers: [...view.registers.values()].map(({ toolId, controls, seat }) => ({
      tool: toolId === null ? undefined : tools.indexOf(toolId),
      controls,
      seat: seat ?? undefined,
    })),
    gauges: gauges.map(({ kind }) => ({ touchesWithBall: ballKinds.includes(kind) })),
    features: view.features.map((feature): SubjectFeature => {
      const { block, cache } = view.blocks[feature.block]!;
      const { effects, roomMm: blockRoomMm } = block.features[feature.index]!;
      const roomMm = feature.kind === "position" ? zoneRadiusMm(feature) : blockRoomMm;
      const moved = new Map<number, number>();
      effects.forEach((effect, r) => {
        if (effect !== 0) moved.set(numberOf.get(block.registers[r]!.registerId)!, effect);
      });
      for (const offset of block.workOffsets ?? []) {
        const effect = offset.effects[feature.index]!;
        if (effect !== 0) moved.set(numberOf.get(offset.registerId)!, effect);
      }
      return {
        kind: isSize(feature.kind) || feature.kind === "position" ? feature.kind : "other",
        nominalMm: feature.nominalPm / 1e9,
        roomMm,
        // The block of a position has learned nothing: what it holds scatter to be goes with the room.
        scatterMm2: cache.after.estimate.scatter[feature.index]! * (roomMm / blockRoomMm) ** 2,
        ownMm2: ((against === "target" ? ownShare : openShare) * roomMm) ** 2,
        at: feature.at,
        direction: directionOf(feature, view.machine.kind),
        depthMm: depthOf(feature, depthKnown),
        effects: moved,
      };
    }),
  };
  return { view, subject, registerIds, gauges };
}

/** Radius of a position's zone; where all of the tolerance is bonus, that of the largest bonus. */
function zoneRadiusMm({ upperPm = 0, condition }: FeatureView): number {
  const bonusPm = upperPm === 0 && condition ? condition.size.upperPm - condition.size.lowerPm : 0;
  return (upperPm + bonusPm) / 2e9;
}

function directionOf({ kind, axis, oneWalled }: FeatureView, machine: "mill" | "lathe"): Vector | undefined {
  if ((kind === "external" || kind === "internal") && !oneWalled) return undefined;
  if (axis !== null) return vectors[axis];
  if (machine === "lathe") return undefined;
  return kind === "depth" ? vectors["-z"] : kind === "height" ? vectors.z : undefined;
}

/**
 * Depth of a feature, of one measured along it that of the place: the first at the top unless its name says otherwise.
 * Where no depth is known in the batch, that places lie along a feature is still known: it counts as 1 mm deep.
 */
function depthOf({ depthPm, places, place }: FeatureView, depthKnown: boolean): number | undefined {
  const whole = depthPm === undefined ? undefined : depthPm / 1e9;
  if (place === null || !places || placeOrder(places) !== "along") return whole;
  if (whole === undefined && depthKnown) return undefined;
  const at = places.indexOf(place) / (places.length - 1);
  const fromBottom = /bottom|floor|deep|end/i.test(places[0]!);
  return (whole ?? 1) * (fromBottom ? 1 - at : at);
}

/** One reading as far as a diagnosis needs it. */
export interface DiagnosedReading {
  feature: FeatureView;
  component: Observation["component"];
  piece: number;
  gauge: number;
  seat: string | null;
  deviationMm: number;
  readingMm2: number;
}

/** Readings as observations: repeats of one by the same gauge are one, three and more by their middle one. */
export function observe({ view }: DiagnosedBatch, readings: readonly DiagnosedReading[]): Observation[] {
  const groups = new Map<string, DiagnosedReading[]>();
  for (const reading of readings) {
    const { feature, component, piece, gauge } = reading;
    const key = `${feature.featureId}/${feature.place}/${component}/${piece}/${gauge}`;
    groups.set(key, [...(groups.get(key) ?? []), reading]);
  }
  return [...groups.values()].map((list): Observation => {
    const first = list[0]!;
    const values = list.map(({ deviationMm }) => deviationMm).sort((a, b) => a - b);
    const middle = values.length % 2 === 1 ? 1 : 2;
    const from = (values.length - middle) / 2;
    const kept = values.slice(from, from + middle);
    return {
      feature: view.features.indexOf(first.feature),
      component: first.component,
      piece: first.piece,
      gauge: first.gauge,
      seat: first.seat ?? undefined,
      depthMm: undefined,
      deviationMm: kept.reduce((sum, value) => sum + value, 0) / kept.length,
      readingMm2: Math.max(...list.map(({ readingMm2 }) => readingMm2)) / kept.length,
    };
  });
}

/** What all registers that move a feature have been changed by since (piece, cut 1), as a change of its size, mm. */
export function movedSince(
  view: BatchView,
  feature: FeatureView,
  piece: number,
  seat: string | null,
  to: number,
): number {
  const { block } = view.blocks[feature.block]!;
  const changeOf = (registerId: string) =>
    (valueAt(view, registerId, to, 1) - valueAt(view, registerId, piece, 1)) / 1e9;
  const byTools = block.features[feature.index]!.effects.reduce(
    (sum, effect, r) => (effect === 0 ? sum : sum + effect * changeOf(block.registers[r]!.registerId)),
    0,
  );
  return (block.workOffsets ?? []).reduce((sum, offset) => {
    const effect = offset.effects[feature.index]!;
    const acts = offset.seat === undefined || block.seats?.[offset.seat] === seat;
    return effect === 0 || !acts ? sum : sum + effect * changeOf(offset.registerId);
  }, byTools);
}
