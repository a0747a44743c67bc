import type { Inspection } from "./single-plans.js";

/**
 * Result of one lot on original inspection: `rejected`; `accepted`; `accepted_tighter`: it would also have been accepted at
 * the next tighter AQL; `between`: more than Ac, fewer than Re nonconforming (reduced inspection of MIL-STD-105E).
 */
export type LotResult = "accepted" | "accepted_tighter" | "between" | "rejected";

export interface SwitchingState {
  inspection: Inspection | "discontinued";
  /** Results since this inspection was entered that still count: the last lots on normal, those in a row on tightened. */
  recent: readonly ("accepted" | "rejected")[];
  /** Rejected on tightened inspection since it was entered. */
  rejectedTightened: number;
  /** Switching score on normal inspection. */
  score: number;
}

export interface SwitchingConditions {
  /** Acceptance number of the plan in force: it decides what a lot scores. */
  ac: number;
  /** Production is steady and the responsible authority agrees to reduced inspection. */
  reducedAllowed: boolean;
}

export const switchingStart: SwitchingState = start("normal");

/** Score at which reduced inspection may begin. */
const scoreForReduced = 30;

function start(inspection: SwitchingState["inspection"]): SwitchingState {
  return { inspection, recent: [], rejectedTightened: 0, score: 0 };
}

/**
 * State of inspection after one more lot:
 *   normal to tightened: 2 lots of at most 5 in a row rejected
 *   tightened to normal: 5 lots in a row accepted; discontinued once 5 have been rejected on tightened
 *   normal to reduced: switching score of 30, production steady, agreed; a lot scores 2 where Ac is 0 or 1 and it is
 *     accepted, 3 where Ac is 2 or more and it would be accepted at the next tighter AQL too, else the score is back at 0
 *   reduced to normal: a lot rejected or between Ac and Re, or the conditions gone
 * Counts begin afresh with each change, which holds from the next lot on; lots submitted again don't count.
 * @see MIL-STD-105E (1989), 4.7; ISO 2859-1:1999, 9.3 (score: 9.3.3.2)
 */
export function afterLot(
  state: SwitchingState,
  result: LotResult,
  { ac, reducedAllowed }: SwitchingConditions,
): SwitchingState {
  const isRejected = result === "rejected";
  const outcome = isRejected ? "rejected" : "accepted";
  switch (state.inspection) {
    case "discontinued":
      return state;
    case "reduced":
      return isRejected || result === "between" || !reducedAllowed ? start("normal") : state;
    case "tightened": {
      const rejectedTightened = state.rejectedTightened + (isRejected ? 1 : 0);
      if (rejectedTightened === 5) return start("discontinued");
      const recent = isRejected ? [] : ([...state.recent, outcome] as const);
      return recent.length === 5 ? start("normal") : { ...state, recent, rejectedTightened };
    }
    case "normal": {
      const recent = [...state.recent, outcome].slice(-5) as SwitchingState["recent"];
      if (recent.filter((one) => one === "rejected").length >= 2) return start("tightened");
      const points = ac <= 1 ? (isRejected ? 0 : 2) : result === "accepted_tighter" ? 3 : 0;
      const score = points === 0 ? 0 : state.score + points;
      return score >= scoreForReduced && reducedAllowed ? start("reduced") : { ...state, recent, score };
    }
  }
}
