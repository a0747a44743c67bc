import type { BatchView } from "./batch-view.js";
import { nextCheckOf } from "./plan.js";
import { sayList } from "./words.js";

/** An edge that should be changed before it costs a part. */
export interface EdgeAtEnd {
  toolId: string;
  /** The edge should not cut this piece any more. */
  piece: number;
  why: string;
}

/**
 * Edges of a block's tools that reach the end of their life before the next check: the life by which one earlier edge in ten
 * had failed when the batch was opened, else the one that is planned. A tool with several blocks is spoken of in the first.
 */
export function edgesAtEnd(view: BatchView, blockNo: number): EdgeAtEnd[] {
  const blockView = view.blocks[blockNo]!;
  const { block, cache, journal } = blockView;
  if (cache.piece === 0) return [];
  const next = Math.max(nextCheckOf(view, blockView).piece, view.lastPieceCut + 1);
  return block.tools.flatMap(({ toolId }, t): EdgeAtEnd[] => {
    const first = view.blocks.findIndex((other) => other.block.tools.some((tool) => tool.toolId === toolId));
    const { number, name, plannedLife } = view.tools.get(toolId)!;
    const seen = view.start.tools[toolId]?.advised_life;
    const life = seen ?? plannedLife;
    if (first !== blockNo || life === null) return [];
    const fresh = journal.events.findLast((event) => event.kind === "fresh_edge" && event.tool === t);
    const from = fresh?.piece ?? 1 - journal.piecesCut[t]!;
    const piece = from + life;
    if (piece > next) return [];
    const reason =
      seen === undefined
        ? `${life} pieces are planned for it`
        : `by ${life} pieces one edge in ten of this tool had failed`;
    const features = view.features.filter((feature) => feature.block === blockNo);
    const names = sayList([...new Set(features.map(({ characteristic }) => characteristic))].slice(0, 5));
    const cut = view.lastPieceCut + 1 - from;
    const why = `Change the edge of tool ${number} (${name}) before piece ${Math.max(piece, view.lastPieceCut + 1)}: it has cut ${cut} pieces, and ${reason}. It cuts ${names}, and the next check is on piece ${next}.`;
    return [{ toolId, piece, why }];
  });
}
