import { readFileSync } from "node:fs";

interface StoredCase {
  id: string;
  situation: string;
  inputs: Record<string, unknown>;
  expected: Record<string, unknown>;
  why: string;
  source: string;
}

const stored = JSON.parse(readFileSync(new URL("../trade/trade-cases.json", import.meta.url), "utf8")) as {
  all_ids: string[];
  cases: StoredCase[];
};

/** Every case of the collection, tested or not. */
export const allCaseIds: readonly string[] = stored.all_ids;

export const storedCaseIds: readonly string[] = stored.cases.map(({ id }) => id);

/** One case of the trade with its numbers. */
export interface TradeCase {
  id: string;
  /** Number of a given or expected value, in the unit that the case names. */
  given(name: string): number;
  givenList(name: string): number[];
  expected(name: string): number;
  /** A given value as it stands in the collection. */
  raw(name: string): unknown;
}

export function tradeCase(id: string): TradeCase {
  const found = findCase(id);
  return {
    id,
    given: (name) => numberOf(found.inputs[name], `${id} inputs.${name}`),
    givenList: (name) => listOf(found.inputs[name], `${id} inputs.${name}`),
    expected: (name) => numberOf(found.expected[name], `${id} expected.${name}`),
    raw: (name) => found.inputs[name],
  };
}

/** Title of a test: the case, what it claims here, and where the case comes from. */
export function titleOf(id: string, claim: string): string {
  return `${id} ${claim} [${findCase(id).source}]`;
}

function findCase(id: string): StoredCase {
  const found = stored.cases.find((candidate) => candidate.id === id);
  if (!found) throw new Error(`there is no case ${id} in trade-cases.json`);
  return found;
}

function numberOf(quantity: unknown, place: string): number {
  const value = (quantity as { value?: unknown } | undefined)?.value;
  if (typeof value !== "number") throw new Error(`${place} is no quantity`);
  return value;
}

function listOf(list: unknown, place: string): number[] {
  if (!Array.isArray(list)) throw new Error(`${place} is no list`);
  return list.map((item, i) => numberOf(item, `${place}[${i}]`));
}

/** Sum of decimals of a case, without the last digits that a double adds. */
export function sum(...terms: number[]): number {
  return Number(terms.reduce((total, term) => total + term, 0).toFixed(9));
}
