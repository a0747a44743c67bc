/** Why a feature is measured on a piece. */
export type CheckRule =
  | "start"
  | "fresh_edge"
  | "after_change"
  | "interruption"
  | "odd_piece"
  | "cause_open"
  | "confirm"
  | "earned"
  | "largest_interval"
  | "small_lot"
  | "first_piece"
  | "last_piece"
  | "critical"
  | "key";

/** What the check plan knows of a block: its trust, and what happened since its last measured piece. */
export interface TrustState {
  /** Last piece measured; 0: none yet. */
  measuredPiece: number;
  /** Last piece known to be cut when the latest reading came: the plan counts from here. */
  countedFrom: number;
  goodInARow: number;
  /** Changes, fresh edges and interruptions whose first piece has not been measured. */
  pending: readonly {
    piece: number;
    rule: "fresh_edge" | "after_change" | "interruption";
    unproven: boolean;
  }[];
  suspect: boolean;
  causeOpen: boolean;
  questionOpen: boolean;
}

export interface NextCheck {
  piece: number;
  /** Pieces from one check to the next as things stand. */
  every: number;
  rule: CheckRule;
  /** Nothing more should be cut until this piece's readings are in. */
  wait: boolean;
}

/** Largest interval between two checks of a block. */
export const largestInterval = 10;
const trustedFrom = 2;

/**
 * Interval that good checks have earned: 1 until two in a row were good, then 2, and 2 more for every further one; never
 * above the largest interval.
 */
export function earnedInterval(goodInARow: number): number {
  return goodInARow < trustedFrom ? 1 : Math.min(largestInterval, 2 * (goodInARow - trustedFrom + 1));
}

export function hasTrust(goodInARow: number): boolean {
  return goodInARow >= trustedFrom;
}

/** The next piece on which a block has to be measured, if nothing else happens. */
export function nextCheck(trust: TrustState): NextCheck {
  const after = trust.countedFrom + 1;
  if (trust.causeOpen) return { piece: after, every: 1, rule: "cause_open", wait: true };
  if (trust.suspect) return { piece: after, every: 1, rule: "odd_piece", wait: true };
  if (trust.questionOpen) return { piece: after, every: 1, rule: "confirm", wait: true };
  const every = earnedInterval(trust.goodInARow);
  const first = trust.measuredPiece === 0;
  const regular: NextCheck = {
    piece: first ? after : trust.countedFrom + every,
    every,
    rule: every === 1 ? "start" : every === largestInterval ? "largest_interval" : "earned",
    wait: first,
  };
  let soonest = regular;
  for (const item of trust.pending) {
    if (isUnderWay(trust, item)) continue;
    const { piece, rule, unproven } = item;
    const due = Math.max(piece, after);
    if (due > soonest.piece || (due === soonest.piece && soonest.rule === "fresh_edge")) continue;
    const together = due === soonest.piece && soonest.wait;
    soonest = { piece: due, every, rule, wait: together || rule === "fresh_edge" || unproven };
  }
  return soonest;
}

/**
 * True where the first piece after a change or an interruption had been cut when the latest reading came, and that was of
 * a piece before it: readings come late, and the one of that piece is on its way. A fresh edge, and a change of a register
 * that never came out as predicted, are waited for instead.
 */
function isUnderWay(trust: TrustState, { piece, rule, unproven }: TrustState["pending"][number]): boolean {
  if (rule === "fresh_edge" || unproven) return false;
  return piece > trust.measuredPiece && piece <= trust.countedFrom;
}

export interface PlannedFeature {
  importance: "ordinary" | "key" | "critical";
  /** A tool cuts it or a register moves it. */
  movable: boolean;
  /** True for a member of a pattern after which the same tool makes another. */
  earlierOfPattern: boolean;
}

/** Whether one feature is measured on a piece, and by which rule. */
export function checkFeature(
  feature: PlannedFeature,
  piece: number,
  next: NextCheck,
  goodInARow: number,
  lot: { quantity: number | undefined },
): CheckRule | undefined {
  const { quantity } = lot;
  if (feature.importance !== "ordinary") return feature.importance;
  if (piece === 1) return "first_piece";
  if (piece === quantity) return "last_piece";
  if (quantity !== undefined && quantity < smallLot && feature.movable) return "small_lot";
  if (piece < next.piece) return undefined;
  if (feature.earlierOfPattern && hasTrust(goodInARow) && next.rule !== "fresh_edge") return undefined;
  return next.rule;
}

/** Below this many pieces sampling saves nothing (common practice, no source). */
export const smallLot = 10;
