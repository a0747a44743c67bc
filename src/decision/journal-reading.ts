import { isSize } from "../core/feature-kind.js";
import type { JournalReading } from "../core/wear-offset/progress.js";
import type { BatchView, BlockView } from "./batch-view.js";
import { sizeForBlock } from "./build-block.js";
import { decideMeasured } from "./decide-measured.js";
import type { FeatureView } from "./feature-view.js";
import type { Measured } from "./measured-value.js";

/** All that is known of a reading when its block takes it in, whether it has just come or has long been stored. */
export interface ReadingFacts {
  readingNo: number;
  feature: FeatureView;
  piece: number;
  cut: number;
  springPass: boolean;
  /** Null: the batch names no seats, or the piece is not sure. */
  seat: string | null;
  pieceWithin: number | null;
  measured: Measured;
  gaugeId: string | null;
  /** The gauge may prove a size. */
  isReference: boolean;
  gaugeVariance: number;
  gaugeFit: boolean;
  /** How far a check shows the gauge off; undefined: none does. */
  gaugeDoubtPm: number | undefined;
  expandedPm: number | undefined;
  /** As it was judged; absent: it has just come, and what its gauge reads beside the reference is not known yet. */
  fails?: boolean;
}

/** A reading as the journal of its block keeps it. */
export function toJournalReading(view: BatchView, facts: ReadingFacts): JournalReading {
  const { readingNo, feature, piece, cut, pieceWithin, measured, gaugeVariance, gaugeFit, expandedPm } =
    facts;
  const { hasReference, roomMm } = view.blocks[feature.block]!.block.features[feature.index]!;
  const { verdict, inside } = decideMeasured(measured, feature, expandedPm);
  const compared = hasReference === true && !facts.isReference;
  const reading: JournalReading = {
    readingNo,
    feature: feature.index,
    piece,
    cut,
    springPass: facts.springPass,
    sizePm: sizeForBlock(feature.kind, measured.sizePm, inside),
    gaugeVariance,
    fails: facts.fails ?? verdict === "nonconforming",
    // What a gauge beside the reference is off by is learned from the reference, whatever a standard says of it.
    steers: isSize(feature.kind) && gaugeFit && (compared || !isTooFarOff(facts.gaugeDoubtPm, roomMm)),
  };
  if (facts.seat !== null) reading.seat = view.seats.indexOf(facts.seat);
  if (pieceWithin !== null && pieceWithin > 1) reading.pieceFrom = Math.max(1, piece - pieceWithin + 1);
  if (hasReference) {
    const expandedMm = expandedPm === undefined ? undefined : expandedPm / 1e9;
    reading.gauge = { id: facts.gaugeId ?? "", reference: facts.isReference, expandedMm };
  }
  return reading;
}

/** An error above T/4 would move a register by more than what is left alone. */
function isTooFarOff(doubtPm: number | undefined, roomMm: number): boolean {
  return doubtPm !== undefined && doubtPm / 1e9 > roomMm / 4;
}

/**
 * True where the piece is only known to be one of the last `within`, and a change lies in between: then nobody knows what
 * the piece was cut with.
 */
export function straddlesChange(
  blockView: BlockView,
  feature: number,
  piece: number,
  within: number | null,
): boolean {
  if (within === null || within < 2) return false;
  const first = piece - within + 1;
  const inRange = (from: number) => from > first && from <= piece;
  const effects = blockView.block.features[feature]!.effects;
  return (
    blockView.journal.changes.some((change) => effects[change.register] !== 0 && inRange(change.piece)) ||
    blockView.journal.events.some((event) => event.kind === "fresh_edge" && inRange(event.piece))
  );
}
