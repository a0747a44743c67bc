import { isSize } from "../core/feature-kind.js";
import { usualLimits } from "../core/sampling/allowed-interval.js";
import { nextBlockCheck, referencesDue } from "../core/sampling/block-check.js";
import {
  type CheckRule,
  checkFeature,
  hasTrust,
  type NextCheck,
  waitsFor,
} from "../core/sampling/plan-checks.js";
import type { Progress } from "../core/wear-offset/progress.js";
import { type BatchView, type BlockView, seatByNumber } from "./batch-view.js";
import type { FeatureView } from "./feature-view.js";
import { sayRule } from "./words.js";

export interface PlannedCheck {
  feature_id: string;
  characteristic: string;
  /** Where it has still to be measured on this piece; null: it has no places. */
  places: string[] | null;
  gauge_id: string | null;
  sure_piece: boolean;
  rule: CheckRule;
  why: string;
}

export interface CheckPlan {
  batch_id: string;
  piece: number;
  seat: string | null;
  state: "every_piece" | "relaxed" | "cause_open";
  features: PlannedCheck[];
  left_out: { feature_id: string; why: string }[];
  next_pieces: number[];
  wait_for_result: boolean;
}

const surePieceRules = new Set<CheckRule>([
  "start",
  "first_piece",
  "fresh_edge",
  "after_change",
  "interruption",
  "odd_piece",
]);

/** The next check of a block after `progress`. */
function checkAfter(
  view: BatchView,
  { block, journal, cache }: BlockView,
  progress: Progress,
  countedFrom: number,
): NextCheck {
  const features = block.features.map(({ featureId }) => view.featureById.get(featureId)!);
  return nextBlockCheck({
    block,
    journal,
    progress,
    countedFrom,
    questionOpen: progress === cache.after && cache.questions.length > 0,
    // Nothing is learned of how far what is no size may drift: its checks go by trust and jumps alone.
    ordinary: features.flatMap(({ importance, kind }, f) =>
      importance === "ordinary" && isSize(kind) ? f : [],
    ),
    seatOf: (piece) => seatIndex(view, piece),
    limits: { ...usualLimits, risk: view.part.risk, largest: view.part.largestInterval },
  });
}

function seatIndex({ seats }: BatchView, piece: number): number | undefined {
  return seats.length === 0 ? undefined : (piece - 1) % seats.length;
}

/** When a block is measured next, as its state stands. */
export function nextCheckOf(view: BatchView, blockView: BlockView): NextCheck {
  return checkAfter(view, blockView, blockView.cache.after, blockView.cache.countedFrom);
}

/** When one feature is measured next, and how often. */
export function checkOf(
  view: BatchView,
  feature: FeatureView,
): Pick<NextCheck, "piece" | "every" | "rule" | "allowed"> {
  const block = view.blocks[feature.block]!;
  const next = nextCheckOf(view, block);
  const lot = { quantity: view.quantity };
  const trust = block.cache.after.goodInARow;
  const soon = view.lastPieceCut + 1;
  const rule = checkFeature(feature, soon, next, trust, lot);
  if (rule === "critical" || rule === "key" || rule === "small_lot") return { piece: soon, every: 1, rule };
  if (rule !== undefined) return { piece: soon, every: next.every, rule };
  const due = Math.max(soon, next.piece);
  const last = view.quantity !== undefined && due >= view.quantity;
  return last ? { piece: view.quantity!, every: next.every, rule: "last_piece" } : { ...next, piece: due };
}

/** What to measure on a piece that is cut next or later, as things stand. A pure question. */
export function planPiece(view: BatchView, piece: number): CheckPlan {
  const checks = view.blocks.map((block) => nextCheckOf(view, block));
  const features: PlannedCheck[] = [];
  const leftOut: CheckPlan["left_out"] = [];
  let wait = false;
  const missing = placesMissingOn(view, piece);
  for (const feature of view.featureById.values()) {
    const open = missing.get(feature.featureId);
    const { cache } = view.blocks[feature.block]!;
    const next = open
      ? checkAfter(view, view.blocks[feature.block]!, cache.before, cache.countedBefore)
      : checks[feature.block]!;
    const trust = (open ? cache.before : cache.after).goodInARow;
    const rule = checkFeature(feature, piece, next, trust, { quantity: view.quantity });
    if (rule === undefined) {
      leftOut.push({ feature_id: feature.featureId, why: whyLeftOut(view, feature, piece, next, trust) });
      continue;
    }
    if (waitsFor(next, piece)) wait = true;
    features.push({
      feature_id: feature.featureId,
      characteristic: feature.characteristic,
      places: open ?? (feature.places && [...feature.places]),
      gauge_id: feature.gaugeId,
      sure_piece: surePieceRules.has(rule),
      rule,
      why: sayWhy(rule, next, piece, trust, view.quantity),
    });
    if (feature.referenceGaugeId !== null && isReferenceWanted(view, feature, piece)) {
      features.push({
        ...features.at(-1)!,
        gauge_id: feature.referenceGaugeId,
        rule: "reference",
        why: sayRule({ rule: "reference", every: 1 }, trust, view.quantity),
      });
    }
  }
  orderByGauge(view, features);
  const anyCause = checks.some((check) => check.rule === "cause_open");
  return {
    batch_id: view.batchId,
    piece,
    seat: seatByNumber(view, piece),
    state: anyCause ? "cause_open" : checks.every((check) => check.every > 1) ? "relaxed" : "every_piece",
    features,
    left_out: leftOut,
    next_pieces: nextPieces(view, checks, piece),
    wait_for_result: wait,
  };
}

