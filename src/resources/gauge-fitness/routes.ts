import type { Db } from "../../db/client.js";
import { type RuledFeature, ruledFeature } from "../../decision/feature-view.js";
import { listGaugesFor, rateFor, sayRating } from "../../decision/gauge-choice.js";
import { gaugeView } from "../../decision/gauge-view.js";
import { readCursor, toPage } from "../../http/pagination.js";
import { answer, ProblemError, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { findFeature } from "./queries.js";
import { FeaturePath, FitnessQuery, type RatedGauge, RatedGaugeList } from "./schemas.js";

type GaugeRow = Awaited<ReturnType<typeof listGaugesFor>>[number];

export async function gaugeFitnessRoutes(app: App, { db }: { db: Db }) {
  app.get("/features/:feature_id/gauges", {
    schema: {
      operationId: "listGaugesOfFeature",
      summary: "Rate the shop's gauges for a feature, the finest first",
      description:
        "Only kinds of gauge that can be brought to such a feature. Whether one reaches it, only its name tells.",
      tags: ["gauges"],
      params: FeaturePath,
      querystring: FitnessQuery,
      response: {
        200: answer("Gauges with their ratings, the finest first", RatedGaugeList),
        ...problems({ 404: "There is no such feature" }),
      },
    },
    handler: async ({ params, query }) => {
      const row = await findFeature(db, params.feature_id, query.operation ?? null);
      if (!row) {
        throw new ProblemError(
          "not-found",
          `There is no feature ${params.feature_id}. GET /v1/parts/{part_id} shows those of a part.`,
        );
      }
      const feature = ruledFeature(row);
      const [after = "0"] = readCursor(query.cursor, 1);
      const offset = Number(after);
      const gauges = await listGaugesFor(db, feature, { offset, limit: query.limit + 1 });
      const placed = gauges.map((gauge, i) => ({ gauge, place: offset + i + 1 }));
      return toPage(
        placed,
        query.limit,
        ({ place }) => [place],
        ({ gauge }) => rate(feature, gauge),
      );
    },
  });
}

function rate(feature: RuledFeature, row: GaugeRow): RatedGauge {
  const gauge = gaugeView(row);
  const rating = rateFor(feature, gauge);
  const round = (ratio: number) => Number(ratio.toFixed(3));
  return {
    gauge_id: row.gauge_id,
    name: row.name,
    kind: row.kind,
    reference: row.reference,
    calibration_due: row.calibration_due,
    fitness: rating.fitness,
    test_ratio: rating.testRatio === undefined ? null : round(rating.testRatio),
    capability_index: round(rating.capabilityIndex),
    resolution_ratio: round(rating.resolutionRatio),
    why: sayRating(rating, gauge, feature.unit),
  };
}
