import type { ShownUnit } from "../core/feature-kind.js";
import {
  formOver,
  judgeDifference,
  type PlaceForm,
  type PlaceOrder,
  placeOrder,
} from "../core/tolerance/places.js";
import type { PlacesRead, Progress } from "../core/wear-offset/progress.js";
import type { FeatureView } from "./feature-view.js";
import { nameWhole, sayPm, saySize } from "./words.js";

type ShopUnit = "mm" | "inch";

/** What the places of a feature amount to on the last piece where several were measured. */
export interface PlacesFound {
  /** The feature at the first of its places. */
  feature: FeatureView;
  read: PlacesRead;
  form: PlaceForm;
  widthPm: number | undefined;
}

/** All features of a block that are measured at places, as far as they have been read. */
export function findPlaces(features: readonly FeatureView[], progress: Progress): PlacesFound[] {
  return Object.entries(progress.places).flatMap(([featureId, read]) => {
    const feature = features.find((candidate) => candidate.featureId === featureId);
    if (!feature) return [];
    const sizes = read.sizes.map(({ feature: f, sizePm }) => ({ place: features[f]!.place ?? "", sizePm }));
    const form = formOver(sizes, placeOrder(feature.places ?? []));
    return [{ feature, read, form, widthPm: widthOf(feature) }];
  });
}

export function widthOf({ lowerPm, upperPm }: FeatureView): number | undefined {
  return lowerPm === undefined || upperPm === undefined ? undefined : upperPm - lowerPm;
}

/** Places so far apart that nothing is corrected now: for good, or until somebody has looked. */
export function placesApart(found: readonly PlacesFound[]): { none: PlacesFound[]; unsure: PlacesFound[] } {
  const judged = found.map((each) => ({ each, says: judgeDifference(each.form.differencePm, each.widthPm) }));
  return {
    none: judged.flatMap(({ each, says }) => (says === "beyond_tolerance" ? [each] : [])),
    unsure: judged.flatMap(({ each, says }) => (says === "wide" && !each.read.confirmed ? [each] : [])),
  };
}

/** Why no register value helps, and where to look. */
export function sayNoRegisterHelps({ feature, read, form, widthPm }: PlacesFound, unit: ShopUnit): string {
  const width = sayPm(widthPm ?? 0, unit);
  return `${sayDifference(feature, form, unit)} on piece ${read.piece}, and the tolerance is ${width}: no register value brings all its places inside the limits, so no offset is proposed. ${causes[orderOf(feature)]}`;
}

/** What to do before a wide difference is shared out by a correction. */
export function sayLookFirst({ feature, read, form, widthPm }: PlacesFound, unit: ShopUnit): string {
  const share = `${sayDifference(feature, form, unit)} on piece ${read.piece}, ${sayShare(form, widthPm)}.`;
  return `${share} ${firstSteps[orderOf(feature)]} A change now would put ${form.smallest.place} further off, and hide the cause.`;
}

/** What a correction cannot cure; undefined where the places agree. */
export function noteDifference({ feature, form, widthPm }: PlacesFound, unit: ShopUnit): string | undefined {
  if (form.differencePm === 0) return undefined;
  return `${sayDifference(feature, form, unit)}, ${sayShare(form, widthPm)}: no register takes that away, a change can only centre the places between the limits.`;
}

/** "Bore: 25.012 mm at end 1 and 25.004 mm at end 2, a difference of 0.008 mm (taper)" */
export function sayDifference(feature: FeatureView, form: PlaceForm, unit: ShownUnit): string {
  const { largest, smallest, differencePm, shape } = form;
  const [a, b] = [saySize(largest.sizePm, unit), saySize(smallest.sizePm, unit)];
  const named = shapes[shape] === "" ? "" : ` (${shapes[shape]})`;
  return `${nameWhole(feature)} reads ${a} at ${largest.place} and ${b} at ${smallest.place}, a difference of ${saySize(differencePm, unit)}${named}`;
}

function sayShare({ differencePm }: PlaceForm, widthPm: number | undefined): string {
  if (widthPm === undefined) return "with one limit only";
  return `${Math.round((100 * differencePm) / widthPm)} % of the tolerance`;
}

function orderOf(feature: FeatureView): PlaceOrder {
  return placeOrder(feature.places ?? []);
}

const shapes: Record<PlaceForm["shape"], string> = {
  even: "",
  uneven: "",
  taper: "taper",
  barrel: "thicker between the ends",
  waist: "thinner between the ends",
  oval: "out of round",
};

/** Common practice, no source. */
const causes: Record<PlaceOrder, string> = {
  along:
    "Look at what bends or stands askew: a worn edge or too much load and overhang (the cutter springs off), alignment of tailstock, spindle or vise, a part that moves in its clamping. Put it right, measure all places again, then say what was found.",
  angle:
    "Look at the clamping: jaws press a thin part out of round, and it springs back when it is let go. Change the holding (jaws bored to size, less pressure, clamped along the axis), let the part free and measure all places again, then say what was found. An odd number of lobes, as three jaws leave, does not show between two points.",
  member:
    "Look at what differs from one to the next: chips, coolant, clamping, an edge that builds up or wears within the piece, the programme. Put it right, measure all places again, then say what was found.",
};
const firstSteps: Record<PlaceOrder, string> = {
  along:
    'Before anything is corrected repeat the pass at the same value (spring pass) and measure all places as the next cut with "spring_pass": true; where the difference stays, lower the load or the overhang.',
  angle:
    "Before anything is corrected let the part free of its clamping and measure all places again; where it is round in the clamping only, change the holding.",
  member: "Before anything is corrected clean the part and measure all places again.",
};
