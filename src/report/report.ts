import type { Picture } from "./picture.js";

/**
 * An inspection report of a batch as every form of it is made from: what stands on it once, and the pieces. What became of
 * them is known when the last one has been looked at. Sizes are texts in the unit beside them, not rounded.
 */
export interface Report {
  head: ReportHead;
  /** Charts of what matters most, to be looked at. */
  pictures: readonly Picture[];
  /** Bands of pieces in cutting order, worked out anew each time. */
  bands: () => AsyncIterable<readonly ReportPiece[]>;
}

export interface ReportHead {
  batch: {
    batch_id: string;
    name: string;
    operation: string | null;
    quantity: number | null;
    pieces_cut: number;
    machine: string;
    begun_at: string;
    closed_at: string | null;
    closed_by: string | null;
  };
  part: {
    number: string;
    revision: string;
    name: string | null;
    unit: "mm" | "inch";
    material: string | null;
    decision_rule: string;
  };
  made_at: string;
  /** How it was decided what conforms, in words. */
  decision_rules: string[];
  cautions: string[];
  characteristics: Characteristic[];
  gauges: ReportGauge[];
  registers: ReportRegister[];
  edges: { tool: string; edge: number; from_piece: number; reason: string; by: string | null }[];
  interruptions: { from_piece: number; kind: string; note: string | null; by: string | null }[];
  holds: ReportHold[];
  /** Pieces that must not go out as things stand. */
  on_hold: Range[];
  decisions: ReportDecision[];
  /** How it was decided what is measured on which piece, in words. */
  check_plan: string[];
  readings: { counted: number; voided: number };
  capability: ReportCapability[];
}

/** Indices of one characteristic over the batch (ISO 22514-2), each with its confidence limits; null: none can be formed. */
export interface ReportCapability {
  characteristic: string;
  place: string | null;
  pieces: number;
  cpk: ReportIndex | null;
  ppk: ReportIndex | null;
  /** Of the pieces as they left the machine. */
  shipped_ppk: ReportIndex | null;
  says: string;
}

export interface ReportIndex {
  value: number;
  low: number;
  high: number;
}

export interface Range {
  from_piece: number;
  to_piece: number;
}

export interface Characteristic {
  feature_id: string;
  characteristic: string;
  name: string | null;
  kind: string;
  /** Of a form, which one. */
  geometric_characteristic: string | null;
  nominal: string | null;
  /** As the drawing asks for it. */
  requirement: string;
  lower_limit: string | null;
  upper_limit: string | null;
  unit: string | null;
  importance: "ordinary" | "key" | "critical";
  decision_rule: string | null;
  /** Why the limits are not the drawing's: those of an operation before the last. */
  limits_of: string | null;
  places: string[] | null;
}

export interface ReportGauge {
  gauge_id: string;
  name: string;
  kind: string;
  unit: string;
  expanded_uncertainty: string | null;
  coverage_factor: number;
  calibration_due: string | null;
  /** Whether it may prove a size. */
  reference: boolean;
  readings: number;
  first_at: string;
  last_at: string;
  /** Last check on a standard up to the last reading. */
  checked_at: string | null;
  check_error: string | null;
}

export interface ReportRegister {
  label: string;
  number: number;
  tool: string | null;
  unit: "mm" | "inch";
  at_start: string;
  entries: {
    from_piece: number;
    from_cut: number;
    value: string;
    change: string;
    origin: string;
    reason: string | null;
    by: string | null;
    at: string;
  }[];
}

export interface ReportHold extends Range {
  characteristic: string;
  place: string | null;
  seat: string | null;
  state: "open" | "decided" | "released";
  why: string;
  open: Range[];
}

export interface ReportDecision extends Range {
  decision_id: string;
  decision: string;
  authority: string | null;
  nonconformance: string | null;
  note: string | null;
  by: string | null;
  decided_at: string;
  voided: string | null;
}

export interface ReportPiece {
  piece: number;
  serials: string[];
  seat: string | null;
  disposition: string;
  on_hold: boolean;
  why: string;
  results: ReportResult[];
  /** What was not measured on it, by what proves it instead or fails to. */
  not_measured: { characteristics: string[]; proof: string; why: string }[];
}

/** One reading; of several of the same thing, the one that `decides` is the result. */
export interface ReportResult {
  reading_id: string;
  /** Number of its characteristic in the head, from 0. */
  of: number;
  characteristic: string;
  place: string | null;
  cut: number;
  /** As the gauge gave it. */
  value: string | null;
  unit: string | null;
  /** What was held against the limits: at 20 °C, with what is known of the gauge taken off; or passed, failed. */
  result: string;
  lower_limit: string | null;
  upper_limit: string | null;
  /** What of the upper limit is a bonus for the size of the feature; null: nothing. */
  bonus: string | null;
  verdict: "conforming" | "nonconforming" | "uncertain";
  disposition: string;
  expanded_uncertainty: string | null;
  gauge: string | null;
  taken_by: string | null;
  measured_at: string | null;
  received_at: string;
  flags: string[];
  decides: boolean;
}

/** What became of the pieces. */
export interface ReportEnd {
  pieces: number;
  by_disposition: { disposition: string; pieces: number; ranges: Range[] }[];
  results: number;
  nonconforming: number;
  uncertain: number;
}

/** Adds the pieces up as they pass. */
export class Tally {
  private readonly ranges = new Map<string, Range[]>();
  private readonly counts = { pieces: 0, results: 0, nonconforming: 0, uncertain: 0 };

  take({ piece, disposition, results }: ReportPiece): void {
    const mine = this.ranges.get(disposition) ?? [];
    const last = mine.at(-1);
    if (last && last.to_piece === piece - 1) last.to_piece = piece;
    else mine.push({ from_piece: piece, to_piece: piece });
    this.ranges.set(disposition, mine);
    this.counts.pieces += 1;
    for (const { decides, verdict } of results) {
      if (!decides) continue;
      this.counts.results += 1;
      if (verdict !== "conforming") this.counts[verdict] += 1;
    }
  }

  end(): ReportEnd {
    const by_disposition = [...this.ranges].map(([disposition, ranges]) => ({
      disposition,
      pieces: ranges.reduce((sum, range) => sum + range.to_piece - range.from_piece + 1, 0),
      ranges,
    }));
    return { ...this.counts, by_disposition: by_disposition.sort((a, b) => b.pieces - a.pieces) };
  }
}
