import { isSize, type ShownUnit } from "../core/feature-kind.js";
import { toUnit } from "../core/quantity.js";
import type { Disposition, Verdict } from "../core/tolerance/decide-conformity.js";
import { toleranceUsed } from "../core/tolerance/decide-conformity.js";
import { formOver, type PlaceForm, placeOrder } from "../core/tolerance/places.js";
import type { Db } from "../db/client.js";
import { sayDifference, widthOf } from "./advise-places.js";
import type { BatchWork } from "./batch-work.js";
import type { FeatureView } from "./feature-view.js";
import { judgedSizePm } from "./learned-deviation.js";
import { listPlaceReadings, type PlaceReading } from "./reading-queries.js";
import { nameWhole, sayList } from "./words.js";

/** What the places of one feature amount to on one piece, as the wire shows it. */
export interface PlacesSummary {
  feature_id: string;
  characteristic: string;
  batch_id: string;
  piece: number;
  cut: number;
  verdict: Verdict;
  disposition: Disposition | null;
  worst_place: string;
  missing: string[];
  difference: number | null;
  unit: Exclude<ShownUnit, "1"> | null;
  difference_of_tolerance: number | null;
  shape: PlaceForm["shape"] | null;
  why: string;
}

const verdicts: readonly Verdict[] = ["conforming", "uncertain", "nonconforming"];
const dispositions: readonly Disposition[] = ["accept", "remeasure", "rework", "scrap"];

/** Sums up the places of the features that were read, by piece: the worst decides. One query for all of a batch. */
export async function sumUpPlaces(
  db: Db,
  work: BatchWork,
  items: readonly { feature: FeatureView; input: { piece: number } }[],
): Promise<PlacesSummary[]> {
  const wanted = new Map(
    items
      .filter(({ feature }) => feature.places !== null)
      .map(({ feature, input }) => [`${feature.featureId} ${input.piece}`, { feature, piece: input.piece }]),
  );
  if (wanted.size === 0) return [];
  const list = [...wanted.values()];
  const pairs = list.map(({ feature, piece }) => ({ featureId: feature.featureId, piece }));
  const rows = [...(await listPlaceReadings(db, work.view.batchId, pairs)), ...work.readings];
  return list.flatMap(({ feature, piece }) => {
    const mine = rows.filter((row) => row.feature_id === feature.featureId && row.piece === piece);
    return sumUp(work, feature, piece, mine) ?? [];
  });
}

function sumUp(
  { view }: BatchWork,
  feature: FeatureView,
  piece: number,
  rows: readonly PlaceReading[],
): PlacesSummary | undefined {
  const { unit } = feature;
  const places = feature.places ?? [];
  // What was measured before the piece was cut again is no longer there.
  const cut = Math.max(...rows.map((row) => row.cut));
  const latest = places.flatMap((place) => {
    const mine = rows.filter((row) => row.place === place && row.cut === cut);
    return mine.length === 0 ? [] : [mine.reduce((a, b) => (b.reading_no > a.reading_no ? b : a))];
  });
  if (latest.length === 0) return undefined;
  const rank = (row: PlaceReading) => verdicts.indexOf(row.verdict);
  const used = (row: PlaceReading) =>
    row.value_mm === null
      ? 0
      : Math.abs(toleranceUsed(judgedSizePm(row)!, feature.targetPm, feature.lowerPm, feature.upperPm) ?? 0);
  const worst = latest.reduce((a, b) => ((rank(b) - rank(a) || used(b) - used(a)) > 0 ? b : a));
  const worstFate = dispositions[Math.max(...latest.map((row) => dispositions.indexOf(row.disposition)))]!;
  const missing = places.filter((place) => !latest.some((row) => row.place === place));
  const settled = missing.length === 0 || worstFate === "scrap" || worstFate === "rework";
  // The places of what is no size have no form between them.
  const sizes = (isSize(feature.kind) ? latest : [])
    .filter((row) => row.value_mm !== null && !row.flags.includes("implausible"))
    .map((row) => ({ place: row.place ?? "", sizePm: judgedSizePm(row)! }));
  const form = sizes.length > 1 ? formOver(sizes, placeOrder(places)) : undefined;
  const width = widthOf(feature);
  return {
    feature_id: feature.featureId,
    characteristic: feature.characteristic,
    batch_id: view.batchId,
    piece,
    cut,
    verdict: worst.verdict,
    disposition: settled ? worstFate : null,
    worst_place: worst.place ?? "",
    missing,
    difference: form ? toUnit(form.differencePm, unit) : null,
    unit: unit === "1" ? null : unit,
    difference_of_tolerance: form && width ? Number((form.differencePm / width).toFixed(6)) : null,
    shape: form?.shape ?? null,
    why: explain(feature, worst, missing, form, unit),
  };
}

function explain(
  feature: FeatureView,
  worst: PlaceReading,
  missing: readonly string[],
  form: PlaceForm | undefined,
  unit: ShownUnit,
): string {
  const decides = `${nameWhole(feature)}: ${worst.place} is the worst place and decides: ${worst.verdict}`;
  const differs = form ? `. ${sayDifference(feature, form, unit)}` : "";
  const open = missing.length > 0 ? `. Not measured yet: ${sayList(missing)}` : "";
  return `${decides}${differs}${open}.`;
}
