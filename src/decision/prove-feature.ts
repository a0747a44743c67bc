import { hasPiece, withoutRanges } from "../core/containment/piece-ranges.js";
import { checkFeature } from "../core/sampling/plan-checks.js";
import type { BatchView } from "./batch-view.js";
import { type Containment, type FeatureHold, standingOnPiece } from "./containment.js";
import type { FeatureView } from "./feature-view.js";
import { sayHold } from "./hold-advice.js";
import type { StoredReading } from "./piece-queries.js";
import type { PlanAt } from "./plan-at.js";
import { sayRule } from "./words.js";

export type Proof = "measured" | "covered" | "not_closed" | "missed" | "in_doubt" | "rework_due";

/** One feature on one piece. */
export interface OnPiece {
  view: BatchView;
  piece: number;
  /** Its readings by cut, in the order they were taken in; voided ones may be among them. */
  rows: readonly StoredReading[];
  containment: Containment;
}

/** What may prove a feature on a piece that nothing of its own proves. */
export interface Around {
  /** The good pieces nearest before and after it; null: none. */
  before: number | null;
  after: number | null;
  /** The check plan as it was after the last piece measured before it; undefined: none was. */
  plan: PlanAt | undefined;
}

export interface Proved {
  proof: Proof;
  /** What it makes of the piece before anything was decided about it. */
  disposition: "accept" | "open" | "remeasure" | "rework" | "scrap";
  /** Rule of the check plan that was in force; null: measured, or no good piece before. */
  rule: string | null;
  /** Piece on which the plan then in force wanted the next check. */
  due: number | null;
  why: string;
}

/** How readings, holds and decisions of its own prove a feature of a piece, or why not; undefined: they say nothing. */
export function proveByReadings(feature: FeatureView, on: OnPiece): Proved | undefined {
  const { piece, rows } = on;
  const valid = rows.filter((row) => row.voided_at === null);
  const nothing = { rule: null, due: null };
  const waiting = on.containment.reworks.find(({ waitingFor }) =>
    waitingFor.some((item) => item.featureId === feature.featureId && hasPiece(item.pieces, piece)),
  );
  if (waiting) {
    const why = `Given to rework (decision ${waiting.decision.decision_id}): to be measured good again before it counts.`;
    return { proof: "rework_due", disposition: "rework", ...nothing, why };
  }
  const standing = standingOnPiece(
    valid.map((row) => ({
      reading_no: row.reading_no,
      feature_id: row.feature_id,
      place: row.place,
      seat: row.seat,
      piece,
      cut: row.cut,
      fails: row.fails,
      proves: row.proves,
      earliest: piece,
      taken_at: row.measured_at ?? row.received_at,
      by_reference: row.gauge_reference,
      vouches: false, // of its neighbours only
    })),
    piece,
    on.containment,
  );
  if (standing === "bad") {
    const failing = valid.filter((row) => row.fails).at(-1)!;
    const lost =
      failing.disposition === "rework" || failing.disposition === "scrap" ? failing.disposition : "remeasure";
    const why = `Reading ${on.view.batchId}-${failing.reading_no} failed it, and no later cut is proved good.`;
    return { proof: "measured", disposition: lost, ...nothing, why };
  }
  if (standing === "good") return { proof: "measured", ...nothing, ...proofOf(valid) };
  const hold = on.containment.holds.find(
    ({ featureId, place, hold }) =>
      featureId === feature.featureId && place === feature.place && hasPiece(hold.open, piece),
  );
  if (hold) {
    return { proof: "in_doubt", disposition: "remeasure", ...nothing, why: sayHold(hold.hold) };
  }
  const undecided = valid.filter(({ cut }) => cut === valid.at(-1)!.cut);
  if (undecided.some(({ disposition }) => disposition === "remeasure")) {
    const why = "Its readings leave it open: measure it again.";
    return { proof: "measured", disposition: "remeasure", ...nothing, why };
  }
  return undefined;
}

/** A surprising reading that nothing has confirmed is asked for again, whatever it proves. */
function proofOf(rows: readonly StoredReading[]): { disposition: "accept" | "remeasure"; why: string } {
  const proving = rows.filter((row) => row.proves && row.cut === rows.at(-1)!.cut);
  const surprising = proving.every(
    ({ flags }) => flags.includes("implausible") || flags.includes("readings_disagree"),
  );
  return surprising
    ? { disposition: "remeasure", why: "Measured inside the limits, but surprisingly: measure it again." }
    : { disposition: "accept", why: "Measured good." };
}

/** Where nothing of its own proves it: what the check plan asked for, and the good pieces around it. */
export function proveByNeighbours(
  feature: FeatureView,
  { view, piece, rows }: OnPiece,
  { before, after, plan }: Around,
): Proved {
  const closed = after === null ? "" : ` and on piece ${after}`;
  if (before === null || !plan) {
    const why = `No piece before it was measured good${after === null ? "" : `, piece ${after} was`}.`;
    return {
      proof: after === null ? "not_closed" : "missed",
      disposition: "open",
      rule: null,
      due: null,
      why,
    };
  }
  const { next, goodInARow } = plan;
  const due = feature.importance === "ordinary" ? next.piece : plan.after + 1;
  const missed = checkFeature(feature, piece, next, goodInARow, { quantity: view.quantity });
  const said = sayRule({ ...next, rule: missed ?? next.rule }, goodInARow, view.quantity);
  if (missed !== undefined) {
    const steered = rows.some((row) => row.voided_at === null);
    const why = `It was due on this piece (${said}) and was ${steered ? "measured by a gauge that proves nothing only" : "not measured"}; good on piece ${before}${closed}.`;
    const closes = after !== null && feature.importance === "ordinary";
    return { proof: "missed", disposition: closes ? "accept" : "open", rule: missed, due, why };
  }
  const plain = `Good on piece ${before}${closed}; after piece ${plan.after} the next check was due on piece ${due} (${said})`;
  return after === null
    ? { proof: "not_closed", disposition: "open", rule: next.rule, due, why: `${plain}: not closed yet.` }
    : { proof: "covered", disposition: "accept", rule: next.rule, due, why: `${plain}.` };
}

/** Whether the piece is on hold for a feature, and nothing has settled it. */
export function isHeld({ hold, settled }: FeatureHold, piece: number): boolean {
  return hasPiece(withoutRanges(hold.open, settled), piece);
}
