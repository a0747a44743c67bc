import { countPieces, joinRanges } from "../../core/containment/piece-ranges.js";
import { checksIfAllGoesWell } from "../../core/sampling/expected-checks.js";
import { smallLot } from "../../core/sampling/plan-checks.js";
import type { Db } from "../../db/client.js";
import type { BatchView } from "../../decision/batch-view.js";
import type { FeatureView } from "../../decision/feature-view.js";
import {
  type EarlierBatch,
  listGauges,
  listHoldsSaid,
  listReadingShares,
  type ReadingShare,
} from "./queries.js";
import type { Outlook } from "./schemas.js";

/** Readings of a batch that are looked at to see which features and gauges they are shared among. */
const readingsLookedAt = 2000;
const mostHolds = 10_000;

interface Asked {
  quantity: number;
  batches: readonly EarlierBatch[];
  /** Pieces with which fresh edges would begin in a batch of some size. */
  freshEdges: (pieces: number) => readonly number[];
  assumedMinutes: number | undefined;
}

/**
 * Readings and minutes that a batch will take: what the check plan wants if all goes well, and as much beyond that as earlier
 * batches took. So a small batch after large ones, or a large one after small ones, has its own share of first checks.
 */
export async function expectReadings(
  db: Db,
  view: BatchView,
  asked: Asked,
): Promise<{ shown: Outlook["measuring"]; usualInterval: number | null; unknown: string[] }> {
  const { quantity, batches } = asked;
  const measured = batches.filter((batch) => batch.reading_count > 0);
  const shares = await listReadingShares(
    db,
    measured.map(({ batch_id }) => batch_id),
    readingsLookedAt,
  );
  const perPiece = readingsPerPiece(batches, shares);
  const isHistory = perPiece.size > 0;
  const features = [...view.featureById.values()];
  const usedGauge = (feature: FeatureView) => mostUsedGauge(shares, feature.featureId) ?? feature.gaugeId;
  const gauges = await listGauges(db, [...new Set(features.flatMap((feature) => usedGauge(feature) ?? []))]);
  const unknown = new Set<string>();
  let isAssumed = false;
  const byFeature = features.map((feature) => {
    const planned = plannedReadings(view, feature, quantity, asked);
    const readings = isHistory
      ? scaled(view, feature, planned, asked, perPiece.get(feature.featureId) ?? 0)
      : planned;
    const gauge = gauges.find(({ gauge_id }) => gauge_id === usedGauge(feature));
    const said = gauge?.minutes_per_reading ?? null;
    if (said === null && readings > 0) {
      if (asked.assumedMinutes !== undefined) isAssumed = true;
      unknown.add(
        gauge
          ? `Nobody has said how long a reading with ${gauge.name} takes.`
          : `No gauge is named for characteristic ${feature.characteristic}, so nobody knows how long a reading takes.`,
      );
    }
    const minutes = said ?? asked.assumedMinutes;
    return {
      feature_id: feature.featureId,
      characteristic: feature.characteristic,
      readings: round(readings),
      gauge_id: gauge?.gauge_id ?? null,
      minutes_per_reading: said,
      minutes: minutes === undefined ? (readings === 0 ? 0 : null) : round(readings * minutes),
    };
  });
  const isTimed = byFeature.every(({ minutes }) => minutes !== null);
  const most = Math.max(0, ...perPiece.values());
  return {
    shown: {
      basis: isHistory ? "history" : "plan",
      readings: round(byFeature.reduce((sum, { readings }) => sum + readings, 0)),
      minutes: isTimed ? round(byFeature.reduce((sum, { minutes }) => sum + minutes!, 0)) : null,
      assumed_minutes: isAssumed ? asked.assumedMinutes! : null,
      by_feature: byFeature,
    },
    usualInterval: most > 0 ? round(1 / most) : null,
    unknown: [...unknown],
  };
}

