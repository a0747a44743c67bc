import type { ShownUnit } from "../core/feature-kind.js";
import { formatMeasure, type MeasureUnit, mmPerInch, showMm } from "../core/quantity.js";
import { type NextCheck, smallLot } from "../core/sampling/plan-checks.js";
import { type DecisionLimits, type Interval, isWithin } from "../core/tolerance/decide-conformity.js";
import type { SlipKind } from "../core/tolerance/find-slip.js";
import type { ClampReason } from "../core/wear-offset/limit-change.js";
import type { RegisterView, ToolView } from "./batch-view.js";
import type { FeatureView } from "./feature-view.js";

type ShopUnit = "mm" | "inch";

export const cautions = [
  "Check sign, register and decimal point at the control before cycle start: a slip here can crash the machine, scrap the part or hurt someone.",
  "Key it between cycles and keep the first cut after it under watch.",
  "The shop's safety rules, the machine's manual and local law come first; safety-critical parts are released by qualified inspection.",
] as const;
export const towardsWorkCaution =
  "This change moves the cut towards the work: first run with reduced rapid, single block and a hand on feed hold.";

/** How a sentence begins that may begin with a name. */
export function upperFirst(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** A feature, at the place that the view of it is about. */
export function nameFeature(feature: FeatureView): string {
  return feature.place === null ? nameWhole(feature) : `${nameWhole(feature)} at ${feature.place}`;
}

/** A feature with all its places. */
export function nameWhole(feature: Pick<FeatureView, "characteristic" | "name">): string {
  return feature.name
    ? `${feature.characteristic} ${feature.name}`
    : `characteristic ${feature.characteristic}`;
}

/** Features in a list, each once with the places that are meant: "12 Tongue width at top and bottom and 13 Bore". */
export function nameFeatures(features: readonly FeatureView[]): string {
  const byId = new Map<string, FeatureView[]>();
  for (const feature of features)
    byId.set(feature.featureId, [...(byId.get(feature.featureId) ?? []), feature]);
  return sayList(
    [...byId.values()].map((same) => {
      const places = same.flatMap(({ place }) => place ?? []);
      const [first] = same as [FeatureView];
      if (places.length === 0) return nameWhole(first);
      const all = places.length > 4 && places.length === first.places?.length;
      return `${nameWhole(first)} at ${all ? `all ${places.length} places` : sayList(places)}`;
    }),
  );
}

export function nameRegister(register: RegisterView, tool: ToolView | undefined): string {
  return tool ? `${register.label} of tool ${tool.number}` : register.label;
}

/** A computed size for people: 0.1 µm or 0.00001 inch is enough. */
export function sayMm(mm: number, unit: ShopUnit, plus = false): string {
  const value = showMm(mm, unit);
  const text = Math.abs(value).toFixed(unit === "mm" ? 4 : 5);
  const sign = value < 0 ? "-" : plus && value > 0 ? "+" : "";
  return `${sign}${text} ${unit}`;
}

export function sayPm(pm: number, unit: MeasureUnit, plus = false): string {
  return formatMeasure(pm, unit, plus);
}

/** A size: exact where a gauge can show it, else as a computed one, down to 0.1 µm or 0.00001 inch. */
export function saySize(pm: number, unit: ShownUnit, plus = false): string {
  if (unit !== "mm" && unit !== "inch") return sayPm(pm, unit, plus);
  const [finest, shown] = unit === "mm" ? [1e3, 1e5] : [254e1, 254e3];
  return pm % finest === 0 || Math.abs(pm) < shown ? sayPm(pm, unit, plus) : sayMm(pm / 1e9, unit, plus);
}

/** A computed move of a register: one digit more than a size, so that what is rounded next can be followed. */
export function sayMove(mm: number, unit: ShopUnit): string {
  const value = unit === "mm" ? mm : mm / mmPerInch;
  const text = Math.abs(value).toFixed(unit === "mm" ? 5 : 6);
  const sign = Number(text) === 0 ? "" : value < 0 ? "-" : "+";
  return `${sign}${text} ${unit}`;
}

/** A number in brackets where it follows a plus or times sign. */
export function inBrackets(text: string): string {
  return text.startsWith("-") ? `(${text})` : text;
}

/** "0.040 mm too big", "on target". */
export function sayDeviation(pm: number, unit: ShopUnit): string {
  if (pm === 0) return "on target";
  return `${saySize(Math.abs(pm), unit)} too ${pm > 0 ? "big" : "small"}`;
}

export function sayList(items: readonly string[]): string {
  return items.length < 2 ? (items[0] ?? "") : `${items.slice(0, -1).join(", ")} and ${items.at(-1)}`;
}

const clampWords: Record<ClampReason, string> = {
  largest_change: "the largest single change of this machine",
  largest_towards_work: "the largest single change towards the work",
  largest_total: "the room left up to this register's largest total",
};
export function sayClamp(reason: ClampReason): string {
  return `Held back to ${clampWords[reason]}; the rest follows after the next reading.`;
}

export function saySlip(kind: SlipKind, meant: string): string {
  const words: Record<SlipKind, string> = {
    decimal_point: "the decimal point may have slipped",
    inch_for_mm: "it looks like inches sent as millimetres",
    mm_for_inch: "it looks like millimetres sent as inches",
    digits_swapped: "two neighbouring digits may be exchanged",
    thimble_turn: "it is off by one turn of a thimble",
    deviation_for_size: "it looks like the deviation instead of the size",
    digit_lost: "a digit may be missing",
  };
  return `${words[kind]} (${meant} was probably meant)`;
}

/** Why a reading is neither conforming nor nonconforming, and what to do about it. */
export function sayDoubt(
  flags: readonly string[],
  sizePm: number,
  limits: Interval,
  { guardBandPm, acceptance }: DecisionLimits,
  unit: ShownUnit,
): string {
  if (flags.includes("implausible")) {
    return "It lies far from what was expected, and decides nothing until a second reading of the piece agrees.";
  }
  if (guardBandPm === undefined) {
    return "Its decision rule needs the expanded uncertainty of the gauge, which is not known: enter it with the gauge, or measure with one that has it.";
  }
  const unsure = flags.includes("gauge_not_compared");
  const guard = unsure
    ? `${saySize(guardBandPm, unit)} that it may be off by`
    : `the guard band of ${sayPm(guardBandPm, unit)}`;
  const cure = unsure
    ? "what this gauge reads beside the reference gauge is not known well enough, so have the reference gauge read the piece too"
    : "measure it with a finer gauge, or agree with the customer what counts";
  if (!isWithin(sizePm, limits)) {
    const side = sizePm > (limits.upperPm ?? sizePm) ? "above the upper" : "below the lower";
    return `It is ${side} limit, but by no more than ${guard}, so it is not proved bad: ${cure}.`;
  }
  const { lowerPm: low = Number.NEGATIVE_INFINITY, upperPm: high = Number.POSITIVE_INFINITY } =
    acceptance ?? limits;
  if (low > high) {
    return `It is inside the limits, but ${guard} at either end leaves nothing of the tolerance, so that no reading proves it good: ${cure}.`;
  }
  const side = sizePm > high ? "upper" : "lower";
  return `It is inside the limits, but closer to the ${side} one than ${guard}, so it is not proved good: ${cure}.`;
}

/** What a factor of a keyed change says: 1/2, 0, −1 or 2 of what was advised came out on the part. */
export function sayFactor(factor: number): string {
  switch (factor) {
    case 0.5:
      return "only half of it came out: radius and diameter may be mixed up";
    case 0:
      return "none of it came out: it may not have been keyed, or into another register";
    case -1:
      return "it came out with the other sign: the sign may have been slipped";
    default:
      return "twice as much came out: radius and diameter may be mixed up, or it was keyed twice";
  }
}

/** Why a feature is measured, or why not before long. */
export function sayRule(
  { rule, every, allowed }: Pick<NextCheck, "rule" | "every" | "allowed">,
  goodInARow: number,
  quantity: number | undefined,
): string {
  const good = `${goodInARow} good checks in a row`;
  const more = (n: number) => `every ${n === 1 ? "piece" : `${n} pieces`}`;
  switch (rule) {
    case "start":
      return `trust not earned yet: ${goodInARow} good check${goodInARow === 1 ? "" : "s"} in a row, 2 are needed; until then every piece`;
    case "fresh_edge":
      return "first piece of a fresh edge";
    case "after_change":
      return "first piece after a change of its register, which shows whether it was keyed with the right sign into the right one";
    case "interruption":
      return "first piece after an interruption";
    case "odd_piece":
      return "the piece before did not fit: this one tells whether the size has jumped";
    case "cause_open":
      return "the size has jumped and the cause is not known yet";
    case "confirm":
      return "a surprising reading has not been confirmed yet";
    case "earned":
      return `${good}: ${more(every)}; each further one adds 2, as far as risk and jumps allow`;
    case "drift": {
      const percent = Number(((allowed?.chance ?? 0) * 100).toPrecision(3));
      const trusted = `${good} would allow ${more(Math.min(allowed?.earned ?? every, allowed?.jumps ?? every))}, but`;
      const cure = "nearer to target, with less scatter or a finer gauge it could run longer";
      return every === 1
        ? `${trusted} with drift and scatter as they are the piece after next would be outside a limit with a chance of more than ${percent} %: every piece; ${cure}`
        : `${trusted} with drift and scatter as they are only ${every} pieces keep the chance of one outside a limit below ${percent} %; ${cure}`;
    }
    case "odd_pieces": {
      const percent = (chance: number) => Number((chance * 100).toPrecision(2));
      return `single pieces that no drift explains have been found outside a limit: going by those measured, ${percent(allowed?.oddChance ?? 0)} % of all pieces, above the ${percent(allowed?.chance ?? 0)} % that may go unmeasured: every piece until enough good ones have followed. Look for chips under the part, stock and clamping`;
    }
    case "jumps":
      return `${good} would allow ${more(allowed?.earned ?? every)}, but a chip or a shift of the part has to be found before it costs too many: ${more(every)}; a longer run without one allows more`;
    case "largest_interval":
      return `${good}: the largest interval of ${every} pieces; the part may allow a larger one (\`largest_interval\`)`;
    case "reference":
      return "by the reference gauge on the same piece, so that it is known what the other gauge reads beside it; at the first check, then after every 20 pieces";
    case "seat":
      return "no piece of this seat has been measured yet";
    case "small_lot":
      return `a lot of ${quantity}: below ${smallLot} pieces what can move is measured on every one`;
    case "first_piece":
      return "the first piece is measured in full";
    case "last_piece":
      return "the last piece is measured in full: it proves the end of the run";
    case "critical":
      return "marked critical: on every piece";
    case "key":
      return "marked key: on every piece";
  }
}
