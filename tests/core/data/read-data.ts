import { readFileSync } from "node:fs";
import { expect } from "vitest";

/** One of the reference files beside this one. */
export function readData<T>(file: string): T {
  return JSON.parse(readFileSync(new URL(file, import.meta.url), "utf8"));
}

export interface TradeCase {
  id: string;
  situation: string;
  inputs: Record<string, number>;
  expected: Record<string, number>;
  source: string;
}

const tradeCases = new Map(readData<TradeCase[]>("trade-cases.json").map((card) => [card.id, card]));

/** A case card of the trade; its sizes are in mm. */
export function tradeCase(id: string): TradeCase {
  const found = tradeCases.get(id);
  if (!found) throw new RangeError(`no case ${id}`);
  return found;
}

/** Expects a number to equal a printed one within 1 of its last digit. */
export function expectDigits(actual: number, printed: string): void {
  const [mantissa = "", exponent = "0"] = printed.split("e");
  const places = (mantissa.split(".")[1] ?? "").length - Number(exponent);
  const off = Math.abs(actual - Number(printed));
  expect(off, `${actual} is not ${printed}`).toBeLessThanOrEqual(10 ** -places * (1 + 1e-9));
}
