import { isSize } from "../core/feature-kind.js";
import type { JournalReading } from "../core/wear-offset/follow-block.js";
import { type BatchView, type BlockView, type FeatureView, sizeForBlock } from "./batch-view.js";
import { decideMeasured } from "./decide-measured.js";
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
  expandedPm: number | undefined;
}

/** A reading as the journal of its block keeps it. */
export function toJournalReading(view: BatchView, facts: ReadingFacts): JournalReading {
  const { readingNo, feature, piece, cut, pieceWithin, measured, gaugeVariance, gaugeFit } = facts;
  const blockView = view.blocks[feature.block]!;
  const { verdict, inside } = decideMeasured(measured, feature, facts.expandedPm);
  return {
    readingNo,
    feature: feature.index,
    piece,
    cut,
    springPass: facts.springPass,
    sizePm: sizeForBlock(feature.kind, measured.sizePm, inside),
    gaugeVariance,
    fails: verdict === "nonconforming",
    steers:
      isSize(feature.kind) && gaugeFit && !straddlesChange(blockView, feature.index, piece, pieceWithin),
  };
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
