import { isAttribute } from "../../core/feature-kind.js";
import { toUnit } from "../../core/quantity.js";
import type { Db } from "../../db/client.js";
import { type BatchView, type FeatureView, valueAt } from "../../decision/batch-view.js";
import { loadContainment } from "../../decision/containment.js";
import { listGoodNeighbours } from "../../decision/hold-queries.js";
import { PiecePath, showDecision } from "../../decision/hold-wire.js";
import { showReading } from "../../decision/judge-reading.js";
import { type ProvedFeature, type ProvedPiece, provePieces } from "../../decision/prove-pieces.js";
import { decidingOf, resultText } from "../../decision/result-text.js";
import { ViewReader } from "../../decision/view-reader.js";
import { showVoided } from "../../http/journal.js";
import { readCursor, toPage } from "../../http/pagination.js";
import { answer, ProblemError, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { PiecesPath, PiecesQuery, PieceTable } from "./list-schemas.js";
import {
  findLastInterruption,
  listEdgesInForce,
  listPieceDecisions,
  listRegistersInForce,
  type RegisterInForce,
} from "./queries.js";
import { PieceView } from "./schemas.js";

export async function pieceRoutes(app: App, { db }: { db: Db }) {
  const views = new ViewReader(db);

  app.get("/batches/:batch_id/pieces", {
    schema: {
      operationId: "listPieces",
      summary: "Pieces of a batch by feature, some at a time: what was measured, and how the rest is proved",
      description:
        "The same answers as the page of each piece gives, without their readings: a table to look through, from any piece on.",
      tags: ["holds"],
      params: PiecesPath,
      querystring: PiecesQuery,
      response: {
        200: answer("The pieces that are known to be cut, in cutting order", PieceTable),
        ...problems({ 404: "There is no such batch" }),
      },
    },
    handler: async ({ params, query }) => {
      const view = await views.read(params.batch_id);
      if (!view) {
        throw new ProblemError(
          "not-found",
          `There is no batch ${params.batch_id}: GET /v1/batches lists them.`,
        );
      }
      const { batchId, lastPieceCut, features } = view;
      const [after] = query.cursor === undefined ? [] : readCursor(query.cursor, 1).map(Number);
      const from = after === undefined ? (query.from_piece ?? 1) : after + 1;
      const to = Math.min(from + query.limit, lastPieceCut); // one more shows that there is a next page
      const pieces =
        from > to ? [] : await provePieces(db, view, await loadContainment(db, view), { from, to });
      return {
        batch_id: batchId,
        last_piece_cut: lastPieceCut,
        features: features.map(showColumn),
        ...toPage(pieces, query.limit, ({ piece }) => [piece], showRow),
      };
    },
  });

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

function showColumn(feature: FeatureView): PieceTable["features"][number] {
  const { featureId, characteristic, name, place, unit, lowerPm, upperPm, targetPm } = feature;
  const isSized = !isAttribute(feature.kind);
  const size = (pm: number | undefined) => (pm === undefined || !isSized ? null : toUnit(pm, unit));
  return {
    feature_id: featureId,
    characteristic,
    name,
    place,
    unit: !isSized || unit === "1" ? null : unit,
    lower_limit: size(lowerPm),
    upper_limit: size(upperPm),
    target: size(targetPm),
  };
}

function showRow({ onHold, features, ...piece }: ProvedPiece): PieceTable["items"][number] {
  return { ...piece, on_hold: onHold, cells: features.map(showCell) };
}

function showCell({ feature, rows, proof, disposition }: ProvedFeature) {
  const standing = rows.filter(({ voided_at }) => voided_at === null);
  const deciding = decidingOf(standing);
  const shown = deciding && showReading(deciding, feature);
  return {
    proof,
    disposition,
    readings: standing.length,
    cut: shown?.cut ?? null,
    verdict: shown?.verdict ?? null,
    result: deciding ? resultText(deciding, feature) : null,
    size: shown?.size ?? null,
    from_target: shown?.from_target ?? null,
    tolerance_used: shown?.tolerance_used ?? null,
  };
}

async function showPiece(db: Db, view: BatchView, piece: number): Promise<PieceView> {
  const { batchId } = view;
  const [containment, edges, interruption, decisions] = await Promise.all([
    loadContainment(db, view),
    listEdgesInForce(db, batchId, piece),
    findLastInterruption(db, batchId, piece),
    listPieceDecisions(db, batchId, piece),
  ]);
  const [proved] = await provePieces(db, view, containment, { from: piece, to: piece });
  const { seat, serials, cuts, features, disposition, onHold, why } = proved!;
  const [neighbours, inForce] = await Promise.all([
    listGoodNeighbours(
      db,
      features.map(({ feature: { featureId, place } }) => ({
        batchId,
        featureId,
        place,
        seat,
        piece,
        byCheck: false,
      })),
    ),
    listRegistersInForce(
      db,
      batchId,
      piece,
      Array.from({ length: cuts }, (_, i) => i + 1),
      view.blocks.flatMap(({ block }) => block.registers.map((r) => r.registerId)),
    ),
  ]);
  return {
    batch_id: batchId,
    piece,
    seat,
    serials,
    cuts,
    disposition,
    on_hold: onHold,
    why,
    features: features.map(({ feature, rows, proof, disposition, rule, due, why }, f) => ({
      feature_id: feature.featureId,
      characteristic: feature.characteristic,
      name: feature.name,
      place: feature.place,
      good_before: neighbours[f]!.before,
      good_after: neighbours[f]!.after,
      proof,
      disposition,
      rule,
      due,
      why,
      readings: rows.map((row) => ({ ...showReading(row, feature), voided: showVoided(row) })),
    })),
    registers: inForce.map((row) => showRegister(view, piece, row)),
    edges: showEdges(view, piece, edges),
    interruption: interruption ?? null,
    decisions: decisions.map(showDecision),
  };
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