/** One gauge after the other, since a change of gauge costs time, and with each in the part's order. */
function orderByGauge(view: BatchView, features: PlannedCheck[]): void {
  const positionOf = (check: PlannedCheck) => view.featureById.get(check.feature_id)!.position;
  const first = new Map<string | null, number>();
  for (const check of features) {
    first.set(
      check.gauge_id,
      Math.min(first.get(check.gauge_id) ?? Number.POSITIVE_INFINITY, positionOf(check)),
    );
  }
  const gauges = [...first].sort(([, a], [, b]) => a - b).map(([gaugeId]) => gaugeId);
  features.sort(
    (a, b) => gauges.indexOf(a.gauge_id) - gauges.indexOf(b.gauge_id) || positionOf(a) - positionOf(b),
  );
}

/** True where what another gauge reads has to be compared with the reference again. */
function isReferenceWanted(view: BatchView, feature: FeatureView, piece: number): boolean {
  const { block, cache } = view.blocks[feature.block]!;
  const due = referencesDue(block, cache.after, piece);
  return view.features.some(({ featureId, index }) => featureId === feature.featureId && due.includes(index));
}

/** Where features with places have still to be measured on a piece that has been begun. */
function placesMissingOn(view: BatchView, piece: number): Map<string, string[]> {
  const missing = new Map<string, string[]>();
  const begun = (feature: FeatureView) => {
    const { cache } = view.blocks[feature.block]!;
    if (cache.piece !== piece) return false;
    return view.features.some(
      (other) =>
        other.featureId === feature.featureId &&
        cache.readings.some((reading) => reading.feature === other.index),
    );
  };
  for (const { featureId, place } of missingOn(view, piece).filter(
    (each) => each.place !== null && begun(each),
  ))
    missing.set(featureId, [...(missing.get(featureId) ?? []), place!]);
  return missing;
}

/** A feature that is measured on every piece may have another reason besides, which must not be hidden. */
function sayWhy(
  rule: CheckRule,
  next: NextCheck,
  piece: number,
  trust: number,
  quantity: number | undefined,
): string {
  const why = sayRule({ ...next, rule }, trust, quantity);
  const besides =
    (rule === "critical" || rule === "key") && piece >= next.piece && surePieceRules.has(next.rule);
  return besides ? `${why}; ${sayRule(next, trust, quantity)}` : why;
}

function whyLeftOut(
  view: BatchView,
  feature: FeatureView,
  piece: number,
  next: NextCheck,
  trust: number,
): string {
  if (piece >= next.piece && feature.earlierOfPattern) {
    const last = view.features.findLast(
      (other) => other.patternName === feature.patternName && !other.earlierOfPattern,
    );
    return `the first pieces were good, and ${last?.characteristic ?? "the last"} is the last that the tool makes of these: it speaks for all of them`;
  }
  return `${sayRule(next, trust, view.quantity)}; next on piece ${next.piece}`;
}

/** The pieces after this one on which something is due if all goes well: at most three. */
function nextPieces(view: BatchView, checks: readonly NextCheck[], after: number): number[] {
  const pieces: number[] = [];
  const always = view.features.some((feature) => feature.importance !== "ordinary");
  const small = view.quantity !== undefined && view.quantity < 10;
  for (let piece = after; pieces.length < 3; ) {
    const due = checks.map((check) => {
      if (check.piece > piece) return check.piece;
      return check.piece + Math.ceil((piece + 1 - check.piece) / check.every) * check.every;
    });
    piece = always || small ? piece + 1 : Math.min(...due);
    if (view.quantity !== undefined && piece > view.quantity) {
      if (after < view.quantity && pieces.at(-1) !== view.quantity) pieces.push(view.quantity);
      break;
    }
    pieces.push(piece);
  }
  return pieces;
}

/** Features that the check running on `piece` still waits for. */
export function missingOn(view: BatchView, piece: number): FeatureView[] {
  const lot = { quantity: view.quantity };
  const checks = view.blocks.map((blockView) => {
    const { cache } = blockView;
    if (cache.piece > piece) return undefined;
    return cache.piece === piece
      ? checkAfter(view, blockView, cache.before, cache.countedBefore)
      : nextCheckOf(view, blockView);
  });
  return view.features.filter((feature) => {
    const { cache } = view.blocks[feature.block]!;
    const check = checks[feature.block];
    if (!check) return false;
    const begun = cache.piece === piece;
    const { goodInARow } = begun ? cache.before : cache.after;
    const rule = checkFeature(feature, piece, check, goodInARow, lot);
    if (rule === undefined || !begun) return rule !== undefined;
    if (cache.readings.some((reading) => reading.feature === feature.index)) return false;
    return !(feature.earlierOfPattern && hasTrust(goodInARow));
  });
}
