import { readFileSync } from "node:fs";
import { expect } from "vitest";

/** A reference file, by its path from here. */
export function readData<T>(file: string): T {
  return JSON.parse(readFileSync(new URL(file, import.meta.url), "utf8"));
}

/** A case card of the trade; its numbers stand without their unit, which is mm for sizes. */
export interface TradeCase {
  id: string;
  situation: string;
  inputs: Record<string, number>;
  expected: Record<string, number>;
  source: string;
}

const { cases } = readData<{ cases: Record<string, unknown>[] }>("../../trade/trade-cases.json");
const tradeCases = new Map(cases.map((card) => [card.id, withoutUnits(card) as TradeCase]));

export function tradeCase(id: string): TradeCase {
  const found = tradeCases.get(id);
  if (!found) throw new RangeError(`no case ${id}`);
  return found;
}

/** Every `{ value, unit }` as its value. */
function withoutUnits(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(withoutUnits);
  if (typeof value !== "object" || value === null) return value;
  if ("value" in value && "unit" in value) return value.value;
  return Object.fromEntries(Object.entries(value).map(([name, member]) => [name, withoutUnits(member)]));
}

/** Expects a number to equal a printed one within 1 of its last digit. */
export function expectDigits(actual: number, printed: string): void {
  const [mantissa = "", exponent = "0"] = printed.split("e");
  const places = (mantissa.split(".")[1] ?? "").length - Number(exponent);
  const off = Math.abs(actual - Number(printed));
  expect(off, `${actual} is not ${printed}`).toBeLessThanOrEqual(10 ** -places * (1 + 1e-9));
}
