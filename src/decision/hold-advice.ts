import type { Hold } from "../core/containment/find-holds.js";
import { type MeasureRule, nextToMeasure } from "../core/containment/next-to-measure.js";
import { isAttribute } from "../core/feature-kind.js";
import type { Db } from "../db/client.js";
import type { BatchView } from "./batch-view.js";
import type { FeatureView } from "./feature-view.js";
import { listGaugesFor, rateFor } from "./gauge-choice.js";
import { listGauges } from "./gauge-queries.js";
import { whyUnsuited } from "./gauge-suits.js";
import { type GaugeView, gaugeView } from "./gauge-view.js";

export interface MeasureStep {
  piece: number;
  rule: MeasureRule;
  atMost: number;
}

/** What releases a hold with the fewest readings, by what was changed while its pieces were cut. */
export function stepsFor(view: BatchView, feature: FeatureView, hold: Hold) {
  const { block, journal } = view.blocks[feature.block]!;
  const { effects } = block.features[feature.index]!;
  const changed = journal.changes
    .filter((change) => effects[change.register] !== 0)
    .map((change) => (change.cut > 1 ? change.piece + 1 : change.piece));
  const happened = journal.events
    .filter(({ kind }) => kind !== "jump" && kind !== "unfounded")
    .map((event) => event.piece);
  const changes = [...new Set([...changed, ...happened])].sort((a, b) => a - b);
  return nextToMeasure(hold, changes);
}

/**
 * For each feature the gauge to prove it with on a day: its own if it may, else the finest of the shop that may.
 * @returns by feature id; a feature that nothing proves is left out
 */
export async function provingGauges(
  db: Db,
  features: readonly FeatureView[],
  day: string,
): Promise<Map<string, GaugeView>> {
  const named = [...new Set(features.flatMap(({ gaugeId }) => gaugeId ?? []))];
  const own = new Map((await listGauges(db, named)).map((row) => [row.gauge_id, gaugeView(row)]));
  const found = new Map<string, GaugeView>();
  const without: FeatureView[] = [];
  for (const feature of features) {
    const gauge = feature.gaugeId === null ? undefined : own.get(feature.gaugeId);
    if (gauge && mayProve(feature, gauge, day)) found.set(feature.featureId, gauge);
    else without.push(feature);
  }
  const finest = await Promise.all(
    without.map((feature) => listGaugesFor(db, feature, { offset: 0, limit: 1, provesOn: day })),
  );
  without.forEach((feature, i) => {
    const gauge = finest[i]!.map(gaugeView)[0];
    if (gauge && mayProve(feature, gauge, day)) found.set(feature.featureId, gauge);
  });
  return found;
}

function mayProve(feature: FeatureView, gauge: GaugeView, day: string): boolean {
  const inDate = gauge.calibrationDue === null || gauge.calibrationDue >= day;
  if (!gauge.reference || !inDate) return false;
  if (whyUnsuited(feature, { ...gauge, showsNumber: gauge.resolutionPm > 0 })) return false;
  if (feature.kind === "count" || isAttribute(feature.kind)) return true;
  return rateFor(feature, gauge).fitness !== "too_coarse";
}

/** Why a hold is there, in words. */
export function sayHold(hold: Hold): string {
  const { bad, goodBefore, goodAfter, from, to } = hold;
  const [first, last] = [bad[0]!.piece, bad.at(-1)!.piece];
  const failed =
    bad.length === 1 ? `Piece ${first} failed` : `${bad.length} pieces from ${first} to ${last} failed`;
  if (from === to) return `${failed}${sayContradicted(bad[0]!)}.`;
  const before =
    goodBefore === undefined ? "no piece before was good" : `piece ${goodBefore} is the last good one before`;
  const after =
    goodAfter === undefined ? "none after it is good yet" : `piece ${goodAfter} the first good one after`;
  return `${failed}; ${before}, and ${after}: pieces ${from} to ${to} are in doubt.`;
}

/** A piece that failed and was read good as often stays on hold, and nobody but a person can say which one was wrong. */
function sayContradicted({ contradictedBy, readingNos }: Hold["bad"][number]): string {
  if (contradictedBy.length < readingNos.length) return "";
  const good = `${contradictedBy.length} good reading${contradictedBy.length === 1 ? "" : "s"}`;
  return `, and ${good} of it say${contradictedBy.length === 1 ? "s" : ""} the contrary: void the misreading if it was one`;
}

/** What to measure and what it settles. */
export function sayStep(
  { piece, rule, atMost }: MeasureStep,
  { kind }: FeatureView,
  gauge: GaugeView | undefined,
): string {
  const bare =
    kind === "visual" || kind === "count" ? "again" : "with a gauge that may prove it (none is entered)";
  const means = gauge ? `with ${gauge.name}` : bare;
  const most = `${atMost} reading${atMost === 1 ? "" : "s"} at most`;
  const reasons: Record<MeasureRule, string> = {
    confirm: "what failed it proves nothing by itself. Should it be good, void the misreading",
    neighbour:
      "the bad piece looks like a single odd one, and the piece beside it, if good, releases all on that side",
    halve: `half way between good and bad. ${most} on this side, if drift or one jump lies behind it`,
    after_change: `the first piece after the last change. If it is good, all after it are. ${most} on this side`,
    latest: "nothing has been changed since the bad piece, and the last one cut tells whether it lasts",
  };
  return `Measure piece ${piece} ${means}: ${reasons[rule]}.`;
}
