import { type Expansion, standardOfRange } from "./expansion.js";

/** A material with the range in which handbooks put its coefficient, and a customary value, µm/(m·K). */
export interface Material {
  readonly name: string;
  /** Other ways to write it. */
  readonly aliases: readonly string[];
  readonly low: number;
  readonly typical: number;
  readonly high: number;
}

/**
 * Mean coefficients of linear expansion near 20 °C. Handbook values (machinery and materials handbooks; NIST technical notes
 * on gauge blocks for their steel), from memory: figures differ by alloy, temper and span of temperature, hence the ranges.
 * Plain "steel" and "aluminium" span the wrought grades listed; their customary 11.5 and 23 come from an article on
 * temperature and dimensional measurement. "Stainless steel" alone is left out: its grades lie from 10 to 17.5.
 */
export const materials: readonly Material[] = [
  row("steel", 11.0, 11.5, 12.6, "carbon or alloy steel", "mild steel"),
  row("gauge block steel", 11.0, 11.5, 12.0, "gage block steel"),
  row("carbon steel (1018, 1045)", 11.0, 11.7, 12.3, "carbon steel", "1018", "1045", "C45"),
  row("alloy steel (4140)", 11.5, 12.3, 12.6, "alloy steel", "4140", "42CrMo4"),
  row("stainless steel 304", 16.5, 17.3, 17.5, "304", "304L", "AISI 304", "1.4301"),
  row("stainless steel 316", 15.5, 16.0, 16.5, "316", "316L", "AISI 316", "1.4401", "1.4404"),
  row(
    "stainless steel 410 / 420",
    9.5,
    10.3,
    10.5,
    "410",
    "420",
    "stainless steel 410",
    "stainless steel 420",
  ),
  row("stainless steel 17-4 PH", 10.5, 10.8, 11.3, "17-4 PH", "1.4542"),
  row("tool steel D2", 10.0, 10.4, 11.5, "D2", "1.2379"),
  row("grey cast iron", 9.0, 10.5, 12.0, "gray cast iron", "grey iron", "gray iron"),
  row("ductile cast iron", 10.5, 11.2, 12.5, "ductile iron", "nodular cast iron"),
  row("aluminium", 22.5, 23.0, 24.0, "aluminum"),
  row("aluminium 6061", 23.0, 23.6, 24.0, "aluminum 6061", "6061", "6061-T6", "EN AW-6061"),
  row("aluminium 7075", 23.0, 23.4, 24.0, "aluminum 7075", "7075", "7075-T6", "EN AW-7075"),
  row("aluminium 2024", 22.5, 22.9, 23.5, "aluminum 2024", "2024", "2024-T3", "EN AW-2024"),
  row("brass (free cutting)", 18.5, 20.5, 21.0, "brass", "free cutting brass"),
  row("bronze (tin, SAE 660)", 17.0, 18.0, 18.5, "bronze", "tin bronze", "SAE 660"),
  row("copper", 16.4, 16.7, 17.7),
  row("titanium Ti-6Al-4V", 8.4, 8.6, 9.2, "titanium", "Ti-6Al-4V", "titanium grade 5"),
  row("nickel alloy 718", 12.5, 13.0, 13.5, "alloy 718", "2.4668"),
  row("magnesium AZ31", 25.0, 26.0, 27.0, "magnesium", "AZ31"),
  row("zinc die cast alloy", 26.0, 27.4, 28.0, "zinc die casting"),
  row("iron with 36 % nickel", 0.6, 1.3, 2.0, "FeNi36"),
  row("tungsten carbide (6 % Co)", 4.3, 5.0, 6.0, "tungsten carbide", "carbide"),
  row("zirconia gauge ceramic", 9.0, 9.5, 11.0, "zirconia"),
  row("granite", 4.0, 6.5, 8.5),
  row("fused silica", 0.5, 0.55, 0.6),
  row("glass ceramic (near zero)", -0.1, 0, 0.1, "glass ceramic"),
  row("acetal (POM)", 80, 110, 130, "acetal", "POM"),
  row("PEEK, unfilled", 45, 47, 55, "PEEK"),
  row("polyamide 6.6", 70, 80, 120, "PA66", "PA 6.6"),
];

function row(name: string, low: number, typical: number, high: number, ...aliases: string[]): Material {
  return { name, aliases, low, typical, high };
}

const byWords = new Map(
  materials.flatMap((material) =>
    [material.name, ...material.aliases].map((name): [string, Material] => [bare(name), material]),
  ),
);

/** Capitals, spaces and signs make no difference. */
function bare(name: string): string {
  return name.toLowerCase().replace(/[^\p{L}\p{N}.]/gu, "");
}

/** The material of this name or alias; undefined where the table has none. */
export function findMaterial(name: string): Material | undefined {
  return byWords.get(bare(name));
}

/** Coefficient of a material with its standard uncertainty, from the range (see `standardOfRange`). */
export function expansionOf({ low, typical, high }: Material): Expansion {
  return {
    coefficientPicoPerK: Math.round(typical * 1e6),
    standardPicoPerK: standardOfRange(low, typical, high) * 1e6,
  };
}
