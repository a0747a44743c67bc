import { readdirSync, readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { allCaseIds, storedCaseIds } from "../support/trade-cases.js";
import { later } from "./later.js";

const folder = new URL(".", import.meta.url);
const sources = readdirSync(folder)
  .filter((name) => name.endsWith(".test.ts"))
  .map((name) => readFileSync(new URL(name, folder), "utf8"));

/** Cases that a title of this folder's tests names. */
function testedIds(): string[] {
  return allCaseIds.filter((id) => sources.some((source) => source.includes(`"${id}"`)));
}

it("tests every case of the collection or says why it comes later", () => {
  const listed = later.map(({ id }) => id);

  expect([...testedIds(), ...listed].sort()).toEqual([...allCaseIds].sort());
});

it("keeps the numbers of exactly the cases that are tested", () => {
  expect([...storedCaseIds].sort()).toEqual(testedIds().sort());
});

it("gives a reason for each case that comes later", () => {
  expect(later.filter(({ why }) => why.length < 10)).toEqual([]);
  expect(new Set(later.map(({ id }) => id)).size).toBe(later.length);
});
