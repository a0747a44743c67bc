import type { FeatureKind } from "../core/feature-kind.js";
import { isThread, sizeWanted } from "../core/tolerance/go-no-go.js";
import type { BatchView } from "./batch-view.js";
import type { FeatureView } from "./feature-view.js";
import type { Measured } from "./measured-value.js";
import { cautions, nameRegister, sayPm, upperFirst } from "./words.js";

/** Where to look when a kind of characteristic fails that no register moves (common practice, no source). */
const causes: Partial<Record<FeatureKind, string>> = {
  position:
    "a hole is not moved by cutting it again. Compare dx and dy with those of the others before the next piece: all off the same way is the work zero, opposite at the ends a part turned in the fixture. Filling or bushing is repair, and needs the customer",
  angle: "no offset sets an angle: look at how the part sits, at the fixture and at the tool",
  form: "no offset cures form: look at clamping, spindle and tool, and measure once more with the piece free",
  roughness: "look at the edge, the feed and the coolant, and at a built-up edge or chatter",
  count: "find out what was left out or made too often",
  visual: "find the cause before the next piece",
};

/** What to do about a feature that failed, where no register is steered by it; undefined for a size. */
export function cureOf(
  view: BatchView,
  feature: FeatureView,
  measured: Measured,
  piece: number,
): string | undefined {
  if (feature.kind !== "go_no_go") return causes[feature.kind];
  const thread = feature.gauged !== null && isThread(feature.gauged);
  const look =
    measured.result === "go_refuses"
      ? "look for burr and chips and gauge again with a light hand: never force a gauge"
      : `it cannot be brought back to size: set the next one right, and look at the ${thread ? "thread tool or tap" : "tool"}`;
  const step = tryStep(view, feature, measured, piece);
  return step === null ? look : `${look}. ${upperFirst(step)}`;
}

/** A step of a register to try where a gauge refuses: it says which way, the step is the shop's own, and no size follows. */
export function tryStep(
  view: BatchView,
  feature: FeatureView,
  { result }: Measured,
  piece: number,
): string | null {
  if (feature.gauged === null || (result !== "go_refuses" && result !== "no_go_enters")) return null;
  const steps = feature.steps.flatMap(({ registerId, stepPm, effect }) => {
    const register = view.registers.get(registerId);
    if (!register) return [];
    const changePm = sizeWanted(result, feature.gauged!) === Math.sign(effect) ? stepPm : -stepPm;
    const now = register.values.at(-1)!.valuePm;
    const { unit } = view.machine;
    const name = nameRegister(register, view.tools.get(register.toolId ?? ""));
    return [
      `${name} by ${sayPm(changePm, unit, true)}, from ${sayPm(now, unit)} to ${sayPm(now + changePm, unit)}`,
    ];
  });
  if (steps.length === 0) return null;
  const when =
    result === "go_refuses"
      ? `cut piece ${piece} again while it is still clamped, and gauge after each step`
      : `from the next piece on, and gauge it`;
  return `A step to try, which no measured size stands behind: ${steps.join("; or ")}; ${when}. ${cautions[0]}`;
}
