import { hasPiece, withoutRanges } from "../../core/containment/piece-ranges.js";
import { checkFeature } from "../../core/sampling/plan-checks.js";
import type { BatchView, FeatureView } from "../../decision/batch-view.js";
import { type Containment, type FeatureHold, standingOnPiece } from "../../decision/containment.js";
import { sayHold } from "../../decision/hold-advice.js";
import type { PlanAt } from "../../decision/plan-at.js";
import { sayRule } from "../../decision/words.js";
import type { listPieceReadings } from "./queries.js";
import type { FeatureOnPiece } from "./schemas.js";

type Row = Awaited<ReturnType<typeof listPieceReadings>>[number];

export interface OnPiece {
  view: BatchView;
  piece: number;
  rows: readonly Row[];
  containment: Containment;
  neighbours: { before: number | null; after: number | null };
  plan: PlanAt | undefined;
}

type Proved = Pick<FeatureOnPiece, "proof" | "disposition" | "rule" | "due" | "why">;

/** How one feature of a piece is proved, or why it is not. */
export function proveFeature(feature: FeatureView, on: OnPiece): Proved {
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
      ...row,
      earliest: piece,
      taken_at: row.measured_at ?? row.received_at,
      by_reference: row.gauge_reference,
    })),
    piece,
    on.containment,
  );
  const hold = on.containment.holds.find(
    ({ featureId, place, hold }) =>
      featureId === feature.featureId && place === feature.place && hasPiece(hold.open, piece),
  );
  if (standing === "bad") {
    const failing = valid.filter((row) => row.fails).at(-1)!;
    const lost =
      failing.disposition === "rework" || failing.disposition === "scrap" ? failing.disposition : "remeasure";
    const why = `Reading ${on.view.batchId}-${failing.reading_no} failed it, and no later cut is proved good.`;
    return { proof: "measured", disposition: lost, ...nothing, why };
  }
  if (standing === "good") return { proof: "measured", ...nothing, ...proofOf(valid) };
  if (hold) {
    return { proof: "in_doubt", disposition: "remeasure", ...nothing, why: sayHold(hold.hold) };
  }
  const undecided = valid.filter(({ cut }) => cut === valid.at(-1)!.cut);
  if (undecided.some(({ disposition }) => disposition === "remeasure")) {
    const why = "Its readings leave it open: measure it again.";
    return { proof: "measured", disposition: "remeasure", ...nothing, why };
  }
  return coverage(feature, on);
}

/** A surprising reading that nothing has confirmed is asked for again, whatever it proves. */
function proofOf(rows: readonly Row[]): { disposition: "accept" | "remeasure"; why: string } {
  const proving = rows.filter((row) => row.proves && row.cut === rows.at(-1)!.cut);
  const surprising = proving.every(
    ({ flags }) => flags.includes("implausible") || flags.includes("readings_disagree"),
  );
  return surprising
    ? { disposition: "remeasure", why: "Measured inside the limits, but surprisingly: measure it again." }
    : { disposition: "accept", why: "Measured good." };
}

/** Nothing of its own proves it: what the check plan asked for, and the good pieces around it. */
function coverage(feature: FeatureView, { view, piece, rows, neighbours, plan }: OnPiece): Proved {
  const { before, after } = neighbours;
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
