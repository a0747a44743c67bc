import type { Block } from "./block.js";

export interface ChangeLimits {
  largestChangePm: number;
  /** For moves that take more metal off; undefined: the same as any other. */
  largestTowardsWorkPm: number | undefined;
}

export type ClampReason = "largest_change" | "largest_towards_work" | "largest_total";

/** Rounds a wanted move to the control's least increment and keeps it within what machine and register allow. */
export function limitChange(
  register: { leastIncrementPm: number; largestTotalPm: number | undefined },
  wantedPm: number,
  known: { valuePm: number; zeroPm: number },
  limits: ChangeLimits,
  towardsWork: (changePm: number) => boolean,
): { changePm: number; clamped: ClampReason | undefined } {
  const { leastIncrementPm, largestTotalPm } = register;
  let clamped: ClampReason | undefined;
  let changePm = roundChange(wantedPm, leastIncrementPm);
  const clampTo = (mostPm: number, reason: ClampReason) => {
    const most = Math.floor(mostPm / leastIncrementPm) * leastIncrementPm;
    if (Math.abs(changePm) <= most) return;
    changePm = Math.sign(changePm) * most;
    clamped = reason;
  };
  clampTo(limits.largestChangePm, "largest_change");
  const { largestTowardsWorkPm } = limits;
  if (largestTowardsWorkPm !== undefined && towardsWork(changePm)) {
    clampTo(largestTowardsWorkPm, "largest_towards_work");
  }
  if (largestTotalPm !== undefined) {
    const total = known.valuePm - known.zeroPm;
    const room = changePm > 0 ? largestTotalPm - total : largestTotalPm + total;
    if (changePm !== 0) clampTo(Math.max(0, room), "largest_total");
  }
  return { changePm: changePm + 0, clamped };
}

/** True where the move takes more metal off a feature than before. */
export function movesTowardsWork(block: Block, r: number, changePm: number): boolean {
  return block.features.some(({ effects, metal }) => effects[r]! * changePm * metal < 0);
}

/** To the control's least increment, halves toward zero. */
export function roundChange(wantedPm: number, leastIncrementPm: number): number {
  const steps = Math.ceil(Math.abs(wantedPm) / leastIncrementPm - 0.5 - 1e-9);
  return Math.sign(wantedPm) * steps * leastIncrementPm + 0;
}
