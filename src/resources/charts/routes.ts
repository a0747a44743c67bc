import { isAttribute } from "../../core/feature-kind.js";
import { toUnit } from "../../core/quantity.js";
import type { Db } from "../../db/client.js";
import { assessFeature } from "../../decision/chart/assess-feature.js";
import type { ChartKind } from "../../decision/chart/chart.js";
import { drawFeature, measureFeature, placeOf } from "../../decision/chart/measure-feature.js";
import { listLatestBatches, type Window } from "../../decision/chart/queries.js";
import { sayChart, sayDoubtful } from "../../decision/chart/say-chart.js";
import type { FeatureView } from "../../decision/feature-view.js";
import { ViewReader } from "../../decision/view-reader.js";
import { answer, ProblemError, problemAt, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { drawChartPicture } from "../../report/draw-chart-picture.js";
import { renderSvg } from "../../report/svg.js";
import {
  Capability,
  CapabilityQuery,
  type Chart,
  ChartQuery,
  chartOrPicture,
  FeaturePath,
} from "./schemas.js";

const usualPieces = 100;
const usualReadings = 1000;
const largestMeans = 25;
const farthest = 99_999_999;

export async function chartRoutes(app: App, { db }: { db: Db }) {
  const views = new ViewReader(db);

  app.get("/features/:feature_id/chart", {
    schema: {
      operationId: "getChart",
      summary: "A control chart of a feature: points, limits, and what they say",
      description:
        "Of each piece its first cut as it was read last. Centre lines are those of each phase, from one edge or correction to the next; spread and limits are pooled over the phases. For a process that wears and is corrected, `innovations` shows what the wear model did not foresee: a chart of the sizes would only find the wear.",
      tags: ["charts"],
      params: FeaturePath,
      querystring: ChartQuery,
      response: {
        200: chartOrPicture,
        ...problems({
          404: "The feature has not been measured, or there is no such batch, or it is not measured there",
          422: "This kind of chart cannot be drawn of what was measured",
        }),
      },
    },
    handler: async ({ params, query, headers }, reply) => {
      const { view, feature, window } = await find(params.feature_id, query, usualPieces);
      refuseKind(query.kind, feature, query.subgroup_size);
      const measured = await measureFeature(db, view, feature, window, query.kind);
      const { unit, phases, pieces, doubtful } = measured;
      const size = query.subgroup_size ?? (query.kind.startsWith("mean") ? 5 : 20);
      const drawn = await drawFeature(db, view, feature, measured, {
        kind: query.kind,
        size,
        rules: query.rules,
      });
      if (!drawn)
        throw new ProblemError(
          "unprocessable",
          `${pieces.length} measured pieces in ${phases.length} stretches between corrections are too few for this chart: widen the window, or take a smaller subgroup_size.`,
        );
      const limit = (pm: number | undefined) => (pm === undefined ? null : toUnit(pm, unit));
      const isSized = !isAttribute(feature.kind);
      const chart: Chart = {
        feature_id: feature.featureId,
        characteristic: feature.characteristic,
        batch_id: view.batchId,
        kind: query.kind,
        unit,
        pieces: pieces.length,
        rules: query.rules,
        phases: phases.map(({ number, why, pieces: list }) => ({
          number,
          from_piece: list[0]!.piece,
          to_piece: list.at(-1)!.piece,
          why: why === "batch" ? "start" : why,
        })),
        ...drawn,
        doubtful_pieces: doubtful.map(({ piece }) => piece),
        lower_limit: isSized ? limit(feature.lowerPm) : null,
        upper_limit: isSized ? limit(feature.upperPm) : null,
        target: isSized ? limit(feature.targetPm) : null,
        says: [...sayDoubtful(doubtful, unit), ...sayChart(query.kind, drawn.signals, query.rules.length)],
      };
      reply.header("vary", "accept");
      if ((query.format ?? formatAccepted(headers.accept)) === "json") return chart;
      const { lower_limit: lower, upper_limit: upper, target } = chart;
      const name = feature.name === null ? "" : ` ${feature.name}`;
      const title = `${feature.characteristic}${name}, ${query.kind.replaceAll("_", " ")}, batch ${view.name}`;
      reply
        .type("image/svg+xml; charset=utf-8")
        .header("x-content-type-options", "nosniff")
        .header("content-security-policy", "default-src 'none'; style-src 'unsafe-inline'");
      return reply.send(
        renderSvg(drawChartPicture({ ...chart, title, limits: { lower, upper, target } })) as never,
      );
    },
  });

  app.get("/features/:feature_id/capability", {
    schema: {
      operationId: "getCapability",
      summary: "Capability and performance of a feature, with confidence limits and what they rest on",
      description:
        "Words of ISO 22514-2. `within` and `about_trend` speak of the machine, `overall` and `shipped` of the pieces. Indices carry no more decimals than the number of readings bears.",
      tags: ["charts"],
      params: FeaturePath,
      querystring: CapabilityQuery,
      response: {
        200: answer("The indices", Capability),
        ...problems({
          404: "The feature has not been measured, or there is no such batch, or it is not measured there",
          422: "It has no size, or places of which none was named",
        }),
      },
    },
    handler: async ({ params, query }) => {
      const { view, feature, window } = await find(params.feature_id, query, usualReadings);
      if (isAttribute(feature.kind))
        throw new ProblemError(
          "unprocessable",
          `Feature ${feature.characteristic} passes or fails: it has no size to form an index of. Ask for its chart with kind p.`,
        );
      const confidence = Number(query.confidence ?? "0.95");
      const found = await assessFeature(db, view, feature, window, confidence);
      return {
        feature_id: feature.featureId,
        characteristic: feature.characteristic,
        batch_id: view.batchId,
        batch_ids: [...window.batchIds],
        ...found,
      };
    },
  });

  async function find(featureId: string, query: CapabilityQuery | ChartQuery, usual: number) {
    const { from_piece: fromPiece = 1, to_piece: toPiece = farthest } = query;
    if (fromPiece > toPiece)
      throw problemAt("validation", [{ pointer: "to_piece", detail: `is before from_piece ${fromPiece}` }]);
    const several = "batches" in query ? (query.batches ?? 1) : 1;
    const batchIds =
      query.batch_id === undefined ? await listLatestBatches(db, featureId, several) : [query.batch_id];
    const batchId = batchIds.at(-1);
    if (batchId === undefined)
      throw new ProblemError("not-found", `There is no feature ${featureId} that has been measured.`);
    const view = await views.read(batchId);
    if (!view)
      throw new ProblemError("not-found", `There is no batch ${batchId}: GET /v1/batches lists them.`);
    const feature = placeOf(view, featureId, query.place);
    const window: Window = {
      batchIds,
      featureId,
      place: feature.place,
      seat: query.seat,
      gaugeId: query.gauge_id,
      fromPiece,
      toPiece,
      last: query.last ?? usual,
    };
    return { view, feature, window };
  }
}

/** An image alone is what a page's `img` asks for; who takes anything, or JSON as well, gets JSON. */
function formatAccepted(accept: string | undefined): "json" | "svg" {
  const types = (accept ?? "").split(",").map((type) => type.split(";")[0]!.trim().toLowerCase());
  return types.includes("image/svg+xml") && !types.includes("application/json") ? "svg" : "json";
}

function refuseKind(kind: ChartKind, feature: FeatureView, size: number | undefined): void {
  const refuse = (why: string) => {
    throw new ProblemError("unprocessable", `Feature ${feature.characteristic} ${why}`);
  };
  const ofSizes = !["p", "np", "c", "u"].includes(kind);
  if (isAttribute(feature.kind) && kind !== "p" && kind !== "np")
    refuse("passes or fails: kind p or np charts that.");
  if ((kind === "c" || kind === "u") && feature.kind !== "count")
    refuse("is not counted: c and u are charts of counts.");
  if (ofSizes && feature.kind === "count") refuse("is counted: kind c or u charts that.");
  if (kind === "innovations" && !feature.movable)
    refuse("is moved by no register, so that no wear is foreseen: kind individuals charts it.");
  if (kind.startsWith("mean") && size !== undefined && size > largestMeans)
    refuse(`can't have means of more than ${largestMeans} pieces: send a smaller subgroup_size.`);
}
