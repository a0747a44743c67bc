import { usualLimits } from "./allowed-interval.js";

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
  | "drift"
  | "jumps"
  | "largest_interval"
  | "seat"
  | "reference"
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
    rule: "fresh_edge" | "after_change" | "interruption" | "odd_piece" | "seat";
    unproven: boolean;
  }[];
  suspect: boolean;
  causeOpen: boolean;
  questionOpen: boolean;
  /** Largest chance that a piece cut unmeasured is outside a limit. */
  risk: number;
  /** Interval that this risk allows up to the one given; only asked for where nothing shorter is due. */
  riskAllows: (most: number) => number;
  /** Interval that jumps allow. */
  jumpsAllow: number;
  largest: number;
  seats?: SeatTrust | undefined;
}

/** Where pieces are clamped, and when each seat was measured last (0: never). */
export interface SeatTrust {
  seatOf: (piece: number) => number | undefined;
  measured: readonly number[];
}

/** The intervals that each reason allows; the smallest one counts. `risk` is only looked for up to the others. */
export interface AllowedIntervals {
  earned: number;
  risk: number;
  jumps: number;
  largest: number;
  /** The chance of a piece outside a limit that `risk` keeps to. */
  chance: number;
}

export interface NextCheck {
  piece: number;
  /** Pieces from one check to the next as things stand. */
  every: number;
  rule: CheckRule;
  /** Nothing more should be cut until this piece's readings are in. */
  wait: boolean;
  /** What limits the interval; absent where a check is due whatever they allow. */
  allowed?: AllowedIntervals;
  /** Pieces after it that have a reason of their own. */
  later?: { piece: number; rule: CheckRule }[];
}

/** Largest interval between two checks of a block, unless a shop sets another. */
export const largestInterval = usualLimits.largest;
const trustedFrom = 2;

/**
 * Interval that good checks have earned: 1 until two in a row were good, then 2, and 2 more for every further one; never
 * above the largest interval.
 */
export function earnedInterval(goodInARow: number, largest = largestInterval): number {
  return goodInARow < trustedFrom ? 1 : Math.min(largest, 2 * (goodInARow - trustedFrom + 1));
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
  const { every, rule, allowed } = shortestInterval(trust);
  const first = trust.measuredPiece === 0;
  let soonest: NextCheck = {
    piece: first ? after : regularPiece(trust, every),
    every,
    rule,
    wait: first,
    allowed,
  };
  const unseen = unmeasuredSeat(trust, soonest.piece);
  if (unseen !== undefined && !first) soonest = { piece: unseen, every, rule: "seat", wait: false, allowed };
  const due = trust.pending
    .filter((item) => !isUnderWay(trust, item))
    .map((item) => ({ ...item, due: Math.max(item.piece, after) }));
  for (const { due: piece, rule, unproven } of due) {
    if (piece > soonest.piece || (piece === soonest.piece && soonest.rule === "fresh_edge")) continue;
    const together = piece === soonest.piece && soonest.wait;
    soonest = { piece, every, rule, wait: together || rule === "fresh_edge" || unproven };
  }
  const later = due.flatMap(({ due: piece, rule }) => (piece > soonest.piece ? { piece, rule } : []));
  return later.length > 0 ? { ...soonest, later } : soonest;
}

/** The interval as things stand and what limits it. */
function shortestInterval({ goodInARow, jumpsAllow, largest, risk: chance, riskAllows }: TrustState): {
  every: number;
  rule: CheckRule;
  allowed: AllowedIntervals;
} {
  const earned = earnedInterval(goodInARow, largest);
  const most = Math.min(earned, jumpsAllow, largest);
  const risk = most === 1 ? 1 : riskAllows(most);
  const allowed = { earned, risk, jumps: jumpsAllow, largest, chance };
  if (most === 1) return { every: 1, rule: "start", allowed };
  if (risk < most) return { every: risk, rule: "drift", allowed };
  if (most === largest) return { every: most, rule: "largest_interval", allowed };
  return { every: most, rule: most === earned ? "earned" : "jumps", allowed };
}

/** The piece of the interval's second half whose seat was measured longest ago; the last one where seats are not known. */
function regularPiece({ countedFrom, seats }: TrustState, every: number): number {
  const last = countedFrom + every;
  if (!seats) return last;
  const first = countedFrom + Math.max(Math.ceil(every / 2), every - seats.measured.length + 1);
  let chosen = last;
  let oldest = Number.POSITIVE_INFINITY;
  for (let piece = last; piece >= first; piece--) {
    const seat = seats.seatOf(piece);
    const measured = seat === undefined ? undefined : seats.measured[seat];
    if (measured !== undefined && measured < oldest) [chosen, oldest] = [piece, measured];
  }
  return chosen;
}

/** The first piece up to `last` whose seat has never been measured. */
function unmeasuredSeat({ countedFrom, seats }: TrustState, last: number): number | undefined {
  if (!seats) return undefined;
  for (let piece = countedFrom + 1; piece <= Math.min(last, countedFrom + seats.measured.length); piece++) {
    const seat = seats.seatOf(piece);
    if (seat !== undefined && seats.measured[seat] === 0) return piece;
  }
  return undefined;
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
  return next.later?.find((own) => own.piece === piece)?.rule ?? next.rule;
}

/** Below this many pieces sampling saves nothing (common practice, no source). */
export const smallLot = 10;
