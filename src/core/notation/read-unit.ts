import type { AngleUnit, LengthUnit } from "../quantity.js";
import { shiftDecimal } from "./decimal-text.js";

/** A unit that a file may print beside a value. */
export type PrintedUnit = LengthUnit | AngleUnit | "cm" | "m" | "mil";

const spellings: Record<PrintedUnit, readonly string[]> = {
  mm: ["mm", "millimetre", "millimeter", "millimetres", "millimeters"],
  µm: ["µm", "μm", "um", "micron", "microns", "micrometre", "micrometer"],
  inch: ["inch", "in", "inches", "in.", '"', "″", "zoll"],
  cm: ["cm"],
  m: ["m", "metre", "meter"],
  nm: ["nm"],
  µin: ["µin", "μin", "uin", "µinch", "μinch", "uinch", "microinch"],
  mil: ["mil", "mils", "thou"],
  deg: ["deg", "degree", "degrees", "°"],
  arcmin: ["arcmin", "arcminute", "'", "′"],
  arcsec: ["arcsec", "arcsecond"],
  rad: ["rad", "radian", "radians"],
};
const bySpelling = new Map(
  Object.entries(spellings).flatMap(([unit, names]) => names.map((name) => [name, unit as PrintedUnit])),
);

export const printedUnits = Object.keys(spellings) as PrintedUnit[];

/**
 * The unit that a spelling names, capitals or not, with either micro sign (U+00B5, U+03BC) or a "u"; undefined: none.
 * "M" is no metre, since a capital M is what some print for mm.
 */
export function readUnit(text: string): PrintedUnit | undefined {
  const bare = text.trim();
  return bare === "M" ? undefined : bySpelling.get(bare.toLowerCase());
}

/** Units that readings are kept in. */
export type KeptUnit = LengthUnit | AngleUnit;

const shifts: Partial<Record<PrintedUnit, [KeptUnit, number]>> = {
  cm: ["mm", 1],
  m: ["mm", 3],
  mil: ["inch", -3],
};

/** The same size in a unit that readings are kept in: a shift of the decimal point, so that nothing is rounded. */
export function toKeptUnit(decimal: string, unit: PrintedUnit): { decimal: string; unit: KeptUnit } {
  const shift = shifts[unit];
  if (!shift) return { decimal, unit: unit as KeptUnit };
  return { decimal: shiftDecimal(decimal, shift[1]), unit: shift[0] };
}

const longestHeader = 200;
const bracketed = /^(.*?)\s*[[(]\s*(?:in\s+)?([^\])]{1,12})\s*[\])]\s*$/u;
const trailing = /^(.*\S)\s+(\S{1,6})$/u;

/** A header with its unit taken off: "Ist [mm]", "Actual (in)", "D1 mm". */
export function splitHeader(header: string): { name: string; unit: PrintedUnit | undefined } {
  const whole = header.trim();
  if (whole.length > longestHeader) return { name: whole, unit: undefined };
  for (const pattern of [bracketed, trailing]) {
    const [, name = "", spelled = ""] = pattern.exec(whole) ?? [];
    const unit = readUnit(spelled);
    if (unit !== undefined && name !== "") return { name: name.trim(), unit };
  }
  return { name: whole, unit: undefined };
}
