import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  disposeGauged,
  gaugedFeatures,
  isGaugedGood,
  isThread,
  sizeWanted,
  threadStandards,
} from "../../../src/core/tolerance/go-no-go.js";

describe("isGaugedGood", () => {
  it.each([
    ["pass", undefined, undefined, true],
    ["go_refuses", undefined, undefined, false],
    ["no_go_enters", undefined, undefined, false],
    ["pass", undefined, "iso_metric", true],
    ["no_go_enters", undefined, "iso_metric", false], // nobody counted: then it is as it was told
    ["no_go_enters", 2000, "iso_metric", true], // not more than two turns (ISO 1502)
    ["no_go_enters", 2001, "iso_metric", false],
    ["no_go_enters", 2500, "iso_metric", false], // trade case GA-07
    ["no_go_enters", 2500, "unified", true], // drag on or before the third turn (FED-STD-H28/6)
    ["no_go_enters", 3000, "unified", true],
    ["no_go_enters", 3001, "unified", false],
    ["go_refuses", 0, "unified", false],
  ] as const)("%s with %s thousandths of a turn by %s: %s", (result, turns, standard, good) => {
    expect(isGaugedGood(result, turns, standard)).toBe(good);
  });

  it("is never saved by more turns", () => {
    fc.assert(
      fc.property(
        fc.nat(5000),
        fc.nat(5000),
        fc.constantFrom(...threadStandards),
        (turns, more, standard) => {
          if (isGaugedGood("no_go_enters", turns, standard)) return;
          expect(isGaugedGood("no_go_enters", turns + more, standard)).toBe(false);
        },
      ),
    );
  });
});

describe("what a refusal says", () => {
  it.each([
    ["bore", "go_refuses", 1, "rework"], // the bore is small
    ["bore", "no_go_enters", -1, "scrap"],
    ["internal_thread", "go_refuses", 1, "rework"],
    ["internal_thread", "no_go_enters", -1, "scrap"],
    ["shaft", "go_refuses", -1, "rework"], // the shaft is big
    ["shaft", "no_go_enters", 1, "scrap"],
    ["external_thread", "go_refuses", -1, "rework"],
    ["external_thread", "no_go_enters", 1, "scrap"],
  ] as const)(
    "of a %s where %s the size has to move by sign %d, and it is %s",
    (gauged, result, sign, fate) => {
      expect(sizeWanted(result, gauged)).toBe(sign);
      expect(disposeGauged(result)).toBe(fate);
    },
  );

  it("knows threads", () => {
    expect(gaugedFeatures.filter(isThread)).toEqual(["internal_thread", "external_thread"]);
  });
});
