/** How the places of a feature lie to each other: along it, at angles across it, or one on each of several like ones. */
export type PlaceOrder = "along" | "angle" | "member";

export type PlaceShape = "even" | "taper" | "barrel" | "waist" | "oval" | "uneven";

export interface PlaceSize {
  place: string;
  sizePm: number;
}

/** What the sizes at several places of one feature say of its form. */
export interface PlaceForm {
  smallest: PlaceSize;
  largest: PlaceSize;
  /** Largest less smallest size, in picometres. */
  differencePm: number;
  shape: PlaceShape;
}

const angle = /^[+-]?\d+([.,]\d+)?\s*(°|deg)$/i;
const member = /^(hole|bore|thread|slot|pin|pocket|no\.?)?\s*#?\s*\d+$/i;

/** Reads from their names how places lie: all of them angles ("0°"), all of them numbers ("3", "hole 3"), else along the feature. */
export function placeOrder(places: readonly string[]): PlaceOrder {
  if (places.every((place) => angle.test(place))) return "angle";
  return places.every((place) => member.test(place)) ? "member" : "along";
}

/**
 * What sizes at places amount to. Along a feature, in the order given: `taper` where they never turn back, `barrel` where
 * the largest lies between the ends and the smallest at one of them, `waist` the other way round. At angles: `oval`, half of
 * whose difference is what a two-point measurement shows of the roundness deviation (an odd number of lobes does not show).
 * @param sizes one per place, at least one, in the order of the drawing
 * @throws {RangeError} if there is none
 * @see common practice, no source
 */
export function formOver(sizes: readonly PlaceSize[], order: PlaceOrder): PlaceForm {
  const [first] = sizes;
  if (!first) throw new RangeError("needs the size of at least one place");
  let [smallest, largest] = [first, first];
  for (const size of sizes) {
    if (size.sizePm < smallest.sizePm) smallest = size;
    if (size.sizePm > largest.sizePm) largest = size;
  }
  const differencePm = largest.sizePm - smallest.sizePm;
  return { smallest, largest, differencePm, shape: shapeOf(sizes, order, smallest, largest) };
}

function shapeOf(
  sizes: readonly PlaceSize[],
  order: PlaceOrder,
  smallest: PlaceSize,
  largest: PlaceSize,
): PlaceShape {
  if (smallest.sizePm === largest.sizePm) return "even";
  if (order === "angle") return "oval";
  if (order === "member") return "uneven";
  const rising = sizes.every(({ sizePm }, i) => i === 0 || sizePm >= sizes[i - 1]!.sizePm);
  const falling = sizes.every(({ sizePm }, i) => i === 0 || sizePm <= sizes[i - 1]!.sizePm);
  if (rising || falling) return "taper";
  const isEnd = (pm: number) => sizes[0]!.sizePm === pm || sizes.at(-1)!.sizePm === pm;
  if (isEnd(smallest.sizePm) && !isEnd(largest.sizePm)) return "barrel";
  if (isEnd(largest.sizePm) && !isEnd(smallest.sizePm)) return "waist";
  return "uneven";
}

/** What the difference between places asks for before anything is corrected. */
export type PlacesVerdict =
  /** No register value brings all of them inside the limits. */
  | "beyond_tolerance"
  /** More than half the tolerance: it is looked into first, since a correction would use up what is left. */
  | "wide"
  | "within";

/**
 * Judges a difference between places against the tolerance: above its width no single change suits all of them; above half
 * of it a cause is looked for first (common practice, no source).
 * @param widthPm upper less lower limit; undefined: one limit only, which a change can always satisfy
 */
export function judgeDifference(differencePm: number, widthPm: number | undefined): PlacesVerdict {
  if (widthPm === undefined) return "within";
  if (differencePm > widthPm) return "beyond_tolerance";
  return 2 * differencePm > widthPm ? "wide" : "within";
}
