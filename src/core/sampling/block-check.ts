import type { Block } from "../wear-offset/block.js";
import { isReferenceDue } from "../wear-offset/follow-block.js";
import {
  copyProgress,
  type Journal,
  offsetsOf,
  type Progress,
  takeJournal,
} from "../wear-offset/progress.js";
import {
  blockProbabilityOut,
  jumpInterval,
  riskInterval,
  type SamplingLimits,
  usualLimits,
} from "./allowed-interval.js";
import { type NextCheck, nextCheck, type TrustState } from "./plan-checks.js";

/** What is known of a block when its next check is asked for. */
export interface BlockCheckInput {
  block: Block;
  journal: Journal;
  progress: Progress;
  /** Last piece known to be cut when the latest reading came: the plan counts from here. */
  countedFrom: number;
  /** A piece left a question open. */
  questionOpen: boolean;
  /** Numbers of the features that are not measured on every piece anyway; absent: all of them. */
  ordinary?: readonly number[];
  /** Seat that a piece will be cut in; absent: seats are not told apart. */
  seatOf?: ((piece: number) => number | undefined) | undefined;
  limits?: SamplingLimits;
}

/** The next piece on which a block has to be measured. */
export function nextBlockCheck(input: BlockCheckInput): NextCheck {
  return nextCheck(trustOf(input));
}

/** What the check plan goes by for one block, after `progress`. */
function trustOf(input: BlockCheckInput): TrustState {
  const { block, journal, progress, countedFrom, seatOf, limits = usualLimits } = input;
  const putRight = journal.events.slice(progress.eventsTaken).some((event) => event.kind === "put_right");
  const trust: TrustState = {
    measuredPiece: progress.measuredPieces === 0 ? 0 : progress.estimate.piece,
    countedFrom,
    goodInARow: progress.goodInARow,
    pending: pendingOf(input),
    suspect: progress.suspect !== null && !putRight,
    causeOpen: progress.cause !== null && !putRight,
    questionOpen: input.questionOpen,
    risk: limits.risk,
    riskAllows: (most) => {
      const ahead = copyProgress(progress);
      takeJournal(block, journal, ahead, countedFrom + 1);
      const ordinary = input.ordinary ?? block.features.map((_, f) => f);
      const chance = blockProbabilityOut(
        block,
        ahead.estimate,
        countedFrom,
        offsetsOf(ahead),
        ordinary,
        (piece) => (block.seats ? seatOf?.(piece) : undefined),
      );
      // A seat that has never been measured is measured by its own rule.
      const isNew = (piece: number) => trust.seats?.measured[seatOf?.(piece) ?? -1] === 0;
      return riskInterval((j) => (isNew(countedFrom + j) ? 0 : chance(j)), limits.risk, most);
    },
    jumpsAllow: jumpInterval(countedFrom, progress.jumps, limits.badPieceInChecks),
    largest: limits.largest,
  };
  if (block.seats && seatOf) trust.seats = { seatOf, measured: progress.seatPieces! };
  return trust;
}

function pendingOf({ block, journal, progress, countedFrom, seatOf }: BlockCheckInput) {
  const pending: TrustState["pending"][number][] = [];
  for (const event of journal.events.slice(progress.eventsTaken)) {
    if (event.kind === "jump") continue;
    const rule =
      event.kind === "fresh_edge" ? "fresh_edge" : event.kind === "touched" ? "after_change" : "interruption";
    pending.push({ piece: event.piece, rule, unproven: false });
  }
  const ahead = journal.changes.slice(progress.changesTaken);
  progress.registers.forEach(({ valuePm, proven, openChangeMm }, r) => {
    if (openChangeMm !== null) pending.push({ piece: 1, rule: "after_change", unproven: !proven });
    const mine = ahead.filter((change) => change.register === r);
    if (mine.length === 0 || mine.at(-1)!.valuePm === valuePm) return;
    pending.push({ piece: mine[0]!.piece, rule: "after_change", unproven: !proven });
  });
  block.workOffsets?.forEach(({ seat }, i) => {
    const { readAtPm, valuePm } = progress.workOffsets![i]!;
    const change = ahead.findLast((entry) => entry.register === block.registers.length + i);
    const now = change?.valuePm ?? valuePm;
    if (readAtPm === null || readAtPm === now) return;
    const from = Math.max(countedFrom + 1, change?.piece ?? 1);
    const piece = seat === undefined ? from : nextOfSeat(seat, from);
    if (piece !== undefined) pending.push({ piece, rule: "after_change", unproven: true });
  });
  for (const { seat } of progress.seatSuspects ?? []) {
    const piece = nextOfSeat(seat, countedFrom + 1);
    if (piece !== undefined) pending.push({ piece, rule: "odd_piece", unproven: false });
  }
  return pending;

  /** The first piece from `from` on that is cut in a seat; undefined: nobody knows. */
  function nextOfSeat(seat: number, from: number): number | undefined {
    const count = block.seats?.length ?? 0;
    for (let piece = from; piece < from + 2 * count; piece++) if (seatOf?.(piece) === seat) return piece;
    return undefined;
  }
}

/** Features of a check on `piece` that their reference gauge should read too. */
export function referencesDue(block: Block, progress: Progress, piece: number): number[] {
  return block.features.flatMap(({ hasReference }, f) =>
    hasReference && isReferenceDue(progress.references![f]!, piece) ? [f] : [],
  );
}
