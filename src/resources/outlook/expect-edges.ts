import type { Db } from "../../db/client.js";
import type { BatchView } from "../../decision/batch-view.js";
import { edgesOfTools, latestEdges, summarizeLife } from "../../decision/edge-life.js";
import { listLivesOf } from "../../decision/edge-queries.js";
import { listEdgeUse } from "../../decision/register-queries.js";
import type { Outlook } from "./schemas.js";

const mostChanges = 10_000;

type ToolOutlook = Outlook["tools"][number];

/**
 * How many edges a batch will take, and with which pieces they would begin in a batch of some size, by how long earlier ones lasted, else by the life that a
 * tool is planned for.
 */
export async function expectEdges(
  db: Db,
  view: BatchView,
  quantity: number,
): Promise<{ tools: ToolOutlook[]; freshEdges: (pieces: number) => number[]; unknown: string[] }> {
  const toolIds = [...new Set(view.blocks.flatMap(({ block }) => block.tools.map((tool) => tool.toolId)))];
  const [lives, use] = await Promise.all([
    listLivesOf(db, toolIds, latestEdges),
    listEdgeUse(db, view.machine.machineId),
  ]);
  const edges = edgesOfTools(lives, use);
  const tools = toolIds.map((toolId): ToolOutlook => {
    const { number, name, plannedLife } = view.tools.get(toolId)!;
    const { advised_life, edges_ended } = summarizeLife(edges.get(toolId) ?? [], plannedLife);
    const life = advised_life ?? plannedLife;
    const pieces_cut = view.start.tools[toolId]?.pieces_cut ?? 0;
    const changes = life === null ? null : changesDuring(quantity, life, pieces_cut);
    return {
      tool_id: toolId,
      number,
      name,
      pieces_cut,
      life,
      life_from: advised_life !== null ? "edges" : plannedLife !== null ? "planned" : null,
      edges_ended,
      changes,
      edges: changes === null ? null : changes + 1,
      why: sayEdges({ life, isSeen: advised_life !== null, edges_ended, pieces_cut, changes }),
    };
  });
  const unknown = tools.flatMap(({ life, number, name }) =>
    life === null
      ? [`How long an edge of tool ${number} ${name} lasts: no life is planned, and too few have failed.`]
      : [],
  );
  const freshEdges = (pieces: number) =>
    tools.flatMap(({ life, pieces_cut }) => {
      if (life === null) return [];
      const changes = Math.min(changesDuring(pieces, life, pieces_cut), mostChanges);
      return Array.from({ length: changes }, (_, k) => Math.max(1, life - pieces_cut + 1) + k * life);
    });
  return { tools, freshEdges, unknown };
}

/** An edge that has cut its life or more already is changed before the first piece. */
function changesDuring(quantity: number, life: number, piecesCut: number): number {
  const rest = Math.max(0, life - piecesCut);
  return quantity <= rest ? 0 : Math.ceil((quantity - rest) / life);
}

function sayEdges(about: {
  life: number | null;
  isSeen: boolean;
  edges_ended: number;
  pieces_cut: number;
  changes: number | null;
}): string {
  const { life, isSeen, edges_ended, pieces_cut, changes } = about;
  const cut = `the one in use has cut ${pieces_cut}`;
  if (life === null) return `Nobody knows how long an edge lasts; ${cut}.`;
  const basis = isSeen
    ? `By ${life} pieces one edge in ten has failed (${edges_ended} were taken out)`
    : `An edge is planned for ${life} pieces`;
  return `${basis}; ${cut}: ${changes === 0 ? "no change" : `${changes} change${changes === 1 ? "" : "s"}`}.`;
}
