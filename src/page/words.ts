/** A number as the reader's locale writes it. */
export function show(value: number | null | undefined, unit?: string | null, leastDecimals = 0): string {
  if (value === null || value === undefined) return "–";
  const places = unit === "inch" ? 5 : 4;
  const text = new Intl.NumberFormat(undefined, {
    maximumFractionDigits: Math.max(places, leastDecimals),
    minimumFractionDigits: leastDecimals,
  })
    .format(value)
    .replace("-", "−");
  return unit ? `${text} ${unit}` : text;
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

/** What was typed, with a comma or a point, as the service takes it; undefined: no number. */
export function readNumber(text: string): string | undefined {
  const plain = text.trim().replace("−", "-").replace(",", ".");
  if (!/^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain)) return undefined;
  return plain.replace(/^([+-]?)\./, "$10.").replace(/\.$/, "");
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
