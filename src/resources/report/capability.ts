import { isAttribute } from "../../core/feature-kind.js";
import { toUnit } from "../../core/quantity.js";
import type { Db } from "../../db/client.js";
import type { BatchView } from "../../decision/batch-view.js";
import { assessFeature } from "../../decision/chart/assess-feature.js";
import { drawFeature, measureFeature } from "../../decision/chart/measure-feature.js";
import { listMeasuredPlaces } from "../../decision/chart/queries.js";
import { sayChart, sayDoubtful } from "../../decision/chart/say-chart.js";
import type { FeatureView } from "../../decision/feature-view.js";
import { drawChartPicture } from "../../report/draw-chart-picture.js";
import type { Picture } from "../../report/picture.js";
import type { ReportCapability } from "../../report/report.js";

const confidence = 0.95;
const mostPieces = 10_000;
const piecesDrawn = 100;
const mostPictures = 12;
/** Enough that a line through them says something. */
const leastPieces = 5;

/** Capability of every size that was measured in a batch, and charts of those that matter most. */
export async function assessBatch(
  db: Db,
  view: BatchView,
): Promise<{ capability: ReportCapability[]; pictures: Picture[] }> {
  const measured = new Set(
    (await listMeasuredPlaces(db, view.batchId)).map(
      ({ feature_id, place }) => `${feature_id} ${place ?? ""}`,
    ),
  );
  const features = view.features.filter(
    (feature) =>
      !isAttribute(feature.kind) &&
      feature.kind !== "count" &&
      measured.has(`${feature.featureId} ${feature.place ?? ""}`),
  );
  const capability: ReportCapability[] = [];
  const pictures: Picture[] = [];
  for (const feature of features) {
    const found = await assessFeature(db, view, feature, windowOf(view, feature, mostPieces), confidence);
    capability.push({
      characteristic: feature.characteristic,
      place: feature.place,
      pieces: found.pieces,
      cpk: found.within?.cpk ?? null,
      ppk: found.overall?.ppk ?? null,
      shipped_ppk: found.shipped?.ppk ?? null,
      says: found.says.find((text) => !text.startsWith("Surprising")) ?? "",
    });
    if (feature.importance === "ordinary" || found.pieces < leastPieces || pictures.length >= mostPictures)
      continue;
    const picture = await drawPicture(db, view, feature);
    if (picture) pictures.push(picture);
  }
  return { capability, pictures };
}

function windowOf(view: BatchView, { featureId, place }: FeatureView, last: number) {
  // Bounded by the pieces that were cut, so that it is read in one go where all of them are wanted.
  const fromPiece = last === mostPieces ? Math.max(1, view.lastPieceCut - last + 1) : 1;
  const pieces = { fromPiece, toPiece: view.lastPieceCut, last };
  return { batchIds: [view.batchId], featureId, place, seat: undefined, gaugeId: undefined, ...pieces };
}

async function drawPicture(db: Db, view: BatchView, feature: FeatureView): Promise<Picture | undefined> {
  const measured = await measureFeature(
    db,
    view,
    feature,
    windowOf(view, feature, piecesDrawn),
    "individuals",
  );
  const drawn = await drawFeature(db, view, feature, measured, {
    kind: "individuals",
    size: 1,
    rules: ["western_electric_1"],
  });
  if (!drawn) return undefined;
  const { unit, phases, doubtful } = measured;
  const limit = (pm: number | undefined) => (pm === undefined ? null : toUnit(pm, unit));
  const name = [feature.characteristic, feature.name, feature.place].filter(Boolean).join(" ");
  return drawChartPicture({
    ...drawn,
    title: `${name}: the latest ${measured.pieces.length} measured pieces`,
    says: [...sayDoubtful(doubtful, unit), ...sayChart("individuals", drawn.signals, 1)],
    phases: phases.map(({ number, why, pieces }) => ({ number, why, from_piece: pieces[0]!.piece })),
    limits: { lower: limit(feature.lowerPm), upper: limit(feature.upperPm), target: limit(feature.targetPm) },
  });
}
