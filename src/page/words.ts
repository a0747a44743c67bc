/** A number as the reader's locale writes it. */
export function show(value: number | null | undefined, unit?: string | null, leastDecimals = 0): string {
  if (value === null || value === undefined) return "–";
  const places = unit === "inch" ? 5 : 4;
  const shown = unit === "um" ? "µm" : unit === "deg" ? "°" : unit;
  const text = new Intl.NumberFormat(undefined, {
    maximumFractionDigits: Math.max(places, leastDecimals),
    minimumFractionDigits: leastDecimals,
  })
    .format(value)
    .replace("-", "−");
  return shown ? `${text} ${shown}` : text;
}

/** The same with its sign, for what is added. */
export function showSigned(value: number, unit?: string | null, leastDecimals = 0): string {
  return `${value > 0 ? "+" : ""}${show(value, unit, leastDecimals)}`;
}

/** The how-manieth: 8th, 21st. */
export function ordinal(n: number): string {
  const ends: Partial<Record<Intl.LDMLPluralRule, string>> = { one: "st", two: "nd", few: "rd" };
  return `${show(n)}${ends[new Intl.PluralRules("en", { type: "ordinal" }).select(n)] ?? "th"}`;
}

/** Which sizes a drawing allows. */
export function sayLimits(low: number | null, high: number | null, unit?: string | null): string | undefined {
  if (low === null) return high === null ? undefined : `up to ${show(high, unit)}`;
  if (high === null) return `${show(low, unit)} or more`;
  return low === high ? `exactly ${show(low, unit)}` : `${show(low)} to ${show(high, unit)}`;
}

/** What was typed, with a comma or a point, as the service takes it; undefined: no number. */
export function readNumber(text: string): string | undefined {
  const plain = text.trim().replace("−", "-").replace(",", ".");
  if (!/^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain)) return undefined;
  return plain.replace(/^([+-]?)\./, "$10.").replace(/\.$/, "");
}

/** An angle as decimal degrees, or as degrees, minutes and seconds with their marks. */
export function readAngle(text: string): string | undefined {
  const plain = text.trim().replace("−", "-").replace(",", ".").replaceAll("′", "'").replaceAll("″", '"');
  return /^[+-]?\d+°(\d+'(\d+(\.\d+)?")?)?$/.test(plain) ? plain : readNumber(text);
}

export const verdictWords = {
  conforming: "Good",
  nonconforming: "Out of limits",
  uncertain: "Too close to call",
} as const;

export const dispositionWords = {
  accept: "keep it",
  rework: "can be cut again",
  scrap: "too much is gone",
  remeasure: "measure it again",
} as const;

/** The one thing to do, as it can be read from a step away; the service's own sentence stands under it. */
export function sayNext({
  action,
  piece,
  cut,
}: {
  action: string;
  piece: number;
  cut?: number | undefined;
}): string {
  if (action === "set_offset") return "Set an offset";
  if (action === "stop") return "Stop";
  if (action === "run_on") return `Run on to piece ${piece}`;
  return cut === undefined ? `Measure piece ${piece}` : `Cut piece ${piece} again`;
}

export const nextShapes = { run_on: "run", measure: "act", set_offset: "act", stop: "halt" } as const;
