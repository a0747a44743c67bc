import { countPieces, joinRanges, withoutRanges } from "../../core/containment/piece-ranges.js";
import type { Db } from "../../db/client.js";
import { type BatchView, featureAt } from "../../decision/batch-view.js";
import { type FeatureHold, loadContainment } from "../../decision/containment.js";
import type { FeatureView } from "../../decision/feature-view.js";
import { provingGauges, sayHold, sayStep, stepsFor } from "../../decision/hold-advice.js";
import { showRanges } from "../../decision/hold-wire.js";
import { ViewReader } from "../../decision/view-reader.js";
import { readCursor, toPage } from "../../http/pagination.js";
import { answer, ProblemError, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { type Hold, HoldPath, HoldQuery, Holds } from "./schemas.js";

const mostCauses = 50;

export async function holdRoutes(app: App, { db }: { db: Db }) {
  const views = new ViewReader(db);

  app.get("/batches/:batch_id/holds", {
    schema: {
      operationId: "listHolds",
      summary: "Pieces in doubt, the readings that caused it, and what to measure next to release them",
      tags: ["holds"],
      params: HoldPath,
      querystring: HoldQuery,
      response: {
        200: answer("Holds in cutting order", Holds),
        ...problems({ 404: "There is no such batch" }),
      },
    },
    handler: async ({ params, query }) => {
      const { batch_id } = params;
      const view = await views.read(batch_id);
      if (!view) {
        throw new ProblemError("not-found", `There is no batch ${batch_id}: GET /v1/batches lists them.`);
      }
      const containment = await loadContainment(db, view);
      const [afterPiece, afterRun] = readCursor(query.cursor, 2).map(Number) as [number, number];
      const wanted = containment.holds
        .flatMap((item) => {
          const feature = featureAt(view, item.featureId, item.place);
          return feature ? [{ ...item, feature, run: runNumber(view, feature, item.seat) }] : [];
        })
        .filter(({ state }) => query.state === undefined || query.state === state)
        .filter(({ hold, run }) => (hold.from === afterPiece ? run > afterRun : hold.from > afterPiece))
        .sort((a, b) => a.hold.from - b.hold.from || a.run - b.run);
      const page = toPage(
        wanted.slice(0, query.limit + 1),
        query.limit,
        ({ hold, run }) => [hold.from, run],
        (item) => item,
      );
      const open = page.items.filter(({ state }) => state === "open");
      const features = [...new Set(open.map(({ feature }) => feature))];
      const gauges = await provingGauges(db, features, new Date().toISOString().slice(0, 10));
      const name = (id: string) => view.featureById.get(id)?.characteristic ?? "";
      return {
        batch_id,
        pieces_on_hold: countPieces(containment.onHold),
        on_hold: showRanges(containment.onHold),
        reworks: containment.reworks.map(({ decision, pieces, waitingFor }) => ({
          decision_id: decision.decision_id,
          pieces: showRanges(pieces),
          waiting_for: waitingFor.map((waiting) => ({
            feature_id: waiting.featureId,
            characteristic: name(waiting.featureId),
            pieces: showRanges(waiting.pieces),
          })),
        })),
        items: page.items.map((item) => showHold(view, item, gauges)),
        next_cursor: page.next_cursor,
      };
    },
  });
}

/** Orders holds that begin with the same piece: by feature and place in the part's order, then by seat; from 1 on. */
function runNumber(view: BatchView, feature: FeatureView, seat: string | null): number {
  const seats = Math.max(1, view.seats.length);
  return view.features.indexOf(feature) * seats + (seat === null ? 0 : view.seats.indexOf(seat)) + 1;
}

function showHold(
  view: BatchView,
  { featureId, feature, seat, hold, settled, state }: FeatureHold & { feature: FeatureView },
  gauges: Awaited<ReturnType<typeof provingGauges>>,
): Hold {
  const open = withoutRanges(hold.open, settled);
  const gauge = gauges.get(featureId);
  const next = open.length > 0 ? stepsFor(view, feature, { ...hold, open }) : { steps: [], each: [] };
  return {
    feature_id: featureId,
    characteristic: feature.characteristic,
    name: feature.name,
    place: feature.place,
    seat,
    state,
    from_piece: hold.from,
    to_piece: hold.to,
    why: sayHold(hold),
    good_before: hold.goodBefore ?? null,
    good_after: hold.goodAfter ?? null,
    pieces: countPieces(open),
    open: showRanges(open),
    decided: showRanges(settled),
    bad: showRanges(joinRanges(hold.bad.map(({ piece }) => ({ from: piece, to: piece })))),
    because: hold.bad.slice(0, mostCauses).map(({ piece, readingNos, contradictedBy, byReference }) => ({
      piece,
      reading_ids: readingNos.map((readingNo) => `${view.batchId}-${readingNo}`),
      contradicted_by: contradictedBy.map((readingNo) => `${view.batchId}-${readingNo}`),
      by_reference: byReference,
    })),
    measure_next: next.steps.map((step) => ({
      piece: step.piece,
      gauge_id: gauge?.gaugeId ?? null,
      gauge: gauge?.name ?? null,
      rule: step.rule,
      at_most: step.atMost,
      why: sayStep(step, feature, gauge),
    })),
    each: showRanges(next.each),
  };
}
