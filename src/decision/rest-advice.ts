import { fromNumeric } from "../core/quantity.js";
import { shareOf } from "../core/wear-offset/block.js";
import type { AnsweredAdvice, CorrectionFeature } from "./answered-advice.js";
import type { BatchView, BlockView } from "./batch-view.js";
import { sayPm } from "./words.js";

/** What must have been added, as a share of the room, before advice that a person has answered is given again. */
const clearlyMore = 0.25;

/** Advice as far as it can rest. */
interface Restable extends Pick<AnsweredAdvice, "subject" | "value_now_mm" | "change_mm" | "features"> {
  kind: AnsweredAdvice["kind"] | "leave_alone";
  tool_id: string | null;
  register_id: string | null;
  cause: unknown;
}

/**
 * Advice that a person has declined, or looked into and found nothing, rests until the readings say clearly more than they
 * did then: a feature a quarter of its room further off its target, a change the other way, another value in the register
 * or a fresh edge. Until then the register is left alone, and the answer says why.
 */
export function restAnswered<A extends Restable>(view: BatchView, blockView: BlockView, advice: A): A {
  if (advice.kind !== "change" && advice.kind !== "change_tool" && advice.kind !== "find_cause")
    return advice;
  const answered = view.answered.get(advice.subject);
  if (!answered || advice.register_id === null || advice.cause !== null) return advice;
  if (answered.kind !== advice.kind || !saysTheSame(view, blockView, advice, answered)) return advice;
  const change = fromNumeric(answered.change_mm);
  const what =
    advice.kind === "change"
      ? `A change of ${sayPm(change, view.machine.unit, true)} was declined`
      : advice.kind === "change_tool"
        ? "To change the edge was declined"
        : "Why its features differ was looked into, and nothing found,";
  const reason = answered.reason === null ? "" : ` ("${answered.reason}")`;
  return {
    ...advice,
    kind: "leave_alone",
    subject: `${blockView.block.key}/register/${advice.register_id}`,
    change_mm: "0",
    value_after_mm: advice.value_now_mm,
    features: advice.features.map((feature) => ({ ...feature, expected_after: feature.expected_before })),
    causes: null,
    why: `${what} at piece ${answered.piece}${reason}. It rests until the readings say clearly more: a quarter of the tolerance further off than they said then.`,
    arithmetic: [],
    cautions: [],
    line: null,
  };
}

function saysTheSame(
  view: BatchView,
  { block, journal }: BlockView,
  advice: Restable,
  answered: AnsweredAdvice,
): boolean {
  if (advice.value_now_mm !== null && answered.value_now_mm !== null) {
    if (fromNumeric(advice.value_now_mm) !== fromNumeric(answered.value_now_mm)) return false;
  }
  if (fromNumeric(advice.change_mm) * fromNumeric(answered.change_mm) < 0) return false;
  const tool = block.tools.findIndex(({ toolId }) => toolId === advice.tool_id);
  const fresh = journal.events.some(
    (event) => event.kind === "fresh_edge" && event.tool === tool && event.piece > answered.piece,
  );
  return !fresh && !advice.features.some((feature) => isFurtherOff(view, feature, answered.features));
}

function isFurtherOff(
  view: BatchView,
  feature: CorrectionFeature,
  then: readonly CorrectionFeature[],
): boolean {
  const place = feature.place ?? null;
  const before = then.find((f) => f.feature_id === feature.feature_id && (f.place ?? null) === place);
  const known = view.features.find((f) => f.featureId === feature.feature_id && f.place === place);
  if (!before || !known) return true;
  const { roomAboveMm, roomBelowMm } = view.blocks[known.block]!.block.features[known.index]!;
  const share = (size: number) => {
    const mm = feature.unit === "inch" ? size * 25.4 : size;
    return shareOf(mm - known.targetPm / 1e9, { roomAboveMm, roomBelowMm });
  };
  const [now, was] = [share(feature.expected_before), share(before.expected_before)];
  return Math.abs(now) - (now * was > 0 ? Math.abs(was) : 0) >= clearlyMore;
}
