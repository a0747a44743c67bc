import { hasPiece } from "../../core/containment/piece-ranges.js";
import { toUnit } from "../../core/quantity.js";
import type { Db } from "../../db/client.js";
import { type BatchView, seatByNumber, valueAt } from "../../decision/batch-view.js";
import { type Containment, loadContainment } from "../../decision/containment.js";
import { type DecisionRow, listGoodNeighbours } from "../../decision/hold-queries.js";
import { PiecePath, showDecision } from "../../decision/hold-wire.js";
import { showReading } from "../../decision/judge-reading.js";
import { plansAt } from "../../decision/plan-at.js";
import { ViewReader } from "../../decision/view-reader.js";
import { sayList } from "../../decision/words.js";
import { showVoided } from "../../http/journal.js";
import { answer, ProblemError, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { isHeld, proveFeature } from "./prove-feature.js";
import {
  findLastInterruption,
  listEdgesInForce,
  listMeasuredBefore,
  listPieceDecisions,
  listPieceReadings,
  listRegistersInForce,
  type RegisterInForce,
} from "./queries.js";
import { type FeatureOnPiece, PieceView } from "./schemas.js";

export async function pieceRoutes(app: App, { db }: { db: Db }) {
  const views = new ViewReader(db);

  app.get("/batches/:batch_id/pieces/:piece", {
    schema: {
      operationId: "getPiece",
      summary: "Everything that is known of one piece, and whether it may go out",
      tags: ["holds"],
      params: PiecePath,
      response: {
        200: answer("The piece", PieceView),
        ...problems({ 404: "There is no such batch, or the piece is not known to be cut" }),
      },
    },
    handler: async ({ params }) => {
      const { batch_id, piece } = params;
      const view = await views.read(batch_id);
      if (!view) {
        throw new ProblemError("not-found", `There is no batch ${batch_id}: GET /v1/batches lists them.`);
      }
      if (piece > view.lastPieceCut) {
        throw new ProblemError(
          "not-found",
          `Piece ${piece} of batch "${view.name}" is not known to be cut; the last one is ${view.lastPieceCut}.`,
        );
      }
      return showPiece(db, view, piece);
    },
  });
}

async function showPiece(db: Db, view: BatchView, piece: number): Promise<PieceView> {
  const { batchId, features } = view;
  const featureIds = [...view.featureById.keys()];
  const rows = await listPieceReadings(db, batchId, featureIds, piece);
  const seat =
    rows.find((row) => row.seat !== null && row.voided_at === null)?.seat ?? seatByNumber(view, piece);
  const [containment, measured, neighbours, edges, interruption, decisions] = await Promise.all([
    loadContainment(db, view),
    listMeasuredBefore(db, batchId, featureIds, piece),
    listGoodNeighbours(
      db,
      features.map(({ featureId, place }) => ({ batchId, featureId, place, seat, piece })),
    ),
    listEdgesInForce(db, batchId, piece),
    findLastInterruption(db, batchId, piece),
    listPieceDecisions(db, batchId, piece),
  ]);
  const measuredBefore = new Map<number, number>();
  for (const row of measured) {
    const { block } = view.featureById.get(row.feature_id)!;
    measuredBefore.set(block, Math.max(row.piece, measuredBefore.get(block) ?? 0));
  }
  const cuts = Math.max(1, ...rows.filter((row) => row.voided_at === null).map(({ cut }) => cut));
  const registerIds = view.blocks.flatMap(({ block }) => block.registers.map((r) => r.registerId));
  const [plans, inForce] = await Promise.all([
    plansAt(db, view, measuredBefore),
    listRegistersInForce(
      db,
      batchId,
      piece,
      Array.from({ length: cuts }, (_, i) => i + 1),
      registerIds,
    ),
  ]);
  const shown = features.map((feature, f): FeatureOnPiece => {
    const mine = rows.filter((row) => row.feature_id === feature.featureId && row.place === feature.place);
    const { before, after } = neighbours[f]!;
    const plan = plans.get(feature.block);
    return {
      feature_id: feature.featureId,
      characteristic: feature.characteristic,
      name: feature.name,
      place: feature.place,
      good_before: before,
      good_after: after,
      ...proveFeature(feature, { view, piece, rows: mine, containment, neighbours: neighbours[f]!, plan }),
      readings: mine.map((row) => ({
        ...showReading(row, feature),
        voided: showVoided(row),
      })),
    };
  });
  return {
    batch_id: batchId,
    piece,
    seat,
    serials: [...new Set(rows.flatMap(({ serial, voided_at }) => (voided_at === null && serial) || []))],
    cuts,
    ...disposePiece(shown, containment, piece),
    features: shown,
    registers: inForce.map((row) => showRegister(view, piece, row)),
    edges: showEdges(view, piece, edges),
    interruption: interruption ?? null,
    decisions: decisions.map(showDecision),
  };
}

const worstFirst = ["scrap", "rework", "remeasure", "open", "accept"] as const;

/** The worst of its features, unless somebody has decided about it. */
function disposePiece(
  features: readonly FeatureOnPiece[],
  containment: Containment,
  piece: number,
): Pick<PieceView, "disposition" | "on_hold" | "why"> {
  const onHold = hasPiece(containment.onHold, piece);
  const decided = containment.inForce.find(({ pieces }) => hasPiece(pieces, piece))?.decision;
  if (decided && settles(decided.row, containment, piece)) {
    const { kind, row } = decided;
    const by = row.authority ? `, by authority of ${row.authority}` : "";
    const why = `Decision ${row.decision_id}${by}: ${kind.replaceAll("_", " ")}.`;
    return { disposition: kind, on_hold: onHold, why };
  }
  const disposition =
    worstFirst.find((one) => features.some((feature) => feature.disposition === one)) ?? "open";
  const because = features.filter((feature) => feature.disposition === disposition);
  const why =
    disposition === "accept"
      ? "Every feature is measured good on it or lies between good pieces as the check plan wanted."
      : `Characteristic ${sayList([...new Set(because.map(({ characteristic }) => characteristic))])}: ${because[0]?.why ?? "nothing is known of it."}`;
  return { disposition, on_hold: onHold, why };
}

/** A rework only stands for its piece until it is measured; use as is and repair not for what failed since. */
function settles(row: DecisionRow, containment: Containment, piece: number): boolean {
  if (row.decision === "scrap" || row.decision === "return") return true;
  if (row.decision === "rework") return containment.reworks.some(({ pieces }) => hasPiece(pieces, piece));
  return !containment.holds.some((hold) => isHeld(hold, piece));
}

function showRegister(view: BatchView, piece: number, row: RegisterInForce): PieceView["registers"][number] {
  const register = view.registers.get(row.register_id)!;
  const { unit } = view.machine;
  return {
    cut: row.cut,
    register_id: row.register_id,
    tool_id: register.toolId,
    number: register.number,
    label: register.label,
    unit,
    value: toUnit(valueAt(view, row.register_id, piece, row.cut), unit),
    from_piece: row.from_piece,
    from_cut: row.from_cut,
    reason: row.reason,
    by: row.by_name,
  };
}

function showEdges(
  view: BatchView,
  piece: number,
  changed: Awaited<ReturnType<typeof listEdgesInForce>>,
): PieceView["edges"] {
  const toolIds = new Set(view.blocks.flatMap(({ block }) => block.tools.map((tool) => tool.toolId)));
  return [...toolIds].map((toolId) => {
    const tool = view.tools.get(toolId)!;
    const fresh = changed.find((edge) => edge.tool_id === toolId);
    const brought = view.start.tools[toolId];
    return {
      tool_id: toolId,
      tool_number: tool.number,
      tool: tool.name,
      edge_id: fresh?.edge_id ?? brought?.edge_id ?? null,
      number: fresh?.number ?? brought?.edge_number ?? null,
      from_piece: fresh?.from_piece ?? null,
      pieces_cut: fresh ? piece - fresh.from_piece + 1 : brought ? brought.pieces_cut + piece : null,
    };
  });
}
