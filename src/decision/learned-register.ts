import { rememberedPrior } from "../core/wear-offset/edge-memory.js";
import { plainPrior } from "../core/wear-offset/estimate.js";
import { piecesToLimit } from "../core/wear-offset/forecast.js";
import { forecastRegister } from "../core/wear-offset/forecast-register.js";
import { roundChange } from "../core/wear-offset/limit-change.js";
import { memoryBefore, offsetsOf } from "../core/wear-offset/progress.js";
import { startValues } from "../core/wear-offset/start-values.js";
import { pieceAhead, progressAt } from "./advise.js";
import { type BatchView, valueAt } from "./batch-view.js";

function blockOf(view: BatchView, registerId: string) {
  return view.blocks.find(({ block }) =>
    block.registers.some((register) => register.registerId === registerId),
  );
}

/** What a batch has learned about a register that its features answer to. */
export function learnedOf(view: BatchView, registerId: string) {
  const blockView = blockOf(view, registerId);
  if (!blockView) return undefined;
  const { block, journal } = blockView;
  const next = pieceAhead(view, blockView);
  const r = block.registers.findIndex((register) => register.registerId === registerId);
  const register = block.registers[r]!;
  const progress = progressAt(blockView, next);
  const { estimate } = progress;
  const known = progress.registers[r]!;
  const edge = journal.events.findLast(
    (event) => event.kind === "fresh_edge" && event.tool === register.tool && event.piece <= next,
  );
  const valueAtEdgePm = edge ? valueAt(view, registerId, edge.piece, 1) : journal.start[r]!.valuePm;
  const prior = rememberedPrior(memoryBefore(block, progress, r, next), plainPrior(block, r));
  const rest = estimate.edgeFrom[register.tool]! + block.tools[register.tool]!.lifePieces - estimate.piece;
  const ahead = view.lastPieceCut - estimate.piece;
  const toLimit = block.features.flatMap((feature, f) => {
    if (feature.effects[r] === 0) return [];
    const pieces = piecesToLimit(block, estimate, f, offsetsOf(progress), Math.max(rest, 0));
    return pieces === undefined ? [] : Math.max(1, pieces - ahead);
  });
  const { aimedMm, safeMm } = startValues(block, r, prior, estimate, offsetsOf(progress));
  const start = (mm: number) => {
    const most = register.largestTotalPm ?? Number.POSITIVE_INFINITY;
    const wanted = roundChange(mm * 1e9, register.leastIncrementPm);
    return known.zeroPm + Math.max(-most, Math.min(most, wanted));
  };
  return {
    valueNowPm: known.valuePm,
    valueAtEdgePm,
    rateMm: known.usedSinceEdge > 0 ? estimate.mean[block.registers.length + r] : undefined,
    piecesToLimit: toLimit.length > 0 ? Math.min(...toLimit) : undefined,
    proposedStartPm: start(aimedMm),
    safeStartPm: start(safeMm),
  };
}

const stepsAhead = 24;
const leastAhead = 20;
const mostAhead = 2000;

/**
 * What wear will ask of a register from the next piece of a batch on, to the end of its edge's planned life: some pieces
 * evenly apart; undefined: nothing has been measured with this edge yet, or no feature answers to the register.
 */
export function forecastOf(view: BatchView, registerId: string) {
  const blockView = blockOf(view, registerId);
  if (!blockView) return undefined;
  const { block } = blockView;
  const progress = progressAt(blockView, pieceAhead(view, blockView));
  const r = block.registers.findIndex((register) => register.registerId === registerId);
  const register = block.registers[r]!;
  const known = progress.registers[r]!;
  if (known.usedSinceEdge === 0 || block.features.every(({ effects }) => effects[r] === 0)) return undefined;
  const { estimate } = progress;
  const offsets = offsetsOf(progress);
  const next = view.lastPieceCut + 1;
  const lifeEnds = estimate.edgeFrom[register.tool]! + block.tools[register.tool]!.lifePieces;
  const pieces = Math.min(mostAhead, Math.max(leastAhead, lifeEnds - next));
  const steps = Array.from({ length: stepsAhead + 1 }, (_, i) => Math.round((i * pieces) / stepsAhead));
  const pm = (mm: number) => known.zeroPm + Math.round(mm * 1e9);
  const end = (mm: number | undefined) => (mm === undefined ? undefined : pm(mm));
  return {
    valueNowPm: known.valuePm,
    rateMm: estimate.mean[block.registers.length + r]!,
    ahead: [...new Set(steps)].map((step) => {
      const ahead = Math.max(0, next + step - estimate.piece);
      const { aimedMm, deviationMm, lowMm, highMm } = forecastRegister(block, estimate, r, offsets, ahead);
      return {
        step,
        piece: next + step,
        aimedPm: pm(aimedMm),
        lowPm: pm(aimedMm - 2 * deviationMm),
        highPm: pm(aimedMm + 2 * deviationMm),
        limitLowPm: end(lowMm),
        limitHighPm: end(highMm),
      };
    }),
  };
}
