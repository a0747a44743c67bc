import type { BatchView } from "./batch-view.js";
import type { CorrectionRow } from "./correction-row.js";
import type { FeatureView } from "./feature-view.js";
import { type CheckPlan, missingOn, planPiece } from "./plan.js";
import { nameFeatures, upperFirst } from "./words.js";

export interface NextStep {
  action: "run_on" | "measure" | "set_offset" | "stop";
  piece: number;
  /** The piece is to be cut again and measured as this cut. */
  cut?: number;
  why: string;
}

/** A reading of the request just answered that leaves its piece out of limits, or undecided. */
export interface FailedReading {
  featureId: string;
  piece: number;
  cut: number;
  /** False: its decision rule or its gauge leaves it open. */
  outside: boolean;
  /** Metal is left to remove. */
  rework: boolean;
  text: string;
  /** What to do about it, where no register of its own moves it; absent: what is said of any size. */
  cure?: string | undefined;
}

/**
 * The one thing to do next, most pressing first: find a cause or change a tool, confirm a reading, finish what the same
 * register also moves, set an offset, stop for what no register can mend, finish the piece, measure the next one, run on.
 */
export function nextStep(
  view: BatchView,
  open: readonly CorrectionRow[],
  lastPiece: number,
  failed: readonly FailedReading[],
): NextStep {
  if (view.closed) {
    return { action: "run_on", piece: view.lastPieceCut, why: `Batch "${view.name}" is closed.` };
  }
  const next = view.lastPieceCut + 1;
  // The end of an edge's life is said, and stops nobody.
  const ends = open.filter(isEndOfLife);
  const stop =
    open.find((row) => row.kind === "find_cause") ??
    open.find((row) => row.kind === "change_tool" && !isEndOfLife(row));
  const bad = [...failed.map(({ text }) => text), ...ends.map(({ why }) => why)]
    .map((text) => `${text} `)
    .join("");
  if (stop) return { action: "stop", piece: next, why: bad + stop.why };
  const question = open.find((row) => row.kind === "measure_again");
  if (question) return { action: "measure", piece: question.piece, why: bad + question.why };
  const missing = lastPiece > 0 ? missingOn(view, lastPiece) : [];
  const changes = open.filter((row) => row.kind === "change");
  for (const change of changes) {
    const moved = new Set(change.features.map((feature) => feature.feature_id));
    // Only where the piece in hand has been begun: what was cut unmeasured must not keep a change waiting.
    const first = missing.filter(
      (feature) => moved.has(feature.featureId) && view.blocks[feature.block]!.cache.piece === lastPiece,
    );
    if (first.length > 0) {
      const names = nameFeatures(first);
      return {
        action: "measure",
        piece: lastPiece,
        why: `${bad}Measure ${names} on piece ${lastPiece} before anything is changed: the same register moves ${first.length > 1 ? "them" : "it"} too.`,
      };
    }
  }
  if (changes.length > 0) {
    const why = changes.map((change) => change.why).join(" ");
    return { action: "set_offset", piece: next, why: bad + why + cutAgain(changes, failed) };
  }
  const again = uncutAgain(view);
  if (again) return again;
  const beyond = failed.find(({ featureId, outside }) => outside && !hasRegister(view, featureId));
  if (beyond) {
    const feature = view.featureById.get(beyond.featureId)!;
    const cure =
      beyond.cure ??
      (feature.movable
        ? "the tool that makes it cuts its own size and no register moves it: look at runout, alignment, allowance and coolant, then try another tool"
        : "no register is named that moves it: find the cause");
    return { action: "stop", piece: next, why: `${beyond.text} ${upperFirst(cure)}.` };
  }
  if (missing.length > 0) {
    const names = nameFeatures(missing);
    const begun = view.blocks.some(({ cache }) => cache.piece === lastPiece);
    const why = begun
      ? `Measure on piece ${lastPiece} also ${names}.`
      : `Measure ${names} on piece ${lastPiece}: a check is due.`;
    return { action: "measure", piece: lastPiece, why: bad + why };
  }
  return afterPiece(view, bad);
}

function isEndOfLife({ kind, subject }: Pick<CorrectionRow, "kind" | "subject">): boolean {
  return kind === "change_tool" && subject.split("/")[1] === "life";
}

/** Where the change takes metal off a piece that has it left: the piece can be saved while it is clamped. */
function cutAgain(changes: readonly CorrectionRow[], failed: readonly FailedReading[]): string {
  const moved = new Set(changes.flatMap((change) => change.features.map((feature) => feature.feature_id)));
  const saved = failed.find((reading) => reading.rework && moved.has(reading.featureId));
  if (!saved) return "";
  return ` Piece ${saved.piece} has metal left: while it is still clamped it can be cut again with the new value and measured as cut ${saved.cut + 1}.`;
}

/** A change that counts from a further cut of the last piece, which has not been measured yet. */
function uncutAgain(view: BatchView): NextStep | undefined {
  for (const { block, journal, cache } of view.blocks) {
    const change = journal.changes
      .slice(cache.after.changesTaken)
      .find(({ piece, cut }) => cut > 1 && piece === view.lastPieceCut);
    if (!change) continue;
    const moved = view.features.filter(
      (feature) =>
        view.blocks[feature.block]!.block === block &&
        block.features[feature.index]!.effects[change.register] !== 0,
    );
    const names = nameFeatures(moved);
    const { piece, cut } = change;
    return {
      action: "measure",
      piece,
      cut,
      why: `Cut piece ${piece} again with the new value and measure ${names} as cut ${cut}, before the next piece.`,
    };
  }
  return undefined;
}

/** What the check plan says once the piece in hand is done. */
function afterPiece(view: BatchView, said: string): NextStep {
  const next = view.lastPieceCut + 1;
  if (view.quantity !== undefined && next > view.quantity) {
    return { action: "run_on", piece: view.quantity, why: `The last piece, ${view.quantity}, has been cut.` };
  }
  const plan = planPiece(view, next);
  if (plan.features.length > 0) {
    const names = nameFeatures(plannedViews(view, plan));
    const reason = [...new Set(plan.features.map((feature) => feature.why))].join("; ").replace(/[.?]$/, "");
    const wait = plan.wait_for_result ? " Cut nothing more until its readings are in." : "";
    return {
      action: "measure",
      piece: next,
      why: `${said}Measure ${names} on piece ${next}: ${reason}.${wait}`,
    };
  }
  const soonest = plan.next_pieces[0] ?? next;
  const later = planPiece(view, soonest);
  const due = later.features;
  const names = nameFeatures(plannedViews(view, later));
  const reason = [...new Set(due.map((feature) => feature.why))].join("; ");
  return {
    action: "run_on",
    piece: soonest,
    why: `${said}Run on to piece ${soonest}, then measure ${names}: ${reason}.`,
  };
}

function plannedViews(view: BatchView, plan: CheckPlan): FeatureView[] {
  const planned = new Set(plan.features.map(({ feature_id }) => feature_id));
  return view.features.filter(({ featureId }) => planned.has(featureId));
}

function hasRegister(view: BatchView, featureId: string): boolean {
  const feature = view.featureById.get(featureId);
  if (!feature) return true;
  return view.blocks[feature.block]!.block.features[feature.index]!.effects.some((effect) => effect !== 0);
}
