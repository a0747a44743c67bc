import {
  type CheckRule,
  checkFeature,
  hasTrust,
  type NextCheck,
  nextCheck,
  type TrustState,
} from "../core/sampling/plan-checks.js";
import type { Progress } from "../core/wear-offset/follow-block.js";
import { type BatchView, type BlockView, type FeatureView, seatByNumber } from "./batch-view.js";
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

/** What the check plan goes by for one block, after `progress`. */
function trustOf(view: BlockView, progress: Progress, countedFrom: number): TrustState {
  const { journal, block, cache } = view;
  const pending: TrustState["pending"][number][] = [];
  for (const event of journal.events.slice(progress.eventsTaken)) {
    if (event.kind === "jump") continue;
    const rule =
      event.kind === "fresh_edge" ? "fresh_edge" : event.kind === "shift" ? "after_change" : "interruption";
    pending.push({ piece: event.piece, rule, unproven: false });
  }
  const putRight = journal.events.slice(progress.eventsTaken).some((event) => event.kind === "put_right");
  const ahead = journal.changes.slice(progress.changesTaken);
  progress.registers.forEach(({ valuePm, proven }, r) => {
    const mine = ahead.filter((change) => change.register === r);
    if (mine.length === 0 || mine.at(-1)!.valuePm === valuePm) return;
    pending.push({ piece: mine[0]!.piece, rule: "after_change", unproven: !proven });
  });
  block.registers.forEach((_, r) => {
    const register = progress.registers[r]!;
    if (register.openChangeMm === null) return;
    pending.push({ piece: 1, rule: "after_change", unproven: !register.proven });
  });
  return {
    measuredPiece: progress.measuredPieces === 0 ? 0 : cache.piece,
    countedFrom,
    goodInARow: progress.goodInARow,
    pending,
    suspect: progress.suspect !== null && !putRight,
    causeOpen: progress.cause !== null && !putRight,
    questionOpen: progress === cache.after && cache.questions.length > 0,
  };
}

/** When a block is measured next, as its state stands. */
export function nextCheckOf(view: BlockView): NextCheck {
  return nextCheck(trustOf(view, view.cache.after, view.cache.countedFrom));
}

/** When one feature is measured next, and how often. */
export function checkOf(
  view: BatchView,
  feature: FeatureView,
): { piece: number; every: number; rule: CheckRule } {
  const block = view.blocks[feature.block]!;
  const next = nextCheckOf(block);
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
  const checks = view.blocks.map(nextCheckOf);
  const features: PlannedCheck[] = [];
  const leftOut: CheckPlan["left_out"] = [];
  let wait = false;
  const missing = placesMissingOn(view, piece);
  for (const feature of view.featureById.values()) {
    const open = missing.get(feature.featureId);
    const { cache } = view.blocks[feature.block]!;
    const next = open
      ? nextCheck(trustOf(view.blocks[feature.block]!, cache.before, cache.countedBefore))
      : checks[feature.block]!;
    const trust = (open ? cache.before : cache.after).goodInARow;
    const rule = checkFeature(feature, piece, next, trust, { quantity: view.quantity });
    if (rule === undefined) {
      leftOut.push({ feature_id: feature.featureId, why: whyLeftOut(view, feature, piece, next, trust) });
      continue;
    }
    if (piece >= next.piece && next.wait) wait = true;
    features.push({
      feature_id: feature.featureId,
      characteristic: feature.characteristic,
      places: open ?? (feature.places && [...feature.places]),
      gauge_id: feature.gaugeId,
      sure_piece: surePieceRules.has(rule),
      rule,
      why: sayWhy(rule, next, piece, trust, view.quantity),
    });
  }
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
  const why = sayRule(rule, trust, quantity);
  const besides =
    (rule === "critical" || rule === "key") && piece >= next.piece && surePieceRules.has(next.rule);
  return besides ? `${why}; ${sayRule(next.rule, trust, quantity)}` : why;
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
  return `${sayRule(next.rule, trust, view.quantity)}; next on piece ${next.piece}`;
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
  return view.features.filter((feature) => {
    const block = view.blocks[feature.block]!;
    const { cache } = block;
    if (cache.piece > piece) return false;
    if (cache.piece < piece) {
      return (
        checkFeature(feature, piece, nextCheckOf(block), cache.after.goodInARow, {
          quantity: view.quantity,
        }) !== undefined
      );
    }
    if (cache.readings.some((reading) => reading.feature === feature.index)) return false;
    const before = nextCheck(trustOf(block, cache.before, cache.countedBefore));
    const rule = checkFeature(feature, piece, before, cache.before.goodInARow, { quantity: view.quantity });
    return rule !== undefined && !(feature.earlierOfPattern && hasTrust(cache.before.goodInARow));
  });
}
