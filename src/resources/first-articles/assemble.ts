import type { Db } from "../../db/client.js";
import { type BatchView, featureAt } from "../../decision/batch-view.js";
import { loadContainment } from "../../decision/containment.js";
import type { FeatureView } from "../../decision/feature-view.js";
import { type ProvedFeature, provePieces } from "../../decision/prove-pieces.js";
import { allowedWithBonus, decidingOf, resultText } from "../../decision/result-text.js";
import { drawnOf, sayRequirement } from "../../decision/say-requirement.js";
import { sayRules } from "../../decision/say-rules.js";
import type { ViewReader } from "../../decision/view-reader.js";
import { sayList } from "../../decision/words.js";
import { showVoided } from "../../http/journal.js";
import {
  type FirstArticleRow,
  findPart,
  listBatches,
  listDrawn,
  listFollowing,
  listGaugeNames,
  listNonconformances,
} from "./queries.js";
import type { FirstArticle, FirstArticleLine } from "./schemas.js";

type Part = NonNullable<Awaited<ReturnType<typeof findPart>>>;
type Drawn = Awaited<ReturnType<typeof listDrawn>>[number];

/** The document as the readings make it now: what is measured or decided later shows. */
export async function showFirstArticle(
  db: Db,
  views: ViewReader,
  row: FirstArticleRow,
): Promise<FirstArticle> {
  const part = (await findPart(db, row.part_id))!;
  const features = await listDrawn(db, row.part_id);
  const following = await listFollowing(db, row.first_article_id);
  const own = await lookAt(db, views, row, part, features);
  const conforming = new Set(
    own.lines.flatMap((line) => (line.status === "conforming" ? [line.characteristic] : [])),
  );
  for (const next of following) {
    const { lines } = await lookAt(db, views, next, part, features);
    for (const line of lines) {
      // The latest word about a characteristic counts, whichever it is.
      if (line.status === "conforming") conforming.add(line.characteristic);
      else conforming.delete(line.characteristic);
    }
  }
  const stillOpen = own.lines.flatMap(({ characteristic }) =>
    conforming.has(characteristic) ? [] : [characteristic],
  );
  const batches = await listBatches(
    db,
    row.pieces.map(({ batch_id }) => batch_id),
  );
  const batchOf = new Map(batches.map((batch) => [batch.batch_id, batch]));
  return {
    first_article_id: row.first_article_id,
    part_id: row.part_id,
    part_number: part.number,
    revision: part.revision,
    part_name: part.name,
    report_number: row.report_number,
    extent: row.extent,
    reason: row.reason,
    note: row.note,
    baseline_id: row.baseline_id,
    pieces: row.pieces.map(({ batch_id, piece }) => {
      const { name, operation } = batchOf.get(batch_id)!;
      return { batch_id, batch: name, operation, piece };
    }),
    fields: row.fields as Record<string, unknown>,
    decision_rules: own.rules,
    characteristics: own.lines,
    complete: stillOpen.length === 0,
    why: sayComplete(own.lines, stillOpen, following),
    still_open: stillOpen,
    followed_by: following.map(({ first_article_id, report_number }) => ({
      first_article_id,
      report_number,
    })),
    by: row.by_name,
    created_at: row.created_at,
    voided: showVoided(row),
  };
}

/** What one first article says of the characteristics that it covers. */
async function lookAt(
  db: Db,
  views: ViewReader,
  row: FirstArticleRow,
  part: Part,
  features: readonly Drawn[],
) {
  const covered = features.filter((feature) => row.characteristics?.includes(feature.characteristic) ?? true);
  const looked: { view: BatchView; piece: number; cells: ProvedFeature[] }[] = [];
  for (const { batch_id, piece } of row.pieces) {
    const view = (await views.read(batch_id))!;
    const [proved] = await provePieces(db, view, await loadContainment(db, view), { from: piece, to: piece });
    looked.push({ view, piece, cells: proved?.features ?? [] });
  }
  const found = covered.map((feature) => ({ feature, ...find(feature, looked) }));
  const gaugeIds = found.flatMap(({ cells }) =>
    cells.flatMap((cell) => cell.rows.flatMap((r) => r.gauge_id ?? [])),
  );
  const [gauges, nonconformances] = await Promise.all([
    listGaugeNames(db, [...new Set(gaugeIds)]),
    listNonconformances(db, row.pieces),
  ]);
  const names = new Map(gauges.map(({ gauge_id, name }) => [gauge_id, name]));
  const lines = found.map(({ feature, cells, early, at }): FirstArticleLine => {
    const results = cells.flatMap(({ feature: placed, rows }) => {
      const deciding = decidingOf(rows.filter(({ voided_at }) => voided_at === null));
      if (!deciding) return [];
      return [
        {
          place: placed.place,
          result: resultText(deciding, placed),
          allowed: allowedWithBonus(deciding, placed),
          verdict: deciding.verdict,
          gauge: deciding.gauge_id === null ? null : (names.get(deciding.gauge_id) ?? null),
          reading_id: `${deciding.batch_id}-${deciding.reading_no}`,
        },
      ];
    });
    const { status, why } = statusOf(cells, results.length, early);
    const remark = row.remarks[feature.characteristic];
    const decided = nonconformances.findLast(
      (one) => at !== undefined && one.batch_id === at.batchId && one.piece === at.piece,
    );
    const drawn = drawnOf(feature, part.unit);
    return {
      characteristic: feature.characteristic,
      name: feature.name,
      drawing_zone: feature.drawing_zone,
      designator: feature.importance === "ordinary" ? null : feature.importance,
      requirement: sayRequirement(drawn),
      unit: drawn.unit === "1" ? null : drawn.unit,
      results,
      status,
      why,
      tooling: remark?.tooling ?? null,
      nonconformance:
        remark?.nonconformance ?? (status === "conforming" ? null : (decided?.nonconformance ?? null)),
    };
  });
  return { lines, rules: sayRules(ruled(looked, covered)) };
}

