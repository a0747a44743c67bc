import type { z } from "zod";
import { diagnose, type FittedCause } from "../../core/diagnosis/diagnose.js";
import { findTest } from "../../core/diagnosis/tell-apart.js";
import type { Db } from "../../db/client.js";
import type { BatchView } from "../../decision/batch-view.js";
import { CauseSpeaker } from "../../decision/diagnosis/say-cause.js";
import {
  measurable,
  missingOf,
  offsetChanges,
  sayWhy,
  showDeviations,
} from "../../decision/diagnosis/show.js";
import { diagnosedBatch, observe } from "../../decision/diagnosis/subject.js";
import {
  type Asked,
  changesAt,
  coldFrom,
  refuseWindow,
  toReadings,
  windowOf,
} from "../../decision/diagnosis/window.js";
import { ViewReader } from "../../decision/view-reader.js";
import { cautions } from "../../decision/words.js";
import { answer, ProblemError, problemAt, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { listGauges, listReadings } from "./queries.js";
import { Diagnosis, DiagnosisPath, DiagnosisQuery } from "./schemas.js";

const shownCauses = 8;

export async function diagnosisRoutes(app: App, { db }: { db: Db }) {
  const views = new ViewReader(db);
  app.get("/batches/:batch_id/diagnosis", {
    schema: {
      operationId: "getDiagnosis",
      summary:
        "Which cause fits best what was measured, with the evidence and the next thing to try; asking changes nothing",
      description:
        "Tool size, wear, bending, a change keyed wrongly, work zero, a turned part, warmth, the gauge or a single feature: each is fitted to all that was measured on the pieces, weighed by its evidence, and named together with what the readings do not tell it from.",
      tags: ["diagnosis"],
      params: DiagnosisPath,
      querystring: DiagnosisQuery,
      response: {
        200: answer("The causes, most believable first", Diagnosis),
        ...problems({ 404: "There is no such batch" }),
      },
    },
    handler: async ({ params, query }) => {
      const faults = refuseWindow(query);
      if (faults.length > 0) throw problemAt("validation", faults);
      const view = await views.read(params.batch_id);
      if (!view)
        throw new ProblemError(
          "not-found",
          `There is no batch ${params.batch_id}: GET /v1/batches lists them.`,
        );
      return await answerDiagnosis(db, view, query);
    },
  });
}

async function answerDiagnosis(db: Db, view: BatchView, query: Asked): Promise<z.infer<typeof Diagnosis>> {
  const window = windowOf(view, query);
  const rows = await listReadings(db, view.batchId, window.ranges);
  const named = view.features.flatMap(({ gaugeId }) => gaugeId ?? []);
  const gauges = await listGauges(db, [...new Set([...rows.map((row) => row.gauge_id), ...named])]);
  const last = Math.max(0, ...rows.map((row) => row.piece));
  const since =
    window.since !== undefined && rows.some((row) => row.piece < window.since!) ? window.since : undefined;
  const batch = diagnosedBatch(view, gauges, since === undefined ? "target" : "before");
  const observations = observe(
    batch,
    rows.flatMap((row) => toReadings(batch, row, last)),
  );
  const diagnosis = diagnose(batch.subject, observations, {
    since,
    coldFrom: coldFrom(view, observations),
    changes: since === undefined ? [] : changesAt(batch, observations, since),
  });
  const { causes, alike, chi2, pair } = diagnosis;
  const speaker = new CauseSpeaker(batch, observations, chi2);
  const clear = alike === 1 && causes[0]!.explains;
  const show = (cause: FittedCause, offsets: boolean) => ({
    ...speaker.say(cause),
    evidence: Number(cause.fit.evidence.toFixed(1)),
    chi_square: Number(cause.fit.rest.toFixed(2)),
    degrees_of_freedom: cause.degrees,
    amounts: speaker.amounts(cause),
    work_offset_changes: offsets ? offsetChanges(view, cause, last) : [],
  });
  const test = findTest(batch.subject, observations, diagnosis, measurable(batch));
  const pieces = observations.map(({ piece }) => piece);
  const shown = causes.slice(0, alike === 0 ? 0 : Math.max(alike, shownCauses));
  return {
    batch_id: view.batchId,
    from_piece: pieces.length > 0 ? Math.min(...pieces) : null,
    to_piece: pieces.length > 0 ? last : null,
    since_piece: since ?? null,
    chi_square: Number(chi2.toFixed(2)),
    readings: observations.length,
    why: sayWhy(observations, since, diagnosis),
    causes: shown.map((cause, i) => show(cause, clear && i === 0)),
    alike,
    together: (pair ?? []).map((cause) => show(cause, false)),
    tell_apart: test ? speaker.test(test, causes[0]!, causes[1]!) : null,
    deviations: showDeviations(batch, observations, since, pair ?? causes.slice(0, alike === 0 ? 0 : 1)),
    missing: missingOf(batch, observations),
    cautions: alike === 0 ? [] : [...cautions],
  };
}
