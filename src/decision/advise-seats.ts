import type { WorkOffsetAdvice } from "../core/wear-offset/seat-moves.js";
import type { RegisterView } from "./batch-view.js";
import type { FeatureView } from "./feature-view.js";
import { inBrackets, nameFeatures, nameRegister, sayClamp, sayMm, sayMove, sayPm } from "./words.js";

interface Moved {
  register: RegisterView;
  /** Undefined: it acts on every piece. */
  seat: string | undefined;
  features: FeatureView[];
  leastIncrementPm: number;
  unit: "mm" | "inch";
}

/** Why a work offset is moved, and the way to its new value line by line. */
export function sayWorkOffset(
  advice: WorkOffsetAdvice,
  { register, seat, features, leastIncrementPm, unit }: Moved,
): { why: string; arithmetic: string[] } {
  const percent = (share: number) => `${Math.round(share * 100)} %`;
  const name = nameRegister(register, undefined);
  const where = seat === undefined ? nameFeatures(features) : `${nameFeatures(features)} of seat ${seat}`;
  const [before, after] = [percent(advice.worstShareBefore), percent(advice.worstShareAfter)];
  const reason = advice.toMedian
    ? `${where} stands ${before} of the room from target to limit off the middle of the measured seats`
    : `${where} runs at ${before} of the way from target to limit, whatever the tool's registers do for the others`;
  const set = sayPm(advice.valueNowPm + advice.changePm, unit);
  const change = sayPm(advice.changePm, unit, true);
  const cure = seat === undefined ? "Correct the work offset" : "This seat: correct its work offset";
  const clamped = advice.clamped ? ` ${sayClamp(advice.clamped)}` : "";
  const why = `${reason}. ${cure}: change ${name} by ${change}, it should then read ${set}.${clamped}`;
  const aim = advice.toMedian
    ? "The change that brings the seat to the middle of the measured seats"
    : "The change whose worst feature is nearest its target";
  const arithmetic = [
    `${aim}: ${sayMove(advice.wantedMm, unit)}; ${before} off before, ${after} after.`,
    `In steps of ${sayPm(leastIncrementPm, unit)}: ${change}${sayMoved(advice, unit)}.`,
    `${sayPm(advice.valueNowPm, unit)} + ${inBrackets(change)} = ${set}: ${register.label} should then read this.`,
  ];
  return { why, arithmetic };
}

function sayMoved({ clamped, wantedMm, changePm }: WorkOffsetAdvice, unit: "mm" | "inch"): string {
  return clamped === undefined ? "" : `, ${sayMm(Math.abs(wantedMm - changePm / 1e9), unit)} short of it`;
}
