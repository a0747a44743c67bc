import { type Lifetime, lifeQuantile, survivalSteps } from "../core/statistics/survival.js";
import { sayList } from "./words.js";

type EndReason = "worn" | "broken" | "chipped" | "indexed" | "new_insert" | "other";

/** One edge of a tool as far as it tells how long edges last. */
export interface EdgeLived {
  pieces: number;
  /** Why the next one was put in; null: it is in use. */
  endedBy: EndReason | null;
}

const failures: readonly EndReason[] = ["worn", "broken", "chipped"];
const enoughFailures = 5;
/** So many of a tool's latest edges say how long they last. */
export const latestEdges = 200;

function rangeOf(values: readonly number[]) {
  if (values.length === 0) return null;
  const sorted = [...values].sort((a, b) => a - b);
  const at = (share: number) => {
    const place = share * (sorted.length - 1);
    const low = Math.floor(place);
    const high = Math.ceil(place);
    return sorted[low]! + (sorted[high]! - sorted[low]!) * (place - low);
  };
  return {
    least: sorted[0]!,
    lower_quartile: at(0.25),
    median: at(0.5),
    upper_quartile: at(0.75),
    most: sorted.at(-1)!,
  };
}

/** By tool its edges, the latest first, from why each ended and what it has cut in every batch. */
export function edgesOfTools(
  lives: readonly { tool_id: string; edge_id: string; ended_by: string | null }[],
  use: readonly { edge_id: string; pieces: number }[],
): Map<string, EdgeLived[]> {
  const pieces = new Map<string, number>();
  for (const row of use) pieces.set(row.edge_id, (pieces.get(row.edge_id) ?? 0) + row.pieces);
  const byTool = new Map<string, EdgeLived[]>();
  for (const { tool_id, edge_id, ended_by } of lives) {
    const endedBy = ended_by === "start" ? null : (ended_by as EndReason | null);
    const edge = { pieces: pieces.get(edge_id) ?? 0, endedBy };
    byTool.set(tool_id, [...(byTool.get(tool_id) ?? []), edge]);
  }
  return byTool;
}

/** How long edges last, and what life to plan with: that by which one in ten has failed. */
export function summarizeLife(edges: readonly EdgeLived[], plannedPieces: number | null) {
  const ended = edges.filter(({ endedBy }) => endedBy !== null);
  const reasons = [...new Set(ended.map(({ endedBy }) => endedBy!))].sort();
  const lives = edges.map(
    ({ pieces, endedBy }): Lifetime => ({
      duration: pieces,
      failed: endedBy !== null && failures.includes(endedBy),
    }),
  );
  const failed = lives.filter((life) => life.failed).length;
  const steps = survivalSteps(lives);
  const tenth = failed >= enoughFailures ? lifeQuantile(steps, 0.1) : undefined;
  const half = failed >= enoughFailures ? lifeQuantile(steps, 0.5) : undefined;
  return {
    edges_ended: ended.length,
    edges_failed: failed,
    pieces: rangeOf(ended.map(({ pieces }) => pieces)),
    by_reason: reasons.map((reason) => {
      const mine = ended.filter(({ endedBy }) => endedBy === reason).map(({ pieces }) => pieces);
      return { reason, edges: mine.length, pieces: rangeOf(mine)! };
    }),
    failed_by: { one_in_ten: tenth ?? null, half: half ?? null },
    advised_life: tenth === undefined ? null : Math.max(1, tenth),
    why: sayLife(failed, tenth, half, plannedPieces),
  };
}

function sayLife(
  failed: number,
  tenth: number | undefined,
  half: number | undefined,
  planned: number | null,
): string {
  const words = sayList(failures).replace(" and ", " or ");
  if (tenth === undefined) {
    return `${failed} edge${failed === 1 ? " is" : "s are"} known to have ended ${words}; ${enoughFailures} are needed before they say what life to plan with.`;
  }
  const halfway = half === undefined ? "" : `, and half of them by ${half}`;
  const plan =
    planned === null
      ? `No life is planned for this tool: plan ${tenth}, and change the edge by then.`
      : planned > tenth
        ? `Planned are ${planned}: plan ${tenth}, or see that edges last longer.`
        : `Planned are ${planned}, which they reach.`;
  return `By ${tenth} pieces one edge in ten has ended ${words}${halfway} (${failed} failures; edges taken out for another reason, and the one in use, count as having lasted at least so long). ${plan}`;
}
