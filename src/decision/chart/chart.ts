export const chartKinds = [
  "individuals",
  "mean_range",
  "mean_s",
  "ewma",
  "cusum",
  "innovations",
  "p",
  "np",
  "c",
  "u",
] as const;
export type ChartKind = (typeof chartKinds)[number];

export interface Point {
  /** The piece, or the last one of the subgroup. */
  piece: number;
  from_piece: number;
  value: number;
  centre: number;
  lower: number | null;
  upper: number | null;
  /** Number of its phase, from 1 on. */
  phase: number;
}

export interface Signal {
  panel: string;
  piece: number;
  rule: string;
  says: string;
}

export interface Drawn {
  /** Upper panel first. */
  panels: { name: string; unit: string; points: Point[] }[];
  signals: Signal[];
  /** Standard deviation that limits go by; null: limits follow from counts. */
  sigma: number | null;
}

/** An index with its confidence limits; null: it can't be formed. */
export type Index = { value: number; low: number; high: number } | null;
