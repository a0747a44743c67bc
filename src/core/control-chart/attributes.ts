import type { Lines } from "./variables.js";

/** Values of an attributes chart, each with its own limits. */
export interface AttributesChart {
  values: number[];
  lines: Lines[];
}

/**
 * Shares (p) or numbers (np) of nonconforming pieces: p̄ ± 3 √(p̄(1 − p̄)/n), never below 0 or above all.
 * @param counts nonconforming pieces of each subgroup
 * @param sizes pieces of each subgroup, from 1 on
 * @throws {RangeError} for no subgroup, or one with more nonconforming pieces than pieces
 * @see ISO 7870-2:2013; NIST/SEMATECH e-Handbook 6.3.3.2
 */
export function nonconformingChart(
  kind: "p" | "np",
  counts: readonly number[],
  sizes: readonly number[],
): AttributesChart {
  if (counts.length === 0 || counts.some((count, i) => !(count >= 0 && count <= sizes[i]!)))
    throw new RangeError("each subgroup has from 0 to all of its pieces nonconforming");
  const share = total(counts) / total(sizes);
  const scale = (i: number) => (kind === "p" ? 1 : sizes[i]!);
  return {
    values: counts.map((count, i) => (kind === "p" ? count / sizes[i]! : count)),
    lines: sizes.map((n, i) => {
      const half = 3 * Math.sqrt((share * (1 - share)) / n);
      return {
        centre: share * scale(i),
        lower: Math.max(0, share - half) * scale(i),
        upper: Math.min(1, share + half) * scale(i),
      };
    }),
  };
}

/**
 * Counts (c) of one piece or group each, or counts per piece (u): ū ± 3 √(ū/n), never below 0.
 * @param counts from 0 on
 * @param sizes pieces that each was counted on; all 1 for c
 * @throws {RangeError} for no count, or one below 0
 * @see ISO 7870-2:2013; NIST/SEMATECH e-Handbook 6.3.3.1
 */
export function countsChart(counts: readonly number[], sizes: readonly number[]): AttributesChart {
  if (counts.length === 0 || counts.some((count) => !(count >= 0)))
    throw new RangeError("needs counts from 0 on");
  const centre = total(counts) / total(sizes);
  return {
    values: counts.map((count, i) => count / sizes[i]!),
    lines: sizes.map((n) => {
      const half = 3 * Math.sqrt(centre / n);
      return { centre, lower: Math.max(0, centre - half), upper: centre + half };
    }),
  };
}

function total(values: readonly number[]): number {
  return values.reduce((all, x) => all + x, 0);
}