/** Readings by the piece, for each feature: all that a batch took, shared as its latest ones were. */
function readingsPerPiece(
  batches: readonly EarlierBatch[],
  shares: readonly ReadingShare[],
): Map<string, number> {
  const pieces = batches.reduce((sum, batch) => sum + batch.last_piece_cut, 0);
  const perPiece = new Map<string, number>();
  for (const { batch_id, reading_count } of batches) {
    const mine = shares.filter((share) => share.batch_id === batch_id);
    const looked = mine.reduce((sum, { readings }) => sum + readings, 0);
    for (const { feature_id, readings } of mine) {
      const all = (readings / looked) * reading_count;
      perPiece.set(feature_id, (perPiece.get(feature_id) ?? 0) + all / pieces);
    }
  }
  return perPiece;
}

function mostUsedGauge(shares: readonly ReadingShare[], featureId: string): string | undefined {
  const used = new Map<string, number>();
  for (const { feature_id, gauge_id, readings } of shares) {
    if (feature_id !== featureId || gauge_id === null) continue;
    used.set(gauge_id, (used.get(gauge_id) ?? 0) + readings);
  }
  return [...used].sort((a, b) => b[1] - a[1])[0]?.[0];
}

/** The least that the check plan wants of a feature. */
function plannedReadings(
  view: BatchView,
  feature: FeatureView,
  quantity: number,
  { freshEdges }: Pick<Asked, "freshEdges">,
): number {
  const places = feature.places?.length ?? 1;
  if (feature.importance !== "ordinary" || (quantity < smallLot && feature.movable)) return quantity * places;
  return checksIfAllGoesWell(quantity, view.part.largestInterval, freshEdges(quantity)) * places;
}

/**
 * What the plan wants and, by the piece, what earlier batches took beyond that: for drift, changes and doubts; of what they took
 * less their share. At most one reading of each place and piece, or as many as there were.
 */
function scaled(
  view: BatchView,
  feature: FeatureView,
  planned: number,
  asked: Asked,
  perPiece: number,
): number {
  const { batches, quantity } = asked;
  const pieces = batches.reduce((sum, batch) => sum + batch.last_piece_cut, 0);
  const wanted = batches.reduce(
    (sum, batch) => sum + plannedReadings(view, feature, batch.last_piece_cut, asked),
    0,
  );
  const most = Math.max(feature.places?.length ?? 1, perPiece) * quantity;
  const beyond = perPiece * pieces - wanted;
  return Math.min(
    most,
    beyond > 0 ? planned + (beyond / pieces) * quantity : planned * (1 + beyond / wanted),
  );
}

/** Pieces to be expected on hold, as often as in earlier batches. */
export async function expectDoubt(
  db: Db,
  batches: readonly EarlierBatch[],
  quantity: number,
): Promise<Outlook["in_doubt"]> {
  const pieces = batches.reduce((sum, batch) => sum + batch.last_piece_cut, 0);
  const said = await listHoldsSaid(
    db,
    batches.map(({ batch_id }) => batch_id),
    mostHolds,
  );
  const held = batches.map(({ batch_id }) =>
    joinRanges(
      said
        .filter((row) => row.batch_id === batch_id)
        .map((row) => ({ from: row.hold_from, to: row.hold_to })),
    ),
  );
  const holdsSeen = held.reduce((sum, ranges) => sum + ranges.length, 0);
  const piecesSeen = held.reduce((sum, ranges) => sum + countPieces(ranges), 0);
  if (pieces === 0) {
    return { pieces: null, holds_seen: 0, pieces_seen: 0, why: "It has not run here before: nobody knows." };
  }
  const expected = round((piecesSeen / pieces) * quantity);
  const why =
    piecesSeen === 0
      ? `In ${pieces} pieces none was held.`
      : `In ${pieces} pieces ${piecesSeen} were held, at ${holdsSeen} time${holdsSeen === 1 ? "" : "s"}: about ${expected} in ${quantity}.`;
  return { pieces: expected, holds_seen: holdsSeen, pieces_seen: piecesSeen, why };
}

function round(value: number): number {
  return Number(value.toPrecision(4));
}
