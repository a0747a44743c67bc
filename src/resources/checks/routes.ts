import type { Db } from "../../db/client.js";
import { piecesToLimitOf } from "../../decision/advise.js";
import type { BatchView } from "../../decision/batch-view.js";
import { nextStep } from "../../decision/next-step.js";
import { checkOf, planPiece } from "../../decision/plan.js";
import { listOpenCorrections } from "../../decision/queries.js";
import { ViewReader } from "../../decision/view-reader.js";
import { sayRule } from "../../decision/words.js";
import { answer, ProblemError, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { CheckAnswer, CheckPath, CheckQuery, Interval, IntervalPath, IntervalQuery } from "./schemas.js";

export async function checkRoutes(app: App, { db }: { db: Db }) {
  const views = new ViewReader(db);

  app.get("/batches/:batch_id/checks", {
    schema: {
      operationId: "getChecks",
      summary: "What to measure on a piece, and why; asking changes nothing",
      tags: ["checks"],
      params: CheckPath,
      querystring: CheckQuery,
      response: {
        200: answer("The check plan of the piece, and the one thing to do next", CheckAnswer),
        ...problems({ 404: "There is no such batch" }),
      },
    },
    handler: async ({ params, query }) => {
      const view = await readOrRefuse(views, params.batch_id);
      const plan = planPiece(view, query.piece ?? view.lastPieceCut + 1);
      return {
        ...plan,
        next: nextStep(view, await listOpenCorrections(db, [view.batchId]), view.lastPieceCut, []),
      };
    },
  });

  app.get("/features/:feature_id/interval", {
    schema: {
      operationId: "getInterval",
      summary: "How often a feature is measured in a batch, and why",
      tags: ["checks"],
      params: IntervalPath,
      querystring: IntervalQuery,
      response: {
        200: answer("The interval", Interval),
        ...problems({ 404: "There is no such batch, or the feature is not measured in it" }),
      },
    },
    handler: async ({ params, query }) => {
      const view = await readOrRefuse(views, query.batch_id);
      const feature = view.featureById.get(params.feature_id);
      if (!feature) {
        throw new ProblemError(
          "not-found",
          `Batch ${view.name} has no feature ${params.feature_id} in its operation.`,
        );
      }
      const blockView = view.blocks[feature.block]!;
      const check = checkOf(view, feature);
      const { piece, every, rule } = check;
      return {
        feature_id: feature.featureId,
        every,
        next_piece: piece,
        rule,
        risk: feature.importance === "ordinary" ? view.part.risk : null,
        why: sayRule(check, blockView.cache.after.goodInARow, view.quantity),
        ...soonestToLimit(view, feature.featureId),
      };
    },
  });
}

/** The first of its places that leaves its limits counts. */
function soonestToLimit(view: BatchView, featureId: string) {
  const places = view.features.filter((feature) => feature.featureId === featureId);
  const limits = places.map((place) => piecesToLimitOf(view, place));
  const least = (pieces: (number | null)[]) => {
    const known = pieces.flatMap((count) => count ?? []);
    return known.length > 0 ? Math.min(...known) : null;
  };
  return {
    pieces_to_limit: least(limits.map(({ expected }) => expected)),
    not_before: least(limits.map(({ earliest }) => earliest)),
  };
}

async function readOrRefuse(views: ViewReader, batchId: string) {
  const view = await views.read(batchId);
  if (!view) throw new ProblemError("not-found", `There is no batch ${batchId}: GET /v1/batches lists them.`);
  return view;
}
