/** What is gauged; a bore and an inside thread by a plug, a shaft and an outside thread by a ring or snap gauge. */
export const gaugedFeatures = ["bore", "shaft", "internal_thread", "external_thread"] as const;
export type Gauged = (typeof gaugedFeatures)[number];
export const threadStandards = ["iso_metric", "unified"] as const;
export type ThreadStandard = (typeof threadStandards)[number];
export type GaugeResult = "pass" | "go_refuses" | "no_go_enters";

/**
 * Turns that the NO-GO side may go in, in thousandths. ISO metric: not more than two turns (ISO 1502:1996, 7.3.2.2, as gauge
 * makers' pages quote it). Unified: definite drag on or before the third turn (FED-STD-H28/6, section 6, from a summary).
 */
export const noGoMilliTurns: Record<ThreadStandard, number> = { iso_metric: 2000, unified: 3000 };

/**
 * Verdict by limit gauges. GO checks the maximum material limit and has to go through; NO-GO checks the least material limit
 * and must not enter; on a thread it may by as many turns as the standard on the drawing allows, and the allowed turn itself
 * conforms.
 * @param milliTurns how far NO-GO went in until it stopped or dragged definitely; undefined: not said
 * @see Taylor's principle, ISO/R 1938:1971 (from memory)
 */
export function isGaugedGood(
  result: GaugeResult,
  milliTurns: number | undefined,
  standard: ThreadStandard | undefined,
): boolean {
  if (result === "go_refuses") return false;
  if (standard === undefined || milliTurns === undefined) return result === "pass";
  return milliTurns <= noGoMilliTurns[standard];
}

/**
 * What becomes of what a gauge refuses, inside and outside alike: where GO refuses there is metal left to remove; where NO-GO
 * enters too much is gone (a bore too big, a shaft too small). Common practice, no source.
 */
export function disposeGauged(result: "go_refuses" | "no_go_enters"): "rework" | "scrap" {
  return result === "go_refuses" ? "rework" : "scrap";
}

/** Whether the size has to grow for the gauge to be satisfied: +1 bigger, −1 smaller. */
export function sizeWanted(result: "go_refuses" | "no_go_enters", gauged: Gauged): 1 | -1 {
  const inside = gauged === "bore" || gauged === "internal_thread";
  return (result === "go_refuses") === inside ? 1 : -1;
}

export function isThread(gauged: Gauged): boolean {
  return gauged === "internal_thread" || gauged === "external_thread";
}