type Looked = { view: BatchView; piece: number; cells: ProvedFeature[] };

/** Where a characteristic was measured by its final limits: the last such batch named; else where it has readings at all. */
function find(feature: Drawn, looked: readonly Looked[]) {
  const mine = looked.flatMap(({ view, piece, cells }) => {
    const of = cells.filter((cell) => cell.feature.featureId === feature.feature_id);
    return of.length > 0
      ? [{ at: { batchId: view.batchId, piece }, cells: of, early: of[0]!.feature.early !== null }]
      : [];
  });
  const measured = mine.filter(({ cells }) =>
    cells.some(({ rows }) => rows.some((row) => row.voided_at === null)),
  );
  return (
    measured.findLast(({ early }) => !early) ??
    mine.findLast(({ early }) => !early) ??
    measured.at(-1) ??
    mine.at(-1) ?? { at: undefined, cells: [], early: false }
  );
}

function statusOf(
  cells: readonly ProvedFeature[],
  results: number,
  early: boolean,
): Pick<FirstArticleLine, "status" | "why"> {
  if (cells.length === 0)
    return { status: "not_measured", why: "None of the batches named has it in its operation." };
  if (early) {
    return {
      status: "not_measured",
      why: "Measured before its last operation only: the drawing's limits hold after it.",
    };
  }
  if (results === 0) return { status: "not_measured", why: "This piece has no reading of it." };
  const failed = cells.find(({ disposition }) => disposition === "rework" || disposition === "scrap");
  if (failed) return { status: "nonconforming", why: failed.why };
  const open = cells.find(
    (cell) => cell.proof !== "measured" || cell.disposition !== "accept" || cell.rows.length === 0,
  );
  if (!open) return { status: "conforming", why: "Measured good." };
  const at = open.feature.place === null ? "" : `At ${open.feature.place}: `;
  return { status: "open", why: open.rows.length === 0 ? `${at}not measured.` : `${at}${open.why}` };
}

function ruled(looked: readonly Looked[], covered: readonly Drawn[]): FeatureView[] {
  const found = new Map<string, FeatureView>();
  for (const { view } of looked) {
    for (const { feature_id } of covered) {
      const feature = featureAt(view, feature_id, view.featureById.get(feature_id)?.place ?? null);
      if (feature) found.set(feature_id, feature);
    }
  }
  return [...found.values()];
}

function sayComplete(
  lines: readonly FirstArticleLine[],
  stillOpen: readonly string[],
  following: readonly FirstArticleRow[],
): string {
  const good = lines.filter(({ status }) => status === "conforming").length;
  const counted = `${good} of ${lines.length} characteristics conform`;
  if (stillOpen.length === 0) {
    const later =
      good < lines.length ? ` here, the others on ${sayList(following.map((row) => row.report_number))}` : "";
    return `Complete: ${counted}${later}.`;
  }
  const of = (status: FirstArticleLine["status"]) =>
    lines.filter((line) => line.status === status && stillOpen.includes(line.characteristic));
  const say = (list: readonly FirstArticleLine[]) =>
    sayList(list.map(({ characteristic }) => characteristic));
  const [failed, open, missing] = [of("nonconforming"), of("open"), of("not_measured")];
  const parts = [
    failed.length > 0 && `${say(failed)} nonconforming`,
    open.length > 0 && `${say(open)} not decided`,
    missing.length > 0 && `${say(missing)} not measured`,
  ].filter((part) => part !== false);
  const unnumbered = failed.filter(({ nonconformance }) => nonconformance === null);
  const number =
    unnumbered.length > 0 ? ` Enter the number of the nonconformance report for ${say(unnumbered)}.` : "";
  return `Not complete: ${counted}; ${parts.join("; ")}.${number} It is complete when these are put right and a further, partial first article that builds on it shows them conforming.`;
}
