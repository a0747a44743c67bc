import { piecesToLimit, piecesToLimitAtEarliest } from "../core/wear-offset/forecast.js";
import { copyProgress, offsetsOf, type Progress, takeJournal } from "../core/wear-offset/progress.js";
import { proposeChanges } from "../core/wear-offset/propose-changes.js";
import type { Advice } from "./advice-base.js";
import { QuestionSpeaker } from "./advise-questions.js";
import { RegisterSpeaker } from "./advise-register.js";
import type { BatchView, BlockView } from "./batch-view.js";
import type { FeatureView } from "./feature-view.js";
import { restAnswered } from "./rest-advice.js";

/** All advice about one block before the next piece is cut. */
export function adviseBlock(view: BatchView, blockNo: number): Advice[] {
  const ask = new QuestionSpeaker(view, blockNo);
  return [...ask.gaugesOff(), ...ask.edgesAtEnd(blockNo), ...adviseProcess(view, blockNo, ask)];
}

function adviseProcess(view: BatchView, blockNo: number, ask: QuestionSpeaker): Advice[] {
  const blockView = view.blocks[blockNo]!;
  const { cache } = blockView;
  const asked = cache.questions.map((question) => ask.measureAgain(question));
  const piece = pieceAhead(view, blockView);
  const progress = progressAt(blockView, piece);
  const apart = ask.placesApart(progress);
  if (apart.some(({ kind }) => kind === "find_cause")) return apart;
  if (apart.length > 0) return [...asked, ...apart];
  if (progress.cause) return [...asked, ask.findCause(progress.cause, progress)];
  if (asked.length > 0) return asked;
  if (progress.suspect) return ask.waitForNextPiece(progress.suspect);
  if (progress.registers.every((register) => register.usedSinceEdge === 0)) return [];
  const advice = proposeChanges(blockView.block, progress, piece, {
    largestChangePm: view.machine.largestChangePm,
    largestTowardsWorkPm: view.machine.largestTowardsWorkPm,
  });
  const say = new RegisterSpeaker(view, blockNo);
  return [
    ...advice.registers.map((register) => say.register(register, advice, progress)),
    ...(advice.workOffsets ?? []).flatMap((offset) => say.workOffset(offset, advice)),
  ].map((row) => restAnswered(view, blockView, row));
}

/**
 * The piece that advice is for: the next one to be cut, or the one from which on the latest change counts. A change that
 * was keyed for a piece to come is made already; advice that overlooked it would correct twice.
 */
export function pieceAhead(view: BatchView, { journal }: BlockView): number {
  const change = journal.changes.at(-1);
  // From a further cut of a piece on it counts for all of the next piece only.
  const changed = change === undefined ? 1 : change.piece + (change.cut > 1 ? 1 : 0);
  return Math.max(view.lastPieceCut + 1, changed, journal.events.at(-1)?.piece ?? 1);
}

/** What is known of a block, with everything taken in that happened before `piece`. */
export function progressAt(blockView: BlockView, piece: number): Progress {
  const progress = copyProgress(blockView.cache.after);
  takeJournal(blockView.block, blockView.journal, progress, piece);
  return progress;
}

/**
 * Pieces until the expected size of a feature leaves its limits without another correction, and until it may have left
 * them, within the rest of its edge's planned life; null: not as far as known.
 */
export function piecesToLimitOf(
  view: BatchView,
  feature: FeatureView,
): { expected: number | null; earliest: number | null } {
  const blockView = view.blocks[feature.block]!;
  const { block } = blockView;
  const progress = progressAt(blockView, pieceAhead(view, blockView));
  const { estimate } = progress;
  const { tool } = block.features[feature.index]!;
  if (tool === undefined) return { expected: null, earliest: null };
  const ahead = view.lastPieceCut - estimate.piece;
  const rest = estimate.edgeFrom[tool]! + block.tools[tool]!.lifePieces - estimate.piece;
  const fromHere = (find: typeof piecesToLimit) => {
    const pieces = find(block, estimate, feature.index, offsetsOf(progress), Math.max(rest, 0));
    return pieces === undefined ? null : Math.max(1, pieces - ahead);
  };
  return { expected: fromHere(piecesToLimit), earliest: fromHere(piecesToLimitAtEarliest) };
}
