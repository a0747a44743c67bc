import { api, ask, askAll } from "../client.js";
import { loadPart } from "../shop.js";
import { show } from "../words.js";

/** So many pieces are shown at a time: with sixty features they are drawn in a blink. */
export const piecesPerPage = 25;

/** What the page of a job shows, its pieces from one on; absent: the latest. */
export async function loadWholeJob(batchId: string, from: number | undefined) {
  const path = { batch_id: batchId };
  const [batch, holds, decisions, plan] = await Promise.all([
    ask(api.GET("/v1/batches/{batch_id}", { params: { path } })),
    ask(api.GET("/v1/batches/{batch_id}/holds", { params: { path, query: { state: "open", limit: 100 } } })),
    askAll((cursor) =>
      ask(
        api.GET("/v1/batches/{batch_id}/decisions", {
          params: { path, query: { limit: 500, ...(cursor && { cursor }) } },
        }),
      ),
    ),
    ask(api.GET("/v1/batches/{batch_id}/checks", { params: { path, query: {} } })),
  ]);
  const first = from ?? Math.max(1, batch.last_piece_cut - piecesPerPage + 1);
  const [part, table, articles, due] = await Promise.all([
    loadPart(batch.part_id),
    ask(
      api.GET("/v1/batches/{batch_id}/pieces", {
        params: { path, query: { from_piece: first, limit: piecesPerPage } },
      }),
    ),
    askAll((cursor) =>
      ask(
        api.GET("/v1/first-articles", {
          params: { query: { part_id: batch.part_id, ...(cursor && { cursor }) } },
        }),
      ),
    ),
    ask(
      api.GET("/v1/parts/{part_id}/first-article-due", {
        params: { path: { part_id: batch.part_id }, query: {} },
      }),
    ),
  ]);
  return { batch, holds, decisions, plan, part, table, articles, due, first };
}
export type WholeJob = Awaited<ReturnType<typeof loadWholeJob>>;

export const dispositionWords: Record<WholeJob["table"]["items"][number]["disposition"], string> = {
  accept: "good",
  open: "open",
  remeasure: "measure again",
  rework: "cut again",
  scrap: "scrap",
  use_as_is: "use as it is",
  repair: "repair",
  return: "send back",
};

export function sayRange(from: number, to: number): string {
  return from === to ? show(from) : `${show(from)} to ${show(to)}`;
}
