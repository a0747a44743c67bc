import { describe, expect, it } from "vitest";
import { findTitleBlockLine, writtenPlaces } from "../../../src/core/tolerance/title-block.js";

describe("writtenPlaces", () => {
  it.each([
    ["0.500", 3],
    ["0.5", 1],
    ["6", 0],
    ["12.0050", 4],
    ["-3.20", 2],
    ["100", 0],
  ])("counts the zeros at the end: %s has %d", (decimal, places) => {
    expect(writtenPlaces(decimal)).toBe(places);
  });
});

describe("findTitleBlockLine", () => {
  const titleBlock = [
    { places: 1, plusMinusPm: 200e6 },
    { places: 2, plusMinusPm: 100e6 },
  ];

  it.each([
    ["12.5", 200e6],
    ["12.50", 100e6],
    ["12.500", undefined],
    ["12", undefined],
  ])("chooses by the places that are written: %s", (nominal, plusMinusPm) => {
    expect(findTitleBlockLine(nominal, titleBlock)?.plusMinusPm).toBe(plusMinusPm);
  });
});
