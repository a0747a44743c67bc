import { type Agreement, compareGauges } from "../../core/gauge-study/agreement.js";
import { formatMeasure, parseMeasure } from "../../core/quantity.js";
import type { Db } from "../../db/client.js";
import { answer, ProblemError, problemAt, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { findGauges, listPairs } from "./queries.js";
import { ComparisonPath, ComparisonQuery, GaugeComparison } from "./schemas.js";

export async function gaugeComparisonRoutes(app: App, { db }: { db: Db }) {
  app.get("/gauges/:gauge_id/comparison", {
    schema: {
      operationId: "compareGauges",
      summary: "Compare a gauge with another on the pieces that both have read",
      description:
        "Mean difference and limits of agreement from stored readings, each gauge's as it was kept: with whatever had been taken off it then.",
      tags: ["gauges"],
      params: ComparisonPath,
      querystring: ComparisonQuery,
      response: {
        200: answer("The comparison", GaugeComparison),
        ...problems({
          404: "There is no such gauge",
          422: "The two are one, or one measures angles and the other lengths",
        }),
      },
    },
    handler: async ({ params, query }) => {
      const found = await findGauges(db, [params.gauge_id, query.with]);
      const [mine, theirs] = [params.gauge_id, query.with].map((id) => {
        const gauge = found.find(({ gauge_id }) => gauge_id === id);
        if (!gauge)
          throw new ProblemError("not-found", `There is no gauge ${id}. GET /v1/gauges lists them.`);
        return gauge;
      }) as [(typeof found)[number], (typeof found)[number]];
      if (mine.gauge_id === theirs.gauge_id) {
        throw problemAt("unprocessable", [
          { pointer: "/with", detail: "is the gauge itself: name another one" },
        ]);
      }
      if ((mine.unit === "deg") !== (theirs.unit === "deg")) {
        throw problemAt("unprocessable", [
          {
            pointer: "/with",
            detail: `one of ${mine.name} and ${theirs.name} measures angles and the other lengths`,
          },
        ]);
      }
      const rows = await listPairs(db, {
        first: mine.gauge_id,
        second: theirs.gauge_id,
        featureId: query.feature_id ?? null,
        from: query.from ?? null,
        to: query.to ?? null,
      });
      const pairs = rows.map(({ first_pm, second_pm }) => [Number(first_pm), Number(second_pm)] as const);
      const agreement = pairs.length < 2 ? undefined : compareGauges(pairs);
      return toComparison(mine, theirs, rows[0]?.all_pairs ?? 0, pairs.length, agreement);
    },
  });
}

interface Named {
  gauge_id: string;
  name: string;
  unit: "mm" | "inch" | "deg";
}

function toComparison(
  mine: Named,
  theirs: Named,
  all: number,
  pairs: number,
  found: Agreement | undefined,
): GaugeComparison {
  const steps = parseMeasure(1, mine.unit)!;
  const round = (value: number) => Number(value.toPrecision(8));
  const size = (pm: number) => round(pm / steps);
  const limits = (of: [number, number] | undefined) => (of ? of.map(size) : null);
  const optional = (pm: number | undefined) => (pm === undefined ? null : size(pm));
  const slope = found?.bySize?.slope;
  return {
    gauge_id: mine.gauge_id,
    with: theirs.gauge_id,
    unit: mine.unit,
    pairs,
    left_out: all - pairs,
    bias: optional(found?.bias),
    bias_limits: limits(found?.biasLimits),
    bias_chance: found?.biasChance === undefined ? null : round(found.biasChance),
    standard_deviation: optional(found?.standardDeviation),
    lower_limit_of_agreement: optional(found?.lower),
    lower_limit_limits: limits(found?.lowerLimits),
    upper_limit_of_agreement: optional(found?.upper),
    upper_limit_limits: limits(found?.upperLimits),
    by_size: slope
      ? {
          slope: round(slope.value),
          slope_limits: slope.limits.map(round),
          slope_chance: slope.chance === undefined ? null : round(slope.chance),
        }
      : null,
    why: explain(mine, theirs, found),
  };
}

function explain(mine: Named, theirs: Named, found: Agreement | undefined): string {
  if (!found) {
    return `Fewer than 2 pieces have been read with both: measure the same pieces with ${mine.name} and ${theirs.name}, 30 or more over the range are usual.`;
  }
  const say = (pm: number) => formatMeasure(Math.round(pm / 1e5) * 1e5, mine.unit);
  const isBiased = found.biasLimits[0] > 0 || found.biasLimits[1] < 0;
  const sentences = [
    `${mine.name} reads ${say(Math.abs(found.bias))} ${found.bias < 0 ? "less" : "more"} than ${theirs.name} in the mean of ${found.n} pieces, ${isBiased ? "more than chance makes" : "which may be chance"}.`,
    `Of 100 pieces about 95 differ by ${say(found.lower)} to ${say(found.upper)}.`,
    (found.bySize?.slope.chance ?? 1) < 0.05
      ? "The difference changes with the size: compare by feature."
      : "",
    found.n < 30 ? `${found.n} pieces are few: 30 or more are usual.` : "",
  ];
  return sentences.filter((sentence) => sentence !== "").join(" ");
}
